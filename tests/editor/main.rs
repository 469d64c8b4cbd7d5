//! Editor tests without a display: the whole workbench driven by pointer, keys and names.
#![expect(
    clippy::unwrap_used,
    reason = "the builders and helpers of tests stand outside their test functions"
)]

mod cpu_renderer;
mod documents;
mod dragging;
mod from_nothing;
mod hands;
mod harness;
mod keyboard;
mod mechanics;
mod pictures;
mod planner;
mod plans;
mod records;
mod supervisor;
mod users;
mod window;
