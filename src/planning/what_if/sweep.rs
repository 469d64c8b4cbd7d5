//! The loads at many values of one knob, coarse first.

use super::{Knob, Reading, Scratch};
use crate::statics::{Figures, Scope};

/// About as many values as a plot has room to show.
const MOST_VALUES: i64 = 240;

/// Steps of lengths between values in mm; the first that gives few enough values is taken.
const STEPS_MM: [i64; 8] = [100, 200, 500, 1_000, 2_000, 5_000, 10_000, 20_000];

/// The loads along one knob; the other knobs stay as they were when it began.
#[derive(Clone, Debug)]
pub struct Sweep {
    scratch: Scratch,
    knob: Knob,
    /// Values growing, each with its loads once they are worked out.
    readings: Vec<(i64, Option<Reading>)>,
    /// In which order they are worked out, the next one last.
    open: Vec<usize>,
}

impl Sweep {
    /// A sweep of `knob` with nothing worked out yet.
    pub fn new(scratch: &Scratch, knob: Knob) -> Self {
        let values = values(scratch, knob);
        let mut open = coarse_first(values.len());
        open.reverse();
        let readings = values.into_iter().map(|value| (value, None)).collect();
        Self { scratch: scratch.clone(), knob, readings, open }
    }

    /// Whether it is one of `knob` for `scratch`: they may differ in the knob's own value.
    pub fn is_for(&self, scratch: &Scratch, knob: Knob) -> bool {
        self.knob == knob && self.scratch.is_alike_but_for(scratch, knob)
    }

    /// The knob.
    pub fn knob(&self) -> Knob {
        self.knob
    }

    /// Works out one more value; false once all are done.
    pub fn work(&mut self) -> bool {
        let Some(at) = self.open.pop() else { return false };
        if let Some((value, reading)) = self.readings.get_mut(at) {
            let plan = self.scratch.with(self.knob, *value).plan();
            *reading = Reading::of(*value, &Figures::of(plan, Scope::One(0)));
        }
        !self.open.is_empty()
    }

    /// Whether all values are worked out.
    pub fn is_done(&self) -> bool {
        self.open.is_empty()
    }

    /// What is worked out so far, by growing value.
    pub fn readings(&self) -> impl DoubleEndedIterator<Item = &Reading> {
        self.readings.iter().filter_map(|(_, reading)| reading.as_ref())
    }

    /// The least and the largest value.
    pub fn span(&self) -> Option<(i64, i64)> {
        Some((self.readings.first()?.0, self.readings.last()?.0))
    }
}

/// All values of a knob, or as many evenly spaced ones of a length as a plot can show.
fn values(scratch: &Scratch, knob: Knob) -> Vec<i64> {
    let span = scratch.span(knob);
    let (least, most) = (*span.start(), *span.end());
    if !matches!(knob, Knob::Length | Knob::FrontEnd) {
        return span.collect();
    }
    let few = |step: &i64| (most - least) / step <= MOST_VALUES;
    let step = STEPS_MM.into_iter().find(few).unwrap_or(((most - least) / MOST_VALUES).max(1));
    // On whole steps, so that racks that stand at round places are met exactly.
    let first = (least + step - 1).div_euclid(step) * step;
    let mut values: Vec<i64> = (0..).map(|k| first + k * step).take_while(|value| *value <= most).collect();
    values.extend([least, most]);
    values.sort_unstable();
    values.dedup();
    values
}

/// The indices below `count`, so that any first part of them is spread evenly: both ends, the middle, the quarters.
fn coarse_first(count: usize) -> Vec<usize> {
    let mut order = Vec::with_capacity(count);
    let mut taken = vec![false; count];
    let mut stride = count.next_power_of_two();
    while stride > 0 {
        for at in (0..count).step_by(stride).chain(count.checked_sub(1)) {
            if !std::mem::replace(&mut taken[at], true) {
                order.push(at);
            }
        }
        stride /= 2;
    }
    order
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::{empty_plan, place};
    use std::sync::Arc;

    fn scratch() -> Scratch {
        let mut plan = empty_plan(3);
        place(&mut plan, "S1", 40_000, (1, 1, 3_000));
        Scratch::of(Arc::new(plan), &[]).unwrap()
    }

    fn done(knob: Knob) -> Sweep {
        let mut sweep = Sweep::new(&scratch(), knob);
        while sweep.work() {}
        sweep
    }

    #[test]
    fn every_value_is_worked_out_once_and_the_first_ones_are_spread() {
        assert_eq!(coarse_first(9), [0, 8, 4, 2, 6, 1, 3, 5, 7]);
        assert_eq!(coarse_first(1), [0]);
        assert!(coarse_first(0).is_empty());
        let mut all = coarse_first(241);
        all.sort_unstable();
        assert_eq!(all, (0..241).collect::<Vec<_>>());
    }

    #[test]
    fn a_sweep_holds_the_figures_of_each_plan() {
        let sweep = done(Knob::Count);
        assert!(sweep.is_done());
        assert_eq!(sweep.readings().count(), 50);
        for reading in sweep.readings().step_by(7) {
            let figures = Figures::of(scratch().with(Knob::Count, reading.value).plan(), Scope::One(0));
            assert_eq!(figures.placed.len() as i64, reading.value);
            assert_eq!(figures.worked[0].vehicles, reading.vehicles);
        }
    }

    #[test]
    fn values_of_a_length_lie_on_whole_steps_and_at_both_ends() {
        let sweep = done(Knob::FrontEnd);
        // 0 to 19.7 m by 0.1 m.
        assert_eq!(sweep.readings().count(), 198);
        assert_eq!(sweep.span(), Some((0, 19_700)));
        assert!(sweep.readings().all(|reading| reading.value % 100 == 0));
    }

    #[test]
    fn turning_the_swept_knob_keeps_the_sweep_and_turning_another_does_not() {
        let scratch = scratch();
        let sweep = Sweep::new(&scratch, Knob::FrontEnd);
        assert!(sweep.is_for(&scratch.with(Knob::FrontEnd, 5_000), Knob::FrontEnd));
        assert!(!sweep.is_for(&scratch.with(Knob::Count, 2), Knob::FrontEnd));
        assert!(!sweep.is_for(&scratch, Knob::Length));
    }
}
