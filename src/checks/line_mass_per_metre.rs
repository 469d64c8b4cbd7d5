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
