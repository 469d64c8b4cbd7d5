//! `longstow help` and `longstow --version`.

use super::exit::Exit;
use super::streams::Streams;

/// What `longstow help` prints.
const HELP: &str = "\
Longstow plans how long welded rail strings are carried on a rail train.

longstow                        open the editor on its start view
longstow PLAN                   open the editor on a plan; without a window, check it
longstow check PLAN...          check plans in every state from full to empty
longstow figures PLAN...        print loads, reactions, moments and ratios of plans
longstow working PLAN...        print how a figure came about: formula, numbers put in, source
longstow loaded PLAN...         print how the load as recorded differs from the plan, and who signed
longstow weighings PLAN...      print how readings of scales compare, and what would explain them
longstow placements PLAN...     print the order and where each string lies
longstow order PLAN TABLE       take an order that comes as a table (CSV) into a plan
longstow tidy PLAN...           write plans in the one canonical form, and say what that changes
longstow sheet PLAN -o FILE     write the printed sheets of a plan as PDF
longstow drawing PLAN -o FILE   write a drawing of a plan as SVG
longstow compare BEFORE AFTER   print what differs between two plans
longstow compare PLAN --states M N
                                print what differs between two states of a plan
longstow help                   print this
longstow -V, longstow --version print the version

Options of check, figures, working, loaded, weighings, placements, order, tidy and compare:
  --json                        JSON instead of text: one object, or an array for several plans
Options of check, figures and working:
  --state N                     that state alone; 0 is departure
Options of check and figures:
  --as-loaded                   judge the load as it was recorded, not as it was planned
Options of check:
  --list passes                 list what is within its limit, too
  --list not-asked              list what was not asked or does not apply, too
  --list accepted               list broken limits that somebody accepted, too
  --list all                    list all of these
Options of working:
  --of \"WHAT: THING, THING\"     of which figure, such as \"axle-load: vehicle W3, rear bogie\"; a
                                check's name alone means its worst finding; may be given again
  --list                        list all that can be asked
Options of check, figures and placements, for one plan:
  --csv                         a table for a spreadsheet; figures: --csv vehicles, racks or strings
  --decimal point|comma         decimal mark of the table; with a comma semicolons part its cells
  --separator WHAT              what parts its cells: comma, semicolon or tab
  -o, --output FILE             print into a file
  --replace                     replace that file where it is there
Options of order:
  --dry-run                     save nothing, whatever else is said: tell the fate of every row
  --take-rest                   save although rows are refused; without it all are taken or none
  -o, --output FILE             save the plan there instead of where it was
  --replace                     replace that file where it is there
  --column FIELD=HEADER         which column holds mark, section, length, side, drop, mass,
                                mass-basis or steel; #3 is the third column, nothing is none
  --unit FIELD=UNIT             unit of a column's bare numbers, such as length=ft
  --decimal point|comma, --separator WHAT
                                how the table is written, where it cannot be told
  --headers LINE                the line with the headers, or none
  --section, --steel, --drop NAME=NAME
                                what is meant by a name that the plan does not have
  --new-drop NAME[=front]       make the drop; strings go over its rear end unless =front is said
Options of tidy:
  --check                       save nothing; end with 1 where a plan is not tidy
  --drop-comments               save although comments are lost
  -o, --output FILE             save there instead of where it was
  --replace                     replace that file where it is there
Options of sheet and drawing:
  -o, --output FILE             the file to write; one that is there is left as it is
  --replace                     replace the file
  --state N                     of a sheet: the state whose loads stand beside those of departure,
                                else the worst; of a drawing: the state drawn, else departure
  --decimal point|comma         how decimals are written; with a point unless told otherwise
Options of sheet:
  --paper a4, --paper letter    the paper; A4 unless told otherwise
  --made TEXT                   the time of making as printed, not the time now
Options of drawing:
  --of WHAT                     train-side, deck-plan, \"tier 2\" or a rack such as \"W03 rack 2\"
Options of compare:
  --state N                     of both plans that state alone
  --states M N                  state M before, state N after
  --list all                    list all that differs, not only what matters most
Options of every command:
  -h, --help                    print this
Options may stand before or after plans; what follows -- is a plan, and so is ./check.

Exit codes: 0 no unaccepted fail and nothing undecided, 1 an unaccepted fail, 3 no fail but
something undecided, 2 could not run; of several plans 2 counts first, then 1, then 3.
sheet ends as check does; drawing with 0 or 2.
loaded ends with 1 where a string differs and 3 where one is not confirmed; weighings with 1
where readings do not fit and 3 where there are none or some have no tolerance. compare ends
with 0 where nothing differs and with 1 where something does. order ends with 1 where a row is
refused, tidy --check where a plan is not tidy.

Longstow computes. Local rules, and the people licensed to apply them, decide.
";

/// Prints the help.
pub(super) fn help(streams: &mut Streams) -> Exit {
    streams.print(HELP);
    Exit::Done
}

/// Prints the version.
pub(super) fn version(streams: &mut Streams) -> Exit {
    streams.print(concat!("longstow ", env!("CARGO_PKG_VERSION")));
    Exit::Done
}

#[cfg(test)]
mod tests {
    use super::HELP;
    use crate::cli::args::{COMMANDS, parse};
    use std::collections::{BTreeMap, BTreeSet};
    use std::ffi::OsString;
    use std::fs;
    use std::path::Path;

    /// The options that the help tells of each command.
    fn told() -> BTreeMap<String, BTreeSet<String>> {
        let mut told: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
        let mut of: Vec<String> = Vec::new();
        for line in HELP.lines() {
            if let Some(commands) = line.strip_prefix("Options of ") {
                let commands = commands.split([':', ' ', ',']).filter(|word| !matches!(*word, "" | "and"));
                of = match line {
                    "Options of every command:" => COMMANDS.iter().map(|(name, _)| (*name).into()).collect(),
                    _ => commands.take_while(|word| *word != "for").map(str::to_owned).collect(),
                };
            } else if line.starts_with("  -") {
                // Two spaces part the options from what is said of them.
                let options = line.trim_start().split("  ").next().unwrap_or_default();
                let options = options.split([' ', ',']).filter(|word| word.starts_with('-'));
                for (command, option) in of.iter().flat_map(|of| options.clone().map(move |one| (of, one))) {
                    told.entry(command.clone()).or_default().insert(option.to_owned());
                }
            } else if !line.starts_with(' ') {
                of.clear();
            }
        }
        told
    }

    /// Every option that is named anywhere in the source of the commands.
    fn options_in_source() -> BTreeSet<String> {
        let mut options = BTreeSet::new();
        for entry in fs::read_dir(Path::new(env!("CARGO_MANIFEST_DIR")).join("src/cli")).unwrap() {
            let text = fs::read_to_string(entry.unwrap().path()).unwrap();
            for (start, end, dashes) in [("Arg::Long(\"", '"', "--"), ("Arg::Short('", '\'', "-")] {
                let names = text.split(start).skip(1).filter_map(|rest| rest.split_once(end));
                options.extend(names.map(|(name, _)| format!("{dashes}{name}")));
            }
        }
        options.retain(|option| option.trim_start_matches('-').starts_with(char::is_alphabetic));
        options
    }

    fn takes(command: &str, option: &str) -> bool {
        let parsed = parse([command, option].map(OsString::from));
        parsed.err().is_none_or(|error| !error.to_string().starts_with("there is no option"))
    }

    #[test]
    fn the_help_tells_just_the_options_that_each_command_takes() {
        let (told, options) = (told(), options_in_source());
        assert!(options.len() > 20 && options.contains("--json") && options.contains("-o"), "{options:?}");
        for (command, _) in COMMANDS {
            let taken = options.iter().filter(|option| takes(command, option)).cloned().collect();
            assert_eq!(told.get(*command), Some(&taken), "{command}");
        }
    }

    #[test]
    fn the_help_names_every_command() {
        for (command, _) in COMMANDS {
            let line = format!("\nlongstow {command} ");
            assert!(HELP.contains(&line), "{command}");
        }
    }
}
