//! Heights on pictures: decks, tiers and pockets, true where they are entered.

use super::Point;
use crate::model::RackType;
use crate::statics::Figures;
use crate::units::{Length, Quantity, Style};

/// Where a deck is drawn whose height is not entered, in mm above the rail; the picture says so.
const ASSUMED_DECK_MM: f64 = 1_200.0;
/// How high the topmost pocket is drawn where its clear height is not entered, in mm.
const ASSUMED_CLEAR_MM: f64 = 200.0;

/// Height of a vehicle's deck above the rail in mm, as drawn.
pub(super) fn deck_mm(figures: &Figures, vehicle: usize) -> f64 {
    let place = figures.consist.vehicles.get(vehicle);
    let kind = place.and_then(|place| figures.plan.train.vehicle_types.get(place.vehicle_type));
    kind.and_then(|kind| kind.deck_height).map_or(ASSUMED_DECK_MM, |height| height.mm() as f64)
}

/// What [`deck_mm`] had to assume for the vehicles of the train, a sentence for each vehicle type.
pub(super) fn assumed_decks(figures: &Figures, style: Style) -> Vec<String> {
    let used = |index: usize| figures.consist.vehicles.iter().any(|place| place.vehicle_type == index);
    let drawn = Quantity::length_m(ASSUMED_DECK_MM / 1000.0).show(style);
    let kinds = figures.plan.train.vehicle_types.iter().enumerate();
    kinds
        .filter(|(index, kind)| kind.deck_height.is_none() && used(*index))
        .map(|(_, kind)| format!("The deck height of {} is not entered; it is drawn at {drawn}.", kind.name))
        .collect()
}

/// Bottom and top of a tier's pockets above the deck in mm, as drawn; `tier` from 1.
pub(super) fn tier_mm(rack_type: &RackType, tier: u32) -> Option<(f64, f64)> {
    let index = (tier as usize).checked_sub(1)?;
    let seat = rack_type.tiers.get(index)?;
    let next = rack_type.tiers.get(index + 1).map(|next| next.seat_above_deck_mm - seat.seat_above_deck_mm);
    // Without a clear height a pocket reaches most of the way to the next seat.
    let clear = seat.clear_mm.or(next.map(|next| next * 0.8)).unwrap_or(ASSUMED_CLEAR_MM);
    Some((seat.seat_above_deck_mm, seat.seat_above_deck_mm + clear))
}

/// Top of a rack above the deck in mm.
pub(super) fn rack_top_mm(rack_type: &RackType) -> f64 {
    let tiers = u32::try_from(rack_type.tiers.len()).unwrap_or(u32::MAX);
    tier_mm(rack_type, tiers).map_or(0.0, |(_, top)| top)
}

/// Top of the highest rack of the train above the rail in mm; none without racks.
pub(super) fn load_top_mm(figures: &Figures) -> Option<f64> {
    let tops = figures.consist.racks.iter().filter_map(|rack| {
        let rack_type = figures.plan.train.rack_types.get(rack.rack_type)?;
        Some(deck_mm(figures, rack.vehicle) + rack_top_mm(rack_type))
    });
    tops.reduce(f64::max)
}

/// Bottom and top of a pocket on a train side in mm above the rail; tier and lane from 1.
///
/// Seen from the left side of the train, so lane 1 is nearest: the lanes of a tier are stacked within its
/// clear height, lane 1 lowest, so that every string can be seen and grasped. None where the rack has no
/// such pocket.
pub fn side_band_mm(figures: &Figures, rack: usize, tier: u32, lane: u32) -> Option<(f64, f64)> {
    let place = figures.consist.racks.get(rack)?;
    let rack_type = figures.plan.train.rack_types.get(place.rack_type)?;
    let (bottom, top) = tier_mm(rack_type, tier)?;
    let lanes = rack_type.lanes_y_mm.len();
    let index = (lane as usize).checked_sub(1).filter(|index| *index < lanes)?;
    let thickness = (top - bottom) / lanes as f64;
    let low = deck_mm(figures, place.vehicle) + bottom + thickness * index as f64;
    Some((low, low + thickness))
}

/// The pocket (tier, lane) under a point of a train side, by the rack nearest to it; between two tiers the
/// nearer one counts. None on a train without racks.
pub fn side_pocket_at(figures: &Figures, at: Point) -> Option<(u32, u32)> {
    let rack = nearest_rack(figures, Length::from_mm_rounded(at.across_mm))?;
    let place = figures.consist.racks.get(rack)?;
    let rack_type = figures.plan.train.rack_types.get(place.rack_type)?;
    let above_deck = at.up_mm - deck_mm(figures, place.vehicle);
    let away = |(bottom, top): (f64, f64)| (bottom - above_deck).max(above_deck - top).max(0.0);
    let tiers = (1..).zip(&rack_type.tiers).filter_map(|(tier, _)| Some((tier, tier_mm(rack_type, tier)?)));
    let (tier, (bottom, top)) = tiers.min_by(|a, b| away(a.1).total_cmp(&away(b.1)))?;
    let lanes = rack_type.lanes_y_mm.len();
    let share = ((above_deck - bottom) / (top - bottom)).clamp(0.0, 1.0);
    let lane = ((share * lanes as f64) as usize).min(lanes.checked_sub(1)?) + 1;
    Some((tier, u32::try_from(lane).ok()?))
}

fn nearest_rack(figures: &Figures, x: Length) -> Option<usize> {
    let racks = &figures.consist.racks;
    let after = racks.partition_point(|rack| rack.x < x);
    let near = after.saturating_sub(1)..(after + 1).min(racks.len());
    near.min_by_key(|rack| racks.get(*rack).map(|rack| (rack.x - x).abs()))
}
