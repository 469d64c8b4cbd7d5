//! What part of the train a view shows, and the way from millimetres to the screen and back.

use egui::{Pos2, Rect, pos2};

/// The stretch of the train that a view shows: where its left edge is, and how large.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Stretch {
    /// x in the train at the view's left edge, in mm.
    pub left_mm: f64,
    /// Screen points per millimetre along the train, above zero.
    pub points_per_mm: f64,
}

impl Stretch {
    /// The closest look: two points per millimetre.
    pub(super) const CLOSEST: f64 = 2.0;
    /// Free room beside what is fitted, as a share of the view's width.
    const FIT_MARGIN: f64 = 0.02;
    /// How much of the view may be empty beside an end of the train, as a share of the view's width.
    const EMPTY_SHARE: f64 = 0.5;

    /// Shows `from_mm..to_mm` in a view `width` points wide, with a little room on both sides.
    pub(super) fn fit(from_mm: f64, to_mm: f64, width: f32) -> Self {
        let width = f64::from(width).max(1.0);
        let room = (width * (1.0 - 2.0 * Self::FIT_MARGIN)).max(1.0);
        let points_per_mm = (room / (to_mm - from_mm).max(1.0)).min(Self::CLOSEST);
        let middle_mm = (from_mm + to_mm) / 2.0;
        Self { left_mm: middle_mm - width / 2.0 / points_per_mm, points_per_mm }
    }

    /// Larger by `factor`; what lies `about` points from the left edge stays where it is.
    #[must_use]
    pub(super) fn zoomed(self, factor: f64, about: f32) -> Self {
        let about = f64::from(about);
        let points_per_mm = (self.points_per_mm * factor).min(Self::CLOSEST);
        Self { left_mm: self.left_mm + about / self.points_per_mm - about / points_per_mm, points_per_mm }
    }

    /// Moved so that the drawing follows the pointer by `points` to the right.
    #[must_use]
    pub(super) fn panned(self, points: f32) -> Self {
        Self { left_mm: self.left_mm - f64::from(points) / self.points_per_mm, ..self }
    }

    /// Brought back to where a train `length_mm` long can be seen in a view `width` points wide: never
    /// smaller than the whole train, never more than half empty.
    #[must_use]
    pub(super) fn kept_on(self, length_mm: f64, width: f32) -> Self {
        let whole = Self::fit(0.0, length_mm, width);
        if self.points_per_mm <= whole.points_per_mm {
            return whole;
        }
        let shown_mm = f64::from(width) / self.points_per_mm;
        let empty_mm = shown_mm * Self::EMPTY_SHARE;
        let last_left = (length_mm - shown_mm + empty_mm).max(-empty_mm);
        Self { left_mm: self.left_mm.clamp(-empty_mm, last_left), ..self }
    }

    /// Moved just so far that `x_mm` can be seen, a tenth of the width away from the edges.
    #[must_use]
    pub(super) fn showing(self, x_mm: f64, width: f32) -> Self {
        let shown_mm = f64::from(width) / self.points_per_mm;
        let (least, most) = (self.left_mm + shown_mm * 0.1, self.left_mm + shown_mm * 0.9);
        let left_mm = self.left_mm + (x_mm - most).max(0.0) - (least - x_mm).max(0.0);
        Self { left_mm, ..self }
    }
}

/// A height of a picture, and how far above the view's bottom edge it is painted.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Knot {
    /// Height in the picture in mm, up positive.
    pub up_mm: f64,
    /// Points above the bottom edge.
    pub points: f64,
}

/// The way from heights of a picture to the screen: straight between knots, so that a zone that matters can
/// be painted larger than the others.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Heights {
    knots: [Knot; Self::MOST],
    count: usize,
}

impl Heights {
    /// The most knots.
    pub(super) const MOST: usize = 6;

    /// The zones between growing `bounds_mm`, each with its share of `height` points; shares sum to one.
    pub(super) fn zones(height: f32, bounds_mm: &[f64], shares: &[f64]) -> Self {
        let mut heights = Self { knots: [Knot::default(); Self::MOST], count: 0 };
        let mut points = 0.0;
        for (index, up_mm) in bounds_mm.iter().take(Self::MOST).enumerate() {
            heights.knots[index] = Knot { up_mm: *up_mm, points };
            heights.count = index + 1;
            points += shares.get(index).copied().unwrap_or(0.0) * f64::from(height).max(1.0);
        }
        heights
    }

    /// The same, `points` higher on the screen.
    #[must_use]
    pub(super) fn raised(mut self, points: f64) -> Self {
        self.knots.iter_mut().for_each(|knot| knot.points += points);
        self
    }

    /// The same scale everywhere; `bottom_mm` lies on the bottom edge.
    pub(super) fn even(bottom_mm: f64, points_per_mm: f64) -> Self {
        let mut knots = [Knot::default(); Self::MOST];
        knots[0] = Knot { up_mm: bottom_mm, points: 0.0 };
        knots[1] = Knot { up_mm: bottom_mm + 1_000.0, points: 1_000.0 * points_per_mm };
        Self { knots, count: 2 }
    }

    fn points(&self, up_mm: f64) -> f64 {
        let (low, high) = self.around(|knot| knot.up_mm <= up_mm);
        low.points + (up_mm - low.up_mm) * rate(low, high)
    }

    fn up_mm(&self, points: f64) -> f64 {
        let (low, high) = self.around(|knot| knot.points <= points);
        low.up_mm + (points - low.points) / rate(low, high)
    }

    /// Points per millimetre at a height.
    pub(super) fn points_per_mm(&self, up_mm: f64) -> f64 {
        let (low, high) = self.around(|knot| knot.up_mm <= up_mm);
        rate(low, high)
    }

    /// The knots around the last one for which `below` holds; the outermost zones reach on for ever.
    fn around(&self, below: impl Fn(&Knot) -> bool) -> (Knot, Knot) {
        let knots = &self.knots[..self.count];
        let first = knots.partition_point(below).saturating_sub(1).min(self.count.saturating_sub(2));
        (self.knots[first], self.knots[first + 1])
    }
}

fn rate(low: Knot, high: Knot) -> f64 {
    ((high.points - low.points) / (high.up_mm - low.up_mm).max(1.0e-6)).max(1.0e-9)
}

/// The way from a picture in millimetres to the screen; heights have scales of their own.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Projection {
    /// The view on the screen.
    pub rect: Rect,
    /// Picture x at the left edge in mm.
    pub left_mm: f64,
    /// Points per millimetre to the right.
    pub x_points_per_mm: f64,
    /// The way of heights.
    pub heights: Heights,
}

impl Projection {
    /// Along the train by `stretch`.
    pub(super) fn along(rect: Rect, stretch: Stretch, heights: Heights) -> Self {
        Self { rect, left_mm: stretch.left_mm, x_points_per_mm: stretch.points_per_mm, heights }
    }

    /// The same scale both ways; the box from `low` to `high` (x, up, in mm) in the middle of the view.
    pub(super) fn even(rect: Rect, low: [f64; 2], high: [f64; 2]) -> Self {
        let size = [(high[0] - low[0]).max(1.0), (high[1] - low[1]).max(1.0)];
        let scale = (f64::from(rect.width()) / size[0]).min(f64::from(rect.height()) / size[1]).max(1.0e-6);
        let middle = [(low[0] + high[0]) / 2.0, (low[1] + high[1]) / 2.0];
        Self {
            rect,
            left_mm: middle[0] - f64::from(rect.width()) / 2.0 / scale,
            x_points_per_mm: scale,
            heights: Heights::even(middle[1] - f64::from(rect.height()) / 2.0 / scale, scale),
        }
    }

    /// The same scale both ways above a deck, so large that the width `left..right` and the heights up to a top
    /// fit; what is below the deck is squeezed into at most two fifths of the view. Heights are low, deck and top.
    pub(super) fn above_deck(rect: Rect, (left_mm, right_mm): (f64, f64), heights_mm: [f64; 3]) -> Self {
        let [low_mm, deck_mm, top_mm] = heights_mm;
        let (width, height) = (f64::from(rect.width()).max(1.0), f64::from(rect.height()).max(1.0));
        let lower = (height * 0.4).min(125.0);
        let load_mm = (top_mm - deck_mm).max(1.0);
        let scale = (width / (right_mm - left_mm).max(1.0)).min((height - lower).max(1.0) / load_mm);
        let shares = [0.72 * lower / height, 0.28 * lower / height, scale * load_mm / height];
        let bounds = [low_mm.min(-1.0), 0.0, deck_mm.max(1.0), top_mm.max(deck_mm + 1.0)];
        Self {
            rect,
            left_mm: (left_mm + right_mm) / 2.0 - width / 2.0 / scale,
            x_points_per_mm: scale,
            heights: Heights::zones(rect.height(), &bounds, &shares),
        }
    }

    /// Where picture x lies on the screen.
    pub(super) fn x(&self, x_mm: f64) -> f32 {
        self.rect.left() + ((x_mm - self.left_mm) * self.x_points_per_mm) as f32
    }

    /// Where a picture height lies on the screen.
    pub(super) fn y(&self, up_mm: f64) -> f32 {
        self.rect.bottom() - self.heights.points(up_mm) as f32
    }

    /// Where a point of the picture lies on the screen.
    pub(super) fn point(&self, x_mm: f64, up_mm: f64) -> Pos2 {
        pos2(self.x(x_mm), self.y(up_mm))
    }

    /// A box of the picture on the screen.
    pub(super) fn rect_of(&self, low: [f64; 2], high: [f64; 2]) -> Rect {
        Rect::from_two_pos(self.point(low[0], low[1]), self.point(high[0], high[1]))
    }

    /// Picture x under a point of the screen, in mm.
    pub(super) fn x_mm(&self, screen_x: f32) -> f64 {
        self.left_mm + f64::from(screen_x - self.rect.left()) / self.x_points_per_mm
    }

    /// Picture height under a point of the screen, in mm.
    pub(super) fn up_mm(&self, screen_y: f32) -> f64 {
        self.heights.up_mm(f64::from(self.rect.bottom() - screen_y))
    }

    /// How many times larger heights are drawn than lengths, at a height.
    pub(super) fn height_factor(&self, up_mm: f64) -> f64 {
        self.heights.points_per_mm(up_mm) / self.x_points_per_mm
    }
}

/// The step between a ruler's marks in whole `unit_mm` (a metre or a foot), from 1, 2 and 5, so that marks
/// stand at least `least_points` apart.
pub(super) fn ruler_step(points_per_mm: f64, unit_mm: f64, least_points: f64) -> f64 {
    let least_units = least_points / points_per_mm / unit_mm;
    let power = 10_f64.powf(least_units.log10().floor());
    let step = [1.0, 2.0, 5.0, 10.0].into_iter().map(|step| step * power).find(|step| *step >= least_units);
    step.unwrap_or(power) * unit_mm
}

#[cfg(test)]
mod tests {
    use super::*;
    use egui::vec2;

    fn view() -> Rect {
        Rect::from_min_size(pos2(100.0, 50.0), vec2(760.0, 300.0))
    }

    #[test]
    fn fitting_a_train_leaves_a_little_room_on_both_sides() {
        let stretch = Stretch::fit(0.0, 537_300.0, 760.0);
        let (left, right) = (stretch.left_mm, stretch.left_mm + 760.0 / stretch.points_per_mm);
        assert!(left < 0.0 && right > 537_300.0);
        assert!((left + right - 537_300.0).abs() < 1e-6, "the same on both sides");
    }

    #[test]
    fn zooming_keeps_what_is_under_the_pointer() {
        let stretch = Stretch::fit(0.0, 537_300.0, 760.0);
        let under = |stretch: Stretch| stretch.left_mm + 300.0 / stretch.points_per_mm;
        assert!((under(stretch) - under(stretch.zoomed(7.5, 300.0))).abs() < 1e-6);
    }

    #[test]
    fn zooming_in_stops_at_the_closest_look_and_out_at_the_whole_train() {
        let stretch = Stretch::fit(0.0, 1.0e6, 500.0);
        assert!((stretch.zoomed(1.0e9, 10.0).points_per_mm - Stretch::CLOSEST).abs() < 1e-12);
        assert_eq!(stretch.zoomed(0.1, 10.0).kept_on(1.0e6, 500.0), stretch);
    }

    #[test]
    fn panning_far_away_leaves_half_the_view_on_the_train() {
        let stretch = Stretch { left_mm: 9.0e6, points_per_mm: 0.1 }.kept_on(100_000.0, 500.0);
        assert!((stretch.left_mm - 97_500.0).abs() < 1e-6);
        let stretch = Stretch { left_mm: -9.0e6, points_per_mm: 0.1 }.kept_on(100_000.0, 500.0);
        assert!((stretch.left_mm + 2_500.0).abs() < 1e-6);
    }

    #[test]
    fn what_must_be_seen_is_brought_in_and_what_is_seen_stays() {
        let stretch = Stretch { left_mm: 0.0, points_per_mm: 0.1 };
        assert_eq!(stretch.showing(5_000.0, 1_000.0), stretch);
        assert!((stretch.showing(19_000.0, 1_000.0).left_mm - 10_000.0).abs() < 1e-6);
        assert!((stretch.showing(-1_000.0, 1_000.0).left_mm + 2_000.0).abs() < 1e-6);
    }

    #[test]
    fn a_point_goes_to_the_screen_and_back() {
        let stretch = Stretch { left_mm: 10_000.0, points_per_mm: 0.02 };
        // 300 points: 90 for the 1,000 mm below zero, 210 for the 2,000 mm above.
        let heights = Heights::zones(300.0, &[-1_000.0, 0.0, 2_000.0], &[0.3, 0.7]);
        let projection = Projection::along(view(), stretch, heights);
        let check = |up_mm: f64, screen: Pos2| {
            let point = projection.point(15_000.0, up_mm);
            assert!((point - screen).length() < 1e-3, "{up_mm}: {point:?}");
            assert!((projection.x_mm(point.x) - 15_000.0).abs() < 1e-3);
            assert!((projection.up_mm(point.y) - up_mm).abs() < 1e-2);
        };
        check(-1_000.0, pos2(200.0, 350.0));
        check(-500.0, pos2(200.0, 305.0));
        check(0.0, pos2(200.0, 260.0));
        check(1_000.0, pos2(200.0, 155.0));
        check(2_200.0, pos2(200.0, 29.0));
        check(-2_000.0, pos2(200.0, 440.0));
        assert!((projection.height_factor(1_000.0) - 5.25).abs() < 1e-9);
    }

    #[test]
    fn an_even_projection_fits_the_tighter_way_and_centres() {
        let projection = Projection::even(view(), [-1_500.0, 0.0], [1_500.0, 3_000.0]);
        assert!((projection.x_points_per_mm - 0.1).abs() < 1e-9);
        assert!((projection.point(0.0, 1_500.0) - view().center()).length() < 1e-3);
        assert!((projection.height_factor(500.0) - 1.0).abs() < 1e-9);
    }

    #[test]
    fn above_the_deck_a_rack_face_is_true_and_fills_its_view() {
        // 300 points high: 120 below the deck, so 180 for 1,500 mm; the width of 3,000 mm takes 360 of 760.
        let projection = Projection::above_deck(view(), (-1_500.0, 1_500.0), [-1_100.0, 1_250.0, 2_750.0]);
        assert!((projection.height_factor(1_300.0) - 1.0).abs() < 1e-6);
        assert!((projection.y(2_750.0) - view().top()).abs() < 1e-3);
        assert!((projection.y(1_250.0) - (view().bottom() - 120.0)).abs() < 1e-3);
        assert!((projection.x(0.0) - view().center().x).abs() < 1e-3);
    }

    #[test]
    fn ruler_steps_are_round_and_never_too_close() {
        for (points_per_mm, expected_m) in
            [(0.0014, 50.0), (0.06, 1.0), (0.059, 2.0), (0.01, 10.0), (2.0, 0.05)]
        {
            let step = ruler_step(points_per_mm, 1_000.0, 60.0);
            assert!((step - expected_m * 1_000.0).abs() < 1e-6, "{points_per_mm}: {step}");
        }
    }
}
