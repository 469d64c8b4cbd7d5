//! The trainee's work in the window, from the first start: the real window must keep the same exercises as solved.

use crate::noted_hands::{NotedHands, result_of_window};
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable as _;
use longstow::gui::{Start, Workbench};

/// What the settings say after the work.
const SOLVED: &str = "exercises solved = axle-load both-bogies greatest-count rack-load";

fn answer(hands: &mut NotedHands, field: &str, words: &str) {
    hands.click_field(field);
    hands.key(Modifiers::COMMAND, Key::A, "ctrl+a");
    hands.text(words);
    hands.key(Modifiers::NONE, Key::Enter, "Return");
}

/// Goes to the exercises, asks how a load came about, answers by figures and by sliders, and ends at the sliders of
/// the teaching train.
fn work() -> NotedHands {
    let mut hands = NotedHands::on(Workbench::at_start(Start::default()));
    hands.click("Learn with exercises");
    hands.click("How? K2 rack 2");
    assert!(hands.editor.query_by_label("How it came about").is_some());
    hands.key(Modifiers::NONE, Key::Escape, "Escape");
    assert!(hands.editor.query_by_label("How it came about").is_none());
    answer(&mut hands, "Your answer", "0.32");
    // The keyboard is on the way to the next exercise.
    hands.key(Modifiers::NONE, Key::Enter, "Return");
    answer(&mut hands, "Your answer", "6.693");
    hands.click("Go on");
    for (field, words) in [("Number of strings", "36"), ("Front end of the strings", "15")] {
        answer(&mut hands, field, words);
        hands.click("Check the answer");
        assert!(hands.editor.query_by_label("Right.").is_some(), "{field}");
        hands.click("Go on");
    }
    assert!(hands.editor.query_by_label_contains("Find the lane for S03").is_some());
    hands.click("the teaching train");
    let slider = hands.editor.get_by_role_and_label(egui::Role::Slider, "Strings").rect();
    hands.drag(slider.left_center() + egui::vec2(84.0, 0.0), slider.right_center() - egui::vec2(20.0, 0.0));
    hands
}

#[test]
fn window_trained() {
    let hands = work();
    let plots = hands.editor.query_all_by_label_contains("Plot of axle load over strings").next();
    assert!(plots.is_some(), "the plots follow the slider");
    hands.keep();
    if let Some(settings) = result_of_window() {
        let settings = String::from_utf8(settings).unwrap();
        assert!(settings.lines().any(|line| line == SOLVED), "{settings}");
    }
}
