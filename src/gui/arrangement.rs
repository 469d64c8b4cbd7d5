//! What lies where in the window: bars, panels and views, and the sizes that they begin with.

use super::canvas::{Canvas, Pairs};
use super::panels::first_steps::first_steps_ui;
use super::panels::inspector::inspector_ui;
use super::panels::strip::strip_ui;
use super::panels::tables::Tables;
use super::panels::top_bar::top_bar_ui;
use super::views::View;
use super::workbench::Panels;
use super::{Command, Request, Role, Shown, Theme, Workbench};
use egui::{CentralPanel, Frame, Panel, Ui};

impl Workbench {
    /// Draws the plan's views and panels.
    pub(super) fn plan_ui(&mut self, ui: &mut Ui, theme: &Theme, requests: &mut Vec<Request>) {
        // Views and panels are taken out, so that they can be drawn while what they show is borrowed.
        let mut canvas = std::mem::take(&mut self.canvas);
        let mut panels = std::mem::take(&mut self.panels);
        let name = self.document.file_name();
        let shown = self.shown(theme, &name);
        Panel::top("top bar").show(ui, |ui| top_bar_ui(ui, &shown, &self.start, requests));
        Panel::bottom("status line").exact_size(24.0).show(ui, |ui| self.status_ui(ui, &shown, requests));
        // Another size of window is another arrangement: each keeps the sizes that the user gave it.
        let window = ui.ctx().content_rect().size();
        let class = ((window.x / 320.0) as i32, (window.y / 200.0) as i32);
        let height = (window.y * 0.15).clamp(118.0, 200.0);
        Panel::bottom(("states", class)).resizable(true).default_size(height).min_size(84.0).show(ui, |ui| {
            // A panel shrinks to what it holds unless told to stay as large as it is.
            ui.set_min_height(ui.available_height());
            strip_ui(ui, &shown, requests);
        });
        let width = (window.x * 0.16).clamp(246.0, 330.0);
        Panel::left(("left", class)).resizable(true).default_size(width).min_size(180.0).show(ui, |ui| {
            // The more waits in the yard list, the less is left for the details.
            let (placed, ordered) = (shown.plan.placements.len(), shown.plan.order.len());
            let percent: u8 = match ordered {
                0 => 30,
                _ if placed < ordered => 44,
                _ => 72,
            };
            let height = ui.available_height() * f32::from(percent) / 100.0;
            let details = Panel::bottom(("details", class, percent)).resizable(true);
            let details = details.default_size(height).min_size(60.0);
            details.frame(Frame::new().inner_margin(egui::Margin { top: 6, ..Default::default() })).show(
                ui,
                |ui| {
                    inspector_ui(ui, &shown, requests);
                },
            );
            canvas.yard_lies_at(ui.available_rect_before_wrap());
            CentralPanel::no_frame().show(ui, |ui| panels.yard.ui(ui, &shown, requests));
        });
        let width = (window.x * 0.2).clamp(312.0, 430.0);
        Panel::right(("findings", class)).resizable(true).default_size(width).min_size(220.0).show(
            ui,
            |ui| {
                panels.findings.ui(ui, &shown, requests);
            },
        );
        CentralPanel::no_frame().show(ui, |ui| {
            Panel::top("views").frame(Frame::new().inner_margin(egui::Margin::symmetric(6, 3))).show(
                ui,
                |ui| {
                    panels.views.tabs_ui(ui, &shown);
                },
            );
            if panels.views.view.is_of_the_train() {
                train_ui(ui, &shown, (&mut canvas, &mut panels), requests);
            } else {
                panels.views.ui(ui, &shown, requests);
            }
        });
        canvas.drag_ui(ui, &shown, requests);
        self.canvas = canvas;
        self.panels = panels;
    }

    fn status_ui(&self, ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
        ui.horizontal_centered(|ui| {
            ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                pairs_ui(ui, shown, requests);
                ui.separator();
                ui.weak("Computes only; it never says that a train may run")
                    .on_hover_text(super::start::CAUTION);
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

/// The drawn train above, rack face and tables below.
fn train_ui(ui: &mut Ui, shown: &Shown<'_>, parts: (&mut Canvas, &mut Panels), requests: &mut Vec<Request>) {
    let (canvas, panels) = parts;
    // Another size of window is another arrangement: each keeps the sizes that the user gave it.
    let window = ui.ctx().content_rect().size();
    let class = ((window.x / 320.0) as i32, (window.y / 200.0) as i32);
    // On a large screen the train needs no more than its rows; tables and rack face take the rest.
    let share = if window.y > 1_100.0 { 0.54 } else { 0.46 };
    let lower = (ui.available_height() * share).max(180.0);
    Panel::bottom(("lower", class)).resizable(true).default_size(lower).min_size(90.0).show(ui, |ui| {
        ui.set_min_height(ui.available_height());
        lower_ui(ui, shown, (canvas, &mut panels.tables), requests);
    });
    let ground = Frame::new().fill(shown.theme.color(Role::Canvas));
    CentralPanel::no_frame().frame(ground).show(ui, |ui| {
        if shown.figures.consist.vehicles.is_empty() {
            first_steps_ui(ui, shown, requests);
        } else if panels.views.view == View::DeckPlan {
            panels.views.deck_plan.ui(ui, shown, canvas, requests);
        } else {
            canvas.train_side_ui(ui, shown, requests);
        }
    });
}

/// The lower middle: tabs, and under them the rack face beside figures, or a form over the whole width.
fn lower_ui(ui: &mut Ui, shown: &Shown<'_>, parts: (&mut Canvas, &mut Tables), requests: &mut Vec<Request>) {
    let (canvas, tables) = parts;
    tables.tabs_ui(ui, shown);
    ui.separator();
    // A form takes the whole width unless there is plenty of it.
    if tables.tab.is_figures() || ui.available_width() > 1_100.0 {
        // As wide as a rack face of this height can use, and never more than its part.
        let least = (ui.available_width() * 0.37).clamp(200.0, 560.0);
        let most = if ui.available_width() > 1_100.0 { ui.available_width() * 0.42 } else { least };
        let width = (ui.available_height() * 1.3).clamp(least, most.max(least));
        Panel::left(("rack face", (width / 40.0) as i32))
            .resizable(true)
            .default_size(width)
            .min_size(140.0)
            .show(ui, |ui| {
                canvas.rack_face_ui(ui, shown, requests);
            });
    }
    CentralPanel::no_frame()
        .frame(Frame::new().inner_margin(4))
        .show(ui, |ui| tables.ui(ui, shown, requests));
}
