//! Editor tests without a display: the whole workbench driven by pointer, keys and names.
#![expect(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "the builders and helpers of tests stand outside their test functions"
)]

mod by_hand;
mod compare;
mod cpu_renderer;
mod deck_plan;
mod documents;
mod dragging;
mod from_nothing;
mod habits;
mod hands;
mod harness;
mod keyboard;
mod mechanics;
mod mends;
mod menus;
mod monkey;
mod noted_hands;
mod pictures;
mod planner;
mod plans;
mod records;
mod sheets;
mod sizes;
mod supervisor;
mod taking;
mod time_line;
mod train_by_hand;
mod trainee;
mod typed;
mod users;
mod view_pictures;
mod window;
mod window_supervisor;
mod window_trainee;
