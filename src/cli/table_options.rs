//! The options of tables for a spreadsheet, and of files to print into, the same for all commands that have them.

use super::args::UsageError;
use crate::format::{Separator, TableForm};
use crate::report::FiguresTable;
use crate::units::DecimalMark;
use std::ffi::OsString;
use std::path::PathBuf;

/// What was said about tables for a spreadsheet.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct TableOptions {
    /// A table is wanted instead of text.
    pub(super) csv: bool,
    /// Which one, where there are several.
    pub(super) figures: Option<FiguresTable>,
    pub(super) decimal: Option<DecimalMark>,
    pub(super) separator: Option<Separator>,
    /// The file to print into; none: standard output.
    pub(super) out: Option<PathBuf>,
}

impl TableOptions {
    /// The decimal mark of numbers.
    pub(super) fn decimal(&self) -> DecimalMark {
        self.decimal.unwrap_or_default()
    }

    /// How the table is written; with a decimal comma cells are parted by semicolons unless it was said otherwise.
    pub(super) fn form(&self) -> TableForm {
        let form = TableForm::with_decimal(self.decimal());
        TableForm { separator: self.separator.unwrap_or(form.separator), ..form }
    }

    /// Whether a form was said that only tables have.
    pub(super) fn says_form(&self) -> bool {
        self.decimal.is_some() || self.separator.is_some()
    }
}

/// `--csv` of the figures.
pub(super) fn figures_named(value: OsString) -> Result<FiguresTable, UsageError> {
    match value.to_str() {
        Some("vehicles") => Ok(FiguresTable::Vehicles),
        Some("racks") => Ok(FiguresTable::Racks),
        Some("strings") => Ok(FiguresTable::Strings),
        _ => Err(bad(value, "--csv", "vehicles, racks or strings")),
    }
}

/// `--decimal`.
pub(super) fn decimal_named(value: OsString) -> Result<DecimalMark, UsageError> {
    match value.to_str() {
        Some("point" | ".") => Ok(DecimalMark::Point),
        Some("comma" | ",") => Ok(DecimalMark::Comma),
        _ => Err(bad(value, "--decimal", "point or comma")),
    }
}

/// `--separator`.
pub(super) fn separator_named(value: OsString) -> Result<Separator, UsageError> {
    match value.to_str() {
        Some("comma" | ",") => Ok(Separator::Comma),
        Some("semicolon" | ";") => Ok(Separator::Semicolon),
        Some("tab" | "\t") => Ok(Separator::Tab),
        _ => Err(bad(value, "--separator", "comma, semicolon or tab")),
    }
}

pub(super) fn bad(value: OsString, option: &'static str, takes: &'static str) -> UsageError {
    UsageError::BadValue { value: value.to_string_lossy().into_owned(), option, takes }
}
