//! Plans as commands take them: read one by one, each judged in all states or in one.

use super::exit::Exit;
use super::streams::Streams;
use crate::model::Plan;
use crate::planning::Loaded;
use crate::report::{Judged, Records, error_json, json_list};
use crate::statics::{Figures, Scope, load_states};
use crate::units::{DecimalMark, Style};
use crate::{
    disk::{self, Stamp},
    format,
};
use std::error::Error;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// Which states a command is about.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum StateChoice {
    /// All of them.
    #[default]
    All,
    /// One, by its number: 0 is departure.
    One(usize),
}

/// Text for a reader or JSON for a program.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum Output {
    /// Text.
    #[default]
    Text,
    /// JSON.
    Json,
    /// A table for a spreadsheet.
    Csv,
}

/// What one plan gives: its document and how it ends.
pub(super) type Told = Result<(String, Exit), String>;

/// Prints what `tell` makes of each plan, in the order given; the weightiest exit counts.
pub(super) fn each_plan(
    plans: &[PathBuf],
    output: Output,
    streams: &mut Streams,
    tell: impl Fn(&str, &Path) -> Told,
) -> Exit {
    let mut worst = Exit::Done;
    let mut documents = Vec::new();
    for (nth, path) in plans.iter().enumerate() {
        let label = path.display().to_string();
        let told = tell(&label, path);
        if output == Output::Text && plans.len() > 1 {
            heading(streams, nth, &label);
        }
        match told {
            Ok((document, exit)) => {
                worst = worst.max(exit);
                match output {
                    Output::Text => streams.print_text(&document),
                    Output::Json => documents.push(document),
                    Output::Csv => streams.print_table(&document),
                }
            }
            Err(message) => {
                worst = Exit::CouldNotRun;
                message.lines().for_each(|line| streams.tell(&format!("{label}: {line}")));
                match output {
                    Output::Text if plans.len() > 1 => {
                        streams.print("Could not be read; see the error output.")
                    }
                    Output::Text | Output::Csv => {}
                    Output::Json => documents.extend(error_json(&label, &message)),
                }
            }
        }
    }
    match documents.as_slice() {
        [] => {}
        [only] if plans.len() == 1 => streams.print(only),
        several => streams.print(&json_list(several)),
    }
    worst
}

/// The plan at `path`, or what is wrong, where, and what to do.
pub(super) fn plan_at(path: &Path) -> Result<Plan, String> {
    stamped_plan(path).map(|(plan, _)| plan)
}

/// The plan at `path` with the stamp of its file, so that it is saved over that very file only.
pub(super) fn stamped_plan(path: &Path) -> Result<(Plan, Stamp), String> {
    let bytes = read_file(path, format::MOST_BYTES as u64)?;
    let plan = format::read(&bytes).map_err(|error| error.to_string())?;
    Ok((plan, Stamp::of(&bytes)))
}

/// Refuses to write over what is read: the plan would be gone, and a document of it in its place.
pub(super) fn must_not_be_read(out: Option<&Path>, read: &[PathBuf]) -> Result<(), String> {
    match out.filter(|out| read.iter().any(|path| disk::is_same_file(out, path))) {
        Some(out) => {
            Err(format!("{} is read by this very command; give another name with -o", out.display()))
        }
        None => Ok(()),
    }
}

/// The bytes of the file at `path`, at most `limit`.
pub(super) fn read_file(path: &Path, limit: u64) -> Result<Vec<u8>, String> {
    disk::read_bytes(path, limit).map_err(|error| disk_message(&error))
}

/// The figures of the plan at `path`, or what is wrong, where, and what to do.
pub(super) fn figures_at(path: &Path, choice: StateChoice) -> Result<Figures, String> {
    let plan = plan_at(path)?;
    let scope = scope_in(&plan, choice)?;
    Ok(Figures::of(Arc::new(plan), scope))
}

/// The figures of the load that is `judged`, and the records of the plan at `path`.
pub(super) fn judged_at(
    path: &Path,
    choice: StateChoice,
    judged: Judged,
) -> Result<(Figures, Records), String> {
    let plan = plan_at(path)?;
    let loaded = Loaded::of(&plan);
    let records = Records::of(&plan, &loaded, judged);
    let judged_plan = match judged {
        Judged::AsPlanned => plan,
        Judged::AsLoaded => loaded.plan,
    };
    let scope = scope_in(&judged_plan, choice)?;
    Ok((Figures::of(Arc::new(judged_plan), scope), records))
}

/// The style in which a plan is reported.
pub(super) fn style_of(plan: &Plan) -> Style {
    Style { units: plan.units, decimal: DecimalMark::Point }
}

/// What went wrong with a file, without its name in front but with the cause behind.
pub(super) fn disk_message(error: &disk::DiskError) -> String {
    match error.source() {
        Some(cause) => format!("{} ({cause})", error.words()),
        None => error.words(),
    }
}

/// Why a file could not be saved, without its name in front but with the cause behind, and what a command can do.
fn saving_words(error: &disk::DiskError) -> String {
    match error {
        disk::DiskError::AlreadyThere { .. } => {
            "there already is such a file; give another name, or --replace to replace it".to_owned()
        }
        disk::DiskError::ChangedOnDisk { .. } => {
            "the file was changed or removed while this command ran, and nothing was saved; give the command again"
                .to_owned()
        }
        disk::DiskError::ReadOnly { .. } => {
            "the file is read-only; save under another name with -o, or allow writing to it".to_owned()
        }
        error => disk_message(error),
    }
}

/// Why the file at `path` could not be saved, its name in front.
pub(super) fn saving_message(path: &Path, error: &disk::DiskError) -> String {
    format!("{}: {}", path.display(), saving_words(error))
}

/// Why what was made of the plan at `plan` could not be saved at `target`; to stand behind the plan's name.
pub(super) fn saving_from(plan: &Path, target: &Path, error: &disk::DiskError) -> String {
    if plan == target {
        return saving_words(error);
    }
    format!("not saved as {}: {}", target.display(), saving_words(error))
}

/// The states of `plan` that are chosen, or which there are instead.
pub(super) fn scope_in(plan: &Plan, choice: StateChoice) -> Result<Scope, String> {
    let StateChoice::One(state) = choice else { return Ok(Scope::All) };
    let count = load_states(plan).len();
    if state < count {
        return Ok(Scope::One(state));
    }
    let range = match count {
        1 => "only state 0 (departure)".to_owned(),
        _ => format!("states 0 (departure) to {}", count.saturating_sub(1)),
    };
    Err(format!("it has no state {state}: there are {range}; give one of these"))
}

fn heading(streams: &mut Streams, nth: usize, label: &str) {
    let before = if nth == 0 { "" } else { "\n" };
    streams.print_text(&format!("{before}== {label} ==\n"));
}
