//! What one string alone puts on the vehicles: loads are sums over strings, so that this is what goes with it.

use super::placed::PlacedString;
use super::vehicle_loads::{Share, shares};
use super::{Consist, SupportLoads, VehicleLoads, VehiclePlace};
use crate::model::{Placement, Plan};

/// What one string puts on one vehicle that it crosses.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StringOnVehicle {
    /// Index of the vehicle.
    pub vehicle: usize,
    /// All that its racks carry of the string, in kg.
    pub load_kg: f64,
    /// The string's part of the front and rear support's loads; a wheel's part is below zero where the string lifts
    /// it.
    pub supports: [SupportLoads; 2],
}

/// What the string of `placement`, lying there alone, puts on each vehicle that it crosses, from the front.
///
/// By the level rigid model; adding it to, or taking it from, the loads of a state gives those with and without the
/// string. `consist` is that of `plan`. None where the string cannot lie there: no pocket, no rack under it, or it
/// tips; or where the order has no such string.
pub fn string_alone(plan: &Plan, consist: &Consist, placement: &Placement) -> Option<Vec<StringOnVehicle>> {
    let placed = PlacedString::alone(plan, consist, placement)?;
    placed.beam.as_ref().ok()?;
    let on_vehicles =
        shares(plan, consist, &placed, &placed.carried_kg).into_iter().map(|(vehicle, share)| {
            let supports = VehicleLoads::supports(&consist.vehicles[vehicle], [0.0, 0.0], &share);
            StringOnVehicle {
                vehicle,
                load_kg: supports.iter().map(|support| support.load_kg).sum(),
                supports,
            }
        });
    Some(on_vehicles.collect())
}

/// What one kg of the tare of the vehicle at `place` puts on its supports.
pub fn tare_per_kg(place: &VehiclePlace) -> [SupportLoads; 2] {
    let tare_kg = place.tare_kg[0] + place.tare_kg[1];
    VehicleLoads::supports(place, place.tare_kg.map(|kg| kg / tare_kg), &Share::NONE)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::{empty_plan, place};
    use crate::statics::{Figures, Scope};
    use std::sync::Arc;

    fn plan() -> Plan {
        let mut plan = empty_plan(3);
        plan.train.vehicles[1].turned = true;
        place(&mut plan, "S1", 36_000, (1, 1, 2_000));
        place(&mut plan, "S2", 50_000, (2, 8, 5_000));
        plan
    }

    #[test]
    fn loads_with_and_without_a_string_differ_by_what_it_does_alone() {
        let with = Figures::of(Arc::new(plan()), Scope::One(0));
        let mut lighter = plan();
        let taken = lighter.placements.pop().unwrap();
        let without = Figures::of(Arc::new(lighter), Scope::One(0));
        let alone = string_alone(&plan(), &with.consist, &taken).unwrap();
        assert_eq!(alone.iter().map(|one| one.vehicle).collect::<Vec<_>>(), [0, 1, 2]);
        for one in alone {
            let [with, without] = [&with, &without].map(|figures| figures.worked[0].vehicles[one.vehicle]);
            assert!((with.payload_kg - without.payload_kg - one.load_kg).abs() < 1.0e-9);
            for end in 0..2 {
                let change = |of: fn(&SupportLoads) -> f64| {
                    of(&with.supports[end]) - of(&without.supports[end]) - of(&one.supports[end])
                };
                assert!(change(|support| support.axle_kg).abs() < 1.0e-9);
                assert!(change(|support| support.stiff.right_kg).abs() < 1.0e-9);
                assert!(change(|support| support.soft.left_kg).abs() < 1.0e-9);
            }
        }
    }

    #[test]
    fn a_kilogram_of_tare_stands_as_the_tare_does() {
        let mut plan = empty_plan(1);
        plan.train.vehicle_types[0].tare_front_kg = Some(10_000.0);
        plan.train.vehicle_types[0].tare_y_mm = 30.0;
        let figures = Figures::of(Arc::new(plan), Scope::One(0));
        let whole = figures.worked[0].vehicles[0].supports;
        for (per_kg, whole) in tare_per_kg(&figures.consist.vehicles[0]).iter().zip(whole) {
            assert!((per_kg.load_kg * 24_000.0 - whole.load_kg).abs() < 1.0e-9);
            assert!((per_kg.soft.right_kg * 24_000.0 - whole.soft.right_kg).abs() < 1.0e-9);
        }
    }

    #[test]
    fn a_string_that_cannot_lie_there_does_nothing() {
        let plan = plan();
        let consist = Consist::of(&plan);
        let mut placement = plan.placements[0].clone();
        assert!(string_alone(&plan, &consist, &placement).is_some());
        placement.lane = 11;
        assert_eq!(string_alone(&plan, &consist, &placement), None);
    }
}
