//! The states of a plan: departure, after each step, after each drop, the end, and half-done pairs.

use crate::model::Plan;

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
pub fn load_states(_plan: &Plan) -> Vec<LoadState> {
    Vec::new()
}

impl LoadState {
    /// What people call the state, such as `after step 2 of Eastmoor`.
    pub fn title(&self, _plan: &Plan) -> String {
        String::new()
    }
}
