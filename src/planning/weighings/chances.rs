//! When a misfit is more than chance: three rules of thumb of statistics, each from a published source.

/// How often chance alone may be taken for a cause, or a true cause for no explanation.
const RISK: f64 = 0.01;

/// The distance in misfit within which two causes explain the readings equally well.
///
/// The logarithm of a likelihood ratio, doubled, is a difference of sums of squares; 6.635 is the value that
/// chi-square with one degree of freedom exceeds once in a hundred (NIST/SEMATECH e-Handbook of Statistical
/// Methods, 1.3.6.7.4).
pub(super) const EQUALLY_WELL: f64 = 6.635;

/// What each fitted number adds to the misfit of a cause, so that one with more freedom is not preferred for that
/// alone (H. Akaike, A new look at the statistical model identification, IEEE Transactions on Automatic Control
/// 19, 1974: for errors of known spread, the sum of squares plus twice the number of fitted values).
pub(super) const PER_FITTED_NUMBER: f64 = 2.0;

/// The gain in misfit that chance alone brings less than once in a hundred where `tried` causes are tried.
///
/// One fixed change that is not there gains more than t with a chance of at most exp(-t / 2) (the tail of the
/// normal law is below exp(-z2 / 2)); over all causes tried the chances add at most (Bonferroni).
pub(super) fn gain_by_chance(tried: usize) -> f64 {
    2.0 * (tried.max(1) as f64 / RISK).ln()
}

/// Whether a sum of squares over `freedom` degrees of freedom is larger than chance makes it once in a thousand.
///
/// By the cube root of chi-square, which is nearly normal (E. B. Wilson and M. M. Hilferty, The distribution of
/// chi-square, Proceedings of the National Academy of Sciences 17, 1931).
pub(super) fn is_beyond_chance(misfit: f64, freedom: usize) -> bool {
    if freedom == 0 {
        return false;
    }
    let spread = 2.0 / (9.0 * freedom as f64);
    let cube_root = (misfit / freedom as f64).cbrt();
    // The normal law exceeds 3.090 once in a thousand.
    (cube_root - (1.0 - spread)) / spread.sqrt() > 3.090
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn misfits_are_beyond_chance_from_the_published_quantiles_on() {
        // Chi-square exceeded once in a thousand: NIST/SEMATECH e-Handbook, 1.3.6.7.4; the cube root is good to 4 %.
        for (freedom, quantile) in
            [(1, 10.828), (2, 13.816), (5, 20.515), (10, 29.588), (30, 59.703), (100, 149.449)]
        {
            assert!(!is_beyond_chance(quantile * 0.96, freedom), "{freedom}");
            assert!(is_beyond_chance(quantile * 1.04, freedom), "{freedom}");
        }
        assert!(!is_beyond_chance(1.0e9, 0), "without readings there is nothing to say");
    }

    #[test]
    fn the_more_is_tried_the_more_must_be_gained() {
        // One cause: exp(-t / 2) = 0.01 gives 9.21, above the 6.635 of the exact law.
        assert!((gain_by_chance(1) - 9.210).abs() < 0.001);
        assert!((gain_by_chance(1_000) - gain_by_chance(1) - 13.816).abs() < 0.001);
    }
}
