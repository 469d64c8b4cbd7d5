//! Vehicles as chords of the track, and the line on which the racks of each stand.

use super::Path;
use crate::statics::{Consist, VehiclePlace};

/// The straight line of one vehicle's body over the track.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Chord {
    /// x of the vehicle's middle in m.
    pub middle_m: f64,
    /// Offset of the body's middle from the straight reference of the [`Path`] in m, right positive.
    pub offset_m: f64,
    /// Growth of that offset per m rearward.
    pub slope: f64,
}

impl Chord {
    /// The chord of a vehicle: over its two pivots, each of which stands in the middle between the outer axles
    /// of its bogie, whose wheels follow the track's centre.
    ///
    /// On a curve of radius R the body's line is then inside the track by ((p/2)^2 - xi^2)/2R + (w/2)^2/2R at xi
    /// from its middle (p pivot distance, w bogie wheelbase): the throw of textbook geometry.
    pub fn of(vehicle: &VehiclePlace, path: &Path) -> Self {
        let axles = &vehicle.axles_m;
        let per_support = (vehicle.axles_per_support as usize).max(1);
        let pivot = |axles: &[f64]| match axles {
            [first, .., last] => f64::midpoint(path.offset_m(*first), path.offset_m(*last)),
            [only] => path.offset_m(*only),
            [] => 0.0,
        };
        let (front, rear) = axles.split_at(per_support.min(axles.len()));
        let (front_m, rear_m) = (pivot(front), pivot(rear));
        Self {
            middle_m: vehicle.middle_m,
            offset_m: f64::midpoint(front_m, rear_m),
            slope: (rear_m - front_m) / vehicle.support_distance_m,
        }
    }

    /// Offset of the body's line at `x_m` from the path's straight reference in m, right positive.
    pub fn at_m(&self, x_m: f64) -> f64 {
        self.offset_m + self.slope * (x_m - self.middle_m)
    }
}

/// The chords of all vehicles, from the front.
pub fn chords(consist: &Consist, path: &Path) -> Vec<Chord> {
    consist.vehicles.iter().map(|vehicle| Chord::of(vehicle, path)).collect()
}

/// Throw of a place on a vehicle in a steady curve, in m: toward the inside positive, outside negative.
///
/// `from_middle_m` is its distance from the vehicle's middle. Textbook geometry, (a n - n^2 + p^2/4)/2R between
/// the pivots and (a n + n^2 - p^2/4)/2R beyond them.
pub fn throw_m(vehicle: &VehiclePlace, from_middle_m: f64, radius_m: f64) -> f64 {
    let path = Path::steady(1.0 / radius_m);
    let x_m = vehicle.middle_m + from_middle_m;
    Chord::of(vehicle, &path).at_m(x_m) - path.offset_m(x_m)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::empty_plan;
    use crate::model::RunningGear;
    use crate::units::Length;

    fn vehicle(length_mm: i64, gear: RunningGear) -> VehiclePlace {
        let mut plan = empty_plan(1);
        let kind = &mut plan.train.vehicle_types[0];
        (kind.length, kind.gear, kind.racks) = (Length::from_mm(length_mm), gear, Vec::new());
        Consist::of(&plan).vehicles.remove(0)
    }

    fn check(vehicle: &VehiclePlace, from_middle_m: f64, radius_m: f64, throw_mm: f64) {
        let found_mm = throw_m(vehicle, from_middle_m, radius_m) * 1000.0;
        // The published figures are those of true circles, 0.1 mm from those of small slopes.
        assert!((found_mm - throw_mm).abs() < 0.11, "{found_mm} for {throw_mm}");
    }

    // Shared facts, section 5 (textbook geometry, computed): a = 14.2, L = 20, p = 0: R 150 gives 168.1 mm
    // inside and 165.2 mm at the ends; R 190 gives 132.7 and 130.5.
    #[test]
    fn throw_is_that_of_the_textbook() {
        let wagon = vehicle(20_000, RunningGear::TwoAxle { wheelbase: Length::from_mm(14_200) });
        for (radius_m, inside_mm, end_mm) in [(150.0, 168.1, 165.2), (190.0, 132.7, 130.5)] {
            check(&wagon, 0.0, radius_m, inside_mm);
            check(&wagon, 10.0, radius_m, -end_mm);
            check(&wagon, -10.0, radius_m, -end_mm);
            check(&wagon, 7.1, radius_m, 0.0);
        }
    }

    // Same formula with p = 1.8: p^2/4/2R = 0.81/300 = 2.7 mm more inside, 2.7 mm less outside.
    #[test]
    fn bogies_stand_inside_the_track() {
        let gear = |axles_per_bogie| RunningGear::Bogies {
            pivot_distance: Length::from_mm(14_200),
            axles_per_bogie,
            bogie_wheelbase: Length::from_mm(1_800),
        };
        for axles in [2, 3] {
            let wagon = vehicle(20_000, gear(axles));
            check(&wagon, 0.0, 150.0, 168.07 + 2.7);
            check(&wagon, 10.0, 150.0, -165.23 + 2.7);
            check(&wagon, 7.1, 150.0, 2.7);
        }
    }
}
