//! The figures of unloading as JSON, under `unloading` of `figures --json`; `JSON.md` describes every field.

use super::json_common::string_mark;
use crate::model::{StepKind, Topic, TrainEnd};
use crate::statics::{DropTimes, Edge, EndCase, EndCondition, Figures, StepString};
use serde::Serialize;

/// What is worked out of unloading; null where the plan does not ask for it.
#[derive(Serialize)]
pub(super) struct UnloadingRows {
    strings: Vec<StringRow>,
    drops: Vec<DropRow>,
}

impl UnloadingRows {
    /// The rows of a plan that asks for them.
    pub(super) fn of(figures: &Figures) -> Option<Self> {
        figures.plan.route.asked.contains(&Topic::Unloading).then(|| {
            let unloading = figures.unloading();
            Self {
                strings: unloading.strings.iter().map(|moved| StringRow::of(figures, moved)).collect(),
                drops: unloading.times.iter().map(|times| DropRow::of(figures, times)).collect(),
            }
        })
    }
}

#[derive(Serialize)]
struct StringRow {
    drop: String,
    step: usize,
    string: String,
    kind: &'static str,
    toward: &'static str,
    height_m: f64,
    seat_offset_m: Option<f64>,
    too_short: bool,
    missing: Vec<&'static str>,
    cases: Vec<CaseRow>,
}

impl StringRow {
    fn of(figures: &Figures, moved: &StepString) -> Self {
        Self {
            drop: drop_name(figures, moved.drop),
            step: moved.step + 1,
            string: string_mark(&figures.plan, moved.string),
            kind: match moved.kind {
                StepKind::Off => "off",
                StepKind::On => "on",
            },
            toward: match moved.toward {
                TrainEnd::Front => "front",
                TrainEnd::Rear => "rear",
            },
            height_m: moved.height_m,
            seat_offset_m: moved.seat_offset_m,
            too_short: moved.too_short,
            missing: moved.moduli.as_ref().err().cloned().unwrap_or_default(),
            cases: moved.cases.iter().map(CaseRow::of).collect(),
        }
    }
}

#[derive(Serialize)]
struct CaseRow {
    condition: &'static str,
    lead_m: f64,
    behind_m: f64,
    support_height_m: f64,
    support_moment_nm: f64,
    slope_rad: f64,
    support_n: f64,
    seat_n: f64,
    largest_moment_nm: f64,
    lifted_supports: Option<usize>,
    peak: Option<PeakRow>,
}

#[derive(Serialize)]
struct PeakRow {
    stress_pa: f64,
    from_seat_m: f64,
    moment_nm: f64,
    side_moment_nm: f64,
    edge: &'static str,
}

impl CaseRow {
    fn of(case: &EndCase) -> Self {
        let lead = &case.lead;
        Self {
            condition: match case.condition {
                EndCondition::FreeEnd => "free end",
                EndCondition::OverRacks => "over the racks",
                EndCondition::HeldLevel => "held level",
            },
            lead_m: lead.length_m,
            behind_m: case.behind_m,
            support_height_m: lead.height_m,
            support_moment_nm: lead.support_moment_nm,
            slope_rad: lead.slope_rad,
            support_n: lead.support_n,
            seat_n: lead.seat_n,
            largest_moment_nm: case
                .racks
                .as_ref()
                .map_or_else(|| lead.largest_moment_nm(), |racks| racks.largest_moment_nm()),
            lifted_supports: case.racks.as_ref().map(|racks| racks.lifted()),
            peak: case.peak.map(|peak| PeakRow {
                stress_pa: peak.stress_pa,
                from_seat_m: peak.from_seat_m,
                moment_nm: peak.moment_nm,
                side_moment_nm: peak.side_moment_nm,
                edge: match peak.edge {
                    Edge::Head => "head",
                    Edge::Foot => "foot",
                },
            }),
        }
    }
}

#[derive(Serialize)]
struct DropRow {
    drop: String,
    total_s: Option<f64>,
    possession_s: Option<f64>,
    steps: Vec<StepRow>,
}

#[derive(Serialize)]
struct StepRow {
    step: usize,
    fed_m: f64,
    speed_m_per_s: Option<f64>,
    feeding_s: Option<f64>,
    handling_s: Option<f64>,
    total_s: Option<f64>,
}

impl DropRow {
    fn of(figures: &Figures, times: &DropTimes) -> Self {
        let steps = (1..).zip(&times.steps).map(|(step, time)| StepRow {
            step,
            fed_m: time.fed_m,
            speed_m_per_s: time.speed_m_per_s,
            feeding_s: time.feeding_s,
            handling_s: time.handling_s,
            total_s: time.total_s,
        });
        Self {
            drop: drop_name(figures, times.drop),
            total_s: times.total_s,
            possession_s: times.possession_s,
            steps: steps.collect(),
        }
    }
}

fn drop_name(figures: &Figures, drop: usize) -> String {
    figures.plan.drops.get(drop).map(|drop| drop.name.to_string()).unwrap_or_default()
}
