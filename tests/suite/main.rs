//! The whole-program tests; one module per boundary or published source.

mod house_rules;
mod format_full_plan;
mod format_round_trip;
