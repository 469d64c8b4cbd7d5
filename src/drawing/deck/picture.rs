//! The deck plan as one picture.

use super::{ASSUMED_FOOT_MM, Deck, Tiers, Track};
use crate::drawing::bars::label;
use crate::drawing::vehicles::mm;
use crate::drawing::{Area, Form, Picture, Point, Role, Shape, TextSize};
use crate::model::BeyondKind;
use crate::statics::curves::CurveGap;
use crate::units::{Quantity, Style};
use std::collections::BTreeSet;

/// Share of the picture's width that its height should be, widths exaggerated.
const SHAPE: f64 = 0.25;
/// Length of the arrow at the front: at least so many mm, and this share of the train.
const ARROW: (f64, f64) = (1_000.0, 0.01);
/// Height of the words at both sides in mm.
const WORDS_MM: f64 = 300.0;

impl Deck<'_> {
    /// The train in a state from above, front end at the left, right side up.
    ///
    /// Across is x along the track, up is y to the right of the track's centre, both true; on a curve the track is
    /// drawn straight, and bodies, strings and creep as they stand and bend beside it. Bodies and couplings are only
    /// indicated. Beside each axle its wheel loads as bars outward against the wheel rating, under the worse
    /// assumption on the sideways moment; in a state that the figures did not work out they are missing.
    pub fn picture(&self, state: usize, style: Style) -> Picture {
        let mut shapes = Vec::with_capacity(128 + 60 * self.figures.consist.vehicles.len());
        self.ground_shapes(&mut shapes, state);
        self.stop_shapes(&mut shapes);
        self.wheel_shapes(&mut shapes, state, style);
        for placed in self.figures.present(state).filter(|placed| self.shows(placed)) {
            self.string_shapes(&mut shapes, placed);
            self.creep_shapes(&mut shapes, placed);
            self.swing_shapes(&mut shapes, placed, style);
        }
        self.gauge_shapes(&mut shapes);
        self.direction_shapes(&mut shapes);
        let mut picture = Picture::of(shapes);
        let (width, height) = (picture.bounds.width_mm(), picture.bounds.height_mm());
        picture.vertical_exaggeration = if height > 0.0 { (SHAPE * width / height).max(1.0) } else { 1.0 };
        picture.assumed = self.assumed(state, style);
        picture
    }

    /// Fixed stops, and what stands beyond the train's ends.
    fn stop_shapes(&self, shapes: &mut Vec<Shape>) {
        let half = self.half_mm(None);
        let mut push = |form| shapes.push(Shape { form, role: Role::EndStop, thing: None });
        let across =
            |x: f64, middle: f64| Form::Line(Point::new(x, middle - half), Point::new(x, middle + half));
        let consist = &self.figures.consist;
        for stop in &consist.end_stops {
            let under = consist.vehicle_at(stop.m()).unwrap_or_default();
            push(across(mm(*stop), self.body_mm(under, mm(*stop))));
        }
        let (train, length) = (&self.figures.plan.train, mm(consist.length));
        let ends = [(train.front_beyond, 0.0, -1.0), (train.rear_beyond, length, 1.0)];
        for (beyond, face, outward) in ends {
            let x = face + outward * mm(beyond.distance);
            match beyond.kind {
                BeyondKind::Nothing => {}
                BeyondKind::EndStop => push(across(x, 0.0)),
                BeyondKind::Vehicle => {
                    push(Form::Box(Area::spanning((x, x + outward * 1_200.0), (-half, half))));
                }
            }
        }
    }

    /// An arrow at the front end, and which side is which.
    fn direction_shapes(&self, shapes: &mut Vec<Shape>) {
        let length = mm(self.figures.consist.length);
        if length <= 0.0 {
            return;
        }
        let (long, half) = ((length * ARROW.1).max(ARROW.0), self.half_mm(None) / 8.0);
        let tip = -length * 0.004 - 200.0 - long;
        let points = vec![Point::new(tip, 0.0), Point::new(tip + long, -half), Point::new(tip + long, half)];
        shapes.push(Shape { form: Form::Outline(points), role: Role::Label, thing: None });
        let outer = self.outer_mm() + super::wheels::ROOM_MM;
        let inside = match self.look.track {
            Track::Straight => 0.0,
            curve => curve.curvature_per_m().signum(),
        };
        for (side, name) in [(1.0, "right side"), (-1.0, "left side")] {
            let curve = match inside * side {
                toward if toward > 0.0 => ", inside of the curve",
                away if away < 0.0 => ", outside of the curve",
                _ => "",
            };
            let up = (side * outer, side * (outer + WORDS_MM));
            let room = Area::spanning((0.0, length), up);
            shapes.push(label(format!("{name}{curve}"), room, (Role::Label, TextSize::Small), None));
        }
    }

    fn assumed(&self, state: usize, style: Style) -> Vec<String> {
        let plan = &self.figures.plan;
        let mut words = BTreeSet::new();
        for placed in self.figures.present(state).filter(|placed| self.shows(placed)) {
            let Some(section) = plan.sections.get(placed.section) else { continue };
            if section.foot_mm.is_none() && self.look.tiers != Tiers::All {
                let drawn = Quantity::small_length_m(ASSUMED_FOOT_MM / 1000.0).show(style);
                words.insert(format!(
                    "The foot of {} is not entered; it is drawn {drawn} wide.",
                    section.name
                ));
            }
            let why = match self.laid.gap(placed) {
                Some(CurveGap::NoStiffness(_)) => {
                    format!("{} has no second moment of area about its vertical axis", section.name)
                }
                Some(CurveGap::NoPlay(kind)) => {
                    let name = plan.train.rack_types.get(kind).map(|kind| kind.name.to_string());
                    format!("{} has no side play entered", name.unwrap_or_default())
                }
                Some(CurveGap::NotOnRacks) | None => continue,
            };
            if !self.is_straight() {
                words.insert(format!("{why}; its strings are drawn straight from lane to lane."));
            }
        }
        words.into_iter().collect()
    }
}
