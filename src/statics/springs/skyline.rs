//! A symmetric positive definite matrix of which only a skyline is not zero, and its Cholesky factor.

/// A lower triangle by rows, each from its first column that may differ from zero to the diagonal.
#[derive(Clone, Debug, Default)]
pub(super) struct Skyline {
    first: Vec<usize>,
    start: Vec<usize>,
    values: Vec<f64>,
}

impl Skyline {
    /// A matrix of zeros whose row `i` begins at column `first[i]`, at most `i`.
    pub(super) fn zero(first: Vec<usize>) -> Self {
        let mut start = Vec::with_capacity(first.len());
        let mut length = 0;
        for (row, first) in first.iter().enumerate() {
            start.push(length);
            length += row + 1 - first;
        }
        Self { first, start, values: vec![0.0; length] }
    }

    /// Adds to the value at two indices, in either order; they must lie within the skyline.
    pub(super) fn add(&mut self, one: usize, other: usize, value: f64) {
        let (row, column) = (one.max(other), one.min(other));
        let at = self.start[row] + column - self.first[row];
        self.values[at] += value;
    }

    /// Replaces the matrix by its Cholesky factor.
    pub(super) fn factor(&mut self) {
        for row in 0..self.first.len() {
            let (done, rest) = self.values.split_at_mut(self.start[row]);
            let first = self.first[row];
            for column in first..row {
                let from = first.max(self.first[column]);
                let other = self.start[column] + from - self.first[column];
                let other = &done[other..other + column - from];
                let sum = dot(&rest[from - first..column - first], other);
                let diagonal = done[self.start[column] + column - self.first[column]];
                rest[column - first] = (rest[column - first] - sum) / diagonal;
            }
            let own = &rest[..row - first];
            let sum = dot(own, own);
            rest[row - first] = (rest[row - first] - sum).sqrt();
        }
    }

    /// Solves for `right` in place; the matrix must have been factored.
    pub(super) fn solve(&self, right: &mut [f64]) {
        for row in 0..right.len() {
            let (first, values) = (self.first[row], self.row(row));
            let sum = dot(&values[..row - first], &right[first..row]);
            right[row] = (right[row] - sum) / values[row - first];
        }
        for row in (0..right.len()).rev() {
            let (first, values) = (self.first[row], self.row(row));
            right[row] /= values[row - first];
            let solved = right[row];
            for (value, right) in values[..row - first].iter().zip(&mut right[first..row]) {
                *right -= value * solved;
            }
        }
    }

    fn row(&self, row: usize) -> &[f64] {
        &self.values[self.start[row]..self.start[row] + row + 1 - self.first[row]]
    }
}

/// Four sums side by side, so that one addition need not wait for the last.
fn dot(one: &[f64], other: &[f64]) -> f64 {
    let mut sums = [0.0; 4];
    let (ones, others) = (one.chunks_exact(4), other.chunks_exact(4));
    let rest: f64 = ones.remainder().iter().zip(others.remainder()).map(|(a, b)| a * b).sum();
    for (a, b) in ones.zip(others) {
        for lane in 0..4 {
            sums[lane] += a[lane] * b[lane];
        }
    }
    (sums[0] + sums[1]) + (sums[2] + sums[3]) + rest
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_solution_put_into_the_equations_gives_their_right_side() {
        let first = vec![0, 0, 1, 1, 3, 0, 5, 2, 4];
        let n = first.len();
        let mut matrix = Skyline::zero(first.clone());
        let mut full = vec![vec![0.0; n]; n];
        for row in 0..n {
            #[expect(
                clippy::needless_range_loop,
                reason = "row and column stand for the same places in two matrices"
            )]
            for column in first[row]..=row {
                let value =
                    if row == column { 20.0 + row as f64 } else { ((row * 7 + column * 3) % 5) as f64 - 1.7 };
                matrix.add(column, row, value);
                full[row][column] = value;
                full[column][row] = value;
            }
        }
        let right: Vec<f64> = (0..n).map(|i| (i as f64).sin() + 0.3).collect();
        let mut solution = right.clone();
        matrix.factor();
        matrix.solve(&mut solution);
        for (row, right) in full.iter().zip(&right) {
            let sum: f64 = row.iter().zip(&solution).map(|(a, b)| a * b).sum();
            assert!((sum - right).abs() < 1.0e-12, "{sum} {right}");
        }
    }
}
