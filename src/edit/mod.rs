//! Every change to a plan as a value, and the history that makes and unmakes them.
//!
//! Floor 2: uses `model` and `units`. [`Edit`] says what is meant; [`Edit::apply`] gives a new plan or says
//! why not and leaves the old one alone. [`History`] is the only place where an open document changes: it
//! keeps whole plans, so that undo cannot go wrong, and knows whether what it shows is what is on disk.

mod copies;
mod drops;
mod edits;
mod error;
mod history;
mod label;
mod load;
mod records;
mod rows;
mod settings;
mod tables;
mod train;
#[cfg(test)]
mod trial;

pub use copies::copied_type;
pub use drops::StepPlace;
pub use edits::{Applied, Edit, Locked, Move, TrainSettings};
pub use error::EditError;
pub use history::{Done, History, OnDisk};
pub use rows::{Row, Rows};
