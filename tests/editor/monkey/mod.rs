//! A monkey at the window: random clicks, drags, keys, wheel turns, menus and typed fields, each in its own frame,
//! and after every change of the plan the rules that must hold for all plans.
//!
//! `LONGSTOW_MONKEY` says how many inputs (120 unless it does), `LONGSTOW_SEED` replays one seed. How often the plan
//! changes and every kind of edit happens is only asked of a long run: CI plays 20,000 inputs, by
//! `LONGSTOW_MONKEY=20000 cargo test --config .ci/monkey.toml --test editor monkey -- --nocapture`.

mod dice;
mod forms;
mod gestures;
mod records;
mod scene;
mod seldom;

use crate::harness::{Editor, editor_for_any_words};
use crate::plans;
use dice::Dice;
use longstow::edit::Edit;
use longstow::gui::{Command, Request};
use longstow::model::{Plan, problems};
use longstow::statics::{Figures, Scope};
use std::collections::BTreeMap;
use std::sync::Arc;

/// Seeds of the two halves, which run beside each other.
const SEEDS: [u64; 2] = [20_251_125, 4_711];
/// A session ends after so many inputs, and the next begins with the plan of the first.
const SESSION: usize = 250;
/// All states are compared every so many changes of the plan.
const ALL_STATES: usize = 200;
/// From so many inputs on, a quarter of them must change the plan, and every kind of edit must happen often.
const LONG_RUN: usize = 20_000;
/// How often, in a long run.
const OFTEN: usize = 50;

/// Every edit that the window can make.
const KINDS: [&str; 37] = [
    "Place",
    "TakeOff",
    "Move",
    "SwapPockets",
    "SetHolds",
    "SetRestsOn",
    "SetLocked",
    "Strings",
    "Vehicles",
    "Turn",
    "VehicleTypes",
    "RackTypes",
    "Sections",
    "Steels",
    "Drops",
    "MoveStep",
    "SetTrainSettings",
    "SetRoute",
    "SetLimit",
    "AdoptLimits",
    "AcceptLimits",
    "SetNearShare",
    "Accept",
    "Unaccept",
    "RecordAsLoaded",
    "ConfirmAsPlanned",
    "RemoveAsLoaded",
    "AddWeighings",
    "ChangeWeighing",
    "RemoveWeighings",
    "Sign",
    "RemoveSignature",
    "SetOrderTable",
    "SetTitle",
    "SetNotes",
    "SetUnits",
    "Batch",
];

/// What a run came to.
#[derive(Debug, Default)]
struct Tally {
    inputs: usize,
    /// Inputs after which the plan was another.
    changing: usize,
    edits: BTreeMap<String, usize>,
}

#[test]
fn a_monkey_at_the_window_never_breaks_a_plan_first_half() {
    run_half(0);
}

#[test]
fn a_monkey_at_the_window_never_breaks_a_plan_second_half() {
    run_half(1);
}

fn number(name: &str) -> Option<u64> {
    std::env::var(name).ok().and_then(|text| text.parse().ok())
}

fn run_half(half: usize) {
    let wanted = number("LONGSTOW_MONKEY").unwrap_or(120) as usize;
    let seed = number("LONGSTOW_SEED").unwrap_or(SEEDS[half]);
    eprintln!("monkey: seed {seed}, {} inputs; LONGSTOW_SEED={seed} replays it", wanted / 2);
    let tally = run(seed, wanted / 2);
    eprintln!("{}", table(seed, &tally));
    if wanted < LONG_RUN {
        return;
    }
    assert!(
        4 * tally.changing >= tally.inputs,
        "{} of {} inputs changed the plan",
        tally.changing,
        tally.inputs
    );
    let count = |kind: &str| tally.edits.get(kind).copied().unwrap_or(0);
    let rare: Vec<(&str, usize)> =
        KINDS.iter().map(|kind| (*kind, count(kind))).filter(|(_, count)| 2 * count < OFTEN).collect();
    assert!(rare.is_empty(), "too rare, of {OFTEN} over both halves: {rare:?}");
}

/// Plays so many inputs.
fn run(seed: u64, wanted: usize) -> Tally {
    let mut dice = Dice::new(seed);
    let mut tally = Tally::default();
    let mut widgets = forms::Used::default();
    while tally.inputs < wanted {
        let mut session = editor_for_any_words(plan());
        for _ in 0..SESSION.min(wanted - tally.inputs) {
            tally.inputs += 1;
            let before = Moment::of(&session);
            let what = gestures::play(&mut session, &mut dice, &mut widgets);
            let trace = || format!("seed {seed}, input {}: {what}", tally.inputs);
            if before.plan != *session.state().document().plan() {
                tally.changing += 1;
                let all = tally.changing.is_multiple_of(ALL_STATES);
                expect_sound(&mut session, &before, if all { Scope::All } else { Scope::One(0) }, &trace());
            }
            if let Some(edit) = before.edit_since(&session) {
                count(&edit, &mut tally.edits);
            }
            if is_spent(session.state().document().plan()) {
                break;
            }
        }
    }
    tally
}

/// The plan before an input, how many edits there were, and how many steps of them stand.
struct Moment {
    plan: Arc<Plan>,
    edits: u64,
    steps: usize,
}

impl Moment {
    fn of(editor: &Editor) -> Self {
        let document = editor.state().document();
        let edits = document.last_edit().map_or(0, |(count, _)| count);
        Self { plan: Arc::clone(document.plan()), edits, steps: document.history().cursor() }
    }

    /// The last edit, where there was one since.
    fn edit_since(&self, editor: &Editor) -> Option<Edit> {
        let (count, edit) = editor.state().document().last_edit()?;
        (count > self.edits).then(|| edit.clone())
    }

    /// How many edits there were since.
    fn edits_since(&self, editor: &Editor) -> u64 {
        editor.state().document().last_edit().map_or(0, |(count, _)| count) - self.edits
    }
}

/// That the plan is sound, that a step back and forward gives it again, and that its figures are those of the plan.
fn expect_sound(editor: &mut Editor, before: &Moment, scope: Scope, trace: &str) {
    let after = Arc::clone(editor.state().document().plan());
    let found = problems(&after);
    assert!(found.is_empty(), "{trace}: {found:?}");
    let made = before.edits_since(editor);
    if made > 0 {
        editor.state_mut().ask(Request::Command(Command::Undo));
        let document = editor.state().document();
        let (back, steps) = (Arc::clone(document.plan()), document.history().cursor());
        assert_ne!(back, after, "{trace}: a step back changes nothing");
        // Not where a step was taken back and another made in one input.
        if made == 1 && steps == before.steps {
            assert_eq!(back, before.plan, "{trace}: a step back does not lead to the plan before");
        }
        editor.state_mut().ask(Request::Command(Command::Redo));
        assert_eq!(*editor.state().document().plan(), after, "{trace}: forward again leads elsewhere");
    }
    let (document, state) = (editor.state().document(), editor.state().state());
    let shown = document.figures();
    let one = Figures::of(Arc::clone(&after), Scope::One(state));
    assert_eq!(shown.state(state), one.state(state), "{trace}: stale figures of state {state}");
    if scope == Scope::All && document.is_settled() {
        let fresh = Figures::of(after, Scope::All);
        assert_eq!(shown.worked, fresh.worked, "{trace}: stale figures");
    }
}

/// Counts an edit, and those that it holds.
fn count(edit: &Edit, counts: &mut BTreeMap<String, usize>) {
    let name: String = format!("{edit:?}").chars().take_while(char::is_ascii_alphanumeric).collect();
    *counts.entry(name).or_default() += 1;
    if let Edit::Batch { edits, .. } = edit {
        edits.iter().for_each(|edit| count(edit, counts));
    }
}

/// Whether there is too little left to play with, or too much to be quick.
fn is_spent(plan: &Plan) -> bool {
    let (vehicles, strings) = (plan.train.vehicles.len(), plan.order.len());
    !(2..=7).contains(&vehicles) || !(4..=13).contains(&strings) || plan.train.rack_types.is_empty()
}

fn table(seed: u64, tally: &Tally) -> String {
    let mut lines = vec![format!(
        "monkey, seed {seed}: {} inputs, {} of them changed the plan ({:.0} %)",
        tally.inputs,
        tally.changing,
        100.0 * tally.changing as f64 / tally.inputs.max(1) as f64
    )];
    lines.extend(tally.edits.iter().map(|(kind, count)| format!("{count:>7}  {kind}")));
    let missing: Vec<&str> = KINDS.iter().filter(|kind| !tally.edits.contains_key(**kind)).copied().collect();
    lines.push(format!("never: {}", missing.join(", ")));
    lines.join("\n")
}

/// Four wagons and eight strings: two pairs and one alone on the train, three in the yard.
fn plan() -> Plan {
    let mut plan = plans::small();
    for (mark, length_mm, drop) in [("F", 20_500, 0), ("G", 36_000, 1), ("H", 36_000, 1)] {
        plans::order(&mut plan, mark, length_mm, drop);
    }
    for (mark, at) in [("G", (1, 1, 21_900)), ("H", (1, 6, 21_900))] {
        plans::lay(&mut plan, mark, at, ("W2", 2));
    }
    plan
}
