//! Each step can get at its strings: through the pocket, from above, and by the rule of lanes.

use super::reading::{placement_of, rack_type_of, string_names};
use super::{Check, Judge, Subject};
use crate::model::{LaneRule, Placement, Step, StepKind, TierAccess, TrainEnd};
use crate::statics::{Figures, PlacedString, StateKind};
use crate::text;
use crate::units::Text;
use std::ops::Range;

/// The check.
pub(crate) static CHECK: Check = Check {
    id: "access",
    title: "Access in step order",
    what: "Before each step, the way of its strings toward the unloading end is free: nothing lies in their pocket \
           on that side, nothing in the tiers above where the racks ask for that, and no lane that must go first \
           is still taken. Racks concerned are those under the string and those it passes on its way.",
    why: "A string that others block cannot come off (or on) when the plan says so; the site waits, or the load \
          is taken off in an order that nobody checked.",
    mend: "Change the order of the steps, the end that the string goes over, or the pockets of the strings.",
    source: "common practice, no source; tier access and lane rule are the plan's",
    run,
};

/// What the ways of strings depend on, prepared once.
struct Ways<'f> {
    figures: &'f Figures,
    lane_rule: Option<LaneRule>,
    /// For each rack of the consist, and one past them: how many racks before it need the tiers above empty.
    above_empty_before: Vec<usize>,
}

/// A string that a step moves.
#[derive(Clone, Copy)]
struct Moved<'f> {
    placed: &'f PlacedString,
    placement: &'f Placement,
    toward: TrainEnd,
}

/// The strings that block a step, by why they do.
#[derive(Default)]
struct Blocks {
    in_pocket: Vec<usize>,
    above: Vec<usize>,
    by_lane: Vec<usize>,
}

fn run(judge: &mut Judge<'_>) {
    let figures = judge.figures;
    let steps = steps_with_state_before(figures);
    if steps.is_empty() {
        judge.not_applicable(|| text!["no step takes strings off or on"]);
        return;
    }
    let ways = Ways::of(figures);
    tell_missing(judge, &ways);
    let mut worked = vec![false; figures.states.len()];
    for (state, _) in judge.states() {
        if let Some(worked) = worked.get_mut(state.state) {
            *worked = true;
        }
    }
    for (drop_index, step_index, before) in steps {
        let drop = figures.plan.drops.get(drop_index);
        let Some((drop, step)) = drop.and_then(|drop| Some((drop, drop.steps.get(step_index)?))) else {
            continue;
        };
        if worked.get(before) == Some(&true) {
            let blocks = ways.blocks(step, step.toward.unwrap_or(drop.toward), before);
            judge_step(judge, (Subject::Step(drop_index, step_index), before), step, &blocks);
        }
    }
}

/// Drop, step, and the state in which the step begins; a half-done pair is within its step.
fn steps_with_state_before(figures: &Figures) -> Vec<(usize, usize, usize)> {
    let mut before = 0;
    let mut steps = Vec::new();
    for (index, state) in figures.states.iter().enumerate() {
        match state.kind {
            StateKind::HalfPair { .. } => continue,
            StateKind::AfterStep { drop, step } => steps.push((drop, step, before)),
            StateKind::Departure | StateKind::AfterDrop { .. } => {}
        }
        before = index;
    }
    steps
}

/// Tells what nobody entered: the lane rule, and the access of each type of rack in the train.
fn tell_missing(judge: &mut Judge<'_>, ways: &Ways<'_>) {
    let figures = judge.figures;
    if ways.lane_rule.is_none() {
        judge.undecided(Subject::Train, text!["which lanes come off first is not set"]);
    }
    let mut used: Vec<usize> = figures.consist.racks.iter().map(|rack| rack.rack_type).collect();
    used.sort_unstable();
    used.dedup();
    for index in used {
        let Some(kind) = figures.plan.train.rack_types.get(index) else { continue };
        if kind.tier_access.is_none() && kind.tiers.len() > 1 {
            let missing = format!("which tiers of rack type {} must be empty is not entered", kind.name);
            judge.undecided(Subject::RackType(index), text![missing]);
        }
    }
}

fn judge_step(judge: &mut Judge<'_>, (subject, before): (Subject, usize), step: &Step, blocks: &Blocks) {
    let figures = judge.figures;
    let reasons = [
        (&blocks.in_pocket, "in the pocket on the way out"),
        (&blocks.above, "in tiers above"),
        (&blocks.by_lane, "in lanes that must be empty first"),
    ];
    if reasons.iter().all(|(strings, _)| strings.is_empty()) {
        judge.pass(Some(before), subject, || text!["the way of every string is free when its step comes"]);
        return;
    }
    let what = || {
        let moved: Vec<usize> = moved_strings(figures, step).collect();
        let verb = if step.kind == StepKind::Off { "cannot come off" } else { "cannot come on" };
        let blocking: Vec<String> = reasons
            .iter()
            .filter(|(strings, _)| !strings.is_empty())
            .map(|(strings, place)| format!("{} {place}", string_names(figures, strings)))
            .collect();
        let place = subject.place(figures);
        text![format!(
            "{place}: {} {verb}, blocked by {}",
            string_names(figures, &moved),
            blocking.join("; by ")
        )]
    };
    judge.fail(Some(before), subject, what, Text::default);
}

/// Indices into the order of the strings that a step moves.
fn moved_strings<'f>(figures: &'f Figures, step: &'f Step) -> impl Iterator<Item = usize> + use<'f> {
    step.strings.marks().filter_map(|mark| figures.plan.order.iter().position(|string| string.mark == *mark))
}

impl<'f> Ways<'f> {
    fn of(figures: &'f Figures) -> Self {
        let mut above_empty_before = vec![0];
        let mut count = 0;
        for rack in 0..figures.consist.racks.len() {
            let access = rack_type_of(figures, rack).and_then(|kind| kind.tier_access);
            count += usize::from(access == Some(TierAccess::AboveEmpty));
            above_empty_before.push(count);
        }
        Self { figures, lane_rule: figures.plan.train.lane_rule, above_empty_before }
    }

    /// What blocks `step` among the strings on the train in the state `before` it.
    fn blocks(&self, step: &Step, toward: TrainEnd, before: usize) -> Blocks {
        let figures = self.figures;
        let moved: Vec<usize> = moved_strings(figures, step).collect();
        let mut blocks = Blocks::default();
        for placed in figures.placed.iter().filter(|placed| moved.contains(&placed.string)) {
            let Some(placement) = placement_of(figures, placed) else { continue };
            let way = Moved { placed, placement, toward };
            // The other string of a pair moves as well, so it never blocks.
            for other in figures.present(before).filter(|other| !moved.contains(&other.string)) {
                self.add_block(&mut blocks, way, other);
            }
        }
        blocks
    }

    fn add_block(&self, blocks: &mut Blocks, way: Moved<'_>, other: &PlacedString) {
        let Some(at) = placement_of(self.figures, other) else { return };
        let list = if at.tier == way.placement.tier && at.lane == way.placement.lane {
            let in_way = match way.toward {
                TrainEnd::Front => other.front < way.placed.rear,
                TrainEnd::Rear => other.rear > way.placed.front,
            };
            in_way.then_some(&mut blocks.in_pocket)
        } else if at.tier > way.placement.tier {
            let shared = self.racks_shared(way, other);
            let needed = |rack: usize| self.above_empty_before.get(rack).copied().unwrap_or(0);
            (needed(shared.end) > needed(shared.start)).then_some(&mut blocks.above)
        } else if at.tier == way.placement.tier {
            self.goes_first(way, other, at.lane).then_some(&mut blocks.by_lane)
        } else {
            None
        };
        if let Some(list) = list
            && !list.contains(&other.string)
        {
            list.push(other.string);
        }
    }

    /// The racks concerned at which `other` lies; an empty range where there are none.
    fn racks_shared(&self, way: Moved<'_>, other: &PlacedString) -> Range<usize> {
        let racks = &way.placed.racks;
        let concerned = match way.toward {
            TrainEnd::Front => 0..racks.end,
            TrainEnd::Rear => racks.start..self.figures.consist.racks.len(),
        };
        let start = concerned.start.max(other.racks.start);
        start..concerned.end.min(other.racks.end).max(start)
    }

    /// Whether `other`, in `lane` of the same tier, must go before the moved string by the rule of lanes.
    ///
    /// A lane in the middle belongs to both sides: it goes last (or first) of all.
    fn goes_first(&self, way: Moved<'_>, other: &PlacedString, lane: u32) -> bool {
        let outermost = match self.lane_rule {
            Some(LaneRule::OutermostFirst) => true,
            Some(LaneRule::InnermostFirst) => false,
            Some(LaneRule::AnyOrder) | None => return false,
        };
        let racks = self.figures.consist.racks.get(self.racks_shared(way, other)).unwrap_or_default();
        racks.iter().any(|rack| {
            let y = |lane: u32| (lane as usize).checked_sub(1).and_then(|lane| rack.lanes_y_m.get(lane));
            let (Some(own), Some(other)) = (y(way.placement.lane), y(lane)) else { return false };
            let one_side = own * other >= 0.0;
            one_side && if outermost { other.abs() > own.abs() } else { other.abs() < own.abs() }
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::Outcome;
    use crate::checks::trial::{expect, words};
    use crate::fixtures::{drop_off, empty_plan, place};
    use crate::model::{Plan, StepStrings, StringMark};
    use crate::statics::Scope;

    /// Strings of 15 m by tier, lane and front end in m, on four wagons, and a drop that takes them off in order.
    fn strings(at: &[(u32, u32, i64)]) -> Plan {
        let mut plan = empty_plan(4);
        let marks: Vec<String> = (1..=at.len()).map(|number| format!("S{number}")).collect();
        for (mark, (tier, lane, front_m)) in marks.iter().zip(at) {
            place(&mut plan, mark, 15_000, (*tier, *lane, front_m * 1000));
        }
        let marks: Vec<&str> = marks.iter().map(String::as_str).collect();
        plan.drops.push(drop_off("Site", &marks));
        plan
    }

    fn toward(mut plan: Plan, end: TrainEnd) -> Plan {
        plan.drops[0].toward = end;
        plan
    }

    fn lane_rule(mut plan: Plan, rule: LaneRule) -> Plan {
        plan.train.lane_rule = Some(rule);
        plan
    }

    fn check(plan: Plan, expected: &[(Outcome, &str)]) {
        expect(&CHECK, plan, expected);
    }

    const FIRST: (Outcome, &str) = (Outcome::Fail, "drop Site, step 1");

    #[test]
    fn a_string_in_the_pocket_between_it_and_the_unloading_end_blocks() {
        let in_line = strings(&[(1, 1, 2), (1, 1, 22)]);
        let findings = expect(&CHECK, in_line.clone(), &[FIRST]);
        assert_eq!(
            words(&findings),
            "drop Site, step 1: string S1 cannot come off, blocked by string S2 in the pocket on the way out"
        );
        assert_eq!(findings[0].state, Some(0));
        check(toward(in_line.clone(), TrainEnd::Front), &[]);
        let mut one_over_the_front = in_line;
        one_over_the_front.drops[0].steps[0].toward = Some(TrainEnd::Front);
        check(one_over_the_front, &[]);
        check(strings(&[(1, 2, 2), (1, 1, 22)]), &[]);
    }

    // S2 lies over the racks that S1 passes on its way to the rear, not over those it passes to the front.
    #[test]
    fn tiers_above_must_be_empty_under_way_where_the_racks_ask_for_it() {
        check(strings(&[(1, 1, 2), (2, 5, 2)]), &[FIRST]);
        let ahead = strings(&[(1, 1, 2), (2, 5, 42)]);
        check(ahead.clone(), &[FIRST]);
        check(toward(ahead.clone(), TrainEnd::Front), &[]);
        let mut any_tier = ahead;
        any_tier.train.rack_types[0].tier_access = Some(TierAccess::AnyTier);
        check(any_tier, &[]);
        check(strings(&[(2, 1, 2), (1, 5, 2)]), &[]);
    }

    // Ten lanes: 1 to 5 on the left, from the outside in; 6 to 10 on the right.
    #[test]
    fn outermost_lanes_go_first_on_each_side_or_innermost_or_any() {
        let inner_first = strings(&[(1, 3, 2), (1, 2, 2)]);
        check(inner_first.clone(), &[]);
        check(lane_rule(inner_first.clone(), LaneRule::OutermostFirst), &[FIRST]);
        check(lane_rule(inner_first, LaneRule::InnermostFirst), &[]);
        let outer_first = strings(&[(1, 2, 2), (1, 3, 2)]);
        check(lane_rule(outer_first.clone(), LaneRule::OutermostFirst), &[]);
        check(lane_rule(outer_first, LaneRule::InnermostFirst), &[FIRST]);
        let other_side = strings(&[(1, 3, 2), (1, 10, 2)]);
        check(lane_rule(other_side, LaneRule::OutermostFirst), &[]);
        let not_passed = toward(strings(&[(1, 3, 2), (1, 2, 42)]), TrainEnd::Front);
        check(lane_rule(not_passed, LaneRule::OutermostFirst), &[]);
    }

    #[test]
    fn a_lane_in_the_middle_goes_last_of_all_or_first_of_all() {
        let with = |rule| {
            let mut plan = lane_rule(strings(&[(1, 2, 2), (1, 3, 2)]), rule);
            plan.train.rack_types[0].lanes_y_mm = vec![-500.0, 0.0, 500.0];
            plan
        };
        check(with(LaneRule::OutermostFirst), &[FIRST]);
        check(with(LaneRule::InnermostFirst), &[]);
    }

    #[test]
    fn the_strings_of_a_pair_never_block_each_other() {
        let mut plan = lane_rule(strings(&[(1, 2, 2), (1, 1, 2)]), LaneRule::OutermostFirst);
        plan.drops[0].steps.truncate(1);
        check(plan.clone(), &[FIRST]);
        let mark = |text| StringMark::new(text).unwrap();
        plan.drops[0].steps[0].strings =
            StepStrings::Pair { first: mark("S1"), second: mark("S2"), together: true };
        check(plan, &[]);
    }

    #[test]
    fn a_string_that_comes_on_needs_the_same_way_and_waits_for_what_goes_off_first() {
        // S2 comes on under S1 while S1 is there, or after it has gone.
        let mut plan = strings(&[(2, 1, 2), (1, 5, 2)]);
        plan.drops[0].steps[1].kind = StepKind::On;
        check(plan.clone(), &[]);
        plan.drops[0].steps.reverse();
        let findings = expect(&CHECK, plan, &[FIRST]);
        assert_eq!(
            words(&findings),
            "drop Site, step 1: string S2 cannot come on, blocked by string S1 in tiers above"
        );
    }

    #[test]
    fn what_nobody_entered_leaves_it_undecided() {
        let mut plan = strings(&[(1, 1, 2)]);
        plan.train.lane_rule = None;
        check(plan, &[(Outcome::Undecided, "train")]);
        let mut plan = strings(&[(1, 1, 2)]);
        plan.train.rack_types[0].tier_access = None;
        check(plan.clone(), &[(Outcome::Undecided, "rack type Rack 5 x 10")]);
        plan.train.rack_types[0].tiers.truncate(1);
        check(plan, &[]);
    }

    #[test]
    fn without_steps_there_is_no_way_to_judge() {
        let mut plan = strings(&[(1, 1, 2)]);
        plan.drops.clear();
        check(plan, &[(Outcome::NotApplicable, "plan")]);
    }

    #[test]
    fn only_steps_that_begin_in_a_worked_state_are_judged() {
        let plan = std::sync::Arc::new(strings(&[(1, 1, 2), (1, 1, 22), (2, 5, 22)]));
        let blocked = |state| {
            let figures = Figures::of(plan.clone(), Scope::One(state));
            let mut judge = Judge::new(&CHECK, &figures);
            run(&mut judge);
            let steps: Vec<_> =
                judge.findings().iter().map(|finding| (finding.outcome, finding.subject)).collect();
            steps
        };
        assert_eq!(blocked(0), [(Outcome::Fail, Subject::Step(0, 0))]);
        assert_eq!(blocked(1), [(Outcome::Fail, Subject::Step(0, 1))]);
        assert_eq!(blocked(2), [(Outcome::Pass, Subject::Step(0, 2))]);
    }
}
