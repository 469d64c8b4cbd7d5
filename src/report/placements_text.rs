//! The order and where each string lies, in plain text.

use super::layout::{Heading, Table, counted, paragraph};
use crate::model::{OrderedString, Plan, TrackSide};
use crate::units::{Quantity, Style};

/// The order with the place of each string, for a reader.
pub fn placements_report(plan: &Plan, style: Style) -> String {
    let mut out = String::new();
    if !plan.title.trim().is_empty() {
        paragraph(&mut out, "Plan:    ", "         ", &plan.title);
    }
    let placed = plan.order.iter().filter(|string| plan.placement(&string.mark).is_some()).count();
    let strings = counted(plan.order.len(), "string", "strings");
    let sign = Quantity::length_m(0.0).unit_sign(style);
    out.push_str(&format!("{strings}, {placed} placed (lengths in {sign})\n"));
    let mut table = Table::new(
        4,
        [
            Heading("string", "", ""),
            Heading("section", "", ""),
            Heading("side", "", ""),
            Heading("drop", "", ""),
            Heading("length", "", ""),
            Heading("tier", "", ""),
            Heading("lane", "", ""),
            Heading("front", "end", ""),
            Heading("rear", "end", ""),
            Heading("held at", "", ""),
        ],
    );
    for string in &plan.order {
        table.row(cells(plan, string, style));
    }
    table.write(&mut out, "the order is empty");
    out
}

fn cells(plan: &Plan, string: &OrderedString, style: Style) -> Vec<String> {
    let dash = || "-".to_owned();
    let placement = plan.placement(&string.mark);
    let of_place = |value: &dyn Fn(&crate::model::Placement) -> String| placement.map_or_else(dash, value);
    vec![
        string.mark.to_string(),
        string.section.to_string(),
        string.side.map_or_else(dash, |side| match side {
            TrackSide::Left => "left".to_owned(),
            TrackSide::Right => "right".to_owned(),
        }),
        string.drop.as_ref().map_or_else(dash, ToString::to_string),
        Quantity::length(string.length).show_number(style),
        of_place(&|place| place.tier.to_string()),
        of_place(&|place| place.lane.to_string()),
        of_place(&|place| Quantity::length(place.front).show_number(style)),
        of_place(&|place| Quantity::length(place.front + string.length).show_number(style)),
        of_place(&|place| {
            let holds: Vec<String> =
                place.holds.iter().map(|hold| format!("{}/{}", hold.vehicle, hold.rack)).collect();
            if holds.is_empty() { "nowhere".to_owned() } else { holds.join(", ") }
        }),
    ]
}
