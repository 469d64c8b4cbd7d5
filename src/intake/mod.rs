//! What comes in from tables: which column holds what, what becomes of each row, and the one edit that takes it in.
//!
//! Floor 3: uses `edit`, `format`, `model` and `units`. Nothing is taken in silently: every line of the table has a
//! [`Fate`], and what is refused says why. The same engine answers in the window and on the command line.

mod cells;
mod choices;
mod fate;
mod field;
mod header;
mod keyed;
mod kinds;
mod matching;
mod names;
mod numbers;
mod order;
mod sections;
mod steps;
mod taken;
mod train;
#[cfg(test)]
mod trial;

pub use choices::{Choices, ColumnChoice, HeaderChoice};
pub use fate::{Asks, Change, Counts, Fate, Refusal, RowFate, Skip};
pub use field::{Field, Measure, Need, Unit};
pub use kinds::Kind;
pub use matching::{Matched, Matching, column_called, column_count, column_words};
pub use names::{NameChoice, NameKind, Unknown};
pub use taken::{Intake, Outcome, Surroundings};
