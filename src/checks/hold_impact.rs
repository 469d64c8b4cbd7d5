//! Each hold can take the wave that an impact sends through its string.

use super::holds::{hold_rating, holdings};
use super::{Check, Comparison, Judge, Sense, Subject};
use crate::statics::Held;
use crate::text;
use crate::units::Quantity;

/// The check.
pub(crate) static CHECK: Check = Check {
    id: "hold-impact",
    title: "Impact at a hold",
    what: "The force by which a string answers a jerk of its hold: the impedance of the rail (area times the root of \
           modulus times density) times the entered speed change, once for each side of the hold that has rail, \
           against the rating of one hold. It is what no impact of that speed change exceeds; the peak for a half \
           sine with the lengthwise acceleration as its peak is told beside it.",
    why: "A long string does not move as one mass: its far ends learn of the impact only when the wave arrives, and \
          by then it is over. Mass times acceleration says too little for short strings and too much for long ones.",
    mend: "Hold the string at its end, where one side only answers, choose a stronger hold, or keep the train from \
           being humped and fly-shunted and enter the smaller speed change.",
    source: "one-dimensional waves in a rod (textbook: Kolsky, Stress Waves in Solids); the speed change and the \
             rating are the plan's own",
    run,
};

fn run(judge: &mut Judge<'_>) {
    for (placed, holding) in holdings(judge) {
        let Held::At(rack) = holding.held else { continue };
        let Some(impact) = holding.impact else {
            let missing = "no speed change of an impact is entered in the accelerations of the route";
            judge.undecided(Subject::Plan, text![missing]);
            continue;
        };
        let Some((rating_n, source)) = hold_rating(judge, rack) else { continue };
        judge.source(source);
        let comparison = Comparison::new(Quantity::force(impact.bound_n), rating_n, Sense::AtMost);
        judge.compare_with(None, Subject::StringAtRack(placed.string, rack), comparison, || {
            let mut tail = text![format!(" as an impact wave of {:.2} m/s", impact.change_m_per_s)];
            if let Some(half_sine_n) = impact.half_sine_n {
                tail.0.extend(text!["; a half sine would give ", Quantity::force(half_sine_n)].0);
            }
            tail
        });
    }
}

#[cfg(test)]
mod tests {
    use super::CHECK;
    use crate::checks::Outcome::{Fail, Near, NotApplicable, NotAsked, Undecided};
    use crate::checks::holds::testing::held;
    use crate::checks::trial::{expect, words};
    use crate::model::{Plan, Topic};

    const HOLD: &str = "string S1, vehicle W3 rack 2";

    /// Held between two sides: 2 x 311,421 N s/m x 0.1 m/s = 62,284 N (hand calculation, 60E1 with E 210 GPa).
    fn hit(rating_n: f64) -> Plan {
        let mut plan = held();
        plan.route.accelerations.iter_mut().for_each(|set| set.impact_m_per_s = Some(0.1));
        plan.train.rack_types[0].hold_rating_n = Some(rating_n);
        plan
    }

    #[test]
    fn a_hold_takes_the_bound_of_the_wave_up_to_its_rating() {
        expect(&CHECK, hit(70_000.0), &[]);
        expect(&CHECK, hit(62_300.0), &[(Near, HOLD)]);
        let findings = expect(&CHECK, hit(62_200.0), &[(Fail, HOLD)]);
        let words = words(&findings);
        assert!(
            words.contains("62.28 kN of at most 62.20 kN as an impact wave of 0.10 m/s; a half sine"),
            "{words}"
        );
    }

    #[test]
    fn without_a_speed_change_it_is_undecided_once() {
        let mut plan = hit(70_000.0);
        plan.route.accelerations.iter_mut().for_each(|set| set.impact_m_per_s = None);
        expect(&CHECK, plan, &[(Undecided, "plan")]);
    }

    #[test]
    fn a_string_held_nowhere_has_no_hold_to_judge_and_a_plan_may_not_ask() {
        let mut plan = hit(70_000.0);
        plan.placements[0].holds.clear();
        expect(&CHECK, plan, &[(NotApplicable, "plan")]);
        let mut plan = hit(70_000.0);
        plan.route.asked.retain(|topic| *topic != Topic::HoldForces);
        expect(&CHECK, plan, &[(NotAsked, "plan")]);
    }
}
