//! The bending chain of a string over its carrying supports: three-moment equations, factored once.

/// Share of a moment below which what is left of it farther on is rounding.
const INFLUENCE_SLACK: f64 = 1.0e-20;

/// Supports of a string that carry, and the three-moment matrix over them, factored.
#[derive(Clone, Debug, Default)]
pub(super) struct Spine {
    /// x of each in m.
    pub(super) places_m: Vec<f64>,
    /// One over the span behind each support but the last, in 1/m.
    per_span: Vec<f64>,
    /// One over the pivot of each interior row.
    per_pivot: Vec<f64>,
    /// From the front: how much less a moment is where the one behind it is one and nothing loads it.
    sweep: Vec<f64>,
    /// The same from the rear, of the one ahead of it.
    sweep_back: Vec<f64>,
}

impl Spine {
    /// Takes over other supports: x in m, growing, at least two.
    pub(super) fn stand_on(&mut self, places_m: impl Iterator<Item = f64>) {
        self.places_m.clear();
        self.places_m.extend(places_m);
        let x = &self.places_m;
        self.per_span.clear();
        self.per_span.extend(x.windows(2).map(|pair| 1.0 / (pair[1] - pair[0])));
        self.per_pivot.clear();
        self.per_pivot.push(0.0);
        self.sweep.clear();
        self.sweep.push(0.0);
        for i in 1..x.len().saturating_sub(1) {
            let (l1, l2) = (x[i] - x[i - 1], x[i + 1] - x[i]);
            // Diagonally dominant, so it needs no pivoting.
            let per_pivot = 1.0 / (2.0 * (l1 + l2) - l1 * self.sweep[i - 1]);
            self.per_pivot.push(per_pivot);
            self.sweep.push(l2 * per_pivot);
        }
        self.sweep_back.clear();
        self.sweep_back.resize(x.len(), 0.0);
        for i in (1..x.len().saturating_sub(1)).rev() {
            let (l1, l2) = (x[i] - x[i - 1], x[i + 1] - x[i]);
            self.sweep_back[i] = l1 / (2.0 * (l1 + l2) - l2 * self.sweep_back[i + 1]);
        }
    }

    /// The length of the span behind support `k` in m.
    pub(super) fn span_m(&self, k: usize) -> f64 {
        self.places_m[k + 1] - self.places_m[k]
    }

    /// The change of slope at interior support `i` of the line through `heights_m`.
    pub(super) fn kink(&self, heights_m: impl Fn(usize) -> f64, i: usize) -> f64 {
        let here = heights_m(i);
        (heights_m(i + 1) - here) * self.per_span[i] - (here - heights_m(i - 1)) * self.per_span[i - 1]
    }

    /// Solves the three-moment equations: `moments` holds the right sides of the interior supports, and at its ends
    /// the moments there. Leaves the moments in it.
    pub(super) fn solve(&self, moments: &mut [f64]) {
        let n = moments.len();
        for i in 1..n - 1 {
            moments[i] = (moments[i] - self.span_m(i - 1) * moments[i - 1]) * self.per_pivot[i];
        }
        for i in (1..n - 1).rev() {
            moments[i] -= self.sweep[i] * moments[i + 1];
        }
    }

    /// The moments over 6 E I where support `at` alone rises by one; right from the front up to the support behind
    /// it. Gives the first that is not zero: influence dies quickly from span to span.
    pub(super) fn raise(&self, at: usize, moments: &mut [f64]) -> usize {
        let n = self.places_m.len();
        moments[..=(at + 1).min(n - 1)].fill(0.0);
        let (first, last) = (at.saturating_sub(1).max(1), (at + 1).min(n - 2));
        if first > last {
            return 0;
        }
        for i in first..=last {
            let ahead = if i > first { self.span_m(i - 1) * moments[i - 1] } else { 0.0 };
            let right = self.kink_of(i, at) - ahead;
            // The last row stands for all behind it, which nothing else loads.
            let behind = if i == last { self.span_m(i) * self.sweep_back[i + 1] } else { 0.0 };
            moments[i] = right / (1.0 / self.per_pivot[i] - behind);
        }
        for i in (first..last).rev() {
            moments[i] -= self.sweep[i] * moments[i + 1];
        }
        let negligible = INFLUENCE_SLACK * moments[first].abs().max(moments[last].abs());
        for i in (1..first).rev() {
            moments[i] = -self.sweep[i] * moments[i + 1];
            if moments[i].abs() < negligible {
                return i - 1;
            }
        }
        0
    }

    /// How much a unit of height at support `j` changes the slope at interior support `i`, a neighbour or itself.
    fn kink_of(&self, i: usize, j: usize) -> f64 {
        if j == i { -self.per_span[i - 1] - self.per_span[i] } else { self.per_span[i.min(j)] }
    }

    /// What the moments alone add to the reactions: differences of their slopes.
    pub(super) fn tilt_n(&self, moments_nm: &[f64], k: usize) -> f64 {
        let last = self.places_m.len() - 1;
        let ahead = if k > 0 { (moments_nm[k - 1] - moments_nm[k]) * self.per_span[k - 1] } else { 0.0 };
        let behind = if k < last { (moments_nm[k + 1] - moments_nm[k]) * self.per_span[k] } else { 0.0 };
        ahead + behind
    }
}
