//! How a number came about: steps, formulas, the numbers put in and where they come from, as in `longstow working`.

use super::finding_details::comparison_ui;
use crate::checks::Assessment;
use crate::gui::{FindingKey, Request, Shown};
use crate::model::Plan;
use crate::report::{origin_words, working_report, working_value};
use crate::statics::Figures;
use crate::working::{LimitLine, Origin, Question, Working, WorkingStep, WorkingTable, of, of_finding};
use egui::{Grid, RichText, ScrollArea, Ui};
use std::sync::Arc;

/// More rows of a table than this are folded.
const MOST_ROWS: usize = 10;

/// What is asked "how?".
#[derive(Clone, Debug, PartialEq)]
pub enum How {
    /// What a finding compares, in its own state.
    Finding(FindingKey),
    /// A figure, in the state shown.
    Figure(Question),
}

/// The panel's own state: the questions asked one after the other, the last one shown.
#[derive(Debug, Default)]
pub(in crate::gui) struct Workings {
    trail: Vec<How>,
    worked: Option<Worked>,
}

/// An answer, and what it was worked out for.
#[derive(Debug)]
struct Worked {
    how: How,
    plan: Arc<Plan>,
    state: usize,
    working: Option<Working>,
}

impl Workings {
    /// Begins with another question.
    pub(in crate::gui) fn ask(&mut self, how: How) {
        if self.trail.last() != Some(&how) {
            self.trail.push(how);
        }
        let most = 40;
        let old = self.trail.len().saturating_sub(most);
        self.trail.drain(..old);
    }

    /// Draws the answer to the last question.
    pub(in crate::gui) fn ui(&mut self, ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
        let Some(how) = self.trail.last().cloned() else {
            ui.label(
                "Every figure and finding can be asked how it came about. Press How? in the details of a finding, \
                 a string, a vehicle or a rack, or click a row of a table with the right button.",
            );
            return;
        };
        let fits = |worked: &Worked| {
            worked.how == how && worked.state == shown.state && Arc::ptr_eq(&worked.plan, shown.plan)
        };
        if !self.worked.as_ref().is_some_and(fits) {
            let working = work_out(shown.figures, shown.assessment, shown.state, &how);
            let (plan, state) = (Arc::clone(shown.plan), shown.state);
            self.worked = Some(Worked { how, plan, state, working });
        }
        let working = self.worked.as_ref().and_then(|worked| worked.working.as_ref());
        let mut back = false;
        ui.horizontal_wrapped(|ui| {
            if self.trail.len() > 1 {
                back = ui.small_button("Back").on_hover_text("To the question before").clicked();
            }
            if let Some(working) = working {
                ui.strong(&working.title);
                if ui.small_button("Copy").on_hover_text("Copy all of it as text").clicked() {
                    ui.ctx().copy_text(working_report(shown.figures, working, shown.style));
                    requests.push(Request::Say("The working is on the clipboard".to_owned()));
                }
            }
        });
        match working {
            Some(working) => {
                ScrollArea::both().id_salt("working").auto_shrink(false).show(ui, |ui| {
                    working_ui(ui, shown, working, requests);
                });
            }
            None => {
                ui.weak("There is no such figure in this plan and state, or nothing is compared there.");
            }
        }
        if back {
            self.trail.pop();
        }
    }
}

/// The answer, as `longstow working` gives it.
fn work_out(figures: &Figures, assessment: &Assessment, state: usize, how: &How) -> Option<Working> {
    match how {
        How::Finding(key) => {
            let finding = assessment.findings.iter().find(|finding| key.is_of(finding))?;
            of_finding(figures, finding)
        }
        How::Figure(question) => of(figures, Some(state), question),
    }
}

fn working_ui(ui: &mut Ui, shown: &Shown<'_>, working: &Working, requests: &mut Vec<Request>) {
    let state = working.state.and_then(|state| shown.figures.states.get(state));
    if let Some(state) = state {
        ui.weak(format!("In the state: {}", state.title(shown.plan)));
    }
    ui.weak(format!("By: {}", working.source));
    for note in &working.notes {
        ui.label(note);
    }
    for (number, step) in (1..).zip(&working.steps) {
        ui.add_space(4.0);
        ui.push_id(number, |ui| step_ui(ui, shown, (number, step), requests));
    }
    if let Some(limit) = &working.limit {
        limit_ui(ui, shown, limit);
    }
    ui.add_space(4.0);
    ui.weak("Formulas hold in SI units (kg, m, N, s, Pa, rad); values are shown in the plan's units.");
}

fn step_ui(ui: &mut Ui, shown: &Shown<'_>, line: (usize, &WorkingStep), requests: &mut Vec<Request>) {
    let (number, step) = line;
    ui.label(RichText::new(format!("{number}. {}", step.what)).strong());
    ui.indent("step", |ui| {
        ui.monospace(format!("{} = {}", step.result.symbol, step.formula));
        Grid::new("inputs").num_columns(4).spacing([10.0, 2.0]).show(ui, |ui| {
            for input in &step.inputs {
                ui.monospace(&input.symbol);
                ui.label(working_value(input.value, shown.style));
                ui.label(&input.meaning);
                origin_ui(ui, shown, &input.origin, requests);
                ui.end_row();
            }
        });
        if let Some(table) = &step.table {
            match table.rows.len() {
                0 => {
                    ui.weak("nothing to add up");
                }
                1..=MOST_ROWS => table_ui(ui, shown, table, requests),
                rows => {
                    ui.collapsing(format!("{rows} rows"), |ui| table_ui(ui, shown, table, requests));
                }
            }
        }
        let value = working_value(step.result.value, shown.style);
        ui.monospace(RichText::new(format!("{} = {value}", step.result.symbol)).strong());
    });
}

fn origin_ui(ui: &mut Ui, shown: &Shown<'_>, origin: &Origin, requests: &mut Vec<Request>) {
    let words = origin_words(shown.figures, origin);
    match origin {
        Origin::Figure(question) => how_link_ui(ui, *question, &words, requests),
        _ => {
            ui.weak(words);
        }
    }
}

fn how_link_ui(ui: &mut Ui, question: Question, words: &str, requests: &mut Vec<Request>) {
    let link = ui.link("How?").accessible_name(format!("How? {words}"));
    if link.on_hover_text(words).clicked() {
        requests.push(Request::ShowWorking(How::Figure(question)));
    }
}

fn table_ui(ui: &mut Ui, shown: &Shown<'_>, table: &WorkingTable, requests: &mut Vec<Request>) {
    Grid::new("rows").striped(true).spacing([12.0, 2.0]).show(ui, |ui| {
        ui.label("");
        for column in &table.columns {
            ui.monospace(&column.symbol).on_hover_text(&column.meaning);
        }
        ui.end_row();
        for row in &table.rows {
            ui.label(&row.name);
            for value in &row.values {
                ui.label(working_value(*value, shown.style));
            }
            if let Some(question) = row.figure {
                how_link_ui(ui, question, &question.address(shown.figures), requests);
            }
            ui.end_row();
        }
    });
    for column in &table.columns {
        ui.weak(format!("{}: {}", column.symbol, column.meaning));
    }
}

fn limit_ui(ui: &mut Ui, shown: &Shown<'_>, limit: &LimitLine) {
    ui.add_space(4.0);
    ui.label(RichText::new(format!("Against its limit: {}", limit.outcome.word())).strong());
    ui.indent("limit", |ui| {
        ui.set_max_width(360.0);
        comparison_ui(ui, shown, limit.comparison, limit.outcome);
        if let Some(source) = &limit.source {
            ui.weak(format!("Limit from: {source}"));
        }
        ui.weak(format!("Rule from: {}", limit.rule_source));
    });
}
