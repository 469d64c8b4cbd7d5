//! Check `axle-load`: the load of each axle against the vehicle's own rating.

use super::bearing::{States, VehicleRating, judge_axles, rated_vehicles};
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

/// The rating that the check judges by.
pub(super) const RATING: VehicleRating = VehicleRating {
    name: "axle rating",
    of: |kind| kind.axle_rating_kg,
    concerns: |_| true,
    concerned: "vehicle",
};

fn run(judge: &mut Judge<'_>) {
    let states = judge.states().collect();
    judge_rated_axles(judge, &states);
}

/// Judges every axle in `states` against its vehicle's rating.
pub(super) fn judge_rated_axles(judge: &mut Judge<'_>, states: &States<'_>) {
    for rated in rated_vehicles(judge, RATING) {
        judge.source(rated.source);
        judge_axles(judge, states, rated.index, rated.rating_kg);
    }
}

#[cfg(test)]
mod tests {
    use super::CHECK;
    use crate::checks::Outcome::{Fail, Near, Undecided};
    use crate::checks::bearing::testing::{add_engine, check, lay_at, load_ahead, on_two_axles, worst_text};
    use crate::fixtures::empty_plan;
    use crate::model::{Plan, RunningGear};
    use crate::units::Length;

    // Tare 22 t, 40 t at 2.0 m ahead of the middle: 36.634 t on the front bogie (see the bogie load), so
    // 18,316.9 kg on each of two axles, 12,211.3 kg on each of three.
    fn off_the_middle(rating_kg: Option<f64>) -> Plan {
        let mut plan = load_ahead(22_000.0, 40_000.0, 2_000, 5);
        plan.train.vehicle_types[0].axle_rating_kg = rating_kg;
        plan
    }

    #[test]
    fn an_axle_bears_its_rating_and_no_kilogram_more() {
        check(&CHECK, &off_the_middle(Some(18_317.0)), &[(Near, "vehicle W1, front bogie")]);
        check(&CHECK, &off_the_middle(Some(18_316.0)), &[(Fail, "vehicle W1, front bogie")]);
        check(&CHECK, &off_the_middle(Some(22_500.0)), &[]);
        assert_eq!(
            worst_text(&CHECK, &off_the_middle(Some(18_000.0))),
            "vehicle W1, front bogie: 18.32 t of at most 18.00 t on each axle"
        );
    }

    #[test]
    fn three_axles_share_a_bogie() {
        for (rating_kg, outcome) in [(12_212.0, Near), (12_211.0, Fail)] {
            let mut plan = off_the_middle(Some(rating_kg));
            plan.train.vehicle_types[0].gear = RunningGear::Bogies {
                pivot_distance: Length::from_mm(14_200),
                axles_per_bogie: 3,
                bogie_wheelbase: Length::from_mm(3_600),
            };
            check(&CHECK, &plan, &[(outcome, "vehicle W1, front bogie")]);
        }
    }

    // Two axles 9 m apart: 11 + 40 (1/2 + 2/9) = 39.889 t in front.
    #[test]
    fn a_single_axle_is_told_by_its_number() {
        for (rating_kg, outcome) in [(39_889.0, Near), (39_888.0, Fail)] {
            let mut plan = off_the_middle(Some(rating_kg));
            on_two_axles(&mut plan, 9_000);
            check(&CHECK, &plan, &[(outcome, "vehicle W1, axle 1")]);
        }
    }

    #[test]
    fn a_missing_rating_is_undecided_where_strings_are_borne_only() {
        check(&CHECK, &off_the_middle(None), &[(Undecided, "vehicle type Flat")]);
        let mut plan = empty_plan(1);
        add_engine(&mut plan);
        lay_at(&mut plan, "S1", (1, 1, 22_717, 14_266), 1_000.0);
        check(&CHECK, &plan, &[]);
    }

    // An engine of 80 t on four axles: 20 t each.
    #[test]
    fn the_rating_of_an_engine_counts_where_it_is_entered() {
        let mut plan = empty_plan(1);
        add_engine(&mut plan);
        plan.train.vehicle_types[1].axle_rating_kg = Some(19_999.0);
        check(&CHECK, &plan, &[(Fail, "vehicle L1, front bogie"), (Fail, "vehicle L1, rear bogie")]);
    }
}
