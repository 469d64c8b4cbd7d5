//! Check `springs-axle-load`: the load of each axle, the train on springs, against the vehicle's own rating.

use super::axle_load::judge_rated_axles;
use super::on_springs::spring_loads;
use super::{Check, Judge};

pub(crate) static CHECK: Check = Check {
    id: "springs-axle-load",
    title: "Load of an axle, on springs",
    what: "The load of each axle where the wagons give on their springs and strings rest on racks as high as \
           they were measured, against the axle rating of the vehicle type.",
    why: "A wagon or a rack that stands low or high, or a soft wagon, shifts load to its neighbours; the \
          level value is then not on the safe side.",
    mend: "Bring racks and wagons to one height, exchange the soft wagon, or move load as for the level axle \
           load.",
    source: "The rating is the plan's own; beams on elastic supports (textbook statics).",
    run,
};

fn run(judge: &mut Judge<'_>) {
    if let Some(states) = spring_loads(judge) {
        judge_rated_axles(judge, &states);
    }
}

#[cfg(test)]
mod tests {
    use super::CHECK;
    use crate::checks::Outcome::{Fail, Near, NotAsked, Undecided};
    use crate::checks::bearing::testing::{check, findings, load_ahead};
    use crate::checks::on_springs::testing::{low_in_the_middle, on_springs};
    use crate::checks::trial::figures_of;
    use crate::model::Plan;

    // One wagon, so that springs change nothing: 18,316.9 kg on each front axle (see the axle load).
    fn alone(rating_kg: Option<f64>) -> Plan {
        let mut plan = load_ahead(22_000.0, 40_000.0, 2_000, 5);
        on_springs(&mut plan);
        plan.train.vehicle_types[0].axle_rating_kg = rating_kg;
        plan
    }

    #[test]
    fn an_axle_bears_its_rating_and_no_kilogram_more() {
        check(&CHECK, &alone(Some(18_317.0)), &[(Near, "vehicle W1, front bogie")]);
        check(&CHECK, &alone(Some(18_316.0)), &[(Fail, "vehicle W1, front bogie")]);
        check(&CHECK, &alone(Some(22_500.0)), &[]);
        check(&CHECK, &alone(None), &[(Undecided, "vehicle type Flat")]);
    }

    // Rated 3 % above the worst axle that the level model finds.
    #[test]
    fn a_low_wagon_overloads_its_neighbours_where_the_level_model_sees_nothing() {
        let rated = |low_mm: f64| {
            let mut plan = low_in_the_middle(low_mm);
            let level = figures_of(plan.clone());
            let supports = level.worked[0].vehicles.iter().flat_map(|vehicle| vehicle.supports);
            let worst_kg = supports.map(|support| support.axle_kg).fold(0.0, f64::max);
            plan.train.vehicle_types[0].axle_rating_kg = Some(1.03 * worst_kg);
            let findings = findings(&CHECK, &plan);
            (findings[0].outcome, findings[0].things[0].clone())
        };
        assert_eq!(rated(0.0).0, Near);
        assert_eq!(rated(60.0).0, Fail);
        assert_ne!(rated(60.0).1, "vehicle W2");
    }

    #[test]
    fn springs_that_are_not_asked_for_or_not_entered_are_told_so() {
        let mut plan = low_in_the_middle(0.0);
        plan.train.vehicle_types[0].springs = None;
        check(&CHECK, &plan, &[(Undecided, "vehicle type Flat")]);
        plan.route.asked.clear();
        check(&CHECK, &plan, &[(NotAsked, "plan")]);
    }
}
