//! Editor tests without a display: the whole workbench driven by pointer, keys and names.
#![expect(
    clippy::unwrap_used,
    reason = "the builders and helpers of tests stand outside their test functions"
)]

mod compare;
mod cpu_renderer;
mod deck_plan;
mod documents;
mod dragging;
mod from_nothing;
mod hands;
mod harness;
mod keyboard;
mod mechanics;
mod mends;
mod pictures;
mod planner;
mod plans;
mod time_line;
mod users;
mod window;
