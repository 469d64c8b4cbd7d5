//! Signs over the train side that no colour carries: brackets around locked strings, and an open triangle
//! where a string lifts off a rack that it crosses.

use super::side_nodes::Scene;
use crate::drawing::Thing;
use crate::gui::Role as Ink;
use crate::statics::PlacedString;
use egui::{Painter, Rect, Shape, Stroke, pos2};

/// Paints the signs of every string that can be seen.
pub(super) fn marks(painter: &Painter, scene: &Scene<'_>) {
    let shown = scene.shown;
    let mut shapes = Vec::new();
    for placed in shown.figures.present(shown.state) {
        let Some(rect) = scene.rect(Thing::String(placed.string)) else { continue };
        if shown.plan.placements.get(placed.placement).is_some_and(|placement| placement.locked) {
            let stroke = Stroke::new(1.5, shown.theme.color(Ink::Text));
            let view = scene.paint.projection.rect;
            brackets(rect, view, stroke, &mut shapes);
        }
        let stroke = Stroke::new(1.5, shown.theme.color(Ink::Note));
        for rack in lifted(placed) {
            let Some(place) = shown.figures.consist.racks.get(rack) else { continue };
            let (x, y) = (scene.paint.projection.x(place.x.mm() as f64), rect.top());
            let points = vec![pos2(x - 4.0, y), pos2(x + 4.0, y), pos2(x, y - 6.0)];
            shapes.push(Shape::closed_line(points, stroke));
        }
    }
    painter.extend(shapes);
}

/// The racks (of the consist) that a string crosses without resting on them.
pub(super) fn lifted(placed: &PlacedString) -> impl Iterator<Item = usize> {
    let carries = placed.beam.as_ref().map(|beam| beam.carries.as_slice()).unwrap_or_default();
    let first = placed.racks.start;
    carries.iter().enumerate().filter(|(_, carries)| !**carries).map(move |(index, _)| first + index)
}

/// A bracket at each end that is in view.
pub(super) fn brackets(rect: Rect, view: Rect, stroke: Stroke, shapes: &mut Vec<Shape>) {
    let (top, bottom) = (rect.top() - 1.0, rect.bottom() + 1.0);
    for (x, inward) in [(rect.left() - 3.0, 4.0), (rect.right() + 3.0, -4.0)] {
        if view.x_range().contains(x) {
            let points = [(x + inward, top), (x, top), (x, bottom), (x + inward, bottom)];
            shapes.push(Shape::line(points.map(|(x, y)| pos2(x, y)).to_vec(), stroke));
        }
    }
}
