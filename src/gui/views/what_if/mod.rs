//! What if: the trainee turns a slider over a scratch copy and sees the loads answer.
//!
//! The copy is of the open plan, or of a small teaching train; nothing here changes the open plan but "Take into the
//! plan", which is one step of undo.

mod axes;
mod bench;
mod course;
mod knobs;
mod marks;
mod pictures;
mod plots;

use super::super::panels::working::{How, Workings};
use crate::gui::samples::teaching_train;
use crate::gui::{Request, Role, Shown};
use crate::model::Plan;
use crate::planning::what_if::Knob;
use bench::{Bench, Over, States};
use course::Course;
use egui::{Button, CentralPanel, Frame, Key, Margin, Modifiers, Panel, RichText, ScrollArea, Ui};
use plots::{Chart, charts_ui};
use std::sync::Arc;

/// Width of the sliders in points.
const KNOBS_POINTS: f32 = 232.0;
const NARROW_KNOBS_POINTS: f32 = 206.0;
/// In a view narrower than this the head line has fewer words.
const NARROW_POINTS: f32 = 640.0;
/// From this height on all plots are shown with an exercise, not only those that it is about.
const ALL_CHARTS_POINTS: f32 = 620.0;
/// Below this height the pictures have no room under the plots.
const PICTURES_POINTS: f32 = 380.0;
/// From this width of the view on a working stands beside the plots, not in their place.
const BESIDE_POINTS: f32 = 1_150.0;

/// What the scratch copy is of.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum Origin {
    /// The open plan.
    #[default]
    Open,
    /// The teaching train.
    Teaching,
    /// The train of an exercise.
    Exercise,
}

/// The view's own state.
#[derive(Debug, Default)]
pub(in crate::gui) struct WhatIf {
    origin: Origin,
    bench: Option<Bench>,
    pub(in crate::gui) course: Course,
    workings: Workings,
    /// Whether a working is shown.
    asked: bool,
}

impl WhatIf {
    /// Goes to the exercises.
    pub(in crate::gui) fn show_exercises(&mut self) {
        if self.origin != Origin::Exercise {
            (self.origin, self.bench, self.asked) = (Origin::Exercise, None, false);
        }
    }

    /// Draws the view into all of `ui`.
    pub(in crate::gui) fn ui(&mut self, ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
        self.follow(&shown.settled.plan);
        let head = Frame::new().fill(shown.theme.color(Role::Panel)).inner_margin(Margin::symmetric(6, 3));
        Panel::top("what if head").frame(head).show(ui, |ui| self.head_ui(ui, shown, requests));
        self.exercise_ui(ui, shown, requests);
        let Some(bench) = &mut self.bench else {
            CentralPanel::default().show(ui, |ui| self.empty_ui(ui));
            return;
        };
        if bench.work() {
            ui.ctx().request_repaint();
        }
        let side = Frame::new().fill(shown.theme.color(Role::Panel)).inner_margin(Margin::symmetric(8, 6));
        let width = if ui.available_width() < NARROW_POINTS { NARROW_KNOBS_POINTS } else { KNOBS_POINTS };
        Panel::left("what if knobs").frame(side).exact_size(width).resizable(false).show(ui, |ui| {
            ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
                // Room for the bar that comes while it scrolls.
                ui.set_max_width(ui.available_width() - 8.0);
                self.knobs_ui(ui, shown);
            });
        });
        self.answers_ui(ui, shown, requests);
    }

    /// Begins anew where the open plan was changed and nothing tried would be lost by it.
    fn follow(&mut self, open: &Arc<Plan>) {
        if self.origin == Origin::Open {
            let stale = match &self.bench {
                Some(bench) if Arc::ptr_eq(bench.scratch().base(), open) => false,
                Some(bench) => !bench.scratch().is_turned() || *bench.scratch().plan() == **open,
                None => true,
            };
            if stale {
                self.begin(open);
            }
        } else if self.bench.is_none() {
            self.begin(open);
        }
    }

    /// Takes a new copy of what the copy is of; keeps what the plots run over and what is looked at.
    fn begin(&mut self, open: &Arc<Plan>) {
        let before = self.bench.take().map(|bench| bench.over);
        self.bench = match self.origin {
            Origin::Open => Bench::of(Arc::clone(open), States::Departure),
            Origin::Teaching => Bench::of(teaching_train(), States::Departure),
            Origin::Exercise => self.course.exercise().and_then(Bench::of_exercise),
        };
        if self.origin == Origin::Exercise {
            return;
        }
        if let (Some(bench), Some(over)) = (&mut self.bench, before) {
            bench.run_over(over);
        }
    }

    fn head_ui(&mut self, ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
        ui.horizontal(|ui| {
            let narrow = ui.available_width() < NARROW_POINTS;
            if !narrow {
                ui.weak("Scratch copy of");
            }
            let (solved, count) = self.course.progress();
            let exercises = match narrow {
                true => "exercises".to_owned(),
                false => format!("exercises ({solved} of {count})"),
            };
            let origins = [
                (Origin::Open, "the open plan"),
                (Origin::Teaching, "the teaching train"),
                (Origin::Exercise, exercises.as_str()),
            ];
            for (origin, words) in origins {
                if ui.selectable_label(self.origin == origin, words).clicked() && self.origin != origin {
                    self.origin = origin;
                    self.bench = None;
                    self.asked = false;
                    self.follow(&shown.settled.plan);
                }
            }
            if !narrow {
                ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                    self.buttons_ui(ui, shown, requests);
                });
            }
        });
        // A line of their own where both have no room in one.
        if ui.available_width() < NARROW_POINTS {
            ui.horizontal(|ui| self.buttons_ui(ui, shown, requests));
        }
    }

    fn buttons_ui(&mut self, ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
        let turned = self.bench.as_ref().is_some_and(|bench| bench.scratch().is_turned());
        let of_now = |bench: &Bench| Arc::ptr_eq(bench.scratch().base(), &shown.settled.plan);
        if self.origin == Origin::Open {
            let edit =
                self.bench.as_ref().filter(|bench| of_now(bench)).and_then(|bench| bench.scratch().edit());
            let take = ui.add_enabled(edit.is_some(), Button::new("Take into the plan"));
            let take = take
                .on_hover_text("Make the open plan what the scratch copy is, as one step that can be undone")
                .on_disabled_hover_text("Nothing was turned, or the open plan has changed since");
            if take.clicked() {
                requests.extend(edit.map(Request::Edit));
            }
        }
        let stale = self.origin == Origin::Open && self.bench.as_ref().is_some_and(|bench| !of_now(bench));
        let again = ui.add_enabled(turned || stale, Button::new("Start again"));
        if again.on_hover_text("A fresh copy: what was tried here is let go").clicked() {
            self.begin(&shown.settled.plan);
        }
        if stale {
            let words = RichText::new("the plan has changed since").color(shown.theme.color(Role::Near));
            ui.add(egui::Label::new(words).truncate());
        } else if turned {
            ui.add(egui::Label::new(RichText::new("turned, the plan itself is as it was").weak()).truncate());
        }
    }

    fn empty_ui(&mut self, ui: &mut Ui) {
        ui.vertical_centered(|ui| {
            ui.add_space(ui.available_height() * 0.25);
            ui.heading("Nothing lies on this train yet");
            ui.label(
                "There is nothing to turn. Place a string, or try it on a small train made for learning.",
            );
            ui.add_space(8.0);
            if ui.button("Use the teaching train").clicked() {
                self.origin = Origin::Teaching;
            }
        });
    }

    fn knobs_ui(&mut self, ui: &mut Ui, shown: &Shown<'_>) {
        let Some(bench) = &mut self.bench else { return };
        let exercise = self.course.exercise().filter(|_| self.origin == Origin::Exercise);
        knobs::states_ui(ui, bench);
        let before = Arc::clone(&bench.figures.plan);
        let knobs = exercise.map_or(&Knob::ALL[..], |exercise| &exercise.knobs);
        knobs::knobs_ui(ui, shown, bench, knobs);
        if !Arc::ptr_eq(&before, &bench.figures.plan) {
            self.course.answer_changed();
        }
        if !knobs.is_empty() {
            ui.add_space(4.0);
            ui.separator();
        }
        knobs::focus_ui(ui, bench);
        if exercise.is_some_and(|exercise| !self.course.is_solved(exercise)) {
            // What the curves show would be the answer.
            return;
        }
        ui.separator();
        ui.strong("What the curves show");
        for text in bench.told() {
            ui.add(egui::Label::new(text.show(shown.style)).wrap());
            ui.add_space(2.0);
        }
    }

    /// The exercise over everything else, where one is done.
    fn exercise_ui(&mut self, ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
        if self.origin != Origin::Exercise {
            return;
        }
        let frame = Frame::new().fill(shown.theme.color(Role::Faint)).inner_margin(Margin::symmetric(10, 6));
        // As high as what stands in it, but the train must be seen as well.
        let height = (self.course.height + 14.0).clamp(90.0, (ui.available_height() * 0.55).max(120.0));
        let mut wishes = Vec::new();
        let (course, bench) = (&mut self.course, self.bench.as_ref());
        let panel = Panel::top("what if exercise").frame(frame).resizable(false).exact_size(height);
        let moved = panel.show(ui, |ui| course.ui(ui, shown, bench, &mut wishes)).inner;
        if moved {
            self.asked = false;
            self.begin(&shown.settled.plan);
        }
        self.grant(wishes, requests);
    }

    /// Plots and pictures, and the working of what was asked.
    fn answers_ui(&mut self, ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
        let Some(bench) = &self.bench else { return };
        let exercise = self.course.exercise().filter(|_| self.origin == Origin::Exercise);
        let scratch = bench.shown(shown);
        let mut wishes = Vec::new();
        let mut asked = self.asked;
        if asked {
            let wide = ui.available_width() > BESIDE_POINTS - KNOBS_POINTS;
            let frame = Frame::new().fill(shown.theme.color(Role::Panel)).inner_margin(8);
            let workings = &mut self.workings;
            let mut draw = |ui: &mut Ui| {
                asked = !working_ui(ui, &scratch, workings, &mut wishes);
            };
            if wide {
                let width = ui.available_width() * 0.42;
                Panel::right("what if working").frame(frame).exact_size(width).show(ui, |ui| draw(ui));
            } else {
                CentralPanel::no_frame().frame(frame).show(ui, |ui| draw(ui));
            }
            if !wide {
                self.asked = asked;
                self.grant(wishes, requests);
                return;
            }
        }
        let frame = Frame::new().fill(shown.theme.color(Role::Canvas)).inner_margin(Margin::symmetric(8, 4));
        let all = exercise.is_none() || ui.available_height() >= ALL_CHARTS_POINTS;
        let charts = match exercise.filter(|_| !all) {
            Some(exercise) => Chart::of_exercise(exercise),
            None => Chart::ALL.to_vec(),
        };
        let drawn = CentralPanel::no_frame().frame(frame).show(ui, |ui| {
            let high = ui.available_height();
            let picture = (high * 0.27).clamp(80.0, 300.0);
            // Where both have no room, the plots take it, and the pictures come by scrolling.
            let plots = if high < PICTURES_POINTS { high } else { high - picture - 6.0 };
            ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
                let done = charts_ui(ui, &scratch, bench, (&charts, plots));
                pictures::pictures_ui(ui, &scratch, picture);
                done
            })
        });
        let done = drawn.inner.inner;
        let plotted = charts.iter().flat_map(|chart| chart.series()).copied().collect();
        if let Some(bench) = &mut self.bench
            && bench.draws(plotted)
        {
            ui.ctx().request_repaint();
        }
        self.asked = asked;
        if let Some(question) = done.asked {
            wishes.push(Request::ShowWorking(How::Figure(question)));
        }
        if let (Some(value), Some(bench)) = (done.chosen, &mut self.bench) {
            match bench.over {
                Over::Knob(knob) if exercise.is_some_and(|exercise| !exercise.knobs.contains(&knob)) => {}
                Over::Knob(knob) => bench.turn(knob, value),
                Over::States => bench.show_state(usize::try_from(value).unwrap_or_default()),
            }
        }
        self.grant(wishes, requests);
    }

    /// Takes what concerns the scratch copy, and hands on what concerns the window.
    fn grant(&mut self, wishes: Vec<Request>, requests: &mut Vec<Request>) {
        for wish in wishes {
            match wish {
                Request::ShowWorking(how) => {
                    self.workings.ask(how);
                    self.asked = true;
                }
                Request::Say(_) => requests.push(wish),
                // Things of the scratch copy are none of the open plan's.
                _ => {}
            }
        }
    }
}

/// Draws the working; whether it is to be put away.
fn working_ui(ui: &mut Ui, scratch: &Shown<'_>, workings: &mut Workings, wishes: &mut Vec<Request>) -> bool {
    let mut away = !ui.ctx().text_edit_focused()
        && ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::Escape));
    ui.horizontal(|ui| {
        ui.strong("How it came about");
        ui.weak("in the scratch copy");
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            away |= ui.button("Close").on_hover_text("Back to the plots (Esc)").clicked();
        });
    });
    ui.separator();
    workings.ui(ui, scratch, wishes);
    away
}
