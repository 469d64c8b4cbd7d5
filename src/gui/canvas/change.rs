//! The edits that the tools ask for: placing, moving and swapping strings together with their holds.

use super::lay::{self, Pocket};
use super::pairs::{Member, Pairs, members};
use crate::edit::{Edit, Move};
use crate::gui::Request;
use crate::model::{Placement, Plan, StringMark};
use crate::statics::{Consist, mirrored_lane};
use crate::units::Length;
use std::collections::{BTreeMap, BTreeSet};

/// An edit, and what to say about it in the status line.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    /// The edit.
    pub edit: Edit,
    /// What it does besides what was asked for, such as a hold that it proposes; empty for nothing.
    pub said: String,
}

impl Change {
    /// The wish for it.
    pub fn request(self) -> Request {
        if self.said.is_empty() { Request::Edit(self.edit) } else { Request::Change(self) }
    }

    /// The same change under another name in the undo history.
    #[must_use]
    pub(super) fn named(self, label: String) -> Self {
        let edits = match self.edit {
            Edit::Batch { edits, .. } => edits,
            edit => vec![edit],
        };
        Self { edit: Edit::Batch { label, edits }, ..self }
    }
}

/// A step for a selection: so far along the train, so many tiers up and lanes to the right.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(in crate::gui) struct Shift {
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

/// Puts strings into a pocket at a rack of the consist, the first of them there: those on the train by one step for all,
/// each keeping its front end; where none is on the train, those of the yard list, back to where they lay (`kept`) if
/// they can.
pub fn put_into(
    plan: &Plan,
    consist: &Consist,
    strings: &BTreeSet<StringMark>,
    (rack, pocket): (usize, Pocket),
    (pairs, kept): (Pairs, &BTreeMap<StringMark, Length>),
) -> Option<Change> {
    let (on_train, in_yard): (Vec<StringMark>, Vec<StringMark>) =
        strings.iter().cloned().partition(|mark| plan.placement(mark).is_some());
    if let Some(lead) = on_train.first().and_then(|mark| plan.placement(mark)) {
        let shift = Shift {
            tiers: i64::from(pocket.tier) - i64::from(lead.tier),
            lanes: i64::from(pocket.lane) - i64::from(lead.lane),
            ..Shift::default()
        };
        return move_by(plan, consist, &on_train, pairs, shift);
    }
    let string = in_yard.first().and_then(|mark| plan.string(mark))?;
    let kept = kept.get(&string.mark).copied();
    let front = lay::sensible_front(plan, consist, string, (pocket, Some(rack)), kept);
    place_all(plan, consist, &in_yard, rack, Some((pocket, front)))
}

/// Moves strings by `shift` as one step, the first of them leading; see [`moved`] and [`shifted`].
pub(in crate::gui) fn move_by(
    plan: &Plan,
    consist: &Consist,
    strings: &[StringMark],
    pairs: Pairs,
    shift: Shift,
) -> Option<Change> {
    moved(plan, consist, shifted(plan, consist, &members(plan, consist, strings, pairs), shift))
}

/// Moves a string to a pocket and a front end, and those that move with it. None where it cannot come to lie just
/// there, or lies there.
pub(in crate::gui) fn move_to(
    plan: &Plan,
    consist: &Consist,
    (mark, pairs): (&StringMark, Pairs),
    (tier, lane, front): (u32, u32, Length),
) -> Option<Change> {
    let from = plan.placement(mark)?;
    let shift = Shift {
        along: front - from.front,
        tiers: i64::from(tier) - i64::from(from.tier),
        lanes: i64::from(lane) - i64::from(from.lane),
    };
    let all = members(plan, consist, std::slice::from_ref(mark), pairs);
    let moves = shifted(plan, consist, &all, shift);
    let is_there = |to: &Move| to.string == *mark && (to.tier, to.lane, to.front) == (tier, lane, front);
    moves.iter().any(is_there).then(|| moved(plan, consist, moves))?
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

/// The moves of `members` by `shift`; tiers and lanes stop where the first of them would leave its rack.
///
/// A member that mirrors another goes to the lane opposite that one's new lane; where the racks there are not mirror
/// images it goes as many lanes the other way.
pub(super) fn shifted(plan: &Plan, consist: &Consist, members: &[Member], shift: Shift) -> Vec<Move> {
    let mut shift = shift;
    let leading = || members.iter().filter(|member| member.mirrors.is_none());
    for placement in leading().filter_map(|member| plan.placement(&member.string)) {
        let (tiers, lanes) = pockets_under(plan, consist, placement);
        shift.tiers = stop(placement.tier, shift.tiers, tiers);
        shift.lanes = stop(placement.lane, shift.lanes, lanes);
    }
    members
        .iter()
        .filter_map(|member| {
            let placement = plan.placement(&member.string)?;
            let front = placement.front + shift.along;
            let moved = |lane: u32, by: i64| lane.saturating_add_signed(by as i32);
            let lane = match member.mirrors.as_ref().and_then(|led| plan.placement(led)) {
                None => moved(placement.lane, shift.lanes),
                Some(led) => {
                    let length = plan.string(&member.string)?.length;
                    let racks = consist.racks_between(front, front + length);
                    mirrored_lane(consist, racks, moved(led.lane, shift.lanes))
                        .unwrap_or(moved(placement.lane, -shift.lanes))
                }
            };
            let string = placement.string.clone();
            Some(Move { string, tier: moved(placement.tier, shift.tiers), lane, front })
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

    fn both() -> [StringMark; 2] {
        ["A", "B"].map(|mark| StringMark::new(mark).unwrap())
    }

    fn moves(plan: &Plan, consist: &Consist, shift: Shift) -> Vec<Move> {
        shifted(plan, consist, &members(plan, consist, &both(), Pairs::AsOne), shift)
    }

    fn check(shift: Shift, expected: [(u32, u32, i64); 2]) {
        let (plan, consist) = plan();
        let moves = moves(&plan, &consist, shift);
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
    fn a_pair_moves_as_mirror_images_unless_it_is_parted() {
        let (mut plan, consist) = plan();
        fixtures::place(&mut plan, "C", 20_000, (1, 6, 3_017));
        let lead = [StringMark::new("A").unwrap()];
        let lanes = |pairs| {
            let shift = Shift { lanes: -2, tiers: 1, ..Shift::default() };
            let moves = shifted(&plan, &consist, &members(&plan, &consist, &lead, pairs), shift);
            moves.iter().map(|step| (step.string.to_string(), step.tier, step.lane)).collect::<Vec<_>>()
        };
        assert_eq!(lanes(Pairs::AsOne), [("A".to_owned(), 2, 3), ("C".to_owned(), 2, 8)]);
        assert_eq!(lanes(Pairs::Apart), [("A".to_owned(), 2, 3)]);
    }

    #[test]
    fn a_pair_that_goes_across_the_middle_changes_sides() {
        let (mut plan, consist) = plan();
        fixtures::place(&mut plan, "C", 20_000, (1, 6, 3_017));
        let lead = [StringMark::new("A").unwrap()];
        let shift = Shift { lanes: 1, ..Shift::default() };
        let moves = shifted(&plan, &consist, &members(&plan, &consist, &lead, Pairs::AsOne), shift);
        assert_eq!(moves.iter().map(|step| step.lane).collect::<Vec<_>>(), [6, 5]);
    }

    #[test]
    fn moving_keeps_the_hold_while_its_rack_is_under_the_string() {
        let (plan, consist) = plan();
        let shift = Shift { along: Length::from_mm(100), ..Shift::default() };
        let change = move_by(&plan, &consist, &both(), Pairs::AsOne, shift).unwrap();
        assert!(matches!(change.edit, Edit::Move { .. }));
        assert!(change.said.is_empty());
    }

    #[test]
    fn moving_off_the_hold_proposes_another_and_says_so() {
        let (plan, consist) = plan();
        let shift = Shift { along: Length::from_mm(30_000), ..Shift::default() };
        let change = move_by(&plan, &consist, &both(), Pairs::AsOne, shift).unwrap();
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
        assert_eq!(move_by(&plan, &consist, &both(), Pairs::AsOne, Shift::default()), None);
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
