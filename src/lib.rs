//! Longstow: plan how long welded rail strings are carried on a rail train.
#![forbid(unsafe_code)]

pub mod checks;
pub mod cli;
pub mod disk;
pub mod drawing;
pub mod edit;
#[cfg(test)]
mod fixtures;
pub mod format;
#[cfg(feature = "gui")]
pub mod gui;
pub mod intake;
pub mod model;
pub mod planning;
pub mod report;
pub mod statics;
pub mod units;
pub mod working;
