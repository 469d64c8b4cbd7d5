//! The switch beside the verdict: which load is judged and shown, and whether signatures still match.

use crate::format::Standing;
use crate::gui::{Command, Request, Role, Shown, View};
use crate::report::{Judged, signature_words};
use egui::{RichText, Ui, WidgetInfo};

/// Draws the switch from right to left.
pub(super) fn judge_ui(ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
    let differ = shown.document.recorded().loaded().strings_that_differ();
    let as_loaded = match differ {
        0 => "as loaded".to_owned(),
        1 => "as loaded (1 differs)".to_owned(),
        count => format!("as loaded ({count} differ)"),
    };
    let choices = [
        (Judged::AsLoaded, as_loaded.as_str(), "Judge and show the load as the rack walk recorded it (J)"),
        (Judged::AsPlanned, "as planned", "Judge and show the plan as it is meant (J)"),
    ];
    for (judged, words, why) in choices {
        let chosen = shown.judged == judged;
        let button = ui.selectable_label(chosen, words).on_hover_text(why);
        let name = format!("judge {words}");
        button.widget_info(|| WidgetInfo::selected(egui::Role::RadioButton, true, chosen, name.as_str()));
        if button.clicked() && !chosen {
            requests.push(Request::Judge(judged));
        }
    }
    ui.weak("judged");
}

/// Draws whether the plan is signed, where anybody signed it; a click shows the signatures.
pub(super) fn signed_ui(ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
    let signatures = shown.document.recorded().signatures();
    if signatures.is_empty() {
        return;
    }
    let matching = signatures.iter().filter(|one| one.standing == Standing::Matches).count();
    let (words, role) = match matching {
        0 => ("changed since signed", Role::Near),
        // Somebody looked; that is no verdict.
        _ => ("signed", Role::Text),
    };
    let told: Vec<String> = signatures.iter().map(|one| format!("Signed {}", signature_words(one))).collect();
    let label = egui::Button::new(RichText::new(words).color(shown.theme.color(role))).frame(false);
    if ui.add(label).on_hover_text(told.join("\n")).clicked() {
        requests.push(Request::Command(Command::Show(View::RackWalk)));
    }
    ui.separator();
}
