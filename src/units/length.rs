//! A length or a position along the train, in whole millimetres.

use std::fmt;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Mul, Neg, Sub, SubAssign};

/// A length or position, exact, in whole millimetres; may be negative.
///
/// Whole numbers so that equal places are equal, can be hashed, and survive the file unchanged.
///
/// ```
/// use longstow::units::Length;
/// assert_eq!(Length::from_mm(5_500) + Length::from_mm(500), Length::from_mm(6_000));
/// assert_eq!(Length::from_m_rounded(5.5004), Length::from_mm(5_500));
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Length(i64);

impl Length {
    /// No length.
    pub const ZERO: Self = Self(0);

    /// The length of `mm` whole millimetres.
    pub const fn from_mm(mm: i64) -> Self {
        Self(mm)
    }

    /// The nearest whole millimetre to `m` metres; halves away from zero, out-of-range values saturate.
    pub fn from_m_rounded(m: f64) -> Self {
        Self((m * 1000.0).round() as i64)
    }

    /// The nearest whole millimetre to `mm` millimetres.
    pub fn from_mm_rounded(mm: f64) -> Self {
        Self(mm.round() as i64)
    }

    /// Whole millimetres.
    pub const fn mm(self) -> i64 {
        self.0
    }

    /// Metres.
    pub fn m(self) -> f64 {
        self.0 as f64 / 1000.0
    }

    /// The same length without its sign.
    pub const fn abs(self) -> Self {
        Self(self.0.abs())
    }

    /// Whether the length is below zero.
    pub const fn is_negative(self) -> bool {
        self.0 < 0
    }
}

impl Add for Length {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl Sub for Length {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl Neg for Length {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}

impl Mul<i64> for Length {
    type Output = Self;
    fn mul(self, times: i64) -> Self {
        Self(self.0 * times)
    }
}

impl AddAssign for Length {
    fn add_assign(&mut self, other: Self) {
        self.0 += other.0;
    }
}

impl SubAssign for Length {
    fn sub_assign(&mut self, other: Self) {
        self.0 -= other.0;
    }
}

impl Sum for Length {
    fn sum<I: Iterator<Item = Self>>(lengths: I) -> Self {
        lengths.fold(Self::ZERO, Add::add)
    }
}

impl fmt::Display for Length {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} mm", self.0)
    }
}

#[cfg(test)]
mod tests {
    use super::Length;

    #[test]
    fn metres_round_to_the_nearest_millimetre() {
        assert_eq!(Length::from_m_rounded(6.633).mm(), 6_633);
        assert_eq!(Length::from_m_rounded(-0.0006).mm(), -1);
        assert_eq!(Length::from_m_rounded(0.0004).mm(), 0);
    }

    #[test]
    fn lengths_add_and_subtract_exactly() {
        let sum: Length = [5_500, -500, 1].map(Length::from_mm).into_iter().sum();
        assert_eq!(sum.mm(), 5_001);
        assert_eq!((-(sum - Length::from_mm(1))).abs().mm(), 5_000);
        assert!((Length::from_mm(5) * -2).is_negative());
    }
}
