//! What becomes of a table that is taken in, as JSON; `JSON.md` describes every field.

use super::json_common::{JsonError, print};
use crate::format::Table;
use crate::intake::{Fate, Intake, Outcome, RowFate, column_words};
use crate::model::Plan;
use crate::units::DecimalMark;
use serde::Serialize;

/// What was done with a table.
#[derive(Clone, Copy, Debug)]
pub struct IntakeEnd<'a> {
    /// The file that was saved; none: nothing was.
    pub saved: Option<&'a str>,
    /// How the command ends.
    pub exit_code: u8,
}

/// The fate of every line of a table as one JSON object; `labels` name the plan and the table.
///
/// # Errors
/// [`JsonError`] where the text cannot be written.
pub fn intake_json(
    (plan_label, table_label): (&str, &str),
    plan: &Plan,
    (table, intake): (&Table, &Intake),
    end: IntakeEnd<'_>,
) -> Result<String, JsonError> {
    let matching = &intake.matching;
    let counts = intake.counts();
    let words = |column: usize| column_words(table, matching, column);
    let columns = matching.columns.iter().map(|matched| ColumnRow {
        field: matched.field.key,
        column: matched.column.map(words),
        unit: matched.unit.map(|unit| unit.sign),
    });
    print(&IntakeDocument {
        shape: "longstow order 1",
        file: plan_label,
        title: &plan.title,
        table: table_label,
        encoding: table.encoding.to_string(),
        separator: table.separator.to_string(),
        decimal: matching.decimal().map(|mark| match mark {
            DecimalMark::Point => "point",
            DecimalMark::Comma => "comma",
        }),
        header_line: matching.header.and_then(|header| Some(table.lines.get(header)?.number)),
        columns: columns.collect(),
        unused: intake.unused.iter().copied().map(words).collect(),
        rows: intake.rows.iter().map(Row::of).collect(),
        new: counts.new,
        changed: counts.changed,
        unchanged: counts.unchanged,
        refused: counts.refused,
        skipped: counts.skipped,
        obstacle: match &intake.outcome {
            Outcome::Obstacle(why) => Some(why),
            _ => None,
        },
        saved: end.saved,
        exit_code: end.exit_code,
    })
}

#[derive(Serialize)]
struct IntakeDocument<'a> {
    shape: &'static str,
    file: &'a str,
    title: &'a str,
    table: &'a str,
    encoding: String,
    separator: String,
    decimal: Option<&'static str>,
    header_line: Option<usize>,
    columns: Vec<ColumnRow>,
    unused: Vec<String>,
    rows: Vec<Row<'a>>,
    new: usize,
    changed: usize,
    unchanged: usize,
    refused: usize,
    skipped: usize,
    obstacle: Option<&'a str>,
    saved: Option<&'a str>,
    exit_code: u8,
}

#[derive(Serialize)]
struct ColumnRow {
    field: &'static str,
    column: Option<String>,
    unit: Option<&'static str>,
}

#[derive(Serialize)]
struct Row<'a> {
    line: usize,
    row: &'a str,
    fate: &'static str,
    words: String,
    changes: Vec<ChangeRow<'a>>,
    notes: &'a [String],
}

#[derive(Serialize)]
struct ChangeRow<'a> {
    what: &'static str,
    from: &'a str,
    to: &'a str,
}

impl<'a> Row<'a> {
    fn of(row: &'a RowFate) -> Self {
        let changes = match &row.fate {
            Fate::Update(changes) => changes.as_slice(),
            _ => &[],
        };
        Self {
            line: row.line,
            row: &row.name,
            fate: row.fate.word(),
            words: row.words(),
            changes: changes
                .iter()
                .map(|change| ChangeRow { what: change.what, from: &change.from, to: &change.to })
                .collect(),
            notes: &row.notes,
        }
    }
}
