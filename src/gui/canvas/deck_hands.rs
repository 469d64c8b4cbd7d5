//! What the pointer does on the deck plan: choosing, rubber bands, and drags along and across the lanes.

use super::deck::DeckFrame;
use super::deck_nodes::{Scene, string_id, words_at};
use super::drag::{Drag, Origin};
use super::lay::Pocket;
use super::look::mix;
use super::side::{nearest_rack, rests, tip};
use super::target::{Aim, Target, catch_reach};
use super::view::Projection;
use super::{Canvas, card};
use crate::drawing::{Deck, Point, Thing};
use crate::gui::menus::{self, MenuOf};
use crate::gui::{Request, Role as Ink, SelectMode, Shown, ZoomTarget};
use crate::model::StringMark;
use crate::statics::PlacedString;
use crate::units::Length;
use egui::{Key, Modifiers, Painter, PointerButton, Pos2, Response, Stroke, Ui, vec2};

/// Where on the deck plan a string was taken hold of.
#[derive(Clone, Copy, Debug)]
pub(super) struct Grip {
    /// How far the pointer was from the middle of the string's pocket, across the body, in mm.
    aside_mm: f64,
}

/// Takes clicks, drags and rubber bands, and names what is under the pointer.
pub(super) fn pointer_on(
    canvas: &mut Canvas,
    ui: &Ui,
    scene: &Scene<'_>,
    back: &Response,
    requests: &mut Vec<Request>,
) {
    let (command, shift, space) =
        ui.input(|input| (input.modifiers.command, input.modifiers.shift, input.key_down(Key::Space)));
    if back.clicked_by(PointerButton::Primary)
        && let Some(at) = back.interact_pointer_pos()
    {
        clicked(ui, scene, at, (command, command || shift), requests);
    }
    if back.double_clicked()
        && let Some(at) = back.interact_pointer_pos()
        && let Some(target) = zoom_target(scene, at)
    {
        requests.push(Request::ZoomTo(target));
    }
    if let Some(at) = menus::asks(back) {
        let of = match scene.thing_at(at) {
            Some(Thing::String(string)) => {
                scene.shown.plan.order.get(string).map(|string| MenuOf::String(string.mark.clone()))
            }
            Some(Thing::Rack(rack)) => Some(MenuOf::Rack(rack)),
            Some(Thing::Vehicle(vehicle) | Thing::Axle { vehicle, .. }) => Some(MenuOf::Vehicle(vehicle)),
            _ => Some(MenuOf::Train),
        };
        requests.extend(of.map(|of| Request::OpenMenu { of, at }));
    }
    if back.drag_started_by(PointerButton::Primary) && !space && !canvas.is_dragging() {
        let press = ui.input(|input| input.pointer.press_origin());
        match press.and_then(|press| take_hold(scene, press, requests)) {
            Some((drag, mark)) => {
                ui.memory_mut(|memory| memory.request_focus(string_id(ui, mark.as_str())));
                canvas.drag = Some(drag);
            }
            None => canvas.deck_band.begin(ui),
        }
    }
    if back.dragged_by(PointerButton::Middle) {
        canvas.deck_band.end();
    }
    if let Some((band, mode)) = canvas.deck_band.ui(ui, scene.paint.projection.rect, scene.shown.theme) {
        requests.push(Request::Select { strings: scene.strings_in(band), mode });
    }
    let hovered = back.hover_pos().filter(|_| back.hovered() && !canvas.is_dragging());
    let Some(at) = hovered else { return };
    if let Some(placed) = scene.string_at(at) {
        ui.ctx().set_cursor_icon(egui::CursorIcon::Grab);
        // Which string a press would take hold of, where they lie close.
        let edge = around(scene.deck, &scene.paint.projection, placed, 1.0);
        let stroke = Stroke::new(1.0, scene.shown.theme.color(Ink::Text));
        ui.painter().with_clip_rect(scene.paint.projection.rect).add(egui::Shape::line(edge, stroke));
    }
    if let Some(words) = words_at(scene, at).filter(|_| rests(ui, at)) {
        tip(ui, back.id, words);
    }
}

/// A click chooses the string, the rack or the vehicle under it, and shows the rack nearest to it.
fn clicked(ui: &Ui, scene: &Scene<'_>, at: Pos2, (toggles, adds): (bool, bool), requests: &mut Vec<Request>) {
    let shown = scene.shown;
    match scene.thing_at(at) {
        Some(Thing::String(string)) => {
            let Some(string) = shown.plan.order.get(string) else { return };
            ui.memory_mut(|memory| memory.request_focus(string_id(ui, string.mark.as_str())));
            let mode = match (toggles, adds) {
                (true, _) => SelectMode::Toggle,
                (false, true) => SelectMode::Add,
                _ => SelectMode::Only,
            };
            requests.push(Request::Select { strings: vec![string.mark.clone()], mode });
        }
        Some(Thing::Vehicle(vehicle)) => {
            let selected = shown.selection.vehicle == Some(vehicle);
            requests.push(Request::SelectVehicle((!selected).then_some(vehicle)));
        }
        Some(Thing::Rack(rack)) => {
            requests.push(Request::ShowRack(rack));
            return;
        }
        _ if !adds => requests.push(Request::Select { strings: Vec::new(), mode: SelectMode::Only }),
        _ => {}
    }
    requests.extend(nearest_rack(shown, scene.paint.projection.x_mm(at.x)).map(Request::ShowRack));
}

fn zoom_target(scene: &Scene<'_>, at: Pos2) -> Option<ZoomTarget> {
    match scene.thing_at(at)? {
        Thing::String(string) => {
            Some(ZoomTarget::Strings(vec![scene.shown.plan.order.get(string)?.mark.clone()]))
        }
        Thing::Vehicle(vehicle) | Thing::Axle { vehicle, .. } => Some(ZoomTarget::Vehicle(vehicle)),
        _ => None,
    }
}

/// Takes hold of the string under the pointer, or of all that are selected with it.
fn take_hold(scene: &Scene<'_>, press: Pos2, requests: &mut Vec<Request>) -> Option<(Drag, StringMark)> {
    let shown = scene.shown;
    let placed = scene.string_at(press)?;
    let mark = &shown.plan.order.get(placed.string)?.mark;
    let placement = shown.settled.plan.placement(mark)?;
    let mut strings = vec![mark.clone()];
    if shown.selection.strings.contains(mark) {
        strings.extend(shown.selection.strings.iter().filter(|other| *other != mark).cloned());
    } else {
        requests.push(Request::Select { strings: strings.clone(), mode: SelectMode::Only });
    }
    let projection = &scene.paint.projection;
    let at = Point::new(projection.x_mm(press.x), projection.up_mm(press.y));
    let mut drag = Drag::new(strings, Origin::Deck, Length::from_mm_rounded(at.across_mm) - placement.front);
    let pocket = scene.deck.pocket_mm(at.across_mm, (placement.tier, placement.lane));
    drag.grip = scene
        .deck
        .beside_body_mm(at)
        .zip(pocket)
        .map(|(beside_mm, pocket_mm)| Grip { aside_mm: beside_mm - pocket_mm });
    Some((drag, mark.clone()))
}

/// What letting go at `at` would do; none where that is not on the deck plan.
pub(super) fn target(aim: &Aim<'_>, at: Pos2, modifiers: Modifiers) -> Option<Target> {
    let (shown, drag) = (aim.shown, aim.drag);
    let DeckFrame { projection, look } = aim.canvas.deck?;
    let view = projection.rect;
    let reaches = drag.origin == Origin::Deck && view.y_range().contains(at.y);
    if !reaches && !view.contains(at) {
        return None;
    }
    let deck = Deck::new(shown.settled, look);
    let point = Point::new(projection.x_mm(at.x), projection.up_mm(at.y));
    let reach = catch_reach(projection.x_points_per_mm, modifiers);
    let aside_mm = drag.grip.map_or(0.0, |grip| grip.aside_mm);
    let beside_mm = deck.beside_body_mm(point)? - aside_mm;
    let pocket = deck.pocket_beside(point.across_mm, beside_mm);
    Some(match (drag.origin, pocket) {
        (_, None) => Target::default(),
        (Origin::Yard, Some(_)) => aim.place_along((point.across_mm, reach), pocket),
        (_, Some((tier, lane))) => aim.in_lane((point.across_mm, reach), Pocket { tier, lane }, modifiers),
    })
}

/// Over the deck plan: where the strings of a drag were, and what they catch at.
pub(super) fn drag_marks(canvas: &Canvas, painter: &Painter, shown: &Shown<'_>, drag: &Drag) {
    let Some(DeckFrame { projection, look }) = canvas.deck else { return };
    let painter = painter.with_clip_rect(projection.rect);
    let deck = Deck::new(shown.settled, look);
    let color = mix(shown.theme.color(Ink::Origin), shown.theme.color(Ink::Text), 0.2);
    let order = &shown.settled.plan.order;
    let dragged = shown.settled.placed.iter().filter(|placed| {
        deck.shows(placed)
            && order.get(placed.string).is_some_and(|string| drag.target.company.contains(&string.mark))
    });
    for placed in dragged {
        let points = around(&deck, &projection, placed, 0.0);
        painter.extend(egui::Shape::dashed_line(&points, Stroke::new(1.0, color), 5.0, 4.0));
    }
    if let Some(snap) = &drag.target.snap {
        card::caught(&painter, &projection, shown, snap);
    }
}

/// Distance between two corners of a band's edge in points: near enough for the bend of a wagon's length.
const CORNER_POINTS: f32 = 6.0;
/// Most corners of an edge.
const MOST_CORNERS: f32 = 240.0;

/// The edge of what is seen of a string, `wider` points away from it, its first corner once more at the end.
fn around(deck: &Deck<'_>, projection: &Projection, placed: &PlacedString, wider: f32) -> Vec<Pos2> {
    let seen = projection.rect.x_range().expand(10.0);
    let (front, rear) = (placed.front.mm() as f64, placed.rear.mm() as f64);
    let (from, to) = (front.max(projection.x_mm(seen.min)), rear.min(projection.x_mm(seen.max)));
    if from >= to {
        return Vec::new();
    }
    let parts = ((projection.x(to) - projection.x(from)) / CORNER_POINTS).clamp(2.0, MOST_CORNERS) as u16;
    let (mut upper, mut lower) = (Vec::new(), Vec::new());
    for part in 0..=parts {
        let x = from + (to - from) * f64::from(part) / f64::from(parts);
        let (low, high) = deck.band_mm(placed, x);
        upper.push(projection.point(x, high) - vec2(0.0, wider));
        lower.push(projection.point(x, low) + vec2(0.0, wider));
    }
    upper.extend(lower.into_iter().rev());
    upper.extend(upper.first().copied());
    upper
}
