//! `longstow tidy`: writes plans in the one canonical form, and says what that changes.

use super::Command;
use super::arguments::Arguments;
use super::exit::Exit;
use super::plans::{Output, Told, each_plan, read_file, saving_from};
use super::streams::Streams;
use super::table_options::OutFile;
use super::usage::UsageError;
use crate::disk::{self, Expected, Stamp};
use crate::format::{self, Tidied, TidyChange, tidy};
use crate::report::{tidy_json, tidy_report};
use lexopt::Arg;
use std::ffi::OsString;
use std::path::{Path, PathBuf};

/// The `tidy` command.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct TidyCommand {
    plans: Vec<PathBuf>,
    output: Output,
    /// Where the plan is saved; none: where it was.
    out: OutFile,
    saving: Saving,
}

/// What is saved.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum Saving {
    /// Files that hold no comments.
    #[default]
    WithoutComments,
    /// All files; their comments are lost.
    DroppingComments,
    /// Nothing: it is only told what would change.
    CheckOnly,
}

/// Reads the arguments of the command.
pub(super) fn read(args: &[OsString]) -> Result<Command, UsageError> {
    let mut command = TidyCommand::default();
    let (mut check_only, mut drop_comments) = (false, false);
    let mut arguments = Arguments::new(args);
    while let Some(arg) = arguments.next()? {
        match arg {
            Arg::Value(plan) => command.plans.push(plan.into()),
            Arg::Long("json") => command.output = Output::Json,
            Arg::Long("check") => check_only = true,
            Arg::Long("drop-comments") => drop_comments = true,
            Arg::Short('o') | Arg::Long("output") => command.out.path = Some(arguments.file("-o")?),
            Arg::Long("replace") => command.out.replace = true,
            Arg::Long("help") | Arg::Short('h') => return Ok(Command::Help),
            other => return Err(UsageError::unknown(other, "tidy")),
        }
    }
    command.out.expect_together()?;
    command.saving = match (check_only, drop_comments) {
        (true, false) if command.out.path.is_none() => Saving::CheckOnly,
        (true, _) => {
            let what = "--check saves nothing, so that -o and --drop-comments do not go with it";
            return Err(UsageError::NotTogether { what });
        }
        (false, true) => Saving::DroppingComments,
        (false, false) => Saving::WithoutComments,
    };
    match command.plans.len() {
        0 => Err(UsageError::NoPlan { of: "tidy" }),
        2.. if command.out.path.is_some() => {
            Err(UsageError::NotTogether { what: "-o takes one plan; without it each is saved where it is" })
        }
        _ => Ok(Command::Tidy(command)),
    }
}

impl TidyCommand {
    /// Makes the plans tidy; with `--check` the exit is 1 where one is not.
    pub(super) fn run(&self, streams: &mut Streams) -> Exit {
        each_plan(&self.plans, self.output, streams, |label, path| self.tell(label, path))
    }

    fn tell(&self, label: &str, path: &Path) -> Told {
        let bytes = read_file(path, format::MOST_BYTES as u64)?;
        let tidied = tidy(&bytes).map_err(|error| error.to_string())?;
        let saved = self.save(&tidied, path, Stamp::of(&bytes))?;
        let untidy = !tidied.changes.is_empty();
        let exit = if self.saving == Saving::CheckOnly && untidy { Exit::Fails } else { Exit::Done };
        let document = match self.output {
            Output::Json => {
                tidy_json(label, &tidied, saved.as_deref(), exit.code()).map_err(|error| error.to_string())?
            }
            _ => {
                let head = match (untidy, self.saving) {
                    (false, _) => format!("{label} is tidy."),
                    (true, Saving::CheckOnly) => format!("{label} is not tidy:"),
                    (true, _) => format!("{label} is made tidy:"),
                };
                let same = if untidy { "The plan is the same: it was read back and compared.\n" } else { "" };
                let saved = saved.map(|file| format!("Saved as {file}.\n")).unwrap_or_default();
                format!("{head}\n{}{same}{saved}", tidy_report(&tidied.changes))
            }
        };
        Ok((document, exit))
    }

    /// Saves what is to be saved; answers where.
    fn save(&self, tidied: &Tidied, path: &Path, stamp: Stamp) -> Result<Option<String>, String> {
        let comments = tidied.changes.iter().find_map(|change| match change {
            TidyChange::Comments { lines } => Some(lines.len()),
            _ => None,
        });
        match (self.saving, comments) {
            (Saving::CheckOnly, _) => return Ok(None),
            (Saving::WithoutComments, Some(count)) => {
                let what = if count == 1 { "a comment".to_owned() } else { format!("{count} comments") };
                return Err(format!(
                    "it holds {what}, which a tidy file cannot: move what matters into its notes, and give \
                     --drop-comments to lose the rest\n{}",
                    tidy_report(&tidied.changes).trim_end()
                ));
            }
            _ => {}
        }
        let (target, expected) = match &self.out.path {
            Some(out) => (out.as_path(), self.out.expected()),
            None if tidied.changes.is_empty() => return Ok(None),
            None => (path, Expected::Unchanged(stamp)),
        };
        disk::save(target, tidied.text.as_bytes(), expected)
            .map_err(|error| saving_from(path, target, &error))?;
        Ok(Some(target.display().to_string()))
    }
}
