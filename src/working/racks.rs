//! Workings of what racks bear: pocket, tier, whole rack.

use super::figure::{At, BEAM_SOURCE, Depends, Figure};
use super::{Question, Working, WorkingRow, WorkingStep};
use crate::checks::Subject;
use crate::model::Placement;
use crate::statics::{Figures, PlacedString};
use crate::units::Quantity;

/// The figures of racks.
pub(super) const FIGURES: &[Figure] = &[
    figure("pocket-load", "Load in a pocket", pockets, pocket_load),
    figure("tier-load", "Load on a tier of a rack", tiers, tier_load),
    figure("rack-load", "Load on a rack", racks, rack_load),
];

const fn figure(
    name: &'static str,
    title: &'static str,
    subjects: fn(&Figures) -> Vec<Subject>,
    working: fn(&At<'_>, Subject) -> Option<Working>,
) -> Figure {
    Figure { name, title, depends: Depends::State, subjects, working }
}

fn racks(figures: &Figures) -> Vec<Subject> {
    (0..figures.consist.racks.len()).map(Subject::Rack).collect()
}

fn tiers(figures: &Figures) -> Vec<Subject> {
    let of_rack = |rack: usize| {
        let kind = figures.consist.racks.get(rack).and_then(|rack| {
            let types = &figures.plan.train.rack_types;
            types.get(rack.rack_type)
        });
        let count = kind.map_or(0, |kind| kind.tiers.len());
        (1..).take(count).map(move |tier| Subject::RackTier(rack, tier))
    };
    (0..figures.consist.racks.len()).flat_map(of_rack).collect()
}

fn pockets(figures: &Figures) -> Vec<Subject> {
    let mut pockets: Vec<Subject> = figures
        .placed
        .iter()
        .filter(|placed| placed.beam.is_ok())
        .filter_map(|placed| Some((placed, figures.plan.placements.get(placed.placement)?)))
        .flat_map(|(placed, at)| placed.racks.clone().map(|rack| Subject::Pocket(rack, at.tier, at.lane)))
        .collect();
    pockets.sort_unstable();
    pockets.dedup();
    pockets
}

fn pocket_load(at: &At<'_>, subject: Subject) -> Option<Working> {
    let Subject::Pocket(rack, tier, lane) = subject else { return None };
    sum_of_strings(at, subject, rack, |placement| placement.tier == tier && placement.lane == lane)
}

fn tier_load(at: &At<'_>, subject: Subject) -> Option<Working> {
    let Subject::RackTier(rack, tier) = subject else { return None };
    at.worked()?.rack_tiers_kg.get(rack)?.get((tier as usize).checked_sub(1)?)?;
    sum_of_strings(at, subject, rack, |placement| placement.tier == tier)
}

fn rack_load(at: &At<'_>, subject: Subject) -> Option<Working> {
    let Subject::Rack(rack) = subject else { return None };
    let tiers_kg = at.worked()?.rack_tiers_kg.get(rack)?;
    let rows = (1..).zip(tiers_kg).map(|(tier, kg)| WorkingRow {
        name: format!("tier {tier}"),
        values: vec![Quantity::mass(*kg)],
        figure: Some(Question::new("tier-load", Subject::RackTier(rack, tier))),
    });
    let total = Quantity::mass(at.worked()?.rack_kg(rack));
    let step = WorkingStep::new(("F", "load on the rack"), total, "sum(T)")
        .over(&[("T", "load on the tier")], rows.collect());
    Some(at.start(subject, BEAM_SOURCE).step(step))
}

/// The sum of what the strings of some pockets put on a rack.
fn sum_of_strings(
    at: &At<'_>,
    subject: Subject,
    rack: usize,
    wanted: impl Fn(&Placement) -> bool,
) -> Option<Working> {
    let mut rows = Vec::new();
    let mut sum_kg = 0.0;
    for placed in at.present() {
        let placement = at.figures.plan.placements.get(placed.placement)?;
        let Some(kg) = carried_kg(placed, rack).filter(|_| wanted(placement)) else { continue };
        sum_kg += kg;
        rows.push(WorkingRow {
            name: Subject::String(placed.string).place(at.figures),
            values: vec![Quantity::mass(kg)],
            figure: Some(Question::new("reaction", Subject::StringAtRack(placed.string, rack))),
        });
    }
    let step = WorkingStep::new(("F", "load"), Quantity::mass(sum_kg), "sum(F1)")
        .over(&[("F1", "what the rack carries of the string")], rows);
    Some(at.start(subject, BEAM_SOURCE).step(step))
}

/// What a rack carries of a string in kg; none where the string does not cross it.
pub(super) fn carried_kg(placed: &PlacedString, rack: usize) -> Option<f64> {
    placed.carried_kg.get(rack.checked_sub(placed.racks.start)?).copied()
}
