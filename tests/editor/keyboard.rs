//! Working by keyboard alone.

use crate::harness::{at, editor, focus, focused, key, keys, placement, show_rack};
use crate::plans;
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable as _;

#[test]
fn arrows_nudge_a_string_by_ten_millimetres_a_metre_and_one() {
    let mut editor = editor(plans::small());
    focus(&mut editor, "string C in the train side");
    key(&mut editor, Key::ArrowRight);
    assert_eq!(at(&editor, "C"), Some((2, 3, 3_027)));
    keys(&mut editor, Modifiers::SHIFT, Key::ArrowRight);
    assert_eq!(at(&editor, "C"), Some((2, 3, 4_027)));
    keys(&mut editor, Modifiers::COMMAND, Key::ArrowLeft);
    assert_eq!(at(&editor, "C"), Some((2, 3, 4_026)));
    key(&mut editor, Key::ArrowUp);
    assert_eq!(at(&editor, "C"), Some((3, 3, 4_026)));
    assert_eq!(focused(&editor).as_deref(), Some("string C in the train side"), "the focus stays");
}

#[test]
fn a_selection_is_nudged_as_one_step() {
    let mut editor = editor(plans::small());
    for string in ["string A in the train side", "string B in the train side"] {
        focus(&mut editor, string);
        key(&mut editor, Key::Space);
    }
    assert_eq!(editor.state().selection().strings.len(), 2);
    key(&mut editor, Key::ArrowRight);
    assert_eq!((at(&editor, "A"), at(&editor, "B")), (Some((1, 3, 3_027)), Some((1, 4, 3_027))));
    assert_eq!(editor.state().document().history().labels().len(), 2);
}

#[test]
fn arrows_on_the_rack_face_move_the_focus_or_the_string_that_is_selected() {
    let mut editor = editor(plans::small());
    show_rack(&mut editor, "W1 rack 1");
    focus(&mut editor, "tier 2 lane 2: empty");
    key(&mut editor, Key::ArrowRight);
    assert_eq!(focused(&editor).as_deref(), Some("tier 2 lane 3: C"));
    key(&mut editor, Key::Enter);
    key(&mut editor, Key::ArrowUp);
    key(&mut editor, Key::ArrowRight);
    assert_eq!(at(&editor, "C"), Some((3, 4, 3_017)));
    assert_eq!(focused(&editor).as_deref(), Some("tier 3 lane 4: C"), "the focus goes along");
}

#[test]
fn enter_puts_the_selected_string_into_the_focused_pocket() {
    let mut editor = editor(plans::small());
    focus(&mut editor, "string C in the train side");
    key(&mut editor, Key::Space);
    focus(&mut editor, "tier 1 lane 1: empty");
    key(&mut editor, Key::Enter);
    assert_eq!(at(&editor, "C"), Some((1, 1, 3_017)));
    assert_eq!(placement(&editor, "C").unwrap().holds, [plans::held_at("W1", 3)], "the hold stays");
}

#[test]
fn delete_takes_the_focused_string_off_and_undo_brings_it_back() {
    let mut editor = editor(plans::small());
    focus(&mut editor, "string C in the train side");
    key(&mut editor, Key::Space);
    key(&mut editor, Key::Delete);
    assert_eq!(at(&editor, "C"), None);
    assert!(editor.query_by_label("string C in the train side").is_none());
}

#[test]
fn tab_reaches_every_string_and_rack_of_the_train_side() {
    let mut editor = editor(plans::small());
    focus(&mut editor, "vehicle W1 in the train side");
    let mut seen = Vec::new();
    for _ in 0..20 {
        editor.key_press(Key::Tab);
        editor.step();
        seen.extend(focused(&editor));
    }
    let racks = (1..=4).flat_map(|vehicle| (1..=3).map(move |rack| format!("W{vehicle} rack {rack}")));
    for thing in racks.chain(["A", "B", "C"].map(|mark| format!("string {mark}"))) {
        let label = format!("{thing} in the train side");
        assert!(seen.contains(&label), "{label} not among {seen:?}");
    }
}

#[test]
fn function_keys_go_to_the_strings_and_to_the_pockets() {
    let mut editor = editor(plans::small());
    key(&mut editor, Key::F2);
    assert_eq!(focused(&editor).as_deref(), Some("string A in the train side"));
    key(&mut editor, Key::F3);
    assert_eq!(focused(&editor).as_deref(), Some("tier 1 lane 1: empty"));
}

/// Place, move, nudge, hold and ask to save, by keys alone.
#[test]
fn the_main_job_is_done_by_keys_alone() {
    let mut editor = editor(plans::small());
    key(&mut editor, Key::F1);
    assert_eq!(focused(&editor).as_deref(), Some("Yard string E"));
    key(&mut editor, Key::Enter);
    let placed = placement(&editor, "E").expect("Enter places it in the first free pocket").clone();
    assert_eq!(placed.holds.len(), 1, "a hold is proposed with it");
    focus(&mut editor, "string E in the train side");
    key(&mut editor, Key::Space);
    key(&mut editor, Key::ArrowUp);
    keys(&mut editor, Modifiers::COMMAND, Key::ArrowRight);
    let moved = at(&editor, "E").unwrap();
    assert_eq!(moved, (placed.tier + 1, placed.lane, placed.front.mm() + 1));
    key(&mut editor, Key::H);
    assert_eq!(placement(&editor, "E").unwrap().holds.len(), 1);
    keys(&mut editor, Modifiers::COMMAND, Key::Z);
    assert_eq!(at(&editor, "E"), Some((placed.tier + 1, placed.lane, placed.front.mm())));
    keys(&mut editor, Modifiers::COMMAND | Modifiers::SHIFT, Key::Z);
    assert_eq!(at(&editor, "E"), Some(moved));
    editor.state_mut().take_outside();
    keys(&mut editor, Modifiers::COMMAND, Key::S);
    let asked = editor.state_mut().take_outside();
    assert!(
        !asked.is_empty() || editor.state().dialog().is_some(),
        "a plan without a file asks where to save"
    );
}
