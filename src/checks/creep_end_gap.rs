//! Each end keeps clear of what is beyond it when it has crept away from its hold.

use super::distance::keep_distance;
use super::end_clearance::{Obstacle, nearest_behind, nearest_in_front};
use super::moving_ends::moving_ends;
use super::pocket_shared::{InRow, neighbours, rows_of_pockets};
use super::{Check, Judge, Subject};
use crate::model::{LimitKind, TrainEnd};
use crate::statics::{Figures, PlacedString, Shift, StateRule};
use crate::text;
use crate::units::{Length, Quantity};
use std::collections::BTreeMap;

/// The check.
pub(crate) static CHECK: Check = Check {
    id: "creep-end-gap",
    title: "End gap after creep",
    what: "The distance from each end to the nearest thing beyond it (a stop, an engine, the train's end), and the gap \
           between two strings in one tier and lane, less the farthest that the ends move away from their holds: in \
           the route's curves with the string on the inside, by coupling slack and by heat.",
    why: "On the inside of a curve the way along the racks is shorter than the string: its ends move out, and strike \
          what they reached not by far on the straight.",
    mend: "Move the string away from what is beyond this end, hold it nearer this end, or choose a lane nearer the \
           middle.",
    source: "geometry; the values are the plan's limits for ends at rest",
    run,
};

fn run(judge: &mut Judge<'_>) {
    let moving = moving_ends(judge);
    if moving.is_empty() {
        return;
    }
    let least = judge.limit(LimitKind::EndClearance).map(|limit| limit.running);
    for (placed, _) in &moving {
        for end in [TrainEnd::Front, TrainEnd::Rear] {
            judge_obstacle(judge, placed, end, least);
        }
    }
    judge_strings(judge);
}

fn judge_obstacle(judge: &mut Judge<'_>, placed: &PlacedString, end: TrainEnd, least_m: Option<f64>) {
    let figures = judge.figures;
    let Some(beyond) = beyond_end(figures, placed, end) else { return };
    let left = Quantity::length_m(beyond.left_m());
    keep_distance(judge, (None, Subject::StringEnd(placed.string, end)), (left, least_m), || {
        let mut tail = beyond.obstacle.words(figures);
        tail.0.extend(text![", of ", Quantity::length(beyond.distance), " at rest"].0);
        tail
    });
}

/// What is beyond an end, and how the end creeps toward it.
pub(crate) struct BeyondEnd {
    /// What it is.
    pub(crate) obstacle: Obstacle,
    /// Its distance at rest.
    pub(crate) distance: Length,
    /// How the end may move against it.
    pub(crate) shift: Shift,
    /// Slack of the coupling on which a vehicle beyond the train hangs, in m.
    pub(crate) slack_m: f64,
}

impl BeyondEnd {
    /// What is left of the distance, in m.
    pub(crate) fn left_m(&self) -> f64 {
        self.distance.m() - self.shift.out_m() - self.slack_m
    }
}

/// What is beyond an end of a string whose creep is known.
pub(crate) fn beyond_end(figures: &Figures, placed: &PlacedString, end: TrainEnd) -> Option<BeyondEnd> {
    let ((x, obstacle), end_x) = match end {
        TrainEnd::Front => (nearest_in_front(figures, placed), placed.front),
        TrainEnd::Rear => (nearest_behind(figures, placed), placed.rear),
    };
    let distance = if end == TrainEnd::Front { end_x - x } else { x - end_x };
    let vehicle = vehicle_at(figures, x, end);
    let shift = figures.creep_toward(placed, end, (vehicle, x.m()))?;
    // A vehicle beyond the train hangs on one coupling more.
    let slack_m = match obstacle {
        Obstacle::Beyond(crate::model::BeyondKind::Vehicle) => {
            figures.plan.train.coupling_slack.map_or(0.0, Length::m)
        }
        _ => 0.0,
    };
    Some(BeyondEnd { obstacle, distance, shift, slack_m })
}

/// The vehicle that a thing at `x` beyond an end is fixed to; the last one for what stands beyond the train.
fn vehicle_at(figures: &Figures, x: Length, end: TrainEnd) -> usize {
    let vehicles = &figures.consist.vehicles;
    let last = vehicles.len().saturating_sub(1);
    let found = match end {
        TrainEnd::Front => vehicles.iter().position(|place| x <= place.rear),
        TrainEnd::Rear => vehicles.iter().rposition(|place| x >= place.front),
    };
    found.unwrap_or(if end == TrainEnd::Front { last } else { 0 })
}

/// How far the ends of two neighbours in a row of pockets come together, in m; none where it is not known.
type Together = Option<f64>;

fn judge_strings(judge: &mut Judge<'_>) {
    let figures = judge.figures;
    let rows = rows_of_pockets(figures);
    let mut pairs: Vec<(usize, StateRule, InRow<'_>, &PlacedString)> = Vec::new();
    for (state, rule) in judge.states() {
        neighbours(figures, &rows, state.state, |first, second, row| {
            pairs.push((state.state, rule, (row, first), second));
        });
    }
    pairs.retain(|(_, _, (_, first), second)| second.front >= first.rear);
    if pairs.is_empty() {
        return;
    }
    let limit = judge.limit(LimitKind::PocketGap);
    let mut known: BTreeMap<(usize, usize), Together> = BTreeMap::new();
    for (state, rule, (row, first), second) in pairs {
        let together = known
            .entry((first.placement, second.placement))
            .or_insert_with(|| together_m(figures, first, second));
        if let Some(together_m) = *together {
            let least_m = limit.as_ref().map(|limit| limit.by(rule));
            judge_pair(judge, (state, row), (first, second, together_m), least_m);
        }
    }
}

fn together_m(figures: &Figures, first: &PlacedString, second: &PlacedString) -> Together {
    let [one, other] = shifts_together(figures, first, second)?;
    Some(one.out_m() + other.out_m())
}

/// How the rear end of `first` and the front end of `second` may move toward each other; none where not known.
pub(crate) fn shifts_together(
    figures: &Figures,
    first: &PlacedString,
    second: &PlacedString,
) -> Option<[Shift; 2]> {
    let creep = &figures.creep().strings;
    let of_second = |placed: &PlacedString| placed.placement == second.placement;
    let (_, ends) = figures.placed.iter().zip(creep).find(|(placed, _)| of_second(placed))?;
    let [front, _] = ends.as_ref().ok()?;
    let rack = figures.consist.racks.get(front.last_rack)?;
    let shift = figures.creep_toward(first, TrainEnd::Rear, (rack.vehicle, rack.x.m()))?;
    Some([shift, front.over_last])
}

fn judge_pair(
    judge: &mut Judge<'_>,
    (state, (tier, lane)): (usize, (u32, u32)),
    (first, second, together_m): (&PlacedString, &PlacedString, f64),
    least_m: Option<f64>,
) {
    let gap = second.front - first.rear;
    let (a, b) = (first.string.min(second.string), first.string.max(second.string));
    let left = Quantity::length_m(gap.m() - together_m);
    keep_distance(judge, (Some(state), Subject::Strings(a, b)), (left, least_m), || {
        let place = format!(" between their ends in tier {tier}, lane {lane}, of ");
        text![place, Quantity::length(gap), " at rest"]
    });
}

#[cfg(test)]
mod tests {
    use super::CHECK;
    use crate::checks::Outcome::{Fail, Near, Undecided};
    use crate::checks::moving_ends::testing::{add, check_missing, curving};
    use crate::checks::trial::{expect, words};
    use crate::fixtures::drop_off;
    use crate::model::{Beyond, BeyondKind, LimitKind};
    use crate::units::Length;

    const REAR: &str = "string S1, rear end";

    // Limit 0.5 m. The train ends at 119.4 m on W6, three couplings behind the hold: the end moves out by
    // 3 x (23.88 + 0.33) = 72.6 mm.
    #[test]
    fn an_end_that_moves_out_keeps_clear_of_the_trains_end() {
        expect(&CHECK, curving(1_000, 118_800), &[]);
        expect(&CHECK, curving(1_000, 118_827), &[(Near, REAR)]);
        let findings = expect(&CHECK, curving(1_000, 118_828), &[(Fail, REAR)]);
        assert_eq!(
            words(&findings),
            "string S1, rear end: 0.499 m, at least 0.500 m to the train's last buffer face, of 0.572 m at rest"
        );
    }

    #[test]
    fn a_vehicle_beyond_the_train_hangs_on_one_coupling_more() {
        let with = |kind| {
            let mut plan = curving(1_000, 118_850);
            plan.train.coupling_slack = Some(Length::from_mm(10));
            plan.train.rear_beyond = Beyond { kind, distance: Length::from_mm(90) };
            plan
        };
        // 0.640 - 0.073 - 0.030 = 0.537 m, and 0.010 m less.
        expect(&CHECK, with(BeyondKind::EndStop), &[]);
        expect(&CHECK, with(BeyondKind::Vehicle), &[]);
        let mut near = with(BeyondKind::Vehicle);
        near.train.rear_beyond.distance = Length::from_mm(85);
        expect(&CHECK, near.clone(), &[(Near, REAR)]);
        near.train.rear_beyond.kind = BeyondKind::EndStop;
        expect(&CHECK, near, &[]);
    }

    // S1 from 2 m to 40.5 m held on W1, S2 from 41.2 m on held on W4: limit 0.5 m of a gap of 0.7 m. S1 moves out
    // by two couplings to rack 1 of W3 at 43.117 m, S2 by one: 3 x 24.21 = 72.6 mm.
    #[test]
    fn two_ends_in_one_pocket_move_together() {
        let with = |gap_mm: i64| {
            let mut plan = curving(2_000, 40_500);
            plan.placements[0].holds[0].vehicle = plan.train.vehicles[0].mark.clone();
            add(&mut plan, "S2", (40_500 + gap_mm, 90_000), "W4");
            plan
        };
        expect(&CHECK, with(700), &[]);
        expect(&CHECK, with(573), &[(Near, "string S1, string S2")]);
        let findings = expect(&CHECK, with(572), &[(Fail, "string S1, string S2")]);
        assert!(words(&findings).ends_with("between their ends in tier 1, lane 10, of 0.572 m at rest"));
        let mut apart = with(572);
        apart.drops.push(drop_off("Site", &["S2", "S1"]));
        let findings = expect(&CHECK, apart, &[(Fail, "string S1, string S2")]);
        assert_eq!(findings[0].states, [0]);
        let mut other_lane = with(572);
        other_lane.placements[1].lane = 9;
        expect(&CHECK, other_lane, &[]);
        let mut no_limit = with(700);
        no_limit.limits.entries.remove(&LimitKind::PocketGap);
        expect(&CHECK, no_limit, &[(Undecided, "limit gap in a pocket")]);
    }

    #[test]
    fn what_nobody_entered_leaves_it_undecided() {
        check_missing(&CHECK, &curving(1_000, 118_000));
        let mut plan = curving(1_000, 118_000);
        plan.limits.entries.remove(&LimitKind::EndClearance);
        expect(&CHECK, plan, &[(Undecided, "limit end clearance")]);
        // 119,390 mm at rest: the end moves past the train's own end, at 119,400 mm.
        let mut plan = curving(1_000, 119_390);
        plan.limits.entries.remove(&LimitKind::EndClearance);
        expect(&CHECK, plan, &[(Fail, REAR), (Undecided, "limit end clearance")]);
    }
}
