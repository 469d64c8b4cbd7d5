//! Check `cant-overturning`: how near a vehicle is to turning over on cant, standing and at speed.

use super::bearing::bears_strings;
use super::leaning::{case_words, cases, judge_leaning, tell_missing_roll};
use super::{Check, Comparison, Judge, Sense, Subject};
use crate::model::Topic;
use crate::text;
use crate::units::{Quantity, QuantityKind, STANDARD_GRAVITY_M_S2};

pub(crate) static CHECK: Check = Check {
    id: "cant-overturning",
    title: "Overturning on cant",
    what: "The sideways acceleration on the route's cant, standing and at speed, against that at which the wheels \
           of one side of a vehicle carry nothing any more: (b/2 - |y|) / (h (1 + s)). On a rigid body, and with \
           the roll of the body on its springs where that is entered.",
    why: "Beyond it nothing holds the vehicle on its wheels. It is the end of the scale, not a place to be near.",
    mend: "Fill the lower tiers first and bring the load to the middle.",
    source: "Statics of a body on two rails; no limit has to be entered for it.",
    run,
};

fn run(judge: &mut Judge<'_>) {
    if !judge.asked(Topic::Cant) {
        return;
    }
    let cases = cases(judge);
    let bears = bears_strings(judge.figures);
    judge_leaning(judge, &cases, |judge, (state, _, vehicle), (lean, case)| {
        let acceleration = |share: f64| share * STANDARD_GRAVITY_M_S2;
        let demand = Quantity {
            value: acceleration(case.side_g(lean.contact_m).abs()),
            kind: QuantityKind::Acceleration,
        };
        let capacity = acceleration(lean.overturning_g(lean.roll.unwrap_or(0.0)).max(0.0));
        let comparison = Comparison::new(demand, capacity, Sense::AtMost);
        judge.compare_with(Some(state), Subject::Vehicle(vehicle), comparison, || {
            let body = if lean.roll.is_ok() { ", on its springs, " } else { ", as a rigid body, " };
            let mut words = text![body];
            words.0.extend(case_words(case).0);
            words
        });
        if bears[vehicle] {
            tell_missing_roll(judge, vehicle, lean.roll);
        }
    });
}

#[cfg(test)]
mod tests {
    use super::CHECK;
    use crate::checks::Outcome::{Fail, NotAsked, Pass, Undecided};
    use crate::checks::bearing::testing::{check, findings};
    use crate::checks::leaning::testing::leaning;

    // Hand: 0.75 / (1.6394 x 1.1156) = 0.4101 g, which 615 mm of cant make on 1.5 m.
    #[test]
    fn a_vehicle_stands_up_to_its_overturning_cant() {
        let mut plan = leaning();
        let outcome = |cant_mm: f64, plan: &mut crate::model::Plan| {
            plan.route.greatest_cant_mm = Some(cant_mm);
            findings(&CHECK, plan)[0].outcome
        };
        assert_eq!(outcome(150.0, &mut plan), Pass);
        assert_eq!(outcome(580.0, &mut plan), Pass);
        assert_eq!(outcome(617.0, &mut plan), Fail);
    }

    #[test]
    fn what_is_missing_is_undecided() {
        let mut plan = leaning();
        plan.train.vehicle_types[0].springs = None;
        check(&CHECK, &plan, &[(Undecided, "vehicle type Flat")]);
        plan.route.asked.clear();
        check(&CHECK, &plan, &[(NotAsked, "plan")]);
    }
}
