//! The axles of a wagon can take what the strings held on it add under braking.

use super::bearing::{axle_subject, on_bogies, vehicle_type};
use super::holds::{judge_holding_wagons, strings_counted};
use super::{Check, Comparison, Judge, Sense, Subject};
use crate::model::VehicleType;
use crate::statics::{HoldingWagon, StateFigures, VehiclePlace};
use crate::text;
use crate::units::{Quantity, Text};

/// The check.
pub(crate) static CHECK: Check = Check {
    id: "hold-wagon-axle",
    title: "Axles of a holding wagon",
    what: "The load of each axle at rest and what the strings held on the wagon add to it in the train's own braking \
           or buffing (their force times its height above the coupling, over the distance of pivots or axles), \
           against the axle rating under braking. Never against the line class, which is for loads at rest.",
    why: "The held strings push well above the couplings: they tilt the wagon and press the axles at one of its ends.",
    mend: "Spread the holds over several wagons near the middle of the train, or hold strings of lower tiers on the \
           wagons with the heaviest axles.",
    source: "statics; the decelerations and the rating are the plan's own",
    run,
};

fn run(judge: &mut Judge<'_>) {
    judge_holding_wagons(judge, judge_wagon);
}

fn judge_wagon(judge: &mut Judge<'_>, state: &StateFigures, wagon: &HoldingWagon) {
    let figures = judge.figures;
    let Some(place) = figures.consist.vehicles.get(wagon.vehicle) else { return };
    let Some(kind) = vehicle_type(figures, place) else { return };
    let Some(rating_kg) = kind.axle_braking_rating_kg else {
        let missing = text!["no axle rating under braking is entered for vehicle type ", kind.name.as_str()];
        judge.undecided(Subject::VehicleType(place.vehicle_type), missing);
        return;
    };
    let Some(added_kg) = wagon.axle_kg else {
        judge.undecided(Subject::VehicleType(place.vehicle_type), missing_height(place, kind));
        return;
    };
    let Some(loads) = state.vehicles.get(wagon.vehicle) else { return };
    judge.source(&kind.source.text);
    let bogies = on_bogies(figures, wagon.vehicle);
    for (support, load) in loads.supports.iter().enumerate() {
        let comparison = Comparison::new(Quantity::mass(load.axle_kg + added_kg), rating_kg, Sense::AtMost);
        judge.compare_with(
            Some(state.state),
            axle_subject(bogies, wagon.vehicle, support),
            comparison,
            || {
                let each = if bogies { " on each axle, " } else { ", " };
                let added = Quantity::mass(added_kg);
                text![each, added, " of it by the ", strings_counted(wagon.strings), " held here"]
            },
        );
    }
}

fn missing_height(place: &VehiclePlace, kind: &VehicleType) -> Text {
    let name = kind.name.as_str();
    if kind.coupling_height.is_none() {
        text!["no coupling height is entered for vehicle type ", name]
    } else if kind.deck_height.is_none() {
        text!["no deck height is entered for vehicle type ", name]
    } else {
        let vehicle = place.vehicle + 1;
        text![format!("a string held on vehicle {vehicle} is of a section without an entered neutral axis")]
    }
}

#[cfg(test)]
mod tests {
    use super::CHECK;
    use crate::checks::Outcome::{Fail, Near, NotAsked, Undecided};
    use crate::checks::holds::testing::held;
    use crate::checks::trial::{expect, words};
    use crate::model::{Plan, RackRef, Topic};
    use crate::statics::{Figures, Scope};
    use std::sync::Arc;

    /// Worked by hand: 6,021 kg at 12 m/s2 push with 72,252 N, 1.25 + 0.15 + 0.0809 - 1.06 = 0.4209 m above the
    /// coupling: 30,410.9 N m over 14.2 m and two axles: 1,070.8 N, or 109.19 kg, more on each axle of one end.
    fn rated(above_rest_kg: f64) -> (Plan, f64) {
        let mut plan = held();
        plan.route.braking_m_per_s2 = Some(12.0);
        let figures = Figures::of(Arc::new(plan.clone()), Scope::One(0));
        let supports = figures.worked[0].vehicles[2].supports;
        let rest_kg = supports[0].axle_kg.max(supports[1].axle_kg);
        plan.train.vehicle_types[0].axle_braking_rating_kg = Some(rest_kg + above_rest_kg);
        (plan, rest_kg)
    }

    #[test]
    fn the_held_strings_add_to_the_axles_at_one_end() {
        let (plan, _) = rated(1_000.0);
        expect(&CHECK, plan, &[]);
        let (plan, _) = rated(109.2);
        let found =
            expect(&CHECK, plan, &[(Near, "vehicle W3, front bogie"), (Near, "vehicle W3, rear bogie")]);
        assert!(
            words(&found).ends_with("on each axle, 0.11 t of it by the 1 string held here"),
            "{}",
            words(&found)
        );
        let (plan, _) = rated(109.0);
        let found = crate::checks::trial::findings_of(&CHECK, plan);
        assert!(found.iter().any(|finding| finding.outcome == Fail));
    }

    #[test]
    fn what_nobody_entered_leaves_it_undecided() {
        let without = |change: fn(&mut Plan), things: &str| {
            let (mut plan, _) = rated(1_000.0);
            change(&mut plan);
            expect(&CHECK, plan, &[(Undecided, things)]);
        };
        let flat = "vehicle type Flat";
        without(|plan| plan.train.vehicle_types[0].axle_braking_rating_kg = None, flat);
        without(|plan| plan.train.vehicle_types[0].coupling_height = None, flat);
        without(|plan| plan.train.vehicle_types[0].deck_height = None, flat);
        without(|plan| plan.sections[0].neutral_axis_mm = None, flat);
        without(|plan| plan.route.braking_m_per_s2 = None, "plan");
        without(|plan| plan.placements[0].holds.clear(), "string S1");
        let (mut plan, _) = rated(1_000.0);
        plan.route.asked.retain(|topic| *topic != Topic::HoldForces);
        expect(&CHECK, plan, &[(NotAsked, "plan")]);
    }

    #[test]
    fn only_wagons_that_hold_are_judged() {
        let (mut plan, _) = rated(1_000.0);
        plan.placements[0].holds = vec![RackRef { vehicle: plan.train.vehicles[0].mark.clone(), rack: 2 }];
        let findings = crate::checks::trial::findings_of(&CHECK, plan);
        assert!(findings.iter().all(|finding| finding.things[0] == "vehicle W1"));
    }
}
