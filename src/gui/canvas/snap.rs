//! Where a string that is moved along the train catches: racks with the least overhang, other ends, the middle.

use super::change::{self, Change, Shift};
use super::pairs::{Pairs, members};
use crate::model::{LimitKind, OrderedString, Placement, Plan, StringMark, TrainEnd};
use crate::statics::{Consist, alike, mirrored_lane};
use crate::units::{Length, Style};
use std::collections::BTreeSet;

/// What a string's end catches at.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Catch {
    /// An end passes a rack (index into the consist) by the least overhang that the plan enters.
    Overhang {
        /// The rack.
        rack: usize,
    },
    /// An end keeps the entered gap to another string of the same pocket.
    Gap {
        /// The other string.
        string: StringMark,
    },
    /// The string becomes the mirror image of another one that is like it.
    Mirror {
        /// The other string.
        string: StringMark,
    },
    /// An end lies level with the same end of another string.
    Level {
        /// The other string.
        string: StringMark,
    },
    /// The string lies in the middle of the train.
    Middle,
}

/// A place where a string catches.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Snap {
    /// x of the string's front end there.
    pub front: Length,
    /// The end that catches; for the middle, the front end.
    pub end: TrainEnd,
    /// x of what it catches at: a rack, another string's end, the train's middle.
    pub at: Length,
    /// What it catches at.
    pub catch: Catch,
}

/// A string on the move.
#[derive(Clone, Copy, Debug)]
pub(super) struct Moving<'a> {
    /// Where it lies, front end aside.
    pub placement: &'a Placement,
    /// Its line of the order.
    pub string: &'a OrderedString,
    /// Everything that moves with it, itself included; none of them is caught at.
    pub company: &'a BTreeSet<StringMark>,
}

/// All places where `moving` catches; mirror images first, then overhangs, gaps, level ends, and the middle.
///
/// Overhangs and gaps need the limits that the plan enters; without them there is nothing to catch at.
pub(super) fn snaps(plan: &Plan, consist: &Consist, moving: &Moving<'_>) -> Vec<Snap> {
    let mut snaps: Vec<Snap> = mirrors(plan, consist, moving)
        .map(|other| {
            let catch = Catch::Mirror { string: other.string.clone() };
            moving.at_front(other.front, other.front, catch)
        })
        .collect();
    if let Some(limit) = plan.limits.get(LimitKind::LeastOverhang) {
        let least = Length::from_m_rounded(limit.running);
        for (rack, place) in consist.racks.iter().enumerate() {
            let catch = Catch::Overhang { rack };
            snaps.push(moving.at_front(place.x - least, place.x, catch.clone()));
            snaps.push(moving.at_rear(place.x + least, place.x, catch));
        }
    }
    let others = || plan.placements.iter().filter(|other| !moving.company.contains(&other.string));
    let rear_of = |other: &Placement| plan.string(&other.string).map(|string| other.front + string.length);
    if let Some(limit) = plan.limits.get(LimitKind::PocketGap) {
        let gap = Length::from_m_rounded(limit.running);
        let pocket = (moving.placement.tier, moving.placement.lane);
        for other in others().filter(|other| (other.tier, other.lane) == pocket) {
            let Some(rear) = rear_of(other) else { continue };
            let catch = Catch::Gap { string: other.string.clone() };
            snaps.push(moving.at_front(rear + gap, rear, catch.clone()));
            snaps.push(moving.at_rear(other.front - gap, other.front, catch));
        }
    }
    for other in others() {
        let Some(rear) = rear_of(other) else { continue };
        let catch = Catch::Level { string: other.string.clone() };
        snaps.push(moving.at_front(other.front, other.front, catch.clone()));
        snaps.push(moving.at_rear(rear, rear, catch));
    }
    let middle = (consist.length.mm() - moving.string.length.mm()).div_euclid(2);
    let at = Length::from_mm(consist.length.mm().div_euclid(2));
    snaps.push(moving.at_front(Length::from_mm(middle), at, Catch::Middle));
    snaps
}

/// The strings that `moving` would be the pair of, at their front ends.
fn mirrors<'p>(
    plan: &'p Plan,
    consist: &'p Consist,
    moving: &'p Moving<'_>,
) -> impl Iterator<Item = &'p Placement> {
    let (placement, string) = (moving.placement, moving.string);
    plan.placements.iter().filter(move |other| {
        let racks = consist.racks_between(other.front, other.front + string.length);
        !moving.company.contains(&other.string)
            && other.tier == placement.tier
            && plan.string(&other.string).is_some_and(|other| alike(string, other))
            && mirrored_lane(consist, racks, other.lane) == Some(placement.lane)
    })
}

/// The snap nearest to `front`, if one is within `reach`; of two as near, the first.
pub(super) fn nearest(snaps: &[Snap], front: Length, reach: Length) -> Option<&Snap> {
    snaps
        .iter()
        .filter(|snap| (snap.front - front).abs() <= reach)
        .min_by_key(|snap| (snap.front - front).abs())
}

/// Which way along the train.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Along {
    /// Toward the front.
    Forward,
    /// Toward the rear.
    Rearward,
}

/// Moves strings along the train until the first of them comes to the next place where it catches that way; none where
/// there is none with the string on the train.
pub fn to_next_catch(
    plan: &Plan,
    consist: &Consist,
    strings: &[StringMark],
    (pairs, way, style): (Pairs, Along, Style),
) -> Option<Change> {
    let lead = strings.iter().find_map(|mark| plan.placement(mark))?;
    let string = plan.string(&lead.string)?;
    let company = members(plan, consist, strings, pairs).into_iter().map(|member| member.string).collect();
    let snaps = snaps(plan, consist, &Moving { placement: lead, string, company: &company });
    let fronts = snaps.iter().map(|snap| snap.front);
    let mut on_train =
        fronts.filter(|front| !front.is_negative() && *front + string.length <= consist.length);
    let front = match way {
        Along::Forward => on_train.filter(|front| *front < lead.front).max(),
        Along::Rearward => on_train.by_ref().filter(|front| *front > lead.front).min(),
    }?;
    let (change, words) = (
        change::move_by(
            plan,
            consist,
            strings,
            pairs,
            Shift { along: front - lead.front, ..Shift::default() },
        )?,
        snaps.iter().find(|snap| snap.front == front),
    );
    let words = words.map(|snap| snap.words(plan, consist, style)).unwrap_or_default();
    let said = match change.said.is_empty() {
        true => format!("{}: {words}", lead.string),
        false => format!("{}: {words}; {}", lead.string, change.said),
    };
    Some(Change { said, ..change })
}

impl Moving<'_> {
    fn at_front(&self, front: Length, at: Length, catch: Catch) -> Snap {
        Snap { front, end: TrainEnd::Front, at, catch }
    }

    fn at_rear(&self, rear: Length, at: Length, catch: Catch) -> Snap {
        Snap { front: rear - self.string.length, end: TrainEnd::Rear, at, catch }
    }
}

impl Snap {
    /// The snap in a few words, such as `front end 300 mm past W4 rack 2`.
    pub(super) fn words(&self, plan: &Plan, consist: &Consist, style: Style) -> String {
        let end = match self.end {
            TrainEnd::Front => "front end",
            TrainEnd::Rear => "rear end",
        };
        let limit = |kind| {
            let value = plan.limits.get(kind).map_or(0.0, |limit| limit.running);
            crate::units::Quantity::small_length_m(value).show(style)
        };
        match &self.catch {
            Catch::Overhang { rack } => {
                let past = limit(LimitKind::LeastOverhang);
                format!("{end} {past} past {}", super::lay::rack_words(plan, consist, *rack))
            }
            Catch::Gap { string } => format!("{end} {} from {string}", limit(LimitKind::PocketGap)),
            Catch::Mirror { string } => format!("mirror image of {string}"),
            Catch::Level { string } => format!("{end} level with {string}'s"),
            Catch::Middle => "middle of the train".to_owned(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::{empty_plan, place};

    fn snap_at(front_mm: i64, reach_mm: i64) -> Option<(i64, String)> {
        let mut plan = empty_plan(3);
        place(&mut plan, "A", 20_000, (1, 1, 1_000));
        place(&mut plan, "B", 20_000, (1, 1, 30_000));
        let consist = Consist::of(&plan);
        let company = BTreeSet::from([StringMark::new("B").unwrap()]);
        let moving = Moving { placement: &plan.placements[1], string: &plan.order[1], company: &company };
        let snaps = snaps(&plan, &consist, &moving);
        nearest(&snaps, Length::from_mm(front_mm), Length::from_mm(reach_mm))
            .map(|snap| (snap.front.mm(), snap.words(&plan, &consist, Style::default())))
    }

    fn check(front_mm: i64, expected_mm: i64, words: &str) {
        assert_eq!(snap_at(front_mm, 200), Some((expected_mm, words.to_owned())));
    }

    // Racks stand at 3,317, 9,950 and 16,583 mm of each wagon of 19,900 mm; least overhang 300, gap 500 mm.
    #[test]
    fn ends_catch_at_racks_with_the_least_overhang() {
        check(3_100, 3_017, "front end 300 mm past W1 rack 1");
        check(3_500, 3_517, "rear end 300 mm past W2 rack 1");
    }

    #[test]
    fn ends_catch_at_the_gap_to_the_next_string_of_the_pocket() {
        check(21_400, 21_500, "front end 500 mm from A");
    }

    #[test]
    fn ends_catch_level_with_other_ends_and_in_the_middle() {
        check(900, 1_000, "front end level with A's");
        check(19_800, 19_850, "middle of the train");
    }

    #[test]
    fn a_like_string_opposite_is_caught_at_before_all_else() {
        let mut plan = empty_plan(3);
        place(&mut plan, "A", 20_000, (2, 1, 3_017));
        place(&mut plan, "B", 20_000, (2, 10, 30_000));
        let consist = Consist::of(&plan);
        let company = BTreeSet::from([StringMark::new("B").unwrap()]);
        let moving = Moving { placement: &plan.placements[1], string: &plan.order[1], company: &company };
        let snaps = snaps(&plan, &consist, &moving);
        let snap = nearest(&snaps, Length::from_mm(3_000), Length::from_mm(100)).unwrap();
        assert_eq!(snap.words(&plan, &consist, Style::default()), "mirror image of A");
        let lower = Placement { tier: 1, ..plan.placements[1].clone() };
        let moving = Moving { placement: &lower, ..moving };
        assert!(
            !super::snaps(&plan, &consist, &moving)
                .iter()
                .any(|snap| matches!(snap.catch, Catch::Mirror { .. }))
        );
    }

    #[test]
    fn a_string_goes_from_catch_to_catch_and_not_off_the_train() {
        let mut plan = empty_plan(2);
        place(&mut plan, "A", 20_000, (1, 1, 3_000));
        let marks = [StringMark::new("A").unwrap()];
        let go = |way| {
            let change =
                to_next_catch(&plan, &Consist::of(&plan), &marks, (Pairs::AsOne, way, Style::default()))?;
            let after = change.edit.apply(&plan).unwrap().plan;
            Some((after.placements[0].front.mm(), change.said))
        };
        // Racks at 3,317 and 9,950 mm; the rear end passes W2 rack 1, at 23,217 mm, with its front at 3,517 mm.
        assert_eq!(go(Along::Rearward), Some((3_017, "A: front end 300 mm past W1 rack 1".to_owned())));
        assert_eq!(go(Along::Forward), None, "the next would be in front of the train");
    }

    #[test]
    fn nothing_catches_out_of_reach() {
        assert!(snap_at(21_400, 99).is_none());
        assert!(snap_at(21_400, 100).is_some());
    }

    #[test]
    fn without_entered_limits_only_ends_and_the_middle_catch() {
        let mut plan = empty_plan(2);
        place(&mut plan, "A", 20_000, (1, 1, 1_000));
        plan.limits.entries.clear();
        let company = BTreeSet::from([StringMark::new("A").unwrap()]);
        let moving = Moving { placement: &plan.placements[0], string: &plan.order[0], company: &company };
        let snaps = snaps(&plan, &Consist::of(&plan), &moving);
        assert!(snaps.iter().all(|snap| snap.catch == Catch::Middle));
    }
}
