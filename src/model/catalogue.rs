//! The catalogue: rows that a plan may copy. A newer catalogue never changes an old plan.

use super::{
    Accelerations, GaugeLine, Limit, LimitKind, LineClass, RackType, RailSection, Source, Steel, VehicleType,
};

/// A named set of limits, to be accepted as a whole or one by one.
#[derive(Clone, Debug, PartialEq)]
pub struct LimitSet {
    /// Its name.
    pub name: String,
    /// What it is for and whose it is.
    pub about: String,
    /// The limits; none of them is accepted yet.
    pub limits: Vec<(LimitKind, Limit)>,
}

/// A friction coefficient with its source.
#[derive(Clone, Debug, PartialEq)]
pub struct FrictionRow {
    /// The pair of surfaces.
    pub name: String,
    /// The coefficient, static.
    pub coefficient: f64,
    /// Where it comes from.
    pub source: Source,
}

/// All rows that ship with the program.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Catalogue {
    /// Rail sections.
    pub sections: Vec<RailSection>,
    /// Steels.
    pub steels: Vec<Steel>,
    /// Line classes.
    pub line_classes: Vec<LineClass>,
    /// Limit sets.
    pub limit_sets: Vec<LimitSet>,
    /// Acceleration sets.
    pub accelerations: Vec<Accelerations>,
    /// Friction coefficients.
    pub friction: Vec<FrictionRow>,
    /// Generic vehicle types.
    pub vehicle_types: Vec<VehicleType>,
    /// Generic rack types.
    pub rack_types: Vec<RackType>,
    /// Gauge reference lines.
    pub gauges: Vec<GaugeLine>,
}
