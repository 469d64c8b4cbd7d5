//! Check `wheel-load`: the load of each wheel, by the worse of two assumptions, against the vehicle's rating.

use super::bearing::{States, VehicleRating, axle_subject, on_bogies, rated_vehicles};
use super::{Check, Comparison, Judge, Sense};
use crate::statics::SupportLoads;
use crate::text;
use crate::units::Quantity;

pub(crate) static CHECK: Check = Check {
    id: "wheel-load",
    title: "Load of a wheel",
    what: "The heavier wheel of each axle, against the wheel rating of the vehicle type. How a load beside the \
           middle line is shared between the two ends of a wagon depends on how stiff its body twists: half and \
           half if it is stiff, by the lever rule if it is soft. The worse of the two is judged. A type without \
           the rating is left out only while none of its vehicles ever bears a string.",
    why: "A one-sided load can overload the wheels of one side while every axle is within its rating.",
    mend: "Move strings over this axle toward the lighter side, or exchange a heavy string on the heavy side \
           with a light one on the other.",
    source: "The rating is the plan's own, from the vehicle's plate or register; the two assumptions bound what \
             any body does (statics; common practice, no source).",
    run,
};

/// The rating that the check judges by.
pub(super) const RATING: VehicleRating = VehicleRating {
    name: "wheel rating",
    of: |kind| kind.wheel_rating_kg,
    concerns: |_| true,
    concerned: "vehicle",
};

fn run(judge: &mut Judge<'_>) {
    let states = judge.states().collect();
    judge_wheels(judge, &states);
}

/// Judges every wheel in `states` against its vehicle's rating.
pub(super) fn judge_wheels(judge: &mut Judge<'_>, states: &States<'_>) {
    for rated in rated_vehicles(judge, RATING) {
        judge.source(rated.source);
        let on_bogies = on_bogies(judge.figures, rated.index);
        for (state, _) in states {
            let Some(loads) = state.vehicles.get(rated.index) else { continue };
            for (support, load) in loads.supports.iter().enumerate() {
                let kg = Quantity::mass(load.largest_wheel_kg());
                let comparison = Comparison::new(kg, rated.rating_kg, Sense::AtMost);
                let subject = axle_subject(on_bogies, rated.index, support);
                judge.compare_with(Some(state.state), subject, comparison, || text![heaviest_wheel(load)]);
            }
        }
    }
}

/// Which wheel is the heaviest, and by which assumption.
fn heaviest_wheel(load: &SupportLoads) -> &'static str {
    let soft = load.soft.largest_kg() > load.stiff.largest_kg();
    let sides = if soft { load.soft } else { load.stiff };
    match (sides.left_kg > sides.right_kg, soft) {
        (true, true) => " on the left wheel (soft body)",
        (true, false) => " on the left wheel (stiff body)",
        (false, true) => " on the right wheel (soft body)",
        (false, false) => " on the right wheel (stiff body)",
    }
}

#[cfg(test)]
mod tests {
    use super::CHECK;
    use crate::checks::Outcome::{Fail, Near, Undecided};
    use crate::checks::bearing::testing::{check, load_ahead, worst_text};
    use crate::model::Plan;

    // Tare 24 t, 10 t in lane 10, 1.2 m right of the middle line; contact points 1.5 m apart.
    // In the middle of the wagon: bogie 17 t, half of the 12,000 kg m each, wheel 4,250 + 6,000/1.5/2 = 6,250 kg.
    // 2 m ahead: front bogie 12,000 + 10,000 (1/2 + 2/14.2) = 18,408.5 kg; as a soft body it takes
    // 12,000 (1/2 + 2/14.2) = 7,690.1 kg m, so its right wheels carry 4,602.1 + 2,563.4 = 7,165.5 kg.
    fn one_sided(ahead_mm: i64, lane: u32, rating_kg: Option<f64>) -> Plan {
        let mut plan = load_ahead(24_000.0, 10_000.0, ahead_mm, lane);
        plan.train.vehicle_types[0].wheel_rating_kg = rating_kg;
        plan
    }

    #[test]
    fn a_wheel_bears_its_rating_and_no_kilogram_more() {
        let both = |outcome| [(outcome, "vehicle W1, front bogie"), (outcome, "vehicle W1, rear bogie")];
        check(&CHECK, &one_sided(0, 10, Some(6_250.1)), &both(Near));
        check(&CHECK, &one_sided(0, 10, Some(6_249.9)), &both(Fail));
        check(&CHECK, &one_sided(0, 10, Some(10_000.0)), &[]);
    }

    #[test]
    fn the_worse_assumption_and_the_side_are_named() {
        check(&CHECK, &one_sided(2_000, 10, Some(7_166.0)), &[(Near, "vehicle W1, front bogie")]);
        check(&CHECK, &one_sided(2_000, 10, Some(7_165.0)), &[(Fail, "vehicle W1, front bogie")]);
        assert_eq!(
            worst_text(&CHECK, &one_sided(2_000, 10, Some(7_000.0))),
            "vehicle W1, front bogie: 7.17 t of at most 7.00 t on the right wheel (soft body)"
        );
        assert!(worst_text(&CHECK, &one_sided(2_000, 1, Some(7_000.0))).ends_with("left wheel (soft body)"));
    }

    #[test]
    fn a_missing_rating_is_undecided() {
        check(&CHECK, &one_sided(0, 10, None), &[(Undecided, "vehicle type Flat")]);
    }
}
