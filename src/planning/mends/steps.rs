//! Other orders of steps, and the other end to unload over.

use super::bench::{Bench, Candidate, batch};
use crate::checks::Subject;
use crate::edit::{Edit, Rows, StepPlace};
use crate::model::{Drop, Step, StepStrings, TrainEnd};
use crate::statics::StateKind;
use crate::text;

/// The most places that a step is tried at.
const MOST_PLACES: usize = 40;

/// Lets the step come later, or lets a later one come first.
pub(super) fn order(bench: &Bench<'_>) -> Vec<Candidate> {
    let Subject::Step(drop, step) = bench.finding.subject else { return Vec::new() };
    let Some(site) = bench.plan().drops.get(drop) else { return Vec::new() };
    let later = step + 1..site.steps.len();
    let earlier = 0..step;
    let own = later.clone().chain(earlier).map(|to| (step, to));
    let others = later.map(|from| (from, step));
    let mut moves: Vec<(usize, usize)> = own.chain(others).collect();
    moves.sort_by_key(|(from, to)| from.abs_diff(*to));
    moves.truncate(MOST_PLACES);
    moves.into_iter().map(|(from, to)| moved(site, from, to)).collect()
}

/// In a drop that is under way, takes a later step of it next, if the checks like it, or the two sides in turn.
pub(super) fn other_side_first(bench: &Bench<'_>) -> Vec<Candidate> {
    let state = bench.figures.states.get(bench.state()).map(|state| state.kind);
    let (StateKind::AfterStep { drop, step } | StateKind::HalfPair { drop, step, .. }) =
        state.unwrap_or(StateKind::Departure)
    else {
        return Vec::new();
    };
    let Some(site) = bench.plan().drops.get(drop) else { return Vec::new() };
    let later = step + 1..site.steps.len();
    let places = later.flat_map(|from| [(from, step), (from, step + 1)]);
    let moved =
        places.filter(|(from, to)| from != to).take(MOST_PLACES).map(|(from, to)| moved(site, from, to));
    moved.chain(in_turn(bench, site)).collect()
}

/// All single strings of a drop, one of the left side and one of the right in turn; pairs keep their places. None
/// where that is their order already.
fn in_turn(bench: &Bench<'_>, site: &Drop) -> Option<Candidate> {
    let is_single = |step: &&Step| matches!(step.strings, StepStrings::One(_));
    let (left, right): (Vec<&Step>, Vec<&Step>) =
        site.steps.iter().filter(is_single).partition(|step| y_m(bench, step) < 0.0);
    let mut sides = [left.into_iter(), right.into_iter()];
    // The side that went first still goes first.
    let mut next = usize::from(site.steps.iter().find(is_single).is_some_and(|step| y_m(bench, step) >= 0.0));
    let mut steps = Vec::with_capacity(site.steps.len());
    for step in &site.steps {
        if !is_single(&step) {
            steps.push(step.clone());
            continue;
        }
        let taken = sides[next].next().or_else(|| sides[1 - next].next())?;
        steps.push(taken.clone());
        next = 1 - next;
    }
    if steps == site.steps {
        return None;
    }
    let words = format!("Take the two sides off in turn at {}", site.name);
    let to = Drop { steps, ..site.clone() };
    let edit = batch(&words, vec![Edit::Drops(Rows::Change { name: site.name.clone(), to })]);
    Some(Candidate { label: text![words], edit, cost: 8.0, family: "in turn" })
}

/// How far beside the middle the string of a step lies, in m, to the right positive.
fn y_m(bench: &Bench<'_>, step: &Step) -> f64 {
    let mark = step.strings.marks().next();
    let string = bench.plan().order.iter().position(|string| Some(&string.mark) == mark);
    let placed = string.and_then(|string| bench.placed(string));
    placed.map_or(0.0, |placed| placed.y_m.iter().sum::<f64>() / placed.y_m.len().max(1) as f64)
}

fn moved(site: &Drop, from: usize, to: usize) -> Candidate {
    let place = |step| StepPlace { drop: site.name.clone(), step };
    let words = site.steps.get(from).map(step_words).unwrap_or_default();
    let label = format!("Let {words} be step {} of {} instead of step {}", to + 1, site.name, from + 1);
    let family = if to > from { "later" } else { "earlier" };
    let cost = 1.0 + 0.2 * from.abs_diff(to) as f64;
    Candidate { label: text![label], edit: Edit::MoveStep { from: place(from), to: place(to) }, cost, family }
}

/// The strings of a step.
fn step_words(step: &Step) -> String {
    let marks: Vec<&str> = step.strings.marks().map(|mark| mark.as_str()).collect();
    marks.join(" and ")
}

/// Lets the step, or all of its drop, go over the other end of the train.
pub(super) fn over_other_end(bench: &Bench<'_>) -> Vec<Candidate> {
    let Subject::Step(at, step_at) = bench.finding.subject else { return Vec::new() };
    let Some(site) = bench.plan().drops.get(at) else { return Vec::new() };
    let Some(step) = site.steps.get(step_at) else { return Vec::new() };
    let now = step.toward.unwrap_or(site.toward);
    let (other, words) = match now {
        TrainEnd::Front => (TrainEnd::Rear, "rear"),
        TrainEnd::Rear => (TrainEnd::Front, "front"),
    };
    let mut one = site.clone();
    if let Some(step) = one.steps.get_mut(step_at) {
        step.toward = Some(other).filter(|end| *end != site.toward);
    }
    let mut all = site.clone();
    all.toward = other;
    all.steps.iter_mut().for_each(|step| step.toward = None);
    let change = |to: Drop| Edit::Drops(Rows::Change { name: site.name.clone(), to });
    let of_step = format!("Let {} go over the {words} end", step_words(step));
    let of_drop = format!("Let all strings of {} go over the {words} end", site.name);
    vec![
        Candidate { label: text![of_step], edit: change(one), cost: 3.0, family: "end of a step" },
        Candidate { label: text![of_drop], edit: change(all), cost: 6.0, family: "end of a drop" },
    ]
}
