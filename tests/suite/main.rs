//! The whole-program tests; one module per boundary or published source.

mod disk_files;
mod format_full_plan;
mod format_hostile;
mod format_page;
mod format_round_trip;
mod house_rules;
