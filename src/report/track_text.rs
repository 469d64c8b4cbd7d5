//! Holding, creep, curves, the outline and cant in plain text: short tables of what is judged, where the plan asks.

use super::layout::{Heading, Table};
use crate::checks::Subject;
use crate::model::Topic;
use crate::statics::cant::{CantCase, Leaning};
use crate::statics::gauge::{Outline, OutlineAt};
use crate::statics::{EndCreep, Figures, Held, StateRule};
use crate::units::{Quantity, Style};

/// Adds the table of one topic.
type AddTable = fn(&mut String, &Figures, Style);

/// Adds the tables of all topics that the plan asks for.
pub(super) fn track_tables(out: &mut String, figures: &Figures, style: Style) {
    let tables: [(Topic, AddTable); 5] = [
        (Topic::HoldForces, holding_table),
        (Topic::Creep, creep_table),
        (Topic::Curves, curve_table),
        (Topic::Gauge, gauge_table),
        (Topic::Cant, cant_table),
    ];
    for (topic, table) in tables {
        if figures.plan.route.asked.contains(&topic) {
            table(out, figures, style);
        }
    }
}

fn holding_table(out: &mut String, figures: &Figures, style: Style) {
    let sign = Quantity::force(0.0).unit_sign(style);
    out.push_str(&format!("\nHolds of strings, the same in every state (in {sign})\n"));
    let mut table = Table::new(
        2,
        [
            Heading("string", "", ""),
            Heading("held at", "", ""),
            Heading("force", "", ""),
            Heading("impact", "half sine", ""),
            Heading("impact", "bound", ""),
        ],
    );
    if let Some(holding) = figures.holding() {
        for (placed, holding) in figures.placed.iter().zip(&holding.strings) {
            let at = match holding.held {
                Held::At(rack) => Subject::Rack(rack).place(figures),
                Held::Nowhere => "nowhere".to_owned(),
                Held::Several => "several".to_owned(),
            };
            let force = |n: Option<f64>| n.map_or_else(dash, |n| Quantity::force(n).show_number(style));
            table.row(vec![
                Subject::String(placed.string).place(figures),
                at,
                force(Some(holding.force_n)),
                force(holding.impact.as_ref().and_then(|impact| impact.half_sine_n)),
                force(holding.impact.as_ref().map(|impact| impact.bound_n)),
            ]);
        }
    }
    table.write(out, "undecided: no accelerations are entered, or no string is placed");
}

fn creep_table(out: &mut String, figures: &Figures, style: Style) {
    let sign = Quantity::length_m(0.0).unit_sign(style);
    out.push_str(&format!("\nCreep of ends against their last rack, the same in every state (in {sign})\n"));
    let mut table = Table::new(
        1,
        [
            Heading("end", "", ""),
            Heading("over-", "hang", ""),
            Heading("toward", "hold", ""),
            Heading("away", "", ""),
            Heading("curves", "toward", ""),
            Heading("curves", "away", ""),
            Heading("slack", "either way", ""),
            Heading("heat", "either way", ""),
        ],
    );
    for (placed, ends) in figures.placed.iter().zip(&figures.creep().strings) {
        for end in ends.iter().flatten() {
            let mut row = vec![Subject::StringEnd(placed.string, end.end).place(figures)];
            row.extend(creep_lengths_m(end).map(|m| Quantity::length_m(m).show_number(style)));
            table.row(row);
        }
    }
    table.write(out, "undecided: curves, coupling slack, temperature range, holds or steels are not entered");
}

/// Overhang, movement toward the hold and away from it, and their parts, all as lengths.
fn creep_lengths_m(end: &EndCreep) -> [f64; 7] {
    let shift = &end.over_last;
    [
        end.overhang_m,
        shift.in_m(),
        shift.out_m(),
        -shift.curve_in_m,
        shift.curve_out_m,
        shift.slack_m,
        shift.temperature_m,
    ]
}

fn curve_table(out: &mut String, figures: &Figures, style: Style) {
    let [moment, length] =
        [Quantity::moment(0.0), Quantity::small_length_m(0.0)].map(|quantity| quantity.unit_sign(style));
    out.push_str(&format!("\nStrings in curves, the same in every state ({moment}, swings in {length})\n"));
    let mut table = Table::new(
        2,
        [
            Heading("string", "", ""),
            Heading("worst", "", ""),
            Heading("sideways", "moment", ""),
            Heading("swing from", "track", ""),
            Heading("swing from", "deck", ""),
        ],
    );
    let curves = figures.curves();
    for placed in &figures.placed {
        let Some(worst) = curves.class(placed.placement).and_then(|class| curves.worst_peak(class)) else {
            continue;
        };
        let swings = curves.cases.iter().filter_map(|case| *case.swings.get(placed.placement)?).flatten();
        let [from_track_m, from_deck_m] = swings.fold([0.0_f64; 2], |[track_m, deck_m], swing| {
            [track_m.max(swing.from_track_m.abs()), deck_m.max(swing.from_deck_m.abs())]
        });
        table.row(vec![
            Subject::String(placed.string).place(figures),
            curves.cases.get(worst.case).map_or_else(dash, |case| case.case.title()),
            Quantity::moment(worst.peak.moment_nm).show_number(style),
            Quantity::small_length_m(from_track_m).show_number(style),
            Quantity::small_length_m(from_deck_m).show_number(style),
        ]);
    }
    table.write(out, "undecided: curves, side play or sections are not entered");
}

fn gauge_table(out: &mut String, figures: &Figures, style: Style) {
    let sign = Quantity::small_length_m(0.0).unit_sign(style);
    out.push_str(&format!(
        "\nOutline of the load against the line, on rigid bodies, where least is left of each string (in {sign})\n"
    ));
    let heads = [
        Heading("place", "", ""),
        Heading("half-width", "needed", ""),
        Heading("of the", "line", ""),
        Heading("at", "height", ""),
    ];
    let mut table = Table::new(1, heads);
    let outlines = &figures.gauge().outlines;
    for (at, placed) in figures.placed.iter().enumerate() {
        let own = outlines.iter().filter(|outline| outline.placement == at);
        let reaches = own.filter_map(|outline| Some((outline, outline.reach(0.0, 0.0)?)));
        let least =
            reaches.min_by(|(_, a), (_, b)| (a.line_m - a.reach_m).total_cmp(&(b.line_m - b.reach_m)));
        let Some((outline, reach)) = least else { continue };
        let mut row = vec![outline_subject(placed.string, outline).place(figures)];
        let lengths_m = [reach.reach_m, reach.line_m, reach.height_m];
        row.extend(lengths_m.map(|m| Quantity::small_length_m(m).show_number(style)));
        table.row(row);
    }
    table.write(out, "undecided: no reference line, or sections are not entered");
}

fn outline_subject(string: usize, outline: &Outline) -> Subject {
    match outline.at {
        OutlineAt::Rack(rack) => Subject::StringAtRack(string, rack),
        OutlineAt::End(end) => Subject::StringEnd(string, end),
    }
}

fn cant_table(out: &mut String, figures: &Figures, style: Style) {
    out.push_str("\nWheel unloading on cant, the worst of all states and cases\n");
    let heads = [Heading("vehicle", "", ""), Heading("rigid", "", ""), Heading("on springs", "", "")];
    let mut table = Table::new(1, heads);
    let cases = CantCase::of(&figures.plan.route);
    for vehicle in 0..figures.consist.vehicles.len() {
        let mut worst: Option<(f64, Option<f64>)> = None;
        for state in &figures.worked {
            let travels = figures.states[state.state].rule == StateRule::Running;
            let Some(lean) = Leaning::of(figures, state, vehicle) else { continue };
            for case in cases.iter().filter(|case| travels || case.stands()) {
                let side_g = case.side_g(lean.contact_m);
                let of = |s: f64| lean.unloading(side_g, s);
                let here = (of(0.0), lean.roll.ok().map(of));
                let (rigid, sprung) = worst.unwrap_or(here);
                let larger = sprung.zip(here.1).map(|(kept, new)| kept.max(new));
                worst = Some((rigid.max(here.0), larger));
            }
        }
        let Some((rigid, sprung)) = worst else { continue };
        let share = |share: f64| Quantity::share(share).show(style);
        table.row(vec![
            Subject::Vehicle(vehicle).place(figures),
            share(rigid),
            sprung.map_or_else(dash, share),
        ]);
    }
    table.write(out, "undecided: cant, speeds or heights are not entered");
}

fn dash() -> String {
    "-".to_owned()
}
