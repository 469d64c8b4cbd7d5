//! The springs of a vehicle type: rates that somebody measured or that stand in its papers; none are guessed.

use super::gather::gather_ui;
use crate::gui::fields::{
    Spec, form_grid, heading_ui, plain_text, quantity_ui, some_number_ui, some_quantity_ui, typed_ui,
};
use crate::gui::glossary::term_ui;
use crate::model::Springs;
use crate::units::{Quantity, QuantityKind, Style, parse_number};
use egui::Ui;

const RATES: [(&str, QuantityKind); 3] = [
    ("Spring rate of the front", QuantityKind::ForcePerLength),
    ("Spring rate of the rear", QuantityKind::ForcePerLength),
    ("Roll stiffness of each", QuantityKind::AngularStiffness),
];

/// Draws the form; the springs count once both rates and the roll stiffness are entered.
pub(super) fn springs_ui(ui: &mut Ui, style: Style, to: &mut Option<Springs>) {
    heading_ui(ui, "Springs, of a bogie or an axle");
    match to {
        Some(springs) => {
            form_grid("springs").show(ui, |ui| {
                rates_ui(ui, style, springs);
                more_ui(ui, style, springs);
            });
            if ui.small_button("Take the springs out").clicked() {
                *to = None;
            }
        }
        None => {
            form_grid("springs to enter").show(ui, |ui| *to = entered_ui(ui, style));
            ui.weak("They count once all three are entered; what is not known is left empty.");
        }
    }
}

fn entered_ui(ui: &mut Ui, style: Style) -> Option<Springs> {
    let rates = gather_ui(ui, "springs", |ui, at, now| {
        let (name, kind) = RATES[at];
        term_ui(ui, name);
        let changed = ui.horizontal(|ui| some_quantity_ui(ui, Spec::new(name), (now, kind), style)).inner;
        ui.end_row();
        changed
    });
    let [front_n_per_m, rear_n_per_m, roll_nm_per_rad] = rates?;
    Some(Springs {
        front_n_per_m,
        rear_n_per_m,
        roll_nm_per_rad,
        frame_n_per_m: None,
        envelope: None,
        spring_height_mm: None,
        sprung_tare_kg: None,
    })
}

fn rates_ui(ui: &mut Ui, style: Style, springs: &mut Springs) {
    let values = [&mut springs.front_n_per_m, &mut springs.rear_n_per_m, &mut springs.roll_nm_per_rad];
    for ((name, kind), value) in RATES.into_iter().zip(values) {
        term_ui(ui, name);
        ui.horizontal(|ui| {
            let now = Quantity { value: *value, kind };
            let given = quantity_ui(ui, Spec::new(name), now, style);
            given.into_iter().for_each(|given| *value = given);
        });
        ui.end_row();
    }
}

fn more_ui(ui: &mut Ui, style: Style, springs: &mut Springs) {
    for (name, kind, value) in [
        ("Stiffness of the frame", QuantityKind::ForcePerLength, &mut springs.frame_n_per_m),
        ("Sprung part of the tare", QuantityKind::Mass, &mut springs.sprung_tare_kg),
    ] {
        term_ui(ui, name);
        ui.horizontal(|ui| {
            let given = some_quantity_ui(ui, Spec::new(name), (*value, kind), style);
            given.into_iter().for_each(|given| *value = given);
        });
        ui.end_row();
    }
    term_ui(ui, "Springs above rail");
    ui.horizontal(|ui| {
        let spec = Spec::new("Springs above rail");
        let given = some_number_ui(ui, spec, (springs.spring_height_mm, "mm"), style);
        given.into_iter().for_each(|given| springs.spring_height_mm = given);
    });
    ui.end_row();
    term_ui(ui, "Lowest and highest rates");
    ui.horizontal(|ui| {
        let text = springs.envelope.map(|(low, high)| {
            format!("{}; {}", plain_text(low * 100.0, style), plain_text(high * 100.0, style))
        });
        let spec = Spec::new("Lowest and highest rates").hint("not entered");
        let given = typed_ui(ui, spec, &text.unwrap_or_default(), read_envelope);
        given.into_iter().for_each(|given| springs.envelope = given);
        ui.label("% of those entered, parted by ;");
    });
    ui.end_row();
}

/// Reads two percentages, such as `80; 120`, as shares; nothing is none.
fn read_envelope(text: &str) -> Result<Option<(f64, f64)>, String> {
    if text.is_empty() {
        return Ok(None);
    }
    let (low, high) = text.split_once(';').ok_or("two numbers are needed, such as 80; 120")?;
    let share =
        |text: &str| parse_number(text).map(|percent| percent / 100.0).map_err(|error| error.to_string());
    let (low, high) = (share(low)?, share(high)?);
    match low > 0.0 && low <= high {
        true => Ok(Some((low, high))),
        false => Err("the lowest rate comes first and is above zero, such as 80; 120".to_owned()),
    }
}

#[cfg(test)]
mod tests {
    use super::read_envelope;

    #[test]
    fn an_envelope_is_two_percentages_the_lowest_first() {
        assert_eq!(read_envelope("80; 120"), Ok(Some((0.8, 1.2))));
        assert_eq!(read_envelope("75,5;75,5"), Ok(Some((0.755, 0.755))));
        assert_eq!(read_envelope(""), Ok(None));
        for refused in ["80", "120; 80", "0; 120", "soft; stiff"] {
            assert!(read_envelope(refused).is_err(), "{refused}");
        }
    }
}
