//! A small weighed train for tests, readings of it, and chance with a seed.

use crate::fixtures::{empty_plan, place};
use crate::model::{Plan, WeighedPart, Weighing};
use crate::statics::{Figures, Scope};
use std::sync::Arc;

/// Three wagons with three strings.
pub(super) fn loaded() -> Plan {
    let mut plan = empty_plan(3);
    place(&mut plan, "S1", 50_000, (1, 1, 2_000));
    place(&mut plan, "S2", 50_000, (1, 10, 3_000));
    place(&mut plan, "S3", 30_000, (2, 8, 25_000));
    plan
}

/// A reading with a tolerance of 2 %.
pub(super) fn reading(vehicle: &str, part: WeighedPart, kg: f64) -> Weighing {
    Weighing {
        vehicle: vehicle.parse().unwrap(),
        part,
        kg,
        tolerance: Some(0.02),
        by: "A. Yard".to_owned(),
        at: "Monday".to_owned(),
    }
}

/// Every wheel of the train as it truly stands, each with normal noise of this share; on each wagon the body is somewhere between
/// stiff and soft.
pub(super) fn weigh(truth: &Plan, noise: f64, chance: &mut Chance) -> Vec<Weighing> {
    let figures = Figures::of(Arc::new(truth.clone()), Scope::One(0));
    let mut readings = Vec::new();
    for (vehicle, loads) in truth.train.vehicles.iter().zip(&figures.worked[0].vehicles) {
        let stiff = chance.share();
        for axle in 1..=4_u32 {
            let support = &loads.supports[usize::from(axle > 2)];
            let left_kg = stiff * support.stiff.left_kg + (1.0 - stiff) * support.soft.left_kg;
            for (part, kg) in [
                (WeighedPart::LeftWheel(axle), left_kg),
                (WeighedPart::RightWheel(axle), support.axle_kg - left_kg),
            ] {
                let kg = kg * (1.0 + noise * chance.normal());
                readings.push(reading(vehicle.mark.as_str(), part, kg));
            }
        }
    }
    readings
}

/// Chance with a seed: SplitMix64 (G. L. Steele, D. Lea, C. H. Flood, Fast splittable pseudorandom number
/// generators, OOPSLA 2014).
pub(super) struct Chance(pub(super) u64);

impl Chance {
    /// From 0 to below 1.
    pub(super) fn share(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// A whole number of the range.
    pub(super) fn whole(&mut self, range: std::ops::Range<i64>) -> i64 {
        range.start + (self.share() * (range.end - range.start) as f64) as i64
    }

    /// By the normal law with mean 0 and standard deviation 1 (Box and Muller, 1958).
    pub(super) fn normal(&mut self) -> f64 {
        let (one, two) = (1.0 - self.share(), self.share());
        (-2.0 * one.ln()).sqrt() * (2.0 * std::f64::consts::PI * two).cos()
    }
}
