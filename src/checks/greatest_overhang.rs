//! No end reaches too far past the last rack that carries it.

use super::{Check, Judge, Subject};
use crate::model::{LimitKind, TrainEnd};
use crate::text;
use crate::units::Quantity;

/// The check.
pub(crate) static CHECK: Check = Check {
    id: "greatest-overhang",
    title: "Greatest overhang",
    what: "How far each end reaches past the last rack that carries it.",
    why: "A long overhang droops, swings out in curves and lifts the string off the rack behind.",
    mend: "Move the string along the train until its end passes one rack more, or lies nearer its last rack.",
    source: "common practice, no source; the value is the plan's limit",
    run,
};

fn run(judge: &mut Judge<'_>) {
    let figures = judge.figures;
    if !figures.placed.iter().any(|placed| placed.beam.is_ok()) {
        judge.not_applicable(|| text!["no string lies on racks"]);
        return;
    }
    let Some(limit) = judge.limit(LimitKind::GreatestOverhang) else { return };
    for placed in &figures.placed {
        let Ok(beam) = &placed.beam else { continue };
        for (end, overhang_m) in
            [(TrainEnd::Front, beam.front_overhang_m), (TrainEnd::Rear, beam.rear_overhang_m)]
        {
            let subject = Subject::StringEnd(placed.string, end);
            judge.at_most(None, subject, Quantity::length_m(overhang_m), limit.running);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::Outcome;
    use crate::checks::trial::expect;
    use crate::fixtures::{empty_plan, place};
    use crate::model::Plan;
    use crate::units::Length;

    // Racks: 3.317, 9.950, 16.583, 23.217, 29.850, 36.483 m ...
    fn one_string(front_mm: i64, rear_mm: i64) -> Plan {
        let mut plan = empty_plan(3);
        place(&mut plan, "S1", rear_mm - front_mm, (1, 1, front_mm));
        plan
    }

    fn check(plan: Plan, expected: &[(Outcome, &str)]) {
        expect(&CHECK, plan, expected);
    }

    // Limit 4 m; near from 3.8 m.
    #[test]
    fn each_end_is_judged_from_both_sides_of_the_limit() {
        check(one_string(6_151, 40_282), &[]);
        check(one_string(5_950, 39_000), &[(Outcome::Near, "string S1, front end")]);
        check(one_string(5_949, 39_000), &[(Outcome::Fail, "string S1, front end")]);
        check(one_string(6_300, 40_483), &[(Outcome::Near, "string S1, rear end")]);
        check(one_string(6_300, 40_484), &[(Outcome::Fail, "string S1, rear end")]);
    }

    // Racks at 9.950 (carries nothing), 12.950 and 26.850 m: the overhang counts from 12.950 m (r 4.6, see
    // rack-lift-off).
    #[test]
    fn it_is_measured_from_the_last_rack_that_carries() {
        let mut plan = one_string(8_900, 26_900);
        let racks = &mut plan.train.vehicle_types[0].racks;
        racks[0].at = Length::from_mm(-3_000);
        racks[2].at = Length::from_mm(3_000);
        check(plan, &[(Outcome::Fail, "string S1, front end")]);
    }

    #[test]
    fn without_a_limit_it_is_undecided_and_without_racks_not_applicable() {
        let mut plan = one_string(3_000, 36_800);
        plan.limits.entries.remove(&LimitKind::GreatestOverhang);
        check(plan, &[(Outcome::Undecided, "limit greatest overhang")]);
        check(one_string(3_400, 9_400), &[(Outcome::NotApplicable, "plan")]);
    }
}
