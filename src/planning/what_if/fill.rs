//! The filling rule: in which order further strings come into the pockets.

use crate::model::{Plan, RackKind, RackRef};
use crate::statics::Consist;
use crate::units::Length;

/// The rule in words.
pub const FILL_RULE: &str = "Further strings are like the last one, at the same place along the train: bottom tier \
     first, in each tier from the middle outward, left and right in turn.";

/// Tiers and lanes of the racks between `front` and `rear` that every one of them has, in the order of the rule.
pub(super) fn pockets(plan: &Plan, consist: &Consist, (front, rear): (Length, Length)) -> Vec<(u32, u32)> {
    let racks = consist.racks.get(consist.racks_between(front, rear)).unwrap_or_default();
    let kinds = racks.iter().filter_map(|rack| plan.train.rack_types.get(rack.rack_type));
    let sizes = kinds.map(|kind| (kind.tiers.len(), kind.lanes_y_mm.len()));
    let Some((tiers, _)) = sizes.reduce(|a, b| (a.0.min(b.0), a.1.min(b.1))) else { return Vec::new() };
    let across = racks.iter().map(|rack| rack.lanes_y_m.as_slice()).min_by_key(|lanes| lanes.len());
    let mut lanes: Vec<(u32, f64)> = (1..).zip(across.unwrap_or_default().iter().copied()).collect();
    // Whole millimetres: two lanes as far out as each other, left and right, keep their order.
    lanes.sort_by_key(|(_, y_m)| (y_m.abs() * 1000.0).round() as i64);
    (1..).take(tiers).flat_map(|tier| lanes.iter().map(move |(lane, _)| (tier, *lane))).collect()
}

/// The clamping rack nearest the middle of `front..rear`, of those under it; of two as near, the front one.
pub(super) fn hold_for(plan: &Plan, consist: &Consist, (front, rear): (Length, Length)) -> Option<RackRef> {
    let clamps = |rack: &usize| {
        let kind = consist.racks.get(*rack).and_then(|place| plan.train.rack_types.get(place.rack_type));
        kind.is_some_and(|kind| kind.kind == RackKind::Clamping)
    };
    let doubled_middle = front + rear;
    let under = consist.racks_between(front, rear).filter(clamps);
    let rack = under.min_by_key(|rack| (consist.racks[*rack].x * 2 - doubled_middle).abs())?;
    let place = consist.racks.get(rack)?;
    let vehicle = plan.train.vehicles.get(place.vehicle)?;
    Some(RackRef { vehicle: vehicle.mark.clone(), rack: place.number })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::empty_plan;

    #[test]
    fn a_tier_fills_from_the_middle_outward_left_and_right_in_turn() {
        let plan = empty_plan(1);
        let order = pockets(&plan, &Consist::of(&plan), (Length::ZERO, Length::from_mm(19_900)));
        let lanes: Vec<u32> = order.iter().take(10).map(|(_, lane)| *lane).collect();
        assert_eq!(lanes, [5, 6, 4, 7, 3, 8, 2, 9, 1, 10]);
        assert_eq!(order[10], (2, 5));
        assert_eq!(order.len(), 50);
    }

    #[test]
    fn nothing_can_lie_where_no_rack_is() {
        let plan = empty_plan(1);
        assert!(pockets(&plan, &Consist::of(&plan), (Length::ZERO, Length::from_mm(3_000))).is_empty());
    }
}
