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
