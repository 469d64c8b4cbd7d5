//! What no plan may be: the invariants that reading and editing keep.

use super::Plan;

/// A broken invariant and where it stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problem {
    /// The field's path as in the file, such as `order[3].length_mm`.
    pub path: String,
    /// What is wrong, with the value.
    pub what: String,
    /// What to do.
    pub mend: String,
}

/// Everything that is wrong with `plan`, in file order; empty for a sound plan.
pub fn problems(_plan: &Plan) -> Vec<Problem> {
    Vec::new()
}
