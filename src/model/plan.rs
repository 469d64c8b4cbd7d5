//! The root of the document.

use super::{
    Acceptance, AsLoaded, Drop, DropName, Limits, OrderTable, OrderedString, Placement, RackType,
    RackTypeName, RailSection, Route, SectionName, Signature, Steel, SteelName, StringMark, Train,
    VehicleType, VehicleTypeName, Weighing,
};
use crate::units::UnitSystem;

/// A plan: train, order, placements, drops, route, limits and records.
///
/// A plan that was read from a file or changed through an edit has no [`problems`](super::problems):
/// names are unique, references resolve, numbers are finite and signs make sense.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// Its title.
    pub title: String,
    /// Notes.
    pub notes: String,
    /// The units that it is shown and reported in.
    pub units: UnitSystem,
    /// The train.
    pub train: Train,
    /// Rail sections used.
    pub sections: Vec<RailSection>,
    /// Steels used.
    pub steels: Vec<Steel>,
    /// The order.
    pub order: Vec<OrderedString>,
    /// How the table that the order comes in was matched.
    pub order_table: OrderTable,
    /// Where strings lie.
    pub placements: Vec<Placement>,
    /// Drops in order.
    pub drops: Vec<Drop>,
    /// The route.
    pub route: Route,
    /// The limits.
    pub limits: Limits,
    /// Accepted findings.
    pub accepted: Vec<Acceptance>,
    /// What was really loaded.
    pub as_loaded: Vec<AsLoaded>,
    /// Readings of scales.
    pub weighings: Vec<Weighing>,
    /// Sign-offs.
    pub signatures: Vec<Signature>,
}

impl Plan {
    /// The ordered string with `mark`.
    pub fn string(&self, mark: &StringMark) -> Option<&OrderedString> {
        self.order.iter().find(|string| string.mark == *mark)
    }

    /// The first placement of the string with `mark`.
    pub fn placement(&self, mark: &StringMark) -> Option<&Placement> {
        self.placements.iter().find(|placement| placement.string == *mark)
    }

    /// What was recorded of the string with `mark` as loaded.
    pub fn record(&self, mark: &StringMark) -> Option<&AsLoaded> {
        self.as_loaded.iter().find(|record| record.string == *mark)
    }

    /// The section called `name`.
    pub fn section(&self, name: &SectionName) -> Option<&RailSection> {
        self.sections.iter().find(|section| section.name == *name)
    }

    /// The steel called `name`.
    pub fn steel(&self, name: &SteelName) -> Option<&Steel> {
        self.steels.iter().find(|steel| steel.name == *name)
    }

    /// What an axle of a vehicle of `kind` may weigh in kg: by the vehicle's rating, and by the route's line class.
    pub fn axle_ratings_kg(&self, kind: &VehicleType) -> [Option<f64>; 2] {
        [kind.axle_rating_kg, self.route.line_class.as_ref().map(|class| class.axle_kg)]
    }

    /// The lower of what the vehicle and what the line bears in kg; where one of the two is not entered, the other,
    /// which a load may break but not keep: that is undecided then.
    pub fn least_axle_rating_kg(&self, kind: &VehicleType) -> Option<f64> {
        self.axle_ratings_kg(kind).into_iter().flatten().reduce(f64::min)
    }

    /// The vehicle type called `name`.
    pub fn vehicle_type(&self, name: &VehicleTypeName) -> Option<&VehicleType> {
        self.train.vehicle_types.iter().find(|kind| kind.name == *name)
    }

    /// The rack type called `name`.
    pub fn rack_type(&self, name: &RackTypeName) -> Option<&RackType> {
        self.train.rack_types.iter().find(|kind| kind.name == *name)
    }

    /// The drop called `name`.
    pub fn drop_named(&self, name: &DropName) -> Option<&Drop> {
        self.drops.iter().find(|drop| drop.name == *name)
    }
}
