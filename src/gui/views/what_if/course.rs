//! The exercises: one at a time, with its question, help, the answer, what the engine says to it, and what follows.

use super::bench::Bench;
use crate::checks::Outcome;
use crate::gui::fields::{Spec, give_focus_to_next, some_quantity_ui, take_focus};
use crate::gui::panels::mark::mark_ui;
use crate::gui::panels::working::How;
use crate::gui::samples::exercises;
use crate::gui::{Request, Role, Shown, focus};
use crate::model::{Answer, Exercise, Measured};
use crate::planning::exercises::{Given, Marked, mark};
use crate::units::{Piece, QuantityKind, Style, Text};
use crate::working::questions;
use egui::{Key, RichText, ScrollArea, Ui};
use std::collections::{BTreeMap, BTreeSet};

/// Where a trainee is in the exercises.
#[derive(Debug, Default)]
pub(in crate::gui) struct Course {
    /// The exercise shown, by index.
    pub(super) at: usize,
    /// By id: those answered rightly.
    solved: BTreeSet<String>,
    /// How many hints of the exercise shown are open.
    hints: usize,
    /// The figure typed, in its SI unit.
    typed: Option<f64>,
    chosen: Option<usize>,
    /// What was said to the last answer; the answers given before stay with their exercises.
    marked: BTreeMap<String, Marked>,
    /// Where the keyboard goes with the next frame.
    focus: Option<Goes>,
    /// Height of all that was drawn last, in points: the panel is as high as that.
    pub(super) height: f32,
}

/// A place that the keyboard goes to by itself, so that whoever works by keys need not look for it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Goes {
    /// On to the next exercise, once this one is answered.
    On,
    /// To the answer of an exercise just gone to.
    ToAnswer,
}

impl Course {
    /// The exercise shown.
    pub(super) fn exercise(&self) -> Option<&'static Exercise> {
        exercises().get(self.at)
    }

    /// Whether an exercise is solved, now or in a session before.
    pub(super) fn is_solved(&self, exercise: &Exercise) -> bool {
        self.solved.contains(&exercise.id)
    }

    /// How many are solved, of how many.
    pub(super) fn progress(&self) -> (usize, usize) {
        let solved = exercises().iter().filter(|exercise| self.solved.contains(&exercise.id));
        (solved.count(), exercises().len())
    }

    /// What is kept between sessions: the ids of those solved.
    pub(in crate::gui) fn kept(&self) -> String {
        self.solved.iter().cloned().collect::<Vec<_>>().join(" ")
    }

    /// Takes up what was kept in a session before.
    pub(in crate::gui) fn take_up(&mut self, kept: &str) {
        self.solved = kept.split_whitespace().map(str::to_owned).collect();
        // Best to go on with the first that is not solved yet.
        self.at = exercises().iter().position(|exercise| !self.solved.contains(&exercise.id)).unwrap_or(0);
    }

    /// Goes to another exercise.
    fn go_to(&mut self, at: usize) {
        (self.at, self.hints, self.typed, self.chosen) = (at, 0, None, None);
        self.focus = Some(Goes::ToAnswer);
    }

    /// Lets go of what was said, since the answer has changed.
    pub(super) fn answer_changed(&mut self) {
        if let Some(exercise) = self.exercise()
            && self.marked.get(&exercise.id).is_some_and(|marked| !marked.right)
        {
            self.marked.remove(&exercise.id);
        }
    }

    /// Draws the exercise; whether another one was gone to.
    pub(super) fn ui(
        &mut self,
        ui: &mut Ui,
        shown: &Shown<'_>,
        bench: Option<&Bench>,
        wishes: &mut Vec<Request>,
    ) -> bool {
        let before = self.at;
        let Some(exercise) = self.exercise() else { return false };
        let top = ui.cursor().top();
        self.steps_ui(ui, exercise);
        let head = ui.cursor().top() - top;
        if self.at != before {
            // Its train is not on the bench yet.
            ui.ctx().request_repaint();
            return true;
        }
        let scroll = ScrollArea::vertical().id_salt(&exercise.id).auto_shrink(false);
        let drawn = scroll.show(ui, |ui| {
            ui.add(egui::Label::new(words(&exercise.text, shown.style)).wrap());
            ui.add_space(2.0);
            let task = RichText::new(words(&exercise.task, shown.style)).strong();
            ui.add(egui::Label::new(task).wrap());
            ui.add_space(2.0);
            self.answer_ui(ui, shown, exercise, bench);
            self.said_ui(ui, shown, (exercise, bench), wishes);
        });
        let height = head + drawn.content_size.y + 2.0;
        if (height - self.height).abs() > 0.5 {
            self.height = height;
            ui.ctx().request_repaint();
        }
        false
    }

    /// The exercise's name among the others, and the ways to its neighbours.
    fn steps_ui(&mut self, ui: &mut Ui, exercise: &Exercise) {
        let count = exercises().len();
        ui.horizontal(|ui| {
            let before = ui.add_enabled(self.at > 0, egui::Button::new("◀"));
            if before.on_hover_text("Exercise before").accessible_name("Exercise before").clicked() {
                self.go_to(self.at - 1);
            }
            let after = ui.add_enabled(self.at + 1 < count, egui::Button::new("▶"));
            if after.on_hover_text("Next exercise").accessible_name("Next exercise").clicked() {
                self.go_to(self.at + 1);
            }
            let name = format!("{} of {count}: {}", self.number(exercise), exercise.title);
            let list = ui.menu_button(RichText::new(name).strong(), |ui| {
                for (at, other) in exercises().iter().enumerate() {
                    let done = if self.solved.contains(&other.id) { ", solved" } else { "" };
                    let words = format!("{}. {}{done}", at + 1, other.title);
                    if ui.selectable_label(at == self.at, words).clicked() {
                        self.go_to(at);
                        ui.close();
                    }
                }
            });
            list.response.accessible_name("Exercises").on_hover_text("All exercises");
            if self.solved.contains(&exercise.id) {
                mark_ui(ui, Outcome::Pass);
                ui.label("solved");
            }
            let (solved, count) = self.progress();
            ui.weak(format!("{solved} of {count} solved"));
            // Here it is in sight however long the explanation is.
            let right = self.marked.get(&exercise.id).is_some_and(|marked| marked.right);
            if right && self.at + 1 < count {
                ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                    let on = ui.button("Go on").on_hover_text("To the next exercise");
                    if self.focus == Some(Goes::On) {
                        self.focus = None;
                        on.request_focus();
                    }
                    if on.clicked() {
                        self.go_to(self.at + 1);
                    }
                });
            }
        });
    }

    fn number(&self, exercise: &Exercise) -> usize {
        exercises().iter().position(|other| other.id == exercise.id).map_or(0, |at| at + 1)
    }

    /// The field or the choices, and the buttons that have it marked and help.
    fn answer_ui(&mut self, ui: &mut Ui, shown: &Shown<'_>, exercise: &Exercise, bench: Option<&Bench>) {
        if self.focus == Some(Goes::ToAnswer) {
            self.focus = None;
            if focus::is_worked_by_keys(ui.ctx()) {
                give_focus_to_next(ui);
            }
        }
        if let Answer::Choice(choices) = &exercise.answer {
            for (at, choice) in choices.iter().enumerate() {
                let radio = ui.radio(self.chosen == Some(at), words(&choice.words, shown.style));
                take_focus(&radio);
                if radio.clicked() {
                    self.chosen = Some(at);
                    self.answer_changed();
                }
            }
        }
        ui.horizontal(|ui| {
            let mut entered = false;
            let given = match &exercise.answer {
                Answer::Figure { of, .. } => {
                    let kind = kind_of(of);
                    let spec = Spec::new("Your answer").wide(90.0).hint("type here");
                    if let Some(typed) = some_quantity_ui(ui, spec, (self.typed, kind), shown.style) {
                        self.typed = typed;
                        self.answer_changed();
                        entered = ui.input(|input| input.key_pressed(Key::Enter));
                    }
                    self.typed.map(Given::Figure)
                }
                Answer::Choice(_) => self.chosen.map(Given::Choice),
                Answer::Turned(_) => {
                    ui.weak("Set the sliders, then");
                    bench.map(|bench| Given::Turned(bench.scratch()))
                }
            };
            let check = ui.add_enabled(given.is_some(), egui::Button::new("Check the answer"));
            if given.is_some() {
                take_focus(&check);
            }
            let check = check.on_hover_text("The program's own engine tells whether it is right");
            if let Some(given) = given.filter(|_| check.clicked() || entered) {
                let marked = mark(exercise, given);
                if marked.right {
                    self.focus = focus::is_worked_by_keys(ui.ctx()).then_some(Goes::On);
                    self.solved.insert(exercise.id.clone());
                }
                self.marked.insert(exercise.id.clone(), marked);
            }
            let left = exercise.hints.len().saturating_sub(self.hints);
            let hint = ui.add_enabled(left > 0, egui::Button::new("Hint"));
            if hint.on_hover_text(format!("{left} more")).clicked() {
                self.hints += 1;
            }
        });
    }

    /// What is said to the answer with the hints, or once it is right the explanation with its workings.
    fn said_ui(
        &self,
        ui: &mut Ui,
        shown: &Shown<'_>,
        (exercise, bench): (&Exercise, Option<&Bench>),
        wishes: &mut Vec<Request>,
    ) {
        let Some(marked) = self.marked.get(&exercise.id) else { return self.hints_ui(ui, shown, exercise) };
        let (outcome, verdict, role) = match marked.right {
            true => (Outcome::Pass, "Right.", Role::Pass),
            false => (Outcome::Fail, "Not yet.", Role::Fail),
        };
        ui.horizontal_wrapped(|ui| {
            mark_ui(ui, outcome);
            ui.label(RichText::new(verdict).strong().color(shown.theme.color(role)));
            for said in &marked.said {
                ui.label(words(said, shown.style));
            }
        });
        if !marked.right {
            return self.hints_ui(ui, shown, exercise);
        }
        ui.add(egui::Label::new(words(&exercise.explanation, shown.style)).wrap());
        ui.horizontal(|ui| {
            let figures = bench.map(|bench| &bench.figures);
            let asked = figures.map(|figures| (figures, questions(figures)));
            for working in &exercise.workings {
                let Some((figures, questions)) = &asked else { continue };
                let of_it = questions.iter().find(|question| question.address(figures) == *working);
                let Some(question) = of_it else { continue };
                let words = format!("How? {}", question.subject.place(figures));
                if ui.button(words).on_hover_text("The working, with all numbers").clicked() {
                    wishes.push(Request::ShowWorking(How::Figure(*question)));
                }
            }
        });
    }
}

impl Course {
    fn hints_ui(&self, ui: &mut Ui, shown: &Shown<'_>, exercise: &Exercise) {
        for hint in exercise.hints.iter().take(self.hints) {
            ui.add(egui::Label::new(RichText::new(words(hint, shown.style)).weak()).wrap());
        }
    }
}

fn kind_of(of: &Measured) -> QuantityKind {
    match of {
        Measured::AxleLoad(..) | Measured::RackLoad(_) => QuantityKind::Mass,
        Measured::BogieRatio(_) | Measured::WheelRatio(_) => QuantityKind::Ratio,
    }
}

/// A text whose quantities have no needless zeros: in a sentence they are no table.
fn words(text: &Text, style: Style) -> String {
    let piece = |piece: &Piece| match piece {
        Piece::Words(words) => words.clone(),
        Piece::Value(quantity) => {
            let shown = quantity.show(style);
            let digits = quantity.show_number(style);
            let short = match digits.contains(['.', ',']) {
                true => digits.trim_end_matches('0').trim_end_matches(['.', ',']),
                false => digits.as_str(),
            };
            shown.replacen(&digits, short, 1)
        }
    };
    text.0.iter().map(piece).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::text;
    use crate::units::{DecimalMark, Quantity};

    #[test]
    fn quantities_in_sentences_have_no_needless_zeros() {
        let comma = Style { decimal: DecimalMark::Comma, ..Style::default() };
        let said = text!["at ", Quantity::length_m(17.5), ", ", Quantity::mass(10_000.0), "."];
        assert_eq!(words(&said, comma), "at 17,5 m, 10 t.");
        assert_eq!(words(&text![Quantity::ratio(1.2), Quantity::count(100)], Style::default()), "1.2 : 1100");
    }

    #[test]
    fn what_was_solved_is_taken_up_again_and_the_next_one_shown() {
        let mut course = Course::default();
        course.take_up("rack-load axle-load no-such");
        assert_eq!((course.at, course.progress()), (2, (2, 11)));
        assert_eq!(course.kept(), "axle-load no-such rack-load");
    }
}
