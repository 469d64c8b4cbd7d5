//! Check `curve-wheel-unloading`: load that the wheels of one side lose to strings bent in curves.

use super::track::{case_title, curves_asked};
use super::{Check, Comparison, Judge, Sense, Subject};
use crate::model::LimitKind;
use crate::text;
use crate::units::Quantity;

pub(crate) static CHECK: Check = Check {
    id: "curve-wheel-unloading",
    title: "Wheel unloading by strings in curves",
    what: "The share of their load that the wheels of one side lose as the strings, bent to the route's curves, \
           press sideways on the racks of a wagon high above the rail; in every state, for each bogie, by the \
           worse of a stiff and a soft body, against the wheel unloading on cant.",
    why: "In a steady curve the side forces of a wagon nearly cancel; at the entry of the curve they do not. \
          Fifty strings in tight pockets push a wagon with 139 kN at R 150, with 40 mm of play with 37 kN.",
    mend: "Give the pockets more side play, lay fewer strings in the upper tiers, or choose a route with \
           transitions.",
    source: "Beam theory over the racks; dQ/Q = 2 F h / (b Q). The limit is the plan's.",
    run,
};

fn run(judge: &mut Judge<'_>) {
    let Some(curves) = curves_asked(judge) else { return };
    let Some(limit) = judge.limit(LimitKind::WheelUnloading) else { return };
    let figures = judge.figures;
    for (loads, (_, rule)) in curves.side_loads.iter().zip(judge.states()) {
        for (vehicle, wagon) in loads.vehicles.iter().enumerate() {
            let Some(unloading) = wagon.unloading else {
                let vehicle_type = figures.consist.vehicles[vehicle].vehicle_type;
                let name = figures.plan.train.vehicle_types[vehicle_type].name.as_str();
                let missing =
                    text!["no deck height of ", name, ", or no neutral axis of a section on it, is entered"];
                judge.undecided(Subject::VehicleType(vehicle_type), missing);
                continue;
            };
            for (support, largest) in unloading.iter().enumerate() {
                let share = Quantity::share(largest.size);
                let comparison = Comparison::new(share, limit.by(rule), Sense::AtMost);
                let subject = Subject::Support(vehicle, support);
                judge.compare_with(Some(loads.state), subject, comparison, || {
                    text![
                        ", net side force ",
                        Quantity::force(wagon.net_n.size),
                        ", ",
                        case_title(figures, largest.case)
                    ]
                });
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::CHECK;
    use crate::checks::Outcome::{Fail, NotAsked, Pass, Undecided};
    use crate::checks::bearing::testing::{check, findings};
    use crate::checks::track::testing::in_a_curve;
    use crate::fixtures::limit;
    use crate::model::{LimitKind, Plan};

    fn limited(share: f64) -> Plan {
        let mut plan = in_a_curve();
        plan.limits.entries.insert(LimitKind::WheelUnloading, limit(share));
        plan
    }

    // Hand: inside a long string the entry pushes a wagon with 139/50 = 2.8 kN a string (mechanics.md 5), two
    // strings 5.6 kN, and not evenly; at 1.48 m above the rail on 13 t a bogie and 1.5 m: from
    // 2 x 2.8 x 1.48 / (1.5 x 127) = 4 % up.
    #[test]
    fn wheels_may_lose_their_limit_and_no_more() {
        let told = findings(&CHECK, &in_a_curve());
        assert_eq!(told[0].outcome, Pass);
        let share = told[0].comparison.unwrap().demand.value;
        assert!(share > 0.04 && share < 0.15, "{share}");
        assert_eq!(findings(&CHECK, &limited(share * 1.06))[0].outcome, Pass);
        assert_eq!(findings(&CHECK, &limited(share * 0.999))[0].outcome, Fail);
    }

    #[test]
    fn what_is_missing_is_undecided() {
        let mut plan = in_a_curve();
        plan.train.vehicle_types[0].deck_height = None;
        check(&CHECK, &plan, &[(Undecided, "vehicle type Flat")]);
        plan.limits.entries.remove(&LimitKind::WheelUnloading);
        check(&CHECK, &plan, &[(Undecided, "limit wheel unloading on cant")]);
        plan.route.asked.clear();
        check(&CHECK, &plan, &[(NotAsked, "plan")]);
    }
}
