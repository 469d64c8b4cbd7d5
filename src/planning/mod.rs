//! Proposals and explanations worked out over whole plans: what would mend a finding, what would explain a
//! weighing, what differs, what if.
//!
//! Floor 4: uses `checks`, `statics`, `edit`, `model` and `units`. It knows no clock, and no randomness without a
//! given seed: the same input gives the same proposal.

pub mod lay;
pub mod mends;
