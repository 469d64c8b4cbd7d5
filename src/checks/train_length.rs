//! Check `train-length`: the length of the whole train.

use super::{Check, Judge, Subject};
use crate::model::{LimitKind, Topic};
use crate::units::Quantity;

pub(crate) static CHECK: Check = Check {
    id: "train-length",
    title: "Length of the train",
    what: "The length of all vehicles together over their buffer faces, engines too, against the greatest length \
           of the train. It is the same in every state, so the running value holds.",
    why: "Loops, sidings and platforms on the route bound how long a train may be.",
    mend: "Take vehicles out of the train that carry nothing, or plan two trains.",
    source: "The limit is the plan's own; there is no general one.",
    run,
};

fn run(judge: &mut Judge<'_>) {
    if !judge.asked(Topic::TrainTotals) {
        return;
    }
    let Some(limit) = judge.limit(LimitKind::TrainLength) else { return };
    let length = Quantity::length(judge.figures.consist.length);
    judge.at_most(None, Subject::Train, length, limit.running);
}

#[cfg(test)]
mod tests {
    use super::CHECK;
    use crate::checks::Outcome::{Fail, Near, NotAsked, Undecided};
    use crate::checks::bearing::testing::check;
    use crate::fixtures::{empty_plan, limit};
    use crate::model::{LimitKind, Plan};

    // Two wagons of 19.9 m: 39.8 m.
    fn limited(m: f64) -> Plan {
        let mut plan = empty_plan(2);
        plan.limits.entries.insert(LimitKind::TrainLength, limit(m));
        plan
    }

    #[test]
    fn the_train_is_as_long_as_its_limit_and_no_millimetre_longer() {
        check(&CHECK, &limited(39.8), &[(Near, "train")]);
        check(&CHECK, &limited(39.799), &[(Fail, "train")]);
        check(&CHECK, &limited(50.0), &[]);
    }

    #[test]
    fn a_missing_limit_is_undecided_where_it_is_asked_for() {
        let mut plan = limited(39.8);
        plan.limits.entries.remove(&LimitKind::TrainLength);
        check(&CHECK, &plan, &[(Undecided, "limit train length")]);
        plan.route.asked.clear();
        check(&CHECK, &plan, &[(NotAsked, "plan")]);
    }
}
