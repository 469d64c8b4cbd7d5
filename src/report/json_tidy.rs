//! What making a plan file tidy changes, as JSON; `JSON.md` describes every field.

use super::json_common::{JsonError, print};
use super::tidy_text::change_words;
use crate::format::{Tidied, TidyChange};
use serde::Serialize;

/// What making a file tidy changes, as one JSON object; `label` says which plan, as its reader knows it.
///
/// # Errors
/// [`JsonError`] where the text cannot be written.
pub fn tidy_json(
    label: &str,
    tidied: &Tidied,
    saved: Option<&str>,
    exit_code: u8,
) -> Result<String, JsonError> {
    print(&TidyDocument {
        shape: "longstow tidy 1",
        file: label,
        title: &tidied.plan.title,
        tidy: tidied.changes.is_empty(),
        changes: tidied.changes.iter().map(ChangeRow::of).collect(),
        saved,
        exit_code,
    })
}

#[derive(Serialize)]
struct TidyDocument<'a> {
    shape: &'static str,
    file: &'a str,
    title: &'a str,
    tidy: bool,
    changes: Vec<ChangeRow>,
    saved: Option<&'a str>,
    exit_code: u8,
}

#[derive(Serialize)]
struct ChangeRow {
    what: &'static str,
    count: usize,
    words: String,
}

impl ChangeRow {
    fn of(change: &TidyChange) -> Self {
        let (what, count) = match change {
            TidyChange::Comments { lines } => ("comments", lines.len()),
            TidyChange::Mark => ("byte order mark", 1),
            TidyChange::LineEnds => ("line ends", 1),
            TidyChange::Wrapped { paths } => ("wrapped", paths.len()),
            TidyChange::Named { paths } => ("named", paths.len()),
            TidyChange::Order { paths } => ("order", paths.len()),
            TidyChange::LeftOut { paths } => ("left out", paths.len()),
            TidyChange::Added { paths } => ("added", paths.len()),
            TidyChange::Values { values } => ("values", values.len()),
            TidyChange::Layout => ("layout", 1),
        };
        Self { what, count, words: change_words(change) }
    }
}
