//! Pictures of the editor, written for eyes when `LONGSTOW_SHOTS` is set; what they must show is asserted.

use crate::harness::{Editor, editor, editor_with, rect_of, shot};
use crate::plans;
use egui::vec2;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
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

#[test]
fn a_middle_drag_pans_and_home_shows_the_whole_train_again() {
    let mut editor = editor(plans::small());
    let left = |editor: &Editor| rect_of(editor, "W2 rack 2 in the train side").left();
    let at_rest = left(&editor);
    let middle = rect_of(&editor, "train side").center();
    editor.hover_at(middle);
    editor.step();
    editor.key_press(egui::Key::Plus);
    editor.run_steps(2);
    let zoomed = left(&editor);
    let button = |pos, pressed| egui::Event::PointerButton {
        pos,
        button: egui::PointerButton::Middle,
        pressed,
        modifiers: egui::Modifiers::NONE,
    };
    // Below the rail, where nothing else can be taken hold of.
    let from = rect_of(&editor, "train side").center_bottom() - vec2(0.0, 20.0);
    editor.hover_at(from);
    editor.step();
    editor.event(button(from, true));
    editor.step();
    for step in 1..=4_u8 {
        editor.hover_at(from + vec2(-10.0 * f32::from(step), 0.0));
        editor.step();
    }
    editor.event(button(from + vec2(-40.0, 0.0), false));
    editor.run_steps(2);
    assert!((left(&editor) - (zoomed - 40.0)).abs() < 2.0, "{zoomed} to {}", left(&editor));
    editor.key_press(egui::Key::Home);
    editor.run_steps(2);
    assert!((left(&editor) - at_rest).abs() < 0.5);
}

#[test]
fn a_locked_string_says_so_and_stays_where_it_is() {
    let mut plan = plans::small();
    plan.placements[2].locked = true;
    let mut editor = editor(plan);
    let node = editor.get_by_label("string C in the train side");
    assert!(node.accesskit_node().data().description().unwrap().contains("locked"));
    let from = node.rect().center();
    crate::harness::press_and_move(&mut editor, from, from + vec2(120.0, 0.0));
    assert!(editor.state().preview().unwrap().refused.is_some());
    shot(&mut editor, "locked");
    editor.drop_at(from + vec2(120.0, 0.0));
    editor.run_steps(3);
    assert_eq!(crate::harness::at(&editor, "C"), Some((2, 3, 3_017)));
}
