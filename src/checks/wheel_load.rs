//! Check `wheel-load`: the load of each wheel, by the worse of two assumptions, against the vehicle's rating.

use super::bearing::{VehicleRating, axle_subject, on_bogies, rated_vehicles};
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

const RATING: VehicleRating = VehicleRating {
    name: "wheel rating",
    of: |kind| kind.wheel_rating_kg,
    concerns: |_| true,
    concerned: "vehicle",
};

fn run(judge: &mut Judge<'_>) {
    for rated in rated_vehicles(judge, RATING) {
        judge.source(rated.source);
        let on_bogies = on_bogies(judge.figures, rated.index);
        for (state, _) in judge.states() {
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
