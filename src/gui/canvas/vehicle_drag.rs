//! Dragging a vehicle to another place in the train, on the train side.
//!
//! The train is shown as it would be while the drag lasts; nothing is changed before the button is let go. Escape puts
//! the vehicle back, and so does letting go above or below the train side.

use super::drag::scroll_at_edges;
use super::{Canvas, card};
use crate::edit::{Edit, Rows};
use crate::gui::{Request, Role, Shown};
use crate::model::{Plan, VehicleMark};
use crate::statics::Consist;
use egui::{Align2, FontId, Key, Rect, Stroke, StrokeKind, Ui, pos2};

/// A vehicle that is being dragged.
#[derive(Clone, Debug)]
pub(super) struct VehicleDrag {
    /// It.
    pub(super) mark: VehicleMark,
    /// Whether a preview was asked for and not ended yet.
    previews: bool,
}

impl VehicleDrag {
    /// Takes hold of a vehicle.
    pub(super) fn new(mark: VehicleMark) -> Self {
        Self { mark, previews: false }
    }
}

/// The index at which a vehicle comes to stand with the pointer at x, counted once it has left its old place.
fn place_at(consist: &Consist, vehicle: usize, x_mm: f64) -> usize {
    let others = consist.vehicles.iter().filter(|place| place.vehicle != vehicle);
    others.filter(|place| f64::midpoint(place.front.mm() as f64, place.rear.mm() as f64) < x_mm).count()
}

/// Follows the drag of a vehicle, if there is one.
pub(super) fn vehicle_drag_ui(canvas: &mut Canvas, ui: &Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
    let Some(mut drag) = canvas.vehicle_drag.take() else { return };
    let (pointer, released, down, escaped) = ui.input(|input| {
        let pointer = &input.pointer;
        (
            pointer.interact_pos(),
            pointer.any_released(),
            pointer.primary_down(),
            input.key_pressed(Key::Escape),
        )
    });
    let vehicle = shown.settled.plan.train.vehicles.iter().position(|vehicle| vehicle.mark == drag.mark);
    let (Some(vehicle), Some(at), false) = (vehicle, pointer, escaped || (!released && !down)) else {
        end_preview(&mut drag, requests);
        return;
    };
    let view = canvas.side.map(|side| side.projection.rect).filter(|view| view.y_range().contains(at.y));
    if let Some(view) = view {
        scroll_at_edges(canvas, ui, (view, at));
    }
    let to = canvas
        .side
        .zip(view)
        .map(|(side, _)| place_at(&shown.settled.consist, vehicle, side.projection.x_mm(at.x)));
    let edit =
        to.filter(|to| *to != vehicle).map(|to| Edit::Vehicles(Rows::Move { name: drag.mark.clone(), to }));
    if released {
        end_preview(&mut drag, requests);
        if let (Some(edit), Some(to)) = (edit, to) {
            requests.extend([Request::Edit(edit), Request::SelectVehicle(Some(to))]);
        }
        return;
    }
    match &edit {
        Some(edit) => {
            requests.push(Request::Preview(Some(edit.clone())));
            drag.previews = true;
        }
        None => end_preview(&mut drag, requests),
    }
    ui.ctx().set_cursor_icon(egui::CursorIcon::Grabbing);
    marks_ui(canvas, ui, shown, &drag);
    card::at_pointer(ui, at, |ui| words_ui(ui, shown, (&drag, vehicle, to)));
    canvas.vehicle_drag = Some(drag);
}

fn end_preview(drag: &mut VehicleDrag, requests: &mut Vec<Request>) {
    if std::mem::take(&mut drag.previews) {
        requests.push(Request::Preview(None));
    }
}

/// A frame around the vehicle where it would stand, with a line at each of its ends and its mark.
fn marks_ui(canvas: &Canvas, ui: &Ui, shown: &Shown<'_>, drag: &VehicleDrag) {
    let Some(side) = canvas.side else { return };
    let projection = side.projection;
    let Some(at) = shown.plan.train.vehicles.iter().position(|vehicle| vehicle.mark == drag.mark) else {
        return;
    };
    let Some(place) = shown.figures.consist.vehicles.get(at) else { return };
    let painter = ui.painter().with_clip_rect(projection.rect);
    let color = shown.theme.color(Role::Ghost);
    let (left, right) = (projection.x(place.front.mm() as f64), projection.x(place.rear.mm() as f64));
    let (top, rail) = (projection.rect.top() + 14.0, projection.y(0.0));
    let frame = Rect::from_min_max(pos2(left, top), pos2(right, rail));
    painter.rect(frame, 0.0, color.gamma_multiply(0.12), Stroke::new(1.5, color), StrokeKind::Inside);
    for x in [left, right] {
        painter.vline(x, projection.rect.y_range(), Stroke::new(2.5, color));
    }
    let galley = painter.layout_no_wrap(drag.mark.to_string(), FontId::proportional(13.0), color);
    let words = Align2::CENTER_TOP.anchor_size(pos2(frame.center().x, top + 2.0), galley.size());
    painter.rect_filled(words.expand(2.0), 0.0, shown.theme.color(Role::Canvas));
    painter.galley(words.min, galley, color);
}

/// Between which vehicles it would stand, and what would change.
fn words_ui(ui: &mut Ui, shown: &Shown<'_>, (drag, vehicle, to): (&VehicleDrag, usize, Option<usize>)) {
    ui.strong(format!("vehicle {}", drag.mark));
    match to.filter(|to| *to != vehicle) {
        None => {
            ui.weak("let go here: nothing changes");
        }
        Some(to) => {
            ui.label(place_words(&shown.settled.plan, &drag.mark, to));
            if let Some(preview) = shown.preview {
                card::outcome_ui(ui, shown, preview);
            }
            ui.weak("strings go with the vehicle that carries their front ends");
        }
    }
}

/// Where a vehicle comes to stand, such as `between W3 and W4`.
fn place_words(plan: &Plan, mark: &VehicleMark, to: usize) -> String {
    let others: Vec<&VehicleMark> =
        plan.train.vehicles.iter().map(|vehicle| &vehicle.mark).filter(|other| *other != mark).collect();
    match (to.checked_sub(1).and_then(|before| others.get(before)), others.get(to)) {
        (Some(before), Some(behind)) => format!("between {before} and {behind}"),
        (None, Some(first)) => format!("at the front, before {first}"),
        (Some(last), None) => format!("at the rear, behind {last}"),
        (None, None) => "alone".to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::empty_plan;

    // Wagons of 19,900 mm: their middles at 9,950, 29,850, 49,750 mm.
    #[test]
    fn a_vehicle_goes_past_the_others_whose_middles_it_has_passed() {
        let consist = Consist::of(&empty_plan(3));
        let check = |vehicle, x_mm, to| assert_eq!(place_at(&consist, vehicle, x_mm), to, "{vehicle} {x_mm}");
        check(0, 5_000.0, 0);
        check(0, 29_849.0, 0);
        check(0, 29_851.0, 1);
        check(0, 49_751.0, 2);
        check(2, 29_851.0, 2);
        check(2, 29_849.0, 1);
        check(2, -500.0, 0);
    }

    #[test]
    fn its_place_is_told_by_its_neighbours() {
        let plan = empty_plan(3);
        let words = |mark: &str, to| place_words(&plan, &VehicleMark::new(mark).unwrap(), to);
        assert_eq!(words("W1", 1), "between W2 and W3");
        assert_eq!(words("W1", 2), "at the rear, behind W3");
        assert_eq!(words("W3", 0), "at the front, before W1");
    }
}
