//! The order: the strings that the sites want, or give back.

use super::{DropName, SectionName, SteelName, StringMark};
use crate::units::Length;

/// A side of the track or train, facing the front end.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum TrackSide {
    /// Left, y below zero.
    Left,
    /// Right, y above zero.
    Right,
}

/// How a stated mass was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum StatedBasis {
    /// On a scale.
    Weighed,
    /// Copied from a document.
    Document,
}

/// The mass that the plan goes by for a string.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum MassEntry {
    /// Length times the section's mass per length.
    Computed,
    /// As stated, in kg; spread evenly along the string; checked against the computed one.
    Stated {
        /// Mass in kg, above zero.
        kg: f64,
        /// How it was found.
        basis: StatedBasis,
    },
}

/// One string of the order.
#[derive(Clone, Debug, PartialEq)]
pub struct OrderedString {
    /// Its mark, unique in the order.
    pub mark: StringMark,
    /// Its section, one of the plan's.
    pub section: SectionName,
    /// Its steel, one of the plan's; none: stress limits are undecided and E is 210 GPa.
    pub steel: Option<SteelName>,
    /// Its length, above zero.
    pub length: Length,
    /// The side of the track that it is for.
    pub side: Option<TrackSide>,
    /// The drop that it is for (or, for old rail, comes from), one of the plan's.
    pub drop: Option<DropName>,
    /// Its mass.
    pub mass: MassEntry,
}

impl OrderedString {
    /// The longest string that can be meant.
    pub const LONGEST: Length = Length::from_mm(5_000_000);
    /// The most strings of one order.
    pub const MOST: usize = 2_000;
}
