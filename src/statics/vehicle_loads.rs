//! Loads of one vehicle: supports, axles and wheels, under both assumptions on the sideways moment.

use super::{Consist, PlacedString, VehiclePlace};
use crate::model::Plan;

/// Loads of one wheel pair side by side under one assumption, for every axle of a support, in kg.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct SideLoads {
    /// Left wheel of each axle in kg.
    pub left_kg: f64,
    /// Right wheel of each axle in kg.
    pub right_kg: f64,
}

impl SideLoads {
    /// Larger over smaller wheel load; infinite where a wheel carries nothing or pulls.
    pub fn ratio(self) -> f64 {
        let (large, small) = (self.left_kg.max(self.right_kg), self.left_kg.min(self.right_kg));
        if small > 0.0 { large / small } else { f64::INFINITY }
    }

    /// The larger wheel load in kg.
    pub fn largest_kg(self) -> f64 {
        self.left_kg.max(self.right_kg)
    }
}

/// Loads of one support: a bogie, or the axle of a two-axle vehicle.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct SupportLoads {
    /// Tare and load in kg.
    pub load_kg: f64,
    /// Load per axle in kg; axles of a bogie share equally.
    pub axle_kg: f64,
    /// Wheels where a stiff body shares the sideways moment half and half.
    pub stiff: SideLoads,
    /// Wheels where a soft body passes the sideways moment by the lever rule.
    pub soft: SideLoads,
}

impl SupportLoads {
    /// The worse ratio of the two assumptions.
    pub fn worse_ratio(&self) -> f64 {
        self.stiff.ratio().max(self.soft.ratio())
    }

    /// The larger wheel load of the two assumptions in kg.
    pub fn largest_wheel_kg(&self) -> f64 {
        self.stiff.largest_kg().max(self.soft.largest_kg())
    }

    /// The lowest and highest that the larger wheel load can be where each load lies within `part` of `change`
    /// of its own, in kg.
    pub fn wheel_range_kg(&self, change: &Self, part: f64) -> (f64, f64) {
        let largest = |part: f64| {
            let side = |load: SideLoads, change: SideLoads| {
                let right_kg = load.right_kg + part * change.right_kg;
                right_kg.max(load.left_kg + part * change.left_kg)
            };
            side(self.stiff, change.stiff).max(side(self.soft, change.soft))
        };
        (largest(-part), largest(part))
    }
}

/// Loads of one vehicle.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct VehicleLoads {
    /// Load from strings in kg.
    pub payload_kg: f64,
    /// Tare and load in kg.
    pub gross_kg: f64,
    /// Gross mass over length in kg/m.
    pub mass_per_metre_kg: f64,
    /// Front and rear support.
    pub supports: [SupportLoads; 2],
    /// Height of the gross centre of gravity above the rail in m; none where a height is not entered.
    pub centre_height_m: Option<f64>,
    /// Sideways place of the gross centre in m, right positive.
    pub centre_y_m: f64,
}

impl VehicleLoads {
    /// Larger over smaller support load; infinite where one carries nothing or lifts.
    pub fn support_ratio(&self) -> f64 {
        let [front, rear] = [self.supports[0].load_kg, self.supports[1].load_kg];
        let (large, small) = (front.max(rear), front.min(rear));
        if small > 0.0 { large / small } else { f64::INFINITY }
    }
}

/// What one string puts on one vehicle: sums over the vehicle's racks that carry it.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Share {
    /// Load in kg.
    load_kg: f64,
    /// Part of it that the rear support carries by the lever rule, in kg.
    rear_kg: f64,
    /// Sideways moment in kg m, right positive.
    side_kg_m: f64,
    /// Part of it that the rear support takes where a soft body passes it by the lever rule, in kg m.
    rear_side_kg_m: f64,
    /// Load times height above the rail in kg m; none where a height is missing.
    height_kg_m: Option<f64>,
}

impl Share {
    /// No load.
    pub(super) const NONE: Self =
        Self { load_kg: 0.0, rear_kg: 0.0, side_kg_m: 0.0, rear_side_kg_m: 0.0, height_kg_m: Some(0.0) };

    /// A load at `from_middle` of a vehicle, as a share of its support distance, with a moment about its middle
    /// line, at no height.
    pub(super) fn beside(load_kg: f64, from_middle: f64, side_kg_m: f64) -> Self {
        let to_rear = 0.5 + from_middle;
        Self {
            load_kg,
            rear_kg: load_kg * to_rear,
            side_kg_m,
            rear_side_kg_m: side_kg_m * to_rear,
            height_kg_m: Some(0.0),
        }
    }

    /// Adds another load on the same vehicle.
    pub(super) fn add(&mut self, other: &Self) {
        self.load_kg += other.load_kg;
        self.rear_kg += other.rear_kg;
        self.side_kg_m += other.side_kg_m;
        self.rear_side_kg_m += other.rear_side_kg_m;
        self.height_kg_m = self.height_kg_m.zip(other.height_kg_m).map(|(one, two)| one + two);
    }
}

/// What `placed` puts on each vehicle that it crosses, by vehicle from the front, where its racks carry `racks_kg`.
pub(super) fn shares(
    plan: &Plan,
    consist: &Consist,
    placed: &PlacedString,
    racks_kg: &[f64],
) -> Vec<(usize, Share)> {
    let neutral_axis_m = plan.sections[placed.section].neutral_axis_mm.map(|mm| mm / 1000.0);
    let mut shares: Vec<(usize, Share)> = Vec::new();
    for (at, load_kg) in racks_kg.iter().copied().enumerate() {
        let rack = &consist.racks[placed.racks.start + at];
        let vehicle = &consist.vehicles[rack.vehicle];
        let height_m = placed.seat_m[at].zip(neutral_axis_m).map(|(seat, axis)| seat + axis);
        let height_kg_m = height_m.map(|height_m| load_kg * height_m);
        let share = Share {
            height_kg_m,
            ..Share::beside(
                load_kg,
                rack.from_middle_m / vehicle.support_distance_m,
                load_kg * placed.y_m[at],
            )
        };
        match shares.last_mut() {
            Some((vehicle, sum)) if *vehicle == rack.vehicle => sum.add(&share),
            _ => shares.push((rack.vehicle, share)),
        }
    }
    shares
}

impl VehicleLoads {
    /// The loads of the vehicle at `place` whose tare's centre is `tare_height_m` above the rail, carrying `load`.
    pub(super) fn of(place: &VehiclePlace, tare_height_m: Option<f64>, load: &Share) -> Self {
        let tare_kg = place.tare_kg[0] + place.tare_kg[1];
        let gross_kg = tare_kg + load.load_kg;
        let side_kg_m = load.side_kg_m + tare_kg * place.tare_y_m;
        let tare_height_kg_m = tare_height_m.map(|height_m| height_m * tare_kg);
        Self {
            payload_kg: load.load_kg,
            gross_kg,
            mass_per_metre_kg: gross_kg / (place.rear - place.front).m(),
            supports: Self::supports(place, place.tare_kg, load),
            centre_height_m: tare_height_kg_m
                .zip(load.height_kg_m)
                .map(|(tare, load)| (tare + load) / gross_kg),
            centre_y_m: side_kg_m / gross_kg,
        }
    }

    /// What `load` and a tare put on the two supports of the vehicle at `place`.
    pub(super) fn supports(
        place: &VehiclePlace,
        [tare_front_kg, tare_rear_kg]: [f64; 2],
        load: &Share,
    ) -> [SupportLoads; 2] {
        let side_kg_m = load.side_kg_m + (tare_front_kg + tare_rear_kg) * place.tare_y_m;
        let front_side_kg_m = load.side_kg_m - load.rear_side_kg_m + tare_front_kg * place.tare_y_m;
        let support = |load_kg: f64, soft_side_kg_m: f64| {
            let axles = f64::from(place.axles_per_support);
            let axle_kg = load_kg / axles;
            let wheels = |moment_kg_m: f64| {
                let shift_kg = moment_kg_m / place.contact_m / axles;
                SideLoads { left_kg: axle_kg / 2.0 - shift_kg, right_kg: axle_kg / 2.0 + shift_kg }
            };
            SupportLoads { load_kg, axle_kg, stiff: wheels(side_kg_m / 2.0), soft: wheels(soft_side_kg_m) }
        };
        [
            support(tare_front_kg + load.load_kg - load.rear_kg, front_side_kg_m),
            support(tare_rear_kg + load.rear_kg, side_kg_m - front_side_kg_m),
        ]
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::{empty_plan, place};
    use crate::statics::{Figures, Scope};
    use std::sync::Arc;

    fn loads(plan: Plan) -> VehicleLoads {
        Figures::of(Arc::new(plan), Scope::All).worked[0].vehicles[0]
    }

    /// One wagon with a string of 19 m on its three racks in the lane farthest right.
    fn plan() -> Plan {
        let mut plan = empty_plan(1);
        place(&mut plan, "S1", 19_000, (1, 10, 450));
        plan
    }

    #[test]
    fn an_empty_wagon_stands_on_its_tare() {
        let loads = loads(empty_plan(1));
        assert!(loads.supports.iter().all(|support| (support.axle_kg - 6_000.0).abs() < 1.0e-9));
        assert_eq!(loads.centre_height_m, Some(0.7));
        assert!((loads.support_ratio() - 1.0).abs() < 1.0e-15);
    }

    #[test]
    fn a_load_to_the_right_loads_the_right_wheels_more() {
        // By hand: 1,143.99 kg at 1.2 m: moment 1,372.8 kg m, half to each bogie, over 1.5 m and two axles.
        let [front, rear] = loads(plan()).supports;
        let shift_kg = 19.0 * 60.21 * 1.2 / 2.0 / 1.5 / 2.0;
        for wheels in [front.stiff, front.soft, rear.stiff, rear.soft] {
            assert!((wheels.right_kg - wheels.left_kg - 2.0 * shift_kg).abs() < 1.0e-9);
        }
    }

    #[test]
    fn the_gross_centre_weighs_tare_and_strings_by_their_heights() {
        // By hand: 24,000 kg at 0.7 m and 1,143.99 kg at 1.25 + 0.15 + 0.0809 m.
        let string_kg = 19.0 * 60.21;
        let expected_m = (24_000.0 * 0.7 + string_kg * 1.4809) / (24_000.0 + string_kg);
        assert!((loads(plan()).centre_height_m.unwrap() - expected_m).abs() < 1.0e-12);
        let expected_m = string_kg * 1.2 / (24_000.0 + string_kg);
        assert!((loads(plan()).centre_y_m - expected_m).abs() < 1.0e-12);
    }

    #[test]
    fn a_height_nobody_measured_is_not_filled_in() {
        // ATSB RO-2021-010: a height filled in by default; the bridge was 98 mm too low.
        let without = |change: fn(&mut Plan)| {
            let mut plan = plan();
            change(&mut plan);
            loads(plan).centre_height_m
        };
        assert!(without(|_| ()).is_some());
        assert_eq!(without(|plan| plan.train.vehicle_types[0].deck_height = None), None);
        assert_eq!(without(|plan| plan.train.vehicle_types[0].tare_cog_height_mm = None), None);
        assert_eq!(without(|plan| plan.sections[0].neutral_axis_mm = None), None);
    }

    #[test]
    fn a_wheel_without_load_makes_the_ratio_infinite() {
        let ratio = |left_kg, right_kg| SideLoads { left_kg, right_kg }.ratio();
        assert!((ratio(4.0, 5.0) - 1.25).abs() < 1.0e-15);
        assert!(ratio(0.0, 5.0).is_infinite() && ratio(5.0, -1.0).is_infinite());
    }
}
