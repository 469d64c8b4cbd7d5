//! Marks answers to exercises: what is right is what the engine says of the exercise's own train.

use super::what_if::{Bounds, Focus, Plotted, Reading, Scratch};
use crate::checks::{Assessment, Outcome, assess};
use crate::edit::{Edit, Rows};
use crate::model::{
    Answer, Claim, Condition, Drop, Exercise, Measured, Plan, RackRef, Step, StepKind, StepStrings,
    StringMark, TrainEnd, VehicleMark,
};
use crate::statics::{Consist, Figures, Scope};
use crate::text;
use crate::units::{Quantity, Text};
use std::sync::Arc;

/// What somebody answered.
#[derive(Clone, Copy, Debug)]
pub enum Given<'a> {
    /// A figure, in the SI unit of its kind.
    Figure(f64),
    /// The choice at this index.
    Choice(usize),
    /// A scratch copy of the exercise's train, as it was turned.
    Turned(&'a Scratch),
}

/// What is said to an answer.
#[derive(Clone, Debug, PartialEq)]
pub struct Marked {
    /// Whether it is right.
    pub right: bool,
    /// Why it is not, or what the figure is.
    pub said: Vec<Text>,
}

/// Marks what was given; an answer of another kind than the exercise asks for is wrong.
pub fn mark(exercise: &Exercise, given: Given<'_>) -> Marked {
    match (&exercise.answer, given) {
        (Answer::Figure { of, tolerance }, Given::Figure(value)) => {
            mark_figure(exercise, of, (value, *tolerance))
        }
        (Answer::Choice(choices), Given::Choice(at)) => {
            let right = is_right_choice(exercise, at);
            let reply = choices.get(at).map(|choice| choice.reply.clone()).filter(|_| !right);
            Marked { right, said: reply.into_iter().filter(|text| !text.is_blank()).collect() }
        }
        (Answer::Turned(conditions), Given::Turned(scratch)) => mark_turned(conditions, scratch),
        _ => Marked { right: false, said: Vec::new() },
    }
}

/// Whether all claims of a choice are true of the exercise's train.
pub fn is_right_choice(exercise: &Exercise, at: usize) -> bool {
    let Answer::Choice(choices) = &exercise.answer else { return false };
    choices.get(at).is_some_and(|choice| choice.claims.iter().all(|claim| holds(&exercise.plan, claim)))
}

/// A figure of a train in a state; none where the train has no such thing.
pub fn measured(figures: &Figures, of: &Measured, state: usize) -> Option<Quantity> {
    let reading = Reading::in_state(0, figures, state)?;
    let bounds = Bounds::of(&figures.plan, &figures.consist);
    let of_wagon = |mark: &VehicleMark, plotted| {
        let vehicle = figures.plan.train.vehicles.iter().position(|vehicle| vehicle.mark == *mark)?;
        Some((plotted, Focus { vehicle: Some(vehicle), rack: None }))
    };
    let (plotted, focus) = match of {
        Measured::AxleLoad(mark, TrainEnd::Front) => of_wagon(mark, Plotted::FrontAxle)?,
        Measured::AxleLoad(mark, TrainEnd::Rear) => of_wagon(mark, Plotted::RearAxle)?,
        Measured::BogieRatio(mark) => of_wagon(mark, Plotted::BogieRatio)?,
        Measured::WheelRatio(mark) => of_wagon(mark, Plotted::WheelRatio)?,
        Measured::RackLoad(rack) => {
            let rack = rack_at(&figures.plan, &figures.consist, rack)?;
            (Plotted::RackLoad, Focus { vehicle: None, rack: Some(rack) })
        }
    };
    bounds.measure(&reading, plotted, focus).map(|measure| measure.quantity)
}

/// Index into the consist of a named rack.
pub fn rack_at(plan: &Plan, consist: &Consist, rack: &RackRef) -> Option<usize> {
    consist.rack_named(plan, rack)
}

fn mark_figure(exercise: &Exercise, of: &Measured, (value, tolerance): (f64, f64)) -> Marked {
    let figures = Figures::of(Arc::clone(&exercise.plan), Scope::One(0));
    let Some(figure) = measured(&figures, of, 0) else {
        return Marked { right: false, said: Vec::new() };
    };
    let right = (value - figure.value).abs() <= tolerance * figure.value.abs();
    let said = match (right, value < figure.value) {
        (true, _) => text!["To the last digit shown it is ", figure, "."],
        (false, true) => text!["It is more than that."],
        (false, false) => text!["It is less than that."],
    };
    Marked { right, said: vec![said] }
}

fn mark_turned(conditions: &[Condition], scratch: &Scratch) -> Marked {
    let figures = Figures::of(scratch.plan(), Scope::All);
    let assessment = assess(&figures);
    let kept: Vec<&str> = conditions
        .iter()
        .filter_map(|condition| match condition {
            Condition::Keeps(checks) => Some(checks.iter().map(String::as_str)),
            _ => None,
        })
        .flatten()
        .collect();
    let mut said: Vec<Text> = Vec::new();
    for condition in conditions {
        match condition {
            Condition::Keeps(_) => {}
            Condition::AtMost(of, most) => match measured(&figures, of, 0) {
                Some(figure) if figure.value <= *most => {}
                Some(figure) => {
                    let most = Quantity { value: *most, kind: figure.kind };
                    said.push(text!["It is ", figure, " now; it must be at most ", most, "."]);
                }
                None => said.push(text!["There is no such figure here."]),
            },
            Condition::Greatest(knob) => {
                let more = scratch.with(*knob, scratch.value(*knob) + knob.step());
                let is_last = more.value(*knob) == scratch.value(*knob);
                let after = assess(&Figures::of(more.plan(), Scope::All));
                let breaks_now = !broken(&assessment, &kept).is_empty();
                if !is_last && !breaks_now && broken(&after, &kept).is_empty() {
                    said.push(text!["All is kept so, but there is room for more."]);
                }
            }
        }
    }
    said.extend(broken(&assessment, &kept));
    Marked { right: said.is_empty(), said }
}

/// What the named checks find broken or undecided, in their own words; the worst of each check.
fn broken(assessment: &Assessment, checks: &[&str]) -> Vec<Text> {
    let worst = |check: &&str| {
        let of_it = assessment.findings.iter().filter(|finding| finding.check.id == *check);
        let worst = of_it.min_by_key(|finding| finding.outcome)?;
        let breaks = matches!(worst.outcome, Outcome::Fail | Outcome::Undecided);
        breaks.then(|| {
            let mut words = text![format!("{}: ", worst.check.title)];
            words.0.extend(worst.what.0.iter().cloned());
            words
        })
    };
    checks.iter().filter_map(worst).collect()
}

/// Whether a claim is true of a plan.
fn holds(plan: &Arc<Plan>, claim: &Claim) -> bool {
    match claim {
        Claim::Finds { check, of, outcome } => is_found(plan, (check, of), outcome),
        Claim::HeldAt { string, at, check, outcome } => {
            let edit = Edit::SetHolds { string: string.clone(), holds: at.clone() };
            after(plan, &edit).is_some_and(|plan| is_found(&plan, (check, ""), outcome))
        }
        Claim::StepsInOrder { strings, check, outcome } => plan.drops.first().is_some_and(|drop| {
            let step = |mark: &StringMark| Step {
                kind: StepKind::Off,
                strings: StepStrings::One(mark.clone()),
                toward: None,
            };
            let to = Drop { steps: strings.iter().map(step).collect(), ..drop.clone() };
            let edit = Edit::Drops(Rows::Change { name: drop.name.clone(), to });
            after(plan, &edit).is_some_and(|plan| is_found(&plan, (check, ""), outcome))
        }),
        Claim::LargestIn { of, state } => {
            let figures = Figures::of(Arc::clone(plan), Scope::All);
            let value = |state: usize| measured(&figures, of, state).map_or(0.0, |figure| figure.value);
            (0..figures.states.len()).all(|other| other == *state || value(other) < value(*state))
        }
    }
}

fn after(plan: &Plan, edit: &Edit) -> Option<Arc<Plan>> {
    edit.apply(plan).ok().map(|applied| Arc::new(applied.plan))
}

/// Whether the worst that a check finds of a thing, of all where none is named, has this outcome.
fn is_found(plan: &Arc<Plan>, (check, of): (&str, &str), outcome: &str) -> bool {
    let assessment = assess(&Figures::of(Arc::clone(plan), Scope::All));
    let found = assessment.findings.iter().filter(|finding| finding.check.id == check);
    let of_it = found.filter(|finding| of.is_empty() || finding.things.join(", ") == of);
    of_it.map(|finding| finding.outcome).min().is_some_and(|worst| worst.word() == outcome)
}
