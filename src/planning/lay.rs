//! How a string comes to lie: free pockets, front ends that let both ends rest, the hold to propose.

use crate::model::{
    Beyond, BeyondKind, Hold, LimitKind, OrderedString, Placement, Plan, RackKind, RackRef, StepKind,
    StepStrings, StringMark, VehicleKind,
};
use crate::statics::{Consist, alike, mirrored_lane};
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

/// The front end nearest to `wish` that keeps the string on the train and clear of engines and fixed stops, leaves
/// both its ends an overhang within the entered limits, and is `good` besides; none where there is none. Limits not
/// entered bound nothing, but nothing ever lies in an engine or beyond the train.
pub fn resting_front(
    plan: &Plan,
    consist: &Consist,
    length: Length,
    wish: Length,
    good: impl Fn(&Length) -> bool,
) -> Option<Length> {
    let bounds = [entered(plan, LimitKind::LeastOverhang), entered(plan, LimitKind::GreatestOverhang)];
    let clear = Clear::of(plan, consist);
    let within = |overhang: Length| {
        bounds[0].is_none_or(|least| least <= overhang) && bounds[1].is_none_or(|most| overhang <= most)
    };
    let rests = |front: &Length| {
        let racks = consist.racks.get(consist.racks_between(*front, *front + length)).unwrap_or_default();
        let (Some(first), Some(last)) = (racks.first(), racks.last()) else { return false };
        clear.holds(*front, *front + length) && within(first.x - *front) && within(*front + length - last.x)
    };
    let edges = consist.racks.iter().flat_map(|rack| {
        bounds.into_iter().flatten().flat_map(move |bound| [rack.x - bound, rack.x + bound - length])
    });
    std::iter::once(wish)
        .chain(edges)
        .chain(clear.fronts(length))
        .filter(|front| rests(front) && good(front))
        .min_by_key(|front| (*front - wish).abs())
}

/// The running value of a limit in whole millimetres, accepted or not; none where it is not entered.
fn entered(plan: &Plan, kind: LimitKind) -> Option<Length> {
    plan.limits.get(kind).map(|limit| Length::from_m_rounded(limit.running))
}

/// What a string must stay clear of, by the entered end clearance: each as the first and the last x that it takes up.
struct Clear {
    taken: Vec<(Length, Length)>,
    least: Length,
    from: Length,
    to: Length,
}

impl Clear {
    fn of(plan: &Plan, consist: &Consist) -> Self {
        let least = entered(plan, LimitKind::EndClearance).unwrap_or(Length::ZERO);
        let engines = consist.vehicles.iter().filter(|vehicle| vehicle.kind == VehicleKind::Engine);
        let engines = engines.map(|vehicle| (vehicle.front, vehicle.rear));
        let stops = consist.end_stops.iter().map(|x| (*x, *x));
        // The distance to what stands beyond the train counts, but no end is laid beyond the last buffer face.
        let inside = |beyond: Beyond| match beyond.kind {
            BeyondKind::Nothing => least,
            BeyondKind::EndStop | BeyondKind::Vehicle => (least - beyond.distance).max(Length::ZERO),
        };
        Self {
            taken: engines.chain(stops).collect(),
            least,
            from: inside(plan.train.front_beyond),
            to: consist.length - inside(plan.train.rear_beyond),
        }
    }

    fn holds(&self, front: Length, rear: Length) -> bool {
        let apart =
            |(first, last): &(Length, Length)| rear <= *first - self.least || front >= *last + self.least;
        self.from <= front && rear <= self.to && self.taken.iter().all(apart)
    }

    /// Front ends that are just clear of something.
    fn fronts(&self, length: Length) -> impl Iterator<Item = Length> {
        let beside = self.taken.iter();
        let beside = beside.flat_map(move |(first, last)| [*first - self.least - length, *last + self.least]);
        beside.chain([self.from, self.to - length])
    }
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
    within_reach(plan, string, pocket, (front, front + string.length))
}

/// The placements that a string taking up `front..rear` of a pocket would meet, at some time aboard together.
fn within_reach<'a>(
    plan: &'a Plan,
    string: &OrderedString,
    pocket: Pocket,
    (front, rear): (Length, Length),
) -> Vec<&'a Placement> {
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
    if let Some(kept) = kept.filter(|front| in_the_way(plan, string, pocket, *front).is_empty()) {
        return kept;
    }
    let limit = |kind| entered(plan, kind).unwrap_or(Length::ZERO);
    let (least, gap) = (limit(LimitKind::LeastOverhang), limit(LimitKind::PocketGap));
    let free = |front: &Length| {
        within_reach(plan, string, pocket, (*front - gap, *front + string.length + gap)).is_empty()
    };
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

/// The first pocket at `rack` that is free for `string`, with the front end it would get.
///
/// The other of a pair that lies on the train already has its place: opposite that one. Otherwise it is the bottom tier
/// first, lanes from the middle outward, and before all others those where both ends rest within the limits, clear of
/// engines, and where the lane opposite is free for the other of its pair.
pub fn first_free_pocket(
    plan: &Plan,
    consist: &Consist,
    string: &OrderedString,
    rack: usize,
) -> Option<(Pocket, Length)> {
    let is_free = |string: &OrderedString, pocket: Pocket, front: Length| {
        in_the_way(plan, string, pocket, front).is_empty()
    };
    let other = other_of_pair(plan, string);
    let opposite = |pocket: Pocket, front: Length| {
        let racks = consist.racks_between(front, front + string.length);
        Some(Pocket { lane: mirrored_lane(consist, racks, pocket.lane)?, ..pocket })
    };
    let placed = other.and_then(|other| plan.placement(&other.mark));
    let beside = placed.and_then(|placed| Some((opposite(Pocket::of(placed), placed.front)?, placed.front)));
    if let Some((pocket, front)) = beside.filter(|(pocket, front)| is_free(string, *pocket, *front)) {
        return Some((pocket, front));
    }
    let kind = plan.train.rack_types.get(consist.racks.get(rack)?.rack_type)?;
    let lanes = kind.lanes_y_mm.len() as u32;
    let waiting = other.filter(|_| placed.is_none());
    let has_room_opposite = |pocket: Pocket, front: Length| {
        waiting.is_none_or(|waiting| {
            opposite(pocket, front).is_some_and(|other| other != pocket && is_free(waiting, other, front))
        })
    };
    let mut best: Option<((bool, bool), (Pocket, Length))> = None;
    for tier in 1..=kind.tiers.len() as u32 {
        for pocket in lanes_from_the_middle(lanes).map(|lane| Pocket { tier, lane }) {
            let front = sensible_front(plan, consist, string, (pocket, Some(rack)), None);
            if !is_free(string, pocket, front) {
                continue;
            }
            let rests = resting_front(plan, consist, string.length, front, |_| true) == Some(front);
            let rank = (rests, has_room_opposite(pocket, front));
            if rank == (true, true) {
                return Some((pocket, front));
            }
            if best.is_none_or(|(known, _)| rank > known) {
                best = Some((rank, (pocket, front)));
            }
        }
    }
    best.map(|(_, place)| place)
}

/// The other string of a pair that a step declares, where both are alike.
fn other_of_pair<'p>(plan: &'p Plan, string: &OrderedString) -> Option<&'p OrderedString> {
    let steps = plan.drops.iter().flat_map(|drop| &drop.steps);
    let other = steps.filter_map(|step| match &step.strings {
        StepStrings::Pair { first, second, .. } if *first == string.mark => Some(second),
        StepStrings::Pair { first, second, .. } if *second == string.mark => Some(first),
        _ => None,
    });
    other.filter_map(|mark| plan.string(mark)).find(|other| alike(string, other))
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
        let mut plan = plan();
        plan.limits.entries.remove(&LimitKind::EndClearance);
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
        plan.limits.entries.insert(LimitKind::EndClearance, crate::fixtures::limit(0.5));
        let clear = resting_front(&plan, &consist, Length::from_mm(20_000), Length::from_mm(80), |_| true);
        assert_eq!(clear.map(Length::mm), Some(500), "half a metre from the train's end");
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

    // Wagons of 19,900 mm, the first of them an engine; end clearance 500 mm.
    #[test]
    fn no_string_is_laid_into_an_engine_or_past_the_train() {
        let mut plan = empty_plan(4);
        let mut engine = plan.train.vehicle_types[0].clone();
        engine.name = crate::model::VehicleTypeName::new("Engine").unwrap();
        (engine.kind, engine.racks) = (VehicleKind::Engine, Vec::new());
        plan.train.vehicles[0].vehicle_type = engine.name.clone();
        plan.train.vehicle_types.push(engine);
        plan.limits.entries.insert(LimitKind::EndClearance, crate::fixtures::limit(0.5));
        let consist = Consist::of(&plan);
        for number in 1..=11 {
            let mark = format!("S{number}");
            let string = ordered(&mut plan, &mark, 40_000);
            let (pocket, front) = first_free_pocket(&plan, &consist, &string, 4).unwrap();
            let (front, rear) = (front.mm(), (front + string.length).mm());
            assert!(front >= 19_900 + 500 && rear <= 79_600 - 500, "{mark}: {front} to {rear}");
            place(&mut plan, &mark, 40_000, (pocket.tier, pocket.lane, front));
            let tier = if number <= 10 { 1 } else { 2 };
            assert_eq!(pocket.tier, tier, "{mark}: tiers are filled before anything is laid end to end");
            plan.order.pop();
        }
    }

    #[test]
    fn the_other_of_a_pair_is_laid_opposite_and_room_is_kept_for_it() {
        let mut plan = plan();
        let (left, right) = (ordered(&mut plan, "L", 40_000), ordered(&mut plan, "R", 40_000));
        let mut drop = drop_off("East", &["L"]);
        drop.steps[0].strings =
            StepStrings::Pair { first: left.mark.clone(), second: right.mark.clone(), together: true };
        plan.drops.push(drop);
        let consist = Consist::of(&plan);
        let (pocket, front) = first_free_pocket(&plan, &consist, &left, 0).unwrap();
        assert_eq!(pocket, Pocket { tier: 1, lane: 4 }, "A lies opposite lane 6");
        plan.order.retain(|string| string.mark != left.mark);
        place(&mut plan, "L", 40_000, (1, 4, front.mm()));
        assert_eq!(
            first_free_pocket(&plan, &consist, &right, 8),
            Some((Pocket { tier: 1, lane: 7 }, front)),
            "at the same place, whatever rack is asked for"
        );
    }
}
