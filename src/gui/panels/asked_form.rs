//! What the plan asks to be judged beyond what always is, with what each topic needs.

use super::gather::gather_ui;
use crate::gui::fields::{Spec, form_grid, heading_ui, name_free_ui, number_ui, some_number_ui};
use crate::gui::glossary::term_ui;
use crate::model::{Accelerations, Route, Source, Sureness, Topic};
use crate::units::Style;
use egui::Ui;

/// What a reader calls a topic.
fn topic_words(topic: Topic) -> &'static str {
    match topic {
        Topic::TrainTotals => "Mass and length of the train",
        Topic::Springs => "The train on springs",
        Topic::Curves => "Bending and forces in curves",
        Topic::Creep => "Creep of the ends",
        Topic::HoldForces => "Forces at the holds",
        Topic::Gauge => "Load gauge",
        Topic::Cant => "Cant and speed",
        Topic::Unloading => "Stress while unloading, times",
        Topic::Braking => "Braked weight",
        Topic::Tolerances => "Tolerance bands",
    }
}

/// What must be entered for a topic to be decided.
fn topic_needs(topic: Topic) -> &'static str {
    match topic {
        Topic::TrainTotals => "limits of the train's mass and length",
        Topic::Springs => {
            "spring rates of the vehicle types under strings, limit of the difference between models"
        }
        Topic::Curves => {
            "curves, Iy and foot of the sections, side play and side rating of the racks, limits"
        }
        Topic::Creep => {
            "curves, coupling slack, temperature, expansion of the steels, one hold for each string"
        }
        Topic::HoldForces => {
            "securing accelerations, hold ratings; braking or buffing, coupling and axle ratings"
        }
        Topic::Gauge => "a gauge line, deck heights, sizes of the sections",
        Topic::Cant => "greatest cant, cant deficiency or speeds, heights of tare and deck, limit",
        Topic::Unloading => {
            "chute heights and handling times of the drops, feed speeds, moduli and yield, limit"
        }
        Topic::Braking => "braked weight of every vehicle type, limit of the percentage",
        Topic::Tolerances => "rack height tolerance (with springs) and mass tolerance",
    }
}

/// Draws a box for each topic.
pub(super) fn asked_ui(ui: &mut Ui, to: &mut Route) {
    heading_ui(ui, "Asked to be judged");
    ui.weak("Level statics, balance, support, overhang, holding and access always are.");
    for topic in Topic::ALL {
        let mut asked = to.asked.contains(&topic);
        if ui.checkbox(&mut asked, topic_words(topic)).changed() {
            // Kept in the order of all topics, so that the file does not depend on the order of clicks.
            to.asked = Topic::ALL
                .into_iter()
                .filter(|other| if *other == topic { asked } else { to.asked.contains(other) })
                .collect();
        }
        let indented = egui::Frame::new().inner_margin(egui::Margin { left: 22, ..Default::default() });
        indented.show(ui, |ui| {
            ui.set_max_width(360.0);
            let needs = egui::RichText::new(format!("needs {}", topic_needs(topic))).weak().small();
            ui.add(egui::Label::new(needs).wrap());
        });
    }
}

/// The securing accelerations in full, to be changed or entered as one's own.
pub(super) fn accelerations_ui(ui: &mut Ui, style: Style, to: &mut Option<Accelerations>) {
    const NAMES: [&str; 3] = ["Lengthwise", "Sideways", "Vertical"];
    form_grid("accelerations").show(ui, |ui| match to {
        None => {
            let own = gather_ui(ui, "accelerations", |ui, at, now| {
                ui.label(if at == 0 { "Own: lengthwise" } else { NAMES[at] });
                let name = format!("{} acceleration", NAMES[at]);
                let field = |ui: &mut Ui| some_number_ui(ui, Spec::new(&name).wide(90.0), (now, "g"), style);
                let changed = ui.horizontal(field).inner;
                ui.end_row();
                changed
            });
            *to = own.map(|[longitudinal_g, lateral_g, vertical_g]| Accelerations {
                name: "own".to_owned(),
                longitudinal_g,
                lateral_g,
                vertical_g,
                impact_m_per_s: None,
                source: own_source(),
            });
        }
        Some(set) => {
            let before = set.clone();
            term_ui(ui, "Name");
            if let Some(name) =
                name_free_ui(ui, Spec::new("Name of the accelerations").wide(200.0), &set.name)
            {
                set.name = name;
            }
            ui.end_row();
            let values = [&mut set.longitudinal_g, &mut set.lateral_g, &mut set.vertical_g];
            for (name, value) in NAMES.into_iter().zip(values) {
                term_ui(ui, name);
                let spec_name = format!("{name} acceleration");
                ui.horizontal(|ui| {
                    let given = number_ui(ui, Spec::new(&spec_name).wide(90.0), (*value, "g"), style);
                    given.into_iter().for_each(|given| *value = given);
                });
                ui.end_row();
            }
            term_ui(ui, "Speed change of an impact");
            ui.horizontal(|ui| {
                let spec = Spec::new("Speed change of an impact").wide(90.0);
                let given = some_number_ui(ui, spec, (set.impact_m_per_s, "m/s"), style);
                given.into_iter().for_each(|given| set.impact_m_per_s = given);
            });
            ui.end_row();
            if *set != before {
                set.source = own_source();
            }
            term_ui(ui, "Source");
            ui.label(format!("{} ({})", set.source.text, set.source.sure.words()));
            ui.end_row();
        }
    });
}

fn own_source() -> Source {
    Source { text: "entered by hand".to_owned(), sure: Sureness::Entered }
}
