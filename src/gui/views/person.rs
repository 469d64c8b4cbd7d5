//! Who walks, weighs and signs: entered once for all records.

use crate::gui::Request;
use crate::gui::today::now;
use egui::{TextEdit, Ui};

/// The name that records are made in.
#[derive(Debug, Default)]
pub(in crate::gui) struct Person {
    name: String,
}

impl Person {
    /// Whether no name is entered.
    pub(in crate::gui) fn is_empty(&self) -> bool {
        self.name.trim().is_empty()
    }

    /// The name, without white space around it.
    pub(in crate::gui) fn name(&self) -> &str {
        self.name.trim()
    }

    /// Who and when, for a record; says that the name is missing where it is.
    pub(in crate::gui) fn signs(&self, requests: &mut Vec<Request>) -> Option<(String, String)> {
        if self.is_empty() {
            requests.push(Request::Say("Not done: enter your name above first".to_owned()));
            return None;
        }
        Some((self.name().to_owned(), now()))
    }

    /// Draws the field; it takes the keyboard where `wanted` and no name is entered yet.
    pub(in crate::gui) fn name_ui(&mut self, ui: &mut Ui, wanted: bool) {
        ui.label("Your name");
        let empty = self.is_empty();
        let field = TextEdit::singleline(&mut self.name).desired_width(120.0).hint_text("for the records");
        let field = ui.add(field).accessible_name("Your name");
        if wanted && empty {
            field.request_focus();
        }
        field.on_hover_text("It stands in each record, reading and signature made from now on.");
    }
}
