//! Check `line-axle-load`: the load of each axle against the line class.

use super::bearing::judge_axles;
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
    let figures = judge.figures;
    let Some(class) = &figures.plan.route.line_class else {
        judge.undecided(Subject::Plan, text!["no line class is entered for the route"]);
        return;
    };
    judge.source(&class.source.text);
    for vehicle in 0..figures.consist.vehicles.len() {
        judge_axles(judge, vehicle, class.axle_kg);
    }
}
