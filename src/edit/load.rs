//! Placing, taking off, moving, holding and locking strings.

use super::{EditError, Locked, Move, rows};
use crate::model::{Hold, OrderedString, Placement, Plan, RackSpan, StringMark};

/// Puts a string on the train that is not on it yet.
pub(super) fn place(plan: &mut Plan, placement: &Placement) -> Result<(), EditError> {
    rows::index_of::<OrderedString>(plan, &placement.string)?;
    if plan.placement(&placement.string).is_some() {
        return Err(EditError::AlreadyPlaced { string: placement.string.clone() });
    }
    plan.placements.push(placement.clone());
    Ok(())
}

/// Takes all placements of the strings away.
pub(super) fn take_off(plan: &mut Plan, strings: &[StringMark]) -> Result<(), EditError> {
    for string in strings {
        placement_mut(plan, string)?;
        expect_unlocked(plan, string)?;
        plan.placements.retain(|placement| placement.string != *string);
    }
    Ok(())
}

/// Moves strings; a string that stays where it is may be locked.
pub(super) fn move_strings(plan: &mut Plan, moves: &[Move]) -> Result<(), EditError> {
    for step in moves {
        let placement = placement_mut(plan, &step.string)?;
        let stays = (placement.tier, placement.lane, placement.front) == (step.tier, step.lane, step.front);
        if placement.locked && !stays {
            return Err(EditError::StringLocked { string: step.string.clone() });
        }
        (placement.tier, placement.lane, placement.front) = (step.tier, step.lane, step.front);
    }
    Ok(())
}

/// Exchanges tier and lane of two strings.
pub(super) fn swap_pockets(
    plan: &mut Plan,
    first: &StringMark,
    second: &StringMark,
) -> Result<(), EditError> {
    if first == second {
        return Err(EditError::SwapWithItself { string: first.clone() });
    }
    let pocket = |placement: &Placement| (placement.tier, placement.lane);
    let [of_first, of_second] = [pocket(placement_mut(plan, first)?), pocket(placement_mut(plan, second)?)];
    expect_unlocked(plan, first)?;
    expect_unlocked(plan, second)?;
    for (string, (tier, lane)) in [(first, of_second), (second, of_first)] {
        let placement = placement_mut(plan, string)?;
        (placement.tier, placement.lane) = (tier, lane);
    }
    Ok(())
}

/// Replaces the holds of a string.
pub(super) fn set_holds(plan: &mut Plan, string: &StringMark, holds: &[Hold]) -> Result<(), EditError> {
    placement_mut(plan, string)?.holds = holds.to_vec();
    Ok(())
}

/// Replaces the racks that a string is meant to rest on.
pub(super) fn set_rests_on(
    plan: &mut Plan,
    string: &StringMark,
    rests_on: Option<&RackSpan>,
) -> Result<(), EditError> {
    placement_mut(plan, string)?.rests_on = rests_on.cloned();
    Ok(())
}

/// Locks or frees strings.
pub(super) fn set_locked(plan: &mut Plan, strings: &[StringMark], locked: Locked) -> Result<(), EditError> {
    strings.iter().try_for_each(|string| {
        placement_mut(plan, string)?.locked = locked == Locked::Yes;
        Ok(())
    })
}

/// Refuses where a placement of the string is locked; a string that is not on the train is not.
pub(super) fn expect_unlocked(plan: &Plan, string: &StringMark) -> Result<(), EditError> {
    let locked = plan.placements.iter().any(|placement| placement.string == *string && placement.locked);
    if locked { Err(EditError::StringLocked { string: string.clone() }) } else { Ok(()) }
}

fn placement_mut<'a>(plan: &'a mut Plan, string: &StringMark) -> Result<&'a mut Placement, EditError> {
    rows::index_of::<OrderedString>(plan, string)?;
    plan.placements
        .iter_mut()
        .find(|placement| placement.string == *string)
        .ok_or_else(|| EditError::NotPlaced { string: string.clone() })
}

#[cfg(test)]
mod tests {
    use super::super::Edit;
    use super::super::trial::{after, plan, rack, refused, string};
    use super::*;
    use crate::units::Length;

    fn placement(mark: &str, tier: u32, lane: u32, front_mm: i64) -> Placement {
        Placement {
            string: string(mark),
            tier,
            lane,
            front: Length::from_mm(front_mm),
            holds: vec![rack("W1", 2)],
            rests_on: None,
            locked: false,
        }
    }

    fn moved(mark: &str, tier: u32, lane: u32, front_mm: i64) -> Move {
        Move { string: string(mark), tier, lane, front: Length::from_mm(front_mm) }
    }

    fn lock(mark: &str) -> Edit {
        Edit::SetLocked { strings: vec![string(mark)], locked: Locked::Yes }
    }

    #[test]
    fn a_string_from_the_yard_is_placed_once() {
        let place = Edit::Place { placement: placement("S4", 2, 5, 2_000) };
        let placed = after(&plan(), &place);
        assert_eq!(placed.placement(&string("S4")), Some(&placement("S4", 2, 5, 2_000)));
        assert_eq!(refused(&placed, &place), EditError::AlreadyPlaced { string: string("S4") });
        let unknown = Edit::Place { placement: placement("S9", 2, 5, 2_000) };
        assert!(matches!(refused(&plan(), &unknown), EditError::NoSuch { kind: "string", .. }));
    }

    #[test]
    fn a_string_taken_off_is_in_the_yard() {
        let off = Edit::TakeOff { strings: vec![string("S1"), string("S2")] };
        let left = after(&plan(), &off);
        assert_eq!(left.placements.len(), 1);
        assert!(left.string(&string("S1")).is_some());
        assert_eq!(refused(&left, &off), EditError::NotPlaced { string: string("S1") });
    }

    #[test]
    fn several_strings_move_at_once_and_keep_their_holds() {
        let edit = Edit::Move { moves: vec![moved("S1", 3, 2, 3_000), moved("S2", 3, 9, 3_000)] };
        let (before, changed) = (plan(), after(&plan(), &edit));
        let place = |plan: &Plan, mark| plan.placement(&string(mark)).unwrap().clone();
        assert_eq!(place(&changed, "S1").front, Length::from_mm(3_000));
        assert_eq!((place(&changed, "S2").tier, place(&changed, "S2").lane), (3, 9));
        assert_eq!(place(&changed, "S1").holds, place(&before, "S1").holds);
        assert_eq!(place(&changed, "S3"), place(&before, "S3"));
        let yard = Edit::Move { moves: vec![moved("S4", 1, 1, 0)] };
        assert_eq!(refused(&before, &yard), EditError::NotPlaced { string: string("S4") });
    }

    #[test]
    fn a_swap_exchanges_pockets_and_nothing_else() {
        let edit = Edit::SwapPockets { first: string("S1"), second: string("S3") };
        let changed = after(&plan(), &edit);
        let [first, third] = ["S1", "S3"].map(|mark| changed.placement(&string(mark)).unwrap());
        assert_eq!((first.tier, first.lane, first.front.mm()), (2, 4, 2_000));
        assert_eq!((third.tier, third.lane, third.front.mm()), (1, 1, 42_000));
        assert_eq!(after(&changed, &edit), plan());
        let itself = Edit::SwapPockets { first: string("S1"), second: string("S1") };
        assert_eq!(refused(&plan(), &itself), EditError::SwapWithItself { string: string("S1") });
    }

    #[test]
    fn a_locked_string_stays_until_it_is_unlocked() {
        let locked = after(&plan(), &lock("S1"));
        let error = EditError::StringLocked { string: string("S1") };
        for edit in [
            Edit::TakeOff { strings: vec![string("S1")] },
            Edit::Move { moves: vec![moved("S3", 2, 4, 42_100), moved("S1", 1, 1, 2_001)] },
            Edit::SwapPockets { first: string("S3"), second: string("S1") },
            Edit::SwapPockets { first: string("S1"), second: string("S3") },
        ] {
            assert_eq!(refused(&locked, &edit), error);
        }
        let stays = Edit::Move { moves: vec![moved("S1", 1, 1, 2_000)] };
        assert_eq!(after(&locked, &stays), locked);
        let unlock = Edit::SetLocked { strings: vec![string("S1")], locked: Locked::No };
        assert_eq!(after(&locked, &unlock), plan());
    }

    #[test]
    fn holds_and_meant_racks_are_set_and_cleared() {
        let span = RackSpan { first: rack("W1", 1), last: rack("W2", 3) };
        let edit = Edit::SetRestsOn { string: string("S1"), rests_on: Some(span.clone()) };
        let changed = after(&plan(), &edit);
        assert_eq!(changed.placement(&string("S1")).unwrap().rests_on, Some(span));
        let clear = Edit::SetRestsOn { string: string("S1"), rests_on: None };
        assert_eq!(after(&changed, &clear), plan());
        let holds = vec![rack("W2", 1)];
        let edit = Edit::SetHolds { string: string("S1"), holds: holds.clone() };
        assert_eq!(after(&plan(), &edit).placement(&string("S1")).unwrap().holds, holds);
        let yard = Edit::SetHolds { string: string("S4"), holds };
        assert_eq!(refused(&plan(), &yard), EditError::NotPlaced { string: string("S4") });
    }
}
