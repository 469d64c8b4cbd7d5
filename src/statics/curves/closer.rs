//! Places of the train between those looked at where something is larger than at any of them.

use super::{BentString, CurveFigures};
use crate::statics::Consist;

/// Share of its largest value from which on a peak between places might be the largest.
const NEAR_THE_LARGEST: f64 = 0.9;

/// How far apart two places are worth a look each, in m.
const APART_M: f64 = 0.02;

/// All sizes that are judged, place by place, each in its own row of the list.
#[derive(Debug, Default)]
pub(super) struct Sizes {
    by_place: Vec<Vec<f64>>,
}

impl Sizes {
    /// Notes the sizes at the next place: those of `more`, moments of all classes, and what all placed strings
    /// together press on racks and vehicles.
    pub(super) fn note(
        &mut self,
        (curves, consist): (&CurveFigures, &Consist),
        bent: &[BentString],
        more: Vec<f64>,
    ) {
        let mut sizes = more;
        sizes.extend(bent.iter().map(|bent| bent.peak().map_or(0.0, |(_, moment_nm)| moment_nm)));
        let mut forces_n = vec![0.0; consist.racks.len()];
        for class in curves.class_of.iter().filter_map(|class| class.ok()) {
            let on = &mut forces_n[curves.classes[class].racks.clone()];
            for (sum_n, force_n) in on.iter_mut().zip(&bent[class].forces_n) {
                *sum_n += force_n;
            }
        }
        for vehicle in &consist.vehicles {
            // What each of its supports gets by the lever rule, both together, and what turns it.
            let (mut front_n, mut rear_n) = (0.0, 0.0);
            for rack in vehicle.racks.clone() {
                let lever = consist.racks[rack].from_middle_m / vehicle.support_distance_m;
                front_n += forces_n[rack] * (0.5 - lever);
                rear_n += forces_n[rack] * (0.5 + lever);
            }
            sizes.extend([front_n, rear_n, front_n + rear_n, rear_n - front_n].map(f64::abs));
        }
        sizes.extend(forces_n.iter().map(|force_n| force_n.abs()));
        self.by_place.push(sizes);
    }

    /// The places noted, and between them those where a parabola through three of them has its peak, for all peaks
    /// that might be the largest of their kind.
    pub(super) fn with_peaks(&self, places_m: &[f64]) -> Vec<f64> {
        let mut closer_m = places_m.to_vec();
        for kind in 0..self.by_place.first().map_or(0, Vec::len) {
            let size = |place: usize| self.by_place[place][kind];
            let largest = (0..places_m.len()).map(size).fold(0.0, f64::max);
            let inner = 1..places_m.len().saturating_sub(1);
            for place in inner.filter(|place| size(*place) > NEAR_THE_LARGEST * largest) {
                let around = [place - 1, place, place + 1].map(|at| (places_m[at], size(at)));
                closer_m.extend(peak_m(around));
            }
        }
        closer_m.sort_by(f64::total_cmp);
        closer_m.dedup_by(|next, before| *next - *before < APART_M);
        closer_m
    }
}

/// The place of the peak of the parabola through three places and their sizes; none where the middle one is not the
/// largest of them.
fn peak_m([(a_m, a), (b_m, b), (c_m, c)]: [(f64, f64); 3]) -> Option<f64> {
    if b < a || b < c || (b <= a && b <= c) {
        return None;
    }
    let (rise, fall) = ((b - a) / (b_m - a_m), (b - c) / (c_m - b_m));
    // The slope of the parabola is rise halfway to the first place, and falls evenly to that halfway to the last.
    let (from_m, to_m) = (f64::midpoint(a_m, b_m), f64::midpoint(b_m, c_m));
    Some(from_m + (to_m - from_m) * rise / (rise + fall))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(places_m: &[f64], size: fn(f64) -> f64, expected: &[f64]) {
        let by_place = places_m.iter().map(|place_m| vec![size(*place_m)]).collect();
        let found = Sizes { by_place }.with_peaks(places_m);
        assert_eq!(found.len(), expected.len(), "{found:?}");
        assert!(found.iter().zip(expected).all(|(a, b)| (a - b).abs() < 1.0e-9), "{found:?}");
    }

    // A parabola's own peak, from even places and from others.
    #[test]
    fn the_peak_between_places_is_added() {
        check(&[0.0, 1.0, 2.0], |x| 5.0 - (x - 1.3) * (x - 1.3), &[0.0, 1.0, 1.3, 2.0]);
        check(&[0.0, 1.5, 2.0], |x| 5.0 - (x - 1.3) * (x - 1.3), &[0.0, 1.3, 1.5, 2.0]);
    }

    #[test]
    fn nothing_is_added_where_nothing_peaks_or_the_peak_is_at_a_place() {
        check(&[0.0, 1.0, 2.0], |x| x, &[0.0, 1.0, 2.0]);
        check(&[0.0, 1.0, 2.0], |_| 1.0, &[0.0, 1.0, 2.0]);
        check(&[0.0, 1.0, 2.0], |_| 0.0, &[0.0, 1.0, 2.0]);
        check(&[0.0, 1.0, 2.0], |x| 5.0 - (x - 1.0).abs(), &[0.0, 1.0, 2.0]);
        check(&[], |x| x, &[]);
    }

    #[test]
    fn a_peak_far_below_the_largest_is_left_alone() {
        let sizes = |x: f64| if x < 2.5 { 1.0 - (x - 1.3) * (x - 1.3) / 4.0 } else { 2.0 };
        check(&[0.0, 1.0, 2.0, 3.0], sizes, &[0.0, 1.0, 2.0, 3.0]);
    }
}
