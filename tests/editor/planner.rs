//! The planner's work on sample (c), from the file to the file: once by the mouse alone, once by keys alone.
//!
//! A pair is taken off and put into other pockets, moved on from pocket to pocket and along the train, held at
//! another rack; a step comes earlier, the states are stepped through, the worst finding is read, the last
//! change undone and made again, and the plan saved. Nothing here asks the window for anything directly.

use crate::hands::{Keyboard, Mouse};
use crate::harness::{Editor, at, editor_with, placement, rect_of};
use crate::plans::{held_at, mark};
use egui::{Key, Modifiers, Role, vec2};
use egui_kittest::kittest::Queryable as _;
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
/// The middle rack of the eleventh wagon, which comes after ten wagons with three racks each.
const W11_RACK_2: usize = 31;

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
    // The work done leaves an end just at the least overhang; it and the rack it overhangs are in sight.
    assert_eq!(
        (key.check, key.things.as_slice()),
        ("least-overhang", &[format!("string {LEFT}"), "front end".to_owned()][..])
    );
    let selected: Vec<&str> = workbench.selection().strings.iter().map(StringMark::as_str).collect();
    assert_eq!(selected, [LEFT]);
    let rack = workbench.selection().rack;
    assert_eq!(workbench.document().figures().consist.racks[rack].x.mm(), 201_333);
    let view = rect_of(editor, "train side");
    for thing in [format!("string {LEFT}"), "W10 rack 1".to_owned()] {
        assert!(view.intersects(rect_of(editor, &format!("{thing} in the train side"))), "{thing}");
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

/// Moves the pair to other pockets, holds one at another rack, and drags the other along the train.
fn arrange(mouse: &mut Mouse) {
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

    // Along the train, alone and close by: it catches where its front end passes W10 rack 1 by the least overhang.
    mouse.click(&format!("tier 4 lane 3: {LEFT}"));
    mouse.click("Pairs move as one");
    mouse.menu("View", "Zoom to the selection*");
    let string = rect_of(&mouse.0, &format!("string {LEFT} in the train side"));
    let points_per_mm = string.width() / 36_000.0;
    mouse.drag(string.center(), string.center() + vec2(833.0 * points_per_mm - 3.0, 0.0));
    assert_eq!(at(&mouse.0, LEFT), Some((4, 3, 200_833)));
}

#[test]
fn the_planners_work_is_done_with_the_mouse_alone() {
    let (editor, path, _folder) = opened();
    let mut mouse = Mouse(editor);
    arrange(&mut mouse);
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

/// Takes the pair off the train, at the rack face of W11 rack 2.
fn take_pair_off(keys: &mut Keyboard) {
    // To the pockets of W11 rack 2, then from the first pocket up to the strings of the fourth tier.
    let rack = |keys: &Keyboard| keys.0.state().selection().rack;
    let key = if rack(keys) < W11_RACK_2 { Key::PageDown } else { Key::PageUp };
    keys.times(rack(keys).abs_diff(W11_RACK_2), key);
    keys.press(Key::F3);
    keys.expect_focus("tier 1 lane 1: S01 L");
    keys.times(3, Key::ArrowUp);
    keys.press(Key::ArrowRight);
    keys.expect_focus(&format!("tier 4 lane 2: {LEFT}"));
    keys.press(Key::Delete);
    keys.times(5, Key::ArrowRight);
    keys.expect_focus(&format!("tier 4 lane 7: {RIGHT}"));
    keys.press(Key::Delete);
    assert_eq!((at(&keys.0, LEFT), at(&keys.0, RIGHT)), (None, None));
}

/// Puts both from the yard list into pockets, and one on into the next.
fn put_pair_into_pockets(keys: &mut Keyboard) {
    // Space chooses in the yard list, Enter on an empty pocket puts there what is chosen.
    keys.press(Key::F1);
    keys.expect_focus(&format!("Yard string {LEFT}"));
    keys.press(Key::Space);
    let chosen = |keys: &Keyboard| keys.0.state().selection().strings.len();
    keys.press(Key::Tab);
    keys.expect_focus(&format!("Yard string {RIGHT}"));
    keys.press(Key::Space);
    assert_eq!(chosen(keys), 2);
    keys.press(Key::Space);
    assert_eq!((chosen(keys), at(&keys.0, LEFT)), (1, None), "chosen, not placed");
    keys.press(Key::F3);
    keys.expect_focus("tier 1 lane 1: S01 L");
    keys.times(3, Key::ArrowUp);
    keys.times(2, Key::ArrowRight);
    keys.expect_focus("tier 4 lane 3: empty");
    keys.press(Key::Enter);
    assert_eq!(at(&keys.0, LEFT), Some((4, 3, 200_000)));
    keys.press(Key::F1);
    keys.expect_focus(&format!("Yard string {RIGHT}"));
    keys.press(Key::Space);
    keys.press(Key::F3);
    keys.times(3, Key::ArrowUp);
    keys.times(4, Key::ArrowRight);
    keys.press(Key::Enter);
    assert_eq!(at(&keys.0, RIGHT), Some((4, 5, 200_000)));
    // From pocket to pocket: it is still chosen, so that the arrow takes it along.
    keys.press(Key::ArrowRight);
    assert_eq!(at(&keys.0, RIGHT), Some((4, 6, 200_000)));
}

/// Holds one of the pair at another rack and sets the other along the train.
fn hold_and_set(keys: &mut Keyboard) {
    // The hold of the one that stays, by its list in the details.
    assert_eq!(placement(&keys.0, RIGHT).unwrap().holds, [held_at("W10", 2)], "as proposed");
    keys.press(Key::F7);
    keys.expect_focus("Front end at");
    keys.tab_to("Held at");
    keys.press(Key::Enter);
    keys.0.run_steps(3);
    keys.expect_focus("W10 rack 2");
    keys.press(Key::ArrowDown);
    keys.press(Key::Enter);
    assert_eq!(placement(&keys.0, RIGHT).unwrap().holds, [held_at("W11", 2)]);

    // Space lets go of it, so that the arrows go to the other, which is then set and nudged along the train.
    keys.press(Key::F3);
    keys.expect_focus(&format!("tier 4 lane 6: {RIGHT}"));
    keys.press(Key::Space);
    keys.times(3, Key::ArrowLeft);
    keys.press(Key::Enter);
    // Alone, not as one with its pair.
    keys.press(Key::P);
    keys.press(Key::F7);
    keys.types("200.82");
    keys.press(Key::Enter);
    keys.press(Key::F2);
    keys.expect_focus(&format!("string {LEFT} in the train side"));
    keys.press(Key::ArrowRight);
    (0..3).for_each(|_| keys.press_with(Modifiers::COMMAND, Key::ArrowRight));
    assert_eq!(at(&keys.0, LEFT), Some((4, 3, 200_833)));
}

/// Has the pair's step come earlier, parts and pairs it again.
fn reorder_and_pair(keys: &mut Keyboard) {
    // The steps: one comes earlier, its pair is parted and made again; the keyboard stays with what it works on.
    keys.press(Key::F4);
    keys.tab_to("Drops");
    keys.press(Key::Enter);
    keys.tab_to("Move step 3 up");
    keys.press(Key::Enter);
    keys.expect_focus("Move step 2 up");
    keys.press(Key::Enter);
    keys.expect_focus("Move step 1 down");
    keys.press(Key::Enter);
    keys.expect_focus("Move step 2 down");
    assert_eq!(first_steps(keys.0.state().document().plan())[1], ["N13 L", "N13 R"]);
    keys.tab_to("Part the pair of step 2");
    keys.press(Key::Enter);
    assert_eq!(first_steps(keys.0.state().document().plan())[1..3], [["N13 L"], ["N13 R"]]);
    keys.expect_focus("Pair step 2 with the next");
    keys.press(Key::Enter);
    keys.tab_to("Step 2 leaves together");
    keys.press(Key::Space);
}

#[test]
fn the_planners_work_is_done_by_keys_alone() {
    let (editor, path, _folder) = opened();
    let mut keys = Keyboard(editor);
    take_pair_off(&mut keys);
    put_pair_into_pockets(&mut keys);
    hold_and_set(&mut keys);
    reorder_and_pair(&mut keys);

    keys.press(Key::F6);
    for (key, states) in [(Key::CloseBracket, [1, 2, 3]), (Key::OpenBracket, [2, 1, 0])] {
        for state in states {
            keys.press(key);
            assert_eq!(keys.0.state().state(), state);
        }
    }
    let (finding, label) = worst(&keys.0);
    keys.press(Key::F5);
    keys.expect_focus(&label);
    keys.press(Key::Enter);
    expect_shown(&keys.0, &finding);

    let plan = Arc::clone(keys.0.state().document().plan());
    keys.press_with(Modifiers::COMMAND, Key::Z);
    assert_ne!(plan.drops, keys.0.state().document().plan().drops);
    keys.press_with(Modifiers::COMMAND | Modifiers::SHIFT, Key::Z);
    assert_eq!(plan, *keys.0.state().document().plan());
    keys.press_with(Modifiers::COMMAND, Key::S);
    expect_saved(&keys.0, &path);
}
