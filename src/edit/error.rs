//! Why an edit cannot be made.

use crate::model::{Problem, StringMark};

/// Why an edit cannot be made; the plan stays as it was.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum EditError {
    /// Nothing of that kind has that name.
    #[error("there is no {kind} {name} in this plan; choose one that is")]
    NoSuch {
        /// What was looked for, such as `vehicle`.
        kind: &'static str,
        /// Its name.
        name: String,
    },
    /// The name is taken.
    #[error("there is already a {kind} {name} in this plan; choose another name")]
    NameTaken {
        /// What it names, such as `vehicle`.
        kind: &'static str,
        /// The name.
        name: String,
    },
    /// Something refers to what would be removed.
    #[error("the {kind} {name} is used by {user}; change or remove that first")]
    InUse {
        /// What would be removed.
        kind: &'static str,
        /// Its name.
        name: String,
        /// The first thing that uses it.
        user: String,
    },
    /// A place in a list that the list does not have.
    #[error("there is no place {place} in the list of {kind}s, which has {count}; choose a place within it")]
    NoPlace {
        /// What the list holds.
        kind: &'static str,
        /// The place, from 1.
        place: usize,
        /// How many the list holds.
        count: usize,
    },
    /// The string lies on the train already.
    #[error("string {string} is on the train already; move it, or take it off first")]
    AlreadyPlaced {
        /// The string.
        string: StringMark,
    },
    /// The string is not on the train.
    #[error("string {string} is not on the train; place it first")]
    NotPlaced {
        /// The string.
        string: StringMark,
    },
    /// The string is locked in its place.
    #[error("string {string} is locked in its place; unlock it first")]
    StringLocked {
        /// The string.
        string: StringMark,
    },
    /// The two strings of a swap are one.
    #[error("string {string} cannot swap pockets with itself; choose two strings")]
    SwapWithItself {
        /// The string.
        string: StringMark,
    },
    /// The plan would have something that no plan may have.
    #[error("{}: {}; {}", problem.path, problem.what, problem.mend)]
    NotSound {
        /// The first such thing.
        problem: Problem,
    },
}
