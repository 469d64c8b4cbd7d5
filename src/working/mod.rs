//! How every number came about: formula, numbers put in, intermediate values, source, as data.
//!
//! Floor 4: uses `checks`, `statics`, `model` and `units`. A working never computes the figure anew: it shows the
//! figure's own value beside the formula and the inputs that give it, and tests put the inputs into the formula.

mod question;
mod value;

pub use question::Question;
pub use value::{Origin, Working, WorkingColumn, WorkingRow, WorkingStep, WorkingTable, WorkingValue};
