//! What the creep checks share: the strings with the creep of their ends, and what is missing.

use super::reading::string_name;
use super::{Judge, Subject};
use crate::model::Topic;
use crate::statics::{CreepNeeds, EndCreep, NoCreep, PlacedString, Shift};
use crate::text;
use crate::units::{Quantity, Text};

/// The placed strings with the creep of their front and rear ends, where the plan asks for it.
///
/// Tells what keeps it from being judged, also string by string. A string on no rack is left to the check of
/// its support.
pub(super) fn moving_ends<'f>(judge: &mut Judge<'f>) -> Vec<(&'f PlacedString, &'f [EndCreep; 2])> {
    if !judge.asked(Topic::Creep) {
        return Vec::new();
    }
    let figures = judge.figures;
    if figures.placed.is_empty() {
        judge.not_applicable(|| text!["no strings are on the train"]);
        return Vec::new();
    }
    let creep = figures.creep();
    if let Err(missing) = &creep.causes {
        for need in missing {
            judge.undecided(Subject::Plan, text![needed(*need)]);
        }
    }
    let mut moving = Vec::new();
    for (placed, ends) in figures.placed.iter().zip(&creep.strings) {
        match ends {
            Ok(ends) => moving.push((placed, ends)),
            Err(NoCreep::NoRacks) => {}
            Err(NoCreep::NotHeldOnce) => {
                let name = string_name(figures, placed.string);
                let missing = text![name, " is not held at one rack under it, so its creep is not known"];
                judge.undecided(Subject::String(placed.string), missing);
            }
            Err(NoCreep::NoExpansion) => tell_expansion(judge, placed),
        }
    }
    moving
}

fn needed(need: CreepNeeds) -> &'static str {
    match need {
        CreepNeeds::Curves => "no curve is entered for the route",
        CreepNeeds::CouplingSlack => "no coupling slack is entered for the train",
        CreepNeeds::TemperatureRange => "no temperature range is entered for the route",
    }
}

/// Told once for each steel, or for each string that names none.
fn tell_expansion(judge: &mut Judge<'_>, placed: &PlacedString) {
    let figures = judge.figures;
    match figures.plan.order.get(placed.string).and_then(|string| string.steel.as_ref()) {
        Some(steel) => {
            judge.undecided(Subject::Plan, text![format!("no expansion is entered for steel {steel}")]);
        }
        None => {
            let name = string_name(figures, placed.string);
            let missing = text!["no steel is entered for ", name, ", so its expansion is not known"];
            judge.undecided(Subject::String(placed.string), missing);
        }
    }
}

/// The causes of a movement, such as `curves 1.951 m, slack 0.480 m, heat 0.118 m`; `curve_m` is the curves' part.
pub(super) fn causes(shift: &Shift, curve_m: f64) -> Text {
    text![
        "curves ",
        Quantity::length_m(curve_m),
        ", slack ",
        Quantity::length_m(shift.slack_m),
        ", heat ",
        Quantity::length_m(shift.temperature_m)
    ]
}

/// Plans for the tests of the creep checks.
#[cfg(test)]
pub(super) mod testing {
    use crate::fixtures::{empty_plan, place, steel};
    use crate::model::{Curve, Plan, RackRef, Topic, VehicleMark};
    use crate::units::Length;

    /// Six wagons of 19.9 m (119.4 m) and one string in lane 10 (y 1.2 m) from `front_mm` to `rear_mm`, held at
    /// rack 2 of W3; no heat, no slack; a curve of 1,000 m, where each coupling turns by 0.0199 rad: the side
    /// offset moves an end by 23.88 mm a coupling, the polygon by 0.33 mm (theta^2 x 3.317 m / 4).
    pub(crate) fn curving(front_mm: i64, rear_mm: i64) -> Plan {
        let mut plan = empty_plan(6);
        plan.route.asked.push(Topic::Creep);
        plan.train.coupling_slack = Some(Length::ZERO);
        plan.route.temperature_range_k = Some(0.0);
        plan.route.curves =
            vec![Curve { radius_m: 1_000.0, arc_m: None, transition_m: 0.0, cant_mm: None, speed_kmh: None }];
        plan.steels.push(steel());
        add(&mut plan, "S1", (front_mm, rear_mm), "W3");
        plan
    }

    /// Adds a string like the first, held at rack 2 of a wagon.
    pub(crate) fn add(plan: &mut Plan, mark: &str, (front_mm, rear_mm): (i64, i64), vehicle: &str) {
        place(plan, mark, rear_mm - front_mm, (1, 10, front_mm));
        let last = plan.order.len() - 1;
        plan.order[last].steel = Some(steel().name);
        plan.placements[last].holds = vec![RackRef { vehicle: VehicleMark::new(vehicle).unwrap(), rack: 2 }];
    }

    /// Compares the undecided findings of `check` where entries are missing one by one.
    pub(crate) fn check_missing(check: &'static crate::checks::Check, plan: &Plan) {
        use crate::checks::Outcome::{NotApplicable, NotAsked, Undecided};
        use crate::checks::trial::expect;
        let without = |change: fn(&mut Plan), outcome, things: &str| {
            let mut plan = plan.clone();
            change(&mut plan);
            expect(check, plan, &[(outcome, things)]);
        };
        without(|plan| plan.route.curves.clear(), Undecided, "plan");
        without(|plan| plan.train.coupling_slack = None, Undecided, "plan");
        without(|plan| plan.route.temperature_range_k = None, Undecided, "plan");
        without(|plan| plan.steels[0].expansion_1e6_per_k = None, Undecided, "plan");
        without(|plan| plan.order[0].steel = None, Undecided, "string S1");
        without(|plan| plan.placements[0].holds.clear(), Undecided, "string S1");
        without(|plan| plan.route.asked.retain(|topic| *topic != Topic::Creep), NotAsked, "plan");
        without(|plan| plan.placements.clear(), NotApplicable, "plan");
    }
}
