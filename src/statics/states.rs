//! The states of a plan: departure, after each step, after each drop, the end, and half-done pairs.

use crate::model::{Limit, Plan, StepKind, StepStrings, StringMark};
use std::collections::BTreeSet;

/// Which of a pair has moved in a half-done state.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PairHalf {
    /// Only the first of the step's pair has moved.
    First,
    /// Only the second.
    Second,
}

/// What a state is; indices into `plan.drops` and its steps.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum StateKind {
    /// As the train leaves the yard.
    Departure,
    /// One of a pair has moved, the other not yet.
    HalfPair {
        /// The drop.
        drop: usize,
        /// The step.
        step: usize,
        /// Which one has moved.
        half: PairHalf,
    },
    /// After a step.
    AfterStep {
        /// The drop.
        drop: usize,
        /// The step.
        step: usize,
    },
    /// After all steps of a drop, as the train travels on; after the last drop this is the end.
    AfterDrop {
        /// The drop.
        drop: usize,
    },
}

/// How a state is judged.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum StateRule {
    /// By running values: the train travels.
    Running,
    /// By working values where entered: between the steps of a drop.
    Working,
    /// By working values, and told as a note only: a pair declared to leave together, half done.
    NoteOnly,
}

impl StateRule {
    /// The value of `limit` that holds by this rule.
    pub fn value_of(self, limit: &Limit) -> f64 {
        match self {
            Self::Running => limit.running,
            Self::Working | Self::NoteOnly => limit.working_value(),
        }
    }
}

/// One state of the train.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LoadState {
    /// What it is.
    pub kind: StateKind,
    /// How it is judged.
    pub rule: StateRule,
    /// By placement: whether it is on the train.
    pub present: Vec<bool>,
}

/// All states of `plan` in order, departure first.
///
/// At departure every placement is on the train whose string has no taking-on step. A step off removes all
/// placements of its strings, a step on brings them. Both half-done states of a pair come before the state
/// after its step. After the last step of each drop comes the state after the drop.
pub fn load_states(plan: &Plan) -> Vec<LoadState> {
    let steps = || plan.drops.iter().flat_map(|drop| &drop.steps);
    let taken_on: BTreeSet<&StringMark> =
        steps().filter(|step| step.kind == StepKind::On).flat_map(|step| step.strings.marks()).collect();
    let mut present: Vec<bool> =
        plan.placements.iter().map(|placement| !taken_on.contains(&placement.string)).collect();
    let mut states = Vec::new();
    let mut tell = |kind, rule, present: &[bool]| {
        states.push(LoadState { kind, rule, present: present.to_vec() });
    };
    tell(StateKind::Departure, StateRule::Running, &present);
    for (drop, stop) in plan.drops.iter().enumerate() {
        for (step, taken) in stop.steps.iter().enumerate() {
            if let StepStrings::Pair { first, second, together } = &taken.strings {
                let rule = if *together { StateRule::NoteOnly } else { StateRule::Working };
                for (half, mark) in [(PairHalf::First, first), (PairHalf::Second, second)] {
                    let mut half_done = present.clone();
                    move_string(plan, taken.kind, mark, &mut half_done);
                    tell(StateKind::HalfPair { drop, step, half }, rule, &half_done);
                }
            }
            for mark in taken.strings.marks() {
                move_string(plan, taken.kind, mark, &mut present);
            }
            tell(StateKind::AfterStep { drop, step }, StateRule::Working, &present);
        }
        tell(StateKind::AfterDrop { drop }, StateRule::Running, &present);
    }
    states
}

fn move_string(plan: &Plan, kind: StepKind, mark: &StringMark, present: &mut [bool]) {
    for (placement, present) in plan.placements.iter().zip(present) {
        if placement.string == *mark {
            *present = kind == StepKind::On;
        }
    }
}

impl LoadState {
    /// What people call the state, such as `after step 2 of Eastmoor`.
    pub fn title(&self, plan: &Plan) -> String {
        let name = |drop: usize| plan.drops.get(drop).map_or("?", |drop| drop.name.as_str());
        match self.kind {
            StateKind::Departure => "departure".to_owned(),
            StateKind::HalfPair { drop, step, half } => {
                let marks = plan.drops.get(drop).and_then(|drop| drop.steps.get(step));
                let at = usize::from(half == PairHalf::Second);
                let mark = marks.and_then(|step| step.strings.marks().nth(at));
                let mark = mark.map_or("?", StringMark::as_str);
                format!("step {} of {}, only {mark} moved", step + 1, name(drop))
            }
            StateKind::AfterStep { drop, step } => format!("after step {} of {}", step + 1, name(drop)),
            StateKind::AfterDrop { drop } if drop + 1 == plan.drops.len() => {
                format!("after {}, the end", name(drop))
            }
            StateKind::AfterDrop { drop } => format!("after {}", name(drop)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::{drop_off, empty_plan, place};

    /// Strings S1 to S4, placed in that order.
    fn plan() -> Plan {
        let mut plan = empty_plan(3);
        for (lane, mark) in (1..).zip(["S1", "S2", "S3", "S4"]) {
            place(&mut plan, mark, 20_000, (1, lane, 10_000));
        }
        plan
    }

    fn pair(first: &str, second: &str, together: bool) -> StepStrings {
        let mark = |text| StringMark::new(text).unwrap();
        StepStrings::Pair { first: mark(first), second: mark(second), together }
    }

    /// Titles with the marks that are on the train.
    fn told(plan: &Plan) -> Vec<String> {
        let tell = |state: &LoadState| {
            let on = plan.placements.iter().zip(&state.present).filter(|(_, present)| **present);
            let marks: Vec<&str> = on.map(|(placement, _)| placement.string.as_str()).collect();
            format!("{}: {}", state.title(plan), marks.join(" "))
        };
        load_states(plan).iter().map(tell).collect()
    }

    #[test]
    fn without_drops_there_is_the_departure_alone() {
        assert_eq!(told(&plan()), ["departure: S1 S2 S3 S4"]);
    }

    #[test]
    fn steps_off_and_on_make_states_in_order() {
        let mut plan = plan();
        plan.drops = vec![drop_off("Eastmoor", &["S1"]), drop_off("Westby", &["S4"])];
        plan.drops[1].steps[0].kind = StepKind::On;
        assert_eq!(
            told(&plan),
            [
                "departure: S1 S2 S3",
                "after step 1 of Eastmoor: S2 S3",
                "after Eastmoor: S2 S3",
                "after step 1 of Westby: S2 S3 S4",
                "after Westby, the end: S2 S3 S4",
            ]
        );
    }

    #[test]
    fn a_pair_has_two_half_done_states_and_a_declared_one_makes_notes_of_them() {
        for (together, rule) in [(false, StateRule::Working), (true, StateRule::NoteOnly)] {
            let mut plan = plan();
            plan.drops = vec![drop_off("Eastmoor", &["S1"])];
            plan.drops[0].steps[0].strings = pair("S1", "S4", together);
            assert_eq!(
                told(&plan),
                [
                    "departure: S1 S2 S3 S4",
                    "step 1 of Eastmoor, only S1 moved: S2 S3 S4",
                    "step 1 of Eastmoor, only S4 moved: S1 S2 S3",
                    "after step 1 of Eastmoor: S2 S3",
                    "after Eastmoor, the end: S2 S3",
                ]
            );
            let rules: Vec<StateRule> = load_states(&plan).iter().map(|state| state.rule).collect();
            assert_eq!(rules, [StateRule::Running, rule, rule, StateRule::Working, StateRule::Running]);
        }
    }

    #[test]
    fn an_empty_drop_gives_the_state_after_it_alone_and_a_string_comes_off_once() {
        let mut plan = plan();
        plan.drops = vec![drop_off("Eastmoor", &[]), drop_off("Westby", &["S2", "S2"])];
        plan.placements[3].string = plan.placements[1].string.clone();
        assert_eq!(
            told(&plan),
            [
                "departure: S1 S2 S3 S2",
                "after Eastmoor: S1 S2 S3 S2",
                "after step 1 of Westby: S1 S3",
                "after step 2 of Westby: S1 S3",
                "after Westby, the end: S1 S3",
            ]
        );
    }
}
