//! Every ordered string has one place on the train, and the steps take off and on what is there.

use super::reading::{string_name, string_names};
use super::{Check, Judge, Subject};
use crate::model::{Step, StepKind, StringMark};
use crate::statics::Figures;
use crate::text;
use std::collections::BTreeMap;

/// The check.
pub(crate) static CHECK: Check = Check {
    id: "order-placed",
    title: "Order placed",
    what: "Each ordered string is placed exactly once, and each step moves strings that are there to be moved.",
    why: "A string that is forgotten, counted twice or taken off twice makes every later state wrong.",
    mend: "Place the string once, or correct the step.",
    source: "common practice, no source",
    run,
};

fn run(judge: &mut Judge<'_>) {
    let figures = judge.figures;
    if figures.plan.order.is_empty() {
        judge.not_applicable(|| text!["no strings are ordered"]);
        return;
    }
    let mut times = vec![0_usize; figures.plan.order.len()];
    for placed in &figures.placed {
        if let Some(times) = times.get_mut(placed.string) {
            *times += 1;
        }
    }
    judge_placements(judge, &times);
    judge_drops_ordered(judge);
    judge_steps(judge, &times);
}

fn judge_placements(judge: &mut Judge<'_>, times: &[usize]) {
    let figures = judge.figures;
    let all = times.iter().all(|times| *times == 1);
    let passed =
        if all { "every ordered string is placed once" } else { "every other string is placed once" };
    for (string, times) in times.iter().enumerate() {
        let subject = Subject::String(string);
        match times {
            0 => judge.fail(
                None,
                subject,
                || text![string_name(figures, string), " is not on the train"],
                || text!["place it, or take it out of the order"],
            ),
            1 => judge.pass(None, subject, || text![passed]),
            _ => judge.fail(
                None,
                subject,
                || text![string_name(figures, string), format!(" is placed {times} times")],
                || text!["take all its places but one away"],
            ),
        }
    }
}

/// A string that is ordered for a drop should be moved there; told as a note, since a plan may be half written.
fn judge_drops_ordered(judge: &mut Judge<'_>) {
    let figures = judge.figures;
    for (index, string) in figures.plan.order.iter().enumerate() {
        let Some(name) = &string.drop else { continue };
        let moves = |step: &Step| step.strings.marks().any(|mark| *mark == string.mark);
        let moved = figures.plan.drops.iter().any(|drop| drop.name == *name && drop.steps.iter().any(moves));
        if !moved {
            judge.note(None, Subject::String(index), || {
                text![
                    string_name(figures, index),
                    format!(" is ordered for {name}, but no step there moves it")
                ]
            });
        }
    }
}

fn judge_steps(judge: &mut Judge<'_>, times: &[usize]) {
    let figures = judge.figures;
    let index: BTreeMap<&StringMark, usize> =
        figures.plan.order.iter().enumerate().map(|(index, string)| (&string.mark, index)).collect();
    let mut on_train = on_at_departure(figures, &index);
    for (drop_index, drop) in figures.plan.drops.iter().enumerate() {
        for (step_index, step) in drop.steps.iter().enumerate() {
            let mut unplaced = Vec::new();
            let mut out_of_turn = Vec::new();
            for string in step.strings.marks().filter_map(|mark| index.get(mark).copied()) {
                if times.get(string).is_none_or(|times| *times == 0) {
                    unplaced.push(string);
                }
                let Some(on) = on_train.get_mut(string) else { continue };
                if *on == (step.kind == StepKind::On) {
                    out_of_turn.push(string);
                }
                *on = step.kind == StepKind::On;
            }
            judge_step(judge, Subject::Step(drop_index, step_index), step, (&unplaced, &out_of_turn));
        }
    }
}

/// By string of the order: on the train as it leaves, which is so unless a step takes it on.
fn on_at_departure(figures: &Figures, index: &BTreeMap<&StringMark, usize>) -> Vec<bool> {
    let mut on_train = vec![true; figures.plan.order.len()];
    let steps = figures.plan.drops.iter().flat_map(|drop| &drop.steps);
    for mark in steps.filter(|step| step.kind == StepKind::On).flat_map(|step| step.strings.marks()) {
        if let Some(on) = index.get(mark).and_then(|string| on_train.get_mut(*string)) {
            *on = false;
        }
    }
    on_train
}

fn judge_step(
    judge: &mut Judge<'_>,
    subject: Subject,
    step: &Step,
    (unplaced, out_of_turn): (&[usize], &[usize]),
) {
    let figures = judge.figures;
    let names = |strings: &[usize]| format!("{}, {}", subject.place(figures), string_names(figures, strings));
    if !unplaced.is_empty() {
        let mend = || text!["place the string, or take it out of the step"];
        judge.fail(
            None,
            subject,
            || text![names(unplaced), ": moved here, but has no place on the train"],
            mend,
        );
    } else if !out_of_turn.is_empty() && step.kind == StepKind::Off {
        let mend = || text!["take the string off once, while it is on the train"];
        judge.fail(
            None,
            subject,
            || text![names(out_of_turn), ": taken off, but not on the train then"],
            mend,
        );
    } else if !out_of_turn.is_empty() {
        let mend = || text!["take the string on once, while it is not on the train"];
        judge.fail(None, subject, || text![names(out_of_turn), ": taken on, but already on the train"], mend);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::Outcome;
    use crate::checks::trial::expect;
    use crate::fixtures::{drop_off, empty_plan, place};
    use crate::model::{DropName, Plan, StepStrings};

    fn two_strings() -> Plan {
        let mut plan = empty_plan(2);
        place(&mut plan, "S1", 30_000, (1, 1, 2_000));
        place(&mut plan, "S2", 30_000, (1, 10, 2_000));
        plan
    }

    fn check(plan: Plan, expected: &[(Outcome, &str)]) {
        expect(&CHECK, plan, expected);
    }

    #[test]
    fn strings_placed_once_pass_and_an_empty_order_has_nothing_to_place() {
        check(two_strings(), &[]);
        check(empty_plan(1), &[(Outcome::NotApplicable, "plan")]);
    }

    #[test]
    fn a_string_left_out_or_placed_twice_fails() {
        let mut plan = two_strings();
        plan.placements.remove(0);
        check(plan, &[(Outcome::Fail, "string S1")]);
        let mut plan = two_strings();
        plan.placements.push(plan.placements[1].clone());
        check(plan, &[(Outcome::Fail, "string S2")]);
    }

    #[test]
    fn a_string_taken_off_twice_fails_at_the_second_step() {
        let mut plan = two_strings();
        plan.drops.push(drop_off("Site", &["S1", "S2"]));
        check(plan.clone(), &[]);
        plan.drops.push(drop_off("Next", &["S1"]));
        check(plan, &[(Outcome::Fail, "drop Next, step 1")]);
    }

    #[test]
    fn old_rail_may_come_on_and_go_off_again_but_not_come_on_twice_or_go_before_it_came() {
        let mut plan = two_strings();
        plan.drops.push(drop_off("Site", &["S1", "S1"]));
        plan.drops[0].steps[0].kind = StepKind::On;
        check(plan.clone(), &[]);
        plan.drops[0].steps[1].kind = StepKind::On;
        check(plan.clone(), &[(Outcome::Fail, "drop Site, step 2")]);
        plan.drops[0].steps[0].kind = StepKind::Off;
        check(plan, &[(Outcome::Fail, "drop Site, step 1")]);
    }

    #[test]
    fn a_step_of_a_string_without_a_place_fails() {
        let mut plan = two_strings();
        plan.drops.push(drop_off("Site", &["S1"]));
        plan.placements.remove(0);
        check(plan, &[(Outcome::Fail, "string S1"), (Outcome::Fail, "drop Site, step 1")]);
    }

    #[test]
    fn a_pair_of_a_string_with_itself_fails() {
        let mut plan = two_strings();
        plan.drops.push(drop_off("Site", &["S1"]));
        let mark = StringMark::new("S1").unwrap();
        let strings = StepStrings::Pair { first: mark.clone(), second: mark, together: true };
        plan.drops[0].steps[0].strings = strings;
        check(plan, &[(Outcome::Fail, "drop Site, step 1")]);
    }

    #[test]
    fn a_string_ordered_for_a_drop_that_does_not_move_it_is_noted() {
        let mut plan = two_strings();
        plan.drops.push(drop_off("Site", &["S1"]));
        plan.order[0].drop = Some(DropName::new("Site").unwrap());
        check(plan.clone(), &[]);
        plan.order[1].drop = Some(DropName::new("Site").unwrap());
        check(plan, &[(Outcome::Note, "string S2")]);
    }
}
