//! Where everything fixed to the train stands: vehicles, supports, racks, stops, in train coordinates.

use crate::model::{Plan, VehicleKind};
use crate::units::Length;
use std::ops::Range;

/// The train laid out straight.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Consist {
    /// Vehicles from the front.
    pub vehicles: Vec<VehiclePlace>,
    /// All racks from the front; those of one vehicle stand together.
    pub racks: Vec<RackPlace>,
    /// x of fixed stops, growing.
    pub end_stops: Vec<Length>,
    /// Length over buffers of the whole train.
    pub length: Length,
}

/// One vehicle in the train.
#[derive(Clone, Debug, PartialEq)]
pub struct VehiclePlace {
    /// Index into `plan.train.vehicles`; equal to its own index.
    pub vehicle: usize,
    /// Index into `plan.train.vehicle_types`.
    pub vehicle_type: usize,
    /// Engine, wagon or idler.
    pub kind: VehicleKind,
    /// x of its front buffer face.
    pub front: Length,
    /// x of its rear buffer face.
    pub rear: Length,
    /// x of its middle in m.
    pub middle_m: f64,
    /// Between its two supports (bogie pivots, or axles of a two-axle vehicle) in m.
    pub support_distance_m: f64,
    /// Axles under each support.
    pub axles_per_support: u32,
    /// x of each axle in m, from the front.
    pub axles_m: Vec<f64>,
    /// Between the wheels' contact points in m.
    pub contact_m: f64,
    /// Tare on the front and rear support as it stands, in kg.
    pub tare_kg: [f64; 2],
    /// Sideways place of the tare's centre as it stands, in m.
    pub tare_y_m: f64,
    /// Its racks, as a range of [`Consist::racks`].
    pub racks: Range<usize>,
}

/// One rack in the train.
#[derive(Clone, Debug, PartialEq)]
pub struct RackPlace {
    /// Index of its vehicle.
    pub vehicle: usize,
    /// Its number on the vehicle, from 1 at the front as it stands.
    pub number: u32,
    /// Index into `plan.train.rack_types`.
    pub rack_type: usize,
    /// x in the train.
    pub x: Length,
    /// From its vehicle's middle in m, positive rearward as it stands.
    pub from_middle_m: f64,
    /// y of each lane in m, from the left as it stands.
    pub lanes_y_m: Vec<f64>,
}

impl Consist {
    /// Lays out the plan's train.
    pub fn of(_plan: &Plan) -> Self {
        Self::default()
    }

    /// The racks whose x lies within `front..=rear`.
    pub fn racks_between(&self, front: Length, rear: Length) -> Range<usize> {
        let first = self.racks.partition_point(|rack| rack.x < front);
        let end = self.racks.partition_point(|rack| rack.x <= rear);
        first..end.max(first)
    }
}
