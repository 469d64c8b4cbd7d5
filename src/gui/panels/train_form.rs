//! The row of vehicles: add, remove, move, turn; coupling slack, and what stands beyond the ends.

use crate::edit::{Edit, Rows, TrainSettings};
use crate::gui::fields::{
    Spec, choice_ui, form_grid, heading_ui, length_ui, name_ui, pick_ui, some_length_ui, some_quantity_ui,
};
use crate::gui::train_edits;
use crate::gui::{Request, Shown};
use crate::model::{Beyond, BeyondKind, LaneRule, Vehicle, VehicleMark};
use crate::units::{Length, Quantity, QuantityKind};
use egui::{Grid, Ui};

/// Draws the form.
pub(super) fn train_ui(ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
    add_ui(ui, shown, requests);
    let vehicles = &shown.plan.train.vehicles;
    if !vehicles.is_empty() {
        Grid::new("vehicles").num_columns(7).striped(true).spacing([8.0, 3.0]).show(ui, |ui| {
            for title in ["", "Mark", "Type", "Turned", "Weighed tare", "Front at", ""] {
                ui.strong(title);
            }
            ui.end_row();
            for (at, vehicle) in vehicles.iter().enumerate() {
                ui.push_id(vehicle.mark.as_str(), |ui| {
                    let selected = shown.selection.vehicle == Some(at);
                    let name = format!("Select vehicle {}", vehicle.mark);
                    let choose = ui.selectable_label(selected, (at + 1).to_string()).accessible_name(name);
                    if choose.clicked() {
                        requests.push(Request::SelectVehicle(Some(at)));
                    }
                });
                vehicle_line_ui(ui, shown, (at, vehicle), requests);
                ui.end_row();
            }
        });
    }
    settings_ui(ui, shown, requests);
}

fn vehicle_line_ui(ui: &mut Ui, shown: &Shown<'_>, line: (usize, &Vehicle), requests: &mut Vec<Request>) {
    let (at, vehicle) = line;
    let change = |change: &dyn Fn(&mut Vehicle)| {
        let mut to = vehicle.clone();
        change(&mut to);
        Request::Edit(Edit::Vehicles(Rows::Change { name: vehicle.mark.clone(), to }))
    };
    ui.push_id(("mark", vehicle.mark.as_str()), |ui| {
        if let Some(mark) =
            name_ui::<VehicleMark>(ui, Spec::new("Mark of vehicle").wide(90.0), vehicle.mark.as_str())
        {
            requests.push(change(&|to| to.mark = mark.clone()));
        }
    });
    ui.push_id(("type", vehicle.mark.as_str()), |ui| {
        let kinds = &shown.plan.train.vehicle_types;
        let names: Vec<String> = kinds.iter().map(|kind| kind.name.to_string()).collect();
        let now = kinds.iter().position(|kind| kind.name == vehicle.vehicle_type);
        let spec = Spec::new("Type of vehicle").wide(130.0);
        if let Some(kind) = pick_ui(ui, spec, now, &names).and_then(|at| kinds.get(at)) {
            requests.push(change(&|to| to.vehicle_type = kind.name.clone()));
        }
    });
    let mut turned = vehicle.turned;
    if ui.checkbox(&mut turned, "").accessible_name(format!("Turn {}", vehicle.mark)).changed() {
        requests.push(Request::Edit(Edit::Turn { vehicles: vec![vehicle.mark.clone()] }));
    }
    ui.push_id(("tare", vehicle.mark.as_str()), |ui| {
        ui.horizontal(|ui| {
            let spec = Spec::new("Weighed tare of vehicle").wide(90.0);
            let now = (vehicle.tare_kg, QuantityKind::Mass);
            if let Some(tare) = some_quantity_ui(ui, spec, now, shown.style) {
                requests.push(change(&|to| to.tare_kg = tare));
            }
        });
    });
    let front = shown.figures.consist.vehicles.get(at).map(|place| place.front);
    ui.label(front.map_or_else(String::new, |front| Quantity::length(front).show(shown.style)));
    ui.horizontal(|ui| {
        let name = &vehicle.mark;
        let last = shown.plan.train.vehicles.len().saturating_sub(1);
        let moved = |to: usize| Request::Edit(Edit::Vehicles(Rows::Move { name: name.clone(), to }));
        let forward = ui.add_enabled(at > 0, egui::Button::new("▲").small());
        if forward.accessible_name(format!("Move {name} forward")).clicked() {
            requests.push(moved(at - 1));
        }
        let back = ui.add_enabled(at < last, egui::Button::new("▼").small());
        if back.accessible_name(format!("Move {name} back")).clicked() {
            requests.push(moved(at + 1));
        }
        if ui.small_button("Remove").accessible_name(format!("Remove {name}")).clicked() {
            requests.push(Request::Edit(Edit::Vehicles(Rows::Remove { names: vec![name.clone()] })));
        }
    });
}

/// One button per vehicle type of the plan and of the catalogue.
fn add_ui(ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
    let own = &shown.plan.train.vehicle_types;
    ui.horizontal_wrapped(|ui| {
        ui.label("Add at the rear:");
        for kind in own {
            if ui.button(kind.name.as_str()).clicked() {
                requests.extend(train_edits::inserted(shown.plan, kind, None).map(Request::Edit));
            }
        }
        let catalogue = crate::gui::samples::catalogue();
        let others =
            catalogue.vehicle_types.iter().filter(|kind| shown.plan.vehicle_type(&kind.name).is_none());
        ui.menu_button("From the catalogue", |ui| {
            for kind in others {
                let button = ui.button(kind.name.as_str()).on_hover_text(&kind.source.text);
                if button.clicked() {
                    requests.extend(train_edits::inserted(shown.plan, kind, None).map(Request::Edit));
                }
            }
        });
    });
}

fn settings_ui(ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
    let train = &shown.plan.train;
    let now = TrainSettings {
        coupling_slack: train.coupling_slack,
        front_beyond: train.front_beyond,
        rear_beyond: train.rear_beyond,
        lane_rule: train.lane_rule,
    };
    let mut to = now;
    heading_ui(ui, "The train as a whole");
    form_grid("train settings").show(ui, |ui| {
        ui.label("Slack of one coupling");
        ui.horizontal(|ui| {
            let spec = Spec::new("Slack of one coupling");
            if let Some(slack) = some_length_ui(ui, spec, to.coupling_slack, shown.style) {
                to.coupling_slack = slack;
            }
        });
        ui.end_row();
        for (name, beyond) in
            [("Beyond the front", &mut to.front_beyond), ("Beyond the rear", &mut to.rear_beyond)]
        {
            ui.label(name);
            ui.horizontal(|ui| beyond_ui(ui, shown, name, beyond));
            ui.end_row();
        }
        ui.label("Lanes come off");
        let rules = [
            (None, "not set"),
            (Some(LaneRule::OutermostFirst), "outermost first"),
            (Some(LaneRule::InnermostFirst), "innermost first"),
            (Some(LaneRule::AnyOrder), "in any order"),
        ];
        if let Some(rule) = choice_ui(ui, Spec::new("Lanes come off").wide(130.0), to.lane_rule, &rules) {
            to.lane_rule = rule;
        }
        ui.end_row();
    });
    if to != now {
        requests.push(Request::Edit(Edit::SetTrainSettings(to)));
    }
}

fn beyond_ui(ui: &mut Ui, shown: &Shown<'_>, name: &str, beyond: &mut Beyond) {
    let kinds = [
        (BeyondKind::Nothing, "nothing"),
        (BeyondKind::EndStop, "a fixed stop"),
        (BeyondKind::Vehicle, "another vehicle"),
    ];
    ui.push_id(name, |ui| {
        if let Some(kind) = choice_ui(ui, Spec::new(name).wide(130.0), beyond.kind, &kinds) {
            beyond.kind = kind;
            if kind == BeyondKind::Nothing {
                beyond.distance = Length::ZERO;
            }
        }
        if beyond.kind != BeyondKind::Nothing {
            let distance =
                length_ui(ui, Spec::new("at a distance of").wide(90.0), beyond.distance, shown.style);
            beyond.distance = distance.unwrap_or(beyond.distance);
        }
    });
}
