//! `longstow working`: how figures came about, and what findings compare.

use super::exit::Exit;
use super::plans::{Output, StateChoice, Told, each_plan, figures_at, style_of};
use super::streams::Streams;
use crate::checks::assess;
use crate::report::{questions_json, questions_report, working_json, working_report};
use crate::working::{answer, questions};
use std::path::{Path, PathBuf};

/// What `working` is to print.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Wanted {
    /// The workings of these, in words such as `axle-load: vehicle W3, rear bogie`.
    Of(Vec<String>),
    /// All that can be asked.
    List,
}

/// The `working` command.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WorkingCommand {
    pub(super) plans: Vec<PathBuf>,
    pub(super) states: StateChoice,
    pub(super) output: Output,
    pub(super) wanted: Wanted,
}

impl WorkingCommand {
    /// Prints the workings; nothing is judged, so the exit is 0, or 2 where something cannot be answered.
    pub(super) fn run(&self, streams: &mut Streams) -> Exit {
        each_plan(&self.plans, self.output, streams, |label, path| self.tell(label, path))
    }

    fn tell(&self, label: &str, path: &Path) -> Told {
        let figures = figures_at(path, self.states)?;
        let Wanted::Of(asked) = &self.wanted else {
            let questions = questions(&figures);
            let document = match self.output {
                Output::Json => {
                    questions_json(label, &figures, &questions).map_err(|error| error.to_string())?
                }
                Output::Text | Output::Csv => questions_report(&figures, &questions),
            };
            return Ok((document, Exit::Done));
        };
        let findings = assess(&figures).findings;
        let state = match self.states {
            StateChoice::All => None,
            StateChoice::One(state) => Some(state),
        };
        let workings = asked.iter().map(|asked| answer(&figures, &findings, state, asked));
        let workings = workings.collect::<Result<Vec<_>, _>>().map_err(|error| error.to_string())?;
        let document = match self.output {
            Output::Json => working_json(label, &figures, &workings).map_err(|error| error.to_string())?,
            Output::Text | Output::Csv => {
                let style = style_of(&figures.plan);
                let told: Vec<String> =
                    workings.iter().map(|working| working_report(&figures, working, style)).collect();
                told.join("\n")
            }
        };
        Ok((document, Exit::Done))
    }
}
