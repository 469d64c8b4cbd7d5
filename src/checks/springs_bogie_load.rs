//! Check `springs-bogie-load`: the gross load of each bogie, the train on springs, against its rating.

use super::bogie_load::judge_bogies;
use super::on_springs::spring_loads;
use super::{Check, Judge};

pub(crate) static CHECK: Check = Check {
    id: "springs-bogie-load",
    title: "Load of a bogie, on springs",
    what: "Tare and load on each bogie, the wagons giving on their springs, against the bogie rating of the \
           vehicle type.",
    why: "A wagon that stands low or pitches passes load to the nearer bogies of its neighbours.",
    mend: "Bring racks and wagons to one height, or move load toward the other bogie.",
    source: "The rating is the plan's own; beams on elastic supports (textbook statics).",
    run,
};

fn run(judge: &mut Judge<'_>) {
    if let Some(states) = spring_loads(judge) {
        judge_bogies(judge, &states);
    }
}

#[cfg(test)]
mod tests {
    use super::CHECK;
    use crate::checks::Outcome::{Fail, Near, NotAsked, Undecided};
    use crate::checks::bearing::testing::{check, load_ahead};
    use crate::checks::on_springs::testing::on_springs;
    use crate::model::Plan;

    // One wagon, so that springs change nothing: 36.634 t in front (see the bogie load).
    fn off_the_middle(rating_kg: f64) -> Plan {
        let mut plan = load_ahead(22_000.0, 40_000.0, 2_000, 5);
        on_springs(&mut plan);
        plan.train.vehicle_types[0].bogie_rating_kg = Some(rating_kg);
        plan
    }

    #[test]
    fn a_bogie_bears_its_rating_and_no_kilogram_more() {
        check(&CHECK, &off_the_middle(36_634.0), &[(Near, "vehicle W1, front bogie")]);
        check(&CHECK, &off_the_middle(36_633.0), &[(Fail, "vehicle W1, front bogie")]);
        check(&CHECK, &off_the_middle(45_000.0), &[]);
    }

    #[test]
    fn springs_that_are_not_asked_for_or_not_entered_are_told_so() {
        let mut plan = off_the_middle(45_000.0);
        plan.train.vehicle_types[0].springs = None;
        check(&CHECK, &plan, &[(Undecided, "vehicle type Flat")]);
        plan.route.asked.clear();
        check(&CHECK, &plan, &[(NotAsked, "plan")]);
    }
}
