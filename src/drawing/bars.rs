//! Loads as bars against their ratings.

use super::{Anchor, Area, Form, Point, Role, Shape, TextSize, Thing};
use crate::checks::{Comparison, Outcome, Sense};
use crate::units::{Quantity, Style};

/// The longest bar, as a share of its rating: what is far beyond need not run out of the picture.
const LONGEST: f64 = 1.4;

/// A load and the ratings that it must keep.
#[derive(Clone, Copy, Debug)]
pub(super) struct Load {
    /// Load in kg.
    pub kg: f64,
    /// The least of the ratings entered in kg.
    pub capacity_kg: Option<f64>,
    /// How it fares; undecided where a rating is missing and none of the others is broken.
    pub outcome: Outcome,
}

impl Load {
    /// Compares `kg` with all `ratings`; `near_share` is where near begins.
    pub(super) fn against(kg: f64, ratings: &[Option<f64>], near_share: f64) -> Self {
        let capacity_kg = ratings.iter().flatten().copied().min_by(f64::total_cmp);
        let outcomes = ratings.iter().map(|rating| match rating {
            Some(rating) => Comparison::new(Quantity::mass(kg), *rating, Sense::AtMost).outcome(near_share),
            None => Outcome::Undecided,
        });
        Self { kg, capacity_kg, outcome: outcomes.min().unwrap_or(Outcome::Undecided) }
    }

    /// Load over capacity, at least zero and at most what a bar can show; none without a capacity.
    pub(super) fn shown_share(&self) -> Option<f64> {
        let capacity = self.capacity_kg.filter(|capacity| *capacity > 0.0)?;
        Some((self.kg / capacity).clamp(0.0, LONGEST))
    }
}

/// A bar that hangs from the upper edge of `room`, whose height stands for the whole rating.
pub(super) fn hanging(shapes: &mut Vec<Shape>, load: &Load, room: Area, thing: Thing) {
    let thing = Some(thing);
    if let Some(share) = load.shown_share() {
        let across = (room.least.across_mm, room.most.across_mm);
        let up = (room.most.up_mm - share * room.height_mm(), room.most.up_mm);
        let form = Form::Box(Area::spanning(across, up));
        shapes.push(Shape { form, role: Role::LoadBar(load.outcome), thing });
        let reach = room.width_mm() * 0.2;
        let from = Point::new(across.0 - reach, room.least.up_mm);
        let tick = Form::Line(from, Point::new(across.1 + reach, room.least.up_mm));
        shapes.push(Shape { form: tick, role: Role::RatingTick, thing });
    }
    shapes.push(Shape { form: Form::Frame(room), role: Role::LoadRoom(load.outcome), thing });
}

/// A bar that grows rightward from the left edge of `room`, whose width stands for the whole rating.
pub(super) fn lying(shapes: &mut Vec<Shape>, load: &Load, room: Area, thing: Thing) {
    let thing = Some(thing);
    if let Some(share) = load.shown_share() {
        let across = (room.least.across_mm, room.least.across_mm + share * room.width_mm());
        let form = Form::Box(Area::spanning(across, (room.least.up_mm, room.most.up_mm)));
        shapes.push(Shape { form, role: Role::LoadBar(load.outcome), thing });
        let reach = room.height_mm() * 0.2;
        let from = Point::new(room.most.across_mm, room.least.up_mm - reach);
        let tick = Form::Line(from, Point::new(room.most.across_mm, room.most.up_mm + reach));
        shapes.push(Shape { form: tick, role: Role::RatingTick, thing });
    }
    shapes.push(Shape { form: Form::Frame(room), role: Role::LoadRoom(load.outcome), thing });
}

/// A line across the bar in `room` at another load: that on springs beside the level one.
pub(super) fn second_mark(shapes: &mut Vec<Shape>, load: &Load, room: Area, thing: Thing) {
    mark_across(shapes, load, (room, Role::SpringsMark(load.outcome)), thing);
}

/// A line with a role across the bar in `room` at another load.
pub(super) fn mark_across(shapes: &mut Vec<Shape>, load: &Load, (room, role): (Area, Role), thing: Thing) {
    let Some(share) = load.shown_share() else { return };
    let (up, reach) = (room.most.up_mm - share * room.height_mm(), room.width_mm() * 0.35);
    let form =
        Form::Line(Point::new(room.least.across_mm - reach, up), Point::new(room.most.across_mm + reach, up));
    shapes.push(Shape { form, role, thing: Some(thing) });
}

/// A line with end marks along the bar in `room`, from the load less `band_kg` to the load and `band_kg`.
pub(super) fn whisker(shapes: &mut Vec<Shape>, load: &Load, band_kg: f64, room: Area, thing: Thing) {
    let at = |kg: f64| Load { kg, ..*load }.shown_share();
    let (Some(low), Some(high)) = (at(load.kg - band_kg), at(load.kg + band_kg)) else { return };
    let [low, high] = [low, high].map(|share| room.most.up_mm - share * room.height_mm());
    let (middle, reach) = (room.middle().across_mm, room.width_mm() * 0.2);
    let mut push = |from: Point, to: Point| {
        shapes.push(Shape { form: Form::Line(from, to), role: Role::ToleranceBand, thing: Some(thing) });
    };
    push(Point::new(middle, low), Point::new(middle, high));
    for up in [low, high] {
        push(Point::new(middle - reach, up), Point::new(middle + reach, up));
    }
}

/// The load in words at the middle of `room`.
pub(super) fn figure(load: &Load, room: Area, style: Style, thing: Thing) -> Shape {
    label(Quantity::mass(load.kg).show(style), room, (Role::Figure, TextSize::Small), Some(thing))
}

/// Words at the middle of `room`.
pub(super) fn label(words: String, room: Area, look: (Role, TextSize), thing: Option<Thing>) -> Shape {
    let (role, size) = look;
    let form = Form::Text { at: room.middle(), anchor: Anchor::Middle, words, size, room: Some(room) };
    Shape { form, role, thing }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(kg: f64, ratings: &[Option<f64>], outcome: Outcome, share: Option<f64>) {
        let load = Load::against(kg, ratings, 0.95);
        assert_eq!(load.outcome, outcome, "{kg} of {ratings:?}");
        match (load.shown_share(), share) {
            (Some(shown), Some(share)) => assert!((shown - share).abs() < 1.0e-12, "{shown}"),
            (shown, share) => assert_eq!(shown, share),
        }
    }

    #[test]
    fn a_load_is_judged_by_the_least_rating_and_undecided_where_one_is_missing() {
        check(9.0, &[Some(10.0), Some(20.0)], Outcome::Pass, Some(0.9));
        check(9.5, &[Some(20.0), Some(10.0)], Outcome::Near, Some(0.95));
        check(10.0, &[Some(10.0)], Outcome::Near, Some(1.0));
        check(10.1, &[Some(10.0)], Outcome::Fail, Some(1.01));
        check(9.0, &[Some(10.0), None], Outcome::Undecided, Some(0.9));
        check(11.0, &[Some(10.0), None], Outcome::Fail, Some(1.1));
        check(9.0, &[None, None], Outcome::Undecided, None);
    }

    #[test]
    fn a_bar_never_runs_out_of_the_picture() {
        check(99.0, &[Some(10.0)], Outcome::Fail, Some(LONGEST));
        check(-1.0, &[Some(10.0)], Outcome::Pass, Some(0.0));
    }
}
