//! The grid of readings: a line for each vehicle, a field for each part, and under it what is computed.

use super::Parts;
use crate::checks::Outcome;
use crate::edit::Edit;
use crate::gui::fields::{Spec, bare_quantity_ui, next_by_enter};
use crate::gui::panels::mark::{mark_ui, role_of};
use crate::gui::views::person::Person;
use crate::gui::{Request, Role, Shown};
use crate::model::{Plan, VehicleMark, WeighedPart, Weighing};
use crate::planning::weighings::{SumOfReadings, Weighed};
use crate::report::part_words;
use crate::units::{Quantity, QuantityKind};
use egui::{RichText, ScrollArea, Sense, Ui, UiBuilder, Vec2, vec2};

const MARK_POINTS: f32 = 64.0;
const CELL: Vec2 = vec2(76.0, 40.0);
/// So far outside the part in sight lines are drawn too, so that the keyboard can go on to them.
const AHEAD_POINTS: f32 = 90.0;

/// Draws the grid; `tolerance` is that of new readings.
pub(super) fn grid_ui(
    ui: &mut Ui,
    shown: &Shown<'_>,
    weighed: &Weighed,
    entry: (Parts, Option<f64>, &Person),
    requests: &mut Vec<Request>,
) {
    let plan: &Plan = shown.document.plan();
    if plan.train.vehicles.is_empty() {
        ui.label("The train has no vehicles yet: set it up under Train first.");
        return;
    }
    let columns = columns(weighed, entry.0);
    let width = MARK_POINTS + (CELL.x + 4.0) * columns.len() as f32;
    let fits = width <= ui.available_width();
    let spacing = vec2(4.0, 2.0);
    if fits {
        // The names stay where they are while the lines are scrolled.
        ui.spacing_mut().item_spacing = spacing;
        header_ui(ui, shown, (entry.0, &columns));
    }
    ScrollArea::new([!fits, true]).id_salt("readings").auto_shrink(false).show(ui, |ui| {
        ui.spacing_mut().item_spacing = spacing;
        if !fits {
            header_ui(ui, shown, (entry.0, &columns));
        }
        for (vehicle, row) in plan.train.vehicles.iter().enumerate() {
            line_ui(ui, shown, (weighed, vehicle, &row.mark), (entry, &columns), requests);
        }
        train_ui(ui, shown, weighed);
    });
}

/// The parts that stand side by side: those of the vehicle with the most axles.
fn columns(weighed: &Weighed, parts: Parts) -> Vec<WeighedPart> {
    let axles = weighed.figures.consist.vehicles.iter().map(|place| 2 * place.axles_per_support).max();
    let axles = 1..=axles.unwrap_or(0);
    match parts {
        Parts::Whole => vec![WeighedPart::Vehicle],
        Parts::Axles => axles.map(WeighedPart::Axle).collect(),
        Parts::Wheels => {
            axles.flat_map(|axle| [WeighedPart::LeftWheel(axle), WeighedPart::RightWheel(axle)]).collect()
        }
    }
}

fn header_ui(ui: &mut Ui, shown: &Shown<'_>, (parts, columns): (Parts, &[WeighedPart])) {
    let unit = Quantity::small_mass(0.0).unit_sign(shown.style);
    ui.horizontal(|ui| {
        cell_ui(ui, vec2(MARK_POINTS, 18.0), |ui| ui.weak(unit));
        for part in columns {
            let words = match part {
                WeighedPart::Vehicle => "whole".to_owned(),
                WeighedPart::Axle(axle) => format!("axle {axle}"),
                WeighedPart::LeftWheel(axle) => format!("{axle} left"),
                WeighedPart::RightWheel(axle) => format!("{axle} right"),
            };
            cell_ui(ui, vec2(CELL.x, 18.0), |ui| ui.weak(words).on_hover_text(part_words(*part)));
        }
        if parts == Parts::Whole {
            let names = [
                ("read", "by one reading of the whole, by all axles, or by all wheels"),
                ("computed", "of the load as it is, at departure"),
                ("difference", "read less computed"),
                ("tolerance", "independent tolerances add by their squares"),
            ];
            for (name, why) in names {
                cell_ui(ui, vec2(CELL.x, 18.0), |ui| ui.weak(name).on_hover_text(why));
            }
        }
    });
}

/// The readings of one vehicle.
fn line_ui(
    ui: &mut Ui,
    shown: &Shown<'_>,
    (weighed, vehicle, mark): (&Weighed, usize, &VehicleMark),
    (entry, columns): ((Parts, Option<f64>, &Person), &[WeighedPart]),
    requests: &mut Vec<Request>,
) {
    let width = MARK_POINTS + (CELL.x + 4.0) * columns.len() as f32;
    let wide = if entry.0 == Parts::Whole { width + 360.0 } else { width };
    let (_, rect) = ui.allocate_space(vec2(wide, CELL.y));
    if !ui.is_rect_visible(rect.expand2(vec2(0.0, AHEAD_POINTS))) {
        return;
    }
    let line = UiBuilder::new().max_rect(rect).layout(egui::Layout::left_to_right(egui::Align::Min));
    let drawn = ui.scope_builder(line, |ui| {
        cell_ui(ui, vec2(MARK_POINTS, CELL.y), |ui| mark_of_vehicle_ui(ui, shown, (vehicle, mark), requests));
        let axles =
            weighed.figures.consist.vehicles.get(vehicle).map_or(0, |place| 2 * place.axles_per_support);
        for part in columns.iter().filter(|part| axle_of(**part) <= axles) {
            cell_ui(ui, CELL, |ui| {
                part_ui(ui, shown, (weighed, vehicle, *part), (mark, entry.1, entry.2), requests);
            });
        }
        if entry.0 == Parts::Whole
            // Of several that contradict each other the last, which is the one in the field.
            && let Some((_, sum)) = weighed.vehicles.iter().rfind(|(at, _)| *at == vehicle)
        {
            sum_ui(ui, shown, sum);
        }
        ui.memory(|memory| memory.focused())
    });
    follow_keyboard(ui, drawn.inner, rect);
}

/// Brings the line into sight whose field the keyboard came to by Tab or Enter.
fn follow_keyboard(ui: &Ui, focused: Option<egui::Id>, line: egui::Rect) {
    let Some(at) = focused.and_then(|id| ui.ctx().read_response(id)) else { return };
    let by_key = ui.input(|input| input.key_pressed(egui::Key::Tab) || input.key_pressed(egui::Key::Enter));
    if by_key && line.contains_rect(at.rect) && !ui.clip_rect().contains_rect(line) {
        ui.scroll_to_rect(line, None);
    }
}

/// The axle of a part; 0 for the whole vehicle.
pub(super) fn axle_of(part: WeighedPart) -> u32 {
    match part {
        WeighedPart::Vehicle => 0,
        WeighedPart::Axle(axle) | WeighedPart::LeftWheel(axle) | WeighedPart::RightWheel(axle) => axle,
    }
}

fn mark_of_vehicle_ui(
    ui: &mut Ui,
    shown: &Shown<'_>,
    (vehicle, mark): (usize, &VehicleMark),
    requests: &mut Vec<Request>,
) -> egui::Response {
    let chosen = shown.selection.vehicle == Some(vehicle);
    let words = RichText::new(mark.as_str());
    let label = egui::Button::selectable(chosen, words).sense(Sense::CLICK).truncate();
    let button = ui.add(label).on_hover_text("Select this vehicle in every view");
    if button.clicked() {
        requests.push(Request::SelectVehicle(Some(vehicle)));
    }
    button
}

/// One part: the field with its last reading, and what is computed or by how much they differ.
fn part_ui(
    ui: &mut Ui,
    shown: &Shown<'_>,
    (weighed, vehicle, part): (&Weighed, usize, WeighedPart),
    (mark, tolerance, person): (&VehicleMark, Option<f64>, &Person),
    requests: &mut Vec<Request>,
) {
    ui.vertical(|ui| {
        ui.spacing_mut().item_spacing.y = 1.0;
        let readings = &shown.document.plan().weighings;
        let at = readings.iter().rposition(|one| one.vehicle == *mark && one.part == part);
        let now = at.and_then(|at| readings.get(at));
        let name = format!("{mark} {}", part_words(part));
        let spec = Spec::new(&name).wide(CELL.x - 8.0);
        let value = (now.map(|one| one.kg), QuantityKind::SmallMass);
        let given = next_by_enter(ui, spec, |ui, spec| bare_quantity_ui(ui, spec, value, shown.style));
        if let Some(given) = given {
            entered(shown, (mark, part, at), (given, tolerance, person), requests);
        }
        let read = at.and_then(|at| weighed.readings.get(at));
        match read {
            Some(read) => {
                difference_ui(ui, shown, (read.difference_kg(), read.computed_kg), read.allowed_kg())
            }
            None => {
                let kg = weighed.computed_kg(vehicle, part);
                let number = kg.map(|kg| Quantity::small_mass(kg).show_number(shown.style));
                ui.label(RichText::new(number.unwrap_or_default()).weak().size(11.5))
                    .on_hover_text("computed of the load as it is, at departure");
            }
        }
    });
}

/// Asks for the edit that an entry means: a new reading, another value, or none any more.
fn entered(
    shown: &Shown<'_>,
    (mark, part, at): (&VehicleMark, WeighedPart, Option<usize>),
    (given, tolerance, person): (Option<f64>, Option<f64>, &Person),
    requests: &mut Vec<Request>,
) {
    let Some(kg) = given else {
        requests.extend(at.map(|at| Request::Edit(Edit::RemoveWeighings { at: vec![at] })));
        return;
    };
    let Some((by, when)) = person.signs(requests) else { return };
    let old = at.and_then(|at| shown.document.plan().weighings.get(at));
    let tolerance = old.map_or(tolerance, |old| old.tolerance.or(tolerance));
    let reading = Weighing { vehicle: mark.clone(), part, kg, tolerance, by, at: when };
    requests.push(Request::Edit(match at {
        Some(at) => Edit::ChangeWeighing { at, to: reading },
        None => Edit::AddWeighings { readings: vec![reading] },
    }));
}

/// Read less computed, with a mark whether it fits.
fn difference_ui(ui: &mut Ui, shown: &Shown<'_>, (by_kg, computed_kg): (f64, f64), allowed_kg: Option<f64>) {
    let outcome = match allowed_kg {
        None => Outcome::Undecided,
        Some(allowed_kg) if by_kg.abs() <= allowed_kg => Outcome::Pass,
        Some(_) => Outcome::Fail,
    };
    let number = |kg: f64| Quantity::small_mass(kg).show_number(shown.style);
    let sign = if by_kg > 0.0 { "+" } else { "" };
    let allowed =
        allowed_kg.map_or("no tolerance is entered".to_owned(), |kg| format!("{} allowed", number(kg)));
    let told = format!("computed {}, read {sign}{} more; {allowed}", number(computed_kg), number(by_kg));
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 3.0;
        mark_ui(ui, outcome).on_hover_text(&told);
        let color =
            shown.theme.color(if outcome == Outcome::Pass { Role::WeakText } else { role_of(outcome) });
        ui.label(RichText::new(format!("{sign}{}", number(by_kg))).color(color).size(11.5))
            .on_hover_text(told);
    });
}

/// What a vehicle, or the train, was weighed at as a whole.
fn sum_ui(ui: &mut Ui, shown: &Shown<'_>, sum: &SumOfReadings) {
    let number = |kg: f64| Quantity::small_mass(kg).show_number(shown.style);
    for kg in [sum.read_kg, sum.computed_kg] {
        cell_ui(ui, vec2(CELL.x, 20.0), |ui| ui.label(number(kg)));
    }
    cell_ui(ui, vec2(CELL.x, 20.0), |ui| {
        difference_ui(ui, shown, (sum.difference_kg(), sum.computed_kg), sum.tolerance_kg);
    });
    let tolerance = sum.tolerance_kg.map_or("not entered".to_owned(), |kg| format!("± {}", number(kg)));
    ui.weak(tolerance).on_hover_text("independent tolerances add by their squares");
}

/// The sum over all vehicles that were weighed whole.
fn train_ui(ui: &mut Ui, shown: &Shown<'_>, weighed: &Weighed) {
    let Some(sum) = weighed.train.filter(|sum| sum.vehicles > 1) else { return };
    ui.separator();
    ui.horizontal(|ui| {
        cell_ui(ui, vec2(MARK_POINTS, 20.0), |ui| ui.strong(format!("all {}", sum.vehicles)));
        ui.weak("read, computed, difference, tolerance");
        sum_ui(ui, shown, &sum);
    });
}

/// Draws into a cell of this size.
fn cell_ui<R>(ui: &mut Ui, size: Vec2, draw: impl FnOnce(&mut Ui) -> R) {
    let (_, rect) = ui.allocate_space(size);
    let layout = egui::Layout::left_to_right(egui::Align::Min);
    // A child of its own, so that the line goes on after the cell and not after what is in it.
    draw(&mut ui.new_child(UiBuilder::new().max_rect(rect).layout(layout)));
}
