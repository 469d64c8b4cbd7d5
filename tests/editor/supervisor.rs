//! The supervisor's work on sample (c), from the verdict to a signature that no longer matches: once by the mouse,
//! with nothing but names and numbers typed, and once by keys alone.
//!
//! The verdict is read; the train is walked, a string ticked and another entered 3 m farther back than planned; the
//! load as it is fails, and the finding shows where; axles are weighed; the plan is signed and changed again.

use crate::hands::{Keyboard, Mouse};
use crate::harness::{Editor, at, editor_with, rect_of};
use crate::plans::mark;
use egui::{Key, Modifiers, Role, vec2};
use egui_kittest::kittest::Queryable as _;
use longstow::checks::{Outcome, Verdict};
use longstow::gui::{Start, Workbench};
use longstow::model::{AsLoaded, WeighedPart};
use longstow::report::Judged;
use std::path::Path;

const TICKED: &str = "S01 L";
const SHIFTED: &str = "S07 L";

fn opened() -> Editor {
    let mut workbench = Workbench::at_start(Start::default());
    workbench.open_path(&Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-loads/c-two-sites.longstow"));
    editor_with(workbench, vec2(1280.0, 800.0))
}

fn seen(editor: &Editor, words: &str) -> bool {
    editor.query_all_by_label_contains(words).next().is_some()
}

fn record(editor: &Editor, string: &str) -> AsLoaded {
    editor.state().document().plan().record(&mark(string)).expect(string).clone()
}

/// That the verdict is told, and that the findings begin with the gravest.
fn expect_verdict(editor: &Editor) {
    assert_eq!(editor.state().document().assessment().verdict(), Verdict::NothingOpen);
    assert!(seen(editor, "No fail, nothing undecided"));
    let worst = rect_of(editor, "judge as planned");
    assert!(editor.ctx.content_rect().contains_rect(worst));
}

/// That S01 L is recorded as planned and S07 L 3 m farther back, and that the load as it is fails for that.
fn expect_walked(editor: &Editor) {
    let planned = editor.state().document().plan().placement(&mark(TICKED)).unwrap();
    let ticked = record(editor, TICKED);
    assert_eq!((ticked.tier, ticked.lane, ticked.front), (planned.tier, planned.lane, planned.front));
    assert_eq!(ticked.by, "M. Holm");
    assert!(ticked.at.starts_with("20"), "{}", ticked.at);
    let front_mm = at(editor, SHIFTED).unwrap().2;
    assert_eq!(record(editor, SHIFTED).front.mm(), front_mm + 3_000, "the plan as meant stays");
    assert!(seen(editor, "2 of 46 confirmed"));
    assert!(seen(editor, "its front end is 3.000 m farther back than planned"));
    assert_eq!(editor.state().document().assessment().verdict(), Verdict::NothingOpen);
    assert_eq!(editor.state().document().as_loaded().1.verdict(), Verdict::Fails);
    assert!(seen(editor, "broken"), "the walk tells what the load as it is breaks");
}

/// That the finding about S07 L is shown, and that the string is seen where it was recorded.
fn expect_shown(editor: &Editor) {
    assert_eq!(editor.state().judged(), Judged::AsLoaded);
    let selection = editor.state().selection();
    let finding = selection.finding.as_ref().unwrap();
    assert!(finding.things.contains(&format!("string {SHIFTED}")), "{finding:?}");
    assert_eq!(selection.only_string(), Some(&mark(SHIFTED)));
    assert!(seen(editor, "Shown as loaded: strings cannot be moved here"));
}

/// The label of the gravest finding of the load as it is, in the list.
fn worst(editor: &Editor) -> String {
    let (figures, assessment) = editor.state().document().as_loaded();
    let worst = assessment.findings.iter().find(|finding| finding.outcome == Outcome::Fail).unwrap();
    format!("{}: {}, {}", worst.outcome.word(), worst.check.title, worst.subject.place(figures))
}

fn expect_weighed(editor: &Editor) {
    let readings = &editor.state().document().plan().weighings;
    let told: Vec<(WeighedPart, f64)> = readings.iter().map(|reading| (reading.part, reading.kg)).collect();
    assert_eq!(told, [(WeighedPart::Axle(1), 6_900.0), (WeighedPart::Axle(2), 6_910.0)]);
    assert!(readings.iter().all(|reading| reading.vehicle.as_str() == "W01" && reading.by == "M. Holm"));
    assert!(readings.iter().all(|reading| reading.tolerance == Some(0.01)));
}

fn expect_signed(editor: &Editor) {
    let plan = editor.state().document().plan();
    assert_eq!(plan.signatures.len(), 1);
    assert_eq!(plan.signatures[0].hash, longstow::format::plan_hash(plan));
    assert!(editor.query_by_label("signed").is_some());
    assert!(seen(editor, "the plan is unchanged since"));
}

fn expect_changed_since(editor: &Editor) {
    assert!(editor.query_by_label("changed since signed").is_some());
    assert!(seen(editor, "no longer matches"));
}

#[test]
fn the_supervisors_work_is_done_with_the_mouse_and_what_must_be_typed() {
    let mut hand = Mouse(opened());
    expect_verdict(&hand.0);
    hand.click("Rack walk");
    hand.click_on(Role::TextInput, "Your name");
    hand.types("M. Holm");
    hand.click_on(Role::ListItem, "walk S01 L: *");
    hand.click("As planned");
    hand.click_on(Role::ListItem, "walk S07 L: *");
    hand.click_on(Role::TextInput, "Front end, measured");
    hand.types_over("6,334");
    expect_walked(&hand.0);
    hand.click("Judge the load as it is");
    let worst = worst(&hand.0);
    hand.click(&worst);
    expect_shown(&hand.0);
    hand.click("Weighings");
    hand.click_on(Role::TextInput, "The scale's tolerance");
    hand.types_over("1");
    for (field, kg) in [("W01 axle 1", "6900"), ("W01 axle 2", "6,91 t")] {
        hand.click_on(Role::TextInput, field);
        hand.types_over(kg);
    }
    expect_weighed(&hand.0);
    hand.click("Rack walk");
    hand.click("Sign as M. Holm");
    expect_signed(&hand.0);
    hand.click_on(Role::ListItem, "walk S01 L: *");
    hand.click("Take record back");
    expect_changed_since(&hand.0);
    hand.click("Undo");
    expect_signed(&hand.0);
}

#[test]
fn the_supervisors_work_is_done_with_keys_alone() {
    let mut hands = Keyboard(opened());
    expect_verdict(&hands.0);
    hands.press_with(Modifiers::COMMAND, Key::Num4);
    hands.expect_focus("Your name");
    hands.types("M. Holm");
    hands.tab_to("walk S01 L: not confirmed");
    hands.press(Key::Enter);
    hands.expect_focus("walk S07 L: not confirmed");
    hands.tab_to("Front end, measured");
    hands.types("6.334 m");
    hands.press(Key::Enter);
    expect_walked(&hands.0);
    // Out of the field, in which letters are typed.
    hands.press(Key::Escape);
    hands.press(Key::J);
    hands.press(Key::F5);
    hands.press(Key::Enter);
    expect_shown(&hands.0);
    hands.press_with(Modifiers::COMMAND, Key::Num5);
    hands.tab_to("The scale's tolerance");
    hands.types("1");
    hands.press(Key::Enter);
    hands.tab_to("W01 axle 1");
    hands.types("6900");
    hands.press(Key::Enter);
    hands.expect_focus("W01 axle 2");
    hands.types("6910");
    hands.press(Key::Enter);
    hands.expect_focus("W01 axle 3");
    expect_weighed(&hands.0);
    hands.press_with(Modifiers::COMMAND, Key::Num4);
    hands.tab_to("Sign as M. Holm");
    hands.press(Key::Space);
    expect_signed(&hands.0);
    hands.tab_to("Take back the signature of M. Holm");
    hands.press_with(Modifiers::COMMAND, Key::Z);
    assert!(hands.0.state().document().plan().signatures.is_empty());
    hands.press_with(Modifiers::COMMAND, Key::Y);
    expect_signed(&hands.0);
    hands.press_with(Modifiers::COMMAND, Key::Num4);
    hands.expect_focus("walk S07 L: *");
    hands.press(Key::ArrowDown);
    hands.press(Key::Enter);
    expect_changed_since(&hands.0);
    assert_eq!(hands.0.state().judged(), Judged::AsLoaded);
}
