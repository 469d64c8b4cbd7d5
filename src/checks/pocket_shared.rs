//! Strings that share a row of pockets neither overlap nor come too close end to end.

use super::reading::{placement_of, string_name};
use super::{Check, Comparison, Judge, Sense, Subject};
use crate::model::LimitKind;
use crate::statics::{Figures, PlacedString};
use crate::text;
use crate::units::{Quantity, Text};
use std::collections::VecDeque;

/// The check.
pub(crate) static CHECK: Check = Check {
    id: "pocket-shared",
    title: "Pocket shared",
    what: "Strings in one tier and lane do not overlap, and their ends keep the least gap.",
    why: "Two strings in one pocket cannot both lie there; ends that move in curves strike each other.",
    mend: "Move one of the strings along the train, or to another pocket.",
    source: "geometry; the least gap is the plan's limit",
    run,
};

/// A placement with its row of pockets: tier and lane.
pub(super) type InRow<'f> = ((u32, u32), &'f PlacedString);

fn run(judge: &mut Judge<'_>) {
    let figures = judge.figures;
    let rows = rows_of_pockets(figures);
    let mut pairs = Vec::new();
    for (state, rule) in judge.states() {
        neighbours(figures, &rows, state.state, |a, b, row| pairs.push((state.state, rule, (a, b, row))));
    }
    if pairs.is_empty() {
        judge.not_applicable(|| text!["no two strings share a tier and lane"]);
        return;
    }
    let gap = judge.limit(LimitKind::PocketGap);
    for (state, rule, pair) in pairs {
        judge_pair(judge, state, pair, gap.as_ref().map(|gap| gap.by(rule)));
    }
}

/// How many strings before one in its row are compared with it.
///
/// Where none of them overlaps it, the one that reaches farthest back is compared as well. Where hundreds lie in
/// one pocket (a pasted order with one lane for all), every string that overlaps another still has its finding,
/// but not every two strings: those would be tens of thousands.
const COMPARED_BEFORE: usize = 8;

/// All placements, sorted by tier and lane and then from the front.
pub(super) fn rows_of_pockets(figures: &Figures) -> Vec<InRow<'_>> {
    let mut rows: Vec<InRow<'_>> = figures
        .placed
        .iter()
        .filter_map(|placed| placement_of(figures, placed).map(|at| ((at.tier, at.lane), placed)))
        .collect();
    rows.sort_by_key(|(row, placed)| (*row, placed.front, placed.placement));
    rows
}

/// Calls `each` for every two strings of a row that overlap, and for every two that are next to each other.
///
/// Of many in one place, see [`COMPARED_BEFORE`].
pub(super) fn neighbours<'f>(
    figures: &'f Figures,
    rows: &[InRow<'f>],
    state: usize,
    mut each: impl FnMut(&'f PlacedString, &'f PlacedString, (u32, u32)),
) {
    let present = figures.states.get(state).map(|state| state.present.as_slice()).unwrap_or_default();
    let on_train = |placed: &PlacedString| present.get(placed.placement).copied().unwrap_or(false);
    for row in rows.chunk_by(|(a, _), (b, _)| a == b) {
        // Those before the one looked at, the nearest `COMPARED_BEFORE` and the one that reaches farthest back.
        let mut before: VecDeque<&PlacedString> = VecDeque::new();
        let mut farthest: Option<&PlacedString> = None;
        for (pocket, placed) in row.iter().filter(|(_, placed)| on_train(placed)) {
            let (mut overlapping, mut ahead): (Vec<_>, Vec<_>) =
                before.iter().copied().partition(|other| other.rear > placed.front);
            if overlapping.is_empty() {
                (overlapping, ahead) =
                    ahead.into_iter().chain(farthest).partition(|other| other.rear > placed.front);
            }
            // The end next to this one's front end.
            let next = ahead.into_iter().max_by_key(|other| other.rear);
            for other in overlapping.into_iter().chain(next) {
                each(other, placed, *pocket);
            }
            if before.len() == COMPARED_BEFORE {
                before.pop_front();
            }
            before.push_back(placed);
            if farthest.is_none_or(|far| placed.rear > far.rear) {
                farthest = Some(placed);
            }
        }
    }
}

fn judge_pair(
    judge: &mut Judge<'_>,
    state: usize,
    (first, second, (tier, lane)): (&PlacedString, &PlacedString, (u32, u32)),
    least_gap_m: Option<f64>,
) {
    let figures = judge.figures;
    let (a, b) = (first.string.min(second.string), first.string.max(second.string));
    let subject = Subject::Strings(a, b);
    let gap = second.front - first.rear;
    if gap.is_negative() {
        let overlap = first.rear.min(second.rear) - second.front;
        let what = || {
            text![
                format!("{} and {} overlap by ", string_name(figures, a), string_name(figures, b)),
                Quantity::length(overlap),
                format!(" in tier {tier}, lane {lane}")
            ]
        };
        judge.fail(Some(state), subject, what, Text::default);
    } else if let Some(least) = least_gap_m {
        let comparison = Comparison::new(Quantity::length(gap), least, Sense::AtLeast);
        judge.compare_with(Some(state), subject, comparison, || {
            text![format!(" between their ends in tier {tier}, lane {lane}")]
        });
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::Outcome;
    use crate::checks::trial::{expect, words};
    use crate::fixtures::{drop_off, empty_plan, place};
    use crate::model::Plan;

    /// Two strings of 15 m in tier 1; the second starts `gap_mm` behind the first, in `lane`.
    fn two_strings(gap_mm: i64, lane: u32) -> Plan {
        let mut plan = empty_plan(2);
        place(&mut plan, "S1", 15_000, (1, 1, 2_000));
        place(&mut plan, "S2", 15_000, (1, lane, 17_000 + gap_mm));
        plan
    }

    fn check(plan: Plan, expected: &[(Outcome, &str)]) {
        expect(&CHECK, plan, expected);
    }

    // Limit 0.5 m: 0.527 m uses 0.5 / 0.527 = 0.949 of it, 0.526 m 0.951.
    #[test]
    fn the_gap_between_ends_is_kept_from_both_sides() {
        check(two_strings(527, 1), &[]);
        check(two_strings(526, 1), &[(Outcome::Near, "string S1, string S2")]);
        check(two_strings(500, 1), &[(Outcome::Near, "string S1, string S2")]);
        check(two_strings(499, 1), &[(Outcome::Fail, "string S1, string S2")]);
    }

    #[test]
    fn overlapping_strings_fail_whatever_the_limit_and_the_overlap_is_told() {
        let mut plan = two_strings(-1, 1);
        let findings = expect(&CHECK, plan.clone(), &[(Outcome::Fail, "string S1, string S2")]);
        assert_eq!(words(&findings), "string S1 and string S2 overlap by 0.001 m in tier 1, lane 1");
        plan.limits.entries.remove(&LimitKind::PocketGap);
        check(
            plan,
            &[(Outcome::Fail, "string S1, string S2"), (Outcome::Undecided, "limit gap in a pocket")],
        );
    }

    #[test]
    fn a_long_string_over_two_short_ones_fails_with_both() {
        let mut plan = two_strings(1_000, 1);
        place(&mut plan, "S3", 35_000, (1, 1, 1_000));
        check(plan, &[(Outcome::Fail, "string S1, string S3"), (Outcome::Fail, "string S2, string S3")]);
    }

    // 40 strings of 15 m, each starting 1 m behind the one before: every one overlaps up to 14 others.
    #[test]
    fn of_many_strings_in_one_pocket_each_has_its_finding_and_not_every_two() {
        let mut plan = empty_plan(4);
        for number in 0..40_i64 {
            place(&mut plan, &format!("S{number}"), 15_000, (1, 1, 1_000 * number));
        }
        place(&mut plan, "long", 76_000, (1, 1, 0));
        place(&mut plan, "far", 4_000, (1, 1, 70_000));
        let findings = crate::checks::trial::findings_of(&CHECK, plan);
        let fails: Vec<_> = findings.iter().filter(|finding| finding.outcome == Outcome::Fail).collect();
        for number in 0..40 {
            let mark = format!("string S{number}");
            assert!(fails.iter().any(|finding| finding.things.contains(&mark)), "{mark}");
        }
        assert!(fails.iter().any(|finding| finding.things == ["string long", "string far"]));
        assert!(fails.len() <= 42 * COMPARED_BEFORE, "{}", fails.len());
    }

    #[test]
    fn other_lanes_and_tiers_are_nobodys_neighbours() {
        check(two_strings(-1, 2), &[(Outcome::NotApplicable, "plan")]);
        let mut plan = two_strings(-1, 1);
        plan.placements[1].tier = 2;
        check(plan, &[(Outcome::NotApplicable, "plan")]);
    }

    #[test]
    fn strings_that_share_a_place_at_different_times_do_not_meet() {
        let mut plan = two_strings(-5_000, 1);
        plan.drops.push(drop_off("Site", &["S1", "S2"]));
        plan.drops[0].steps[1].kind = crate::model::StepKind::On;
        check(plan, &[(Outcome::NotApplicable, "plan")]);
    }

    #[test]
    fn a_gap_without_a_limit_is_undecided() {
        let mut plan = two_strings(5_000, 1);
        plan.limits.entries.remove(&LimitKind::PocketGap);
        check(plan, &[(Outcome::Undecided, "limit gap in a pocket")]);
    }
}
