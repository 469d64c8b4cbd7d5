//! Axle, bogie and wheel loads against their ratings, at departure and in the state beside it.

use super::flow::{Flow, Type};
use super::matter::{Matter, NOT_ENTERED};
use super::table::{Cell, Column, Kind, Stress, Table};
use super::wording::capital;
use crate::checks::{Comparison, Sense};
use crate::model::{LimitKind, VehicleType};
use crate::statics::{StateFigures, SupportLoads, VehicleLoads};
use crate::units::Quantity;

/// Adds the part.
pub(super) fn loads(flow: &mut Flow, matter: &Matter<'_>) {
    flow.part("Axle, bogie and wheel loads");
    flow.paragraph(
        "The level rigid model: racks level, wagons unyielding. The axles of a bogie share its load equally. Wheel loads \
         are the larger of two assumptions on the body (stiff, soft). A tint marks what is near its rating, a frame what \
         is beyond it; a dash stands for a rating or limit that is not entered or not accepted, which makes the finding \
         undecided.",
        Type::BODY,
    );
    if matter.beside().is_none() {
        flow.paragraph("The worst state is departure itself; its loads are below.", Type::BODY);
    }
    for state in matter.states_shown() {
        flow.heading(&capital(&matter.state_name(state.state)), 30.0);
        supports(flow, matter, state);
        vehicles(flow, matter, state);
    }
}

fn supports(flow: &mut Flow, matter: &Matter<'_>, state: &StateFigures) {
    let mass = matter.mass_sign();
    let load = || Column::new(Kind::Figure, format!("load\n{mass}"));
    let rating = || Column::new(Kind::Figure, format!("rating\n{mass}"));
    let used = || Column::new(Kind::Figure, "used");
    let mut table = Table::new(vec![
        Column::new(Kind::Words, "vehicle"),
        Column::new(Kind::Words, "support"),
        load(),
        rating(),
        used(),
        load(),
        rating(),
        used(),
        load(),
        rating(),
        used(),
        Column::new(Kind::Figure, "found"),
        Column::new(Kind::Figure, "limit"),
    ])
    .under(vec![
        (format!("State {}", state.state), 2),
        ("bogie".to_owned(), 3),
        ("each axle".to_owned(), 3),
        ("largest wheel".to_owned(), 3),
        ("wheel ratio".to_owned(), 2),
    ]);
    for (place, loads) in matter.figures.consist.vehicles.iter().zip(&state.vehicles) {
        let Some(kind) = matter.plan().train.vehicle_types.get(place.vehicle_type) else { continue };
        for (end, support) in ["front", "rear"].into_iter().zip(&loads.supports) {
            let name = if end == "front" { matter.vehicle(place.vehicle) } else { String::new() };
            let bogie = place.axles_per_support > 1;
            let what = format!("{end} {}", if bogie { "bogie" } else { "axle" });
            let mut cells = vec![Cell::strong(name), what.into()];
            cells.extend(support_cells(matter, (kind, bogie), support, state.state));
            table.row(cells);
        }
    }
    table.put(flow, "No vehicle is in the train.");
}

fn support_cells(
    matter: &Matter<'_>,
    (kind, bogie): (&VehicleType, bool),
    loads: &SupportLoads,
    state: usize,
) -> Vec<Cell> {
    // Without one of the two the finding is undecided, but the other rating can still be broken.
    let axle_kg = matter.plan().least_axle_rating_kg(kind);
    let mut cells = match bogie {
        true => rated_cells(matter, loads.load_kg, kind.bogie_rating_kg),
        false => [NOT_ENTERED; 3].map(Cell::from).to_vec(),
    };
    cells.extend(rated_cells(matter, loads.axle_kg, axle_kg));
    cells.extend(rated_cells(matter, loads.largest_wheel_kg(), kind.wheel_rating_kg));
    cells.extend(ratio_cells(matter, loads.worse_ratio(), (LimitKind::WheelRatio, state)));
    cells
}

/// Load, rating and the share of it that is used.
pub(super) fn rated_cells(matter: &Matter<'_>, kg: f64, rating_kg: Option<f64>) -> Vec<Cell> {
    let compared = rating_kg.map(|rating| Comparison::new(Quantity::mass(kg), rating, Sense::AtMost));
    let stress = compared.map_or(Stress::None, |compared| matter.stress_of(compared));
    vec![
        Cell::stressed(matter.mass_number(kg), stress),
        matter.rating_number(rating_kg).into(),
        matter.used(compared.map(Comparison::utilisation)).into(),
    ]
}

/// A ratio and its limit in a state.
fn ratio_cells(matter: &Matter<'_>, ratio: f64, (kind, state): (LimitKind, usize)) -> Vec<Cell> {
    let limit = matter.figures.accepted_limit(kind, state);
    let number = |ratio: f64| Quantity::ratio(ratio).show_number(matter.style);
    let compared = limit.map(|limit| Comparison::new(Quantity::ratio(ratio), limit, Sense::AtMost));
    let stress = compared.map_or(Stress::None, |compared| matter.stress_of(compared));
    vec![Cell::stressed(number(ratio), stress), limit.map_or(NOT_ENTERED.to_owned(), number).into()]
}

fn vehicles(flow: &mut Flow, matter: &Matter<'_>, state: &StateFigures) {
    let mass = matter.mass_sign();
    let per_metre = Quantity::mass_per_length(0.0).unit_sign(matter.style);
    let mut table = Table::new(vec![
        Column::new(Kind::Words, "vehicle"),
        Column::new(Kind::Words, "type"),
        Column::new(Kind::Figure, format!("gross\n{mass}")),
        Column::new(Kind::Figure, format!("load\n{mass}")),
        Column::new(Kind::Figure, format!("rating\n{mass}")),
        Column::new(Kind::Figure, "used"),
        Column::new(Kind::Figure, format!("found\n{per_metre}")),
        Column::new(Kind::Figure, format!("line class\n{per_metre}")),
        Column::new(Kind::Figure, "found"),
        Column::new(Kind::Figure, "limit"),
        Column::new(Kind::Figure, format!("found\n{}", matter.length_sign())),
        Column::new(Kind::Figure, format!("limit\n{}", matter.length_sign())),
    ])
    .under(vec![
        (format!("State {}", state.state), 3),
        ("payload".to_owned(), 3),
        ("mass per length".to_owned(), 2),
        ("front : rear".to_owned(), 2),
        ("centre of gravity".to_owned(), 2),
    ]);
    for (place, loads) in matter.figures.consist.vehicles.iter().zip(&state.vehicles) {
        let Some(kind) = matter.plan().train.vehicle_types.get(place.vehicle_type) else { continue };
        let mut cells = vec![
            Cell::strong(matter.vehicle(place.vehicle)),
            kind.name.as_str().into(),
            matter.mass_number(loads.gross_kg).into(),
        ];
        let ratio = if place.axles_per_support > 1 { LimitKind::BogieRatio } else { LimitKind::TwoAxleRatio };
        cells.extend(rated_cells(matter, loads.payload_kg, kind.payload_rating_kg));
        cells.extend(per_metre_cells(matter, loads));
        cells.extend(ratio_cells(matter, loads.support_ratio(), (ratio, state.state)));
        cells.extend(height_cells(matter, loads, state.state));
        table.row(cells);
    }
    table.put(flow, "No vehicle is in the train.");
}

fn per_metre_cells(matter: &Matter<'_>, loads: &VehicleLoads) -> Vec<Cell> {
    let limit = matter.plan().route.line_class.as_ref().and_then(|class| class.mass_per_metre_kg);
    let found = Quantity::mass_per_length(loads.mass_per_metre_kg);
    limit_cells(matter, Some(found), limit)
}

fn height_cells(matter: &Matter<'_>, loads: &VehicleLoads, state: usize) -> Vec<Cell> {
    let found = loads.centre_height_m.map(Quantity::length_m);
    limit_cells(matter, found, matter.figures.accepted_limit(LimitKind::CentreHeight, state))
}

fn limit_cells(matter: &Matter<'_>, found: Option<Quantity>, limit: Option<f64>) -> Vec<Cell> {
    let compared = found.zip(limit).map(|(found, limit)| Comparison::new(found, limit, Sense::AtMost));
    let stress = compared.map_or(Stress::None, |compared| matter.stress_of(compared));
    let number = |quantity: Option<Quantity>| {
        quantity.map_or(NOT_ENTERED.to_owned(), |quantity| quantity.show_number(matter.style))
    };
    let limit = found.zip(limit).map(|(found, value)| Quantity { value, ..found });
    vec![Cell::stressed(number(found), stress), number(limit).into()]
}
