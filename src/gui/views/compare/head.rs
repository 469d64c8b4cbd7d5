//! What is compared with what: the choice, the sum, and what is said where there is nothing to compare.

use super::{Comparing, States, Told, With};
use crate::gui::fields::{Spec, pick_ui};
use crate::gui::panels::mark::{mark_ui, outcome_of, verdict_words};
use crate::gui::{Request, Shown};
use crate::model::Plan;
use crate::planning::difference::Worked;
use crate::report::difference_words;
use crate::statics::load_states;
use egui::{RichText, Ui};

impl Comparing {
    pub(super) fn head_ui(&mut self, ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
        ui.horizontal(|ui| {
            ui.label("Compare with");
            for (with, words, why) in [
                (With::Saved, "the plan as saved", "This plan as it was read or saved last"),
                (With::Plan, "another plan", "A plan from a file"),
                (With::State, "another state", "The state shown with another state of this plan"),
            ] {
                let chosen = self.with == with;
                let button = ui.selectable_label(chosen, words).on_hover_text(why);
                button.widget_info(|| {
                    let name = format!("compare with {words}");
                    egui::WidgetInfo::selected(egui::Role::RadioButton, true, chosen, name)
                });
                if button.clicked() {
                    self.with = with;
                    if with == With::Plan && self.other.is_none() {
                        requests.push(Request::ChoosePlanToCompare);
                    }
                }
            }
        });
        ui.horizontal(|ui| match self.with {
            With::State => self.state_ui(ui, shown),
            With::Saved => self.states_ui(ui, shown),
            With::Plan => {
                if ui.button("Choose a plan...").clicked() {
                    requests.push(Request::ChoosePlanToCompare);
                }
                if let Some((_, name)) = &self.other {
                    ui.strong(name);
                    ui.separator();
                    self.states_ui(ui, shown);
                }
            }
        });
        self.sum_ui(ui);
    }

    fn states_ui(&mut self, ui: &mut Ui, shown: &Shown<'_>) {
        let title = shown.settled.states.get(shown.state).map(|state| state.title(&shown.settled.plan));
        let shown_words = format!("state shown: {}", title.unwrap_or_default());
        let all = "Of each figure and finding the worst of all states";
        let one = "The state shown, and the state of the same name in the other plan";
        for (states, words, why) in
            [(States::All, "all states", all), (States::Shown, shown_words.as_str(), one)]
        {
            if ui.selectable_label(self.states == states, words).on_hover_text(why).clicked() {
                self.states = states;
            }
        }
    }

    fn state_ui(&mut self, ui: &mut Ui, shown: &Shown<'_>) {
        let states = &shown.settled.states;
        let titles: Vec<String> = states.iter().map(|state| state.title(&shown.settled.plan)).collect();
        self.state = self.state.min(titles.len().saturating_sub(1));
        ui.label("from");
        let spec = Spec::new("State before").wide(200.0);
        if let Some(state) = pick_ui(ui, spec, Some(self.state), &titles) {
            self.state = state;
        }
        ui.label("to");
        ui.strong(titles.get(shown.state).map_or("", String::as_str));
        ui.weak("the state shown");
    }

    /// Both verdicts and the sum of what differs.
    fn sum_ui(&self, ui: &mut Ui) {
        let differs = |told: &&Told| !told.answer.difference.is_empty();
        let Some(told) = self.answer.as_ref().filter(differs) else { return };
        ui.horizontal_wrapped(|ui| {
            for (words, worked) in [("before", &told.answer.before), ("now", &told.answer.after)] {
                verdict_ui(ui, words, worked);
            }
            ui.add(egui::Label::new(difference_words(&told.answer.difference)).wrap());
        });
    }
}

fn verdict_ui(ui: &mut Ui, words: &str, worked: &Worked) {
    let verdict = worked.assessment.verdict();
    ui.weak(format!("{words}:"));
    mark_ui(ui, outcome_of(verdict));
    ui.label(verdict_words(verdict));
    ui.separator();
}

/// The state of `other` with the title of the state shown, or the last that is not beyond it.
pub(super) fn state_in(other: &Plan, shown: &Shown<'_>) -> usize {
    let states = load_states(other);
    let title = shown.settled.states.get(shown.state).map(|state| state.title(&shown.settled.plan));
    let same = states.iter().position(|state| Some(state.title(other)) == title);
    same.unwrap_or_else(|| shown.state.min(states.len().saturating_sub(1)))
}

/// What to do where there is nothing to compare with yet.
pub(super) fn nothing_ui(ui: &mut Ui, shown: &Shown<'_>, (with, waits): (With, bool)) {
    let name = shown.file_name;
    centred_ui(ui, |ui| match (waits, with) {
        (true, _) => {
            ui.weak("Both sides are being worked out.");
        }
        (false, With::Saved) => {
            ui.heading("This plan is not saved yet");
            ui.weak("Once it is, what was changed since is listed here.");
            ui.weak("Until then: choose another plan or another state above.");
        }
        (false, _) => {
            ui.heading("Choose the plan to compare with");
            ui.weak(format!("What differs is told from there to here, to {name}."));
        }
    });
}

/// What is said where both sides are the same.
pub(super) fn same_ui(ui: &mut Ui, with: With) {
    centred_ui(ui, |ui| {
        ui.heading("Nothing differs");
        ui.weak(match with {
            With::Saved => "The plan is as it was saved. Change something, or compare with another plan.",
            With::Plan => "Both plans say the same.",
            With::State => "Choose another state here, or step through the states in the strip below.",
        });
    });
}

fn centred_ui(ui: &mut Ui, words: impl FnOnce(&mut Ui)) {
    ui.vertical_centered(|ui| {
        ui.add_space(ui.available_height() * 0.3);
        ui.label(RichText::new("◇").size(28.0).weak());
        words(ui);
    });
}
