//! Vehicle and rack types: choose one, copy one from the catalogue, type a new one, edit all of it.

use super::{new_types, type_forms, type_picture};
use crate::edit::{Edit, Rows};
use crate::gui::train_edits;
use crate::gui::{Request, Shown};
use egui::Ui;

/// The type being edited.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum Chosen {
    /// The first vehicle type, until something is chosen.
    #[default]
    First,
    /// A vehicle type, by index.
    Vehicle(usize),
    /// A rack type, by index.
    Rack(usize),
    /// A vehicle type that is being typed.
    NewVehicle,
    /// A rack type that is being typed.
    NewRack,
}

impl Chosen {
    /// Draws the list and the form of the type chosen.
    pub(super) fn ui(&mut self, ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
        let train = &shown.plan.train;
        let now = match *self {
            Self::First => Self::Vehicle(0),
            chosen => chosen,
        };
        ui.horizontal_wrapped(|ui| {
            ui.strong("Vehicle types");
            for (at, kind) in train.vehicle_types.iter().enumerate() {
                if ui.selectable_label(now == Self::Vehicle(at), kind.name.as_str()).clicked() {
                    *self = Self::Vehicle(at);
                }
            }
            self.add_vehicle_type_ui(ui, shown, requests);
        });
        ui.horizontal_wrapped(|ui| {
            ui.strong("Rack types");
            for (at, kind) in train.rack_types.iter().enumerate() {
                if ui.selectable_label(now == Self::Rack(at), kind.name.as_str()).clicked() {
                    *self = Self::Rack(at);
                }
            }
            self.add_rack_type_ui(ui, shown, requests);
        });
        ui.separator();
        match now {
            Self::Rack(at) => {
                if let Some(kind) = train.rack_types.get(at) {
                    type_forms::rack_type_ui(ui, shown, at, requests);
                    remove_ui(ui, kind.name.as_str(), requests, || {
                        Edit::RackTypes(Rows::Remove { names: vec![kind.name.clone()] })
                    });
                }
            }
            Self::Vehicle(at) => match train.vehicle_types.get(at) {
                Some(kind) => {
                    whose_ui(ui, shown, at, requests);
                    type_forms::vehicle_type_ui(ui, shown, at, requests);
                    remove_ui(ui, kind.name.as_str(), requests, || {
                        Edit::VehicleTypes(Rows::Remove { names: vec![kind.name.clone()] })
                    });
                }
                None => {
                    ui.weak("Take a type from the catalogue, or type a new one.");
                }
            },
            Self::NewVehicle => {
                if let Some(row) = new_types::vehicle_ui(ui, shown) {
                    requests.push(Request::Edit(Edit::VehicleTypes(Rows::Add { at: None, row })));
                    *self = Self::Vehicle(train.vehicle_types.len());
                }
            }
            Self::NewRack => {
                if let Some(row) = new_types::rack_ui(ui, shown) {
                    requests.push(Request::Edit(Edit::RackTypes(Rows::Add { at: None, row })));
                    *self = Self::Rack(train.rack_types.len());
                }
            }
            Self::First => {}
        }
    }

    /// Draws the type chosen as a picture into all of `ui`.
    pub(super) fn picture_ui(&self, ui: &mut Ui, shown: &Shown<'_>) {
        match *self {
            Self::First => type_picture::vehicle_picture_ui(ui, shown, 0),
            Self::Vehicle(at) => type_picture::vehicle_picture_ui(ui, shown, at),
            Self::Rack(at) => type_picture::rack_picture_ui(ui, shown, at),
            Self::NewVehicle | Self::NewRack => {
                ui.weak("It is drawn once it is added.");
            }
        }
    }

    fn add_vehicle_type_ui(&mut self, ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
        let kinds = &shown.plan.train.vehicle_types;
        ui.menu_button("Add a vehicle type", |ui| {
            if ui.button("A new type, typed in").clicked() {
                *self = Self::NewVehicle;
            }
            ui.separator();
            for kind in &crate::gui::samples::catalogue().vehicle_types {
                if shown.plan.vehicle_type(&kind.name).is_none()
                    && ui.button(kind.name.as_str()).on_hover_text(&kind.source.text).clicked()
                {
                    let edits = train_edits::copied_type(shown.plan, kind);
                    let label = format!("Add vehicle type {}", kind.name);
                    requests.push(Request::Edit(Edit::Batch { label, edits }));
                    *self = Self::Vehicle(kinds.len());
                }
            }
        });
    }

    fn add_rack_type_ui(&mut self, ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
        let kinds = &shown.plan.train.rack_types;
        ui.menu_button("Add a rack type", |ui| {
            if ui.button("A new type, typed in").clicked() {
                *self = Self::NewRack;
            }
            ui.separator();
            for kind in &crate::gui::samples::catalogue().rack_types {
                if shown.plan.rack_type(&kind.name).is_none()
                    && ui.button(kind.name.as_str()).on_hover_text(&kind.source.text).clicked()
                {
                    requests.push(Request::Edit(Edit::RackTypes(Rows::Add { at: None, row: kind.clone() })));
                    *self = Self::Rack(kinds.len());
                }
            }
        });
    }
}

/// Which vehicles are of the type, all of which the form changes; and a way to change the selected one alone.
pub(super) fn whose_ui(ui: &mut Ui, shown: &Shown<'_>, kind: usize, requests: &mut Vec<Request>) {
    let train = &shown.settled.plan.train;
    let Some(kind) = train.vehicle_types.get(kind) else { return };
    let mut of_it = train.vehicles.iter().filter(|vehicle| vehicle.vehicle_type == kind.name);
    let marks: Vec<&str> = of_it.by_ref().map(|vehicle| vehicle.mark.as_str()).collect();
    let words = match marks.as_slice() {
        [] => "No vehicle is of this type.".to_owned(),
        [only] => format!("Changes vehicle {only}, the only one of this type."),
        [first, .., last] => format!("Changes all {} vehicles of this type, {first} to {last}.", marks.len()),
    };
    ui.weak(words).on_hover_text(marks.join(", "));
    let selected = shown.selection.vehicle.and_then(|at| Some((at, train.vehicles.get(at)?)));
    let shared = selected.filter(|(_, vehicle)| vehicle.vehicle_type == kind.name && marks.len() > 1);
    let Some((at, vehicle)) = shared else { return };
    let button = ui.button(format!("Change {} only", vehicle.mark));
    let words =
        "Gives this vehicle a type of its own, a copy of this one; what is changed of it changes no other";
    if button.on_hover_text(words).clicked()
        && let Some(edit) = train_edits::own_type(&shown.settled.plan, at)
    {
        requests.extend([Request::Edit(edit), Request::EditVehicleType(train.vehicle_types.len())]);
    }
}

fn remove_ui(ui: &mut Ui, name: &str, requests: &mut Vec<Request>, edit: impl FnOnce() -> Edit) {
    ui.add_space(6.0);
    if ui.button(format!("Remove type {name}")).clicked() {
        requests.push(Request::Edit(edit()));
    }
}
