//! Check `payload`: the strings' load on each wagon against its payload rating.

use super::bearing::{VehicleRating, rated_vehicles};
use super::{Check, Judge, Subject};
use crate::model::VehicleKind;
use crate::units::Quantity;

pub(crate) static CHECK: Check = Check {
    id: "payload",
    title: "Payload of a wagon",
    what: "The load of all strings on a wagon, against the payload rating of its type. Wagons only. A wagon type \
           without the rating is left out only while none of its wagons ever bears a string.",
    why: "A long string does not share itself out evenly over the wagons: those under string ends and gaps take \
          more, so the average says nothing about the worst wagon.",
    mend: "Take strings off this wagon or shift their ends along the train, so that the wagons beside it carry more.",
    source: "The rating is the plan's own, from the wagon's plate or register.",
    run,
};

const RATING: VehicleRating = VehicleRating {
    name: "payload rating",
    of: |kind| kind.payload_rating_kg,
    concerns: |kind| kind.kind == VehicleKind::Wagon,
    concerned: "wagon",
};

fn run(judge: &mut Judge<'_>) {
    for rated in rated_vehicles(judge, RATING) {
        judge.source(rated.source);
        for (state, _) in judge.states() {
            let Some(loads) = state.vehicles.get(rated.index) else { continue };
            let kg = Quantity::mass(loads.payload_kg);
            judge.at_most(Some(state.state), Subject::Vehicle(rated.index), kg, rated.rating_kg);
        }
    }
}
