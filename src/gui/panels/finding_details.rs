//! One finding in full: figures, states, how to mend it, and the form to accept it.

use super::findings::use_words;
use super::mark::{mark_ui, role_of};
use super::mends::Mender;
use crate::checks::{Comparison, Finding, Outcome, Sense};
use crate::edit::Edit;
use crate::gui::today::today;
use crate::gui::{FindingKey, How, Request, Role, Settling, Shown};
use crate::model::Acceptance;
use egui::{RichText, TextEdit, Ui};

/// Who accepts, and why; the name stays for the next finding.
#[derive(Debug, Default)]
pub(super) struct Acceptor {
    by: String,
    why: String,
    /// The form wants the keyboard.
    wants_focus: bool,
}

impl Acceptor {
    /// Leads the keyboard to what can be done about the finding.
    pub(super) fn go_to(&mut self) {
        self.wants_focus = true;
    }

    /// Draws the details of `finding`.
    pub(super) fn details_ui(
        &mut self,
        ui: &mut Ui,
        shown: &Shown<'_>,
        (finding, mender): (&Finding, &mut Mender),
        requests: &mut Vec<Request>,
    ) {
        title_ui(ui, shown, finding, requests);
        ui.label(finding.what.show(shown.style));
        if let Some(comparison) = finding.comparison {
            comparison_ui(ui, shown, comparison, finding.outcome);
        }
        states_ui(ui, shown, finding, requests);
        mender.ui(ui, shown, settled(shown, finding), requests);
        if !finding.mend.is_empty() {
            ui.label(RichText::new("To mend").strong());
            ui.label(finding.mend.show(shown.style));
        }
        if let Some(source) = &finding.limit_source {
            ui.label(RichText::new("Limit from").strong());
            ui.label(source);
        }
        let about = ui.collapsing("About this check", |ui| {
            ui.label(finding.check.what);
            ui.label(finding.check.why);
            ui.weak(format!("Source: {}", finding.check.source));
        });
        self.accept_ui(ui, shown, finding, requests);
        self.take_focus(&about.header_response);
    }

    /// Takes the keyboard where it is led here and nothing before took it.
    fn take_focus(&mut self, response: &egui::Response) {
        if std::mem::take(&mut self.wants_focus) {
            response.request_focus();
            response.scroll_to_me(None);
        }
    }

    fn accept_ui(&mut self, ui: &mut Ui, shown: &Shown<'_>, finding: &Finding, requests: &mut Vec<Request>) {
        if let Some(acceptance) = finding.accepted.and_then(|at| shown.plan.accepted.get(at)) {
            ui.label(RichText::new("Accepted").strong());
            ui.label(format!("by {} on {}: {}", acceptance.by, acceptance.at, acceptance.why));
            let back = ui.button("Take the acceptance back");
            self.take_focus(&back);
            if back.clicked() {
                requests.push(Request::Edit(Edit::Unaccept {
                    check: finding.check.id.to_owned(),
                    things: finding.things.clone(),
                }));
            }
            return;
        }
        if finding.outcome != Outcome::Fail {
            return;
        }
        if let Some(earlier) = shown.plan.accepted.iter().find(|known| finding.is_named_by(known)) {
            ui.weak(format!(
                "{} accepted this on {} when it was not as bad; it does not count any more.",
                earlier.by, earlier.at
            ));
        }
        let form = ui.collapsing("Accept this finding", |ui| {
            ui.weak("It stays listed as a fail, with your name; it no longer counts against the plan.");
            ui.add(TextEdit::singleline(&mut self.by).hint_text("your name").desired_width(f32::INFINITY))
                .accessible_name("Accepted by");
            ui.add(TextEdit::singleline(&mut self.why).hint_text("why").desired_width(f32::INFINITY))
                .accessible_name("Reason for accepting");
            let told = !self.by.trim().is_empty() && !self.why.trim().is_empty();
            // What is accepted is the worst of all states.
            let known = shown.settling == Settling::Done;
            let button = ui.add_enabled(told && known, egui::Button::new("Accept"));
            let why_not = match known {
                true => "Type your name and why first",
                false => "It can be accepted once all states are worked out",
            };
            if button.on_disabled_hover_text(why_not).clicked() {
                requests.push(Request::Edit(Edit::Accept {
                    acceptance: Acceptance {
                        check: finding.check.id.to_owned(),
                        things: finding.things.clone(),
                        by: self.by.trim().to_owned(),
                        why: std::mem::take(&mut self.why).trim().to_owned(),
                        at: today(),
                        // What holds over all states, even where a preview of one is shown.
                        found: Some(settled(shown, finding).found()),
                    },
                }));
            }
        });
        self.take_focus(&form.header_response);
    }
}

/// Outcome and check, and the way to how the figure came about.
fn title_ui(ui: &mut Ui, shown: &Shown<'_>, finding: &Finding, requests: &mut Vec<Request>) {
    ui.horizontal(|ui| {
        mark_ui(ui, finding.outcome);
        let color = shown.theme.color(role_of(finding.outcome));
        ui.label(RichText::new(finding.outcome.word()).strong().color(color));
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            if finding.comparison.is_some() {
                let how = ui.button("How?").on_hover_text("How the figure came about, step by step");
                let how = how.accessible_name(format!("How? {}", finding.check.title));
                if how.clicked() {
                    requests.push(Request::ShowWorking(How::Finding(FindingKey::of(finding))));
                }
            }
            ui.with_layout(egui::Layout::left_to_right(egui::Align::Center), |ui| {
                ui.add(egui::Label::new(RichText::new(finding.check.title).strong()).truncate());
            });
        });
    });
}

/// The finding over all states of the plan as it is.
fn settled<'a>(shown: &Shown<'a>, finding: &'a Finding) -> &'a Finding {
    let key = FindingKey::of(finding);
    shown.settled_assessment.findings.iter().find(|settled| key.is_of(settled)).unwrap_or(finding)
}

/// Draws what a check compares: a bar against its limit, and the figures.
pub(super) fn comparison_ui(ui: &mut Ui, shown: &Shown<'_>, comparison: Comparison, outcome: Outcome) {
    let style = shown.style;
    let share = comparison.utilisation();
    let (rect, _) = ui.allocate_exact_size(egui::vec2(ui.available_width(), 8.0), egui::Sense::hover());
    let painter = ui.painter_at(rect);
    painter.rect_filled(rect, 0.0, shown.theme.color(Role::Line));
    let mut used = rect;
    // The bar's end stands for 125 %, so that a broken limit is seen to be passed.
    let full = 1.25;
    used.set_width(rect.width() * (share / full).clamp(0.0, 1.0) as f32);
    painter.rect_filled(used, 0.0, shown.theme.color(role_of(outcome)));
    let limit_x = rect.left() + rect.width() * (1.0 / full) as f32;
    painter.vline(limit_x, rect.y_range(), (2.0, shown.theme.color(Role::Text)));
    let allowed = match comparison.sense {
        Sense::AtMost => "at most",
        Sense::AtLeast => "at least",
    };
    let found = [("Found", comparison.demand.show(style)), ("Used", use_words(comparison))];
    let limit = [(allowed, comparison.capacity.show(style)), ("margin", comparison.margin().show(style))];
    egui::Grid::new("comparison").num_columns(4).spacing([10.0, 2.0]).show(ui, |ui| {
        for pair in found.into_iter().zip(limit) {
            for (name, value) in [pair.0, pair.1] {
                ui.weak(name);
                ui.label(value);
            }
            ui.end_row();
        }
    });
}

fn states_ui(ui: &mut Ui, shown: &Shown<'_>, finding: &Finding, requests: &mut Vec<Request>) {
    let title = |state: usize| {
        shown.figures.states.get(state).map(|state| state.title(shown.plan)).unwrap_or_default()
    };
    let Some(worst) = finding.state else { return };
    ui.horizontal_wrapped(|ui| {
        ui.weak("Worst state");
        if ui.link(title(worst)).clicked() {
            requests.push(Request::ShowState(worst));
        }
        let others = finding.states.len().saturating_sub(1);
        if others > 0 {
            ui.weak(format!("and {others} more")).on_hover_ui(|ui| {
                for state in finding.states.iter().take(30) {
                    ui.label(title(*state));
                }
            });
        }
    });
}
