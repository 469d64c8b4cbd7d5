//! Whether the thing of a finding is there on the other side too, known by its name.

use crate::checks::Subject;
use crate::statics::Figures;

/// Whether `other` has the thing that `subject` is in `own`: the same mark or name, and as many parts.
pub(super) fn is_there(subject: Subject, own: &Figures, other: &Figures) -> bool {
    let string = |at: usize| {
        own.plan.order.get(at).is_some_and(|one| other.plan.order.iter().any(|other| other.mark == one.mark))
    };
    let rack = |at: usize| rack_like(at, own, other).is_some();
    let (one, two) = (own.plan.as_ref(), other.plan.as_ref());
    match subject {
        Subject::Plan | Subject::Train | Subject::Limit(_) => true,
        Subject::String(at) | Subject::StringEnd(at, _) => string(at),
        Subject::Strings(first, second) => string(first) && string(second),
        Subject::StringAtRack(at, place) => string(at) && rack(place),
        Subject::Vehicle(at) | Subject::Support(at, _) => vehicle_like(at, own, other).is_some(),
        Subject::Axle(at, axle) | Subject::Wheel(at, axle, _) => {
            let there = vehicle_like(at, own, other).and_then(|at| other.consist.vehicles.get(at));
            there.is_some_and(|place| axle < 2 * place.axles_per_support as usize)
        }
        Subject::Rack(at) => rack(at),
        Subject::RackTier(at, tier) => has_pocket(at, (tier, 1), own, other),
        Subject::Pocket(at, tier, lane) => has_pocket(at, (tier, lane), own, other),
        Subject::VehicleType(at) => {
            named(at, &one.train.vehicle_types, &two.train.vehicle_types, |kind| &kind.name)
        }
        Subject::RackType(at) => named(at, &one.train.rack_types, &two.train.rack_types, |kind| &kind.name),
        Subject::Section(at) => named(at, &one.sections, &two.sections, |section| &section.name),
        Subject::Drop(at) => named(at, &one.drops, &two.drops, |drop| &drop.name),
        Subject::Step(at, step) => {
            let name = one.drops.get(at).map(|drop| &drop.name);
            two.drops.iter().any(|drop| Some(&drop.name) == name && step < drop.steps.len())
        }
    }
}

fn named<T, N: PartialEq>(at: usize, own: &[T], other: &[T], name: impl Fn(&T) -> &N) -> bool {
    own.get(at).is_some_and(|one| other.iter().any(|other| name(other) == name(one)))
}

/// The vehicle of `other` with the mark that vehicle number `at` has in `own`.
fn vehicle_like(at: usize, own: &Figures, other: &Figures) -> Option<usize> {
    let mark = &own.plan.train.vehicles.get(at)?.mark;
    other.plan.train.vehicles.iter().position(|vehicle| vehicle.mark == *mark)
}

/// The rack of `other` with the vehicle's mark and the number that rack `at` has in `own`.
fn rack_like(at: usize, own: &Figures, other: &Figures) -> Option<usize> {
    let rack = own.consist.racks.get(at)?;
    let vehicle = vehicle_like(rack.vehicle, own, other)?;
    other.consist.racks.iter().position(|one| (one.vehicle, one.number) == (vehicle, rack.number))
}

fn has_pocket(at: usize, (tier, lane): (u32, u32), own: &Figures, other: &Figures) -> bool {
    let rack = rack_like(at, own, other).and_then(|at| other.consist.racks.get(at));
    let kind = rack.and_then(|rack| other.plan.train.rack_types.get(rack.rack_type));
    kind.is_some_and(|kind| tier as usize <= kind.tiers.len() && lane as usize <= kind.lanes_y_mm.len())
}
