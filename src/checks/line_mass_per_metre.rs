//! Check `line-mass-per-metre`: gross mass per length of each vehicle against the line class.

use super::{Check, Judge, Subject};
use crate::text;
use crate::units::Quantity;

pub(crate) static CHECK: Check = Check {
    id: "line-mass-per-metre",
    title: "Mass per metre on the line",
    what: "The gross mass of every vehicle over its length between buffer faces, engines too, against the mass \
           per metre of the line class.",
    why: "Long bridges feel the mass on each metre of track, not the single axle; a short wagon may be within \
          its axle load and beyond the line's mass per metre.",
    mend: "Take strings off this vehicle, use longer wagons, or plan a route of a higher class.",
    source: "EN 15528: gross wagon mass over the length between uncompressed buffers; the class and its figures \
             are the plan's.",
    run,
};

fn run(judge: &mut Judge<'_>) {
    let figures = judge.figures;
    let Some(class) = &figures.plan.route.line_class else {
        judge.undecided(Subject::Plan, text!["no line class is entered for the route"]);
        return;
    };
    let Some(most) = class.mass_per_metre_kg else {
        judge.not_applicable(text!["line class ", class.name.as_str(), " has no limit of mass per metre"]);
        return;
    };
    judge.source(&class.source.text);
    for (state, _) in judge.states() {
        for (vehicle, loads) in state.vehicles.iter().enumerate() {
            let demand = Quantity::mass_per_length(loads.mass_per_metre_kg);
            judge.at_most(Some(state.state), Subject::Vehicle(vehicle), demand, most);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::CHECK;
    use crate::checks::Outcome::{Fail, Near, NotApplicable, Undecided};
    use crate::checks::bearing::testing::{add_engine, check, lay};
    use crate::fixtures::empty_plan;
    use crate::model::Plan;

    // Tare 24 t and strings of 20 t on 19.9 m: 2,211.06 kg/m.
    fn class_of(mass_per_metre_kg: Option<f64>) -> Plan {
        let mut plan = empty_plan(2);
        lay(&mut plan, "S1", (1, 1), 1, 10_000.0);
        lay(&mut plan, "S2", (1, 10), 1, 10_000.0);
        plan.route.line_class.as_mut().unwrap().mass_per_metre_kg = mass_per_metre_kg;
        plan
    }

    #[test]
    fn the_line_bears_its_class_and_no_more_per_metre() {
        check(&CHECK, &class_of(Some(2_211.1)), &[(Near, "vehicle W2")]);
        check(&CHECK, &class_of(Some(2_211.0)), &[(Fail, "vehicle W2")]);
        check(&CHECK, &class_of(Some(8_000.0)), &[]);
    }

    #[test]
    fn a_class_without_the_limit_is_not_applicable_and_no_class_undecided() {
        check(&CHECK, &class_of(None), &[(NotApplicable, "plan")]);
        let mut plan = class_of(None);
        plan.route.line_class = None;
        check(&CHECK, &plan, &[(Undecided, "plan")]);
    }

    // An engine of 80 t on 19.9 m: 4,020.1 kg/m.
    #[test]
    fn engines_are_judged_too() {
        let mut plan = empty_plan(1);
        add_engine(&mut plan);
        plan.route.line_class.as_mut().unwrap().mass_per_metre_kg = Some(4_020.0);
        check(&CHECK, &plan, &[(Fail, "vehicle L1")]);
    }
}
