//! Records: accepted findings, what was really loaded, weighings, signatures.

use super::{Hold, StringMark, VehicleMark};
use crate::units::Length;

/// A finding that somebody accepted, identified by check and things, not by its text.
#[derive(Clone, Debug, PartialEq)]
pub struct Acceptance {
    /// The check's id.
    pub check: String,
    /// The things it concerns, as the finding names them.
    pub things: Vec<String>,
    /// Who accepted it.
    pub by: String,
    /// Why.
    pub why: String,
    /// When, as written.
    pub at: String,
    /// What the finding said then; none: not recorded, and then it holds for whatever the finding says.
    pub found: Option<Found>,
}

/// What a finding said when it was accepted.
///
/// Nobody accepted anything worse: an acceptance covers its finding only while that is no worse than this.
#[derive(Clone, Debug, PartialEq)]
pub enum Found {
    /// Demand and capacity, in the SI unit of what the check compares.
    Figures {
        /// What was.
        demand: f64,
        /// What might have been.
        capacity: f64,
    },
    /// The words of a finding that compares nothing, in metric units and with a decimal point.
    Words(String),
}

/// Where one string was really put; at most one record per string.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct AsLoaded {
    /// The string.
    pub string: StringMark,
    /// Tier, from 1.
    pub tier: u32,
    /// Lane, from 1.
    pub lane: u32,
    /// x of its front end.
    pub front: Length,
    /// Where it is held.
    pub holds: Vec<Hold>,
    /// Whether it was looked for there and is not on the train at all.
    pub missing: bool,
    /// Who saw it.
    pub by: String,
    /// When, as written.
    pub at: String,
}

/// What a scale read.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum WeighedPart {
    /// The whole vehicle.
    Vehicle,
    /// One axle, from 1 at the front as it stands.
    Axle(u32),
    /// The left wheel of an axle.
    LeftWheel(u32),
    /// The right wheel of an axle.
    RightWheel(u32),
}

/// One reading of a scale.
#[derive(Clone, Debug, PartialEq)]
pub struct Weighing {
    /// The vehicle.
    pub vehicle: VehicleMark,
    /// The part.
    pub part: WeighedPart,
    /// The reading in kg.
    pub kg: f64,
    /// The scale's tolerance, both ways, as a share of the reading, above zero; none: the reading is compared
    /// but not judged.
    pub tolerance: Option<f64>,
    /// Who read it.
    pub by: String,
    /// When, as written.
    pub at: String,
}

/// A sign-off.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Signature {
    /// Who signed.
    pub by: String,
    /// When, as written.
    pub at: String,
    /// Hash of what was signed: of the whole plan but for its signatures.
    pub hash: String,
}
