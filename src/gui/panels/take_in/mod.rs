//! Taking a table in: where it comes from, which column holds what, the fate of every row, and one step of undo.

mod columns;
mod names;
mod rows;

use crate::edit::Edit;
use crate::format::{Parting, Table, read_pasted, read_table};
use crate::gui::samples::catalogue;
use crate::gui::{Role, Theme};
use crate::intake::{Choices, Intake, Kind, Outcome, Surroundings};
use crate::model::Plan;
use crate::report::{read_as, sum_words};
use crate::units::Style;
use egui::{Align, Button, Event, Id, Key, Layout, Modal, RichText, Ui, vec2};
use rows::Listed;
use std::sync::Arc;

/// A table being taken in, and what was said about it so far.
#[derive(Debug)]
pub(in crate::gui) struct Taking {
    kind: Kind,
    given: Given,
    parting: Parting,
    choices: Choices,
    listed: Listed,
    /// What was worked out last, and what of; it is worked out again where anything changed.
    known: Option<Known>,
}

/// Where the table comes from.
#[derive(Clone, Debug, PartialEq)]
enum Given {
    Nothing,
    File { name: String, bytes: Vec<u8> },
    Pasted(String),
    Failed { name: String, why: String },
}

/// What is known about the table.
#[derive(Debug)]
struct Known {
    plan: Arc<Plan>,
    style: Style,
    choices: Choices,
    parting: Parting,
    told: Result<(Table, Intake), String>,
}

/// What the user wants.
#[derive(Clone, Debug, PartialEq)]
pub(in crate::gui) enum TakeAnswer {
    /// Choose a file.
    ChooseFile,
    /// Paste what is on the clipboard.
    Paste,
    /// Take the rows in that can be.
    Take(Box<Edit>),
    /// Take nothing in.
    Cancel,
}

/// Width of the questions while there is no table.
const SOURCE_POINTS: f32 = 600.0;

impl Taking {
    /// The questions about a table of this kind, before there is one.
    pub(in crate::gui) fn new(kind: Kind) -> Self {
        Self {
            kind,
            given: Given::Nothing,
            parting: Parting::AsFound,
            choices: Choices::default(),
            listed: Listed::default(),
            known: None,
        }
    }

    /// A file with a table.
    pub(in crate::gui) fn give(&mut self, name: String, bytes: Vec<u8>) {
        self.start_again(Given::File { name, bytes });
    }

    /// Text of the clipboard.
    pub(in crate::gui) fn paste(&mut self, text: String) {
        self.start_again(Given::Pasted(text));
    }

    /// A file that cannot be read.
    pub(in crate::gui) fn fail(&mut self, name: String, why: String) {
        self.start_again(Given::Failed { name, why });
    }

    /// What was said about one table is not meant of another.
    fn start_again(&mut self, given: Given) {
        *self = Self { given, ..Self::new(self.kind) };
    }

    /// Draws the questions over everything; gives the answer once there is one.
    pub(in crate::gui) fn ui(&mut self, ui: &mut Ui, plan: &Arc<Plan>, style: Style) -> Option<TakeAnswer> {
        self.take_paste(ui);
        self.work_out(plan, style);
        let ctx = ui.ctx().clone();
        let window = ctx.content_rect().size();
        let size = vec2((window.x - 60.0).min(1160.0), (window.y - 90.0).min(900.0));
        let modal = Modal::new(Id::unique("take in")).show(&ctx, |ui| {
            let known = self.known.take();
            let answer = match known.as_ref().map(|known| &known.told) {
                Some(Ok((table, intake))) => {
                    ui.set_width(size.x);
                    ui.set_height(size.y);
                    self.table_ui(ui, plan, (table, intake))
                }
                Some(Err(why)) => self.source_ui(ui, Some(why)),
                None => self.source_ui(ui, None),
            };
            self.known = known;
            answer
        });
        // A click beside it is no answer: it would lose what was said so far.
        let escape =
            modal.is_top_modal && !modal.any_popup_open && ctx.input(|input| input.key_pressed(Key::Escape));
        modal.inner.or(escape.then_some(TakeAnswer::Cancel))
    }

    /// A paste while the questions are open is the table.
    fn take_paste(&mut self, ui: &Ui) {
        if ui.ctx().text_edit_focused() {
            return;
        }
        let pasted = ui.input(|input| {
            input.events.iter().find_map(|event| match event {
                Event::Paste(text) => Some(text.clone()),
                _ => None,
            })
        });
        if let Some(text) = pasted {
            self.paste(text);
        }
    }

    /// Works the fates out where the table, the plan or what was said has changed.
    fn work_out(&mut self, plan: &Arc<Plan>, style: Style) {
        let is_of = |known: &Known| {
            Arc::ptr_eq(&known.plan, plan)
                && known.style == style
                && known.choices == self.choices
                && known.parting == self.parting
        };
        if self.known.as_ref().is_some_and(is_of) || self.given == Given::Nothing {
            return;
        }
        let table = match &self.given {
            Given::Nothing => return,
            Given::File { bytes, .. } => read_table(bytes, self.parting).map_err(|error| error.to_string()),
            Given::Pasted(text) => read_pasted(text, self.parting).map_err(|error| error.to_string()),
            Given::Failed { why, .. } => Err(why.clone()),
        };
        let around = Surroundings { plan, catalogue: catalogue(), style };
        let told = table.map(|table| {
            let intake = Intake::of(self.kind, &table, &around, &self.choices);
            (table, intake)
        });
        let (plan, choices) = (Arc::clone(plan), self.choices.clone());
        self.known = Some(Known { plan, style, choices, parting: self.parting, told });
    }

    fn title_ui(&self, ui: &mut Ui) {
        ui.heading(match self.kind {
            Kind::Order => "Take in an order",
            Kind::Sections => "Take in rail sections",
            Kind::Steps => "Take in steps of drops",
            Kind::Train => "Take in vehicles",
        });
    }

    /// Before there is a table, or where it cannot be read: where it comes from.
    fn source_ui(&self, ui: &mut Ui, why: Option<&String>) -> Option<TakeAnswer> {
        ui.set_width(SOURCE_POINTS.min(ui.ctx().content_rect().width() - 60.0));
        self.title_ui(ui);
        if let Some(why) = why {
            let name = match &self.given {
                Given::File { name, .. } | Given::Failed { name, .. } => name.as_str(),
                _ => "What was pasted",
            };
            let theme = Theme::of(ui);
            ui.label(RichText::new(format!("! {name}: {why}")).color(theme.color(Role::Fail)));
            ui.add_space(4.0);
        }
        ui.label(
            "Copy the rows in the spreadsheet, with their headers, and press Ctrl+V here; or choose a file that \
             the spreadsheet saved as CSV, or drag it here. Nothing is changed before you have seen the fate of \
             every row.",
        );
        ui.add_space(4.0);
        ui.horizontal_wrapped(|ui| {
            ui.weak("Columns that are known:");
            for field in self.kind.fields() {
                let label = ui.label(field.title);
                if !field.about.is_empty() {
                    label.on_hover_text(field.about);
                }
            }
        });
        let answers = [
            ("Choose a file...", TakeAnswer::ChooseFile),
            ("Paste", TakeAnswer::Paste),
            ("Cancel", TakeAnswer::Cancel),
        ];
        ui.add_space(8.0);
        let mut answer = None;
        ui.horizontal(|ui| {
            for (at, (words, means)) in answers.into_iter().enumerate() {
                let button = ui.add(Button::new(words).min_size(vec2(80.0, 24.0)));
                if at == 0 && ui.memory(|memory| memory.focused().is_none()) {
                    button.request_focus();
                }
                if button.clicked() {
                    answer = Some(means);
                }
            }
        });
        answer
    }

    fn table_ui(&mut self, ui: &mut Ui, plan: &Plan, told: (&Table, &Intake)) -> Option<TakeAnswer> {
        let (table, intake) = told;
        ui.horizontal(|ui| {
            self.title_ui(ui);
            let name = match &self.given {
                Given::File { name, .. } => name.as_str(),
                _ => "the clipboard",
            };
            let words = format!("from {name}: {}", read_as(table, intake));
            ui.add(egui::Label::new(RichText::new(words).weak()).truncate());
        });
        columns::form_ui(ui, told, (&mut self.choices, &mut self.parting));
        columns::columns_ui(ui, told, &mut self.choices);
        names::names_ui(ui, plan, intake, &mut self.choices);
        ui.add_space(4.0);
        let footer = 64.0;
        let height = (ui.available_height() - footer).max(80.0);
        ui.allocate_ui(vec2(ui.available_width(), height), |ui| {
            ui.set_min_height(height);
            self.listed.ui(ui, told);
        });
        footer_ui(ui, intake)
    }
}

/// The sum, what stands in the way, and the buttons.
fn footer_ui(ui: &mut Ui, intake: &Intake) -> Option<TakeAnswer> {
    let theme = Theme::of(ui);
    ui.separator();
    let mut answer = None;
    ui.horizontal(|ui| {
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let size = vec2(80.0, 24.0);
            if ui.add(Button::new("Cancel").min_size(size)).clicked() {
                answer = Some(TakeAnswer::Cancel);
            }
            let edit = match &intake.outcome {
                Outcome::Edit { edit, .. } => Some(edit),
                _ => None,
            };
            let words = edit.map_or_else(|| "Nothing to take in".to_owned(), |edit| edit.label());
            let take = ui.add_enabled(edit.is_some(), Button::new(words).min_size(size));
            if take.clicked() {
                answer = edit.map(|edit| TakeAnswer::Take(edit.clone()));
            }
            ui.with_layout(Layout::top_down(Align::Min), |ui| {
                ui.label(sum_words(intake));
                let (words, role) = hint(intake);
                ui.add(egui::Label::new(RichText::new(words).color(theme.color(role))).truncate());
            });
        });
    });
    answer
}

/// What is to be known before the rows are taken in.
fn hint(intake: &Intake) -> (String, Role) {
    let refused = intake.counts().refused;
    let missing: Vec<&str> = intake.missing.iter().map(|field| field.title).collect();
    match &intake.outcome {
        Outcome::Obstacle(why) => (format!("! {why}"), Role::Fail),
        _ if !missing.is_empty() => (format!("! say which column holds: {}", missing.join(", ")), Role::Fail),
        Outcome::Edit { returned_to_yard, .. } if !returned_to_yard.is_empty() => {
            (format!("! {} strings go back to the yard list", returned_to_yard.len()), Role::Near)
        }
        _ if refused == 1 => ("! the refused row stays out".to_owned(), Role::Fail),
        _ if refused > 0 => (format!("! the {refused} refused rows stay out"), Role::Fail),
        _ => ("One step of undo takes all of it back".to_owned(), Role::WeakText),
    }
}
