//! The options of tables for a spreadsheet, and of files to print into, the same for all commands that have them.

use super::arguments::Arguments;
use super::usage::UsageError;
use crate::disk::Expected;
use crate::format::{Separator, TableForm};
use crate::report::FiguresTable;
use crate::units::DecimalMark;
use lexopt::Arg;
use std::ffi::OsString;
use std::path::PathBuf;

/// What was said about tables for a spreadsheet.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct TableOptions {
    /// A table is wanted instead of text.
    pub(super) csv: bool,
    /// Which one, where there are several.
    pub(super) figures: Option<FiguresTable>,
    decimal: Option<DecimalMark>,
    separator: Option<Separator>,
    /// The file to print into; none: standard output.
    pub(super) out: OutFile,
}

/// An option of tables.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum TableOption {
    Csv,
    Decimal,
    Separator,
    Out,
    Replace,
}

/// A file to print or save into.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct OutFile {
    /// Its path, where one was named.
    pub(super) path: Option<PathBuf>,
    /// Whether one that is there is replaced.
    pub(super) replace: bool,
}

impl OutFile {
    /// What may be at the path.
    pub(super) fn expected(&self) -> Expected {
        if self.replace { Expected::Anything } else { Expected::Nothing }
    }

    /// Refuses to replace a file where none is named.
    pub(super) fn expect_together(&self) -> Result<(), UsageError> {
        match (self.replace, &self.path) {
            (true, None) => Err(UsageError::NotTogether { what: "--replace belongs to -o FILE" }),
            _ => Ok(()),
        }
    }
}

impl TableOption {
    /// The option that an argument names.
    pub(super) fn of(arg: &Arg<'_>) -> Option<Self> {
        match arg {
            Arg::Long("csv") => Some(Self::Csv),
            Arg::Long("decimal") => Some(Self::Decimal),
            Arg::Long("separator") => Some(Self::Separator),
            Arg::Short('o') | Arg::Long("output") => Some(Self::Out),
            Arg::Long("replace") => Some(Self::Replace),
            _ => None,
        }
    }
}

impl TableOptions {
    /// Takes an option of the command `of`, with its value.
    pub(super) fn take(
        &mut self,
        option: TableOption,
        of: &str,
        arguments: &mut Arguments,
    ) -> Result<(), UsageError> {
        match option {
            TableOption::Csv => {
                self.csv = true;
                if of == "figures" {
                    self.figures = Some(figures_named(arguments.only("--csv")?)?);
                }
            }
            TableOption::Decimal => self.decimal = Some(decimal_named(arguments.only("--decimal")?)?),
            TableOption::Separator => self.separator = Some(separator_named(arguments.only("--separator")?)?),
            TableOption::Out => self.out.path = Some(arguments.file("-o")?),
            TableOption::Replace => self.out.replace = true,
        }
        Ok(())
    }

    /// The decimal mark of numbers.
    pub(super) fn decimal(&self) -> DecimalMark {
        self.decimal.unwrap_or_default()
    }

    /// How the table is written; with a decimal comma cells are parted by semicolons unless it was said otherwise.
    pub(super) fn form(&self) -> TableForm {
        let form = TableForm::with_decimal(self.decimal());
        TableForm { separator: self.separator.unwrap_or(form.separator), ..form }
    }

    /// Refuses options of tables where none is wanted, and of files where none is named.
    pub(super) fn expect_together(&self) -> Result<(), UsageError> {
        if (self.decimal.is_some() || self.separator.is_some()) && !self.csv {
            return Err(UsageError::NotTogether { what: "--decimal and --separator belong to --csv" });
        }
        self.out.expect_together()
    }
}

/// `--csv` of the figures.
fn figures_named(value: OsString) -> Result<FiguresTable, UsageError> {
    match value.to_str() {
        Some("vehicles") => Ok(FiguresTable::Vehicles),
        Some("racks") => Ok(FiguresTable::Racks),
        Some("strings") => Ok(FiguresTable::Strings),
        _ => Err(UsageError::bad(value, "--csv", "vehicles, racks or strings")),
    }
}

/// `--decimal`.
pub(super) fn decimal_named(value: OsString) -> Result<DecimalMark, UsageError> {
    match value.to_str() {
        Some("point" | ".") => Ok(DecimalMark::Point),
        Some("comma" | ",") => Ok(DecimalMark::Comma),
        _ => Err(UsageError::bad(value, "--decimal", "point or comma")),
    }
}

/// `--separator`.
pub(super) fn separator_named(value: OsString) -> Result<Separator, UsageError> {
    match value.to_str() {
        Some("comma" | ",") => Ok(Separator::Comma),
        Some("semicolon" | ";") => Ok(Separator::Semicolon),
        Some("tab" | "\t") => Ok(Separator::Tab),
        _ => Err(UsageError::bad(value, "--separator", "comma, semicolon or tab")),
    }
}
