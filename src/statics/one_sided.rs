//! Finding the supports that carry, where a support can push but not pull: an active set for any kind of beam.
//!
//! As in non-negative least squares (Lawson and Hanson, Solving Least Squares Problems, 1974, chapter 23): from a
//! set that only pushes, add the most penetrated support, step toward the new solution, drop what reaches zero.
//! Every step lowers the beam's energy, so it ends; a cap guards against rounding, and what stands at the cap is
//! still in equilibrium and still only pushes.

/// Share of the weight below which a reaction counts as zero.
const REACTION_SLACK: f64 = 1.0e-11;

/// How far beyond an outer support the centre of gravity may seem to lie by rounding, in m.
const CENTRE_SLACK_M: f64 = 1.0e-9;

/// What the search must know of a beam on its supports.
pub(super) trait Resting {
    /// x of all supports in m, growing.
    fn supports_m(&self) -> &[f64];
    /// x of the two ends in m.
    fn ends_m(&self) -> (f64, f64);
    /// Weight per length in N/m.
    fn weight_n_per_m(&self) -> f64;

    /// x of the centre of gravity in m.
    fn centre_m(&self) -> f64 {
        let (front_m, rear_m) = self.ends_m();
        f64::midpoint(front_m, rear_m)
    }
}

/// A carrying set with its reactions, for beams of kind `B`.
pub(super) trait OneSided<B: Resting> {
    /// Indices of the carrying supports, growing.
    fn on(&mut self) -> &mut Vec<usize>;
    /// Reaction of each in N.
    fn reactions_n(&mut self) -> &mut Vec<f64>;
    /// Works out moments and reactions of the set, pulling allowed.
    fn solve(&mut self, beam: &B);
    /// The support outside the set into which the beam sinks deepest, if any.
    fn most_penetrated(&self, beam: &B) -> Option<usize>;

    /// Whether no support of the set pulls.
    fn only_pushes(&mut self, beam: &B) -> bool {
        let slack_n = slack_n(beam);
        self.reactions_n().iter().all(|reaction| *reaction >= -slack_n)
    }

    /// A first set that only pushes: quick guess by dropping all that pull, else two supports astride the centre.
    fn drop_what_pulls(&mut self, beam: &B) {
        let slack_n = slack_n(beam);
        while !self.only_pushes(beam) {
            let pushes: Vec<bool> = self.reactions_n().iter().map(|reaction| *reaction >= -slack_n).collect();
            let mut pushes = pushes.into_iter();
            self.on().retain(|_| pushes.next().unwrap_or(false));
            let places_m: Vec<f64> = self.on().iter().map(|support| beam.supports_m()[*support]).collect();
            let stands = astride(&places_m, beam.centre_m());
            if !stands {
                *self.on() = pair_astride(beam).to_vec();
            }
            self.solve(beam);
            if !stands {
                return;
            }
        }
    }

    /// Adds penetrated supports until there is none left.
    fn add_what_is_penetrated(&mut self, beam: &B) {
        for _ in 0..3 * beam.supports_m().len() + 10 {
            let Some(deepest) = self.most_penetrated(beam) else { return };
            let before = self.on().clone();
            let at = self.on().partition_point(|support| *support < deepest);
            self.on().insert(at, deepest);
            let mut held_n = self.reactions_n().clone();
            held_n.insert(at, 0.0);
            self.step_from(beam, held_n);
            if *self.on() == before {
                return; // The penetration was rounding.
            }
        }
    }

    /// Goes from the pushing reactions `held_n` toward the set's solution, dropping supports that reach zero.
    fn step_from(&mut self, beam: &B, mut held_n: Vec<f64>) {
        let slack_n = slack_n(beam);
        self.solve(beam);
        while !self.only_pushes(beam) && self.on().len() > 2 {
            let part_to_zero = |held: f64, wanted: f64| held.max(0.0) / (held.max(0.0) - wanted);
            let pulling = held_n.iter().zip(self.reactions_n().iter()).enumerate();
            let first = pulling
                .filter(|(_, (_, wanted))| **wanted < -slack_n)
                .map(|(at, (held, wanted))| (at, part_to_zero(*held, *wanted)))
                .min_by(|a, b| a.1.total_cmp(&b.1));
            let Some((at, part)) = first else { return };
            for (held, wanted) in held_n.iter_mut().zip(self.reactions_n().iter()) {
                *held += part * (wanted - *held);
            }
            held_n.remove(at);
            self.on().remove(at);
            self.solve(beam);
        }
    }
}

/// Whether `places_m` (growing) has two places, not the same, astride `centre_m`, within rounding.
pub(super) fn astride(places_m: &[f64], centre_m: f64) -> bool {
    let (Some(first_m), Some(last_m)) = (places_m.first(), places_m.last()) else { return false };
    first_m < last_m && *first_m <= centre_m + CENTRE_SLACK_M && *last_m >= centre_m - CENTRE_SLACK_M
}

/// The supports without those at the very place of the one in front (buffer faces of coupled vehicles).
pub(super) fn distinct(supports_m: &[f64]) -> impl Iterator<Item = usize> {
    (0..supports_m.len()).filter(|i| *i == 0 || supports_m[*i] > supports_m[*i - 1])
}

/// The two supports next to the centre of gravity, one on each side.
fn pair_astride(beam: &impl Resting) -> [usize; 2] {
    let supports: Vec<usize> = distinct(beam.supports_m()).collect();
    let behind = supports.partition_point(|support| beam.supports_m()[*support] <= beam.centre_m());
    let behind = behind.clamp(1, supports.len() - 1);
    [supports[behind - 1], supports[behind]]
}

fn slack_n(beam: &impl Resting) -> f64 {
    let (front_m, rear_m) = beam.ends_m();
    REACTION_SLACK * beam.weight_n_per_m() * (rear_m - front_m)
}
