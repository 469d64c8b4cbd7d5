//! Which of a string's level supports carry, and with what moments and reactions: one-sided contact.
//!
//! Clapeyron's three-moment equations give the reactions of a set of carrying supports; the set itself is
//! found by the search of [`one_sided`](super::one_sided).

use super::Beam;
use super::one_sided::{OneSided, Resting, distinct};

/// Share of its own terms below which a penetration is rounding.
const PENETRATION_SLACK: f64 = 1.0e-12;

/// The carrying supports of a beam with their moments and reactions.
#[derive(Debug, Default)]
pub(super) struct Contact {
    /// Indices of the carrying supports, growing; at least two.
    pub(super) on: Vec<usize>,
    /// x of each in m.
    pub(super) places_m: Vec<f64>,
    /// Moment over each in N m.
    pub(super) moments_nm: Vec<f64>,
    /// Reaction of each in N, not below zero once settled.
    pub(super) reactions_n: Vec<f64>,
    sweep: Vec<f64>,
}

impl Resting for Beam<'_> {
    fn supports_m(&self) -> &[f64] {
        self.supports_m
    }

    fn ends_m(&self) -> (f64, f64) {
        (self.front_m, self.rear_m)
    }

    fn weight_n_per_m(&self) -> f64 {
        self.weight_n_per_m
    }
}

impl Contact {
    /// The carrying supports of `beam`, whose supports must be [`astride`](super::one_sided::astride) its centre.
    pub(super) fn settle(beam: &Beam<'_>) -> Self {
        let mut contact = Self::default();
        contact.on.extend(distinct(beam.supports_m));
        contact.solve(beam);
        if !contact.only_pushes(beam) {
            contact.drop_what_pulls(beam);
            contact.add_what_is_penetrated(beam);
        }
        contact.reactions_n.iter_mut().for_each(|reaction| *reaction = reaction.max(0.0));
        contact
    }

    /// The span behind carrying support `k` of the set.
    pub(super) fn span(&self, beam: &Beam<'_>, k: usize) -> Span {
        let length_m = self.places_m[k + 1] - self.places_m[k];
        Span::new(length_m, (self.moments_nm[k], self.moments_nm[k + 1]), beam.weight_n_per_m)
    }

    /// The overhangs in front of the first and behind the last carrying support.
    pub(super) fn overhangs(&self, beam: &Beam<'_>) -> (Overhang, Overhang) {
        let last = self.on.len() - 1;
        let (q, x) = (beam.weight_n_per_m, &self.places_m);
        let (front, rear) = (self.span(beam, 0), self.span(beam, last - 1));
        let rise = |span: Span, near: f64, far: f64| {
            let l = span.length_m;
            near * l / 3.0 + far * l / 6.0 + q * l * l * l / 24.0
        };
        (
            Overhang { length_m: x[0] - beam.front_m, rise_nm2: rise(front, front.from_nm, front.to_nm), q },
            Overhang { length_m: beam.rear_m - x[last], rise_nm2: rise(rear, rear.to_nm, rear.from_nm), q },
        )
    }
}

impl OneSided<Beam<'_>> for Contact {
    fn on(&mut self) -> &mut Vec<usize> {
        &mut self.on
    }

    fn reactions_n(&mut self) -> &mut Vec<f64> {
        &mut self.reactions_n
    }

    /// Moments and reactions of the set by the three-moment equations, pulling allowed.
    fn solve(&mut self, beam: &Beam<'_>) {
        let q = beam.weight_n_per_m;
        let n = self.on.len();
        self.places_m.clear();
        self.places_m.extend(self.on.iter().map(|support| beam.supports_m[*support]));
        let x = &self.places_m;
        let (front_m, rear_m) = (x[0] - beam.front_m, beam.rear_m - x[n - 1]);
        // Forward sweep: M[i] = moments[i] - sweep[i] M[i+1]; diagonally dominant, so it needs no pivots.
        self.moments_nm.clear();
        self.sweep.clear();
        self.moments_nm.push(-q * front_m * front_m / 2.0);
        self.sweep.push(0.0);
        for i in 1..n - 1 {
            let (l1, l2) = (x[i] - x[i - 1], x[i + 1] - x[i]);
            let pivot = 2.0 * (l1 + l2) - l1 * self.sweep[i - 1];
            let load = -q * (l1 * l1 * l1 + l2 * l2 * l2) / 4.0;
            self.moments_nm.push((load - l1 * self.moments_nm[i - 1]) / pivot);
            self.sweep.push(l2 / pivot);
        }
        self.moments_nm.push(-q * rear_m * rear_m / 2.0);
        let m = &mut self.moments_nm;
        for i in (1..n - 1).rev() {
            m[i] -= self.sweep[i] * m[i + 1];
        }
        self.reactions_n.clear();
        let mut from_front_n = q * front_m;
        for i in 0..n - 1 {
            let length_m = x[i + 1] - x[i];
            let tilt_n = (m[i + 1] - m[i]) / length_m;
            self.reactions_n.push(from_front_n + q * length_m / 2.0 + tilt_n);
            from_front_n = q * length_m / 2.0 - tilt_n;
        }
        self.reactions_n.push(from_front_n + q * rear_m);
    }

    /// The support outside the set into which the beam sinks deepest, if any.
    fn most_penetrated(&self, beam: &Beam<'_>) -> Option<usize> {
        let (first, last) = (self.on[0], self.on[self.on.len() - 1]);
        let x = beam.supports_m;
        let (front, rear) = self.overhangs(beam);
        let in_front = (0..first).map(|i| (i, front.sinks(x[first] - x[i])));
        let behind = (last + 1..x.len()).map(|i| (i, rear.sinks(x[i] - x[last])));
        let between = self.on.windows(2).enumerate().flat_map(|(k, pair)| {
            let span = self.span(beam, k);
            (pair[0] + 1..pair[1]).map(move |i| (i, span.sinks(x[i] - x[pair[0]])))
        });
        in_front
            .chain(between)
            .chain(behind)
            .filter_map(|(i, sinks)| sinks.map(|depth| (i, depth)))
            .max_by(|a, b| a.1.total_cmp(&b.1))
            .map(|(i, _)| i)
    }
}

/// A span between two carrying supports at one level.
#[derive(Clone, Copy, Debug)]
pub(super) struct Span {
    pub(super) length_m: f64,
    /// Moments over its supports in N m.
    pub(super) from_nm: f64,
    pub(super) to_nm: f64,
    pub(super) q: f64,
    /// Shear just behind the front support in N.
    pub(super) shear_n: f64,
}

impl Span {
    /// A span of `length_m` under `q` N/m between the moments over its front and rear support in N m.
    pub(super) fn new(length_m: f64, (from_nm, to_nm): (f64, f64), q: f64) -> Self {
        Self { length_m, from_nm, to_nm, q, shear_n: q * length_m / 2.0 + (to_nm - from_nm) / length_m }
    }

    /// Moment `s_m` behind the front support in N m.
    pub(super) fn moment_nm(&self, s_m: f64) -> f64 {
        self.from_nm + self.shear_n * s_m - self.q * s_m * s_m / 2.0
    }

    /// E I times the deflection (up positive) over `-s (l - s)`: factored, so that it is exact beside a support.
    fn bow(&self, s_m: f64) -> f64 {
        let (l, s) = (self.length_m, s_m);
        (self.from_nm * (2.0 * l - s) + self.to_nm * (l + s)) / (6.0 * l)
            + self.q * (l * l + l * s - s * s) / 24.0
    }

    /// E I times the deflection `s_m` behind the front support, up positive, in N m3.
    pub(super) fn deflection_nm3(&self, s_m: f64) -> f64 {
        -s_m * (self.length_m - s_m) * self.bow(s_m)
    }

    /// E I times the slope, rising rearward positive, in N m2.
    pub(super) fn slope_nm2(&self, s_m: f64) -> f64 {
        let (l, s) = (self.length_m, s_m);
        let at_front = -(self.from_nm * l / 3.0 + self.to_nm * l / 6.0 + self.q * l * l * l / 24.0);
        at_front + s * (self.from_nm + s * (self.shear_n / 2.0 - self.q * s / 6.0))
    }

    /// How deep a support at `s_m` is penetrated, times E I.
    fn sinks(&self, s_m: f64) -> Option<f64> {
        if s_m <= 0.0 || s_m >= self.length_m {
            return None; // At the very place of a support that carries.
        }
        let terms = self.from_nm.abs() + self.to_nm.abs() + self.q * self.length_m * self.length_m;
        (self.bow(s_m) > PENETRATION_SLACK * terms).then(|| -self.deflection_nm3(s_m))
    }
}

/// The free part of a beam beyond its last carrying support.
#[derive(Clone, Copy, Debug)]
pub(super) struct Overhang {
    pub(super) length_m: f64,
    /// E I times the slope at the support, rising toward the tip positive.
    rise_nm2: f64,
    q: f64,
}

impl Overhang {
    /// Moment `d_m` beyond the support in N m.
    pub(super) fn moment_nm(&self, d_m: f64) -> f64 {
        let beyond_m = self.length_m - d_m;
        -self.q * beyond_m * beyond_m / 2.0
    }

    /// E I times the deflection at the tip, up positive, in N m3.
    pub(super) fn tip_nm3(&self) -> f64 {
        let c = self.length_m;
        c * (self.rise_nm2 - self.q * c * c * c / 8.0)
    }

    fn sinks(&self, d_m: f64) -> Option<f64> {
        let (c, d) = (self.length_m, d_m);
        let droop_nm2 = self.q * d * (6.0 * c * c - 4.0 * c * d + d * d) / 24.0;
        let bow = droop_nm2 - self.rise_nm2;
        (d > 0.0 && bow > PENETRATION_SLACK * (droop_nm2 + self.rise_nm2.abs())).then_some(d * bow)
    }
}
