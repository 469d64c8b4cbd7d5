//! Check `curve-least-radius`: the least radius of every vehicle against the route's curves.

use super::track::has_curves;
use super::{Check, Judge, Subject};
use crate::model::Topic;
use crate::text;
use crate::units::Quantity;

pub(crate) static CHECK: Check = Check {
    id: "curve-least-radius",
    title: "Least radius of vehicles",
    what: "The smallest radius of the route's curves and of its reverse curve, against the least radius that \
           every vehicle of the train passes, engines and idlers too.",
    why: "Below it buffers lock, bogies strike the frame or couplings bind.",
    mend: "Choose a route without the tight curve, or leave this vehicle out of the train.",
    source: "The vehicle type's own figure.",
    run,
};

fn run(judge: &mut Judge<'_>) {
    if !judge.asked(Topic::Curves) || !has_curves(judge) {
        return;
    }
    let (plan, consist) = (&judge.figures.plan, &judge.figures.consist);
    let radii_m = plan.route.curves.iter().map(|curve| curve.radius_m);
    let tightest_m =
        radii_m.chain(plan.route.s_curve.map(|curve| curve.radius_m)).fold(f64::INFINITY, f64::min);
    for (vehicle, place) in consist.vehicles.iter().enumerate() {
        let kind = &plan.train.vehicle_types[place.vehicle_type];
        match kind.least_radius_m {
            Some(least_m) => {
                judge.source(&kind.source.text);
                judge.at_least(None, Subject::Vehicle(vehicle), Quantity::length_m(tightest_m), least_m);
            }
            None => {
                let missing = text!["no least radius is entered for vehicle type ", kind.name.as_str()];
                judge.undecided(Subject::VehicleType(place.vehicle_type), missing);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::CHECK;
    use crate::checks::Outcome::{Fail, Near, NotAsked, Undecided};
    use crate::checks::bearing::testing::check;
    use crate::checks::track::testing::in_a_curve;
    use crate::model::{Plan, SCurve};

    fn plan(least_m: f64) -> Plan {
        let mut plan = in_a_curve();
        plan.train.vehicles.truncate(1);
        plan.train.vehicle_types[0].least_radius_m = Some(least_m);
        plan
    }

    #[test]
    fn the_tightest_curve_is_no_tighter_than_the_vehicle_passes() {
        check(&CHECK, &plan(100.0), &[]);
        check(&CHECK, &plan(150.0), &[(Near, "vehicle W1")]);
        check(&CHECK, &plan(150.1), &[(Fail, "vehicle W1")]);
        let mut plan = plan(100.0);
        plan.route.s_curve = Some(SCurve { radius_m: 99.0, straight_m: 10.0 });
        check(&CHECK, &plan, &[(Fail, "vehicle W1")]);
    }

    #[test]
    fn what_is_missing_is_undecided() {
        let mut plan = plan(100.0);
        plan.train.vehicle_types[0].least_radius_m = None;
        check(&CHECK, &plan, &[(Undecided, "vehicle type Flat")]);
        plan.route.curves.clear();
        check(&CHECK, &plan, &[(Undecided, "plan")]);
        plan.route.asked.clear();
        check(&CHECK, &plan, &[(NotAsked, "plan")]);
    }
}
