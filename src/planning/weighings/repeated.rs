//! Readings of one part that contradict each other: no load can make both right.

use super::ComparedReading;
use crate::model::WeighedPart;

/// Two readings of one part that differ by more than their tolerances.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Contradiction {
    /// Index of the vehicle.
    pub vehicle: usize,
    /// The part that was read twice.
    pub part: WeighedPart,
    /// Both readings, as indices into those of the plan, in its order.
    pub readings: [usize; 2],
    /// What each of them says, in kg.
    pub read_kg: [f64; 2],
    /// By how much they may differ, in kg: independent tolerances add by their squares (JCGM 100:2008, 5.1.2).
    pub allowed_kg: f64,
}

impl Contradiction {
    /// How far the two are apart, in kg.
    pub fn apart_kg(&self) -> f64 {
        (self.read_kg[1] - self.read_kg[0]).abs()
    }
}

/// Of each part the two readings that contradict each other most, in the order in which they were read.
pub(super) fn contradictions(readings: &[ComparedReading]) -> Vec<Contradiction> {
    let mut found: Vec<Contradiction> = Vec::new();
    for (second, later) in readings.iter().enumerate() {
        for (first, earlier) in readings[..second].iter().enumerate() {
            let Some(new) = between((first, earlier), (second, later)) else { continue };
            match found.iter_mut().find(|one| (one.vehicle, one.part) == (new.vehicle, new.part)) {
                Some(old) if excess(&new) > excess(old) => *old = new,
                Some(_) => {}
                None => found.push(new),
            }
        }
    }
    found
}

fn excess(one: &Contradiction) -> f64 {
    one.apart_kg() - one.allowed_kg
}

fn between(
    (first, earlier): (usize, &ComparedReading),
    (second, later): (usize, &ComparedReading),
) -> Option<Contradiction> {
    let of_one = (earlier.vehicle, earlier.part) == (later.vehicle, later.part);
    let allowed_kg = earlier.tolerance_kg?.hypot(later.tolerance_kg?);
    let (vehicle, part) = (later.vehicle, later.part);
    let read_kg = [earlier.read_kg, later.read_kg];
    let two = Contradiction { vehicle, part, readings: [first, second], read_kg, allowed_kg };
    (of_one && two.apart_kg() > allowed_kg).then_some(two)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Readings of vehicle 0 with a tolerance of 2 %, and the pairs that contradict each other.
    fn check(readings: &[(WeighedPart, f64)], expected: &[[usize; 2]]) {
        let compared = readings.iter().map(|(part, kg)| ComparedReading {
            vehicle: 0,
            part: *part,
            read_kg: *kg,
            computed_kg: 20_000.0,
            body_kg: 0.0,
            tolerance_kg: Some(0.02 * kg),
        });
        let found = contradictions(&compared.collect::<Vec<_>>());
        assert_eq!(found.iter().map(|one| one.readings).collect::<Vec<_>>(), expected);
    }

    // By hand: 2 % of 20,000 kg and of 20,572 kg are 400 kg and 411.4 kg, by their squares 573.8 kg.
    #[test]
    fn two_readings_of_a_part_may_differ_by_their_tolerances_together() {
        use WeighedPart::{Axle, Vehicle};
        check(&[(Vehicle, 20_000.0), (Vehicle, 20_572.0)], &[]);
        check(&[(Vehicle, 20_000.0), (Vehicle, 20_576.0)], &[[0, 1]]);
        check(&[(Axle(1), 20_000.0), (Axle(2), 30_000.0)], &[]);
        let three = [(Axle(1), 20_000.0), (Axle(1), 22_000.0), (Vehicle, 9_000.0), (Axle(1), 25_000.0)];
        check(&three, &[[0, 3]]);
    }

    #[test]
    fn without_a_tolerance_nothing_contradicts() {
        let reading = |kg: f64, tolerance_kg| ComparedReading {
            vehicle: 0,
            part: WeighedPart::Vehicle,
            read_kg: kg,
            computed_kg: kg,
            body_kg: 0.0,
            tolerance_kg,
        };
        assert_eq!(contradictions(&[reading(1.0, Some(0.1)), reading(9.0, None)]), []);
    }
}
