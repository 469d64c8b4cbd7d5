//! The views of the middle of the window: one of them at a time, of the same plan with the same selection.

mod compare;
mod deck_plan;
mod person;
mod rack_walk;
mod sheets;
mod weighings;
mod what_if;

use super::panes::Panes;
use super::{Command, Request, Shown};
use compare::Comparing;
use deck_plan::DeckPlan;
use egui::{Key, Modifiers, Ui};
use person::Person;
use rack_walk::RackWalk;
use sheets::Sheets;
use weighings::Weighings;
use what_if::WhatIf;

/// A view of the middle of the window.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum View {
    /// The train from its side, over rack face and tables.
    #[default]
    TrainSide,
    /// The train from above, over rack face and tables.
    DeckPlan,
    /// Sliders over a scratch copy, and exercises.
    WhatIf,
    /// What was really loaded.
    RackWalk,
    /// Readings of scales.
    Weighings,
    /// Two plans or two states.
    Compare,
    /// What is printed.
    Sheets,
}

impl View {
    /// All views, in the order of their tabs and shortcuts.
    pub const ALL: [Self; 7] = [
        Self::TrainSide,
        Self::DeckPlan,
        Self::WhatIf,
        Self::RackWalk,
        Self::Weighings,
        Self::Compare,
        Self::Sheets,
    ];

    /// What its tab says.
    pub fn title(self) -> &'static str {
        match self {
            Self::TrainSide => "Train side",
            Self::DeckPlan => "Deck plan",
            Self::WhatIf => "What if",
            Self::RackWalk => "Rack walk",
            Self::Weighings => "Weighings",
            Self::Compare => "Compare",
            Self::Sheets => "Sheets",
        }
    }

    /// What it is for, in a sentence.
    pub fn purpose(self) -> &'static str {
        match self {
            Self::TrainSide => "The train from its side: strings, racks, and the loads under each axle.",
            Self::DeckPlan => "The train from above, straight or on a curve: lanes, ends, overhangs.",
            Self::WhatIf => "Turn one thing and see the loads answer; exercises with checked answers.",
            Self::RackWalk => "Walk along the train and enter what was really loaded; sign.",
            Self::Weighings => {
                "What a scale read beside what is computed, and what would explain a difference."
            }
            Self::Compare => "What differs between two plans or two states.",
            Self::Sheets => "The pages for the yard, as they will be printed.",
        }
    }

    /// Whether rack face and tables lie under it.
    pub(super) fn is_of_the_train(self) -> bool {
        matches!(self, Self::TrainSide | Self::DeckPlan)
    }
}

/// The views that have a state of their own, and which is shown.
#[derive(Debug, Default)]
pub(super) struct Views {
    /// The one shown.
    pub(super) view: View,
    /// Whether train side and deck plan were shown together last.
    pub(super) both: bool,
    pub(super) deck_plan: DeckPlan,
    what_if: WhatIf,
    /// Who walks, weighs and signs.
    person: Person,
    rack_walk: RackWalk,
    weighings: Weighings,
    pub(super) compare: Comparing,
    sheets: Sheets,
}

/// What the exercises done are kept under in the settings.
const EXERCISES: &str = "exercises solved";

impl Views {
    /// Shows a view; asked for again, it takes the keyboard again.
    pub(super) fn show(&mut self, view: View) {
        self.view = view;
        self.rack_walk.begin_again();
    }

    /// What is kept of the views between sessions.
    pub(super) fn settings(&self) -> Vec<(String, String)> {
        let solved = self.what_if.course.kept();
        (!solved.is_empty()).then(|| (EXERCISES.to_owned(), solved)).into_iter().collect()
    }

    /// Takes up what a session before kept.
    pub(super) fn take_up_settings(&mut self, settings: &[(String, String)]) {
        if let Some((_, solved)) = settings.iter().find(|(name, _)| name == EXERCISES) {
            self.what_if.course.take_up(solved);
        }
    }

    /// Shows the exercises for whoever learns.
    pub(super) fn show_exercises(&mut self) {
        self.view = View::WhatIf;
        self.what_if.show_exercises();
    }

    /// Draws the row of tabs. Another view is shown from the next frame on: a form under this one is yet to take what
    /// was typed into it.
    pub(super) fn tabs_ui(&mut self, ui: &mut Ui, panes: &mut Panes, requests: &mut Vec<Request>) {
        ui.horizontal_wrapped(|ui| {
            let both = panes.shows_both(ui.ctx());
            self.both = both;
            for view in View::ALL {
                let chosen =
                    self.view == view || (both && self.view.is_of_the_train() && view.is_of_the_train());
                let tab = ui.selectable_label(chosen, view.title()).on_hover_text(view.purpose());
                if tab.clicked() {
                    requests.push(Request::Command(Command::Show(view)));
                }
            }
            if self.view.is_of_the_train() {
                ui.separator();
                let why = "Train side and deck plan together, one over the other (B)";
                let mut chosen = both;
                let button = ui.toggle_value(&mut chosen, "both").on_hover_text(why);
                let pressed = !ui.ctx().text_edit_focused()
                    && ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::B));
                if button.clicked() || pressed {
                    panes.show_both(!both);
                }
            }
            if Panes::is_narrow(ui.ctx()) {
                ui.separator();
                let mut shown = panes.shows_sides(ui.ctx(), self.view);
                let why = "Yard list and details at the left, findings at the right";
                let button = ui.toggle_value(&mut shown, "lists").on_hover_text(why);
                if button.accessible_name("Lists at the sides").changed() {
                    panes.show_sides(self.view, shown);
                }
            }
        });
    }

    /// Draws the view shown, where it takes all of the middle.
    pub(super) fn ui(&mut self, ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
        match self.view {
            // Drawn over rack face and tables by the arrangement.
            View::TrainSide | View::DeckPlan => {}
            View::WhatIf => self.what_if.ui(ui, shown, requests),
            View::RackWalk => self.rack_walk.ui(ui, shown, &mut self.person, requests),
            View::Weighings => self.weighings.ui(ui, shown, &mut self.person, requests),
            View::Compare => self.compare.ui(ui, shown, requests),
            View::Sheets => self.sheets.ui(ui, shown, requests),
        }
    }
}
