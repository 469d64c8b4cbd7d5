//! Changes that would mend the finding shown: looked for beside the window, seen by pointing at them, made as one
//! step by pressing them.

use super::mark::role_of;
use crate::checks::{Finding, Outcome, Subject};
use crate::edit::Edit;
use crate::gui::commands::{Command, Pane};
use crate::gui::panels::tables::Tab;
use crate::gui::{FindingKey, Request, Role, Settling, Shown, Work};
use crate::model::Plan;
use crate::planning::mends::{Mend, is_known_for, mends};
use egui::text::{LayoutJob, TextFormat};
use egui::{Button, FontId, Layout, RichText, Ui};
use std::sync::Arc;

/// What was looked for and found, and which of it is shown.
#[derive(Debug, Default)]
pub(super) struct Mender {
    asked: Option<Asked>,
    search: Search,
    /// The change that is pointed at in this frame.
    pointed: Option<Edit>,
    /// The change that was pointed at in the frame before.
    shown: Option<Edit>,
}

/// What the search is for.
#[derive(Debug)]
struct Asked {
    finding: FindingKey,
    plan: Arc<Plan>,
}

#[derive(Debug, Default)]
enum Search {
    #[default]
    NotBegun,
    UnderWay(Option<Work<Vec<Mend>>>),
    Found(Vec<Mend>),
}

impl Mender {
    /// Whether the preview shown is that of a mend.
    pub(super) fn is_previewing(&self, shown: &Shown<'_>) -> bool {
        shown.preview.is_some_and(|preview| self.shown.as_ref() == Some(&preview.edit))
    }

    /// Asks for the preview of what is pointed at, and ends it once nothing is; to be called at the end of a frame.
    pub(super) fn end_frame(&mut self, requests: &mut Vec<Request>) {
        let pointed = self.pointed.take();
        if pointed != self.shown {
            requests.push(Request::Preview(pointed.clone()));
            self.shown = pointed;
        }
    }

    /// Draws what can be done about `finding` with one press; `finding` is that over all states.
    pub(super) fn ui(
        &mut self,
        ui: &mut Ui,
        shown: &Shown<'_>,
        finding: &Finding,
        requests: &mut Vec<Request>,
    ) {
        if finding.outcome == Outcome::Undecided {
            return missing_ui(ui, finding, requests);
        }
        let is_bad = matches!(finding.outcome, Outcome::Fail | Outcome::Near | Outcome::Note);
        if !is_bad || finding.accepted.is_some() || !is_known_for(finding.check.id) {
            return;
        }
        self.ask(shown, finding);
        ui.add_space(2.0);
        ui.label(RichText::new("Suggested mends").strong());
        if shown.settling != Settling::Done {
            ui.weak("They are looked for once all states are worked out.");
            return;
        }
        if matches!(self.search, Search::NotBegun) {
            let wanted = finding.outcome == Outcome::Fail || ui.button("Look for mends").clicked();
            if wanted {
                self.begin(ui, shown, finding);
            }
        }
        self.found_ui(ui, shown, requests);
    }

    /// Forgets what was found for another finding or another plan.
    fn ask(&mut self, shown: &Shown<'_>, finding: &Finding) {
        let plan = &shown.settled.plan;
        let is_asked = |asked: &Asked| asked.finding.is_of(finding) && Arc::ptr_eq(&asked.plan, plan);
        if !self.asked.as_ref().is_some_and(is_asked) {
            self.asked = Some(Asked { finding: FindingKey::of(finding), plan: Arc::clone(plan) });
            self.search = Search::NotBegun;
        }
    }

    fn begin(&mut self, ui: &Ui, shown: &Shown<'_>, finding: &Finding) {
        let (figures, assessment) = (Arc::clone(shown.settled), Arc::clone(shown.settled_assessment));
        let finding = finding.clone();
        let work = shown.works.start(ui.ctx(), "Looking for mends", move |progress| {
            mends(&figures, &assessment, &finding, |done, all| {
                progress.tell(done, all);
                !progress.is_called_off()
            })
        });
        self.search = Search::UnderWay(Some(work));
    }

    fn found_ui(&mut self, ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
        if let Search::UnderWay(work) = &mut self.search {
            match Work::take(work) {
                Some(found) => self.search = Search::Found(found),
                None if work.is_some() => {
                    ui.horizontal(|ui| {
                        ui.add(egui::Spinner::new().size(14.0));
                        ui.weak("trying changes, each judged by every check");
                    });
                }
                None => {
                    ui.weak("The search was called off.");
                    if ui.button("Look for mends").clicked() {
                        self.search = Search::NotBegun;
                    }
                }
            }
        }
        let Search::Found(found) = &self.search else { return };
        if found.is_empty() {
            ui.weak("No single change of the load was found that mends it.");
            return;
        }
        ui.weak("Point at one to see it; press it to do it, as one step.");
        for mend in found {
            let response = mend_ui(ui, shown, mend);
            if response.clicked() {
                requests.push(Request::Edit(mend.edit.clone()));
            } else if response.hovered() || response.has_focus() {
                self.pointed = Some(mend.edit.clone());
            }
        }
    }
}

/// A mend as a button of two lines: what it does, and what comes of it.
fn mend_ui(ui: &mut Ui, shown: &Shown<'_>, mend: &Mend) -> egui::Response {
    let breaks = mend.effect.breaks() > 0;
    let role = if breaks { role_of(Outcome::Near) } else { Role::WeakText };
    let format = |size: f32, role: Role| TextFormat {
        font_id: FontId::proportional(size),
        color: shown.theme.color(role),
        ..TextFormat::default()
    };
    let mut words = LayoutJob::default();
    let label = mend.label.show(shown.style);
    words.append(&label, 0.0, format(13.0, Role::Text));
    words.append(&format!("\n{}", mend.effect.words().show(shown.style)), 0.0, format(12.0, role));
    let layout = Layout::top_down_justified(egui::Align::LEFT);
    ui.with_layout(layout, |ui| ui.add(Button::new(words).wrap()))
        .inner
        .accessible_name(format!("Mend: {}", mend.line(shown.style)))
}

/// Leads to the form that takes what is missing.
fn missing_ui(ui: &mut Ui, finding: &Finding, requests: &mut Vec<Request>) {
    let (place, pane) = match finding.subject {
        Subject::String(_) | Subject::StringEnd(..) | Subject::StringAtRack(..) => ("Details", Pane::Details),
        Subject::Strings(..) => (Tab::Order.title(), Pane::Tables),
        Subject::Section(_) => (Tab::Sections.title(), Pane::Tables),
        Subject::Limit(_) => (Tab::Limits.title(), Pane::Tables),
        Subject::Drop(_) | Subject::Step(..) => (Tab::Drops.title(), Pane::Tables),
        Subject::Train => (Tab::Train.title(), Pane::Tables),
        Subject::Plan => (Tab::Route.title(), Pane::Tables),
        _ => (Tab::Types.title(), Pane::Tables),
    };
    let button = ui.button(format!("Enter it: {place}"));
    if button.on_hover_text("Shows the form that takes what is missing").clicked() {
        let tab = Tab::SET_UP.into_iter().find(|tab| tab.title() == place);
        requests.extend(tab.map(Request::ShowTab));
        // It also chooses the type, section or string that the finding is about.
        requests.push(Request::ShowFinding(FindingKey::of(finding)));
        match field_of(finding) {
            Some(field) => requests.push(Request::GoToField(field)),
            None => requests.push(Request::Command(Command::GoTo(pane))),
        }
    }
}

/// The field that takes what a finding lacks, by its name in the form; none where it is not one field alone.
fn field_of(finding: &Finding) -> Option<String> {
    let rating = match finding.check.id {
        "payload" => Some("Load"),
        "bogie-load" => Some("Bogie"),
        "axle-load" => Some("Axle"),
        "wheel-load" => Some("Wheel"),
        "pocket-load" => Some("One pocket"),
        "tier-load" => Some("One tier"),
        "rack-load" => Some("Whole rack"),
        _ => None,
    };
    match finding.subject {
        Subject::Limit(kind) => Some(format!("{}, while travelling", kind.title())),
        Subject::VehicleType(_) | Subject::RackType(_) => rating.map(str::to_owned),
        _ => None,
    }
}
