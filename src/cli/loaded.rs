//! `longstow loaded`: how the load as it was recorded differs from the plan, and who signed.

use super::exit::Exit;
use super::plans::{Output, Told, each_plan, plan_at, style_of};
use super::streams::Streams;
use crate::planning::Loaded;
use crate::report::{Judged, Records, loaded_json, loaded_report};
use std::path::{Path, PathBuf};

/// The `loaded` command.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct LoadedCommand {
    pub(super) plans: Vec<PathBuf>,
    pub(super) output: Output,
}

impl LoadedCommand {
    /// Prints the differences; the exit is 1 where a string differs, 3 where one is not confirmed, else 0.
    pub(super) fn run(&self, streams: &mut Streams) -> Exit {
        each_plan(&self.plans, self.output, streams, |label, path| self.tell(label, path))
    }

    fn tell(&self, label: &str, path: &Path) -> Told {
        let plan = plan_at(path)?;
        let loaded = Loaded::of(&plan);
        let records = Records::of(&plan, &loaded, Judged::AsLoaded);
        let exit = match (loaded.differences.is_empty(), loaded.not_confirmed.is_empty()) {
            (false, _) => Exit::Fails,
            (true, false) => Exit::Undecided,
            (true, true) => Exit::Done,
        };
        let document = match self.output {
            Output::Json => loaded_json(label, &plan, &loaded, (&records, exit.code()))
                .map_err(|error| error.to_string())?,
            Output::Text | Output::Csv => loaded_report(&plan, &loaded, &records, style_of(&plan)),
        };
        Ok((document, exit))
    }
}
