//! Moving steps between and within drops.

use super::{EditError, rows};
use crate::model::{Drop, DropName, Plan, Step};

/// A place in a drop's list of steps.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct StepPlace {
    /// The drop.
    pub drop: DropName,
    /// The step's index.
    pub step: usize,
}

/// Takes a step out and puts it in at its new place.
pub(super) fn move_step(plan: &mut Plan, from: &StepPlace, to: &StepPlace) -> Result<(), EditError> {
    let steps = steps_mut(plan, &from.drop)?;
    expect_place(from.step, steps.len())?;
    let step = steps.remove(from.step);
    let steps = steps_mut(plan, &to.drop)?;
    expect_place(to.step, steps.len() + 1)?;
    steps.insert(to.step, step);
    Ok(())
}

fn steps_mut<'a>(plan: &'a mut Plan, drop: &DropName) -> Result<&'a mut Vec<Step>, EditError> {
    let at = rows::index_of::<Drop>(plan, drop)?;
    Ok(&mut plan.drops[at].steps)
}

fn expect_place(at: usize, count: usize) -> Result<(), EditError> {
    if at < count { Ok(()) } else { Err(EditError::NoPlace { kind: "step", place: at + 1, count }) }
}
