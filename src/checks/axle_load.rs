//! Check `axle-load`: the load of each axle against the vehicle's own rating.

use super::bearing::{VehicleRating, judge_axles, rated_vehicles};
use super::{Check, Judge};

pub(crate) static CHECK: Check = Check {
    id: "axle-load",
    title: "Load of an axle",
    what: "The load of each axle, against the axle rating of the vehicle type. The axles of a bogie share its \
           load equally and are told as one. A type without the rating is left out only while none of its \
           vehicles ever bears a string. What the line bears is another check.",
    why: "Axles, bearings and springs are built for a load; a rail train is often full by its worst axle long \
          before it is full on average.",
    mend: "Move load toward the wagon's other end or onto its neighbours: shift string ends along the train, \
           spread them, or leave strings for another train.",
    source: "The rating is the plan's own, from the vehicle's plate or register.",
    run,
};

const RATING: VehicleRating = VehicleRating {
    name: "axle rating",
    of: |kind| kind.axle_rating_kg,
    concerns: |_| true,
    concerned: "vehicle",
};

fn run(judge: &mut Judge<'_>) {
    for rated in rated_vehicles(judge, RATING) {
        judge.source(rated.source);
        judge_axles(judge, rated.index, rated.rating_kg);
    }
}
