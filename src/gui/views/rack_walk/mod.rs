//! The rack walk: what was really loaded, entered rack by rack in the order in which a person walks along the train.
//!
//! The list at the left has every string where the walk meets it first; Enter ticks it as planned and goes on. At the
//! right the rack that was reached stands with its pockets, and below it whatever differs is entered. Signatures
//! stand at the bottom.

mod face;
mod form;
mod ground;
mod list;
mod sign;

use super::person::Person;
use crate::gui::fields::Spec;
use crate::gui::fields::choice_ui;
use crate::gui::panels::mark::{mark_ui, role_of};
use crate::gui::{Request, Role, Shown};
use crate::model::{StringMark, TrackSide, TrainEnd};
use crate::planning::walk::Walk;
use egui::{Frame, Margin, Panel, ProgressBar, Rect, RichText, ScrollArea, Ui, UiBuilder, pos2};
use ground::{Ground, verdict_as_loaded};

/// How wide the rack and what is entered there are at least and at most, in points.
const DETAILS_POINTS: (f32, f32) = (270.0, 460.0);

/// The view's own state.
#[derive(Debug)]
pub(in crate::gui) struct RackWalk {
    walk: Walk,
    /// The string whose line takes the keyboard next.
    go_to: Option<StringMark>,
    /// The rack shown in the frame before.
    rack: Option<usize>,
    /// The frame that the view was drawn in last.
    last_frame: u64,
}

impl Default for RackWalk {
    fn default() -> Self {
        let walk = Walk { from: TrainEnd::Front, side: TrackSide::Left };
        Self { walk, go_to: None, rack: None, last_frame: 0 }
    }
}

impl RackWalk {
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
        let head = Frame::new().fill(shown.theme.color(Role::Panel)).inner_margin(Margin::symmetric(8, 4));
        Panel::top("walk head").frame(head).show(ui, |ui| {
            self.way_ui(ui, person, begins);
            progress_ui(ui, shown);
        });
        let ground = Ground::of(shown, self.walk, person);
        if begins {
            self.begin(&ground, requests);
        }
        let foot = Frame::new().fill(shown.theme.color(Role::Panel)).inner_margin(Margin::symmetric(8, 4));
        let area = ui.available_rect_before_wrap();
        let sign_top = area.bottom() - sign::height(shown);
        let parting = area.right() - (area.width() * 0.43).clamp(DETAILS_POINTS.0, DETAILS_POINTS.1);
        // Drawn in the order in which Tab goes through them.
        let list = Rect::from_min_max(area.min, pos2(parting, sign_top));
        ui.scope_builder(UiBuilder::new().max_rect(list), |ui| {
            Frame::new().fill(shown.theme.color(Role::Canvas)).show(ui, |ui| {
                list::list_ui(
                    ui,
                    &ground,
                    (&mut self.go_to, self.rack != Some(shown.selection.rack)),
                    requests,
                );
            });
        });
        self.rack = Some(shown.selection.rack);
        let details = Rect::from_min_max(pos2(parting, area.top()), pos2(area.right(), sign_top));
        ui.scope_builder(UiBuilder::new().max_rect(details), |ui| {
            let frame =
                Frame::new().fill(shown.theme.color(Role::Panel)).inner_margin(Margin::symmetric(8, 4));
            frame.show(ui, |ui| {
                ScrollArea::vertical().id_salt("walk details").auto_shrink(false).show(ui, |ui| {
                    let pocket = face::face_ui(ui, &ground, requests);
                    form::form_ui(ui, &ground, pocket, requests);
                });
            });
        });
        let sign = Rect::from_min_max(pos2(area.left(), sign_top), area.max);
        ui.scope_builder(UiBuilder::new().max_rect(sign), |ui| {
            ui.painter().hline(sign.x_range(), sign.top(), (1.0, shown.theme.color(Role::Line)));
            foot.show(ui, |ui| sign::sign_ui(ui, &ground, requests));
        });
        ui.advance_cursor_after_rect(area);
    }

    /// Lets the next frame go to the list as if the view had just been opened.
    pub(in crate::gui) fn begin_again(&mut self) {
        self.last_frame = 0;
    }

    /// Goes to the string selected, else to the first that is not confirmed.
    fn begin(&mut self, ground: &Ground<'_>, requests: &mut Vec<Request>) {
        let first = ground.tab_stop();
        let stop = first.as_ref().and_then(|mark| ground.stop_of(mark));
        requests.extend(stop.map(|stop| Request::ShowRack(stop.rack)));
        self.rack = Some(ground.shown.selection.rack);
        if !ground.person.is_empty() {
            self.go_to = first;
        }
    }

    /// Where the person walks, and who it is.
    fn way_ui(&mut self, ui: &mut Ui, person: &mut Person, begins: bool) {
        ui.horizontal_wrapped(|ui| {
            person.name_ui(ui, begins);
            ui.separator();
            ui.label("walks from");
            let ends = [(TrainEnd::Front, "the front"), (TrainEnd::Rear, "the rear")];
            if let Some(from) = choice_ui(ui, Spec::new("walk from").wide(76.0), self.walk.from, &ends) {
                self.walk.from = from;
            }
            ui.label("along the").on_hover_text("left and right as seen facing the front of the train");
            let sides = [(TrackSide::Left, "left side"), (TrackSide::Right, "right side")];
            let side = choice_ui(ui, Spec::new("walk along the").wide(80.0), self.walk.side, &sides);
            if let Some(side) = side {
                self.walk.side = side;
            }
        });
    }
}

/// How far the walk is, and what the checks say of the load as it is.
fn progress_ui(ui: &mut Ui, shown: &Shown<'_>) {
    let document = shown.document;
    let loaded = document.recorded().loaded();
    let (confirmed, planned) = (loaded.confirmed(), loaded.planned);
    ui.horizontal(|ui| {
        let share = if planned == 0 { 0.0 } else { confirmed as f32 / planned as f32 };
        ui.add(ProgressBar::new(share).desired_width(100.0).desired_height(10.0));
        let differ = match loaded.strings_that_differ() {
            0 => "none differs".to_owned(),
            1 => "1 differs".to_owned(),
            count => format!("{count} differ"),
        };
        ui.strong(format!("{confirmed} of {planned} confirmed"));
        ui.label(differ);
        ui.separator();
        let (outcome, words) = verdict_as_loaded(document);
        ui.weak("as loaded:");
        mark_ui(ui, outcome);
        let words = RichText::new(words).color(shown.theme.color(role_of(outcome)));
        ui.add(egui::Label::new(words).truncate());
    });
}
