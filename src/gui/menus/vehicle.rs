//! The menus of a vehicle and of the train: insert, turn, remove, duplicate, reorder, and which type it is of.

use super::{Item, Line};
use crate::checks::Subject;
use crate::edit::Edit;
use crate::gui::train_edits;
use crate::gui::{Command, Request, SelectMode, Shown, Tab, ZoomTarget};
use crate::model::{Plan, StringMark};

/// The lines for a vehicle, by index into the train.
pub(super) fn lines(shown: &Shown<'_>, vehicle: usize) -> Vec<Line> {
    let plan = &shown.settled.plan;
    let Some(row) = plan.train.vehicles.get(vehicle) else { return Vec::new() };
    let mut lines = vec![
        Line::Title(format!("Vehicle {}, {}", row.mark, row.vehicle_type)),
        insert_lines(plan, "Insert before it", Some(vehicle)),
        insert_lines(plan, "Insert behind it", Some(vehicle + 1)),
        edit_item(
            "Insert another like it",
            train_edits::duplicated(plan, vehicle),
            Command::DuplicateVehicle,
        ),
        Line::Gap,
        edit_item("Turn it round", train_edits::turned(plan, vehicle), Command::TurnVehicle),
        edit_item(
            "Move it forward",
            vehicle.checked_sub(1).and_then(|to| train_edits::moved(plan, vehicle, to)),
            Command::VehicleForward,
        ),
        edit_item(
            "Move it rearward",
            train_edits::moved(plan, vehicle, vehicle + 1),
            Command::VehicleRearward,
        ),
        edit_item("Remove it", train_edits::removed(plan, vehicle), Command::RemoveVehicle),
        Line::Gap,
    ];
    lines.extend(type_lines(plan, vehicle));
    lines.push(Line::Gap);
    lines.extend(look_lines(shown, vehicle));
    lines
}

/// The lines for the train as a whole.
pub(super) fn train_lines(shown: &Shown<'_>) -> Vec<Line> {
    vec![
        Line::Title("The train".to_owned()),
        insert_lines(&shown.settled.plan, "Add a vehicle at the rear", None),
        Item::command(Command::FillTier).into(),
        Line::Gap,
        Item::command(Command::SelectAll).into(),
        Item::command(Command::WholeTrain).into(),
        Item::new("Show in the table", Request::ShowTab(Tab::Vehicles)).into(),
        Item::new("Edit the train...", Request::ShowTab(Tab::Train)).into(),
        Line::How(Subject::Train),
    ]
}

/// A menu of all types that can be put in: the plan's own first, then those of the catalogue.
fn insert_lines(plan: &Plan, words: &str, at: Option<usize>) -> Line {
    let own = plan.train.vehicle_types.iter();
    let insert = |kind| {
        let edit = train_edits::inserted(plan, kind, at)?;
        Some(Line::from(Item::new(kind.name.to_string(), Request::Edit(edit))))
    };
    let mut lines: Vec<Line> = own.filter_map(insert).collect();
    let catalogue = crate::gui::samples::catalogue();
    let others = catalogue.vehicle_types.iter().filter(|kind| plan.vehicle_type(&kind.name).is_none());
    let others: Vec<Line> = others.filter_map(insert).collect();
    if !others.is_empty() {
        lines.push(Line::Title("From the catalogue".to_owned()));
        lines.extend(others);
    }
    Line::More { words: words.to_owned(), lines }
}

/// An edit of a vehicle with the keys of its command; greyed where it stands at the end already.
fn edit_item(words: &str, edit: Option<Edit>, command: Command) -> Line {
    let keys = command.keys().into_iter().next().unwrap_or_default();
    let item = match edit {
        Some(edit) => Item::new(words, Request::Edit(edit)),
        None => Item {
            words: words.to_owned(),
            keys: String::new(),
            wish: Err("It stands at the end of the train".to_owned()),
        },
    };
    item.by(&keys).into()
}

/// To change the type of all vehicles of it, or to give this one a type of its own first.
fn type_lines(plan: &Plan, vehicle: usize) -> Vec<Line> {
    let Some(row) = plan.train.vehicles.get(vehicle) else { return Vec::new() };
    let of_it = plan.train.vehicles.iter().filter(|other| other.vehicle_type == row.vehicle_type).count();
    let Some(kind) = plan.train.vehicle_types.iter().position(|kind| kind.name == row.vehicle_type) else {
        return Vec::new();
    };
    let all = match of_it {
        1 => format!("Edit its type {}...", row.vehicle_type),
        count => format!("Edit the type {} (all {count})...", row.vehicle_type),
    };
    let mut lines = vec![Item::new(all, Request::EditVehicleType(kind)).into()];
    if of_it > 1
        && let Some(edit) = train_edits::own_type(plan, vehicle)
    {
        let words = format!("Edit {} only: give it a type of its own...", row.mark);
        let own = plan.train.vehicle_types.len();
        lines.push(Item::new(words, Request::Edit(edit)).and(Request::EditVehicleType(own)).into());
    }
    lines
}

fn look_lines(shown: &Shown<'_>, vehicle: usize) -> Vec<Line> {
    let racks = shown.settled.consist.vehicles.get(vehicle).map_or(0..0, |place| place.racks.clone());
    let lies = shown
        .settled
        .present(shown.state)
        .filter(|placed| placed.racks.start < racks.end && racks.start < placed.racks.end);
    let strings: Vec<StringMark> = lies
        .filter_map(|placed| shown.settled.plan.order.get(placed.string))
        .map(|string| string.mark.clone())
        .collect();
    let none = strings.is_empty().then(|| "No string lies on it in this state".to_owned());
    let words = format!("Select what lies on it ({})", strings.len());
    let select = Request::SelectVehicle(Some(vehicle));
    vec![
        Item::new(words, Request::Select { strings, mode: SelectMode::Only }).unless(none).into(),
        Item::new("Zoom to it", Request::ZoomTo(ZoomTarget::Vehicle(vehicle))).by("Z").into(),
        Item::new("Show in the table", select.clone()).and(Request::ShowTab(Tab::Vehicles)).into(),
        Item::new("Show in the train form", select).and(Request::ShowTab(Tab::Train)).into(),
        Line::How(Subject::Vehicle(vehicle)),
    ]
}
