//! Findings that lead: next and before, filters, the form that takes what is missing, and mends that are seen by
//! pointing, made as one step, and taken back.

use crate::harness::{Editor, editor, focus, focused, key, keys, shot};
use egui::{Key, Modifiers, Role};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use longstow::checks::Outcome;
use longstow::gui::{Command, Request, SAMPLES, Tab, View};

const BALANCE: &str = "fail: Left and right wheel loads, vehicle F5, front bogie";

fn sample(at: usize) -> longstow::model::Plan {
    SAMPLES[at].plan().unwrap()
}

fn fails(editor: &Editor) -> usize {
    editor.state().document().assessment().count(Outcome::Fail)
}

/// The labels of the mends that are offered.
fn mends(editor: &Editor) -> Vec<String> {
    let labels = editor.root().children_recursive().filter_map(|node| node.accesskit_node().label());
    labels.filter(|label| label.starts_with("Mend: ")).collect()
}

fn search(editor: &mut Editor, words: &str) {
    focus(editor, "Search findings");
    editor.event(egui::Event::Text(words.to_owned()));
    editor.run_steps(2);
}

/// An editor on the one-sided sample with the balance of its fifth wagon chosen among the findings.
fn one_sided() -> Editor {
    let mut editor = editor(sample(5));
    search(&mut editor, "f5, front");
    editor.get_by_label(BALANCE).click();
    editor.run_steps(4);
    editor
}

#[test]
fn a_mend_is_seen_by_pointing_at_it_and_made_as_one_step_by_pressing_it() {
    let mut editor = one_sided();
    shot(&mut editor, "mends");
    let offered = mends(&editor);
    assert!(offered[0].starts_with("Mend: Mirror string L05 to lane 8; "), "{offered:#?}");
    assert!(offered[0].ends_with("breaks nothing)"), "{offered:#?}");
    editor.get_by_label(&offered[0]).hover();
    editor.run_steps(3);
    let preview = editor.state().preview().expect("what it would do is shown");
    assert!(!preview.mended.is_empty() && preview.newly_broken.is_empty());
    assert_eq!(mends(&editor), offered, "nothing jumps away under the pointer");
    editor.get_by_label("Search findings").hover();
    editor.run_steps(3);
    assert!(editor.state().preview().is_none());
    let (steps, before) = (editor.state().document().history().labels().len(), fails(&editor));
    editor.get_by_label(&offered[0]).click();
    editor.run_steps(3);
    assert_eq!(editor.state().document().history().labels().len(), steps + 1);
    assert!(fails(&editor) < before);
    assert!(editor.query_by_label(BALANCE).is_none());
    keys(&mut editor, Modifiers::COMMAND, Key::Z);
    assert_eq!(fails(&editor), before);
    assert!(editor.query_by_label(BALANCE).is_some());
}

#[test]
fn a_mend_is_reached_seen_and_made_by_keys_alone() {
    let mut editor = editor(sample(5));
    key(&mut editor, Key::F9);
    let before = fails(&editor);
    // The finding is chosen; a second press of Enter on its row leads on to what can be done about it.
    key(&mut editor, Key::F5);
    key(&mut editor, Key::Enter);
    key(&mut editor, Key::Enter);
    for _ in 0..40 {
        if focused(&editor).is_some_and(|label| label.starts_with("Mend: ")) {
            break;
        }
        keys(&mut editor, Modifiers::SHIFT, Key::Tab);
    }
    let label = focused(&editor).unwrap_or_default();
    assert!(label.starts_with("Mend: "), "{label}");
    assert!(editor.state().preview().is_some(), "what has the focus is shown");
    key(&mut editor, Key::Enter);
    assert!(editor.state().preview().is_none());
    assert!(fails(&editor) < before);
}

#[test]
fn next_and_before_go_through_what_is_listed_and_show_each() {
    let mut editor = editor(sample(5));
    search(&mut editor, "left and right wheel loads");
    editor.get_by_label("Search findings").click();
    editor.run_steps(1);
    let chosen =
        |editor: &Editor| editor.state().selection().finding.clone().map(|key| key.things.join(", "));
    key(&mut editor, Key::F9);
    let first = chosen(&editor).unwrap();
    assert_eq!(editor.state().selection().finding.as_ref().unwrap().check, "wheel-balance");
    key(&mut editor, Key::F9);
    let second = chosen(&editor).unwrap();
    assert_ne!(first, second);
    let vehicle = editor.state().selection().vehicle.expect("its vehicle is selected");
    let mark = editor.state().document().plan().train.vehicles[vehicle].mark.to_string();
    assert!(second.starts_with(&format!("vehicle {mark},")), "{second}");
    keys(&mut editor, Modifiers::SHIFT, Key::F9);
    assert_eq!(chosen(&editor).unwrap(), first);
    keys(&mut editor, Modifiers::SHIFT, Key::F9);
    assert_eq!(chosen(&editor).unwrap(), first, "there is none before the first");
    editor.get_by_label("Next finding").click();
    editor.run_steps(2);
    assert_eq!(chosen(&editor).unwrap(), second);
}

#[test]
fn findings_are_filtered_by_check_and_vehicle_and_all_come_back() {
    let mut editor = editor(sample(5));
    let rows = |editor: &Editor| {
        let labels = editor.root().children_recursive().filter_map(|node| node.accesskit_node().label());
        labels.filter(|label| label.starts_with("fail: ")).collect::<Vec<_>>()
    };
    editor.get_by_label("Vehicle listed").click();
    editor.run_steps(3);
    editor.get_by_role_and_label(Role::Button, "F5").click();
    editor.run_steps(3);
    let of_f5 = rows(&editor);
    assert!(!of_f5.is_empty() && of_f5.iter().all(|row| row.contains("vehicle F5")), "{of_f5:#?}");
    search(&mut editor, "no such words");
    assert_eq!(rows(&editor), Vec::<String>::new());
    editor.get_by_label("List all findings").click();
    editor.run_steps(3);
    assert!(rows(&editor).iter().any(|row| !row.contains("vehicle F5")));
}

#[test]
fn what_is_undecided_leads_to_the_form_that_takes_what_is_missing() {
    let mut editor = editor(sample(7));
    search(&mut editor, "no tier rating is entered");
    key(&mut editor, Key::F9);
    editor.get_by_label("Enter it: Types").click();
    editor.run_steps(4);
    assert_eq!(focused(&editor).as_deref(), Some("One tier"), "in the very field, so that it can be typed");
    let place = editor.get_by_role_and_label(Role::TextInput, "One tier").rect();
    assert!(editor.ctx.content_rect().contains_rect(place), "{place}");
}

#[test]
fn every_rating_that_is_missing_leads_to_its_own_field() {
    let mut plan = sample(7);
    for kind in &mut plan.train.vehicle_types {
        (kind.payload_rating_kg, kind.bogie_rating_kg) = (None, None);
        (kind.axle_rating_kg, kind.wheel_rating_kg) = (None, None);
    }
    for kind in &mut plan.train.rack_types {
        (kind.pocket_rating_kg, kind.tier_rating_kg, kind.rack_rating_kg) = (None, None, None);
    }
    for (missing, field) in [
        ("no payload rating is entered", "Load"),
        ("no bogie rating is entered", "Bogie"),
        ("no axle rating is entered", "Axle"),
        ("no wheel rating is entered", "Wheel"),
        ("no pocket rating is entered", "One pocket"),
        ("no tier rating is entered", "One tier"),
        ("no rack rating is entered", "Whole rack"),
    ] {
        let mut editor = editor(plan.clone());
        search(&mut editor, missing);
        key(&mut editor, Key::F9);
        editor.get_by_label("Enter it: Types").click();
        editor.run_steps(4);
        assert_eq!(focused(&editor).as_deref(), Some(field), "{missing}");
    }
}

#[test]
fn an_acceptance_lapses_with_the_mend_of_another_finding_that_changes_it_and_this_is_said() {
    let mut editor = one_sided();
    editor.get_by_label("Accept this finding").click_accesskit();
    editor.run_steps(20);
    focus(&mut editor, "Accepted by");
    editor.event(egui::Event::Text("A. Planner".to_owned()));
    editor.run_steps(2);
    focus(&mut editor, "Reason for accepting");
    editor.event(egui::Event::Text("moved by hand".to_owned()));
    editor.run_steps(2);
    editor.get_by_label("Accept").click_accesskit();
    editor.run_steps(3);
    assert_eq!(editor.state().document().plan().accepted.len(), 1);
    assert_eq!(mends(&editor), Vec::<String>::new(), "what is accepted asks for no mend");
    focus(&mut editor, "Search findings");
    keys(&mut editor, Modifiers::COMMAND, Key::A);
    editor.event(egui::Event::Text("f5, rear".to_owned()));
    editor.run_steps(3);
    editor.get_by_label("fail: Left and right wheel loads, vehicle F5, rear bogie").click();
    editor.run_steps(4);
    let offered = mends(&editor);
    editor.get_by_label(&offered[0]).click();
    editor.run_steps(3);
    assert_eq!(editor.state().document().plan().accepted.len(), 0);
    assert!(editor.query_by_label_contains("No longer accepted, as it changed").is_some());
    let label = editor.state().document().history().undo_label().unwrap().to_owned();
    assert!(label.ends_with("; an acceptance lapsed"), "{label}");
}

/// What showing a thing must lead to.
enum Leads {
    Strings(usize),
    Vehicle(usize),
    Rack(usize),
    Field(&'static str),
}

#[test]
fn every_kind_of_thing_is_shown_where_it_is_drawn_or_entered() {
    use Leads::{Field, Rack, Strings, Vehicle};
    use longstow::checks::Subject as S;
    use longstow::model::{LimitKind, TrackSide, TrainEnd};
    let mut editor = editor(sample(0));
    let figures = editor.state().document().figures().clone();
    let last_rack = figures.placed.iter().find(|placed| placed.string == 0).unwrap().racks.end - 1;
    let cases = [
        (S::String(3), Strings(1)),
        (S::StringEnd(0, TrainEnd::Rear), Rack(last_rack)),
        (S::StringEnd(0, TrainEnd::Rear), Strings(1)),
        (S::Strings(0, 1), Strings(2)),
        (S::StringAtRack(0, 4), Rack(4)),
        (S::StringAtRack(0, 4), Strings(1)),
        (S::Vehicle(1), Vehicle(1)),
        (S::Support(2, 1), Vehicle(2)),
        (S::Axle(3, 0), Vehicle(3)),
        (S::Wheel(4, 2, TrackSide::Left), Vehicle(4)),
        (S::Rack(5), Rack(5)),
        (S::RackTier(6, 2), Rack(6)),
        (S::Pocket(7, 1, 3), Rack(7)),
        (S::VehicleType(0), Field("Length over buffers")),
        (S::RackType(0), Field("One tier")),
        (S::Section(0), Field("Foot width")),
        (S::Limit(LimitKind::Sag), Field("Your name, to accept limits")),
        (S::Drop(0), Field("Name of the drop")),
        (S::Step(0, 0), Strings(2)),
        (S::Step(0, 0), Field("Name of the drop")),
    ];
    for (subject, leads) in cases {
        // From a view that draws nothing of it.
        editor.state_mut().ask(Request::Command(Command::Show(View::Weighings)));
        editor.state_mut().ask(Request::ShowTab(Tab::Plan));
        editor.state_mut().ask(Request::ShowRack(0));
        editor.state_mut().ask(Request::ShowThing(subject));
        editor.run_steps(3);
        let selection = editor.state().selection();
        let shows = match leads {
            Strings(count) => selection.strings.len() == count,
            Vehicle(vehicle) => selection.vehicle == Some(vehicle),
            Rack(rack) => selection.rack == rack,
            Field(name) => editor.query_by_role_and_label(Role::TextInput, name).is_some(),
        };
        assert!(shows, "{subject:?}: {selection:?}");
    }
}
