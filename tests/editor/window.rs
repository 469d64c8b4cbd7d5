//! The main job on sample (c), by mouse and keys, saved to a file; the real window must save the same.
//!
//! The job is done here without a display, and each move of the hand is noted as a line that the real-window
//! script replays at the same places of a window of the same size: the layout is the same. With
//! `LONGSTOW_WINDOW_MOVES` set the lines are written to that file, and with `LONGSTOW_WINDOW_RESULT` set the
//! plan that the real window saved there must equal the one saved here.

use crate::harness::rect_of;
use crate::noted_hands::{NotedHands, result_of_window};
use crate::plans;
use egui::{Key, Modifiers, vec2};
use egui_kittest::kittest::Queryable as _;
use longstow::format;
use longstow::gui::{Start, Workbench};
use longstow::model::Plan;
use longstow::statics::{Figures, Scope};
use std::path::Path;
use std::sync::Arc;

const STRING: &str = "N13 L";

/// Takes a string off, drags it from the yard list into another pocket and along the train, types its front
/// end, nudges it, undoes and redoes, steps through the states, and saves.
fn main_job(path: &Path) -> NotedHands {
    // As the program does: the plan is opened before the first frame.
    let mut workbench = Workbench::at_start(Start::default());
    workbench.open_path(path);
    let mut hands = NotedHands::on(workbench);
    hands.click("vehicle W11 in the train side");
    hands.click(&format!("tier 4 lane 2: {STRING}"));
    hands.key(Modifiers::NONE, Key::Delete, "Delete");
    assert_eq!(crate::harness::at(&hands.editor, STRING), None);

    let from = rect_of(&hands.editor, &format!("Yard string {STRING}")).center();
    let to = rect_of(&hands.editor, "tier 4 lane 3: empty").center();
    hands.drag(from, to);
    assert_eq!(crate::harness::at(&hands.editor, STRING), Some((4, 3, 200_000)), "where it lay before");

    let grip = rect_of(&hands.editor, &format!("string {STRING} in the train side")).center();
    hands.drag(grip, grip + vec2(25.0, 0.0));
    assert!(front_mm(&hands) > 210_000);

    hands.click_field("Front end at");
    hands.key(Modifiers::COMMAND, Key::A, "ctrl+a");
    hands.text("204.5");
    hands.key(Modifiers::NONE, Key::Enter, "Return");
    assert_eq!(front_mm(&hands), 204_500);

    hands.click(&format!("string {STRING} in the train side"));
    for _ in 0..3 {
        hands.key(Modifiers::NONE, Key::ArrowRight, "Right");
    }
    hands.key(Modifiers::COMMAND, Key::ArrowLeft, "ctrl+Left");
    assert_eq!(front_mm(&hands), 204_529);
    hands.key(Modifiers::COMMAND, Key::Z, "ctrl+z");
    assert_eq!(front_mm(&hands), 204_530);
    hands.key(Modifiers::COMMAND | Modifiers::SHIFT, Key::Z, "ctrl+shift+z");

    for (key, name) in [(Key::CloseBracket, "bracketright"), (Key::OpenBracket, "bracketleft")] {
        for _ in 0..3 {
            hands.key(Modifiers::NONE, key, name);
        }
    }
    assert_eq!(hands.editor.state().state(), 0);
    hands.key(Modifiers::COMMAND, Key::S, "ctrl+s");
    assert!(hands.editor.query_by_label("Save").is_none(), "no question was left open");
    hands
}

fn front_mm(hands: &NotedHands) -> i64 {
    crate::harness::at(&hands.editor, STRING).unwrap().2
}

fn sample() -> Vec<u8> {
    std::fs::read(Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-loads/c-two-sites.longstow")).unwrap()
}

fn figures(plan: &Plan) -> Figures {
    Figures::of(Arc::new(plan.clone()), Scope::All)
}

/// That `plan` is the sample with just the job done.
fn expect_done(plan: &Plan) {
    let before = format::read(&sample()).unwrap();
    let placement = plan.placement(&plans::mark(STRING)).unwrap();
    assert_eq!((placement.tier, placement.lane, placement.front.mm()), (4, 3, 204_529));
    assert_eq!(placement.holds.len(), 1, "the proposed hold");
    let others = |plan: &Plan| -> Vec<_> {
        let others = plan.placements.iter().filter(|other| other.string.as_str() != STRING);
        others.cloned().collect()
    };
    assert_eq!(others(plan), others(&before), "nothing else moved");
    assert_ne!(figures(plan).worked, figures(&before).worked);
}

#[test]
fn window_saved() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("c-two-sites.longstow");
    std::fs::write(&path, sample()).unwrap();
    let hands = main_job(&path);
    let saved = std::fs::read(&path).unwrap();
    let plan = format::read(&saved).unwrap();
    expect_done(&plan);
    let shown = hands.editor.state().document().figures();
    assert_eq!(shown.worked, figures(&plan).worked, "the window shows the figures of what it saved");
    hands.keep();
    if let Some(result) = result_of_window() {
        let of_window = format::read(&result).unwrap();
        expect_done(&of_window);
        assert_eq!(
            figures(&of_window).worked,
            figures(&plan).worked,
            "the real window comes to other figures"
        );
        assert_eq!(of_window, plan, "the real window saved another plan");
    }
}
