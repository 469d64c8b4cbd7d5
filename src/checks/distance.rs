//! Distances that must be kept: by the plan's limit where there is one, and never below zero.

use super::{Comparison, Judge, Judged, Sense, Words};
use crate::units::Quantity;

/// Where the least distance comes from when nobody entered one.
const CONTACT: &str = "two things cannot be in one place";

/// Judges a distance that must be `least` at least, in the unit of `distance`.
///
/// Without a limit, which its lookup has told as undecided, a distance of zero or more decides nothing; one below zero
/// fails all the same, for no limit that anybody could enter would allow it.
pub(super) fn keep_distance(
    judge: &mut Judge<'_>,
    (state, of): (Option<usize>, impl Into<Judged>),
    (distance, least): (Quantity, Option<f64>),
    tail: impl Words,
) {
    if let Some(least) = least {
        judge.compare_with(state, of, Comparison::new(distance, least, Sense::AtLeast), tail);
    } else if distance.value < 0.0 {
        judge.source(CONTACT);
        judge.compare_with(state, of, Comparison::new(distance, 0.0, Sense::AtLeast), tail);
    }
}
