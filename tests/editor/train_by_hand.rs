//! Building the train by hand: inserting, turning, removing, duplicating and reordering vehicles, and types of their own.

use crate::harness::{Editor, at, drag, editor, focus, key, keys, press_and_move, rect_of, shot};
use crate::menus::{choose, right_click};
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

#[test]
fn a_locked_string_keeps_its_vehicle_in_the_train() {
    let mut editor = editor(plans::small());
    focus(&mut editor, "string C in the train side");
    key(&mut editor, Key::Space);
    key(&mut editor, Key::L);
    focus(&mut editor, &vehicle("W1"));
    key(&mut editor, Key::Enter);
    keys(&mut editor, Modifiers::COMMAND, Key::Delete);
    assert_eq!(vehicles(&editor), ["W1", "W2", "W3", "W4"]);
    let said = editor.query_all_by(|node| node.value().is_some_and(|value| value.starts_with("Not done: ")));
    assert_eq!(said.count(), 1, "why not is said");
}

#[test]
fn a_vehicle_is_inserted_from_the_menu_of_another() {
    let mut editor = editor(plans::small());
    let kind = editor.state().document().plan().train.vehicle_types[0].name.to_string();
    right_click(&mut editor, &vehicle("W2"));
    choose(&mut editor, "Insert before it");
    choose(&mut editor, &kind);
    assert_eq!(vehicles(&editor), ["W1", "W5", "W2", "W3", "W4"]);
    right_click(&mut editor, &vehicle("W4"));
    choose(&mut editor, "Insert another like it");
    assert_eq!(vehicles(&editor), ["W1", "W5", "W2", "W3", "W4", "W6"]);
}

fn type_into(editor: &mut Editor, field: &str, words: &str) {
    let fields: Vec<_> = editor
        .query_all_by(|node| node.role() == egui::Role::TextInput && node.label().as_deref() == Some(field))
        .collect();
    fields[0].focus();
    drop(fields);
    editor.run_steps(2);
    keys(editor, Modifiers::COMMAND, Key::A);
    editor.event(egui::Event::Text(words.to_owned()));
    editor.run_steps(2);
}

fn lengths(editor: &Editor) -> Vec<i64> {
    let plan = editor.state().document().plan();
    let length = |mark: &longstow::model::Vehicle| plan.vehicle_type(&mark.vehicle_type).unwrap().length.mm();
    plan.train.vehicles.iter().map(length).collect()
}

#[test]
fn one_vehicle_is_changed_alone_once_it_has_a_type_of_its_own() {
    let mut editor = editor(plans::small());
    right_click(&mut editor, &vehicle("W2"));
    choose(&mut editor, "Edit W2 only");
    type_into(&mut editor, "Length over buffers", "21");
    key(&mut editor, Key::Enter);
    assert_eq!(lengths(&editor), [19_900, 21_000, 19_900, 19_900]);
    undo(&mut editor);
    undo(&mut editor);
    assert_eq!(editor.state().document().plan().train.vehicle_types.len(), 1);
    right_click(&mut editor, &vehicle("W2"));
    choose(&mut editor, "Edit the type");
    type_into(&mut editor, "Length over buffers", "21");
    key(&mut editor, Key::Enter);
    assert_eq!(lengths(&editor), [21_000; 4], "all of the type");
}

#[test]
fn what_is_typed_of_a_type_is_drawn_before_it_is_entered() {
    let mut editor = editor(plans::small());
    right_click(&mut editor, &vehicle("W2"));
    choose(&mut editor, "Edit the type");
    type_into(&mut editor, "Length over buffers", "22");
    assert!(editor.state().preview().is_none(), "not while the keys are going");
    editor.run_steps(30);
    let preview = editor.state().preview().expect("drawn once the typing pauses");
    assert_eq!(preview.figures.consist.length.mm(), 4 * 22_000);
    shot(&mut editor, "type-typed");
    assert_eq!(lengths(&editor), [19_900; 4]);
    key(&mut editor, Key::Escape);
    editor.run_steps(2);
    assert!(editor.state().preview().is_none());
    assert_eq!(lengths(&editor), [19_900; 4], "Escape puts the old value back");
}

#[test]
fn a_typed_draft_is_not_left_behind_when_its_form_is_gone() {
    let mut editor = editor(plans::small());
    right_click(&mut editor, &vehicle("W2"));
    choose(&mut editor, "Edit the type");
    type_into(&mut editor, "Length over buffers", "22");
    editor.run_steps(30);
    assert!(editor.state().preview().is_some());
    keys(&mut editor, Modifiers::COMMAND, Key::Num3);
    editor.run_steps(3);
    assert!(editor.state().preview().is_none());
}

#[test]
fn a_row_of_the_train_form_is_dragged_to_another_place() {
    let mut editor = editor(plans::small());
    editor.get_by_role_and_label(egui::Role::Button, "Train").click();
    editor.run_steps(3);
    let handle = |editor: &Editor, mark: &str| rect_of(editor, &format!("Select vehicle {mark}"));
    let (from, to) = (handle(&editor, "W1").center(), handle(&editor, "W3").center_bottom());
    drag(&mut editor, from, to);
    assert_eq!(vehicles(&editor), ["W2", "W3", "W1", "W4"]);
    assert_eq!(editor.state().selection().vehicle, Some(2));
    press_and_move(&mut editor, from, to);
    key(&mut editor, Key::Escape);
    editor.drop_at(to);
    editor.run_steps(3);
    assert_eq!(vehicles(&editor), ["W2", "W3", "W1", "W4"], "Escape leaves it");
}
