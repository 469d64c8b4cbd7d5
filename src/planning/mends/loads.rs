//! Less load where there is too much: other tiers, lower tiers, a turned vehicle, and as the last resort strings
//! that stay behind.

use super::bench::{Bench, Candidate, batch};
use super::pockets::{free_pockets, to_pocket};
use super::sides::search;
use crate::edit::Edit;
use crate::model::StringMark;
use crate::planning::lay::Pocket;
use crate::statics::{PlacedString, pair_partner};
use crate::text;

/// The most strings that are tried one by one.
const MOST_STRINGS: usize = 16;

/// Puts strings of an overloaded tier into free pockets of other tiers.
pub(super) fn other_tiers(bench: &Bench<'_>) -> Vec<Candidate> {
    search(bench, "tiers", "Move", |bench| to_tiers(bench, |from, to| from != to))
}

/// Puts the highest strings into free pockets farther down.
pub(super) fn lower(bench: &Bench<'_>) -> Vec<Candidate> {
    search(bench, "lower", "Lower", |bench| to_tiers(bench, |from, to| to < from))
}

/// Single moves to the first free pocket of each tier that is `wanted`, the highest strings first.
fn to_tiers(bench: &Bench<'_>, wanted: impl Fn(u32, u32) -> bool) -> Vec<Candidate> {
    let plan = bench.plan();
    let mut strings: Vec<&PlacedString> =
        bench.strings().into_iter().filter(|placed| bench.is_free(placed)).collect();
    let tier = |placed: &PlacedString| plan.placements.get(placed.placement).map_or(0, |at| at.tier);
    strings.sort_by_key(|placed| (std::cmp::Reverse(tier(placed)), placed.placement));
    strings.truncate(MOST_STRINGS);
    let mut candidates = Vec::new();
    for placed in strings {
        let Some(at) = plan.placements.get(placed.placement) else { continue };
        let mut tiers: Vec<u32> = Vec::new();
        let free: Vec<Pocket> = free_pockets(bench, at);
        for pocket in free.into_iter().filter(|pocket| wanted(at.tier, pocket.tier)) {
            // The nearest lane of each tier is enough: which lane it is matters little here.
            if !tiers.contains(&pocket.tier) {
                tiers.push(pocket.tier);
                candidates.push(to_pocket(bench, at, pocket, "tier"));
            }
        }
    }
    candidates
}

/// Turns the vehicle round, so that a lopsided tare counts the other way.
pub(super) fn turned(bench: &Bench<'_>) -> Vec<Candidate> {
    let Some(vehicle) = bench.vehicle().and_then(|at| bench.plan().train.vehicles.get(at)) else {
        return Vec::new();
    };
    let mark = vehicle.mark.clone();
    let label = text![format!("Turn vehicle {mark} round")];
    vec![Candidate { label, edit: Edit::Turn { vehicles: vec![mark] }, cost: 30.0, family: "turn" }]
}

/// Takes off a string, or a pair, that lies there; it then waits in the yard list.
pub(super) fn off(bench: &Bench<'_>) -> Vec<Candidate> {
    let mut strings: Vec<&PlacedString> =
        bench.strings().into_iter().filter(|placed| bench.is_free(placed)).collect();
    strings.sort_by(|a, b| b.mass_kg.total_cmp(&a.mass_kg).then_with(|| a.placement.cmp(&b.placement)));
    strings.truncate(MOST_STRINGS / 2);
    let mut candidates = Vec::new();
    for mark in strings.iter().filter_map(|placed| bench.mark(placed.string)) {
        candidates.push(taken_off(std::slice::from_ref(mark)));
        if let Some(partner) = pair_partner(bench.plan(), bench.consist(), mark) {
            candidates.push(taken_off(&[mark.clone(), partner.string.clone()]));
        }
    }
    candidates
}

fn taken_off(strings: &[StringMark]) -> Candidate {
    let marks: Vec<&str> = strings.iter().map(StringMark::as_str).collect();
    let words = format!("Take {} off the train", marks.join(" and "));
    let edit = batch(&words, vec![Edit::TakeOff { strings: strings.to_vec() }]);
    Candidate { label: text![words], edit, cost: 50.0 + strings.len() as f64, family: "off" }
}
