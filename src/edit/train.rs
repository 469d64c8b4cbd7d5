//! Changes to the train's shape, and what they do to the strings on it.

use super::{EditError, Rows, rows};
use crate::model::{Placement, Plan, RackRef, RackSpan, StringMark, Vehicle, VehicleMark, VehicleType};
use crate::units::Length;

/// Changes the row of vehicles and lets strings follow.
pub(super) fn change_vehicles(
    change: &Rows<Vehicle>,
    plan: &mut Plan,
    yard: &mut Vec<StringMark>,
) -> Result<(), EditError> {
    let mut before = Layout::of(plan);
    rows::apply(change, plan)?;
    if let Rows::Change { name, to } = change {
        before.rename(name, &to.mark);
    }
    settle(&before, plan, yard)
}

/// Changes the vehicle types and lets strings follow.
pub(super) fn change_types(
    change: &Rows<VehicleType>,
    plan: &mut Plan,
    yard: &mut Vec<StringMark>,
) -> Result<(), EditError> {
    let before = Layout::of(plan);
    rows::apply(change, plan)?;
    settle(&before, plan, yard)
}

/// Turns vehicles round where they stand.
pub(super) fn turn(plan: &mut Plan, vehicles: &[VehicleMark]) -> Result<(), EditError> {
    for mark in vehicles {
        let at = rows::index_of::<Vehicle>(plan, mark)?;
        let vehicle = &mut plan.train.vehicles[at];
        vehicle.turned = !vehicle.turned;
    }
    Ok(())
}

/// Where vehicles stand, front to rear.
struct Layout(Vec<Stand>);

struct Stand {
    mark: VehicleMark,
    rear_mm: i64,
    /// x of the middle, doubled, so that it stays a whole number.
    middle_twice_mm: i64,
}

impl Layout {
    fn of(plan: &Plan) -> Self {
        let mut front_mm = 0;
        let stands = plan.train.vehicles.iter().map(|vehicle| {
            let length_mm = plan.vehicle_type(&vehicle.vehicle_type).map_or(0, |kind| kind.length.mm());
            let rear_mm = front_mm + length_mm;
            let middle_twice_mm = front_mm + rear_mm;
            front_mm = rear_mm;
            Stand { mark: vehicle.mark.clone(), rear_mm, middle_twice_mm }
        });
        Self(stands.collect())
    }

    fn rename(&mut self, from: &VehicleMark, to: &VehicleMark) {
        self.0.iter_mut().filter(|stand| stand.mark == *from).for_each(|stand| stand.mark = to.clone());
    }

    /// The vehicle that carries `x`; the outermost one beyond the ends.
    fn at(&self, x: Length) -> Option<&Stand> {
        self.0.iter().find(|stand| x.mm() < stand.rear_mm).or(self.0.last())
    }

    fn called(&self, mark: &VehicleMark) -> Option<&Stand> {
        self.0.iter().find(|stand| stand.mark == *mark)
    }
}

/// What becomes of a place in the train.
enum Fate {
    /// It moves rearward by this.
    Shifts(Length),
    /// Its vehicle is gone.
    Gone,
}

fn fate(x: Length, before: &Layout, after: &Layout) -> Fate {
    let Some(old) = before.at(x) else { return Fate::Shifts(Length::ZERO) };
    match after.called(&old.mark) {
        Some(new) => Fate::Shifts(Length::from_mm((new.middle_twice_mm - old.middle_twice_mm) / 2)),
        None => Fate::Gone,
    }
}

/// Moves strings with the vehicles that carry their front ends, and lets go of racks that are gone.
fn settle(before: &Layout, plan: &mut Plan, yard: &mut Vec<StringMark>) -> Result<(), EditError> {
    let after = Layout::of(plan);
    let mut kept: Vec<Placement> = Vec::with_capacity(plan.placements.len());
    for mut placement in std::mem::take(&mut plan.placements) {
        match fate(placement.front, before, &after) {
            Fate::Shifts(by) => {
                placement.front += by;
                kept.push(placement);
            }
            Fate::Gone if placement.locked => {
                return Err(EditError::StringLocked { string: placement.string });
            }
            Fate::Gone => yard.push(placement.string),
        }
    }
    plan.placements = kept;
    plan.as_loaded.retain_mut(|record| match fate(record.front, before, &after) {
        Fate::Shifts(by) => {
            record.front += by;
            true
        }
        Fate::Gone => false,
    });
    let_go_of_racks(plan);
    Ok(())
}

/// Drops holds on racks that are gone, and meant racks that are gone or stand the wrong way round.
fn let_go_of_racks(plan: &mut Plan) {
    let racks: Vec<(VehicleMark, usize)> = plan
        .train
        .vehicles
        .iter()
        .map(|vehicle| {
            let count = plan.vehicle_type(&vehicle.vehicle_type).map_or(0, |kind| kind.racks.len());
            (vehicle.mark.clone(), count)
        })
        .collect();
    let place = |rack: &RackRef| {
        let at = racks.iter().position(|(mark, _)| *mark == rack.vehicle)?;
        let exists = (1..=racks[at].1).contains(&(rack.rack as usize));
        exists.then_some((at, rack.rack))
    };
    let stands = |span: &RackSpan| matches!((place(&span.first), place(&span.last)), (Some(first), Some(last)) if first <= last);
    for placement in &mut plan.placements {
        placement.holds.retain(|hold| place(hold).is_some());
        placement.rests_on = placement.rests_on.take().filter(stands);
    }
    for record in &mut plan.as_loaded {
        record.holds.retain(|hold| place(hold).is_some());
    }
}

#[cfg(test)]
mod tests {
    use super::super::Edit;
    use super::super::trial::{after, applied, plan, rack, refused, string, wagon};
    use super::*;
    use crate::fixtures::{reference_wagon, vehicle};

    fn fronts(plan: &Plan) -> Vec<(&str, i64)> {
        plan.placements.iter().map(|placed| (placed.string.as_str(), placed.front.mm())).collect()
    }

    fn remove(marks: &[&str]) -> Edit {
        Edit::Vehicles(Rows::Remove { names: marks.iter().map(|mark| wagon(mark)).collect() })
    }

    // Wagons are 19.9 m long: S1 and S2 have their front ends on W1 (2.0 m), S3 on W3 (42.0 m).
    #[test]
    fn a_wagon_put_in_moves_the_strings_whose_front_ends_lie_behind_it() {
        let add = |at| Edit::Vehicles(Rows::Add { at, row: vehicle("W9", "Flat") });
        let second = after(&plan(), &add(Some(1)));
        assert_eq!(fronts(&second), [("S1", 2_000), ("S2", 2_000), ("S3", 61_900)]);
        let first = after(&plan(), &add(Some(0)));
        assert_eq!(fronts(&first), [("S1", 21_900), ("S2", 21_900), ("S3", 61_900)]);
        assert_eq!(fronts(&after(&plan(), &add(None))), fronts(&plan()));
        assert_eq!(after(&second, &remove(&["W9"])), plan());
        let beyond = EditError::NoPlace { kind: "vehicle", place: 5, count: 4 };
        assert_eq!(refused(&plan(), &add(Some(4))), beyond);
    }

    #[test]
    fn strings_of_a_removed_wagon_go_back_to_the_yard() {
        let done = applied(&plan(), &remove(&["W1"]));
        assert_eq!(done.returned_to_yard, [string("S1"), string("S2")]);
        assert_eq!(fronts(&done.plan), [("S3", 22_100)]);
        let done = applied(&plan(), &remove(&["W1", "W2", "W3"]));
        assert_eq!(done.returned_to_yard, [string("S1"), string("S2"), string("S3")]);
        let mut locked = plan();
        locked.placements[0].locked = true;
        let error = EditError::StringLocked { string: string("S1") };
        assert_eq!(refused(&locked, &remove(&["W1"])), error);
    }

    #[test]
    fn holds_and_meant_racks_of_a_removed_wagon_are_dropped() {
        let mut held = plan();
        held.placements[0].holds = vec![rack("W2", 2), rack("W1", 3)];
        held.placements[0].rests_on = Some(RackSpan { first: rack("W1", 1), last: rack("W2", 3) });
        let left = after(&held, &remove(&["W2"]));
        assert_eq!(left.placements[0].holds, [rack("W1", 3)]);
        assert_eq!(left.placements[0].rests_on, None);
    }

    #[test]
    fn a_moved_wagon_takes_its_strings_along() {
        let edit = Edit::Vehicles(Rows::Move { name: wagon("W1"), to: 2 });
        let mut spanned = plan();
        spanned.placements[0].rests_on = Some(RackSpan { first: rack("W1", 1), last: rack("W2", 3) });
        let moved = after(&spanned, &edit);
        assert_eq!(fronts(&moved), [("S1", 41_800), ("S2", 41_800), ("S3", 22_100)]);
        // First and last meant rack have changed sides.
        assert_eq!(moved.placements[0].rests_on, None);
    }

    #[test]
    fn a_turned_wagon_leaves_the_strings_where_they_are() {
        let turn = Edit::Turn { vehicles: vec![wagon("W1")] };
        let turned = after(&plan(), &turn);
        assert!(turned.train.vehicles[0].turned && !turned.train.vehicles[1].turned);
        assert_eq!(turned.placements, plan().placements);
        assert_eq!(after(&turned, &turn), plan());
        let unknown = Edit::Turn { vehicles: vec![wagon("W9")] };
        assert!(matches!(refused(&plan(), &unknown), EditError::NoSuch { kind: "vehicle", .. }));
    }

    #[test]
    fn a_longer_wagon_type_moves_strings_with_the_middles() {
        let mut longer = reference_wagon();
        longer.length += Length::from_mm(200);
        let edit = Edit::VehicleTypes(Rows::Change { name: longer.name.clone(), to: longer });
        assert_eq!(fronts(&after(&plan(), &edit)), [("S1", 2_100), ("S2", 2_100), ("S3", 42_500)]);
    }

    #[test]
    fn a_type_with_fewer_racks_lets_go_of_holds_on_those_that_are_gone() {
        let mut fewer = reference_wagon();
        fewer.racks.truncate(1);
        let edit = Edit::VehicleTypes(Rows::Change { name: fewer.name.clone(), to: fewer });
        let changed = after(&plan(), &edit);
        assert!(changed.placements.iter().all(|placed| placed.holds.is_empty()));
        assert_eq!(fronts(&changed), fronts(&plan()));
    }
}
