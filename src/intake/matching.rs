//! Which column of a table holds what: as somebody said, as the plan remembers, or by its header.
//!
//! Without headers columns hold the fields in their order. No unit is then known: what fields that people type into
//! would take is not what some other program wrote.

use super::choices::{Choices, ColumnChoice, HeaderChoice};
use super::field::{Field, Measure, Unit};
use super::header::{reads_as, same, unit_at_end};
use super::kinds::Kind;
use super::numbers::Numbers;
use crate::format::{Table, TableLine};
use crate::model::{ColumnUnit, MatchedColumn, OrderColumn, OrderTable};
use crate::units::DecimalMark;

/// How a table is read.
#[derive(Clone, Debug, PartialEq)]
pub struct Matching {
    /// The index of the line with the headers; none: every line is a row.
    pub header: Option<usize>,
    /// One for each field of the kind.
    pub columns: Vec<Matched>,
    /// Fields that two columns or more may hold; they are held by none until somebody says which.
    pub doubtful: Vec<(&'static Field, Vec<usize>)>,
    pub(super) numbers: Numbers,
}

/// The column that holds a field.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Matched {
    /// The field.
    pub field: &'static Field,
    /// The column's index.
    pub column: Option<usize>,
    /// The unit of its bare numbers; none: none is known, or it has words.
    pub unit: Option<&'static Unit>,
}

/// Headers are looked for in so many lines.
const LINES_TO_TRY: usize = 30;

/// The most characters of a header that a plan remembers.
const LONGEST_HEADER: usize = 200;

/// A table with what is known about its columns beforehand.
pub(super) struct Unread<'a> {
    pub(super) kind: Kind,
    pub(super) table: &'a Table,
    pub(super) remembered: &'a OrderTable,
}

impl Matching {
    /// The decimal mark that the table's numbers are read with, where it is known.
    pub fn decimal(&self) -> Option<DecimalMark> {
        self.numbers.shown()
    }

    /// The matched column of the field with this key.
    pub(super) fn of_key(&self, key: &str) -> Option<Matched> {
        self.columns.iter().find(|matched| matched.field.key == key).copied()
    }

    /// Matches the columns of a table.
    pub(super) fn of(unread: &Unread<'_>, choices: &Choices) -> Self {
        let lines = &unread.table.lines;
        let header = match choices.header {
            HeaderChoice::Without => None,
            HeaderChoice::Line(number) => lines.iter().position(|line| line.number == number),
            HeaderChoice::AsFound => unread.find_header(),
        };
        let mut doubtful = Vec::new();
        let mut columns: Vec<Matched> = Vec::new();
        for (at, field) in unread.kind.fields().iter().enumerate() {
            let (column, unit) = match header.and_then(|header| lines.get(header)) {
                Some(line) => unread.by_header(line, field, &mut doubtful),
                None => (Some(at).filter(|at| *at < width(lines)), None),
            };
            let (column, unit) = match choices.columns.get(field.key) {
                Some(ColumnChoice::Without) => (None, None),
                Some(ColumnChoice::Column(chosen)) if Some(*chosen) != column => {
                    let cell = header.and_then(|header| lines.get(header)?.cells.get(*chosen));
                    (Some(*chosen), cell.and_then(|cell| unit_at_end(&cell.text, field.measure)))
                }
                _ => (column, unit),
            };
            let unit = choices.units.get(field.key).copied().or(unit).filter(|_| column.is_some());
            columns.push(Matched { field, column, unit });
        }
        let said = |column| choices.columns.values().any(|choice| *choice == ColumnChoice::Column(column));
        for matched in &mut columns {
            // A column that somebody gave to a field is no other field's.
            let own = choices.columns.contains_key(matched.field.key);
            matched.column = matched.column.filter(|column| own || !said(*column));
        }
        doubtful.retain(|(field, _)| !choices.columns.contains_key(field.key));
        let mut matching = Self { header, columns, doubtful, numbers: Numbers::default() };
        matching.numbers = unread.numbers(&matching, choices);
        matching
    }

    /// The lines that hold rows.
    pub(super) fn rows<'t>(&self, table: &'t Table) -> &'t [TableLine] {
        let first = self.header.map_or(0, |header| header + 1);
        table.lines.get(first..).unwrap_or_default()
    }

    /// What is to be remembered of it: the columns that are held by other fields than their headers tell.
    pub(super) fn to_remember(&self, table: &Table, old: &OrderTable) -> OrderTable {
        let Some(header) = self.header.and_then(|header| table.lines.get(header)) else { return old.clone() };
        let mut columns = Vec::new();
        for (at, cell) in header.cells.iter().enumerate().filter(|(_, cell)| !cell.is_empty()) {
            let matched = self.columns.iter().find(|matched| matched.column == Some(at));
            let told =
                Kind::Order.fields().iter().find_map(|field| Some((field.key, reads_as(&cell.text, field)?)));
            let doubted = self.doubtful.iter().any(|(_, columns)| columns.contains(&at));
            let long = cell.text.chars().count() > LONGEST_HEADER;
            if !doubted && !long && matched.map(|matched| (matched.field.key, matched.unit)) != told {
                let holds = matched.map_or(OrderColumn::Nothing, |matched| order_column(matched.field));
                let unit = matched.and_then(|matched| column_unit(matched.unit?));
                columns.push(MatchedColumn { header: cell.text.clone(), holds, unit });
            }
        }
        let here = |column: &MatchedColumn| header.cells.iter().any(|cell| same(&cell.text, &column.header));
        let mut kept: Vec<MatchedColumn> =
            old.columns.iter().filter(|column| !here(column)).cloned().collect();
        let mut seen: Vec<MatchedColumn> = Vec::new();
        for column in columns {
            // Of headers that are the same only the first is kept.
            if !seen.iter().any(|other| same(&other.header, &column.header)) {
                seen.push(column);
            }
        }
        kept.extend(seen);
        OrderTable { decimal: self.numbers.said.or(old.decimal), columns: kept }
    }
}

impl Unread<'_> {
    /// What was remembered of a header.
    fn remembered(&self, header: &str) -> Option<&MatchedColumn> {
        let columns = if self.kind == Kind::Order { self.remembered.columns.as_slice() } else { &[] };
        columns.iter().find(|column| same(&column.header, header))
    }

    /// Whether a header is that of `field`, and the unit that goes with it.
    fn holds(&self, header: &str, field: &'static Field) -> Option<Option<&'static Unit>> {
        match self.remembered(header) {
            Some(column) if order_field(column.holds) == Some(field.key) => {
                let unit = column.unit.and_then(|unit| field.measure.unit(unit.sign()));
                Some(unit.or_else(|| reads_as(header, field).flatten()))
            }
            Some(_) => None,
            None => reads_as(header, field),
        }
    }

    fn by_header(
        &self,
        line: &TableLine,
        field: &'static Field,
        doubtful: &mut Vec<(&'static Field, Vec<usize>)>,
    ) -> (Option<usize>, Option<&'static Unit>) {
        let cells = line.cells.iter().enumerate();
        let holding: Vec<_> =
            cells.filter_map(|(at, cell)| Some((at, self.holds(&cell.text, field)?))).collect();
        match holding.as_slice() {
            [] => (None, None),
            [(at, unit)] => (Some(*at), *unit),
            several => {
                doubtful.push((field, several.iter().map(|(at, _)| *at).collect()));
                (None, None)
            }
        }
    }

    /// The line whose cells are known as headers: the first of those with most of them.
    fn find_header(&self) -> Option<usize> {
        let fields = self.kind.fields();
        let known = |line: &TableLine| {
            let cells = line.cells.iter().filter(|cell| !cell.is_empty());
            cells
                .filter(|cell| {
                    self.remembered(&cell.text).is_some()
                        || fields.iter().any(|field| self.holds(&cell.text, field).is_some())
                })
                .count()
        };
        let lines = self.table.lines.iter().enumerate().take(LINES_TO_TRY);
        let counted = lines.map(|(at, line)| (at, known(line)));
        let best = counted.fold((0, 0), |best, next| if next.1 > best.1 { next } else { best });
        let has_digits = |line: &TableLine| {
            line.cells.iter().any(|cell| cell.text.starts_with(|c: char| c.is_ascii_digit()))
        };
        let first = self.table.lines.iter().position(|line| !line.is_blank());
        let line = self.table.lines.get(best.0)?;
        let enough = best.1 >= 2 || (best.1 == 1 && first == Some(best.0) && !has_digits(line));
        if enough {
            return Some(best.0);
        }
        // Headers of unknown words must not be read as a row: words over numbers.
        let next = self.table.lines.iter().skip(first? + 1).find(|line| !line.is_blank())?;
        let line = self.table.lines.get(first?)?;
        let over_numbers = line
            .cells
            .iter()
            .zip(&next.cells)
            .any(|(head, cell)| !head.is_empty() && cell.text.starts_with(|c: char| c.is_ascii_digit()));
        if line.cells.len() >= 2 && !has_digits(line) && over_numbers { first } else { None }
    }

    fn numbers(&self, matching: &Matching, choices: &Choices) -> Numbers {
        let numeric = matching.columns.iter().filter(|matched| matched.field.measure != Measure::Words);
        let columns: Vec<usize> = numeric.filter_map(|matched| matched.column).collect();
        let lines = matching.rows(self.table).iter();
        let cells = lines.flat_map(|line| columns.iter().filter_map(|column| line.cells.get(*column)));
        let remembered = self.remembered.decimal.filter(|_| self.kind == Kind::Order);
        let said = choices.decimal.or(remembered);
        Numbers::found_in(said, self.table.separator, cells.map(|cell| cell.text.as_str()))
    }
}

fn width(lines: &[TableLine]) -> usize {
    lines.iter().map(|line| line.cells.len()).max().unwrap_or(0)
}

/// The key of the field that a remembered column holds.
fn order_field(holds: OrderColumn) -> Option<&'static str> {
    Some(match holds {
        OrderColumn::Mark => "mark",
        OrderColumn::Section => "section",
        OrderColumn::Steel => "steel",
        OrderColumn::Length => "length",
        OrderColumn::Side => "side",
        OrderColumn::Drop => "drop",
        OrderColumn::Mass => "mass",
        OrderColumn::MassBasis => "mass-basis",
        OrderColumn::Nothing => return None,
    })
}

fn order_column(field: &Field) -> OrderColumn {
    use OrderColumn as C;
    let all = [C::Mark, C::Section, C::Steel, C::Length, C::Side, C::Drop, C::Mass, C::MassBasis];
    all.into_iter().find(|holds| order_field(*holds) == Some(field.key)).unwrap_or(C::Nothing)
}

fn column_unit(unit: &Unit) -> Option<ColumnUnit> {
    ColumnUnit::ALL.into_iter().find(|known| known.sign() == unit.sign)
}

/// The column with this header, or with this number from 1 as in `#3`; none where none or several are headed so.
pub fn column_called(table: &Table, matching: &Matching, words: &str) -> Option<usize> {
    let header = matching.header.and_then(|header| table.lines.get(header));
    let cells = header.map_or(&[][..], |line| &line.cells);
    let mut named = (0..).zip(cells).filter(|(_, cell)| same(&cell.text, words)).map(|(column, _)| column);
    match (named.next(), named.next()) {
        (Some(column), None) => Some(column),
        (Some(_), Some(_)) => None,
        (None, _) => {
            let number: usize = words.strip_prefix('#')?.parse().ok()?;
            number.checked_sub(1).filter(|column| *column < column_count(table))
        }
    }
}

/// How many columns the widest line has.
pub fn column_count(table: &Table) -> usize {
    width(&table.lines)
}

/// What a reader calls a column: its header, or its number.
pub fn column_words(table: &Table, matching: &Matching, column: usize) -> String {
    let header = matching.header.and_then(|header| table.lines.get(header)?.cells.get(column));
    match header.filter(|cell| !cell.is_empty()) {
        Some(cell) => super::fate::shortened(&cell.text),
        None => format!("column {}", column + 1),
    }
}
