//! The lead: the part of a string that hangs free between its last support and the seat.

/// A straight bar: weight and bending stiffness.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bar {
    /// Weight per length in N/m, above zero.
    pub weight_n_per_m: f64,
    /// E I about the horizontal axis in N m2, above zero.
    pub stiffness_n_m2: f64,
}

/// The free part from the last support, at `height_m`, to where the string comes to lie on the seat.
///
/// Measured by s from the seat: there height, slope and moment are zero and the seat gives a force; at s =
/// `length_m` the bar passes over the support. With q, E I and h:
/// M = 6 E I h / L^2 - q L^2 / 4 and slope = 3 h / L - q L^3 / (24 E I) at the support.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lead {
    /// The bar.
    pub bar: Bar,
    /// Height of the support above the seat in m.
    pub height_m: f64,
    /// Length L in m.
    pub length_m: f64,
    /// Moment over the support in N m, sagging positive.
    pub support_moment_nm: f64,
    /// Slope at the support in rad, falling toward the seat positive.
    pub slope_rad: f64,
    /// What the lead alone puts on the support, in N.
    pub support_n: f64,
    /// Force at the seat where the string comes to lie, in N.
    pub seat_n: f64,
}

impl Lead {
    /// The lead of `length_m`; which end condition it belongs to shows in its moment and slope.
    pub fn of_length(bar: Bar, height_m: f64, length_m: f64) -> Self {
        let (q, ei, l) = (bar.weight_n_per_m, bar.stiffness_n_m2, length_m);
        let seat_n = 6.0 * ei * height_m / (l * l * l) + q * l / 4.0;
        Self {
            bar,
            height_m,
            length_m,
            support_moment_nm: 6.0 * ei * height_m / (l * l) - q * l * l / 4.0,
            slope_rad: 3.0 * height_m / l - q * l * l * l / (24.0 * ei),
            support_n: q * l - seat_n,
            seat_n,
        }
    }

    /// The string's end lies free on the support: L = (24 E I h / q)^(1/4).
    pub fn free_end(bar: Bar, height_m: f64) -> Self {
        Self::of_length(bar, height_m, fourth_root(24.0, bar, height_m))
    }

    /// The string is held level at the support: L = (72 E I h / q)^(1/4).
    pub fn held_level(bar: Bar, height_m: f64) -> Self {
        Self::of_length(bar, height_m, fourth_root(72.0, bar, height_m))
    }

    /// The string leaves the support at a slope, falling toward the seat positive:
    /// slope L / 3 + q L^4 / (72 E I) = h.
    pub fn with_slope(bar: Bar, height_m: f64, slope_rad: f64) -> Self {
        let (q, ei) = (bar.weight_n_per_m, bar.stiffness_n_m2);
        let reaches = |l: f64| slope_rad * l / 3.0 + q * l * l * l * l / (72.0 * ei) >= height_m;
        Self::of_length(bar, height_m, bisect(fourth_root(72.0, bar, height_m), reaches))
    }

    /// A string whose last `tail_m` lie free beyond the support, behind it: M = -q tail^2 / 2 there.
    pub fn with_tail(bar: Bar, height_m: f64, tail_m: f64) -> Self {
        let t2 = tail_m * tail_m;
        let root = (t2 * t2 + 24.0 * bar.stiffness_n_m2 * height_m / bar.weight_n_per_m).sqrt();
        Self::of_length(bar, height_m, (t2 + root).sqrt())
    }

    /// Moment at `s_m` from the seat in N m, sagging positive.
    pub fn moment_nm(&self, s_m: f64) -> f64 {
        self.seat_n * s_m - self.bar.weight_n_per_m * s_m * s_m / 2.0
    }

    /// Height above the seat at `s_m` from it, in m.
    pub fn height_at_m(&self, s_m: f64) -> f64 {
        let s3 = s_m * s_m * s_m;
        (self.seat_n / 6.0 - self.bar.weight_n_per_m * s_m / 24.0) * s3 / self.bar.stiffness_n_m2
    }

    /// The largest sagging moment, and its distance from the seat: where the shear is zero, or at the support.
    pub fn largest_sagging(&self) -> (f64, f64) {
        let s_m = (self.seat_n / self.bar.weight_n_per_m).min(self.length_m);
        (self.moment_nm(s_m), s_m)
    }

    /// The largest moment, whichever way it bends, in N m.
    pub fn largest_moment_nm(&self) -> f64 {
        self.largest_sagging().0.max(self.support_moment_nm.abs())
    }
}

fn fourth_root(factor: f64, bar: Bar, height_m: f64) -> f64 {
    (factor * bar.stiffness_n_m2 * height_m / bar.weight_n_per_m).sqrt().sqrt()
}

/// The smallest value from which on `reaches` holds, from above zero; `guess` is of its size.
pub(super) fn bisect(guess: f64, reaches: impl Fn(f64) -> bool) -> f64 {
    let (mut low, mut high) = (0.0, guess);
    for _ in 0..60 {
        if reaches(high) {
            break;
        }
        (low, high) = (high, 2.0 * high);
    }
    // Ends where two neighbouring numbers are left.
    for _ in 0..200 {
        let middle = f64::midpoint(low, high);
        if middle <= low || middle >= high {
            break;
        }
        if reaches(middle) {
            high = middle;
        } else {
            low = middle;
        }
    }
    high
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;
    use crate::units::STANDARD_GRAVITY_M_S2;

    /// 60E1 by EN 13674-1 (project facts, section 1), E 210 GPa.
    pub(crate) const BAR_60E1: Bar =
        Bar { weight_n_per_m: 60.21 * STANDARD_GRAVITY_M_S2, stiffness_n_m2: 210.0e9 * 3_038.3e-8 };

    /// Section moduli of the head of 60E1 in m3.
    const HEAD_M3: f64 = 333.6e-6;

    #[track_caller]
    pub(crate) fn within(value: f64, expected: f64, share: f64) {
        assert!((value - expected).abs() <= share * expected.abs(), "{value}, expected {expected}");
    }

    // Project test values (mechanics.md 6): 60E1 at 1.2 m.
    #[test]
    fn a_free_end_at_1_2_m_hangs_over_23_62_m_with_41_2_kn_m() {
        let lead = Lead::free_end(BAR_60E1, 1.2);
        within(lead.length_m, 23.62, 5.0e-4);
        within(lead.largest_moment_nm(), 41_200.0, 2.0e-3);
        within(lead.largest_moment_nm() / HEAD_M3, 123.0e6, 5.0e-3);
        let l = lead.length_m;
        within(lead.largest_moment_nm(), BAR_60E1.weight_n_per_m * l * l / 8.0, 1.0e-12);
        within(lead.support_n, BAR_60E1.weight_n_per_m * l / 2.0, 1.0e-12);
        let slope = BAR_60E1.weight_n_per_m * l * l * l / (12.0 * BAR_60E1.stiffness_n_m2);
        within(lead.slope_rad, slope, 1.0e-12);
        assert!(lead.support_moment_nm.abs() < 1.0e-6);
    }

    #[test]
    fn held_level_at_1_2_m_it_hangs_over_31_08_m_with_95_1_kn_m() {
        let lead = Lead::held_level(BAR_60E1, 1.2);
        within(lead.length_m, 31.08, 5.0e-4);
        within(lead.largest_moment_nm(), 95_100.0, 1.0e-3);
        within(lead.largest_moment_nm() / HEAD_M3, 285.0e6, 1.0e-3);
        let ql2 = BAR_60E1.weight_n_per_m * lead.length_m * lead.length_m;
        within(lead.support_moment_nm, -ql2 / 6.0, 1.0e-12);
        within(lead.largest_sagging().0, ql2 / 18.0, 1.0e-12);
        within(lead.support_n, 2.0 * BAR_60E1.weight_n_per_m * lead.length_m / 3.0, 1.0e-12);
        assert!(lead.slope_rad.abs() < 1.0e-12);
    }

    // Project facts, section 6: lifting a rail off a flat bed by its end, and by a point away from the ends.
    #[test]
    fn lifting_by_the_end_and_by_a_point_is_the_same_two_cases() {
        let by_end = Lead::free_end(BAR_60E1, 1.0);
        within(by_end.length_m, 22.57, 5.0e-4);
        within(by_end.support_n, 6_662.0, 5.0e-4);
        let by_point = Lead::held_level(BAR_60E1, 1.0);
        within(by_point.length_m, 29.70, 5.0e-4);
        within(by_point.support_moment_nm, -86_800.0, 5.0e-4);
        // The hook carries both sides: 4 q l / 3.
        within(2.0 * by_point.support_n, 4.0 / 3.0 * BAR_60E1.weight_n_per_m * by_point.length_m, 1.0e-12);
    }

    #[test]
    fn a_given_slope_has_the_free_end_and_the_level_one_as_its_cases() {
        let (free, level) = (Lead::free_end(BAR_60E1, 1.2), Lead::held_level(BAR_60E1, 1.2));
        within(Lead::with_slope(BAR_60E1, 1.2, 0.0).length_m, level.length_m, 1.0e-12);
        within(Lead::with_slope(BAR_60E1, 1.2, free.slope_rad).length_m, free.length_m, 1.0e-12);
        for slope_rad in [-0.02, 0.01, 0.03, 0.2] {
            let lead = Lead::with_slope(BAR_60E1, 1.2, slope_rad);
            within(lead.slope_rad, slope_rad, 1.0e-9);
            // The project's other form: A = 2 (slope + q L^3 / 6 E I) / L^2, M = E I A L - q L^2 / 2.
            let (q, ei, l) = (BAR_60E1.weight_n_per_m, BAR_60E1.stiffness_n_m2, lead.length_m);
            let a = 2.0 * (slope_rad + q * l * l * l / (6.0 * ei)) / (l * l);
            let moment_nm = ei * a * l - q * l * l / 2.0;
            assert!((lead.support_moment_nm - moment_nm).abs() < 1.0e-9 * q * l * l);
        }
    }

    #[test]
    fn a_tail_beyond_the_support_hogs_by_its_own_weight_and_none_is_a_free_end() {
        let free = Lead::free_end(BAR_60E1, 1.2);
        within(Lead::with_tail(BAR_60E1, 1.2, 0.0).length_m, free.length_m, 1.0e-12);
        let lead = Lead::with_tail(BAR_60E1, 1.2, 5.0);
        within(lead.support_moment_nm, -BAR_60E1.weight_n_per_m * 12.5, 1.0e-9);
        assert!(lead.length_m > free.length_m);
    }

    #[test]
    fn the_lead_meets_the_seat_level_and_the_support_at_its_height() {
        for lead in [Lead::free_end(BAR_60E1, 0.7), Lead::with_slope(BAR_60E1, 1.5, 0.05)] {
            within(lead.height_at_m(lead.length_m), lead.height_m, 1.0e-9);
            assert!(lead.height_at_m(0.0).abs() < 1.0e-15 && lead.moment_nm(0.0).abs() < 1.0e-15);
            within(lead.seat_n + lead.support_n, lead.bar.weight_n_per_m * lead.length_m, 1.0e-12);
            assert!((lead.moment_nm(lead.length_m) - lead.support_moment_nm).abs() < 1.0e-6);
        }
    }
}
