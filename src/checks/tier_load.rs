//! Check `tier-load`: what each tier of each rack carries against the rack type's tier rating.

use super::bearing::rated_racks;
use super::{Check, Judge, Subject};
use crate::units::Quantity;

pub(crate) static CHECK: Check = Check {
    id: "tier-load",
    title: "Load of a tier",
    what: "All that lies on one tier of a rack, against the rating of a tier of that rack.",
    why: "A tier's beam bends under the sum of its lanes, whatever each pocket may bear.",
    mend: "Take strings out of this tier at this rack: put them in another tier, or move them along the train so \
           that this rack lies inside their length and not beside a gap or at an end.",
    source: "The rating is the plan's own, from the rack's drawing or plate.",
    run,
};

fn run(judge: &mut Judge<'_>) {
    for rated in rated_racks(judge, "tier rating", |kind| kind.tier_rating_kg) {
        judge.source(rated.source);
        for (state, _) in judge.states() {
            let Some(tiers) = state.rack_tiers_kg.get(rated.index) else { continue };
            for (tier, &kg) in (1..).zip(tiers) {
                let subject = Subject::RackTier(rated.index, tier);
                judge.at_most(Some(state.state), subject, Quantity::mass(kg), rated.rating_kg);
            }
        }
    }
}
