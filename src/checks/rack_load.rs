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

#[cfg(test)]
mod tests {
    use super::CHECK;
    use crate::checks::Outcome::{Fail, Near, Undecided};
    use crate::checks::bearing::testing::{check, findings, lay};
    use crate::fixtures::{drop_off, empty_plan};
    use crate::model::Plan;

    // Three strings of 14,266 kg in two tiers: the middle rack carries 8,234.714 kg of each (worked out
    // with the pocket load), 24,704.14 kg together.
    fn three_strings(rating_kg: Option<f64>) -> Plan {
        let mut plan = empty_plan(1);
        lay(&mut plan, "S1", (1, 1), 0, 14_266.0);
        lay(&mut plan, "S2", (1, 10), 0, 14_266.0);
        lay(&mut plan, "S3", (2, 5), 0, 14_266.0);
        plan.train.rack_types[0].rack_rating_kg = rating_kg;
        plan
    }

    #[test]
    fn a_rack_bears_its_rating_and_no_kilogram_more() {
        check(&CHECK, &three_strings(Some(24_705.0)), &[(Near, "vehicle W1 rack 2")]);
        check(&CHECK, &three_strings(Some(24_704.0)), &[(Fail, "vehicle W1 rack 2")]);
        check(&CHECK, &three_strings(Some(30_000.0)), &[]);
    }

    #[test]
    fn a_missing_rating_is_undecided_once_per_rack_type() {
        check(&CHECK, &three_strings(None), &[(Undecided, "rack type Rack 5 x 10")]);
    }

    #[test]
    fn a_rack_is_told_in_the_states_in_which_it_is_overloaded() {
        let mut plan = three_strings(Some(24_704.0));
        plan.drops.push(drop_off("Eastmoor", &["S3", "S1"]));
        let findings = findings(&CHECK, &plan);
        assert_eq!((findings[0].state, findings[0].states.as_slice()), (Some(0), [0].as_slice()));
    }
}
