//! Shifts along the train: of a string, of its pair, of all strings that lie alike, of those with the same trouble.

use super::bench::{Bench, Candidate, batch};
use crate::checks::{Finding, Outcome, Sense};
use crate::edit::{Edit, Move};
use crate::model::{LimitKind, RackSpan, StringMark};
use crate::planning::lay;
use crate::statics::{PlacedString, pair_partner};
use crate::text;
use crate::units::{Length, Quantity, QuantityKind};
use std::collections::BTreeSet;

/// Farther than this is not a shift but another place.
const MOST_SHIFT_MM: i64 = 15_000;
/// The finest step of a search where no place follows from a rule.
const SCAN_MM: i64 = 250;
/// A search without a rule goes this far each way.
const SCAN_REACH_MM: i64 = 3_500;
/// The most sets of strings that are tried.
const MOST_SETS: usize = 6;

/// Strings that are shifted together.
struct Set<'a> {
    strings: Vec<&'a PlacedString>,
    /// Of the shifts toward the rear, and of those toward the front.
    families: [&'static str; 2],
    words: String,
}

/// Shifts by which ends come to rest within the plan's limits, and by what the finding lacks.
pub(super) fn along(bench: &Bench<'_>) -> Vec<Candidate> {
    let mut candidates = Vec::new();
    for set in sets(bench) {
        let Some(lead) = set.strings.first() else { continue };
        for shift_mm in shifts_mm(bench, lead) {
            candidates.push(shifted(bench, &set, Length::from_mm(shift_mm)));
        }
    }
    candidates
}

fn shifted(bench: &Bench<'_>, set: &Set<'_>, by: Length) -> Candidate {
    let moves = set.strings.iter().filter_map(|placed| {
        let at = bench.plan().placements.get(placed.placement)?;
        Some(Move { string: at.string.clone(), tier: at.tier, lane: at.lane, front: at.front + by })
    });
    let toward = if by.is_negative() { "front" } else { "rear" };
    let family = set.families[usize::from(by.is_negative())];
    let edit = bench.moved(&format!("Shift {}", set.words), moves.collect());
    let shown = Quantity::length(by.abs());
    let cost = by.abs().m() + 0.05 * set.strings.len() as f64;
    Candidate {
        label: text![format!("Shift {} toward the {toward} by ", set.words), shown],
        edit,
        cost,
        family,
    }
}

/// What may be shifted together for the finding.
fn sets<'a>(bench: &Bench<'a>) -> Vec<Set<'a>> {
    let strings: Vec<&PlacedString> =
        bench.strings().into_iter().filter(|placed| bench.is_free(placed)).collect();
    let mut sets: Vec<Vec<&PlacedString>> = Vec::new();
    for placed in strings {
        for set in [with_partner(bench, placed), like_this(bench, placed), vec![placed]] {
            let mut set: Vec<&PlacedString> = set;
            set.sort_by_key(|placed| placed.placement);
            if !sets.contains(&set) {
                sets.push(set);
            }
        }
    }
    let alike = same_trouble(bench);
    if alike.len() > 1 && !sets.contains(&alike) {
        sets.push(alike);
    }
    // Of many strings, larger sets do more with one step.
    if sets.len() > MOST_SETS {
        sets.sort_by_key(|set| std::cmp::Reverse(set.len()));
        sets.truncate(MOST_SETS);
    }
    sets.into_iter().map(|strings| named(bench, strings)).collect()
}

fn named<'a>(bench: &Bench<'a>, strings: Vec<&'a PlacedString>) -> Set<'a> {
    let mark = |placed: &&PlacedString| bench.mark(placed.string).map_or("?", StringMark::as_str);
    let (families, words) = match strings.as_slice() {
        [one] => (["string rearward", "string forward"], format!("string {}", mark(one))),
        [a, b] => (["pair rearward", "pair forward"], format!("strings {} and {}", mark(a), mark(b))),
        [first, .., last] => {
            let words = format!("{} strings ({} to {})", strings.len(), mark(first), mark(last));
            (["set rearward", "set forward"], words)
        }
        [] => (["", ""], String::new()),
    };
    Set { strings, families, words }
}

/// The string and the other of its pair, which comes along so that they stay mirror images.
fn with_partner<'a>(bench: &Bench<'a>, placed: &'a PlacedString) -> Vec<&'a PlacedString> {
    let mark = bench.mark(placed.string);
    let partner = mark.and_then(|mark| pair_partner(bench.plan(), bench.consist(), mark));
    let placed_at = |mark: &StringMark| {
        let string = bench.plan().order.iter().position(|string| string.mark == *mark)?;
        bench.placed(string)
    };
    let partner = partner.and_then(|partner| placed_at(&partner.string)).filter(|other| bench.is_free(other));
    std::iter::once(placed).chain(partner).collect()
}

/// All strings of the same length with the same front end: a set that was laid as one.
fn like_this<'a>(bench: &Bench<'a>, placed: &PlacedString) -> Vec<&'a PlacedString> {
    let same = |other: &&PlacedString| (other.front, other.rear) == (placed.front, placed.rear);
    bench.figures.placed.iter().filter(same).filter(|other| bench.is_free(other)).collect()
}

/// All strings with the same check broken at the same places.
fn same_trouble<'a>(bench: &Bench<'a>) -> Vec<&'a PlacedString> {
    let is_like = |other: &&Finding| {
        other.check.id == bench.finding.check.id
            && other.outcome == Outcome::Fail
            && other.things.get(1) == bench.finding.things.get(1)
            && other.things.len() > 1
    };
    let strings: BTreeSet<usize> = bench
        .assessment
        .findings
        .iter()
        .filter(is_like)
        .filter_map(|finding| match finding.subject {
            crate::checks::Subject::StringEnd(at, _) | crate::checks::Subject::StringAtRack(at, _) => {
                Some(at)
            }
            _ => None,
        })
        .collect();
    let free = |placed: &&PlacedString| strings.contains(&placed.string) && bench.is_free(placed);
    bench.figures.placed.iter().filter(free).collect()
}

/// How far to shift, in mm, rearward positive: each shift once.
fn shifts_mm(bench: &Bench<'_>, lead: &PlacedString) -> BTreeSet<i64> {
    let mut shifts: BTreeSet<i64> = BTreeSet::new();
    let lacks = lacking_mm(bench);
    shifts.extend(lacks.iter().flat_map(|lack| [*lack, -lack]));
    let edges = edge_shifts_mm(bench, lead);
    shifts.extend(edges.iter().copied());
    // What an end lacks after creep is lacking beyond the edge of the limit, too.
    let nearest = edges.iter().filter(|edge| edge.abs() < SCAN_REACH_MM);
    shifts.extend(nearest.flat_map(|edge| lacks.iter().flat_map(move |lack| [edge + lack, edge - lack])));
    let steps = SCAN_REACH_MM / SCAN_MM;
    shifts.extend((-steps..=steps).map(|step| step * SCAN_MM));
    shifts.remove(&0);
    shifts.retain(|shift| shift.abs() <= MOST_SHIFT_MM);
    shifts
}

/// What a comparison of lengths lacks: up to its limit, and up to where it is no longer near.
fn lacking_mm(bench: &Bench<'_>) -> Vec<i64> {
    let Some(compared) = bench.finding.comparison else { return Vec::new() };
    if !matches!(compared.demand.kind, QuantityKind::Length | QuantityKind::SmallLength) {
        return Vec::new();
    }
    let near = bench.plan().limits.near_share();
    let (demand, limit) = (compared.demand.value, compared.capacity.value);
    let wanted = match compared.sense {
        Sense::AtMost => [limit, limit * near],
        // A millimetre more, since a share of exactly the margin still is near.
        Sense::AtLeast => [limit, limit / near + 0.001],
    };
    let lacks = wanted.into_iter().map(|wanted| ((wanted - demand).abs() * 1000.0).ceil());
    lacks.filter(|mm| *mm >= 1.0 && *mm <= MOST_SHIFT_MM as f64).map(|mm| mm as i64).collect()
}

/// Shifts after which an end reaches just as far past a rack as the limits want or allow, or both ends alike.
fn edge_shifts_mm(bench: &Bench<'_>, lead: &PlacedString) -> Vec<i64> {
    let plan = bench.plan();
    let limit = |kind| plan.limits.get(kind).map(|limit| limit.running);
    let near = plan.limits.near_share();
    let bounds: Vec<Length> = [
        limit(LimitKind::LeastOverhang).map(|least| least / near + 0.001),
        limit(LimitKind::GreatestOverhang).map(|most| most * near),
    ]
    .into_iter()
    .flatten()
    .map(Length::from_m_rounded)
    .collect();
    let mut shifts = Vec::new();
    let racks = &bench.consist().racks;
    let close = |x: Length, end: Length| (x - end).abs().mm() <= MOST_SHIFT_MM;
    for first in racks.iter().filter(|rack| close(rack.x, lead.front)) {
        shifts.extend(bounds.iter().map(|bound| (first.x - *bound - lead.front).mm()));
        let last = racks.iter().rev().find(|last| last.x - first.x < lead.rear - lead.front);
        // Both ends reach alike past their last racks.
        shifts.extend(last.map(|last| (first.x + last.x - lead.front - lead.rear).mm() / 2));
    }
    for last in racks.iter().filter(|rack| close(rack.x, lead.rear)) {
        shifts.extend(bounds.iter().map(|bound| (last.x + *bound - lead.rear).mm()));
    }
    shifts
}

/// Says that strings are meant for just those racks that they lie on, where they are or after a shift.
pub(super) fn meant(bench: &Bench<'_>) -> Vec<Candidate> {
    let is_meant = |placed: &&PlacedString| {
        bench.plan().placements.get(placed.placement).is_some_and(|placement| placement.rests_on.is_some())
    };
    let mut candidates = Vec::new();
    for set in sets(bench) {
        let Some(lead) = set.strings.first().filter(|_| set.strings.iter().all(is_meant)) else { continue };
        for shift_mm in std::iter::once(0).chain(shifts_mm(bench, lead)) {
            candidates.extend(meant_after(bench, &set, Length::from_mm(shift_mm)));
        }
    }
    candidates
}

/// A shift, none included, after which all strings of a set are meant for the racks that they then cross.
fn meant_after(bench: &Bench<'_>, set: &Set<'_>, by: Length) -> Option<Candidate> {
    let (plan, consist) = (bench.plan(), bench.consist());
    let shift = shifted(bench, set, by);
    let mut edits = if by == Length::ZERO { Vec::new() } else { vec![shift.edit] };
    let mut words = String::new();
    for placed in &set.strings {
        let racks = consist.racks_between(placed.front + by, placed.rear + by);
        let first = lay::rack_ref(plan, consist, racks.start)?;
        let last = lay::rack_ref(plan, consist, racks.end.checked_sub(1)?)?;
        words = format!("{} rack {} to {} rack {}", first.vehicle, first.rack, last.vehicle, last.rack);
        let string = plan.placements.get(placed.placement)?.string.clone();
        edits.push(Edit::SetRestsOn { string, rests_on: Some(RackSpan { first, last }) });
    }
    let mut label = if by == Length::ZERO { text!["Let "] } else { shift.label };
    label.0.push(match by {
        Length::ZERO => format!("{} rest on {words} only", set.words).into(),
        _ => format!(", to rest on {words} only").into(),
    });
    // A change of mind rather than of the load: after every shift.
    let family = match set.strings.len() {
        1 => "meant",
        2 => "pair meant",
        _ => "set meant",
    };
    Some(Candidate {
        label,
        edit: batch(&format!("Change racks meant for {}", set.words), edits),
        cost: 20.0 + shift.cost,
        family,
    })
}
