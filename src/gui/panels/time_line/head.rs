//! The line above the time line: the state shown, play and pause, which checks have tracks, what the lines mean.

use super::TimeLine;
use crate::checks::{Comparison, Finding, Outcome, StateUse};
use crate::gui::panels::findings::title_of;
use crate::gui::panels::mark::{mark_ui, paint_mark};
use crate::gui::{Command, Request, Role, Shown};
use crate::statics::StateRule;
use egui::containers::menu::{MenuButton, MenuConfig};
use egui::{PopupCloseBehavior, RichText, ScrollArea, Sense, Ui, vec2};
use std::time::Duration;

/// How long each state is shown while they are played, in s.
const PACE_S: f64 = 0.5;
/// Room that the names of the lines take.
const LEGEND_POINTS: f32 = 420.0;
/// The line of the worst use; limits on places, which no state changes, have no part in it.
pub(super) const USE_WORDS: &str = "worst use of a load limit";
/// The line of the wheels.
pub(super) const WHEEL_WORDS: &str = "worst wheel ratio of its limit";

/// Whether the states are played one after the other.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) enum Playing {
    /// They are not.
    #[default]
    No,
    /// They will be with the next frame.
    Begins,
    /// `state` is shown until the clock of the frames stands at `until_s`.
    Shows { state: usize, until_s: f64 },
}

impl TimeLine {
    /// Plays the states from the one shown on, from departure where it is the last; or stops that.
    pub(in crate::gui) fn play_or_pause(&mut self) {
        self.playing = if self.playing == Playing::No { Playing::Begins } else { Playing::No };
    }

    pub(super) fn play(&mut self, ui: &Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
        let now_s = ui.input(|input| input.time);
        let last = shown.settled.states.len().saturating_sub(1);
        let until_s = now_s + PACE_S;
        self.playing = match self.playing {
            Playing::No => return,
            Playing::Begins if last == 0 => Playing::No,
            Playing::Begins if shown.state == last => {
                requests.push(Request::ShowState(0));
                Playing::Shows { state: 0, until_s }
            }
            Playing::Begins => Playing::Shows { state: shown.state, until_s },
            // Whoever chooses a state wants to look at it.
            Playing::Shows { state, .. } if state != shown.state => Playing::No,
            Playing::Shows { state, .. } if state == last => Playing::No,
            Playing::Shows { state, until_s: due_s } if now_s >= due_s => {
                requests.push(Request::ShowState(state + 1));
                Playing::Shows { state: state + 1, until_s }
            }
            waits => waits,
        };
        if let Playing::Shows { until_s, .. } = self.playing {
            ui.ctx().request_repaint_after(Duration::from_secs_f64((until_s - now_s).max(0.0)));
        }
    }

    pub(super) fn head_ui(&mut self, ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
        ui.horizontal(|ui| {
            ui.heading("States");
            self.buttons_ui(ui, shown, requests);
            self.tracks_menu_ui(ui, shown);
            state_ui(ui, shown);
            // Without room the lines go unnamed here; their names stand in the hover.
            if ui.available_width() > LEGEND_POINTS {
                legend_ui(ui, shown);
            }
        });
    }

    fn buttons_ui(&mut self, ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
        let last = shown.settled.states.len().saturating_sub(1);
        let before = ui.add_enabled(shown.state > 0, egui::Button::new("◀")).accessible_name("State before");
        if before.on_hover_text("State before ( [ )").clicked() {
            requests.push(Request::ShowState(shown.state.saturating_sub(1)));
        }
        let after = ui.add_enabled(shown.state < last, egui::Button::new("▶")).accessible_name("State after");
        if after.on_hover_text("State after ( ] )").clicked() {
            requests.push(Request::ShowState(shown.state + 1));
        }
        let plays = self.playing != Playing::No;
        let button = ui.add_enabled(last > 0, egui::Button::new(if plays { "Pause" } else { "Play" }));
        let name = if plays { "Pause the states" } else { "Play the states" };
        let keys = Command::PlayStates.keys().into_iter().next().unwrap_or_default();
        let why = format!("One state after the other, to the end ({keys})");
        if button.accessible_name(name).on_hover_text(why).clicked() {
            self.play_or_pause();
        }
    }

    /// The checks that tell of states, the worst first, each to be chosen as a track.
    fn tracks_menu_ui(&mut self, ui: &mut Ui, shown: &Shown<'_>) {
        let words = match self.tracks.len() {
            0 => "Tracks".to_owned(),
            count => format!("Tracks ({count})"),
        };
        let config = MenuConfig::new().close_behavior(PopupCloseBehavior::CloseOnClickOutside);
        let (button, _) = MenuButton::new(words).config(config).ui(ui, |ui| {
            ui.set_width(300.0);
            ui.weak("Checks to draw over the states");
            let mut checks: Vec<_> = shown.settled_assessment.by_state.iter().collect();
            let used = |used: Option<f64>| used.unwrap_or(f64::NEG_INFINITY);
            checks.sort_by(|a, b| {
                a.worst().cmp(&b.worst()).then(used(b.most_used()).total_cmp(&used(a.most_used())))
            });
            ScrollArea::vertical().max_height(320.0).show(ui, |ui| {
                for of in checks {
                    ui.horizontal(|ui| {
                        of.worst().map(|outcome| mark_ui(ui, outcome));
                        let mut on = self.tracks.contains(&of.check.id);
                        if ui.checkbox(&mut on, of.check.title).changed() {
                            self.remove_track(of.check.id);
                            self.tracks.extend(on.then_some(of.check.id));
                        }
                        ui.weak(used_words(of.most_used()));
                    });
                }
            });
        });
        button.accessible_name("Tracks").on_hover_text("Draw checks as tracks of their own over the states");
    }

    /// Takes a track away.
    pub(super) fn remove_track(&mut self, check: &'static str) {
        self.tracks.retain(|track| *track != check);
    }
}

/// The share of a limit in words, or nothing.
pub(super) fn used_words(used: Option<f64>) -> String {
    match used {
        None => String::new(),
        Some(share) if share < 10.0 => format!("{:.0} %", share * 100.0),
        Some(_) => "far over".to_owned(),
    }
}

fn state_ui(ui: &mut Ui, shown: &Shown<'_>) {
    let Some(state) = shown.settled.states.get(shown.state) else { return };
    ui.strong(state.title(&shown.settled.plan));
    ui.weak(rule_words(state.rule));
    ui.weak(format!("{} of {}", shown.state + 1, shown.settled.states.len()));
    if let Some((outcome, check, used)) = worst_of_state(shown) {
        let (rect, _) = ui.allocate_exact_size(vec2(14.0, 14.0), Sense::hover());
        paint_mark(ui.painter(), rect.center(), outcome, *shown.theme);
        let words = format!("{} {}", title_of(check), used_words(used));
        ui.add(egui::Label::new(RichText::new(words).weak()).truncate());
    }
}

/// The worst that is said of the state shown, also by checks that say the same of every state; else what is used most
/// in it.
fn worst_of_state(shown: &Shown<'_>) -> Option<(Outcome, &'static str, Option<f64>)> {
    let assessment = shown.settled_assessment;
    // A string that is not placed yet is no matter of a state; a limit that is broken in all of them is.
    let everywhere = |finding: &Finding| finding.states.is_empty() && finding.comparison.is_some();
    let here = |finding: &&Finding| everywhere(finding) || finding.states.contains(&shown.state);
    let open = assessment.findings.iter().filter(|finding| finding.is_open()).find(here);
    let used = |finding: &Finding| finding.comparison.map(Comparison::utilisation);
    let open = open.map(|finding| (finding.outcome, finding.check.id, used(finding)));
    let told = assessment.in_state(shown.state).into_iter().find(|(_, told)| is_worth_telling(told));
    // The mark and the share are of the same thing.
    let told = told.map(|(check, told)| (told.outcome, check.id, told.worst_used()));
    match (open, told) {
        // What changes from state to state is what the time line tells of, where it is as bad.
        (Some(open), Some(told)) => Some(if told.0 <= open.0 { told } else { open }),
        (open, told) => open.or(told),
    }
}

/// Whether it compares something, or breaks a rule without numbers.
pub(super) fn is_worth_telling(told: &StateUse) -> bool {
    told.worst_used().is_some() || told.outcome == Outcome::Fail
}

/// By which values a state is judged.
pub(super) fn rule_words(rule: StateRule) -> &'static str {
    match rule {
        StateRule::Running => "judged by running values",
        StateRule::Working => "judged by working values",
        StateRule::NoteOnly => "half of a pair that leaves together: noted only",
    }
}

fn legend_ui(ui: &mut Ui, shown: &Shown<'_>) {
    ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
        for (words, role, dashed) in [
            ("limit (100 %)", Role::Text, true),
            (WHEEL_WORDS, Role::OtherString, true),
            (USE_WORDS, Role::Accent, false),
        ] {
            ui.label(RichText::new(words).small());
            let (rect, _) = ui.allocate_exact_size(vec2(22.0, 10.0), Sense::hover());
            let line = egui::Stroke::new(1.8, shown.theme.color(role));
            let ends = [rect.left_center(), rect.right_center()];
            if dashed {
                let gap = if role == Role::Text { 2.0 } else { 4.0 };
                ui.painter().extend(egui::Shape::dashed_line(&ends, line, 4.0, gap));
            } else {
                ui.painter().line_segment(ends, line);
            }
        }
    });
}
