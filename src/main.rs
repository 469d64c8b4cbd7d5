//! The program: arguments to the commands or the window, and the exit code.

use longstow::cli::{self, Invocation};
use std::path::PathBuf;
use std::process::ExitCode;

fn main() -> ExitCode {
    match cli::parse(std::env::args_os().skip(1)) {
        Ok(Invocation::Command(command)) => cli::run(&command),
        Ok(Invocation::Editor { plan }) => edit(plan),
        Err(error) => cli::refuse(&error),
    }
}

/// Opens the editor; where no window can be opened, the plan is checked instead.
#[cfg(feature = "gui")]
fn edit(plan: Option<PathBuf>) -> ExitCode {
    match longstow::gui::run(plan.clone()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => cli::without_window(plan.as_deref(), &error.why),
    }
}

/// This build has no window.
#[cfg(not(feature = "gui"))]
fn edit(plan: Option<PathBuf>) -> ExitCode {
    cli::without_window(plan.as_deref(), "this build has no window code")
}
