//! Readings of scales beside computed values, and what would explain a difference, in plain text.

use super::layout::{Heading, Table, counted, paragraph, ranges};
use super::records::{Records, load_words};
use crate::model::{Plan, WeighedPart};
use crate::planning::weighings::{Cause, Contradiction, Diagnosis, SumOfReadings, Told, Weighed};
use crate::units::{Quantity, QuantityKind, Style};

/// So many causes are listed; the JSON has all.
const LISTED: usize = 12;

/// What every report on readings says of its own limits.
const CAUTIONS: &str = "Compared with the load as it is, before departure, on level and straight track. A wheel's \
    computed value lies between those of a stiff and of a soft body. A tolerance is taken as twice the standard \
    deviation, and readings as independent. Which tier a string lies in, and which of two like strings lies where, \
    leaves no trace in readings.";

/// The readings of a plan for a reader: the sum, causes, sums by vehicle, readings.
pub fn weighings_report(weighed: &Weighed, diagnosis: &Diagnosis, records: &Records, style: Style) -> String {
    let plan = &weighed.figures.plan;
    let mut out = String::new();
    paragraph(&mut out, "", "", &readings_words(weighed));
    for contradiction in &weighed.contradictions {
        paragraph(&mut out, "", "", &contradiction_words(plan, contradiction, style));
    }
    if !weighed.readings.is_empty() {
        paragraph(&mut out, "", "", &diagnosis_words(plan, diagnosis, style));
    }
    out.push('\n');
    if !plan.title.trim().is_empty() {
        paragraph(&mut out, "Plan:           ", "                ", &plan.title);
    }
    if let Some(load) = &records.load {
        paragraph(&mut out, "Load:           ", "                ", &load_words(load));
    }
    causes(&mut out, plan, diagnosis, style);
    sums(&mut out, weighed, style);
    readings(&mut out, weighed, style);
    out.push('\n');
    paragraph(&mut out, "", "", CAUTIONS);
    out
}

/// How many readings do not fit, in a sentence or two.
pub fn readings_words(weighed: &Weighed) -> String {
    let all = weighed.readings.len();
    let lacking = match weighed.not_judged() {
        0 => String::new(),
        count => {
            format!(" {} no tolerance and cannot be judged.", counted(count, "reading has", "readings have"))
        }
    };
    match (all, weighed.misfits()) {
        (0, _) => "The plan has no readings of scales.".to_owned(),
        (_, 0) if weighed.not_judged() == all => lacking.trim_start().to_owned(),
        (_, 0) => format!("No reading differs from what is computed by more than its tolerance.{lacking}"),
        (_, misfits) => {
            let differ = if misfits == 1 { "differs" } else { "differ" };
            format!(
                "{misfits} of {} {differ} from what is computed by more than the tolerance.{lacking}",
                counted(all, "reading", "readings")
            )
        }
    }
}

/// What the readings say, in a sentence or two.
pub fn diagnosis_words(plan: &Plan, diagnosis: &Diagnosis, style: Style) -> String {
    let best =
        || diagnosis.causes.first().map(|one| cause_words(plan, &one.cause, style)).unwrap_or_default();
    match diagnosis.told {
        Told::NothingToJudge => {
            "Nothing can be judged: enter the scale's tolerance with the readings.".to_owned()
        }
        Told::Fits => fits_words(diagnosis.beyond),
        Told::Explained => format!("One cause explains the readings, and no other does as well: {}.", best()),
        Told::CannotTell(count) => {
            format!("Cannot tell: {count} causes explain the readings equally well, among them: {}.", best())
        }
        Told::NoSingleCause => "The readings do not fit, and no single plausible cause explains them: no string \
            elsewhere, missing, exchanged or of half to twice its mass, no tare wrong by up to half of it, no \
            single wrong reading."
            .to_owned(),
    }
}

/// That no cause stands out; `beyond` readings differ by more than their tolerances.
fn fits_words(beyond: usize) -> String {
    if beyond == 0 {
        return "Nothing to explain: the differences are no larger than chance makes them with these tolerances."
            .to_owned();
    }
    let (is, it) = if beyond == 1 { ("is", "it") } else { ("are", "them") };
    let readings = counted(beyond, "reading", "readings");
    format!(
        "No cause stands out: {readings} {is} beyond the tolerance, yet all differences together are no larger than \
         chance makes them, and nothing explains {it} better. Weigh again where it matters."
    )
}

/// Two readings of one part that contradict each other, in a sentence.
pub fn contradiction_words(plan: &Plan, contradiction: &Contradiction, style: Style) -> String {
    let Contradiction { vehicle, part, read_kg: [first, second], allowed_kg, .. } = *contradiction;
    let mark = plan.train.vehicles.get(vehicle).map_or("?", |vehicle| vehicle.mark.as_str());
    let mass = |kg: f64| Quantity::small_mass(kg).show(style);
    format!(
        "{mark} {} was read at {} and at {}: the two differ by {}, more than their tolerances allow together ({}). At \
         most one of them can be right; no sum with them is told until the other is taken out.",
        part_words(part),
        mass(first),
        mass(second),
        mass(contradiction.apart_kg()),
        mass(allowed_kg)
    )
}

/// A cause in words, such as `string S3 lies in lane 4 (in one of tiers 2, 3)`.
pub fn cause_words(plan: &Plan, cause: &Cause, style: Style) -> String {
    let string = |at: usize| plan.order.get(at).map_or("?", |string| string.mark.as_str());
    let mass = |kg: f64| Quantity::small_mass(kg).show(style);
    match cause {
        Cause::Lane { string: at, lane, tiers } => {
            let tiers: Vec<usize> = tiers.iter().map(|tier| *tier as usize).collect();
            let which = if tiers.len() == 1 { "tier" } else { "in one of tiers" };
            format!("string {} lies in lane {lane} ({which} {})", string(*at), ranges(&tiers))
        }
        Cause::Shifted { string: at, by } => {
            let way = if by.is_negative() { "forward" } else { "back" };
            let by = Quantity::length(by.abs()).show(style);
            format!("string {} lies about {by} farther {way}", string(*at))
        }
        Cause::Missing { string: at } => format!("string {} is not on the train", string(*at)),
        Cause::Exchanged { first, second } => {
            format!("strings {} and {} lie in each other's places", string(*first), string(*second))
        }
        Cause::Replaced { string: at, by } => {
            format!("string {} lies in the place of string {}", string(*by), string(*at))
        }
        Cause::Mass { string: at, factor } => {
            let more = if *factor >= 1.0 { "more" } else { "less" };
            let share = Quantity { value: (factor - 1.0).abs(), kind: QuantityKind::Share }.show(style);
            format!("string {} has about {share} {more} mass", string(*at))
        }
        Cause::Tare { vehicle, by_kg } => {
            let mark = plan.train.vehicles.get(*vehicle).map_or("?", |vehicle| vehicle.mark.as_str());
            let more = if *by_kg >= 0.0 { "more" } else { "less" };
            format!("vehicle {mark} weighs about {} {more} when empty", mass(by_kg.abs()))
        }
        Cause::Reading { reading, expected_kg } => {
            let Some(weighing) = plan.weighings.get(*reading) else { return String::new() };
            let part = part_words(weighing.part);
            format!(
                "the reading of {} {part} is wrong: {} read, about {} expected",
                weighing.vehicle,
                mass(weighing.kg),
                mass(*expected_kg)
            )
        }
    }
}

/// A weighed part in words, such as `axle 2, left wheel`.
pub fn part_words(part: WeighedPart) -> String {
    match part {
        WeighedPart::Vehicle => "whole".to_owned(),
        WeighedPart::Axle(axle) => format!("axle {axle}"),
        WeighedPart::LeftWheel(axle) => format!("axle {axle}, left wheel"),
        WeighedPart::RightWheel(axle) => format!("axle {axle}, right wheel"),
    }
}

fn causes(out: &mut String, plan: &Plan, diagnosis: &Diagnosis, style: Style) {
    let explaining = diagnosis.explaining();
    if explaining.is_empty() {
        return;
    }
    out.push_str(&format!("\nCauses that explain the readings ({})\n", explaining.len()));
    paragraph(
        out,
        "  ",
        "  ",
        &format!(
            "as planned the squared differences sum to {:.1}, where chance makes about {}",
            diagnosis.misfit, diagnosis.judged
        ),
    );
    for one in explaining.iter().take(LISTED) {
        let left = format!(" (leaves {:.1})", one.misfit);
        paragraph(out, "  - ", "    ", &(cause_words(plan, &one.cause, style) + &left));
    }
    if explaining.len() > LISTED {
        out.push_str(&format!("  and {} more (--json lists them)\n", explaining.len() - LISTED));
    }
}

fn sums(out: &mut String, weighed: &Weighed, style: Style) {
    let unit = Quantity::small_mass(0.0).unit_sign(style);
    out.push_str("\nVehicles weighed whole\n");
    let mut table = table_of(1, unit);
    let plan = &weighed.figures.plan;
    for (vehicle, sum) in &weighed.vehicles {
        let mark = plan.train.vehicles.get(*vehicle).map(|vehicle| vehicle.mark.to_string());
        table.row(sum_cells(mark.unwrap_or_default(), sum, style));
    }
    if let Some(sum) = weighed.train.filter(|sum| sum.vehicles > 1) {
        table.row(sum_cells(format!("all {}", sum.vehicles), &sum, style));
    }
    table.write(out, "none");
}

fn readings(out: &mut String, weighed: &Weighed, style: Style) {
    out.push_str("\nReadings\n");
    let mut table = table_of(2, Quantity::small_mass(0.0).unit_sign(style));
    let plan = &weighed.figures.plan;
    for reading in &weighed.readings {
        let mark = plan.train.vehicles.get(reading.vehicle).map(|vehicle| vehicle.mark.to_string());
        let values = [reading.read_kg, reading.computed_kg, reading.difference_kg()];
        let mut cells = vec![mark.unwrap_or_default(), part_words(reading.part)];
        cells.extend(value_cells(values, (reading.allowed_kg(), reading.fits()), style));
        table.row(cells);
    }
    table.write(out, "none");
}

fn table_of(left: usize, unit: &'static str) -> Table {
    let vehicle = [Heading("vehicle", "", ""), Heading("part", "", "")];
    let values = [
        Heading("read", unit, ""),
        Heading("computed", unit, ""),
        Heading("difference", unit, ""),
        Heading("allowed", unit, ""),
        Heading("fits", "", ""),
    ];
    Table::new(left, vehicle.into_iter().take(left).chain(values))
}

fn sum_cells(name: String, sum: &SumOfReadings, style: Style) -> Vec<String> {
    let values = [sum.read_kg, sum.computed_kg, sum.difference_kg()];
    let mut cells = vec![name];
    cells.extend(value_cells(values, (sum.tolerance_kg, sum.fits()), style));
    cells
}

fn value_cells(
    values: [f64; 3],
    (allowed_kg, fits): (Option<f64>, Option<bool>),
    style: Style,
) -> Vec<String> {
    let shown = |kg: f64| Quantity::small_mass(kg).show_number(style);
    let mut cells: Vec<String> = values.into_iter().map(shown).collect();
    cells.push(allowed_kg.map_or_else(|| "not entered".to_owned(), shown));
    cells.push(fits.map_or("?", |fits| if fits { "yes" } else { "no" }).to_owned());
    cells
}
