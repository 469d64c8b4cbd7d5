//! Reading the arguments: which command is meant, and what opens the editor.

use super::usage::UsageError;
use super::{Command, Invocation, order, paper_args, plan_args, tidy};
use lexopt::{Arg, Parser};
use std::ffi::OsString;
use std::path::PathBuf;

/// What reads the arguments of a command, those behind its name.
pub(super) type Reader = fn(&[OsString]) -> Result<Command, UsageError>;

/// The commands by their names; anything else opens the editor.
pub(super) const COMMANDS: &[(&str, Reader)] = &[
    ("check", plan_args::check),
    ("figures", plan_args::figures),
    ("working", plan_args::working),
    ("loaded", plan_args::loaded),
    ("weighings", plan_args::weighings),
    ("placements", plan_args::placements),
    ("order", order::read),
    ("tidy", tidy::read),
    ("sheet", paper_args::sheet),
    ("drawing", paper_args::drawing),
    ("compare", plan_args::compare),
    ("help", help),
];

/// Reads the arguments, without the program's own name.
///
/// # Errors
/// [`UsageError`] for an unknown option, a bad or missing value, options that do not go together, a command without
/// plans, or several plans for the editor.
pub fn parse(args: impl IntoIterator<Item = OsString>) -> Result<Invocation, UsageError> {
    let args: Vec<OsString> = args.into_iter().collect();
    if let Some((name, rest)) = args.split_first()
        && let Some((_, read)) = COMMANDS.iter().find(|(command, _)| name == command)
    {
        return read(rest).map(Invocation::Command);
    }
    editor(args)
}

/// `longstow help`, with or without a word of what.
fn help(args: &[OsString]) -> Result<Command, UsageError> {
    let mut parser = Parser::from_args(args);
    while let Some(arg) = parser.next()? {
        match arg {
            Arg::Value(_) | Arg::Long("help") | Arg::Short('h') => {}
            other => return Err(UsageError::unknown(other, "help")),
        }
    }
    Ok(Command::Help)
}

fn editor(args: Vec<OsString>) -> Result<Invocation, UsageError> {
    let mut plans: Vec<PathBuf> = Vec::new();
    let mut parser = Parser::from_args(args);
    while let Some(arg) = parser.next()? {
        match arg {
            Arg::Value(plan) => plans.push(plan.into()),
            Arg::Long("help") | Arg::Short('h') => return Ok(Invocation::Command(Command::Help)),
            Arg::Long("version") | Arg::Short('V') => return Ok(Invocation::Command(Command::Version)),
            other => return Err(UsageError::unknown(other, "longstow")),
        }
    }
    let mut plans = plans.into_iter();
    match (plans.next(), plans.next()) {
        (Some(first), Some(_)) => Err(UsageError::SeveralPlans { first: first.display().to_string() }),
        (plan, _) => Ok(Invocation::Editor { plan }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cli::plans::{Output, StateChoice};
    use crate::cli::table_options::TableOptions;
    use crate::cli::{
        CheckCommand, CompareCommand, ComparedPair, FiguresCommand, LoadedCommand, Wanted, WeighingsCommand,
        WorkingCommand,
    };
    use crate::report::{Judged, Listed, OnRequest};

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
            output: Output::Text,
            list: [OnRequest::Passes, OnRequest::NotAsked].into(),
            judged: Judged::AsLoaded,
            table: TableOptions::default(),
        });
        check("check --as-loaded a --state 2 b --list passes --list=not-asked", expected.clone());
        check("check a b --list not-asked --list passes --state=2 --as-loaded", expected);
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

    #[test]
    fn what_would_be_ignored_is_refused_by_name() {
        for (line, says) in [
            ("check a --list all --json", "--list belongs to the text"),
            ("check a --list all --csv", "--list belongs to the text"),
            ("check a --json --csv", "--json and --csv are two outputs"),
            ("check a --state 0 --state 1", "--state is given twice"),
            ("figures a --csv racks --csv strings", "--csv is given twice"),
            ("figures a -o b --output c", "-o is given twice"),
            ("placements a --csv --decimal comma --decimal point", "--decimal is given twice"),
            ("placements a --csv --separator tab --separator comma", "--separator is given twice"),
            ("placements a --decimal comma", "--decimal and --separator belong to --csv"),
            ("check a --replace", "--replace belongs to -o FILE"),
            ("order a b --replace", "--replace belongs to -o FILE"),
            ("tidy a --replace", "--replace belongs to -o FILE"),
            ("order a b -o c -o d", "-o is given twice"),
            ("order a b --headers 1 --headers none", "--headers is given twice"),
            ("order a b --decimal comma --decimal point", "--decimal is given twice"),
            ("order a b --separator tab --separator tab", "--separator is given twice"),
            ("tidy a -o b -o c", "-o is given twice"),
            ("tidy a --check -o b", "--check saves nothing"),
            ("tidy a -o b --replace --check", "--check saves nothing"),
            ("tidy a --check --drop-comments", "--check saves nothing"),
            ("tidy a --drop-comments --check", "--check saves nothing"),
            ("working a --list --of payload", "--list tells all that can be asked"),
            ("compare a --states 0 1 --state 9", "give one of them"),
            ("compare a b --state 9 --states 0 1", "give one of them"),
            ("compare a --states 0 1 --states 0 2", "--states is given twice"),
            ("compare a b --list all --json", "--list belongs to the text"),
            ("compare a --states 0 x", "\"x\" is no value for --states"),
            ("compare a --states x 0", "\"x\" is no value for --states"),
            ("compare a b --state x", "\"x\" is no value for --state;"),
            ("sheet a -o b -o c", "-o is given twice"),
            ("sheet a -o b --paper a4 --paper letter", "--paper is given twice"),
            ("sheet a -o b --made x --made y", "--made is given twice"),
            ("sheet a -o b --state 0 --state 1", "--state is given twice"),
            ("drawing a -o b --of deck-plan --of train-side", "--of is given twice"),
            ("help --frobnicate", "there is no option \"--frobnicate\" for help"),
        ] {
            refused(line, says);
        }
    }
}
