//! The loading list: which end is where, every string in the order of loading, and the holds.

use super::flow::{Flow, Side, Type};
use super::loading_order::loading_order;
use super::matter::{Matter, NOT_ENTERED};
use super::page::{Dash, Frame, Ink, Line, Look, Mark, Spot};
use super::table::{Cell, Column, Kind, Table};
use super::wording::counted;
use crate::model::{RackKind, Topic, TrainEnd, VehicleKind};
use crate::statics::PlacedString;
use crate::units::Quantity;

/// Adds the part.
pub(super) fn loading(flow: &mut Flow, matter: &Matter<'_>) {
    flow.part("Loading list");
    orientation(flow, matter);
    later(flow, matter);
    strings(flow, matter);
    holds(flow, matter);
}

/// Which end is front, which side is left, and how places are told; with a small plan of the train's front.
fn orientation(flow: &mut Flow, matter: &Matter<'_>) {
    let train = &matter.plan().train;
    let (Some(first), Some(last)) = (train.vehicles.first(), train.vehicles.last()) else {
        flow.paragraph("The train has no vehicles yet; add them in the editor.", Type::BODY);
        return;
    };
    let strip = flow.take(20.0);
    let room = Frame::new(strip.left_mm + 28.0, strip.top_mm + 4.5, strip.width_mm - 56.0, 11.0);
    flow.mark(Mark::Box(room, Look::line(Ink::Black, 0.25)));
    let middle = room.top_mm + room.height_mm / 2.0;
    let dashes = Line { ink: Ink::Hair, width_mm: 0.2, dash: Dash::Broken };
    let (from, to) = (Spot::new(room.left_mm, middle), Spot::new(room.right_mm(), middle));
    flow.mark(Mark::line(from, to, dashes));
    let small = Type::NOTE.sized(6.5);
    let beside = |left: f64, top: f64, width: f64| Frame::new(left, top, width, 4.0);
    let strong = Type::STRONG.sized(8.0);
    flow.words("FRONT", strong, beside(strip.left_mm, middle - 4.0, 26.0), Side::Right);
    flow.words(first.mark.as_str(), small, beside(strip.left_mm, middle, 26.0), Side::Right);
    flow.words("REAR", strong, beside(room.right_mm() + 2.0, middle - 4.0, 26.0), Side::Left);
    flow.words(last.mark.as_str(), small, beside(room.right_mm() + 2.0, middle, 26.0), Side::Left);
    let above = Frame::new(room.left_mm, strip.top_mm, room.width_mm, 4.4);
    flow.words("right side: the highest lane", small, above, Side::Middle);
    let below = Frame::new(room.left_mm, room.bottom_mm(), room.width_mm, 4.4);
    flow.words("left side: lane 1", small, below, Side::Middle);
    let inside = Frame::new(room.left_mm, room.top_mm, room.width_mm, room.height_mm).inset(3.0, 0.6);
    let looking = "the train seen from above; left and right as one faces the front";
    flow.words(looking, Type::NOTE, Frame { height_mm: 4.6, ..inside }, Side::Middle);
    flow.gap(2.0);
    flow.paragraph(
        &format!(
            "The front is the end with {}; it is a property of this plan and not of the direction of travel. Racks \
             and axles count from the front on each vehicle as it stands, lanes from 1 at the left, tiers from 1 at \
             the bottom. Each end is measured along the train from the middle of the rack named; \"in front of\" is \
             toward {}, \"behind\" toward {}.",
            first.mark, first.mark, last.mark
        ),
        Type::BODY,
    );
}

fn strings(flow: &mut Flow, matter: &Matter<'_>) {
    let order = loading_order(matter.figures);
    flow.heading("Strings in the order of loading", 20.0);
    let known = order.iter().all(|loading| loading.state.is_some());
    flow.paragraph(
        &format!(
            "The reverse of the unloading order; bottom tier first: no string goes on while one is still to come in \
             a lower tier under it. {}",
            if known {
                "After each string the load is one of the states that were worked out for unloading, named in the \
                 column \"state after\"."
            } else {
                "The column \"state after\" names the state that was worked out with the same load; where it is empty, \
                 that load was not worked out, so its balance is not known."
            }
        ),
        Type::BODY,
    );
    let mut columns = vec![Column::new(Kind::Figure, "no.")];
    columns.extend(string_columns(matter));
    columns.extend([Column::new(Kind::Figure, "state\nafter"), Column::new(Kind::Tick, "on")]);
    let mut table = Table::new(columns);
    for (nth, loading) in order.iter().enumerate() {
        let Some(placed) = matter.figures.placed.get(loading.placed) else { continue };
        let mut cells = vec![Cell::new((nth + 1).to_string())];
        cells.extend(string_cells(matter, placed));
        cells.push(loading.state.map_or(Cell::default(), |state| Cell::new(state.to_string())));
        table.row(cells);
    }
    table.put(flow, "No string is on the train at departure.");
}

/// The heads of [`string_cells`].
pub(super) fn string_columns(matter: &Matter<'_>) -> Vec<Column> {
    vec![
        Column::new(Kind::Words, "string"),
        Column::new(Kind::Words, "section"),
        Column::new(Kind::Figure, format!("length\n{}", matter.length_sign())),
        Column::new(Kind::Figure, format!("mass\n{}", matter.mass_sign())),
        Column::new(Kind::Mark, "tier"),
        Column::new(Kind::Mark, "lane"),
        Column::new(Kind::Words, "front end"),
        Column::new(Kind::Words, "rear end"),
        Column::new(Kind::Words, "held at"),
    ]
}

/// Mark, section, length, mass, tier, lane, ends, holds.
pub(super) fn string_cells(matter: &Matter<'_>, placed: &PlacedString) -> Vec<Cell> {
    let (tier, lane) = matter.pocket(placed);
    let end = |end| matter.end_words(placed.front, placed.rear, end);
    vec![
        Cell::strong(matter.mark(placed)),
        matter.section(placed).into(),
        matter.length_number(placed.rear - placed.front).into(),
        matter.mass_number(placed.mass_kg).into(),
        Cell::strong(tier.to_string()),
        Cell::strong(lane.to_string()),
        end(TrainEnd::Front).into(),
        end(TrainEnd::Rear).into(),
        matter.holds_words(matter.holds(placed)).into(),
    ]
}

/// Every hold at departure with its setting, rack by rack from the front.
fn holds(flow: &mut Flow, matter: &Matter<'_>) {
    flow.heading("Holds", 20.0);
    flow.paragraph(
        "Every string is held at the rack named and nowhere else: there its clamp is shut; at all other racks it must \
         be free to move lengthwise.",
        Type::BODY,
    );
    let figures = matter.figures;
    let asked = matter.plan().route.asked.contains(&Topic::HoldForces);
    let mut rows: Vec<(usize, u32, u32, &PlacedString)> = Vec::new();
    for placed in figures.present(0) {
        let (tier, lane) = matter.pocket(placed);
        let racks =
            matter.holds(placed).iter().filter_map(|hold| figures.consist.rack_named(&figures.plan, hold));
        rows.extend(racks.map(|rack| (rack, tier, lane, placed)));
    }
    rows.sort_by_key(|(rack, tier, lane, _)| (*rack, *tier, *lane));
    let sign = Quantity::force(0.0).unit_sign(matter.style);
    let mut columns = vec![
        Column::new(Kind::Words, "rack"),
        Column::new(Kind::Mark, "tier"),
        Column::new(Kind::Mark, "lane"),
        Column::new(Kind::Words, "string"),
        Column::new(Kind::Words, "setting"),
        Column::new(Kind::Figure, format!("rated to hold\n{sign}")),
    ];
    if asked {
        columns.push(Column::new(Kind::Figure, format!("must hold\n{sign}")));
    }
    columns.push(Column::new(Kind::Tick, "set"));
    let mut table = Table::new(columns);
    let mut before = None;
    for (rack, tier, lane, placed) in rows {
        // Named in every row: a table goes on over pages, and a row is read at the rack.
        let name = match before.replace(rack) == Some(rack) {
            true => Cell::new(matter.rack(rack)),
            false => Cell::strong(matter.rack(rack)),
        };
        let kind = figures
            .consist
            .racks
            .get(rack)
            .and_then(|place| figures.plan.train.rack_types.get(place.rack_type));
        let rating = kind.and_then(|kind| kind.hold_rating_n);
        let number = |n: f64| Quantity::force(n).show_number(matter.style);
        let mut cells = vec![
            name,
            tier.to_string().into(),
            lane.to_string().into(),
            Cell::strong(matter.mark(placed)),
            kind.map_or("", |kind| setting(kind.kind)).into(),
            rating.map_or(NOT_ENTERED.to_owned(), number).into(),
        ];
        if asked {
            cells.push(held_n(matter, placed).map_or(NOT_ENTERED.to_owned(), number).into());
        }
        table.row(cells);
    }
    table.put(flow, "No string is held anywhere.");
}

fn setting(kind: RackKind) -> &'static str {
    match kind {
        RackKind::Clamping => "clamp shut",
        RackKind::Roller => "a roller rack: it cannot hold",
        RackKind::Fixed => "a fixed rack: it has no clamp",
    }
}

/// What the hold of a string must take in the securing accelerations in N, where it is worked out.
fn held_n(matter: &Matter<'_>, placed: &PlacedString) -> Option<f64> {
    let at = matter.figures.placed.iter().position(|other| other.placement == placed.placement)?;
    matter.figures.holding()?.strings.get(at).map(|holding| holding.force_n)
}

/// Strings that come onto the train later, with the pockets that are kept for them.
fn later(flow: &mut Flow, matter: &Matter<'_>) {
    let figures = matter.figures;
    let departure = figures.states.first();
    let aboard = |placed: &&PlacedString| {
        departure.is_some_and(|state| state.present.get(placed.placement).copied().unwrap_or_default())
    };
    let coming: Vec<&PlacedString> = figures.placed.iter().filter(|placed| !aboard(placed)).collect();
    if !coming.is_empty() {
        let what = counted(coming.len(), "string is", "strings are");
        flow.heading("Taken on later", 20.0);
        flow.paragraph(
            &format!("{what} not loaded in the yard but taken on at a site; the sheet of that site has their places."),
            Type::BODY,
        );
        let marks: Vec<String> = coming.iter().map(|placed| matter.mark(placed)).collect();
        flow.paragraph(&marks.join(", "), Type::STRONG);
    }
    let placed = |mark| figures.plan.placements.iter().any(|placement| placement.string == mark);
    let left: Vec<String> = figures
        .plan
        .order
        .iter()
        .filter(|string| !placed(string.mark.clone()))
        .map(|string| string.mark.to_string())
        .collect();
    if !left.is_empty() {
        flow.heading("Ordered and not on the train", 12.0);
        flow.paragraph(&left.join(", "), Type::STRONG);
    }
    let engines = figures.consist.vehicles.iter().filter(|place| place.kind == VehicleKind::Idler).count();
    if engines > 0 {
        flow.paragraph(
            &format!(
                "{} in the row: nothing may lie on it.",
                counted(engines, "idler stands", "idlers stand")
            ),
            Type::BODY,
        );
    }
}
