//! The row of vehicles: add, remove, move, turn; coupling slack, and what stands beyond the ends.

use crate::edit::{Edit, Rows, TrainSettings};
use crate::gui::fields::{
    Spec, bare_quantity_ui, choice_ui, form_grid, heading_ui, length_ui, name_ui, pick_ui, some_length_ui,
};
use crate::gui::glossary::term_ui;
use crate::gui::menus::{self, MenuOf};
use crate::gui::{Request, Role, Shown, train_edits};
use crate::model::{Beyond, BeyondKind, LaneRule, Vehicle, VehicleMark};
use crate::units::{Length, Quantity, QuantityKind};
use egui::{Button, Grid, Key, Response, Sense, Ui};

/// Draws the form.
pub(super) fn train_ui(ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
    add_ui(ui, shown, requests);
    let vehicles = &shown.plan.train.vehicles;
    if !vehicles.is_empty() {
        let mut handles = Vec::with_capacity(vehicles.len());
        Grid::new("vehicles").num_columns(7).striped(true).spacing([8.0, 3.0]).show(ui, |ui| {
            let tare = format!("Tare, {}", Quantity::mass(0.0).unit_sign(shown.style));
            for title in ["", "Mark", "Type", "Turned", &tare, "Front at", ""] {
                ui.strong(title);
            }
            ui.end_row();
            for (at, vehicle) in vehicles.iter().enumerate() {
                ui.push_id(vehicle.mark.as_str(), |ui| {
                    handles.push(handle_ui(ui, shown, (at, vehicle), requests));
                });
                vehicle_line_ui(ui, shown, (at, vehicle), requests);
                ui.end_row();
            }
        });
        reorder_ui(ui, shown, &handles, requests);
    }
    settings_ui(ui, shown, requests);
}

/// The number of a row: to select the vehicle, to drag it to another place, and with its menu.
fn handle_ui(
    ui: &mut Ui,
    shown: &Shown<'_>,
    (at, vehicle): (usize, &Vehicle),
    requests: &mut Vec<Request>,
) -> Response {
    let selected = shown.selection.vehicle == Some(at);
    let button = Button::selectable(selected, (at + 1).to_string()).sense(Sense::click_and_drag());
    let handle = ui.add(button).accessible_name(format!("Select vehicle {}", vehicle.mark));
    if handle.clicked() {
        requests.push(Request::SelectVehicle(Some(at)));
    }
    menus::ask(&handle, || MenuOf::Vehicle(at), requests);
    handle.on_hover_text("Drag it to another place in the train; right click for more")
}

/// Follows the drag of a row by its handle: a line where it would go; Escape leaves it where it is.
fn reorder_ui(ui: &Ui, shown: &Shown<'_>, handles: &[Response], requests: &mut Vec<Request>) {
    let Some(from) = handles.iter().position(|handle| handle.dragged() || handle.drag_stopped()) else {
        return;
    };
    let Some(at) = ui.input(|input| input.pointer.interact_pos()) else { return };
    let others = handles.iter().enumerate().filter(|(row, _)| *row != from);
    let to = others.filter(|(_, handle)| handle.rect.center().y < at.y).count();
    // Escape ends the drag in the eyes of egui, as a drop does.
    let escaped = ui.input(|input| input.key_pressed(Key::Escape));
    if handles[from].drag_stopped() {
        let edit = train_edits::moved(&shown.settled.plan, from, to).filter(|_| !escaped);
        if let Some(edit) = edit {
            requests.extend([Request::Edit(edit), Request::SelectVehicle(Some(to))]);
        }
        return;
    }
    let (above, below) = if to > from { (to, to + 1) } else { (to.wrapping_sub(1), to) };
    let y = match (handles.get(above), handles.get(below)) {
        (Some(above), Some(below)) => f32::midpoint(above.rect.bottom(), below.rect.top()),
        (Some(last), None) => last.rect.bottom() + 2.0,
        (None, Some(first)) => first.rect.top() - 2.0,
        (None, None) => return,
    };
    let stroke = (2.5, shown.theme.color(Role::Ghost));
    ui.painter().hline(ui.min_rect().x_range(), y, stroke);
    ui.ctx().set_cursor_icon(egui::CursorIcon::Grabbing);
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
        let spec = Spec::new("Type of vehicle").wide(156.0);
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
            let spec = Spec::new("Weighed tare of vehicle").wide(84.0).hint("not entered");
            let now = (vehicle.tare_kg, QuantityKind::Mass);
            if let Some(tare) = bare_quantity_ui(ui, spec, now, shown.style) {
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
        let forward = ui.add_enabled(at > 0, Button::new("▲").small());
        if forward.accessible_name(format!("Move {name} forward")).clicked() {
            requests.push(moved(at - 1));
        }
        let back = ui.add_enabled(at < last, Button::new("▼").small());
        if back.accessible_name(format!("Move {name} back")).clicked() {
            requests.push(moved(at + 1));
        }
        if ui.small_button("Remove").accessible_name(format!("Remove {name}")).clicked() {
            requests.push(Request::Edit(Edit::Vehicles(Rows::Remove { names: vec![name.clone()] })));
        }
        let more = ui.small_button("...").accessible_name(format!("More for {name}"));
        if more.clicked() {
            requests.push(Request::OpenMenu { of: MenuOf::Vehicle(at), at: more.rect.left_bottom() });
        }
        more.on_hover_text("Insert, duplicate, turn, a type of its own and more");
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
        term_ui(ui, "Slack of one coupling");
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
            term_ui(ui, name);
            ui.horizontal(|ui| beyond_ui(ui, shown, name, beyond));
            ui.end_row();
        }
        term_ui(ui, "Lanes come off");
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
