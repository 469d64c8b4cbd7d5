//! How far the vehicles of a train turn against each other as it runs through a curve.
//!
//! A vehicle heads along the track's tangent at its middle. Angles grow with the distance run into the curve;
//! whether it turns left or right is left to the reader of the angles.

use super::{Consist, VehiclePlace};
use crate::model::{Curve, SCurve};

/// The train at one place in a curve.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Pose {
    /// The heading of each vehicle in rad; only differences count.
    headings_rad: Vec<f64>,
    /// For each rack, how much nearer along the racks it is to the foremost rack than on the straight, on the
    /// train's middle line, in m.
    shortened_m: Vec<f64>,
}

/// The train at every place in one curve that matters.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Turning {
    /// Radius in m.
    pub(super) radius_m: f64,
    /// Whether it is the route's reverse curve.
    pub(super) reverse: bool,
    /// One pose for each vehicle's middle at each place where the curvature begins or ends to change.
    pub(super) poses: Vec<Pose>,
}

/// A place fixed to a vehicle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct FixedPlace {
    /// Index of the vehicle.
    pub(super) vehicle: usize,
    /// x in m.
    pub(super) x_m: f64,
    /// Sideways place of the string there in m, right positive.
    pub(super) y_m: f64,
}

/// The string's y at each of the racks along a way, right positive.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum SideOffset<'a> {
    /// The same everywhere, in m.
    Even(f64),
    /// One for each rack, in m.
    Uneven(&'a [f64]),
}

impl<'a> SideOffset<'a> {
    /// The offsets at racks along a way, at least one.
    pub(super) fn of(y_m: &'a [f64]) -> Self {
        let first_m = y_m.first().copied().unwrap_or_default();
        let even = y_m.iter().all(|y| y.to_bits() == first_m.to_bits());
        if even { Self::Even(first_m) } else { Self::Uneven(y_m) }
    }
}

/// How one pose changes the distance between two places, along a string that lies straight between them.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Shortening {
    /// By the polygon of the vehicles, in m: d1 d2 theta^2 / (2 (d1 + d2)) across one coupling.
    polygon_m: f64,
    /// By the side offset, in m, with y positive toward the curve's centre: y theta across one coupling.
    side_m: f64,
}

impl Turning {
    /// The train at every place in `curve` that matters.
    ///
    /// An arc without a length is longer than the train. The curve's transitions are taken at both of its ends
    /// and beyond its arc.
    pub(super) fn of(consist: &Consist, curve: &Curve) -> Self {
        let (transition_m, arc_m) = (curve.transition_m, curve.arc_m.unwrap_or(f64::INFINITY));
        let changes_m = [0.0, transition_m, transition_m + arc_m, 2.0 * transition_m + arc_m];
        let turned_m =
            |run_m: f64| turned_m(run_m, transition_m) - turned_m(run_m - transition_m - arc_m, transition_m);
        let poses = poses(consist, &changes_m, |run_m| turned_m(run_m) / curve.radius_m);
        Self { radius_m: curve.radius_m, reverse: false, poses }
    }

    /// The train at every place in a reverse curve that matters: the straight anywhere under it, both arcs longer
    /// than the train and without transitions, turning against each other.
    pub(super) fn of_reverse(consist: &Consist, curve: SCurve) -> Self {
        let SCurve { radius_m, straight_m } = curve;
        // Runs are counted from where the first arc ends: it turns up to there, the second back again.
        let turned_m = |run_m: f64| run_m.min(0.0) - (run_m - straight_m).max(0.0);
        let poses = poses(consist, &[0.0, straight_m], |run_m| turned_m(run_m) / radius_m);
        Self { radius_m, reverse: true, poses }
    }
}

/// The train with the middle of each vehicle at each of `changes_m`, heading by the run in m as `heading_rad` says.
///
/// Between those places headings grow evenly on arcs, so that the sideways part of a shift is largest at them.
fn poses(consist: &Consist, changes_m: &[f64], heading_rad: impl Fn(f64) -> f64) -> Vec<Pose> {
    let mut changes_m: Vec<f64> = changes_m.iter().copied().filter(|change_m| change_m.is_finite()).collect();
    changes_m.dedup_by(|a, b| a.to_bits() == b.to_bits());
    let at = |first: &VehiclePlace, change_m: f64| {
        let start_m = first.middle_m - change_m;
        let headings = consist.vehicles.iter().map(|v| heading_rad(v.middle_m - start_m));
        Pose::of(consist, headings.collect())
    };
    let at = &at;
    consist
        .vehicles
        .iter()
        .flat_map(|first| changes_m.iter().map(move |change_m| at(first, *change_m)))
        .collect()
}

/// The turn of the track, times the radius, `run_m` into a curve that goes on for ever.
fn turned_m(run_m: f64, transition_m: f64) -> f64 {
    if run_m <= 0.0 {
        0.0
    } else if run_m < transition_m {
        run_m * run_m / (2.0 * transition_m)
    } else {
        run_m - transition_m / 2.0
    }
}

impl Pose {
    fn of(consist: &Consist, headings_rad: Vec<f64>) -> Self {
        let mut pose = Self { headings_rad, shortened_m: Vec::with_capacity(consist.racks.len()) };
        let mut sum_m = 0.0;
        pose.shortened_m.extend(consist.racks.first().map(|_| sum_m));
        for pair in consist.racks.windows(2) {
            let place = |at: usize| FixedPlace { vehicle: pair[at].vehicle, x_m: pair[at].x.m(), y_m: 0.0 };
            sum_m += pose.between(consist, place(0), place(1)).polygon_m;
            pose.shortened_m.push(sum_m);
        }
        pose
    }

    /// The turn from one vehicle to another in rad; below zero against the curve.
    pub(super) fn turn_rad(&self, from: usize, to: usize) -> f64 {
        self.headings_rad[to] - self.headings_rad[from]
    }

    /// How much shorter the way from rack `first` to rack `last` is than on the straight, by the polygon of the
    /// vehicles and by the side offset, in m.
    ///
    /// The side offset is signed for a curve to the right as x grows; for one to the left it has the other sign.
    pub(super) fn along_racks_m(
        &self,
        consist: &Consist,
        [first, last]: [usize; 2],
        offset: SideOffset<'_>,
    ) -> [f64; 2] {
        let polygon_m = self.shortened_m[last] - self.shortened_m[first];
        let place = |rack: usize, y_m: f64| {
            let at = &consist.racks[rack];
            FixedPlace { vehicle: at.vehicle, x_m: at.x.m(), y_m }
        };
        let side_m = match offset {
            SideOffset::Even(y_m) => {
                y_m * self.turn_rad(consist.racks[first].vehicle, consist.racks[last].vehicle)
            }
            SideOffset::Uneven(y_m) => y_m
                .windows(2)
                .zip(first..last)
                .map(|(y, rack)| self.between(consist, place(rack, y[0]), place(rack + 1, y[1])).side_m)
                .sum(),
        };
        [polygon_m, side_m]
    }

    /// The same for the straight way from one place to another.
    pub(super) fn along_gap_m(&self, consist: &Consist, ends: [FixedPlace; 2]) -> [f64; 2] {
        let [one, other] = ends;
        let (first, last) = if one.x_m <= other.x_m { (one, other) } else { (other, one) };
        let Shortening { polygon_m, side_m } = self.between(consist, first, last);
        [polygon_m, side_m]
    }

    /// Half the sum of l (psi - mean psi)^2 over the pieces l of the way on each vehicle, to second order.
    fn between(&self, consist: &Consist, first: FixedPlace, last: FixedPlace) -> Shortening {
        if first.vehicle == last.vehicle {
            return Shortening { polygon_m: 0.0, side_m: 0.0 };
        }
        let base_rad = self.headings_rad[first.vehicle];
        let (mut length_m, mut turned_m, mut squared_m) = (0.0, 0.0, 0.0);
        for vehicle in first.vehicle..=last.vehicle {
            let place = &consist.vehicles[vehicle];
            let from_m = if vehicle == first.vehicle { first.x_m } else { place.front.m() };
            let to_m = if vehicle == last.vehicle { last.x_m } else { place.rear.m() };
            let turn_rad = self.headings_rad[vehicle] - base_rad;
            length_m += to_m - from_m;
            turned_m += (to_m - from_m) * turn_rad;
            squared_m += (to_m - from_m) * turn_rad * turn_rad;
        }
        let turn_rad = self.turn_rad(first.vehicle, last.vehicle);
        if length_m <= 0.0 {
            return Shortening { polygon_m: 0.0, side_m: last.y_m * turn_rad };
        }
        let mean_rad = turned_m / length_m;
        Shortening {
            polygon_m: ((squared_m - turned_m * mean_rad) / 2.0).max(0.0),
            side_m: last.y_m * (turn_rad - mean_rad) + first.y_m * mean_rad,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::empty_plan;

    fn curve(radius_m: f64, arc_m: Option<f64>, transition_m: f64) -> Curve {
        Curve { radius_m, arc_m, transition_m, cant_mm: None, speed_kmh: None }
    }

    /// The largest turn between the first and the last of `wagons` wagons of 19.9 m.
    fn check_turn(wagons: usize, curve: Curve, expected_rad: f64) {
        let turning = Turning::of(&Consist::of(&empty_plan(wagons)), &curve);
        let turns = turning.poses.iter().map(|pose| pose.turn_rad(0, wagons - 1).abs());
        let found_rad = turns.fold(0.0, f64::max);
        assert!((found_rad - expected_rad).abs() < 1e-12, "{found_rad} against {expected_rad}");
    }

    #[test]
    fn a_train_turns_by_the_length_in_the_arc_over_the_radius() {
        check_turn(11, curve(150.0, None, 0.0), 199.0 / 150.0);
        check_turn(11, curve(150.0, Some(60.0), 0.0), 60.0 / 150.0);
        check_turn(11, curve(150.0, Some(400.0), 0.0), 199.0 / 150.0);
        // Each transition turns by half its length over the radius: 60 m of arc and two halves of 40 m.
        check_turn(11, curve(150.0, Some(60.0), 40.0), 100.0 / 150.0);
        check_turn(1, curve(150.0, None, 0.0), 0.0);
    }

    // Independent: the distance of two points on two bodies hinged at the coupling, by the law of cosines.
    #[test]
    fn the_polygon_across_one_coupling_is_the_law_of_cosines_to_second_order() {
        let consist = Consist::of(&empty_plan(2));
        let turning = Turning::of(&consist, &curve(1_500.0, None, 0.0));
        let pose = &turning.poses[0];
        let theta_rad: f64 = 19.9 / 1_500.0;
        assert!((pose.turn_rad(0, 1) - theta_rad).abs() < 1e-12);
        let (d1_m, d2_m): (f64, f64) = (3.317, 9.95);
        let place = |vehicle, x_m| FixedPlace { vehicle, x_m, y_m: 0.0 };
        let ends = [place(0, 19.9 - d1_m), place(1, 19.9 + d2_m)];
        let exact_m = d1_m + d2_m - (d1_m * d1_m + d2_m * d2_m + 2.0 * d1_m * d2_m * theta_rad.cos()).sqrt();
        let [found_m, _] = pose.along_gap_m(&consist, ends);
        assert!((found_m - exact_m).abs() < 1e-4 * exact_m, "{found_m} against {exact_m}");
        let [other_way_m, _] = pose.along_gap_m(&consist, [ends[1], ends[0]]);
        assert!((found_m - other_way_m).abs() < 1e-15);
    }

    #[test]
    fn even_and_uneven_side_offsets_agree_where_they_are_the_same() {
        let consist = Consist::of(&empty_plan(4));
        let turning = Turning::of(&consist, &curve(200.0, None, 0.0));
        let pose = &turning.poses[0];
        let even = pose.along_racks_m(&consist, [1, 10], SideOffset::of(&[0.9; 10]));
        let mut y_m = [0.9; 10];
        y_m[9] = 0.9 + 1e-12;
        let uneven = pose.along_racks_m(&consist, [1, 10], SideOffset::of(&y_m));
        assert!((even[1] - 0.9 * 3.0 * 19.9 / 200.0).abs() < 1e-12);
        assert!((even[1] - uneven[1]).abs() < 1e-9 && (even[0] - uneven[0]).abs() < 1e-12);
    }
}
