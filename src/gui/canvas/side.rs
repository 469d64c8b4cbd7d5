//! The train's side: the whole train along its length, zoomed and panned, with its strings to take hold of.

use super::keys;
use super::look::Looks;
use super::marks::marks;
use super::paint::{Paint, hit};
use super::ruler::{RULER_POINTS, ruler, scale_words};
use super::side_nodes;
use super::view::{Heights, Projection, Stretch};
use super::{Canvas, lay};
use crate::drawing::{Picture, Role, Thing, side_band_mm, train_side};
use crate::gui::menus::{self, MenuOf};
use crate::gui::{Request, Role as Ink, SelectMode, Shown, ZoomTarget};
use crate::model::TrainEnd;
use crate::units::Length;
use egui::{Align2, FontId, Key, PointerButton, Rect, Response, Sense, Stroke, Ui, pos2};

/// What the train side showed last: where, and through which projection.
#[derive(Clone, Copy, Debug)]
pub(super) struct SideFrame {
    /// The drawing, without the ruler.
    pub(super) projection: Projection,
}

/// Height of the words above the load in points, and the most that they may take of a low drawing as a share.
const NOTES_POINTS: f64 = 19.0;
const MOST_ABOVE: f64 = 0.1;
/// Shares of the view's height for what hangs below the rail, the running gear, the load, and what is above.
const SHARES: [f64; 4] = [0.27, 0.13, 0.56, 0.04];

/// Draws the train side and takes what is done to it.
pub(super) fn side_ui(canvas: &mut Canvas, ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
    let rect = ui.available_rect_before_wrap();
    let back = ui.allocate_rect(rect, Sense::click_and_drag());
    back.widget_info(|| egui::WidgetInfo::labeled(egui::Role::ScrollView, true, "train side"));
    let view = Rect::from_min_max(pos2(rect.left(), rect.top() + RULER_POINTS), rect.max);
    if view.width() < 40.0 || view.height() < 40.0 {
        return;
    }
    let length_mm = (shown.settled.consist.length.mm() as f64).max(1_000.0);
    look_around(canvas, ui, shown, (Some(&back), view), length_mm);
    let picture = train_side(shown.figures, shown.state, shown.style);
    let stretch = canvas.stretch.unwrap_or(Stretch::fit(0.0, length_mm, view.width()));
    let (heights, deck_mm) = heights(&picture, view.height());
    let projection = Projection::along(view, stretch, heights);
    canvas.side = Some(SideFrame { projection });

    let painter = ui.painter_at(rect);
    painter.rect_filled(rect, 0.0, shown.theme.color(Ink::Canvas));
    let looks = Looks::of_shown(shown).with_rack(shown.selection.rack);
    let drawing = ui.painter_at(view);
    let paint = Paint { painter: &drawing, projection, looks: &looks };
    paint.picture(&picture);
    ruler(
        &painter,
        Rect::from_min_max(rect.min, pos2(rect.right(), view.top())),
        &projection,
        shown.style,
        shown.theme,
    );
    tier_marks(&drawing, &projection, shown);
    let mark = shown_rack_mark(&drawing, (view, &projection), shown);
    scale_note(&drawing, (view, mark), &scale_words(&projection, deck_mm, shown.style), shown);

    let scene = side_nodes::Scene::new(shown, &picture, &paint);
    marks(&drawing, &scene);
    side_nodes::nodes_ui(canvas, ui, &scene, requests);
    background(canvas, ui, &scene, &back, requests);
    tooltip(ui, &scene, &back);
}

/// The heights of the zones of a train side, and the lowest deck.
pub(super) fn heights(picture: &Picture, height: f32) -> (Heights, f64) {
    heights_by(picture, height, &SHARES)
}

/// The same, each zone with its share of the height.
pub(super) fn heights_by(picture: &Picture, height: f32, shares: &[f64; 4]) -> (Heights, f64) {
    let racks = picture.shapes.iter().filter(|shape| matches!(shape.role, Role::Rack | Role::RackCarrying));
    let areas: Vec<_> = racks.map(|shape| shape.form.bounds()).collect();
    let (low, high) = (picture.bounds.least.up_mm - 250.0, picture.bounds.most.up_mm + 60.0);
    let deck = areas.iter().map(|area| area.least.up_mm).fold(f64::INFINITY, f64::min);
    let top = areas.iter().map(|area| area.most.up_mm).fold(f64::NEG_INFINITY, f64::max) + 40.0;
    if !(deck.is_finite() && deck > 1.0 && top > deck && low < 0.0) {
        return (Heights::zones(height, &[low, high.max(low + 1.0)], &[1.0]), 0.0);
    }
    let bounds = [low, 0.0, deck, top, high.max(top + 1.0)];
    // Above the load stands what is said of the drawing; it must not lie on the uppermost strings.
    let above = shares[3].max((NOTES_POINTS / f64::from(height).max(1.0)).min(MOST_ABOVE));
    let others = (1.0 - above) / (1.0 - shares[3]);
    let shares = [shares[0] * others, shares[1] * others, shares[2] * others, above];
    (Heights::zones(height, &bounds, &shares), deck)
}

/// Wheel, drags of the middle button or with Space, keys, and what was asked to be brought into view.
pub(super) fn look_around(
    canvas: &mut Canvas,
    ui: &Ui,
    shown: &Shown<'_>,
    (back, view): (Option<&Response>, Rect),
    length_mm: f64,
) {
    let width = view.width();
    let mut stretch = canvas.stretch.unwrap_or(Stretch::fit(0.0, length_mm, width));
    let before = stretch;
    let over = back.map_or(view, |back| back.rect);
    if let Some(pointer) = ui.input(|input| input.pointer.hover_pos()).filter(|at| over.contains(*at)) {
        let (zoom, scroll) = ui.input(|input| (input.zoom_delta(), input.smooth_scroll_delta()));
        let blocked = ui.ctx().layer_id_at(pointer).is_some_and(|layer| layer != ui.layer_id());
        if !blocked {
            stretch = stretch.zoomed(f64::from(zoom), pointer.x - view.left()).panned(scroll.x + scroll.y);
        }
    }
    if back.is_some_and(|back| pans(canvas, back)) {
        stretch = stretch.panned(ui.input(|input| input.pointer.delta()).x);
        canvas.band.end();
    }
    if stretch != before {
        canvas.stretch = Some(stretch);
    }
    keys::look_around(canvas, ui, length_mm, width);
    if let Some(target) = canvas.zoom.take() {
        canvas.stretch = bring_into_view(canvas.stretch, &target, shown, (length_mm, width));
    }
    canvas.stretch = canvas.stretch.map(|stretch| stretch.kept_on(length_mm, width));
}

/// Whether the pointer moves the drawing: with its middle button, or with Space held.
pub(super) fn pans(canvas: &Canvas, back: &Response) -> bool {
    let space = back.ctx.input(|input| input.key_down(Key::Space)) && !back.ctx.text_edit_focused();
    back.dragged_by(PointerButton::Middle)
        || (space && !canvas.is_dragging() && back.dragged_by(PointerButton::Primary))
}

/// How much of the train is shown on both sides of the end of a string, in mm.
const END_ROOM_MM: f64 = 20_000.0;

fn bring_into_view(
    now: Option<Stretch>,
    target: &ZoomTarget,
    shown: &Shown<'_>,
    (length_mm, width): (f64, f32),
) -> Option<Stretch> {
    let consist = &shown.settled.consist;
    let mm = |length: Length| length.mm() as f64;
    match target {
        ZoomTarget::Train => None,
        ZoomTarget::Vehicle(vehicle) => {
            let place = consist.vehicles.get(*vehicle)?;
            let margin = (mm(place.rear) - mm(place.front)) * 0.2;
            Some(Stretch::fit(mm(place.front) - margin, mm(place.rear) + margin, width))
        }
        ZoomTarget::Rack(rack) | ZoomTarget::StringAtRack(_, rack) | ZoomTarget::Pocket { rack, .. } => {
            let x = mm(consist.racks.get(*rack)?.x);
            Some(now.unwrap_or(Stretch::fit(0.0, length_mm, width)).showing(x, width))
        }
        ZoomTarget::StringEnd(mark, end) => {
            let plan = &shown.settled.plan;
            let front = plan.placement(mark)?.front;
            let x = match end {
                TrainEnd::Front => mm(front),
                TrainEnd::Rear => mm(front + plan.string(mark)?.length),
            };
            Some(Stretch::fit(x - END_ROOM_MM, x + END_ROOM_MM, width))
        }
        ZoomTarget::Strings(marks) => {
            let plan = &shown.settled.plan;
            let ends = marks.iter().filter_map(|mark| {
                let front = plan.placement(mark)?.front;
                Some((mm(front), mm(front + plan.string(mark)?.length)))
            });
            let (front, rear) = ends.reduce(|a, b| (a.0.min(b.0), a.1.max(b.1)))?;
            let margin = (rear - front) * 0.05 + 500.0;
            Some(Stretch::fit(front - margin, rear + margin, width))
        }
    }
}

/// Clicks beside everything, rubber bands, and clicks that choose the rack to show.
fn background(
    canvas: &mut Canvas,
    ui: &Ui,
    scene: &side_nodes::Scene<'_>,
    back: &Response,
    requests: &mut Vec<Request>,
) {
    let space = ui.input(|input| input.key_down(Key::Space));
    let adds = ui.input(|input| input.modifiers.command || input.modifiers.shift);
    let mode = if adds { SelectMode::Add } else { SelectMode::Only };
    if back.drag_started_by(PointerButton::Primary) && !space && !canvas.is_dragging() {
        canvas.band.begin(ui);
    }
    menus::ask(back, || MenuOf::Train, requests);
    if back.clicked() {
        if !adds {
            requests.push(Request::Select { strings: Vec::new(), mode });
        }
        if let Some(at) = back.interact_pointer_pos() {
            requests
                .extend(nearest_rack(scene.shown, scene.paint.projection.x_mm(at.x)).map(Request::ShowRack));
        }
    }
    if let Some((band, mode)) = canvas.band.ui(ui, scene.paint.projection.rect, scene.shown.theme) {
        requests.push(Request::Select { strings: side_nodes::strings_in(scene, band), mode });
    }
}

/// The rack of the consist nearest to x.
pub(super) fn nearest_rack(shown: &Shown<'_>, x_mm: f64) -> Option<usize> {
    let racks = shown.settled.consist.racks.iter().enumerate();
    let away = |rack: &crate::statics::RackPlace| (rack.x.mm() as f64 - x_mm).abs();
    racks.min_by(|a, b| away(a.1).total_cmp(&away(b.1))).map(|(index, _)| index)
}

/// The tiers by number, at the left edge.
fn tier_marks(painter: &egui::Painter, projection: &Projection, shown: &Shown<'_>) {
    let left = projection.rect.left();
    let Some(rack) = nearest_rack(shown, projection.x_mm(left)) else { return };
    let Some(place) = shown.figures.consist.racks.get(rack) else { return };
    let lanes = u32::try_from(place.lanes_y_m.len()).unwrap_or(1);
    let ink = shown.theme.color(Ink::WeakText);
    let mut before: Option<Rect> = None;
    for tier in 1.. {
        let (low, high) =
            (side_band_mm(shown.figures, rack, tier, 1), side_band_mm(shown.figures, rack, tier, lanes));
        let (Some((low, _)), Some((_, high))) = (low, high) else { return };
        let y = (projection.y(low) + projection.y(high)) / 2.0;
        let galley = painter.layout_no_wrap(format!("tier {tier}"), FontId::proportional(10.0), ink);
        let rect = Align2::LEFT_CENTER.anchor_size(pos2(left + 4.0, y), galley.size());
        // Where tiers lie closer than their names are high, some names are left out.
        if before.is_some_and(|before| before.intersects(rect)) {
            continue;
        }
        before = Some(rect);
        painter.rect_filled(rect.expand(2.0), 0.0, shown.theme.color(Ink::Canvas).gamma_multiply(0.8));
        painter.galley(rect.min, galley, ink);
    }
}

/// A thin line over the whole height at the rack that the rack face shows, with its name.
pub(super) fn shown_rack_mark(
    painter: &egui::Painter,
    (view, projection): (Rect, &Projection),
    shown: &Shown<'_>,
) -> Option<Rect> {
    let consist = &shown.settled.consist;
    let rack = consist.racks.get(shown.selection.rack)?;
    let x = projection.x(rack.x.mm() as f64).round() + 0.5;
    if !projection.rect.x_range().contains(x) {
        return None;
    }
    let color = shown.theme.color(Ink::Accent);
    painter.extend(egui::Shape::dashed_line(
        &[pos2(x, view.top()), pos2(x, view.bottom())],
        Stroke::new(1.0, color),
        3.0,
        3.0,
    ));
    let words = lay::rack_words(&shown.settled.plan, consist, shown.selection.rack);
    let galley = painter.layout_no_wrap(words, FontId::proportional(11.0), color);
    let left = if x > view.center().x { x - 4.0 - galley.size().x } else { x + 4.0 };
    let place = Rect::from_min_size(pos2(left, view.top() + 1.0), galley.size());
    painter.galley(place.min, galley, color);
    Some(place)
}

/// Writes the scale at the right; left of `mark`, the words of the rack shown, where the two would meet.
pub(super) fn scale_note(
    painter: &egui::Painter,
    (view, mark): (Rect, Option<Rect>),
    words: &str,
    shown: &Shown<'_>,
) {
    let ink = shown.theme.color(Ink::WeakText);
    let galley = painter.layout_no_wrap(words.to_owned(), FontId::proportional(10.0), ink);
    let mut at = pos2(view.right() - galley.size().x - 6.0, view.top() + 2.0);
    if let Some(mark) = mark.filter(|mark| mark.right() > at.x - 8.0) {
        at.x = mark.left() - galley.size().x - 10.0;
    }
    let ground = Rect::from_min_size(at, galley.size()).expand(2.0);
    painter.rect_filled(ground, 0.0, shown.theme.color(Ink::Canvas).gamma_multiply(0.85));
    painter.galley(at, galley, ink);
}

/// Names what is under the pointer with its figures.
fn tooltip(ui: &Ui, scene: &side_nodes::Scene<'_>, back: &Response) {
    let pointer = ui.input(|input| input.pointer.hover_pos());
    let Some(at) = pointer.filter(|at| scene.paint.projection.rect.contains(*at)) else { return };
    let mut thing = hit(scene.picture, scene.paint, at);
    if !matches!(thing, Some(Thing::String(_) | Thing::StringEnd(..) | Thing::Hold { .. })) {
        thing = scene.string_near(at).map(Thing::String).or(thing);
    }
    let Some(thing) = thing.filter(|_| rests(ui, at)) else { return };
    tip(ui, back.id, describe(thing, scene.shown));
}

/// Whether the pointer has come to rest at a place of this layer, no button down.
pub(super) fn rests(ui: &Ui, at: egui::Pos2) -> bool {
    let busy = ui.input(|input| input.pointer.any_down());
    if busy || ui.ctx().layer_id_at(at).is_some_and(|layer| layer != ui.layer_id()) {
        return false;
    }
    let still = ui.input(|input| input.pointer.time_since_last_movement()) > 0.25;
    if !still {
        ui.ctx().request_repaint_after(std::time::Duration::from_millis(300));
    }
    still
}

/// Words at the pointer.
pub(super) fn tip(ui: &Ui, of: egui::Id, words: String) {
    let (ctx, id) = (ui.ctx().clone(), of.with("tip"));
    egui::Tooltip::always_open(ctx, ui.layer_id(), id, egui::PopupAnchor::Pointer).gap(14.0).show(|ui| {
        ui.set_max_width(340.0);
        ui.label(words);
    });
}

/// A thing's name and figures, as tooltips and screen readers say it.
pub(super) fn describe(thing: Thing, shown: &Shown<'_>) -> String {
    let mut words = thing.describe(shown.figures, shown.state, shown.style);
    if let Thing::String(index) = thing
        && let Some(string) = shown.plan.order.get(index)
        && let Some(placement) = shown.plan.placement(&string.mark)
    {
        if let Some(hold) = placement.holds.first() {
            words.push_str(&format!(", held at {} rack {}", hold.vehicle, hold.rack));
        } else {
            words.push_str(", not held");
        }
        if placement.locked {
            words.push_str(", locked");
        }
    }
    words
}
