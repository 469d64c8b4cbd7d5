//! Check `bogie-load`: the gross load of each bogie against its rating.

use super::bearing::{VehicleRating, has_bogies, rated_vehicles};
use super::{Check, Judge, Subject};
use crate::units::Quantity;

pub(crate) static CHECK: Check = Check {
    id: "bogie-load",
    title: "Load of a bogie",
    what: "Tare and load on each bogie, against the bogie rating of the vehicle type. Vehicles on bogies only. A \
           type without the rating is left out only while none of its vehicles ever bears a string.",
    why: "A load that is not in the middle of a wagon loads one bogie more; the wagon as a whole may be far \
          within its payload then.",
    mend: "Move load toward the other bogie: shift strings along the train so that their ends come down nearer \
           to it, or take strings off the racks over this bogie.",
    source: "The rating is the plan's own, from the vehicle's plate or register; the loads are the lever rule \
             (textbook statics).",
    run,
};

const RATING: VehicleRating = VehicleRating {
    name: "bogie rating",
    of: |kind| kind.bogie_rating_kg,
    concerns: has_bogies,
    concerned: "vehicle on bogies",
};

fn run(judge: &mut Judge<'_>) {
    for rated in rated_vehicles(judge, RATING) {
        judge.source(rated.source);
        for (state, _) in judge.states() {
            let Some(loads) = state.vehicles.get(rated.index) else { continue };
            for (support, load) in loads.supports.iter().enumerate() {
                let subject = Subject::Support(rated.index, support);
                judge.at_most(Some(state.state), subject, Quantity::mass(load.load_kg), rated.rating_kg);
            }
        }
    }
}
