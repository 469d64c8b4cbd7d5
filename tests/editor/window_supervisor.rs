//! The supervisor's work on sample (c), saved to a file; the real window must record, weigh and sign the same.

use crate::noted_hands::{NotedHands, result_of_window};
use crate::plans::mark;
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable as _;
use longstow::format::{self, plan_hash};
use longstow::gui::{Start, Workbench};
use longstow::model::{Plan, WeighedPart};
use longstow::report::Judged;
use std::path::Path;

const TICKED: &str = "S01 L";
const SHIFTED: &str = "S07 L";

fn enter(hands: &mut NotedHands, field: &str, words: &str) {
    hands.click_field(field);
    hands.key(Modifiers::COMMAND, Key::A, "ctrl+a");
    hands.text(words);
    hands.key(Modifiers::NONE, Key::Enter, "Return");
}

/// Walks, ticks a string and enters another farther back, looks at the load as it is, weighs two axles, signs, saves.
fn work(path: &Path) -> NotedHands {
    let mut workbench = Workbench::at_start(Start::default());
    workbench.open_path(path);
    let mut hands = NotedHands::on(workbench);
    hands.click("Rack walk");
    hands.click_field("Your name");
    hands.text("Holm");
    hands.click(&format!("walk {TICKED}: not confirmed"));
    hands.click("As planned");
    hands.click(&format!("walk {SHIFTED}: not confirmed"));
    enter(&mut hands, "Front end, measured", "6,334");
    hands.click("Judge the load as it is");
    assert_eq!(hands.editor.state().judged(), Judged::AsLoaded);
    assert!(hands.editor.query_all_by_label_contains("broken").next().is_some(), "the verdict is another");
    hands.click("Weighings");
    enter(&mut hands, "The scale's tolerance", "1");
    enter(&mut hands, "W01 axle 1", "6900");
    enter(&mut hands, "W01 axle 2", "6910");
    hands.click("Rack walk");
    hands.click("Sign as Holm");
    hands.key(Modifiers::COMMAND, Key::S, "ctrl+s");
    hands
}

fn expect_done(plan: &Plan) {
    let planned = |string: &str| plan.placement(&mark(string)).unwrap().front.mm();
    let record = |string: &str| plan.record(&mark(string)).unwrap();
    assert_eq!(plan.as_loaded.len(), 2);
    assert_eq!(record(TICKED).front.mm(), planned(TICKED));
    assert_eq!(record(SHIFTED).front.mm(), planned(SHIFTED) + 3_000, "the plan as meant stays");
    assert!(plan.as_loaded.iter().all(|record| record.by == "Holm" && !record.at.is_empty()));
    let readings: Vec<_> = plan.weighings.iter().map(|one| (one.part, one.kg, one.tolerance)).collect();
    let tolerance = Some(0.01);
    let expected = [(WeighedPart::Axle(1), 6_900.0, tolerance), (WeighedPart::Axle(2), 6_910.0, tolerance)];
    assert_eq!(readings, expected);
    assert_eq!(plan.signatures.len(), 1);
    assert_eq!(plan.signatures[0].hash, plan_hash(plan), "what was signed is what was saved");
}

#[test]
fn window_signed() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("c-two-sites.longstow");
    std::fs::copy(Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-loads/c-two-sites.longstow"), &path)
        .unwrap();
    let hands = work(&path);
    expect_done(&format::read(&std::fs::read(&path).unwrap()).unwrap());
    hands.keep();
    if let Some(result) = result_of_window() {
        expect_done(&format::read(&result).unwrap());
    }
}
