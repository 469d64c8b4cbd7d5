//! Each hold can take its string in the securing accelerations.

use super::holds::{hold_rating, holdings};
use super::reading::string_name;
use super::{Check, Comparison, Judge, Sense, Subject};
use crate::statics::{Held, PlacedString, StringHolding};
use crate::text;
use crate::units::{Quantity, Text};

/// The check.
pub(crate) static CHECK: Check = Check {
    id: "hold-force",
    title: "Force at a hold",
    what: "The string's mass times the lengthwise securing acceleration, less friction on its other racks where a \
           friction coefficient is entered (lightened by the vertical acceleration), against the rating of one hold.",
    why: "A string rolls freely on all racks but one: that one takes the inertia of the whole string. A hold that \
          slips lets the string run into what is beyond its end.",
    mend: "Hold the string at a rack with a stronger hold, load shorter strings, or enter the friction of fixed \
           racks where it was measured.",
    source: "Newton's second law; the accelerations and the rating are the plan's own",
    run,
};

fn run(judge: &mut Judge<'_>) {
    for (placed, holding) in holdings(judge) {
        match holding.held {
            Held::At(rack) => judge_hold(judge, placed, holding, rack),
            Held::Nowhere => judge_loose(judge, placed, holding),
            Held::Several => {}
        }
    }
}

fn judge_hold(judge: &mut Judge<'_>, placed: &PlacedString, holding: &StringHolding, rack: usize) {
    let Some((rating_n, source)) = hold_rating(judge, rack) else { return };
    judge.source(source);
    let comparison = Comparison::new(Quantity::force(holding.force_n), rating_n, Sense::AtMost);
    judge.compare_with(None, Subject::StringAtRack(placed.string, rack), comparison, || {
        let mut tail = text![" by mass times acceleration of ", Quantity::small_mass(placed.mass_kg)];
        if holding.friction_n > 0.0 {
            tail.0.extend(text![", less friction of ", Quantity::force(holding.friction_n)].0);
        }
        tail
    });
}

fn judge_loose(judge: &mut Judge<'_>, placed: &PlacedString, holding: &StringHolding) {
    let subject = Subject::String(placed.string);
    let name = || string_name(judge.figures, placed.string);
    if holding.force_n > 0.0 {
        let what = text![name(), " is held nowhere: nothing takes its ", Quantity::force(holding.force_n)];
        let mend = || text!["Give the string one hold at a clamping rack under it."];
        judge.fail(None, subject, what, mend);
    } else {
        let what = text![name(), " is held by friction alone"];
        judge.fail(None, subject, what, Text::default);
    }
}

#[cfg(test)]
mod tests {
    use super::CHECK;
    use crate::checks::Outcome::{Fail, Near, NotApplicable, NotAsked, Undecided};
    use crate::checks::holds::testing::{held, hold};
    use crate::checks::trial::{expect, words};
    use crate::fixtures::empty_plan;
    use crate::model::{Plan, Topic};

    const HOLD: &str = "string S1, vehicle W3 rack 2";

    /// 6,021 kg at 1 g: 59,045.8 N (hand calculation).
    fn rated(rating_n: f64) -> Plan {
        let mut plan = held();
        plan.train.rack_types[0].hold_rating_n = Some(rating_n);
        plan
    }

    #[test]
    fn a_hold_takes_its_rating_and_no_newton_more() {
        expect(&CHECK, rated(65_000.0), &[]);
        expect(&CHECK, rated(59_046.0), &[(Near, HOLD)]);
        let findings = expect(&CHECK, rated(59_045.0), &[(Fail, HOLD)]);
        assert_eq!(
            words(&findings),
            "string S1, vehicle W3 rack 2: 59.05 kN of at most 59.05 kN by mass times acceleration of 6021.0 kg"
        );
    }

    #[test]
    fn friction_helps_only_where_it_is_entered() {
        let mut plan = rated(55_000.0);
        expect(&CHECK, plan.clone(), &[(Fail, HOLD)]);
        plan.train.rack_types[0].friction = Some(0.15);
        let findings = expect(&CHECK, plan, &[]);
        assert!(words(&findings).contains("less friction of 8."), "{}", words(&findings));
    }

    #[test]
    fn held_nowhere_fails_and_held_at_two_places_is_undecided() {
        let mut plan = held();
        plan.placements[0].holds.clear();
        let findings = expect(&CHECK, plan.clone(), &[(Fail, "string S1")]);
        assert_eq!(words(&findings), "string S1 is held nowhere: nothing takes its 59.05 kN");
        plan.placements[0].holds = vec![hold("W3"), hold("W4")];
        expect(&CHECK, plan, &[(Undecided, "string S1")]);
    }

    #[test]
    fn what_nobody_entered_leaves_it_undecided_and_what_nobody_asks_is_not_looked_at() {
        let mut plan = held();
        plan.train.rack_types[0].hold_rating_n = None;
        expect(&CHECK, plan, &[(Undecided, "rack type Rack 5 x 10")]);
        let mut plan = held();
        plan.route.accelerations = None;
        expect(&CHECK, plan, &[(Undecided, "plan")]);
        let mut plan = held();
        plan.route.asked.retain(|topic| *topic != Topic::HoldForces);
        expect(&CHECK, plan, &[(NotAsked, "plan")]);
        let mut plan = empty_plan(2);
        plan.route.asked.push(Topic::HoldForces);
        expect(&CHECK, plan, &[(NotApplicable, "plan")]);
    }
}
