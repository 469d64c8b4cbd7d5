//! Check `line-axle-load`: the load of each axle against the line class.

use super::bearing::{States, judge_axles};
use super::{Check, Judge, Subject};
use crate::text;

pub(crate) static CHECK: Check = Check {
    id: "line-axle-load",
    title: "Axle load on the line",
    what: "The load of each axle of every vehicle, engines too, against the axle load of the line class.",
    why: "The line class says what the track and the bridges bear; a wagon may be built for more.",
    mend: "Shift string ends along the train so that the load spreads over more axles, leave strings for another \
           train, or plan a route of a higher class. An engine too heavy for the line must be exchanged.",
    source: "Line classes: EN 15528; the class and its figures are the plan's.",
    run,
};

fn run(judge: &mut Judge<'_>) {
    let states = judge.states().collect();
    judge_axles_on_line(judge, &states);
}

/// Judges every axle in `states` against the line class.
pub(super) fn judge_axles_on_line(judge: &mut Judge<'_>, states: &States<'_>) {
    let figures = judge.figures;
    let Some(class) = &figures.plan.route.line_class else {
        judge.undecided(Subject::Plan, text!["no line class is entered for the route"]);
        return;
    };
    judge.source(&class.source.text);
    for vehicle in 0..figures.consist.vehicles.len() {
        judge_axles(judge, states, vehicle, class.axle_kg);
    }
}

#[cfg(test)]
mod tests {
    use super::CHECK;
    use crate::checks::Outcome::{Fail, Near, Undecided};
    use crate::checks::bearing::testing::{add_engine, check, load_ahead};
    use crate::fixtures::empty_plan;
    use crate::model::Plan;

    // 18,316.9 kg on each front axle: see the axle load.
    fn class_of(axle_kg: f64) -> Plan {
        let mut plan = load_ahead(22_000.0, 40_000.0, 2_000, 5);
        plan.route.line_class.as_mut().unwrap().axle_kg = axle_kg;
        plan
    }

    #[test]
    fn the_line_bears_its_class_and_no_kilogram_more() {
        check(&CHECK, &class_of(18_317.0), &[(Near, "vehicle W1, front bogie")]);
        check(&CHECK, &class_of(18_316.0), &[(Fail, "vehicle W1, front bogie")]);
        check(&CHECK, &class_of(22_500.0), &[]);
    }

    // An engine of 80 t on four axles: 20 t each.
    #[test]
    fn engines_are_judged_too() {
        let mut plan = empty_plan(1);
        add_engine(&mut plan);
        plan.route.line_class.as_mut().unwrap().axle_kg = 19_999.0;
        check(&CHECK, &plan, &[(Fail, "vehicle L1, front bogie"), (Fail, "vehicle L1, rear bogie")]);
    }

    #[test]
    fn no_line_class_is_undecided() {
        let mut plan = class_of(22_500.0);
        plan.route.line_class = None;
        check(&CHECK, &plan, &[(Undecided, "plan")]);
    }
}
