//! The part of a string that is pushed toward its hold does not buckle sideways between racks.

use super::holds::holdings;
use super::reading::rack_name;
use super::{Check, Comparison, Judge, Sense, Subject};
use crate::statics::PushedBy;
use crate::text;
use crate::units::Quantity;

/// The check.
pub(crate) static CHECK: Check = Check {
    id: "hold-buckling",
    title: "Buckling beside a hold",
    what: "The compression in each part of a string that its own mass pushes toward the hold (or, where it is larger, \
           that the head of an impact's wave brings), against the force at which the span between two racks buckles \
           sideways: pi squared times E Iy over the span squared, without any margin. The worst span of each part.",
    why: "Rail is weak sideways. A part that buckles leaves its pockets and presses racks and neighbours aside.",
    mend: "Hold the string nearer the end of the part that is pushed, so that less rail presses, or rest it on racks \
           that stand closer together.",
    source: "Euler's strut with hinged ends (textbook); the accelerations are the plan's own",
    run,
};

fn run(judge: &mut Judge<'_>) {
    let figures = judge.figures;
    for (placed, holding) in holdings(judge) {
        for pushed in holding.pushed.iter().flatten() {
            let Some(euler_n) = pushed.euler_n else {
                let name = figures.plan.sections.get(placed.section).map_or("?", |s| s.name.as_str());
                let missing = "no second moment of area about the vertical axis is entered for section ";
                judge.undecided(Subject::Section(placed.section), text![missing, name]);
                continue;
            };
            judge.source("closed form, from the plan's section and spans");
            let subject = Subject::StringEnd(placed.string, pushed.part);
            let comparison = Comparison::new(Quantity::force(pushed.compression_n), euler_n, Sense::AtMost);
            judge.compare_with(None, subject, comparison, || {
                let by = match pushed.by {
                    PushedBy::Inertia => " by its own mass",
                    PushedBy::Impact => " by an impact's wave",
                };
                text![
                    by,
                    " in the span of ",
                    Quantity::length_m(pushed.span_m),
                    " behind ",
                    rack_name(figures, pushed.from)
                ]
            });
        }
    }
}

#[cfg(test)]
mod tests {
    use super::CHECK;
    use crate::checks::Outcome::{Fail, NotApplicable, NotAsked, Undecided};
    use crate::checks::holds::testing::held;
    use crate::checks::trial::{expect, words};
    use crate::model::{Plan, Topic};

    /// The string is pushed toward its hold at x 49.75 m by what lies in front of it from 3 m on, and behind it up
    /// to 103 m: 46.75 m and 53.25 m of 60.21 kg/m. At `g` the larger is 31,442 N times g, against 241.3 kN at
    /// 6.634 m (pi^2 x 210e9 x 512.3e-8 / 6.634^2 = 241,270 N; hand calculation): as much at 7.67 g.
    fn at(g: f64) -> Plan {
        let mut plan = held();
        plan.route.accelerations.iter_mut().for_each(|set| set.longitudinal_g = g);
        plan
    }

    #[test]
    fn a_span_bears_eulers_force_and_no_more() {
        expect(&CHECK, at(7.0), &[]);
        let findings = expect(&CHECK, at(7.7), &[(Fail, "string S1, rear end")]);
        let words = words(&findings);
        assert!(
            words.ends_with("by its own mass in the span of 6.633 m behind vehicle W3 rack 2"),
            "{words}"
        );
        expect(&CHECK, at(9.0), &[(Fail, "string S1, rear end"), (Fail, "string S1, front end")]);
    }

    // 311,421 N s/m x 0.8 m/s = 249.1 kN, over 241.3 kN.
    #[test]
    fn an_impacts_wave_counts_where_it_presses_harder() {
        let mut plan = at(1.0);
        plan.route.accelerations.iter_mut().for_each(|set| set.impact_m_per_s = Some(0.7));
        expect(&CHECK, plan.clone(), &[]);
        plan.route.accelerations.iter_mut().for_each(|set| set.impact_m_per_s = Some(0.8));
        let findings = expect(&CHECK, plan, &[(Fail, "string S1, rear end"), (Fail, "string S1, front end")]);
        assert!(words(&findings).contains("by an impact's wave"));
    }

    #[test]
    fn a_section_without_its_sideways_stiffness_is_undecided() {
        let mut plan = at(1.0);
        plan.sections[0].iy_cm4 = None;
        expect(&CHECK, plan, &[(Undecided, "section 60E1")]);
    }

    #[test]
    fn a_string_held_nowhere_pushes_nothing_and_a_plan_may_not_ask() {
        let mut plan = at(1.0);
        plan.placements[0].holds.clear();
        expect(&CHECK, plan, &[(NotApplicable, "plan")]);
        let mut plan = at(1.0);
        plan.route.asked.retain(|topic| *topic != Topic::HoldForces);
        expect(&CHECK, plan, &[(NotAsked, "plan")]);
    }
}
