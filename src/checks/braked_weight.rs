//! The train has enough braked weight for its mass in every state.

use super::bearing::vehicle_type;
use super::{Check, Comparison, Judge, Sense, Subject};
use crate::model::{LimitKind, Topic};
use crate::text;
use crate::units::Quantity;

/// The check.
pub(crate) static CHECK: Check = Check {
    id: "braked-weight",
    title: "Braked weight percentage",
    what: "The braked weights of all vehicles, as entered for their types, over the mass of the train in each state, \
           against the least percentage that the route requires.",
    why: "The percentage decides from which speed a train can stop within the signals' distance. A train that is \
          heavier than its brake sheet says stops later.",
    mend: "Add braked vehicles, change their brakes over to loaded and enter the braked weight that then holds, or \
           ask for a lower speed and enter the percentage for it.",
    source: "percentage = 100 B / m (UIC 544-1, quoted by a secondary page); the value is the plan's limit",
    run,
};

fn run(judge: &mut Judge<'_>) {
    if !judge.asked(Topic::Braking) {
        return;
    }
    let limit = judge.limit(LimitKind::BrakedWeight);
    tell_missing(judge);
    let braked_kg = judge.figures.braked_kg();
    let (Some(limit), Some(braked_kg)) = (limit, braked_kg) else { return };
    for (state, rule) in judge.states() {
        let share = Quantity::share(braked_kg / state.train_kg);
        let comparison = Comparison::new(share, limit.by(rule), Sense::AtLeast);
        judge.compare_with(Some(state.state), Subject::Train, comparison, || {
            text![", ", Quantity::mass(braked_kg), " braked of ", Quantity::mass(state.train_kg)]
        });
    }
}

/// Tells of each type of vehicle in the train that has no braked weight entered.
fn tell_missing(judge: &mut Judge<'_>) {
    let figures = judge.figures;
    for place in &figures.consist.vehicles {
        let Some(kind) = vehicle_type(figures, place).filter(|kind| kind.braked_weight_kg.is_none()) else {
            continue;
        };
        let missing = text!["no braked weight is entered for vehicle type ", kind.name.as_str()];
        judge.undecided(Subject::VehicleType(place.vehicle_type), missing);
    }
}

#[cfg(test)]
mod tests {
    use super::CHECK;
    use crate::checks::Outcome::{Fail, Near, NotAsked, Undecided};
    use crate::checks::trial::{expect, words};
    use crate::fixtures::{drop_off, empty_plan, limit, place};
    use crate::model::{LimitKind, MassEntry, Plan, StatedBasis, Topic};

    /// Four wagons of 24 t and a string of 4 t, 100 t in all; 18 t braked each: 72 % (UIC 544-1: 100 B / m).
    fn braked(least: f64) -> Plan {
        let mut plan = empty_plan(4);
        place(&mut plan, "S1", 60_000, (1, 5, 3_000));
        plan.order[0].mass = MassEntry::Stated { kg: 4_000.0, basis: StatedBasis::Document };
        plan.train.vehicle_types[0].braked_weight_kg = Some(18_000.0);
        plan.route.asked.push(Topic::Braking);
        plan.limits.entries.insert(LimitKind::BrakedWeight, limit(least));
        plan
    }

    #[test]
    fn the_percentage_is_at_least_the_required_one() {
        expect(&CHECK, braked(0.65), &[]);
        expect(&CHECK, braked(0.72), &[(Near, "train")]);
        let findings = expect(&CHECK, braked(0.721), &[(Fail, "train")]);
        assert_eq!(words(&findings), "train: 72 %, at least 72 %, 72.00 t braked of 100.00 t");
    }

    // Without the string 72 / 96 = 75 %.
    #[test]
    fn a_lighter_train_brakes_better() {
        let mut plan = braked(0.74);
        plan.drops.push(drop_off("Site", &["S1"]));
        let findings = expect(&CHECK, plan, &[(Fail, "train")]);
        assert_eq!(findings[0].states, [0]);
    }

    #[test]
    fn what_nobody_entered_leaves_it_undecided_and_what_nobody_asks_is_not_looked_at() {
        let mut plan = braked(0.65);
        plan.train.vehicle_types[0].braked_weight_kg = None;
        expect(&CHECK, plan, &[(Undecided, "vehicle type Flat")]);
        let mut plan = braked(0.65);
        plan.limits.entries.remove(&LimitKind::BrakedWeight);
        expect(&CHECK, plan, &[(Undecided, "limit braked weight percentage")]);
        let mut plan = braked(0.65);
        plan.route.asked.retain(|topic| *topic != Topic::Braking);
        expect(&CHECK, plan, &[(NotAsked, "plan")]);
    }
}
