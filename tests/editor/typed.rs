//! What is typed into a field is never lost, whatever is done next.

use crate::harness::{Editor, editor, editor_with, key, keys, rect_of};
use crate::plans;
use egui::{Event, Key, Modifiers, PointerButton, Pos2, Role, vec2};
use egui_kittest::kittest::Queryable as _;
use longstow::edit::OnDisk;
use longstow::gui::{Command, Outside, Request, SAMPLES, Tab, WorkPlace, Workbench};

fn on_the_plan_form() -> Editor {
    let mut editor = editor(plans::small());
    editor.state_mut().ask(Request::ShowTab(Tab::Plan));
    editor.run_steps(3);
    editor
}

/// Puts words in place of those in a field, and does not leave it.
fn type_into(editor: &mut Editor, field: &str, words: &str) {
    let fields: Vec<_> = editor
        .query_all_by(|node| {
            matches!(node.role(), Role::TextInput | Role::MultilineTextInput)
                && node.label().as_deref() == Some(field)
        })
        .collect();
    fields[0].focus();
    drop(fields);
    editor.run_steps(2);
    keys(editor, Modifiers::COMMAND, Key::A);
    editor.event(Event::Text(words.to_owned()));
    editor.run_steps(2);
}

/// Presses and lets go before the next frame is drawn.
fn click_at_once(editor: &mut Editor, pos: Pos2) {
    editor.event(Event::PointerMoved(pos));
    editor.step();
    for pressed in [true, false] {
        let (button, modifiers) = (PointerButton::Primary, Modifiers::NONE);
        editor.event(Event::PointerButton { pos, button, pressed, modifiers });
    }
    editor.run_steps(3);
}

fn title(editor: &Editor) -> String {
    editor.state().document().plan().title.clone()
}

#[test]
fn another_tab_or_view_takes_what_was_typed_with_it() {
    for (of, to) in [("Title", "Vehicles"), ("Notes", "Limits"), ("Title", "Weighings"), ("Notes", "Sheets")]
    {
        let mut editor = on_the_plan_form();
        type_into(&mut editor, of, "Night load");
        let tab = editor.get_by_role_and_label(Role::Button, to).rect().center();
        click_at_once(&mut editor, tab);
        let plan = editor.state().document().plan();
        assert!([&plan.title, &plan.notes].contains(&&"Night load".to_owned()), "{of}, then {to}");
        assert!(editor.query_by_role_and_label(Role::TextInput, "Title").is_none(), "{to} is shown");
    }
}

#[test]
fn another_row_of_the_same_form_takes_what_was_typed_with_it() {
    let mut editor = editor(SAMPLES[2].plan().unwrap());
    let plan = editor.state().document().plan().clone();
    editor.state_mut().ask(Request::ShowTab(Tab::Drops));
    editor.run_steps(3);
    type_into(&mut editor, "Place of the drop", "track 9");
    let other = editor.query_all_by_role_and_label(Role::Button, plan.drops[1].name.as_str()).last().unwrap();
    let at = other.rect().center();
    click_at_once(&mut editor, at);
    assert_eq!(editor.state().document().plan().drops[0].place, "track 9");
    editor.state_mut().ask(Request::ShowTab(Tab::Sections));
    editor.run_steps(3);
    editor.get_by_role_and_label(Role::Button, "Add a section").click();
    editor.run_steps(3);
    editor.get_by_label("A new section, typed in").click();
    editor.run_steps(3);
    let name = plan.sections[0].name.as_str();
    let at = editor.query_all_by_role_and_label(Role::Button, name).last().unwrap().rect().center();
    click_at_once(&mut editor, at);
    type_into(&mut editor, "Area", "76.8");
    editor.get_by_role_and_label(Role::Button, "Add a section").click();
    editor.run_steps(3);
    let at = rect_of(&editor, "A new section, typed in").center();
    click_at_once(&mut editor, at);
    let area_cm2 = editor.state().document().plan().sections[0].area_cm2;
    assert!((area_cm2 - 76.8).abs() < 1e-9, "{area_cm2}");
}

#[test]
fn a_save_by_keys_holds_what_is_typed_and_the_typing_goes_on() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("load.ron");
    std::fs::write(&path, longstow::format::write(&plans::small())).unwrap();
    let kept = || longstow::format::read(&std::fs::read(&path).unwrap()).unwrap();
    let mut editor = on_the_plan_form();
    editor.state_mut().open_path(&path);
    editor.run_steps(3);
    for words in ["Night load", "Night load, two"] {
        type_into(&mut editor, "Title", words);
        keys(&mut editor, Modifiers::COMMAND, Key::S);
        editor.run_steps(3);
        assert_eq!(kept().title, words);
    }
    editor.event(Event::Text(" more".to_owned()));
    editor.run_steps(2);
    key(&mut editor, Key::Enter);
    assert_eq!(title(&editor), "Night load, two more");
    type_into(&mut editor, "Notes", "seen");
    keys(&mut editor, Modifiers::COMMAND, Key::S);
    assert_eq!(kept().notes, "seen");
}

#[test]
fn the_keys_of_another_view_take_what_is_typed_with_them() {
    let mut editor = on_the_plan_form();
    type_into(&mut editor, "Title", "Night load");
    keys(&mut editor, Modifiers::COMMAND, Key::Num7);
    assert_eq!(title(&editor), "Night load");
}

#[test]
fn a_window_asked_to_close_first_takes_what_is_typed() {
    let bench = Workbench::new(plans::small(), OnDisk::Yes);
    let mut editor = editor_with(bench, vec2(1280.0, 800.0));
    let ctx = editor.ctx.clone();
    let bench = std::mem::replace(editor.state_mut(), Workbench::new(plans::small(), OnDisk::Yes));
    *editor.state_mut() = bench.working(WorkPlace::AtOnce, &ctx);
    editor.state_mut().ask(Request::ShowTab(Tab::Plan));
    editor.run_steps(3);
    type_into(&mut editor, "Title", "Night load");
    editor.state_mut().close_requested();
    editor.run_steps(2);
    assert_eq!(title(&editor), "Night load");
    assert!(editor.state().dialog().is_some(), "it is changed, so it asks");
    assert_eq!(editor.state_mut().take_outside(), [], "and does not close yet");
    key(&mut editor, Key::Escape);
    editor.state_mut().ask(Request::Command(Command::Undo));
    editor.state_mut().close_requested();
    editor.run_steps(2);
    assert_eq!(editor.state_mut().take_outside(), [Outside::CloseWindow]);
}

#[test]
fn every_form_is_in_the_units_of_the_reader() {
    let mut editor = editor(SAMPLES[3].plan().unwrap());
    editor.state_mut().ask(Request::ShowTab(Tab::Sections));
    editor.run_steps(3);
    assert!(editor.query_by_label("lb/yd").is_some() && editor.query_by_label("kg/m").is_none());
    type_into(&mut editor, "Mass per length", "136");
    key(&mut editor, Key::Enter);
    let kg_per_m = editor.state().document().plan().sections[0].mass_kg_per_m;
    assert!((kg_per_m - 67.463_43).abs() < 1.0e-4, "{kg_per_m}");
    for tab in Tab::SET_UP {
        editor.state_mut().ask(Request::ShowTab(tab));
        editor.run_steps(3);
        for sign in ["mm", "m", "km/h", "kg/m", "cm²", "t", "kN", "mm above deck, clear"] {
            assert!(editor.query_by_label(sign).is_none(), "{sign} in {}", tab.title());
        }
    }
}
