//! What lies where in the window: bars, panels and views, and the sizes that they begin with.

use super::canvas::{Canvas, Pairs};
use super::judging::AS_LOADED;
use super::menus::Stays;
use super::panels::first_steps::first_steps_ui;
use super::panels::inspector::inspector_ui;
use super::panels::tables::Tables;
use super::panels::time_line::TRACK_POINTS;
use super::panels::top_bar::top_bar_ui;
use super::panes::{Edge, Pane, Panes};
use super::views::View;
use super::workbench::Panels;
use super::{Command, Request, Role, Shown, Theme, Workbench};
use crate::report::Judged;
use egui::{CentralPanel, Frame, Panel, Rect, Ui};

/// The time line, by how many tracks it has: each keeps its own height.
const STATES: [Pane; 6] = [
    Pane { name: "states", edge: Edge::Lower, least: 96.0 },
    Pane { name: "states and 1 track", edge: Edge::Lower, least: 96.0 },
    Pane { name: "states and 2 tracks", edge: Edge::Lower, least: 96.0 },
    Pane { name: "states and 3 tracks", edge: Edge::Lower, least: 96.0 },
    Pane { name: "states and 4 tracks", edge: Edge::Lower, least: 96.0 },
    Pane { name: "states and more tracks", edge: Edge::Lower, least: 96.0 },
];
/// Windows narrower than this have narrower panes at their sides, in points.
const NARROW_POINTS: f32 = 1_200.0;
/// Height of the yard list with no string in it.
const YARD_POINTS: f32 = 124.0;
const LEFT: Pane = Pane { name: "left", edge: Edge::Left, least: 180.0 };
const FINDINGS: Pane = Pane { name: "findings", edge: Edge::Right, least: 220.0 };
const LOWER: Pane = Pane { name: "figures", edge: Edge::Lower, least: 90.0 };
const FACE: Pane = Pane { name: "rack face", edge: Edge::Left, least: 140.0 };
const DECK: Pane = Pane { name: "deck plan", edge: Edge::Lower, least: 120.0 };
/// Details under an empty yard list, one in which strings wait, and one from which all are placed.
const DETAILS: [Pane; 3] = [
    Pane { name: "details, no order", edge: Edge::Lower, least: 60.0 },
    Pane { name: "details, strings wait", edge: Edge::Lower, least: 60.0 },
    Pane { name: "details, all placed", edge: Edge::Lower, least: 60.0 },
];

impl Workbench {
    /// Draws the plan's views and panels.
    pub(super) fn plan_ui(&mut self, ui: &mut Ui, theme: &Theme, requests: &mut Vec<Request>) {
        // Views and panels are taken out, so that they can be drawn while what they show is borrowed.
        let mut canvas = std::mem::take(&mut self.canvas);
        let mut panels = std::mem::take(&mut self.panels);
        let mut panes = std::mem::take(&mut self.panes);
        let mut menu = self.menu.take();
        canvas.begin_frame();
        let name = self.document.file_name();
        let shown = self.shown(theme, &name);
        Panel::top("top bar").show(ui, |ui| top_bar_ui(ui, &shown, &self.start, requests));
        Panel::bottom("status line").exact_size(24.0).show(ui, |ui| self.status_ui(ui, &shown, requests));
        let window = ui.ctx().content_rect().size();
        let tracks = panels.time_line.track_count().min(STATES.len() - 1);
        let height = (window.y * 0.165).clamp(132.0, 200.0) + tracks as f32 * TRACK_POINTS;
        let strip = panes.panel(ui.ctx(), STATES[tracks], height).show(ui, |ui| {
            // A panel shrinks to what it holds unless told to stay as large as it is.
            ui.set_min_height(ui.available_height());
            panels.time_line.ui(ui, &shown, requests);
        });
        panes.drawn(ui.ctx(), STATES[tracks], strip.response.rect);
        let view = panels.views.view;
        if matches!(shown.focus, Some(super::Pane::Yard | super::Pane::Details | super::Pane::Findings)) {
            panes.show_sides(view, true);
        }
        if panes.shows_sides(ui.ctx(), view) {
            sides_ui(ui, &shown, (&mut canvas, &mut panels, &mut panes), requests);
        } else {
            canvas.yard_lies_at(Rect::NOTHING);
            panels.findings.put_away(requests);
        }
        CentralPanel::no_frame().show(ui, |ui| {
            Panel::top("views")
                .frame(
                    Frame::new().fill(theme.color(Role::Panel)).inner_margin(egui::Margin::symmetric(6, 3)),
                )
                .show(ui, |ui| {
                    panels.views.tabs_ui(ui, &mut panes, requests);
                });
            if panels.views.view.is_of_the_train() {
                train_ui(ui, &shown, (&mut canvas, &mut panels, &mut panes), requests);
            } else {
                panels.views.ui(ui, &shown, requests);
            }
        });
        canvas.drag_ui(ui, &shown, requests);
        if let Some(open) = &mut menu
            && open.ui(ui, &shown, requests) == Stays::Closed
        {
            menu = None;
        }
        self.menu = menu;
        self.canvas = canvas;
        self.panels = panels;
        self.panes = panes;
    }

    fn status_ui(&self, ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
        ui.horizontal_centered(|ui| {
            ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                pairs_ui(ui, shown, requests);
                ui.separator();
                ui.weak("Computes only; it never says that a train may run")
                    .on_hover_text(super::start::CAUTION);
                works_ui(ui, shown, requests);
                if shown.judged == Judged::AsLoaded {
                    ui.separator();
                    ui.colored_label(shown.theme.color(Role::Near), AS_LOADED);
                }
                ui.with_layout(egui::Layout::left_to_right(egui::Align::Center), |ui| {
                    let refused = shown.preview.and_then(|preview| preview.refused.as_ref());
                    match refused {
                        Some(why) => {
                            let color = shown.theme.color(Role::Fail);
                            ui.add(egui::Label::new(egui::RichText::new(why).color(color)).truncate());
                        }
                        None => {
                            ui.add(egui::Label::new(&self.said).truncate());
                        }
                    }
                });
            });
        });
    }
}

/// Yard list over details at the left, findings at the right.
fn sides_ui(
    ui: &mut Ui,
    shown: &Shown<'_>,
    (canvas, panels, panes): (&mut Canvas, &mut Panels, &mut Panes),
    requests: &mut Vec<Request>,
) {
    let window = ui.ctx().content_rect().size();
    // What stands at the sides of a narrow window leaves the middle room for its views.
    let narrow = window.x < NARROW_POINTS;
    let width = if narrow { 236.0 } else { (window.x * 0.16).clamp(246.0, 330.0) };
    let left = panes.panel(ui.ctx(), LEFT, width).show(ui, |ui| {
        // The more waits in the yard list, the less is left for the details.
        let (placed, ordered) = (shown.plan.placements.len(), shown.plan.order.len());
        let (details, share) = match ordered {
            0 => (DETAILS[0], 0.3),
            _ if placed < ordered => (DETAILS[1], 0.44),
            _ => (DETAILS[2], 0.72),
        };
        // In a low window the head of the yard list needs more than its share.
        let height = (ui.available_height() * share).min((ui.available_height() - YARD_POINTS).max(60.0));
        let panel = panes.panel(ui.ctx(), details, height);
        let drawn = panel
            .frame(Frame::new().inner_margin(egui::Margin { top: 6, ..Default::default() }))
            .show(ui, |ui| {
                inspector_ui(ui, shown, requests);
            });
        panes.drawn(ui.ctx(), details, drawn.response.rect);
        canvas.yard_lies_at(ui.available_rect_before_wrap());
        CentralPanel::no_frame().show(ui, |ui| panels.yard.ui(ui, shown, requests));
    });
    panes.drawn(ui.ctx(), LEFT, left.response.rect);
    let width = if Panes::is_narrow(ui.ctx()) {
        226.0
    } else if narrow {
        250.0
    } else {
        (window.x * 0.2).clamp(312.0, 430.0)
    };
    let right = panes.panel(ui.ctx(), FINDINGS, width).show(ui, |ui| {
        panels.findings.ui(ui, shown, requests);
    });
    panes.drawn(ui.ctx(), FINDINGS, right.response.rect);
}

/// Whether the two strings of a pair move as one, to be switched.
fn pairs_ui(ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
    let mut as_one = shown.pairs == Pairs::AsOne;
    let keys = Command::PairsAsOne.keys().join(", ");
    let words = format!(
        "A pair is two strings alike in section and length that lie as mirror images. While this is on, moving one \
         moves the other with it; Shift while dragging moves one alone. ({keys})"
    );
    if ui.checkbox(&mut as_one, "Pairs move as one").on_hover_text(words).changed() {
        requests.push(Request::Command(Command::PairsAsOne));
    }
}

/// What is being worked out beside the window, how far it is, and a button to call it off.
fn works_ui(ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
    for work in shown.works.seen() {
        let cancel = ui.small_button("Cancel").on_hover_text("Call this off");
        if cancel.accessible_name(format!("Cancel: {}", work.what)).clicked() {
            requests.push(Request::CallOff(work.number));
        }
        match work.share {
            Some(share) => {
                ui.add(egui::ProgressBar::new(share).desired_width(90.0).desired_height(12.0));
            }
            None => {
                ui.add(egui::Spinner::new().size(14.0));
            }
        }
        ui.label(work.what);
    }
}

/// The drawn train above, rack face and tables below.
fn train_ui(
    ui: &mut Ui,
    shown: &Shown<'_>,
    (canvas, panels, panes): (&mut Canvas, &mut Panels, &mut Panes),
    requests: &mut Vec<Request>,
) {
    let window = ui.ctx().content_rect().size();
    let both = panes.shows_both(ui.ctx());
    // On a large screen the train needs no more than its rows; tables and rack face take the rest.
    let share = match (both, window.y > 1_100.0) {
        (true, _) => 0.4,
        (false, true) => 0.54,
        (false, false) => 0.46,
    };
    let lower = (ui.available_height() * share).max(180.0);
    let drawn = panes.panel(ui.ctx(), LOWER, lower).show(ui, |ui| {
        ui.set_min_height(ui.available_height());
        lower_ui(ui, shown, (canvas, &mut panels.tables, panes), requests);
    });
    panes.drawn(ui.ctx(), LOWER, drawn.response.rect);
    let ground = Frame::new().fill(shown.theme.color(Role::Canvas));
    CentralPanel::no_frame().frame(ground).show(ui, |ui| {
        if shown.figures.consist.vehicles.is_empty() {
            first_steps_ui(ui, shown, requests);
            return;
        }
        let deck_plan = &mut panels.views.deck_plan;
        if both {
            let half = (ui.available_height() * 0.48).max(DECK.least);
            let deck = panes.panel(ui.ctx(), DECK, half).frame(Frame::new());
            let deck = deck.show(ui, |ui| deck_plan.ui(ui, shown, canvas, requests));
            panes.drawn(ui.ctx(), DECK, deck.response.rect);
            CentralPanel::no_frame().show(ui, |ui| canvas.train_side_ui(ui, shown, requests));
        } else if panels.views.view == View::DeckPlan {
            deck_plan.ui(ui, shown, canvas, requests);
        } else {
            canvas.train_side_ui(ui, shown, requests);
        }
    });
}

/// The lower middle: tabs, and under them the rack face beside figures, or a form over the whole width.
fn lower_ui(
    ui: &mut Ui,
    shown: &Shown<'_>,
    (canvas, tables, panes): (&mut Canvas, &mut Tables, &mut Panes),
    requests: &mut Vec<Request>,
) {
    tables.tabs_ui(ui, shown, requests);
    ui.separator();
    // A form takes the whole width unless there is plenty of it.
    if tables.tab.is_figures() || ui.available_width() > 1_100.0 {
        // As wide as a rack face of this height can use, and never more than its part.
        let least = (ui.available_width() * 0.37).clamp(200.0, 560.0);
        let most = if ui.available_width() > 1_100.0 { ui.available_width() * 0.42 } else { least };
        let width = (ui.available_height() * 1.3).clamp(least, most.max(least));
        let face = panes.following_panel(ui.ctx(), FACE, width).show(ui, |ui| {
            canvas.rack_face_ui(ui, shown, requests);
        });
        panes.drawn(ui.ctx(), FACE, face.response.rect);
    }
    CentralPanel::no_frame()
        .frame(Frame::new().inner_margin(4))
        .show(ui, |ui| tables.ui(ui, shown, requests));
}
