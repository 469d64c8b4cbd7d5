//! The train on springs in plain text: a table per state beside the level one.

use super::layout::{Heading, Table, paragraph};
use crate::model::Topic;
use crate::statics::{Figures, SupportLoads};
use crate::units::{Quantity, Style};

/// Adds what the springs say of a worked state (by its number among those worked), where the plan asks for them.
pub(super) fn springs_table(out: &mut String, figures: &Figures, nth: usize, style: Style) {
    if !figures.plan.route.asked.contains(&Topic::Springs) {
        return;
    }
    out.push('\n');
    let springs = match figures.springs() {
        Ok(springs) => springs,
        Err(missing) => {
            let types = &figures.plan.train.vehicle_types;
            let names = missing.vehicle_types.iter().filter_map(|index| types.get(*index));
            let names: Vec<&str> = names.map(|kind| kind.name.as_str()).collect();
            let words =
                format!("on springs: undecided, no spring rates are entered for {}", names.join(", "));
            paragraph(out, "  ", "  ", &words);
            return;
        }
    };
    let Some((state, level)) = springs.states.get(nth).zip(figures.worked.get(nth)) else { return };
    let [mass, small] =
        [Quantity::mass(0.0), Quantity::small_length_m(0.0)].map(|quantity| quantity.unit_sign(style));
    let rest = if state.at_rest { "" } else { "; no rest was found, so that these figures mean nothing" };
    let head = format!("on springs, loads in {mass}, heave in {small}{rest}");
    paragraph(out, "  ", "  ", &head);
    let mut table = Table::new(
        1,
        [
            Heading("vehicle", "", ""),
            Heading("gross", "", ""),
            Heading("front", "axles", ""),
            Heading("rear", "axles", ""),
            Heading("front", "against", "level"),
            Heading("rear", "against", "level"),
            Heading("front", "wheels", "ratio"),
            Heading("rear", "wheels", "ratio"),
            Heading("largest", "wheel", ""),
            Heading("heave", "", ""),
        ],
    );
    let vehicles = state.loads.vehicles.iter().zip(&level.vehicles).zip(&state.moved).enumerate();
    for (vehicle, ((loads, level), moved)) in vehicles {
        let mass = |kg: f64| Quantity::mass(kg).show_number(style);
        let ratio = |loads: &SupportLoads| Quantity::ratio(loads.worse_ratio()).show_number(style);
        let against =
            |support: usize| mass(loads.supports[support].axle_kg - level.supports[support].axle_kg);
        let [front, rear] = &loads.supports;
        let mark = figures.plan.train.vehicles.get(vehicle).map(|vehicle| vehicle.mark.to_string());
        table.row(vec![
            mark.unwrap_or_default(),
            mass(loads.gross_kg),
            mass(front.axle_kg),
            mass(rear.axle_kg),
            against(0),
            against(1),
            ratio(front),
            ratio(rear),
            mass(front.largest_wheel_kg().max(rear.largest_wheel_kg())),
            Quantity::small_length_m(moved.heave_m).show_number(style),
        ]);
    }
    table.write(out, "no vehicle is in the train");
}
