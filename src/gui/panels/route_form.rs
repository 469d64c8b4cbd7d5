//! The route: line class, curves, cant, gauge, accelerations, and what the plan asks to be judged.

use super::asked_form::{accelerations_ui, asked_ui};
use crate::edit::Edit;
use crate::gui::entered;
use crate::gui::fields::{
    Spec, choice_ui, form_grid, heading_ui, name_free_ui, number_ui, pick_ui, quantity_ui, some_length_ui,
    some_number_ui, some_quantity_ui, typed_ui,
};
use crate::gui::glossary::term_ui;
use crate::gui::{Request, Shown};
use crate::model::{Curve, FeedSpeeds, Leg, LineClass, Route, SCurve, Source, Sureness, TrainEnd};
use crate::units::{Quantity, QuantityKind, Style};
use egui::Ui;

/// Draws the form.
pub(super) fn route_ui(ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
    let mut to = shown.plan.route.clone();
    // The width that is seen, not the one that could be scrolled to.
    if ui.clip_rect().width() < BESIDE_POINTS {
        line_class_ui(ui, shown, &mut to);
        asked_ui(ui, &mut to);
        travel_ui(ui, shown.style, &mut to);
    } else {
        ui.horizontal_top(|ui| {
            ui.vertical(|ui| {
                line_class_ui(ui, shown, &mut to);
                asked_ui(ui, &mut to);
            });
            ui.separator();
            ui.vertical(|ui| travel_ui(ui, shown.style, &mut to));
        });
    }
    if to != shown.plan.route {
        requests.push(Request::Edit(Edit::SetRoute { route: Box::new(to) }));
    }
}

/// From this width on the two halves of the form stand beside each other, in points.
const BESIDE_POINTS: f32 = 840.0;

/// What the train meets on its way.
fn travel_ui(ui: &mut Ui, style: Style, to: &mut Route) {
    heading_ui(ui, "Conditions");
    conditions_ui(ui, style, to);
    heading_ui(ui, "Securing accelerations");
    accelerations_ui(ui, style, &mut to.accelerations);
    heading_ui(ui, "Curves");
    curves_ui(ui, style, to);
    heading_ui(ui, "Legs");
    legs_ui(ui, to);
}

fn line_class_ui(ui: &mut Ui, shown: &Shown<'_>, to: &mut Route) {
    heading_ui(ui, "Line class");
    let classes = &crate::gui::samples::catalogue().line_classes;
    let names: Vec<String> = classes.iter().map(|class| class.name.clone()).collect();
    form_grid("line class").show(ui, |ui| {
        ui.label("From the catalogue");
        ui.horizontal(|ui| {
            let now = to.line_class.as_ref().and_then(|own| classes.iter().position(|class| class == own));
            let spec = Spec::new("Line class").hint("choose");
            if let Some(class) = pick_ui(ui, spec, now, &names).and_then(|at| classes.get(at)) {
                to.line_class = Some(class.clone());
            }
            if to.line_class.is_some()
                && ui.small_button("Clear").accessible_name("Clear line class").clicked()
            {
                to.line_class = None;
            }
        });
        ui.end_row();
        match &mut to.line_class {
            Some(class) => class_fields_ui(ui, shown.style, class),
            None => own_class_ui(ui, shown.style, to),
        }
    });
}

fn class_fields_ui(ui: &mut Ui, style: Style, class: &mut LineClass) {
    term_ui(ui, "Name");
    if let Some(name) = name_free_ui(ui, Spec::new("Name of line class"), &class.name) {
        class.name = name;
        class.source = own_source();
    }
    ui.end_row();
    term_ui(ui, "Most on an axle");
    ui.horizontal(|ui| {
        let spec = Spec::new("Most on an axle");
        if let Some(kg) = quantity_ui(ui, spec, Quantity::mass(class.axle_kg), style) {
            class.axle_kg = kg;
            class.source = own_source();
        }
    });
    ui.end_row();
    term_ui(ui, "Most per length");
    ui.horizontal(|ui| {
        let now = (class.mass_per_metre_kg, QuantityKind::MassPerLength);
        if let Some(kg) = some_quantity_ui(ui, Spec::new("Most per length"), now, style) {
            class.mass_per_metre_kg = kg;
            class.source = own_source();
        }
    });
    ui.end_row();
    term_ui(ui, "Source");
    ui.label(format!("{} ({})", class.source.text, class.source.sure.words()));
    ui.end_row();
}

/// A class of one's own begins with its axle load.
fn own_class_ui(ui: &mut Ui, style: Style, to: &mut Route) {
    ui.label("or your own: axle load");
    ui.horizontal(|ui| {
        let spec = Spec::new("Axle load of your own class");
        if let Some(Some(axle_kg)) = some_quantity_ui(ui, spec, (None, QuantityKind::Mass), style) {
            to.line_class = Some(LineClass {
                name: "own".to_owned(),
                axle_kg,
                mass_per_metre_kg: None,
                source: own_source(),
            });
        }
    });
    ui.end_row();
}

fn own_source() -> Source {
    Source { text: "entered by hand".to_owned(), sure: Sureness::Entered }
}

fn conditions_ui(ui: &mut Ui, style: Style, to: &mut Route) {
    form_grid("conditions").show(ui, |ui| {
        for (name, value, unit) in [
            ("Greatest cant", &mut to.greatest_cant_mm, "mm"),
            ("Greatest speed", &mut to.speed_kmh, "km/h"),
            ("Greatest cant deficiency", &mut to.cant_deficiency_mm, "mm"),
            ("Braking", &mut to.braking_m_per_s2, "m/s2"),
            ("Buffing", &mut to.buffing_m_per_s2, "m/s2"),
            ("Temperature, strings to frames", &mut to.temperature_range_k, "K, both ways"),
            ("Rack height tolerance", &mut to.rack_height_tolerance_mm, "mm, both ways"),
        ] {
            optional_ui(ui, style, (name, unit), value);
        }
        let mut percent = to.mass_tolerance.map(|share| share * 100.0);
        optional_ui(ui, style, ("Mass tolerance", "%, both ways"), &mut percent);
        if percent != to.mass_tolerance.map(|share| share * 100.0) {
            to.mass_tolerance = percent.map(|percent| percent / 100.0);
        }
        term_ui(ui, "Wagon height tolerance");
        ui.horizontal(|ui| {
            let spec = Spec::new("Wagon height tolerance");
            if let Some(length) = some_length_ui(ui, spec, to.wagon_height_tolerance, style) {
                to.wagon_height_tolerance = length;
            }
        });
        ui.end_row();
        term_ui(ui, "May be humped");
        let humped = [(None, "not entered"), (Some(false), "no"), (Some(true), "yes")];
        if let Some(humped) = choice_ui(ui, Spec::new("May be humped"), to.humped, &humped) {
            to.humped = humped;
        }
        ui.end_row();
        let mut feed = to.feed.unwrap_or(FeedSpeeds { loading_m_per_s: None, unloading_m_per_s: None });
        optional_ui(ui, style, ("Loading speed", "m/s"), &mut feed.loading_m_per_s);
        optional_ui(ui, style, ("Unloading speed", "m/s"), &mut feed.unloading_m_per_s);
        let any = feed.loading_m_per_s.is_some() || feed.unloading_m_per_s.is_some();
        to.feed = (any || to.feed.is_some()).then_some(feed);
        sets_ui(ui, to);
    });
}

/// Securing accelerations and the gauge line, both from the catalogue.
fn sets_ui(ui: &mut Ui, to: &mut Route) {
    let catalogue = crate::gui::samples::catalogue();
    let with_none = |names: Vec<String>| -> Vec<String> {
        std::iter::once("not entered".to_owned()).chain(names).collect()
    };
    term_ui(ui, "Securing accelerations");
    let sets = &catalogue.accelerations;
    let names = with_none(sets.iter().map(|set| set.name.clone()).collect());
    let now = match &to.accelerations {
        None => Some(0),
        Some(own) => sets.iter().position(|set| set == own).map(|at| at + 1),
    };
    let own_name = to.accelerations.as_ref().map_or(String::new(), |own| own.name.clone());
    let spec = Spec::new("Securing accelerations").wide(200.0).hint(&own_name);
    if let Some(at) = pick_ui(ui, spec, now, &names) {
        to.accelerations = at.checked_sub(1).and_then(|at| sets.get(at)).cloned();
    }
    ui.end_row();
    term_ui(ui, "Load gauge");
    let lines = &catalogue.gauges;
    let names = with_none(lines.iter().map(|line| line.name.clone()).collect());
    let now = match &to.gauge {
        None => Some(0),
        Some(own) => lines.iter().position(|line| line == own).map(|at| at + 1),
    };
    let own_name = to.gauge.as_ref().map_or(String::new(), |own| own.name.clone());
    let spec = Spec::new("Load gauge").wide(200.0).hint(&own_name);
    if let Some(at) = pick_ui(ui, spec, now, &names) {
        to.gauge = at.checked_sub(1).and_then(|at| lines.get(at)).cloned();
    }
    ui.end_row();
    if let Some(line) = &to.gauge {
        ui.label("");
        ui.weak(format!("{} ({})", line.source.text, line.source.sure.words()));
        ui.end_row();
    }
}

fn optional_ui(ui: &mut Ui, style: Style, named: (&str, &str), value: &mut Option<f64>) {
    let (name, unit) = named;
    term_ui(ui, name);
    ui.horizontal(|ui| {
        let given = some_number_ui(ui, Spec::new(name).wide(90.0), (*value, unit), style);
        given.into_iter().for_each(|given| *value = given);
    });
    ui.end_row();
}

fn curves_ui(ui: &mut Ui, style: Style, to: &mut Route) {
    let mut remove = None;
    for (at, curve) in to.curves.iter_mut().enumerate() {
        ui.push_id(("curve", at), |ui| {
            ui.horizontal(|ui| {
                ui.label("radius");
                let spec = Spec::new("Radius of the curve").wide(60.0);
                if let Some(radius) = number_ui(ui, spec, (curve.radius_m, "m, arc"), style) {
                    curve.radius_m = radius;
                }
                let spec = Spec::new("Arc of the curve").wide(90.0).hint("longer than train");
                let arc = typed_ui(ui, spec, &arc_text(curve.arc_m, style), |text| read_arc(text, style));
                arc.into_iter().for_each(|arc| curve.arc_m = arc);
                ui.label(entered::reader_unit("m, transition", style).1);
                let spec = Spec::new("Transition of the curve").wide(50.0);
                if let Some(length) = number_ui(ui, spec, (curve.transition_m, "m, cant"), style) {
                    curve.transition_m = length;
                }
                let spec = Spec::new("Cant of the curve").wide(90.0);
                if let Some(cant) = some_number_ui(ui, spec, (curve.cant_mm, "mm, speed"), style) {
                    curve.cant_mm = cant;
                }
                let spec = Spec::new("Speed in the curve").wide(90.0);
                if let Some(speed) = some_number_ui(ui, spec, (curve.speed_kmh, "km/h"), style) {
                    curve.speed_kmh = speed;
                }
                if ui.small_button("x").accessible_name(format!("Remove curve {}", at + 1)).clicked() {
                    remove = Some(at);
                }
            });
        });
    }
    if let Some(at) = remove {
        to.curves.remove(at);
    }
    ui.horizontal(|ui| {
        ui.label("Add a curve of radius");
        let spec = Spec::new("Radius of a new curve").wide(90.0);
        if let Some(Some(radius_m)) = some_number_ui(ui, spec, (None, "m"), style) {
            to.curves.push(Curve {
                radius_m,
                arc_m: None,
                transition_m: 0.0,
                cant_mm: None,
                speed_kmh: None,
            });
        }
    });
    ui.horizontal(|ui| {
        ui.label("Reverse curve of radius");
        let spec = Spec::new("Radius of the reverse curve").wide(90.0);
        let now = (to.s_curve.map(|curve| curve.radius_m), "m");
        if let Some(radius) = some_number_ui(ui, spec, now, style) {
            let straight_m = to.s_curve.map_or(0.0, |curve| curve.straight_m);
            to.s_curve = radius.map(|radius_m| SCurve { radius_m, straight_m });
        }
        if let Some(curve) = &mut to.s_curve {
            let spec = Spec::new("Straight between the arcs").wide(60.0);
            if let Some(straight) = number_ui(ui, spec, (curve.straight_m, "m straight between"), style) {
                curve.straight_m = straight;
            }
        }
    });
}

/// The length of an arc; nothing for one that is longer than the train.
fn arc_text(arc_m: Option<f64>, style: Style) -> String {
    arc_m.map(|arc_m| entered::shown(arc_m, "m", style)).unwrap_or_default()
}

fn read_arc(text: &str, style: Style) -> Result<Option<f64>, String> {
    if text.is_empty() { Ok(None) } else { entered::read(text, "m", style).map(Some) }
}

fn legs_ui(ui: &mut Ui, to: &mut Route) {
    let ends = [(TrainEnd::Front, "front leads"), (TrainEnd::Rear, "rear leads")];
    let mut remove = None;
    for (at, leg) in to.legs.iter_mut().enumerate() {
        ui.push_id(("leg", at), |ui| {
            ui.horizontal(|ui| {
                if let Some(name) = name_free_ui(ui, Spec::new("Leg").wide(180.0), &leg.name) {
                    leg.name = name;
                }
                if let Some(leading) = choice_ui(ui, Spec::new("Leading end"), leg.leading, &ends) {
                    leg.leading = leading;
                }
                if ui.small_button("x").accessible_name(format!("Remove leg {}", at + 1)).clicked() {
                    remove = Some(at);
                }
            });
        });
    }
    if let Some(at) = remove {
        to.legs.remove(at);
    }
    if ui.small_button("Add a leg").clicked() {
        to.legs.push(Leg { name: format!("leg {}", to.legs.len() + 1), leading: TrainEnd::Front });
    }
}
