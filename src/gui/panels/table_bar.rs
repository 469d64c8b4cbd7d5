//! The line over a table of the plan: what it is, and how rows come in from a spreadsheet and go out to one.

use crate::gui::{Command, Request, SavedTable};
use crate::intake::Kind;
use egui::{Align, Event, Layout, RichText, Ui};

/// Draws the line, and takes what is pasted while no field has the keyboard.
pub(super) fn table_bar_ui(ui: &mut Ui, kind: Kind, words: &str, requests: &mut Vec<Request>) {
    ui.horizontal(|ui| {
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            if kind == Kind::Order {
                save_button_ui(ui, SavedTable::Order, requests);
            }
            let take = ui
                .small_button("Take in...")
                .on_hover_text("From a CSV file, or paste rows that were copied in a spreadsheet (Ctrl+V)");
            if take.clicked() {
                requests.push(Request::Command(Command::TakeIn(kind)));
            }
            ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                ui.add(egui::Label::new(RichText::new(words).weak()).truncate());
            });
        });
    });
    if let Some(text) = pasted_table(ui) {
        requests.push(Request::TakePasted(kind, text));
    }
}

/// The button that saves a table as CSV.
pub(super) fn save_button_ui(ui: &mut Ui, table: SavedTable, requests: &mut Vec<Request>) {
    let save = ui.small_button("Save...").accessible_name(table.title());
    if save.on_hover_text(table.title()).clicked() {
        requests.push(Request::Command(Command::SaveTable(table)));
    }
}

/// What was pasted, where it is a table: a single word is none.
fn pasted_table(ui: &Ui) -> Option<String> {
    if ui.ctx().text_edit_focused() {
        return None;
    }
    ui.input(|input| {
        input.events.iter().find_map(|event| match event {
            Event::Paste(text) if text.trim().contains(['\n', '\t', ';']) => Some(text.clone()),
            _ => None,
        })
    })
}
