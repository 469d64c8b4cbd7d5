//! Paints pictures: colours and patterns by role, small things left out, what lies outside never made.

use super::look::{Look, Looks, Pattern};
use super::strips;
use super::view::Projection;
use crate::drawing::{Anchor, Area, Form, Picture, Point, Role, Shape, TextSize, Thing};
use egui::epaint::{Mesh, RectShape, StrokeKind};
use egui::{Align2, Color32, FontId, Painter, Pos2, Rangef, Rect, Stroke, pos2, vec2};
use std::collections::BTreeMap;

/// Boxes narrower or lower than this many points are drawn this large, so that nothing vanishes.
const LEAST_POINTS: f32 = 1.0;
/// Circles and outlines smaller than this are left out.
const LEAST_ROUND_POINTS: f32 = 1.5;
/// Seats and figures are left out where a picture's boxes are narrower than this.
const LEAST_DETAIL_POINTS: f32 = 3.0;

/// The marks at the limits of a range are left out where they are smaller than this.
const LEAST_MARK_POINTS: f32 = 5.0;
/// Outlines lower than this are painted in one colour, without an edge.
const SMALL_OUTLINE_POINTS: f32 = 40.0;

/// By how much words may be wider than their room: a little over the edge is better than none.
const OVER_POINTS: f32 = 3.0;

/// Load bars and holds are at least this wide, so that bars of a bogie join and holds are seen on a small train.
const LEAST_BAR_POINTS: f32 = 3.0;

/// Paints a picture through a projection.
pub(super) struct Paint<'a> {
    /// Where to paint; clipped to the view.
    pub painter: &'a Painter,
    /// From millimetres to the screen.
    pub projection: Projection,
    /// Colours and emphasis by role and thing.
    pub looks: &'a Looks<'a>,
}

fn around(middle: f32, width: f32) -> Rangef {
    Rangef::new(middle - width / 2.0, middle + width / 2.0)
}

/// The words painted so far, so that words never overlap.
#[derive(Default)]
struct Lines {
    /// Their room by line on the screen.
    taken: BTreeMap<i32, Vec<Rangef>>,
    /// Size of small words in points.
    small: f32,
}

/// Sizes of small words in points: the largest in which the marks of all strings that can be seen have room.
const SMALL_POINTS: [f32; 4] = [10.0, 9.5, 9.0, 8.5];

impl Paint<'_> {
    /// Paints all shapes of `picture` that can be seen.
    pub(super) fn picture(&self, picture: &Picture) {
        let mut shapes = Vec::with_capacity(picture.shapes.len());
        let mut lines = Lines { small: self.small_points(picture), ..Lines::default() };
        let (mut middle, mut upper, mut words) = (Vec::new(), Vec::new(), Vec::new());
        let mut centres = Vec::new();
        for shape in picture.shapes.iter().filter(|shape| self.sees(shape)) {
            if matches!(shape.form, Form::Text { .. }) {
                words.push(shape);
            } else if shape.role == Role::CentreOfGravity {
                centres.push(shape);
            } else if self.looks.is_emphasised(shape.thing) {
                upper.push(shape);
            } else if matches!(shape.role, Role::LoadRoom(_)) {
                // The room of a bar is its ground: a frame over a thin bar would hide it.
                self.shape(shape, &mut shapes, &mut lines);
            } else {
                middle.push(shape);
            }
        }
        // What is selected lies above its neighbours, words above that, and marks of single points on top.
        for shape in middle.into_iter().chain(upper).chain(words).chain(centres) {
            self.shape(shape, &mut shapes, &mut lines);
        }
        self.painter.extend(shapes);
    }

    /// The place of an area on the screen, at least a point wide and high, on whole pixels.
    pub(super) fn rect(&self, area: Area) -> Rect {
        let (low, high) = (area.least, area.most);
        let rect = self.projection.rect_of([low.across_mm, low.up_mm], [high.across_mm, high.up_mm]);
        let pixels = self.painter.pixels_per_point();
        let snap = |value: f32| (value * pixels).round() / pixels;
        let least = pos2(snap(rect.min.x), snap(rect.min.y));
        let size = vec2(snap(rect.width()).max(LEAST_POINTS), snap(rect.height()).max(LEAST_POINTS));
        Rect::from_min_size(least, size)
    }

    /// The size of the small marks of strings, the same for all of them.
    fn small_points(&self, picture: &Picture) -> f32 {
        let marks: Vec<(&str, f32)> = picture
            .shapes
            .iter()
            .filter(|shape| shape.role == Role::Label && self.sees(shape))
            .filter_map(|shape| match &shape.form {
                Form::Text { words, size: TextSize::Small, room: Some(room), .. } => {
                    Some((words.as_str(), self.rect(*room).width() + OVER_POINTS))
                }
                _ => None,
            })
            .collect();
        let fits = |points: f32| {
            marks.iter().all(|(words, room)| {
                let font = FontId::proportional(points);
                self.painter.layout_no_wrap((*words).to_owned(), font, Color32::BLACK).size().x <= *room
            })
        };
        SMALL_POINTS.into_iter().find(|points| fits(*points)).unwrap_or(SMALL_POINTS[0])
    }

    fn point(&self, point: Point) -> Pos2 {
        self.projection.point(point.across_mm, point.up_mm)
    }

    fn sees(&self, shape: &Shape) -> bool {
        let bounds = match &shape.form {
            Form::Text { room: Some(room), .. } => *room,
            form => form.bounds(),
        };
        let view = self.projection.rect;
        let room = if matches!(shape.form, Form::Text { .. }) { 100.0 } else { 2.0 };
        let (left, right) =
            (self.projection.x(bounds.least.across_mm), self.projection.x(bounds.most.across_mm));
        let (top, bottom) = (self.projection.y(bounds.most.up_mm), self.projection.y(bounds.least.up_mm));
        left <= view.right() + room
            && right >= view.left() - room
            && top <= view.bottom() + 2.0
            && bottom >= view.top() - 2.0
    }

    fn shape(&self, shape: &Shape, shapes: &mut Vec<egui::Shape>, lines: &mut Lines) {
        let look = self.looks.of(shape.role, shape.thing);
        match &shape.form {
            Form::Box(area) | Form::Frame(area) => {
                let mut rect = self.rect(*area);
                if shape.role == Role::Seat && rect.width() < LEAST_DETAIL_POINTS {
                    return;
                }
                if shape.role == Role::Former {
                    return former(rect, self.projection.rect, look, shapes);
                }
                // What runs far out of the view needs no more than its part in the view.
                rect = rect.intersect(self.projection.rect.expand(8.0));
                if look.gap && (2.5..6.0).contains(&rect.height()) {
                    rect.max.y -= 1.0 / self.painter.pixels_per_point();
                }
                let hollow = matches!(shape.form, Form::Frame(_)) && !matches!(shape.role, Role::LoadRoom(_));
                if matches!(shape.role, Role::LoadRoom(_) | Role::LoadBar(_) | Role::Hold)
                    && rect.width() < LEAST_BAR_POINTS
                {
                    rect = Rect::from_x_y_ranges(around(rect.center().x, LEAST_BAR_POINTS), rect.y_range());
                }
                self.boxed(rect, look, hollow, shapes);
                let pattern = pattern_mesh(rect, look);
                if !pattern.is_empty() {
                    shapes.push(egui::Shape::mesh(pattern));
                }
            }
            Form::Line(from, to) => {
                let ends = [self.point(*from), self.point(*to)];
                if shape.role == Role::CreepRange && ends[0].distance(ends[1]) < LEAST_MARK_POINTS {
                    return;
                }
                let stroke = Stroke::new(look.line_width(), look.line());
                shapes.push(egui::Shape::line_segment(ends, stroke));
                if shape.role == Role::Shift && ends[0].distance(ends[1]) > 2.0 * LEAST_MARK_POINTS {
                    arrow_head(ends, stroke, shapes);
                }
            }
            Form::Outline(points) if shape.role == Role::CentreOfGravity => {
                let middle = self.point(Form::Outline(points.clone()).bounds().middle());
                centre_of_load(middle, look, shapes);
            }
            Form::Outline(points) => match strips::slices(points, &self.projection) {
                Some(slices) => strips::band(&slices, look, shapes),
                None => self.outline(points, look, shapes),
            },
            Form::Path(points) => {
                let points = points.iter().map(|point| self.point(*point)).collect();
                shapes.push(egui::Shape::line(points, Stroke::new(look.line_width(), look.line())));
            }
            Form::Circle { middle, .. } if shape.role == Role::CentreOfGravity => {
                centre_of_gravity(self.point(*middle), look, shapes);
            }
            Form::Circle { middle, radius_mm } => {
                let wide = (radius_mm * self.projection.x_points_per_mm) as f32;
                let lowest = self.projection.y(middle.up_mm - radius_mm);
                // Round where heights are stretched, flat where they are squeezed: never beyond its height.
                let high = wide.min((lowest - self.projection.y(middle.up_mm + radius_mm)) / 2.0);
                if wide >= LEAST_ROUND_POINTS {
                    let at = pos2(self.projection.x(middle.across_mm), lowest - high);
                    shapes.push(egui::Shape::ellipse_filled(at, vec2(wide, high), look.fill));
                }
            }
            Form::Text { .. } => self.text(shape, look, shapes, lines),
        }
    }

    fn boxed(&self, rect: Rect, look: Look, hollow: bool, shapes: &mut Vec<egui::Shape>) {
        let fill = if hollow { Color32::TRANSPARENT } else { look.fill };
        let thin = rect.width() < 6.0 || rect.height() < 6.0;
        let width = if thin && !look.emphasised { 0.0 } else { look.edge_width };
        let stroke =
            if hollow { Stroke::new(look.line_width(), look.line()) } else { Stroke::new(width, look.edge) };
        let kind = if look.emphasised { StrokeKind::Outside } else { StrokeKind::Inside };
        shapes.push(RectShape::new(rect, 0.0, fill, stroke, kind).into());
    }

    fn outline(&self, points: &[Point], look: Look, shapes: &mut Vec<egui::Shape>) {
        let points: Vec<Pos2> = points.iter().map(|point| self.point(*point)).collect();
        let bounds = Rect::from_points(&points);
        if bounds.width().max(bounds.height()) < LEAST_ROUND_POINTS {
            return;
        }
        // One mesh without soft edges: each triangle's own would leave seams, and specks beside slivers.
        let mut mesh = Mesh::default();
        for triangle in triangles(&points) {
            let first = mesh.vertices.len() as u32;
            for corner in triangle {
                mesh.colored_vertex(corner, look.fill);
            }
            mesh.add_triangle(first, first + 1, first + 2);
        }
        if matches!(look.pattern, Pattern::Hatch(_)) {
            lie_across(&points, look.pattern_color, &mut mesh);
        }
        shapes.push(egui::Shape::mesh(mesh));
        // The edge of a small outline would hide all of it.
        let small = bounds.height() < SMALL_OUTLINE_POINTS && !look.emphasised;
        let edge = if small { Stroke::new(0.6, look.fill) } else { Stroke::new(look.edge_width, look.edge) };
        if edge.width > 0.0 {
            shapes.push(egui::Shape::closed_line(points, edge));
        }
    }

    fn text(&self, shape: &Shape, look: Look, shapes: &mut Vec<egui::Shape>, lines: &mut Lines) {
        let Form::Text { at, anchor, words, size, room } = &shape.form else { return };
        let points = match size {
            TextSize::Small if shape.role == Role::Label => lines.small,
            TextSize::Small => SMALL_POINTS[0],
            TextSize::Normal => 12.0,
            TextSize::Large => 15.0,
        };
        // Marks of vehicles may reach beyond their own room; where they would meet, every other one goes.
        let vehicle = shape.role == Role::Label && matches!(shape.thing, Some(Thing::Vehicle(_)));
        let room = room.filter(|_| !vehicle).map(|room| self.rect(room));
        // Half the size is less than the mean width of a character: surely too long, so never laid out.
        let least_width = words.chars().count() as f32 * points * 0.4;
        // A thin string has room for its mark only while it is selected.
        let least_height = match shape.role {
            Role::Figure => 6.0,
            _ if self.looks.is_emphasised(shape.thing) => 0.0,
            _ => points * 0.9,
        };
        if room.is_some_and(|room| room.width() < least_width || room.height() < least_height) {
            return;
        }
        let galley = self.painter.layout_no_wrap(words.clone(), FontId::proportional(points), look.line());
        let align = match anchor {
            Anchor::Middle => Align2::CENTER_CENTER,
            Anchor::Left => Align2::LEFT_CENTER,
            Anchor::Right => Align2::RIGHT_CENTER,
        };
        let mut place = align.anchor_size(self.point(*at), galley.size());
        if let Some(room) = room {
            if galley.size().x > room.width() + OVER_POINTS {
                return;
            }
            let view = self.projection.rect;
            if room.left() < view.left() || room.right() > view.right() {
                // A long string's mark stays in view while any of the string is.
                let seen = room.intersect(view).shrink2(vec2(3.0, 0.0));
                if seen.width() < galley.size().x {
                    return;
                }
                let left = place.left().clamp(seen.left(), seen.right() - galley.size().x);
                place = Rect::from_min_size(pos2(left, place.top()), place.size());
            }
        }
        let view = self.projection.rect;
        if vehicle && view.x_range().contains(place.center().x) && place.width() < view.width() {
            // Nor may the edge of the view cut the mark of the first or the last vehicle.
            let left = place.left().clamp(view.left(), view.right() - place.width());
            place = Rect::from_min_size(pos2(left, place.top()), place.size());
        }
        let line = (place.center().y / 6.0).round() as i32;
        // Marks that stand in pockets of their own may be close neighbours.
        let apart = if *size == TextSize::Small && shape.role == Role::Label { 0.5 } else { 4.0 };
        let meets = |other: &Rangef| place.left() < other.max + apart && other.min < place.right() + apart;
        // Words are about two lines high.
        let mut near = lines.taken.range(line - 1..=line + 1).flat_map(|(_, taken)| taken);
        if near.any(meets) || !self.projection.rect.intersects(place) {
            return;
        }
        lines.taken.entry(line).or_default().push(place.x_range());
        if let Some(plate) = self.looks.plate(shape.thing) {
            shapes.push(RectShape::filled(place.shrink2(vec2(-2.0, 1.0)), 0.0, plate).into());
        }
        shapes.push(egui::Shape::galley(place.min, galley, look.line()));
    }
}

/// An empty dashed frame; where it is too low for one, a dashed line.
fn former(rect: Rect, view: Rect, look: Look, shapes: &mut Vec<egui::Shape>) {
    let stroke = Stroke::new(look.line_width(), look.line());
    // Dashes far out of the view need not be made.
    let left = rect.left().max(view.left() - 8.0);
    let right = rect.right().min(view.right() + 8.0);
    if right <= left {
        return;
    }
    let mut dashed = |from: Pos2, to: Pos2| {
        shapes.extend(egui::Shape::dashed_line(&[from, to], stroke, 4.0, 3.0));
    };
    if rect.height() < LEAST_DETAIL_POINTS * 1.5 {
        return dashed(pos2(left, rect.center().y), pos2(right, rect.center().y));
    }
    for y in [rect.top(), rect.bottom()] {
        dashed(pos2(left, y), pos2(right, y));
    }
    for x in [rect.left(), rect.right()] {
        dashed(pos2(x, rect.top()), pos2(x, rect.bottom()));
    }
}

/// An open head at the second of two points.
fn arrow_head([from, to]: [Pos2; 2], stroke: Stroke, shapes: &mut Vec<egui::Shape>) {
    let back = (from - to).normalized() * LEAST_MARK_POINTS;
    for side in [back.rot90(), -back.rot90()] {
        shapes.push(egui::Shape::line_segment([to, to + back + side * 0.6], stroke));
    }
}

/// The mark of a centre of gravity: a ring with a cross, of one size at every scale.
fn centre_of_gravity(at: Pos2, look: Look, shapes: &mut Vec<egui::Shape>) {
    let stroke = Stroke::new(1.5, look.line());
    shapes.push(egui::Shape::circle_filled(at, 5.0, look.pattern_color));
    shapes.push(egui::Shape::circle_stroke(at, 5.0, stroke));
    shapes.push(egui::Shape::line_segment([at - vec2(7.0, 0.0), at + vec2(7.0, 0.0)], stroke));
    shapes.push(egui::Shape::line_segment([at - vec2(0.0, 7.0), at + vec2(0.0, 7.0)], stroke));
}

/// The mark of the centre of gravity of a load alone: a diamond with its corners on the cross, of one size too.
fn centre_of_load(at: Pos2, look: Look, shapes: &mut Vec<egui::Shape>) {
    let corners = [vec2(0.0, -6.0), vec2(6.0, 0.0), vec2(0.0, 6.0), vec2(-6.0, 0.0)].map(|away| at + away);
    let stroke = Stroke::new(1.5, look.line());
    shapes.push(egui::Shape::convex_polygon(corners.to_vec(), look.pattern_color, stroke));
    shapes.push(egui::Shape::circle_filled(at, 1.5, look.line()));
}

/// A pattern over a box, as one mesh.
pub fn pattern_mesh(rect: Rect, look: Look) -> Mesh {
    let mut mesh = Mesh::default();
    if rect.width() < 4.0 || rect.height() < 3.0 {
        return mesh;
    }
    match look.pattern {
        Pattern::Plain => {}
        Pattern::Stripe => {
            let middle =
                Rect::from_center_size(rect.center(), vec2(rect.width(), (rect.height() * 0.2).max(1.0)));
            mesh.add_colored_rect(middle, look.pattern_color);
        }
        Pattern::Ticks(step) => {
            let mut x = (rect.left() / step).ceil() * step;
            while x < rect.right() - 1.0 {
                let tick = Rect::from_min_max(pos2(x, rect.top()), pos2(x + 1.0, rect.bottom()));
                mesh.add_colored_rect(tick, look.pattern_color);
                x += step;
            }
        }
        Pattern::Hatch(step) => hatch(rect, step, look.pattern_color, &mut mesh),
    }
    mesh
}

/// Slanting strokes across `rect`, each clipped to it.
fn hatch(rect: Rect, step: f32, color: Color32, mesh: &mut Mesh) {
    let height = rect.height();
    let mut x = ((rect.left() - height) / step).floor() * step;
    while x < rect.right() {
        // From (x, bottom) up to (x + height, top), clipped left and right.
        let (from, to) = ((rect.left() - x).max(0.0), (rect.right() - x).min(height));
        if from < to {
            let ends = [pos2(x + from, rect.bottom() - from), pos2(x + to, rect.bottom() - to)];
            let first = mesh.vertices.len() as u32;
            for end in ends {
                mesh.colored_vertex(end, color);
                mesh.colored_vertex(pos2((end.x + 1.6).min(rect.right()), end.y), color);
            }
            mesh.add_triangle(first, first + 1, first + 2);
            mesh.add_triangle(first + 1, first + 2, first + 3);
        }
        x += step;
    }
}

/// How far apart the strokes across a hatched outline lie, and how thick they are, in points.
const ACROSS_POINTS: (f32, f32) = (4.0, 1.2);

/// Level strokes across an outline, each from edge to edge.
fn lie_across(points: &[Pos2], color: Color32, mesh: &mut Mesh) {
    let bounds = Rect::from_points(points);
    let (step, thick) = ACROSS_POINTS;
    let mut y = (bounds.top() / step).ceil() * step;
    while y < bounds.bottom() {
        let edges = (0..points.len()).map(|at| (points[at], points[(at + 1) % points.len()]));
        let crossed = edges.filter(|(a, b)| (a.y <= y) != (b.y <= y));
        let mut xs: Vec<f32> = crossed.map(|(a, b)| a.x + (b.x - a.x) * (y - a.y) / (b.y - a.y)).collect();
        xs.sort_by(f32::total_cmp);
        for pair in xs.chunks_exact(2) {
            let stroke = Rect::from_x_y_ranges(pair[0]..=pair[1], y - thick / 2.0..=y + thick / 2.0);
            mesh.add_colored_rect(stroke, color);
        }
        y += step;
    }
}

/// Cuts a simple outline into triangles by clipping ears; gives what it found where the outline crosses itself.
pub(in crate::gui) fn triangles(points: &[Pos2]) -> Vec<[Pos2; 3]> {
    let cross = |a: Pos2, b: Pos2, c: Pos2| (b - a).x * (c - a).y - (b - a).y * (c - a).x;
    let area: f32 =
        (0..points.len()).map(|i| cross(Pos2::ZERO, points[i], points[(i + 1) % points.len()])).sum();
    let turn = if area < 0.0 { -1.0 } else { 1.0 };
    let mut left: Vec<Pos2> = points.to_vec();
    let mut found = Vec::new();
    while left.len() > 3 {
        let count = left.len();
        let ear = (0..count).find(|i| {
            let corner = [left[(i + count - 1) % count], left[*i], left[(i + 1) % count]];
            let inside = |p: Pos2| {
                [(0, 1), (1, 2), (2, 0)].iter().all(|(a, b)| cross(corner[*a], corner[*b], p) * turn > 0.0)
            };
            cross(corner[0], corner[1], corner[2]) * turn >= 0.0 && !left.iter().any(|p| inside(*p))
        });
        let Some(ear) = ear else { break };
        found.push([left[(ear + count - 1) % count], left[ear], left[(ear + 1) % count]]);
        left.remove(ear);
    }
    if let [a, b, c] = left.as_slice() {
        found.push([*a, *b, *c]);
    }
    found
}

/// The thing under `at`, the topmost first; things a few points away count where nothing is hit exactly.
pub(super) fn hit(picture: &Picture, paint: &Paint<'_>, at: Pos2) -> Option<Thing> {
    let found = |reach: f32| {
        picture.shapes.iter().rev().find_map(|shape| {
            let thing = shape.thing?;
            if matches!(shape.form, Form::Text { .. }) {
                return None;
            }
            paint.rect(shape.form.bounds()).expand(reach).contains(at).then_some(thing)
        })
    };
    found(0.0).or_else(|| found(3.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn area(points: &[[Pos2; 3]]) -> f32 {
        points
            .iter()
            .map(|[a, b, c]| ((*b - *a).x * (*c - *a).y - (*b - *a).y * (*c - *a).x).abs() / 2.0)
            .sum()
    }

    #[test]
    fn a_concave_outline_is_cut_into_triangles_of_its_area() {
        let outline = [(0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (2.0, 1.0), (0.0, 4.0)].map(|(x, y)| pos2(x, y));
        let cut = triangles(&outline);
        assert_eq!(cut.len(), 3);
        assert!((area(&cut) - 10.0).abs() < 1e-4, "16 less the notch of 4 x 3 / 2");
        let back: Vec<Pos2> = outline.iter().rev().copied().collect();
        assert!((area(&triangles(&back)) - 10.0).abs() < 1e-4, "either way round");
    }

    #[test]
    fn strokes_across_a_hatched_outline_end_at_its_edges() {
        // A triangle 8 high: at y = 4, halfway down, it is half as wide as its foot of 20.
        let outline = [(10.0, 0.0), (20.0, 8.0), (0.0, 8.0)].map(|(x, y)| pos2(x, y));
        let mut mesh = Mesh::default();
        lie_across(&outline, Color32::RED, &mut mesh);
        let bounds = mesh.calc_bounds();
        assert_eq!((bounds.left(), bounds.right()), (5.0, 15.0));
    }

    #[test]
    fn a_hatch_stays_within_its_box() {
        let rect = Rect::from_min_size(pos2(10.3, 20.0), vec2(33.0, 9.0));
        let mut mesh = Mesh::default();
        hatch(rect, 6.0, Color32::RED, &mut mesh);
        assert!(!mesh.is_empty());
        assert!(rect.expand(0.01).contains_rect(mesh.calc_bounds()));
    }
}
