//! The whole-program tests; one module per boundary or published source.

// The attribute tells clippy that the functions beside the tests in these files are test code too.
#[cfg(test)]
mod command_check;
#[cfg(test)]
mod command_figures;
#[cfg(test)]
mod command_plans;
mod disk_files;
mod format_full_plan;
mod format_hostile;
mod format_page;
mod format_round_trip;
mod house_rules;
