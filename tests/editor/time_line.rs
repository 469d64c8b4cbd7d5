//! The time line by mouse and by keys: scrubbing, playing, tracks, and steps, drops and the order put in order.

use crate::harness::press_and_move;
use crate::harness::{Editor, drag, editor, editor_of_size, focus, focused, key, keys, rect_of, shot};
use crate::plans;
use egui::{Key, Modifiers, Pos2, Rect, pos2, vec2};
use egui_kittest::kittest::Queryable as _;
use longstow::gui::{Request, Tab};

/// The marks of the steps by drop.
fn steps(editor: &Editor) -> Vec<String> {
    let drops = &editor.state().document().plan().drops;
    let marks = |drop: &longstow::model::Drop| {
        let marks = drop.steps.iter().flat_map(|step| step.strings.marks()).map(|mark| mark.to_string());
        format!("{}: {}", drop.name, marks.collect::<Vec<_>>().join(" "))
    };
    drops.iter().map(marks).collect()
}

fn order(editor: &Editor) -> Vec<String> {
    editor.state().document().plan().order.iter().map(|string| string.mark.to_string()).collect()
}

fn show_tab(editor: &mut Editor, tab: Tab) {
    editor.state_mut().ask(Request::ShowTab(tab));
    editor.run_steps(3);
}

fn state(editor: &Editor) -> usize {
    editor.state().state()
}

fn middle(editor: &Editor, label: &str) -> Pos2 {
    rect_of(editor, label).center()
}

fn count(editor: &Editor) -> usize {
    editor.state().document().figures().states.len()
}

#[test]
fn the_pointer_pressed_on_the_plot_shows_the_states_that_it_passes() {
    let mut editor = editor(plans::small());
    let plot = rect_of(&editor, "use over the states");
    let at = |share: f32| pos2(plot.left() + plot.width() * share, plot.center().y);
    press_and_move(&mut editor, at(0.05), at(0.55));
    let there = state(&editor);
    assert_eq!(there, (count(&editor) as f32 * 0.55) as usize, "while the button is down");
    editor.hover_at(at(0.99));
    editor.run_steps(2);
    assert_eq!(state(&editor), count(&editor) - 1);
    editor.drop_at(at(0.99));
    editor.run_steps(2);
    editor.hover_at(at(0.1));
    editor.run_steps(2);
    assert_eq!(state(&editor), count(&editor) - 1, "let go, it shows nothing more");
}

#[test]
fn a_drag_along_the_boxes_shows_their_states_too() {
    let mut editor = editor(plans::small());
    let (from, to) = (middle(&editor, "State: departure"), middle(&editor, "State: after step 2 of East"));
    drag(&mut editor, from, to);
    assert_eq!(state(&editor), 2);
}

#[test]
fn the_states_are_played_to_the_end_and_again_from_the_beginning() {
    let mut editor = editor(plans::small());
    let last = count(&editor) - 1;
    key(&mut editor, Key::F12);
    editor.run_steps(35);
    assert_eq!(state(&editor), 1, "half a second later");
    for _ in 0..last + 1 {
        editor.run_steps(32);
    }
    assert_eq!(state(&editor), last);
    assert!(editor.query_by_label("Play the states").is_some(), "it stops at the end");
    editor.get_by_label("Play the states").click();
    editor.run_steps(3);
    assert_eq!(state(&editor), 0);
    editor.run_steps(35);
    assert_eq!(state(&editor), 1);
    editor.get_by_label("Pause the states").click();
    editor.run_steps(60);
    assert_eq!(state(&editor), 1);
}

#[test]
fn choosing_a_state_stops_the_play() {
    let mut editor = editor(plans::small());
    key(&mut editor, Key::F12);
    editor.run_steps(35);
    key(&mut editor, Key::CloseBracket);
    let chosen = state(&editor);
    editor.run_steps(80);
    assert_eq!(state(&editor), chosen);
    assert!(editor.query_by_label("Play the states").is_some());
}

#[test]
fn a_check_becomes_a_track_by_keys_and_the_pane_grows_for_it() {
    let mut editor = editor(plans::small());
    let before = rect_of(&editor, "State: departure").top() - rect_of(&editor, "use over the states").top();
    focus(&mut editor, "Tracks");
    key(&mut editor, Key::Enter);
    editor.run_steps(3);
    shot(&mut editor, "tracks-menu");
    for check in ["Load of a rack", "Left and right wheel loads"] {
        editor.get_by_role_and_label(egui::Role::CheckBox, check).focus();
        editor.run_steps(2);
        key(&mut editor, Key::Space);
    }
    key(&mut editor, Key::Escape);
    editor.run_steps(4);
    let track = rect_of_first(&editor, "track Load of a rack");
    let plot = rect_of(&editor, "use over the states");
    assert!(track.top() >= plot.bottom() && track.height() > 20.0, "{track} under {plot}");
    let after = rect_of(&editor, "State: departure").top() - plot.top();
    assert!(after > before + 50.0, "from {before} to {after}");
    shot(&mut editor, "tracks");
    // A track is scrubbed as the plot is.
    drag(&mut editor, track.left_center() + vec2(5.0, 8.0), track.right_center() + vec2(-5.0, 8.0));
    assert_eq!(state(&editor), count(&editor) - 1);
    editor.get_by_label("Remove the track Load of a rack").click();
    editor.run_steps(4);
    assert!(editor.query_by_label_contains("track Load of a rack ").is_none());
}

fn rect_of_first(editor: &Editor, words: &str) -> Rect {
    editor.get_all_by_label_contains(words).next().unwrap().rect()
}

#[test]
fn a_step_is_dragged_within_its_drop_and_into_another() {
    let mut editor = editor(plans::small());
    assert_eq!(steps(&editor), ["East: A B E", "West: C D"]);
    let (from, to) = (middle(&editor, "Step 1 of East: A"), rect_of(&editor, "Step 3 of East: E"));
    press_and_move(&mut editor, from, pos2(to.right() - 4.0, to.center().y));
    assert!(editor.state().preview().is_some(), "what it would do is worked out while it is dragged");
    shot(&mut editor, "step-dragged");
    editor.drop_at(pos2(to.right() - 4.0, to.center().y));
    editor.run_steps(3);
    assert_eq!(steps(&editor), ["East: B E A", "West: C D"]);
    let (from, to) = (middle(&editor, "Step 2 of East: E"), rect_of(&editor, "Step 2 of West: D"));
    drag(&mut editor, from, pos2(to.left() + 4.0, to.center().y));
    assert_eq!(steps(&editor), ["East: B A", "West: C E D"]);
    keys(&mut editor, Modifiers::COMMAND, Key::Z);
    keys(&mut editor, Modifiers::COMMAND, Key::Z);
    assert_eq!(steps(&editor), ["East: A B E", "West: C D"], "each is one step back");
}

#[test]
fn escape_leaves_a_dragged_step_where_it_was() {
    let mut editor = editor(plans::small());
    let (from, to) = (middle(&editor, "Step 1 of East: A"), middle(&editor, "Step 2 of West: D"));
    press_and_move(&mut editor, from, to);
    editor.key_press(Key::Escape);
    editor.run_steps(2);
    assert!(editor.state().preview().is_none());
    editor.drop_at(to);
    editor.run_steps(3);
    assert_eq!(steps(&editor), ["East: A B E", "West: C D"]);
}

#[test]
fn a_drop_is_dragged_before_another_and_moved_back_by_keys() {
    let mut editor = editor(plans::small());
    let (from, to) = (middle(&editor, "Drop West"), rect_of(&editor, "Drop East"));
    drag(&mut editor, from, pos2(to.left() + 3.0, to.center().y));
    assert_eq!(steps(&editor), ["West: C D", "East: A B E"]);
    focus(&mut editor, "Drop West");
    keys(&mut editor, Modifiers::SHIFT, Key::ArrowRight);
    assert_eq!(steps(&editor), ["East: A B E", "West: C D"]);
    assert_eq!(focused(&editor).as_deref(), Some("Drop West"), "the keyboard goes along");
}

#[test]
fn a_step_goes_along_by_shift_and_the_arrow_keys() {
    let mut editor = editor(plans::small());
    focus(&mut editor, "Step 3 of East: E");
    keys(&mut editor, Modifiers::SHIFT, Key::ArrowRight);
    assert_eq!(steps(&editor), ["East: A B", "West: E C D"]);
    assert_eq!(focused(&editor).as_deref(), Some("Step 1 of West: E"));
    keys(&mut editor, Modifiers::SHIFT, Key::ArrowLeft);
    keys(&mut editor, Modifiers::SHIFT, Key::ArrowLeft);
    assert_eq!(steps(&editor), ["East: A E B", "West: C D"]);
}

#[test]
fn a_step_is_chosen_with_its_strings_and_the_state_after_it() {
    let mut editor = editor(plans::small());
    let at = middle(&editor, "Step 2 of East: B");
    editor.hover_at(at);
    editor.step();
    editor.drag_at(at);
    editor.drop_at(at);
    editor.run_steps(3);
    assert_eq!(editor.state().selection().only_string(), Some(&plans::mark("B")));
    assert_eq!(state(&editor), 2);
}

#[test]
fn in_the_form_steps_are_dragged_by_their_handles_between_rows_and_onto_other_drops() {
    let mut editor = editor(plans::small());
    show_tab(&mut editor, Tab::Drops);
    let (from, to) = (middle(&editor, "Order of the step of A"), rect_of(&editor, "Order of the step of B"));
    press_and_move(&mut editor, from, to.center_bottom() - vec2(0.0, 2.0));
    shot(&mut editor, "form-step-dragged");
    editor.drop_at(to.center_bottom() - vec2(0.0, 2.0));
    editor.run_steps(3);
    assert_eq!(steps(&editor), ["East: B A E", "West: C D"]);
    let west =
        editor.get_all_by_label("West").map(|node| node.rect()).min_by(|a, b| a.top().total_cmp(&b.top()));
    let from = middle(&editor, "Order of the step of E");
    drag(&mut editor, from, west.unwrap().center());
    assert_eq!(steps(&editor), ["East: B A", "West: C D E"]);
    focus(&mut editor, "Order of the step of A");
    key(&mut editor, Key::ArrowUp);
    assert_eq!(steps(&editor), ["East: A B", "West: C D E"]);
    key(&mut editor, Key::ArrowDown);
    key(&mut editor, Key::ArrowDown);
    assert_eq!(steps(&editor), ["East: B A", "West: C D E"], "no farther than the end");
}

#[test]
fn lines_of_the_order_are_dragged_by_their_handles_and_moved_by_keys() {
    let mut editor = editor(plans::small());
    show_tab(&mut editor, Tab::Order);
    let (from, to) = (middle(&editor, "Order of A"), rect_of(&editor, "Order of C"));
    press_and_move(&mut editor, from, to.center_bottom());
    shot(&mut editor, "order-dragged");
    editor.drop_at(to.center_bottom());
    editor.run_steps(3);
    assert_eq!(order(&editor), ["B", "C", "A", "D", "E"]);
    let (from, to) = (middle(&editor, "Order of A"), middle(&editor, "Order of B"));
    press_and_move(&mut editor, from, to);
    editor.key_press(Key::Escape);
    editor.run_steps(2);
    editor.drop_at(to);
    editor.run_steps(3);
    assert_eq!(order(&editor), ["B", "C", "A", "D", "E"], "Escape leaves it");
    focus(&mut editor, "Order of A");
    key(&mut editor, Key::ArrowUp);
    key(&mut editor, Key::ArrowUp);
    assert_eq!(order(&editor), ["A", "B", "C", "D", "E"]);
    assert_eq!(focused(&editor).as_deref(), Some("Order of A"));
}

#[test]
fn a_dragged_line_pulls_a_long_order_along() {
    let mut editor = editor(plans::long());
    show_tab(&mut editor, Tab::Order);
    let from = middle(&editor, "Order of S01");
    let low = rect_of(&editor, "State: departure").top() - 60.0;
    press_and_move(&mut editor, from, pos2(from.x, low));
    editor.run_steps(200);
    editor.drop_at(pos2(from.x, low));
    editor.run_steps(3);
    let at = order(&editor).iter().position(|mark| mark == "S01").unwrap();
    assert!(at > 12, "it went to {at}, far below what was in sight");
}

#[test]
fn all_columns_of_order_and_limits_lie_in_sight_in_a_small_window() {
    let mut editor = editor(plans::small());
    show_tab(&mut editor, Tab::Order);
    shot(&mut editor, "order-narrow");
    let right = rect_of(&editor, "Search findings").left();
    for name in ["Remove A", "Order of A"] {
        let rect = rect_of(&editor, name);
        assert!(rect.right() < right, "{name}: {rect}");
    }
    show_tab(&mut editor, Tab::Limits);
    shot(&mut editor, "limits-narrow");
    for part in ["while travelling", "between steps", "source", "how sure"] {
        let part = format!(", {part}");
        let fields = editor.get_all_by_label_contains(&part);
        let rights: Vec<f32> = fields.map(|node| node.rect().right()).collect();
        assert!(
            !rights.is_empty() && rights.iter().all(|at| *at < right),
            "{part}: {rights:?} beyond {right}"
        );
    }
}

#[test]
fn many_states_scroll_along_with_the_one_shown() {
    let mut plan = plans::long();
    let all: Vec<_> = plan.drops.iter().flat_map(|drop| drop.steps.clone()).collect();
    // Empty drops count as states, too: more of them than fit.
    for number in 0..60 {
        let name = longstow::model::DropName::new(&format!("Site {number}")).unwrap();
        let steps = Vec::new();
        plan.drops.push(longstow::model::Drop { name, steps, ..plan.drops[0].clone() });
    }
    assert!(all.len() + 60 > 100);
    let mut editor = editor(plan);
    assert!(editor.query_by_label_contains("State: after Site 59").is_none(), "out of view");
    keys(&mut editor, Modifiers::COMMAND, Key::End);
    editor.run_steps(3);
    let end = rect_of_first(&editor, "State: after Site 59");
    assert!(editor.ctx.content_rect().contains_rect(end), "{end}");
    shot(&mut editor, "many-states");
    keys(&mut editor, Modifiers::COMMAND, Key::Home);
    editor.run_steps(3);
    assert!(editor.query_by_label("State: departure").is_some());
    // The pointer that drags at the edge pulls the columns along.
    let plot = rect_of(&editor, "use over the states");
    press_and_move(&mut editor, plot.center(), pos2(plot.right() - 3.0, plot.center().y));
    let there = state(&editor);
    editor.run_steps(30);
    assert!(state(&editor) > there + 5, "from {there} to {}", state(&editor));
    editor.drop_at(plot.center());
}

#[test]
fn resting_on_a_state_tells_what_is_worst_in_it() {
    let mut editor = editor(plans::small());
    editor.hover_at(middle(&editor, "State: after step 1 of East"));
    editor.run_steps(60);
    assert!(editor.query_by_label_contains("state 2 of ").is_some());
    assert!(editor.query_by_label_contains(" on the train, ").is_some());
    shot(&mut editor, "state-card");
}

#[test]
fn the_time_line_is_drawn_light_and_dark_small_and_large() {
    for (width, height) in [(1280.0, 800.0), (2560.0, 1440.0)] {
        let mut editor = editor_of_size(plans::long(), width, height);
        for theme in [egui::Theme::Light, egui::Theme::Dark] {
            editor.ctx.set_theme(theme);
            editor.run_steps(3);
            shot(&mut editor, &format!("time-line-{width}-{theme:?}"));
        }
        let whole = editor.ctx.content_rect();
        for name in ["Drop East", "Drop West", "Tracks", "use over the states"] {
            assert!(whole.contains_rect(rect_of(&editor, name)), "{name}");
        }
    }
}
