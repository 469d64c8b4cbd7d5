//! Pictures of the editor, written for eyes when `LONGSTOW_SHOTS` is set; what they must show is asserted.

use crate::harness::{Editor, editor, editor_with, rect_of, shot};
use crate::plans;
use egui::vec2;
use egui_kittest::kittest::Queryable as _;
use longstow::gui::{Start, Workbench};
use std::path::Path;

fn sample(name: &str, width: f32, height: f32) -> Editor {
    let mut workbench = Workbench::at_start(Start::default());
    workbench.open_path(&Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-loads").join(name));
    editor_with(workbench, vec2(width, height))
}

#[test]
fn the_whole_of_a_long_train_is_shown_with_every_string_in_reach() {
    let editor = editor(plans::long());
    for string in 1..=50 {
        let rect = rect_of(&editor, &format!("string S{string:02} in the train side"));
        assert!(rect.width() > 400.0 && rect.height() >= 1.0, "S{string:02}: {rect}");
    }
}

#[test]
fn the_full_train_is_drawn_light_and_dark_small_and_large() {
    for (width, height) in [(1280.0, 800.0), (2560.0, 1440.0)] {
        let mut editor = sample("b-full-train.longstow", width, height);
        assert!(editor.query_by_label("train side").is_some());
        for theme in [egui::Theme::Light, egui::Theme::Dark] {
            editor.ctx.set_theme(theme);
            editor.run_steps(3);
            shot(&mut editor, &format!("b-{width}-{theme:?}"));
        }
    }
}

#[test]
fn zoomed_to_a_string_its_wagons_figures_can_be_read() {
    let mut editor = sample("a-six-flats.longstow", 1280.0, 800.0);
    let whole = rect_of(&editor, "train side");
    editor.hover_at(whole.center());
    editor.step();
    for _ in 0..6 {
        let unit = egui::MouseWheelUnit::Point;
        let modifiers = egui::Modifiers::COMMAND;
        let phase = egui::TouchPhase::Move;
        editor.event_modifiers(
            egui::Event::MouseWheel {
                unit,
                delta: vec2(0.0, 60.0),
                source: egui::MouseWheelSource::Wheel,
                phase,
                modifiers,
            },
            modifiers,
        );
        editor.run_steps(20);
    }
    shot(&mut editor, "a-zoomed");
    let seen = |label: &str| editor.query_by_label(label).is_some();
    assert!(seen("vehicle F3 in the train side") || seen("vehicle F4 in the train side"));
    assert!(!seen("vehicle F1 in the train side"), "the ends are out of view");
}
