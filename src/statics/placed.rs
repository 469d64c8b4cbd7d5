//! One placement worked out: the racks it crosses, its beam, what it puts on each rack.

use super::{BeamError, BeamFigures};
use crate::units::Length;
use std::ops::Range;

/// Why a placement has no beam figures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Trouble {
    /// The beam itself: no support, or it tips.
    Beam(BeamError),
    /// A rack it crosses has no such tier or lane (index of the first such rack).
    NoPocket {
        /// Index into [`Consist::racks`](super::Consist::racks).
        rack: usize,
    },
}

/// A placement worked out by the level rigid model; it does not depend on what else is on the train.
#[derive(Clone, Debug, PartialEq)]
pub struct PlacedString {
    /// Index into `plan.placements`; equal to its own index.
    pub placement: usize,
    /// Index into `plan.order`.
    pub string: usize,
    /// Index into `plan.sections`.
    pub section: usize,
    /// x of the front end.
    pub front: Length,
    /// x of the rear end.
    pub rear: Length,
    /// Mass that the plan goes by, in kg (stated where stated, else computed).
    pub mass_kg: f64,
    /// Computed mass in kg.
    pub computed_mass_kg: f64,
    /// Racks it crosses, as a range of [`Consist::racks`](super::Consist::racks).
    pub racks: Range<usize>,
    /// y at each crossed rack in m (empty where a rack has no such lane).
    pub y_m: Vec<f64>,
    /// Height of its seat above the rail at each crossed rack in m; none where no deck height is entered.
    pub seat_m: Vec<Option<f64>>,
    /// Mass that each crossed rack carries of it, in kg; empty with trouble.
    pub carried_kg: Vec<f64>,
    /// Its beam figures.
    pub beam: Result<BeamFigures, Trouble>,
}
