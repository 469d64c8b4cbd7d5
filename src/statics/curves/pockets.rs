//! A string bent sideways through its pockets: a beam whose place at each rack may differ from the pocket's by
//! the side play, one way or the other.
//!
//! The string takes the places that bend it least. It touches a pocket's side only where that side pushes it:
//! the touched sides are found by trying a set, freeing the sides that would have to pull and touching those
//! that are passed, until nothing changes; where that does not end, by an active set that only ever lowers the
//! bending energy (Nocedal and Wright, Numerical Optimization, 2nd edition, section 16.5).

/// How far a string may seem to pass a pocket's side by rounding, in m.
const PLACE_SLACK_M: f64 = 1.0e-9;

/// Rounds of the quick search before the certain one.
const QUICK_ROUNDS: usize = 40;

/// Where a string is at a rack.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Touch {
    /// Between the sides of its pocket: no side force.
    #[default]
    Free,
    /// At the side toward growing offsets (right): it can only be pushed left.
    Right,
    /// At the left side: it can only be pushed right.
    Left,
    /// In a pocket without play.
    Tight,
}

/// A pocket that a string lies in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pocket {
    /// x in m.
    pub x_m: f64,
    /// Offset of the pocket's middle in m, right positive.
    pub offset_m: f64,
    /// Free side movement each way in m, zero or above.
    pub play_m: f64,
}

/// A string bent through its pockets; kept between places on the track, because the next place is like the last.
#[derive(Clone, Debug, Default)]
pub struct BentString {
    /// Pockets, x strictly growing.
    pub pockets: Vec<Pocket>,
    /// E I about the vertical axis in N m2.
    pub stiffness_n_m2: f64,
    /// By pocket, where the string touches.
    pub touches: Vec<Touch>,
    /// By pocket, offset of the string in m.
    pub places_m: Vec<f64>,
    /// By pocket, bending moment in N m, positive where the string bends to the right (its curvature times E I).
    pub moments_nm: Vec<f64>,
    /// By pocket, force of the rack on the string in N, right positive.
    pub forces_n: Vec<f64>,
    /// Growth of the string's offset per m ahead of its first pocket and behind its last.
    pub end_slopes: [f64; 2],
    on: Vec<usize>,
    sweep: Vec<f64>,
    moments_on: Vec<f64>,
}

impl BentString {
    /// A string of `stiffness_n_m2` that has not been solved yet.
    pub fn new(stiffness_n_m2: f64) -> Self {
        Self { stiffness_n_m2, ..Self::default() }
    }

    /// Finds touches, places, moments and forces for the pockets, starting from the touches of the last time.
    pub fn settle(&mut self) {
        let count = self.pockets.len();
        if self.touches.len() != count {
            self.guess();
        }
        for (touch, pocket) in self.touches.iter_mut().zip(&self.pockets) {
            match (*touch, pocket.play_m > 0.0) {
                (_, false) => *touch = Touch::Tight,
                (Touch::Tight, true) => *touch = Touch::Free,
                _ => {}
            }
        }
        for _ in 0..QUICK_ROUNDS {
            self.solve();
            if !self.change_touches() {
                return;
            }
        }
        self.descend();
    }

    /// The largest moment of either sign in N m and the pocket where it acts; between pockets it is smaller.
    pub fn peak(&self) -> Option<(usize, f64)> {
        let sizes = self.moments_nm.iter().map(|moment| moment.abs()).enumerate();
        sizes.max_by(|a, b| a.1.total_cmp(&b.1))
    }

    /// Offset of the string at `x_m` in m; straight beyond its outer pockets.
    pub fn at_m(&self, x_m: f64) -> f64 {
        let next = self.pockets.partition_point(|pocket| pocket.x_m <= x_m);
        let count = self.pockets.len();
        if count == 0 {
            return 0.0;
        }
        if next == 0 {
            return self.places_m[0] + self.end_slopes[0] * (x_m - self.pockets[0].x_m);
        }
        if next == count {
            return self.places_m[count - 1] + self.end_slopes[1] * (x_m - self.pockets[count - 1].x_m);
        }
        let (from, to) = (next - 1, next);
        let length_m = self.pockets[to].x_m - self.pockets[from].x_m;
        let share = (x_m - self.pockets[from].x_m) / length_m;
        let ends = [self.places_m[from], self.places_m[to]];
        let moments = [self.moments_nm[from], self.moments_nm[to]];
        ends[0] + share * (ends[1] - ends[0]) - bow_nm3(moments, length_m, share) / self.stiffness_n_m2
    }

    /// First touches: the sides at which the string would push if it had no play.
    fn guess(&mut self) {
        self.touches.clear();
        self.touches.resize(self.pockets.len(), Touch::Tight);
        self.solve();
        for (touch, force) in self.touches.iter_mut().zip(&self.forces_n) {
            *touch = if *force > 0.0 { Touch::Left } else { Touch::Right };
        }
    }

    /// Solves the string over the pockets that it touches; free pockets take the place it has there.
    fn solve(&mut self) {
        self.on.clear();
        self.on.extend((0..self.pockets.len()).filter(|at| self.touches[*at] != Touch::Free));
        self.places_m.clear();
        self.places_m.extend(self.pockets.iter().zip(&self.touches).map(|(pocket, touch)| match touch {
            Touch::Right => pocket.offset_m + pocket.play_m,
            Touch::Left => pocket.offset_m - pocket.play_m,
            Touch::Free | Touch::Tight => pocket.offset_m,
        }));
        for list in [&mut self.moments_nm, &mut self.forces_n] {
            list.clear();
            list.resize(self.pockets.len(), 0.0);
        }
        if self.on.len() < 2 {
            self.lie_straight();
            return;
        }
        self.three_moments();
        self.place_the_rest();
    }

    /// Three-moment equations over the touched pockets; the ends are free of moment.
    fn three_moments(&mut self) {
        let (on, w) = (&self.on, &self.places_m);
        let n = on.len();
        let x = |k: usize| self.pockets[on[k]].x_m;
        let turn = |k: usize| (w[on[k + 1]] - w[on[k]]) / (x(k + 1) - x(k));
        self.moments_on.clear();
        self.sweep.clear();
        self.moments_on.push(0.0);
        self.sweep.push(0.0);
        for k in 1..n - 1 {
            let (l1, l2) = (x(k) - x(k - 1), x(k + 1) - x(k));
            let pivot = 2.0 * (l1 + l2) - l1 * self.sweep[k - 1];
            let load = 6.0 * self.stiffness_n_m2 * (turn(k) - turn(k - 1));
            self.moments_on.push((load - l1 * self.moments_on[k - 1]) / pivot);
            self.sweep.push(l2 / pivot);
        }
        self.moments_on.push(0.0);
        for k in (1..n - 1).rev() {
            self.moments_on[k] -= self.sweep[k] * self.moments_on[k + 1];
        }
        for k in 0..n {
            self.moments_nm[on[k]] = self.moments_on[k];
            if k + 1 < n {
                let shear_n = (self.moments_on[k + 1] - self.moments_on[k]) / (x(k + 1) - x(k));
                self.forces_n[on[k]] += shear_n;
                self.forces_n[on[k + 1]] -= shear_n;
            }
        }
    }

    /// Places and moments at the pockets that are not touched, and the slopes at the ends.
    fn place_the_rest(&mut self) {
        let n = self.on.len();
        // Turn of the chord between two touched pockets, and of the string's ends against it; the moment at an
        // outer one is zero.
        let line = |from: usize, to: usize| {
            let length_m = self.pockets[to].x_m - self.pockets[from].x_m;
            let bend = length_m * (self.moments_nm[from] + self.moments_nm[to]) / 6.0 / self.stiffness_n_m2;
            ((self.places_m[to] - self.places_m[from]) / length_m, bend)
        };
        let (front, rear) = (line(self.on[0], self.on[1]), line(self.on[n - 2], self.on[n - 1]));
        self.end_slopes = [front.0 - front.1, rear.0 + rear.1];
        let (first, last) = (self.on[0], self.on[n - 1]);
        for at in 0..first {
            let behind_m = self.pockets[first].x_m - self.pockets[at].x_m;
            self.places_m[at] = self.places_m[first] - self.end_slopes[0] * behind_m;
        }
        for at in last + 1..self.pockets.len() {
            let ahead_m = self.pockets[at].x_m - self.pockets[last].x_m;
            self.places_m[at] = self.places_m[last] + self.end_slopes[1] * ahead_m;
        }
        for k in 1..n {
            let (from, to) = (self.on[k - 1], self.on[k]);
            let length_m = self.pockets[to].x_m - self.pockets[from].x_m;
            let moments = [self.moments_nm[from], self.moments_nm[to]];
            for at in from + 1..to {
                let share = (self.pockets[at].x_m - self.pockets[from].x_m) / length_m;
                let line_m = self.places_m[from] + share * (self.places_m[to] - self.places_m[from]);
                self.places_m[at] = line_m - bow_nm3(moments, length_m, share) / self.stiffness_n_m2;
                self.moments_nm[at] = moments[0] + share * (moments[1] - moments[0]);
            }
        }
    }

    /// With fewer than two touched pockets nothing bends the string: it lies on the straight line that is
    /// nearest to the pockets' middles, through the touched one if there is one.
    fn lie_straight(&mut self) {
        let through = self.on.first().map(|at| (self.pockets[*at].x_m, self.places_m[*at]));
        let middles = self.pockets.iter().map(|pocket| (pocket.x_m, pocket.offset_m));
        let (x_m, place_m, slope) = nearest_line(middles, through);
        for (place, pocket) in self.places_m.iter_mut().zip(&self.pockets) {
            *place = place_m + slope * (pocket.x_m - x_m);
        }
        self.end_slopes = [slope; 2];
    }

    /// Frees what would have to pull, touches what is passed; answers whether anything changed.
    fn change_touches(&mut self) -> bool {
        let slack_n = self.force_slack_n();
        let mut changed = false;
        for at in 0..self.pockets.len() {
            let next = match self.touches[at] {
                Touch::Tight => Touch::Tight,
                Touch::Right if self.forces_n[at] > slack_n => Touch::Free,
                Touch::Left if self.forces_n[at] < -slack_n => Touch::Free,
                Touch::Free => self.passed(at),
                same => same,
            };
            changed |= next != self.touches[at];
            self.touches[at] = next;
        }
        changed
    }

    fn passed(&self, at: usize) -> Touch {
        let pocket = self.pockets[at];
        let beside_m = self.places_m[at] - pocket.offset_m;
        match beside_m.abs() > pocket.play_m + PLACE_SLACK_M {
            true if beside_m > 0.0 => Touch::Right,
            true => Touch::Left,
            false => Touch::Free,
        }
    }

    fn force_slack_n(&self) -> f64 {
        1.0e-9 * self.forces_n.iter().fold(1.0e-3, |largest: f64, force| largest.max(force.abs()))
    }

    /// From places within all pockets toward the solution of the touched set, touching the first side in the
    /// way, freeing the side that pulls most when there is none: the energy never rises.
    fn descend(&mut self) {
        let within = |at: usize, place: f64, pockets: &[Pocket]| {
            let Pocket { offset_m, play_m, .. } = pockets[at];
            place.clamp(offset_m - play_m, offset_m + play_m)
        };
        let mut held_m: Vec<f64> =
            (0..self.pockets.len()).map(|at| within(at, self.places_m[at], &self.pockets)).collect();
        for (at, touch) in self.touches.iter_mut().enumerate() {
            let pocket = self.pockets[at];
            let at_side = |side_m: f64| (held_m[at] - side_m).abs() <= PLACE_SLACK_M;
            *touch = match pocket.play_m {
                0.0 => Touch::Tight,
                play_m if at_side(pocket.offset_m + play_m) => Touch::Right,
                play_m if at_side(pocket.offset_m - play_m) => Touch::Left,
                _ => Touch::Free,
            };
        }
        for _ in 0..40 * self.pockets.len() + 100 {
            self.solve();
            if let Some((at, part)) = self.first_in_the_way(&held_m) {
                for (held, wanted) in held_m.iter_mut().zip(&self.places_m) {
                    *held += part * (wanted - *held);
                }
                self.touches[at] = self.passed(at);
            } else {
                held_m.copy_from_slice(&self.places_m);
                let Some(at) = self.pulls_most() else { return };
                self.touches[at] = Touch::Free;
            }
        }
    }

    /// The pocket whose side is reached first on the way from `held_m`, and after which part of the way.
    fn first_in_the_way(&self, held_m: &[f64]) -> Option<(usize, f64)> {
        let in_the_way = (0..self.pockets.len()).filter(|at| self.touches[*at] == Touch::Free);
        in_the_way
            .filter_map(|at| {
                let pocket = self.pockets[at];
                let side_m = match self.passed(at) {
                    Touch::Right => pocket.offset_m + pocket.play_m,
                    Touch::Left => pocket.offset_m - pocket.play_m,
                    Touch::Free | Touch::Tight => return None,
                };
                Some((at, ((side_m - held_m[at]) / (self.places_m[at] - held_m[at])).clamp(0.0, 1.0)))
            })
            .min_by(|a, b| a.1.total_cmp(&b.1))
    }

    fn pulls_most(&self) -> Option<usize> {
        let slack_n = self.force_slack_n();
        let pull = |at: usize| match self.touches[at] {
            Touch::Right => self.forces_n[at],
            Touch::Left => -self.forces_n[at],
            Touch::Free | Touch::Tight => 0.0,
        };
        (0..self.pockets.len())
            .map(|at| (at, pull(at)))
            .filter(|(_, pull_n)| *pull_n > slack_n)
            .max_by(|a, b| a.1.total_cmp(&b.1))
            .map(|(at, _)| at)
    }
}

/// How far a span bent by its end moments stands to the left of its chord, times E I, at a share of its length.
fn bow_nm3([from_nm, to_nm]: [f64; 2], length_m: f64, share: f64) -> f64 {
    let rest = 1.0 - share;
    length_m * length_m / 6.0 * (from_nm * rest * (1.0 - rest * rest) + to_nm * share * (1.0 - share * share))
}

/// The straight line nearest to places (x, offset) by least squares: a point on it and its slope.
fn nearest_line(
    places: impl Iterator<Item = (f64, f64)> + Clone,
    through: Option<(f64, f64)>,
) -> (f64, f64, f64) {
    let count = places.clone().count().max(1) as f64;
    let mean = |of: fn((f64, f64)) -> f64| places.clone().map(of).sum::<f64>() / count;
    let (x_m, w_m) = through.unwrap_or_else(|| (mean(|(x, _)| x), mean(|(_, w)| w)));
    let (mut along, mut across) = (0.0, 0.0);
    for (x, w) in places {
        along += (x - x_m) * (x - x_m);
        across += (x - x_m) * (w - w_m);
    }
    (x_m, w_m, if along > 0.0 { across / along } else { 0.0 })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const STIFFNESS_N_M2: f64 = 1.0758e6;

    fn settled(pockets: &[Pocket], touches: &[Touch]) -> BentString {
        let mut bent = BentString::new(STIFFNESS_N_M2);
        bent.pockets = pockets.to_vec();
        bent.touches = touches.to_vec();
        bent.settle();
        bent
    }

    /// The conditions of the least bending energy: within all pockets, a side only pushes, no force between sides.
    fn check(bent: &BentString) {
        let largest_n = bent.forces_n.iter().fold(1.0, |largest: f64, force| largest.max(force.abs()));
        for (at, pocket) in bent.pockets.iter().enumerate() {
            let beside_m = bent.places_m[at] - pocket.offset_m;
            assert!(beside_m.abs() <= pocket.play_m + 1.0e-8, "{at}: {beside_m} of {}", pocket.play_m);
            let force_n = bent.forces_n[at];
            if pocket.play_m > 0.0 && pocket.play_m - beside_m > 1.0e-8 {
                assert!(force_n > -1.0e-8 * largest_n, "{at} pulls right: {force_n}");
            }
            if pocket.play_m > 0.0 && pocket.play_m + beside_m > 1.0e-8 {
                assert!(force_n < 1.0e-8 * largest_n, "{at} pulls left: {force_n}");
            }
        }
        let sum_n: f64 = bent.forces_n.iter().sum();
        assert!(sum_n.abs() < 1.0e-8 * largest_n, "{sum_n}");
    }

    fn pockets() -> impl Strategy<Value = Vec<Pocket>> {
        let pocket = (0.2_f64..14.0, -0.3_f64..0.3, prop_oneof![Just(0.0), 0.005_f64..0.3]);
        proptest::collection::vec(pocket, 2..25).prop_map(|pockets| {
            let mut x_m = 0.0;
            let one = |(gap_m, offset_m, play_m)| {
                x_m += gap_m;
                Pocket { x_m, offset_m, play_m }
            };
            pockets.into_iter().map(one).collect()
        })
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 2_000, ..ProptestConfig::default() })]
        #[test]
        fn a_string_takes_the_places_that_bend_it_least(pockets in pockets()) {
            check(&settled(&pockets, &[]));
        }

        #[test]
        fn where_it_touched_before_does_not_matter(pockets in pockets(), before in 0_usize..4) {
            let touch = [Touch::Free, Touch::Left, Touch::Right, Touch::Tight][before];
            let (cold, warm) = (settled(&pockets, &[]), settled(&pockets, &vec![touch; pockets.len()]));
            check(&warm);
            let largest_nm = cold.peak().map_or(0.0, |(_, moment_nm)| moment_nm);
            for (cold, warm) in cold.moments_nm.iter().zip(&warm.moments_nm) {
                prop_assert!((cold - warm).abs() <= 1.0e-6 * largest_nm + 1.0e-3);
            }
        }

        // The certain search alone, as where the quick one does not end.
        #[test]
        fn the_slow_search_ends_at_the_same_places(pockets in pockets()) {
            let quick = settled(&pockets, &[]);
            let mut slow = BentString::new(STIFFNESS_N_M2);
            slow.pockets = pockets;
            slow.touches = slow.pockets.iter().map(|p| if p.play_m > 0.0 { Touch::Free } else { Touch::Tight }).collect();
            slow.solve();
            slow.descend();
            check(&slow);
            let largest_nm = quick.peak().map_or(0.0, |(_, moment_nm)| moment_nm);
            for (quick, slow) in quick.moments_nm.iter().zip(&slow.moments_nm) {
                prop_assert!((quick - slow).abs() <= 1.0e-6 * largest_nm + 1.0e-3);
            }
        }
    }

    // Hand: three racks 6 m apart, the middle one 50 mm aside without play: M = 48 EI w / (2 l)^2 x (2 l)/4 =
    // 3 EI w / l^2; with 10 mm of play at each: 20 mm of the 50 are taken.
    #[test]
    fn play_takes_from_the_bend_what_it_can() {
        let three = |play_m: f64| {
            let pockets = [0.0, 0.05, 0.0].map(|offset_m| Pocket { x_m: 0.0, offset_m, play_m });
            let pockets: Vec<_> = (0..3).map(|at| Pocket { x_m: 6.0 * at as f64, ..pockets[at] }).collect();
            settled(&pockets, &[])
        };
        for (play_m, aside_m) in [(0.0, 0.05), (0.01, 0.03), (0.025, 0.0), (0.1, 0.0)] {
            let bent = three(play_m);
            let moment_nm = -3.0 * STIFFNESS_N_M2 * aside_m / 36.0;
            assert!((bent.moments_nm[1] - moment_nm).abs() < 1.0e-3, "{play_m}: {}", bent.moments_nm[1]);
            assert!((bent.forces_n[1] + 2.0 * moment_nm / 6.0).abs() < 1.0e-3);
        }
        // Between racks: w at 3 m of a beam of 12 m bent by a middle force, 11/16 of the middle's.
        assert!((three(0.0).at_m(3.0) - 0.05 * 11.0 / 16.0).abs() < 1.0e-9);
        assert!((three(0.0).at_m(-2.0) + 2.0 * 0.05 * 3.0 / 12.0).abs() < 1.0e-9);
    }
}
