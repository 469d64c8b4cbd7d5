//! Reading the arguments.

use super::plans::{Output, StateChoice};
use super::table_options::{TableOption, TableOptions};
use super::{
    CheckCommand, Command, CompareCommand, ComparedPair, FiguresCommand, Invocation, LoadedCommand,
    PlacementsCommand, Wanted, WeighingsCommand, WorkingCommand, order, paper_args, tidy,
};
use crate::report::{Judged, Listed, OnRequest};
use lexopt::{Arg, Parser, ValueExt};
use std::collections::BTreeSet;
use std::ffi::OsString;
use std::path::PathBuf;

/// Why the arguments cannot be followed; each says what to give instead.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum UsageError {
    /// An option that nothing here knows.
    #[error("there is no option \"{option}\" for {of}; see longstow help")]
    UnknownOption {
        /// As given.
        option: String,
        /// The command.
        of: &'static str,
    },
    /// A command without its plans.
    #[error("{of} needs at least one plan: longstow {of} PLAN...")]
    NoPlan {
        /// The command.
        of: &'static str,
    },
    /// `order` without just a plan and a table.
    #[error("order needs a plan and a table: longstow order PLAN TABLE.csv")]
    NotPlanAndTable,
    /// A table of several plans.
    #[error("a table for a spreadsheet, and a file to print into, take one plan: longstow {of} PLAN --csv")]
    SeveralForTable {
        /// The command.
        of: &'static str,
    },
    /// Two kinds of output, or an option of a kind that was not asked for.
    #[error("{what}; see longstow help")]
    NotTogether {
        /// What does not go together.
        what: &'static str,
    },
    /// A command that writes a document, without its plan or its file.
    #[error("{of} needs one plan and a file to write: longstow {of} PLAN -o FILE")]
    PlanAndFile {
        /// The command.
        of: &'static str,
    },
    /// `working` without a question.
    #[error(
        "working needs a question: longstow working PLAN --of \"axle-load: vehicle W3, rear bogie\", or --list"
    )]
    NoQuestion,
    /// `compare` without two things to compare.
    #[error(
        "compare needs two plans, or one plan and two of its states: longstow compare BEFORE AFTER, or longstow \
         compare PLAN --states 0 4"
    )]
    NoPair,
    /// Several plans for the editor, or a command that is none.
    #[error(
        "the editor opens one plan, and \"{first}\" is no command; to check several plans use longstow check \
         PLAN..., and see longstow help"
    )]
    SeveralPlans {
        /// The first of them.
        first: String,
    },
    /// A value that an option cannot take.
    #[error("\"{value}\" is no value for {option}; give {takes}")]
    BadValue {
        /// As given.
        value: String,
        /// The option.
        option: &'static str,
        /// What it takes.
        takes: &'static str,
    },
    /// An option without its value, or a value where none belongs.
    #[error("{what}; see longstow help")]
    Malformed {
        /// What is wrong.
        what: String,
    },
}

impl From<lexopt::Error> for UsageError {
    fn from(error: lexopt::Error) -> Self {
        Self::Malformed { what: error.to_string() }
    }
}

/// Reads the arguments, without the program's own name.
///
/// # Errors
/// [`UsageError`] for an unknown option, a bad or missing value, a command without plans, or several plans for
/// the editor.
pub fn parse(args: impl IntoIterator<Item = OsString>) -> Result<Invocation, UsageError> {
    let args: Vec<OsString> = args.into_iter().collect();
    let command = match args.first().and_then(|first| first.to_str()) {
        Some("check") => {
            let given = Given::read("check", &args[1..])?;
            given.command(|given| {
                Command::Check(CheckCommand {
                    plans: given.plans,
                    states: given.states,
                    output: given.output,
                    list: given.list,
                    judged: given.judged,
                    table: given.table,
                })
            })?
        }
        Some("figures") => {
            let given = Given::read("figures", &args[1..])?;
            given.command(|given| {
                Command::Figures(FiguresCommand {
                    plans: given.plans,
                    states: given.states,
                    output: given.output,
                    judged: given.judged,
                    table: given.table,
                })
            })?
        }
        Some("working") => working(Given::read("working", &args[1..])?)?,
        Some("loaded") => {
            let given = Given::read("loaded", &args[1..])?;
            given.command(|given| {
                Command::Loaded(LoadedCommand { plans: given.plans, output: given.output })
            })?
        }
        Some("weighings") => {
            let given = Given::read("weighings", &args[1..])?;
            given.command(|given| {
                Command::Weighings(WeighingsCommand { plans: given.plans, output: given.output })
            })?
        }
        Some("placements") => {
            let given = Given::read("placements", &args[1..])?;
            given.command(|given| {
                Command::Placements(PlacementsCommand {
                    plans: given.plans,
                    output: given.output,
                    table: given.table,
                })
            })?
        }
        Some("order") => order::read(&args[1..])?,
        Some("tidy") => tidy::read(&args[1..])?,
        Some("sheet") => paper_args::sheet(&args[1..])?,
        Some("drawing") => paper_args::drawing(&args[1..])?,
        Some("compare") => compare(Given::read("compare", &args[1..])?)?,
        Some("help") => Command::Help,
        _ => return editor(args),
    };
    Ok(Invocation::Command(command))
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
        let mut parser = Parser::from_args(args);
        while let Some(arg) = parser.next()? {
            match arg {
                Arg::Value(plan) => given.plans.push(plan.into()),
                Arg::Long("json") => given.set_output(Output::Json)?,
                Arg::Long("as-loaded") if matches!(of, "check" | "figures") => {
                    given.judged = Judged::AsLoaded;
                }
                Arg::Long("state") if matches!(of, "check" | "figures" | "working" | "compare") => {
                    given.states = StateChoice::One(state(parser.value()?)?);
                }
                Arg::Long("states") if of == "compare" => {
                    given.both_states = Some((state(parser.value()?)?, state(parser.value()?)?));
                }
                Arg::Long("list") if of == "compare" => given.listed = all(parser.value()?)?,
                Arg::Long("list") if of == "check" => given.list.extend(listed(parser.value()?)?),
                Arg::Long("of") if of == "working" => given.asked.push(parser.value()?.string()?),
                Arg::Long("list") if of == "working" => given.list_questions = true,
                Arg::Long("help") | Arg::Short('h') => given.help = true,
                other => match TableOption::of(&other).filter(|_| given.has_tables()) {
                    Some(option) => given.take_table_option(option, &mut parser)?,
                    None => return Err(unknown(other, of)),
                },
            }
        }
        Ok(given)
    }

    /// Whether the command has tables for a spreadsheet.
    fn has_tables(&self) -> bool {
        matches!(self.of, "check" | "figures" | "placements")
    }

    fn take_table_option(&mut self, option: TableOption, parser: &mut Parser) -> Result<(), UsageError> {
        if option == TableOption::Csv {
            self.set_output(Output::Csv)?;
        }
        self.table.take(option, self.of, parser)
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

/// The `working` command, which needs a question beside its plans.
fn working(given: Given) -> Result<Command, UsageError> {
    let wanted = match (given.list_questions, given.asked.is_empty()) {
        (true, _) => Wanted::List,
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

/// The `compare` command, which needs two plans, or one plan and two states.
fn compare(given: Given) -> Result<Command, UsageError> {
    if given.help {
        return Ok(Command::Help);
    }
    let (output, listed) = (given.output, given.listed);
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

fn editor(args: Vec<OsString>) -> Result<Invocation, UsageError> {
    let mut plans: Vec<PathBuf> = Vec::new();
    let mut parser = Parser::from_args(args);
    while let Some(arg) = parser.next()? {
        match arg {
            Arg::Value(plan) => plans.push(plan.into()),
            Arg::Long("help") | Arg::Short('h') => return Ok(Invocation::Command(Command::Help)),
            Arg::Long("version") | Arg::Short('V') => return Ok(Invocation::Command(Command::Version)),
            other => return Err(unknown(other, "longstow")),
        }
    }
    let mut plans = plans.into_iter();
    match (plans.next(), plans.next()) {
        (Some(first), Some(_)) => Err(UsageError::SeveralPlans { first: first.display().to_string() }),
        (plan, _) => Ok(Invocation::Editor { plan }),
    }
}

pub(super) fn unknown(arg: Arg<'_>, of: &'static str) -> UsageError {
    let option = match arg {
        Arg::Short(letter) => format!("-{letter}"),
        Arg::Long(name) => format!("--{name}"),
        Arg::Value(value) => value.to_string_lossy().into_owned(),
    };
    UsageError::UnknownOption { option, of }
}

pub(super) fn state(value: OsString) -> Result<usize, UsageError> {
    value.parse().map_err(|_| UsageError::BadValue {
        value: value.to_string_lossy().into_owned(),
        option: "--state",
        takes: "the number of a state; 0 is departure",
    })
}

fn all(value: OsString) -> Result<Listed, UsageError> {
    match value.to_str() {
        Some("all") => Ok(Listed::All),
        _ => Err(UsageError::BadValue {
            value: value.to_string_lossy().into_owned(),
            option: "--list",
            takes: "all",
        }),
    }
}

fn listed(value: OsString) -> Result<Vec<OnRequest>, UsageError> {
    match value.to_str() {
        Some("passes") => Ok(vec![OnRequest::Passes]),
        Some("not-asked") => Ok(vec![OnRequest::NotAsked]),
        Some("accepted") => Ok(vec![OnRequest::Accepted]),
        Some("all") => Ok(OnRequest::ALL.to_vec()),
        _ => Err(UsageError::BadValue {
            value: value.to_string_lossy().into_owned(),
            option: "--list",
            takes: "passes, not-asked, accepted or all",
        }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn parsed(line: &str) -> Result<Invocation, UsageError> {
        parse(line.split_whitespace().map(OsString::from))
    }

    fn check(line: &str, expected: Command) {
        assert_eq!(parsed(line), Ok(Invocation::Command(expected)), "{line}");
    }

    fn refused(line: &str, says: &str) {
        let message = parsed(line).unwrap_err().to_string();
        assert!(message.contains(says), "{line}: {message}");
    }

    #[test]
    fn no_command_opens_the_editor_on_at_most_one_plan() {
        assert_eq!(parsed(""), Ok(Invocation::Editor { plan: None }));
        assert_eq!(parsed("a.longstow"), Ok(Invocation::Editor { plan: Some("a.longstow".into()) }));
        assert_eq!(parsed("./check"), Ok(Invocation::Editor { plan: Some("./check".into()) }));
        assert_eq!(parsed("-- check"), Ok(Invocation::Editor { plan: Some("check".into()) }));
        refused("a.longstow b.longstow", "longstow check PLAN...");
        refused("chek a.longstow", "\"chek\" is no command");
    }

    #[test]
    fn options_stand_before_or_after_plans() {
        let expected = Command::Check(CheckCommand {
            plans: vec!["a".into(), "b".into()],
            states: StateChoice::One(2),
            output: Output::Json,
            list: [OnRequest::Passes, OnRequest::NotAsked].into(),
            judged: Judged::AsPlanned,
            table: TableOptions::default(),
        });
        check("check --json a --state 2 b --list passes --list=not-asked", expected.clone());
        check("check a b --list not-asked --list passes --state=2 --json", expected);
        check("check a", Command::Check(CheckCommand::plain("a".into())));
        check("check -- --json", Command::Check(CheckCommand::plain("--json".into())));
        let figures = FiguresCommand { plans: vec!["a".into()], ..FiguresCommand::default() };
        check("figures a", Command::Figures(figures));
        let loaded = CheckCommand { judged: Judged::AsLoaded, ..CheckCommand::plain("a".into()) };
        check("check a --as-loaded", Command::Check(loaded));
        let plans = || vec!["a".into()];
        check("loaded a", Command::Loaded(LoadedCommand { plans: plans(), output: Output::Text }));
        let weighings = WeighingsCommand { plans: plans(), output: Output::Json };
        check("weighings --json a", Command::Weighings(weighings));
    }

    #[test]
    fn workings_are_asked_one_by_one_or_listed() {
        let working = |wanted| {
            Command::Working(WorkingCommand {
                plans: vec!["a".into()],
                states: StateChoice::One(1),
                output: Output::Text,
                wanted,
            })
        };
        let asked = Wanted::Of(vec!["payload".to_owned(), "axle-load".to_owned()]);
        check("working a --of payload --state 1 --of=axle-load", working(asked));
        check("working --list --state 1 a", working(Wanted::List));
    }

    #[test]
    fn two_plans_or_two_states_of_one_are_compared() {
        let plans = |one, two| ComparedPair::Plans { before: ("a".into(), one), after: ("b".into(), two) };
        let compare = |pair, listed| Command::Compare(CompareCommand { pair, output: Output::Text, listed });
        let all = StateChoice::All;
        check("compare a b", compare(plans(all, all), Listed::Short));
        let one = StateChoice::One;
        check("compare a b --state 2", compare(plans(one(2), one(2)), Listed::Short));
        check("compare a --states 2 3 b --list all", compare(plans(one(2), one(3)), Listed::All));
        let states = ComparedPair::States { plan: "a".into(), states: (0, 4) };
        check("compare --states 0 4 a", compare(states, Listed::Short));
        check("compare --help", Command::Help);
        for line in ["compare", "compare a", "compare a --state 1", "compare a b c"] {
            refused(line, "compare needs two plans, or one plan and two of its states");
        }
        refused("compare a --states 1", "--states");
        refused("compare a b --list passes", "\"passes\" is no value for --list; give all");
        refused("check a --states 0 1", "there is no option \"--states\" for check");
    }

    #[test]
    fn help_and_version_are_always_at_hand() {
        for line in ["help", "--help", "-h", "check --help", "figures a -h", "working -h", "help check"] {
            check(line, Command::Help);
        }
        check("--version", Command::Version);
        check("-V", Command::Version);
    }

    #[test]
    fn what_cannot_be_followed_is_named() {
        refused("check", "check needs at least one plan");
        refused("figures --json", "figures needs at least one plan");
        refused("check a --jsno", "there is no option \"--jsno\" for check; see longstow help");
        refused("working a --as-loaded", "there is no option \"--as-loaded\" for working");
        refused("weighings a --state 0", "there is no option \"--state\" for weighings");
        refused("loaded", "loaded needs at least one plan");
        refused("working", "working needs at least one plan");
        refused("working a", "working needs a question");
        refused("working a --of", "--of");
        refused("check a --of payload", "there is no option \"--of\" for check");
        refused("figures a --list all", "there is no option \"--list\" for figures");
        refused("check a --state", "--state");
        refused("check a --state two", "\"two\" is no value for --state");
        refused("check a --state -1", "--state");
        refused("check a --list fails", "passes, not-asked, accepted or all");
        refused("check a --json=yes", "--json");
        refused("--frobnicate", "there is no option \"--frobnicate\" for longstow");
    }
}
