//! The whole-program tests; one module per boundary or published source.
#![expect(
    clippy::unwrap_used,
    reason = "the builders and helpers of tests stand outside their test functions"
)]

mod all_topics;
mod crosscheck;
mod crosscheck_curves;
mod crosscheck_unloading;
mod equilibrium;
#[cfg(test)]
mod formula;
mod handbook_continuous_beams;
mod handbook_wagons;
mod random_plans;
mod springs;
mod trains;

// The attribute tells clippy that the functions beside the tests in these files are test code too.
#[cfg(test)]
mod catalogue;
#[cfg(test)]
mod command_check;
#[cfg(test)]
mod command_compare;
#[cfg(test)]
mod command_figures;
#[cfg(test)]
mod command_plans;
#[cfg(test)]
mod command_records;
mod command_sheet;
#[cfg(test)]
mod command_tables;
#[cfg(test)]
mod command_working;
#[cfg(test)]
mod compare_plans;
#[cfg(test)]
mod disk_files;
#[cfg(test)]
mod exercises;
#[cfg(test)]
mod format_by_hand;
#[cfg(test)]
mod format_full_plan;
#[cfg(test)]
mod format_hostile;
#[cfg(test)]
mod format_page;
#[cfg(test)]
mod format_round_trip;
mod house_rules;
#[cfg(test)]
mod order_in;
mod samples;
#[cfg(test)]
mod sheets;
#[cfg(test)]
mod workings;
