//! What can be chosen and taken hold of on the train side: vehicles, racks and strings, each with its name.

use super::drag::{Drag, Origin};
use super::keys;
use super::paint::Paint;
use super::side::{describe, nearest_rack};
use super::vehicle_drag::VehicleDrag;
use super::{Canvas, lay};
use crate::drawing::{Area, Form, Picture, Point, Thing, side_pocket_at};
use crate::gui::focus;
use crate::gui::menus::{self, MenuOf};
use crate::gui::{Pane, Request, Role as Ink, SelectMode, Shown, ZoomTarget};
use crate::model::StringMark;
use crate::units::Length;
use egui::{Key, PointerButton, Pos2, Rect, Response, Sense, Stroke, StrokeKind, Ui, WidgetInfo};
use std::collections::BTreeMap;

/// What the train side shows in this frame.
pub(super) struct Scene<'a> {
    pub(super) shown: &'a Shown<'a>,
    pub(super) picture: &'a Picture,
    pub(super) paint: &'a Paint<'a>,
    /// The area of each thing that has one: around all its boxes.
    areas: BTreeMap<Thing, Area>,
}

impl<'a> Scene<'a> {
    pub(super) fn new(shown: &'a Shown<'a>, picture: &'a Picture, paint: &'a Paint<'a>) -> Self {
        let mut areas: BTreeMap<Thing, Area> = BTreeMap::new();
        for shape in &picture.shapes {
            let (Some(thing), Form::Box(area)) = (shape.thing, &shape.form) else { continue };
            areas.entry(thing).and_modify(|known| *known = known.around(*area)).or_insert(*area);
        }
        Self { shown, picture, paint, areas }
    }

    /// The string (an index into the order) that a point of the screen means: the nearest one a few points away. On
    /// a rack only what lies under the point counts, so that racks can be chosen between strings.
    pub(super) fn string_near(&self, at: Pos2) -> Option<usize> {
        if !self.paint.projection.rect.contains(at) {
            return None;
        }
        let figures = self.shown.figures;
        let beside_rack = |x: f32| (x - at.x).abs() > RACK_POINTS;
        let free =
            figures.consist.racks.iter().all(|rack| beside_rack(self.paint.projection.x(rack.x.mm() as f64)));
        let slop = if free { SLOP_POINTS } else { 0.0 };
        let present = figures.present(self.shown.state).filter_map(|placed| {
            let rect = self.rect(Thing::String(placed.string))?;
            Some((rect.distance_to_pos(at), placed.string))
        });
        let nearest = present.min_by(|a, b| a.0.total_cmp(&b.0));
        nearest.filter(|(away, _)| *away <= slop).map(|(_, string)| string)
    }

    /// Where a thing lies on the screen, cut to the view; none where it cannot be seen.
    pub(super) fn rect(&self, thing: Thing) -> Option<Rect> {
        let rect = self.paint.rect(*self.areas.get(&thing)?).intersect(self.paint.projection.rect);
        rect.is_positive().then_some(rect)
    }
}

/// How far from a thin string in points the pointer still means it, where no other is nearer.
const SLOP_POINTS: f32 = 5.0;
/// How far from a rack in points the pointer means the rack, where no string is under it.
const RACK_POINTS: f32 = 2.0;

/// Makes nodes for everything that can be seen: vehicles below racks below strings.
pub(super) fn nodes_ui(canvas: &mut Canvas, ui: &Ui, scene: &Scene<'_>, requests: &mut Vec<Request>) {
    vehicles_ui(canvas, ui, scene, requests);
    racks_ui(ui, scene, requests);
    strings_ui(canvas, ui, scene, requests);
}

fn vehicles_ui(canvas: &mut Canvas, ui: &Ui, scene: &Scene<'_>, requests: &mut Vec<Request>) {
    let (shown, projection) = (scene.shown, &scene.paint.projection);
    for place in &shown.figures.consist.vehicles {
        let (front, rear) = (place.front.mm() as f64, place.rear.mm() as f64);
        let rail = projection.y(0.0);
        let deck = projection.y(1_100.0);
        let across = projection.x(front)..=projection.x(rear);
        let rect = Rect::from_x_y_ranges(across, deck.min(rail)..=rail.max(deck)).intersect(projection.rect);
        let Some(vehicle) = shown.plan.train.vehicles.get(place.vehicle) else { continue };
        if !rect.is_positive() {
            continue;
        }
        let response = ui.interact(
            rect,
            ui.scope_id().with(("vehicle", vehicle.mark.as_str())),
            Sense::click_and_drag(),
        );
        let selected = shown.selection.vehicle == Some(place.vehicle);
        response.widget_info(|| {
            let label = format!("vehicle {} in the train side", vehicle.mark);
            WidgetInfo::selected(egui::Role::Button, true, selected, label)
        });
        speak(ui, &response, Thing::Vehicle(place.vehicle), shown);
        focus_ring(ui, &response, shown);
        if response.clicked() {
            requests.push(Request::SelectVehicle((!selected).then_some(place.vehicle)));
            if let Some(at) = response.interact_pointer_pos() {
                requests.extend(nearest_rack(shown, projection.x_mm(at.x)).map(Request::ShowRack));
            }
        }
        if response.double_clicked() {
            requests.push(Request::ZoomTo(ZoomTarget::Vehicle(place.vehicle)));
        }
        if response.drag_started_by(PointerButton::Primary) && !canvas.is_dragging() {
            // Which one it is, is marked by the drag; its index is another while it lasts.
            requests.push(Request::SelectVehicle(None));
            canvas.vehicle_drag = Some(VehicleDrag::new(vehicle.mark.clone()));
        }
        menus::ask(&response, || MenuOf::Vehicle(place.vehicle), requests);
        if response.has_focus() {
            keys::on_vehicle(ui, place.vehicle, requests);
        }
    }
}

fn racks_ui(ui: &Ui, scene: &Scene<'_>, requests: &mut Vec<Request>) {
    let (shown, projection) = (scene.shown, &scene.paint.projection);
    for (index, rack) in shown.figures.consist.racks.iter().enumerate() {
        let x = projection.x(rack.x.mm() as f64);
        if !projection.rect.x_range().contains(x) {
            continue;
        }
        let Some(rect) = scene.rect(Thing::Rack(index)) else { continue };
        let rect = rect.expand2(egui::vec2((3.0 - rect.width() / 2.0).max(0.0), 0.0));
        let words = lay::rack_words(shown.plan, &shown.figures.consist, index);
        let response = ui.interact(rect, ui.scope_id().with(("rack", words.as_str())), Sense::click());
        let selected = shown.selection.rack == index;
        response.widget_info(|| {
            WidgetInfo::selected(egui::Role::Button, true, selected, format!("{words} in the train side"))
        });
        speak(ui, &response, Thing::Rack(index), shown);
        focus_ring(ui, &response, shown);
        if response.clicked() {
            requests.push(Request::ShowRack(index));
        }
        menus::ask(&response, || MenuOf::Rack(index), requests);
    }
}

fn strings_ui(canvas: &mut Canvas, ui: &Ui, scene: &Scene<'_>, requests: &mut Vec<Request>) {
    let shown = scene.shown;
    let mut focus = shown.focus == Some(Pane::TrainSide);
    let pointer = ui.input(|input| input.pointer.hover_pos()).filter(|_| canvas.drag.is_none());
    let near = pointer.and_then(|at| Some((scene.string_near(at)?, at)));
    let any_selected = shown
        .figures
        .present(shown.state)
        .filter_map(|placed| shown.plan.order.get(placed.string))
        .any(|string| shown.selection.strings.contains(&string.mark));
    for placed in shown.figures.present(shown.state) {
        let Some(string) = shown.plan.order.get(placed.string) else { continue };
        let Some(rect) = scene.rect(Thing::String(placed.string)) else { continue };
        let mark = &string.mark;
        // A string a few points high is caught by a pointer beside it as well.
        let caught = near.filter(|(string, _)| *string == placed.string);
        let reach = caught.map_or(rect, |(_, at)| rect.union(Rect::from_pos(at)));
        let id = ui.scope_id().with(("string", mark.as_str()));
        let mut response = ui.interact(reach, id, Sense::click_and_drag());
        response.rect = rect;
        let selected = shown.selection.strings.contains(mark);
        response.widget_info(|| {
            WidgetInfo::selected(
                egui::Role::Button,
                true,
                selected,
                format!("string {mark} in the train side"),
            )
        });
        speak(ui, &response, Thing::String(placed.string), shown);
        if focus && (selected || !any_selected) {
            focus = false;
            response.request_focus();
        }
        focus_ring(ui, &response, shown);
        if response.hovered() && !canvas.is_dragging() {
            ui.ctx().set_cursor_icon(egui::CursorIcon::Grab);
            pointed_at(ui, rect, shown);
        }
        pointer_on(canvas, scene, &response, mark, requests);
        menus::ask(&response, || MenuOf::String(mark.clone()), requests);
        if response.has_focus() {
            keys_on(ui, shown, &response, mark, requests);
        }
    }
}

/// Clicks choose, a press that moves takes hold of the string, or of all that are selected with it.
fn pointer_on(
    canvas: &mut Canvas,
    scene: &Scene<'_>,
    response: &Response,
    mark: &StringMark,
    requests: &mut Vec<Request>,
) {
    let (shown, projection) = (scene.shown, &scene.paint.projection);
    let selected = shown.selection.strings.contains(mark);
    let command = response.ctx.input(|input| input.modifiers.command);
    // Keys and screen readers click too; what they mean is told in `keys_on`.
    if response.clicked_by(PointerButton::Primary) {
        response.request_focus();
        let mode = if command { SelectMode::Toggle } else { SelectMode::Only };
        requests.push(Request::Select { strings: vec![mark.clone()], mode });
        let at = response.interact_pointer_pos().filter(|at| projection.rect.contains(*at));
        requests.extend(at.and_then(|at| nearest_rack(shown, projection.x_mm(at.x))).map(Request::ShowRack));
    }
    if response.double_clicked() {
        requests.push(Request::ZoomTo(ZoomTarget::Strings(vec![mark.clone()])));
    }
    if !response.drag_started_by(PointerButton::Primary) || canvas.is_dragging() {
        return;
    }
    let Some(press) = response.ctx.input(|input| input.pointer.press_origin()) else { return };
    let Some(front) = shown.settled.plan.placement(mark).map(|placement| placement.front) else { return };
    response.request_focus();
    let mut strings = vec![mark.clone()];
    if selected {
        strings.extend(shown.selection.strings.iter().filter(|other| *other != mark).cloned());
    } else {
        requests.push(Request::Select { strings: strings.clone(), mode: SelectMode::Only });
    }
    let at = Point::new(projection.x_mm(press.x), projection.up_mm(press.y));
    let mut drag = Drag::new(strings, Origin::Side, Length::from_mm_rounded(at.across_mm) - front);
    drag.start_tier = side_pocket_at(shown.settled, at).map(|(tier, _)| tier);
    canvas.drag = Some(drag);
}

fn keys_on(ui: &Ui, shown: &Shown<'_>, response: &Response, mark: &StringMark, requests: &mut Vec<Request>) {
    keys::keep_arrows(response);
    keys::to_catch(ui, shown, mark, requests);
    keys::nudge(shown, mark, keys::side_shift(ui), requests);
    keys::take_off(ui, shown, mark, requests);
    if is_activated(response) {
        let mode = key_mode(ui);
        requests.push(Request::Select { strings: vec![mark.clone()], mode });
    }
}

/// Whether a key or a screen reader, not the pointer, clicked a node.
pub(super) fn is_activated(response: &Response) -> bool {
    response.clicked() && !response.clicked_by(PointerButton::Primary)
}

/// What activating means for the selection: Space adds or takes away, anything else selects alone.
pub(super) fn key_mode(ui: &Ui) -> SelectMode {
    if ui.input(|input| input.key_pressed(Key::Space)) { SelectMode::Toggle } else { SelectMode::Only }
}

/// Gives a node its figures as a description.
pub(super) fn speak(ui: &Ui, response: &Response, thing: Thing, shown: &Shown<'_>) {
    ui.ctx().accesskit_node_builder(response.id, |node| node.set_description(describe(thing, shown)));
}

/// Rings around the focus are at least this high.
const LEAST_RING_POINTS: f32 = 14.0;

/// Shows which string a press would take hold of, where it is too thin for that to be plain.
fn pointed_at(ui: &Ui, rect: Rect, shown: &Shown<'_>) {
    if rect.height() < LEAST_RING_POINTS {
        let stroke = Stroke::new(1.0, shown.theme.color(Ink::Text));
        ui.painter().rect_stroke(rect.expand(1.0), 0.0, stroke, StrokeKind::Outside);
    }
}

/// Shows where the keyboard is.
pub(super) fn focus_ring(ui: &Ui, response: &Response, shown: &Shown<'_>) {
    if response.has_focus() {
        focus::has_its_own(ui.ctx(), response.id);
        let ring = response.rect.expand(2.0);
        let stroke = Stroke::new(2.0, shown.theme.color(Ink::Accent));
        if ring.height() >= LEAST_RING_POINTS || ring.width() < LEAST_RING_POINTS {
            ui.painter().rect_stroke(ring, 0.0, stroke, StrokeKind::Outside);
            return;
        }
        // A ring around a thin string would run through its mark: a bracket at each end instead.
        let ring = Rect::from_center_size(ring.center(), egui::vec2(ring.width(), LEAST_RING_POINTS));
        for (x, inward) in [(ring.left(), 6.0), (ring.right(), -6.0)] {
            let (top, bottom) = (ring.top(), ring.bottom());
            let bracket = [(x + inward, top), (x, top), (x, bottom), (x + inward, bottom)];
            ui.painter().line(bracket.map(|(x, y)| egui::pos2(x, y)).to_vec(), stroke);
        }
    }
}

/// The strings that a rubber band touches.
pub(super) fn strings_in(scene: &Scene<'_>, band: Rect) -> Vec<StringMark> {
    let shown = scene.shown;
    let present = shown.figures.present(shown.state);
    let touched = present
        .filter(|placed| scene.rect(Thing::String(placed.string)).is_some_and(|rect| rect.intersects(band)));
    touched
        .filter_map(|placed| shown.plan.order.get(placed.string))
        .map(|string| string.mark.clone())
        .collect()
}
