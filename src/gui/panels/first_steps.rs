//! What stands in place of the train while there is none: the way from nothing to a verdict.

use super::tables::Tab;
use crate::gui::{Request, Role, Shown};
use egui::{RichText, ScrollArea, Ui};

/// The steps: where each is done, and what it is.
const STEPS: [(Tab, &str); 5] = [
    (Tab::Train, "the row of vehicles, from the catalogue or from types of your own"),
    (Tab::Sections, "the rail sections that the strings are of"),
    (Tab::Order, "the strings; the yard list at the left adds many at once"),
    (Tab::Drops, "the sites, and what comes off in which order"),
    (Tab::Limits, "what may not be passed; the line class stands under Route"),
];

/// Draws the list into all of `ui`.
pub(in crate::gui) fn first_steps_ui(ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
    ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
        ui.add_space((ui.available_height() * 0.5 - 95.0).max(6.0));
        ui.horizontal(|ui| {
            ui.add_space((ui.available_width() * 0.5 - 260.0).max(12.0));
            ui.vertical(|ui| {
                ui.label(RichText::new("The train has no vehicles yet").heading());
                ui.add_space(4.0);
                egui::Grid::new("first steps").num_columns(2).spacing([14.0, 6.0]).show(ui, |ui| {
                    for (at, (tab, what)) in STEPS.iter().enumerate() {
                        let words = format!("{}  {}", at + 1, tab.title());
                        let link = ui.link(words).accessible_name(format!("Go on to {}", tab.title()));
                        if link.clicked() {
                            requests.push(Request::ShowTab(*tab));
                        }
                        ui.label(*what);
                        ui.end_row();
                    }
                });
                ui.add_space(4.0);
                let words = "Then drag the strings from the yard list onto the train, and read the findings.";
                ui.label(RichText::new(words).color(shown.theme.color(Role::WeakText)));
            });
        });
    });
}
