//! Rail sections and steels of the plan: copy from the catalogue, or type a row of your own.

use super::new_types;
use super::type_forms::source_ui;
use crate::edit::{Edit, Rows};
use crate::gui::fields::{Spec, form_grid, name_ui, number_ui, some_number_ui};
use crate::gui::glossary::term_ui;
use crate::gui::{Request, Shown};
use crate::model::{RailSection, Steel};
use egui::{ScrollArea, Ui};

/// The row being edited.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Chosen {
    /// A section, by index.
    Section(usize),
    /// A steel, by index.
    Steel(usize),
    /// A section that is being typed.
    NewSection,
    /// A steel that is being typed.
    NewSteel,
}

impl Default for Chosen {
    fn default() -> Self {
        Self::Section(0)
    }
}

impl Chosen {
    /// Draws the lists and the form of the row chosen.
    pub(super) fn ui(&mut self, ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
        let plan = shown.plan;
        let catalogue = crate::gui::samples::catalogue();
        // What is chosen now shows from the next frame on: the form before it is yet to take what was typed into it.
        let now = *self;
        ui.horizontal_wrapped(|ui| {
            ui.strong("Sections");
            for (at, row) in plan.sections.iter().enumerate() {
                if ui.selectable_label(now == Self::Section(at), row.name.as_str()).clicked() {
                    *self = Self::Section(at);
                }
            }
            ui.menu_button("Add a section", |ui| {
                if ui.button("A new section, typed in").clicked() {
                    *self = Self::NewSection;
                }
                ui.separator();
                // The catalogue is longer than a small window is high.
                let most = ui.ctx().content_rect().height() * 0.6;
                ScrollArea::vertical().max_height(most).show(ui, |ui| {
                    for row in catalogue.sections.iter().filter(|row| plan.section(&row.name).is_none()) {
                        if ui.button(row.name.as_str()).on_hover_text(&row.source.text).clicked() {
                            let add = Rows::Add { at: None, row: row.clone() };
                            requests.push(Request::Edit(Edit::Sections(add)));
                            *self = Self::Section(plan.sections.len());
                            ui.close();
                        }
                    }
                });
            });
        });
        ui.horizontal_wrapped(|ui| {
            ui.strong("Steels");
            for (at, row) in plan.steels.iter().enumerate() {
                if ui.selectable_label(now == Self::Steel(at), row.name.as_str()).clicked() {
                    *self = Self::Steel(at);
                }
            }
            ui.menu_button("Add a steel", |ui| {
                if ui.button("A new steel, typed in").clicked() {
                    *self = Self::NewSteel;
                }
                ui.separator();
                for row in catalogue.steels.iter().filter(|row| plan.steel(&row.name).is_none()) {
                    if ui.button(row.name.as_str()).on_hover_text(&row.source.text).clicked() {
                        requests.push(Request::Edit(Edit::Steels(Rows::Add { at: None, row: row.clone() })));
                        *self = Self::Steel(plan.steels.len());
                    }
                }
            });
        });
        ui.separator();
        match now {
            Self::NewSection => {
                if let Some(row) = new_types::section_ui(ui, shown) {
                    requests.push(Request::Edit(Edit::Sections(Rows::Add { at: None, row })));
                    *self = Self::Section(plan.sections.len());
                }
            }
            Self::NewSteel => {
                if let Some(row) = new_types::steel_ui(ui, shown) {
                    requests.push(Request::Edit(Edit::Steels(Rows::Add { at: None, row })));
                    *self = Self::Steel(plan.steels.len());
                }
            }
            Self::Section(at) => match plan.sections.get(at) {
                Some(row) => section_ui(ui, shown, row, requests),
                None => {
                    ui.weak("Add a section from the catalogue or type one; its figures can then be changed.");
                }
            },
            Self::Steel(at) => match plan.steels.get(at) {
                Some(row) => steel_ui(ui, shown, row, requests),
                None => {
                    ui.weak("Add a steel from the catalogue or type one; its figures can then be changed.");
                }
            },
        }
    }
}

fn section_ui(ui: &mut Ui, shown: &Shown<'_>, row: &RailSection, requests: &mut Vec<Request>) {
    let mut to = row.clone();
    ui.push_id(row.name.as_str(), |ui| {
        form_grid("section").show(ui, |ui| {
            term_ui(ui, "Name");
            if let Some(name) = name_ui(ui, Spec::new("Section name"), row.name.as_str()) {
                to.name = name;
            }
            ui.end_row();
            for (name, value, unit) in [
                ("Mass per length", &mut to.mass_kg_per_m, "kg/m"),
                ("Area", &mut to.area_cm2, "cm²"),
                ("Second moment, horizontal axis", &mut to.ix_cm4, "cm⁴"),
            ] {
                term_ui(ui, name);
                ui.horizontal(|ui| {
                    let given = number_ui(ui, Spec::new(name), (*value, unit), shown.style);
                    given.into_iter().for_each(|given| *value = given);
                });
                ui.end_row();
            }
            for (name, value, unit) in [
                ("Second moment, vertical axis", &mut to.iy_cm4, "cm⁴"),
                ("Height", &mut to.height_mm, "mm"),
                ("Foot width", &mut to.foot_mm, "mm"),
                ("Head width", &mut to.head_mm, "mm"),
                ("Web thickness", &mut to.web_mm, "mm"),
                ("Neutral axis above foot", &mut to.neutral_axis_mm, "mm"),
                ("Modulus at the head", &mut to.wx_head_cm3, "cm³"),
                ("Modulus at the foot", &mut to.wx_foot_cm3, "cm³"),
                ("Modulus of the foot edge, vertical axis", &mut to.wy_foot_cm3, "cm³"),
            ] {
                optional_ui(ui, shown, (name, unit), value);
            }
        });
        source_ui(ui, &mut to.source);
        if ui.button("Remove this section").clicked() {
            let names = vec![row.name.clone()];
            requests.push(Request::Edit(Edit::Sections(Rows::Remove { names })));
        }
    });
    if to != *row {
        requests.push(Request::Edit(Edit::Sections(Rows::Change { name: row.name.clone(), to })));
    }
}

fn steel_ui(ui: &mut Ui, shown: &Shown<'_>, row: &Steel, requests: &mut Vec<Request>) {
    let mut to = row.clone();
    ui.push_id(row.name.as_str(), |ui| {
        form_grid("steel").show(ui, |ui| {
            term_ui(ui, "Name");
            if let Some(name) = name_ui(ui, Spec::new("Steel name"), row.name.as_str()) {
                to.name = name;
            }
            ui.end_row();
            term_ui(ui, "Modulus of elasticity");
            ui.horizontal(|ui| {
                let spec = Spec::new("Modulus of elasticity");
                if let Some(modulus) = number_ui(ui, spec, (to.modulus_gpa, "GPa"), shown.style) {
                    to.modulus_gpa = modulus;
                }
            });
            ui.end_row();
            for (name, value, unit) in [
                ("Expansion", &mut to.expansion_1e6_per_k, "1e-6 per K"),
                ("Density", &mut to.density_kg_per_m3, "kg/m3"),
                ("Tensile strength", &mut to.tensile_mpa, "MPa"),
                ("Yield or proof stress", &mut to.yield_mpa, "MPa"),
                ("Handling stress allowed", &mut to.handling_mpa, "MPa"),
            ] {
                optional_ui(ui, shown, (name, unit), value);
            }
        });
        source_ui(ui, &mut to.source);
        if ui.button("Remove this steel").clicked() {
            let names = vec![row.name.clone()];
            requests.push(Request::Edit(Edit::Steels(Rows::Remove { names })));
        }
    });
    if to != *row {
        requests.push(Request::Edit(Edit::Steels(Rows::Change { name: row.name.clone(), to })));
    }
}

fn optional_ui(ui: &mut Ui, shown: &Shown<'_>, named: (&str, &str), value: &mut Option<f64>) {
    let (name, unit) = named;
    term_ui(ui, name);
    ui.horizontal(|ui| {
        let given = some_number_ui(ui, Spec::new(name), (*value, unit), shown.style);
        given.into_iter().for_each(|given| *value = given);
    });
    ui.end_row();
}
