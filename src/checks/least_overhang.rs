//! Each end reaches far enough past its last rack.

use super::reading::{placement_of, rack_name, rack_named};
use super::{Check, Comparison, Judge, Sense, Subject};
use crate::model::{LimitKind, TrainEnd};
use crate::statics::{Figures, PlacedString};
use crate::text;
use crate::units::{Length, Quantity};

/// The check.
pub(crate) static CHECK: Check = Check {
    id: "least-overhang",
    title: "Least overhang",
    what: "How far each end reaches past the last rack that it crosses; where the plan names a rack farther out that \
           it is meant to rest on, past that one (below zero: it misses that rack).",
    why: "Ends move along their racks through curves, coupling slack and heat; an end that leaves its last rack \
          drops.",
    mend: "Move the string along the train, or give it one rack less to rest on.",
    source: "common practice, no source; the value is the plan's limit",
    run,
};

fn run(judge: &mut Judge<'_>) {
    let figures = judge.figures;
    if !figures.placed.iter().any(|placed| last_racks(figures, placed).is_some()) {
        judge.not_applicable(|| text!["no string lies on racks"]);
        return;
    }
    let Some(limit) = judge.limit(LimitKind::LeastOverhang) else { return };
    for placed in &figures.placed {
        let Some((first, last)) = last_racks(figures, placed) else { continue };
        let x = |rack: usize| figures.consist.racks.get(rack).map(|rack| rack.x);
        let ends: [(TrainEnd, usize, Option<Length>); 2] = [
            (TrainEnd::Front, first, x(first).map(|x| x - placed.front)),
            (TrainEnd::Rear, last, x(last).map(|x| placed.rear - x)),
        ];
        for (end, rack, overhang) in ends {
            let Some(overhang) = overhang else { continue };
            let subject = Subject::StringEnd(placed.string, end);
            let comparison = Comparison::new(Quantity::length(overhang), limit.running, Sense::AtLeast);
            judge.compare_with(None, subject, comparison, || text![" past ", rack_name(figures, rack)]);
        }
    }
}

/// The racks that the front and rear ends are to reach past; none where the string crosses none and names none.
///
/// The outermost of those crossed and those named: an end that reaches just past one rack more than it was meant
/// to rest on lies on that rack all the same, and drops off it.
pub(crate) fn last_racks(figures: &Figures, placed: &PlacedString) -> Option<(usize, usize)> {
    let span = placement_of(figures, placed).and_then(|placement| placement.rests_on.as_ref());
    let meant =
        span.and_then(|span| Some((rack_named(figures, &span.first)?, rack_named(figures, &span.last)?)));
    let crossed = (!placed.racks.is_empty()).then(|| (placed.racks.start, placed.racks.end - 1));
    match (meant, crossed) {
        (Some(meant), Some(crossed)) => Some((meant.0.min(crossed.0), meant.1.max(crossed.1))),
        (meant, crossed) => meant.or(crossed),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::Outcome;
    use crate::checks::trial::{expect, words};
    use crate::fixtures::{empty_plan, place};
    use crate::model::{Plan, RackRef, RackSpan, VehicleMark};

    // Racks: 3.317, 9.950, 16.583, 23.217, 29.850, 36.483 m ...
    fn one_string(front_mm: i64, rear_mm: i64) -> Plan {
        let mut plan = empty_plan(3);
        place(&mut plan, "S1", rear_mm - front_mm, (1, 1, front_mm));
        plan
    }

    fn check(plan: Plan, expected: &[(Outcome, &str)]) {
        expect(&CHECK, plan, expected);
    }

    // Limit 0.300 m; near from 0.300 / 0.95 = 0.316 m down.
    #[test]
    fn each_end_is_judged_from_both_sides_of_the_limit() {
        check(one_string(3_000, 36_800), &[]);
        check(one_string(3_017, 36_800), &[(Outcome::Near, "string S1, front end")]);
        check(one_string(3_018, 36_800), &[(Outcome::Fail, "string S1, front end")]);
        check(one_string(3_000, 36_783), &[(Outcome::Near, "string S1, rear end")]);
        let findings = expect(&CHECK, one_string(3_000, 36_782), &[(Outcome::Fail, "string S1, rear end")]);
        assert_eq!(words(&findings), "string S1, rear end: 0.299 m, at least 0.300 m past vehicle W2 rack 3");
    }

    // An end 0.2 m short of the rack that it should rest on reaches well past the rack before.
    #[test]
    fn an_end_that_misses_the_rack_it_should_rest_on_has_an_overhang_below_zero() {
        let plan = one_string(3_000, 36_283);
        check(plan.clone(), &[]);
        let mut meant = plan;
        let rack = |vehicle: &str, rack| RackRef { vehicle: VehicleMark::new(vehicle).unwrap(), rack };
        meant.placements[0].rests_on = Some(RackSpan { first: rack("W1", 1), last: rack("W2", 3) });
        let findings = expect(&CHECK, meant, &[(Outcome::Fail, "string S1, rear end")]);
        assert_eq!(
            words(&findings),
            "string S1, rear end: -0.200 m, at least 0.300 m past vehicle W2 rack 3"
        );
    }

    // Meant to rest on racks 1 to 5 of the train, it reaches the sixth at 36.483 m by 0.017 m and lies on it.
    #[test]
    fn an_end_that_reaches_one_rack_more_than_it_should_is_judged_there() {
        let mut plan = one_string(3_000, 36_500);
        let rack = |vehicle: &str, rack| RackRef { vehicle: VehicleMark::new(vehicle).unwrap(), rack };
        plan.placements[0].rests_on = Some(RackSpan { first: rack("W1", 1), last: rack("W2", 2) });
        let findings = expect(&CHECK, plan, &[(Outcome::Fail, "string S1, rear end")]);
        assert_eq!(words(&findings), "string S1, rear end: 0.017 m, at least 0.300 m past vehicle W2 rack 3");
    }

    #[test]
    fn without_a_limit_it_is_undecided_and_without_racks_not_applicable() {
        let mut plan = one_string(3_000, 36_800);
        plan.limits.entries.remove(&LimitKind::LeastOverhang);
        check(plan, &[(Outcome::Undecided, "limit least overhang")]);
        check(one_string(3_400, 9_400), &[(Outcome::NotApplicable, "plan")]);
    }
}
