//! What one check tells of each state: how it fares there, and how much of a limit it uses.

use super::row::worse;
use super::{Check, Comparison, Outcome, Subject};

/// How a check fares in one state.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StateUse {
    /// The worst outcome of any thing; a pair that leaves together is only noted while half done.
    pub outcome: Outcome,
    /// The thing with that outcome that uses most.
    pub subject: Subject,
    /// The largest use of a limit by any thing, as a share of it; none where nothing is compared.
    pub used: Option<f64>,
    /// What the worst thing uses.
    worst: Option<Comparison>,
}

/// What a check tells of the states, by their indices.
#[derive(Clone, Debug)]
pub struct CheckStates {
    /// The check.
    pub check: &'static Check,
    /// By state; none where it told nothing of the state, or the state was not worked out.
    pub states: Vec<Option<StateUse>>,
}

impl CheckStates {
    /// The largest use in any state.
    pub fn most_used(&self) -> Option<f64> {
        self.states.iter().flatten().filter_map(|told| told.used).reduce(f64::max)
    }

    /// The worst outcome in any state.
    pub fn worst(&self) -> Option<Outcome> {
        self.states.iter().flatten().map(|told| told.outcome).min()
    }
}

impl StateUse {
    /// What is told of one thing.
    pub(super) fn of(outcome: Outcome, subject: Subject, comparison: Option<Comparison>) -> Self {
        Self { outcome, subject, used: comparison.map(Comparison::utilisation), worst: comparison }
    }

    /// What the worst thing uses of its limit; none where that compares nothing, such as strings in one place.
    pub fn worst_used(&self) -> Option<f64> {
        self.worst.map(Comparison::utilisation)
    }

    /// Takes in what is told of another thing of the same state.
    pub(super) fn join(&mut self, other: Self) {
        let used = self.used.into_iter().chain(other.used).reduce(f64::max);
        if worse((other.outcome, other.worst), (self.outcome, self.worst)) {
            *self = other;
        }
        self.used = used;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::Sense;
    use crate::checks::trial::silent_check;
    use crate::units::Quantity;

    static CHECK: Check = silent_check();

    fn told(outcome: Outcome, string: usize, used: Option<f64>) -> StateUse {
        let comparison = used.map(|used| Comparison::new(Quantity::ratio(used), 1.0, Sense::AtMost));
        StateUse::of(outcome, Subject::String(string), comparison)
    }

    #[test]
    fn the_worst_thing_is_named_and_the_largest_use_kept_whoever_has_it() {
        let mut state = told(Outcome::Pass, 0, Some(0.7));
        state.join(told(Outcome::Pass, 1, Some(0.8)));
        assert_eq!((state.subject, state.used), (Subject::String(1), Some(0.8)));
        state.join(told(Outcome::Fail, 2, None));
        assert_eq!((state.outcome, state.subject), (Outcome::Fail, Subject::String(2)));
        assert_eq!(state.used, Some(0.8), "a rule without numbers hides no use");
        state.join(told(Outcome::Near, 3, Some(0.97)));
        assert_eq!(
            (state.outcome, state.subject, state.used),
            (Outcome::Fail, Subject::String(2), Some(0.97))
        );
    }

    #[test]
    fn a_check_is_summed_over_its_states() {
        let states =
            vec![None, Some(told(Outcome::Pass, 0, Some(0.4))), Some(told(Outcome::Near, 0, Some(0.96)))];
        let of_check = CheckStates { check: &CHECK, states };
        assert_eq!((of_check.most_used(), of_check.worst()), (Some(0.96), Some(Outcome::Near)));
        let nothing = CheckStates { check: &CHECK, states: vec![None] };
        assert_eq!((nothing.most_used(), nothing.worst()), (None, None));
    }
}
