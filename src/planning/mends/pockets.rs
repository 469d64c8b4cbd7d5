//! Other pockets: one for a string that waits in the yard, another for one that does not fit where it lies.

use super::bench::{Bench, Candidate};
use crate::edit::{Edit, Move};
use crate::model::Placement;
use crate::planning::lay::{self, Pocket};
use crate::text;
use std::collections::BTreeSet;

/// The most pockets that are tried for a string.
const MOST_POCKETS: usize = 24;

/// Puts a string of the order that is not on the train into the first free pocket, tried along the train.
pub(super) fn place(bench: &Bench<'_>) -> Vec<Candidate> {
    let (plan, consist) = (bench.plan(), bench.consist());
    let crate::checks::Subject::String(at) = bench.finding.subject else { return Vec::new() };
    let Some(string) = plan.order.get(at).filter(|string| plan.placement(&string.mark).is_none()) else {
        return Vec::new();
    };
    let racks = consist.racks.len();
    let mut tried = BTreeSet::new();
    // From the middle outward: most strings cross the middle.
    let mut order: Vec<usize> = (0..racks).collect();
    order.sort_by_key(|rack| (2 * rack + 1).abs_diff(racks));
    let mut candidates = Vec::new();
    for rack in order {
        let Some((pocket, front)) = lay::first_free_pocket(plan, consist, string, rack) else { continue };
        if candidates.len() == MOST_POCKETS || !tried.insert((pocket, front)) {
            continue;
        }
        let hold = lay::propose_hold(plan, consist, front, front + string.length);
        let placement = Placement {
            string: string.mark.clone(),
            tier: pocket.tier,
            lane: pocket.lane,
            front,
            holds: hold.into_iter().collect(),
            rests_on: None,
            locked: false,
        };
        let words = format!(
            "Place string {} in tier {} lane {}, beginning at {}",
            string.mark,
            pocket.tier,
            pocket.lane,
            first_rack_words(bench, front)
        );
        let edit = Edit::Place { placement };
        candidates.push(Candidate {
            label: text![words],
            edit,
            cost: candidates.len() as f64,
            family: "place",
        });
    }
    candidates
}

/// The first rack behind a front end, in words.
fn first_rack_words(bench: &Bench<'_>, front: crate::units::Length) -> String {
    let rack = bench.consist().racks.partition_point(|rack| rack.x < front);
    lay::rack_words(bench.plan(), bench.consist(), rack)
}

/// Moves a string to a free pocket beside, above or below, where it keeps its place along the train.
pub(super) fn elsewhere(bench: &Bench<'_>) -> Vec<Candidate> {
    let mut candidates = Vec::new();
    for placed in bench.strings().into_iter().filter(|placed| bench.is_free(placed)) {
        let Some(at) = bench.plan().placements.get(placed.placement) else { continue };
        for pocket in free_pockets(bench, at) {
            candidates.push(to_pocket(bench, at, pocket, "pocket"));
        }
    }
    candidates
}

/// The candidate that moves a placement to another pocket.
pub(super) fn to_pocket(
    bench: &Bench<'_>,
    at: &Placement,
    pocket: Pocket,
    family: &'static str,
) -> Candidate {
    let step = Move { string: at.string.clone(), tier: pocket.tier, lane: pocket.lane, front: at.front };
    let words = format!("string {} to tier {} lane {}", at.string, pocket.tier, pocket.lane);
    let away = f64::from(pocket.tier.abs_diff(at.tier)) * 2.0 + f64::from(pocket.lane.abs_diff(at.lane));
    let edit = bench.moved(&format!("Move {words}"), vec![step]);
    Candidate { label: text![format!("Move {words}")], edit, cost: 0.5 + 0.3 * away, family }
}

/// Pockets in which a placement would lie free at its front end, the nearest first.
pub(super) fn free_pockets(bench: &Bench<'_>, at: &Placement) -> Vec<Pocket> {
    let (plan, consist) = (bench.plan(), bench.consist());
    let Some(string) = plan.string(&at.string) else { return Vec::new() };
    let racks = consist.racks_between(at.front, at.front + string.length);
    let kinds = consist.racks.get(racks).unwrap_or_default().iter();
    let kinds = kinds.filter_map(|rack| plan.train.rack_types.get(rack.rack_type));
    let counts = kinds.map(|kind| (kind.tiers.len() as u32, kind.lanes_y_mm.len() as u32));
    let Some((tiers, lanes)) = counts.reduce(|a, b| (a.0.min(b.0), a.1.min(b.1))) else { return Vec::new() };
    let all = (1..=tiers).flat_map(|tier| (1..=lanes).map(move |lane| Pocket { tier, lane }));
    let mut free: Vec<Pocket> = all
        .filter(|pocket| *pocket != Pocket::of(at))
        .filter(|pocket| lay::in_the_way(plan, string, *pocket, at.front).is_empty())
        .collect();
    free.sort_by_key(|pocket| (2 * pocket.tier.abs_diff(at.tier) + pocket.lane.abs_diff(at.lane), *pocket));
    free.truncate(MOST_POCKETS);
    free
}
