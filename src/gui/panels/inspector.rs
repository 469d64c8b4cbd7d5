//! The details of what is selected: strings, else a vehicle, and always the rack that the rack face shows.

use super::how::how_title_ui;
use super::vehicle_results::vehicle_results_ui;
use super::{string_details, type_forms, types_form};
use crate::checks::Subject;
use crate::edit::{Edit, Locked, Rows};
use crate::gui::canvas::rack_words;
use crate::gui::commands::{Command, Pane};
use crate::gui::fields::{
    Spec, form_grid, give_focus_to_next, name_ui, number_ui, pick_ui, some_quantity_ui, take_focus,
};
use crate::gui::glossary::{explained, term_ui};
use crate::gui::{Request, SelectMode, Shown};
use crate::model::{StringMark, Vehicle, VehicleMark};
use crate::units::{Quantity, QuantityKind};
use egui::{RichText, ScrollArea, Ui};

/// Draws the panel.
pub(in crate::gui) fn inspector_ui(ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
    ui.heading("Details");
    if shown.focus == Some(Pane::Details) {
        give_focus_to_next(ui);
    }
    ScrollArea::both().auto_shrink(false).show(ui, |ui| {
        let strings = &shown.selection.strings;
        match strings.len() {
            0 => {}
            1 => {
                for mark in strings {
                    ui.push_id(mark.as_str(), |ui| string_details::string_ui(ui, shown, mark, requests));
                }
            }
            _ => several_ui(ui, shown, requests),
        }
        match shown.selection.vehicle {
            Some(vehicle) if strings.is_empty() => vehicle_ui(ui, shown, vehicle, requests),
            _ => {}
        }
        rack_ui(ui, shown, requests);
    });
}

/// What several strings have in common, and what can be done to all.
fn several_ui(ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
    let marks: Vec<StringMark> = shown.selection.strings.iter().cloned().collect();
    let placed = |mark: &&StringMark| shown.plan.placement(mark).is_some();
    let on_train: Vec<StringMark> = marks.iter().filter(placed).cloned().collect();
    let waiting: Vec<StringMark> = marks.iter().filter(|mark| !placed(mark)).cloned().collect();
    ui.strong(format!("{} strings selected", marks.len()));
    let length: f64 =
        marks.iter().filter_map(|mark| shown.plan.string(mark)).map(|string| string.length.m()).sum();
    ui.weak(format!(
        "{} on the train, {} in the yard, {} in all",
        on_train.len(),
        waiting.len(),
        Quantity::length_m(length).show(shown.style)
    ));
    if !waiting.is_empty() {
        let button = ui.button("Place in free pockets");
        take_focus(&button);
        if button.clicked() {
            requests.push(Request::PlaceFree(waiting));
        }
    }
    if !on_train.is_empty() {
        for command in [Command::TakeOff, Command::HoldAtMiddle] {
            let button = ui.button(command.title());
            take_focus(&button);
            if button.clicked() {
                requests.push(Request::Command(command));
            }
        }
        ui.horizontal(|ui| {
            for (words, locked) in [("Lock", Locked::Yes), ("Unlock", Locked::No)] {
                if ui.button(words).clicked() {
                    requests.push(Request::Edit(Edit::SetLocked { strings: on_train.clone(), locked }));
                }
            }
        });
    }
    if ui.button("Select none").clicked() {
        requests.push(Request::Select { strings: Vec::new(), mode: SelectMode::Only });
    }
    ui.separator();
}

/// A vehicle: its row of the train, what it carries, and the form of its type.
fn vehicle_ui(ui: &mut Ui, shown: &Shown<'_>, index: usize, requests: &mut Vec<Request>) {
    let Some(vehicle) = shown.plan.train.vehicles.get(index) else { return };
    ui.push_id(("vehicle", vehicle.mark.as_str()), |ui| {
        how_title_ui(ui, shown, (&format!("Vehicle {}", vehicle.mark), Subject::Vehicle(index)), requests);
        form_grid(("vehicle form", index)).show(ui, |ui| {
            vehicle_fields_ui(ui, shown, vehicle, requests);
        });
        vehicle_figures_ui(ui, shown, index);
        vehicle_results_ui(ui, shown, index);
        let kinds = &shown.plan.train.vehicle_types;
        if let Some(kind) = kinds.iter().position(|kind| kind.name == vehicle.vehicle_type) {
            ui.collapsing("Vehicle type and ratings", |ui| {
                types_form::whose_ui(ui, shown, kind, requests);
                type_forms::vehicle_type_ui(ui, shown, kind, requests);
            });
        }
        ui.separator();
    });
}

/// The fields of one vehicle of the row.
pub(super) fn vehicle_fields_ui(
    ui: &mut Ui,
    shown: &Shown<'_>,
    vehicle: &Vehicle,
    requests: &mut Vec<Request>,
) {
    let change = |change: &dyn Fn(&mut Vehicle)| {
        let mut to = vehicle.clone();
        change(&mut to);
        Request::Edit(Edit::Vehicles(Rows::Change { name: vehicle.mark.clone(), to }))
    };
    term_ui(ui, "Mark");
    if let Some(mark) = name_ui::<VehicleMark>(ui, Spec::new("Vehicle mark"), vehicle.mark.as_str()) {
        requests.push(change(&|to| to.mark = mark.clone()));
    }
    ui.end_row();
    term_ui(ui, "Type");
    let kinds = &shown.plan.train.vehicle_types;
    let names: Vec<String> = kinds.iter().map(|kind| kind.name.to_string()).collect();
    let now = kinds.iter().position(|kind| kind.name == vehicle.vehicle_type);
    if let Some(kind) = pick_ui(ui, Spec::new("Vehicle type"), now, &names).and_then(|at| kinds.get(at)) {
        requests.push(change(&|to| to.vehicle_type = kind.name.clone()));
    }
    ui.end_row();
    term_ui(ui, "Turned round");
    let mut turned = vehicle.turned;
    if ui.checkbox(&mut turned, "").accessible_name("Turned round").changed() {
        requests.push(Request::Edit(Edit::Turn { vehicles: vec![vehicle.mark.clone()] }));
    }
    ui.end_row();
    term_ui(ui, "Weighed tare");
    ui.horizontal(|ui| {
        let now = (vehicle.tare_kg, QuantityKind::Mass);
        if let Some(tare) = some_quantity_ui(ui, Spec::new("Weighed tare").wide(90.0), now, shown.style) {
            requests.push(change(&|to| to.tare_kg = tare));
        }
    });
    ui.end_row();
    term_ui(ui, "Stands higher by");
    ui.horizontal(|ui| {
        let now = (vehicle.height_offset_mm, "mm");
        if let Some(offset) = number_ui(ui, Spec::new("Height offset").wide(90.0), now, shown.style) {
            requests.push(change(&|to| to.height_offset_mm = offset));
        }
    });
    ui.end_row();
}

fn vehicle_figures_ui(ui: &mut Ui, shown: &Shown<'_>, index: usize) {
    let Some(loads) = shown.figures.state(shown.state).and_then(|state| state.vehicles.get(index)) else {
        return;
    };
    let style = shown.style;
    let mass = |kg: f64| Quantity::mass(kg).show(style);
    ui.label(RichText::new("In the state shown").strong());
    let mut rows = vec![
        ("Load", mass(loads.payload_kg)),
        ("Gross", mass(loads.gross_kg)),
        ("Mass per length", Quantity::mass_per_length(loads.mass_per_metre_kg).show(style)),
        ("On the front", mass(loads.supports[0].load_kg)),
        ("On the rear", mass(loads.supports[1].load_kg)),
        ("Front to rear", Quantity::ratio(loads.support_ratio()).show(style)),
        ("Front axle", mass(loads.supports[0].axle_kg)),
        ("Rear axle", mass(loads.supports[1].axle_kg)),
    ];
    let words = [["Wheels front, stiff", "Wheels front, soft"], ["Wheels rear, stiff", "Wheels rear, soft"]];
    for (support, [stiff, soft]) in loads.supports.iter().zip(words) {
        rows.push((stiff, Quantity::ratio(support.stiff.ratio()).show(style)));
        rows.push((soft, Quantity::ratio(support.soft.ratio()).show(style)));
    }
    let centre = loads
        .centre_height_m
        .map_or("not entered".to_owned(), |height| Quantity::length_m(height).show(style));
    rows.push(("Centre above rail", centre));
    figures_ui(ui, ("vehicle figures", index), &rows);
}

/// Names and values in two columns.
pub(super) fn figures_ui(ui: &mut Ui, salt: impl std::hash::Hash + std::fmt::Debug, rows: &[(&str, String)]) {
    form_grid(salt).show(ui, |ui| {
        for (name, value) in rows {
            explained(ui.weak(*name), name);
            ui.label(value);
            ui.end_row();
        }
    });
}

/// The rack that the rack face shows.
fn rack_ui(ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
    let at = shown.selection.rack;
    let Some(rack) = shown.figures.consist.racks.get(at) else {
        ui.weak("The train has no rack yet. Set up its vehicles under Train and Types.");
        return;
    };
    let Some(kind) = shown.plan.train.rack_types.get(rack.rack_type) else { return };
    let title = format!("Rack {}", rack_words(shown.plan, &shown.figures.consist, at));
    how_title_ui(ui, shown, (&title, Subject::Rack(at)), requests);
    let mut rows = vec![
        ("Type", kind.name.to_string()),
        ("Place in the train", Quantity::length(rack.x).show(shown.style)),
    ];
    if let Some(state) = shown.figures.state(shown.state) {
        let load = Quantity::mass(state.rack_kg(at)).show(shown.style);
        let of = kind
            .rack_rating_kg
            .map_or("not entered".to_owned(), |rating| Quantity::mass(rating).show(shown.style));
        rows.push(("Load now", load));
        rows.push(("Rating", of));
    }
    figures_ui(ui, "rack figures", &rows);
    let more = ui.collapsing("Rack type and ratings", |ui| {
        type_forms::rack_type_ui(ui, shown, rack.rack_type, requests);
    });
    take_focus(&more.header_response);
}
