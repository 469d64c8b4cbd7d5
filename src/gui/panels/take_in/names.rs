//! Names that the plan does not have, and what is meant by them.

use crate::gui::fields::{Spec, pick_ui};
use crate::intake::{Choices, Intake, NameChoice, NameKind, Unknown};
use crate::model::{Plan, TrainEnd};
use egui::{RichText, ScrollArea, Ui};

/// A line for each name: how many rows use it, and a list of what may be meant.
pub(super) fn names_ui(ui: &mut Ui, plan: &Plan, intake: &Intake, choices: &mut Choices) {
    if intake.unknown.is_empty() {
        return;
    }
    ui.add(egui::Label::new(RichText::new("Names that the plan does not have").strong()));
    ScrollArea::vertical().id_salt("names").max_height(84.0).show(ui, |ui| {
        for unknown in &intake.unknown {
            name_ui(ui, plan, unknown, choices);
        }
    });
}

fn name_ui(ui: &mut Ui, plan: &Plan, unknown: &Unknown, choices: &mut Choices) {
    let offered = offered(plan, unknown);
    ui.horizontal(|ui| {
        let rows = if unknown.rows == 1 { "1 row".to_owned() } else { format!("{} rows", unknown.rows) };
        let noun = unknown.kind.noun();
        ui.label(format!("{noun} \"{}\", {rows}:", unknown.name));
        let said = choices.meant(unknown.kind, &unknown.name).cloned().unwrap_or(NameChoice::Refuse);
        let now = offered.iter().position(|(choice, _)| *choice == said);
        let words: Vec<String> = offered.iter().map(|(_, words)| words.clone()).collect();
        let name = format!("What is meant by {noun} {}", unknown.name);
        let picked = pick_ui(ui, Spec::new(&name).wide(280.0), now, &words);
        if let Some((choice, _)) = picked.and_then(|at| offered.get(at)) {
            choices.mean(unknown.kind, &unknown.name, choice.clone());
        }
    });
}

/// What may be meant, the most likely first.
fn offered(plan: &Plan, unknown: &Unknown) -> Vec<(NameChoice, String)> {
    let mut offered = vec![(NameChoice::Refuse, "refuse these rows".to_owned())];
    let of_catalogue =
        |name: &String| (NameChoice::Use(name.clone()), format!("{name}, copied from the catalogue"));
    offered.extend(unknown.like.iter().map(of_catalogue));
    if unknown.kind == NameKind::Drop {
        offered.push((NameChoice::Make(TrainEnd::Rear), "a new drop, strings go over the rear".to_owned()));
        offered.push((NameChoice::Make(TrainEnd::Front), "a new drop, strings go over the front".to_owned()));
    }
    let own: Vec<String> = match unknown.kind {
        NameKind::Section => plan.sections.iter().map(|row| row.name.to_string()).collect(),
        NameKind::Steel => plan.steels.iter().map(|row| row.name.to_string()).collect(),
        NameKind::Drop => plan.drops.iter().map(|row| row.name.to_string()).collect(),
        NameKind::VehicleType => plan.train.vehicle_types.iter().map(|row| row.name.to_string()).collect(),
    };
    offered.extend(own.iter().map(|name| (NameChoice::Use(name.clone()), format!("{name}, as in the plan"))));
    let catalogue = crate::gui::samples::catalogue();
    let others: Vec<String> = match unknown.kind {
        NameKind::Section => catalogue.sections.iter().map(|row| row.name.to_string()).collect(),
        NameKind::Steel => catalogue.steels.iter().map(|row| row.name.to_string()).collect(),
        NameKind::VehicleType => catalogue.vehicle_types.iter().map(|row| row.name.to_string()).collect(),
        NameKind::Drop => Vec::new(),
    };
    let further = others.iter().filter(|name| !own.contains(name) && unknown.like.as_ref() != Some(name));
    offered.extend(further.map(of_catalogue));
    offered
}
