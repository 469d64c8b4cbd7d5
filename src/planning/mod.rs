//! Proposals and explanations worked out over whole plans: what would mend a finding, what would explain a
//! weighing, what differs, what if.
//!
//! Floor 4: uses `checks`, `statics`, `edit`, `model` and `units`. It knows no clock, and no randomness without a
//! given seed: the same input gives the same proposal.

pub mod difference;
pub mod exercises;
pub mod lay;
mod loaded;
pub mod mends;
pub mod walk;
pub mod weighings;
pub mod what_if;

pub use loaded::{Deviation, Difference, Loaded, Place, at_departure};
