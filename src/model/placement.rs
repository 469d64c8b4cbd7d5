//! Where a string lies on the train and where it is held.

use super::{StringMark, VehicleMark};
use crate::units::Length;

/// A rack of the train: the vehicle, and the rack's number from the vehicle's front end as it stands.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct RackRef {
    /// The vehicle's mark.
    pub vehicle: VehicleMark,
    /// From 1, counted from the front as the vehicle stands (a turned vehicle counts from its other end).
    pub rack: u32,
}

/// Where a string is held lengthwise.
pub type Hold = RackRef;

/// The racks that a string is meant to rest on, from first to last.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct RackSpan {
    /// The foremost rack.
    pub first: RackRef,
    /// The rearmost rack.
    pub last: RackRef,
}

/// Where one string lies.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Placement {
    /// The string, one of the order's.
    pub string: StringMark,
    /// Tier, from 1 at the bottom.
    pub tier: u32,
    /// Lane, from 1 at the left facing the front.
    pub lane: u32,
    /// x of the string's front end in the train.
    pub front: Length,
    /// Where it is held; a sound plan has exactly one.
    pub holds: Vec<Hold>,
    /// The racks that it is meant to rest on, where the planner says so.
    pub rests_on: Option<RackSpan>,
    /// Whether proposals and tools must leave it where it is.
    pub locked: bool,
}
