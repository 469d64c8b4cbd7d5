//! The plan's title and notes.

use crate::edit::Edit;
use crate::gui::fields::{
    Spec, UNIT_SYSTEMS, choice_ui, form_grid, is_told_to_enter, some_number_ui, words_ui,
};
use crate::gui::glossary::term_ui;
use crate::gui::{Request, Shown};
use egui::{Id, TextEdit, Ui};

/// Draws the form.
pub(super) fn plan_ui(ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
    let plan = shown.plan;
    form_grid("plan").show(ui, |ui| {
        term_ui(ui, "Title");
        if let Some(title) = words_ui(ui, Spec::new("Title").wide(320.0), &plan.title) {
            requests.push(Request::Edit(Edit::SetTitle { title }));
        }
        ui.end_row();
        term_ui(ui, "Units");
        if let Some(units) = choice_ui(ui, Spec::new("Units").wide(220.0), plan.units, &UNIT_SYSTEMS) {
            requests.push(Request::Edit(Edit::SetUnits { units }));
        }
        ui.end_row();
        term_ui(ui, "Tell as near from");
        ui.horizontal(|ui| {
            let now = (plan.limits.near_share.map(|share| share * 100.0), "% of a limit (empty: 95)");
            let spec = Spec::new("Tell as near from").wide(90.0);
            if let Some(share) = some_number_ui(ui, spec, now, shown.style) {
                let share = share.map(|percent| percent / 100.0);
                requests.push(Request::Edit(Edit::SetNearShare { share }));
            }
        });
        ui.end_row();
    });
    term_ui(ui, "Notes");
    notes_ui(ui, shown, requests);
}

/// Several lines; the plan changes when the field is left, or told to enter what it has.
fn notes_ui(ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
    let id = Id::unique("plan notes draft");
    let mut notes = ui.data(|data| data.get_temp::<String>(id)).unwrap_or_else(|| shown.plan.notes.clone());
    let edit = TextEdit::multiline(&mut notes).desired_rows(5).desired_width(480.0);
    let response = ui.add(edit).accessible_name("Notes");
    if response.lost_focus() || is_told_to_enter(ui.ctx()) {
        ui.data_mut(|data| data.remove_temp::<String>(id));
        if notes != shown.plan.notes {
            requests.push(Request::Edit(Edit::SetNotes { notes }));
        }
    } else if response.changed() {
        ui.data_mut(|data| data.insert_temp(id, notes));
    }
}
