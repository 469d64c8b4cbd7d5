//! The states of a plan: departure, after each step, after each drop, the end, and half-done pairs.

use crate::model::{Plan, StepKind, StepStrings, StringMark};
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
