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

#[cfg(test)]
mod tests {
    use super::super::Edit;
    use super::super::trial::{after, plan, refused};
    use super::*;

    fn at(drop: &str, step: usize) -> StepPlace {
        StepPlace { drop: DropName::new(drop).unwrap(), step }
    }

    fn steps(plan: &Plan) -> Vec<Vec<&str>> {
        plan.drops
            .iter()
            .map(|drop| drop.steps.iter().flat_map(|step| step.strings.marks()).map(|mark| mark.as_str()))
            .map(Iterator::collect)
            .collect()
    }

    #[test]
    fn a_step_moves_within_its_drop_and_to_another() {
        let within = Edit::MoveStep { from: at("Far", 0), to: at("Far", 1) };
        assert_eq!(steps(&after(&plan(), &within)), [vec!["S2", "S1"], vec!["S3"]]);
        let across = Edit::MoveStep { from: at("Far", 1), to: at("Near", 0) };
        assert_eq!(steps(&after(&plan(), &across)), [vec!["S1"], vec!["S2", "S3"]]);
    }

    #[test]
    fn a_step_moves_to_no_place_beyond_the_list() {
        let far = Edit::MoveStep { from: at("Far", 0), to: at("Far", 2) };
        assert_eq!(refused(&plan(), &far), EditError::NoPlace { kind: "step", place: 3, count: 2 });
        let none = Edit::MoveStep { from: at("Far", 2), to: at("Far", 0) };
        assert_eq!(refused(&plan(), &none), EditError::NoPlace { kind: "step", place: 3, count: 2 });
        let unknown = Edit::MoveStep { from: at("Farther", 0), to: at("Far", 0) };
        assert!(matches!(refused(&plan(), &unknown), EditError::NoSuch { kind: "drop", .. }));
    }
}
