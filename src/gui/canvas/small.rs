//! Pictures to look at and not to work in: the train's side and a rack face, small, of whatever plan is given.

use super::face;
use super::lay;
use super::look::Looks;
use super::paint::{Paint, hit};
use super::side::{describe, heights};
use super::view::{Projection, Stretch};
use crate::drawing::{Area, Form, Picture, Role, TextSize, Thing, rack_face, train_side};
use crate::gui::{Role as Ink, Shown};
use egui::{Rect, Response, Sense, Ui, Vec2, WidgetInfo};

/// Below this height a train side has no room for figures under its axles, in points.
const LEAST_FIGURES_POINTS: f32 = 150.0;

/// Below this height a rack face has none for those under its deck.
const LEAST_FACE_FIGURES_POINTS: f32 = 220.0;

/// Draws the whole train from its side into a box of this size; hovering tells what lies under the pointer.
pub(in crate::gui) fn small_side_ui(ui: &mut Ui, shown: &Shown<'_>, size: Vec2) -> Response {
    let mut picture = train_side(shown.figures, shown.state, shown.style);
    if size.y < LEAST_FIGURES_POINTS {
        picture.shapes.retain(|shape| !is_small_figure(shape));
    }
    let count = shown.figures.present(shown.state).count();
    let strings = if count == 1 { "1 string".to_owned() } else { format!("{count} strings") };
    let name = format!("picture of the train from its side, {strings}");
    thicken(&mut picture, count, size.y);
    let length_mm = (shown.figures.consist.length.mm() as f64).max(1_000.0);
    picture_ui(ui, shown, (&picture, name), size, |rect| {
        let stretch = Stretch::fit(0.0, length_mm, rect.width());
        Projection::along(rect, stretch, heights(&picture, rect.height()).0)
    })
}

/// Draws the face of the selected rack into a box of this size, without its name.
pub(in crate::gui) fn small_face_ui(ui: &mut Ui, shown: &Shown<'_>, size: Vec2) -> Response {
    let rack = shown.selection.rack;
    let mut picture = rack_face(shown.figures, shown.state, rack, shown.style);
    picture.shapes.retain(|shape| !face::is_title(shape) && shape.role != Role::GaugeLine);
    if size.y < LEAST_FACE_FIGURES_POINTS {
        picture.shapes.retain(|shape| shape.role != Role::Figure);
    }
    let name = format!("picture of {}", lay::rack_words(shown.plan, &shown.figures.consist, rack));
    picture_ui(ui, shown, (&picture, name), size, |rect| face::projection(&picture, rect))
}

/// The fewest points that a string is high while there are few of them: true to scale one alone would not be seen.
const LEAST_STRING_POINTS: f64 = 3.0;
/// More strings than this are seen by their number.
const FEW_STRINGS: usize = 9;

fn thicken(picture: &mut Picture, count: usize, height: f32) {
    if count > FEW_STRINGS {
        return;
    }
    let rate = |up_mm| heights(picture, height).0.points_per_mm(up_mm);
    let boxes: Vec<(usize, Area)> = picture
        .shapes
        .iter()
        .enumerate()
        .filter_map(|(at, shape)| match (shape.role, &shape.form) {
            (Role::String(_) | Role::Overhang(_) | Role::StringInTrouble, Form::Box(area)) => {
                let middle = area.middle().up_mm;
                let half = (LEAST_STRING_POINTS / 2.0 / rate(middle)).max(area.height_mm() / 2.0);
                let across = (area.least.across_mm, area.most.across_mm);
                Some((at, Area::spanning(across, (middle - half, middle + half))))
            }
            _ => None,
        })
        .collect();
    for (at, area) in boxes {
        picture.shapes[at].form = Form::Box(area);
    }
}

fn is_small_figure(shape: &crate::drawing::Shape) -> bool {
    shape.role == Role::Figure && matches!(shape.form, Form::Text { size: TextSize::Small, .. })
}

fn picture_ui(
    ui: &mut Ui,
    shown: &Shown<'_>,
    (picture, name): (&Picture, String),
    size: Vec2,
    projection: impl FnOnce(Rect) -> Projection,
) -> Response {
    let (rect, response) = ui.allocate_exact_size(size, Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(egui::Role::Image, true, name.as_str()));
    let painter = ui.painter_at(rect);
    painter.rect_filled(rect, 0.0, shown.theme.color(Ink::Canvas));
    if size.x < 40.0 || size.y < 40.0 || picture.shapes.is_empty() {
        return response;
    }
    let looks = Looks::of_shown(shown).with_rack(shown.selection.rack);
    let paint = Paint { painter: &painter, projection: projection(rect.shrink(2.0)), looks: &looks };
    paint.picture(picture);
    let under: Option<Thing> = response.hover_pos().and_then(|at| hit(picture, &paint, at));
    match under {
        Some(thing) => response.on_hover_text_at_pointer(describe(thing, shown)),
        None => response,
    }
}
