//! The fate of every row, in a table that can be narrowed to one fate.

use crate::format::Table;
use crate::gui::{Role, Theme};
use crate::intake::{Fate, Intake, RowFate};
use egui::{Align, Layout, RichText, Ui};
use egui_extras::{Column, TableBuilder};

/// Which rows are listed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum Listed {
    /// All lines.
    #[default]
    All,
    /// Rows with this word for their fate.
    Of(&'static str),
}

/// Fates with a sign of their own, so that none is told by colour alone.
const FATES: [(&str, &str, Role); 5] = [
    ("new", "+", Role::Pass),
    ("changes", "~", Role::Accent),
    ("unchanged", "=", Role::WeakText),
    ("refused", "!", Role::Fail),
    ("skipped", "-", Role::WeakText),
];

impl Listed {
    /// Draws the choice of fates and the table.
    pub(super) fn ui(&mut self, ui: &mut Ui, (_, intake): (&Table, &Intake)) {
        self.filter_ui(ui, intake);
        let rows: Vec<&RowFate> = intake.rows.iter().filter(|row| self.lists(row)).collect();
        table_ui(ui, intake, &rows);
    }

    fn lists(self, row: &RowFate) -> bool {
        match self {
            Self::All => true,
            Self::Of(word) => row.fate.word() == word,
        }
    }

    fn filter_ui(&mut self, ui: &mut Ui, intake: &Intake) {
        ui.horizontal_wrapped(|ui| {
            let all = format!("all {} lines", intake.rows.len());
            if ui.selectable_label(*self == Self::All, all).clicked() {
                *self = Self::All;
            }
            for (word, sign, _) in FATES {
                let count = intake.rows.iter().filter(|row| row.fate.word() == word).count();
                if count > 0
                    && ui
                        .selectable_label(*self == Self::Of(word), format!("{sign} {count} {word}"))
                        .clicked()
                {
                    *self = Self::Of(word);
                }
            }
        });
    }
}

fn table_ui(ui: &mut Ui, intake: &Intake, rows: &[&RowFate]) {
    let fields: Vec<(usize, &str)> = intake
        .matching
        .columns
        .iter()
        .enumerate()
        .filter(|(at, _)| {
            *at == 0 || rows.iter().any(|row| row.cells.get(*at).is_some_and(|cell| !cell.is_empty()))
        })
        .map(|(at, matched)| (at, matched.field.title))
        .collect();
    let height = ui.available_height();
    egui::ScrollArea::horizontal().id_salt("fates").auto_shrink(false).show(ui, |ui| {
        let mut builder = TableBuilder::new(ui)
            .id_salt(("fates", fields.len()))
            .striped(true)
            .auto_shrink(false)
            .min_scrolled_height(40.0)
            .max_scroll_height(height)
            .cell_layout(Layout::left_to_right(Align::Center))
            .column(Column::exact(46.0))
            .column(Column::exact(92.0));
        for _ in &fields {
            builder = builder.column(Column::initial(78.0).at_least(40.0).resizable(true).clip(true));
        }
        builder
            .column(Column::remainder().at_least(260.0).clip(true))
            .header(20.0, |mut header| {
                for title in
                    ["Line", "Fate"].into_iter().chain(fields.iter().map(|(_, title)| *title)).chain(["Why"])
                {
                    header.col(|ui| {
                        ui.add(egui::Label::new(RichText::new(title).small().strong()).truncate());
                    });
                }
            })
            .body(|body| {
                body.rows(20.0, rows.len(), |mut row| {
                    let Some(told) = rows.get(row.index()) else { return };
                    row.col(|ui| {
                        ui.weak(told.line.to_string());
                    });
                    row.col(|ui| fate_ui(ui, &told.fate));
                    for (at, _) in &fields {
                        row.col(|ui| {
                            // A line that is no row shows its first words.
                            let first = if *at == 0 { told.name.as_str() } else { "" };
                            let cell = told.cells.get(*at).map_or(first, String::as_str);
                            ui.add(egui::Label::new(cell).truncate());
                        });
                    }
                    row.col(|ui| {
                        let words = told.words();
                        ui.add(egui::Label::new(&words).truncate()).on_hover_text(&words);
                    });
                });
            });
    });
}

fn fate_ui(ui: &mut Ui, fate: &Fate) {
    let theme = Theme::of(ui);
    let told = FATES.into_iter().find(|(word, ..)| *word == fate.word());
    if let Some((word, sign, role)) = told {
        ui.label(RichText::new(format!("{sign} {word}")).color(theme.color(role)));
    }
}
