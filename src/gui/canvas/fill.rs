//! Stacking a whole tier: pairs from the yard list into its mirrored lanes, from the sides inward.

use super::change::{self, Change};
use super::lay::{self, Pocket};
use crate::edit::Edit;
use crate::model::{DropName, OrderedString, Plan, StringMark};
use crate::statics::{Consist, alike, mirrored_lane};
use std::collections::BTreeSet;

/// Places pairs of `strings` in the free mirrored lanes of a tier (from 1) at a rack of the consist, outermost first,
/// both strings of a pair with the same front end, each held where [`lay::propose_hold`] says; a string that is left
/// over goes into a free middle lane.
///
/// One step of undo. What is said names how many were placed and why it stopped.
///
/// # Errors
/// Why nothing at all could be placed, in words.
pub fn fill_tier(
    plan: &Plan,
    consist: &Consist,
    (rack, tier): (usize, u32),
    strings: &[StringMark],
) -> Result<Change, String> {
    let mut waiting: Vec<&OrderedString> = strings
        .iter()
        .filter(|mark| plan.placement(mark).is_none())
        .filter_map(|mark| plan.string(mark))
        .collect();
    if waiting.is_empty() {
        return Err("No string of the yard list is left for it".to_owned());
    }
    let mut filling = Filling { filled: plan.clone(), consist, rack, tier, edits: Vec::new() };
    let mut left_over = false;
    for (left, right) in lane_pairs(consist, rack) {
        match next_group(&mut waiting, left != right) {
            None => left_over = true,
            Some(group) if filling.place(&group, [left, right]) => {}
            // These lanes are taken; the group tries the next ones.
            Some(group) => drop(waiting.splice(0..0, group)),
        }
    }
    let placed = filling.edits.len();
    let stopped = match waiting.first() {
        None => String::new(),
        Some(alone) if left_over => {
            format!("; {} stays: no second string of its section and length for the other side", alone.mark)
        }
        Some(_) => format!("; no free lanes are left, {} stay in the yard list", waiting.len()),
    };
    match placed {
        0 => Err(format!("Nothing placed in tier {tier}{stopped}")),
        _ => {
            let label = format!("Fill tier {tier} with {placed} strings");
            let said = format!("Tier {tier}: {placed} strings placed{stopped}");
            Ok(Change { edit: Edit::Batch { label, edits: filling.edits }, said })
        }
    }
}

/// The strings of the yard list for a drop (none: for no drop), in the order of the order.
fn waiting_for<'p>(plan: &'p Plan, drop: Option<&DropName>) -> Vec<&'p StringMark> {
    let waits =
        |string: &&OrderedString| string.drop.as_ref() == drop && plan.placement(&string.mark).is_none();
    plan.order.iter().filter(waits).map(|string| &string.mark).collect()
}

/// What to fill a tier with: those of `chosen` that wait in the yard list; where none does, the strings of the last
/// drop that has any waiting, since what leaves last lies lowest.
pub fn strings_to_fill(plan: &Plan, chosen: &BTreeSet<StringMark>) -> Vec<StringMark> {
    let waits = |mark: &&StringMark| plan.string(mark).is_some() && plan.placement(mark).is_none();
    let chosen: Vec<StringMark> = chosen.iter().filter(waits).cloned().collect();
    if !chosen.is_empty() {
        return chosen;
    }
    let drops = plan.drops.iter().rev().map(|drop| Some(&drop.name)).chain([None]);
    let mut waiting = drops.map(|drop| waiting_for(plan, drop));
    waiting.find(|strings| !strings.is_empty()).unwrap_or_default().into_iter().cloned().collect()
}

/// The lowest tier of a rack that has a free pocket for the first of `strings`; the lowest where none has.
pub fn tier_to_fill(plan: &Plan, consist: &Consist, rack: usize, strings: &[StringMark]) -> u32 {
    let first = strings.first().and_then(|mark| plan.string(mark));
    let free = first.and_then(|string| lay::first_free_pocket(plan, consist, string, rack));
    free.map_or(1, |(pocket, _)| pocket.tier)
}

/// Lanes and their mirror images at a rack, outermost first; a middle lane is its own.
fn lane_pairs(consist: &Consist, rack: usize) -> Vec<(u32, u32)> {
    let lanes = consist.racks.get(rack).map_or(0, |place| place.lanes_y_m.len() as u32);
    (1..=lanes)
        .filter_map(|lane| Some((lane, mirrored_lane(consist, rack..rack + 1, lane)?)))
        .filter(|(lane, opposite)| lane <= opposite)
        .collect()
}

/// Takes the next pair off the list, left string first; for a middle lane the first string.
fn next_group<'p>(waiting: &mut Vec<&'p OrderedString>, pair: bool) -> Option<Vec<&'p OrderedString>> {
    use crate::model::TrackSide;
    if !pair {
        return (!waiting.is_empty()).then(|| vec![waiting.remove(0)]);
    }
    let found = (0..waiting.len()).find_map(|first| {
        let second = (first + 1..waiting.len()).find(|second| alike(waiting[first], waiting[*second]))?;
        Some((first, second))
    });
    let (first, second) = found?;
    let second = waiting.remove(second);
    let first = waiting.remove(first);
    let is_right = first.side == Some(TrackSide::Right) || second.side == Some(TrackSide::Left);
    Some(if is_right { vec![second, first] } else { vec![first, second] })
}

/// A tier being filled.
struct Filling<'a> {
    filled: Plan,
    consist: &'a Consist,
    rack: usize,
    tier: u32,
    edits: Vec<Edit>,
}

impl Filling<'_> {
    /// Places one or two strings with one front end in these lanes; false, and nothing placed, where a lane is taken.
    fn place(&mut self, group: &[&OrderedString], lanes: [u32; 2]) -> bool {
        let Some(first) = group.first() else { return false };
        let tier = self.tier;
        let pocket = |lane| Pocket { tier, lane };
        let front =
            lay::sensible_front(&self.filled, self.consist, first, (pocket(lanes[0]), Some(self.rack)), None);
        let is_free = |(string, lane): (&&OrderedString, u32)| {
            lay::in_the_way(&self.filled, string, pocket(lane), front).is_empty()
        };
        if !group.iter().zip(lanes).all(is_free) {
            return false;
        }
        for (string, lane) in group.iter().zip(lanes) {
            let placed = change::place(&self.filled, self.consist, &string.mark, pocket(lane), front);
            let Some(change) = placed else { return false };
            if let Ok(applied) = change.edit.apply(&self.filled) {
                self.filled = applied.plan;
                self.edits.push(change.edit);
            }
        }
        true
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::{empty_plan, place};
    use crate::model::{Plan, TrackSide};
    use crate::units::Length;

    /// Two wagons and strings in the yard, each with its length and its side.
    fn plan(strings: &[(&str, i64, Option<TrackSide>)]) -> Plan {
        let mut plan = empty_plan(2);
        for (mark, length_mm, side) in strings {
            place(&mut plan, mark, *length_mm, (1, 1, 0));
            plan.placements.pop();
            plan.order.last_mut().unwrap().side = *side;
        }
        plan
    }

    fn fill(plan: &Plan) -> Result<(Vec<(String, u32)>, String), String> {
        let marks: Vec<StringMark> = plan.order.iter().map(|string| string.mark.clone()).collect();
        let change = fill_tier(plan, &Consist::of(plan), (0, 2), &marks)?;
        let after = change.edit.apply(plan).unwrap().plan;
        let lies = |placement: &crate::model::Placement| (placement.string.to_string(), placement.lane);
        assert!(after.placements.iter().all(|placement| placement.holds.len() == 1));
        Ok((after.placements[plan.placements.len()..].iter().map(lies).collect(), change.said))
    }

    #[test]
    fn pairs_fill_a_tier_from_the_sides_inward() {
        let (left, right) = (Some(TrackSide::Left), Some(TrackSide::Right));
        let plan =
            plan(&[("A", 30_000, right), ("B", 30_000, left), ("C", 25_000, None), ("D", 25_000, None)]);
        let lies = [("B", 1), ("A", 10), ("C", 2), ("D", 9)].map(|(mark, lane)| (mark.to_owned(), lane));
        assert_eq!(fill(&plan), Ok((lies.to_vec(), "Tier 2: 4 strings placed".to_owned())));
    }

    #[test]
    fn the_strings_of_a_pair_lie_level_and_within_the_overhang_limits() {
        let plan = plan(&[("A", 20_500, None), ("B", 20_500, None)]);
        let marks = ["A", "B"].map(|mark| StringMark::new(mark).unwrap());
        let change = fill_tier(&plan, &Consist::of(&plan), (0, 1), &marks).unwrap();
        let after = change.edit.apply(&plan).unwrap().plan;
        assert_eq!(after.placements[0].front, after.placements[1].front);
        assert_eq!(after.placements[0].front, Length::from_mm(3_017), "0.3 m past rack 1");
    }

    #[test]
    fn it_says_why_it_stopped() {
        let odd = [("A", 30_000, None), ("B", 30_000, None), ("C", 25_000, None)];
        let said = "Tier 2: 2 strings placed; C stays: no second string of its section and length for the other side";
        assert_eq!(fill(&plan(&odd)).unwrap().1, said);
        let many: Vec<String> = (0..12).map(|number| format!("S{number}")).collect();
        let many: Vec<_> = many.iter().map(|mark| (mark.as_str(), 30_000, None)).collect();
        let said = "Tier 2: 10 strings placed; no free lanes are left, 2 stay in the yard list";
        assert_eq!(fill(&plan(&many)).unwrap().1, said);
        assert!(fill(&plan(&[("A", 30_000, None)])).is_err());
    }

    #[test]
    fn taken_lanes_are_passed_over() {
        let mut plan = plan(&[("A", 30_000, None), ("B", 30_000, None)]);
        place(&mut plan, "X", 30_000, (2, 10, 3_000));
        assert_eq!(fill(&plan).unwrap().0, [("A".to_owned(), 2), ("B".to_owned(), 9)]);
    }

    #[test]
    fn the_lone_string_goes_into_a_middle_lane() {
        let mut plan = plan(&[("A", 30_000, None), ("B", 30_000, None), ("C", 25_000, None)]);
        plan.train.rack_types[0].lanes_y_mm = vec![-500.0, 0.0, 500.0];
        let lies = [("A", 1), ("B", 3), ("C", 2)].map(|(mark, lane)| (mark.to_owned(), lane));
        assert_eq!(fill(&plan).unwrap().0, lies);
    }

    #[test]
    fn what_leaves_last_is_stacked_first() {
        let mut plan = plan(&[("A", 30_000, None), ("B", 30_000, None)]);
        plan.drops =
            vec![crate::fixtures::drop_off("East", &["A"]), crate::fixtures::drop_off("West", &["B"])];
        for (string, drop) in plan.order.iter_mut().zip(&plan.drops) {
            string.drop = Some(drop.name.clone());
        }
        let [a, b] = ["A", "B"].map(|mark| StringMark::new(mark).unwrap());
        assert_eq!(strings_to_fill(&plan, &BTreeSet::new()), [b]);
        assert_eq!(strings_to_fill(&plan, &BTreeSet::from([a.clone()])), [a]);
    }
}
