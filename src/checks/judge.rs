//! Collects what one check tells of every thing in every state, and keeps the worst of each.

use super::finding::{Comparison, Sense};
use super::row::{Judged, Row, utilisation, worse};
use super::{Check, Finding, Outcome, StateUse, Strand, Subject, Words};
use crate::model::{LimitKind, Topic};
use crate::statics::{Figures, StateFigures, StateRule};
use crate::text;
use crate::units::{Quantity, Text};
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
    /// Where it comes from; for [`Judge::source`] where a check compares with several limits in turn.
    pub source: String,
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

/// The rule behind the names of a thing where only the working value of a limit is meant.
const WORKING_LIMIT: &str = "working limit";

/// Takes a check's judgements.
///
/// Fails, undecided, near and noted things are kept each; of passes only the tightest is kept.
/// A thing that fails, is undecided and is noted as well gives three findings, and one that breaks two rules, or both
/// the running and another working value of a limit, gives two, so that accepting one hides nothing.
#[derive(Debug)]
pub struct Judge<'f> {
    /// The figures that the check reads.
    pub figures: &'f Figures,
    check: &'static Check,
    rows: BTreeMap<(Judged, Strand), Row>,
    tightest_pass: Option<(Judged, Row)>,
    /// Working values of the limits asked for that have another one while running.
    working_only: Vec<f64>,
    near_share: f64,
    source: Option<String>,
    /// By state, what was told of it; empty where no state was told of.
    states: Vec<Option<StateUse>>,
}

impl<'f> Judge<'f> {
    /// A judge for `check` over `figures`.
    pub fn new(check: &'static Check, figures: &'f Figures) -> Self {
        let near_share = figures.plan.limits.near_share();
        Self {
            figures,
            check,
            rows: BTreeMap::new(),
            tightest_pass: None,
            working_only: Vec::new(),
            near_share,
            source: None,
            states: Vec::new(),
        }
    }

    /// The worked states with their rules: what a check loops over.
    pub fn states(&self) -> impl Iterator<Item = (&'f StateFigures, StateRule)> + use<'f> {
        let figures = self.figures;
        figures.worked.iter().filter_map(|state| figures.states.get(state.state).map(|s| (state, s.rule)))
    }

    /// The limit of `kind`; where it is missing or not accepted, tells so as undecided and gives none.
    pub fn limit(&mut self, kind: LimitKind) -> Option<LimitValue> {
        let Some(limit) = self.figures.plan.limits.get(kind) else {
            let missing = text!["no limit is entered: ", kind.title()];
            self.tell_undecided(Subject::Limit(kind), missing, text!["enter the limit: ", kind.title()]);
            return None;
        };
        if limit.accepted_by.is_none() {
            let missing = text!["the limit is not accepted by anybody yet: ", kind.title()];
            self.tell_undecided(Subject::Limit(kind), missing, text!["accept the limit: ", kind.title()]);
            return None;
        }
        let source = limit.source.text.clone();
        self.source(&source);
        let working = limit.working_value();
        if working.to_bits() != limit.running.to_bits() {
            self.working_only.push(working);
        }
        Some(LimitValue { kind, running: limit.running, working, source })
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
    pub fn at_most(&mut self, state: Option<usize>, of: impl Into<Judged>, demand: Quantity, capacity: f64) {
        self.compare_with(state, of, Comparison::new(demand, capacity, Sense::AtMost), Text::default);
    }

    /// `demand` must be `capacity` at least.
    pub fn at_least(&mut self, state: Option<usize>, of: impl Into<Judged>, demand: Quantity, capacity: f64) {
        self.compare_with(state, of, Comparison::new(demand, capacity, Sense::AtLeast), Text::default);
    }

    /// A comparison whose standard text ends with `tail`, which is built only where the comparison is kept.
    ///
    /// Counts are never near: three racks of at least three have no margin to be short of.
    pub fn compare_with(
        &mut self,
        state: Option<usize>,
        of: impl Into<Judged>,
        comparison: Comparison,
        tail: impl Words,
    ) {
        let outcome = comparison.outcome(self.near_share);
        self.tell(state, of, (outcome, Some(comparison)), |row| row.tail = tail.words());
    }

    /// A comparison whose outcome the check decided by itself: one that warns, say, without a limit being broken.
    pub fn decided(
        &mut self,
        state: Option<usize>,
        of: impl Into<Judged>,
        (outcome, comparison): (Outcome, Comparison),
        tail: impl Words,
    ) {
        self.tell(state, of, (outcome, Some(comparison)), |row| row.tail = tail.words());
    }

    /// A thing that must go into a given space: all of the space may be used, so that it is never near.
    pub fn fits(&mut self, of: impl Into<Judged>, demand: Quantity, space: f64, tail: impl Words) {
        let comparison = Comparison::new(demand, space, Sense::AtMost);
        let outcome = if comparison.holds() { Outcome::Pass } else { Outcome::Fail };
        self.tell(None, of, (outcome, Some(comparison)), |row| row.tail = tail.words());
    }

    /// A rule without numbers is broken; `what` says how and `mend` what to do (empty: the check's own mend).
    pub fn fail(&mut self, state: Option<usize>, of: impl Into<Judged>, what: impl Words, mend: impl Words) {
        self.tell(state, of, (Outcome::Fail, None), |row| {
            row.what = what.words();
            row.mend = mend.words();
        });
    }

    /// Something to know.
    pub fn note(&mut self, state: Option<usize>, subject: Subject, what: impl Words) {
        self.tell(state, subject, (Outcome::Note, None), |row| row.what = what.words());
    }

    /// It cannot be said; `missing` says what is missing. The mend is to enter it.
    ///
    /// Several missing things of one subject are told together.
    pub fn undecided(&mut self, subject: Subject, missing: Text) {
        self.tell_undecided(subject, missing, text!["enter what is missing"]);
    }

    /// It cannot be said until something is put right that is not a matter of entering; `mend` says what to do.
    pub fn undecided_until(&mut self, subject: Subject, missing: Text, mend: Text) {
        self.tell_undecided(subject, missing, mend);
    }

    /// A rule without numbers is kept by `subject`.
    pub fn pass(&mut self, state: Option<usize>, subject: Subject, what: impl Words) {
        self.tell(state, subject, (Outcome::Pass, None), |row| row.what = what.words());
    }

    /// Nothing in this plan to apply the check to; ignored where anything else was told.
    pub fn not_applicable(&mut self, why: impl Words) {
        self.tell(None, Subject::Plan, (Outcome::NotApplicable, None), |row| row.what = why.words());
    }

    /// The plan does not ask for it.
    pub fn not_asked(&mut self, why: impl Words) {
        self.tell(None, Subject::Plan, (Outcome::NotAsked, None), |row| row.what = why.words());
    }

    fn tell_undecided(&mut self, subject: Subject, missing: Text, mend: Text) {
        let Some(kept) = self.rows.get_mut(&(subject.into(), Strand::Undecided)) else {
            self.tell(None, subject, (Outcome::Undecided, None), |row| {
                row.what = missing;
                row.mend = mend;
                // Nothing was compared, so nothing is the source of a capacity.
                row.source = None;
            });
            return;
        };
        let told = kept.what.0.windows(missing.0.len().max(1)).any(|part| part == missing.0);
        if !told {
            kept.what.0.push("; ".into());
            kept.what.0.extend(missing.0);
        }
    }

    /// Keeps a judgement where it is the worst of its subject; only then `fill` writes its words.
    fn tell(
        &mut self,
        state: Option<usize>,
        of: impl Into<Judged>,
        (mut outcome, comparison): (Outcome, Option<Comparison>),
        fill: impl FnOnce(&mut Row),
    ) {
        let rule = state.and_then(|state| self.figures.states.get(state)).map(|state| state.rule);
        if rule == Some(StateRule::NoteOnly) && matches!(outcome, Outcome::Fail | Outcome::Near) {
            outcome = Outcome::Note;
        }
        let mut judged: Judged = of.into();
        self.tell_state(state, StateUse::of(outcome, judged.subject, comparison));
        let is_working = matches!(rule, Some(StateRule::Working | StateRule::NoteOnly));
        if judged.rule.is_none() && is_working && self.is_working_only(comparison) {
            judged.rule = Some(WORKING_LIMIT);
        }
        let key = (judged, outcome.strand());
        let kept = match outcome {
            Outcome::Pass => self.tightest_pass.as_mut().map(|(_, row)| row),
            _ => self.rows.get_mut(&key),
        };
        let mut states = Vec::new();
        if let Some(kept) = kept {
            if outcome == kept.outcome && outcome != Outcome::Pass {
                kept.add_state(state);
            }
            if !worse((outcome, comparison), (kept.outcome, kept.comparison)) {
                return;
            }
            if outcome == kept.outcome && outcome != Outcome::Pass {
                states = std::mem::take(&mut kept.states);
            }
        }
        let mut row = Row { comparison, source: self.source.clone(), ..Row::of(outcome, state) };
        if !states.is_empty() {
            row.states = states;
        }
        fill(&mut row);
        match outcome {
            Outcome::Pass => self.tightest_pass = Some((judged, row)),
            _ => {
                self.rows.insert(key, row);
            }
        }
    }

    /// Whether what is compared with is a limit's value for working states alone.
    fn is_working_only(&self, comparison: Option<Comparison>) -> bool {
        comparison.is_some_and(|comparison| {
            self.working_only.iter().any(|value| value.to_bits() == comparison.capacity.value.to_bits())
        })
    }

    /// Remembers what is told of a state.
    fn tell_state(&mut self, state: Option<usize>, told: StateUse) {
        let Some(state) = state else { return };
        if self.states.is_empty() {
            self.states = vec![None; self.figures.states.len()];
        }
        match self.states.get_mut(state) {
            Some(Some(kept)) => kept.join(told),
            Some(empty) => *empty = Some(told),
            None => {}
        }
    }

    /// By state, what was told of it so far; empty where no state was told of. They are then told of no more.
    pub fn take_states(&mut self) -> Vec<Option<StateUse>> {
        std::mem::take(&mut self.states)
    }

    /// The findings, worst first within the check; at least one.
    pub fn findings(mut self) -> Vec<Finding> {
        let told_more = self.rows.values().any(|row| row.outcome < Outcome::NotApplicable);
        if told_more || self.tightest_pass.is_some() {
            self.rows.retain(|_, row| row.outcome < Outcome::NotApplicable);
        }
        if self.rows.is_empty() && self.tightest_pass.is_none() {
            self.not_applicable(text!["nothing in this plan to apply it to"]);
        }
        let rows = self.rows.into_iter().map(|((judged, _), row)| (judged, row)).chain(self.tightest_pass);
        let mut findings: Vec<Finding> =
            rows.map(|(judged, row)| row.finding(self.figures, self.check, judged)).collect();
        findings.sort_by(|a, b| {
            a.outcome
                .cmp(&b.outcome)
                .then_with(|| utilisation(b.comparison).total_cmp(&utilisation(a.comparison)))
        });
        findings
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::trial::{figures_of, silent_check};
    use crate::fixtures::{drop_off, empty_plan, limit, place};
    use crate::model::{Acceptance, Found, Plan, StepStrings, StringMark};
    use crate::units::Style;

    static CHECK: Check = silent_check();

    /// A plan with a departure, both halves of a pair that leaves together (states 1 and 2), and the end.
    fn plan_with_half_pairs() -> Plan {
        let mut plan = empty_plan(3);
        place(&mut plan, "S1", 40_000, (1, 1, 3_000));
        place(&mut plan, "S2", 40_000, (1, 10, 3_000));
        let mut drop = drop_off("Site", &["S1"]);
        drop.steps[0].strings = StepStrings::Pair {
            first: StringMark::new("S1").unwrap(),
            second: StringMark::new("S2").unwrap(),
            together: true,
        };
        plan.drops.push(drop);
        plan
    }

    fn check(tell: impl FnOnce(&mut Judge<'_>), expected: &[(Outcome, Subject)]) -> Vec<Finding> {
        let figures = figures_of(plan_with_half_pairs());
        let mut judge = Judge::new(&CHECK, &figures);
        tell(&mut judge);
        let findings = judge.findings();
        let found: Vec<_> = findings.iter().map(|finding| (finding.outcome, finding.subject)).collect();
        assert_eq!(found, expected);
        findings
    }

    fn ratio(value: f64) -> Quantity {
        Quantity::ratio(value)
    }

    #[test]
    fn near_begins_at_its_share_of_the_limit_and_fail_just_beyond_the_limit() {
        for (demand, outcome) in
            [(0.949, Outcome::Pass), (0.95, Outcome::Near), (1.0, Outcome::Near), (1.001, Outcome::Fail)]
        {
            check(
                |judge| judge.at_most(None, Subject::Train, ratio(demand), 1.0),
                &[(outcome, Subject::Train)],
            );
        }
    }

    #[test]
    fn counts_and_things_that_fit_are_never_near() {
        check(
            |judge| judge.at_least(None, Subject::Train, Quantity::count(3), 3.0),
            &[(Outcome::Pass, Subject::Train)],
        );
        check(
            |judge| judge.fits(Subject::Train, ratio(1.0), 1.0, Text::default()),
            &[(Outcome::Pass, Subject::Train)],
        );
        check(
            |judge| judge.fits(Subject::Train, ratio(1.01), 1.0, Text::default()),
            &[(Outcome::Fail, Subject::Train)],
        );
    }

    #[test]
    fn the_worst_state_of_a_thing_is_told_with_all_states_that_share_its_outcome() {
        let findings = check(
            |judge| {
                for (state, value) in [(3, 1.2), (0, 1.5), (3, 1.4), (0, 1.1)] {
                    judge.at_most(Some(state), Subject::Train, ratio(value), 1.0);
                }
            },
            &[(Outcome::Fail, Subject::Train)],
        );
        assert_eq!((findings[0].state, findings[0].states.as_slice()), (Some(0), &[0, 3][..]));
        assert_eq!(findings[0].what.show(Style::default()), "train: 1.50 : 1 of at most 1.00 : 1");
    }

    #[test]
    fn a_fail_in_a_half_done_pair_that_leaves_together_is_a_note() {
        check(
            |judge| judge.at_most(Some(1), Subject::Train, ratio(2.0), 1.0),
            &[(Outcome::Note, Subject::Train)],
        );
        check(
            |judge| judge.at_most(Some(0), Subject::Train, ratio(2.0), 1.0),
            &[(Outcome::Fail, Subject::Train)],
        );
    }

    #[test]
    fn a_note_on_a_half_done_pair_stands_beside_a_fail_and_beside_what_is_near() {
        for departure in [1.2, 1.0] {
            let outcome = if departure > 1.0 { Outcome::Fail } else { Outcome::Near };
            let findings = check(
                |judge| {
                    judge.at_most(Some(0), Subject::Train, ratio(departure), 1.0);
                    judge.at_most(Some(1), Subject::Train, ratio(2.0), 1.0);
                },
                &[(outcome, Subject::Train), (Outcome::Note, Subject::Train)],
            );
            assert_eq!(findings[1].state, Some(1));
        }
    }

    /// Wheel ratios at departure (state 0, running, up to 1.0) and after a step (state 1, working, up to `working`).
    fn at_two_limits(working: f64, ratios: [f64; 2], accepted: &[(&[&str], f64, f64)]) -> Vec<Finding> {
        let mut plan = empty_plan(3);
        place(&mut plan, "S1", 40_000, (1, 1, 3_000));
        plan.drops.push(drop_off("Site", &["S1"]));
        let wheel = crate::model::Limit { working: Some(working), ..limit(1.0) };
        plan.limits.entries.insert(LimitKind::WheelRatio, wheel);
        plan.accepted = accepted
            .iter()
            .map(|(things, demand, capacity)| Acceptance {
                check: CHECK.id.to_owned(),
                things: things.iter().map(|thing| (*thing).to_owned()).collect(),
                by: "Tester".to_owned(),
                why: "known".to_owned(),
                at: String::new(),
                found: Some(Found::Figures { demand: *demand, capacity: *capacity }),
            })
            .collect();
        let figures = figures_of(plan);
        let mut judge = Judge::new(&CHECK, &figures);
        let value = judge.limit(LimitKind::WheelRatio).unwrap();
        for (state, rule) in [(0, StateRule::Running), (1, StateRule::Working)] {
            assert_eq!(figures.states[state].rule, rule);
            judge.at_most(Some(state), Subject::Train, ratio(ratios[state]), value.by(rule));
        }
        judge.findings()
    }

    #[test]
    fn accepting_what_breaks_the_working_limit_accepts_nothing_that_breaks_the_running_one() {
        let told = |findings: &[Finding]| -> Vec<(String, bool)> {
            findings.iter().map(|finding| (finding.things.join(", "), finding.is_open())).collect()
        };
        let working = "train, working limit".to_owned();
        let both = at_two_limits(1.1, [1.05, 1.3], &[]);
        assert_eq!(told(&both), [(working.clone(), true), ("train".to_owned(), true)]);
        let accepted = at_two_limits(1.1, [1.05, 1.3], &[(&["train", "working limit"], 1.3, 1.1)]);
        assert_eq!(told(&accepted), [(working, false), ("train".to_owned(), true)]);
        assert_eq!(accepted[0].states, [1]);
    }

    #[test]
    fn one_limit_for_all_states_is_one_rule() {
        let findings = at_two_limits(1.0, [1.05, 1.3], &[(&["train"], 1.3, 1.0)]);
        let told: Vec<_> = findings.iter().map(|finding| (&finding.states[..], finding.is_open())).collect();
        assert_eq!(told, [(&[0, 1][..], false)]);
    }

    #[test]
    fn two_rules_for_one_thing_are_told_each() {
        let findings = check(
            |judge| {
                judge.fits(Subject::Train.by_rule("height"), ratio(1.2), 1.0, Text::default());
                judge.fits(Subject::Train.by_rule("width"), ratio(1.1), 1.0, Text::default());
            },
            &[(Outcome::Fail, Subject::Train), (Outcome::Fail, Subject::Train)],
        );
        assert_eq!(findings[1].what.show(Style::default()), "train, width: 1.10 : 1 of at most 1.00 : 1");
    }

    #[test]
    fn of_passes_the_tightest_is_kept_and_no_words_are_built_for_the_others() {
        let mut built = 0;
        let findings = check(
            |judge| {
                for value in [0.5, 0.4, 0.6, 0.3] {
                    let comparison = Comparison::new(ratio(value), 1.0, Sense::AtMost);
                    judge.compare_with(None, Subject::Train, comparison, || {
                        built += 1;
                        text![" here"]
                    });
                }
            },
            &[(Outcome::Pass, Subject::Train)],
        );
        assert_eq!(built, 2);
        assert_eq!(findings[0].what.show(Style::default()), "train: 0.60 : 1 of at most 1.00 : 1 here");
    }

    #[test]
    fn what_is_missing_is_told_beside_a_fail_and_all_of_it_at_once() {
        let findings = check(
            |judge| {
                judge.undecided(Subject::Train, text!["no length"]);
                judge.fail(None, Subject::Train, text!["broken"], Text::default());
                judge.undecided(Subject::Train, text!["no height"]);
                judge.undecided(Subject::Train, text!["no length"]);
            },
            &[(Outcome::Fail, Subject::Train), (Outcome::Undecided, Subject::Train)],
        );
        assert_eq!(findings[1].what.show(Style::default()), "no length; no height");
        assert_eq!(findings[0].mend.show(Style::default()), CHECK.mend);
    }

    #[test]
    fn a_limit_that_is_missing_or_not_accepted_is_undecided() {
        let kind = LimitKind::WheelRatio;
        let with = |entry: Option<crate::model::Limit>| {
            let mut plan = empty_plan(1);
            plan.limits.entries.remove(&kind);
            plan.limits.entries.extend(entry.map(|entry| (kind, entry)));
            let figures = figures_of(plan);
            let mut judge = Judge::new(&CHECK, &figures);
            let value =
                judge.limit(kind).map(|value| (value.by(StateRule::Running), value.by(StateRule::Working)));
            (value, judge.findings()[0].outcome)
        };
        assert_eq!(with(None), (None, Outcome::Undecided));
        let unaccepted = crate::model::Limit { accepted_by: None, ..limit(1.25) };
        assert_eq!(with(Some(unaccepted)), (None, Outcome::Undecided));
        assert_eq!(with(Some(limit(1.25))), (Some((1.25, 1.25)), Outcome::NotApplicable));
        let working = crate::model::Limit { working: Some(1.43), ..limit(1.25) };
        assert_eq!(with(Some(working)), (Some((1.25, 1.43)), Outcome::NotApplicable));
    }

    #[test]
    fn not_applicable_gives_way_to_anything_else() {
        check(|judge| judge.not_applicable(text!["no strings"]), &[(Outcome::NotApplicable, Subject::Plan)]);
        check(|_| (), &[(Outcome::NotApplicable, Subject::Plan)]);
        check(
            |judge| {
                judge.not_applicable(text!["no strings"]);
                judge.pass(None, Subject::Train, text!["sound"]);
            },
            &[(Outcome::Pass, Subject::Train)],
        );
    }

    #[test]
    fn a_finding_is_accepted_by_check_and_things() {
        let mut plan = plan_with_half_pairs();
        plan.accepted.push(Acceptance {
            check: CHECK.id.to_owned(),
            things: vec!["string S1".to_owned()],
            by: "Tester".to_owned(),
            why: "known".to_owned(),
            at: String::new(),
            found: None,
        });
        let figures = figures_of(plan);
        let mut judge = Judge::new(&CHECK, &figures);
        for string in [0, 1] {
            judge.fail(None, Subject::String(string), text!["broken"], Text::default());
        }
        let accepted: Vec<_> = judge.findings().iter().map(|f| (f.accepted, f.is_open())).collect();
        assert_eq!(accepted, [(Some(0), false), (None, true)]);
    }
}
