//! The trainee's work from the first start: exercises, sliders, and asking how; once by mouse, once by keys.

use crate::hands::{Keyboard, Mouse};
use crate::harness::{Editor, editor, editor_of_size, editor_with, focused, rect_of, shot};
use crate::plans;
use egui::{Event, Key, Modifiers, Role, vec2};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use longstow::gui::{Command, Request, SAMPLES, Start, Tab, View, Workbench};

fn at_start() -> Editor {
    editor_with(Workbench::at_start(Start::default()), vec2(1280.0, 800.0))
}

fn what_if(mut editor: Editor) -> Editor {
    editor.state_mut().ask(Request::Command(Command::Show(View::WhatIf)));
    // Enough frames for all values along the plots.
    editor.run_steps(30);
    editor
}

fn is_there(editor: &Editor, words: &str) -> bool {
    editor.query_all_by_label_contains(words).next().is_some()
}

/// The label of the plot that is named so.
fn plot(editor: &Editor, begins: &str) -> String {
    let found = editor.query_all_by_label_contains(begins).next();
    found.and_then(|node| node.accesskit_node().label()).unwrap_or_default()
}

/// Types into a field in place of what stands there, and presses Enter.
fn type_into(editor: &mut Editor, field: &str, words: &str) {
    editor.get_by_role_and_label(Role::TextInput, field).focus();
    editor.run_steps(2);
    editor.key_press_modifiers(Modifiers::COMMAND, Key::A);
    editor.run_steps(1);
    editor.event(Event::Text(words.to_owned()));
    editor.run_steps(1);
    editor.key_press(Key::Enter);
    editor.run_steps(3);
}

fn expect_right(editor: &Editor, solved: usize) {
    assert!(editor.query_by_label("Right.").is_some(), "{solved}");
    assert!(is_there(editor, &format!("{solved} of 11 solved")), "{solved}");
}

#[test]
fn all_exercises_are_done_by_mouse_from_the_first_start() {
    let mut mouse = Mouse(at_start());
    mouse.click("Learn with exercises");
    mouse.0.run_steps(20);
    assert!(is_there(&mouse.0, "How much does rack 2 of wagon K2 carry?"));

    // Asked how: the working takes the place of the plots, and goes again.
    mouse.click("How? K2 rack 2");
    assert!(mouse.0.query_by_label("How it came about").is_some());
    assert!(is_there(&mouse.0, "Load on a rack: vehicle K2 rack 2"));
    mouse.click("Close");
    assert!(mouse.0.query_by_label("How it came about").is_none());

    // By halves, as most would reckon it first; then rightly.
    type_into(&mut mouse.0, "Your answer", "0.301");
    assert!(mouse.0.query_by_label("Not yet.").is_some() && is_there(&mouse.0, "It is more than that."));
    type_into(&mut mouse.0, "Your answer", "319.9 kg");
    expect_right(&mouse.0, 1);
    mouse.click("Go on");
    type_into(&mut mouse.0, "Your answer", "6,69");
    expect_right(&mouse.0, 2);
    mouse.click("Go on");
    solve_the_others(&mut mouse);
    expect_right(&mouse.0, 11);
    assert!(mouse.0.query_by_label("Go on").is_none(), "there is no more");
    assert!(mouse.0.state().document().plan().placements.is_empty(), "the open plan is untouched");
}

fn solve_the_others(mouse: &mut Mouse) {
    // The slider Strings lies left of the field; 35 leaves room for one more.
    type_into(&mut mouse.0, "Number of strings", "35");
    mouse.click("Check the answer");
    assert!(is_there(&mouse.0, "there is room for more"));
    type_into(&mut mouse.0, "Number of strings", "36");
    let turned = |mouse: &mut Mouse, solved: usize| {
        mouse.click("Check the answer");
        expect_right(&mouse.0, solved);
        mouse.click("Go on");
        mouse.0.run_steps(4);
    };
    turned(mouse, 3);
    type_into(&mut mouse.0, "Front end of the strings", "15");
    turned(mouse, 4);
    type_into(&mut mouse.0, "Lane of the string", "5");
    turned(mouse, 5);
    for (solved, choice) in [
        (6, "The two racks beside the gap, K2 rack 2 and K2 rack 3"),
        (7, "At K2 rack 2, on the middle wagon"),
        (8, "S03, S02, S01"),
        (9, "After S01 and S02"),
    ] {
        mouse.click(choice);
        turned(mouse, solved);
    }
    type_into(&mut mouse.0, "Front end of the strings", "6.8");
    turned(mouse, 10);
    mouse.click("They pass: no rating is broken");
    mouse.click("Check the answer");
    assert!(is_there(&mouse.0, "there was nothing to compare with"));
    mouse.click("They are undecided until a rating is entered");
    assert!(mouse.0.query_by_label("Not yet.").is_none(), "another answer is not marked yet");
    mouse.click("Check the answer");
}

#[test]
fn an_exercise_is_done_by_keys_alone() {
    let mut keys = Keyboard(at_start());
    keys.press_with(Modifiers::COMMAND, Key::E);
    keys.0.run_steps(20);
    // Asked how by its key: the working comes, and Escape puts it away.
    keys.press(Key::Questionmark);
    assert!(keys.0.query_by_label("How it came about").is_some());
    keys.press(Key::Escape);
    assert!(keys.0.query_by_label("How it came about").is_none());
    keys.tab_to("Your answer");
    keys.types("0.32");
    keys.press(Key::Enter);
    expect_right(&keys.0, 1);
    // The keyboard goes on by itself, to what comes next and to its answer.
    keys.expect_focus("Go on");
    keys.press(Key::Enter);
    keys.0.run_steps(4);
    keys.expect_focus("Your answer");
    keys.press(Key::Tab);
    keys.expect_focus("Hint");
    keys.press(Key::Enter);
    assert!(is_there(&keys.0, "Rack 1 stands above the pivot"));
    keys.press_with(Modifiers::SHIFT, Key::Tab);
    keys.types("6.693 t");
    keys.press(Key::Enter);
    expect_right(&keys.0, 2);
    keys.press(Key::Enter);
    keys.0.run_steps(4);
    // The third is answered by a slider: on to it, and back to the button.
    keys.expect_focus("Check the answer");
    keys.press(Key::Enter);
    assert!(is_there(&keys.0, "there is room for more"));
    keys.tab_to("Strings");
    keys.times(18, Key::ArrowRight);
    for _ in 0..4 {
        keys.press_with(Modifiers::SHIFT, Key::Tab);
        if focused(&keys.0).as_deref() == Some("Check the answer") {
            break;
        }
    }
    keys.press(Key::Enter);
    expect_right(&keys.0, 3);
    keys.press(Key::Enter);
    keys.0.run_steps(4);
    assert!(is_there(&keys.0, "so that both bogies of K2 carry alike"));
}

#[test]
fn sliders_turn_the_scratch_copy_and_the_plan_only_when_it_is_taken() {
    let mut editor = what_if(editor(SAMPLES[0].plan().unwrap()));
    let open = editor.state().document().plan().clone();
    let before = plot(&editor, "Plot of axle load over strings");
    assert!(before.contains("F2, front bogie: 14.47 t, at most 16.00 t"), "{before}");

    editor.get_by_role_and_label(Role::Slider, "Strings").focus();
    editor.run_steps(2);
    editor.key_press(Key::ArrowLeft);
    editor.run_steps(4);
    let after = plot(&editor, "Plot of axle load over strings");
    assert_ne!(before, after);
    assert_eq!(*editor.state().document().plan(), open, "the plan is as it was");

    let mut mouse = Mouse(editor);
    mouse.click("Take into the plan");
    let document = mouse.0.state().document();
    assert_eq!((document.plan().placements.len(), document.history().labels().len()), (31, 2));
    // What was taken is what the copy begins with now; undoing it brings the plan and the copy back.
    assert_eq!(plot(&mouse.0, "Plot of axle load over strings"), after);
    mouse.0.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    mouse.0.run_steps(6);
    assert_eq!(*mouse.0.state().document().plan(), open);
    assert_eq!(plot(&mouse.0, "Plot of axle load over strings"), before);
}

#[test]
fn a_slider_and_a_plot_are_turned_by_the_pointer() {
    let mut mouse = Mouse(what_if(editor(SAMPLES[0].plan().unwrap())));
    let count = |mouse: &Mouse| {
        mouse.0.get_by_role_and_label(Role::TextInput, "Number of strings").value().unwrap_or_default()
    };
    assert_eq!(count(&mouse), "32");
    let slider = mouse.0.get_by_role_and_label(Role::Slider, "Strings").rect();
    mouse.click_at(slider.left_center() + vec2(2.0, 0.0));
    assert_eq!(count(&mouse), "1");
    // The middle of the plot is the middle of 1 to 32.
    let plot = rect_of(&mouse.0, &plot(&mouse.0, "Plot of rack load over strings"));
    mouse.click_at(plot.center() + vec2(22.0, 0.0));
    let now: i64 = count(&mouse).parse().unwrap();
    assert!((15..=18).contains(&now), "{now}");
    mouse.click("Start again");
    assert_eq!(count(&mouse), "32");
}

#[test]
fn an_empty_plan_offers_the_teaching_train() {
    let mut workbench = Workbench::at_start(Start::default());
    workbench.ask(Request::Command(Command::New));
    let mut mouse = Mouse(what_if(editor_with(workbench, vec2(1280.0, 800.0))));
    assert!(is_there(&mouse.0, "Nothing lies on this train yet"));
    mouse.click("Use the teaching train");
    mouse.0.run_steps(30);
    let words = plot(&mouse.0, "Plot of axle load over strings");
    assert!(words.contains("K2, front bogie: 10.41 t, at most 16.00 t"), "{words}");
    assert!(is_there(&mouse.0, "Up to 36 it holds: with 37"), "what the curve shows is told");
    assert!(mouse.0.query_by_label("Take into the plan").is_none(), "there is nothing to take it into");
}

#[test]
fn numbers_of_the_tables_are_asked_how_by_pointer_and_by_key() {
    let mut editor = editor(plans::small());
    editor.state_mut().ask(Request::ShowTab(Tab::Vehicles));
    editor.run_steps(3);
    // The number under the header, of the first vehicle.
    let header = rect_of(&editor, "Gross");
    editor.hover_at(header.center_bottom() + vec2(0.0, 20.0));
    editor.run_steps(2);
    editor.key_press(Key::Questionmark);
    editor.run_steps(3);
    assert!(is_there(&editor, "Gross mass of a vehicle: vehicle W1"), "asked by the pointer");

    editor.state_mut().ask(Request::ShowTab(Tab::Racks));
    editor.run_steps(3);
    editor.get_by_role_and_label(Role::ListItem, "W1 rack 1").focus();
    editor.run_steps(2);
    editor.key_press(Key::ArrowRight);
    editor.run_steps(2);
    editor.key_press(Key::ArrowLeft);
    editor.run_steps(2);
    editor.key_press(Key::Questionmark);
    editor.run_steps(3);
    assert!(is_there(&editor, "Load on a rack: vehicle W1 rack 1"), "asked by keys");
}

#[test]
fn everything_is_in_sight_at_both_sizes_light_and_dark_in_other_units() {
    for (at, size, theme) in [
        (0, vec2(1280.0, 800.0), egui::Theme::Light),
        (3, vec2(1280.0, 800.0), egui::Theme::Dark),
        (1, vec2(2560.0, 1440.0), egui::Theme::Light),
    ] {
        let editor = editor_of_size(SAMPLES[at].plan().unwrap(), size.x, size.y);
        editor.ctx.set_theme(theme);
        let mut editor = what_if(editor);
        for label in ["Take into the plan", "Start again", "Number of strings", "Wagon looked at"] {
            assert!(editor.ctx.content_rect().contains_rect(rect_of(&editor, label)), "{label}");
        }
        for of in ["axle load", "balance", "rack load"] {
            let name = plot(&editor, &format!("Plot of {of} over strings"));
            let rect = rect_of(&editor, &name);
            assert!(rect.height() > 50.0 && editor.ctx.content_rect().contains_rect(rect), "{name}: {rect}");
        }
        shot(&mut editor, &format!("what-if-{at}"));
        editor.state_mut().ask(Request::Command(Command::Exercises));
        editor.run_steps(20);
        assert!(editor.ctx.content_rect().contains_rect(rect_of(&editor, "Check the answer")));
        shot(&mut editor, &format!("exercise-{at}"));
    }
}
