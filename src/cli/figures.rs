//! `longstow figures`: the loads, reactions and moments of plans.

use super::exit::Exit;
use super::plans::{Output, StateChoice, Told, each_plan, figures_at, style_of};
use super::streams::Streams;
use crate::report::{figures_json, figures_report};
use std::path::{Path, PathBuf};

/// The `figures` command.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct FiguresCommand {
    pub(super) plans: Vec<PathBuf>,
    pub(super) states: StateChoice,
    pub(super) output: Output,
}

impl FiguresCommand {
    /// Prints the figures of the plans; figures are judged by nobody, so the exit is 0 or 2.
    pub(super) fn run(&self, streams: &mut Streams) -> Exit {
        each_plan(&self.plans, self.output, streams, |label, path| self.tell(label, path))
    }

    fn tell(&self, label: &str, path: &Path) -> Told {
        let figures = figures_at(path, self.states)?;
        let document = match self.output {
            Output::Json => figures_json(label, &figures).map_err(|error| error.to_string())?,
            Output::Text => figures_report(&figures, style_of(&figures.plan)),
        };
        Ok((document, Exit::Done))
    }
}
