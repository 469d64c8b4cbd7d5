//! Strings on their racks as a table.

use super::super::figures_text::trouble_words;
use super::{OutTable, headed, number, some};
use crate::format::OutCell;
use crate::statics::{BeamFigures, Figures, PlacedString};
use crate::units::{Quantity, Style};

/// Every placed string: where it lies, what its racks carry, how far it sags and reaches out.
pub fn strings_table(figures: &Figures, style: Style) -> OutTable {
    let words = |title: &str| title.to_owned();
    let length = |title| headed(title, Quantity::length_m(0.0), style);
    let moment = |title| headed(title, Quantity::moment(0.0), style);
    let header = vec![
        words("String"),
        words("Section"),
        words("Tier"),
        words("Lane"),
        length("Front end"),
        length("Rear end"),
        length("Length"),
        headed("Mass", Quantity::mass(0.0), style),
        words("Racks"),
        headed("Largest reaction", Quantity::force(0.0), style),
        moment("Most hogging"),
        moment("Most sagging"),
        headed("Largest sag", Quantity::small_length_m(0.0), style),
        length("Largest span"),
        length("Front overhang"),
        length("Rear overhang"),
        words("Trouble"),
    ];
    let rows = figures.placed.iter().map(|placed| cells(figures, placed, style)).collect();
    OutTable { header, rows }
}

fn cells(figures: &Figures, placed: &PlacedString, style: Style) -> Vec<OutCell> {
    let plan = &figures.plan;
    let string = plan.order.get(placed.string);
    let placement = plan.placements.get(placed.placement);
    let beam = placed.beam.as_ref().ok();
    let of_beam = |value: fn(&BeamFigures) -> Quantity| some(beam.map(value), style);
    let count =
        |number: Option<u32>| number.map_or(OutCell::Empty, |number| OutCell::Number(f64::from(number)));
    vec![
        OutCell::Words(string.map(|string| string.mark.to_string()).unwrap_or_default()),
        OutCell::Words(string.map(|string| string.section.to_string()).unwrap_or_default()),
        count(placement.map(|placement| placement.tier)),
        count(placement.map(|placement| placement.lane)),
        number(Quantity::length(placed.front), style),
        number(Quantity::length(placed.rear), style),
        some(string.map(|string| Quantity::length(string.length)), style),
        number(Quantity::mass(placed.mass_kg), style),
        OutCell::Number(placed.racks.len() as f64),
        of_beam(|beam| Quantity::force(largest(beam.reactions_n.iter().copied()))),
        of_beam(|beam| Quantity::moment(largest(beam.moments_nm.iter().map(|moment| -moment)))),
        of_beam(|beam| Quantity::moment(largest(beam.spans.iter().map(|span| span.largest_moment_nm)))),
        of_beam(|beam| Quantity::small_length_m(largest(beam.spans.iter().map(|span| span.sag_m)))),
        of_beam(|beam| Quantity::length_m(largest(beam.spans.iter().map(|span| span.length_m)))),
        of_beam(|beam| Quantity::length_m(beam.front_overhang_m)),
        of_beam(|beam| Quantity::length_m(beam.rear_overhang_m)),
        match &placed.beam {
            Ok(_) => OutCell::Empty,
            Err(trouble) => OutCell::Words(trouble_words(figures, *trouble)),
        },
    ]
}

/// The largest value, zero where none is above it.
fn largest(values: impl Iterator<Item = f64>) -> f64 {
    values.fold(0.0, f64::max)
}
