//! The sign-off: what would be signed, a plain caution, and the signatures with whether each still matches.

use super::ground::{Ground, verdict_as_loaded};
use crate::checks::Outcome;
use crate::edit::Edit;
use crate::format::{SignatureState, Standing, plan_hash};
use crate::gui::panels::mark::{mark_ui, role_of};
use crate::gui::{Request, Role, Shown};
use crate::model::Signature;
use egui::{RichText, ScrollArea, Ui};

/// A signature says no more than this.
const CAUTION: &str = "A signature records who looked at this plan and its records, and when. It does not say that \
    the train may run: local rules and licensed people decide that.";

const ROW_POINTS: f32 = 24.0;
/// More signatures than this are scrolled.
const MOST_ROWS: usize = 3;

/// How high it is, in points.
pub(super) fn height(shown: &Shown<'_>) -> f32 {
    let rows = shown.document.recorded().signatures().len().clamp(1, MOST_ROWS);
    // A line of what is signed, two of the caution, and the margins.
    34.0 + 44.0 + ROW_POINTS * rows as f32
}

/// Draws it.
pub(super) fn sign_ui(ui: &mut Ui, ground: &Ground<'_>, requests: &mut Vec<Request>) {
    let document = ground.shown.document;
    ui.set_min_size(ui.available_size());
    ui.horizontal(|ui| {
        ui.strong("Sign-off");
        let words = match ground.person.is_empty() {
            true => "Sign".to_owned(),
            false => format!("Sign as {}", ground.person.name()),
        };
        let button = ui.add_enabled(!ground.person.is_empty(), egui::Button::new(words));
        if button.on_disabled_hover_text("Enter your name above first").clicked()
            && let Some((by, at)) = ground.person.signs(requests)
        {
            let signature = Signature { by, at, hash: plan_hash(document.plan()) };
            requests.push(Request::Edit(Edit::Sign { signature }));
        }
        let (outcome, words) = verdict_as_loaded(document);
        mark_ui(ui, outcome);
        let open = match ground.loaded.not_confirmed.len() {
            _ if ground.loaded.planned == 0 => "no string on the train".to_owned(),
            0 => "every string confirmed".to_owned(),
            1 => "1 string not confirmed".to_owned(),
            count => format!("{count} strings not confirmed"),
        };
        let words = RichText::new(format!("As loaded: {words}; {open}"))
            .color(ground.shown.theme.color(role_of(outcome)));
        ui.add(egui::Label::new(words).truncate());
    });
    ui.add(egui::Label::new(RichText::new(CAUTION).weak().size(12.0)).wrap());
    ScrollArea::vertical().id_salt("walk signatures").auto_shrink(false).show(ui, |ui| {
        let signatures = document.recorded().signatures();
        if signatures.is_empty() {
            ui.weak("Nobody has signed yet.");
        }
        for (at, state) in signatures.iter().enumerate() {
            ui.horizontal(|ui| {
                let (outcome, role) = match state.standing {
                    Standing::Matches => (Outcome::Pass, Role::Text),
                    Standing::Changed => (Outcome::Near, Role::Near),
                };
                mark_ui(ui, outcome);
                let take = format!("Take back the signature of {}", state.signature.by);
                if ui.small_button("Take back").accessible_name(take).clicked() {
                    requests.push(Request::Edit(Edit::RemoveSignature { at }));
                }
                let words = RichText::new(words_of(state));
                ui.add(egui::Label::new(words.color(ground.shown.theme.color(role))).wrap());
            });
        }
    });
}

fn words_of(state: &SignatureState) -> String {
    let standing = match state.standing {
        Standing::Matches => "the plan is unchanged since",
        Standing::Changed => "no longer matches, the plan was changed since",
    };
    format!("Signed by {}, {}: {standing}", state.signature.by, state.signature.at)
}
