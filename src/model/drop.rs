//! Drops: the places where strings leave the train, or come onto it, and in which order.

use super::{DropName, StringMark, TrainEnd};
use crate::units::Length;

/// Whether a step takes strings off the train or onto it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum StepKind {
    /// Off the train.
    Off,
    /// Onto the train (old rail comes back).
    On,
}

/// The strings that one step moves.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum StepStrings {
    /// A single string.
    One(StringMark),
    /// A declared pair, one for each side of the track.
    Pair {
        /// One of the two.
        first: StringMark,
        /// The other.
        second: StringMark,
        /// Whether the two leave (or come) at the same time: half-done states are then notes only.
        together: bool,
    },
}

impl StepStrings {
    /// The marks, one or two.
    pub fn marks(&self) -> impl Iterator<Item = &StringMark> {
        let (first, second) = match self {
            Self::One(mark) => (mark, None),
            Self::Pair { first, second, .. } => (first, Some(second)),
        };
        std::iter::once(first).chain(second)
    }
}

/// One step of a drop.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Step {
    /// Off or on.
    pub kind: StepKind,
    /// Which strings.
    pub strings: StepStrings,
    /// The end of the train over which they go; none: the drop's.
    pub toward: Option<TrainEnd>,
}

/// A site at which the train stops to give or take strings.
#[derive(Clone, Debug, PartialEq)]
pub struct Drop {
    /// Its name, unique in the plan.
    pub name: DropName,
    /// Where it is, in words.
    pub place: String,
    /// The end of the train over which strings go, unless a step says otherwise.
    pub toward: TrainEnd,
    /// Gap wanted between strings set down one after the other.
    pub gap_between: Option<Length>,
    /// Time of the possession in minutes.
    pub possession_min: Option<f64>,
    /// Handling time per step in minutes.
    pub handling_min: Option<f64>,
    /// Height of the chute's mouth or deck above the seat that strings are led to.
    pub chute_height: Option<Length>,
    /// Distance behind the last rack of a chute roller.
    pub chute_roller_behind: Option<Length>,
    /// How much lower than the last rack that roller is.
    pub chute_roller_lower: Option<Length>,
    /// Sideways distance from the lane to the seat.
    pub seat_offset: Option<Length>,
    /// Its steps in order.
    pub steps: Vec<Step>,
}
