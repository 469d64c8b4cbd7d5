//! Dialogs that are lists: the steps of the history, and work that was left behind.

use super::dialogs::{Answer, buttons_ui};
use super::safekeeping::LeftWords;
use super::{Role, Theme};
use egui::{Align, Button, Layout, RichText, ScrollArea, Ui};

/// The steps made on this plan, oldest first; `at` is the one that the plan stands at.
pub(super) fn history_ui(ui: &mut Ui, labels: &[String], at: usize) -> Option<Answer> {
    let theme = Theme::of(ui);
    ui.heading("History");
    ui.weak("Choose a step to go back or forward to it; nothing is lost until you change something there.");
    ui.add_space(4.0);
    let mut answer = None;
    let height = 22.0;
    let area = ScrollArea::vertical().max_height(380.0).min_scrolled_height(380.0).auto_shrink([false, true]);
    area.show_rows(ui, height, labels.len(), |ui, rows| {
        ui.with_layout(Layout::top_down_justified(Align::LEFT), |ui| {
            for step in rows {
                let role = if step > at { Role::WeakText } else { Role::Text };
                let label = if step == 0 { "As it was opened" } else { &labels[step] };
                let words = RichText::new(label).color(theme.color(role));
                let undone = if step > at { "undone" } else { "" };
                let button = Button::selectable(step == at, words).truncate().shortcut_text(undone);
                let response = ui.add(button.min_size(egui::vec2(0.0, height - 4.0)));
                response.widget_info(|| {
                    let name = format!("Step {step}: {label}");
                    egui::WidgetInfo::selected(egui::Role::ListItem, true, step == at, name)
                });
                if response.clicked() {
                    answer = Some(Answer::JumpTo(step));
                }
            }
        });
    });
    answer.or(buttons_ui(ui, &[("Close", Answer::Cancel)]))
}

/// Work that runs which ended badly left behind.
pub(super) fn left_ui(ui: &mut Ui, works: &[LeftWords]) -> Option<Answer> {
    ui.heading("Unsaved work was left behind");
    ui.label("Longstow ended before this was saved. Opening it shows the plan as it was kept; your files stay as they are until you save.");
    ui.add_space(4.0);
    let mut answer = None;
    ScrollArea::vertical().max_height(300.0).show(ui, |ui| {
        for (at, work) in works.iter().enumerate() {
            ui.separator();
            ui.horizontal(|ui| {
                ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                    let discard = ui.button("Discard").accessible_name(format!("Discard {}", work.title));
                    let open = ui.button("Open it").accessible_name(format!("Open {}", work.title));
                    if open.clicked() {
                        answer = Some(Answer::OpenLeft(at));
                    } else if discard.clicked() {
                        answer = Some(Answer::DiscardLeft(at));
                    }
                    ui.with_layout(Layout::top_down(Align::LEFT), |ui| {
                        ui.add(egui::Label::new(RichText::new(&work.title).strong()).truncate());
                        ui.add(egui::Label::new(RichText::new(&work.about).weak()).truncate())
                            .on_hover_text(&work.about);
                    });
                });
            });
        }
    });
    answer.or(buttons_ui(ui, &[("Later", Answer::Cancel)]))
}
