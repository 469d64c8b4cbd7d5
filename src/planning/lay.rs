//! How a string comes to lie: free pockets, front ends that let both ends rest, the hold to propose.

use crate::model::{
    Hold, LimitKind, OrderedString, Placement, Plan, RackKind, RackRef, StepKind, StringMark,
};
use crate::statics::Consist;
use crate::units::Length;

/// A pocket of the train: tier and lane, from 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Pocket {
    /// Tier, from 1 at the bottom.
    pub tier: u32,
    /// Lane, from 1 at the left facing the front.
    pub lane: u32,
}

impl Pocket {
    /// Where a placement lies.
    pub fn of(placement: &Placement) -> Self {
        Self { tier: placement.tier, lane: placement.lane }
    }
}

/// A rack of the consist in words, such as `W4 rack 2`.
pub fn rack_words(plan: &Plan, consist: &Consist, rack: usize) -> String {
    match rack_ref(plan, consist, rack) {
        Some(rack) => format!("{} rack {}", rack.vehicle, rack.rack),
        None => format!("rack {}", rack + 1),
    }
}

/// How the plan refers to a rack of the consist.
pub fn rack_ref(plan: &Plan, consist: &Consist, rack: usize) -> Option<RackRef> {
    let place = consist.racks.get(rack)?;
    let vehicle = plan.train.vehicles.get(place.vehicle)?;
    Some(RackRef { vehicle: vehicle.mark.clone(), rack: place.number })
}

/// The rack of the consist that the plan refers to.
pub fn rack_index(plan: &Plan, consist: &Consist, rack: &RackRef) -> Option<usize> {
    let vehicle = plan.train.vehicles.iter().position(|vehicle| vehicle.mark == rack.vehicle)?;
    consist.racks.iter().position(|place| place.vehicle == vehicle && place.number == rack.rack)
}

/// The clamping rack nearest the middle of `front..rear`, of those under it; of two as near, the front one.
pub fn propose_hold(plan: &Plan, consist: &Consist, front: Length, rear: Length) -> Option<Hold> {
    let doubled_middle = front + rear;
    consist
        .racks_between(front, rear)
        .filter(|rack| clamps(plan, consist, *rack))
        .min_by_key(|rack| (consist.racks[*rack].x * 2 - doubled_middle).abs())
        .and_then(|rack| rack_ref(plan, consist, rack))
}

/// Whether the rack that a hold names is under `front..rear`.
pub fn holds_still(plan: &Plan, consist: &Consist, hold: &Hold, front: Length, rear: Length) -> bool {
    rack_index(plan, consist, hold)
        .is_some_and(|rack| consist.racks_between(front, rear).contains(&rack) && clamps(plan, consist, rack))
}

fn clamps(plan: &Plan, consist: &Consist, rack: usize) -> bool {
    let kind = consist.racks.get(rack).and_then(|place| plan.train.rack_types.get(place.rack_type));
    kind.is_some_and(|kind| kind.kind == RackKind::Clamping)
}

/// The front end nearest to `wish` that keeps the string on the train, leaves both its ends an overhang within
/// the entered limits, and is `good` besides; none where there is none. Limits not entered bound nothing.
pub fn resting_front(
    plan: &Plan,
    consist: &Consist,
    length: Length,
    wish: Length,
    good: impl Fn(&Length) -> bool,
) -> Option<Length> {
    let limit = |kind| plan.limits.get(kind).map(|limit| Length::from_m_rounded(limit.running));
    let bounds = [limit(LimitKind::LeastOverhang), limit(LimitKind::GreatestOverhang)];
    let within = |overhang: Length| {
        bounds[0].is_none_or(|least| least <= overhang) && bounds[1].is_none_or(|most| overhang <= most)
    };
    let rests = |front: &Length| {
        let racks = consist.racks.get(consist.racks_between(*front, *front + length)).unwrap_or_default();
        let (Some(first), Some(last)) = (racks.first(), racks.last()) else { return false };
        let in_train = !front.is_negative() && *front + length <= consist.length;
        in_train && within(first.x - *front) && within(*front + length - last.x)
    };
    let edges = consist.racks.iter().flat_map(|rack| {
        bounds.into_iter().flatten().flat_map(move |bound| [rack.x - bound, rack.x + bound - length])
    });
    std::iter::once(wish)
        .chain(edges)
        .filter(|front| rests(front) && good(front))
        .min_by_key(|front| (*front - wish).abs())
}

/// When a string is on the train, in steps counted over all drops: from before `.0` until `.1`.
fn time_aboard(plan: &Plan, mark: &StringMark) -> (usize, usize) {
    let steps = plan.drops.iter().flat_map(|drop| &drop.steps).enumerate();
    let (mut on, mut off) = (0, usize::MAX);
    for (at, step) in steps.filter(|(_, step)| step.strings.marks().any(|moved| moved == mark)) {
        match step.kind {
            StepKind::On => on = at + 1,
            StepKind::Off => off = at + 1,
        }
    }
    (on, off)
}

/// The placements that `string` would run into at `front` in `pocket`: in one pocket, overlapping, and at
/// some time aboard together.
pub fn in_the_way<'a>(
    plan: &'a Plan,
    string: &OrderedString,
    pocket: Pocket,
    front: Length,
) -> Vec<&'a Placement> {
    let rear = front + string.length;
    let (on, off) = time_aboard(plan, &string.mark);
    plan.placements
        .iter()
        .filter(|other| other.string != string.mark && Pocket::of(other) == pocket)
        .filter(|other| {
            let length = plan.string(&other.string).map_or(Length::ZERO, |string| string.length);
            other.front < rear && front < other.front + length
        })
        .filter(|other| {
            let (other_on, other_off) = time_aboard(plan, &other.string);
            on < other_off && other_on < off
        })
        .collect()
}

/// A sensible front end for a string that is put into `pocket` at `rack` of the consist.
///
/// `kept`, where it lay before, is taken while the pocket is free there. A string that is longer than half
/// the train lies in its middle; a shorter one begins at the rack, or ends there where the train is too
/// short behind it, each with the least overhang. Where another string is in the way, it goes behind or in
/// front of that one. Both ends rest within the overhang limits if they can.
pub fn sensible_front(
    plan: &Plan,
    consist: &Consist,
    string: &OrderedString,
    at: (Pocket, Option<usize>),
    kept: Option<Length>,
) -> Length {
    let (pocket, rack) = at;
    let free = |front: &Length| in_the_way(plan, string, pocket, *front).is_empty();
    if let Some(kept) = kept.filter(|front| free(front)) {
        return kept;
    }
    let limit =
        |kind| plan.limits.get(kind).map_or(Length::ZERO, |limit| Length::from_m_rounded(limit.running));
    let (least, gap) = (limit(LimitKind::LeastOverhang), limit(LimitKind::PocketGap));
    let middle = Length::from_mm((consist.length.mm() - string.length.mm()).div_euclid(2));
    let mut wishes = Vec::new();
    if string.length * 2 >= consist.length {
        wishes.push(middle);
    }
    if let Some(rack) = rack.and_then(|rack| consist.racks.get(rack)) {
        wishes.push(rack.x - least);
        wishes.push(rack.x + least - string.length);
    }
    wishes.push(middle);
    for other in plan.placements.iter().filter(|other| Pocket::of(other) == pocket) {
        let length = plan.string(&other.string).map_or(Length::ZERO, |string| string.length);
        wishes.push(other.front + length + gap);
        wishes.push(other.front - gap - string.length);
    }
    let at_rack = |front: &Length| {
        rack.is_none_or(|rack| consist.racks_between(*front, *front + string.length).contains(&rack))
    };
    let resting = |wish: &Length, away: Away| {
        resting_front(plan, consist, string.length, *wish, |front| {
            free(front) && (away == Away::FromRack || at_rack(front))
        })
    };
    // Best is a wish as it stands, then one moved until its ends rest, then one away from the rack.
    let as_wished = || wishes.iter().find(|wish| resting(wish, Away::Nowhere) == Some(**wish)).copied();
    let moved = |away| wishes.iter().find_map(|wish| resting(wish, away));
    as_wished().or_else(|| moved(Away::Nowhere)).or_else(|| moved(Away::FromRack)).unwrap_or(wishes[0])
}

/// Whether a string may come to lie away from the rack that it was meant for.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Away {
    Nowhere,
    FromRack,
}

/// The first pocket at `rack` that is free for `string`, with the front end it would get: bottom tier
/// first, lanes from the middle outward.
pub fn first_free_pocket(
    plan: &Plan,
    consist: &Consist,
    string: &OrderedString,
    rack: usize,
) -> Option<(Pocket, Length)> {
    let kind = plan.train.rack_types.get(consist.racks.get(rack)?.rack_type)?;
    let lanes = kind.lanes_y_mm.len() as u32;
    let tiers = 1..=kind.tiers.len() as u32;
    tiers
        .flat_map(|tier| lanes_from_the_middle(lanes).map(move |lane| Pocket { tier, lane }))
        .map(|pocket| (pocket, sensible_front(plan, consist, string, (pocket, Some(rack)), None)))
        .find(|(pocket, front)| in_the_way(plan, string, *pocket, *front).is_empty())
}

/// Lanes 1 to `count`, the middle ones first, left before right.
fn lanes_from_the_middle(count: u32) -> impl Iterator<Item = u32> {
    let mut lanes: Vec<u32> = (1..=count).collect();
    lanes.sort_by_key(|lane| (2 * i64::from(*lane) - i64::from(count) - 1).abs());
    lanes.into_iter()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::{drop_off, empty_plan, place};
    use crate::model::{RackTypeName, Step, StepStrings};

    // Racks stand at 3,317, 9,950 and 16,583 mm of each wagon of 19,900 mm.
    fn plan() -> Plan {
        let mut plan = empty_plan(3);
        place(&mut plan, "A", 20_000, (1, 5, 3_017));
        plan
    }

    fn ordered(plan: &mut Plan, mark: &str, length_mm: i64) -> OrderedString {
        place(plan, mark, length_mm, (5, 10, 0));
        plan.placements.pop();
        plan.order.last().unwrap().clone()
    }

    #[test]
    fn the_hold_is_proposed_at_the_clamping_rack_nearest_the_middle() {
        let mut plan = plan();
        let consist = Consist::of(&plan);
        let hold = |plan: &Plan, front, rear| {
            propose_hold(plan, &consist, Length::from_mm(front), Length::from_mm(rear))
                .map(|hold| (hold.vehicle.to_string(), hold.rack))
        };
        assert_eq!(hold(&plan, 3_017, 23_017), Some(("W1".to_owned(), 2)));
        assert_eq!(hold(&plan, 3_018, 3_300), None, "no rack under it");
        let mut roller = plan.train.rack_types[0].clone();
        roller.name = RackTypeName::new("Roller").unwrap();
        roller.kind = RackKind::Roller;
        plan.train.rack_types[0] = roller;
        assert_eq!(hold(&plan, 3_017, 23_017), None, "no rack can clamp");
    }

    #[test]
    fn a_hold_stays_while_its_rack_is_under_the_string() {
        let plan = plan();
        let consist = Consist::of(&plan);
        let hold = &plan.placements[0].holds[0];
        let still = |front| {
            holds_still(&plan, &consist, hold, Length::from_mm(front), Length::from_mm(front + 20_000))
        };
        let x = consist.racks[rack_index(&plan, &consist, hold).unwrap()].x.mm();
        assert!(still(x) && still(x - 20_000));
        assert!(!still(x + 1) && !still(x - 20_001));
    }

    #[test]
    fn both_ends_rest_within_the_overhang_limits() {
        let plan = plan();
        let consist = Consist::of(&plan);
        let front = |length, wish| {
            resting_front(&plan, &consist, Length::from_mm(length), Length::from_mm(wish), |_| true)
                .map(Length::mm)
        };
        assert_eq!(front(20_500, 3_317), Some(3_017), "each end comes 300 mm past its rack");
        assert_eq!(front(20_500, 3_017), Some(3_017));
        assert_eq!(front(20_500, 80), Some(80), "overhangs of 3,237 and 3,997 mm are within the limits");
        assert_eq!(front(20_500, 90), Some(83), "the rear end reaches 4,000 mm past its rack at most");
        assert_eq!(front(70_000, 0), None, "longer than the train");
    }

    #[test]
    fn strings_of_one_pocket_are_in_the_way_only_while_aboard_together() {
        let mut plan = plan();
        let back = ordered(&mut plan, "B", 20_000);
        let count =
            |plan: &Plan| in_the_way(plan, &back, Pocket { tier: 1, lane: 5 }, Length::from_mm(5_000)).len();
        assert_eq!(count(&plan), 1);
        let mut drop = drop_off("East", &["A"]);
        drop.steps.push(Step {
            kind: StepKind::On,
            strings: StepStrings::One(back.mark.clone()),
            toward: None,
        });
        plan.drops.push(drop);
        assert_eq!(count(&plan), 0, "A is off before B comes on");
    }

    #[test]
    fn a_string_is_put_where_it_lay_or_at_the_rack_or_beside_what_lies_there() {
        let mut plan = plan();
        let string = ordered(&mut plan, "B", 20_500);
        let consist = Consist::of(&plan);
        let front = |lane, rack, kept: Option<i64>| {
            let at = (Pocket { tier: 1, lane }, Some(rack));
            sensible_front(&plan, &consist, &string, at, kept.map(Length::from_mm)).mm()
        };
        assert_eq!(front(4, 0, None), 3_017);
        assert_eq!(front(4, 0, Some(12_345)), 12_345, "where it lay before");
        assert_eq!(front(4, 8, None), 56_383 + 300 - 20_500, "the train is too short behind the last rack");
        let beside = front(5, 0, None);
        assert!(beside >= 23_017 + 500, "behind A with the entered gap, not {beside}");
    }

    #[test]
    fn the_first_free_pocket_is_low_and_near_the_middle() {
        let mut plan = plan();
        let string = ordered(&mut plan, "B", 40_000);
        let consist = Consist::of(&plan);
        let (pocket, _) = first_free_pocket(&plan, &consist, &string, 0).unwrap();
        assert_eq!(pocket, Pocket { tier: 1, lane: 6 }, "lane 5 is taken by A");
    }
}
