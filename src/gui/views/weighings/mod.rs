//! Weighings: what a scale read beside what is computed of the load as it is, and what would explain a difference.

mod asked;
mod causes;
mod grid;
mod paste;

use super::person::Person;
use crate::checks::Outcome;
use crate::edit::Edit;
use crate::gui::fields::{Spec, choice_ui, some_quantity_ui};
use crate::gui::panels::mark::mark_ui;
use crate::gui::{Request, Role, Shown};
use crate::model::{Plan, WeighedPart, Weighing};
use crate::planning::weighings::Weighed;
use crate::report::{contradiction_words, readings_words};
use crate::units::QuantityKind;
use asked::Asked;
use egui::{CentralPanel, Frame, Margin, Panel, RichText, Ui};
use paste::Paste;

/// Which parts of the vehicles are entered.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Parts {
    /// Each vehicle as a whole.
    Whole,
    /// Each axle.
    Axles,
    /// Each wheel.
    Wheels,
}

/// The view's own state.
#[derive(Debug, Default)]
pub(in crate::gui) struct Weighings {
    /// None: as the readings of the plan have it.
    parts: Option<Parts>,
    /// The tolerance of new readings; none: that of the plan's last reading.
    tolerance: Option<Option<f64>>,
    asked: Option<Asked>,
    paste: Paste,
    last_frame: u64,
}

impl Weighings {
    /// Draws the view into all of `ui`.
    pub(in crate::gui) fn ui(
        &mut self,
        ui: &mut Ui,
        shown: &Shown<'_>,
        person: &mut Person,
        requests: &mut Vec<Request>,
    ) {
        let begins = ui.ctx().cumulative_frame_nr() > self.last_frame + 1;
        self.last_frame = ui.ctx().cumulative_frame_nr();
        let plan: &Plan = shown.document.plan();
        let mut asked = Asked::about(shown, self.asked.take(), ui.ctx());
        let parts = self.parts.unwrap_or_else(|| usual_parts(plan));
        let tolerance = self.tolerance.unwrap_or_else(|| usual_tolerance(plan));
        let head = Frame::new().fill(shown.theme.color(Role::Panel)).inner_margin(Margin::symmetric(8, 4));
        Panel::top("weighings head").frame(head).show(ui, |ui| {
            ui.horizontal_wrapped(|ui| {
                person.name_ui(ui, begins);
                ui.separator();
                self.parts_ui(ui, parts);
                ui.separator();
                self.tolerance_ui(ui, shown, tolerance, requests);
                ui.separator();
                self.paste.toggle_ui(ui);
            });
            ui.label(RichText::new(readings_words(&asked.weighed)).strong());
            contradictions_ui(ui, shown, &asked.weighed);
        });
        let foot = Frame::new().fill(shown.theme.color(Role::Panel)).inner_margin(Margin::symmetric(8, 4));
        let height = (ui.available_height() * 0.36).clamp(120.0, 320.0);
        Panel::bottom("weighings causes")
            .resizable(true)
            .default_size(height)
            .min_size(80.0)
            .frame(foot)
            .show(ui, |ui| {
                ui.set_min_height(ui.available_height());
                causes::causes_ui(ui, shown, (&mut asked, person), requests);
            });
        let ground = Frame::new().fill(shown.theme.color(Role::Canvas)).inner_margin(Margin::symmetric(8, 4));
        CentralPanel::no_frame().frame(ground).show(ui, |ui| {
            if self.paste.is_open() {
                self.paste.ui(ui, shown, (tolerance, person), requests);
            } else {
                grid::grid_ui(ui, shown, &asked.weighed, (parts, tolerance, person), requests);
            }
        });
        self.asked = Some(asked);
    }

    fn parts_ui(&mut self, ui: &mut Ui, parts: Parts) {
        ui.label("Weighed");
        let choices = [(Parts::Whole, "whole"), (Parts::Axles, "by axle"), (Parts::Wheels, "by wheel")];
        if let Some(parts) = choice_ui(ui, Spec::new("What was weighed").wide(76.0), parts, &choices) {
            self.parts = Some(parts);
        }
    }

    /// The tolerance of new readings, and a button that gives it to all.
    fn tolerance_ui(
        &mut self,
        ui: &mut Ui,
        shown: &Shown<'_>,
        tolerance: Option<f64>,
        requests: &mut Vec<Request>,
    ) {
        let why = "How far the scale may be off, both ways, as a share of the reading. A reading without it is compared, not judged.";
        ui.label("Tolerance").on_hover_text(why);
        let spec = Spec::new("The scale's tolerance").wide(72.0);
        if let Some(given) = some_quantity_ui(ui, spec, (tolerance, QuantityKind::Share), shown.style) {
            self.tolerance = Some(given.filter(|share| *share > 0.0));
        }
        let readings = &shown.document.plan().weighings;
        if readings.iter().all(|reading| reading.tolerance == tolerance) {
            return;
        }
        if ui.button("For all").on_hover_text("Give all readings this tolerance").clicked() {
            let differ = readings.iter().enumerate().filter(|(_, reading)| reading.tolerance != tolerance);
            let change = |(at, reading): (usize, &Weighing)| Edit::ChangeWeighing {
                at,
                to: Weighing { tolerance, ..reading.clone() },
            };
            let edits: Vec<Edit> = differ.map(change).collect();
            let label = "Change the tolerance of all readings".to_owned();
            requests.push(Request::Edit(Edit::Batch { label, edits }));
        }
    }
}

/// Readings that cannot both be right: the first few in a sentence each.
fn contradictions_ui(ui: &mut Ui, shown: &Shown<'_>, weighed: &Weighed) {
    const LISTED: usize = 2;
    for one in weighed.contradictions.iter().take(LISTED) {
        ui.horizontal_top(|ui| {
            mark_ui(ui, Outcome::Fail);
            let words = contradiction_words(&weighed.figures.plan, one, shown.style);
            ui.add(egui::Label::new(words).wrap());
        });
    }
    if let Some(more @ 1..) = weighed.contradictions.len().checked_sub(LISTED) {
        ui.weak(format!("and {more} more parts with readings that contradict each other"));
    }
}

/// The finest parts that the plan has readings of; axles where it has none.
fn usual_parts(plan: &Plan) -> Parts {
    let any = |is: fn(WeighedPart) -> bool| plan.weighings.iter().any(|reading| is(reading.part));
    if any(|part| matches!(part, WeighedPart::LeftWheel(_) | WeighedPart::RightWheel(_))) {
        Parts::Wheels
    } else if any(|part| part == WeighedPart::Vehicle) && !any(|part| matches!(part, WeighedPart::Axle(_))) {
        Parts::Whole
    } else {
        Parts::Axles
    }
}

fn usual_tolerance(plan: &Plan) -> Option<f64> {
    plan.weighings.last().and_then(|reading| reading.tolerance)
}
