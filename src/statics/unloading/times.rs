//! How long feeding and handling take, step by step, against the possession.

use crate::model::{Drop, Plan, StepKind, StepStrings, StringMark};

/// The time of one step.
#[derive(Clone, Debug, PartialEq)]
pub struct StepTime {
    /// Length fed in m: of a pair that goes together the longer string, of others all.
    pub fed_m: f64,
    /// Feeding speed in m/s; none: not entered.
    pub speed_m_per_s: Option<f64>,
    /// Fed length over speed in s.
    pub feeding_s: Option<f64>,
    /// Handling in s; none: not entered.
    pub handling_s: Option<f64>,
    /// Feeding and handling in s.
    pub total_s: Option<f64>,
}

/// The times of one drop.
#[derive(Clone, Debug, PartialEq)]
pub struct DropTimes {
    /// Index into `plan.drops`.
    pub drop: usize,
    /// One per step.
    pub steps: Vec<StepTime>,
    /// All steps in s; none where a step's time is not known.
    pub total_s: Option<f64>,
    /// The possession in s; none: not entered.
    pub possession_s: Option<f64>,
}

impl DropTimes {
    /// The times of drop `index` of `plan`.
    pub(super) fn of(plan: &Plan, index: usize, drop: &Drop) -> Self {
        let steps: Vec<StepTime> = drop
            .steps
            .iter()
            .map(|step| {
                let feed = plan.route.feed;
                let speed_m_per_s = match step.kind {
                    StepKind::Off => feed.and_then(|feed| feed.unloading_m_per_s),
                    StepKind::On => feed.and_then(|feed| feed.loading_m_per_s),
                };
                let fed_m = fed_m(plan, &step.strings);
                let feeding_s = speed_m_per_s.map(|speed| fed_m / speed);
                let handling_s = drop.handling_min.map(|minutes| minutes * 60.0);
                let total_s = feeding_s.zip(handling_s).map(|(feeding, handling)| feeding + handling);
                StepTime { fed_m, speed_m_per_s, feeding_s, handling_s, total_s }
            })
            .collect();
        let total_s = steps.iter().map(|step| step.total_s).sum();
        Self { drop: index, steps, total_s, possession_s: drop.possession_min.map(|minutes| minutes * 60.0) }
    }
}

fn fed_m(plan: &Plan, strings: &StepStrings) -> f64 {
    let length_m = |mark: &StringMark| plan.string(mark).map_or(0.0, |string| string.length.m());
    match strings {
        StepStrings::Pair { together: true, .. } => strings.marks().map(length_m).fold(0.0, f64::max),
        _ => strings.marks().map(length_m).sum(),
    }
}
