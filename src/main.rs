//! The program: arguments to the commands or the window, and the exit code.

use longstow::cli::{self, Invocation};
use std::path::Path;
use std::process::ExitCode;

fn main() -> ExitCode {
    match cli::parse(std::env::args_os().skip(1)) {
        Ok(Invocation::Command(command)) => cli::run(&command),
        Ok(Invocation::Editor { plan }) => edit(plan.as_deref()),
        Err(error) => cli::refuse(&error),
    }
}

fn edit(plan: Option<&Path>) -> ExitCode {
    cli::without_window(plan, "this program was built without its window")
}
