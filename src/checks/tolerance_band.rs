//! Check `tolerance-band`: axle and wheel loads within the bands that height and mass tolerances give them.

use super::bearing::States;
use super::on_springs::{Bearer, capacities, judge_range, tell_missing};
use super::{Check, Judge, Subject};
use crate::model::Topic;
use crate::text;

pub(crate) static CHECK: Check = Check {
    id: "tolerance-band",
    title: "Loads within their tolerances",
    what: "Axle and wheel loads, more or less by what the rack height tolerance (on springs) and the mass tolerance \
           can do at most, against the axle and wheel ratings and the line class. A rating that is kept or broken \
           depending on them is near.",
    why: "Racks are not all of one height and strings not all of one mass; a verdict that hangs on such errors is a \
          narrow one.",
    mend: "Leave more margin on this axle, or measure racks and weigh strings and enter closer tolerances.",
    source: "Linear sensitivity, the largest sum (textbook error analysis); the tolerances are the plan's.",
    run,
};

fn run(judge: &mut Judge<'_>) {
    if !judge.asked(Topic::Tolerances) {
        return;
    }
    let figures = judge.figures;
    let route = &figures.plan.route;
    if route.rack_height_tolerance_mm.is_none() {
        judge.undecided(Subject::Plan, text!["no rack height tolerance is entered for the route"]);
    }
    if route.mass_tolerance.is_none() {
        judge.undecided(Subject::Plan, text!["no mass tolerance is entered for the route"]);
    }
    let bands = match figures.tolerance_bands() {
        Ok(bands) => bands,
        Err(missing) => {
            tell_missing(judge, missing);
            return;
        }
    };
    let mut models: Vec<States<'_>> = vec![judge.states().collect()];
    if route.asked.contains(&Topic::Springs)
        && let Ok(springs) = figures.springs()
    {
        let rules = judge.states().map(|(_, rule)| rule);
        models.push(springs.states.iter().map(|state| &state.loads).zip(rules).collect());
    }
    for vehicle in 0..figures.consist.vehicles.len() {
        let capacities = capacities(figures, vehicle);
        for ((state, _), bands) in models.iter().flat_map(|states| states.iter().zip(bands)) {
            for (support, (load, band)) in
                state.vehicles[vehicle].supports.iter().zip(&bands[vehicle]).enumerate()
            {
                for capacity in &capacities {
                    let (low_kg, high_kg) = match capacity.bearer {
                        Bearer::Axle => (load.axle_kg - band.axle_kg, load.axle_kg + band.axle_kg),
                        Bearer::Wheel => load.wheel_range_kg(band, 1.0),
                    };
                    judge_range(judge, state.state, (vehicle, support), capacity, [low_kg, high_kg]);
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::CHECK;
    use crate::checks::Outcome::{Near, NotAsked, Note, Undecided};
    use crate::checks::bearing::testing::{check, findings};
    use crate::checks::on_springs::testing::low_in_the_middle;
    use crate::model::{Plan, Topic};

    fn tolerant() -> Plan {
        let mut plan = low_in_the_middle(0.0);
        plan.route.asked = vec![Topic::Tolerances];
        plan.route.rack_height_tolerance_mm = Some(3.0);
        plan.route.mass_tolerance = Some(0.02);
        plan
    }

    #[test]
    fn a_rating_within_the_band_is_near_and_one_outside_of_it_is_not() {
        let figures = crate::checks::trial::figures_of(tolerant());
        let load_kg = figures.worked[0].vehicles[1].supports[0].axle_kg;
        let band_kg = figures.tolerance_bands().unwrap()[0][1][0].axle_kg;
        assert!(band_kg > 50.0);
        let told = |rating_kg: f64| {
            let mut plan = tolerant();
            plan.train.vehicle_types[0].axle_rating_kg = Some(rating_kg);
            let findings = findings(&CHECK, &plan);
            let here = |f: &&crate::checks::Finding| f.things == ["vehicle W2", "front bogie"];
            findings.iter().find(here).map(|finding| finding.outcome)
        };
        assert_eq!(told(load_kg + band_kg - 1.0), Some(Near));
        assert_eq!(told(load_kg - band_kg + 1.0), Some(Near));
        assert_eq!(told(load_kg - band_kg - 1.0), Some(Note));
        assert_ne!(told(load_kg + band_kg + 1.0), Some(Near));
        check(&CHECK, &tolerant(), &[]);
    }

    #[test]
    fn tolerances_that_are_not_entered_are_undecided_and_springs_are_needed_for_heights_only() {
        let mut plan = tolerant();
        plan.route.mass_tolerance = None;
        check(&CHECK, &plan, &[(Undecided, "plan")]);
        let mut plan = tolerant();
        plan.train.vehicle_types[0].springs = None;
        check(&CHECK, &plan, &[(Undecided, "vehicle type Flat")]);
        plan.route.rack_height_tolerance_mm = Some(0.0);
        check(&CHECK, &plan, &[]);
        plan.route.asked.clear();
        check(&CHECK, &plan, &[(NotAsked, "plan")]);
    }
}
