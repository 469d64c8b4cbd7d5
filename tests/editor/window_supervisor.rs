//! The supervisor's work on sample (c) in the window: the real window must save the same records, readings and signature.

use crate::noted_hands::{NotedHands, result_of_window};
use crate::plans::mark;
use egui::{Key, Modifiers, Role};
use egui_kittest::kittest::Queryable as _;
use longstow::format::{self, plan_hash};
use longstow::gui::{Start, Workbench};
use longstow::model::Plan;
use std::path::Path;

const TICKED: &str = "S01 L";
const SHIFTED: &str = "S07 L";

fn sample() -> Vec<u8> {
    std::fs::read(Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-loads/c-two-sites.longstow")).unwrap()
}

fn type_over(hands: &mut NotedHands, words: &str) {
    hands.key(Modifiers::COMMAND, Key::A, "ctrl+a");
    hands.text(words);
    hands.key(Modifiers::NONE, Key::Enter, "Return");
}

/// Ticks one string, enters another 3 m farther back, looks at what that breaks, weighs two axles, signs and saves.
fn work(path: &Path) -> NotedHands {
    let mut workbench = Workbench::at_start(Start::default());
    workbench.open_path(path);
    let mut hands = NotedHands::on(workbench);
    hands.click("Rack walk");
    hands.click_field("Your name");
    type_over(&mut hands, "M. Holm");
    hands.click_on(Role::ListItem, &format!("walk {TICKED}: "));
    hands.click("As planned");
    hands.click_on(Role::ListItem, &format!("walk {SHIFTED}: "));
    hands.click_field("Front end, measured");
    type_over(&mut hands, "6,334");
    hands.click("Judge the load as it is");
    hands.click("Weighings");
    hands.click_field("The scale's tolerance");
    type_over(&mut hands, "1");
    for (field, kg) in [("W01 axle 1", "6900"), ("W01 axle 2", "6910")] {
        hands.click_field(field);
        type_over(&mut hands, kg);
    }
    hands.click("Rack walk");
    hands.click("Sign as M. Holm");
    assert_eq!(hands.editor.state().document().plan().signatures.len(), 1);
    hands.key(Modifiers::COMMAND, Key::S, "ctrl+s");
    assert!(hands.editor.query_by_label("Save").is_none(), "no question was left open");
    hands
}

/// That `plan` is the sample with just the work done.
fn expect_done(plan: &Plan) {
    let before = format::read(&sample()).unwrap();
    assert_eq!(plan.placements, before.placements, "the plan as meant stays");
    let front_mm = |string: &str| plan.record(&mark(string)).map(|record| record.front.mm());
    let meant_mm = |string: &str| before.placement(&mark(string)).map(|placement| placement.front.mm());
    assert_eq!(front_mm(TICKED), meant_mm(TICKED));
    assert_eq!(front_mm(SHIFTED), meant_mm(SHIFTED).map(|mm| mm + 3_000));
    let kg: Vec<f64> = plan.weighings.iter().map(|reading| reading.kg).collect();
    assert_eq!(kg, [6_900.0, 6_910.0]);
    let signed: Vec<&str> = plan.signatures.iter().map(|signature| signature.hash.as_str()).collect();
    assert_eq!(signed, [plan_hash(plan)], "signed as it is");
}

/// The plan without the times at which things were done, and without the hash, which covers them.
fn timeless(mut plan: Plan) -> Plan {
    plan.as_loaded.iter_mut().for_each(|record| record.at.clear());
    plan.weighings.iter_mut().for_each(|reading| reading.at.clear());
    for signature in &mut plan.signatures {
        signature.at.clear();
        signature.hash.clear();
    }
    plan
}

#[test]
fn window_supervised() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("c-two-sites.longstow");
    std::fs::write(&path, sample()).unwrap();
    let hands = work(&path);
    let plan = format::read(&std::fs::read(&path).unwrap()).unwrap();
    expect_done(&plan);
    hands.keep();
    if let Some(result) = result_of_window() {
        let of_window = format::read(&result).unwrap();
        expect_done(&of_window);
        assert_eq!(timeless(of_window), timeless(plan), "the real window saved another plan");
    }
}
