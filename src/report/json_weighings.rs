//! Readings of scales and what explains them as JSON; `JSON.md` describes every field.

use super::json_common::{JsonError, print, string_mark, vehicle_mark};
use super::json_loaded::LoadBlock;
use super::records::Records;
use super::weighings_text::{cause_words, contradiction_words, diagnosis_words};
use crate::model::{Plan, WeighedPart};
use crate::planning::weighings::{
    Cause, ComparedReading, Contradiction, Diagnosis, Explanation, SumOfReadings, Told, Weighed,
};
use crate::units::Style;
use serde::Serialize;

/// The readings of a plan as one JSON object; `label` says which plan, as its reader knows it.
///
/// # Errors
/// [`JsonError`] where the text cannot be written.
pub fn weighings_json(
    label: &str,
    weighed: &Weighed,
    diagnosis: &Diagnosis,
    (records, exit_code): (&Records, u8),
) -> Result<String, JsonError> {
    let plan = &weighed.figures.plan;
    let explaining = diagnosis.explaining().len();
    let causes = diagnosis.causes.iter().enumerate();
    print(&WeighingsDocument {
        shape: "longstow weighings 1",
        file: label,
        title: &plan.title,
        exit_code,
        load: records.load.as_ref().map(LoadBlock::of),
        told: match diagnosis.told {
            Told::NothingToJudge => "nothing to judge",
            Told::Fits if diagnosis.beyond > 0 => "within chance",
            Told::Fits => "fits",
            Told::Explained => "explained",
            Told::CannotTell(_) => "cannot tell",
            Told::NoSingleCause => "no single cause",
        },
        sentence: diagnosis_words(plan, diagnosis, Style::default()),
        judged: diagnosis.judged,
        beyond: diagnosis.beyond,
        misfit: diagnosis.misfit,
        tried: diagnosis.tried,
        causes: causes.map(|(at, one)| CauseRow::of(plan, one, at < explaining)).collect(),
        readings: weighed
            .readings
            .iter()
            .enumerate()
            .map(|(at, one)| ReadingRow::of(plan, at, one))
            .collect(),
        contradictions: weighed.contradictions.iter().map(|one| ContradictionRow::of(plan, one)).collect(),
        vehicles: weighed
            .vehicles
            .iter()
            .map(|(at, sum)| SumRow::of(Some(vehicle_mark(plan, *at)), sum))
            .collect(),
        train: weighed.train.as_ref().map(|sum| SumRow::of(None, sum)),
    })
}

#[derive(Serialize)]
struct WeighingsDocument<'a> {
    shape: &'static str,
    file: &'a str,
    title: &'a str,
    exit_code: u8,
    load: Option<LoadBlock>,
    told: &'static str,
    sentence: String,
    judged: usize,
    beyond: usize,
    misfit: f64,
    tried: usize,
    causes: Vec<CauseRow>,
    readings: Vec<ReadingRow<'a>>,
    contradictions: Vec<ContradictionRow>,
    vehicles: Vec<SumRow>,
    train: Option<SumRow>,
}

#[derive(Default, Serialize)]
struct CauseRow {
    kind: &'static str,
    words: String,
    explains: bool,
    misfit: f64,
    score: f64,
    strings: Vec<String>,
    vehicle: Option<String>,
    reading: Option<usize>,
    lane: Option<u32>,
    tiers: Vec<u32>,
    shift_m: Option<f64>,
    mass_factor: Option<f64>,
    tare_by_kg: Option<f64>,
    expected_kg: Option<f64>,
}

impl CauseRow {
    fn of(plan: &Plan, one: &Explanation, explains: bool) -> Self {
        let told = Self::fitted(plan, &one.cause);
        let words = cause_words(plan, &one.cause, Style::default());
        Self { words, explains, misfit: one.misfit, score: one.score(), ..told }
    }

    fn fitted(plan: &Plan, cause: &Cause) -> Self {
        let about = |kind: &'static str, strings: &[usize]| Self {
            kind,
            strings: strings.iter().map(|at| string_mark(plan, *at)).collect(),
            ..Self::default()
        };
        match cause {
            Cause::Lane { string, lane, tiers } => {
                Self { lane: Some(*lane), tiers: tiers.clone(), ..about("lane", &[*string]) }
            }
            Cause::Shifted { string, by } => Self { shift_m: Some(by.m()), ..about("shifted", &[*string]) },
            Cause::Missing { string } => about("missing", &[*string]),
            Cause::Exchanged { first, second } => about("exchanged", &[*first, *second]),
            Cause::Replaced { string, by } => about("replaced", &[*string, *by]),
            Cause::Mass { string, factor } => {
                Self { mass_factor: Some(*factor), ..about("mass", &[*string]) }
            }
            Cause::Tare { vehicle, by_kg } => Self {
                vehicle: Some(vehicle_mark(plan, *vehicle)),
                tare_by_kg: Some(*by_kg),
                ..about("tare", &[])
            },
            Cause::Reading { reading, expected_kg } => Self {
                vehicle: plan.weighings.get(*reading).map(|weighing| weighing.vehicle.to_string()),
                reading: Some(*reading),
                expected_kg: Some(*expected_kg),
                ..about("reading", &[])
            },
        }
    }
}

#[derive(Serialize)]
struct ReadingRow<'a> {
    vehicle: String,
    part: &'static str,
    axle: Option<u32>,
    read_kg: f64,
    computed_kg: f64,
    body_kg: f64,
    difference_kg: f64,
    tolerance_kg: Option<f64>,
    fits: Option<bool>,
    by: &'a str,
    at: &'a str,
}

impl<'a> ReadingRow<'a> {
    fn of(plan: &'a Plan, at: usize, one: &ComparedReading) -> Self {
        let (part, axle) = part_of(one.part);
        let written = plan.weighings.get(at);
        Self {
            vehicle: vehicle_mark(plan, one.vehicle),
            part,
            axle,
            read_kg: one.read_kg,
            computed_kg: one.computed_kg,
            body_kg: one.body_kg,
            difference_kg: one.difference_kg(),
            tolerance_kg: one.tolerance_kg,
            fits: one.fits(),
            by: written.map_or("", |weighing| &weighing.by),
            at: written.map_or("", |weighing| &weighing.at),
        }
    }
}

/// The kind of a part, and the number of its axle.
fn part_of(part: WeighedPart) -> (&'static str, Option<u32>) {
    match part {
        WeighedPart::Vehicle => ("vehicle", None),
        WeighedPart::Axle(axle) => ("axle", Some(axle)),
        WeighedPart::LeftWheel(axle) => ("left wheel", Some(axle)),
        WeighedPart::RightWheel(axle) => ("right wheel", Some(axle)),
    }
}

#[derive(Serialize)]
struct ContradictionRow {
    vehicle: String,
    part: &'static str,
    axle: Option<u32>,
    readings: [usize; 2],
    apart_kg: f64,
    allowed_kg: f64,
    words: String,
}

impl ContradictionRow {
    fn of(plan: &Plan, one: &Contradiction) -> Self {
        let (part, axle) = part_of(one.part);
        Self {
            vehicle: vehicle_mark(plan, one.vehicle),
            part,
            axle,
            readings: one.readings,
            apart_kg: one.apart_kg(),
            allowed_kg: one.allowed_kg,
            words: contradiction_words(plan, one, Style::default()),
        }
    }
}

#[derive(Serialize)]
struct SumRow {
    vehicle: Option<String>,
    vehicles: usize,
    read_kg: f64,
    computed_kg: f64,
    difference_kg: f64,
    tolerance_kg: Option<f64>,
    fits: Option<bool>,
}

impl SumRow {
    fn of(vehicle: Option<String>, sum: &SumOfReadings) -> Self {
        Self {
            vehicle,
            vehicles: sum.vehicles,
            read_kg: sum.read_kg,
            computed_kg: sum.computed_kg,
            difference_kg: sum.difference_kg(),
            tolerance_kg: sum.tolerance_kg,
            fits: sum.fits(),
        }
    }
}
