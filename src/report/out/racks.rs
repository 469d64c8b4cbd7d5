//! Loads of racks as a table.

use super::{OutTable, headed, number, some, state_cells};
use crate::format::OutCell;
use crate::statics::Figures;
use crate::units::{Quantity, Style};

/// Loads of every rack in every state that was worked out, in all and tier by tier.
pub fn racks_table(figures: &Figures, style: Style) -> OutTable {
    let train = &figures.plan.train;
    let mass = |title: &str| headed(title, Quantity::mass(0.0), style);
    let tiers = train.rack_types.iter().map(|kind| kind.tiers.len()).max().unwrap_or(0);
    let mut header: Vec<String> =
        ["State", "State title", "Vehicle", "Rack"].into_iter().map(str::to_owned).collect();
    header.extend([headed("Place", Quantity::length_m(0.0), style), mass("Load"), mass("Rating")]);
    header.extend((1..=tiers).map(|tier| mass(&format!("Tier {tier}"))));
    let rows = figures.worked.iter().flat_map(|state| {
        figures.consist.racks.iter().enumerate().map(move |(at, place)| {
            let vehicle = train.vehicles.get(place.vehicle);
            let rating = train.rack_types.get(place.rack_type).and_then(|kind| kind.rack_rating_kg);
            let loads = state.rack_tiers_kg.get(at).map(Vec::as_slice).unwrap_or_default();
            let mut cells = state_cells(figures, state.state).to_vec();
            cells.extend([
                OutCell::Words(vehicle.map(|vehicle| vehicle.mark.to_string()).unwrap_or_default()),
                OutCell::Number(f64::from(place.number)),
                number(Quantity::length(place.x), style),
                number(Quantity::mass(state.rack_kg(at)), style),
                some(rating.map(Quantity::mass), style),
            ]);
            cells.extend((0..tiers).map(|tier| some(loads.get(tier).copied().map(Quantity::mass), style)));
            cells
        })
    });
    OutTable { header, rows: rows.collect() }
}
