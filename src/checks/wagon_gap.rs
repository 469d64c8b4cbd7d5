//! Which vehicles strings tie to their neighbours.

use super::{Check, Judge, Subject};
use crate::statics::{Figures, PlacedString};
use crate::text;
use crate::units::Text;
use std::cmp::Reverse;
use std::ops::Range;

/// The check.
pub(crate) static CHECK: Check = Check {
    id: "wagon-gap",
    title: "Strings across a gap",
    what: "How many strings cross the gap between a vehicle and its neighbours, in which states.",
    why: "A vehicle tied to its neighbours by strings cannot be set out, jacked or re-railed alone: the strings \
          bend and lever its racks.",
    mend: "Take the strings off first, or lift all the vehicles under them together.",
    source: "accident report of wagons jacked under continuous strings",
    run,
};

fn run(judge: &mut Judge<'_>) {
    let figures = judge.figures;
    let crossed: Vec<Range<usize>> = figures.placed.iter().map(|placed| tied(figures, placed)).collect();
    if crossed.iter().all(Range::is_empty) {
        judge.not_applicable(|| text!["no string crosses a gap between vehicles"]);
        return;
    }
    let states: Vec<(usize, Vec<usize>)> =
        judge.states().map(|(state, _)| (state.state, counts(figures, &crossed, state.state))).collect();
    for vehicle in 0..figures.consist.vehicles.len() {
        let mut counted: Vec<(usize, usize)> =
            states.iter().filter_map(|(state, counts)| Some((*state, *counts.get(vehicle)?))).collect();
        // Of notes that rank alike the first is kept: most strings first, and of those the earliest state.
        counted.sort_by_key(|(state, count)| (Reverse(*count), *state));
        for (state, count) in counted {
            tell(judge, state, vehicle, count);
        }
    }
}

fn tell(judge: &mut Judge<'_>, state: usize, vehicle: usize, count: usize) {
    let (figures, subject) = (judge.figures, Subject::Vehicle(vehicle));
    match count {
        0 => judge.pass(Some(state), subject, || text!["vehicles that no string ties"]),
        1 => judge.note(Some(state), subject, || words(figures, vehicle, "1 string ties")),
        _ => judge.note(Some(state), subject, || words(figures, vehicle, &format!("{count} strings tie"))),
    }
}

fn words(figures: &Figures, vehicle: usize, tie: &str) -> Text {
    let name = Subject::Vehicle(vehicle).place(figures);
    text![format!("{tie} {name} to its neighbours: it cannot be set out or jacked alone")]
}

/// The vehicles that a string ties together: those on either side of each gap that it crosses.
fn tied(figures: &Figures, placed: &PlacedString) -> Range<usize> {
    let vehicles = &figures.consist.vehicles;
    // The vehicles that the string lies over by any length.
    let first = vehicles.partition_point(|vehicle| vehicle.rear <= placed.front);
    let end = vehicles.partition_point(|vehicle| vehicle.front < placed.rear);
    if end > first + 1 { first..end } else { first..first }
}

/// By vehicle: how many strings on the train in `state` tie it to a neighbour.
fn counts(figures: &Figures, crossed: &[Range<usize>], state: usize) -> Vec<usize> {
    let mut changes = vec![0_isize; figures.consist.vehicles.len() + 1];
    for placed in figures.present(state) {
        let Some(tied) = crossed.get(placed.placement).filter(|tied| !tied.is_empty()) else { continue };
        for (at, change) in [(tied.start, 1), (tied.end, -1)] {
            if let Some(sum) = changes.get_mut(at) {
                *sum += change;
            }
        }
    }
    changes.pop();
    let sums = changes.into_iter().scan(0_isize, |sum, change| {
        *sum += change;
        Some(sum.unsigned_abs())
    });
    sums.collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::Outcome;
    use crate::checks::trial::{expect, words};
    use crate::fixtures::{drop_off, empty_plan, place};
    use crate::model::{Plan, StepKind};

    fn one_string(front_mm: i64, rear_mm: i64) -> Plan {
        let mut plan = empty_plan(4);
        place(&mut plan, "S1", rear_mm - front_mm, (1, 1, front_mm));
        plan
    }

    fn check(plan: Plan, expected: &[(Outcome, &str)]) {
        expect(&CHECK, plan, expected);
    }

    // The gap between W1 and W2 is at 19.9 m, that between W2 and W3 at 39.8 m.
    #[test]
    fn a_string_ties_a_vehicle_only_where_it_crosses_the_gap() {
        check(one_string(1_000, 19_900), &[(Outcome::NotApplicable, "plan")]);
        check(one_string(1_000, 19_901), &[(Outcome::Note, "vehicle W1"), (Outcome::Note, "vehicle W2")]);
        check(one_string(19_900, 39_000), &[(Outcome::NotApplicable, "plan")]);
        let three =
            [(Outcome::Note, "vehicle W1"), (Outcome::Note, "vehicle W2"), (Outcome::Note, "vehicle W3")];
        check(one_string(19_899, 39_801), &three);
    }

    // Reported in 2016 to the US FRA (report number not at hand): two wagons jacked under continuous strings.
    #[test]
    fn jacked_under_continuous_strings_one_note_per_vehicle_counts_the_strings_and_lists_the_states() {
        let mut plan = one_string(3_000, 36_800);
        place(&mut plan, "S2", 33_800, (1, 10, 3_000));
        plan.drops.push(drop_off("Site", &["S1", "S2"]));
        let findings = expect(&CHECK, plan, &[(Outcome::Note, "vehicle W1"), (Outcome::Note, "vehicle W2")]);
        let told = "2 strings tie vehicle W1 to its neighbours: it cannot be set out or jacked alone";
        assert_eq!(words(&findings), told);
        // Departure and after the first step, not after the second or the drop.
        assert_eq!((findings[0].state, findings[0].states.as_slice()), (Some(0), &[0, 1][..]));
    }

    #[test]
    fn the_state_with_most_strings_is_told_even_where_it_is_not_the_first() {
        let mut plan = one_string(3_000, 36_800);
        for (mark, lane) in [("S2", 10), ("S3", 2), ("S4", 3), ("S5", 4)] {
            place(&mut plan, mark, 33_800, (1, lane, 3_000));
        }
        let mut drop = drop_off("Site", &["S1", "S2", "S3"]);
        drop.steps[0].kind = StepKind::Off;
        for step in &mut drop.steps[1..] {
            step.kind = StepKind::On;
        }
        plan.drops.push(drop);
        let findings = expect(&CHECK, plan, &[(Outcome::Note, "vehicle W1"), (Outcome::Note, "vehicle W2")]);
        // S1, S4 and S5 at departure; S4 and S5; with S2 three again; with S3 four.
        let told = "4 strings tie vehicle W1 to its neighbours: it cannot be set out or jacked alone";
        assert_eq!(words(&findings), told);
        assert_eq!((findings[0].state, findings[0].states.as_slice()), (Some(3), &[0, 1, 2, 3, 4][..]));
    }
}
