//! Edits of the row of vehicles as menus, keys, forms and drags ask for them; each is one step of undo.

use crate::edit::{self, Edit, Rows};
use crate::model::{Plan, Vehicle, VehicleKind, VehicleMark, VehicleType, VehicleTypeName};

/// Puts in a vehicle of `kind` at an index, at the rear where none is given, with the next free mark; a kind that the
/// plan does not have yet is copied into it, with its racks.
///
/// None where no mark is free.
pub(super) fn inserted(plan: &Plan, kind: &VehicleType, at: Option<usize>) -> Option<Edit> {
    let mark = free_mark(plan, kind.kind)?;
    let label = match at.and_then(|at| plan.train.vehicles.get(at)) {
        Some(behind) => format!("Insert vehicle {mark} before {}", behind.mark),
        None => format!("Add vehicle {mark}"),
    };
    let row = Vehicle {
        mark,
        vehicle_type: kind.name.clone(),
        turned: false,
        tare_kg: None,
        height_offset_mm: 0.0,
    };
    let mut edits = match plan.vehicle_type(&kind.name) {
        Some(_) => Vec::new(),
        None => copied_type(plan, kind),
    };
    let at = at.filter(|at| *at < plan.train.vehicles.len());
    edits.push(Edit::Vehicles(Rows::Add { at, row }));
    Some(Edit::Batch { label, edits })
}

/// Puts in another vehicle like this one behind it, turned as it is; what was weighed of this one is not taken over.
pub(super) fn duplicated(plan: &Plan, vehicle: usize) -> Option<Edit> {
    let like = plan.train.vehicles.get(vehicle)?;
    let kind = plan.vehicle_type(&like.vehicle_type)?;
    let mark = free_mark(plan, kind.kind)?;
    let label = format!("Insert {mark} like {}", like.mark);
    let row = Vehicle { mark, tare_kg: None, height_offset_mm: 0.0, ..like.clone() };
    let at = Some(vehicle + 1).filter(|at| *at < plan.train.vehicles.len());
    Some(Edit::Batch { label, edits: vec![Edit::Vehicles(Rows::Add { at, row })] })
}

/// Removes a vehicle; strings whose front ends it carries go back to the yard list.
pub(super) fn removed(plan: &Plan, vehicle: usize) -> Option<Edit> {
    let name = plan.train.vehicles.get(vehicle)?.mark.clone();
    Some(Edit::Vehicles(Rows::Remove { names: vec![name] }))
}

/// Turns a vehicle round where it stands.
pub(super) fn turned(plan: &Plan, vehicle: usize) -> Option<Edit> {
    Some(Edit::Turn { vehicles: vec![plan.train.vehicles.get(vehicle)?.mark.clone()] })
}

/// Puts a vehicle at another index, counted once it has left its old one; none where it stands there or none is.
pub(super) fn moved(plan: &Plan, vehicle: usize, to: usize) -> Option<Edit> {
    let name = plan.train.vehicles.get(vehicle)?.mark.clone();
    let exists = to < plan.train.vehicles.len();
    (exists && to != vehicle).then_some(Edit::Vehicles(Rows::Move { name, to }))
}

/// Gives a vehicle a type of its own, a copy of the one it shares: what is then changed of it changes no other.
///
/// The new type comes last in the plan's list and is called after both, such as `Flat, W3`; `Own type 1` and so on
/// where that is too long.
pub(super) fn own_type(plan: &Plan, vehicle: usize) -> Option<Edit> {
    let row = plan.train.vehicles.get(vehicle)?;
    let kind = plan.vehicle_type(&row.vehicle_type)?;
    let both = std::iter::once(format!("{}, {}", kind.name, row.mark));
    // A long name leaves no room for both.
    let numbered = (1..=plan.train.vehicle_types.len() + 1).map(|number| format!("Own type {number}"));
    let names = both.chain(numbered).filter_map(|name| VehicleTypeName::new(&name).ok());
    let name = names.into_iter().find(|name| plan.vehicle_type(name).is_none())?;
    let label = format!("Give {} a type of its own", row.mark);
    let to = Vehicle { vehicle_type: name.clone(), ..row.clone() };
    let edits = vec![
        Edit::VehicleTypes(Rows::Add { at: None, row: VehicleType { name, ..kind.clone() } }),
        Edit::Vehicles(Rows::Change { name: row.mark.clone(), to }),
    ];
    Some(Edit::Batch { label, edits })
}

/// Copies a type of the catalogue, and the rack types that it needs and the plan does not have, into the plan.
pub(super) fn copied_type(plan: &Plan, kind: &VehicleType) -> Vec<Edit> {
    edit::copied_type(plan, super::samples::catalogue(), kind)
}

/// The first mark of its kind that no vehicle has, such as `W4`.
fn free_mark(plan: &Plan, kind: VehicleKind) -> Option<VehicleMark> {
    let letter = match kind {
        VehicleKind::Engine => "E",
        VehicleKind::Wagon => "W",
        VehicleKind::Idler => "I",
    };
    let taken = |mark: &VehicleMark| plan.train.vehicles.iter().any(|vehicle| vehicle.mark == *mark);
    (1..)
        .take(plan.train.vehicles.len() + 1)
        .filter_map(|number| VehicleMark::new(&format!("{letter}{number}")).ok())
        .find(|mark| !taken(mark))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::{empty_plan, place};

    fn marks(plan: &Plan) -> Vec<&str> {
        plan.train.vehicles.iter().map(|vehicle| vehicle.mark.as_str()).collect()
    }

    fn after(plan: &Plan, edit: Option<Edit>) -> Plan {
        edit.unwrap().apply(plan).unwrap().plan
    }

    #[test]
    fn a_vehicle_is_put_in_where_it_is_wanted_and_takes_the_next_free_mark() {
        let plan = empty_plan(3);
        let kind = plan.train.vehicle_types[0].clone();
        let put = |at| after(&plan, inserted(&plan, &kind, at));
        assert_eq!(marks(&put(Some(0))), ["W4", "W1", "W2", "W3"]);
        assert_eq!(marks(&put(Some(2))), ["W1", "W2", "W4", "W3"]);
        assert_eq!(marks(&put(Some(3))), ["W1", "W2", "W3", "W4"]);
        assert_eq!(marks(&put(None)), ["W1", "W2", "W3", "W4"]);
        let gap = after(&plan, removed(&plan, 1));
        assert_eq!(marks(&after(&gap, inserted(&gap, &kind, None))), ["W1", "W3", "W2"]);
    }

    #[test]
    fn a_vehicle_of_the_catalogue_brings_its_types_along() {
        let plan = empty_plan(1);
        for kind in &super::super::samples::catalogue().vehicle_types {
            let plan = after(&plan, inserted(&plan, kind, Some(0)));
            assert_eq!(plan.train.vehicles[0].vehicle_type, kind.name);
            assert!(plan.vehicle_type(&kind.name).is_some());
        }
    }

    #[test]
    fn a_duplicate_stands_behind_its_model_turned_alike_and_not_weighed() {
        let mut plan = empty_plan(2);
        (plan.train.vehicles[0].turned, plan.train.vehicles[0].tare_kg) = (true, Some(24_000.0));
        let plan = after(&plan, duplicated(&plan, 0));
        assert_eq!(marks(&plan), ["W1", "W3", "W2"]);
        assert_eq!((plan.train.vehicles[1].turned, plan.train.vehicles[1].tare_kg), (true, None));
        assert_eq!(marks(&after(&plan, duplicated(&plan, 2))), ["W1", "W3", "W2", "W4"]);
    }

    #[test]
    fn a_vehicle_moves_to_another_place_and_not_beyond_the_ends() {
        let plan = empty_plan(3);
        assert_eq!(marks(&after(&plan, moved(&plan, 0, 2))), ["W2", "W3", "W1"]);
        assert_eq!(marks(&after(&plan, moved(&plan, 2, 0))), ["W3", "W1", "W2"]);
        assert_eq!([moved(&plan, 1, 1), moved(&plan, 2, 3), moved(&plan, 3, 0)], [None, None, None]);
    }

    #[test]
    fn a_type_of_its_own_is_a_copy_that_nothing_else_is_of() {
        let mut plan = empty_plan(3);
        place(&mut plan, "A", 30_000, (1, 2, 3_000));
        let own = after(&plan, own_type(&plan, 1));
        assert_eq!(own.placements, plan.placements, "the load stays as it is");
        let names: Vec<&str> =
            own.train.vehicles.iter().map(|vehicle| vehicle.vehicle_type.as_str()).collect();
        let shared = plan.train.vehicle_types[0].name.as_str();
        assert_eq!(names, [shared, &format!("{shared}, W2"), shared]);
        let (first, last) = (&own.train.vehicle_types[0], own.train.vehicle_types.last().unwrap());
        assert_eq!(VehicleType { name: first.name.clone(), ..last.clone() }, *first);
        let again = after(&own, own_type(&own, 1));
        assert_eq!(again.train.vehicles[1].vehicle_type.as_str(), format!("{shared}, W2, W2"));
    }
}
