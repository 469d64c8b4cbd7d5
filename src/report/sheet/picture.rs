//! A drawing, or a part of one, on a page: its shapes mapped, cut at its window, and dressed for paper.

use super::dress::{Dress, look, string_marks};
use super::face::{Face, height_mm};
use super::flow::{Side, Type, fitted};
use super::page::{Closed, Frame, Ink, Look, Mark, Spot, Words};
use super::wording::shortened;
use crate::drawing::{Anchor, Area, Form, Picture, Point, Role, Shape, TextSize, Thing};

/// Letters of a drawing never become smaller than this.
const LEAST_PT: f64 = 4.4;

/// Where a drawing lies on a page.
#[derive(Clone, Debug)]
pub(super) struct Mapping {
    /// What of the drawing is shown.
    window: Area,
    /// Where on the page its left edge lies, and how many mm there stand for one of the drawing.
    left_mm: f64,
    across: f64,
    /// Heights of the drawing, growing, and where they lie on the page.
    steps: Vec<(f64, f64)>,
}

impl Mapping {
    /// The largest true image of `window` in the middle of `room`.
    pub(super) fn whole(window: Area, room: Frame) -> Self {
        let scale = (room.width_mm / window.width_mm()).min(room.height_mm / window.height_mm());
        let scale = if scale.is_finite() { scale } else { 1.0 };
        let left_mm = room.left_mm + (room.width_mm - window.width_mm() * scale) / 2.0;
        let height = window.height_mm() * scale;
        let top = room.top_mm + (room.height_mm - height) / 2.0;
        let steps = vec![(window.least.up_mm, top + height), (window.most.up_mm, top)];
        Self { window, left_mm, across: scale, steps }
    }

    /// An image of `window` at `across` mm of paper for each of the drawing, its heights stretched in `bands`: heights
    /// of the drawing from the top down, each with the mm of paper down to the next.
    pub(super) fn banded(window: Area, at: Spot, across: f64, bands: &[(f64, f64)]) -> Self {
        let mut y = at.y_mm;
        let mut steps = Vec::new();
        for (up, below) in bands {
            steps.push((*up, y));
            y += below;
        }
        steps.reverse();
        Self { window, left_mm: at.x_mm, across, steps }
    }

    pub(super) fn x(&self, across_mm: f64) -> f64 {
        self.left_mm + (across_mm - self.window.least.across_mm) * self.across
    }

    pub(super) fn y(&self, up_mm: f64) -> f64 {
        let above = self.steps.iter().position(|(up, _)| *up >= up_mm);
        let last = self.steps.len().saturating_sub(1);
        let upper = above.unwrap_or(last).clamp(1, last.max(1));
        let (Some(low), Some(high)) = (self.steps.get(upper - 1), self.steps.get(upper)) else { return 0.0 };
        let share = if high.0 > low.0 { (up_mm - low.0) / (high.0 - low.0) } else { 0.0 };
        low.1 + share * (high.1 - low.1)
    }

    fn spot(&self, at: Point) -> Spot {
        Spot::new(self.x(at.across_mm), self.y(at.up_mm))
    }

    /// The part of `area` in the window, on the page; none where it lies outside.
    fn frame(&self, area: Area) -> Option<Frame> {
        let area = common(area, self.window)?;
        let (top, bottom) = (self.y(area.most.up_mm), self.y(area.least.up_mm));
        let (left, right) = (self.x(area.least.across_mm), self.x(area.most.across_mm));
        Some(Frame::new(left, top, right - left, bottom - top))
    }
}

/// All of `picture` that lies in the mapping's window.
pub(super) fn picture_marks(picture: &Picture, mapping: &Mapping) -> Vec<Mark> {
    picture.shapes.iter().flat_map(|shape| shape_marks(shape, mapping)).collect()
}

fn shape_marks(shape: &Shape, mapping: &Mapping) -> Vec<Mark> {
    let one = |mark: Option<Mark>| mark.into_iter().collect();
    match (&shape.form, shape.role) {
        (Form::Box(area), Role::String(drop) | Role::Overhang(drop)) => {
            mapping.frame(*area).map(|frame| string_marks(frame, Dress::of(drop))).unwrap_or_default()
        }
        (Form::Outline(points), Role::String(drop) | Role::Overhang(drop)) => {
            one(outline_mark(points, mapping, drop))
        }
        (Form::Box(area) | Form::Frame(area), role) => {
            one(mapping.frame(*area).map(|frame| Mark::Box(frame, look(role))))
        }
        (Form::Line(from, to), role) => one(line_mark(*from, *to, mapping, look(role))),
        (Form::Outline(points), role) => one(path_mark(points, Closed::Closed, mapping, look(role))),
        (Form::Path(points), role) => one(path_mark(points, Closed::Open, mapping, look(role))),
        (Form::Circle { middle, radius_mm }, role) => one(circle_mark(*middle, *radius_mm, mapping, role)),
        (Form::Text { at, anchor, words, size, room }, role) => {
            let mark = text_mark((*at, *anchor), words, (*size, role), *room, mapping);
            let ground = match (&mark, shape.thing) {
                (Some(Mark::Words(words)), Some(Thing::String(_))) => Some(ground(words)),
                _ => None,
            };
            ground.into_iter().chain(mark).collect()
        }
    }
}

/// Paper under the mark of a string, which would else be lost in the string's own outline; edges of its room stay.
fn ground(words: &Words) -> Mark {
    const EDGE_MM: f64 = 0.2;
    let (frame, room) = (words.frame(), words.room.inset(0.0, EDGE_MM));
    let (top_mm, bottom_mm) = (frame.top_mm.max(room.top_mm), frame.bottom_mm().min(room.bottom_mm()));
    let aside_mm = frame.height_mm * 0.15;
    let height_mm = (bottom_mm - top_mm).max(0.0);
    let patch = Frame::new(frame.left_mm - aside_mm, top_mm, frame.width_mm + 2.0 * aside_mm, height_mm);
    Mark::Box(patch, Look::fill(Ink::Paper))
}

fn outline_mark(points: &[Point], mapping: &Mapping, drop: Option<usize>) -> Option<Mark> {
    let fill = match Dress::of(drop) {
        Dress::Grey | Dress::Hatched => Ink::Grey,
        Dress::Plain | Dress::Stays => Ink::Paper,
        Dress::Tinted => Ink::Tint,
    };
    path_mark(points, Closed::Closed, mapping, Look::both(fill, Ink::Black, 0.15))
}

fn line_mark(from: Point, to: Point, mapping: &Mapping, look: Look) -> Option<Mark> {
    let part = common(Area::of(from, to), mapping.window)?;
    // Lines of drawings that reach out of a window are level or upright: a part of one has its own ends.
    let level = from.across_mm.total_cmp(&to.across_mm).is_eq() || from.up_mm.total_cmp(&to.up_mm).is_eq();
    let (from, to) = if level { (part.least, part.most) } else { (from, to) };
    let points = vec![mapping.spot(from), mapping.spot(to)];
    Some(Mark::Path { points, closed: Closed::Open, look })
}

fn path_mark(points: &[Point], closed: Closed, mapping: &Mapping, look: Look) -> Option<Mark> {
    let window = mapping.window;
    let around = points.iter().map(|at| Area::of(*at, *at)).reduce(Area::around)?;
    common(around, window)?;
    let within = |at: &Point| {
        let across = at.across_mm.clamp(window.least.across_mm, window.most.across_mm);
        mapping.spot(Point::new(across, at.up_mm.clamp(window.least.up_mm, window.most.up_mm)))
    };
    Some(Mark::Path { points: points.iter().map(within).collect(), closed, look })
}

/// A circle keeps its lowest point and its width where heights are stretched.
fn circle_mark(middle: Point, radius_mm: f64, mapping: &Mapping, role: Role) -> Option<Mark> {
    if !mapping.window.contains(middle) {
        return None;
    }
    let radius = (radius_mm * mapping.across).max(0.35);
    let at = mapping.spot(middle);
    let y_mm = match role {
        Role::Wheel => mapping.y(middle.up_mm - radius_mm) - radius,
        _ => at.y_mm,
    };
    Some(Mark::Circle { middle: Spot::new(at.x_mm, y_mm), radius_mm: radius, look: look(role) })
}

fn text_mark(
    (at, anchor): (Point, Anchor),
    words: &str,
    (size, role): (TextSize, Role),
    room: Option<Area>,
    mapping: &Mapping,
) -> Option<Mark> {
    let (face, largest) = match size {
        TextSize::Small => (Face::Regular, 5.6),
        TextSize::Normal => (Face::Regular, 6.5),
        TextSize::Large => (Face::Bold, 7.5),
    };
    let ink = if role == Role::Figure { Ink::Soft } else { Ink::Black };
    let side = match anchor {
        Anchor::Left => Side::Left,
        Anchor::Middle => Side::Middle,
        Anchor::Right => Side::Right,
    };
    let Some(room) = room else {
        if !mapping.window.contains(at) {
            return None;
        }
        let look = Type { face, size_pt: largest, ink };
        let room = free_room(mapping, at, (look.width_mm(words), look.leading_mm()), side);
        // A name that is too long even in small letters keeps its beginning and its end.
        let words = shortened(words, look.sized(largest * 0.7), room.width_mm);
        return fitted(&words, look, room, side).map(Mark::Words);
    };
    let room = mapping.frame(room)?;
    let fits = |size_pt: &f64| {
        let (above, below) = height_mm(*size_pt);
        face.width_mm(words, *size_pt) <= room.width_mm && above + below <= room.height_mm
    };
    let sizes = [largest, largest * 0.9, largest * 0.8, LEAST_PT];
    let size_pt = sizes.into_iter().filter(|size| *size >= LEAST_PT).find(fits)?;
    fitted(words, Type { face, size_pt, ink }, room, side).map(Mark::Words)
}

/// Where words without a room of their own stand: as wide as they are, but no wider than the drawing.
fn free_room(mapping: &Mapping, at: Point, (width_mm, height_mm): (f64, f64), side: Side) -> Frame {
    let spot = mapping.spot(at);
    let before = spot.x_mm - mapping.x(mapping.window.least.across_mm);
    let after = mapping.x(mapping.window.most.across_mm) - spot.x_mm;
    let (left_mm, width_mm) = match side {
        Side::Left => (spot.x_mm, width_mm.min(after)),
        Side::Right => (spot.x_mm - width_mm.min(before), width_mm.min(before)),
        Side::Middle => {
            let half = (width_mm / 2.0).min(before).min(after);
            (spot.x_mm - half, 2.0 * half)
        }
    };
    Frame::new(left_mm, spot.y_mm - height_mm / 2.0, width_mm, height_mm)
}

/// What two areas have in common; none where they do not meet.
fn common(a: Area, b: Area) -> Option<Area> {
    let least = Point::new(a.least.across_mm.max(b.least.across_mm), a.least.up_mm.max(b.least.up_mm));
    let most = Point::new(a.most.across_mm.min(b.most.across_mm), a.most.up_mm.min(b.most.up_mm));
    (least.across_mm <= most.across_mm && least.up_mm <= most.up_mm).then(|| Area::of(least, most))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mapping() -> Mapping {
        let window = Area::spanning((1_000.0, 3_000.0), (-1_000.0, 2_000.0));
        Mapping::banded(window, Spot::new(10.0, 20.0), 0.01, &[(2_000.0, 40.0), (0.0, 10.0), (-1_000.0, 0.0)])
    }

    #[test]
    fn heights_are_stretched_band_by_band() {
        let mapping = mapping();
        let check = |up: f64, y: f64| assert!((mapping.y(up) - y).abs() < 1.0e-9, "{up}: {}", mapping.y(up));
        check(2_000.0, 20.0);
        check(1_000.0, 40.0);
        check(0.0, 60.0);
        check(-500.0, 65.0);
        check(-1_000.0, 70.0);
        assert!((mapping.x(2_000.0) - 20.0).abs() < 1.0e-9);
    }

    #[test]
    fn shapes_are_cut_at_the_window_and_left_out_beyond_it() {
        let check = |form: Form, expected: Option<Frame>| {
            let shape = Shape { form, role: Role::Rack, thing: None };
            let marks = shape_marks(&shape, &mapping());
            assert_eq!(marks.first().map(Mark::frame), expected);
        };
        let area = |across, up| Area::spanning(across, up);
        check(Form::Box(area((0.0, 2_000.0), (0.0, 1_000.0))), Some(Frame::new(10.0, 40.0, 10.0, 20.0)));
        check(Form::Box(area((0.0, 900.0), (0.0, 1_000.0))), None);
        let line = Form::Line(Point::new(0.0, 0.0), Point::new(9_000.0, 0.0));
        check(line, Some(Frame::new(10.0, 60.0, 20.0, 0.0)));
        check(Form::Circle { middle: Point::new(9_000.0, 0.0), radius_mm: 10.0 }, None);
    }

    #[test]
    fn words_that_do_not_fit_their_room_are_left_out() {
        let check = |width: f64, told: bool| {
            let room = Some(area_of(width));
            let at = (Point::new(1_500.0, 500.0), Anchor::Middle);
            let mark = text_mark(at, "W01", (TextSize::Normal, Role::Label), room, &mapping());
            assert_eq!(mark.is_some(), told, "{width}");
        };
        fn area_of(width: f64) -> Area {
            Area::spanning((1_500.0 - width / 2.0, 1_500.0 + width / 2.0), (300.0, 700.0))
        }
        check(800.0, true);
        check(200.0, false);
    }
}
