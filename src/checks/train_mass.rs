//! Check `train-mass`: the mass of the whole train.

use super::{Check, Judge, Subject};
use crate::model::{LimitKind, Topic};
use crate::units::Quantity;

pub(crate) static CHECK: Check = Check {
    id: "train-mass",
    title: "Mass of the train",
    what: "The gross mass of all vehicles together, engines too, against the most mass of the train.",
    why: "Brakes, couplings and gradients of the route bound what one train may weigh.",
    mend: "Leave strings for another train, or add what the limit depends on (an engine, brakes) and enter the \
           limit that then holds.",
    source: "The limit is the plan's own; there is no general one.",
    run,
};

fn run(judge: &mut Judge<'_>) {
    if !judge.asked(Topic::TrainTotals) {
        return;
    }
    let Some(limit) = judge.limit(LimitKind::TrainMass) else { return };
    for (state, rule) in judge.states() {
        judge.at_most(Some(state.state), Subject::Train, Quantity::mass(state.train_kg), limit.by(rule));
    }
}

#[cfg(test)]
mod tests {
    use super::CHECK;
    use crate::checks::Outcome::{Fail, Near, NotAsked, Undecided};
    use crate::checks::bearing::testing::{add_engine, check, lay_at};
    use crate::fixtures::{drop_off, empty_plan, limit};
    use crate::model::{LimitKind, Plan};

    // An engine of 80 t, two wagons of 24 t and a string of 10 t: 138 t.
    fn limited(kg: f64) -> Plan {
        let mut plan = empty_plan(2);
        add_engine(&mut plan);
        lay_at(&mut plan, "S1", (1, 5, 22_717, 14_266), 10_000.0);
        plan.limits.entries.insert(LimitKind::TrainMass, limit(kg));
        plan
    }

    #[test]
    fn the_train_weighs_its_limit_and_no_kilogram_more() {
        check(&CHECK, &limited(138_000.0), &[(Near, "train")]);
        check(&CHECK, &limited(137_999.0), &[(Fail, "train")]);
        check(&CHECK, &limited(200_000.0), &[]);
    }

    #[test]
    fn the_worst_state_is_told_whatever_comes_off() {
        let mut plan = limited(137_999.0);
        plan.drops.push(drop_off("Eastmoor", &["S1"]));
        check(&CHECK, &plan, &[(Fail, "train")]);
    }

    #[test]
    fn a_missing_limit_is_undecided_where_it_is_asked_for() {
        let mut plan = limited(138_000.0);
        plan.limits.entries.remove(&LimitKind::TrainMass);
        check(&CHECK, &plan, &[(Undecided, "limit train mass")]);
        plan.route.asked.clear();
        check(&CHECK, &plan, &[(NotAsked, "plan")]);
    }
}
