//! What a state is, and what is worst in it, on hovering.

use super::columns::Columns;
use super::head::is_worth_telling;
use super::head::{rule_words, used_words};
use crate::checks::Outcome;
use crate::gui::Shown;
use crate::gui::panels::mark::mark_ui;
use crate::units::Quantity;
use egui::{Response, RichText, Ui};

/// So many things are named.
const NAMED: usize = 4;

/// Shows the card of the state under the pointer, no button down.
pub(super) fn on_hover(response: Response, shown: &Shown<'_>, columns: &Columns) {
    let busy = response.ctx.input(|input| input.pointer.any_down());
    let Some(state) = response.hover_pos().filter(|_| !busy).and_then(|at| columns.at(at.x)) else { return };
    response.on_hover_ui_at_pointer(|ui| card_ui(ui, shown, state));
}

/// The state's name, what is on the train, and what is worst.
pub(super) fn card_ui(ui: &mut Ui, shown: &Shown<'_>, state: usize) {
    let figures = shown.settled;
    let Some(load) = figures.states.get(state) else { return };
    ui.set_max_width(360.0);
    ui.strong(load.title(&figures.plan));
    ui.weak(format!("state {} of {}, {}", state + 1, figures.states.len(), rule_words(load.rule)));
    let count = figures.present(state).count();
    let strings = if count == 1 { "1 string".to_owned() } else { format!("{count} strings") };
    match figures.state(state) {
        Some(loads) => {
            let mass = Quantity::mass(loads.train_kg).show(shown.style);
            ui.label(format!("{strings} on the train, {mass} in all"));
        }
        None => {
            ui.label(format!("{strings} on the train; not worked out yet"));
        }
    }
    let told = shown.settled_assessment.in_state(state);
    let open: Vec<_> = told.iter().filter(|(_, told)| told.outcome <= Outcome::Near).collect();
    let worst = told.iter().find(|(_, told)| is_worth_telling(told));
    let named = if open.is_empty() { worst.into_iter().collect() } else { open };
    for (check, told) in named.iter().take(NAMED) {
        ui.horizontal(|ui| {
            mark_ui(ui, told.outcome);
            let place = told.subject.place(figures);
            let words = format!("{}: {place} {}", check.title, used_words(told.worst_used()));
            ui.add(egui::Label::new(RichText::new(words)).truncate());
        });
    }
    if named.len() > NAMED {
        ui.weak(format!("and {} more", named.len() - NAMED));
    }
}
