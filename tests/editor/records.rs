//! The load as it was recorded, shown beside the plan as meant.

use crate::harness::{Editor, at, drag, editor, key, rect_of};
use crate::plans::{self, mark};
use egui::{Key, vec2};
use egui_kittest::kittest::Queryable as _;
use longstow::edit::Edit;
use longstow::gui::Request;
use longstow::model::AsLoaded;
use longstow::report::Judged;
use longstow::units::Length;

/// An editor on a plan in which C was seen 3 m farther back than planned.
fn recorded() -> Editor {
    let mut editor = editor(plans::small());
    let planned = editor.state().document().plan().placement(&mark("C")).unwrap().clone();
    let record = AsLoaded {
        string: planned.string,
        tier: planned.tier,
        lane: planned.lane,
        front: planned.front + Length::from_mm(3_000),
        holds: planned.holds,
        missing: false,
        by: "A. Yard".to_owned(),
        at: "2026-11-25 06:10 +01:00".to_owned(),
    };
    editor.state_mut().ask(Request::Edit(Edit::RecordAsLoaded { records: vec![record] }));
    editor.run_steps(3);
    editor
}

fn left(editor: &Editor) -> f32 {
    rect_of(editor, "string C in the train side").left()
}

#[test]
fn the_switch_beside_the_verdict_shows_the_load_as_it_is_in_every_view() {
    let mut editor = recorded();
    let planned = left(&editor);
    editor.get_by_label("judge as loaded (1 differs)").click();
    editor.run_steps(3);
    assert!(left(&editor) > planned + 5.0, "3 m farther back are seen");
    assert_eq!(editor.state().judged(), Judged::AsLoaded);
    let front = |figures: &longstow::statics::Figures| figures.plan.placement(&mark("C")).unwrap().front.mm();
    assert_eq!(front(editor.state().document().as_loaded().0), 6_017);
    assert_eq!(at(&editor, "C").unwrap().2, 3_017, "the plan as meant stays");
    key(&mut editor, Key::J);
    assert_eq!((left(&editor), editor.state().judged()), (planned, Judged::AsPlanned));
}

#[test]
fn strings_are_not_moved_while_the_load_is_shown_as_it_is_and_records_can_be_made() {
    let mut editor = recorded();
    key(&mut editor, Key::J);
    let before = editor.state().document().plan().clone();
    let from = rect_of(&editor, "string C in the train side").center();
    crate::harness::press_and_move(&mut editor, from, from + vec2(60.0, 0.0));
    let refused = editor.state().preview().and_then(|preview| preview.refused.clone());
    assert!(refused.is_some_and(|why| why.contains("judge as planned (J)")));
    editor.drop_at(from + vec2(60.0, 0.0));
    editor.run_steps(3);
    drag(&mut editor, from, from + vec2(60.0, 0.0));
    assert_eq!(*editor.state().document().plan(), before);
    let told = editor.query_all_by_label_contains("Not done: Shown as loaded: strings cannot be moved here");
    assert_eq!(told.count(), 1);
    let back = Edit::RemoveAsLoaded { strings: vec![mark("C")] };
    editor.state_mut().ask(Request::Edit(back));
    assert_eq!(editor.state().document().plan().as_loaded, []);
    key(&mut editor, Key::J);
    drag(&mut editor, from, from + vec2(60.0, 0.0));
    assert_ne!(*editor.state().document().plan(), before, "as planned it moves again");
}
