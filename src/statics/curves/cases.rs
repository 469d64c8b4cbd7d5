//! Which curves are looked at, and where the train stands on them.

use super::Path;
use crate::model::{Curve, Route};

/// Distance between two places of the train on a curve that are looked at, in m.
const STEP_M: f64 = 1.0;

/// The most places of the train on one curve.
const MOST_PLACES: usize = 2_000;

/// What part of a curve the train is on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum CurveKind {
    /// All of the train within the arc.
    Steady,
    /// The front part of the train in the arc, the rear on the straight, with the transition between.
    FrontIn,
    /// The rear part in the arc, the front on the straight.
    RearIn,
    /// An arc shorter than the train, with its transitions, anywhere under the train.
    Through,
    /// A reverse curve, its straight anywhere under the train.
    Reverse,
}

/// Which way a curve turns, facing the front of the train.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Turn {
    /// The inside is to the right (of a reverse curve: under the front of the train).
    Right,
    /// The inside is to the left.
    Left,
}

/// A curve of the route and how the train is on it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CurveCase {
    /// Index into `route.curves`; none: the route's reverse curve.
    pub curve: Option<usize>,
    /// What part of it.
    pub kind: CurveKind,
    /// Which way it turns.
    pub turn: Turn,
    /// Its radius in m.
    pub radius_m: f64,
    /// The transition (of a reverse curve: the straight between the arcs) in m.
    pub between_m: f64,
    /// The arc between its transitions in m; none: longer than the train.
    pub arc_m: Option<f64>,
}

impl CurveCase {
    /// The steady cases of a route, one per curve.
    pub(super) fn steady(route: &Route) -> Vec<Self> {
        let curves = route.curves.iter().enumerate();
        curves.map(|(index, curve)| Self::on(index, *curve, CurveKind::Steady)).collect()
    }

    /// The cases of a route in which the train is on more than one arc: in and out of each curve, and the
    /// reverse curve.
    pub(super) fn sweeps(route: &Route, train_m: f64) -> Vec<Self> {
        let mut cases = Vec::new();
        for (index, curve) in route.curves.iter().enumerate() {
            if curve.arc_m.is_some_and(|arc_m| arc_m < train_m) {
                cases.push(Self::on(index, *curve, CurveKind::Through));
            } else {
                cases.extend(
                    [CurveKind::FrontIn, CurveKind::RearIn].map(|kind| Self::on(index, *curve, kind)),
                );
            }
        }
        cases.extend(route.s_curve.map(|s_curve| Self {
            curve: None,
            kind: CurveKind::Reverse,
            turn: Turn::Right,
            radius_m: s_curve.radius_m,
            between_m: s_curve.straight_m,
            arc_m: None,
        }));
        cases
    }

    fn on(index: usize, curve: Curve, kind: CurveKind) -> Self {
        let Curve { radius_m, transition_m, arc_m, .. } = curve;
        Self { curve: Some(index), kind, turn: Turn::Right, radius_m, between_m: transition_m, arc_m }
    }

    /// The same curve turning the other way.
    pub(super) fn turned(self) -> Self {
        Self { turn: Turn::Left, ..self }
    }

    /// The places of a train of `train_m` to look at: x of the arc's beginning (of a reverse curve: of the
    /// middle of its straight) in m.
    pub fn places_m(&self, train_m: f64) -> Vec<f64> {
        let between_m = self.between_m;
        let (first_m, last_m) = match self.kind {
            CurveKind::Steady => return vec![0.0],
            CurveKind::FrontIn => (-between_m, train_m),
            CurveKind::RearIn => (0.0, train_m + between_m),
            CurveKind::Through => (-2.0 * between_m - self.arc_m.unwrap_or_default(), train_m),
            CurveKind::Reverse => (-between_m / 2.0, train_m + between_m / 2.0),
        };
        let steps = (((last_m - first_m) / STEP_M).ceil().max(1.0) as usize).min(MOST_PLACES);
        let step_m = (last_m - first_m) / steps as f64;
        (0..=steps).map(|step| first_m + step_m * step as f64).collect()
    }

    /// The track under the train where it stands at `place_m` of [`places_m`](Self::places_m).
    pub fn path(&self, place_m: f64) -> Path {
        let in_arc = match self.turn {
            Turn::Right => 1.0 / self.radius_m,
            Turn::Left => -1.0 / self.radius_m,
        };
        let between_m = self.between_m;
        match self.kind {
            CurveKind::Steady => Path::steady(in_arc),
            CurveKind::FrontIn => Path::of(&[(place_m, in_arc), (place_m + between_m, 0.0)]),
            CurveKind::RearIn => Path::of(&[(place_m - between_m, 0.0), (place_m, in_arc)]),
            CurveKind::Through => {
                let (begins_m, arc_m) = (place_m + between_m, self.arc_m.unwrap_or_default());
                Path::of(&[
                    (place_m, 0.0),
                    (begins_m, in_arc),
                    (begins_m + arc_m, in_arc),
                    (begins_m + arc_m + between_m, 0.0),
                ])
            }
            CurveKind::Reverse => {
                let (from_m, to_m) = (place_m - between_m / 2.0, place_m + between_m / 2.0);
                Path::of(&[(from_m, in_arc), (from_m, 0.0), (to_m, 0.0), (to_m, -in_arc)])
            }
        }
    }

    /// What a reader calls the case, such as `entering curve 1 with its front`.
    pub fn title(&self) -> String {
        let name =
            self.curve.map_or_else(|| "the reverse curve".to_owned(), |at| format!("curve {}", at + 1));
        match self.kind {
            CurveKind::Steady => format!("all in {name}"),
            CurveKind::FrontIn => format!("front part in {name}"),
            CurveKind::RearIn => format!("rear part in {name}"),
            CurveKind::Through => format!("passing {name}"),
            CurveKind::Reverse => format!("in {name}"),
        }
    }
}
