//! The shift of one string along its pocket that the readings fit best.

use super::evidence::Evidence;
use crate::model::Placement;
use crate::units::Length;

/// Distance between the shifts tried first, in mm: well below that of racks, over which loads change smoothly.
const STEP_MM: i64 = 1_500;

/// Shifts less than this apart do much the same to the readings: so many count as one cause tried.
const ALIKE_MM: i64 = 5_000;

/// 1 over the golden section.
const GOLDEN: f64 = 0.618_033_988_749_894_8;

/// How many causes the search counts as, and the best shift of the string of `placement` within `along` with what it
/// does to the readings; none where the string has no room or can lie nowhere else.
///
/// Steps over all of the room, then a golden section about the best step down to the millimetre.
pub(super) fn best_shift(
    evidence: &Evidence<'_>,
    placement: &Placement,
    along: (Length, Length),
    now_kg: &[f64],
) -> (usize, Option<(Length, Vec<f64>)>) {
    let (least_mm, most_mm) = (along.0.mm(), along.1.mm());
    let effect = |by_mm: i64| -> Option<Vec<f64>> {
        let front = placement.front + Length::from_mm(by_mm);
        let moved = evidence.of_string(&Placement { front, ..placement.clone() })?;
        Some(moved.iter().zip(now_kg).map(|(moved, now)| moved - now).collect())
    };
    let misfit = |by_mm: i64| effect(by_mm).map_or(f64::INFINITY, |kg| evidence.misfit_after(&kg));
    let steps = (least_mm..=most_mm).step_by(STEP_MM as usize).filter(|by_mm| *by_mm != 0);
    let best = steps.map(|by_mm| (by_mm, misfit(by_mm))).min_by(|a, b| a.1.total_cmp(&b.1));
    let tried = ((most_mm - least_mm) / ALIKE_MM) as usize;
    let Some((step_mm, step_misfit)) = best.filter(|(_, misfit)| misfit.is_finite()) else {
        return (tried, None);
    };
    let (low, high) = ((step_mm - STEP_MM).max(least_mm), (step_mm + STEP_MM).min(most_mm));
    let refined_mm = golden_section(low as f64, high as f64, |by_mm| misfit(by_mm.round() as i64));
    let by_mm = if misfit(refined_mm) <= step_misfit { refined_mm } else { step_mm };
    (tried, effect(by_mm).map(|kg| (Length::from_mm(by_mm), kg)))
}

/// Where `of` is least between `low` and `high`, to the whole number.
fn golden_section(mut low: f64, mut high: f64, of: impl Fn(f64) -> f64) -> i64 {
    let (mut left, mut right) = (high - GOLDEN * (high - low), low + GOLDEN * (high - low));
    let (mut at_left, mut at_right) = (of(left), of(right));
    while high - low > 1.0 {
        if at_left <= at_right {
            (high, right, at_right) = (right, left, at_left);
            left = high - GOLDEN * (high - low);
            at_left = of(left);
        } else {
            (low, left, at_left) = (left, right, at_right);
            right = low + GOLDEN * (high - low);
            at_right = of(right);
        }
    }
    f64::midpoint(low, high).round() as i64
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_golden_section_finds_the_lowest_place_to_the_whole_number() {
        for lowest in [-800.0, 3.0, 777.0] {
            let found = golden_section(-1_000.0, 1_000.0, |x| (x - lowest).powi(2)) as f64;
            assert!((found - lowest).abs() <= 1.0, "{found}, not {lowest}");
        }
    }
}
