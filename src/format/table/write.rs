//! Writing a table, so that a spreadsheet opens it and reckons with nothing but its numbers.

use super::Separator;
use super::cell::guarded;
use crate::units::DecimalMark;
use csv::{QuoteStyle, Terminator, WriterBuilder};

/// A cell to be written.
#[derive(Clone, Debug, PartialEq)]
pub enum OutCell {
    /// Words; guarded where a spreadsheet would take them for a formula.
    Words(String),
    /// A number, written with at most six decimals; one that is not finite leaves its cell empty.
    Number(f64),
    /// Nothing.
    Empty,
}

impl OutCell {
    /// Words.
    pub fn words(words: impl ToString) -> Self {
        Self::Words(words.to_string())
    }

    /// A number, or nothing.
    pub fn some(number: Option<f64>) -> Self {
        number.map_or(Self::Empty, Self::Number)
    }
}

/// How a table is written.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct TableForm {
    /// What parts the cells.
    pub separator: Separator,
    /// The decimal mark of numbers.
    pub decimal: DecimalMark,
}

impl TableForm {
    /// The form that spreadsheets expect where numbers are written with this decimal mark: with a comma, cells are
    /// parted by semicolons.
    pub fn with_decimal(decimal: DecimalMark) -> Self {
        let separator = match decimal {
            DecimalMark::Point => Separator::Comma,
            DecimalMark::Comma => Separator::Semicolon,
        };
        Self { separator, decimal }
    }
}

/// The text of a table, its header first: UTF-8, a line for each row, ended by LF, quotes where they are needed.
pub fn write_table(header: &[String], rows: &[Vec<OutCell>], form: TableForm) -> String {
    let mut writer = WriterBuilder::new()
        .delimiter(form.separator.sign() as u8)
        .quote_style(QuoteStyle::Necessary)
        .terminator(Terminator::Any(b'\n'))
        .flexible(true)
        .from_writer(Vec::new());
    let header = header.iter().map(|title| guarded(title)).collect::<Vec<_>>();
    // Writing to memory cannot fail.
    let mut _written = writer.write_record(&header);
    for row in rows {
        _written = writer.write_record(row.iter().map(|cell| cell_text(cell, form.decimal)));
    }
    let bytes = writer.into_inner().unwrap_or_default();
    String::from_utf8_lossy(&bytes).into_owned()
}

fn cell_text(cell: &OutCell, decimal: DecimalMark) -> String {
    match cell {
        OutCell::Words(words) => guarded(words),
        OutCell::Number(number) if number.is_finite() => number_text(*number, decimal),
        OutCell::Number(_) | OutCell::Empty => String::new(),
    }
}

/// At most six decimals, without needless zeros; three decimals get a fourth, since `1.234` may mean 1234 to a reader.
fn number_text(number: f64, decimal: DecimalMark) -> String {
    let digits = format!("{number:.6}");
    let short = digits.trim_end_matches('0').trim_end_matches('.');
    let mut short = if short == "-0" { "0".to_owned() } else { short.to_owned() };
    if short.split_once('.').is_some_and(|(_, decimals)| decimals.len() == 3) {
        short.push('0');
    }
    decimal.written(&short)
}

#[cfg(test)]
mod tests {
    use super::super::{Parting, read_table};
    use super::*;

    fn check(cell: OutCell, form: TableForm, expected: &str) {
        assert_eq!(write_table(&["x".to_owned()], &[vec![cell]], form), format!("x\n{expected}\n"));
    }

    #[test]
    fn numbers_are_short_and_cannot_be_misread() {
        let point = TableForm::default();
        let comma = TableForm::with_decimal(DecimalMark::Comma);
        check(OutCell::Number(108.0), point, "108");
        check(OutCell::Number(107.5), comma, "107,5");
        check(OutCell::Number(107.125), point, "107.1250");
        check(OutCell::Number(-0.000_000_1), point, "0");
        check(OutCell::Number(-12.25), point, "-12.25");
        check(OutCell::Number(f64::INFINITY), point, "\"\"");
        check(OutCell::Number(1.5), TableForm { separator: Separator::Comma, ..comma }, "\"1,5\"");
    }

    #[test]
    fn words_read_back_as_they_were() {
        let words = ["=1+1", "'x", "a;b,c", "two\nlines", "6\" 3'", "-12", "\u{5d0}\u{1f684}", "sep=;"];
        for form in [TableForm::default(), TableForm::with_decimal(DecimalMark::Comma)] {
            let rows: Vec<Vec<OutCell>> =
                words.iter().map(|words| vec![OutCell::words("x"), OutCell::words(words)]).collect();
            let text = write_table(&["a".to_owned(), "b".to_owned()], &rows, form);
            let table = read_table(text.as_bytes(), Parting::AsFound).unwrap();
            let back: Vec<&str> = table.lines[1..].iter().map(|line| line.cells[1].text.as_str()).collect();
            assert_eq!(back, words);
        }
    }
}
