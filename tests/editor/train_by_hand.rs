//! Building the train by hand: inserting, turning, removing, duplicating and reordering vehicles, and types of their own.

use crate::harness::{Editor, at, drag, editor, focus, key, keys, press_and_move, rect_of, shot};
use crate::plans;
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable as _;

fn vehicles(editor: &Editor) -> Vec<String> {
    let vehicles = editor.state().document().plan().train.vehicles.iter();
    vehicles.map(|vehicle| vehicle.mark.to_string()).collect()
}

fn vehicle(mark: &str) -> String {
    format!("vehicle {mark} in the train side")
}

fn undo(editor: &mut Editor) {
    keys(editor, Modifiers::COMMAND, Key::Z);
}

#[test]
fn a_vehicle_is_dragged_to_another_place_and_stays_selected() {
    let mut editor = editor(plans::small());
    let (from, to) =
        (rect_of(&editor, &vehicle("W1")).center(), rect_of(&editor, &vehicle("W3")).right_center());
    press_and_move(&mut editor, from, to);
    let preview = editor.state().preview().expect("the train is shown as it would be");
    assert_eq!(preview.figures.plan.train.vehicles[2].mark.as_str(), "W1");
    assert_eq!(vehicles(&editor), ["W1", "W2", "W3", "W4"], "nothing is changed yet");
    shot(&mut editor, "drag-vehicle");
    editor.drop_at(to);
    editor.run_steps(3);
    assert_eq!(vehicles(&editor), ["W2", "W3", "W1", "W4"]);
    assert_eq!(editor.state().selection().vehicle, Some(2));
    assert_eq!(at(&editor, "C"), Some((2, 3, 39_800 + 3_017)), "its strings go with it");
    undo(&mut editor);
    assert_eq!((vehicles(&editor)[0].as_str(), editor.state().selection().vehicle), ("W1", Some(0)));
}

#[test]
fn escape_and_letting_go_outside_put_a_dragged_vehicle_back() {
    let mut editor = editor(plans::small());
    let (from, to) =
        (rect_of(&editor, &vehicle("W4")).center(), rect_of(&editor, &vehicle("W1")).left_center());
    press_and_move(&mut editor, from, to);
    assert!(editor.state().preview().is_some());
    key(&mut editor, Key::Escape);
    editor.drop_at(to);
    editor.run_steps(3);
    assert_eq!(vehicles(&editor), ["W1", "W2", "W3", "W4"]);
    let below = egui::pos2(to.x, rect_of(&editor, "train side").bottom() + 60.0);
    drag(&mut editor, from, below);
    assert_eq!(vehicles(&editor), ["W1", "W2", "W3", "W4"]);
    assert!(editor.state().preview().is_none());
}

#[test]
fn keys_move_turn_duplicate_and_remove_the_vehicle_that_has_the_keyboard() {
    let mut editor = editor(plans::small());
    focus(&mut editor, &vehicle("W2"));
    keys(&mut editor, Modifiers::COMMAND, Key::ArrowRight);
    assert_eq!(vehicles(&editor), ["W1", "W3", "W2", "W4"]);
    keys(&mut editor, Modifiers::COMMAND, Key::ArrowRight);
    assert_eq!(vehicles(&editor), ["W1", "W3", "W4", "W2"]);
    keys(&mut editor, Modifiers::COMMAND, Key::ArrowRight);
    assert_eq!(vehicles(&editor), ["W1", "W3", "W4", "W2"], "not beyond the end");
    keys(&mut editor, Modifiers::COMMAND, Key::ArrowLeft);
    assert_eq!(vehicles(&editor), ["W1", "W3", "W2", "W4"]);
    key(&mut editor, Key::R);
    assert!(editor.state().document().plan().train.vehicles[2].turned);
    keys(&mut editor, Modifiers::COMMAND, Key::D);
    assert_eq!(vehicles(&editor), ["W1", "W3", "W2", "W5", "W4"]);
    assert!(editor.state().document().plan().train.vehicles[3].turned, "as its model");
    keys(&mut editor, Modifiers::COMMAND, Key::Delete);
    assert_eq!(vehicles(&editor), ["W1", "W3", "W5", "W4"]);
    (0..6).for_each(|_| undo(&mut editor));
    assert_eq!(vehicles(&editor), ["W1", "W2", "W3", "W4"]);
}

#[test]
fn strings_of_a_removed_vehicle_go_back_to_the_yard_and_are_said_so() {
    let mut editor = editor(plans::small());
    focus(&mut editor, &vehicle("W1"));
    key(&mut editor, Key::Enter);
    keys(&mut editor, Modifiers::COMMAND, Key::Delete);
    assert_eq!(vehicles(&editor), ["W2", "W3", "W4"]);
    assert!(["A", "B", "C"].iter().all(|mark| at(&editor, mark).is_none()));
    assert!(editor.query_by_label("Back in the yard list: A, B, C").is_some());
    undo(&mut editor);
    assert_eq!(at(&editor, "A"), Some((1, 3, 3_017)));
}
