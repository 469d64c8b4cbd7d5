//! The two strings of a pair are alike and lie as mirror images.

use super::reading::{placement_of, string_names};
use super::{Check, Judge, Subject};
use crate::model::{StepStrings, StringMark};
use crate::statics::{Figures, PlacedString, are_mirrored};
use crate::text;
use std::collections::BTreeSet;

/// The check.
pub(crate) static CHECK: Check = Check {
    id: "pairs-alike",
    title: "Pairs alike",
    what: "The two strings of each declared pair have the same section, length, tier and front end, lie in mirrored \
           lanes, and are for the two sides of the track.",
    why: "A pair that is alike and mirrored comes off without tilting the wagons; one that differs does not.",
    mend: "Mirror the second string, or move the two in separate steps.",
    source: "common practice, no source",
    run,
};

fn run(judge: &mut Judge<'_>) {
    let figures = judge.figures;
    let pairs = declared_pairs(figures);
    if pairs.is_empty() {
        judge.not_applicable(|| text!["no step moves a pair"]);
    }
    let pairs: Vec<_> = pairs
        .into_iter()
        .map(|(first, second)| (first, second, differences(figures, first, second)))
        .collect();
    // The pass tells of every pair, so one that differs leaves no pass to tell.
    let all_alike = pairs.iter().all(|(_, _, found)| found.is_empty());
    for (first, second, found) in pairs {
        let subject = Subject::Strings(first.min(second), first.max(second));
        if all_alike {
            judge.pass(None, subject, || text!["the strings of every pair are alike and mirrored"]);
        } else if !found.is_empty() {
            judge.note(None, subject, || {
                text![format!(
                    "{} are a pair, but {}",
                    string_names(figures, &[first, second]),
                    found.join(", ")
                )]
            });
        }
    }
}

/// Indices into the order of each pair that a step moves, each pair once.
fn declared_pairs(figures: &Figures) -> BTreeSet<(usize, usize)> {
    let index = |wanted: &StringMark| figures.plan.order.iter().position(|string| string.mark == *wanted);
    let steps = figures.plan.drops.iter().flat_map(|drop| &drop.steps);
    steps
        .filter_map(|step| match &step.strings {
            StepStrings::One(_) => None,
            StepStrings::Pair { first, second, .. } => Some((index(first)?, index(second)?)),
        })
        .collect()
}

/// What differs, in a reader's words.
fn differences(figures: &Figures, first: usize, second: usize) -> Vec<&'static str> {
    let mut found = Vec::new();
    let order = &figures.plan.order;
    if let (Some(a), Some(b)) = (order.get(first), order.get(second)) {
        let pairs = [
            (a.section != b.section, "their sections differ"),
            (a.length != b.length, "their lengths differ"),
            (a.side.is_some() && a.side == b.side, "both are for one side of the track"),
            (a.side.is_some() != b.side.is_some(), "the side of the track is entered for one only"),
        ];
        found.extend(pairs.into_iter().filter(|(differs, _)| *differs).map(|(_, words)| words));
    }
    let placed = |string| figures.placed.iter().find(|placed| placed.string == string);
    if let (Some(a), Some(b)) = (placed(first), placed(second))
        && let (Some(at_a), Some(at_b)) = (placement_of(figures, a), placement_of(figures, b))
    {
        let pairs = [
            (at_a.tier != at_b.tier, "they lie in different tiers"),
            (at_a.front != at_b.front, "their front ends differ"),
            (!mirrored(figures, (a, at_a.lane), (b, at_b.lane)), "their lanes are not mirror images"),
        ];
        found.extend(pairs.into_iter().filter(|(differs, _)| *differs).map(|(_, words)| words));
    }
    found
}

/// Whether two strings lie in mirrored lanes at every rack that both cross (where none, at the first's racks).
fn mirrored(figures: &Figures, (a, lane_a): (&PlacedString, u32), (b, lane_b): (&PlacedString, u32)) -> bool {
    let (start, end) = (a.racks.start.max(b.racks.start), a.racks.end.min(b.racks.end));
    let racks = if start < end { start..end } else { a.racks.clone() };
    racks.filter_map(|rack| figures.consist.racks.get(rack)).all(|rack| {
        let y = |lane: u32| (lane as usize).checked_sub(1).and_then(|lane| rack.lanes_y_m.get(lane));
        // A lane that is not there is told by the check of pockets.
        let (Some(y_a), Some(y_b)) = (y(lane_a), y(lane_b)) else { return true };
        are_mirrored(*y_a, *y_b) && lane_a != lane_b
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::Outcome;
    use crate::checks::trial::{expect, words};
    use crate::fixtures::{drop_off, empty_plan, place};
    use crate::model::{Plan, SectionName, TrackSide};
    use crate::units::Length;

    fn pair(lane: u32) -> Plan {
        let mut plan = empty_plan(2);
        place(&mut plan, "S1", 30_000, (3, 2, 3_000));
        place(&mut plan, "S2", 30_000, (3, lane, 3_000));
        for (string, side) in plan.order.iter_mut().zip([TrackSide::Left, TrackSide::Right]) {
            string.side = Some(side);
        }
        plan.drops.push(drop_off("Site", &["S1"]));
        plan.drops[0].steps[0].strings = StepStrings::Pair {
            first: StringMark::new("S1").unwrap(),
            second: StringMark::new("S2").unwrap(),
            together: true,
        };
        plan
    }

    fn differs(change: impl FnOnce(&mut Plan), told: &str) {
        let mut plan = pair(9);
        change(&mut plan);
        let findings = expect(&CHECK, plan, &[(Outcome::Note, "string S1, string S2")]);
        assert_eq!(words(&findings), format!("strings S1, S2 are a pair, but {told}"));
    }

    // Ten lanes: 2 and 9 are mirror images, 2 + 9 = 10 + 1.
    #[test]
    fn a_mirrored_pair_passes_and_so_does_one_without_sides() {
        expect(&CHECK, pair(9), &[]);
        let mut plan = pair(9);
        plan.order[0].side = None;
        plan.order[1].side = None;
        expect(&CHECK, plan, &[]);
    }

    #[test]
    fn each_difference_is_named() {
        differs(|plan| plan.placements[1].lane = 8, "their lanes are not mirror images");
        differs(|plan| plan.placements[1].tier = 2, "they lie in different tiers");
        differs(|plan| plan.placements[1].front = Length::from_mm(3_001), "their front ends differ");
        differs(|plan| plan.order[1].length = Length::from_mm(30_001), "their lengths differ");
        differs(|plan| plan.order[1].side = Some(TrackSide::Left), "both are for one side of the track");
        differs(|plan| plan.order[1].side = None, "the side of the track is entered for one only");
        differs(
            |plan| {
                let mut other = plan.sections[0].clone();
                other.name = SectionName::new("54E1").unwrap();
                plan.order[1].section = other.name.clone();
                plan.sections.push(other);
                plan.placements[1].tier = 2;
            },
            "their sections differ, they lie in different tiers",
        );
    }

    #[test]
    fn single_strings_are_no_pairs() {
        let mut plan = pair(5);
        plan.drops[0] = drop_off("Site", &["S1", "S2"]);
        expect(&CHECK, plan, &[(Outcome::NotApplicable, "plan")]);
    }
}
