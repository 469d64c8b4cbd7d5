//! The order, and where each string lies, as tables that can be taken in again.

use super::{OutTable, headed, number};
use crate::format::OutCell;
use crate::model::{MassEntry, OrderedString, Placement, Plan, RackRef, StatedBasis, TrackSide};
use crate::units::{Quantity, Style};

/// The order, a string a row.
pub fn order_table(plan: &Plan, style: Style) -> OutTable {
    let rows = plan.order.iter().map(|string| order_cells(plan, string, style).to_vec()).collect();
    OutTable { header: order_header(style).to_vec(), rows }
}

/// The order with the place of each string; those in the yard have none.
pub fn placements_table(plan: &Plan, style: Style) -> OutTable {
    let mut header = order_header(style).to_vec();
    let length = |title| headed(title, Quantity::length_m(0.0), style);
    header.extend(["Tier".to_owned(), "Lane".to_owned(), length("Front end"), length("Rear end")]);
    header.extend(["Held at", "Meant to rest on", "Locked"].map(str::to_owned));
    let row = |string: &OrderedString| {
        let mut cells = order_cells(plan, string, style).to_vec();
        cells.extend(match plan.placement(&string.mark) {
            Some(placement) => place_cells(string, placement, style),
            None => std::array::from_fn(|_| OutCell::Empty),
        });
        cells
    };
    OutTable { header, rows: plan.order.iter().map(row).collect() }
}

/// Headers by which the order is known when it is taken in.
fn order_header(style: Style) -> [String; 8] {
    [
        "Mark".to_owned(),
        "Section".to_owned(),
        headed("Length", Quantity::length_m(0.0), style),
        "Side".to_owned(),
        "Drop".to_owned(),
        headed("Mass", Quantity::mass(0.0), style),
        "Mass basis".to_owned(),
        "Steel".to_owned(),
    ]
}

fn order_cells(plan: &Plan, string: &OrderedString, style: Style) -> [OutCell; 8] {
    let words = |words: Option<&str>| words.map_or(OutCell::Empty, OutCell::words);
    let computed =
        || plan.section(&string.section).map_or(f64::NAN, |section| section.mass_kg(string.length));
    let (kg, basis) = match string.mass {
        MassEntry::Computed => (computed(), "computed"),
        MassEntry::Stated { kg, basis: StatedBasis::Weighed } => (kg, "weighed"),
        MassEntry::Stated { kg, basis: StatedBasis::Document } => (kg, "document"),
    };
    [
        OutCell::words(&string.mark),
        OutCell::words(&string.section),
        number(Quantity::length(string.length), style),
        words(string.side.map(|side| match side {
            TrackSide::Left => "left",
            TrackSide::Right => "right",
        })),
        words(string.drop.as_ref().map(|drop| drop.as_str())),
        number(Quantity::mass(kg), style),
        OutCell::words(basis),
        words(string.steel.as_ref().map(|steel| steel.as_str())),
    ]
}

fn place_cells(string: &OrderedString, placement: &Placement, style: Style) -> [OutCell; 7] {
    let rack = |rack: &RackRef| format!("{} rack {}", rack.vehicle, rack.rack);
    let holds: Vec<String> = placement.holds.iter().map(rack).collect();
    let rests_on = placement.rests_on.as_ref();
    let rests_on = rests_on.map(|span| format!("{} to {}", rack(&span.first), rack(&span.last)));
    [
        OutCell::Number(f64::from(placement.tier)),
        OutCell::Number(f64::from(placement.lane)),
        number(Quantity::length(placement.front), style),
        number(Quantity::length(placement.front + string.length), style),
        OutCell::Words(holds.join(", ")),
        rests_on.map_or(OutCell::Empty, OutCell::Words),
        OutCell::words(if placement.locked { "yes" } else { "no" }),
    ]
}
