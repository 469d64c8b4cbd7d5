//! The cells of a row by what they hold.

use super::fate::{Asks, Refusal, shortened};
use super::field::{Measure, Need};
use super::header::same;
use super::matching::Matching;
use crate::format::{Table, TableCell, TableLine};
use crate::units::{Length, Quantity, Style};

/// A row of a table, read through the matching of its columns.
#[derive(Clone, Copy)]
pub(super) struct Cells<'a> {
    pub(super) line: &'a TableLine,
    matching: &'a Matching,
}

/// Words that stand for a value in a cell.
pub(super) type Spellings<T> = [(T, &'static [&'static str])];

/// Spellings of yes and no.
pub(super) const YES_NO: &Spellings<bool> =
    &[(true, &["yes", "y", "true", "1", "x"]), (false, &["no", "n", "false", "0", "-"])];

impl<'a> Cells<'a> {
    pub(super) fn new(line: &'a TableLine, matching: &'a Matching) -> Self {
        Self { line, matching }
    }

    /// Refuses a row with more cells than its headers, or without headers than there are fields.
    pub(super) fn expect_width(self, table: &Table) -> Result<(), Refusal> {
        let (most, of) = match self.matching.header.and_then(|header| table.lines.get(header)) {
            Some(header) => (header.width, "headers"),
            None => (self.matching.columns.len(), "columns that can be read"),
        };
        let count = self.line.cells.len();
        if count <= most {
            return Ok(());
        }
        Err(Refusal::row(format!(
            "it has {count} cells, and there are {most} {of}; put quotes round a cell that holds a {}",
            table.separator
        )))
    }

    /// Whether the row repeats the headers.
    pub(super) fn are_headers_again(self, table: &Table) -> bool {
        let header = self.matching.header.and_then(|header| table.lines.get(header));
        header.is_some_and(|header| {
            let pairs = header.cells.iter().zip(&self.line.cells);
            header.cells.len() == self.line.cells.len()
                && pairs.into_iter().all(|(a, b)| same(&a.text, &b.text))
        })
    }

    fn cell(self, key: &str) -> Option<&'a TableCell> {
        let column = self.matching.of_key(key)?.column?;
        self.line.cells.get(column).filter(|cell| !cell.is_empty())
    }

    /// What stands in the cells of all fields, as written.
    pub(super) fn written(self) -> Vec<String> {
        let cell = |column: Option<usize>| self.line.cells.get(column?).map(|cell| cell.text.clone());
        self.matching.columns.iter().map(|matched| cell(matched.column).unwrap_or_default()).collect()
    }

    /// The words of a field; none where nothing stands there.
    pub(super) fn words(self, key: &'static str) -> Result<Option<&'a str>, Refusal> {
        let Some(cell) = self.cell(key) else { return Ok(None) };
        if cell.is_formula {
            let why = "a formula stands there instead of its result; copy the values, or save them as CSV";
            return Err(Refusal::of(self.title(key), &cell.text, why));
        }
        Ok(Some(&cell.text))
    }

    /// The words of a field that must be there.
    pub(super) fn said(self, key: &'static str) -> Result<&'a str, Refusal> {
        self.words(key)?.ok_or_else(|| self.missing(key))
    }

    /// The refusal of a row that does not say what it must.
    pub(super) fn missing(self, key: &'static str) -> Refusal {
        let column = self.matching.of_key(key).and_then(|matched| matched.column);
        if column.is_some() {
            return Refusal::of(self.title(key), "", "it is empty; a new row must say it");
        }
        let lacking = self.matching.columns.iter().filter(|matched| {
            matched.column.is_none() && matched.field.need != Need::Never && matched.field.key != key
        });
        let others: Vec<&str> = lacking.map(|matched| matched.field.title).collect();
        let why = match others.as_slice() {
            [] => "no column holds it; say which does".to_owned(),
            others => format!("no column holds it, nor {}; say which do", others.join(", ")),
        };
        Refusal::of(self.title(key), "", why).asking(Some(Asks::Column))
    }

    /// The number of a field in the unit of its measure, zero or below too.
    pub(super) fn number(self, key: &'static str) -> Result<Option<f64>, Refusal> {
        let Some(words) = self.words(key)? else { return Ok(None) };
        let Some(matched) = self.matching.of_key(key) else { return Ok(None) };
        let read = self.matching.numbers.quantity(words, matched.field.measure, matched.unit);
        read.map(Some).map_err(|no| self.refused(key, no.why).asking(no.asks))
    }

    /// The number of a field, above zero and not above any plan's.
    pub(super) fn positive(self, key: &'static str) -> Result<Option<f64>, Refusal> {
        match self.number(key)? {
            Some(number) if number < SMALLEST => Err(self.refused(key, "it must be above zero")),
            Some(number) if number > LARGEST => Err(self.refused(key, "it is too large to be meant")),
            number => Ok(number),
        }
    }

    /// The value that the words of a field stand for.
    pub(super) fn choice<T: Copy>(
        self,
        key: &'static str,
        spellings: &Spellings<T>,
    ) -> Result<Option<T>, Refusal> {
        let Some(words) = self.words(key)? else { return Ok(None) };
        let found = spellings.iter().find(|(_, names)| names.iter().any(|name| same(name, words)));
        match found {
            Some((value, _)) => Ok(Some(*value)),
            None => {
                let known: Vec<&str> =
                    spellings.iter().filter_map(|(_, names)| names.first().copied()).collect();
                Err(self.refused(key, format!("write {}", known.join(" or "))))
            }
        }
    }

    /// The refusal of what stands in a field.
    pub(super) fn refused(self, key: &'static str, why: impl Into<String>) -> Refusal {
        let text = self.cell(key).map_or("", |cell| cell.text.as_str());
        Refusal::of(self.title(key), text, why)
    }

    fn title(self, key: &'static str) -> &'static str {
        self.matching.of_key(key).map_or(key, |matched| matched.field.title)
    }
}

/// What stands in the first cell of a line that says something.
pub(super) fn first_words(line: &TableLine) -> String {
    let cell = line.cells.iter().find(|cell| !cell.is_empty());
    cell.map(|cell| shortened(&cell.text)).unwrap_or_default()
}

/// As in the plan's own rules: far enough from zero that its inverse is a number.
const SMALLEST: f64 = 1.0e-9;
/// The largest number of a plan.
const LARGEST: f64 = 1.0e12;

/// What a row says of a field: as shown, and so exactly that two values that differ are told apart.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Told {
    pub(super) shown: String,
    pub(super) exact: String,
}

impl Told {
    /// Words, or none.
    pub(super) fn words(words: Option<&str>) -> Self {
        let words = words.unwrap_or_default().to_owned();
        Self { shown: words.clone(), exact: words }
    }

    /// A length.
    pub(super) fn length(length: Length, style: Style) -> Self {
        Self { shown: Quantity::length(length).show(style), exact: format!("{} mm", length.mm()) }
    }

    /// A mass, or none.
    pub(super) fn mass(kg: Option<f64>, style: Style) -> Self {
        let shown = kg.map(|kg| Quantity::mass(kg).show(style)).unwrap_or_default();
        Self { shown, exact: kg.map(|kg| format!("{kg} kg")).unwrap_or_default() }
    }

    /// A number of a section, in the unit of its measure, or none.
    pub(super) fn number(number: Option<f64>, measure: Measure, style: Style) -> Self {
        let Some(number) = number else { return Self::default() };
        let unit = measure.units().first().map_or("", |unit| unit.sign);
        let digits = style.decimal.written(&number.to_string());
        Self { shown: format!("{digits} {unit}"), exact: number.to_string() }
    }
}
