//! Changes across the train: strings to the other side, and two strings in each other's pockets.

use super::change::{self, Change};
use super::lay::{self, Pocket};
use super::pairs::Pairs;
use crate::edit::{Edit, Move};
use crate::model::{Placement, Plan, StringMark};
use crate::statics::{Consist, mirrored_lane, pair_partner};
use crate::units::Length;

/// Moves strings to the lanes opposite theirs as one step; what lies there changes sides with them, their own pairs
/// first of all.
///
/// # Errors
/// Why not, in words: nothing of it is on the train, no lane lies opposite, or all lie in the middle.
pub fn mirrored(plan: &Plan, consist: &Consist, strings: &[StringMark]) -> Result<Change, String> {
    let mut moves: Vec<Move> = Vec::new();
    let mut waiting: Vec<&Placement> = strings.iter().filter_map(|mark| plan.placement(mark)).collect();
    let asked = waiting.len();
    while let Some(placement) = waiting.pop() {
        if moves.iter().any(|step| step.string == placement.string) {
            continue;
        }
        let lane = opposite(plan, consist, placement)?;
        let pocket = Pocket { tier: placement.tier, lane };
        moves.push(Move {
            string: placement.string.clone(),
            tier: pocket.tier,
            lane,
            front: placement.front,
        });
        if let Some(string) = plan.string(&placement.string) {
            waiting.extend(lay::in_the_way(plan, string, pocket, placement.front));
        }
    }
    let names: Vec<&str> = moves.iter().map(|step| step.string.as_str()).collect();
    let said = match names.len() > asked {
        true => format!("{} change sides: what lay there came across", names.join(", ")),
        false => String::new(),
    };
    let label = match strings {
        [only] => format!("Mirror string {only}"),
        _ => format!("Mirror {asked} strings"),
    };
    match change::moved(plan, consist, moves) {
        Some(change) => Ok(Change { said, ..change }.named(label)),
        None if asked == 0 => Err("Nothing on the train is selected".to_owned()),
        None => Err("It lies in the middle lane, which has no other side".to_owned()),
    }
}

fn opposite(plan: &Plan, consist: &Consist, placement: &Placement) -> Result<u32, String> {
    let length = plan.string(&placement.string).map_or(Length::ZERO, |string| string.length);
    let racks = consist.racks_between(placement.front, placement.front + length);
    mirrored_lane(consist, racks, placement.lane).ok_or_else(|| {
        format!("{}: the racks under it have no lane opposite lane {}", placement.string, placement.lane)
    })
}

/// Exchanges the pockets of two strings; where both belong to pairs that move as one, those of the others as well.
///
/// # Errors
/// Why not, in words: one of them is not on the train, or they are one string.
pub(super) fn swapped(
    plan: &Plan,
    consist: &Consist,
    (first, second): (&StringMark, &StringMark),
    pairs: Pairs,
) -> Result<Change, String> {
    for mark in [first, second] {
        if plan.placement(mark).is_none() {
            return Err(format!("{mark} is not on the train; place it first"));
        }
    }
    if first == second {
        return Err("Choose two strings to swap".to_owned());
    }
    let swap = |first: &StringMark, second: &StringMark| Edit::SwapPockets {
        first: first.clone(),
        second: second.clone(),
    };
    let partner = |mark: &StringMark| match pairs {
        Pairs::AsOne => pair_partner(plan, consist, mark).map(|other| other.string.clone()),
        Pairs::Apart => None,
    };
    let said = format!("{first} and {second} swap pockets");
    match (partner(first), partner(second)) {
        // The two are a pair: one swap mirrors both.
        (Some(other), _) if other == *second => Ok(Change { edit: swap(first, second), said }),
        (Some(a), Some(b)) => {
            let label = format!("Swap pockets of {first}, {a} and {second}, {b}");
            let edits = vec![swap(first, second), swap(&a, &b)];
            Ok(Change { edit: Edit::Batch { label, edits }, said: format!("{said}, and so do {a} and {b}") })
        }
        (Some(left), None) | (None, Some(left)) => {
            Ok(Change { edit: swap(first, second), said: format!("{said}; {left} of the pair stays") })
        }
        (None, None) => Ok(Change { edit: swap(first, second), said }),
    }
}

/// The change that exchanges the pockets of the two selected strings.
///
/// # Errors
/// As `swapped`, and where not exactly two are given.
pub fn swapped_two(
    plan: &Plan,
    consist: &Consist,
    strings: &[StringMark],
    pairs: Pairs,
) -> Result<Change, String> {
    match strings {
        [first, second] => swapped(plan, consist, (first, second), pairs),
        _ => Err("Select the two strings that are to swap pockets".to_owned()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::{empty_plan, place};

    fn plan() -> Plan {
        let mut plan = empty_plan(2);
        for (mark, length_mm, tier, lane) in
            [("A", 30_000, 1, 2), ("B", 30_000, 1, 9), ("C", 20_000, 2, 3), ("D", 30_000, 2, 8)]
        {
            place(&mut plan, mark, length_mm, (tier, lane, 3_000));
        }
        plan
    }

    fn mark(text: &str) -> StringMark {
        StringMark::new(text).unwrap()
    }

    fn lanes(change: &Change) -> Vec<(u32, u32)> {
        let after = change.edit.apply(&plan()).unwrap().plan;
        after.placements.iter().map(|placement| (placement.tier, placement.lane)).collect()
    }

    fn mirror(strings: &[&str]) -> Change {
        let (plan, strings) = (plan(), strings.iter().map(|text| mark(text)).collect::<Vec<_>>());
        mirrored(&plan, &Consist::of(&plan), &strings).unwrap()
    }

    #[test]
    fn a_mirrored_string_changes_places_with_what_lies_opposite() {
        let change = mirror(&["A"]);
        assert_eq!(lanes(&change), [(1, 9), (1, 2), (2, 3), (2, 8)]);
        assert_eq!(
            (change.edit.label().as_str(), change.said.as_str()),
            ("Mirror string A", "A, B change sides: what lay there came across")
        );
        // C is no pair of D, but D is in its way all the same.
        assert_eq!(lanes(&mirror(&["C"])), [(1, 2), (1, 9), (2, 8), (2, 3)]);
    }

    #[test]
    fn several_strings_are_mirrored_as_one_step() {
        let change = mirror(&["A", "B", "C", "D"]);
        assert_eq!(lanes(&change), [(1, 9), (1, 2), (2, 8), (2, 3)]);
        assert_eq!((change.edit.label().as_str(), change.said.as_str()), ("Mirror 4 strings", ""));
    }

    #[test]
    fn without_an_opposite_lane_nothing_is_mirrored() {
        let mut plan = plan();
        plan.train.rack_types[0].lanes_y_mm[1] += 5.0;
        let refused = mirrored(&plan, &Consist::of(&plan), &[mark("A")]).unwrap_err();
        assert_eq!(refused, "A: the racks under it have no lane opposite lane 2");
        assert!(mirrored(&plan, &Consist::of(&plan), &[]).is_err());
    }

    #[test]
    fn pairs_swap_as_pairs_unless_they_move_apart() {
        let mut plan = plan();
        plan.order[2].length = Length::from_mm(30_000);
        let consist = Consist::of(&plan);
        let swap = |pairs| {
            let change = swapped(&plan, &consist, (&mark("A"), &mark("C")), pairs).unwrap();
            let after = change.edit.apply(&plan).unwrap().plan;
            after.placements.iter().map(|at| (at.tier, at.lane)).collect::<Vec<_>>()
        };
        assert_eq!(swap(Pairs::AsOne), [(2, 3), (2, 8), (1, 2), (1, 9)]);
        assert_eq!(swap(Pairs::Apart), [(2, 3), (1, 9), (1, 2), (2, 8)]);
        assert!(swapped(&plan, &consist, (&mark("A"), &mark("A")), Pairs::AsOne).is_err());
        assert!(swapped_two(&plan, &consist, &[mark("A")], Pairs::AsOne).is_err());
    }
}
