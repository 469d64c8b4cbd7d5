//! For the checks' own tests: runs one check on a plan.

use super::{Check, Finding, Judge, Outcome};
use crate::model::Plan;
use crate::statics::{Figures, Scope};
use crate::units::Style;
use std::sync::Arc;

/// The figures of `plan` in all its states.
pub(crate) fn figures_of(plan: Plan) -> Figures {
    Figures::of(Arc::new(plan), Scope::All)
}

/// What `check` finds in `plan`, in all its states.
pub(crate) fn findings_of(check: &'static Check, plan: Plan) -> Vec<Finding> {
    let figures = figures_of(plan);
    let mut judge = Judge::new(check, &figures);
    (check.run)(&mut judge);
    judge.findings()
}

/// Compares what `check` finds in `plan` with `expected`: outcome and things of each finding, in any order.
///
/// The tightest pass is left out of the comparison; where nothing else is expected it must be there.
pub(crate) fn expect(check: &'static Check, plan: Plan, expected: &[(Outcome, &str)]) -> Vec<Finding> {
    let findings = findings_of(check, plan);
    let mut found: Vec<(Outcome, String)> = findings
        .iter()
        .filter(|finding| finding.outcome != Outcome::Pass)
        .map(|finding| (finding.outcome, finding.things.join(", ")))
        .collect();
    let mut wanted: Vec<(Outcome, String)> =
        expected.iter().map(|(outcome, things)| (*outcome, (*things).to_owned())).collect();
    found.sort();
    wanted.sort();
    let words: Vec<String> = findings.iter().map(|finding| finding.what.show(Style::default())).collect();
    assert_eq!(found, wanted, "{}: {words:#?}", check.id);
    assert!(!findings.is_empty(), "{} says nothing", check.id);
    findings
}

/// The first finding's words, in metric units.
pub(crate) fn words(findings: &[Finding]) -> String {
    findings.first().map(|finding| finding.what.show(Style::default())).unwrap_or_default()
}

/// A check that looks at nothing.
pub(crate) const fn silent_check() -> Check {
    fn silent(_: &mut Judge<'_>) {}
    Check {
        id: "silent",
        title: "Silent",
        what: "Nothing.",
        why: "A test needs a check.",
        mend: "mend it",
        source: "common practice, no source",
        run: silent,
    }
}
