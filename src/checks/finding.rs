//! What a check found.

use super::{Check, Subject};
use crate::units::{Quantity, QuantityKind, Text};

/// How a thing fares, the worst first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Outcome {
    /// A limit is broken.
    Fail,
    /// It cannot be said: something was not entered or not accepted.
    Undecided,
    /// Within the limit, by less than the margin that the user set.
    Near,
    /// Something to know; breaks no limit.
    Note,
    /// Within the limit.
    Pass,
    /// Nothing in this plan to apply it to.
    NotApplicable,
    /// The plan does not ask for it.
    NotAsked,
}

impl Outcome {
    /// All outcomes, the worst first.
    pub const ALL: [Self; 7] = [
        Self::Fail,
        Self::Undecided,
        Self::Near,
        Self::Note,
        Self::Pass,
        Self::NotApplicable,
        Self::NotAsked,
    ];

    /// The strand of findings that it belongs to.
    pub fn strand(self) -> Strand {
        match self {
            Self::Undecided => Strand::Undecided,
            Self::Note => Strand::Noted,
            _ => Strand::Judged,
        }
    }

    /// One or two words for a reader; also the JSON value.
    pub fn word(self) -> &'static str {
        match self {
            Self::Fail => "fail",
            Self::Undecided => "undecided",
            Self::Near => "near",
            Self::Note => "note",
            Self::Pass => "pass",
            Self::NotApplicable => "not applicable",
            Self::NotAsked => "not asked",
        }
    }
}

/// Which of the findings that may stand beside each other for one thing of one check, so that none hides another.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Strand {
    /// What was judged: fails, near and the rest.
    Judged,
    /// What cannot be said: accepting a fail decides nothing.
    Undecided,
    /// What is to be known, such as of half-done states: a thing near its limit elsewhere takes nothing from it.
    Noted,
}

/// Whether the demand must stay below or above the capacity.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Sense {
    /// Demand at most capacity.
    AtMost,
    /// Demand at least capacity.
    AtLeast,
}

/// A demand against a capacity.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Comparison {
    /// What is.
    pub demand: Quantity,
    /// What may be.
    pub capacity: Quantity,
    /// Which way.
    pub sense: Sense,
}

impl Comparison {
    /// Compares `demand` with a capacity in the same unit.
    pub const fn new(demand: Quantity, capacity: f64, sense: Sense) -> Self {
        Self { demand, capacity: Quantity { value: capacity, kind: demand.kind }, sense }
    }

    /// Demand over capacity (at most), or capacity over demand (at least): above one breaks the limit.
    pub fn utilisation(self) -> f64 {
        let (over, under) = match self.sense {
            Sense::AtMost => (self.demand.value, self.capacity.value),
            Sense::AtLeast => (self.capacity.value, self.demand.value),
        };
        if over.is_nan() || under.is_nan() {
            return f64::INFINITY;
        }
        if over <= 0.0 && under <= 0.0 {
            // Both at or below zero: only an at-most comparison with nothing allowed gets here soundly.
            return if over <= under { 0.0 } else { f64::INFINITY };
        }
        if under > 0.0 { (over / under).max(0.0) } else { f64::INFINITY }
    }

    /// Whether the limit is kept; rounding of a billionth of the capacity is forgiven, here and nowhere else.
    pub fn holds(self) -> bool {
        let slack = self.capacity.value.abs() * 1.0e-9;
        match self.sense {
            Sense::AtMost => self.demand.value <= self.capacity.value + slack,
            Sense::AtLeast => self.demand.value >= self.capacity.value - slack,
        }
    }

    /// Fail, near or pass; `near_share` is the utilisation from which a pass is told as near (counts have no near).
    pub fn outcome(self, near_share: f64) -> Outcome {
        if !self.holds() {
            Outcome::Fail
        } else if self.demand.kind != QuantityKind::Count && self.utilisation() >= near_share {
            Outcome::Near
        } else {
            Outcome::Pass
        }
    }

    /// What is left: positive within the limit.
    pub fn margin(self) -> Quantity {
        let value = match self.sense {
            Sense::AtMost => self.capacity.value - self.demand.value,
            Sense::AtLeast => self.demand.value - self.capacity.value,
        };
        Quantity { value, kind: self.demand.kind }
    }
}

/// One thing, judged by one check, over all states that were looked at.
#[derive(Clone, Debug)]
pub struct Finding {
    /// The check.
    pub check: &'static Check,
    /// The worst outcome over the states.
    pub outcome: Outcome,
    /// The thing.
    pub subject: Subject,
    /// Its stable names.
    pub things: Vec<String>,
    /// What was found, in words.
    pub what: Text,
    /// How to mend it; empty where nothing is to be mended.
    pub mend: Text,
    /// The worst comparison, where there is one.
    pub comparison: Option<Comparison>,
    /// The state of the worst, where states matter; index into `Figures::states`.
    pub state: Option<usize>,
    /// All states with this outcome; of a pass only the tightest.
    pub states: Vec<usize>,
    /// Where the limit or rating comes from.
    pub limit_source: Option<String>,
    /// Index into `plan.accepted`, where somebody accepted this finding as it is.
    pub accepted: Option<usize>,
}

impl Finding {
    /// Whether it counts against the plan: an unaccepted fail, or undecided.
    pub fn is_open(&self) -> bool {
        match self.outcome {
            Outcome::Fail => self.accepted.is_none(),
            Outcome::Undecided => true,
            _ => false,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn compare(demand: f64, capacity: f64, sense: Sense) -> Comparison {
        Comparison { demand: Quantity::ratio(demand), capacity: Quantity::ratio(capacity), sense }
    }

    #[test]
    fn a_limit_is_kept_up_to_itself_and_broken_just_beyond() {
        assert!(compare(1.25, 1.25, Sense::AtMost).holds());
        assert!(!compare(1.250_001, 1.25, Sense::AtMost).holds());
        assert!(compare(0.3, 0.3, Sense::AtLeast).holds());
        assert!(!compare(0.299_999, 0.3, Sense::AtLeast).holds());
    }

    #[test]
    fn utilisation_is_above_one_exactly_where_the_limit_is_broken() {
        assert!((compare(2.0, 4.0, Sense::AtMost).utilisation() - 0.5).abs() < 1e-12);
        assert!((compare(0.6, 0.3, Sense::AtLeast).utilisation() - 0.5).abs() < 1e-12);
        assert!(compare(-0.1, 0.3, Sense::AtLeast).utilisation().is_infinite());
        assert!((compare(0.0, 0.0, Sense::AtMost).utilisation()).abs() < 1e-12);
        assert!(compare(1.0, 0.0, Sense::AtMost).utilisation().is_infinite());
        assert!(compare(f64::NAN, 1.0, Sense::AtMost).utilisation().is_infinite());
        assert!(!compare(f64::NAN, 1.0, Sense::AtMost).holds());
    }

    #[test]
    fn the_margin_is_positive_within_the_limit_either_way() {
        assert!((compare(2.0, 3.0, Sense::AtMost).margin().value - 1.0).abs() < 1e-12);
        assert!((compare(2.0, 3.0, Sense::AtLeast).margin().value + 1.0).abs() < 1e-12);
    }

    #[test]
    fn every_outcome_is_listed_once_the_worst_first() {
        assert!(Outcome::ALL.is_sorted());
        assert!(Outcome::ALL.windows(2).all(|pair| pair[0] != pair[1] && pair[0].word() != pair[1].word()));
    }
}
