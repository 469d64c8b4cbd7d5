//! The bending chain of a string over its carrying supports: three-moment equations, factored once.

/// Supports of a string that carry, and the three-moment matrix over them, factored.
#[derive(Clone, Debug, Default)]
pub(super) struct Spine {
    /// x of each in m.
    pub(super) places_m: Vec<f64>,
    /// One over the span behind each support but the last, in 1/m.
    per_span: Vec<f64>,
    /// One over the pivot of each interior row.
    per_pivot: Vec<f64>,
    sweep: Vec<f64>,
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

    /// How much a unit of height at support `j` changes the slope at interior support `i`, a neighbour or itself.
    pub(super) fn kink_of(&self, i: usize, j: usize) -> f64 {
        if j == i { -self.per_span[i - 1] - self.per_span[i] } else { self.per_span[i.min(j)] }
    }

    /// Solves the three-moment equations: `rows` holds the right sides of the interior supports, and at its ends
    /// the moments there; the rows in front of `first` are zero. Leaves the moments in it.
    pub(super) fn solve<const N: usize>(&self, rows: &mut [[f64; N]], first: usize) {
        let n = rows.len();
        for i in first.max(1)..n - 1 {
            let l1 = self.span_m(i - 1);
            for c in 0..N {
                rows[i][c] = (rows[i][c] - l1 * rows[i - 1][c]) * self.per_pivot[i];
            }
        }
        for i in (1..n - 1).rev() {
            for c in 0..N {
                rows[i][c] -= self.sweep[i] * rows[i + 1][c];
            }
        }
    }

    /// What the moments alone add to the reactions: differences of their slopes.
    pub(super) fn tilt_n(&self, moments_nm: &[[f64; 1]], k: usize) -> f64 {
        let last = self.places_m.len() - 1;
        let ahead =
            if k > 0 { (moments_nm[k - 1][0] - moments_nm[k][0]) * self.per_span[k - 1] } else { 0.0 };
        let behind =
            if k < last { (moments_nm[k + 1][0] - moments_nm[k][0]) * self.per_span[k] } else { 0.0 };
        ahead + behind
    }
}
