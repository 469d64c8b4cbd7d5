//! Comparing by mouse and by keys: with the plan as saved, with another plan, with another state.

use crate::harness::{Editor, editor, editor_of_size, focus, focused, key, keys, rect_of, shot};
use crate::plans;
use egui::{Key, Modifiers, Role, vec2};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use longstow::edit::{Edit, Move};
use longstow::format;
use longstow::gui::{Dialog, Outside, Purpose, Request};
use longstow::model::{Plan, StringMark};
use longstow::units::Length;

/// The small plan with C so far back and one tier higher.
fn moved(by_mm: i64) -> Edit {
    let plan = plans::small();
    let placed = plan.placement(&mark("C")).unwrap();
    let front = placed.front + Length::from_mm(by_mm);
    Edit::Move { moves: vec![Move { string: mark("C"), tier: placed.tier + 1, lane: placed.lane, front }] }
}

fn mark(text: &str) -> StringMark {
    plans::mark(text)
}

/// Opens the view by its key.
fn open(editor: &mut Editor) {
    keys(editor, Modifiers::COMMAND, Key::Num6);
    editor.run_steps(2);
}

fn ask(editor: &mut Editor, request: Request) {
    editor.state_mut().ask(request);
    editor.run_steps(3);
}

/// Compares with `plan` from a file called `other.longstow`.
fn compare_with(editor: &mut Editor, plan: &Plan) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("other.longstow");
    std::fs::write(&path, format::write(plan)).unwrap();
    editor.get_by_label("compare with another plan").click();
    editor.run_steps(3);
    let outside = editor.state_mut().take_outside();
    assert!(
        matches!(outside.as_slice(), [Outside::AskPath { purpose: Purpose::Compare, .. }]),
        "{outside:?}"
    );
    editor.state_mut().path_chosen(Some(path));
    editor.run_steps(4);
}

fn seen(editor: &Editor, words: &str) -> bool {
    editor.query_all_by_label_contains(words).next().is_some()
}

#[test]
fn what_was_changed_since_saving_is_listed_and_leads_to_its_string() {
    let mut editor = editor(plans::small());
    open(&mut editor);
    assert!(seen(&editor, "Nothing differs"));
    ask(&mut editor, Request::Edit(moved(500)));
    let row = "string C, front end: 3.017 m before, 3.517 m now, +0.500 m";
    let node = editor.get_by_label(row);
    assert_eq!(node.accesskit_node().role(), Role::Button);
    node.click();
    editor.run_steps(3);
    assert_eq!(editor.state().selection().only_string(), Some(&mark("C")));
    shot(&mut editor, "compare-saved");
    keys(&mut editor, Modifiers::COMMAND, Key::Z);
    editor.run_steps(3);
    assert!(seen(&editor, "Nothing differs"), "undone, it is as it was saved");
}

#[test]
fn the_drawing_holds_a_node_for_each_string_that_differs_around_both_of_its_places() {
    let mut editor = editor(plans::small());
    open(&mut editor);
    ask(&mut editor, Request::Edit(moved(500)));
    let take_off = Edit::TakeOff { strings: vec![mark("A")] };
    ask(&mut editor, Request::Edit(take_off));
    for (name, chosen) in [("string C differs", "C"), ("string A goes", "A")] {
        let name = format!("{name}, in the comparison");
        let node = editor.get_by_label(&name);
        let rect = node.rect();
        assert!(rect.width() > 50.0 && rect.height() >= 4.0, "{rect}");
        let words = node.accesskit_node().data().description().unwrap().to_owned();
        assert!(words.contains(" before, "), "{words}");
        editor.hover_at(rect.center());
        editor.run_steps(2);
        editor.drag_at(rect.center());
        editor.drop_at(rect.center());
        editor.run_steps(2);
        assert_eq!(editor.state().selection().only_string(), Some(&mark(chosen)));
    }
    assert!(editor.query_by_label("string B stays, in the comparison").is_none());
}

#[test]
fn another_plan_is_chosen_and_compared_by_keys_alone() {
    let mut other = plans::small();
    other = moved(-200).apply(&other).unwrap().plan;
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("other.longstow");
    std::fs::write(&path, format::write(&other)).unwrap();
    let mut editor = editor(plans::small());
    open(&mut editor);
    focus(&mut editor, "compare with another plan");
    key(&mut editor, Key::Enter);
    // No file dialog is to be had here, so the path is typed.
    editor.state_mut().take_outside();
    editor.state_mut().no_file_dialog();
    editor.run_steps(3);
    editor.event(egui::Event::Text(path.display().to_string()));
    key(&mut editor, Key::Enter);
    editor.run_steps(4);
    assert!(seen(&editor, "other.longstow"));
    let row = "string C, front end: 2.817 m before, 3.017 m now, +0.200 m";
    focus(&mut editor, row);
    key(&mut editor, Key::Enter);
    assert_eq!(editor.state().selection().only_string(), Some(&mark("C")));
    key(&mut editor, Key::Tab);
    assert!(focused(&editor).is_some_and(|name| name != row), "Tab goes on to the next row");
}

#[test]
fn a_file_that_is_no_plan_is_told_and_nothing_is_compared() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("other.longstow");
    std::fs::write(&path, "no plan").unwrap();
    let mut editor = editor(plans::small());
    ask(&mut editor, Request::ChoosePlanToCompare);
    editor.state_mut().path_chosen(Some(path));
    editor.run_steps(3);
    assert!(matches!(editor.state().dialog(), Some(Dialog::Failed { .. })));
    key(&mut editor, Key::Escape);
    open(&mut editor);
    assert!(seen(&editor, "Nothing differs"));
}

#[test]
fn verdicts_that_turned_come_first_and_a_mended_one_leads_to_its_string_too() {
    // A and B end on the first rack of W3 without any overhang: half a metre farther back they keep the limit.
    let plan = plans::small();
    let shifts = ["A", "B"].map(|name| {
        let placed = plan.placement(&mark(name)).unwrap();
        let front = placed.front + Length::from_mm(500);
        Move { string: mark(name), tier: placed.tier, lane: placed.lane, front }
    });
    let mut editor = editor(plan.clone());
    open(&mut editor);
    ask(&mut editor, Request::Edit(Edit::Move { moves: shifts.to_vec() }));
    let mended = "Least overhang: string A, rear end:";
    let row = editor.get_by_label_contains(mended);
    row.click();
    editor.run_steps(3);
    assert_eq!(editor.state().selection().only_string(), Some(&mark("A")));
    shot(&mut editor, "compare-mended");
}

#[test]
fn the_state_shown_is_compared_with_another_one_and_follows_the_strip() {
    let mut editor = editor(plans::small());
    open(&mut editor);
    editor.get_by_label("compare with another state").click();
    editor.run_steps(3);
    assert!(seen(&editor, "Nothing differs"), "departure with itself");
    key(&mut editor, Key::CloseBracket);
    editor.run_steps(3);
    assert_eq!(editor.state().state(), 1);
    assert!(seen(&editor, "string A, on the train: tier"));
    assert!(seen(&editor, "string A goes, in the comparison"));
    let figure = editor.get_all_by_label_contains("left and right wheels: ").next().unwrap();
    figure.click();
    editor.run_steps(3);
    assert_eq!(editor.state().state(), 1, "choosing a row leaves what is compared");
}

#[test]
fn a_long_list_unfolds_and_stays_within_the_window() {
    let mut editor = editor_of_size(plans::long(), 1280.0, 800.0);
    open(&mut editor);
    let strings = (1..=20).map(|n| mark(&format!("S{n:02}"))).collect();
    ask(&mut editor, Request::Edit(Edit::TakeOff { strings }));
    let more = "32 more under Newly broken";
    assert_eq!(editor.query_all_by_label_contains("Order placed: ").count(), 8);
    shot(&mut editor, "compare-long");
    focus(&mut editor, more);
    key(&mut editor, Key::Enter);
    editor.run_steps(3);
    let rows = editor.query_all_by_label_contains("Order placed: ").count();
    assert!(rows > 8, "{rows} rows are in sight or near it");
    let panel = rect_of(&editor, "both loads");
    let findings = rect_of(&editor, "Search findings");
    assert!(panel.right() <= findings.left());
    shot(&mut editor, "compare-unfolded");
}

#[test]
fn both_loads_are_drawn_light_and_dark_small_and_large() {
    for (width, height) in [(1280.0, 800.0), (2560.0, 1440.0)] {
        let other = plans::small();
        let other = moved(1_500).apply(&other).unwrap().plan;
        let mut editor = editor_of_size(plans::small(), width, height);
        open(&mut editor);
        compare_with(&mut editor, &other);
        for theme in [egui::Theme::Light, egui::Theme::Dark] {
            editor.ctx.set_theme(theme);
            editor.run_steps(3);
            shot(&mut editor, &format!("compare-{width}-{theme:?}"));
        }
        let whole = editor.ctx.content_rect().expand2(vec2(0.5, 0.5));
        for name in ["both loads", "compare with another plan", "Choose a plan..."] {
            assert!(whole.contains_rect(rect_of(&editor, name)), "{name}");
        }
    }
}
