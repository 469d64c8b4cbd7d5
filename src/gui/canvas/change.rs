//! The edits that the tools ask for: placing, moving and swapping strings together with their holds.

use super::lay::{self, Pocket};
use crate::edit::{Edit, Move};
use crate::model::{Placement, Plan, StringMark};
use crate::statics::Consist;
use crate::units::Length;
use std::collections::BTreeSet;

/// An edit, and what to say about it in the status line.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    /// The edit.
    pub edit: Edit,
    /// What it does besides what was asked for, such as a hold that it proposes; empty for nothing.
    pub said: String,
}

/// A step for a selection: so far along the train, so many tiers up and lanes to the right.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Shift {
    /// Along the train, rearward positive.
    pub along: Length,
    /// Tiers upward.
    pub tiers: i64,
    /// Lanes to the right.
    pub lanes: i64,
}

/// Places `mark` in `pocket` with its front end at `front`, held where [`lay::propose_hold`] says.
pub(super) fn place(
    plan: &Plan,
    consist: &Consist,
    mark: &StringMark,
    pocket: Pocket,
    front: Length,
) -> Option<Change> {
    let string = plan.string(mark)?;
    let hold = lay::propose_hold(plan, consist, front, front + string.length);
    let said = match &hold {
        Some(hold) => {
            format!("{mark}: hold proposed at {} rack {}, nearest its middle", hold.vehicle, hold.rack)
        }
        None => format!("{mark}: no clamping rack is under it, so no hold is proposed"),
    };
    let placement = Placement {
        string: mark.clone(),
        tier: pocket.tier,
        lane: pocket.lane,
        front,
        holds: hold.into_iter().collect(),
        rests_on: None,
        locked: false,
    };
    Some(Change { edit: Edit::Place { placement }, said })
}

/// Places strings in pockets as one step: the first where `first` says, the others in the first free pockets
/// near `rack`; a string that no pocket is free for is left out. None where none can be placed.
pub(super) fn place_all(
    plan: &Plan,
    consist: &Consist,
    strings: &[StringMark],
    rack: usize,
    first: Option<(Pocket, Length)>,
) -> Option<Change> {
    let mut filled = plan.clone();
    let (mut edits, mut said) = (Vec::new(), Vec::new());
    for (index, mark) in strings.iter().enumerate() {
        let given = first.filter(|_| index == 0);
        let string = plan.string(mark)?;
        let Some((pocket, front)) = given.or_else(|| lay::first_free_pocket(&filled, consist, string, rack))
        else {
            said.push(format!("{mark}: no free pocket"));
            continue;
        };
        let change = place(&filled, consist, mark, pocket, front)?;
        // What cannot be made is asked for all the same, so that the refusal is told.
        if let Ok(applied) = change.edit.apply(&filled) {
            filled = applied.plan;
        }
        edits.push(change.edit);
        said.push(change.said);
    }
    let edit = match edits.len() {
        0 => return None,
        1 => edits.remove(0),
        count => Edit::Batch { label: format!("Place {count} strings"), edits },
    };
    Some(Change { edit, said: said.join("; ") })
}

/// Places strings in the first free pockets near `rack` as one step; none where none is free.
pub fn place_free(plan: &Plan, consist: &Consist, rack: usize, strings: &[StringMark]) -> Option<Change> {
    place_all(plan, consist, strings, rack, None)
}

/// Moves strings as one step; a hold whose rack is no longer under its string is proposed anew.
///
/// None where nothing would move. Locked strings are left to the edit, which refuses them.
pub(super) fn moved(plan: &Plan, consist: &Consist, moves: Vec<Move>) -> Option<Change> {
    let stays = |step: &Move| {
        plan.placement(&step.string)
            .is_some_and(|at| (at.tier, at.lane, at.front) == (step.tier, step.lane, step.front))
    };
    if moves.iter().all(stays) {
        return None;
    }
    let (holds, said): (Vec<Edit>, Vec<String>) =
        moves.iter().filter_map(|step| new_hold(plan, consist, step)).unzip();
    let first = Edit::Move { moves };
    let edit = if holds.is_empty() {
        first
    } else {
        let label = first.label();
        Edit::Batch { label, edits: std::iter::once(first).chain(holds).collect() }
    };
    Some(Change { edit, said: said.join("; ") })
}

/// The hold that a moved string needs instead of one that is no longer under it.
fn new_hold(plan: &Plan, consist: &Consist, step: &Move) -> Option<(Edit, String)> {
    let length = plan.string(&step.string)?.length;
    let (front, rear) = (step.front, step.front + length);
    let [hold] = plan.placement(&step.string)?.holds.as_slice() else { return None };
    if lay::holds_still(plan, consist, hold, front, rear) {
        return None;
    }
    let proposed = lay::propose_hold(plan, consist, front, rear)?;
    let said = format!(
        "{}: its hold is no longer under it; proposed at {} rack {}",
        step.string, proposed.vehicle, proposed.rack
    );
    Some((Edit::SetHolds { string: step.string.clone(), holds: vec![proposed] }, said))
}

/// The moves of `strings` by `shift`; tiers and lanes stop where the first of them would leave its rack.
pub(super) fn shifted(
    plan: &Plan,
    consist: &Consist,
    strings: &BTreeSet<StringMark>,
    shift: Shift,
) -> Vec<Move> {
    let placements: Vec<&Placement> = strings.iter().filter_map(|mark| plan.placement(mark)).collect();
    let mut shift = shift;
    for placement in &placements {
        let (tiers, lanes) = pockets_under(plan, consist, placement);
        shift.tiers = stop(placement.tier, shift.tiers, tiers);
        shift.lanes = stop(placement.lane, shift.lanes, lanes);
    }
    placements
        .into_iter()
        .map(|placement| Move {
            string: placement.string.clone(),
            tier: placement.tier.saturating_add_signed(shift.tiers as i32),
            lane: placement.lane.saturating_add_signed(shift.lanes as i32),
            front: placement.front + shift.along,
        })
        .collect()
}

/// `by`, or less, so that `at` does not leave `1..=count`; what is outside already may only come back.
fn stop(at: u32, by: i64, count: u32) -> i64 {
    let at = i64::from(at);
    let (least, most) = ((1 - at).min(0), (i64::from(count) - at).max(0));
    by.clamp(least, most)
}

/// The tiers and lanes that all racks under a placement have; those of the richest rack where none is.
fn pockets_under(plan: &Plan, consist: &Consist, placement: &Placement) -> (u32, u32) {
    let length = plan.string(&placement.string).map_or(Length::ZERO, |string| string.length);
    let racks = consist.racks_between(placement.front, placement.front + length);
    let kinds = consist.racks.get(racks).unwrap_or_default().iter();
    let under = kinds
        .filter_map(|rack| plan.train.rack_types.get(rack.rack_type))
        .map(|kind| (kind.tiers.len() as u32, kind.lanes_y_mm.len() as u32))
        .reduce(|a, b| (a.0.min(b.0), a.1.min(b.1)));
    let any =
        plan.train.rack_types.iter().map(|kind| (kind.tiers.len() as u32, kind.lanes_y_mm.len() as u32));
    under.or_else(|| any.reduce(|a, b| (a.0.max(b.0), a.1.max(b.1)))).unwrap_or((1, 1))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures;

    fn plan() -> (Plan, Consist) {
        let mut plan = fixtures::empty_plan(3);
        fixtures::place(&mut plan, "A", 20_000, (1, 5, 3_017));
        fixtures::place(&mut plan, "B", 20_000, (2, 9, 3_017));
        let consist = Consist::of(&plan);
        (plan, consist)
    }

    fn both() -> BTreeSet<StringMark> {
        ["A", "B"].map(|mark| StringMark::new(mark).unwrap()).into()
    }

    fn check(shift: Shift, expected: [(u32, u32, i64); 2]) {
        let (plan, consist) = plan();
        let moves = shifted(&plan, &consist, &both(), shift);
        let found: Vec<_> = moves.iter().map(|step| (step.tier, step.lane, step.front.mm())).collect();
        assert_eq!(found, expected);
    }

    #[test]
    fn a_selection_moves_as_one_and_stops_at_the_racks_sides() {
        check(Shift { along: Length::from_mm(10), ..Shift::default() }, [(1, 5, 3_027), (2, 9, 3_027)]);
        check(Shift { lanes: 3, ..Shift::default() }, [(1, 6, 3_017), (2, 10, 3_017)]);
        check(Shift { tiers: -1, ..Shift::default() }, [(1, 5, 3_017), (2, 9, 3_017)]);
        check(Shift { tiers: 9, ..Shift::default() }, [(4, 5, 3_017), (5, 9, 3_017)]);
    }

    #[test]
    fn moving_keeps_the_hold_while_its_rack_is_under_the_string() {
        let (plan, consist) = plan();
        let shift = Shift { along: Length::from_mm(100), ..Shift::default() };
        let change = moved(&plan, &consist, shifted(&plan, &consist, &both(), shift)).unwrap();
        assert!(matches!(change.edit, Edit::Move { .. }));
        assert!(change.said.is_empty());
    }

    #[test]
    fn moving_off_the_hold_proposes_another_and_says_so() {
        let (plan, consist) = plan();
        let shift = Shift { along: Length::from_mm(30_000), ..Shift::default() };
        let change = moved(&plan, &consist, shifted(&plan, &consist, &both(), shift)).unwrap();
        let after = change.edit.apply(&plan).unwrap().plan;
        assert_eq!(after.placements[0].holds.len(), 1);
        assert!(
            change.said.contains("A: its hold is no longer under it; proposed at W3 rack 1"),
            "{}",
            change.said
        );
    }

    #[test]
    fn nothing_moved_is_no_change() {
        let (plan, consist) = plan();
        assert_eq!(moved(&plan, &consist, shifted(&plan, &consist, &both(), Shift::default())), None);
    }

    #[test]
    fn placing_proposes_a_hold_and_says_so() {
        let (mut plan, consist) = plan();
        plan.placements.pop();
        let mark = StringMark::new("B").unwrap();
        let change =
            place(&plan, &consist, &mark, Pocket { tier: 1, lane: 1 }, Length::from_mm(3_017)).unwrap();
        let after = change.edit.apply(&plan).unwrap().plan;
        assert_eq!(after.placements[1].holds[0].rack, 2);
        assert_eq!(change.said, "B: hold proposed at W1 rack 2, nearest its middle");
    }
}
