//! Finds how large a curve gets between the places where it was looked at.

/// The place between `low` and `high` where `size` is largest, and how large: by golden section, until the place is
/// known to `within`.
///
/// Where `size` rises to one peak and falls again, that peak; otherwise one of its peaks.
pub(in crate::statics) fn peak_between(
    (mut low, mut high): (f64, f64),
    within: f64,
    mut size: impl FnMut(f64) -> f64,
) -> (f64, f64) {
    let share = (5.0_f64.sqrt() - 1.0) / 2.0;
    let (mut left, mut right) = (high - share * (high - low), low + share * (high - low));
    let (mut at_left, mut at_right) = (size(left), size(right));
    let mut best = if at_left > at_right { (left, at_left) } else { (right, at_right) };
    while high - low > within.max(f64::EPSILON * high.abs()) {
        let found = if at_left > at_right {
            (high, right, at_right) = (right, left, at_left);
            left = high - share * (high - low);
            at_left = size(left);
            (left, at_left)
        } else {
            (low, left, at_left) = (left, right, at_right);
            right = low + share * (high - low);
            at_right = size(right);
            (right, at_right)
        };
        if found.1 > best.1 {
            best = found;
        }
    }
    best
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(size: fn(f64) -> f64, place: f64, largest: f64) {
        let found = peak_between((0.0, 1.0), 1.0e-6, size);
        assert!((found.0 - place).abs() < 1.0e-5 && (found.1 - largest).abs() < 1.0e-5, "{found:?}");
    }

    #[test]
    fn a_smooth_peak_a_kink_and_an_end_are_found() {
        check(|x| x * (1.0 - x), 0.5, 0.25);
        check(|x| 1.0 - (x - 0.3).abs(), 0.3, 1.0);
        check(|x| x, 1.0, 1.0);
        check(|x| -x, 0.0, 0.0);
    }
}
