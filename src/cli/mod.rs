//! The commands: arguments in, a report on standard output, an exit code; one file per subcommand.
//!
//! Floor 7: uses everything below it but not `gui`. Exit codes: 0 no unaccepted fail and nothing undecided, 1 an
//! unaccepted fail, 3 no fail but something undecided, 2 could not run; of several plans 2, then 1, then 3, then 0;
//! `compare` 0 nothing differs, 1 something does, 2 could not run.

mod args;
mod arguments;
mod check;
mod compare;
mod drawing;
mod exit;
mod figures;
mod help;
mod loaded;
mod order;
mod order_hints;
mod order_said;
mod paper_args;
mod placements;
mod plan_args;
mod plans;
mod sheet;
mod streams;
mod table_options;
mod tidy;
mod usage;
mod weighings;
mod working;

pub use args::parse;
pub use check::CheckCommand;
pub use compare::{CompareCommand, ComparedPair};
pub use drawing::{DrawingCommand, Wished};
pub use figures::FiguresCommand;
pub use loaded::LoadedCommand;
pub use order::OrderCommand;
pub use placements::PlacementsCommand;
pub use plans::StateChoice;
pub use sheet::SheetCommand;
pub use tidy::TidyCommand;
pub use usage::UsageError;
pub use weighings::WeighingsCommand;
pub use working::{Wanted, WorkingCommand};

use exit::Exit;
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use streams::Streams;

/// What the arguments ask for.
#[derive(Clone, Debug, PartialEq)]
pub enum Invocation {
    /// A command that prints and ends.
    Command(Command),
    /// The editor, on a plan or on its start view.
    Editor {
        /// The plan to open.
        plan: Option<PathBuf>,
    },
}

/// A command that prints and ends.
#[derive(Clone, Debug, PartialEq)]
pub enum Command {
    /// `longstow check`
    Check(CheckCommand),
    /// `longstow figures`
    Figures(FiguresCommand),
    /// `longstow working`
    Working(WorkingCommand),
    /// `longstow loaded`
    Loaded(LoadedCommand),
    /// `longstow weighings`
    Weighings(WeighingsCommand),
    /// `longstow placements`
    Placements(PlacementsCommand),
    /// `longstow order`
    Order(OrderCommand),
    /// `longstow tidy`
    Tidy(TidyCommand),
    /// `longstow sheet`
    Sheet(SheetCommand),
    /// `longstow drawing`
    Drawing(DrawingCommand),
    /// `longstow compare`
    Compare(CompareCommand),
    /// `longstow help`
    Help,
    /// `longstow --version`
    Version,
}

/// Runs a command on standard output and standard error.
pub fn run(command: &Command) -> ExitCode {
    let mut streams = Streams::standard();
    let exit = match command {
        Command::Check(check) => check.run(&mut streams),
        Command::Figures(figures) => figures.run(&mut streams),
        Command::Working(working) => working.run(&mut streams),
        Command::Loaded(loaded) => loaded.run(&mut streams),
        Command::Weighings(weighings) => weighings.run(&mut streams),
        Command::Placements(placements) => placements.run(&mut streams),
        Command::Order(order) => order.run(&mut streams),
        Command::Tidy(tidy) => tidy.run(&mut streams),
        Command::Sheet(sheet) => sheet.run(&mut streams),
        Command::Drawing(drawing) => drawing.run(&mut streams),
        Command::Compare(compare) => compare.run(&mut streams),
        Command::Help => help::help(&mut streams),
        Command::Version => help::version(&mut streams),
    };
    streams.finish(exit).into()
}

/// Tells what is wrong with the arguments.
pub fn refuse(error: &UsageError) -> ExitCode {
    let mut streams = Streams::standard();
    streams.tell(&format!("longstow: {error}"));
    streams.finish(Exit::CouldNotRun).into()
}

/// Says in a line that no window could be opened, and checks `plan` instead; without a plan nothing can be done.
pub fn without_window(plan: Option<&Path>, why: &str) -> ExitCode {
    let mut streams = Streams::standard();
    let why = why.split_whitespace().collect::<Vec<_>>().join(" ");
    let exit = match plan {
        Some(plan) => {
            streams
                .tell(&format!("longstow: no window could be opened ({why}); the check of the plan follows"));
            CheckCommand::plain(plan.to_owned()).run(&mut streams)
        }
        None => {
            streams.tell(&format!(
                "longstow: no window could be opened ({why}); name a plan to check it instead"
            ));
            Exit::CouldNotRun
        }
    };
    streams.finish(exit).into()
}
