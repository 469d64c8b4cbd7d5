//! The arguments of the commands that write a document: `sheet` and `drawing`.

use super::Command;
use super::arguments::Arguments;
use super::drawing::{DrawingCommand, Wished};
use super::plan_args::state;
use super::plans::StateChoice;
use super::sheet::{Existing, SheetCommand, Target};
use super::table_options::decimal_named;
use super::usage::UsageError;
use crate::drawing::{DeckLook, Tiers};
use crate::report::sheet::Paper;
use crate::units::DecimalMark;
use lexopt::{Arg, ValueExt};
use std::ffi::OsString;
use std::path::PathBuf;

/// Reads the arguments of `longstow sheet`.
pub(super) fn sheet(args: &[OsString]) -> Result<Command, UsageError> {
    let given = Given::read("sheet", args)?;
    given.command(|given, plan, target| {
        Command::Sheet(SheetCommand {
            plan,
            paper: given.paper,
            state: given.state.map_or(StateChoice::All, StateChoice::One),
            made_at: given.made_at,
            target,
        })
    })
}

/// Reads the arguments of `longstow drawing`.
pub(super) fn drawing(args: &[OsString]) -> Result<Command, UsageError> {
    let given = Given::read("drawing", args)?;
    given.command(|given, plan, target| {
        let state = given.state.unwrap_or_default();
        Command::Drawing(DrawingCommand { plan, of: given.wished, state, target })
    })
}

struct Given {
    of: &'static str,
    plans: Vec<PathBuf>,
    file: Option<PathBuf>,
    existing: Existing,
    decimal: DecimalMark,
    paper: Paper,
    state: Option<usize>,
    made_at: Option<String>,
    wished: Wished,
    help: bool,
}

impl Given {
    fn read(of: &'static str, args: &[OsString]) -> Result<Self, UsageError> {
        let mut given = Self {
            of,
            plans: Vec::new(),
            file: None,
            existing: Existing::Keep,
            decimal: DecimalMark::Point,
            paper: Paper::A4,
            state: None,
            made_at: None,
            wished: Wished::TrainSide,
            help: false,
        };
        let mut arguments = Arguments::new(args);
        while let Some(arg) = arguments.next()? {
            match arg {
                Arg::Value(plan) => given.plans.push(plan.into()),
                Arg::Short('o') | Arg::Long("output") => given.file = Some(arguments.file("-o")?),
                Arg::Long("replace") => given.existing = Existing::Replace,
                Arg::Long("decimal") => given.decimal = decimal_named(arguments.only("--decimal")?)?,
                Arg::Long("state") => given.state = Some(state(arguments.only("--state")?, "--state")?),
                Arg::Long("paper") if of == "sheet" => given.paper = paper(arguments.only("--paper")?)?,
                Arg::Long("made") if of == "sheet" => {
                    given.made_at = Some(arguments.only("--made")?.string()?)
                }
                Arg::Long("of") if of == "drawing" => given.wished = wished(arguments.only("--of")?)?,
                Arg::Long("help") | Arg::Short('h') => given.help = true,
                other => return Err(UsageError::unknown(other, of)),
            }
        }
        Ok(given)
    }

    fn command(mut self, make: impl FnOnce(Self, PathBuf, Target) -> Command) -> Result<Command, UsageError> {
        if self.help {
            return Ok(Command::Help);
        }
        let mut plans = std::mem::take(&mut self.plans).into_iter();
        let (Some(plan), None, Some(file)) = (plans.next(), plans.next(), self.file.take()) else {
            return Err(UsageError::PlanAndFile { of: self.of });
        };
        let target = Target { file, existing: self.existing, decimal: self.decimal };
        Ok(make(self, plan, target))
    }
}

fn paper(value: OsString) -> Result<Paper, UsageError> {
    let given = value.to_string_lossy().to_lowercase();
    let named = Paper::ALL.into_iter().find(|paper| paper.name().to_lowercase() == given);
    named.ok_or_else(|| UsageError::bad(value, "--paper", "a4 or letter"))
}

/// `train-side`, `deck-plan`, `tier N`, or a rack such as `W03 rack 2`; a mark may have spaces itself.
fn wished(value: OsString) -> Result<Wished, UsageError> {
    let takes = "train-side, deck-plan, \"tier 1\", or a rack such as \"W03 rack 2\"";
    let text = value.to_str().unwrap_or_default().trim();
    let number = |text: &str| text.trim().parse::<u32>().ok().filter(|number| *number > 0);
    let found = match text {
        "train-side" => Some(Wished::TrainSide),
        "deck-plan" => Some(Wished::DeckPlan(DeckLook::default())),
        _ => match (text.strip_prefix("tier "), text.rsplit_once(" rack ")) {
            (Some(tier), None) => number(tier)
                .map(|tier| Wished::DeckPlan(DeckLook { tiers: Tiers::Only(tier), ..DeckLook::default() })),
            (_, Some((vehicle, rack))) => {
                number(rack).map(|rack| Wished::RackFace(vehicle.trim().to_owned(), rack))
            }
            (None, None) => None,
        },
    };
    found.ok_or_else(|| UsageError::bad(value, "--of", takes))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn args(line: &[&str]) -> Vec<OsString> {
        line.iter().map(OsString::from).collect()
    }

    fn target(file: &str) -> Target {
        Target { file: file.into(), existing: Existing::Keep, decimal: DecimalMark::Point }
    }

    fn refused(result: Result<Command, UsageError>, says: &str) {
        let message = result.unwrap_err().to_string();
        assert!(message.contains(says), "{message}");
    }

    #[test]
    fn a_sheet_has_a_plan_a_file_and_options_in_any_order() {
        let plain = SheetCommand {
            plan: "a".into(),
            paper: Paper::A4,
            state: StateChoice::All,
            made_at: None,
            target: target("b.pdf"),
        };
        assert_eq!(sheet(&args(&["a", "-o", "b.pdf"])), Ok(Command::Sheet(plain.clone())));
        let line = [
            "--paper=Letter",
            "--state",
            "3",
            "--made",
            "today",
            "-ob.pdf",
            "--decimal=comma",
            "a",
            "--replace",
        ];
        let full = SheetCommand {
            paper: Paper::Letter,
            state: StateChoice::One(3),
            made_at: Some("today".to_owned()),
            target: Target { existing: Existing::Replace, decimal: DecimalMark::Comma, ..target("b.pdf") },
            ..plain
        };
        assert_eq!(sheet(&args(&line)), Ok(Command::Sheet(full)));
    }

    #[test]
    fn a_drawing_is_of_the_side_the_deck_a_tier_or_a_rack() {
        let check = |of: &str, wished: Wished| {
            let expected = DrawingCommand { plan: "a".into(), of: wished, state: 0, target: target("b.svg") };
            assert_eq!(
                drawing(&args(&["a", "-o", "b.svg", "--of", of])),
                Ok(Command::Drawing(expected)),
                "{of}"
            );
        };
        check("train-side", Wished::TrainSide);
        check("deck-plan", Wished::DeckPlan(DeckLook::default()));
        check("tier 2", Wished::DeckPlan(DeckLook { tiers: Tiers::Only(2), ..DeckLook::default() }));
        check("W03 rack 2", Wished::RackFace("W03".to_owned(), 2));
        check("tier 9 rack 1", Wished::RackFace("tier 9".to_owned(), 1));
    }

    #[test]
    fn what_is_missing_or_cannot_be_is_named() {
        refused(
            sheet(&args(&["a"])),
            "sheet needs one plan and a file to write: longstow sheet PLAN -o FILE",
        );
        refused(sheet(&args(&["a", "b", "-o", "c"])), "one plan");
        refused(sheet(&args(&["a", "-o", ""])), "\"\" is no value for -o; give the name of a file");
        refused(drawing(&args(&["-o", "c"])), "longstow drawing PLAN -o FILE");
        refused(sheet(&args(&["a", "-o", "c", "--paper", "a3"])), "a4 or letter");
        refused(
            sheet(&args(&["a", "-o", "c", "--of", "deck-plan"])),
            "there is no option \"--of\" for sheet",
        );
        refused(
            drawing(&args(&["a", "-o", "c", "--paper", "a4"])),
            "there is no option \"--paper\" for drawing",
        );
        refused(drawing(&args(&["a", "-o", "c", "--of", "W03 rack 0"])), "W03 rack 2");
        assert_eq!(sheet(&args(&["--help"])), Ok(Command::Help));
    }
}
