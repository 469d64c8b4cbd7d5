//! The order as a table to edit: a string a line.

use super::row_drag::{DraggedRow, Way, dropped_among, handle_ui, index_after, pull_at_edges};
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
    let why = "Drag a line by its handle to another place.";
    ui.add(egui::Label::new(egui::RichText::new(why).weak()).truncate());
    let wide = Widths::in_room(ui.available_width());
    let across = ui.available_rect_before_wrap().x_range();
    let mut handles = Vec::new();
    let mut table = TableBuilder::new(ui)
        .id_salt("order")
        .striped(true)
        .vscroll(true)
        .auto_shrink(false)
        .cell_layout(Layout::left_to_right(Align::Center));
    for width in wide.0 {
        table = table.column(Column::exact(width).clip(true));
    }
    let mass = format!("Mass, {}", Quantity::mass(0.0).unit_sign(shown.style));
    let titles = ["", "", "Mark", "Section", "Length", "Side", "Drop", mass.as_str(), "Tier, lane", ""];
    table
        .header(20.0, |mut header| {
            for title in titles {
                header.col(|ui| {
                    ui.add(egui::Label::new(egui::RichText::new(title).strong()).truncate());
                });
            }
        })
        .body(|body| {
            body.rows(24.0, order.len(), |mut row| {
                let at = row.index();
                let Some(string) = order.get(at) else { return };
                let cell = |ui: &mut Ui, draw: &mut dyn FnMut(&mut Ui)| {
                    ui.push_id(string.mark.as_str(), |ui| draw(ui));
                };
                row.col(|ui| {
                    if handles.is_empty() {
                        pull_at_edges(ui, ORDER);
                    }
                    handles.push((at, row_handle_ui(ui, shown, (string, at), requests)));
                });
                row.col(|ui| cell(ui, &mut |ui| select_ui(ui, shown, string, requests)));
                row.col(|ui| cell(ui, &mut |ui| mark_ui(ui, (string, wide.0[2]), requests)));
                row.col(|ui| cell(ui, &mut |ui| section_ui(ui, shown, (string, wide.0[3]), requests)));
                row.col(|ui| cell(ui, &mut |ui| line_length_ui(ui, shown, (string, wide.0[4]), requests)));
                row.col(|ui| cell(ui, &mut |ui| side_ui(ui, (string, wide.0[5]), requests)));
                row.col(|ui| cell(ui, &mut |ui| line_drop_ui(ui, shown, string, requests)));
                row.col(|ui| mass_ui(ui, shown, string));
                row.col(|ui| place_ui(ui, shown, string));
                row.col(|ui| {
                    let button = ui.small_button("×").accessible_name(format!("Remove {}", string.mark));
                    if button.on_hover_text("Remove this string from the order").clicked() {
                        let names = vec![string.mark.clone()];
                        requests.push(Request::Edit(Edit::Strings(Rows::Remove { names })));
                    }
                });
            });
        });
    if let Some((from, gap)) = dropped_among(ui, ORDER, &handles, across) {
        requests.extend(moved(shown, from, index_after(from, gap)));
    }
}

/// What the order is called while a line of it is dragged.
const ORDER: &str = "order";

/// Widths of the columns in points.
struct Widths([f32; 10]);

impl Widths {
    /// The least at which every cell can be read, and up to half as much again where there is room.
    fn in_room(room: f32) -> Self {
        const LEAST: [f32; 10] = [14.0, 18.0, 66.0, 80.0, 88.0, 74.0, 100.0, 58.0, 58.0, 20.0];
        const FIXED: f32 = 14.0 + 18.0 + 20.0;
        let gaps = 8.0 * LEAST.len() as f32 + 12.0;
        let wanted: f32 = LEAST.iter().sum();
        let wider = ((room - gaps - FIXED) / (wanted - FIXED)).clamp(1.0, 1.5);
        Self(LEAST.map(|width| if width < 30.0 { width } else { width * wider }))
    }
}

/// The handle of a line; gives where the line lies.
fn row_handle_ui(
    ui: &mut Ui,
    shown: &Shown<'_>,
    (string, at): (&OrderedString, usize),
    requests: &mut Vec<Request>,
) -> egui::Rect {
    let dragged = DraggedRow { list: ORDER.to_owned(), row: at };
    let (handle, way) = handle_ui(ui, &format!("Order of {}", string.mark), dragged);
    let to = match way {
        Some(Way::Earlier) => at.checked_sub(1),
        Some(Way::Later) => Some(at + 1).filter(|to| *to < shown.plan.order.len()),
        None => None,
    };
    requests.extend(to.and_then(|to| moved(shown, at, to)));
    handle.rect
}

fn moved(shown: &Shown<'_>, from: usize, to: usize) -> Option<Request> {
    let name = shown.plan.order.get(from)?.mark.clone();
    Some(Request::Edit(Edit::Strings(Rows::Move { name, to })))
}

fn mass_ui(ui: &mut Ui, shown: &Shown<'_>, string: &OrderedString) {
    let (kg, how) = match string.mass {
        MassEntry::Stated { kg, .. } => (Some(kg), "as stated"),
        MassEntry::Computed => {
            (shown.plan.section(&string.section).map(|s| s.mass_kg(string.length)), "computed")
        }
    };
    let words = kg.map_or_else(String::new, |kg| Quantity::mass(kg).show_number(shown.style));
    let stated = if how == "as stated" { " *" } else { "" };
    let label = egui::Label::new(format!("{words}{stated}")).truncate();
    ui.add(label).on_hover_text(format!("{how}; to be changed in the details"));
}

fn place_ui(ui: &mut Ui, shown: &Shown<'_>, string: &OrderedString) {
    let place = shown.plan.placement(&string.mark);
    let words = place.map_or_else(|| "yard".to_owned(), |place| format!("{}, {}", place.tier, place.lane));
    let hover = place.map_or_else(
        || "in the yard list: it has no place on the train".to_owned(),
        |place| format!("tier {}, lane {}", place.tier, place.lane),
    );
    ui.label(words).on_hover_text(hover);
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

fn mark_ui(ui: &mut Ui, (string, width): (&OrderedString, f32), requests: &mut Vec<Request>) {
    if let Some(mark) = name_ui(ui, Spec::new("Mark in the order").wide(width - 12.0), string.mark.as_str()) {
        requests.push(change(string, |to| to.mark = mark));
    }
}

fn section_ui(
    ui: &mut Ui,
    shown: &Shown<'_>,
    (string, width): (&OrderedString, f32),
    requests: &mut Vec<Request>,
) {
    let sections = &shown.plan.sections;
    let names: Vec<String> = sections.iter().map(|section| section.name.to_string()).collect();
    let now = sections.iter().position(|section| section.name == string.section);
    let spec = Spec::new("Section in the order").wide(width - 4.0);
    if let Some(row) = pick_ui(ui, spec, now, &names).and_then(|at| sections.get(at)) {
        requests.push(change(string, |to| to.section = row.name.clone()));
    }
}

fn line_length_ui(
    ui: &mut Ui,
    shown: &Shown<'_>,
    (string, width): (&OrderedString, f32),
    requests: &mut Vec<Request>,
) {
    let spec = Spec::new("Length in the order").wide(width - 30.0);
    if let Some(length) = length_ui(ui, spec, string.length, shown.style) {
        requests.push(change(string, |to| to.length = length));
    }
}

fn side_ui(ui: &mut Ui, (string, width): (&OrderedString, f32), requests: &mut Vec<Request>) {
    let sides = [(None, "not said"), (Some(TrackSide::Left), "left"), (Some(TrackSide::Right), "right")];
    if let Some(side) = choice_ui(ui, Spec::new("Side in the order").wide(width - 4.0), string.side, &sides) {
        requests.push(change(string, |to| to.side = side));
    }
}

fn line_drop_ui(ui: &mut Ui, shown: &Shown<'_>, string: &OrderedString, requests: &mut Vec<Request>) {
    if let Some(drop) = drop_pick_ui(ui, shown, string.drop.as_ref()) {
        requests.push(change(string, |to| to.drop = drop));
    }
}
