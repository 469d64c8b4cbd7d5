//! The main job on sample (c), by mouse and keys, saved to a file; the real window must save the same.
//!
//! The job is done here without a display, and each move of the hand is noted as a line that the real-window
//! script replays at the same places of a window of the same size: the layout is the same. With
//! `LONGSTOW_WINDOW_MOVES` set the lines are written to that file, and with `LONGSTOW_WINDOW_RESULT` set the
//! plan that the real window saved there must equal the one saved here.

use crate::harness::{Editor, editor_with, rect_of};
use crate::plans;
use egui::{Event, Key, Modifiers, Pos2, vec2};
use egui_kittest::kittest::Queryable as _;
use longstow::format;
use longstow::gui::{Start, Workbench};
use longstow::model::Plan;
use longstow::statics::{Figures, Scope};
use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::sync::Arc;

const STRING: &str = "N13 L";

/// Hands that work in the editor and note what they do.
struct Hands {
    editor: Editor,
    moves: String,
}

impl Hands {
    fn click(&mut self, label: &str) {
        self.click_at(rect_of(&self.editor, label).center());
    }

    fn click_field(&mut self, name: &str) {
        self.click_at(self.editor.get_by_role_and_label(egui::Role::TextInput, name).rect().center());
    }

    fn click_at(&mut self, at: Pos2) {
        self.note(&format!("click {} {}", at.x.round(), at.y.round()));
        for pressed in [true, false] {
            self.editor.event(Event::PointerMoved(at.round()));
            self.button(at.round(), pressed);
            self.editor.run_steps(2);
        }
        self.editor.run_steps(30);
    }

    fn drag(&mut self, from: Pos2, to: Pos2) {
        let (from, to) = (from.round(), to.round());
        self.note(&format!("drag {} {} {} {}", from.x, from.y, to.x, to.y));
        self.editor.event(Event::PointerMoved(from));
        self.editor.run_steps(2);
        self.button(from, true);
        for step in 1..=8_u8 {
            self.editor.event(Event::PointerMoved(from + (to - from) * (f32::from(step) / 8.0)));
            self.editor.run_steps(2);
        }
        self.button(to, false);
        self.editor.run_steps(4);
    }

    fn button(&mut self, pos: Pos2, pressed: bool) {
        let modifiers = Modifiers::NONE;
        self.editor.event(Event::PointerButton {
            pos,
            button: egui::PointerButton::Primary,
            pressed,
            modifiers,
        });
    }

    fn key(&mut self, modifiers: Modifiers, key: Key, name: &str) {
        self.note(&format!("key {name}"));
        self.editor.key_press_modifiers(modifiers, key);
        self.editor.run_steps(3);
    }

    fn text(&mut self, text: &str) {
        self.note(&format!("type {text}"));
        self.editor.event(Event::Text(text.to_owned()));
        self.editor.run_steps(3);
    }

    fn note(&mut self, line: &str) {
        writeln!(self.moves, "{line}").unwrap();
    }

    fn front_mm(&self) -> i64 {
        crate::harness::at(&self.editor, STRING).unwrap().2
    }
}

/// Takes a string off, drags it from the yard list into another pocket and along the train, types its front
/// end, nudges it, undoes and redoes, steps through the states, and saves.
fn main_job(path: &Path) -> Hands {
    // As the program does: the plan is opened before the first frame.
    let mut workbench = Workbench::at_start(Start::default());
    workbench.open_path(path);
    let mut hands = Hands { editor: editor_with(workbench, vec2(1280.0, 800.0)), moves: String::new() };
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
    assert!(hands.front_mm() > 210_000);

    hands.click_field("Front end at");
    hands.key(Modifiers::COMMAND, Key::A, "ctrl+a");
    hands.text("204.5");
    hands.key(Modifiers::NONE, Key::Enter, "Return");
    assert_eq!(hands.front_mm(), 204_500);

    hands.click(&format!("string {STRING} in the train side"));
    for _ in 0..3 {
        hands.key(Modifiers::NONE, Key::ArrowRight, "Right");
    }
    hands.key(Modifiers::COMMAND, Key::ArrowLeft, "ctrl+Left");
    assert_eq!(hands.front_mm(), 204_529);
    hands.key(Modifiers::COMMAND, Key::Z, "ctrl+z");
    assert_eq!(hands.front_mm(), 204_530);
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
    if let Some(moves) = std::env::var_os("LONGSTOW_WINDOW_MOVES") {
        std::fs::write(PathBuf::from(moves), &hands.moves).unwrap();
    }
    if let Some(result) = std::env::var_os("LONGSTOW_WINDOW_RESULT") {
        let of_window = format::read(&std::fs::read(PathBuf::from(result)).unwrap()).unwrap();
        expect_done(&of_window);
        assert_eq!(
            figures(&of_window).worked,
            figures(&plan).worked,
            "the real window comes to other figures"
        );
        assert_eq!(of_window, plan, "the real window saved another plan");
    }
}
