//! The check of a plan as JSON; `JSON.md` describes every field.

use super::LEVEL_RIGID;
use super::finding_text::si_unit;
use super::json_common::{JsonError, StateHead, print};
use super::json_loaded::{LoadBlock, SignatureRow};
use super::records::Records;
use super::verdict::{cautions, exit_code, verdict_line};
use crate::checks::{Assessment, Finding, Outcome, Sense, Verdict};
use crate::statics::Figures;
use crate::units::{Quantity, Style};
use serde::Serialize;

/// The check of a plan as one JSON object; `label` says which plan, as its reader knows it.
///
/// All findings are in it, passes and not asked ones too; values are SI, texts metric.
///
/// # Errors
/// [`JsonError`] where the text cannot be written.
pub fn check_json(label: &str, figures: &Figures, assessment: &Assessment) -> Result<String, JsonError> {
    check_json_with(label, figures, assessment, &Records::default())
}

/// The same, telling which load was judged and who signed.
///
/// # Errors
/// As [`check_json`].
pub fn check_json_with(
    label: &str,
    figures: &Figures,
    assessment: &Assessment,
    records: &Records,
) -> Result<String, JsonError> {
    let place = |wanted: Option<&Finding>| {
        wanted.and_then(|wanted| assessment.findings.iter().position(|f| std::ptr::eq(f, wanted)))
    };
    let verdict = assessment.verdict();
    print(&CheckDocument {
        shape: "longstow check 1",
        file: label,
        title: &figures.plan.title,
        model: LEVEL_RIGID,
        load: records.load.as_ref().map(LoadBlock::of),
        signatures: records.signatures.iter().map(SignatureRow::of).collect(),
        verdict: match verdict {
            Verdict::NothingOpen => "nothing open",
            Verdict::Fails => "fails",
            Verdict::Undecided => "undecided",
        },
        exit_code: exit_code(verdict),
        sentence: verdict_line(figures, assessment),
        counts: Counts::of(assessment),
        worst_finding: place(assessment.worst()),
        worst_state: assessment.worst_in_a_state().and_then(|finding| finding.state),
        states: judged(figures),
        findings: assessment.findings.iter().map(|finding| FindingRow::of(figures, finding)).collect(),
        cautions: cautions(),
    })
}

fn judged(figures: &Figures) -> Vec<StateHead> {
    let heads = figures.worked.iter().filter_map(|worked| {
        figures.states.get(worked.state).map(|state| StateHead::of(figures, worked.state, state))
    });
    heads.collect()
}

#[derive(Serialize)]
struct CheckDocument<'a> {
    shape: &'static str,
    file: &'a str,
    title: &'a str,
    model: &'static str,
    load: Option<LoadBlock>,
    signatures: Vec<SignatureRow<'a>>,
    verdict: &'static str,
    exit_code: u8,
    sentence: String,
    counts: Counts,
    worst_finding: Option<usize>,
    worst_state: Option<usize>,
    states: Vec<StateHead>,
    findings: Vec<FindingRow<'a>>,
    cautions: [&'static str; 4],
}

#[derive(Serialize)]
struct Counts {
    fail: usize,
    fail_accepted: usize,
    undecided: usize,
    near: usize,
    note: usize,
    pass: usize,
    not_applicable: usize,
    not_asked: usize,
}

impl Counts {
    fn of(assessment: &Assessment) -> Self {
        let accepted = |f: &&Finding| f.outcome == Outcome::Fail && !f.is_open();
        Self {
            fail: assessment.count(Outcome::Fail),
            fail_accepted: assessment.findings.iter().filter(accepted).count(),
            undecided: assessment.count(Outcome::Undecided),
            near: assessment.count(Outcome::Near),
            note: assessment.count(Outcome::Note),
            pass: assessment.count(Outcome::Pass),
            not_applicable: assessment.count(Outcome::NotApplicable),
            not_asked: assessment.count(Outcome::NotAsked),
        }
    }
}

#[derive(Serialize)]
struct FindingRow<'a> {
    check: &'static str,
    title: &'static str,
    outcome: &'static str,
    open: bool,
    things: &'a [String],
    what: String,
    demand: Option<Value>,
    capacity: Option<Value>,
    sense: Option<&'static str>,
    utilisation: Option<f64>,
    margin: Option<Value>,
    state: Option<usize>,
    state_title: Option<String>,
    states: &'a [usize],
    mend: String,
    rule_source: &'static str,
    limit_source: Option<&'a str>,
    accepted: Option<Accepted<'a>>,
}

#[derive(Serialize)]
struct Value {
    value: f64,
    unit: &'static str,
}

impl From<Quantity> for Value {
    fn from(quantity: Quantity) -> Self {
        Self { value: quantity.value, unit: si_unit(quantity.kind) }
    }
}

#[derive(Serialize)]
struct Accepted<'a> {
    by: &'a str,
    why: &'a str,
    at: &'a str,
}

impl<'a> FindingRow<'a> {
    fn of(figures: &'a Figures, finding: &'a Finding) -> Self {
        let compared = finding.comparison;
        let kept = finding.accepted.and_then(|index| figures.plan.accepted.get(index));
        let state = finding.state.and_then(|state| figures.states.get(state));
        Self {
            check: finding.check.id,
            title: finding.check.title,
            outcome: finding.outcome.word(),
            open: finding.is_open(),
            things: &finding.things,
            what: finding.what.show(Style::default()),
            demand: compared.map(|compared| compared.demand.into()),
            capacity: compared.map(|compared| compared.capacity.into()),
            sense: compared.map(|compared| match compared.sense {
                Sense::AtMost => "at most",
                Sense::AtLeast => "at least",
            }),
            utilisation: compared.map(|compared| compared.utilisation()),
            margin: compared.map(|compared| compared.margin().into()),
            state: finding.state,
            state_title: state.map(|state| state.title(&figures.plan)),
            states: &finding.states,
            mend: finding.mend.show(Style::default()),
            rule_source: finding.check.source,
            limit_source: finding.limit_source.as_deref(),
            accepted: kept.map(|kept| Accepted { by: &kept.by, why: &kept.why, at: &kept.at }),
        }
    }
}
