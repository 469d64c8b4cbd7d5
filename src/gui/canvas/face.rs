//! The rack face: the pockets of one rack, to choose, to drop upon, and to move about in by keys.

use super::drag::{Drag, Origin};
use super::look::Looks;
use super::paint::Paint;
use super::side_nodes::{focus_ring, is_activated, key_mode, speak};
use super::view::Projection;
use super::{Canvas, Pocket, keys, lay};
use crate::drawing::{CentreOf, Form, Picture, Role, Thing, centres, rack_face};
use crate::gui::menus::{self, MenuOf};
use crate::gui::{Pane, Request, Role as Ink, SelectMode, Shown};
use crate::model::StringMark;
use crate::units::{Length, Quantity};
use egui::{PointerButton, Rect, Response, Sense, Ui, WidgetInfo, pos2};

/// Height of the line with the buttons in points.
const HEAD_POINTS: f32 = 26.0;

/// What the rack face showed last.
#[derive(Clone, Debug)]
pub(super) struct FaceFrame {
    /// The drawing.
    pub(super) rect: Rect,
    /// Its rack, an index into the consist.
    pub(super) rack: usize,
    /// Its pockets on the screen.
    pub(super) pockets: Vec<(Pocket, Rect)>,
}

impl FaceFrame {
    /// The pocket under a point; between pockets the nearest one within half a pocket's size.
    pub(super) fn pocket_at(&self, at: egui::Pos2) -> Option<(Pocket, Rect)> {
        let away = |rect: &Rect| rect.distance_to_pos(at);
        let nearest = self.pockets.iter().min_by(|a, b| away(&a.1).total_cmp(&away(&b.1)))?;
        (away(&nearest.1) <= nearest.1.width().min(nearest.1.height()) / 2.0).then_some(*nearest)
    }
}

/// Draws the rack face and takes what is done to it.
pub(super) fn face_ui(canvas: &mut Canvas, ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
    let whole = ui.available_rect_before_wrap();
    let back = ui.allocate_rect(whole, Sense::click_and_drag());
    back.widget_info(|| WidgetInfo::labeled(egui::Role::Group, true, "rack face"));
    if whole.width() < 60.0 || whole.height() < HEAD_POINTS + 40.0 {
        return;
    }
    let painter = ui.painter_at(whole);
    painter.rect_filled(whole, 0.0, shown.theme.color(Ink::Canvas));
    let count = shown.settled.consist.racks.len();
    if count == 0 {
        let words = "No rack yet: racks come with the vehicles";
        let (font, color) = (egui::FontId::proportional(12.5), shown.theme.color(Ink::WeakText));
        let galley = painter.layout(words.to_owned(), font, color, whole.width() - 20.0);
        painter.galley(whole.center() - galley.size() / 2.0, galley, color);
        return;
    }
    let rack = shown.selection.rack.min(count.saturating_sub(1));
    head_ui(
        ui,
        Rect::from_min_max(whole.min, pos2(whole.right(), whole.top() + HEAD_POINTS)),
        shown,
        requests,
    );
    let rect = Rect::from_min_max(pos2(whole.left(), whole.top() + HEAD_POINTS), whole.max).shrink(6.0);
    let mut picture = rack_face(shown.figures, shown.state, rack, shown.style);
    // The line above the drawing names the rack already.
    picture.shapes.retain(|shape| !is_title(shape));
    let looks = Looks::of_shown(shown);
    let projection = projection(&picture, rect);
    let drawing = ui.painter_at(rect.expand(6.0));
    let paint = Paint { painter: &drawing, projection, looks: &looks };
    paint.picture(&picture);
    let pockets = pocket_rects(&picture, &paint);
    if shown.focus == Some(Pane::RackFace) {
        let selected = pockets.iter().find(|(pocket, _)| {
            string_in(shown, rack, *pocket).is_some_and(|mark| shown.selection.strings.contains(mark))
        });
        canvas.focus_next = selected.or(pockets.first()).map(|(pocket, _)| *pocket);
    }
    canvas.face = Some(FaceFrame { rect, rack, pockets: pockets.clone() });
    for (pocket, rect) in &pockets {
        pocket_ui(canvas, ui, shown, (rack, *pocket, *rect), requests);
    }
    menus::ask(&back, || MenuOf::Rack(rack), requests);
    centres_ui(ui, shown, rack, &paint);
    if back.clicked() {
        requests.push(Request::Select { strings: Vec::new(), mode: SelectMode::Only });
    }
    if back.drag_started_by(PointerButton::Primary) && !canvas.is_dragging() {
        canvas.face_band.begin(ui);
    }
    if let Some((band, mode)) = canvas.face_band.ui(ui, whole, shown.theme) {
        let touched = pockets.iter().filter(|(_, rect)| rect.intersects(band));
        let strings = touched.filter_map(|(pocket, _)| string_in(shown, rack, *pocket)).cloned().collect();
        requests.push(Request::Select { strings, mode });
    }
}

/// Draws a picture as large as it fits into a part of the window; nothing in it can be chosen.
pub fn picture_ui(ui: &Ui, shown: &Shown<'_>, picture: &Picture, rect: Rect) {
    let painter = ui.painter_at(rect);
    painter.rect_filled(rect, 0.0, shown.theme.color(Ink::Canvas));
    let inner = rect.shrink(6.0);
    if inner.is_positive() {
        let (low, high) = (picture.bounds.least, picture.bounds.most);
        let (low, high) = ([low.across_mm, low.up_mm], [high.across_mm, high.up_mm]);
        let projection = Projection::even(inner, low, high);
        Paint { painter: &painter, projection, looks: &Looks::of_shown(shown) }.picture(picture);
    }
}

/// The rack as large as it fits; what is below its deck is squeezed, and a gauge line may leave at the top.
pub(super) fn projection(picture: &Picture, rect: Rect) -> Projection {
    let (low, high) = (picture.bounds.least, picture.bounds.most);
    let posts = picture.shapes.iter().filter(|shape| matches!(shape.role, Role::Rack | Role::RackCarrying));
    match posts.map(|shape| shape.form.bounds()).reduce(crate::drawing::Area::around) {
        Some(rack) if low.up_mm < 0.0 && rack.least.up_mm > 0.0 => {
            // Words above the rack stay in sight.
            let words = picture.shapes.iter().filter(|shape| matches!(shape.form, Form::Text { .. }));
            let top = words.map(|shape| shape.form.bounds().most.up_mm).fold(rack.most.up_mm, f64::max);
            let heights = [low.up_mm - 60.0, rack.least.up_mm, top + 60.0];
            Projection::above_deck(rect, (low.across_mm, high.across_mm), heights)
        }
        _ => Projection::even(rect, [low.across_mm, low.up_mm], [high.across_mm, high.up_mm]),
    }
}

pub(super) fn is_title(shape: &crate::drawing::Shape) -> bool {
    shape.role == Role::Label && matches!(shape.thing, Some(Thing::Rack(_)))
}

/// The rack's name between the buttons that lead to its neighbours.
fn head_ui(ui: &mut Ui, rect: Rect, shown: &Shown<'_>, requests: &mut Vec<Request>) {
    let consist = &shown.settled.consist;
    let rack = shown.selection.rack;
    let inner = egui::UiBuilder::new().max_rect(rect.shrink2(egui::vec2(6.0, 2.0)));
    let mut row = ui.new_child(inner.layout(egui::Layout::left_to_right(egui::Align::Center)));
    let mut step = |row: &mut Ui, sign: &str, name: &str, to: Option<usize>| {
        let button = row.add_enabled(to.is_some(), egui::Button::new(sign)).on_hover_text(name);
        button.widget_info(|| WidgetInfo::labeled(egui::Role::Button, to.is_some(), name));
        if let Some(to) = to.filter(|_| button.clicked()) {
            requests.push(Request::ShowRack(to));
        }
    };
    step(&mut row, "<", "rack before (,)", rack.checked_sub(1));
    step(&mut row, ">", "rack after (.)", Some(rack + 1).filter(|to| *to < consist.racks.len()));
    row.strong(lay::rack_words(&shown.settled.plan, consist, rack));
    if let Some(place) = consist.racks.get(rack) {
        let words = format!("at {}, seen toward the front", Quantity::length(place.x).show(shown.style));
        row.add(egui::Label::new(egui::RichText::new(words).weak()).truncate());
    }
}

/// Names the marks of the centres of gravity.
fn centres_ui(ui: &Ui, shown: &Shown<'_>, rack: usize, paint: &Paint<'_>) {
    let Some(vehicle) = shown.figures.consist.racks.get(rack).map(|place| place.vehicle) else { return };
    for centre in centres(shown.figures, shown.state, vehicle) {
        let at = paint.projection.point(centre.at.across_mm, centre.at.up_mm);
        let rect = Rect::from_center_size(at, egui::vec2(14.0, 14.0)).intersect(paint.projection.rect);
        if !rect.is_positive() {
            continue;
        }
        let id = ui.scope_id().with(("centre of gravity", centre.of == CentreOf::Load));
        let response = ui.interact(rect, id, Sense::hover());
        let words = centre.words(shown.style);
        response.widget_info(|| WidgetInfo::labeled(egui::Role::Label, true, words.as_str()));
        response.on_hover_text(words);
    }
}

fn pocket_rects(picture: &Picture, paint: &Paint<'_>) -> Vec<(Pocket, Rect)> {
    let pockets = picture.shapes.iter().filter_map(|shape| match (&shape.form, shape.thing) {
        (Form::Frame(area), Some(Thing::Pocket { tier, lane, .. })) => {
            Some((Pocket { tier, lane }, paint.rect(*area)))
        }
        _ => None,
    });
    pockets.collect()
}

/// The string that lies in a pocket of the rack in the state shown.
fn string_in<'a>(shown: &'a Shown<'_>, rack: usize, pocket: Pocket) -> Option<&'a StringMark> {
    let mut crossing = shown.figures.present(shown.state).filter(|placed| placed.racks.contains(&rack));
    crossing.find_map(|placed| {
        let placement = shown.plan.placements.get(placed.placement)?;
        (Pocket::of(placement) == pocket).then_some(&placement.string)
    })
}

fn pocket_ui(
    canvas: &mut Canvas,
    ui: &Ui,
    shown: &Shown<'_>,
    (rack, pocket, rect): (usize, Pocket, Rect),
    requests: &mut Vec<Request>,
) {
    let id = ui.scope_id().with(("pocket", pocket.tier, pocket.lane));
    let response = ui.interact(rect, id, Sense::click_and_drag());
    let held = string_in(shown, rack, pocket);
    let selected = held.is_some_and(|mark| shown.selection.strings.contains(mark));
    response.widget_info(|| {
        let content = held.map_or("empty", StringMark::as_str);
        let label = format!("tier {} lane {}: {content}", pocket.tier, pocket.lane);
        WidgetInfo::selected(egui::Role::Button, true, selected, label)
    });
    speak(ui, &response, Thing::Pocket { rack, tier: pocket.tier, lane: pocket.lane }, shown);
    focus_ring(ui, &response, shown);
    if canvas.focus_next == Some(pocket) {
        canvas.focus_next = None;
        response.request_focus();
    }
    if !canvas.is_dragging() && response.hovered() {
        let words =
            super::side::describe(Thing::Pocket { rack, tier: pocket.tier, lane: pocket.lane }, shown);
        response.clone().on_hover_text_at_pointer(words);
    }
    if response.clicked_by(PointerButton::Primary) {
        response.request_focus();
        let command = ui.input(|input| input.modifiers.command);
        let mode = if command { SelectMode::Toggle } else { SelectMode::Only };
        requests.push(Request::Select { strings: held.into_iter().cloned().collect(), mode });
    }
    if response.drag_started_by(PointerButton::Primary) && !canvas.is_dragging() {
        match held {
            Some(mark) => take_hold(canvas, shown, mark, requests),
            None => canvas.face_band.begin(ui),
        }
    }
    menus::ask(&response, || MenuOf::Pocket { rack, pocket }, requests);
    if response.has_focus() {
        keys_on(canvas, ui, shown, (&response, rack, pocket, held), requests);
    }
}

fn take_hold(canvas: &mut Canvas, shown: &Shown<'_>, mark: &StringMark, requests: &mut Vec<Request>) {
    let mut strings = vec![mark.clone()];
    if shown.selection.strings.contains(mark) {
        strings.extend(shown.selection.strings.iter().filter(|other| *other != mark).cloned());
    } else {
        requests.push(Request::Select { strings: strings.clone(), mode: SelectMode::Only });
    }
    let half = shown.settled.plan.string(mark).map_or(0, |string| string.length.mm() / 2);
    canvas.drag = Some(Drag::new(strings, Origin::Face, Length::from_mm(half)));
}

/// Arrows move what is selected in the focused pocket, else the focus; Enter chooses, or puts what is
/// selected into an empty pocket; Delete takes off.
fn keys_on(
    canvas: &mut Canvas,
    ui: &Ui,
    shown: &Shown<'_>,
    (response, rack, pocket, held): (&Response, usize, Pocket, Option<&StringMark>),
    requests: &mut Vec<Request>,
) {
    keys::keep_arrows(response);
    let shift = keys::face_shift(ui);
    let to = Pocket {
        tier: pocket.tier.saturating_add_signed(shift.tiers as i32),
        lane: pocket.lane.saturating_add_signed(shift.lanes as i32),
    };
    let exists = canvas.face.as_ref().is_some_and(|face| face.pockets.iter().any(|(known, _)| *known == to));
    if to != pocket && exists {
        canvas.focus_next = Some(to);
        if let Some(mark) = held.filter(|mark| shown.selection.strings.contains(*mark)) {
            keys::nudge(shown, mark, shift, requests);
        }
    }
    if let Some(mark) = held {
        keys::take_off(ui, shown, mark, requests);
    }
    match held {
        _ if !is_activated(response) => {}
        Some(mark) => {
            requests.push(Request::Select { strings: vec![mark.clone()], mode: key_mode(ui) });
        }
        None => requests.push(Request::PutInto { rack, pocket }),
    }
}
