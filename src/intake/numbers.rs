//! Numbers as spreadsheets write them: decimal point or comma, thousands parted or not, with or without a unit.
//!
//! `1,234` alone may be either 1.234 or 1234. It is read only where somebody said, or another number of the table
//! shows, which mark stands before decimals; else it is refused.

use super::fate::Asks;
use super::field::{Measure, Unit};
use crate::format::Separator;
use crate::units::{DecimalMark, UnitSystem, parse_length};

/// What is known about how a table writes its numbers.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Numbers {
    /// The decimal mark that somebody said.
    pub(super) said: Option<DecimalMark>,
    /// The only decimal mark that the table's own numbers show.
    pub(super) found: Option<DecimalMark>,
    /// Whether commas part the cells, so that a number with a point has it before its decimals.
    pub(super) parted_by_commas: bool,
    /// Whether that alone tells how one of them is meant: `1.234` where nothing else shows the mark.
    point_by_commas: bool,
}

/// Why a cell is no number.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct NoNumber {
    /// Why, and what to do.
    pub(super) why: String,
    /// What is to be said about the table so that it is one.
    pub(super) asks: Option<Asks>,
}

impl From<String> for NoNumber {
    fn from(why: String) -> Self {
        Self { why, asks: None }
    }
}

impl From<&str> for NoNumber {
    fn from(why: &str) -> Self {
        why.to_owned().into()
    }
}

/// The signs that part thousands whatever the decimal mark is.
const SPACES: [char; 7] = [' ', '\u{a0}', '\u{2009}', '\u{202f}', '\u{2007}', '\'', '\u{2019}'];

/// How a number is written, without its sign.
enum Form {
    /// Digits alone, perhaps in groups; with the mark that parted the groups.
    Whole(String, Option<DecimalMark>),
    /// Digits with a mark that can only stand before decimals.
    Decimal(String, DecimalMark),
    /// One mark before three digits: decimals, or thousands.
    Either(String, DecimalMark),
}

impl Numbers {
    /// What `cells`, the table's cells that hold numbers, show.
    pub(super) fn found_in<'t>(
        said: Option<DecimalMark>,
        separator: Separator,
        cells: impl Iterator<Item = &'t str>,
    ) -> Self {
        let shown = |cell: &str| match form_of(split_unit(cell).0) {
            Ok(Form::Decimal(_, mark)) => Some(mark),
            Ok(Form::Whole(_, Some(DecimalMark::Point))) => Some(DecimalMark::Comma),
            Ok(Form::Whole(_, Some(DecimalMark::Comma))) => Some(DecimalMark::Point),
            _ => None,
        };
        let cells: Vec<&str> = cells.collect();
        let mut marks = cells.iter().filter_map(|cell| shown(cell));
        let first = marks.next();
        let found = first.filter(|first| marks.all(|mark| mark == *first));
        let parted_by_commas = separator == Separator::Comma;
        let in_doubt =
            |cell: &&str| matches!(form_of(split_unit(cell).0), Ok(Form::Either(_, DecimalMark::Point)));
        let point_by_commas = parted_by_commas && first.is_none() && cells.iter().any(in_doubt);
        Self { said, found, parted_by_commas, point_by_commas }
    }

    /// The decimal mark that the table is read with, as far as it is known.
    pub(super) fn shown(self) -> Option<DecimalMark> {
        self.mark().or(self.point_by_commas.then_some(DecimalMark::Point))
    }

    /// The decimal mark that goes for every number of the table, where it is known.
    fn mark(self) -> Option<DecimalMark> {
        self.said.or(self.found)
    }

    /// The value of a number without a unit, or why it is none.
    fn value(self, written: &str) -> Result<f64, NoNumber> {
        let written = written.trim();
        let (sign, digits) = match written.strip_prefix(['-', '\u{2212}']) {
            Some(rest) => (-1.0, rest),
            None => (1.0, written.strip_prefix('+').unwrap_or(written)),
        };
        let said_otherwise = |mark: DecimalMark| self.said.is_some_and(|said| said != mark);
        let digits = match form_of(digits)? {
            Form::Whole(_, Some(mark)) if self.said == Some(mark) => {
                return Err(format!("it has more than one decimal {}", word(mark)).into());
            }
            Form::Decimal(_, mark) if said_otherwise(mark) => {
                return Err(format!(
                    "it has a decimal {}, and this table's is said to be another",
                    word(mark)
                )
                .into());
            }
            Form::Whole(digits, _) | Form::Decimal(digits, _) => digits,
            Form::Either(digits, mark) => {
                let by_commas = (self.parted_by_commas && mark == DecimalMark::Point).then_some(mark);
                match self.mark().or(by_commas) {
                    Some(decimal) if decimal == mark => digits,
                    Some(_) => digits.replace('.', ""),
                    None => {
                        let whole = digits.replace('.', "");
                        let why =
                            format!("it may be {digits} or {whole}; say which decimal mark the table uses");
                        return Err(NoNumber { why, asks: Some(Asks::DecimalMark) });
                    }
                }
            }
        };
        let value: f64 = digits.parse().map_err(|_| NOT_A_NUMBER)?;
        if value.is_finite() { Ok(sign * value) } else { Err("it is too large to be meant".into()) }
    }

    /// The value of a cell in the unit of its measure, or why it has none.
    pub(super) fn quantity(
        self,
        written: &str,
        measure: Measure,
        unit: Option<&'static Unit>,
    ) -> Result<f64, NoNumber> {
        let (number, rest) = split_unit(written);
        if rest.is_empty() {
            let value = self.value(number)?;
            let unit = unit.ok_or_else(|| NoNumber {
                why: "it has no unit; say the unit of the column, or write it in the cell".to_owned(),
                asks: Some(Asks::Unit),
            })?;
            return Ok(value * unit.size);
        }
        if let Some(own) = measure.unit(rest) {
            return Ok(self.value(number)? * own.size);
        }
        let compound = measure == Measure::Length && rest.chars().any(|c| c.is_ascii_digit());
        if compound && let Ok(length) = parse_length(written, UnitSystem::Metric) {
            return Ok(length.mm() as f64);
        }
        if number.is_empty() || rest.starts_with(|c: char| c.is_ascii_digit()) {
            return Err(NOT_A_NUMBER.into());
        }
        if has_exponent(rest) {
            return Err("it has an exponent; write it with digits".into());
        }
        let known: Vec<&str> = measure.units().iter().map(|unit| unit.sign).collect();
        Err(format!("its unit is not known; write {}", known.join(", ")).into())
    }
}

const NOT_A_NUMBER: &str = "it is not a number; write digits with one decimal mark";

fn word(mark: DecimalMark) -> &'static str {
    match mark {
        DecimalMark::Point => "point",
        DecimalMark::Comma => "comma",
    }
}

fn has_exponent(rest: &str) -> bool {
    let behind = rest.strip_prefix(['e', 'E']).map(|behind| behind.trim_start_matches(['+', '-']));
    behind.is_some_and(|behind| !behind.is_empty() && behind.chars().all(|c| c.is_ascii_digit()))
}

/// The number at the beginning, and what follows it: `107.5 m` gives `107.5` and `m`.
fn split_unit(written: &str) -> (&str, &str) {
    let mut end = 0;
    let mut letters = written.char_indices().peekable();
    while let Some((at, c)) = letters.next() {
        let digit_next = letters.peek().is_some_and(|(_, next)| next.is_ascii_digit());
        let belongs = c.is_ascii_digit()
            || matches!(c, '.' | ',')
            || (at == 0 && matches!(c, '+' | '-' | '\u{2212}'))
            || (SPACES.contains(&c) && digit_next && end > 0);
        if !belongs {
            break;
        }
        end = at + c.len_utf8();
    }
    let (number, rest) = written.split_at(end);
    (number, rest.trim())
}

/// How `digits` are written; the digits are given with a point before decimals, as if marks stood there.
fn form_of(digits: &str) -> Result<Form, String> {
    let digits = digits.trim_start_matches(['+', '-', '\u{2212}']);
    let sound = |c: char| c.is_ascii_digit() || matches!(c, '.' | ',') || SPACES.contains(&c);
    if !digits.contains(|c: char| c.is_ascii_digit()) || !digits.chars().all(sound) {
        return Err(NOT_A_NUMBER.to_owned());
    }
    let count = |sign: char| digits.matches(sign).count();
    let last = digits.rfind(['.', ',']).map(|at| digits.split_at(at));
    let spaced = digits.contains(SPACES);
    match (count('.'), count(','), last) {
        (0, 0, _) | (_, _, None) => Ok(Form::Whole(ungrouped(digits, &SPACES)?, None)),
        (points, commas, Some((before, after))) => {
            let (mark, other) =
                if after.starts_with('.') { (DecimalMark::Point, ',') } else { (DecimalMark::Comma, '.') };
            let sign = if mark == DecimalMark::Point { '.' } else { ',' };
            let decimals = after.trim_start_matches(['.', ',']);
            if points + commas > 1 && before.contains(sign) {
                // The same mark again: it parts thousands, and there are no decimals.
                let parted =
                    if before.contains(other) { Err(GROUPS.to_owned()) } else { ungrouped(digits, &[sign]) };
                return Ok(Form::Whole(parted?, Some(mark)));
            }
            if !decimals.chars().all(|c| c.is_ascii_digit()) {
                return Err(GROUPS.to_owned());
            }
            let alone = !spaced && points + commas == 1;
            let whole =
                if alone { before.to_owned() } else { ungrouped(before, &[&SPACES[..], &[other]].concat())? };
            let thousand = decimals.len() == 3 && (1..=3).contains(&before.len()) && !before.starts_with('0');
            let digits = if decimals.is_empty() { whole } else { format!("{whole}.{decimals}") };
            Ok(if alone && thousand { Form::Either(digits, mark) } else { Form::Decimal(digits, mark) })
        }
    }
}

const GROUPS: &str = "its digits are not in groups of three; write it with one decimal mark and no grouping";

/// Digits in groups of three, without what parts them; one kind of sign parts them all.
fn ungrouped(digits: &str, signs: &[char]) -> Result<String, String> {
    let mut parts = digits.split(signs);
    let first = parts.next().unwrap_or_default();
    let groups: Vec<&str> = parts.collect();
    let kinds: std::collections::BTreeSet<char> = digits.chars().filter(|c| signs.contains(c)).collect();
    let of_three = groups.iter().all(|group| group.len() == 3);
    if !groups.is_empty() && (kinds.len() > 1 || !of_three || first.is_empty() || first.len() > 3) {
        return Err(GROUPS.to_owned());
    }
    Ok(format!("{first}{}", groups.concat()))
}

#[cfg(test)]
mod tests {
    use super::*;

    const UNKNOWN: Numbers =
        Numbers { said: None, found: None, parted_by_commas: false, point_by_commas: false };

    fn mm(numbers: Numbers, written: &str) -> Result<f64, String> {
        numbers.quantity(written, Measure::Length, Measure::Length.unit("mm")).map_err(|no| no.why)
    }

    fn check(written: &str, expected: f64) {
        let read = mm(UNKNOWN, written).unwrap_or_else(|why| panic!("{written}: {why}"));
        assert!((read - expected).abs() < 1.0e-9 * expected.abs().max(1.0), "{written}: {read}");
    }

    fn refused(numbers: Numbers, written: &str, says: &str) {
        let why = mm(numbers, written).expect_err(written);
        assert!(why.contains(says), "{written}: {why}");
    }

    #[test]
    fn numbers_that_can_be_read_one_way_are_read_that_way() {
        for (written, value) in [
            ("108", 108.0),
            ("12,5", 12.5),
            ("12.5", 12.5),
            ("1.234,5", 1_234.5),
            ("1,234.5", 1_234.5),
            ("1.234.567", 1_234_567.0),
            ("1,234,567.25", 1_234_567.25),
            ("1 234,5", 1_234.5),
            ("1\u{a0}234", 1_234.0),
            ("1'234.5", 1_234.5),
            ("1 234.567", 1_234.567),
            ("0.125", 0.125),
            ("1234.567", 1_234.567),
            (".5", 0.5),
            ("5.", 5.0),
            ("+3", 3.0),
            ("\u{2212}12,25", -12.25),
        ] {
            check(written, value);
        }
    }

    #[test]
    fn a_unit_in_the_cell_counts_before_that_of_the_column() {
        for (written, value) in [
            ("107.5 m", 107_500.0),
            ("107,5m", 107_500.0),
            ("1.234,5 m", 1_234_500.0),
            ("354 ft", 107_899.2),
            ("12 ft 6 in", 3_810.0),
            ("6' 3 1/2\"", 1_918.0),
            ("10'", 3_048.0),
        ] {
            check(written, value);
        }
    }

    #[test]
    fn what_may_be_two_numbers_is_refused_until_the_mark_is_known() {
        for written in ["1,234", "1.234", "108.000", "12,125 m", "-1,234"] {
            refused(UNKNOWN, written, "say which decimal mark");
        }
        let said = |mark| Numbers { said: Some(mark), ..UNKNOWN };
        assert_eq!(mm(said(DecimalMark::Comma), "1,234"), Ok(1.234));
        assert_eq!(mm(said(DecimalMark::Point), "1,234"), Ok(1_234.0));
        assert_eq!(mm(said(DecimalMark::Comma), "108.000"), Ok(108_000.0));
        refused(said(DecimalMark::Comma), "12.5", "said to be another");
        refused(said(DecimalMark::Comma), "1,234,567", "more than one decimal comma");
        let by_commas = Numbers { parted_by_commas: true, ..UNKNOWN };
        assert_eq!(mm(by_commas, "108.125"), Ok(108.125));
        refused(by_commas, "108,125", "say which decimal mark");
    }

    #[test]
    fn one_number_of_the_table_shows_the_mark_of_all_and_two_that_differ_show_none() {
        let found = |cells: &[&str]| Numbers::found_in(None, Separator::Tab, cells.iter().copied()).found;
        assert_eq!(found(&["108.000", "12,5 m"]), Some(DecimalMark::Comma));
        assert_eq!(found(&["1,234,567"]), Some(DecimalMark::Point));
        assert_eq!(found(&["108.000", "12", "x"]), None);
        assert_eq!(found(&["12.5", "12,5"]), None);
    }

    #[test]
    fn a_point_that_is_read_as_decimal_since_commas_part_the_cells_is_shown_as_such() {
        let shown =
            |separator, cells: &[&str]| Numbers::found_in(None, separator, cells.iter().copied()).shown();
        assert_eq!(shown(Separator::Comma, &["1.234", "12"]), Some(DecimalMark::Point));
        assert_eq!(shown(Separator::Comma, &["12"]), None, "no number needs it");
        assert_eq!(shown(Separator::Semicolon, &["1.234"]), None);
        assert_eq!(shown(Separator::Comma, &["1.234", "12,5"]), Some(DecimalMark::Comma));
    }

    #[test]
    fn what_is_no_number_says_so() {
        for (written, says) in [
            ("long", "not a number"),
            ("NaN", "not a number"),
            ("inf", "not a number"),
            ("(12.5)", "not a number"),
            ("\u{661}\u{662}", "not a number"),
            ("1e3", "exponent"),
            ("1.08E+05", "exponent"),
            ("1e999", "exponent"),
            ("12.34.5", "groups of three"),
            ("1,23,456", "groups of three"),
            ("1 23", "groups of three"),
            ("1.234,567.8", "groups of three"),
            ("12 parsec", "its unit is not known; write mm, cm, m, ft, in"),
            ("12 kg", "its unit is not known"),
        ] {
            refused(UNKNOWN, written, says);
        }
        refused(UNKNOWN, &"9".repeat(400), "too large");
        assert!(UNKNOWN.quantity("12", Measure::Length, None).unwrap_err().why.contains("no unit"));
        assert!(UNKNOWN.quantity("12 tons", Measure::Mass, None).unwrap_err().why.contains("short tons"));
    }
}
