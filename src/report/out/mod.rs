//! Figures, findings and placements as tables for a spreadsheet: a header, rows of words and bare numbers.
//!
//! Units are the plan's and stand in the headers, so that a spreadsheet can reckon with the cells and the order can be
//! taken in again from what was put out.

mod findings;
mod placements;
mod racks;
mod strings;
mod vehicles;

pub use findings::findings_table;
pub use placements::{order_table, placements_table};
pub use racks::racks_table;
pub use strings::strings_table;
pub use vehicles::vehicles_table;

use crate::format::{OutCell, TableForm, write_table};
use crate::statics::Figures;
use crate::units::{Quantity, Style};

/// A table for a spreadsheet.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct OutTable {
    /// What each column holds, with its unit in brackets.
    pub header: Vec<String>,
    /// The rows, a cell for each column.
    pub rows: Vec<Vec<OutCell>>,
}

impl OutTable {
    /// Its text in UTF-8; words that a spreadsheet would take for a formula are guarded.
    pub fn csv(&self, form: TableForm) -> String {
        write_table(&self.header, &self.rows, form)
    }

    /// The bytes of a file with it: with a byte order mark before letters beyond ASCII, without which a spreadsheet
    /// takes them for other ones.
    pub fn file_bytes(&self, form: TableForm) -> Vec<u8> {
        file_bytes(&self.csv(form))
    }

    /// The rows of one state, of a table whose rows begin with the number of theirs.
    #[must_use]
    pub fn of_state(self, state: usize) -> Self {
        let number = OutCell::Number(state as f64);
        let rows = self.rows.into_iter().filter(|row| row.first() == Some(&number)).collect();
        Self { rows, ..self }
    }
}

/// As [`OutTable::file_bytes`], of a table's text.
pub fn file_bytes(csv: &str) -> Vec<u8> {
    let mark: &[u8] = if csv.is_ascii() { b"" } else { b"\xEF\xBB\xBF" };
    [mark, csv.as_bytes()].concat()
}

/// Which of the figures a table holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum FiguresTable {
    /// Loads of vehicles, state by state.
    Vehicles,
    /// Loads of racks, state by state.
    Racks,
    /// Strings on their racks, the same in every state.
    Strings,
}

/// A table of the figures.
pub fn figures_table(figures: &Figures, which: FiguresTable, style: Style) -> OutTable {
    match which {
        FiguresTable::Vehicles => vehicles_table(figures, style),
        FiguresTable::Racks => racks_table(figures, style),
        FiguresTable::Strings => strings_table(figures, style),
    }
}

/// A header with the unit in which `quantity` is shown.
fn headed(title: &str, quantity: Quantity, style: Style) -> String {
    match quantity.unit_sign(style) {
        "" => title.to_owned(),
        sign => format!("{title} ({sign})"),
    }
}

/// A quantity as a bare number in the unit that it is shown in.
fn number(quantity: Quantity, style: Style) -> OutCell {
    OutCell::Number(quantity.shown_value(style))
}

/// A quantity, or nothing.
fn some(quantity: Option<Quantity>, style: Style) -> OutCell {
    quantity.map_or(OutCell::Empty, |quantity| number(quantity, style))
}

/// The number and title of a state, the first two cells of rows that belong to one.
fn state_cells(figures: &Figures, state: usize) -> [OutCell; 2] {
    let title = figures.states.get(state).map(|told| told.title(&figures.plan));
    [OutCell::Number(state as f64), OutCell::Words(title.unwrap_or_default())]
}

#[cfg(test)]
mod tests;
