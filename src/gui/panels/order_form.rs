//! The order as a table to edit: a string a line.

use super::string_details::drop_pick_ui;
use crate::edit::{Edit, Rows};
use crate::gui::fields::{Spec, choice_ui, length_ui, name_ui, pick_ui};
use crate::gui::{Request, SelectMode, Shown};
use crate::model::{MassEntry, OrderedString, TrackSide};
use crate::units::Quantity;
use egui::{Align, Layout, Ui};
use egui_extras::{Column, TableBuilder};

/// Draws the table.
pub(super) fn order_ui(ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
    let order = &shown.plan.order;
    if order.is_empty() {
        ui.weak(
            "The order is empty. Take it in from a spreadsheet: a CSV file, or rows pasted here with Ctrl+V. Or add \
             strings in the yard list, at the left.",
        );
        return;
    }
    let widths = [22.0, 84.0, 100.0, 116.0, 88.0, 112.0, 70.0, 98.0, 58.0];
    let titles = ["", "Mark", "Section", "Length", "Side", "Drop", "Mass", "Place", ""];
    let mut table = TableBuilder::new(ui)
        .id_salt("order")
        .striped(true)
        .vscroll(true)
        .auto_shrink(false)
        .cell_layout(Layout::left_to_right(Align::Center));
    for width in widths {
        table = table.column(Column::exact(width).clip(true));
    }
    table
        .header(20.0, |mut header| {
            for title in titles {
                header.col(|ui| {
                    ui.strong(title);
                });
            }
        })
        .body(|body| {
            body.rows(24.0, order.len(), |mut row| {
                let Some(string) = order.get(row.index()) else { return };
                let cell = |ui: &mut Ui, draw: &mut dyn FnMut(&mut Ui)| {
                    ui.push_id(string.mark.as_str(), |ui| draw(ui));
                };
                row.col(|ui| cell(ui, &mut |ui| select_ui(ui, shown, string, requests)));
                row.col(|ui| cell(ui, &mut |ui| mark_ui(ui, string, requests)));
                row.col(|ui| cell(ui, &mut |ui| section_ui(ui, shown, string, requests)));
                row.col(|ui| cell(ui, &mut |ui| line_length_ui(ui, shown, string, requests)));
                row.col(|ui| cell(ui, &mut |ui| side_ui(ui, string, requests)));
                row.col(|ui| cell(ui, &mut |ui| line_drop_ui(ui, shown, string, requests)));
                row.col(|ui| {
                    ui.label(mass_text(shown, string));
                });
                row.col(|ui| {
                    ui.label(shown.plan.placement(&string.mark).map_or("in the yard".to_owned(), |place| {
                        format!("tier {}, lane {}", place.tier, place.lane)
                    }));
                });
                row.col(|ui| {
                    let button = ui.small_button("Remove").accessible_name(format!("Remove {}", string.mark));
                    if button.clicked() {
                        let names = vec![string.mark.clone()];
                        requests.push(Request::Edit(Edit::Strings(Rows::Remove { names })));
                    }
                });
            });
        });
}

fn change(string: &OrderedString, change: impl FnOnce(&mut OrderedString)) -> Request {
    let mut to = string.clone();
    change(&mut to);
    Request::Edit(Edit::Strings(Rows::Change { name: string.mark.clone(), to }))
}

fn select_ui(ui: &mut Ui, shown: &Shown<'_>, string: &OrderedString, requests: &mut Vec<Request>) {
    let mut selected = shown.selection.strings.contains(&string.mark);
    let name = format!("Select {}", string.mark);
    if ui.checkbox(&mut selected, "").accessible_name(name).changed() {
        requests.push(Request::Select { strings: vec![string.mark.clone()], mode: SelectMode::Toggle });
    }
}

fn mark_ui(ui: &mut Ui, string: &OrderedString, requests: &mut Vec<Request>) {
    if let Some(mark) = name_ui(ui, Spec::new("Mark in the order").wide(72.0), string.mark.as_str()) {
        requests.push(change(string, |to| to.mark = mark));
    }
}

fn section_ui(ui: &mut Ui, shown: &Shown<'_>, string: &OrderedString, requests: &mut Vec<Request>) {
    let sections = &shown.plan.sections;
    let names: Vec<String> = sections.iter().map(|section| section.name.to_string()).collect();
    let now = sections.iter().position(|section| section.name == string.section);
    let spec = Spec::new("Section in the order").wide(90.0);
    if let Some(row) = pick_ui(ui, spec, now, &names).and_then(|at| sections.get(at)) {
        requests.push(change(string, |to| to.section = row.name.clone()));
    }
}

fn line_length_ui(ui: &mut Ui, shown: &Shown<'_>, string: &OrderedString, requests: &mut Vec<Request>) {
    let spec = Spec::new("Length in the order").wide(90.0);
    if let Some(length) = length_ui(ui, spec, string.length, shown.style) {
        requests.push(change(string, |to| to.length = length));
    }
}

fn side_ui(ui: &mut Ui, string: &OrderedString, requests: &mut Vec<Request>) {
    let sides = [(None, "not said"), (Some(TrackSide::Left), "left"), (Some(TrackSide::Right), "right")];
    if let Some(side) = choice_ui(ui, Spec::new("Side in the order").wide(90.0), string.side, &sides) {
        requests.push(change(string, |to| to.side = side));
    }
}

fn line_drop_ui(ui: &mut Ui, shown: &Shown<'_>, string: &OrderedString, requests: &mut Vec<Request>) {
    if let Some(drop) = drop_pick_ui(ui, shown, string.drop.as_ref()) {
        requests.push(change(string, |to| to.drop = drop));
    }
}

fn mass_text(shown: &Shown<'_>, string: &OrderedString) -> String {
    match string.mass {
        MassEntry::Stated { kg, .. } => format!("{} stated", Quantity::mass(kg).show(shown.style)),
        MassEntry::Computed => shown
            .plan
            .section(&string.section)
            .map_or_else(String::new, |s| Quantity::mass(s.mass_kg(string.length)).show(shown.style)),
    }
}
