//! For the tests: mends of a plan's finding, each put to the proof.

use super::{Mend, mends};
use crate::checks::{Assessment, Finding, Outcome, assess};
use crate::model::Plan;
use crate::statics::{Figures, Scope};
use crate::units::Style;
use std::sync::Arc;

/// The sample whose file begins with `letter`.
pub(super) fn sample(letter: char) -> Plan {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-loads");
    let mut files = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let path = files.find(|path| path.file_name().unwrap().to_string_lossy().starts_with(letter)).unwrap();
    crate::format::read(&std::fs::read(path).unwrap()).unwrap()
}

/// A plan worked out.
pub(super) fn worked(plan: Plan) -> (Figures, Assessment) {
    let figures = Figures::of(Arc::new(plan), Scope::All);
    let assessment = assess(&figures);
    (figures, assessment)
}

/// What is open, as check and things.
fn open(assessment: &Assessment) -> Vec<(&'static str, Vec<String>)> {
    let open = assessment.findings.iter().filter(|f| matches!(f.outcome, Outcome::Fail | Outcome::Undecided));
    open.map(|finding| (finding.check.id, finding.things.clone())).collect()
}

/// The mends of the first finding of `check` at `things` (the end of them joined by commas), each proved: made on
/// the plan, the finding is gone, and what it breaks is just what it says.
pub(super) fn offered(plan: Plan, check: &str, things: &str) -> Vec<Mend> {
    let (figures, assessment) = worked(plan);
    let is_it = |finding: &&Finding| finding.check.id == check && finding.things.join(", ").ends_with(things);
    let finding =
        assessment.findings.iter().find(is_it).unwrap_or_else(|| panic!("{:#?}", open(&assessment)));
    let found = mends(&figures, &assessment, finding, |_, _| true);
    assert_eq!(found, mends(&figures, &assessment, finding, |_, _| true), "the same every time");
    let before = open(&assessment);
    for mend in &found {
        let after = worked(mend.edit.apply(&figures.plan).unwrap().plan).1;
        let gone = after.findings.iter().filter(|f| f.check.id == check && f.things == finding.things);
        let line = mend.line(Style::default());
        assert!(gone.min_by_key(|f| f.outcome).is_none_or(|f| f.outcome > Outcome::Undecided), "{line}");
        let broken = open(&after).into_iter().filter(|thing| !before.contains(thing)).count();
        assert_eq!(broken, mend.effect.broken.len(), "{line}");
    }
    found
}

/// The lines of mends, in metric units.
pub(super) fn lines(mends: &[Mend]) -> Vec<String> {
    mends.iter().map(|mend| mend.line(Style::default())).collect()
}
