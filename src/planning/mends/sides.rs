//! Left and right: mirrored lanes, swapped pockets, and strings from the yard for the lighter side.

use super::bench::{Bench, Candidate, batch};
use super::pockets::to_pocket;
use crate::checks::Subject;
use crate::edit::{Edit, Move};
use crate::model::{Placement, Plan, StringMark};
use crate::planning::lay::{self, Pocket};
use crate::statics::{PlacedString, alike, mirrored_lane};
use crate::text;
use crate::units::Text;

/// The most changes that are made together.
const MOST_TOGETHER: usize = 6;
/// The most changes that are tried for each of them.
const MOST_TRIED: usize = 48;

/// Brings left and right nearer to each other, one change after the other, until the finding is gone.
pub(super) fn balance(bench: &Bench<'_>) -> Vec<Candidate> {
    let mut found = search(bench, "mirror", "Balance", mirrored);
    found.extend(search(bench, "swap", "Swap", swapped));
    found.extend(search(bench, "fill", "Fill", filled));
    found
}

/// Of the changes that `singles` gives, makes the one that helps most, then again on what comes of it, until the
/// finding is gone; gives the whole as one candidate, or none where it is not mended.
pub(super) fn search(
    bench: &Bench<'_>,
    family: &'static str,
    verb: &str,
    singles: impl Fn(&Bench<'_>) -> Vec<Candidate>,
) -> Vec<Candidate> {
    let mut made: Vec<Candidate> = Vec::new();
    let mut used = bench.finding.comparison.map_or(f64::INFINITY, |compared| compared.utilisation());
    let mut figures = bench.figures.clone();
    for _ in 0..MOST_TOGETHER {
        let here = Bench { figures: &figures, ..*bench };
        let mut tried = singles(&here);
        tried.truncate(MOST_TRIED);
        let uses = tried.into_iter().filter_map(|single| Some((here.use_after(&single.edit)?, single)));
        let best = uses.min_by(|a, b| a.0.total_cmp(&b.0).then_with(|| a.1.cost.total_cmp(&b.1.cost)));
        let Some((best_use, best)) = best.filter(|(after, _)| *after < used) else { break };
        let Some(after) = here.after(&best.edit) else { break };
        used = best_use;
        made.push(best);
        let whole = together(&made, family, verb);
        if bench.is_mended_by(&whole.edit) {
            return vec![whole];
        }
        figures = after;
    }
    Vec::new()
}

/// Several changes as one.
fn together(made: &[Candidate], family: &'static str, verb: &str) -> Candidate {
    let cost = made.iter().map(|single| single.cost).sum();
    let edits: Vec<Edit> = made.iter().map(|single| single.edit.clone()).collect();
    let (label, words) = match made {
        [one] => (one.label.clone(), format!("{verb} strings")),
        many => {
            let mut label = Text::default();
            for (at, single) in many.iter().enumerate() {
                if at > 0 {
                    label.0.push("; ".into());
                }
                label.0.extend(single.label.0.clone());
            }
            (label, format!("{verb} {} strings", many.len()))
        }
    };
    Candidate { label, edit: batch(&words, edits), cost, family }
}

/// Strings in the finding's place that lie to the mirrored lane of their tier where that is free.
fn mirrored(bench: &Bench<'_>) -> Vec<Candidate> {
    let of = |placed: &PlacedString| {
        let at = bench.plan().placements.get(placed.placement)?;
        let pocket = opposite(bench, placed, at)?;
        let string = bench.plan().string(&at.string)?;
        let free = lay::in_the_way(bench.plan(), string, pocket, at.front).is_empty();
        let label = text![format!("Mirror string {} to lane {}", at.string, pocket.lane)];
        free.then(|| Candidate { label, ..to_pocket(bench, at, pocket, "mirror") })
    };
    let free = bench.strings().into_iter().filter(|placed| bench.is_free(placed));
    free.filter_map(of).collect()
}

/// The pocket on the other side of the train.
fn opposite(bench: &Bench<'_>, placed: &PlacedString, at: &Placement) -> Option<Pocket> {
    let lane = mirrored_lane(bench.consist(), placed.racks.clone(), at.lane)?;
    (lane != at.lane).then_some(Pocket { tier: at.tier, lane })
}

/// Two strings of the finding's place that change pockets: one of each side, or of different lanes.
fn swapped(bench: &Bench<'_>) -> Vec<Candidate> {
    let strings: Vec<&PlacedString> =
        bench.strings().into_iter().filter(|placed| bench.is_free(placed)).collect();
    let at = |placed: &PlacedString| bench.plan().placements.get(placed.placement);
    let mut candidates = Vec::new();
    for (index, first) in strings.iter().enumerate() {
        for second in &strings[index + 1..] {
            let (Some(a), Some(b)) = (at(first), at(second)) else { continue };
            // Like strings that change places change nothing.
            let differ = (first.mass_kg - second.mass_kg).abs() > 1.0 || a.front != b.front;
            if !differ || a.tier != b.tier {
                continue;
            }
            let edit = Edit::SwapPockets { first: a.string.clone(), second: b.string.clone() };
            let label = text![format!("Swap strings {} and {}", a.string, b.string)];
            candidates.push(Candidate { label, edit, cost: 2.0, family: "swap" });
        }
    }
    candidates
}

/// Strings from the yard list into free pockets opposite a string that they can pair with.
fn filled(bench: &Bench<'_>) -> Vec<Candidate> {
    let (plan, consist) = (bench.plan(), bench.consist());
    let mut candidates = Vec::new();
    let waiting: Vec<_> = plan.order.iter().filter(|string| plan.placement(&string.mark).is_none()).collect();
    for placed in bench.strings() {
        let Some(at) = plan.placements.get(placed.placement) else { continue };
        let Some(pocket) = opposite(bench, placed, at) else { continue };
        let Some(own) = plan.string(&at.string) else { continue };
        for string in waiting.iter().filter(|string| alike(own, string)) {
            if !lay::in_the_way(plan, string, pocket, at.front).is_empty() {
                continue;
            }
            let hold = lay::propose_hold(plan, consist, at.front, at.front + string.length);
            let placement = Placement {
                string: string.mark.clone(),
                tier: pocket.tier,
                lane: pocket.lane,
                front: at.front,
                holds: hold.into_iter().collect(),
                rests_on: None,
                locked: false,
            };
            let label = text![format!("Place string {} opposite {}", string.mark, at.string)];
            candidates.push(Candidate { label, edit: Edit::Place { placement }, cost: 1.5, family: "fill" });
        }
    }
    candidates
}

/// Lays one string of a declared pair as the mirror image of the other.
pub(super) fn as_pair(bench: &Bench<'_>) -> Vec<Candidate> {
    let Subject::Strings(a, b) = bench.finding.subject else { return Vec::new() };
    [(a, b), (b, a)].into_iter().filter_map(|(stays, moves)| mirror_of(bench, stays, moves)).collect()
}

fn mirror_of(bench: &Bench<'_>, stays: usize, moves: usize) -> Option<Candidate> {
    let plan: &Plan = bench.plan();
    let (fixed, moved) = (bench.placed(stays)?, bench.placed(moves)?);
    let (at, from) = (plan.placements.get(fixed.placement)?, plan.placements.get(moved.placement)?);
    let pocket = opposite(bench, fixed, at)?;
    let step = Move { string: from.string.clone(), tier: pocket.tier, lane: pocket.lane, front: at.front };
    let names: [&StringMark; 2] = [&from.string, &at.string];
    let words = format!("Lay string {} as the mirror image of {}", names[0], names[1]);
    let edit = bench.moved(&words, vec![step]);
    let cost = 0.5 + (from.front - at.front).abs().m();
    Some(Candidate {
        label: text![words],
        edit,
        cost,
        family: if stays < moves { "second" } else { "first" },
    })
}
