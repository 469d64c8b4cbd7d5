//! Longstow: plan how long welded rail strings are carried on a rail train.
#![forbid(unsafe_code)]

pub mod model;
pub mod units;
