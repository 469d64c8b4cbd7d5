//! The route: line class, curves, cant, gauge, and what the plan asks to be judged.

use super::{Source, TrainEnd};
use crate::units::Length;

/// A line class: what the track bears.
#[derive(Clone, Debug, PartialEq)]
pub struct LineClass {
    /// Its name, such as `D4`.
    pub name: String,
    /// Most mass per axle in kg.
    pub axle_kg: f64,
    /// Most mass per length in kg/m; none: the class does not limit it.
    pub mass_per_metre_kg: Option<f64>,
    /// Where it comes from.
    pub source: Source,
}

/// A curve of the route.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Curve {
    /// Radius in m, above zero.
    pub radius_m: f64,
    /// Length of the arc in m; none: longer than the train.
    pub arc_m: Option<f64>,
    /// Length of the transition in m; 0 for none.
    pub transition_m: f64,
    /// Cant in mm; the curve may turn either way, and both are judged.
    pub cant_mm: Option<f64>,
    /// Speed through it in km/h.
    pub speed_kmh: Option<f64>,
}

/// A reverse curve.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SCurve {
    /// Radius of both arcs in m, above zero.
    pub radius_m: f64,
    /// Straight between the arcs in m, 0 or above.
    pub straight_m: f64,
}

/// A reference line that the load must stay within: half-width y at height z, in mm, from the bottom up.
#[derive(Clone, Debug, PartialEq)]
pub struct GaugeLine {
    /// Its name.
    pub name: String,
    /// (half-width, height) in mm, heights never falling.
    pub points_mm: Vec<(f64, f64)>,
    /// What the line allows beyond it in curves: (radius in m, inside in mm, outside in mm), radii falling.
    pub allowed_mm: Vec<(f64, f64, f64)>,
    /// Where it comes from.
    pub source: Source,
}

/// A set of securing accelerations in g.
#[derive(Clone, Debug, PartialEq)]
pub struct Accelerations {
    /// Its name.
    pub name: String,
    /// Lengthwise.
    pub longitudinal_g: f64,
    /// Sideways.
    pub lateral_g: f64,
    /// Vertical, as a share of g.
    pub vertical_g: f64,
    /// Speed change of one impact in m/s.
    pub impact_m_per_s: Option<f64>,
    /// Where they come from.
    pub source: Source,
}

/// Speeds at which strings are fed, in m/s.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FeedSpeeds {
    /// While loading.
    pub loading_m_per_s: Option<f64>,
    /// While unloading.
    pub unloading_m_per_s: Option<f64>,
}

/// A part of the route hauled in one direction.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Leg {
    /// From where to where, in words.
    pub name: String,
    /// The end that leads.
    pub leading: TrainEnd,
}

/// A group of checks that a plan may ask for; level statics, balance, support, overhang, holding and access always are.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Topic {
    /// Mass and length of the whole train.
    TrainTotals,
    /// The train on springs.
    Springs,
    /// Bending and forces in curves.
    Curves,
    /// Creep of the ends.
    Creep,
    /// Forces at the holds.
    HoldForces,
    /// Load gauge.
    Gauge,
    /// Cant and speed.
    Cant,
    /// Stress while unloading, and times.
    Unloading,
    /// Braked weight.
    Braking,
    /// Tolerance bands.
    Tolerances,
}

impl Topic {
    /// All topics, in the order of files and lists.
    pub const ALL: [Self; 10] = [
        Self::TrainTotals,
        Self::Springs,
        Self::Curves,
        Self::Creep,
        Self::HoldForces,
        Self::Gauge,
        Self::Cant,
        Self::Unloading,
        Self::Braking,
        Self::Tolerances,
    ];
}

/// The route and its conditions.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Route {
    /// The line class; none: undecided.
    pub line_class: Option<LineClass>,
    /// Curves to judge.
    pub curves: Vec<Curve>,
    /// A reverse curve to judge.
    pub s_curve: Option<SCurve>,
    /// Greatest cant on which the train may stand, in mm.
    pub greatest_cant_mm: Option<f64>,
    /// Greatest speed in km/h.
    pub speed_kmh: Option<f64>,
    /// Greatest cant deficiency in mm.
    pub cant_deficiency_mm: Option<f64>,
    /// The reference line.
    pub gauge: Option<GaugeLine>,
    /// Whether the train may be humped or fly-shunted; none: not entered.
    pub humped: Option<bool>,
    /// The securing accelerations.
    pub accelerations: Option<Accelerations>,
    /// The train's own braking deceleration in m/s2.
    pub braking_m_per_s2: Option<f64>,
    /// The train's own buffing deceleration in m/s2.
    pub buffing_m_per_s2: Option<f64>,
    /// Difference in temperature of strings against wagon frames in K, both ways.
    pub temperature_range_k: Option<f64>,
    /// Rack height tolerance in mm, both ways.
    pub rack_height_tolerance_mm: Option<f64>,
    /// Mass tolerance as a share, both ways.
    pub mass_tolerance: Option<f64>,
    /// Wagon height tolerance, both ways.
    pub wagon_height_tolerance: Option<Length>,
    /// Feeding speeds.
    pub feed: Option<FeedSpeeds>,
    /// Legs, in order.
    pub legs: Vec<Leg>,
    /// What is asked to be judged beyond what always is.
    pub asked: Vec<Topic>,
}
