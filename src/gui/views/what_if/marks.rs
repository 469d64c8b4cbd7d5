//! Words in a plot: put where they lie on no curve, no line and no other words.

use egui::{Color32, FontId, Painter, Pos2, Rect, Vec2, pos2, vec2};
use std::sync::Arc;

/// Room between a point and the words beside it, in points.
const ASIDE_POINTS: f32 = 7.0;

/// Words to be put.
pub(super) struct Words {
    pub(super) text: String,
    pub(super) size: f32,
    pub(super) ink: Color32,
}

/// What is drawn in a plot so far, in points on the screen.
#[derive(Debug)]
pub(super) struct Taken {
    frame: Rect,
    /// Lines, each from corner to corner.
    lines: Vec<Vec<Pos2>>,
    /// Marks and words.
    places: Vec<Rect>,
}

impl Taken {
    /// Nothing is drawn in `frame` yet.
    pub(super) fn new(frame: Rect) -> Self {
        Self { frame, lines: Vec::new(), places: Vec::new() }
    }

    /// A line is drawn.
    pub(super) fn line(&mut self, corners: Vec<Pos2>) {
        self.lines.push(corners);
    }

    /// A mark is drawn round a point.
    pub(super) fn mark(&mut self, at: Pos2) {
        self.places.push(Rect::from_center_size(at, Vec2::splat(10.0)));
    }

    /// Draws words at the first of the corners in `tried` where they cover nothing, else where they cover least; then
    /// with `ground` behind them, so that they can be read.
    pub(super) fn words_ui(&mut self, painter: &Painter, words: Words, ground: Color32, tried: &[Corner]) {
        let galley = painter.layout_no_wrap(words.text, FontId::proportional(words.size), words.ink);
        let Some((at, covers)) = self.best(galley.size(), tried) else { return };
        let rect = Rect::from_min_size(at, galley.size());
        if covers > 0 {
            painter.rect_filled(rect, 0.0, ground);
        }
        self.places.push(rect);
        painter.galley(at, Arc::clone(&galley), words.ink);
    }

    fn best(&self, size: Vec2, tried: &[Corner]) -> Option<(Pos2, usize)> {
        let places = tried.iter().map(|corner| {
            // Never beyond the frame.
            let most = (self.frame.max - size).max(self.frame.min);
            let at = corner.upper_left(size).clamp(self.frame.min, most);
            (at, self.covered(Rect::from_min_size(at, size)))
        });
        places.min_by_key(|(_, covered)| *covered)
    }

    /// How much words at `rect` would cover: other words and marks weigh most.
    fn covered(&self, rect: Rect) -> usize {
        let places = self.places.iter().filter(|place| place.intersects(rect)).count();
        let crossed =
            |line: &Vec<Pos2>| line.windows(2).filter(|ends| meets(rect, (ends[0], ends[1]))).count();
        places * 1_000 + self.lines.iter().map(crossed).sum::<usize>()
    }
}

/// Where words may be put: this corner (or middle of an edge) of theirs, 0 to 1 of their size, comes to this point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Corner {
    pub(super) share: Vec2,
    pub(super) at: Pos2,
}

impl Corner {
    fn upper_left(self, size: Vec2) -> Pos2 {
        self.at - size * self.share
    }
}

/// Places about a point, the nearest first: to the right and to the left, `up` first or down first.
pub(super) fn about(point: Pos2, upward: Upward) -> Vec<Corner> {
    let sign = if upward == Upward::First { -1.0 } else { 1.0 };
    let mut places = Vec::new();
    for far in [1.0, 2.5, 4.5, 7.0] {
        let aside = ASIDE_POINTS * far;
        for (x, y) in
            [(1.0, sign), (-1.0, sign), (0.0, sign), (1.0, 0.0), (-1.0, 0.0), (1.0, -sign), (-1.0, -sign)]
        {
            let share = vec2((1.0 - x) / 2.0, (1.0 - y) / 2.0);
            // Beside the point a little up or down is enough.
            let rise = if x == 0.0 { aside } else { aside * 0.5 };
            places.push(Corner { share, at: point + vec2(x * aside, y * rise) });
        }
    }
    places
}

/// Which side of a point is tried first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Upward {
    First,
    Last,
}

/// Places along a level line within `frame`: over it and under it, from its left end on.
pub(super) fn along(frame: Rect, y: f32) -> Vec<Corner> {
    let mut places = Vec::new();
    for share in [0.012, 0.35, 0.65, 0.988] {
        for (below, aside) in [(1.0, -2.5), (0.0, 3.5)] {
            let at = pos2(frame.left() + frame.width() * share, y + aside);
            places.push(Corner { share: vec2(if share > 0.9 { 1.0 } else { 0.0 }, below), at });
        }
    }
    places
}

/// Whether a line between two points meets `rect`.
fn meets(rect: Rect, (from, to): (Pos2, Pos2)) -> bool {
    let turn = |a: Pos2, b: Pos2, c: Pos2| (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
    let cross = |a: Pos2, b: Pos2| {
        turn(from, to, a) * turn(from, to, b) <= 0.0 && turn(a, b, from) * turn(a, b, to) <= 0.0
    };
    // A line through a rectangle with its ends outside crosses one of the diagonals.
    rect.contains(from)
        || rect.contains(to)
        || cross(rect.left_top(), rect.right_bottom())
        || cross(rect.left_bottom(), rect.right_top())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn plot() -> Taken {
        Taken::new(Rect::from_min_size(Pos2::ZERO, vec2(300.0, 100.0)))
    }

    const SIZE: Vec2 = vec2(40.0, 12.0);

    #[test]
    fn a_line_meets_a_rectangle_that_it_goes_through_or_ends_in() {
        let rect = Rect::from_min_max(pos2(10.0, 10.0), pos2(50.0, 22.0));
        for (from, to, expected) in [
            (pos2(0.0, 16.0), pos2(90.0, 16.0), true),
            (pos2(30.0, 0.0), pos2(31.0, 90.0), true),
            (pos2(20.0, 15.0), pos2(21.0, 16.0), true),
            (pos2(0.0, 9.0), pos2(90.0, 9.0), false),
            (pos2(51.0, 0.0), pos2(60.0, 90.0), false),
        ] {
            assert_eq!(meets(rect, (from, to)), expected, "{from:?} {to:?}");
        }
    }

    #[test]
    fn words_keep_off_the_curve_that_their_point_lies_on() {
        let mut taken = plot();
        let point = pos2(150.0, 50.0);
        // Steeply up to the right: the first place, up and to the right, lies on it.
        taken.line(vec![pos2(130.0, 90.0), point, pos2(170.0, 10.0)]);
        taken.mark(point);
        let first = about(point, Upward::First)[0];
        assert!(taken.covered(Rect::from_min_size(first.upper_left(SIZE), SIZE)) > 0);
        let (at, covers) = taken.best(SIZE, &about(point, Upward::First)).unwrap();
        assert_eq!(covers, 0);
        assert!(at.x + SIZE.x < point.x, "{at:?}");
    }

    #[test]
    fn words_keep_off_each_other_and_within_the_plot() {
        let mut taken = plot();
        let corner = pos2(298.0, 2.0);
        let (first, _) = taken.best(SIZE, &about(corner, Upward::First)).unwrap();
        assert!(taken.frame.contains_rect(Rect::from_min_size(first, SIZE)));
        taken.places.push(Rect::from_min_size(first, SIZE));
        let (second, covers) = taken.best(SIZE, &about(corner, Upward::Last)).unwrap();
        assert_eq!(covers, 0, "{first:?} {second:?}");
    }
}
