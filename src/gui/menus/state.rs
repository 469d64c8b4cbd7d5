//! The menu of a state, and of the step that leads to it.

use super::{Item, Line};
use crate::checks::Subject;
use crate::edit::{Edit, Rows, StepPlace};
use crate::gui::{Request, SelectMode, Shown, Tab};
use crate::model::{Drop, Step, StepStrings, StringMark};
use crate::statics::StateKind;

/// The lines for a state, by index.
pub(super) fn lines(shown: &Shown<'_>, state: usize) -> Vec<Line> {
    let plan = &shown.settled.plan;
    let Some(load) = shown.settled.states.get(state) else { return Vec::new() };
    let mut lines = vec![
        Line::Title(load.title(plan)),
        Item::new("Show this state", Request::ShowState(state)).by("Enter").into(),
    ];
    match load.kind {
        StateKind::Departure => {}
        StateKind::HalfPair { drop, step, .. } | StateKind::AfterStep { drop, step } => {
            lines.extend(plan.drops.get(drop).map(|of| step_lines(shown, of, step)).unwrap_or_default());
        }
        StateKind::AfterDrop { drop } => lines.extend(drop_lines(shown, drop)),
    }
    lines.push(Line::Gap);
    lines.push(
        Item::new("Show in the table", Request::ShowState(state)).and(Request::ShowTab(Tab::Drops)).into(),
    );
    lines.push(Line::How(match load.kind {
        StateKind::Departure => Subject::Train,
        StateKind::HalfPair { drop, .. }
        | StateKind::AfterStep { drop, .. }
        | StateKind::AfterDrop { drop } => Subject::Drop(drop),
    }));
    lines
}

fn drop_lines(shown: &Shown<'_>, at: usize) -> Vec<Line> {
    let plan = &shown.settled.plan;
    let Some(drop) = plan.drops.get(at) else { return Vec::new() };
    let moved = |to: usize| Request::Edit(Edit::Drops(Rows::Move { name: drop.name.clone(), to }));
    let first = (at == 0).then(|| "It is the first drop".to_owned());
    let last = (at + 1 >= plan.drops.len()).then(|| "It is the last drop".to_owned());
    let strings: Vec<StringMark> = drop.steps.iter().flat_map(|step| step.strings.marks()).cloned().collect();
    vec![
        Item::new(format!("Select its {} strings", strings.len()), select(strings)).into(),
        Line::Gap,
        Item::new("The whole drop earlier", moved(at.saturating_sub(1))).unless(first).into(),
        Item::new("The whole drop later", moved(at + 1)).unless(last).into(),
    ]
}

fn step_lines(shown: &Shown<'_>, drop: &Drop, at: usize) -> Vec<Line> {
    let Some(step) = drop.steps.get(at) else { return Vec::new() };
    let strings: Vec<StringMark> = step.strings.marks().cloned().collect();
    let place = |drop: &Drop, step: usize| StepPlace { drop: drop.name.clone(), step };
    let moved = |to: StepPlace| Request::Edit(Edit::MoveStep { from: place(drop, at), to });
    let last = drop.steps.len().saturating_sub(1);
    let is_first = (at == 0).then(|| "It is the first step of its drop".to_owned());
    let is_last = (at >= last).then(|| "It is the last step of its drop".to_owned());
    let item = |words: &str, to: usize, not: &Option<String>| {
        Line::from(Item::new(words, moved(place(drop, to))).unless(not.clone()))
    };
    let others = shown.settled.plan.drops.iter().filter(|other| other.name != drop.name);
    let others: Vec<Line> = others
        .map(|other| Item::new(other.name.to_string(), moved(place(other, other.steps.len()))).into())
        .collect();
    let mut lines = vec![
        Item::new("Select its strings", select(strings)).into(),
        Line::Gap,
        item("Step earlier", at.saturating_sub(1), &is_first),
        item("Step later", at + 1, &is_last),
        item("First of its drop", 0, &is_first),
        item("Last of its drop", last, &is_last),
    ];
    if !others.is_empty() {
        lines.push(Line::More { words: "To another drop".to_owned(), lines: others });
    }
    lines.extend(pair_lines(drop, step, at));
    let remove = change(drop, format!("Remove step {} of {}", at + 1, drop.name), |steps| {
        steps.remove(at);
    });
    lines.push(Item::new("Remove the step", remove).into());
    lines
}

fn pair_lines(drop: &Drop, step: &Step, at: usize) -> Vec<Line> {
    match &step.strings {
        StepStrings::Pair { first, second, together } => {
            let (first, second, together) = (first.clone(), second.clone(), !*together);
            let part = change(drop, format!("Part the pair {first} and {second}"), |steps| {
                let after = Step { strings: StepStrings::One(second.clone()), ..steps[at].clone() };
                steps[at].strings = StepStrings::One(first.clone());
                steps.insert(at + 1, after);
            });
            let words = if together { "Its two leave together" } else { "Its two leave one after the other" };
            let turn = change(drop, format!("{first} and {second}: {}", words.to_lowercase()), |steps| {
                let (first, second) = (first.clone(), second.clone());
                steps[at].strings = StepStrings::Pair { first, second, together };
            });
            vec![Item::new(words, turn).into(), Item::new("Part the pair", part).into()]
        }
        StepStrings::One(first) => {
            let next = drop.steps.get(at + 1).map(|next| (&next.strings, next.kind));
            let Some((StepStrings::One(second), kind)) = next else { return Vec::new() };
            if kind != step.kind {
                return Vec::new();
            }
            let join = change(drop, format!("Pair {first} and {second}"), |steps| {
                let (first, second) = (first.clone(), second.clone());
                steps[at].strings = StepStrings::Pair { first, second, together: false };
                steps.remove(at + 1);
            });
            vec![Item::new(format!("Pair it with {second}"), join).into()]
        }
    }
}

fn select(strings: Vec<StringMark>) -> Request {
    Request::Select { strings, mode: SelectMode::Only }
}

/// A change to the steps of a drop under a name of its own.
fn change(drop: &Drop, label: String, change: impl FnOnce(&mut Vec<Step>)) -> Request {
    let mut to = drop.clone();
    change(&mut to.steps);
    let edits = vec![Edit::Drops(Rows::Change { name: drop.name.clone(), to })];
    Request::Edit(Edit::Batch { label, edits })
}
