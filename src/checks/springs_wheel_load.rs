//! Check `springs-wheel-load`: the load of each wheel, the train on springs, against the vehicle's rating.

use super::on_springs::spring_loads;
use super::wheel_load::judge_wheels;
use super::{Check, Judge};

pub(crate) static CHECK: Check = Check {
    id: "springs-wheel-load",
    title: "Load of a wheel, on springs",
    what: "The heavier wheel of each axle, by the worse of a stiff and a soft body, the wagons giving on \
           their springs, against the wheel rating of the vehicle type.",
    why: "A wagon that leans takes its racks down on one side, and strings pass their load to others.",
    mend: "Bring racks and wagons to one height, or move strings over this axle toward the lighter side.",
    source: "The rating is the plan's own; beams on elastic supports (textbook statics).",
    run,
};

fn run(judge: &mut Judge<'_>) {
    if let Some(states) = spring_loads(judge) {
        judge_wheels(judge, &states);
    }
}

#[cfg(test)]
mod tests {
    use super::CHECK;
    use crate::checks::Outcome::{Fail, Near, NotAsked, Undecided};
    use crate::checks::bearing::testing::{check, load_ahead};
    use crate::checks::on_springs::testing::on_springs;
    use crate::model::Plan;

    // One wagon, so that springs change nothing: tare 24 t, 10 t at y 1.2 m, 2 m ahead: 7,165.5 kg on the right wheels
    // of the front bogie as a soft body (see the wheel load).
    fn one_sided(rating_kg: f64) -> Plan {
        let mut plan = load_ahead(24_000.0, 10_000.0, 2_000, 10);
        on_springs(&mut plan);
        plan.train.vehicle_types[0].wheel_rating_kg = Some(rating_kg);
        plan
    }

    #[test]
    fn a_wheel_bears_its_rating_and_no_kilogram_more() {
        check(&CHECK, &one_sided(7_166.0), &[(Near, "vehicle W1, front bogie")]);
        check(&CHECK, &one_sided(7_165.0), &[(Fail, "vehicle W1, front bogie")]);
        check(&CHECK, &one_sided(10_000.0), &[]);
    }

    #[test]
    fn springs_that_are_not_asked_for_or_not_entered_are_told_so() {
        let mut plan = one_sided(10_000.0);
        plan.train.vehicle_types[0].springs = None;
        check(&CHECK, &plan, &[(Undecided, "vehicle type Flat")]);
        plan.route.asked.clear();
        check(&CHECK, &plan, &[(NotAsked, "plan")]);
    }
}
