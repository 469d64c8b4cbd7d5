//! `longstow compare`: what differs between two plans, or between two states of one.

use super::exit::Exit;
use super::plans::{Output, StateChoice, plan_at, scope_in, style_of};
use super::streams::Streams;
use crate::planning::difference::{Difference, Worked};
use crate::report::{Compared, Listed, compare_json, compare_report, error_json};
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// The `compare` command.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CompareCommand {
    pub(super) pair: ComparedPair,
    pub(super) output: Output,
    pub(super) listed: Listed,
}

/// What is compared with what.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ComparedPair {
    /// Two plans, each in all states or in one.
    Plans {
        /// Before.
        before: (PathBuf, StateChoice),
        /// After.
        after: (PathBuf, StateChoice),
    },
    /// Two states of one plan, by their numbers.
    States {
        /// The plan.
        plan: PathBuf,
        /// Before and after.
        states: (usize, usize),
    },
}

/// A plan that could not be compared: its label, and what is wrong.
type Fault = (String, String);

impl CompareCommand {
    /// Prints what differs: the exit is 0 where nothing does, 1 where something does, 2 where a plan cannot be read.
    pub(super) fn run(&self, streams: &mut Streams) -> Exit {
        match self.told() {
            Ok((document, exit)) => {
                match self.output {
                    Output::Text | Output::Csv => streams.print_text(&document),
                    Output::Json => streams.print(&document),
                }
                exit
            }
            Err((label, message)) => {
                message.lines().for_each(|line| streams.tell(&format!("{label}: {line}")));
                if let (Output::Json, Ok(document)) = (self.output, error_json(&label, &message)) {
                    streams.print(&document);
                }
                Exit::CouldNotRun
            }
        }
    }

    fn told(&self) -> Result<(String, Exit), Fault> {
        let (labels, worked) = match &self.pair {
            ComparedPair::Plans { before, after } => {
                let (one, two) = (worked_at(before)?, worked_at(after)?);
                ([label(&before.0), label(&after.0)], (one, two))
            }
            ComparedPair::States { plan, states } => {
                let (label, one, two) = states_at(plan, *states)?;
                ([label.clone(), label], (one, two))
            }
        };
        let (before, after) = (worked.0.side(), worked.1.side());
        let difference = match &self.pair {
            ComparedPair::Plans { .. } => Difference::of_plans(before, after),
            ComparedPair::States { .. } => Difference::of_states(before, after),
        };
        let before = Compared { label: &labels[0], side: before };
        let after = Compared { label: &labels[1], side: after };
        let exit = if difference.is_empty() { Exit::Done } else { Exit::Fails };
        let document = match self.output {
            Output::Json => compare_json(&difference, (&before, &after), exit.code())
                .map_err(|error| (labels[1].clone(), error.to_string()))?,
            Output::Text | Output::Csv => {
                let style = style_of(&after.side.figures.plan);
                compare_report(&difference, (&before, &after), (self.listed, style))
            }
        };
        Ok((document, exit))
    }
}

fn label(path: &Path) -> String {
    path.display().to_string()
}

fn worked_at((path, choice): &(PathBuf, StateChoice)) -> Result<Worked, Fault> {
    let fault = |message| (label(path), message);
    let plan = plan_at(path).map_err(fault)?;
    let scope = scope_in(&plan, *choice).map_err(fault)?;
    Ok(Worked::of(Arc::new(plan), scope))
}

fn states_at(path: &Path, (before, after): (usize, usize)) -> Result<(String, Worked, Worked), Fault> {
    let fault = |message| (label(path), message);
    let plan = Arc::new(plan_at(path).map_err(fault)?);
    let scope = |state| scope_in(&plan, StateChoice::One(state)).map_err(fault);
    let (one, two) = (scope(before)?, scope(after)?);
    Ok((label(path), Worked::of(Arc::clone(&plan), one), Worked::of(plan, two)))
}
