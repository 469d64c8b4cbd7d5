//! A comparison of two plans or two states as JSON; `JSON.md` describes every field.

use super::compare_rows::change_words;
use super::compare_text::Compared;
use super::finding_text::si_unit;
use super::json_common::{JsonError, print};
use super::verdict::exit_code;
use crate::planning::difference::{
    Change, Difference, FigureChange, FigureReading, FindingChange, FindingSide,
};
use crate::statics::Figures;
use crate::units::Style;
use serde::Serialize;

/// What differs between two sides, as one JSON object.
///
/// # Errors
/// [`JsonError`] where the text cannot be written.
pub fn compare_json(
    difference: &Difference,
    (before, after): (&Compared<'_>, &Compared<'_>),
    exit_code: u8,
) -> Result<String, JsonError> {
    print(&CompareDocument {
        shape: "longstow compare 1",
        exit_code,
        before: SideBlock::of(before),
        after: SideBlock::of(after),
        changes: difference.changes.iter().map(ChangeRow::of).collect(),
        findings: difference.findings.iter().map(FindingRow::of).collect(),
        figures: difference.figures.iter().map(FigureRow::of).collect(),
    })
}

#[derive(Serialize)]
struct CompareDocument<'a> {
    shape: &'static str,
    exit_code: u8,
    before: SideBlock<'a>,
    after: SideBlock<'a>,
    changes: Vec<ChangeRow>,
    findings: Vec<FindingRow<'a>>,
    figures: Vec<FigureRow>,
}

#[derive(Serialize)]
struct SideBlock<'a> {
    file: &'a str,
    title: &'a str,
    /// Null where all states were looked at.
    state: Option<usize>,
    state_title: Option<String>,
    states: usize,
    check_exit_code: u8,
}

impl<'a> SideBlock<'a> {
    fn of(compared: &Compared<'a>) -> Self {
        let figures = compared.side.figures;
        let state = only_state(figures);
        let title = state.and_then(|state| figures.states.get(state)).map(|state| state.title(&figures.plan));
        Self {
            file: compared.label,
            title: &figures.plan.title,
            state,
            state_title: title,
            states: figures.states.len(),
            check_exit_code: exit_code(compared.side.assessment.verdict()),
        }
    }
}

/// The state that was worked out alone.
fn only_state(figures: &Figures) -> Option<usize> {
    match figures.worked.as_slice() {
        [only] if figures.states.len() > 1 => Some(only.state),
        _ => None,
    }
}

#[derive(Serialize)]
struct ChangeRow {
    topic: String,
    thing: String,
    aspect: String,
    kind: &'static str,
    before: Option<String>,
    after: Option<String>,
    by: Option<f64>,
    unit: Option<&'static str>,
}

impl ChangeRow {
    fn of(change: &Change) -> Self {
        let shown = change_words(change, Style::default());
        Self {
            topic: change.topic.title().to_lowercase(),
            thing: change.thing.name(),
            aspect: change.aspect.clone(),
            kind: change.kind().word(),
            before: change.before.as_ref().map(|_| shown.before),
            after: change.after.as_ref().map(|_| shown.after),
            by: change.by.map(|by| by.value),
            unit: change.by.map(|by| si_unit(by.kind)),
        }
    }
}

#[derive(Serialize)]
struct FindingRow<'a> {
    check: &'static str,
    title: &'static str,
    things: &'a [String],
    turn: &'static str,
    before: FindingBlock,
    after: FindingBlock,
}

impl<'a> FindingRow<'a> {
    fn of(change: &'a FindingChange) -> Self {
        Self {
            check: change.check.id,
            title: change.check.title,
            things: &change.things,
            turn: change.turn.words(),
            before: FindingBlock::of(&change.before),
            after: FindingBlock::of(&change.after),
        }
    }
}

#[derive(Serialize)]
struct FindingBlock {
    outcome: Option<&'static str>,
    what: Option<String>,
    demand: Option<f64>,
    capacity: Option<f64>,
    unit: Option<&'static str>,
    used: Option<f64>,
    state: Option<usize>,
    accepted: bool,
}

impl FindingBlock {
    fn of(side: &FindingSide) -> Self {
        let finding = side.finding.as_ref();
        let compared = finding.and_then(|finding| finding.comparison);
        Self {
            outcome: side.outcome.map(|outcome| outcome.word()),
            what: finding.map(|finding| finding.what.show(Style::default())),
            demand: compared.map(|compared| compared.demand.value).and_then(finite),
            capacity: compared.map(|compared| compared.capacity.value).and_then(finite),
            unit: compared.map(|compared| si_unit(compared.demand.kind)),
            used: side.used().and_then(finite),
            state: finding.and_then(|finding| finding.state),
            accepted: finding.is_some_and(|finding| finding.accepted.is_some()),
        }
    }
}

#[derive(Serialize)]
struct FigureRow {
    figure: &'static str,
    place: String,
    unit: Option<&'static str>,
    before: Option<ReadingBlock>,
    after: Option<ReadingBlock>,
    by: Option<f64>,
}

impl FigureRow {
    fn of(change: &FigureChange) -> Self {
        let kind = change.after.or(change.before).map(|reading| reading.value.kind);
        Self {
            figure: change.kind.title(),
            place: change.place.name(),
            unit: kind.map(si_unit),
            before: change.before.map(ReadingBlock::of),
            after: change.after.map(ReadingBlock::of),
            by: change.by().map(|by| by.value).and_then(finite),
        }
    }
}

#[derive(Serialize)]
struct ReadingBlock {
    value: Option<f64>,
    capacity: Option<f64>,
    used: Option<f64>,
    state: usize,
}

impl ReadingBlock {
    fn of(reading: FigureReading) -> Self {
        Self {
            value: finite(reading.value.value),
            capacity: reading.capacity,
            used: reading.used().and_then(finite),
            state: reading.state,
        }
    }
}

fn finite(value: f64) -> Option<f64> {
    value.is_finite().then_some(value)
}
