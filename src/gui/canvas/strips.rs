//! Bands that run along the train and bend beside it: outlines whose one edge runs back over the places of the
//! other, painted in slices. Cutting them as any outline would cost the square of their corners.

use super::look::{Look, Pattern};
use super::view::Projection;
use crate::drawing::Point;
use egui::epaint::Mesh;
use egui::{Color32, Shape, Stroke, pos2};

/// Bands thinner than this are painted this thick, so that nothing vanishes.
const LEAST_POINTS: f32 = 1.0;
/// Bands thinner than this have neither edge nor pattern.
const THIN_POINTS: f32 = 6.0;

/// A place along a band on the screen: x, and the upper and lower edge.
type Slice = (f32, f32, f32);

/// The slices of an outline that is a band; none where it is another outline.
pub(super) fn slices(points: &[Point], projection: &Projection) -> Option<Vec<Slice>> {
    let half = points.len() / 2;
    let pairs = || points.iter().zip(points.iter().rev()).take(half);
    let is_band = points.len() >= 4
        && points.len().is_multiple_of(2)
        && pairs().all(|(a, b)| a.across_mm.total_cmp(&b.across_mm).is_eq())
        && points[..half].windows(2).all(|pair| pair[0].across_mm < pair[1].across_mm);
    if !is_band {
        return None;
    }
    let slice = |(a, b): (&Point, &Point)| {
        let (a, b) = (projection.point(a.across_mm, a.up_mm), projection.point(b.across_mm, b.up_mm));
        let (top, bottom) = (a.y.min(b.y), a.y.max(b.y));
        let less = ((LEAST_POINTS - (bottom - top)) / 2.0).max(0.0);
        (a.x, top - less, bottom + less)
    };
    let seen = projection.rect.x_range().expand(8.0);
    let all: Vec<Slice> = pairs().map(slice).collect();
    // One more at each side, so that the band reaches over the view's edge.
    let first = all.partition_point(|slice| slice.0 < seen.min).saturating_sub(1);
    let last = (all.partition_point(|slice| slice.0 <= seen.max) + 1).min(all.len());
    Some(all[first.min(last)..last].to_vec())
}

/// Paints a band: fill, pattern, edge.
pub(super) fn band(slices: &[Slice], look: Look, shapes: &mut Vec<Shape>) {
    let (Some(first), Some(last)) = (slices.first(), slices.last()) else { return };
    let thick = slices.iter().map(|slice| slice.2 - slice.1).fold(0.0, f32::max);
    let mut mesh = Mesh::default();
    part(&mut mesh, slices, (0.0, 1.0), look.fill);
    if thick >= 3.0 {
        pattern(&mut mesh, slices, look);
    }
    shapes.push(Shape::mesh(mesh));
    let width = if thick < THIN_POINTS && !look.emphasised { 0.0 } else { look.edge_width };
    if width > 0.0 {
        let upper = slices.iter().map(|(x, top, _)| pos2(*x, *top));
        let lower = slices.iter().rev().map(|(x, _, bottom)| pos2(*x, *bottom));
        shapes.push(Shape::closed_line(upper.chain(lower).collect(), Stroke::new(width, look.edge)));
    } else if look.gap && thick >= 2.5 {
        let lower = slices.iter().map(|(x, _, bottom)| pos2(*x, *bottom)).collect();
        shapes.push(Shape::line(lower, Stroke::new(1.0, look.edge)));
    }
    if last.0 - first.0 < LEAST_POINTS {
        let stroke = Stroke::new(LEAST_POINTS, look.fill);
        shapes.push(Shape::line_segment([pos2(first.0, first.1), pos2(first.0, first.2)], stroke));
    }
}

/// The part of a band between two shares of its thickness, from its upper edge.
fn part(mesh: &mut Mesh, slices: &[Slice], (from, to): (f32, f32), color: Color32) {
    let first = mesh.vertices.len() as u32;
    for (x, top, bottom) in slices {
        let thick = bottom - top;
        mesh.colored_vertex(pos2(*x, top + thick * from), color);
        mesh.colored_vertex(pos2(*x, top + thick * to), color);
    }
    for quad in 0..slices.len().saturating_sub(1) as u32 {
        let at = first + 2 * quad;
        mesh.add_triangle(at, at + 1, at + 2);
        mesh.add_triangle(at + 1, at + 2, at + 3);
    }
}

fn pattern(mesh: &mut Mesh, slices: &[Slice], look: Look) {
    let (left, right) = (slices[0].0, slices[slices.len() - 1].0);
    match look.pattern {
        Pattern::Plain => {}
        Pattern::Stripe => part(mesh, slices, (0.4, 0.6), look.pattern_color),
        Pattern::Ticks(step) => strokes(mesh, slices, look, ((left, right), step, 0.0)),
        Pattern::Hatch(step) => {
            let thick = slices[0].2 - slices[0].1;
            strokes(mesh, slices, look, ((left, right), step, thick));
        }
    }
}

/// Strokes from the lower to the upper edge, `slant` points further right there; all within the band's length.
fn strokes(mesh: &mut Mesh, slices: &[Slice], look: Look, across: ((f32, f32), f32, f32)) {
    let ((left, right), step, slant) = across;
    let wide = if slant > 0.0 { 1.6 } else { 1.0 };
    let mut x = (left / step).ceil() * step;
    while x + slant + wide < right {
        let (low, high) = (edges_at(slices, x).1, edges_at(slices, x + slant).0);
        let first = mesh.vertices.len() as u32;
        for corner in [pos2(x, low), pos2(x + wide, low), pos2(x + slant, high), pos2(x + slant + wide, high)]
        {
            mesh.colored_vertex(corner, look.pattern_color);
        }
        mesh.add_triangle(first, first + 1, first + 2);
        mesh.add_triangle(first + 1, first + 2, first + 3);
        x += step;
    }
}

/// Upper and lower edge of a band at a place.
fn edges_at(slices: &[Slice], x: f32) -> (f32, f32) {
    let after = slices.partition_point(|slice| slice.0 < x).clamp(1, slices.len().max(2) - 1);
    let (Some(a), Some(b)) = (slices.get(after - 1), slices.get(after)) else { return (0.0, 0.0) };
    let share = if b.0 > a.0 { (x - a.0) / (b.0 - a.0) } else { 0.0 };
    (a.1 + (b.1 - a.1) * share, a.2 + (b.2 - a.2) * share)
}

#[cfg(test)]
mod tests {
    use super::super::view::{Heights, Projection, Stretch};
    use super::*;
    use egui::{Rect, vec2};

    fn projection() -> Projection {
        let view = Rect::from_min_size(pos2(0.0, 0.0), vec2(100.0, 100.0));
        let stretch = Stretch { left_mm: 0.0, points_per_mm: 0.1 };
        Projection::along(view, stretch, Heights::even(0.0, 0.1))
    }

    fn outline(places: &[(f64, f64)]) -> Vec<Point> {
        places.iter().map(|(x, y)| Point::new(*x, *y)).collect()
    }

    #[test]
    fn a_band_is_told_from_other_outlines() {
        let check = |places: &[(f64, f64)], count: Option<usize>| {
            let found = slices(&outline(places), &projection()).map(|slices| slices.len());
            assert_eq!(found, count, "{places:?}");
        };
        check(&[(0.0, 0.0), (100.0, 5.0), (200.0, 0.0), (200.0, 50.0), (100.0, 55.0), (0.0, 50.0)], Some(3));
        check(&[(0.0, 0.0), (200.0, 0.0), (210.0, 50.0), (0.0, 50.0)], None);
        check(&[(0.0, 0.0), (200.0, 0.0), (100.0, 50.0)], None);
        check(&[(200.0, 0.0), (0.0, 0.0), (0.0, 50.0), (200.0, 50.0)], None);
    }

    #[test]
    fn what_lies_outside_the_view_is_left_out_but_one_place_at_each_side() {
        let there: Vec<(f64, f64)> = (0..20).map(|at| (f64::from(at) * 500.0 - 4_000.0, 0.0)).collect();
        let back = there.iter().rev().map(|(x, _)| (*x, 100.0));
        let all: Vec<(f64, f64)> = there.iter().copied().chain(back).collect();
        let seen = slices(&outline(&all), &projection()).unwrap();
        assert_eq!((seen.first().unwrap().0, seen.last().unwrap().0), (-50.0, 150.0));
    }

    #[test]
    fn thin_bands_keep_a_point_and_patterns_stay_between_the_ends() {
        let thin = outline(&[(0.0, 500.0), (500.0, 500.0), (500.0, 500.1), (0.0, 500.1)]);
        let thin = slices(&thin, &projection()).unwrap();
        assert!(thin.iter().all(|(_, top, bottom)| (bottom - top - 1.0).abs() < 1e-4));
        let slices = [(10.0, 20.0, 40.0), (90.0, 30.0, 50.0)];
        for pattern in [Pattern::Stripe, Pattern::Ticks(9.0), Pattern::Hatch(9.0)] {
            let mut mesh = Mesh::default();
            super::pattern(&mut mesh, &slices, Look { pattern, ..Look::plain(Color32::RED) });
            let bounds = mesh.calc_bounds();
            assert!(!mesh.is_empty() && bounds.left() >= 10.0 && bounds.right() <= 90.0, "{pattern:?}");
            assert!(bounds.top() >= 20.0 && bounds.bottom() <= 50.0, "{pattern:?}");
        }
    }
}
