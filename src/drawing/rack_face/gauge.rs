//! The gauge on a rack face: its reference line, what of the load reaches beyond it, and the least that is left.

use super::{Face, LEFT_MM};
use crate::drawing::{Anchor, Form, Point, Role, Shape, TextSize, Thing};
use crate::model::TrackSide;
use crate::statics::gauge::{GaugeFigures, Outline, Reach, tilt_of};
use crate::units::{Quantity, Style};

impl Face<'_> {
    /// The line of the plan, where it has one, and the load at this rack against it.
    pub(super) fn gauge_shapes(&self, shapes: &mut Vec<Shape>, state: usize, style: Style) {
        let Some(line) = &self.figures.plan.route.gauge else { return };
        let right = line.points_mm.iter().map(|(half, up)| Point::new(*half, *up));
        let left = line.points_mm.iter().rev().map(|(half, up)| Point::new(-half, *up));
        let form = Form::Path(right.chain(left).collect());
        shapes.push(Shape { form, role: Role::GaugeLine, thing: None });
        let gauge = GaugeFigures::at_rack(self.figures, self.rack);
        let present = gauge.outlines.iter().filter(|outline| self.is_present(outline, state));
        let lean = self.lean(state);
        let mut least: Option<(f64, &Outline)> = None;
        for outline in present {
            for side in [TrackSide::Left, TrackSide::Right] {
                let reaches = outline.reaches(side, lean);
                let left_m = reaches.iter().map(|reach| reach.left_m()).fold(f64::INFINITY, f64::min);
                if least.is_none_or(|(least_m, _)| left_m < least_m) {
                    least = Some((left_m, outline));
                }
                let form = Form::Outline(beyond(&reaches, side));
                if left_m < 0.0 {
                    shapes.push(Shape { form, role: Role::OutOfGauge, thing: self.string_of(outline) });
                }
            }
        }
        let words = match least {
            Some((left_m, outline)) => self.left_words(left_m, outline, style),
            None if gauge.gaps.is_empty() => "no load here".to_owned(),
            None => "load's reach not known".to_owned(),
        };
        let at = Point::new(0.0, self.top_mm() + LEFT_MM);
        let words = format!("gauge {}: {words}", line.name);
        let form = Form::Text { at, anchor: Anchor::Middle, words, size: TextSize::Small, room: None };
        shapes.push(Shape { form, role: Role::Figure, thing: None });
    }

    /// How the body leans in this state: rad, right down positive, and the height of the springs in m; upright where
    /// no springs are entered.
    fn lean(&self, state: usize) -> (f64, f64) {
        let loads = self.figures.state(state);
        loads.and_then(|loads| tilt_of(self.figures, loads, self.place.vehicle)).unwrap_or_default()
    }

    fn is_present(&self, outline: &Outline, state: usize) -> bool {
        self.figures.present(state).any(|placed| placed.placement == outline.placement)
    }

    fn string_of(&self, outline: &Outline) -> Option<Thing> {
        let placed = self.figures.placed.iter().find(|placed| placed.placement == outline.placement)?;
        Some(Thing::String(placed.string))
    }

    /// What is left to the line, or how far the load reaches beyond it, and by which string.
    fn left_words(&self, left_m: f64, outline: &Outline, style: Style) -> String {
        let mark = self.figures.plan.placements.get(outline.placement).map(|placement| &placement.string);
        let mark = mark.map_or_else(String::new, ToString::to_string);
        let size = Quantity::small_length_m(left_m.abs()).show(style);
        if left_m < 0.0 {
            return format!("{mark} {size} beyond");
        }
        format!("{size} left at {mark}")
    }
}

/// What lies between the line and what reaches beyond it, from the lowest level up and back along the line.
fn beyond(reaches: &[Reach], side: TrackSide) -> Vec<Point> {
    let outward = if side == TrackSide::Right { 1000.0 } else { -1000.0 };
    let mut levels: Vec<Reach> = Vec::with_capacity(reaches.len() + 1);
    for reach in reaches {
        if let Some(below) = levels.last().filter(|below| (below.left_m() < 0.0) != (reach.left_m() < 0.0)) {
            levels.push(crossing(below, reach));
        }
        levels.push(*reach);
    }
    let within = levels.iter().filter(|level| level.left_m() <= 0.0);
    let outer = within.clone().map(|level| Point::new(level.reach_m * outward, level.height_m * 1000.0));
    let inner = within.rev().map(|level| Point::new(level.line_m * outward, level.height_m * 1000.0));
    outer.chain(inner).collect()
}

/// Where, between two levels on different sides of the line, the load comes to the line.
fn crossing(below: &Reach, above: &Reach) -> Reach {
    let share = below.left_m() / (below.left_m() - above.left_m());
    let between = |from: f64, to: f64| from + share * (to - from);
    let line_m = between(below.line_m, above.line_m);
    Reach { reach_m: line_m, line_m, height_m: between(below.height_m, above.height_m) }
}
