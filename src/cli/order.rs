//! `longstow order`: takes an order that comes as a table into a plan.

use super::Command;
use super::arguments::Arguments;
use super::exit::Exit;
use super::order_hints::hints;
use super::order_said::{Said, header};
use super::plans::{Output, must_not_be_read, read_file, saving_message, stamped_plan, style_of};
use super::streams::Streams;
use super::table_options::{OutFile, decimal_named, separator_named};
use super::usage::UsageError;
use crate::disk::{self, Expected, Stamp};
use crate::format::{self, MOST_TABLE_BYTES, Parting, read_table, write};
use crate::intake::{Intake, Kind, NameKind, Outcome, Surroundings};
use crate::model::{Catalogue, Plan};
use crate::report::{IntakeEnd, error_json, intake_json, intake_report};
use lexopt::Arg;
use std::ffi::OsString;
use std::path::{Path, PathBuf};

/// The `order` command.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct OrderCommand {
    plan: PathBuf,
    table: PathBuf,
    output: Output,
    parting: Parting,
    said: Said,
    /// Where the plan is saved; none: where it was.
    out: OutFile,
    taking: Taking,
    saving: Saving,
}

/// Which rows are taken.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum Taking {
    /// All of them, or none where one is refused.
    #[default]
    AllOrNone,
    /// Those that can be taken.
    TheRest,
}

/// Whether anything is saved.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum Saving {
    /// The plan with the rows that are taken.
    #[default]
    Real,
    /// Nothing, whatever else is said.
    DryRun,
}

/// Reads the arguments of the command.
pub(super) fn read(args: &[OsString]) -> Result<Command, UsageError> {
    let mut command = OrderCommand::default();
    let mut files: Vec<PathBuf> = Vec::new();
    let mut arguments = Arguments::new(args);
    while let Some(arg) = arguments.next()? {
        match arg {
            Arg::Value(file) => files.push(file.into()),
            Arg::Long("json") => command.output = Output::Json,
            Arg::Short('o') | Arg::Long("output") => {
                command.out.path = Some(arguments.file("-o")?);
            }
            Arg::Long("replace") => command.out.replace = true,
            Arg::Long("dry-run") => command.saving = Saving::DryRun,
            Arg::Long("take-rest") => command.taking = Taking::TheRest,
            Arg::Long("separator") => {
                command.parting = Parting::By(separator_named(arguments.only("--separator")?)?)
            }
            Arg::Long("decimal") => command.said.decimal = Some(decimal_named(arguments.only("--decimal")?)?),
            Arg::Long("headers") => command.said.header = header(arguments.only("--headers")?)?,
            Arg::Long("column") => command.said.column(arguments.another()?)?,
            Arg::Long("unit") => command.said.unit(arguments.another()?)?,
            Arg::Long("section") => {
                command.said.name(("--section", NameKind::Section), arguments.another()?)?
            }
            Arg::Long("steel") => command.said.name(("--steel", NameKind::Steel), arguments.another()?)?,
            Arg::Long("drop") => command.said.name(("--drop", NameKind::Drop), arguments.another()?)?,
            Arg::Long("new-drop") => command.said.new_drop(arguments.another()?)?,
            Arg::Long("help") | Arg::Short('h') => return Ok(Command::Help),
            other => return Err(UsageError::unknown(other, "order")),
        }
    }
    command.out.expect_together()?;
    let mut files = files.into_iter();
    match (files.next(), files.next(), files.next()) {
        (Some(plan), Some(table), None) => Ok(Command::Order(OrderCommand { plan, table, ..command })),
        _ => Err(UsageError::NotPlanAndTable),
    }
}

impl OrderCommand {
    /// Takes the table in and tells the fate of every line; the exit is 1 where a row is refused.
    pub(super) fn run(&self, streams: &mut Streams) -> Exit {
        match self.tell() {
            Ok((document, exit)) => {
                match self.output {
                    Output::Json => streams.print(&document),
                    _ => streams.print_text(&document),
                }
                exit
            }
            Err(message) => {
                message.lines().for_each(|line| streams.tell(&format!("longstow: {line}")));
                let document = error_json(&self.plan.display().to_string(), &message);
                if let (Output::Json, Ok(document)) = (self.output, document) {
                    streams.print(&document);
                }
                Exit::CouldNotRun
            }
        }
    }

    fn tell(&self) -> Result<(String, Exit), String> {
        must_not_be_read(self.out.path.as_deref(), std::slice::from_ref(&self.table))?;
        let of = |path: &Path, why: String| format!("{}: {why}", path.display());
        let (plan, stamp) = stamped_plan(&self.plan).map_err(|why| of(&self.plan, why))?;
        let bytes = read_file(&self.table, MOST_TABLE_BYTES as u64).map_err(|why| of(&self.table, why))?;
        let table = read_table(&bytes, self.parting).map_err(|error| of(&self.table, error.to_string()))?;
        let catalogue: Catalogue = format::catalogue().unwrap_or_default();
        let around = Surroundings { plan: &plan, catalogue: &catalogue, style: style_of(&plan) };
        let choices = self.said.choices(&table, &around).map_err(|why| of(&self.table, why))?;
        let intake = Intake::of(Kind::Order, &table, &around, &choices);
        let end = self.save(&plan, &intake, stamp)?;
        let exit = if intake.takes_all() { Exit::Done } else { Exit::Fails };
        let labels = (self.plan.display().to_string(), self.table.display().to_string());
        let document = match self.output {
            Output::Json => {
                let end = IntakeEnd { saved: end.saved(), exit_code: exit.code() };
                intake_json((&labels.0, &labels.1), &plan, (&table, &intake), end)
                    .map_err(|error| error.to_string())?
            }
            _ => {
                intake_report(&labels.1, &table, &intake)
                    + &hints(&self.said, (&table, &intake), &around)
                    + &self.said.in_vain(&intake)
                    + &end.words(&intake)
            }
        };
        Ok((document, exit))
    }

    /// Saves the plan with what is taken, where anything is to be saved and it is no dry run.
    fn save(&self, plan: &Plan, intake: &Intake, stamp: Stamp) -> Result<End, String> {
        let Some(text) = self.to_save(plan, intake)? else {
            return Ok(End { file: None, taking: self.taking, saving: self.saving });
        };
        let (target, expected) = match &self.out.path {
            Some(out) => (out, self.out.expected()),
            None => (&self.plan, Expected::Unchanged(stamp)),
        };
        if self.saving == Saving::Real {
            disk::save(target, text.as_bytes(), expected).map_err(|error| saving_message(target, &error))?;
        }
        Ok(End { file: Some(target.display().to_string()), taking: self.taking, saving: self.saving })
    }

    /// The text to save; a plan that stays as it is is saved where a copy is wanted only.
    fn to_save(&self, plan: &Plan, intake: &Intake) -> Result<Option<String>, String> {
        let held_back = match self.taking {
            Taking::AllOrNone => !intake.takes_all(),
            Taking::TheRest => matches!(intake.outcome, Outcome::Obstacle(_)),
        };
        match &intake.outcome {
            _ if held_back => Ok(None),
            Outcome::Edit { edit, .. } => {
                let applied = edit.apply(plan).map_err(|error| error.to_string())?;
                Ok(Some(write(&applied.plan)))
            }
            _ => Ok(self.out.path.as_ref().map(|_| write(plan))),
        }
    }
}

/// How it ended: the file that the plan is saved as, or would be if it were no dry run; none where nothing is to be
/// saved.
struct End {
    file: Option<String>,
    taking: Taking,
    saving: Saving,
}

impl End {
    /// The file that the plan was saved as.
    fn saved(&self) -> Option<&str> {
        self.file.as_deref().filter(|_| self.saving == Saving::Real)
    }

    fn words(&self, intake: &Intake) -> String {
        match (&self.file, self.saving) {
            (Some(file), Saving::Real) => return format!("Saved as {file}.\n"),
            (Some(file), Saving::DryRun) => {
                return format!("Nothing was saved: a dry run. Without it the plan is saved as {file}.\n");
            }
            (None, _) => {}
        }
        let head = match self.saving {
            Saving::Real => "Nothing was saved",
            Saving::DryRun => "Nothing was saved: a dry run. Without it nothing is saved either",
        };
        let why = match (self.taking, intake.counts().refused) {
            (Taking::AllOrNone, 1..) => {
                ": mend the rows that are refused, or take the others with --take-rest"
            }
            _ if intake.takes_all() => ": the plan has all of it",
            _ => "",
        };
        format!("{head}{why}.\n")
    }
}
