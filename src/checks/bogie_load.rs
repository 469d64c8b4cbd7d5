//! Check `bogie-load`: the gross load of each bogie against its rating.

use super::bearing::{States, VehicleRating, has_bogies, rated_vehicles};
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

/// The rating that the check judges by.
pub(super) const RATING: VehicleRating = VehicleRating {
    name: "bogie rating",
    of: |kind| kind.bogie_rating_kg,
    concerns: has_bogies,
    concerned: "vehicle on bogies",
};

fn run(judge: &mut Judge<'_>) {
    let states = judge.states().collect();
    judge_bogies(judge, &states);
}

/// Judges every bogie in `states` against its vehicle's rating.
pub(super) fn judge_bogies(judge: &mut Judge<'_>, states: &States<'_>) {
    for rated in rated_vehicles(judge, RATING) {
        judge.source(rated.source);
        for (state, _) in states {
            let Some(loads) = state.vehicles.get(rated.index) else { continue };
            for (support, load) in loads.supports.iter().enumerate() {
                let subject = Subject::Support(rated.index, support);
                judge.at_most(Some(state.state), subject, Quantity::mass(load.load_kg), rated.rating_kg);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::CHECK;
    use crate::checks::Outcome::{Fail, Near, NotApplicable, Undecided};
    use crate::checks::bearing::testing::{check, load_ahead, on_two_axles};
    use crate::model::Plan;

    // Tare 22 t, 40 t at 2.0 m ahead of the middle, pivots 14.2 m apart: 11 + 40 (1/2 + 2/14.2) = 36.634 t
    // in front and 25.366 t behind (lever rule, computed by hand).
    fn off_the_middle(ahead_mm: i64, rating_kg: Option<f64>) -> Plan {
        let mut plan = load_ahead(22_000.0, 40_000.0, ahead_mm, 5);
        plan.train.vehicle_types[0].bogie_rating_kg = rating_kg;
        plan
    }

    #[test]
    fn the_bogie_nearer_to_the_load_bears_its_rating_and_no_kilogram_more() {
        check(&CHECK, &off_the_middle(2_000, Some(36_634.0)), &[(Near, "vehicle W1, front bogie")]);
        check(&CHECK, &off_the_middle(2_000, Some(36_633.0)), &[(Fail, "vehicle W1, front bogie")]);
        check(&CHECK, &off_the_middle(-2_000, Some(36_633.0)), &[(Fail, "vehicle W1, rear bogie")]);
        check(&CHECK, &off_the_middle(2_000, Some(40_000.0)), &[]);
    }

    #[test]
    fn a_missing_rating_is_undecided() {
        check(&CHECK, &off_the_middle(2_000, None), &[(Undecided, "vehicle type Flat")]);
    }

    #[test]
    fn two_axle_wagons_need_no_bogie_rating() {
        let mut plan = off_the_middle(0, None);
        on_two_axles(&mut plan, 9_000);
        check(&CHECK, &plan, &[(NotApplicable, "plan")]);
    }
}
