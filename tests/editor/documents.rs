//! The open document: undo and redo, questions about unsaved changes, bad files, figures that are shown.

use crate::harness::{at, drag, editor, focus, key, keys, placement, press_and_move, rect_of, shot};
use crate::plans;
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable as _;
use longstow::checks::assess;
use longstow::edit::{Edit, Move};
use longstow::gui::Request;
use longstow::statics::{Figures, Scope};
use longstow::units::Length;
use std::sync::Arc;

#[test]
fn a_string_is_dragged_from_the_yard_list_into_a_pocket() {
    let mut editor = editor(plans::small());
    let from = rect_of(&editor, "Yard string E").center();
    let to = rect_of(&editor, "tier 3 lane 6: empty").center();
    press_and_move(&mut editor, from, to);
    assert!(editor.state().preview().is_some());
    shot(&mut editor, "drag-from-yard");
    editor.drop_at(to);
    editor.run_steps(3);
    let placed = placement(&editor, "E").expect("it lies on the train");
    assert_eq!((placed.tier, placed.lane), (3, 6));
    assert_eq!(placed.holds.len(), 1, "a hold is proposed with it");
    assert!(editor.query_by_label("tier 3 lane 6: E").is_some());
    assert!(editor.query_by_label("Yard string E").is_none());
}

#[test]
fn a_string_is_dragged_from_the_yard_list_onto_the_train_side() {
    let mut editor = editor(plans::small());
    let from = rect_of(&editor, "Yard string D").center();
    // Into the second tier, beside C and above the free end of the train.
    let c = rect_of(&editor, "string C in the train side");
    drag(&mut editor, from, egui::pos2(c.right() + 220.0, c.center().y));
    let (tier, lane, front) = at(&editor, "D").expect("it lies on the train");
    assert_eq!((tier, lane), (2, 3));
    assert!(front > 23_517, "behind C");
}

#[test]
fn what_is_undone_comes_back_by_redo() {
    let mut editor = editor(plans::small());
    focus(&mut editor, "string C in the train side");
    key(&mut editor, Key::ArrowRight);
    keys(&mut editor, Modifiers::COMMAND, Key::Z);
    assert_eq!(at(&editor, "C"), Some((2, 3, 3_017)));
    keys(&mut editor, Modifiers::COMMAND, Key::Y);
    assert_eq!(at(&editor, "C"), Some((2, 3, 3_027)));
}

#[test]
fn closing_asks_about_unsaved_changes_and_a_cancelled_question_closes_nothing() {
    let mut editor = editor(plans::small());
    editor.state_mut().close_requested();
    assert_eq!(editor.state_mut().take_outside().len(), 1, "nothing is unsaved: the window may close");
    focus(&mut editor, "string C in the train side");
    key(&mut editor, Key::ArrowRight);
    editor.state_mut().close_requested();
    editor.run_steps(3);
    assert!(editor.state().dialog().is_some());
    shot(&mut editor, "unsaved");
    key(&mut editor, Key::Escape);
    assert!(editor.state().dialog().is_none());
    assert!(editor.state_mut().take_outside().is_empty());
    assert_eq!(at(&editor, "C"), Some((2, 3, 3_027)), "the change is still there");
}

#[test]
fn a_bad_file_is_told_and_what_was_open_stays_open() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("bad.longstow");
    std::fs::write(&path, "(version: 1, title: 3").unwrap();
    let mut editor = editor(plans::small());
    editor.state_mut().open_path(&path);
    editor.run_steps(3);
    assert!(editor.state().dialog().is_some());
    assert_eq!(editor.state().document().plan().title, "Editor test");
    key(&mut editor, Key::Escape);
    assert!(editor.query_by_label("string C in the train side").is_some());
}

#[test]
fn the_figures_shown_are_those_computed_afresh() {
    let mut editor = editor(plans::small());
    let step = Move { string: plans::mark("C"), tier: 3, lane: 1, front: Length::from_mm(9_650) };
    let edit = Edit::Move { moves: vec![step] };
    let moved = edit.apply(&plans::small()).unwrap().plan;
    let fresh = Figures::of(Arc::new(moved), Scope::All);
    editor.state_mut().ask(Request::Preview(Some(edit.clone())));
    editor.run_steps(2);
    let preview = editor.state().preview().unwrap();
    assert_eq!(preview.figures.state(0), fresh.state(0), "a preview works out the state shown");
    editor.state_mut().ask(Request::Edit(edit));
    editor.run_steps(2);
    let document = editor.state().document();
    assert_eq!(document.figures().worked, fresh.worked);
    let told = |findings: &[longstow::checks::Finding]| -> Vec<_> {
        findings.iter().map(|finding| (finding.check.id, finding.things.clone(), finding.outcome)).collect()
    };
    assert_eq!(told(&document.assessment().findings), told(&assess(&fresh).findings));
}
