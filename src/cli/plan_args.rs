//! The arguments of the commands that print what plans hold: `check`, `figures`, `working`, `loaded`, `weighings`,
//! `placements` and `compare`.

use super::arguments::Arguments;
use super::plans::{Output, StateChoice};
use super::table_options::{TableOption, TableOptions};
use super::usage::UsageError;
use super::{
    CheckCommand, Command, CompareCommand, ComparedPair, FiguresCommand, LoadedCommand, PlacementsCommand,
    Wanted, WeighingsCommand, WorkingCommand,
};
use crate::report::{Judged, Listed, OnRequest};
use lexopt::{Arg, ValueExt};
use std::collections::BTreeSet;
use std::ffi::OsString;
use std::path::PathBuf;

/// Reads the arguments of `longstow check`.
pub(super) fn check(args: &[OsString]) -> Result<Command, UsageError> {
    let given = Given::read("check", args)?;
    if !given.list.is_empty() && given.output != Output::Text {
        let what = "--list belongs to the text; --json and --csv leave nothing out";
        return Err(UsageError::NotTogether { what });
    }
    given.command(|given| {
        Command::Check(CheckCommand {
            plans: given.plans,
            states: given.states,
            output: given.output,
            list: given.list,
            judged: given.judged,
            table: given.table,
        })
    })
}

/// Reads the arguments of `longstow figures`.
pub(super) fn figures(args: &[OsString]) -> Result<Command, UsageError> {
    Given::read("figures", args)?.command(|given| {
        Command::Figures(FiguresCommand {
            plans: given.plans,
            states: given.states,
            output: given.output,
            judged: given.judged,
            table: given.table,
        })
    })
}

/// Reads the arguments of `longstow working`, which needs a question beside its plans.
pub(super) fn working(args: &[OsString]) -> Result<Command, UsageError> {
    let given = Given::read("working", args)?;
    let wanted = match (given.list_questions, given.asked.is_empty()) {
        (true, true) => Wanted::List,
        (true, false) => {
            let what = "--list tells all that can be asked, and --of asks; give one of them";
            return Err(UsageError::NotTogether { what });
        }
        (false, false) => Wanted::Of(given.asked.clone()),
        (false, true) if given.help || given.plans.is_empty() => Wanted::List,
        (false, true) => return Err(UsageError::NoQuestion),
    };
    given.command(|given| {
        Command::Working(WorkingCommand {
            plans: given.plans,
            states: given.states,
            output: given.output,
            wanted,
        })
    })
}

/// Reads the arguments of `longstow loaded`.
pub(super) fn loaded(args: &[OsString]) -> Result<Command, UsageError> {
    Given::read("loaded", args)?
        .command(|given| Command::Loaded(LoadedCommand { plans: given.plans, output: given.output }))
}

/// Reads the arguments of `longstow weighings`.
pub(super) fn weighings(args: &[OsString]) -> Result<Command, UsageError> {
    Given::read("weighings", args)?
        .command(|given| Command::Weighings(WeighingsCommand { plans: given.plans, output: given.output }))
}

/// Reads the arguments of `longstow placements`.
pub(super) fn placements(args: &[OsString]) -> Result<Command, UsageError> {
    Given::read("placements", args)?.command(|given| {
        Command::Placements(PlacementsCommand {
            plans: given.plans,
            output: given.output,
            table: given.table,
        })
    })
}

/// Reads the arguments of `longstow compare`, which needs two plans, or one plan and two states.
pub(super) fn compare(args: &[OsString]) -> Result<Command, UsageError> {
    let given = Given::read("compare", args)?;
    if given.help {
        return Ok(Command::Help);
    }
    let (output, listed) = (given.output, given.listed);
    if listed == Listed::All && output == Output::Json {
        let what = "--list belongs to the text; --json leaves nothing out";
        return Err(UsageError::NotTogether { what });
    }
    if given.both_states.is_some() && given.states != StateChoice::All {
        let what = "--state is the state of both plans, and --states are one of each; give one of them";
        return Err(UsageError::NotTogether { what });
    }
    let pair = match (given.plans.as_slice(), given.both_states) {
        ([plan], Some(states)) => ComparedPair::States { plan: plan.clone(), states },
        ([before, after], both) => {
            let (one, two) = match both {
                Some((one, two)) => (StateChoice::One(one), StateChoice::One(two)),
                None => (given.states, given.states),
            };
            ComparedPair::Plans { before: (before.clone(), one), after: (after.clone(), two) }
        }
        _ => return Err(UsageError::NoPair),
    };
    Ok(Command::Compare(CompareCommand { pair, output, listed }))
}

/// What was given to a command.
struct Given {
    of: &'static str,
    plans: Vec<PathBuf>,
    states: StateChoice,
    both_states: Option<(usize, usize)>,
    output: Output,
    judged: Judged,
    list: BTreeSet<OnRequest>,
    listed: Listed,
    asked: Vec<String>,
    list_questions: bool,
    table: TableOptions,
    help: bool,
}

impl Given {
    fn read(of: &'static str, args: &[OsString]) -> Result<Self, UsageError> {
        let mut given = Self {
            of,
            plans: Vec::new(),
            states: StateChoice::All,
            both_states: None,
            output: Output::Text,
            judged: Judged::AsPlanned,
            list: BTreeSet::new(),
            listed: Listed::Short,
            asked: Vec::new(),
            list_questions: false,
            table: TableOptions::default(),
            help: false,
        };
        let mut arguments = Arguments::new(args);
        while let Some(arg) = arguments.next()? {
            match arg {
                Arg::Value(plan) => given.plans.push(plan.into()),
                Arg::Long("json") => given.set_output(Output::Json)?,
                Arg::Long("as-loaded") if matches!(of, "check" | "figures") => {
                    given.judged = Judged::AsLoaded;
                }
                Arg::Long("state") if matches!(of, "check" | "figures" | "working" | "compare") => {
                    given.states = StateChoice::One(state(arguments.only("--state")?, "--state")?);
                }
                Arg::Long("states") if of == "compare" => {
                    let before = state(arguments.only("--states")?, "--states")?;
                    given.both_states = Some((before, state(arguments.another()?, "--states")?));
                }
                Arg::Long("list") if of == "compare" => given.listed = all(arguments.only("--list")?)?,
                Arg::Long("list") if of == "check" => given.list.extend(listed(arguments.another()?)?),
                Arg::Long("of") if of == "working" => given.asked.push(arguments.another()?.string()?),
                Arg::Long("list") if of == "working" => given.list_questions = true,
                Arg::Long("help") | Arg::Short('h') => given.help = true,
                other => match TableOption::of(&other).filter(|_| given.has_tables()) {
                    Some(option) => given.take_table_option(option, &mut arguments)?,
                    None => return Err(UsageError::unknown(other, of)),
                },
            }
        }
        Ok(given)
    }

    /// Whether the command has tables for a spreadsheet.
    fn has_tables(&self) -> bool {
        matches!(self.of, "check" | "figures" | "placements")
    }

    fn take_table_option(
        &mut self,
        option: TableOption,
        arguments: &mut Arguments,
    ) -> Result<(), UsageError> {
        if option == TableOption::Csv {
            self.set_output(Output::Csv)?;
        }
        self.table.take(option, self.of, arguments)
    }

    fn set_output(&mut self, output: Output) -> Result<(), UsageError> {
        if self.output != Output::Text && self.output != output {
            return Err(UsageError::NotTogether {
                what: "--json and --csv are two outputs; give one of them",
            });
        }
        self.output = output;
        Ok(())
    }

    fn command(self, make: impl FnOnce(Self) -> Command) -> Result<Command, UsageError> {
        self.table.expect_together()?;
        if self.plans.len() > 1 && (self.table.csv || self.table.out.path.is_some()) {
            return Err(UsageError::SeveralForTable { of: self.of });
        }
        match (self.help, self.plans.is_empty()) {
            (true, _) => Ok(Command::Help),
            (false, true) => Err(UsageError::NoPlan { of: self.of }),
            (false, false) => Ok(make(self)),
        }
    }
}

/// The number of a state, as the value of `option`.
pub(super) fn state(value: OsString, option: &'static str) -> Result<usize, UsageError> {
    let number = value.to_str().and_then(|words| words.parse().ok());
    number.ok_or_else(|| UsageError::bad(value, option, "the number of a state; 0 is departure"))
}

fn all(value: OsString) -> Result<Listed, UsageError> {
    match value.to_str() {
        Some("all") => Ok(Listed::All),
        _ => Err(UsageError::bad(value, "--list", "all")),
    }
}

fn listed(value: OsString) -> Result<Vec<OnRequest>, UsageError> {
    match value.to_str() {
        Some("passes") => Ok(vec![OnRequest::Passes]),
        Some("not-asked") => Ok(vec![OnRequest::NotAsked]),
        Some("accepted") => Ok(vec![OnRequest::Accepted]),
        Some("all") => Ok(OnRequest::ALL.to_vec()),
        _ => Err(UsageError::bad(value, "--list", "passes, not-asked, accepted or all")),
    }
}
