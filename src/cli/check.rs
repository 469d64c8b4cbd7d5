//! `longstow check`: what all checks say of plans.

use super::exit::Exit;
use super::plans::{Output, StateChoice, Told, each_plan, judged_at, style_of};
use super::streams::Streams;
use super::table_options::TableOptions;
use crate::checks::assess;
use crate::report::{CheckReportOptions, Judged, OnRequest, check_json_with, check_report, findings_table};
use crate::units::Style;
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

/// The `check` command.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct CheckCommand {
    pub(super) plans: Vec<PathBuf>,
    pub(super) states: StateChoice,
    pub(super) output: Output,
    pub(super) list: BTreeSet<OnRequest>,
    pub(super) judged: Judged,
    pub(super) table: TableOptions,
}

impl CheckCommand {
    /// The check of one plan in all states, as text.
    pub fn plain(plan: PathBuf) -> Self {
        Self { plans: vec![plan], ..Self::default() }
    }

    /// Checks the plans and prints what was found.
    pub(super) fn run(&self, streams: &mut Streams) -> Exit {
        if let Err(exit) = streams.print_into(&self.table.out, &self.plans) {
            return exit;
        }
        each_plan(&self.plans, self.output, streams, |label, path| self.tell(label, path))
    }

    fn tell(&self, label: &str, path: &Path) -> Told {
        let (figures, records) = judged_at(path, self.states, self.judged)?;
        let assessment = assess(&figures);
        let document = match self.output {
            Output::Json => {
                check_json_with(label, &figures, &assessment, &records).map_err(|error| error.to_string())?
            }
            Output::Csv => {
                let style = Style { decimal: self.table.decimal(), ..style_of(&figures.plan) };
                findings_table(&figures, &assessment, style).csv(self.table.form())
            }
            Output::Text => {
                let (style, list) = (style_of(&figures.plan), self.list.clone());
                check_report(&figures, &assessment, &CheckReportOptions { style, list, records })
            }
        };
        Ok((document, assessment.verdict().into()))
    }
}
