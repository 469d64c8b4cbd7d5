//! The menu that is open, drawn above everything.

use super::{Item, Line, MenuOf, lines};
use crate::gui::panels::how_list_ui;
use crate::gui::{Request, Shown};
use crate::model::Plan;
use egui::{Align, Button, Id, Layout, Popup, PopupAnchor, PopupKind, Pos2, Ui};
use std::sync::Arc;

/// A menu that is open.
#[derive(Clone, Debug, PartialEq)]
pub struct Menu {
    of: MenuOf,
    at: Pos2,
    /// The plan that it was opened on: on another its lines may mean nothing.
    plan: Arc<Plan>,
    /// Made when it is first drawn.
    lines: Option<Vec<Line>>,
    /// What had the keyboard before, and gets it back.
    before: Option<Id>,
    /// Whether the keyboard is still to be led into it.
    fresh: bool,
}

/// What became of the menu in a frame.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::gui) enum Stays {
    /// It stays open.
    Open,
    /// It was closed.
    Closed,
}

impl Menu {
    /// Opens the menu of a thing of `plan` at a place of the window.
    pub fn new(of: MenuOf, at: Pos2, plan: Arc<Plan>) -> Self {
        Self { of, at, plan, lines: None, before: None, fresh: true }
    }

    /// What it is about.
    pub fn of(&self) -> &MenuOf {
        &self.of
    }

    /// Draws it; the keyboard is led to its first line, and back when it closes.
    pub(in crate::gui) fn ui(&mut self, ui: &Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) -> Stays {
        let lines = self.lines.get_or_insert_with(|| lines(shown, &self.of));
        let mut open = !lines.is_empty() && Arc::ptr_eq(&self.plan, &shown.settled.plan);
        if self.fresh {
            self.before = ui.memory(|memory| memory.focused());
        }
        let mut first = self.fresh;
        let asked = requests.len();
        Popup::new(
            Id::unique("menu of a thing"),
            ui.ctx().clone(),
            PopupAnchor::Position(self.at),
            ui.layer_id(),
        )
        .kind(PopupKind::Menu)
        .layout(Layout::top_down_justified(Align::Min))
        .style(egui::containers::menu::menu_style)
        .open_bool(&mut open)
        .show(|ui| {
            ui.set_min_width(220.0);
            lines_ui(ui, shown, lines, &mut first, requests);
        });
        // The first pass only measures: what is focused in it is not there yet.
        self.fresh = first;
        if open && requests.len() == asked {
            return Stays::Open;
        }
        if let Some(before) = self.before {
            ui.memory_mut(|memory| memory.request_focus(before));
        }
        Stays::Closed
    }
}

fn lines_ui(ui: &mut Ui, shown: &Shown<'_>, lines: &[Line], first: &mut bool, requests: &mut Vec<Request>) {
    for line in lines {
        match line {
            Line::Title(words) => {
                ui.weak(words);
            }
            Line::Gap => {
                ui.separator();
            }
            Line::Item(item) => item_ui(ui, item, first, requests),
            Line::More { words, lines } => {
                ui.menu_button(words, |ui| {
                    ui.set_min_width(180.0);
                    lines_ui(ui, shown, lines, &mut false, requests);
                });
            }
            Line::How(thing) => {
                ui.menu_button("How?", |ui| how_list_ui(ui, shown, *thing, requests));
            }
        }
    }
}

fn item_ui(ui: &mut Ui, item: &Item, first: &mut bool, requests: &mut Vec<Request>) {
    let button = Button::new(item.words.as_str());
    let button = if item.keys.is_empty() { button } else { button.shortcut_text(item.keys.as_str()) };
    match &item.wish {
        Ok(wishes) => {
            let response = ui.add(button);
            if *first && ui.is_visible() && !ui.is_sizing_pass() {
                *first = false;
                response.request_focus();
            }
            if response.clicked() {
                requests.extend(wishes.iter().cloned());
                ui.close();
            }
        }
        Err(why) => {
            ui.add_enabled(false, button).on_disabled_hover_text(why);
        }
    }
}
