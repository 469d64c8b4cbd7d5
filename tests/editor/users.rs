//! What stood in the way of people who tried the whole work, and no longer does.

use crate::harness::{at, editor, editor_with, focus, focused, key, placement, press_and_move, rect_of};
use crate::plans;
use egui::{Event, Key, Role, vec2};
use egui_kittest::kittest::Queryable as _;
use longstow::checks::Outcome;
use longstow::gui::{Command, Request, Start, Tab, Workbench};

fn type_words(editor: &mut crate::harness::Editor, words: &str) {
    editor.event(Event::Text(words.to_owned()));
    editor.run_steps(2);
}

#[test]
fn the_keyboard_comes_to_the_front_end_first_and_typing_takes_its_place() {
    let mut editor = editor(plans::small());
    focus(&mut editor, "string C in the train side");
    key(&mut editor, Key::Enter);
    key(&mut editor, Key::F7);
    assert_eq!(focused(&editor).as_deref(), Some("Front end at"));
    type_words(&mut editor, "12,5");
    key(&mut editor, Key::Enter);
    assert_eq!(at(&editor, "C"), Some((2, 3, 12_500)));
    assert_eq!(focused(&editor).as_deref(), Some("Front end at"), "Enter leaves the keyboard in the form");
    type_words(&mut editor, "41 ft");
    key(&mut editor, Key::Tab);
    assert_eq!(at(&editor, "C"), Some((2, 3, 12_497)), "41 ft of 304.8 mm, to the millimetre");
    assert_eq!(focused(&editor).as_deref(), Some("Tier"));
}

#[test]
fn a_typed_path_is_taken_with_enter() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("typed.longstow");
    std::fs::write(&path, longstow::format::write(&plans::small())).unwrap();
    let mut editor = editor_with(Workbench::at_start(Start::default()), vec2(1280.0, 800.0));
    editor.state_mut().ask(Request::Command(Command::Open));
    editor.state_mut().take_outside();
    editor.state_mut().no_file_dialog();
    editor.run_steps(3);
    type_words(&mut editor, &path.display().to_string());
    key(&mut editor, Key::Enter);
    assert_eq!(editor.state().document().path.as_deref(), Some(path.as_path()));
    assert!(editor.state().dialog().is_none());
}

#[test]
fn a_form_makes_room_for_the_pockets_once_a_string_is_taken_from_the_yard_list() {
    let mut editor = editor(plans::small());
    editor.state_mut().ask(Request::ShowTab(Tab::Drops));
    editor.run_steps(3);
    assert!(editor.query_by_label("tier 3 lane 6: empty").is_none());
    let from = rect_of(&editor, "Yard string E").center();
    press_and_move(&mut editor, from, from + vec2(400.0, 100.0));
    let pocket = rect_of(&editor, "tier 3 lane 6: empty").center();
    editor.hover_at(pocket);
    editor.run_steps(2);
    editor.drop_at(pocket);
    editor.run_steps(3);
    assert_eq!(at(&editor, "E").map(|(tier, lane, _)| (tier, lane)), Some((3, 6)));
}

#[test]
fn the_badge_tells_what_a_drag_would_do_while_it_lasts() {
    let mut editor = editor(plans::small());
    let (from, to) = (rect_of(&editor, "Yard string E"), rect_of(&editor, "string A in the train side"));
    press_and_move(&mut editor, from.center(), to.center());
    assert!(editor.query_by_label_contains("Here: ").is_some());
    editor.key_press(Key::Escape);
    editor.run_steps(2);
    assert!(editor.query_by_label_contains("Here: ").is_none());
    editor.drop_at(to.center());
}

#[test]
fn a_finding_is_accepted_by_keys_alone() {
    let mut editor = editor(plans::small());
    key(&mut editor, Key::F5);
    key(&mut editor, Key::Enter);
    let chosen = editor.state().selection().finding.clone().expect("Enter chooses the worst finding");
    key(&mut editor, Key::Enter);
    assert_eq!(focused(&editor).as_deref(), Some("Accept this finding"));
    key(&mut editor, Key::Enter);
    editor.run_steps(20);
    for words in ["A. Planner", "agreed with the site"] {
        key(&mut editor, Key::Tab);
        type_words(&mut editor, words);
    }
    key(&mut editor, Key::Tab);
    key(&mut editor, Key::Enter);
    let accepted = &editor.state().document().plan().accepted;
    let told = accepted.iter().map(|one| (one.check.as_str(), one.by.as_str(), one.why.as_str()));
    assert_eq!(told.collect::<Vec<_>>(), [(chosen.check, "A. Planner", "agreed with the site")]);
}

#[test]
fn a_finding_about_an_end_brings_that_end_and_its_last_rack_into_view() {
    let mut editor = editor(plans::small());
    let findings = &editor.state().document().assessment().findings;
    let finding = findings
        .iter()
        .find(|finding| finding.outcome == Outcome::Fail && finding.things.iter().any(|t| t == "rear end"))
        .unwrap_or_else(|| panic!("{:?}", findings.iter().map(|f| &f.things).collect::<Vec<_>>()));
    let key = longstow::gui::FindingKey::of(finding);
    editor.state_mut().ask(Request::ShowFinding(key));
    editor.run_steps(3);
    // A and B end on the first rack of W3, at 43,117 mm, without any overhang.
    assert_eq!(editor.state().selection().rack, 6);
    let wagon = rect_of(&editor, "vehicle W3 in the train side");
    let half_of_the_view = rect_of(&editor, "train side").width() / 2.2;
    assert!(wagon.width() > half_of_the_view, "40 m are shown, of which the wagon is half: {wagon}");
}

#[test]
fn an_empty_plan_leads_to_its_first_steps() {
    let mut editor = editor_with(Workbench::at_start(Start::default()), vec2(1280.0, 800.0));
    editor.state_mut().ask(Request::Command(Command::New));
    editor.run_steps(3);
    editor.get_by_label("Go on to Train").click();
    editor.run_steps(3);
    assert!(editor.query_by_label("From the catalogue").is_some());
}

#[test]
fn steps_are_reordered_without_scrolling_sideways() {
    let mut editor = editor(plans::small());
    editor.state_mut().ask(Request::ShowTab(Tab::Drops));
    editor.run_steps(3);
    let view = editor.ctx.content_rect();
    let button = rect_of(&editor, "Move step 2 up");
    assert!(view.contains_rect(button) && button.right() < rect_of(&editor, "Search findings").left());
    editor.get_by_label("Move step 2 up").click();
    editor.run_steps(3);
    let steps = &editor.state().document().plan().drops[0].steps;
    let marks: Vec<&str> = steps.iter().flat_map(|step| step.strings.marks()).map(|m| m.as_str()).collect();
    assert_eq!(marks, ["B", "A", "E"]);
}

#[test]
fn a_hold_is_chosen_by_keys_among_the_racks_that_clamp() {
    let mut plan = plans::small();
    let roller = longstow::model::RackTypeName::new("Roller").unwrap();
    let mut rack = plan.train.rack_types[0].clone();
    (rack.name, rack.kind) = (roller.clone(), longstow::model::RackKind::Roller);
    plan.train.rack_types.push(rack);
    plan.train.vehicle_types[0].racks[1].rack_type = roller;
    let mut editor = editor(plan);
    focus(&mut editor, "string A in the train side");
    key(&mut editor, Key::Enter);
    editor.get_by_role_and_label(Role::ComboBox, "Held at").focus();
    editor.run_steps(2);
    key(&mut editor, Key::Enter);
    editor.run_steps(4);
    assert!(editor.query_by_label("W2 rack 3").is_some() && editor.query_by_label("W2 rack 2").is_none());
    assert_eq!(focused(&editor).as_deref(), Some("W2 rack 1"), "the list opens at what is chosen");
    key(&mut editor, Key::ArrowDown);
    key(&mut editor, Key::Enter);
    editor.run_steps(20);
    assert_eq!(placement(&editor, "A").unwrap().holds, [plans::held_at("W2", 3)]);
    assert!(editor.query_by_label("W2 rack 1").is_none(), "the list is closed");
    assert_eq!(focused(&editor).as_deref(), Some("Held at"), "and the keyboard back at the field");
}

#[test]
fn tab_goes_through_the_answers_of_a_question_from_the_first_to_the_last() {
    let mut editor = editor(plans::small());
    focus(&mut editor, "string C in the train side");
    key(&mut editor, Key::ArrowRight);
    editor.state_mut().close_requested();
    editor.run_steps(4);
    let mut seen = vec![focused(&editor)];
    for _ in 0..2 {
        key(&mut editor, Key::Tab);
        seen.push(focused(&editor));
    }
    assert_eq!(seen, ["Save", "Discard changes", "Cancel"].map(|words| Some(words.to_owned())));
    let cancel = rect_of(&editor, "Cancel");
    assert!(cancel.left() > rect_of(&editor, "Discard changes").right(), "the safe one stands last");
}
