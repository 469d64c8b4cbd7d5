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

#[cfg(test)]
mod tests {
    use super::CHECK;
    use crate::checks::Outcome::{Fail, Near, Undecided};
    use crate::checks::bearing::testing::{check, lay};
    use crate::fixtures::empty_plan;
    use crate::model::Plan;

    // Two strings of 14,266 kg in tier 2: the middle rack carries 8,234.714 kg of each (worked out with
    // the pocket load), 16,469.43 kg together; a third in tier 1 does not count.
    fn three_strings(rating_kg: Option<f64>) -> Plan {
        let mut plan = empty_plan(1);
        lay(&mut plan, "S1", (2, 1), 0, 14_266.0);
        lay(&mut plan, "S2", (2, 10), 0, 14_266.0);
        lay(&mut plan, "S3", (1, 5), 0, 14_266.0);
        plan.train.rack_types[0].tier_rating_kg = rating_kg;
        plan
    }

    #[test]
    fn a_tier_bears_its_rating_and_no_kilogram_more() {
        check(&CHECK, &three_strings(Some(16_470.0)), &[(Near, "vehicle W1 rack 2, tier 2")]);
        check(&CHECK, &three_strings(Some(16_469.0)), &[(Fail, "vehicle W1 rack 2, tier 2")]);
        check(&CHECK, &three_strings(Some(20_000.0)), &[]);
    }

    #[test]
    fn a_missing_rating_is_undecided_once_per_rack_type() {
        check(&CHECK, &three_strings(None), &[(Undecided, "rack type Rack 5 x 10")]);
    }
}
