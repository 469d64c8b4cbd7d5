//! The figures of a plan in plain text: strings once, then vehicles and racks of every state.

use super::LEVEL_RIGID;
use super::finding_text::state_name;
use super::layout::{Heading, Table, counted, paragraph};
use super::springs_text::springs_table;
use super::track_text::track_tables;
use super::unloading_text::unloading_tables;
use super::verdict::cautions;
use crate::statics::{
    BeamError, BeamFigures, Figures, PlacedString, StateFigures, StateRule, Trouble, VehicleLoads,
};
use crate::units::{Quantity, Style};

/// The figures of a plan for a reader: its strings, then vehicles and racks state by state.
pub fn figures_report(figures: &Figures, style: Style) -> String {
    let mut out = String::new();
    let states = counted(figures.worked.len(), "state", "states");
    let length = Quantity::length(figures.consist.length).show(style);
    let vehicles = counted(figures.consist.vehicles.len(), "vehicle", "vehicles");
    let strings = counted(figures.placed.len(), "string", "strings");
    if !figures.plan.title.trim().is_empty() {
        paragraph(&mut out, "Plan:    ", "         ", &figures.plan.title);
    }
    paragraph(&mut out, "Model:   ", "         ", LEVEL_RIGID);
    paragraph(
        &mut out,
        "Train:   ",
        "         ",
        &format!("{vehicles}, {length}; {strings} placed; {states}"),
    );
    strings_table(&mut out, figures, style);
    rack_loads(&mut out, figures, style);
    track_tables(&mut out, figures, style);
    unloading_tables(&mut out, figures, style);
    for (nth, state) in figures.worked.iter().enumerate() {
        state_tables(&mut out, figures, state, style);
        springs_table(&mut out, figures, nth, style);
    }
    out.push('\n');
    for caution in cautions() {
        paragraph(&mut out, "", "", caution);
    }
    out
}

/// Why a placement has no figures, in words.
pub(super) fn trouble_words(figures: &Figures, trouble: Trouble) -> String {
    match trouble {
        Trouble::Beam(BeamError::NoSupport) => "no rack under it".to_owned(),
        Trouble::Beam(BeamError::Tips) => "it tips: no two racks astride its middle".to_owned(),
        Trouble::NoPocket { rack } => format!("no such pocket at {}", rack_name(figures, rack)),
    }
}

fn strings_table(out: &mut String, figures: &Figures, style: Style) {
    out.push_str("\nStrings, the same in every state");
    let [mass, length, small, force, moment] = [
        Quantity::mass(0.0),
        Quantity::length_m(0.0),
        Quantity::small_length_m(0.0),
        Quantity::force(0.0),
        Quantity::moment(0.0),
    ]
    .map(|quantity| quantity.unit_sign(style));
    out.push_str(&format!(" (lengths in {length}, sag in {small}, masses in {mass}, {force}, {moment})\n"));
    let mut table = Table::new(
        2,
        [
            Heading("string", "", ""),
            Heading("section", "", ""),
            Heading("tier", "", ""),
            Heading("lane", "", ""),
            Heading("front", "end", ""),
            Heading("rear", "end", ""),
            Heading("mass", "", ""),
            Heading("racks", "", ""),
            Heading("largest", "reac-", "tion"),
            Heading("most", "hog-", "ging"),
            Heading("most", "sag-", "ging"),
            Heading("sag", "", ""),
            Heading("front", "over-", "hang"),
            Heading("rear", "over-", "hang"),
        ],
    );
    for placed in &figures.placed {
        table.row(string_cells(figures, placed, style));
    }
    table.write(out, "no string is placed");
    for placed in &figures.placed {
        if let Err(trouble) = &placed.beam {
            let words = trouble_words(figures, *trouble);
            paragraph(out, "  ", "    ", &format!("{}: {words}", mark(figures, placed)));
        }
    }
}

fn string_cells(figures: &Figures, placed: &PlacedString, style: Style) -> Vec<String> {
    let plan = &figures.plan;
    let placement = plan.placements.get(placed.placement);
    let number = |number: Option<u32>| number.map_or_else(dash, |number| number.to_string());
    let metres = |m: f64| Quantity::length_m(m).show_number(style);
    let beam = placed.beam.as_ref().ok();
    let of_beam = |value: &dyn Fn(&BeamFigures) -> Quantity| {
        beam.map_or_else(dash, |beam| value(beam).show_number(style))
    };
    vec![
        mark(figures, placed),
        plan.sections.get(placed.section).map(|section| section.name.to_string()).unwrap_or_default(),
        number(placement.map(|placement| placement.tier)),
        number(placement.map(|placement| placement.lane)),
        metres(placed.front.m()),
        metres(placed.rear.m()),
        Quantity::mass(placed.mass_kg).show_number(style),
        placed.racks.len().to_string(),
        of_beam(&|beam| Quantity::force(largest(&beam.reactions_n))),
        of_beam(&|beam| Quantity::moment(largest_of(beam.moments_nm.iter().map(|moment| -moment)))),
        of_beam(&|beam| Quantity::moment(largest_of(beam.spans.iter().map(|span| span.largest_moment_nm)))),
        of_beam(&|beam| Quantity::small_length_m(largest_of(beam.spans.iter().map(|span| span.sag_m)))),
        of_beam(&|beam| Quantity::length_m(beam.front_overhang_m)),
        of_beam(&|beam| Quantity::length_m(beam.rear_overhang_m)),
    ]
}

fn rack_loads(out: &mut String, figures: &Figures, style: Style) {
    let sign = Quantity::force(0.0).unit_sign(style);
    out.push_str(&format!("\nReactions of strings, from the front, in {sign} (- where it lifts off)\n"));
    for placed in &figures.placed {
        let Ok(beam) = &placed.beam else { continue };
        let racks = placed.racks.clone().zip(beam.reactions_n.iter().zip(&beam.carries));
        let words: Vec<String> = racks
            .map(|(rack, (reaction, carries))| {
                let load = if *carries { Quantity::force(*reaction).show_number(style) } else { dash() };
                format!("{}:{load}", short_rack_name(figures, rack))
            })
            .collect();
        paragraph(out, &format!("  {}:  ", mark(figures, placed)), "      ", &words.join("  "));
    }
}

fn state_tables(out: &mut String, figures: &Figures, state: &StateFigures, style: Style) {
    let rule = match figures.states.get(state.state).map(|state| state.rule) {
        Some(StateRule::Running) => "by running values",
        Some(StateRule::Working) => "by working values",
        Some(StateRule::NoteOnly) => "for note only",
        None => "without a rule",
    };
    let train = Quantity::mass(state.train_kg).show(style);
    let strings = counted(figures.present(state.state).count(), "string", "strings");
    let name = state_name(figures, state.state);
    out.push('\n');
    paragraph(
        out,
        "",
        "  ",
        &format!("{}, judged {rule}: {strings} on the train, {train} in all", capital(&name)),
    );
    vehicles_table(out, figures, state, style);
    out.push('\n');
    racks_table(out, figures, state, style);
}

fn vehicles_table(out: &mut String, figures: &Figures, state: &StateFigures, style: Style) {
    let [mass, per_length, length] =
        [Quantity::mass(0.0), Quantity::mass_per_length(0.0), Quantity::length_m(0.0)]
            .map(|quantity| quantity.unit_sign(style));
    out.push_str(&format!("  loads in {mass}, loads per length in {per_length}, heights in {length}\n"));
    let mut table = Table::new(
        1,
        [
            Heading("vehicle", "", ""),
            Heading("load", "", ""),
            Heading("gross", "", ""),
            Heading("front", "support", ""),
            Heading("rear", "support", ""),
            Heading("front", "axles", ""),
            Heading("rear", "axles", ""),
            Heading("support", "ratio", ""),
            Heading("front", "wheels", "ratio"),
            Heading("rear", "wheels", "ratio"),
            Heading("per", "length", ""),
            Heading("centre", "height", ""),
        ],
    );
    for (place, loads) in figures.consist.vehicles.iter().zip(&state.vehicles) {
        let vehicle = figures.plan.train.vehicles.get(place.vehicle);
        let mark = vehicle.map(|vehicle| vehicle.mark.to_string()).unwrap_or_default();
        table.row(vehicle_cells(mark, loads, style));
    }
    table.write(out, "no vehicle is in the train");
}

fn vehicle_cells(mark: String, loads: &VehicleLoads, style: Style) -> Vec<String> {
    let mass = |kg: f64| Quantity::mass(kg).show_number(style);
    let ratio = |ratio: f64| Quantity::ratio(ratio).show_number(style);
    let [front, rear] = &loads.supports;
    vec![
        mark,
        mass(loads.payload_kg),
        mass(loads.gross_kg),
        mass(front.load_kg),
        mass(rear.load_kg),
        mass(front.axle_kg),
        mass(rear.axle_kg),
        ratio(loads.support_ratio()),
        ratio(front.worse_ratio()),
        ratio(rear.worse_ratio()),
        Quantity::mass_per_length(loads.mass_per_metre_kg).show_number(style),
        loads.centre_height_m.map_or_else(dash, |m| Quantity::length_m(m).show_number(style)),
    ]
}

fn racks_table(out: &mut String, figures: &Figures, state: &StateFigures, style: Style) {
    let mut table = Table::new(1, [Heading("rack", "", ""), Heading("x", "", ""), Heading("total", "", "")]);
    let tiers = state.rack_tiers_kg.iter().map(Vec::len).max().unwrap_or(0);
    for tier in 1..=tiers {
        table.column([format!("tier {tier}"), String::new(), String::new()]);
    }
    for (rack, place) in figures.consist.racks.iter().enumerate() {
        let loads = state.rack_tiers_kg.get(rack).map(Vec::as_slice).unwrap_or_default();
        let mut cells = vec![
            short_rack_name(figures, rack),
            Quantity::length(place.x).show_number(style),
            Quantity::mass(state.rack_kg(rack)).show_number(style),
        ];
        cells.extend((0..tiers).map(|tier| match loads.get(tier) {
            Some(kg) => Quantity::mass(*kg).show_number(style),
            None => String::new(),
        }));
        table.row(cells);
    }
    table.write(out, "no rack is on the train");
}

fn mark(figures: &Figures, placed: &PlacedString) -> String {
    figures.plan.order.get(placed.string).map(|string| string.mark.to_string()).unwrap_or_default()
}

fn rack_name(figures: &Figures, rack: usize) -> String {
    name_of_rack(figures, rack, " rack ")
}

fn short_rack_name(figures: &Figures, rack: usize) -> String {
    name_of_rack(figures, rack, "/")
}

fn name_of_rack(figures: &Figures, rack: usize, between: &str) -> String {
    let place = figures.consist.racks.get(rack);
    let vehicle = place.and_then(|place| figures.plan.train.vehicles.get(place.vehicle));
    match (place, vehicle) {
        (Some(place), Some(vehicle)) => format!("{}{between}{}", vehicle.mark, place.number),
        _ => dash(),
    }
}

fn largest(values: &[f64]) -> f64 {
    largest_of(values.iter().copied())
}

/// The largest value, zero where none is above it.
fn largest_of(values: impl Iterator<Item = f64>) -> f64 {
    values.fold(0.0, f64::max)
}

fn dash() -> String {
    "-".to_owned()
}

fn capital(words: &str) -> String {
    let mut letters = words.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => String::new(),
    }
}
