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

#[cfg(test)]
mod tests {
    use super::CHECK;
    use crate::checks::Outcome::{Fail, Near, NotApplicable, Undecided};
    use crate::checks::bearing::testing::{add_engine, check, lay};
    use crate::fixtures::{empty_plan, vehicle};
    use crate::model::{Plan, VehicleTypeName};

    // Two strings of 10 t lie on the second wagon alone: 20 t.
    fn two_strings(rating_kg: Option<f64>) -> Plan {
        let mut plan = empty_plan(2);
        lay(&mut plan, "S1", (1, 1), 1, 10_000.0);
        lay(&mut plan, "S2", (1, 10), 1, 10_000.0);
        plan.train.vehicle_types[0].payload_rating_kg = rating_kg;
        plan
    }

    #[test]
    fn a_wagon_bears_its_payload_and_no_kilogram_more() {
        check(&CHECK, &two_strings(Some(20_000.0)), &[(Near, "vehicle W2")]);
        check(&CHECK, &two_strings(Some(19_999.0)), &[(Fail, "vehicle W2")]);
        check(&CHECK, &two_strings(Some(30_000.0)), &[]);
    }

    #[test]
    fn a_missing_rating_is_undecided_once_per_type_that_bears_strings() {
        check(&CHECK, &two_strings(None), &[(Undecided, "vehicle type Flat")]);
    }

    #[test]
    fn a_missing_rating_is_undecided_even_where_other_types_pass() {
        let mut plan = two_strings(Some(30_000.0));
        let mut other = plan.train.vehicle_types[0].clone();
        other.name = VehicleTypeName::new("Other").unwrap();
        other.payload_rating_kg = None;
        plan.train.vehicle_types.push(other);
        plan.train.vehicles.push(vehicle("W3", "Other"));
        check(&CHECK, &plan, &[]);
        lay(&mut plan, "S3", (1, 4), 2, 10.0);
        check(&CHECK, &plan, &[(Undecided, "vehicle type Other")]);
    }

    #[test]
    fn engines_have_no_payload() {
        let mut plan = empty_plan(0);
        add_engine(&mut plan);
        check(&CHECK, &plan, &[(NotApplicable, "plan")]);
    }
}
