//! `longstow figures`: the loads, reactions and moments of plans.

use super::exit::Exit;
use super::plans::{Output, StateChoice, Told, each_plan, judged_at, style_of};
use super::streams::Streams;
use super::table_options::TableOptions;
use crate::report::{
    FiguresTable, JsonError, Judged, figures_json_with, figures_report, figures_table, load_words,
    write_figures_json,
};
use crate::units::Style;
use std::path::{Path, PathBuf};

/// The `figures` command.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct FiguresCommand {
    pub(super) plans: Vec<PathBuf>,
    pub(super) states: StateChoice,
    pub(super) output: Output,
    pub(super) judged: Judged,
    pub(super) table: TableOptions,
}

impl FiguresCommand {
    /// Prints the figures of the plans; figures are judged by nobody, so the exit is 0 or 2.
    pub(super) fn run(&self, streams: &mut Streams) -> Exit {
        if let Err(exit) = streams.print_into(&self.table.out, &self.plans) {
            return exit;
        }
        if let (Output::Json, [path]) = (self.output, self.plans.as_slice())
            && let Ok((figures, records)) = judged_at(path, self.states, self.judged)
        {
            // Written as it is made: all states of a long train may be larger than the machine's memory.
            let label = path.display().to_string();
            streams.print_by(|out| {
                write_figures_json(out, &label, (&figures, &records)).map_err(JsonError::into_io)
            });
            return Exit::Done;
        }
        each_plan(&self.plans, self.output, streams, |label, path| self.tell(label, path))
    }

    fn tell(&self, label: &str, path: &Path) -> Told {
        let (figures, records) = judged_at(path, self.states, self.judged)?;
        let document = match self.output {
            Output::Json => {
                figures_json_with(label, &figures, &records).map_err(|error| error.to_string())?
            }
            Output::Csv => {
                let style = Style { decimal: self.table.decimal(), ..style_of(&figures.plan) };
                let which = self.table.figures.unwrap_or(FiguresTable::Vehicles);
                figures_table(&figures, which, style).csv(self.table.form())
            }
            Output::Text => {
                let load = records.load.as_ref().map(|load| format!("Load:    {}\n", load_words(load)));
                load.unwrap_or_default() + &figures_report(&figures, style_of(&figures.plan))
            }
        };
        Ok((document, Exit::Done))
    }
}
