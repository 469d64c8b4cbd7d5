//! Check `springs-line-axle-load`: the load of each axle, the train on springs, against the line class.

use super::line_axle_load::judge_axles_on_line;
use super::on_springs::spring_loads;
use super::{Check, Judge};

pub(crate) static CHECK: Check = Check {
    id: "springs-line-axle-load",
    title: "Axle load on the line, on springs",
    what: "The load of each axle of every vehicle, the wagons giving on their springs, against the axle load \
           of the line class.",
    why: "What the track feels is the load that heights and springs leave on the axle, not the one of a \
          level train.",
    mend: "Bring racks and wagons to one height, spread string ends over more axles, or plan a route of a \
           higher class.",
    source: "Line classes: EN 15528; the class and its figures are the plan's. Beams on elastic supports \
             (textbook statics).",
    run,
};

fn run(judge: &mut Judge<'_>) {
    if let Some(states) = spring_loads(judge) {
        judge_axles_on_line(judge, &states);
    }
}

#[cfg(test)]
mod tests {
    use super::CHECK;
    use crate::checks::Outcome::{Fail, Near, NotAsked, Undecided};
    use crate::checks::bearing::testing::{check, load_ahead};
    use crate::checks::on_springs::testing::on_springs;
    use crate::model::Plan;

    // One wagon, so that springs change nothing: 18,316.9 kg on each front axle (see the axle load).
    fn class_of(axle_kg: f64) -> Plan {
        let mut plan = load_ahead(22_000.0, 40_000.0, 2_000, 5);
        on_springs(&mut plan);
        plan.route.line_class.as_mut().unwrap().axle_kg = axle_kg;
        plan
    }

    #[test]
    fn the_line_bears_its_class_and_no_kilogram_more() {
        check(&CHECK, &class_of(18_317.0), &[(Near, "vehicle W1, front bogie")]);
        check(&CHECK, &class_of(18_316.0), &[(Fail, "vehicle W1, front bogie")]);
        check(&CHECK, &class_of(22_500.0), &[]);
    }

    #[test]
    fn what_is_missing_is_undecided_and_what_is_not_asked_is_told_so() {
        let mut plan = class_of(22_500.0);
        plan.route.line_class = None;
        check(&CHECK, &plan, &[(Undecided, "plan")]);
        plan.train.vehicle_types[0].springs = None;
        check(&CHECK, &plan, &[(Undecided, "vehicle type Flat")]);
        plan.route.asked.clear();
        check(&CHECK, &plan, &[(NotAsked, "plan")]);
    }
}
