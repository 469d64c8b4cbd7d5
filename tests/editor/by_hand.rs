//! Pairs, mirror, swap, whole tiers, exact places while dragging, and drags back to the yard list: by pointer and keys.

use crate::harness::{
    Editor, at, drag, editor, focus, key, keys, placement, press_and_move, rect_of, shot, show_rack,
};
use crate::plans;
use egui::{Event, Key, Modifiers, PointerButton, Pos2, vec2};
use egui_kittest::kittest::Queryable as _;

/// A place on a string of the train side, away from what lies over its middle.
fn grip(editor: &Editor, mark: &str) -> Pos2 {
    rect_of(editor, &format!("string {mark} in the train side")).center()
}

fn drop_with(editor: &mut Editor, pos: Pos2, modifiers: Modifiers) {
    let button = PointerButton::Primary;
    editor.event_modifiers(Event::PointerButton { pos, button, pressed: false, modifiers }, modifiers);
    editor.run_steps(3);
}

fn undo_steps(editor: &Editor) -> usize {
    editor.state().document().history().labels().len() - 1
}

fn types(editor: &mut Editor, words: &str) {
    for letter in words.chars() {
        editor.event(Event::Text(letter.to_string()));
        editor.step();
    }
    editor.step();
}

// A and B lie in lanes 3 and 4 of six: mirror images of each other, and alike.
#[test]
fn a_pair_is_dragged_as_one_and_parted_by_shift_or_by_the_switch() {
    let mut editor = editor(plans::small());
    show_rack(&mut editor, "W1 rack 1");
    let (from, to) =
        (rect_of(&editor, "tier 1 lane 3: A").center(), rect_of(&editor, "tier 2 lane 2: empty").center());
    drag(&mut editor, from, to);
    assert_eq!((at(&editor, "A"), at(&editor, "B")), (Some((2, 2, 3_017)), Some((2, 5, 3_017))));
    assert_eq!(undo_steps(&editor), 1);
    keys(&mut editor, Modifiers::COMMAND, Key::Z);

    press_and_move(&mut editor, from, to);
    drop_with(&mut editor, to, Modifiers::SHIFT);
    assert_eq!((at(&editor, "A"), at(&editor, "B")), (Some((2, 2, 3_017)), Some((1, 4, 3_017))));
    keys(&mut editor, Modifiers::COMMAND, Key::Z);

    editor.get_by_label("Pairs move as one").click();
    editor.run_steps(2);
    drag(&mut editor, from, to);
    assert_eq!((at(&editor, "A"), at(&editor, "B")), (Some((2, 2, 3_017)), Some((1, 4, 3_017))));
}

#[test]
fn a_pair_that_is_dragged_across_the_middle_changes_sides() {
    let mut editor = editor(plans::small());
    show_rack(&mut editor, "W1 rack 1");
    let (from, to) =
        (rect_of(&editor, "tier 1 lane 3: A").center(), rect_of(&editor, "tier 1 lane 6: empty").center());
    drag(&mut editor, from, to);
    assert_eq!((at(&editor, "A"), at(&editor, "B")), (Some((1, 6, 3_017)), Some((1, 1, 3_017))));
}

#[test]
fn a_pair_is_nudged_as_one_by_keys_until_p_parts_it() {
    let mut editor = editor(plans::small());
    focus(&mut editor, "string A in the train side");
    key(&mut editor, Key::Space);
    key(&mut editor, Key::ArrowRight);
    key(&mut editor, Key::ArrowUp);
    assert_eq!((at(&editor, "A"), at(&editor, "B")), (Some((2, 3, 3_027)), Some((2, 4, 3_027))));
    key(&mut editor, Key::P);
    key(&mut editor, Key::ArrowRight);
    assert_eq!((at(&editor, "A"), at(&editor, "B")), (Some((2, 3, 3_037)), Some((2, 4, 3_027))));
}

#[test]
fn a_typed_place_is_of_the_pair_too() {
    let mut editor = editor(plans::small());
    focus(&mut editor, "string A in the train side");
    key(&mut editor, Key::Space);
    let enter = |editor: &mut Editor, field: &str, words: &str| {
        editor.get_by_role_and_label(egui::Role::TextInput, field).focus();
        editor.run_steps(2);
        keys(editor, Modifiers::COMMAND, Key::A);
        editor.event(Event::Text(words.to_owned()));
        editor.run_steps(2);
        key(editor, Key::Enter);
    };
    enter(&mut editor, "Front end at", "3.5");
    enter(&mut editor, "Tier", "2");
    enter(&mut editor, "Lane", "1");
    assert_eq!((at(&editor, "A"), at(&editor, "B")), (Some((2, 1, 3_500)), Some((2, 6, 3_500))));
}

#[test]
fn m_mirrors_what_is_selected_and_x_swaps_two() {
    let mut editor = editor(plans::small());
    focus(&mut editor, "string C in the train side");
    key(&mut editor, Key::Space);
    key(&mut editor, Key::M);
    assert_eq!(at(&editor, "C"), Some((2, 4, 3_017)));
    key(&mut editor, Key::M);
    assert_eq!(at(&editor, "C"), Some((2, 3, 3_017)));
    focus(&mut editor, "string A in the train side");
    key(&mut editor, Key::Space);
    assert_eq!(editor.state().selection().strings.len(), 2);
    key(&mut editor, Key::X);
    assert_eq!((at(&editor, "A"), at(&editor, "C")), (Some((2, 3, 3_017)), Some((1, 3, 3_017))));
    assert_eq!(undo_steps(&editor), 3);
}

#[test]
fn dropped_with_ctrl_on_a_taken_pocket_pairs_swap_with_what_lies_there() {
    let mut editor = editor(plans::small());
    show_rack(&mut editor, "W1 rack 1");
    let (from, to) =
        (rect_of(&editor, "tier 2 lane 3: C").center(), rect_of(&editor, "tier 1 lane 3: A").center());
    press_and_move(&mut editor, from, to);
    editor.event(Event::ModifiersChanged(Modifiers::COMMAND));
    editor.run_steps(2);
    drop_with(&mut editor, to, Modifiers::COMMAND);
    assert_eq!((at(&editor, "A"), at(&editor, "C")), (Some((2, 3, 3_017)), Some((1, 3, 3_017))));
    assert_eq!(at(&editor, "B"), Some((1, 4, 3_017)), "C has no pair, so the other one stays");
}

#[test]
fn t_fills_a_tier_from_the_yard_list_in_one_step_and_says_so() {
    let mut plan = plans::empty(4);
    for mark in ["R1", "R2", "R3", "R4", "R5"] {
        plans::order(&mut plan, mark, 40_100, 0);
    }
    let mut editor = editor(plan);
    show_rack(&mut editor, "W1 rack 1");
    key(&mut editor, Key::T);
    let lanes = |mark: &str| at(&editor, mark).map(|(tier, lane, _)| (tier, lane));
    assert_eq!(
        ["R1", "R2", "R3", "R4", "R5"].map(lanes),
        [Some((1, 1)), Some((1, 6)), Some((1, 2)), Some((1, 5)), None]
    );
    let fronts: Vec<i64> = ["R1", "R2", "R3", "R4"].iter().map(|mark| at(&editor, mark).unwrap().2).collect();
    assert!(fronts.windows(2).all(|two| two[0] == two[1]), "{fronts:?}");
    assert!(["R1", "R4"].iter().all(|mark| placement(&editor, mark).unwrap().holds.len() == 1));
    let said =
        "Tier 1: 4 strings placed; R5 stays: no second string of its section and length for the other side";
    assert!(editor.query_by_label(said).is_some());
    assert_eq!(undo_steps(&editor), 1);
    keys(&mut editor, Modifiers::COMMAND, Key::Z);
    assert!(editor.state().document().plan().placements.is_empty());
}

#[test]
fn a_number_typed_while_dragging_is_the_exact_place() {
    let mut editor = editor(plans::small());
    let from = grip(&editor, "C");
    press_and_move(&mut editor, from, from + vec2(150.0, 0.0));
    types(&mut editor, "12.345");
    shot(&mut editor, "drag-typed");
    let preview = editor.state().preview().expect("what is typed is previewed");
    assert_eq!(preview.figures.plan.placement(&plans::mark("C")).unwrap().front.mm(), 12_345);
    editor.drop_at(from + vec2(150.0, 0.0));
    editor.run_steps(3);
    assert_eq!(at(&editor, "C"), Some((2, 3, 12_345)));
}

// C is 20.5 m long. Near 12.4 m its last rack is W2 rack 2 at 29,850 mm.
#[test]
fn the_rear_end_and_the_overhang_are_typed_too_and_enter_drops() {
    let mut editor = editor(plans::small());
    let from = grip(&editor, "C");
    press_and_move(&mut editor, from, from + vec2(10.0, 0.0));
    types(&mut editor, "r30");
    key(&mut editor, Key::Enter);
    assert_eq!(at(&editor, "C"), Some((2, 3, 30_000 - 20_500)), "Enter drops before the button is let go");
    editor.drop_at(from + vec2(10.0, 0.0));
    editor.run_steps(3);
    assert_eq!(undo_steps(&editor), 1, "letting go then is no second drop");

    let from = grip(&editor, "C");
    press_and_move(&mut editor, from, from + vec2(1.0, 0.0));
    press_and_move(&mut editor, from, from + vec2(12.0, 0.0));
    types(&mut editor, "o0,5");
    key(&mut editor, Key::Enter);
    let (_, _, front) = at(&editor, "C").unwrap();
    let racks = &editor.state().document().figures().consist.racks;
    assert!(racks.iter().any(|rack| rack.x.mm() == front + 500), "{front} is 0.5 m before a rack");
}

#[test]
fn nonsense_typed_while_dragging_drops_nothing_and_escape_puts_all_back() {
    let mut editor = editor(plans::small());
    let from = grip(&editor, "C");
    press_and_move(&mut editor, from, from + vec2(150.0, 0.0));
    types(&mut editor, "1.2.3");
    key(&mut editor, Key::Enter);
    editor.drop_at(from + vec2(150.0, 0.0));
    editor.run_steps(3);
    assert_eq!((at(&editor, "C"), undo_steps(&editor)), (Some((2, 3, 3_017)), 0));

    press_and_move(&mut editor, from, from + vec2(150.0, 0.0));
    types(&mut editor, "20");
    key(&mut editor, Key::Escape);
    editor.drop_at(from + vec2(150.0, 0.0));
    editor.run_steps(3);
    assert_eq!((at(&editor, "C"), undo_steps(&editor)), (Some((2, 3, 3_017)), 0));
    assert_eq!(editor.state().state(), 0, "no key meant anything else meanwhile");
}

#[test]
fn dragged_back_to_the_yard_list_a_pair_is_taken_off_from_every_view() {
    for view in [Key::Num1, Key::Num2] {
        let mut editor = editor(plans::small());
        keys(&mut editor, Modifiers::COMMAND, view);
        let name = if view == Key::Num1 { "string A in the train side" } else { "string A in the deck plan" };
        let yard = rect_of(&editor, "Yard string D").center();
        let from = rect_of(&editor, name).center();
        press_and_move(&mut editor, from, yard);
        assert!(at(&editor, "A").is_some());
        editor.drop_at(yard);
        editor.run_steps(3);
        assert_eq!((at(&editor, "A"), at(&editor, "B")), (None, None), "{view:?}");
        assert!(at(&editor, "C").is_some());
        assert_eq!(undo_steps(&editor), 1);
    }
    let mut editor = editor(plans::small());
    show_rack(&mut editor, "W1 rack 1");
    let (from, to) =
        (rect_of(&editor, "tier 2 lane 3: C").center(), rect_of(&editor, "Yard string D").center());
    press_and_move(&mut editor, from, to);
    shot(&mut editor, "drag-to-the-yard");
    editor.drop_at(to);
    editor.run_steps(3);
    assert_eq!(at(&editor, "C"), None);
}

#[test]
fn near_an_end_of_the_view_a_drag_scrolls_the_train_along() {
    let mut editor = editor(plans::small());
    focus(&mut editor, "string C in the train side");
    key(&mut editor, Key::Space);
    key(&mut editor, Key::Z);
    let view = rect_of(&editor, "train side");
    let from = grip(&editor, "C");
    let edge = egui::pos2(view.right() - 4.0, from.y);
    press_and_move(&mut editor, from, edge);
    let front = |editor: &Editor| {
        editor.state().preview().unwrap().figures.plan.placement(&plans::mark("C")).unwrap().front.mm()
    };
    let first = front(&editor);
    editor.run_steps(30);
    assert!(front(&editor) > first + 5_000, "{} after {first}, the pointer resting", front(&editor));
    key(&mut editor, Key::Escape);
    editor.drop_at(edge);
    editor.run_steps(2);
    assert_eq!(at(&editor, "C"), Some((2, 3, 3_017)));
}

#[test]
fn a_rubber_band_on_the_rack_face_selects_what_it_touches() {
    let mut editor = editor(plans::small());
    show_rack(&mut editor, "W1 rack 1");
    let (from, to) = (
        rect_of(&editor, "tier 1 lane 1: empty").center(),
        rect_of(&editor, "tier 1 lane 5: empty").center(),
    );
    drag(&mut editor, from, to);
    let selected: Vec<String> = editor.state().selection().strings.iter().map(ToString::to_string).collect();
    assert_eq!(selected, ["A", "B"]);
    assert_eq!(undo_steps(&editor), 0);
}

#[test]
fn alt_and_an_arrow_go_from_catch_to_catch() {
    let mut editor = editor(plans::small());
    focus(&mut editor, "string C in the train side");
    keys(&mut editor, Modifiers::ALT, Key::ArrowRight);
    let (_, _, first) = at(&editor, "C").unwrap();
    assert!(first > 3_017);
    keys(&mut editor, Modifiers::ALT, Key::ArrowRight);
    assert!(at(&editor, "C").unwrap().2 > first);
    keys(&mut editor, Modifiers::ALT, Key::ArrowLeft);
    assert_eq!(at(&editor, "C"), Some((2, 3, first)));
}

#[test]
fn keys_bring_the_selection_the_rack_and_the_whole_train_into_view() {
    let mut editor = editor(plans::small());
    let width = |editor: &Editor| rect_of(editor, "vehicle W1 in the train side").width();
    let whole = width(&editor);
    focus(&mut editor, "vehicle W1 in the train side");
    key(&mut editor, Key::Enter);
    key(&mut editor, Key::Z);
    let close = width(&editor);
    assert!(close > whole * 2.0, "{close} from {whole}");
    key(&mut editor, Key::F);
    assert!((width(&editor) - whole).abs() < 1.0);
    let finding = editor.state().document().assessment().findings.iter();
    assert!(finding.count() > 0);
    key(&mut editor, Key::F5);
    key(&mut editor, Key::Enter);
    key(&mut editor, Key::F);
    keys(&mut editor, Modifiers::SHIFT, Key::F);
    assert!(editor.state().selection().finding.is_some());
    keys(&mut editor, Modifiers::SHIFT, Key::Z);
    assert!(editor.query_by_label("train side").is_some());
}
