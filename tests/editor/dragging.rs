//! Dragging by pointer: along the train, between pockets, what a drag shows, and what Escape puts back.

use crate::harness::{at, drag, editor, placement, press_and_move, rect_of, shot, show_rack};
use crate::plans;
use egui::{Key, Modifiers, vec2};
use egui_kittest::kittest::Queryable as _;

/// Where to take hold of a string on the train side.
fn grip(editor: &crate::harness::Editor, mark: &str) -> egui::Pos2 {
    rect_of(editor, &format!("string {mark} in the train side")).center()
}

#[test]
fn a_string_is_dragged_along_the_train_to_the_millimetre_that_is_shown() {
    let mut editor = editor(plans::small());
    let from = grip(&editor, "C");
    press_and_move(&mut editor, from, from + vec2(150.0, 0.0));
    let preview = editor.state().preview().expect("a drag previews its figures");
    let shown = preview.figures.plan.placement(&plans::mark("C")).unwrap().front.mm();
    assert_eq!(at(&editor, "C"), Some((2, 3, 3_017)), "nothing is changed before the button is let go");
    shot(&mut editor, "drag-along");
    editor.drop_at(from + vec2(150.0, 0.0));
    editor.run_steps(3);
    assert!(editor.state().preview().is_none());
    assert!(shown > 3_017 + 5_000);
    assert_eq!(at(&editor, "C"), Some((2, 3, shown)));
}

#[test]
fn an_end_catches_at_a_rack_unless_alt_is_held() {
    let mut editor = editor(plans::small());
    let from = grip(&editor, "C");
    // A whole wagon along, and a little more: the front end comes near the first rack of W2.
    let points_per_mm = f64::from(rect_of(&editor, "string A in the train side").width()) / 40_100.0;
    let by = vec2((19_900.0 * points_per_mm) as f32 + 3.0, 0.0);
    press_and_move(&mut editor, from, from + by);
    let front = |editor: &crate::harness::Editor| {
        editor.state().preview().unwrap().figures.plan.placement(&plans::mark("C")).unwrap().front.mm()
    };
    assert_eq!(front(&editor), 19_900 + 3_017, "300 mm past W2 rack 1");
    editor.event(egui::Event::ModifiersChanged(Modifiers::ALT));
    editor.run_steps(2);
    assert_ne!(front(&editor), 19_900 + 3_017, "Alt lets it lie where the pointer is");
}

#[test]
fn escape_puts_a_dragged_string_back_and_a_later_release_drops_nothing() {
    let mut editor = editor(plans::small());
    let from = grip(&editor, "C");
    press_and_move(&mut editor, from, from + vec2(200.0, 0.0));
    assert!(editor.state().preview().is_some());
    editor.key_press(Key::Escape);
    editor.run_steps(2);
    assert!(editor.state().preview().is_none());
    editor.drop_at(from + vec2(220.0, 0.0));
    editor.run_steps(2);
    assert_eq!(at(&editor, "C"), Some((2, 3, 3_017)));
    assert!(editor.state().document().history().undo_label().is_none());
}

#[test]
fn a_string_is_dragged_from_pocket_to_pocket_and_keeps_its_front_end() {
    let mut editor = editor(plans::small());
    show_rack(&mut editor, "W1 rack 1");
    let from = rect_of(&editor, "tier 2 lane 3: C").center();
    let to = rect_of(&editor, "tier 3 lane 5: empty").center();
    drag(&mut editor, from, to);
    assert_eq!(at(&editor, "C"), Some((3, 5, 3_017)));
    assert!(editor.query_by_label("tier 3 lane 5: C").is_some());
    assert!(editor.query_by_label("tier 2 lane 3: empty").is_some());
}

#[test]
fn dropped_on_a_taken_pocket_with_ctrl_two_strings_swap() {
    let mut editor = editor(plans::small());
    show_rack(&mut editor, "W1 rack 1");
    let from = rect_of(&editor, "tier 1 lane 3: A").center();
    let to = rect_of(&editor, "tier 1 lane 4: B").center();
    press_and_move(&mut editor, from, to);
    editor.key_down_modifiers(Modifiers::COMMAND, Key::F20);
    editor.run_steps(2);
    shot(&mut editor, "drag-swap");
    editor.event_modifiers(
        egui::Event::PointerButton {
            pos: to,
            button: egui::PointerButton::Primary,
            pressed: false,
            modifiers: Modifiers::COMMAND,
        },
        Modifiers::COMMAND,
    );
    editor.run_steps(3);
    assert_eq!(at(&editor, "A"), Some((1, 4, 3_017)));
    assert_eq!(at(&editor, "B"), Some((1, 3, 3_017)));
}

#[test]
fn a_selection_is_dragged_as_one_step() {
    let mut editor = editor(plans::small());
    editor.get_by_label("string A in the train side").click();
    editor.run_steps(2);
    editor.get_by_label("string B in the train side").click_modifiers(Modifiers::COMMAND);
    editor.run_steps(2);
    assert_eq!(editor.state().selection().strings.len(), 2);
    let from = grip(&editor, "A");
    drag(&mut editor, from, from + vec2(90.0, 0.0));
    let (a, b) = (at(&editor, "A").unwrap(), at(&editor, "B").unwrap());
    assert!(a.2 > 3_017);
    assert_eq!(a.2, b.2, "both go as far");
    assert_eq!(editor.state().document().history().labels().len(), 2, "one step after the start");
}

#[test]
fn a_rubber_band_selects_what_it_touches() {
    let mut editor = editor(plans::small());
    let (a, c) =
        (rect_of(&editor, "string A in the train side"), rect_of(&editor, "string C in the train side"));
    // From the free place above the strings down over the third tier and into the second.
    drag(&mut editor, egui::pos2(c.right() + 30.0, c.top() - 40.0), egui::pos2(c.center().x, c.center().y));
    let selected: Vec<String> = editor.state().selection().strings.iter().map(ToString::to_string).collect();
    assert_eq!(selected, ["C"], "A ends at {a}");
}

#[test]
fn dragging_off_its_hold_gives_a_string_a_new_one() {
    let mut editor = editor(plans::small());
    let from = grip(&editor, "C");
    drag(&mut editor, from, from + vec2(500.0, 0.0));
    let placement = placement(&editor, "C").unwrap();
    assert!(placement.front.mm() > 20_000);
    assert_eq!(placement.holds.len(), 1);
    assert_ne!(placement.holds[0], plans::held_at("W1", 3));
}

#[test]
fn a_preview_lists_what_a_drop_would_newly_break() {
    let mut editor = editor(plans::small());
    show_rack(&mut editor, "W1 rack 1");
    let from = rect_of(&editor, "tier 2 lane 3: C").center();
    let to = rect_of(&editor, "tier 1 lane 3: A").center();
    press_and_move(&mut editor, from, to);
    let preview = editor.state().preview().unwrap();
    assert!(!preview.newly_broken.is_empty(), "two strings in one pocket");
    editor.key_press(Key::Escape);
    editor.drop_at(to);
    editor.run_steps(2);
    assert_eq!(at(&editor, "C"), Some((2, 3, 3_017)));
}
