//! `longstow sheet`: the printed sheets of a plan as PDF.

use super::exit::Exit;
use super::plans::{StateChoice, must_not_be_read, plan_at, saving_from, scope_in, style_of};
use super::streams::Streams;
use crate::checks::assess;
use crate::disk::{self, Expected};
use crate::report::sheet::{Paper, SheetOptions, pdf, sheet};
use crate::report::verdict_line;
use crate::statics::{Figures, Scope};
use crate::units::{DecimalMark, Style};
use jiff::Zoned;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// The `sheet` command.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SheetCommand {
    pub(super) plan: PathBuf,
    pub(super) paper: Paper,
    pub(super) state: StateChoice,
    pub(super) made_at: Option<String>,
    pub(super) target: Target,
}

/// Where a document goes, and how its numbers are written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Target {
    pub(super) file: PathBuf,
    pub(super) existing: Existing,
    pub(super) decimal: DecimalMark,
}

/// What happens to a file that is there already.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum Existing {
    /// It stays, and nothing is written.
    #[default]
    Keep,
    /// It is replaced.
    Replace,
}

impl SheetCommand {
    /// Writes the sheets; the exit is that of `check`, or 2 where nothing could be written.
    pub(super) fn run(&self, streams: &mut Streams) -> Exit {
        let label = self.plan.display().to_string();
        match self.write() {
            Ok(Written { told, missing, exit }) => {
                streams.print_text(&told);
                if let Some(words) = missing_words(&missing) {
                    streams.tell(&format!("{label}: {words}"));
                }
                exit
            }
            Err(message) => {
                message.lines().for_each(|line| streams.tell(&format!("{label}: {line}")));
                Exit::CouldNotRun
            }
        }
    }

    fn write(&self) -> Result<Written, String> {
        self.target.must_not_be(&self.plan)?;
        let plan = plan_at(&self.plan)?;
        scope_in(&plan, self.state)?;
        let figures = Figures::of(Arc::new(plan), Scope::All);
        let assessment = assess(&figures);
        let options = SheetOptions {
            paper: self.paper,
            style: self.target.style(&figures),
            made_at: self.made_at.clone().unwrap_or_else(now),
            state: match self.state {
                StateChoice::All => None,
                StateChoice::One(state) => Some(state),
            },
        };
        let pages = sheet(&figures, &assessment, &options);
        let bytes = pdf(&pages).map_err(|error| error.to_string())?;
        self.target.save(&self.plan, &bytes)?;
        let told = format!(
            "{}\n{} pages of {} paper are in {}.",
            verdict_line(&figures, &assessment),
            pages.pages.len(),
            self.paper.name(),
            self.target.file.display()
        );
        Ok(Written { told, missing: pages.missing, exit: assessment.verdict().into() })
    }
}

/// Sheets that were written.
struct Written {
    told: String,
    /// Characters that the faces do not have.
    missing: Vec<char>,
    exit: Exit,
}

/// Which characters could not be printed and what stands for them; none where all could.
fn missing_words(missing: &[char]) -> Option<String> {
    const NAMED: usize = 20;
    let first = missing.first()?;
    let named: Vec<String> =
        missing.iter().take(NAMED).map(|c| format!("{c} (U+{:04X})", u32::from(*c))).collect();
    let more = if missing.len() > NAMED { ", ..." } else { "" };
    Some(format!(
        "the faces of the sheets do not have {}{more}; codes stand for them, such as [{:04X}], in notes boxes",
        named.join(", "),
        u32::from(*first)
    ))
}

impl Target {
    /// The plan's units with the decimal mark asked for.
    pub(super) fn style(&self, figures: &Figures) -> Style {
        Style { decimal: self.decimal, ..style_of(&figures.plan) }
    }

    /// Refuses to write over the plan itself.
    pub(super) fn must_not_be(&self, plan: &Path) -> Result<(), String> {
        must_not_be_read(Some(&self.file), &[plan.to_owned()])
    }

    /// Saves the document of `plan`, or says why not and what to do.
    pub(super) fn save(&self, plan: &Path, bytes: &[u8]) -> Result<(), String> {
        let expected = match self.existing {
            Existing::Keep => Expected::Nothing,
            Existing::Replace => Expected::Anything,
        };
        disk::save(&self.file, bytes, expected)
            .map(|_| ())
            .map_err(|error| saving_from(plan, &self.file, &error))
    }
}

/// The time here and now, to the minute, such as `2026-03-09 14:05 +01:00`.
fn now() -> String {
    Zoned::now().strftime("%Y-%m-%d %H:%M %:z").to_string()
}
