//! Where everything fixed to the train stands: vehicles, supports, racks, stops, in train coordinates.

use crate::model::{Plan, RackOnDeck, RackRef, RackType, RunningGear, Vehicle, VehicleKind, VehicleType};
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
    /// How much higher it stands than its type says, on the empty train, in m: its own offset and its vehicle's.
    /// The level model knows nothing of it.
    pub height_offset_m: f64,
}

impl Consist {
    /// Lays out the plan's train, which must have no [`problems`](crate::model::problems).
    ///
    /// The middle of a vehicle whose length is an odd number of millimetres is taken 0.5 mm toward the end
    /// that is its front before turning, so that all places are whole millimetres.
    pub fn of(plan: &Plan) -> Self {
        let mut consist = Self::default();
        for (index, vehicle) in plan.train.vehicles.iter().enumerate() {
            let types = &plan.train.vehicle_types;
            let Some(of_type) = types.iter().position(|kind| kind.name == vehicle.vehicle_type) else {
                continue;
            };
            consist.add(plan, index, of_type);
        }
        consist.end_stops.sort_unstable();
        consist
    }

    fn add(&mut self, plan: &Plan, index: usize, of_type: usize) {
        let (vehicle, kind) = (&plan.train.vehicles[index], &plan.train.vehicle_types[of_type]);
        let facing = Facing::of(vehicle);
        let (front, rear) = (self.length, self.length + kind.length);
        let half = Length::from_mm(kind.length.mm() / 2);
        let middle = if vehicle.turned { rear - half } else { front + half };
        let first_rack = self.racks.len();
        let mut racks: Vec<&RackOnDeck> = kind.racks.iter().collect();
        racks.sort_by_key(|rack| facing.along(rack.at));
        for (number, rack) in (1..).zip(racks) {
            let types = &plan.train.rack_types;
            let Some(rack_type) = types.iter().position(|kind| kind.name == rack.rack_type) else {
                continue;
            };
            self.racks.push(RackPlace {
                vehicle: index,
                number,
                rack_type,
                x: middle + facing.along(rack.at),
                from_middle_m: facing.along(rack.at).m(),
                lanes_y_m: facing.lanes_m(&types[rack_type]),
                height_offset_m: (rack.height_offset_mm + vehicle.height_offset_mm) / 1000.0,
            });
        }
        self.end_stops.extend(kind.end_stops.iter().map(|stop| middle + facing.along(stop.at)));
        self.vehicles.push(VehiclePlace {
            vehicle: index,
            vehicle_type: of_type,
            kind: kind.kind,
            front,
            rear,
            middle_m: middle.m(),
            support_distance_m: kind.gear.support_distance().m(),
            axles_per_support: kind.gear.axles_per_support(),
            axles_m: axles_m(kind.gear, middle),
            contact_m: kind.wheel_contact_mm / 1000.0,
            tare_kg: facing.tare_kg(vehicle, kind),
            tare_y_m: facing.across(kind.tare_y_mm / 1000.0),
            racks: first_rack..self.racks.len(),
        });
        self.length = rear;
    }

    /// The racks whose x lies within `front..=rear`.
    pub fn racks_between(&self, front: Length, rear: Length) -> Range<usize> {
        let first = self.racks.partition_point(|rack| rack.x < front);
        let end = self.racks.partition_point(|rack| rack.x <= rear);
        first..end.max(first)
    }

    /// The vehicle under `x_m`, the outermost one beyond the ends of the train; none on an empty train.
    pub fn vehicle_at(&self, x_m: f64) -> Option<usize> {
        let ahead = self.vehicles.partition_point(|vehicle| vehicle.rear.m() <= x_m);
        Some(ahead.min(self.vehicles.len().checked_sub(1)?))
    }

    /// The index of the rack of `plan`'s train that `wanted` names; none where it does not exist.
    pub fn rack_named(&self, plan: &Plan, wanted: &RackRef) -> Option<usize> {
        let vehicle = plan.train.vehicles.iter().position(|vehicle| vehicle.mark == wanted.vehicle)?;
        let racks = &self.vehicles.get(vehicle)?.racks;
        let rack = racks.start + (wanted.rack as usize).checked_sub(1)?;
        racks.contains(&rack).then_some(rack)
    }
}

/// How a vehicle stands: as its type is drawn, or turned round, which mirrors x and y of what is fixed to it.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Facing {
    AsDrawn,
    Turned,
}

impl Facing {
    fn of(vehicle: &Vehicle) -> Self {
        if vehicle.turned { Self::Turned } else { Self::AsDrawn }
    }

    fn along(self, from_middle: Length) -> Length {
        match self {
            Self::AsDrawn => from_middle,
            Self::Turned => -from_middle,
        }
    }

    fn across(self, y_m: f64) -> f64 {
        match self {
            Self::AsDrawn => y_m,
            Self::Turned => -y_m,
        }
    }

    fn lanes_m(self, rack: &RackType) -> Vec<f64> {
        let mut lanes_m: Vec<f64> = rack.lanes_y_mm.iter().map(|y_mm| self.across(y_mm / 1000.0)).collect();
        if self == Self::Turned {
            lanes_m.reverse();
        }
        lanes_m
    }

    /// Front and rear tare as it stands; a weighed tare is shared between the supports as the type's is.
    fn tare_kg(self, vehicle: &Vehicle, kind: &VehicleType) -> [f64; 2] {
        let tare_kg = vehicle.tare_kg.unwrap_or(kind.tare_kg);
        let front_kg = kind.tare_front_kg.map_or(tare_kg / 2.0, |front_kg| front_kg / kind.tare_kg * tare_kg);
        match self {
            Self::AsDrawn => [front_kg, tare_kg - front_kg],
            Self::Turned => [tare_kg - front_kg, front_kg],
        }
    }
}

/// x of each axle in m, from the front; those of a bogie stand at even distances about its pivot.
fn axles_m(gear: RunningGear, middle: Length) -> Vec<f64> {
    let half_m = gear.support_distance().m() / 2.0;
    let (count, wheelbase_m) = match gear {
        RunningGear::TwoAxle { .. } => (1, 0.0),
        RunningGear::Bogies { axles_per_bogie, bogie_wheelbase, .. } => {
            (axles_per_bogie, bogie_wheelbase.m())
        }
    };
    let steps = f64::from(count.saturating_sub(1).max(1));
    [middle.m() - half_m, middle.m() + half_m]
        .iter()
        .flat_map(|pivot_m| {
            let first_m = if count > 1 { pivot_m - wheelbase_m / 2.0 } else { *pivot_m };
            (0..count).map(move |axle| first_m + wheelbase_m * f64::from(axle) / steps)
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::{empty_plan, reference_rack};
    use crate::model::EndStop;

    #[track_caller]
    fn near(values: &[f64], expected: &[f64]) {
        assert_eq!(values.len(), expected.len());
        for (value, expected) in values.iter().zip(expected) {
            assert!((value - expected).abs() < 1.0e-9, "{values:?}");
        }
    }

    /// A reference wagon with uneven racks, lanes, tare and a stop, as drawn and turned.
    fn consist(turned: bool) -> Consist {
        let mut plan = empty_plan(2);
        plan.train.vehicles[1].turned = turned;
        let kind = &mut plan.train.vehicle_types[0];
        kind.racks[0].at = Length::from_mm(-4_000);
        kind.tare_front_kg = Some(10_000.0);
        kind.tare_y_mm = 40.0;
        kind.end_stops = vec![EndStop { at: Length::from_mm(9_000) }];
        plan.train.rack_types = vec![RackType { lanes_y_mm: vec![-900.0, 0.0, 500.0], ..reference_rack() }];
        Consist::of(&plan)
    }

    fn racks_mm(consist: &Consist, vehicle: usize) -> Vec<i64> {
        consist.racks[consist.vehicles[vehicle].racks.clone()].iter().map(|rack| rack.x.mm()).collect()
    }

    #[test]
    fn vehicles_stand_buffer_to_buffer_from_the_front() {
        let consist = consist(false);
        assert_eq!(consist.length, Length::from_mm(39_800));
        assert_eq!(consist.vehicles[1].front, Length::from_mm(19_900));
        assert_eq!(racks_mm(&consist, 0), [5_950, 9_950, 16_583]);
        assert_eq!(racks_mm(&consist, 1), [25_850, 29_850, 36_483]);
        assert_eq!(consist.end_stops, [18_950, 38_850].map(Length::from_mm));
    }

    #[test]
    fn a_turned_vehicle_mirrors_all_that_is_fixed_to_it() {
        let consist = consist(true);
        assert_eq!(racks_mm(&consist, 1), [23_217, 29_850, 33_850]);
        let numbers: Vec<u32> = consist.racks[3..].iter().map(|rack| rack.number).collect();
        assert_eq!(numbers, [1, 2, 3]);
        near(&consist.racks[5].lanes_y_m, &[-0.5, 0.0, 0.9]);
        near(&consist.vehicles[0].tare_kg, &[10_000.0, 14_000.0]);
        near(&consist.vehicles[1].tare_kg, &[14_000.0, 10_000.0]);
        near(&[consist.vehicles[0].tare_y_m, consist.vehicles[1].tare_y_m], &[0.04, -0.04]);
        assert_eq!(consist.end_stops, [18_950, 20_850].map(Length::from_mm));
    }

    #[test]
    fn a_weighed_tare_is_shared_as_the_type_shares_its_own() {
        let mut plan = empty_plan(1);
        plan.train.vehicle_types[0].tare_front_kg = Some(10_000.0);
        plan.train.vehicles[0].tare_kg = Some(25_200.0);
        near(&Consist::of(&plan).vehicles[0].tare_kg, &[10_500.0, 14_700.0]);
    }

    #[test]
    fn an_odd_length_keeps_racks_at_whole_millimetres_and_turns_into_its_mirror() {
        let racks = |turned| {
            let mut plan = empty_plan(1);
            plan.train.vehicle_types[0].length = Length::from_mm(19_901);
            plan.train.vehicles[0].turned = turned;
            racks_mm(&Consist::of(&plan), 0)
        };
        assert_eq!(racks(false), [3_317, 9_950, 16_583]);
        assert_eq!(racks(true), [19_901 - 16_583, 19_901 - 9_950, 19_901 - 3_317]);
    }

    #[test]
    fn axles_stand_evenly_about_the_pivots() {
        let axles = |gear| axles_m(gear, Length::from_mm(10_000));
        let three = RunningGear::Bogies {
            pivot_distance: Length::from_mm(12_000),
            axles_per_bogie: 3,
            bogie_wheelbase: Length::from_mm(3_000),
        };
        near(&axles(three), &[2.5, 4.0, 5.5, 14.5, 16.0, 17.5]);
        near(&axles(RunningGear::TwoAxle { wheelbase: Length::from_mm(6_000) }), &[7.0, 13.0]);
    }

    #[test]
    fn a_rack_exactly_at_an_end_is_crossed() {
        let consist = consist(false);
        let crossed = |front, rear| consist.racks_between(Length::from_mm(front), Length::from_mm(rear));
        assert_eq!(crossed(5_950, 16_583), 0..3);
        assert_eq!(crossed(5_951, 16_582), 1..2);
        assert_eq!(crossed(17_000, 18_000), 3..3);
    }
}
