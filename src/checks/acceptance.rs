//! Whether an acceptance still covers what its finding says.
//!
//! Two rules, one for reading and one for changing. A plan that is read keeps an acceptance as long as its
//! finding is no worse than what was accepted: nobody accepted anything worse. In the editor, whoever changes a
//! figure that was accepted has changed the thing itself, for better or worse: the acceptance lapses with that
//! change ([`lapsed`]), within the same undo step.

use super::{Assessment, Comparison, Finding, Outcome, Sense};
use crate::model::{Acceptance, Found, Plan};
use crate::units::Style;

/// Differences below this share are rounding, of a file or of another machine.
const ROUNDING: f64 = 1.0e-6;

/// Figures beyond this are written as words: a file holds no larger numbers, and none without end.
const MOST: f64 = 1.0e12;

impl Finding {
    /// What it says, to be kept with its acceptance.
    pub fn found(&self) -> Found {
        let figures = self.comparison.map(|kept| (kept.demand.value, kept.capacity.value));
        match figures.filter(|(demand, capacity)| demand.abs() <= MOST && capacity.abs() <= MOST) {
            Some((demand, capacity)) => Found::Figures { demand, capacity },
            None => Found::Words(self.what.show(Style::default())),
        }
    }

    /// Whether `acceptance` is of this finding, whatever that says by now.
    pub fn is_named_by(&self, acceptance: &Acceptance) -> bool {
        acceptance.check == self.check.id && acceptance.things == self.things
    }

    /// Whether `acceptance` covers it: a fail, of the check and the things named, and no worse than accepted.
    pub fn is_covered_by(&self, acceptance: &Acceptance) -> bool {
        self.outcome == Outcome::Fail
            && self.is_named_by(acceptance)
            && acceptance.found.as_ref().is_none_or(|found| self.is_no_worse_than(found))
    }

    fn is_no_worse_than(&self, found: &Found) -> bool {
        match (found, self.comparison) {
            (Found::Figures { demand, capacity }, Some(now)) => {
                let mut then = Comparison::new(now.demand, *capacity, now.sense);
                then.demand.value = *demand;
                let (now_used, then_used) = (now.utilisation(), then.utilisation());
                if now_used.is_finite() || then_used.is_finite() {
                    now_used <= then_used * (1.0 + ROUNDING)
                } else {
                    // Both are beyond measure, as an overhang below zero is; then the demand alone tells.
                    let slack = demand.abs() * ROUNDING;
                    match now.sense {
                        Sense::AtMost => now.demand.value <= demand + slack,
                        Sense::AtLeast => now.demand.value >= demand - slack,
                    }
                }
            }
            (Found::Words(words), _) => *words == self.what.show(Style::default()),
            (Found::Figures { .. }, None) => false,
        }
    }

    /// Whether it says what it said when it was accepted, rounding aside.
    fn says(&self, found: &Found) -> bool {
        let alike = |a: f64, b: f64| (a - b).abs() <= ROUNDING * a.abs().max(b.abs());
        match (found, self.found()) {
            (Found::Figures { demand, capacity }, Found::Figures { demand: d, capacity: c }) => {
                alike(*demand, d) && alike(*capacity, c)
            }
            (then, now) => *then == now,
        }
    }
}

/// Acceptances of `plan`, by index, that no finding of it fits any more: what they were given for is mended, gone, or
/// says something else by now. `assessment` must be of all states of `plan`.
pub fn lapsed(plan: &Plan, assessment: &Assessment) -> Vec<usize> {
    let fits = |acceptance: &Acceptance| {
        assessment.findings.iter().any(|finding| {
            finding.is_covered_by(acceptance)
                && acceptance.found.as_ref().is_none_or(|found| finding.says(found))
        })
    };
    (0..plan.accepted.len()).filter(|at| !fits(&plan.accepted[*at])).collect()
}

/// Acceptances of `plan` that do not record what their finding said, with what it says now: written by hand, say. A
/// change can be told only once that is recorded.
pub fn unrecorded(plan: &Plan, assessment: &Assessment) -> Vec<Acceptance> {
    let record = |acceptance: &Acceptance| {
        let finding = assessment.findings.iter().find(|finding| finding.is_covered_by(acceptance))?;
        Some(Acceptance { found: Some(finding.found()), ..acceptance.clone() })
    };
    plan.accepted.iter().filter(|acceptance| acceptance.found.is_none()).filter_map(record).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::trial::{figures_of, silent_check};
    use crate::checks::{Check, Judge, Subject};
    use crate::fixtures::{empty_plan, place};
    use crate::text;
    use crate::units::{Quantity, Text};

    static CHECK: Check = silent_check();

    fn plan_of(found: Option<Found>) -> Plan {
        let mut plan = empty_plan(3);
        place(&mut plan, "S1", 40_000, (1, 1, 3_000));
        plan.accepted.push(Acceptance {
            check: CHECK.id.to_owned(),
            things: vec!["string S1".to_owned()],
            by: "A. Planner".to_owned(),
            why: "measured".to_owned(),
            at: "Monday".to_owned(),
            found,
        });
        plan
    }

    /// Whether an acceptance of `found` covers what is told, and whether it has lapsed.
    fn judged(found: Option<Found>, tell: impl FnOnce(&mut Judge<'_>)) -> (bool, bool) {
        let figures = figures_of(plan_of(found));
        let mut judge = Judge::new(&CHECK, &figures);
        tell(&mut judge);
        let findings = judge.findings();
        let covered = findings.iter().any(|finding| finding.accepted == Some(0));
        let lapsed =
            lapsed(&figures.plan, &Assessment { findings, state_uses: Vec::new(), by_state: Vec::new() });
        (covered, !lapsed.is_empty())
    }

    fn check_ratio(accepted: (f64, f64), now: (f64, f64), expected: (bool, bool)) {
        let found = Found::Figures { demand: accepted.0, capacity: accepted.1 };
        let tell = |judge: &mut Judge<'_>| {
            judge.at_most(None, Subject::String(0), Quantity::ratio(now.0), now.1);
        };
        assert_eq!(judged(Some(found), tell), expected, "{accepted:?} {now:?}");
    }

    #[test]
    fn an_acceptance_covers_what_is_no_worse_and_lapses_with_any_change_beyond_rounding() {
        check_ratio((1.31, 1.25), (1.31, 1.25), (true, false));
        check_ratio((1.31, 1.25), (1.310_001, 1.25), (true, false));
        check_ratio((1.31, 1.25), (1.310_01, 1.25), (false, true));
        check_ratio((1.31, 1.25), (1.30, 1.25), (true, true));
        check_ratio((1.31, 1.25), (1.31, 1.30), (true, true));
        check_ratio((1.31, 1.25), (1.31, 1.20), (false, true));
        check_ratio((1.31, 1.25), (1.20, 1.25), (false, true));
    }

    #[test]
    fn beyond_measure_the_demand_alone_tells() {
        let overhang = |then: f64, now: f64| {
            judged(Some(Found::Figures { demand: then, capacity: 0.5 }), |judge| {
                judge.at_least(None, Subject::String(0), Quantity::length_m(now), 0.5);
            })
        };
        assert_eq!(overhang(-0.2, -0.2), (true, false));
        assert_eq!(overhang(-0.2, -0.1), (true, true));
        assert_eq!(overhang(-0.2, -0.3), (false, true));
        assert_eq!(overhang(0.2, -0.3), (false, true));
        assert_eq!(overhang(-0.3, 0.2), (true, true));
    }

    #[test]
    fn words_must_be_the_same_words() {
        let told = |words: &'static str| {
            judged(Some(Found::Words("held nowhere".to_owned())), move |judge| {
                judge.fail(None, Subject::String(0), text![words], Text::default());
            })
        };
        assert_eq!(told("held nowhere"), (true, false));
        assert_eq!(told("held twice"), (false, true));
    }

    #[test]
    fn without_a_record_it_holds_until_the_finding_is_gone_and_can_be_recorded() {
        let fail =
            |judge: &mut Judge<'_>| judge.fail(None, Subject::String(0), text!["broken"], Text::default());
        assert_eq!(judged(None, fail), (true, false));
        assert_eq!(judged(None, |judge| judge.pass(None, Subject::String(0), text!["sound"])), (false, true));
        let figures = figures_of(plan_of(None));
        let mut judge = Judge::new(&CHECK, &figures);
        fail(&mut judge);
        let assessment =
            Assessment { findings: judge.findings(), state_uses: Vec::new(), by_state: Vec::new() };
        let recorded = unrecorded(&figures.plan, &assessment);
        assert_eq!(recorded, [plan_of(Some(Found::Words("broken".to_owned()))).accepted[0].clone()]);
    }

    #[test]
    fn what_has_no_end_is_kept_in_words() {
        let figures = figures_of(plan_of(None));
        let mut judge = Judge::new(&CHECK, &figures);
        judge.at_most(None, Subject::String(0), Quantity::ratio(f64::INFINITY), 1.25);
        assert!(matches!(judge.findings()[0].found(), Found::Words(words) if words.contains("string S1")));
    }
}
