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
    for record in &mut plan.as_loaded {
        if let Fate::Shifts(by) = fate(record.front, before, &after) {
            record.front += by;
        }
    }
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
