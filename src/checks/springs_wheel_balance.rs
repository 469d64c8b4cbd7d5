//! Check `springs-wheel-balance`: the ratio of the two wheels of each axle, the train on springs.

use super::on_springs::spring_loads;
use super::wheel_balance::judge_wheel_ratios;
use super::{Check, Judge};

pub(crate) static CHECK: Check = Check {
    id: "springs-wheel-balance",
    title: "Left and right wheel loads, on springs",
    what: "The heavier over the lighter wheel load of each axle, by the worse of a stiff and a soft body, \
           the wagons giving on their springs, against the wheel load ratio.",
    why: "With staggered string ends a ratio that is kept on level racks can be broken on springs.",
    mend: "Align the string ends of the two sides, move strings over this bogie toward the lighter side, or \
           bring racks and wagons to one height.",
    source: "The value that is judged by is the plan's; beams on elastic supports (textbook statics).",
    run,
};

fn run(judge: &mut Judge<'_>) {
    if let Some(states) = spring_loads(judge) {
        judge_wheel_ratios(judge, &states);
    }
}

#[cfg(test)]
mod tests {
    use super::CHECK;
    use crate::checks::Outcome::{Fail, Near, NotAsked, Undecided};
    use crate::checks::bearing::testing::{check, load_ahead};
    use crate::checks::on_springs::testing::on_springs;
    use crate::fixtures::limit;
    use crate::model::{LimitKind, Plan};

    // One wagon, so that springs change nothing: tare and load 24 t each, the load at 166.7 mm: its gross centre is at
    // 83.3 mm, 1.25 : 1 (shared facts, section 6, computed).
    fn beside_the_middle(ratio: f64) -> Plan {
        let mut plan = load_ahead(24_000.0, 24_000.0, 0, 1);
        plan.train.rack_types[0].lanes_y_mm = vec![500.0 / 3.0];
        on_springs(&mut plan);
        plan.limits.entries.insert(LimitKind::WheelRatio, limit(ratio));
        plan
    }

    #[test]
    fn the_ratio_is_kept_up_to_its_limit_and_no_further() {
        let both = |outcome| [(outcome, "vehicle W1, front bogie"), (outcome, "vehicle W1, rear bogie")];
        check(&CHECK, &beside_the_middle(1.2501), &both(Near));
        check(&CHECK, &beside_the_middle(1.2499), &both(Fail));
        check(&CHECK, &beside_the_middle(1.5), &[]);
    }

    #[test]
    fn springs_that_are_not_asked_for_or_not_entered_are_told_so() {
        let mut plan = beside_the_middle(1.5);
        plan.train.vehicle_types[0].springs = None;
        check(&CHECK, &plan, &[(Undecided, "vehicle type Flat")]);
        plan.route.asked.clear();
        check(&CHECK, &plan, &[(NotAsked, "plan")]);
    }
}
