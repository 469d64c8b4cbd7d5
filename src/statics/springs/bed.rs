//! One string on racks of unequal height, with one-sided contact.
//!
//! The carrying supports are found as for level ones, by the search of `one_sided`. Level supports give the
//! reactions of the level model; a test compares the two.

use super::spine::Spine;
use crate::statics::one_sided::{OneSided, Resting};

/// Depth below which a support is not penetrated, in m: a tenth of a nanometre.
const DEPTH_SLACK_M: f64 = 1.0e-10;

/// A string as a beam.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Rod {
    /// x of the front end in m.
    pub(super) front_m: f64,
    /// x of the rear end in m.
    pub(super) rear_m: f64,
    /// Weight per length in N/m.
    pub(super) weight_n_per_m: f64,
    /// E I in N m2.
    pub(super) stiffness_n_m2: f64,
}

/// Racks at given heights under a string: two at least must stand astride its middle.
#[derive(Clone, Copy, Debug)]
pub(super) struct Bed<'a> {
    pub(super) rod: Rod,
    /// x of the supports in m, growing.
    pub(super) supports_m: &'a [f64],
    /// Height of each in m.
    pub(super) heights_m: &'a [f64],
}

/// How a string lies: the supports that carry it, with reactions and moments.
#[derive(Clone, Debug, Default)]
pub(super) struct Lying {
    /// Indices of the carrying supports, growing.
    pub(super) on: Vec<usize>,
    /// Reaction of each in N, not below zero once settled.
    pub(super) reactions_n: Vec<f64>,
    /// Moment over each in N m.
    moments_nm: Vec<f64>,
    /// The bending chain over them.
    pub(super) spine: Spine,
    /// The supports that the chain was made for.
    spine_on: Vec<usize>,
}

impl Lying {
    /// A string that is first tried on the supports `on`.
    pub(super) fn on(on: Vec<usize>) -> Self {
        Self { on, ..Self::default() }
    }

    /// Finds the carrying supports and their reactions, beginning with those that carried before.
    pub(super) fn settle(&mut self, bed: &Bed<'_>) {
        self.solve(bed);
        if !self.only_pushes(bed) {
            self.drop_what_pulls(bed);
        }
        self.add_what_is_penetrated(bed);
        self.reactions_n.iter_mut().for_each(|reaction| *reaction = reaction.max(0.0));
    }

    /// Height of the string at `x_m`.
    fn height_m(&self, bed: &Bed<'_>, x_m: f64) -> f64 {
        let (x, last) = (&self.spine.places_m, self.on.len() - 1);
        let height = |k: usize| bed.heights_m[self.on[k]];
        if x_m < x[0] {
            let rise = -self.slope(bed, 0, 1);
            return height(0) + overhang_m(bed, x[0] - bed.rod.front_m, x[0] - x_m, rise);
        }
        if x_m > x[last] {
            let rise = self.slope(bed, last, last - 1);
            return height(last) + overhang_m(bed, bed.rod.rear_m - x[last], x_m - x[last], rise);
        }
        let k = x.partition_point(|place| *place <= x_m).clamp(1, last) - 1;
        let (l, s) = (self.spine.span_m(k), x_m - x[k]);
        let (from_nm, to_nm) = (self.moments_nm[k], self.moments_nm[k + 1]);
        let bow = (from_nm * (2.0 * l - s) + to_nm * (l + s)) / (6.0 * l)
            + bed.rod.weight_n_per_m * (l * l + l * s - s * s) / 24.0;
        let straight = height(k) + (height(k + 1) - height(k)) * s / l;
        straight - s * (l - s) * bow / bed.rod.stiffness_n_m2
    }

    /// The slope of the string over its outermost carrying support `at`, rising rearward, `next` its neighbour.
    fn slope(&self, bed: &Bed<'_>, at: usize, next: usize) -> f64 {
        let x = &self.spine.places_m;
        let run_m = x[next] - x[at];
        let chord = (bed.heights_m[self.on[next]] - bed.heights_m[self.on[at]]) / run_m;
        let l = run_m.abs();
        let moments = (2.0 * self.moments_nm[at] + self.moments_nm[next]) * l / 6.0;
        let bend = (bed.rod.weight_n_per_m * l * l * l / 24.0 + moments) / bed.rod.stiffness_n_m2;
        chord - bend * run_m.signum()
    }
}

/// How much higher the string is `d_m` beyond an outermost support from which it overhangs by `length_m`.
fn overhang_m(bed: &Bed<'_>, length_m: f64, d_m: f64, rise: f64) -> f64 {
    let (c, d) = (length_m, d_m);
    let droop = bed.rod.weight_n_per_m * d * d * (6.0 * c * c - 4.0 * c * d + d * d) / 24.0;
    rise * d - droop / bed.rod.stiffness_n_m2
}

impl Resting for Bed<'_> {
    fn supports_m(&self) -> &[f64] {
        self.supports_m
    }

    fn ends_m(&self) -> (f64, f64) {
        (self.rod.front_m, self.rod.rear_m)
    }

    fn weight_n_per_m(&self) -> f64 {
        self.rod.weight_n_per_m
    }
}

impl OneSided<Bed<'_>> for Lying {
    fn on(&mut self) -> &mut Vec<usize> {
        &mut self.on
    }

    fn reactions_n(&mut self) -> &mut Vec<f64> {
        &mut self.reactions_n
    }

    /// Moments and reactions of the set, pulling allowed.
    fn solve(&mut self, bed: &Bed<'_>) {
        if self.spine_on != self.on {
            self.spine.stand_on(self.on.iter().map(|support| bed.supports_m[*support]));
            self.spine_on.clone_from(&self.on);
        }
        let (spine, n) = (&self.spine, self.on.len());
        let (q, x) = (bed.rod.weight_n_per_m, &spine.places_m);
        let (front_m, rear_m) = (x[0] - bed.rod.front_m, bed.rod.rear_m - x[n - 1]);
        let m = &mut self.moments_nm;
        m.clear();
        m.push(-q * front_m * front_m / 2.0);
        for i in 1..n - 1 {
            let (l1, l2) = (spine.span_m(i - 1), spine.span_m(i));
            let kink = spine.kink(|k| bed.heights_m[self.on[k]], i);
            m.push(-q * (l1 * l1 * l1 + l2 * l2 * l2) / 4.0 + 6.0 * bed.rod.stiffness_n_m2 * kink);
        }
        m.push(-q * rear_m * rear_m / 2.0);
        spine.solve(m);
        self.reactions_n.clear();
        for k in 0..n {
            let ahead_m = if k > 0 { spine.span_m(k - 1) / 2.0 } else { front_m };
            let behind_m = if k + 1 < n { spine.span_m(k) / 2.0 } else { rear_m };
            self.reactions_n.push(q * (ahead_m + behind_m) + spine.tilt_n(m, k));
        }
    }

    /// The support outside the set into which the string sinks deepest, if any.
    fn most_penetrated(&self, bed: &Bed<'_>) -> Option<usize> {
        if self.on.len() == bed.supports_m.len() {
            return None;
        }
        let mut carrying = self.on.iter().peekable();
        let outside = (0..bed.supports_m.len()).filter(|support| {
            let carries = carrying.peek() == Some(&support);
            if carries {
                carrying.next();
            }
            !carries
        });
        outside
            .map(|support| (support, bed.heights_m[support] - self.height_m(bed, bed.supports_m[support])))
            .filter(|(_, depth_m)| *depth_m > DEPTH_SLACK_M)
            .max_by(|a, b| a.1.total_cmp(&b.1))
            .map(|(support, _)| support)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::statics::Beam;
    use crate::statics::one_sided::astride;

    /// 60E1: 60.21 kg/m, 3,038.3 cm4 (EN 13674-1), E 210 GPa.
    const WEIGHT_N_PER_M: f64 = 60.21 * 9.806_65;
    const STIFFNESS_N_M2: f64 = 210.0e9 * 3_038.3e-8;

    fn settled(supports_m: &[f64], heights_m: &[f64], ends_m: (f64, f64)) -> Lying {
        let rod = Rod {
            front_m: ends_m.0,
            rear_m: ends_m.1,
            weight_n_per_m: WEIGHT_N_PER_M,
            stiffness_n_m2: STIFFNESS_N_M2,
        };
        let mut lying = Lying::on((0..supports_m.len()).collect());
        lying.settle(&Bed { rod, supports_m, heights_m });
        lying
    }

    // Shared facts, section 6 (computed there, E 210 GPa): two spans of 6 m, middle support low by 0, 5, 10, 20
    // and 24.99 mm: 4,428, 3,542, 2,656, 884 and 0 N. Exact: 10/8 q l - 48 E I d/(2 l)^3, gone at 24.99 mm.
    #[test]
    fn a_low_middle_support_of_two_spans_carries_what_the_table_says() {
        for (low_mm, reaction_n) in
            [(0.0, 4_428.0), (5.0, 3_542.0), (10.0, 2_656.0), (20.0, 884.0), (24.99, 0.0), (30.0, 0.0)]
        {
            let lying = settled(&[0.0, 6.0, 12.0], &[0.0, -low_mm / 1000.0, 0.0], (0.0, 12.0));
            let middle_n =
                lying.on.iter().position(|support| *support == 1).map_or(0.0, |k| lying.reactions_n[k]);
            assert!((middle_n - reaction_n).abs() < 2.0, "{low_mm} mm: {middle_n}");
            let exact_n =
                1.25 * WEIGHT_N_PER_M * 6.0 - 48.0 * STIFFNESS_N_M2 * low_mm / 1000.0 / 12f64.powi(3);
            assert!((middle_n - exact_n.max(0.0)).abs() < 1.0e-6, "{low_mm} mm: {middle_n} of {exact_n}");
        }
    }

    // Shared mechanics, section 1: one interior support of many equal spans lifts where it is low by more than
    // q L^4/(14.35 E I).
    #[test]
    fn one_low_support_of_many_lifts_where_the_closed_form_says() {
        for span_m in [6.633, 5.5] {
            let places_m: Vec<f64> = (0..41).map(|i| f64::from(i) * span_m).collect();
            let lifts = |share: f64| {
                let mut heights_m = vec![0.0; 41];
                heights_m[20] = -share * WEIGHT_N_PER_M * f64::powi(span_m, 4) / 14.35 / STIFFNESS_N_M2;
                !settled(&places_m, &heights_m, (0.0, 40.0 * span_m)).on.contains(&20)
            };
            assert!(!lifts(0.999) && lifts(1.001), "{span_m}");
        }
    }

    /// Numbers from 0 to 1, always the same ones.
    fn numbers(seed: u64) -> impl FnMut() -> f64 {
        let mut state = seed;
        move || {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            (state >> 11) as f64 / (1u64 << 53) as f64
        }
    }

    #[test]
    fn level_supports_give_what_the_level_model_gives() {
        let mut next = numbers(7);
        for _ in 0..500 {
            let count = 2 + (next() * 12.0) as usize;
            let mut places_m = vec![0.0];
            for _ in 1..count {
                places_m.push(places_m[places_m.len() - 1] + 0.3 + 12.0 * next() * next());
            }
            let ends_m = (-3.0 * next(), places_m[count - 1] + 3.0 * next());
            let beam = Beam {
                supports_m: &places_m,
                front_m: ends_m.0,
                rear_m: ends_m.1,
                weight_n_per_m: WEIGHT_N_PER_M,
                stiffness_n_m2: STIFFNESS_N_M2,
            };
            let Ok(level) = beam.solve() else { continue };
            let lying = settled(&places_m, &vec![0.0; count], ends_m);
            let mut reactions_n = vec![0.0; count];
            lying.on.iter().zip(&lying.reactions_n).for_each(|(at, n)| reactions_n[*at] = *n);
            for (one, other) in reactions_n.iter().zip(&level.reactions_n) {
                assert!((one - other).abs() < 1.0e-3, "{reactions_n:?} {:?}", level.reactions_n);
            }
        }
    }

    #[test]
    fn contact_is_one_sided_at_any_heights_and_the_string_stays_in_equilibrium() {
        let mut next = numbers(11);
        for _ in 0..1_000 {
            let count = 2 + (next() * 14.0) as usize;
            let mut places_m = vec![0.0];
            for _ in 1..count {
                places_m.push(places_m[places_m.len() - 1] + 0.3 + 12.0 * next() * next());
            }
            let ends_m = (-2.0 * next(), places_m[count - 1] + 2.0 * next());
            let centre_m = f64::midpoint(ends_m.0, ends_m.1);
            if !astride(&places_m, centre_m) {
                continue;
            }
            let heights_m: Vec<f64> = places_m.iter().map(|_| 0.04 * (next() - 0.5)).collect();
            let lying = settled(&places_m, &heights_m, ends_m);
            let weight_n = WEIGHT_N_PER_M * (ends_m.1 - ends_m.0);
            let sum_n: f64 = lying.reactions_n.iter().sum();
            let moment: f64 =
                lying.on.iter().zip(&lying.reactions_n).map(|(at, n)| n * (places_m[*at] - centre_m)).sum();
            assert!((sum_n - weight_n).abs() < 1.0e-6 * weight_n && moment.abs() < 1.0e-5 * weight_n);
            assert!(lying.reactions_n.iter().all(|n| *n >= 0.0));
            let rod = Rod {
                front_m: ends_m.0,
                rear_m: ends_m.1,
                weight_n_per_m: WEIGHT_N_PER_M,
                stiffness_n_m2: STIFFNESS_N_M2,
            };
            let bed = Bed { rod, supports_m: &places_m, heights_m: &heights_m };
            for (place_m, height_m) in places_m.iter().zip(&heights_m) {
                assert!(height_m - lying.height_m(&bed, *place_m) < 1.0e-9);
            }
        }
    }
}
