//! `longstow placements`: the order, and where each string lies.

use super::exit::Exit;
use super::plans::{Output, Told, each_plan, plan_at, style_of};
use super::streams::Streams;
use super::table_options::TableOptions;
use crate::report::{placements_json, placements_report, placements_table};
use crate::units::Style;
use std::path::{Path, PathBuf};

/// The `placements` command.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PlacementsCommand {
    pub(super) plans: Vec<PathBuf>,
    pub(super) output: Output,
    pub(super) table: TableOptions,
}

impl PlacementsCommand {
    /// Prints the order with its places; the exit is 0 or 2.
    pub(super) fn run(&self, streams: &mut Streams) -> Exit {
        if let Err(exit) = streams.print_into(&self.table.out, &self.plans) {
            return exit;
        }
        each_plan(&self.plans, self.output, streams, |_, path| self.tell(path))
    }

    fn tell(&self, path: &Path) -> Told {
        let plan = plan_at(path)?;
        let label = path.display().to_string();
        let document = match self.output {
            Output::Json => placements_json(&label, &plan).map_err(|error| error.to_string())?,
            Output::Csv => {
                let style = Style { decimal: self.table.decimal(), ..style_of(&plan) };
                placements_table(&plan, style).csv(self.table.form())
            }
            Output::Text => placements_report(&plan, style_of(&plan)),
        };
        Ok((document, Exit::Done))
    }
}
