//! The ratings and limits that the plan was judged by, each with its source.

use super::flow::{Flow, Type};
use super::matter::{Matter, NOT_ENTERED};
use super::table::{Cell, Column, Kind, Table};
use crate::model::{LimitKind, MassEntry, RackKind, RackType, SCurve, Source, StatedBasis, VehicleType};
use crate::planning::difference::limit_value;
use crate::units::{KG_PER_M_IN_LB_PER_YD, Quantity, QuantityKind, STANDARD_GRAVITY_M_S2, Style, UnitSystem};

/// Adds the part.
pub(super) fn ratings(flow: &mut Flow, matter: &Matter<'_>) {
    flow.part("Ratings and limits used");
    flow.paragraph(
        "All of them are data of the plan: entered there, or accepted there from a named set. A limit that nobody accepted \
         judges nothing. How sure each is stands with its source.",
        Type::BODY,
    );
    limits(flow, matter);
    line(flow, matter);
    vehicle_types(flow, matter);
    rack_types(flow, matter);
    material(flow, matter);
}

fn limits(flow: &mut Flow, matter: &Matter<'_>) {
    flow.heading("Limits", 16.0);
    let mut table = Table::new(vec![
        Column::new(Kind::Words, "limit"),
        Column::new(Kind::Figure, "travelling"),
        Column::new(Kind::Figure, "between steps"),
        Column::new(Kind::Words, "accepted by"),
        Column::new(Kind::Words, "source"),
    ]);
    let mut missing = Vec::new();
    for kind in LimitKind::ALL {
        let Some(limit) = matter.plan().limits.get(kind) else {
            missing.push(kind.title());
            continue;
        };
        let value = |value: f64| limit_value(kind, value).show(matter.style);
        table.row(vec![
            Cell::strong(kind.title()),
            value(limit.running).into(),
            limit.working.map_or("the same".to_owned(), value).into(),
            limit.accepted_by.as_deref().unwrap_or("nobody: judges nothing").into(),
            source_words(&limit.source).into(),
        ]);
    }
    table.put(flow, "No limit is entered.");
    if !missing.is_empty() {
        flow.paragraph(&format!("Not entered, so not judged: {}.", missing.join(", ")), Type::BODY);
    }
    let near = Quantity::share(matter.plan().limits.near_share()).show(matter.style);
    flow.paragraph(&format!("Near means at least {near} of a limit."), Type::NOTE);
}

fn line(flow: &mut Flow, matter: &Matter<'_>) {
    flow.heading("Line and route", 12.0);
    let route = &matter.plan().route;
    let mut table = Table::new(vec![
        Column::new(Kind::Words, "what"),
        Column::new(Kind::Words, "value"),
        Column::new(Kind::Words, "source"),
    ]);
    if let Some(class) = &route.line_class {
        let per_metre = class.mass_per_metre_kg.map(|kg| Quantity::mass_per_length(kg).show(matter.style));
        let per_metre = per_metre.map_or("no limit per length".to_owned(), |shown| shown);
        let value = format!("{}: {} per axle, {per_metre}", class.name, matter.mass(class.axle_kg));
        table.row(vec![Cell::strong("line class"), value.into(), source_words(&class.source).into()]);
    }
    if let Some(gauge) = &route.gauge {
        table.row(vec![
            Cell::strong("gauge line"),
            gauge.name.as_str().into(),
            source_words(&gauge.source).into(),
        ]);
    }
    if let Some(set) = &route.accelerations {
        let g =
            |value: f64| Quantity { value: value * STANDARD_GRAVITY_M_S2, kind: QuantityKind::Acceleration };
        let [long, side, up] =
            [set.longitudinal_g, set.lateral_g, set.vertical_g].map(|value| g(value).show(matter.style));
        let value = format!("{}: lengthwise {long}, sideways {side}, vertical {up}", set.name);
        table.row(vec![
            Cell::strong("securing accelerations"),
            value.into(),
            source_words(&set.source).into(),
        ]);
    }
    for curve in &route.curves {
        let value = format!("radius {}", Quantity::length_m(curve.radius_m).show(matter.style));
        table.row(vec![Cell::strong("curve"), value.into(), "of the route, as entered".into()]);
    }
    if let Some(SCurve { radius_m, straight_m }) = route.s_curve {
        let [radius, straight] = [radius_m, straight_m].map(|m| Quantity::length_m(m).show(matter.style));
        let value = format!("radius {radius}, straight between {straight}");
        table.row(vec![Cell::strong("reverse curve"), value.into(), "of the route, as entered".into()]);
    }
    table.put(flow, "No line class, gauge line, curve or acceleration is entered.");
}

fn vehicle_types(flow: &mut Flow, matter: &Matter<'_>) {
    flow.heading("Vehicle types", 16.0);
    let mass = matter.mass_sign();
    let figure = |head: &str| Column::new(Kind::Figure, format!("{head}\n{mass}"));
    let mut table = Table::new(vec![
        Column::new(Kind::Words, "type"),
        Column::new(Kind::Figure, "in\ntrain"),
        figure("tare"),
        figure("payload"),
        figure("bogie"),
        figure("axle"),
        figure("wheel"),
        Column::new(Kind::Words, "source"),
    ]);
    let used =
        |at: usize| matter.figures.consist.vehicles.iter().filter(|place| place.vehicle_type == at).count();
    for (at, kind) in matter.plan().train.vehicle_types.iter().enumerate() {
        let VehicleType { payload_rating_kg, bogie_rating_kg, axle_rating_kg, wheel_rating_kg, .. } = kind;
        let ratings = [payload_rating_kg, bogie_rating_kg, axle_rating_kg, wheel_rating_kg];
        let mut cells = vec![
            Cell::strong(kind.name.as_str()),
            used(at).to_string().into(),
            matter.mass_number(kind.tare_kg).into(),
        ];
        cells.extend(ratings.map(|rating| Cell::new(matter.rating_number(*rating))));
        cells.push(source_words(&kind.source).into());
        table.row(cells);
    }
    table.put(flow, "No vehicle type is entered.");
}

fn rack_types(flow: &mut Flow, matter: &Matter<'_>) {
    flow.heading("Rack types", 16.0);
    let mass = matter.mass_sign();
    let force = Quantity::force(0.0).unit_sign(matter.style);
    let figure = |head: &str| Column::new(Kind::Figure, format!("{head}\n{mass}"));
    let mut table = Table::new(vec![
        Column::new(Kind::Words, "type"),
        Column::new(Kind::Words, "kind"),
        Column::new(Kind::Figure, "tiers"),
        Column::new(Kind::Figure, "lanes"),
        figure("pocket"),
        figure("tier"),
        figure("rack"),
        Column::new(Kind::Figure, format!("hold\n{force}")),
        Column::new(Kind::Words, "source"),
    ]);
    for kind in &matter.plan().train.rack_types {
        let RackType { pocket_rating_kg, tier_rating_kg, rack_rating_kg, hold_rating_n, .. } = kind;
        let mut cells = vec![
            Cell::strong(kind.name.as_str()),
            rack_word(kind.kind).into(),
            kind.tiers.len().to_string().into(),
            kind.lanes_y_mm.len().to_string().into(),
        ];
        let ratings = [pocket_rating_kg, tier_rating_kg, rack_rating_kg];
        cells.extend(ratings.map(|rating| Cell::new(matter.rating_number(*rating))));
        let hold = hold_rating_n.map(|n| Quantity::force(n).show_number(matter.style));
        cells.push(hold.unwrap_or(NOT_ENTERED.to_owned()).into());
        cells.push(source_words(&kind.source).into());
        table.row(cells);
    }
    table.put(flow, "No rack type is entered.");
}

/// Sections, and how the masses of strings were found.
fn material(flow: &mut Flow, matter: &Matter<'_>) {
    flow.heading("Rail sections and masses", 14.0);
    let mut table = Table::new(vec![
        Column::new(Kind::Words, "section"),
        Column::new(Kind::Figure, format!("mass\n{}", section_mass(0.0, matter.style).1)),
        Column::new(Kind::Words, "source"),
    ]);
    for section in &matter.plan().sections {
        let (entered, _) = section_mass(section.mass_kg_per_m, matter.style);
        let entered = matter.style.decimal.written(&entered);
        table.row(vec![
            Cell::strong(section.name.as_str()),
            entered.into(),
            source_words(&section.source).into(),
        ]);
    }
    table.put(flow, "No section is entered.");
    let basis = |wanted: Option<StatedBasis>| {
        let found = |mass: MassEntry| match mass {
            MassEntry::Computed => None,
            MassEntry::Stated { basis, .. } => Some(basis),
        };
        matter.plan().order.iter().filter(|string| found(string.mass) == wanted).count()
    };
    flow.paragraph(
        &format!(
            "Masses of strings: {} computed from length and section, {} weighed, {} from documents.",
            basis(None),
            basis(Some(StatedBasis::Weighed)),
            basis(Some(StatedBasis::Document))
        ),
        Type::BODY,
    );
}

/// The mass of a section with as many digits as were entered, and its unit; rails are known by lb/yd where feet are
/// used.
fn section_mass(kg_per_m: f64, style: Style) -> (String, &'static str) {
    match style.units {
        UnitSystem::Metric => (kg_per_m.to_string(), "kg/m"),
        UnitSystem::UsCustomary => (format!("{:.1}", kg_per_m / KG_PER_M_IN_LB_PER_YD), "lb/yd"),
    }
}

/// A source and how sure it is.
fn source_words(source: &Source) -> String {
    match source.text.trim() {
        "" => source.sure.words().to_owned(),
        text => format!("{text} ({})", source.sure.words()),
    }
}

fn rack_word(kind: RackKind) -> &'static str {
    match kind {
        RackKind::Roller => "roller",
        RackKind::Clamping => "clamping",
        RackKind::Fixed => "fixed",
    }
}
