//! The load as it was recorded, shown beside the plan as meant.

use crate::harness::{Editor, at, drag, editor, key, rect_of};
use crate::plans::{self, mark};
use egui::{Key, Modifiers, Role, vec2};
use egui_kittest::kittest::Queryable as _;
use longstow::edit::Edit;
use longstow::gui::{Command, Request, View};
use longstow::model::{AsLoaded, Plan, WeighedPart, Weighing};
use longstow::report::Judged;
use longstow::statics::{Figures, Scope};
use longstow::units::Length;
use std::sync::Arc;

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
    let front = |figures: &Figures| figures.plan.placement(&mark("C")).unwrap().front.mm();
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

/// The view asked for, with the name of the person entered.
fn view(plan: Plan, view: View) -> Editor {
    let mut editor = editor(plan);
    editor.state_mut().ask(Request::Command(Command::Show(view)));
    editor.run_steps(3);
    editor.get_by_role_and_label(Role::TextInput, "Your name").focus();
    editor.run_steps(2);
    editor.event(egui::Event::Text("A. Yard".to_owned()));
    editor.run_steps(2);
    editor
}

fn click(editor: &mut Editor, label: &str) {
    editor.get_by_label(label).click();
    editor.run_steps(3);
}

fn choose(editor: &mut Editor, row: &str) {
    let row = editor.query_all_by_label_contains(row).next().expect(row);
    // It may lie out of sight.
    row.click_accesskit();
    editor.run_steps(3);
}

fn type_over(editor: &mut Editor, field: &str, words: &str) {
    editor.get_by_role_and_label(Role::TextInput, field).focus();
    editor.run_steps(2);
    editor.key_press_modifiers(Modifiers::COMMAND, Key::A);
    editor.event(egui::Event::Text(words.to_owned()));
    key(editor, Key::Enter);
}

/// Where a string was recorded: tier, lane, front end in mm, missing.
fn recorded_at(editor: &Editor, string: &str) -> Option<(u32, u32, i64, bool)> {
    let record = editor.state().document().plan().record(&mark(string))?;
    Some((record.tier, record.lane, record.front.mm(), record.missing))
}

#[test]
fn a_record_is_made_in_a_name_and_without_one_it_is_asked_for() {
    let mut editor = editor(plans::small());
    editor.state_mut().ask(Request::Command(Command::Show(View::RackWalk)));
    editor.run_steps(3);
    choose(&mut editor, "walk C: ");
    click(&mut editor, "As planned");
    assert_eq!(recorded_at(&editor, "C"), None);
    assert!(editor.query_by_label_contains("enter your name above first").is_some());
}

#[test]
fn a_click_on_an_empty_pocket_records_that_the_string_lies_there() {
    let mut editor = view(plans::small(), View::RackWalk);
    choose(&mut editor, "walk C: ");
    click(&mut editor, "tier 3 lane 5 here: empty");
    assert_eq!(recorded_at(&editor, "C"), Some((3, 5, 3_017, false)));
    click(&mut editor, "tier 1 lane 3 here: A, not confirmed");
    assert_eq!(editor.state().selection().only_string(), Some(&mark("A")), "a taken pocket is chosen");
    assert_eq!(recorded_at(&editor, "A"), None);
}

#[test]
fn a_string_is_missing_and_another_is_found_that_the_plan_leaves_in_the_yard() {
    let mut editor = view(plans::small(), View::RackWalk);
    choose(&mut editor, "walk A: ");
    click(&mut editor, "Not on the train");
    assert_eq!(recorded_at(&editor, "A"), Some((1, 3, 3_017, true)));
    choose(&mut editor, "walk E: ");
    click(&mut editor, "It lies on the train");
    let (tier, lane, ..) = recorded_at(&editor, "E").expect("it is recorded in a free pocket");
    assert!((tier, lane) != (1, 4) && (tier, lane) != (2, 3), "B and C lie there");
    type_over(&mut editor, "Lane seen", "6");
    assert_eq!(recorded_at(&editor, "E").unwrap().1, 6);
    let loaded = editor.state().document().recorded().loaded();
    assert_eq!((loaded.strings_that_differ(), loaded.confirmed(), loaded.planned), (2, 1, 3));
    key(&mut editor, Key::Escape);
    click(&mut editor, "Take record back");
    assert_eq!(recorded_at(&editor, "E"), None);
}

#[test]
fn from_the_rear_the_rear_end_is_met_first_and_measured_toward_the_front() {
    let mut editor = view(plans::small(), View::RackWalk);
    editor.get_by_role_and_label(Role::ComboBox, "walk from").click();
    editor.run_steps(3);
    click(&mut editor, "the rear");
    // C ends at 3.017 + 20.5 = 23.517 m; the rack passed before it stands at 19.9 + 9.95 = 29.85 m.
    choose(&mut editor, "walk C: ");
    let field = editor.get_by_role_and_label(Role::TextInput, "Rear end, measured").value();
    assert_eq!(field.as_deref(), Some("6.333"));
    type_over(&mut editor, "Rear end, measured", "5.933");
    assert_eq!(recorded_at(&editor, "C"), Some((2, 3, 3_417, false)), "0.4 m farther back");
}

#[test]
fn all_that_begin_at_a_rack_are_confirmed_at_once() {
    let mut editor = view(plans::small(), View::RackWalk);
    choose(&mut editor, "walk C: ");
    click(&mut editor, "Confirm all 3 that begin at W1 rack 1");
    assert_eq!(editor.state().document().recorded().loaded().not_confirmed, []);
    assert_eq!(editor.state().document().history().undo_label(), Some("Confirm 3 strings as planned"));
}

/// Every wheel of the train as it truly stands, midway between a stiff and a soft body.
fn weighed(truth: Plan) -> Vec<Weighing> {
    let vehicles = truth.train.vehicles.clone();
    let figures = Figures::of(Arc::new(truth), Scope::One(0));
    let mut readings = Vec::new();
    for (vehicle, loads) in vehicles.iter().zip(&figures.worked[0].vehicles) {
        for axle in 1..=4_u32 {
            let support = &loads.supports[usize::from(axle > 2)];
            let left_kg = f64::midpoint(support.stiff.left_kg, support.soft.left_kg);
            let parts = [
                (WeighedPart::LeftWheel(axle), left_kg),
                (WeighedPart::RightWheel(axle), support.axle_kg - left_kg),
            ];
            readings.extend(parts.map(|(part, kg)| Weighing {
                vehicle: vehicle.mark.clone(),
                part,
                kg,
                tolerance: Some(0.01),
                by: "A. Yard".to_owned(),
                at: String::new(),
            }));
        }
    }
    readings
}

#[test]
fn the_cause_of_a_misfit_is_named_and_recorded_and_then_the_readings_fit() {
    let mut truth = plans::small();
    truth.placements[2].lane = 6;
    let mut plan = plans::small();
    plan.weighings = weighed(truth);
    let mut editor = view(plan, View::Weighings);
    assert!(editor.query_by_label_contains("string C lies in lane 6").is_some());
    click(&mut editor, "Show cause 1");
    assert_eq!(editor.state().selection().only_string(), Some(&mark("C")));
    click(&mut editor, "Record cause 1");
    assert_eq!(recorded_at(&editor, "C"), Some((2, 6, 3_017, false)), "in the tier that is planned");
    assert!(editor.query_by_label_contains("Nothing to explain").is_some());
}

#[test]
fn pasted_rows_are_entered_and_those_that_cannot_be_read_are_named() {
    let mut editor = view(plans::small(), View::Weighings);
    click(&mut editor, "Paste rows");
    editor.get_by_label("Rows of readings").focus();
    editor.run_steps(2);
    editor.event(egui::Event::Paste("W1\taxle 1\t6900\nW9\taxle 1\t6900\nW2\twhole\t26,4 t\t1".to_owned()));
    editor.run_steps(3);
    assert!(editor.query_by_label_contains("line 2: left out: the train has no vehicle").is_some());
    click(&mut editor, "Enter 2 readings");
    let readings = &editor.state().document().plan().weighings;
    let told: Vec<_> = readings.iter().map(|one| (one.part, one.kg, one.tolerance)).collect();
    assert_eq!(told, [(WeighedPart::Axle(1), 6_900.0, None), (WeighedPart::Vehicle, 26_400.0, Some(0.01))]);
}
