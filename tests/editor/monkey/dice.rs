//! Numbers that look random and are the same for the same seed.

/// A generator after Steele, Lea and Flood (2014), "Fast splittable pseudorandom number generators": SplitMix64.
pub(super) struct Dice(u64);

impl Dice {
    pub(super) fn new(seed: u64) -> Self {
        Self(seed)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        mixed ^ (mixed >> 31)
    }

    /// From 0 up to and without `count`, which is at least 1.
    pub(super) fn below(&mut self, count: usize) -> usize {
        (self.next() % count.max(1) as u64) as usize
    }

    /// From 0 to 1.
    pub(super) fn share(&mut self) -> f32 {
        (self.next() % 1_000_001) as f32 / 1.0e6
    }

    /// True in so many percent of the throws.
    pub(super) fn percent(&mut self, percent: usize) -> bool {
        self.below(100) < percent
    }

    /// One of several; none of none.
    pub(super) fn one<'a, T>(&mut self, of: &'a [T]) -> Option<&'a T> {
        if of.is_empty() { None } else { of.get(self.below(of.len())) }
    }
}
