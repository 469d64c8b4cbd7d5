//! Check `unloading-time`: feeding and handling at each drop within its possession.

use super::{Check, Comparison, Judge, Sense, Subject};
use crate::model::{StepKind, Topic};
use crate::statics::DropTimes;
use crate::text;
use crate::units::Quantity;

pub(crate) static CHECK: Check = Check {
    id: "unloading-time",
    title: "Time at a drop",
    what: "The time that all steps of each drop take, length over feeding speed and handling for each, against the \
           possession. Of a pair that goes together the longer string counts; a pair that goes one after the other \
           is fed twice. Loading and unloading have their own speeds.",
    why: "A possession that ends with strings half off the train leaves it in a state that may not travel.",
    mend: "Ask for a longer possession, move strings to another drop, or declare pairs that leave together.",
    source: "length over speed; speeds, handling times and possessions are the plan's own",
    run,
};

fn run(judge: &mut Judge<'_>) {
    if !judge.asked(Topic::Unloading) {
        return;
    }
    let figures = judge.figures;
    if !figures.plan.drops.iter().any(|drop| !drop.steps.is_empty()) {
        judge.not_applicable(text!["no drop moves a string"]);
        return;
    }
    for times in figures.unloading().times.iter().filter(|times| !times.steps.is_empty()) {
        tell_missing(judge, times);
        let Some((total_s, possession_s)) = times.total_s.zip(times.possession_s) else { continue };
        judge.source("the possession entered for the drop");
        let comparison = Comparison::new(Quantity::time_s(total_s), possession_s, Sense::AtMost);
        judge.compare_with(None, Subject::Drop(times.drop), comparison, || text![" of possession"]);
    }
}

fn tell_missing(judge: &mut Judge<'_>, times: &DropTimes) {
    let Some(drop) = judge.figures.plan.drops.get(times.drop) else { return };
    let lacks = |kind: StepKind| {
        let mut steps = drop.steps.iter().zip(&times.steps);
        steps.any(|(step, time)| step.kind == kind && time.speed_m_per_s.is_none())
    };
    let subject = Subject::Drop(times.drop);
    if lacks(StepKind::Off) {
        judge.undecided(subject, text!["no feeding speed while unloading is entered for the route"]);
    }
    if lacks(StepKind::On) {
        judge.undecided(subject, text!["no feeding speed while loading is entered for the route"]);
    }
    if drop.handling_min.is_none() {
        judge.undecided(subject, text!["no handling time is entered for drop ", drop.name.as_str()]);
    }
    if drop.possession_min.is_none() {
        judge.undecided(subject, text!["no possession is entered for drop ", drop.name.as_str()]);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::Outcome::{self, Fail, Near, NotApplicable, NotAsked, Undecided};
    use crate::checks::trial::{expect, findings_of, words};
    use crate::fixtures::{drop_off, empty_plan, place};
    use crate::model::{FeedSpeeds, Plan};

    /// Two strings of 180 m taken off singly at 0.75 m/s with 3 min of handling each: 2 (4 + 3) = 14 min.
    fn plan(possession_min: Option<f64>) -> Plan {
        let mut plan = empty_plan(10);
        plan.route.asked.push(Topic::Unloading);
        plan.route.feed = Some(FeedSpeeds { loading_m_per_s: None, unloading_m_per_s: Some(0.75) });
        place(&mut plan, "S1", 180_000, (1, 1, 5_000));
        place(&mut plan, "S2", 180_000, (1, 10, 5_000));
        let mut drop = drop_off("Eastmoor", &["S1", "S2"]);
        (drop.handling_min, drop.possession_min) = (Some(3.0), possession_min);
        plan.drops.push(drop);
        plan
    }

    fn check(plan: Plan, expected: &[(Outcome, &str)]) {
        expect(&CHECK, plan, expected);
    }

    #[test]
    fn the_possession_is_kept_from_both_sides() {
        check(plan(Some(20.0)), &[]);
        check(plan(Some(14.0)), &[(Near, "drop Eastmoor")]);
        check(plan(Some(13.99)), &[(Fail, "drop Eastmoor")]);
        let told = words(&findings_of(&CHECK, plan(Some(12.0))));
        assert_eq!(told, "drop Eastmoor: 14.0 min of at most 12.0 min of possession");
    }

    #[test]
    fn what_is_missing_is_undecided_and_named() {
        check(plan(None), &[(Undecided, "drop Eastmoor")]);
        let mut plan = plan(Some(20.0));
        plan.drops[0].handling_min = None;
        plan.route.feed = None;
        check(plan.clone(), &[(Undecided, "drop Eastmoor")]);
        let told = words(&findings_of(&CHECK, plan.clone()));
        assert!(told.contains("while unloading") && told.contains("handling"), "{told}");
        plan.drops[0].steps[0].kind = StepKind::On;
        assert!(words(&findings_of(&CHECK, plan)).contains("while loading"));
    }

    #[test]
    fn not_asked_and_no_drops_are_told() {
        let mut plan = plan(Some(20.0));
        plan.drops.clear();
        check(plan.clone(), &[(NotApplicable, "plan")]);
        plan.route.asked.clear();
        check(plan, &[(NotAsked, "plan")]);
    }
}
