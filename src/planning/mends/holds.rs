//! Other places to hold a string at.

use super::bench::{Bench, Candidate};
use crate::edit::Edit;
use crate::model::{RackKind, StringMark};
use crate::planning::lay;
use crate::statics::PlacedString;
use crate::text;

/// Holds the string at one of the clamping racks under it: the nearest to its hold first, without one the nearest
/// to its middle.
pub(super) fn at_rack(bench: &Bench<'_>) -> Vec<Candidate> {
    bench.strings().into_iter().flat_map(|placed| holds_of(bench, placed, |_| true)).collect()
}

/// Holds a string that is held at the finding's vehicle at another one.
pub(super) fn at_other_wagon(bench: &Bench<'_>) -> Vec<Candidate> {
    let Some(vehicle) = bench.vehicle() else { return Vec::new() };
    let held_here = |placed: &&PlacedString| {
        let placement = bench.plan().placements.get(placed.placement);
        placement.is_some_and(|placement| {
            let racks =
                placement.holds.iter().filter_map(|hold| bench.consist().rack_named(bench.plan(), hold));
            racks.filter_map(|rack| bench.consist().racks.get(rack)).any(|rack| rack.vehicle == vehicle)
        })
    };
    let strings = bench.strings().into_iter().filter(held_here);
    strings.flat_map(|placed| holds_of(bench, placed, |other| other != vehicle)).collect()
}

/// Candidates for one string at racks of vehicles that are `wanted`.
fn holds_of(bench: &Bench<'_>, placed: &PlacedString, wanted: impl Fn(usize) -> bool) -> Vec<Candidate> {
    let (plan, consist) = (bench.plan(), bench.consist());
    let Some(placement) = plan.placements.get(placed.placement) else { return Vec::new() };
    let now = placement.holds.iter().find_map(|hold| consist.rack_named(plan, hold));
    let middle_m = (placed.front.m() + placed.rear.m()) / 2.0;
    let from_m = now.and_then(|rack| consist.racks.get(rack)).map_or(middle_m, |rack| rack.x.m());
    let mark: &StringMark = &placement.string;
    placed
        .racks
        .clone()
        .filter_map(|rack| {
            let place = consist.racks.get(rack)?;
            let clamps = plan.train.rack_types.get(place.rack_type)?.kind == RackKind::Clamping;
            let hold = lay::rack_ref(plan, consist, rack).filter(|_| clamps && wanted(place.vehicle))?;
            let words = format!("Hold string {mark} at {} rack {}", hold.vehicle, hold.rack);
            let edit = Edit::SetHolds { string: mark.clone(), holds: vec![hold] };
            let cost = 0.2 + 0.05 * (place.x.m() - from_m).abs();
            Some(Candidate { label: text![words], edit, cost, family: "hold" })
        })
        .collect()
}
