//! The deck plan worked by pointer and by keys: tiers, curves, choosing, dragging along and across, going to findings.

use crate::harness::{
    Editor, at, drag, editor, editor_of_size, focus, focused, key, keys, press_and_move, rect_of, shot,
};
use crate::plans;
use egui::{Key, Modifiers, Pos2, Rect, Vec2, vec2};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use longstow::checks::Subject;
use longstow::gui::{FindingKey, Request};
use longstow::model::{Plan, TrainEnd};

/// An editor that shows the deck plan.
fn on_deck(plan: Plan) -> Editor {
    let mut editor = editor(plan);
    keys(&mut editor, Modifiers::COMMAND, Key::Num2);
    editor.run_steps(2);
    editor
}

fn string(editor: &Editor, mark: &str) -> Rect {
    rect_of(editor, &format!("string {mark} in the deck plan"))
}

fn is_shown(editor: &Editor, mark: &str) -> bool {
    editor.query_by_label(&format!("string {mark} in the deck plan")).is_some()
}

fn selected(editor: &Editor) -> Vec<String> {
    editor.state().selection().strings.iter().map(ToString::to_string).collect()
}

fn click(editor: &mut Editor, at: Pos2, modifiers: Modifiers) {
    let button = egui::PointerButton::Primary;
    editor.hover_at(at);
    editor.step();
    for pressed in [true, false] {
        editor.event_modifiers(egui::Event::PointerButton { pos: at, button, pressed, modifiers }, modifiers);
        editor.step();
    }
    editor.run_steps(2);
}

/// From lane to lane to the right on the screen: the right side of the train is up.
fn one_lane(editor: &Editor) -> Vec2 {
    vec2(0.0, string(editor, "B").center().y - string(editor, "A").center().y)
}

#[test]
fn all_tiers_or_one_are_shown_by_button_and_by_key() {
    let mut editor = on_deck(plans::small());
    let shown = |editor: &Editor| ["A", "B", "C"].map(|mark| is_shown(editor, mark));
    assert_eq!(shown(&editor), [true; 3]);
    key(&mut editor, Key::Num2);
    assert_eq!(shown(&editor), [false, false, true]);
    editor.get_by_label("show tier 1 alone (1)").click();
    editor.run_steps(2);
    assert_eq!(shown(&editor), [true, true, false]);
    key(&mut editor, Key::Num0);
    assert_eq!(shown(&editor), [true; 3]);
}

#[test]
fn the_right_side_is_up_and_the_front_end_at_the_left() {
    let editor = on_deck(plans::small());
    let (a, b) = (string(&editor, "A"), string(&editor, "B"));
    assert!(b.bottom() < a.top(), "lane 4 lies to the right of lane 3: {b} above {a}");
    let [first, last] =
        ["W1", "W4"].map(|mark| rect_of(&editor, &format!("vehicle {mark} in the deck plan")));
    assert!(first.right() <= last.left() && a.left() > first.left());
}

#[test]
fn clicks_choose_add_and_let_go_as_on_the_train_side() {
    let mut editor = on_deck(plans::small());
    let (a, b) = (string(&editor, "A").center(), string(&editor, "B").center());
    click(&mut editor, a, Modifiers::NONE);
    assert_eq!(selected(&editor), ["A"]);
    assert_eq!(focused(&editor).as_deref(), Some("string A in the deck plan"));
    click(&mut editor, b, Modifiers::COMMAND);
    assert_eq!(selected(&editor), ["A", "B"]);
    click(&mut editor, a, Modifiers::COMMAND);
    assert_eq!(selected(&editor), ["B"]);
    let beside = rect_of(&editor, "deck plan").left_bottom() + vec2(200.0, -8.0);
    click(&mut editor, beside, Modifiers::NONE);
    assert!(selected(&editor).is_empty());
    // A thin string is meant by a pointer a few points beside it.
    let above = b - vec2(0.0, string(&editor, "B").height() / 2.0 + 4.0);
    click(&mut editor, above, Modifiers::NONE);
    assert_eq!(selected(&editor), ["B"]);
}

#[test]
fn a_rubber_band_selects_what_it_touches() {
    let mut editor = on_deck(plans::small());
    let (a, b) = (string(&editor, "A"), string(&editor, "B"));
    drag(
        &mut editor,
        egui::pos2(a.right() + 40.0, a.bottom() + 10.0),
        egui::pos2(a.right() - 20.0, a.center().y),
    );
    assert_eq!(selected(&editor), ["A"]);
    drag(
        &mut editor,
        egui::pos2(b.right() + 40.0, a.bottom() + 10.0),
        egui::pos2(b.right() - 20.0, b.center().y),
    );
    assert_eq!(selected(&editor), ["A", "B"]);
}

#[test]
fn a_string_is_dragged_to_the_next_lane_and_keeps_its_front_end() {
    let mut editor = on_deck(plans::small());
    let (from, lane) = (string(&editor, "A").center(), one_lane(&editor));
    press_and_move(&mut editor, from, from - lane);
    let preview = editor.state().preview().expect("a drag previews its figures");
    assert_eq!(preview.figures.plan.placement(&plans::mark("A")).unwrap().lane, 2);
    shot(&mut editor, "deck-drag");
    editor.drop_at(from - lane);
    editor.run_steps(3);
    assert_eq!(at(&editor, "A"), Some((1, 2, 3_017)));
}

#[test]
fn a_string_is_dragged_along_in_its_lane_straight_and_on_a_curve() {
    for curved in [false, true] {
        let mut editor = on_deck(plans::small());
        if curved {
            key(&mut editor, Key::C);
            assert!(editor.query_by_role_and_label(egui::Role::TextInput, "radius of the curve").is_some());
            key(&mut editor, Key::Num1);
        }
        let whole = string(&editor, "A");
        // Near its front end, where a curve's band lies at the foot of the first body.
        let from = match curved {
            false => whole.center(),
            true => egui::pos2(whole.left() + whole.width() * 0.19, whole.center().y),
        };
        drag(&mut editor, from, from + vec2(90.0, 0.0));
        let (tier, lane, front) = at(&editor, "A").unwrap();
        assert_eq!((tier, lane), (1, 3), "curved: {curved}");
        assert!(front > 3_017 + 5_000, "curved: {curved}, front {front}");
    }
}

#[test]
fn escape_puts_a_dragged_string_back() {
    let mut editor = on_deck(plans::small());
    let from = string(&editor, "C").center();
    press_and_move(&mut editor, from, from + vec2(120.0, 30.0));
    assert!(editor.state().preview().is_some());
    editor.key_press(Key::Escape);
    editor.run_steps(2);
    assert!(editor.state().preview().is_none());
    editor.drop_at(from + vec2(120.0, 30.0));
    editor.run_steps(2);
    assert_eq!(at(&editor, "C"), Some((2, 3, 3_017)));
}

#[test]
fn a_drag_that_waits_at_the_edge_scrolls_on() {
    let mut editor = on_deck(plans::small());
    (0..4).for_each(|_| key(&mut editor, Key::Plus));
    let view = rect_of(&editor, "deck plan");
    let from = egui::pos2(view.center().x, string(&editor, "A").center().y);
    let edge = egui::pos2(view.right() - 4.0, from.y);
    press_and_move(&mut editor, from, edge);
    let front = |editor: &Editor| {
        let preview = editor.state().preview().unwrap();
        preview.figures.plan.placement(&plans::mark("A")).unwrap().front.mm()
    };
    let before = front(&editor);
    editor.run_steps(20);
    assert!(front(&editor) > before + 1_000, "{before} to {}", front(&editor));
    editor.key_press(Key::Escape);
    editor.run_steps(2);
    editor.drop_at(edge);
    editor.run_steps(2);
}

#[test]
fn a_string_comes_from_the_yard_list_into_the_lane_under_the_pointer() {
    let mut editor = on_deck(plans::small());
    key(&mut editor, Key::Num3);
    let from = rect_of(&editor, "Yard string E").center();
    let view = rect_of(&editor, "deck plan");
    drag(&mut editor, from, view.center() + vec2(-80.0, 0.0));
    let (tier, lane, front) = at(&editor, "E").expect("it lies on the train");
    assert_eq!(tier, 3, "the tier that is shown");
    assert!((2..=5).contains(&lane) && front > 0, "lane {lane}, front {front}");
}

#[test]
fn arrows_move_the_focused_string_along_across_and_between_tiers() {
    let mut editor = on_deck(plans::small());
    focus(&mut editor, "string C in the deck plan");
    key(&mut editor, Key::ArrowUp);
    assert_eq!(at(&editor, "C"), Some((2, 4, 3_017)), "to the right");
    key(&mut editor, Key::ArrowDown);
    key(&mut editor, Key::ArrowRight);
    assert_eq!(at(&editor, "C"), Some((2, 3, 3_027)));
    keys(&mut editor, Modifiers::SHIFT, Key::ArrowUp);
    assert_eq!(at(&editor, "C"), Some((3, 3, 3_027)));
    keys(&mut editor, Modifiers::SHIFT, Key::ArrowLeft);
    assert_eq!(at(&editor, "C"), Some((3, 3, 2_027)));
    key(&mut editor, Key::Space);
    key(&mut editor, Key::Delete);
    assert_eq!(at(&editor, "C"), None);
    assert!(!is_shown(&editor, "C"));
}

#[test]
fn tab_reaches_every_string_and_rack() {
    let mut editor = on_deck(plans::small());
    focus(&mut editor, "vehicle W1 in the deck plan");
    let mut seen = Vec::new();
    for _ in 0..20 {
        editor.key_press(Key::Tab);
        editor.step();
        seen.extend(focused(&editor));
    }
    let racks = (1..=4).flat_map(|vehicle| (1..=3).map(move |rack| format!("W{vehicle} rack {rack}")));
    for thing in racks.chain(["A", "B", "C"].map(|mark| format!("string {mark}"))) {
        let label = format!("{thing} in the deck plan");
        assert!(seen.contains(&label), "{label} not among {seen:?}");
    }
}

#[test]
fn every_string_tells_its_figures_and_on_a_curve_its_swing() {
    let mut editor = on_deck(plans::small());
    let described = |editor: &Editor| {
        editor
            .get_by_label("string A in the deck plan")
            .accesskit_node()
            .data()
            .description()
            .unwrap()
            .to_owned()
    };
    assert!(described(&editor).contains("tier 1 lane 3, front end at 3.017 m"), "{}", described(&editor));
    key(&mut editor, Key::C);
    // Hovering an end on the curve tells how far it swings.
    let end = string(&editor, "A").left_center() + vec2(1.0, 0.0);
    let tips = |editor: &Editor| editor.query_by_label_contains("of its lane over the deck").is_some();
    let mut found = false;
    for away in (-30..=30_i8).step_by(4) {
        editor.hover_at(end + vec2(0.0, f32::from(away)));
        editor.run_steps(20);
        found |= tips(&editor);
    }
    assert!(found, "the end of A tells its swing");
}

#[test]
fn a_typed_radius_lays_the_curve_and_its_inside_is_said() {
    let mut editor = on_deck(plans::small());
    key(&mut editor, Key::C);
    let bow = |editor: &Editor| string(editor, "A").height();
    let wide = bow(&editor);
    editor.get_by_role_and_label(egui::Role::TextInput, "radius of the curve").focus();
    editor.run_steps(2);
    keys(&mut editor, Modifiers::COMMAND, Key::A);
    editor.event(egui::Event::Text("95".to_owned()));
    key(&mut editor, Key::Enter);
    assert!(bow(&editor) > wide * 1.3, "{wide} to {}", bow(&editor));
    // Half of its racks are inside the track: the band bows to the right, which is up.
    let right = string(&editor, "A");
    editor.get_by_label("to the left").click();
    editor.run_steps(2);
    let left = string(&editor, "A");
    assert!(left.center().y > right.center().y);
    shot(&mut editor, "deck-curve");
}

#[test]
fn a_finding_is_brought_into_view_in_tier_and_place() {
    let mut plan = plans::small();
    // C overhangs its last rack by far too little.
    plan.placements[2].front = longstow::units::Length::from_mm(3_300);
    let mut editor = on_deck(plan);
    key(&mut editor, Key::Num1);
    assert!(!is_shown(&editor, "C"));
    let findings = &editor.state().document().assessment().findings;
    let end = findings
        .iter()
        .find(|finding| finding.subject == Subject::StringEnd(2, TrainEnd::Front))
        .map(FindingKey::of)
        .expect("the end is found");
    editor.state_mut().ask(Request::ShowFinding(end));
    editor.run_steps(3);
    assert_eq!(selected(&editor), ["C"]);
    assert!(is_shown(&editor, "C"), "the tier follows");
    let (view, shown) = (rect_of(&editor, "deck plan"), string(&editor, "C"));
    assert!(view.contains(shown.left_center()), "its front end {shown} in {view}");
    assert!(editor.query_by_label("tier 2 lane 3: C").is_some(), "the rack face shows its last rack");
}

#[test]
fn a_pocket_of_a_finding_is_shown_in_its_tier() {
    let mut plan = plans::small();
    plan.train.rack_types[0].pocket_rating_kg = Some(100.0);
    let mut editor = on_deck(plan);
    key(&mut editor, Key::Num1);
    (0..6).for_each(|_| key(&mut editor, Key::Plus));
    let findings = &editor.state().document().assessment().findings;
    let (key, rack) = findings
        .iter()
        .find_map(|finding| match finding.subject {
            Subject::Pocket(rack, 2, 3) => Some((FindingKey::of(finding), rack)),
            _ => None,
        })
        .expect("the pocket of C");
    editor.state_mut().ask(Request::ShowFinding(key));
    editor.run_steps(3);
    assert_eq!(editor.state().selection().rack, rack);
    assert!(is_shown(&editor, "C"), "its tier is shown, and its place");
    assert!(editor.query_by_label(&format!("W1 rack {} in the deck plan", rack + 1)).is_some());
}

#[test]
fn a_large_window_shows_both_drawings_and_a_small_one_on_demand() {
    let both =
        |editor: &Editor| ["train side", "deck plan"].map(|view| editor.query_by_label(view).is_some());
    let mut large = editor_of_size(plans::small(), 1920.0, 1200.0);
    assert_eq!(both(&large), [true, true]);
    key(&mut large, Key::B);
    assert_eq!(both(&large), [true, false]);
    let mut small = editor(plans::small());
    assert_eq!(both(&small), [true, false]);
    key(&mut small, Key::B);
    assert_eq!(both(&small), [true, true]);
    // What is dragged in one is dragged in the other.
    let from = string(&small, "C").center();
    press_and_move(&mut small, from, from + vec2(100.0, 0.0));
    let [side, deck] =
        ["train side", "deck plan"].map(|view| rect_of(&small, &format!("string C in the {view}")));
    assert!((side.left() - deck.left()).abs() < 2.0, "{side} {deck}");
    small.drop_at(from + vec2(100.0, 0.0));
    small.run_steps(3);
    assert!(at(&small, "C").unwrap().2 > 3_017);
}

#[test]
fn a_thin_string_of_the_train_side_is_meant_a_few_points_beside_it() {
    let mut editor = editor(plans::long());
    // The lowest lane of tier 3 lies over the gap to tier 2.
    let rect = rect_of(&editor, "string S21 in the train side");
    assert!(rect.height() < 6.0, "{rect}");
    let racks: Vec<f32> = (0..81)
        .map(|rack| format!("W{} rack {} in the train side", rack / 3 + 1, rack % 3 + 1))
        .filter_map(|label| editor.query_by_label(&label).map(|node| node.rect().center().x))
        .collect();
    let middle = rect.center().x;
    let at =
        racks.windows(2).find(|pair| pair[0] > middle).map(|pair| f32::midpoint(pair[0], pair[1])).unwrap();
    click(&mut editor, egui::pos2(at, rect.bottom() + 2.0), Modifiers::NONE);
    assert_eq!(selected(&editor), ["S21"]);
}
