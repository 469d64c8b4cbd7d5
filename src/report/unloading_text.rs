//! Unloading in plain text: the worst of each string drawn off, and the times of each drop.

use super::layout::{Heading, Table, paragraph};
use crate::checks::Subject;
use crate::model::Topic;
use crate::statics::{EndCondition, Figures};
use crate::units::{Quantity, Style};

/// Adds what is worked out of unloading, where the plan asks for it.
pub(super) fn unloading_tables(out: &mut String, figures: &Figures, style: Style) {
    if !figures.plan.route.asked.contains(&Topic::Unloading) {
        return;
    }
    let [length, moment, stress] =
        [Quantity::length_m(0.0), Quantity::moment(0.0), Quantity::stress(0.0)].map(|q| q.unit_sign(style));
    out.push_str(&format!("\nUnloading, the same in every state (lead in {length}, {moment}, {stress})\n"));
    let heads = [
        Heading("drop and step", "", ""),
        Heading("string", "", ""),
        Heading("worst while", "", ""),
        Heading("lead", "", ""),
        Heading("largest", "moment", ""),
        Heading("largest", "stress", ""),
    ];
    let mut table = Table::new(3, heads);
    for moved in &figures.unloading().strings {
        let place = Subject::Step(moved.drop, moved.step).place(figures);
        let string = figures.plan.order.get(moved.string).map(|string| string.mark.to_string());
        let mut row = vec![place, string.unwrap_or_default()];
        row.extend(match moved.worst() {
            _ if moved.too_short => ["it falls off: too short", "-", "-", "-"].map(str::to_owned),
            None => ["section data missing", "-", "-", "-"].map(str::to_owned),
            Some((case, peak)) => {
                let largest_nm = case
                    .racks
                    .as_ref()
                    .map_or_else(|| case.lead.largest_moment_nm(), |racks| racks.largest_moment_nm());
                [
                    condition_words(case.condition).to_owned(),
                    Quantity::length_m(case.lead.length_m).show_number(style),
                    Quantity::moment(largest_nm).show_number(style),
                    Quantity::stress(peak.stress_pa).show_number(style),
                ]
            }
        });
        table.row(row);
    }
    table.write(out, "no drop has a chute height");
    for times in figures.unloading().times.iter().filter(|times| !times.steps.is_empty()) {
        let shown = |s: Option<f64>| s.map_or("not known".to_owned(), |s| Quantity::time_s(s).show(style));
        let drop = Subject::Drop(times.drop).place(figures);
        let words =
            format!("{drop}: time {}, possession {}", shown(times.total_s), shown(times.possession_s));
        paragraph(out, "  ", "    ", &words);
    }
}

fn condition_words(condition: EndCondition) -> &'static str {
    match condition {
        EndCondition::FreeEnd => "its end is free",
        EndCondition::OverRacks => "over the racks",
        EndCondition::HeldLevel => "held level",
    }
}
