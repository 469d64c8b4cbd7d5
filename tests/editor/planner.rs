//! The planner's work on sample (c), from the file to the file: once by the mouse alone, once by keys alone.
//!
//! A pair is taken off and put into other pockets, moved on from pocket to pocket and along the train, held at
//! another rack; a step comes earlier, the states are stepped through, the worst finding is read, the last
//! change undone and made again, and the plan saved. Nothing here asks the window for anything directly.

use crate::harness::{Editor, at, editor_with, placement, rect_of};
use crate::plans::{held_at, mark};
use egui::{Event, Modifiers, Pos2, Rect, Role, vec2};
use egui_kittest::kittest::{AccessKitNode, Queryable as _};
use longstow::format;
use longstow::gui::{FindingKey, Start, Workbench};
use longstow::model::{Plan, StringMark};
use longstow::statics::{Figures, Scope};
use longstow::units::{Quantity, Style};
use std::path::PathBuf;
use std::sync::Arc;
use tempfile::TempDir;

const LEFT: &str = "N13 L";
const RIGHT: &str = "N13 R";

/// The sample in a folder of its own, opened as the program does it.
fn opened() -> (Editor, PathBuf, TempDir) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("c-two-sites.longstow");
    std::fs::write(&path, sample()).unwrap();
    let mut workbench = Workbench::at_start(Start::default());
    workbench.open_path(&path);
    (editor_with(workbench, vec2(1280.0, 800.0)), path, folder)
}

fn sample() -> String {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-loads/c-two-sites.longstow");
    std::fs::read_to_string(path).unwrap()
}

/// The strings of the first steps of the first drop.
fn first_steps(plan: &Plan) -> Vec<Vec<&str>> {
    let steps = plan.drops[0].steps.iter().take(4);
    steps.map(|step| step.strings.marks().map(StringMark::as_str).collect()).collect()
}

/// The worst finding of the list, and the label of its row.
fn worst(editor: &Editor) -> (FindingKey, String) {
    let document = editor.state().document();
    let worst = document.assessment().findings.iter().min_by_key(|finding| finding.outcome).unwrap();
    let place = worst.subject.place(document.figures());
    (FindingKey::of(worst), format!("{}: {}, {place}", worst.outcome.word(), worst.check.title))
}

/// That the worst finding is told in full, and that its place is the one shown.
fn expect_shown(editor: &Editor, key: &FindingKey) {
    let workbench = editor.state();
    assert_eq!(workbench.selection().finding.as_ref(), Some(key));
    let findings = &workbench.document().assessment().findings;
    let finding = findings.iter().find(|finding| key.is_of(finding)).unwrap();
    let words = finding.what.show(Style::default());
    assert!(editor.query_all_by_label(&words).next().is_some(), "not told: {words}");
    assert_eq!(finding.state.unwrap_or(workbench.state()), workbench.state());
    let order = &workbench.document().plan().order;
    let selected: Vec<&str> = workbench.selection().strings.iter().map(StringMark::as_str).collect();
    let named: Vec<&str> = order.iter().map(|string| string.mark.as_str()).collect();
    for thing in key.things.iter().filter(|thing| named.contains(&thing.as_str())) {
        assert!(selected.contains(&thing.as_str()), "{thing} not among {selected:?}");
    }
}

/// That the saved file holds the work done and nothing else, and that the window shows its figures.
fn expect_saved(editor: &Editor, path: &std::path::Path) {
    let before = format::read(sample().as_bytes()).unwrap();
    let saved = format::read(&std::fs::read(path).unwrap()).unwrap();
    let lies = |mark_of: &str| {
        let placement = saved.placement(&mark(mark_of)).unwrap();
        (placement.tier, placement.lane, placement.front.mm(), placement.holds.clone())
    };
    assert_eq!(lies(LEFT), (4, 3, 200_833, vec![held_at("W10", 2)]));
    assert_eq!(lies(RIGHT), (4, 6, 200_000, vec![held_at("W11", 2)]));
    assert_eq!(
        first_steps(&saved),
        [["N11 L", "N11 R"], ["N13 L", "N13 R"], ["N10 L", "N10 R"], ["N12 L", "N12 R"]]
    );
    let mut others = before.clone();
    others.drops[0].steps.swap(1, 2);
    others.placements = saved.placements.clone();
    assert_eq!(others, saved, "nothing but placements and that step changed");
    for placement in before.placements.iter().filter(|one| ![LEFT, RIGHT].contains(&one.string.as_str())) {
        assert_eq!(saved.placement(&placement.string), Some(placement), "nothing else moved");
    }
    let workbench = editor.state();
    assert!(!workbench.document().is_touched() && workbench.dialog().is_none());
    let fresh = Figures::of(Arc::new(saved), Scope::All);
    assert_eq!(workbench.document().figures().worked, fresh.worked);
    // The load of the rack in the rack face, as it stands on the screen.
    let rack = workbench.selection().rack;
    let load = Quantity::mass(fresh.state(workbench.state()).unwrap().rack_kg(rack)).show(Style::default());
    assert!(editor.query_all_by_label(&load).next().is_some(), "{load} is nowhere on the screen");
    let place = fresh.consist.racks[rack].x;
    let place = Quantity::length(place).show(Style::default());
    assert!(editor.query_all_by_label(&place).next().is_some(), "{place} is nowhere on the screen");
}

/// A hand on the mouse: it moves, presses and lets go, and knows nothing else.
struct Mouse(Editor);

impl Mouse {
    fn moved(&mut self, to: Pos2) {
        self.0.event(Event::PointerMoved(to));
        self.0.step();
    }

    fn button(&mut self, pos: Pos2, pressed: bool) {
        let (button, modifiers) = (egui::PointerButton::Primary, Modifiers::NONE);
        self.0.event(Event::PointerButton { pos, button, pressed, modifiers });
        self.0.step();
    }

    fn click_at(&mut self, at: Pos2) {
        assert!(self.0.ctx.content_rect().contains(at), "{at} lies outside the window");
        self.moved(at);
        self.button(at, true);
        self.button(at, false);
        // A list or menu takes a few frames to open or close.
        self.0.run_steps(4);
    }

    fn click(&mut self, label: &str) {
        let at = rect_of(&self.0, label).center();
        self.click_at(at);
    }

    /// Clicks the one thing of this kind that is named so, or whose name begins so where `label` ends with `*`.
    fn click_on(&mut self, role: Role, label: &str) {
        let at = self.0.get_by(|node| is_named(node, role, label)).rect().center();
        self.click_at(at);
    }

    /// Opens a menu and clicks its line, not a button of the same name elsewhere.
    fn menu(&mut self, menu: &str, line: &str) {
        let lines = |editor: &Editor| -> Vec<Rect> {
            editor.query_all_by(|node| is_named(node, Role::Button, line)).map(|node| node.rect()).collect()
        };
        let before = lines(&self.0);
        self.click_on(Role::Button, menu);
        let mut opened = lines(&self.0);
        opened.retain(|rect| !before.contains(rect));
        let [line] = opened.as_slice() else { panic!("{menu}, {line}: {opened:?}") };
        self.click_at(line.center());
    }

    fn drag(&mut self, from: Pos2, to: Pos2) {
        self.moved(from);
        self.button(from, true);
        for step in 1..=6_u8 {
            self.moved(from + (to - from) * (f32::from(step) / 6.0));
        }
        self.moved(to);
        self.button(to, false);
        self.0.run_steps(2);
    }

    fn drag_onto(&mut self, from: &str, to: &str) {
        let (from, to) = (rect_of(&self.0, from).center(), rect_of(&self.0, to).center());
        self.drag(from, to);
    }
}

fn is_named(node: &AccessKitNode<'_>, role: Role, label: &str) -> bool {
    let name = node.label().unwrap_or_default();
    node.role() == role
        && match label.strip_suffix('*') {
            Some(begin) => name.starts_with(begin),
            None => name == label,
        }
}

#[test]
fn the_planners_work_is_done_with_the_mouse_alone() {
    let (editor, path, _folder) = opened();
    let mut mouse = Mouse(editor);
    mouse.click("vehicle W11 in the train side");
    for (lane, string) in [(2, LEFT), (7, RIGHT)] {
        mouse.click(&format!("tier 4 lane {lane}: {string}"));
        mouse.menu("Edit", "Take off the train*");
        assert_eq!(at(&mouse.0, string), None);
    }
    mouse.drag_onto(&format!("Yard string {LEFT}"), "tier 4 lane 3: empty");
    mouse.drag_onto(&format!("Yard string {RIGHT}"), "tier 4 lane 5: empty");
    assert_eq!(at(&mouse.0, LEFT), Some((4, 3, 200_000)));
    assert_eq!(at(&mouse.0, RIGHT), Some((4, 5, 200_000)));
    mouse.drag_onto(&format!("tier 4 lane 5: {RIGHT}"), "tier 4 lane 6: empty");
    assert_eq!(at(&mouse.0, RIGHT), Some((4, 6, 200_000)), "it keeps its front end");

    // The hold of the one that stays, by its list.
    mouse.click(&format!("tier 4 lane 6: {RIGHT}"));
    assert_eq!(placement(&mouse.0, RIGHT).unwrap().holds, [held_at("W10", 2)], "as proposed");
    mouse.click_on(Role::ComboBox, "Held at");
    mouse.click_on(Role::Button, "W11 rack 2");
    assert_eq!(placement(&mouse.0, RIGHT).unwrap().holds, [held_at("W11", 2)]);

    // Along the train, close by: it catches where its front end passes W10 rack 1 by the least overhang.
    mouse.click(&format!("tier 4 lane 3: {LEFT}"));
    mouse.menu("View", "Zoom to the selection*");
    let string = rect_of(&mouse.0, &format!("string {LEFT} in the train side"));
    let points_per_mm = string.width() / 36_000.0;
    mouse.drag(string.center(), string.center() + vec2(833.0 * points_per_mm - 3.0, 0.0));
    assert_eq!(at(&mouse.0, LEFT), Some((4, 3, 200_833)));

    mouse.click_on(Role::Button, "Drops");
    mouse.click("Move step 3 up");
    assert_eq!(first_steps(mouse.0.state().document().plan())[1], ["N13 L", "N13 R"]);
    mouse.click_on(Role::Button, "Vehicles");

    for (button, states) in [("State after", [1, 2, 3]), ("State before", [2, 1, 0])] {
        for state in states {
            mouse.click(button);
            assert_eq!(mouse.0.state().state(), state);
        }
    }
    let (key, label) = worst(&mouse.0);
    mouse.click(&label);
    expect_shown(&mouse.0, &key);

    mouse.menu("Edit", "Undo: *");
    assert_eq!(first_steps(mouse.0.state().document().plan())[1], ["N10 L", "N10 R"]);
    mouse.menu("Edit", "Redo: *");
    mouse.menu("File", "Save Ctrl+S");
    expect_saved(&mouse.0, &path);
}
