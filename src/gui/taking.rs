//! Taking tables in, as the workbench goes about it: from a file or the clipboard, through the questions, to one edit.

use super::dialogs::Purpose;
use super::files::chain;
use super::panels::take_in::{TakeAnswer, Taking};
use super::{Export, ExportFormat, Workbench};
use crate::disk;
use crate::format::{MOST_TABLE_BYTES, TableForm};
use crate::intake::Kind;
use crate::report::{FiguresTable, OutTable, figures_table, findings_table, order_table, placements_table};
use crate::units::Style;
use egui::{Ui, ViewportCommand};
use std::path::Path;

/// A table that can be saved for a spreadsheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum SavedTable {
    /// The order.
    Order,
    /// The order with the place of each string.
    Placements,
    /// Loads of vehicles in the state shown.
    Vehicles,
    /// Loads of racks in the state shown.
    Racks,
    /// Strings on their racks.
    Strings,
    /// What every check says of all states.
    Findings,
}

impl SavedTable {
    /// All of them, in the order of the menu.
    pub const ALL: [Self; 6] =
        [Self::Order, Self::Placements, Self::Vehicles, Self::Racks, Self::Strings, Self::Findings];

    /// What the menu calls saving it.
    pub fn title(self) -> &'static str {
        match self {
            Self::Order => "Save the order as CSV...",
            Self::Placements => "Save the order with places as CSV...",
            Self::Vehicles => "Save loads of vehicles as CSV...",
            Self::Racks => "Save loads of racks as CSV...",
            Self::Strings => "Save strings on their racks as CSV...",
            Self::Findings => "Save findings as CSV...",
        }
    }

    /// The word that is added to the plan's name.
    fn word(self) -> &'static str {
        match self {
            Self::Order => "order",
            Self::Placements => "placements",
            Self::Vehicles => "vehicles",
            Self::Racks => "racks",
            Self::Strings => "strings",
            Self::Findings => "findings",
        }
    }
}

/// Whether a file holds a table rather than a plan, by its name.
pub(super) fn is_table(path: &Path) -> bool {
    let ending = path.extension().map(|ending| ending.to_string_lossy().to_lowercase());
    matches!(ending.as_deref(), Some("csv" | "tsv" | "tab" | "txt" | "xlsx" | "xls" | "ods"))
}

impl Workbench {
    /// Opens the questions about a table of this kind, before there is one.
    pub(super) fn take_in(&mut self, kind: Kind) {
        self.preview = None;
        self.at_start = false;
        self.taking = Some(Taking::new(kind));
    }

    /// Takes in what was pasted.
    pub(super) fn take_pasted(&mut self, kind: Kind, text: String) {
        self.take_in(kind);
        if let Some(taking) = &mut self.taking {
            taking.paste(text);
        }
    }

    /// Takes in the table of a file; as an order where nothing else is being taken in.
    pub(super) fn take_file(&mut self, path: &Path) {
        if self.taking.is_none() {
            self.take_in(Kind::Order);
        }
        let name = path.file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned());
        match (disk::read_bytes(path, MOST_TABLE_BYTES as u64), &mut self.taking) {
            (Ok(bytes), Some(taking)) => taking.give(name, bytes),
            (Err(error), Some(taking)) => taking.fail(name, chain(&error)),
            (_, None) => {}
        }
    }

    /// Draws the questions, where a table is being taken in, and goes on as they are answered.
    pub(super) fn taking_ui(&mut self, ui: &mut Ui) {
        let Some(mut taking) = self.taking.take() else { return };
        let style = Style { units: self.document.plan().units, decimal: self.decimal };
        let answer = taking.ui(ui, self.document.plan(), style);
        self.taking = Some(taking);
        match answer {
            None => {}
            Some(TakeAnswer::ChooseFile) => self.ask_path(Purpose::TakeIn),
            Some(TakeAnswer::Paste) => ui.ctx().send_viewport_cmd(ViewportCommand::RequestPaste),
            Some(TakeAnswer::Cancel) => self.taking = None,
            Some(TakeAnswer::Take(edit)) => {
                self.taking = None;
                self.make(&edit);
            }
        }
    }

    /// Asks where to save a table as it is now.
    pub(super) fn save_table(&mut self, table: SavedTable) {
        let form = TableForm::with_decimal(self.decimal);
        let bytes = self.table_for_saving(table).file_bytes(form).into();
        self.export(Export { format: ExportFormat::Csv, name: table.word().to_owned(), bytes });
    }

    fn table_for_saving(&self, table: SavedTable) -> OutTable {
        let (plan, figures) = (self.document.plan(), self.document.figures());
        let style = Style { units: plan.units, decimal: self.decimal };
        match table {
            SavedTable::Order => order_table(plan, style),
            SavedTable::Placements => placements_table(plan, style),
            SavedTable::Vehicles => {
                figures_table(figures, FiguresTable::Vehicles, style).of_state(self.state)
            }
            SavedTable::Racks => figures_table(figures, FiguresTable::Racks, style).of_state(self.state),
            SavedTable::Strings => figures_table(figures, FiguresTable::Strings, style),
            SavedTable::Findings => findings_table(figures, self.document.assessment(), style),
        }
    }
}
