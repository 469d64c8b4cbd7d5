//! What a check has told of one subject, and how it becomes a finding.

use super::{Check, Comparison, Finding, Outcome, Sense, Subject};
use crate::statics::Figures;
use crate::text;
use crate::units::Text;
use std::cmp::Ordering;

/// Words that are built only where somebody will read them: a [`Text`], or a closure that makes one.
///
/// Nearly all judgements of a sound plan are passes that nobody reads; a closure keeps them free of formatting.
pub trait Words {
    /// The text.
    fn words(self) -> Text;
}

impl Words for Text {
    fn words(self) -> Text {
        self
    }
}

impl<F: FnOnce() -> Text> Words for F {
    fn words(self) -> Text {
        self()
    }
}

/// What a judgement is of: a thing and, where a check holds it to several rules, which of them.
///
/// Rules of one thing are told and accepted each by itself: none hides another.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Judged {
    /// The thing.
    pub subject: Subject,
    /// The rule, as it stands behind the names of the thing; none where the check has one rule.
    pub rule: Option<&'static str>,
}

impl From<Subject> for Judged {
    fn from(subject: Subject) -> Self {
        Self { subject, rule: None }
    }
}

impl Judged {
    /// The stable names of the thing, the rule behind them.
    pub(super) fn things(self, figures: &Figures) -> Vec<String> {
        let mut things = self.subject.things(figures);
        things.extend(self.rule.map(str::to_owned));
        things
    }
}

impl Subject {
    /// This thing held to one of several rules.
    pub fn by_rule(self, rule: &'static str) -> Judged {
        Judged { subject: self, rule: Some(rule) }
    }
}

/// The worst that a check has told of one subject so far.
#[derive(Debug)]
pub(super) struct Row {
    pub(super) outcome: Outcome,
    pub(super) comparison: Option<Comparison>,
    pub(super) state: Option<usize>,
    /// Growing.
    pub(super) states: Vec<usize>,
    pub(super) what: Text,
    /// Ends the standard text of a comparison.
    pub(super) tail: Text,
    pub(super) mend: Text,
    pub(super) source: Option<String>,
}

impl Row {
    pub(super) fn of(outcome: Outcome, state: Option<usize>) -> Self {
        Self {
            outcome,
            comparison: None,
            state,
            states: state.into_iter().collect(),
            what: Text::default(),
            tail: Text::default(),
            mend: Text::default(),
            source: None,
        }
    }

    /// Notes one more state with the same outcome.
    pub(super) fn add_state(&mut self, state: Option<usize>) {
        if let Some(state) = state
            && let Err(at) = self.states.binary_search(&state)
        {
            self.states.insert(at, state);
        }
    }

    /// The finding that this row is.
    pub(super) fn finding(self, figures: &Figures, check: &'static Check, judged: Judged) -> Finding {
        let things = judged.things(figures);
        let what = match self.comparison {
            Some(comparison) if self.what.is_empty() => {
                let word = match comparison.sense {
                    Sense::AtMost => " of at most ",
                    Sense::AtLeast => ", at least ",
                };
                let mut what = text![things.join(", "), ": ", comparison.demand, word, comparison.capacity];
                what.0.extend(self.tail.0);
                what
            }
            _ => self.what,
        };
        let mend = match self.outcome {
            Outcome::Fail | Outcome::Near if self.mend.is_empty() => text![check.mend],
            _ => self.mend,
        };
        let finding = Finding {
            check,
            outcome: self.outcome,
            subject: judged.subject,
            things,
            what,
            mend,
            comparison: self.comparison,
            state: self.state,
            states: self.states,
            limit_source: self.source,
            accepted: None,
        };
        let accepted = figures.plan.accepted.iter().position(|kept| finding.is_covered_by(kept));
        Finding { accepted, ..finding }
    }
}

/// How much of the limit is used; below everything where nothing is compared.
pub(super) fn utilisation(comparison: Option<Comparison>) -> f64 {
    comparison.map_or(f64::NEG_INFINITY, Comparison::utilisation)
}

/// Whether `new` is to be told rather than `kept`: a worse outcome, or the same with a higher utilisation.
pub(super) fn worse(new: (Outcome, Option<Comparison>), kept: (Outcome, Option<Comparison>)) -> bool {
    match new.0.cmp(&kept.0) {
        Ordering::Less => true,
        Ordering::Greater => false,
        Ordering::Equal => utilisation(new.1) > utilisation(kept.1),
    }
}
