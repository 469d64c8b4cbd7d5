//! `longstow weighings`: readings of scales beside what is computed, and what would explain a difference.

use super::exit::Exit;
use super::plans::{Output, Told, each_plan, plan_at, style_of};
use super::streams::Streams;
use crate::planning::Loaded;
use crate::planning::weighings::{self, Diagnosis, Weighed};
use crate::report::{Judged, Records, weighings_json, weighings_report};
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// The `weighings` command.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct WeighingsCommand {
    pub(super) plans: Vec<PathBuf>,
    pub(super) output: Output,
}

impl WeighingsCommand {
    /// Prints the comparison with the load as it is.
    pub(super) fn run(&self, streams: &mut Streams) -> Exit {
        each_plan(&self.plans, self.output, streams, |label, path| self.tell(label, path))
    }

    fn tell(&self, label: &str, path: &Path) -> Told {
        let plan = plan_at(path)?;
        let loaded = Loaded::of(&plan);
        let records = Records::of(&plan, &loaded, Judged::AsLoaded);
        let weighed = Weighed::of(&Arc::new(loaded.plan));
        // Only a search that is called off gives none, and nothing here calls it off.
        let diagnosis = weighings::explain(&weighed, |_, _| true).ok_or("the search was called off")?;
        let exit = exit_of(&weighed, &diagnosis);
        let document = match self.output {
            Output::Json => weighings_json(label, &weighed, &diagnosis, (&records, exit.code()))
                .map_err(|error| error.to_string())?,
            Output::Text | Output::Csv => weighings_report(&weighed, &diagnosis, &records, style_of(&plan)),
        };
        Ok((document, exit))
    }
}

/// 1 where readings do not fit, 3 where there are none or some cannot be judged, else 0.
fn exit_of(weighed: &Weighed, diagnosis: &Diagnosis) -> Exit {
    use weighings::Told::{CannotTell, Explained, Fits, NoSingleCause, NothingToJudge};
    match diagnosis.told {
        Explained | CannotTell(_) | NoSingleCause => Exit::Fails,
        _ if weighed.misfits() > 0 => Exit::Fails,
        NothingToJudge => Exit::Undecided,
        Fits if weighed.not_judged() > 0 => Exit::Undecided,
        Fits => Exit::Done,
    }
}
