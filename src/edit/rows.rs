//! Adding, changing, removing and reordering the rows of a plan's tables, once for all tables.

use super::EditError;
use crate::model::Plan;
use std::fmt::{Debug, Display};

/// A row of one of the plan's tables, known by a name that is unique in it.
pub trait Row: Clone + Debug + PartialEq {
    /// What the row is called by.
    type Name: Clone + Debug + Display + PartialEq;
    /// What a reader calls such a row; acceptances name it by this word and its name.
    const NOUN: &'static str;
    /// Its name.
    fn name(&self) -> &Self::Name;
    /// The table.
    fn rows(plan: &Plan) -> &[Self];
    /// The table, to be changed.
    fn rows_mut(plan: &mut Plan) -> &mut Vec<Self>;
    /// Makes everything that refers to `from` refer to `to`; the row itself is renamed already.
    fn carry_name(plan: &mut Plan, from: &Self::Name, to: &Self::Name);
    /// Lets go of the row called `name` before it is removed.
    ///
    /// # Errors
    /// [`EditError::InUse`] where something cannot do without it, [`EditError::StringLocked`] where that
    /// would move a locked string.
    fn let_go(plan: &mut Plan, name: &Self::Name) -> Result<(), EditError>;
}

/// A change to one of the plan's tables.
#[derive(Clone, Debug, PartialEq)]
pub enum Rows<R: Row> {
    /// Adds a row.
    Add {
        /// Before the row that now has this index; none: at the end.
        at: Option<usize>,
        /// The row, with a name that is free.
        row: R,
    },
    /// Changes a row; where its name changes, everything that refers to it follows.
    Change {
        /// Its name until now.
        name: R::Name,
        /// What it becomes.
        to: R,
    },
    /// Removes rows.
    Remove {
        /// Their names.
        names: Vec<R::Name>,
    },
    /// Moves a row.
    Move {
        /// Its name.
        name: R::Name,
        /// Its index once it has left its old place.
        to: usize,
    },
}

impl<R: Row> Rows<R> {
    /// What the Undo menu calls it.
    pub(super) fn label(&self) -> String {
        match self {
            Self::Add { row, .. } => format!("Add {} {}", R::NOUN, row.name()),
            Self::Change { name, to } if name != to.name() => {
                format!("Rename {} {name} to {}", R::NOUN, to.name())
            }
            Self::Change { name, .. } => format!("Change {} {name}", R::NOUN),
            Self::Remove { names } => match names.as_slice() {
                [name] => format!("Remove {} {name}", R::NOUN),
                _ => format!("Remove {} {}s", names.len(), R::NOUN),
            },
            Self::Move { name, .. } => format!("Move {} {name}", R::NOUN),
        }
    }
}

/// Makes the change in place.
pub(super) fn apply<R: Row>(change: &Rows<R>, plan: &mut Plan) -> Result<(), EditError> {
    match change {
        Rows::Add { at, row } => {
            expect_free::<R>(plan, row.name())?;
            let rows = R::rows_mut(plan);
            let at = at.unwrap_or(rows.len());
            expect_place::<R>(at, rows.len() + 1)?;
            rows.insert(at, row.clone());
        }
        Rows::Change { name, to } => {
            let at = index_of::<R>(plan, name)?;
            if name != to.name() {
                expect_free::<R>(plan, to.name())?;
            }
            if let Some(row) = R::rows_mut(plan).get_mut(at) {
                *row = to.clone();
            }
            if name != to.name() {
                R::carry_name(plan, name, to.name());
                carry_acceptances::<R>(plan, name, to.name());
            }
        }
        Rows::Remove { names } => {
            for name in names {
                index_of::<R>(plan, name)?;
                R::let_go(plan, name)?;
                R::rows_mut(plan).retain(|row| row.name() != name);
            }
        }
        Rows::Move { name, to } => {
            let from = index_of::<R>(plan, name)?;
            let rows = R::rows_mut(plan);
            expect_place::<R>(*to, rows.len())?;
            let row = rows.remove(from);
            rows.insert(*to, row);
        }
    }
    Ok(())
}

/// The index of the row called `name`.
pub(super) fn index_of<R: Row>(plan: &Plan, name: &R::Name) -> Result<usize, EditError> {
    R::rows(plan)
        .iter()
        .position(|row| row.name() == name)
        .ok_or_else(|| EditError::NoSuch { kind: R::NOUN, name: name.to_string() })
}

fn expect_free<R: Row>(plan: &Plan, name: &R::Name) -> Result<(), EditError> {
    match index_of::<R>(plan, name) {
        Ok(_) => Err(EditError::NameTaken { kind: R::NOUN, name: name.to_string() }),
        Err(_) => Ok(()),
    }
}

fn expect_place<R: Row>(at: usize, count: usize) -> Result<(), EditError> {
    if at < count { Ok(()) } else { Err(EditError::NoPlace { kind: R::NOUN, place: at + 1, count }) }
}

/// Accepted findings name their things by noun and name (a rack by its vehicle's too): they follow a rename.
fn carry_acceptances<R: Row>(plan: &mut Plan, from: &R::Name, to: &R::Name) {
    let (old, new) = (format!("{} {from}", R::NOUN), format!("{} {to}", R::NOUN));
    let things = plan.accepted.iter_mut().flat_map(|acceptance| acceptance.things.iter_mut());
    for thing in things {
        let rest = thing.strip_prefix(&old).map(str::to_owned);
        if let Some(rest) = rest.filter(|rest| rest.is_empty() || is_rack_of(rest)) {
            *thing = format!("{new}{rest}");
        }
    }
}

fn is_rack_of(rest: &str) -> bool {
    rest.strip_prefix(" rack ").is_some_and(|number| number.parse::<u32>().is_ok())
}
