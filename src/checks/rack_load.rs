//! Check `rack-load`: what each rack carries against its type's rating.

use super::bearing::rated_racks;
use super::{Check, Judge, Subject};
use crate::units::Quantity;

pub(crate) static CHECK: Check = Check {
    id: "rack-load",
    title: "Load of a rack",
    what: "All that lies on a rack, tiers and lanes together, against the rating of the rack.",
    why: "The rack's posts and its seat on the deck carry the sum of all its tiers. Racks beside a gap between \
          wagons carry up to twice what the racks in the middle of a wagon do.",
    mend: "Take strings off this rack: place them elsewhere along the train or leave them for another train; \
           or shift string ends so that they do not all come down on this rack.",
    source: "The rating is the plan's own, from the rack's drawing or plate.",
    run,
};

fn run(judge: &mut Judge<'_>) {
    for rated in rated_racks(judge, "rack rating", |kind| kind.rack_rating_kg) {
        judge.source(rated.source);
        for (state, _) in judge.states() {
            let kg = state.rack_kg(rated.index);
            judge.at_most(Some(state.state), Subject::Rack(rated.index), Quantity::mass(kg), rated.rating_kg);
        }
    }
}
