//! Rack, tier and pocket loads against their ratings, at departure and in the state beside it.

use super::flow::{Flow, Type};
use super::loads::rated_cells;
use super::matter::Matter;
use super::page::Frame;
use super::picture::{Mapping, picture_marks};
use super::table::{Cell, Column, Kind, Table};
use super::wording::capital;
use crate::drawing::rack_face;
use crate::statics::StateFigures;

/// How many rack faces stand above a table.
const FACES: usize = 3;

/// Adds the part.
pub(super) fn racks(flow: &mut Flow, matter: &Matter<'_>) {
    flow.part("Rack loads");
    flow.paragraph(
        "What every rack carries, from the front, by the level rigid model; the heaviest tier and the heaviest pocket of \
         each rack against their ratings. Marks as in the table of axle loads.",
        Type::BODY,
    );
    for state in matter.states_shown() {
        flow.heading(&capital(&matter.state_name(state.state)), 30.0);
        faces(flow, matter, state);
        table(flow, matter, state);
    }
}

/// The faces of the racks that carry most, one of each third of the train.
fn faces(flow: &mut Flow, matter: &Matter<'_>, state: &StateFigures) {
    const HEIGHT_MM: f64 = 62.0;
    let heaviest = heaviest(matter, state);
    if heaviest.is_empty() {
        return;
    }
    let strip = flow.take(HEIGHT_MM);
    let width_mm = strip.width_mm / FACES as f64;
    for (nth, rack) in heaviest.into_iter().enumerate() {
        let picture = rack_face(matter.figures, state.state, rack, matter.style);
        let left_mm = strip.left_mm + width_mm * nth as f64;
        let room = Frame { left_mm, width_mm, ..strip }.inset(3.0, 1.0);
        flow.draw(picture_marks(&picture, &Mapping::whole(picture.bounds, room)));
    }
    flow.gap(1.0);
}

/// Of each third of the train the rack that carries most; none where nothing is carried.
fn heaviest(matter: &Matter<'_>, state: &StateFigures) -> Vec<usize> {
    let racks: Vec<usize> = (0..matter.figures.consist.racks.len()).collect();
    let part = racks.len().div_ceil(FACES).max(1);
    let of_part = racks.chunks(part).filter_map(|racks| {
        let heaviest =
            racks.iter().copied().reduce(|a, b| if state.rack_kg(b) > state.rack_kg(a) { b } else { a })?;
        (state.rack_kg(heaviest) > 0.0).then_some(heaviest)
    });
    of_part.collect()
}

fn table(flow: &mut Flow, matter: &Matter<'_>, state: &StateFigures) {
    let mass = matter.mass_sign();
    let tiers = state.rack_tiers_kg.iter().map(Vec::len).max().unwrap_or(0);
    let figure = |head: &str| Column::new(Kind::Figure, format!("{head}\n{mass}"));
    let mut columns = vec![
        Column::new(Kind::Words, "rack"),
        Column::new(Kind::Figure, format!("from front\n{}", matter.length_sign())),
    ];
    for _ in 0..3 {
        columns.extend([figure("load"), figure("rating"), Column::new(Kind::Figure, "used")]);
    }
    columns.extend((1..=tiers).map(|tier| figure(&tier.to_string())));
    let mut over = vec![
        (format!("State {}", state.state), 2),
        ("rack".to_owned(), 3),
        ("heaviest tier".to_owned(), 3),
        ("heaviest pocket".to_owned(), 3),
    ];
    over.extend((tiers > 0).then(|| ("each tier, from the bottom".to_owned(), tiers)));
    let mut table = Table::new(columns).under(over);
    for (rack, place) in matter.figures.consist.racks.iter().enumerate() {
        let Some(kind) = matter.plan().train.rack_types.get(place.rack_type) else { continue };
        let loads = state.rack_tiers_kg.get(rack).map(Vec::as_slice).unwrap_or_default();
        let heaviest = loads.iter().copied().fold(0.0, f64::max);
        let mut cells = vec![Cell::strong(matter.rack(rack)), matter.length_number(place.x).into()];
        cells.extend(rated_cells(matter, state.rack_kg(rack), kind.rack_rating_kg));
        cells.extend(rated_cells(matter, heaviest, kind.tier_rating_kg));
        cells.extend(rated_cells(
            matter,
            heaviest_pocket_kg(matter, state.state, rack),
            kind.pocket_rating_kg,
        ));
        cells.extend((0..tiers).map(|tier| match loads.get(tier) {
            Some(kg) => Cell::new(matter.mass_number(*kg)),
            None => Cell::default(),
        }));
        table.row(cells);
    }
    table.put(flow, "No rack is on the train.");
}

/// The most that one pocket of a rack carries in a state, in kg: strings that share it together.
fn heaviest_pocket_kg(matter: &Matter<'_>, state: usize, rack: usize) -> f64 {
    let mut pockets: Vec<((u32, u32), f64)> = Vec::new();
    for placed in matter.figures.present(state).filter(|placed| placed.racks.contains(&rack)) {
        let kg = placed.carried_kg.get(rack - placed.racks.start).copied().unwrap_or_default();
        let pocket = matter.pocket(placed);
        match pockets.iter_mut().find(|(other, _)| *other == pocket) {
            Some((_, sum)) => *sum += kg,
            None => pockets.push((pocket, kg)),
        }
    }
    pockets.into_iter().map(|(_, kg)| kg).fold(0.0, f64::max)
}
