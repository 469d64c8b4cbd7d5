//! The track's centre line as a curvature along the train, and how far it leaves a straight line.

/// A place where the curvature has a value, and from where it runs straight on to the next place's.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Knot {
    s_m: f64,
    curvature_per_m: f64,
    /// Slope and offset of the centre line against a straight line.
    slope: f64,
    offset_m: f64,
}

/// The centre line of the track under the train.
///
/// x is measured along the track from where the train's front buffer face stands. Curvature is positive where
/// the inside of the curve is to the right. Offsets are those of small slopes: the curvature integrated twice.
/// Vehicles and strings are straight or bent against that same line, so that only differences of offsets over
/// a few vehicles count, for which this is exact to (length / radius) squared.
#[derive(Clone, Debug, PartialEq)]
pub struct Path {
    /// Never empty; s not falling; two knots at one place are a jump.
    knots: Vec<Knot>,
}

impl Path {
    /// A curve of constant curvature (0: straight) that goes on beyond both ends of the train.
    pub fn steady(curvature_per_m: f64) -> Self {
        Self::of(&[(0.0, curvature_per_m)])
    }

    /// A path whose curvature has the given values in 1/m at the given places in m (never falling), runs
    /// straight from one to the next (a clothoid), jumps where a place stands twice, and is constant beyond the
    /// first and the last. An empty list is a straight.
    pub fn of(places: &[(f64, f64)]) -> Self {
        let (first_m, first_per_m) = places.first().copied().unwrap_or_default();
        let first = Knot { s_m: first_m, curvature_per_m: first_per_m, slope: 0.0, offset_m: 0.0 };
        let mut knots = vec![first];
        let mut last = first;
        for &(s_m, curvature_per_m) in places.iter().skip(1) {
            let length_m = s_m - last.s_m;
            let growth =
                if length_m > 0.0 { (curvature_per_m - last.curvature_per_m) / length_m } else { 0.0 };
            let (slope, offset_m) = last.after(length_m, growth);
            last = Knot { s_m, curvature_per_m, slope, offset_m };
            knots.push(last);
        }
        Self { knots }
    }

    /// How far the centre line at `s_m` is from the straight line that touches it at the first place, in m,
    /// toward the right.
    pub fn offset_m(&self, s_m: f64) -> f64 {
        let next = self.knots.partition_point(|knot| knot.s_m <= s_m);
        let knot = self.knots[next.saturating_sub(1)];
        let growth = match self.knots.get(next) {
            Some(after) if next > 0 => {
                (after.curvature_per_m - knot.curvature_per_m) / (after.s_m - knot.s_m)
            }
            _ => 0.0,
        };
        knot.after(s_m - knot.s_m, growth).1
    }
}

impl Knot {
    /// Slope and offset `d_m` further, the curvature growing by `growth` per m.
    fn after(&self, d_m: f64, growth: f64) -> (f64, f64) {
        let slope = self.slope + d_m * (self.curvature_per_m + d_m * growth / 2.0);
        let offset_m =
            self.offset_m + d_m * (self.slope + d_m * (self.curvature_per_m / 2.0 + d_m * growth / 6.0));
        (slope, offset_m)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(path: &Path, s_m: f64, offset_m: f64) {
        let found_m = path.offset_m(s_m);
        assert!((found_m - offset_m).abs() < 1.0e-12 * (1.0 + offset_m.abs()), "{s_m}: {found_m}");
    }

    // Hand: s^2 / 2R; on a clothoid of length T to radius R: s^3 / (6 R T), and T^2/6R, slope T/2R at its end.
    #[test]
    fn an_arc_leaves_its_tangent_with_the_square_and_a_clothoid_with_the_cube() {
        check(&Path::steady(1.0 / 150.0), 30.0, 3.0);
        check(&Path::steady(1.0 / 150.0), -30.0, 3.0);
        let entry = Path::of(&[(10.0, 0.0), (40.0, 1.0 / 150.0)]);
        check(&entry, -50.0, 0.0);
        check(&entry, 10.0, 0.0);
        check(&entry, 25.0, 15.0_f64.powi(3) / (6.0 * 150.0 * 30.0));
        check(&entry, 40.0, 1.0);
        check(&entry, 60.0, 1.0 + 20.0 * 0.1 + 400.0 / 300.0);
    }

    #[test]
    fn a_jump_changes_the_curvature_and_nothing_else() {
        let path = Path::of(&[(0.0, 0.01), (0.0, -0.01)]);
        check(&path, 1.0e-9, 0.0);
        check(&path, -10.0, 0.5);
        check(&path, 10.0, -0.5);
        check(&Path::of(&[]), 77.0, 0.0);
    }
}
