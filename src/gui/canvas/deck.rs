//! The deck plan: the train from above, zoomed and panned along with the train side, across by itself.

use super::deck_hands;
use super::deck_nodes::{self, Scene};
use super::look::Looks;
use super::paint::Paint;
use super::ruler::{RULER_POINTS, deck_scale_words, ruler};
use super::side;
use super::view::{Heights, Projection, Stretch};
use super::{Canvas, ZoomTarget};
use crate::drawing::{Deck, DeckLook, Form, Picture, Role, Thing, Tiers, Track};
use crate::gui::{Request, Role as Ink, Shown};
use crate::model::{StringMark, TrainEnd};
use crate::statics::PlacedString;
use egui::{Align2, FontId, Id, Rect, Response, Sense, Ui, pos2, vec2};

/// What the deck plan showed last: where, through which projection, and what of the train.
#[derive(Clone, Copy, Debug)]
pub(super) struct DeckFrame {
    /// The drawing, without the ruler.
    pub(super) projection: Projection,
    /// Tiers and track.
    pub(super) look: DeckLook,
}

/// What the wheel loads on each side take of the view's height: a share of it, and at most so many points.
const WHEELS: (f32, f64) = (0.12, 46.0);
/// What the words at the upper and the lower edge of the view take of its height in points.
const WORDS_POINTS: f32 = 13.0;

/// Draws the deck plan and takes what is done to it.
pub(super) fn deck_ui(
    canvas: &mut Canvas,
    ui: &mut Ui,
    shown: &Shown<'_>,
    look: DeckLook,
    requests: &mut Vec<Request>,
) {
    let rect = ui.available_rect_before_wrap();
    let ground = ui.allocate_rect(rect, Sense::hover());
    ground.widget_info(|| egui::WidgetInfo::labeled(egui::Role::ScrollView, true, "deck plan"));
    let view = Rect::from_min_max(pos2(rect.left(), rect.top() + RULER_POINTS), rect.max);
    if view.width() < 40.0 || view.height() < 40.0 {
        return;
    }
    let surface = ui.scope_id().with("deck surface");
    let deck = Deck::new(shown.figures, look);
    let projection = look_around(canvas, ui, shown, (&deck, surface), view.shrink2(vec2(0.0, WORDS_POINTS)));
    canvas.deck = Some(DeckFrame { projection, look });
    let mut picture = deck.picture(shown.state, shown.style);
    // Which side is which is written at the view's edges, where it stays in sight.
    picture.shapes.retain(|shape| shape.thing.is_some() || !matches!(shape.form, Form::Text { .. }));
    marks_in_view(&mut picture, shown, &deck, &projection);

    let painter = ui.painter_at(rect);
    painter.rect_filled(rect, 0.0, shown.theme.color(Ink::Canvas));
    let looks = Looks::of_shown(shown).with_rack(shown.selection.rack);
    let drawing = ui.painter_at(view);
    let paint = Paint { painter: &drawing, projection, looks: &looks };
    paint.picture(&picture);
    let band = Rect::from_min_max(rect.min, pos2(rect.right(), view.top()));
    ruler(&painter, band, &projection, shown.style, shown.theme);
    let mark = side::shown_rack_mark(&drawing, (view, &projection), shown);
    side_words(&drawing, (view, mark), look, shown);
    let mut words = deck_scale_words(&projection, shown.style);
    if look.track != Track::Straight {
        words.push_str(", the curve's track drawn straight");
    }
    side::scale_note(&drawing, (view, mark), &words, shown);

    let scene = Scene::new(shown, &picture, &paint, &deck);
    deck_nodes::signs(&drawing, &scene);
    empty_words(&drawing, &scene, look);
    deck_nodes::nodes_ui(ui, &scene, requests);
    // Above all nodes: which string is meant is told by its band, which on a curve is no rectangle.
    let back = ui.interact(view, surface, Sense::click_and_drag());
    deck_hands::pointer_on(canvas, ui, &scene, &back, requests);
}

/// Takes wheel, drags, keys and what is to be brought into view; gives the projection of this frame.
fn look_around(
    canvas: &mut Canvas,
    ui: &Ui,
    shown: &Shown<'_>,
    (deck, surface): (&Deck<'_>, Id),
    view: Rect,
) -> Projection {
    let length_mm = (shown.settled.consist.length.mm() as f64).max(1_000.0);
    let back: Option<Response> = ui.ctx().read_response(surface);
    let pointer = ui.input(|input| input.pointer.hover_pos()).filter(|at| view.contains(*at));
    let stretch = |canvas: &Canvas| canvas.stretch.unwrap_or(Stretch::fit(0.0, length_mm, view.width()));
    let before = Projection::along(view, stretch(canvas), heights(canvas, deck, view, stretch(canvas)));
    side::look_around(canvas, ui, shown, (back.as_ref(), view), length_mm);
    if back.is_some_and(|back| side::pans(canvas, &back)) {
        let points = ui.input(|input| input.pointer.delta()).y;
        canvas.across_mm += f64::from(points) / before.heights.points_per_mm(0.0);
    }
    if let Some(target) = canvas.across.take() {
        canvas.across_mm = across_of(&target, shown, deck).unwrap_or(0.0);
    }
    let now = stretch(canvas);
    if let Some(at) = pointer.filter(|_| now.points_per_mm > before.x_points_per_mm * (1.0 + 1e-9)) {
        // What lies under the pointer stays there, across as well.
        let under = before.up_mm(at.y);
        let after = Projection::along(view, now, heights(canvas, deck, view, now));
        canvas.across_mm += under - after.up_mm(at.y);
    }
    Projection::along(view, now, heights(canvas, deck, view, now))
}

/// The whole width of the train in the view, or, zoomed in further than that, as wide as it is long; keeps the place
/// in the middle within the train.
fn heights(canvas: &mut Canvas, deck: &Deck<'_>, view: Rect, stretch: Stretch) -> Heights {
    let (outer, height) = (deck.outer_mm().max(500.0) + 40.0, f64::from(view.height()));
    let wheels = f64::from(view.height() * WHEELS.0).min(WHEELS.1);
    let scale = ((height - 2.0 * wheels) / (2.0 * outer)).max(stretch.points_per_mm);
    let whole = 2.0 * (wheels + outer * scale);
    let most = ((whole - height) / 2.0 / scale).max(0.0);
    canvas.across_mm = canvas.across_mm.clamp(-most, most);
    let (bounds, share) =
        ([-outer - Deck::WHEELS_MM, -outer, outer, outer + Deck::WHEELS_MM], wheels / whole);
    let heights = Heights::zones(whole as f32, &bounds, &[share, 1.0 - 2.0 * share, share]);
    heights.raised(-(whole - height) / 2.0 - canvas.across_mm * scale)
}

/// Where across the train a thing lies, in mm.
fn across_of(target: &ZoomTarget, shown: &Shown<'_>, deck: &Deck<'_>) -> Option<f64> {
    let middle = |mark: &StringMark, x_mm: &dyn Fn(&PlacedString) -> Option<f64>| {
        let placed =
            shown.figures.placed.iter().find(|placed| {
                shown.plan.order.get(placed.string).is_some_and(|string| string.mark == *mark)
            })?;
        let (low, high) = deck.band_mm(placed, x_mm(placed)?);
        Some(f64::midpoint(low, high))
    };
    let rack_mm = |rack: usize| Some(shown.figures.consist.racks.get(rack)?.x.mm() as f64);
    match target {
        ZoomTarget::Strings(marks) => middle(marks.first()?, &|placed| {
            Some(f64::midpoint(placed.front.mm() as f64, placed.rear.mm() as f64))
        }),
        ZoomTarget::StringEnd(mark, end) => middle(mark, &|placed| {
            Some(if *end == TrainEnd::Front { placed.front } else { placed.rear }.mm() as f64)
        }),
        ZoomTarget::StringAtRack(mark, rack) => middle(mark, &|_| rack_mm(*rack)),
        ZoomTarget::Pocket { rack, tier, lane: Some(lane) } => {
            deck.pocket_mm(rack_mm(*rack)?, (*tier, *lane))
        }
        ZoomTarget::Train
        | ZoomTarget::Vehicle(_)
        | ZoomTarget::Rack(_)
        | ZoomTarget::Pocket { lane: None, .. } => None,
    }
}

/// Puts the mark of each string at the middle of what is seen of it: on a curve it lies elsewhere at every place.
fn marks_in_view(picture: &mut Picture, shown: &Shown<'_>, deck: &Deck<'_>, projection: &Projection) {
    let seen = (projection.x_mm(projection.rect.left()), projection.x_mm(projection.rect.right()));
    for shape in picture.shapes.iter_mut().filter(|shape| shape.role == Role::Label) {
        let (Form::Text { at, room: Some(room), .. }, Some(Thing::String(string))) =
            (&mut shape.form, shape.thing)
        else {
            continue;
        };
        let Some(placed) = shown.figures.present(shown.state).find(|placed| placed.string == string) else {
            continue;
        };
        let (front, rear) = (placed.front.mm() as f64, placed.rear.mm() as f64);
        if rear < seen.0 || front > seen.1 {
            continue;
        }
        at.across_mm = f64::midpoint(front.max(seen.0), rear.min(seen.1));
        (room.least.up_mm, room.most.up_mm) = deck.band_mm(placed, at.across_mm);
        at.up_mm = f64::midpoint(room.least.up_mm, room.most.up_mm);
    }
}

/// Which side of the train is which, and on a curve where its inside is, at the view's left edge; right of `mark`, the
/// words of the rack shown, where the two would meet.
fn side_words(
    painter: &egui::Painter,
    (view, mark): (Rect, Option<Rect>),
    look: DeckLook,
    shown: &Shown<'_>,
) {
    let ink = shown.theme.color(Ink::WeakText);
    let inside = look.track.curvature_per_m();
    let what = "; beside it the wheel loads against their rating";
    let edges = [("right side", "", 1.0, Align2::LEFT_TOP), ("left side", what, -1.0, Align2::LEFT_BOTTOM)];
    for (words, what, side, align) in edges {
        let words = match inside * side {
            toward if toward > 0.0 => format!("{words}, inside of the curve"),
            away if away < 0.0 => format!("{words}, outside of the curve"),
            _ => words.to_owned(),
        };
        let galley = painter.layout_no_wrap(format!("{words}{what}"), FontId::proportional(10.0), ink);
        let corner = align.pos_in_rect(&view.shrink2(vec2(4.0, 1.0)));
        let mut place = align.anchor_size(corner, galley.size());
        if let Some(mark) = mark.filter(|mark| mark.expand(6.0).intersects(place)) {
            place = place.translate(vec2(mark.right() + 10.0 - place.left(), 0.0));
        }
        painter.rect_filled(place.expand(2.0), 0.0, shown.theme.color(Ink::Canvas).gamma_multiply(0.85));
        painter.galley(place.min, galley, ink);
    }
}

/// What to do where nothing is shown.
fn empty_words(painter: &egui::Painter, scene: &Scene<'_>, look: DeckLook) {
    if scene.strings().next().is_some() {
        return;
    }
    let words = match look.tiers {
        Tiers::Only(tier) => format!("No string lies in tier {tier} in this state"),
        Tiers::All => "No string on the train in this state: drag one here from the yard list".to_owned(),
    };
    let color = scene.shown.theme.color(Ink::WeakText);
    let galley = painter.layout_no_wrap(words, FontId::proportional(12.5), color);
    let place = Rect::from_center_size(scene.paint.projection.rect.center(), galley.size());
    painter.rect_filled(place.expand(4.0), 2.0, scene.shown.theme.color(Ink::Canvas));
    painter.galley(place.min, galley, color);
}
