//! In which order the strings go onto the train: what comes off last goes on first, and nothing over an empty pocket
//! that is still to be filled.

use crate::model::{StepKind, StringMark};
use crate::statics::{Figures, PlacedString};

/// One string to load.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Loading {
    /// Index into [`Figures::placed`].
    pub(super) placed: usize,
    /// A state that was worked out and in which the same strings are on the train as after this one; none: no such.
    pub(super) state: Option<usize>,
}

/// The strings that are on the train at departure, in an order to load them in.
///
/// The reverse of the unloading order, strings that no drop takes off before all others, tier by tier from the bottom;
/// a string waits while one is still to come in a lower tier at a rack that both cross. Loading backward passes
/// through the states of unloading, so most are worked out already; which one is told for each string.
pub(super) fn loading_order(figures: &Figures) -> Vec<Loading> {
    let mut waiting = wanted(figures);
    let mut loaded = vec![false; figures.plan.placements.len()];
    let mut order = Vec::with_capacity(waiting.len());
    while !waiting.is_empty() {
        let free =
            waiting.iter().position(|at| !waiting.iter().any(|other| lies_under(figures, *other, *at)));
        // Lower tiers are finite in number, so one is always free.
        let placed = waiting.remove(free.unwrap_or(0));
        if let Some(on) = figures.placed.get(placed).and_then(|placed| loaded.get_mut(placed.placement)) {
            *on = true;
        }
        order.push(Loading { placed, state: same_load(figures, &loaded) });
    }
    order
}

/// Indices of the strings to load, as they would go on if nothing lay under anything.
fn wanted(figures: &Figures) -> Vec<usize> {
    let departure = figures.states.first().map(|state| state.present.as_slice()).unwrap_or_default();
    let aboard = |placed: &PlacedString| departure.get(placed.placement).copied().unwrap_or_default();
    let mut all: Vec<usize> =
        (0..figures.placed.len()).filter(|at| figures.placed.get(*at).is_some_and(aboard)).collect();
    let leaving = leaving_marks(figures);
    // Strings that stay have no place among those that leave, and go first.
    all.sort_by_key(|at| {
        let place = mark(figures, *at).and_then(|mark| leaving.iter().position(|left| *left == mark));
        let (tier, lane) = pocket(figures, *at);
        match place {
            Some(place) => (1, usize::MAX - place, 0, 0),
            None => (0, 0, tier, lane),
        }
    });
    all
}

/// The marks that come off, in order; of a pair the second before the first, so that loading backward begins with
/// the first.
fn leaving_marks(figures: &Figures) -> Vec<&StringMark> {
    let steps = figures.plan.drops.iter().flat_map(|drop| &drop.steps);
    let off = steps.filter(|step| step.kind == StepKind::Off);
    off.flat_map(|step| step.strings.marks().collect::<Vec<_>>().into_iter().rev()).collect()
}

fn mark(figures: &Figures, placed: usize) -> Option<&StringMark> {
    let string = figures.placed.get(placed)?.string;
    figures.plan.order.get(string).map(|string| &string.mark)
}

fn pocket(figures: &Figures, placed: usize) -> (u32, u32) {
    let placement =
        figures.placed.get(placed).and_then(|placed| figures.plan.placements.get(placed.placement));
    placement.map_or((0, 0), |placement| (placement.tier, placement.lane))
}

/// Whether `lower` lies in a lower tier than `upper` at a rack that both cross.
fn lies_under(figures: &Figures, lower: usize, upper: usize) -> bool {
    let (Some(a), Some(b)) = (figures.placed.get(lower), figures.placed.get(upper)) else { return false };
    let meet = a.racks.start < b.racks.end && b.racks.start < a.racks.end;
    meet && pocket(figures, lower).0 < pocket(figures, upper).0
}

fn same_load(figures: &Figures, loaded: &[bool]) -> Option<usize> {
    figures.states.iter().position(|state| state.present == loaded)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::{drop_off, empty_plan, place};
    use crate::model::{Plan, StepStrings};
    use crate::statics::Scope;
    use std::sync::Arc;

    fn check(plan: Plan, expected: &[(&str, Option<usize>)]) {
        let figures = Figures::of(Arc::new(plan), Scope::All);
        let told: Vec<(String, Option<usize>)> = loading_order(&figures)
            .iter()
            .map(|loading| (mark(&figures, loading.placed).unwrap().to_string(), loading.state))
            .collect();
        let told: Vec<(&str, Option<usize>)> =
            told.iter().map(|(mark, state)| (mark.as_str(), *state)).collect();
        assert_eq!(told, expected);
    }

    /// `Bottom` in tier 1 and `Top` in tier 2 over it, `Apart` in tier 1 on the last wagon.
    fn plan() -> Plan {
        let mut plan = empty_plan(3);
        place(&mut plan, "Top", 36_000, (2, 1, 2_000));
        place(&mut plan, "Bottom", 36_000, (1, 1, 2_000));
        place(&mut plan, "Apart", 15_000, (1, 1, 42_000));
        plan
    }

    // States: 0 all; 1 after Top; 2 after Bottom; 3 after Apart; 4 the end.
    #[test]
    fn what_comes_off_last_goes_on_first_through_states_that_were_worked_out() {
        let mut unloaded = plan();
        unloaded.drops = vec![drop_off("Site", &["Top", "Bottom", "Apart"])];
        check(unloaded, &[("Apart", Some(2)), ("Bottom", Some(1)), ("Top", Some(0))]);
    }

    #[test]
    fn nothing_goes_over_a_pocket_that_is_still_to_be_filled() {
        let mut odd = plan();
        odd.drops = vec![drop_off("Site", &["Bottom", "Top", "Apart"])];
        // Only the whole train is a state: unloading passes through others.
        check(odd, &[("Apart", Some(2)), ("Bottom", None), ("Top", Some(0))]);
        check(plan(), &[("Bottom", None), ("Apart", None), ("Top", Some(0))]);
    }

    #[test]
    fn a_pair_goes_on_first_then_second_and_what_comes_aboard_later_not_at_all() {
        let mut plan = plan();
        let mark = |text| StringMark::new(text).unwrap();
        plan.drops = vec![drop_off("Site", &["Top", "Apart"])];
        plan.drops[0].steps[0].strings =
            StepStrings::Pair { first: mark("Bottom"), second: mark("Top"), together: false };
        plan.drops[0].steps[1].kind = StepKind::On;
        check(plan, &[("Bottom", Some(2)), ("Top", Some(0))]);
    }
}
