//! Where states, steps and drops stand along the time line.

use crate::statics::{LoadState, StateKind};
use egui::Rangef;

/// The share of a column that a half-done state of a pair takes.
const HALF_SHARE: f64 = 0.5;
/// Columns are at least this wide; more of them than fit can be scrolled.
const LEAST_POINTS: f64 = 15.0;

/// The columns of the states, as wide as the view or wider, and which part of them the view shows.
#[derive(Clone, Debug)]
pub(super) struct Columns {
    /// Where each state begins and ends, in columns.
    spans: Vec<(f64, f64)>,
    /// Points per column.
    points: f64,
    /// The view on the screen.
    pub(super) view: Rangef,
    /// How far the view is scrolled, in points.
    pub(super) offset: f32,
}

impl Columns {
    /// The columns of `states` in a view that is scrolled by `offset`, or by as much of it as there is to scroll.
    pub(super) fn of(states: &[LoadState], view: Rangef, offset: f32) -> Self {
        let mut x = 0.0;
        let spans = states.iter().map(|state| {
            let width = if matches!(state.kind, StateKind::HalfPair { .. }) { HALF_SHARE } else { 1.0 };
            let span = (x, x + width);
            x += width;
            span
        });
        let spans: Vec<(f64, f64)> = spans.collect();
        let points = (f64::from(view.span()) / x.max(1.0)).max(LEAST_POINTS);
        let mut columns = Self { spans, points, view, offset: 0.0 };
        columns.offset = offset.clamp(0.0, columns.hidden());
        columns
    }

    /// How much of the columns lies out of the view, in points.
    pub(super) fn hidden(&self) -> f32 {
        let whole = self.spans.last().map_or(1.0, |span| span.1) * self.points;
        (whole as f32 - self.view.span()).max(0.0)
    }

    /// Scrolled just so far that `state` and a column on each side of it can be seen.
    #[must_use]
    pub(super) fn showing(mut self, state: usize) -> Self {
        let (span, room) = (self.span(state), self.points as f32);
        let (before, after) = (self.view.min + room - span.min, span.max - (self.view.max - room));
        let by = if before > 0.0 { -before } else { after.max(0.0) };
        self.offset = (self.offset + by).clamp(0.0, self.hidden());
        self
    }

    /// Where a state stands on the screen.
    pub(super) fn span(&self, state: usize) -> Rangef {
        let (from, to) = self.spans.get(state).copied().unwrap_or_default();
        Rangef::new(self.x(from), self.x(to))
    }

    /// The middle of a state on the screen.
    pub(super) fn middle(&self, state: usize) -> f32 {
        self.span(state).center()
    }

    /// The state at a place of the screen, the first or the last beyond the ends; none without states.
    pub(super) fn at(&self, x: f32) -> Option<usize> {
        let column = f64::from(x - self.view.min + self.offset) / self.points;
        let after = self.spans.partition_point(|span| span.1 <= column);
        (!self.spans.is_empty()).then(|| after.min(self.spans.len() - 1))
    }

    /// The states of which any part can be seen.
    pub(super) fn seen(&self) -> std::ops::Range<usize> {
        let first = self.at(self.view.min).unwrap_or(0);
        first..self.at(self.view.max).map_or(0, |last| last + 1)
    }

    fn x(&self, column: f64) -> f32 {
        self.view.min - self.offset + (column * self.points) as f32
    }
}

/// A step, with the states that belong to it: half-done ones and that after it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct StepSite {
    pub(super) drop: usize,
    pub(super) step: usize,
    pub(super) first: usize,
    pub(super) last: usize,
}

/// The steps in the order of the states.
pub(super) fn step_sites(states: &[LoadState]) -> Vec<StepSite> {
    let mut sites: Vec<StepSite> = Vec::new();
    for (at, state) in states.iter().enumerate() {
        let (StateKind::HalfPair { drop, step, .. } | StateKind::AfterStep { drop, step }) = state.kind
        else {
            continue;
        };
        match sites.last_mut() {
            Some(site) if (site.drop, site.step) == (drop, step) => site.last = at,
            _ => sites.push(StepSite { drop, step, first: at, last: at }),
        }
    }
    sites
}

/// The first and the last state of each drop.
pub(super) fn drop_sites(states: &[LoadState]) -> Vec<(usize, usize)> {
    let mut sites = Vec::new();
    let mut first = 1;
    for (at, state) in states.iter().enumerate() {
        if matches!(state.kind, StateKind::AfterDrop { .. }) {
            sites.push((first, at));
            first = at + 1;
        }
    }
    sites
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::{drop_off, empty_plan, place};
    use crate::model::{StepStrings, StringMark};
    use crate::statics::load_states;

    /// Departure, two halves and the end of a pair, another step, the end of the drop; a drop without steps.
    fn states() -> Vec<LoadState> {
        let mut plan = empty_plan(3);
        for (lane, mark) in (1..).zip(["S1", "S2", "S3"]) {
            place(&mut plan, mark, 20_000, (1, lane, 10_000));
        }
        plan.drops = vec![drop_off("Far", &["S1", "S3"]), drop_off("Near", &[])];
        let mark = |text| StringMark::new(text).unwrap();
        plan.drops[0].steps[0].strings =
            StepStrings::Pair { first: mark("S1"), second: mark("S2"), together: false };
        load_states(&plan)
    }

    fn columns(width: f32, offset: f32) -> Columns {
        Columns::of(&states(), Rangef::new(100.0, 100.0 + width), offset)
    }

    /// That a number of points is as expected, to a hundredth.
    fn is(points: f32, expected: f32) {
        assert!((points - expected).abs() < 0.01, "{points}, not {expected}");
    }

    #[test]
    fn states_share_the_view_and_halves_take_half_a_column() {
        // Seven states, two of them halves: six columns.
        let columns = columns(600.0, 50.0);
        is(columns.offset, 0.0);
        is(columns.hidden(), 0.0);
        assert_eq!(columns.span(0), Rangef::new(100.0, 200.0));
        assert_eq!(columns.span(1), Rangef::new(200.0, 250.0));
        assert_eq!(columns.span(6), Rangef::new(600.0, 700.0));
        for (x, state) in [(99.0, 0), (199.9, 0), (200.0, 1), (250.0, 2), (699.0, 6), (800.0, 6)] {
            assert_eq!(columns.at(x), Some(state), "{x}");
        }
        assert_eq!(columns.seen(), 0..7);
    }

    #[test]
    fn columns_that_do_not_fit_are_scrolled_to_the_state_shown_and_no_farther_than_needed() {
        // Six columns of 15 points in 60.
        let start = columns(60.0, 0.0);
        is(start.hidden(), 30.0);
        // In sight already.
        is(start.clone().showing(1).offset, 0.0);
        let end = start.clone().showing(6);
        is(end.offset, 30.0);
        is(end.span(6).max, 160.0);
        assert_eq!(end.seen(), 3..7);
        is(end.showing(0).offset, 0.0);
        is(columns(60.0, 99.0).offset, 30.0);
    }

    #[test]
    fn steps_and_drops_are_found_among_the_states() {
        let steps: Vec<_> = step_sites(&states()).iter().map(|s| (s.drop, s.step, s.first, s.last)).collect();
        assert_eq!(steps, [(0, 0, 1, 3), (0, 1, 4, 4)]);
        assert_eq!(drop_sites(&states()), [(1, 5), (6, 6)]);
        assert!(step_sites(&[]).is_empty() && drop_sites(&[]).is_empty());
    }
}
