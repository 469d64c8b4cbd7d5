//! Collects what one check tells of every thing in every state, and keeps the worst of each.

use super::finding::{Comparison, Sense};
use super::{Check, Finding, Outcome, Subject};
use crate::model::{LimitKind, Topic};
use crate::statics::{Figures, StateFigures, StateRule};
use crate::text;
use crate::units::{Quantity, Text};
use std::cmp::Ordering;
use std::collections::BTreeMap;

/// A limit as entered and accepted.
#[derive(Clone, Debug)]
pub struct LimitValue {
    /// Which.
    pub kind: LimitKind,
    /// While the train travels.
    pub running: f64,
    /// Between the steps of a drop.
    pub working: f64,
}

impl LimitValue {
    /// The value that holds in a state judged by `rule`.
    pub fn by(&self, rule: StateRule) -> f64 {
        match rule {
            StateRule::Running => self.running,
            StateRule::Working | StateRule::NoteOnly => self.working,
        }
    }
}

/// What a check has told of one subject so far.
#[derive(Debug)]
struct Row {
    outcome: Outcome,
    comparison: Option<Comparison>,
    state: Option<usize>,
    states: Vec<usize>,
    what: Text,
    mend: Text,
    source: Option<String>,
}

/// Takes a check's judgements.
///
/// Fails, undecided, near and noted things are kept each; of passes only the tightest is kept.
#[derive(Debug)]
pub struct Judge<'f> {
    /// The figures that the check reads.
    pub figures: &'f Figures,
    check: &'static Check,
    rows: BTreeMap<Subject, Row>,
    tightest_pass: Option<(Subject, Row)>,
    near_share: f64,
    source: Option<String>,
}

impl<'f> Judge<'f> {
    /// A judge for `check` over `figures`.
    pub fn new(check: &'static Check, figures: &'f Figures) -> Self {
        let near_share = figures.plan.limits.near_share();
        Self { figures, check, rows: BTreeMap::new(), tightest_pass: None, near_share, source: None }
    }

    /// The worked states with their rules: what a check loops over.
    pub fn states(&self) -> impl Iterator<Item = (&'f StateFigures, StateRule)> + use<'f> {
        let figures = self.figures;
        figures.worked.iter().filter_map(|state| figures.states.get(state.state).map(|s| (state, s.rule)))
    }

    /// The limit of `kind`; where it is missing or not accepted, tells so as undecided and gives none.
    pub fn limit(&mut self, kind: LimitKind) -> Option<LimitValue> {
        let Some(limit) = self.figures.plan.limits.get(kind) else {
            self.undecided(Subject::Limit(kind), text!["no limit is entered: ", kind.title()]);
            return None;
        };
        if limit.accepted_by.is_none() {
            self.undecided(
                Subject::Limit(kind),
                text!["the limit is not accepted by anybody yet: ", kind.title()],
            );
            return None;
        }
        self.source = Some(limit.source.text.clone());
        Some(LimitValue { kind, running: limit.running, working: limit.working.unwrap_or(limit.running) })
    }

    /// Whether the plan asks for `topic`; where not, tells so.
    pub fn asked(&mut self, topic: Topic) -> bool {
        let asked = self.figures.plan.route.asked.contains(&topic);
        if !asked {
            self.not_asked(text!["the plan does not ask for this"]);
        }
        asked
    }

    /// Where the capacity of the comparisons that follow comes from.
    pub fn source(&mut self, source: &str) {
        if self.source.as_deref() != Some(source) {
            self.source = Some(source.to_owned());
        }
    }

    /// `demand` may be `capacity` at most, in a state (or in none, for what does not depend on states).
    pub fn at_most(&mut self, state: Option<usize>, subject: Subject, demand: Quantity, capacity: f64) {
        self.compare(state, subject, Comparison::new(demand, capacity, Sense::AtMost));
    }

    /// `demand` must be `capacity` at least.
    pub fn at_least(&mut self, state: Option<usize>, subject: Subject, demand: Quantity, capacity: f64) {
        self.compare(state, subject, Comparison::new(demand, capacity, Sense::AtLeast));
    }

    /// A rule without numbers is broken; `what` says how and `mend` what to do.
    pub fn fail(&mut self, state: Option<usize>, subject: Subject, what: Text, mend: Text) {
        self.tell(state, subject, Row::of(Outcome::Fail, what, mend));
    }

    /// Something to know.
    pub fn note(&mut self, state: Option<usize>, subject: Subject, what: Text) {
        self.tell(state, subject, Row::of(Outcome::Note, what, Text::default()));
    }

    /// It cannot be said; `missing` says what is missing. The mend is to enter it.
    pub fn undecided(&mut self, subject: Subject, missing: Text) {
        let mut mend = text!["enter or accept what is missing: "];
        mend.0.extend(missing.0.clone());
        self.tell(None, subject, Row::of(Outcome::Undecided, missing, mend));
    }

    /// A rule without numbers is kept by `subject`.
    pub fn pass(&mut self, state: Option<usize>, subject: Subject, what: Text) {
        self.tell(state, subject, Row::of(Outcome::Pass, what, Text::default()));
    }

    /// Nothing in this plan to apply the check to; ignored where anything else was told.
    pub fn not_applicable(&mut self, why: Text) {
        self.tell(None, Subject::Plan, Row::of(Outcome::NotApplicable, why, Text::default()));
    }

    /// The plan does not ask for it.
    pub fn not_asked(&mut self, why: Text) {
        self.tell(None, Subject::Plan, Row::of(Outcome::NotAsked, why, Text::default()));
    }

    fn compare(&mut self, state: Option<usize>, subject: Subject, comparison: Comparison) {
        let outcome = comparison.outcome(self.near_share);
        let row = Row { comparison: Some(comparison), ..Row::of(outcome, Text::default(), Text::default()) };
        self.tell(state, subject, row);
    }

    fn tell(&mut self, state: Option<usize>, subject: Subject, mut row: Row) {
        row.state = state;
        row.states.extend(state);
        let rule = state.and_then(|state| self.figures.states.get(state)).map(|state| state.rule);
        if rule == Some(StateRule::NoteOnly) && matches!(row.outcome, Outcome::Fail | Outcome::Near) {
            row.outcome = Outcome::Note;
        }
        if row.outcome == Outcome::Pass {
            let tighter = self.tightest_pass.as_ref().is_none_or(|(_, kept)| worse(&row, kept));
            if tighter {
                row.source = self.source.clone();
                self.tightest_pass = Some((subject, row));
            }
            return;
        }
        match self.rows.get_mut(&subject) {
            None => {
                row.source = self.source.clone();
                self.rows.insert(subject, row);
            }
            Some(kept) if row.outcome == kept.outcome => {
                let state = row.state.filter(|state| kept.states.last() != Some(state));
                kept.states.extend(state);
                if worse(&row, kept) {
                    row.states = std::mem::take(&mut kept.states);
                    row.source = self.source.clone();
                    *kept = row;
                }
            }
            Some(kept) => {
                if worse(&row, kept) {
                    row.source = self.source.clone();
                    *kept = row;
                }
            }
        }
    }

    /// The findings, worst first within the check; at least one.
    pub fn findings(mut self) -> Vec<Finding> {
        let told_more = self.rows.values().any(|row| row.outcome < Outcome::NotApplicable);
        if told_more || self.tightest_pass.is_some() {
            self.rows.retain(|_, row| row.outcome < Outcome::NotApplicable);
        }
        let mut rows: Vec<(Subject, Row)> = self.rows.into_iter().collect();
        rows.extend(self.tightest_pass);
        if rows.is_empty() {
            let why = text!["nothing in this plan to apply it to"];
            rows.push((Subject::Plan, Row::of(Outcome::NotApplicable, why, Text::default())));
        }
        let mut findings: Vec<Finding> =
            rows.into_iter().map(|(subject, row)| finding(self.figures, self.check, subject, row)).collect();
        findings.sort_by(|a, b| {
            a.outcome
                .cmp(&b.outcome)
                .then_with(|| utilisation(b.comparison).total_cmp(&utilisation(a.comparison)))
        });
        findings
    }
}

impl Row {
    fn of(outcome: Outcome, what: Text, mend: Text) -> Self {
        Self { outcome, comparison: None, state: None, states: Vec::new(), what, mend, source: None }
    }
}

fn utilisation(comparison: Option<Comparison>) -> f64 {
    comparison.map_or(f64::NEG_INFINITY, Comparison::utilisation)
}

/// Whether `row` is to be told rather than `kept`: a worse outcome, or the same with a higher utilisation.
fn worse(row: &Row, kept: &Row) -> bool {
    match row.outcome.cmp(&kept.outcome) {
        Ordering::Less => true,
        Ordering::Greater => false,
        Ordering::Equal => utilisation(row.comparison) > utilisation(kept.comparison),
    }
}

fn finding(figures: &Figures, check: &'static Check, subject: Subject, row: Row) -> Finding {
    let things = subject.things(figures);
    let what = match row.comparison {
        Some(comparison) if row.what.is_empty() => {
            let word = match comparison.sense {
                Sense::AtMost => " of at most ",
                Sense::AtLeast => ", at least ",
            };
            text![things.join(", "), ": ", comparison.demand, word, comparison.capacity]
        }
        _ => row.what,
    };
    let mend = match row.outcome {
        Outcome::Fail | Outcome::Near if row.mend.is_empty() => text![check.mend],
        _ => row.mend,
    };
    let accepted =
        figures.plan.accepted.iter().position(|kept| kept.check == check.id && kept.things == things);
    Finding {
        check,
        outcome: row.outcome,
        subject,
        things,
        what,
        mend,
        comparison: row.comparison,
        state: row.state,
        states: row.states,
        limit_source: row.source,
        accepted,
    }
}
