//! Mirror images across the train's centre line: the lane opposite a lane, and the other string of a pair.

use super::Consist;
use crate::model::{OrderedString, Placement, Plan, StringMark};
use std::ops::Range;

/// Lanes closer than this to mirror images are mirrored: half a millimetre is finer than racks are built.
const MIRROR_SLACK_M: f64 = 0.000_5;

/// Whether two places across the train, in m from its centre line, are mirror images of each other.
pub fn are_mirrored(y_m: f64, other_m: f64) -> bool {
    (y_m + other_m).abs() <= MIRROR_SLACK_M
}

/// The lane (from 1) that lies opposite `lane` at every one of `racks`; the same lane where it lies in the middle.
///
/// None where no rack is given, one of them has no such lane, or their lanes are not mirror images there.
pub fn mirrored_lane(consist: &Consist, racks: Range<usize>, lane: u32) -> Option<u32> {
    let mut found = None;
    for rack in consist.racks.get(racks)? {
        let y_m = *rack.lanes_y_m.get((lane as usize).checked_sub(1)?)?;
        let opposite = rack.lanes_y_m.iter().position(|other| are_mirrored(*other, y_m))?;
        let opposite = u32::try_from(opposite + 1).ok()?;
        if found.is_some_and(|found| found != opposite) {
            return None;
        }
        found = Some(opposite);
    }
    found
}

/// The placement of the other string of the pair that `mark` belongs to.
///
/// A pair is two strings of the same section, length, tier and front end in mirrored lanes; where a side of the
/// track is said for both, one is for each side. None where `mark` lies in a middle lane, alone, or in the yard.
pub fn pair_partner<'p>(plan: &'p Plan, consist: &Consist, mark: &StringMark) -> Option<&'p Placement> {
    let (placement, string) = (plan.placement(mark)?, plan.string(mark)?);
    let racks = consist.racks_between(placement.front, placement.front + string.length);
    let lane = mirrored_lane(consist, racks, placement.lane)?;
    let lies_opposite = |other: &&Placement| {
        other.string != *mark
            && (other.tier, other.lane, other.front) == (placement.tier, lane, placement.front)
    };
    let is_like = |other: &&Placement| plan.string(&other.string).is_some_and(|other| alike(string, other));
    plan.placements.iter().filter(lies_opposite).find(is_like)
}

/// Whether two strings of the order can be a pair: alike in section and length, and not for one side of the track.
pub fn alike(a: &OrderedString, b: &OrderedString) -> bool {
    let one_side = a.side.is_some() && a.side == b.side;
    (&a.section, a.length) == (&b.section, b.length) && !one_side
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::{empty_plan, place};
    use crate::model::TrackSide;
    use crate::units::Length;

    fn plan() -> Plan {
        let mut plan = empty_plan(2);
        place(&mut plan, "L", 30_000, (2, 3, 3_000));
        place(&mut plan, "R", 30_000, (2, 8, 3_000));
        plan
    }

    fn partner(plan: &Plan) -> Option<String> {
        let mark = StringMark::new("L").unwrap();
        pair_partner(plan, &Consist::of(plan), &mark).map(|other| other.string.to_string())
    }

    // Ten lanes: 3 and 8 are mirror images, 3 + 8 = 10 + 1.
    #[test]
    fn lanes_are_mirrored_where_all_racks_agree() {
        let mut plan = plan();
        let lane = |plan: &Plan, lane| mirrored_lane(&Consist::of(plan), 0..6, lane);
        assert_eq!([1, 3, 10].map(|from| lane(&plan, from)), [Some(10), Some(8), Some(1)]);
        assert_eq!([0, 11].map(|from| lane(&plan, from)), [None, None]);
        assert_eq!(mirrored_lane(&Consist::of(&plan), 2..2, 3), None, "no rack says so");
        plan.train.rack_types[0].lanes_y_mm[7] += 1.0;
        assert_eq!([lane(&plan, 3), lane(&plan, 1)], [None, Some(10)], "a millimetre off is no mirror image");
        plan.train.rack_types[0].lanes_y_mm = vec![-500.0, 0.0, 500.0];
        assert_eq!(lane(&plan, 2), Some(2), "the middle lane lies opposite itself");
    }

    #[test]
    fn places_half_a_millimetre_from_mirror_images_are_mirrored_and_farther_ones_are_not() {
        let check =
            |y_m, other_m, expected| assert_eq!(are_mirrored(y_m, other_m), expected, "{y_m} {other_m}");
        check(0.75, -0.75, true);
        check(0.75, -0.750_499, true);
        check(-0.75, 0.749_501, true);
        check(0.75, -0.750_501, false);
        check(0.75, 0.75, false);
        check(0.0, 0.0, true);
    }

    #[test]
    fn a_pair_is_two_like_strings_in_mirrored_lanes() {
        assert_eq!(partner(&plan()).as_deref(), Some("R"));
        let differs = |change: fn(&mut Plan)| {
            let mut plan = plan();
            change(&mut plan);
            partner(&plan)
        };
        assert_eq!(differs(|plan| plan.placements[1].lane = 7), None);
        assert_eq!(differs(|plan| plan.placements[1].tier = 3), None);
        assert_eq!(differs(|plan| plan.placements[1].front = Length::from_mm(3_001)), None);
        assert_eq!(differs(|plan| plan.order[1].length = Length::from_mm(30_001)), None);
        let sides = |plan: &mut Plan, sides: [TrackSide; 2]| {
            plan.order.iter_mut().zip(sides).for_each(|(string, side)| string.side = Some(side));
        };
        let (mut one_side, mut both) = (plan(), plan());
        sides(&mut one_side, [TrackSide::Left, TrackSide::Left]);
        sides(&mut both, [TrackSide::Left, TrackSide::Right]);
        assert_eq!((partner(&one_side), partner(&both).as_deref()), (None, Some("R")));
    }
}
