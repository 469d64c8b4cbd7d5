//! The menu of each thing: opened by a right click and by keys, worked through, closed without doing anything.

use crate::harness::{Editor, at, editor, focus, focused, key, keys, rect_of, shot, show_rack};
use crate::plans;
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable as _;
use longstow::gui::menus::MenuOf;

/// Opens the menu of the thing with this label by a right click.
pub(crate) fn right_click(editor: &mut Editor, label: &str) {
    let place = rect_of(editor, label).center();
    editor.hover_at(place);
    editor.step();
    editor.get_by_label(label).click_secondary();
    editor.run_steps(4);
}

/// Clicks a line of the open menu; its keys are part of its name.
pub(crate) fn choose(editor: &mut Editor, line: &str) {
    let begins = |name: Option<String>| name.is_some_and(|name| name.starts_with(line));
    let rects: Vec<egui::Rect> = editor
        .query_all_by(|node| node.role() == egui::Role::Button && begins(node.label()))
        .map(|node| node.rect())
        .collect();
    assert!(!rects.is_empty(), "no line {line}");
    editor.hover_at(rects[rects.len() - 1].center());
    editor.step();
    let place = rects[rects.len() - 1].center();
    editor.drag_at(place);
    editor.step();
    editor.drop_at(place);
    editor.run_steps(4);
}

fn open(editor: &Editor) -> Option<MenuOf> {
    editor.state().menu().map(|menu| menu.of().clone())
}

fn first_finding(editor: &Editor) -> String {
    let document = editor.state().document();
    let finding = document.assessment().findings.iter().min_by_key(|finding| finding.outcome).unwrap();
    let place = finding.subject.place(document.figures());
    format!("{}: {}, {place}", finding.outcome.word(), finding.check.title)
}

/// Every kind of thing that has a menu, by the name of a thing of it.
fn things(editor: &Editor) -> Vec<String> {
    let mut things: Vec<String> = [
        "string C in the train side",
        "vehicle W2 in the train side",
        "W3 rack 2 in the train side",
        "Yard string D",
        "tier 1 lane 3: A",
        "tier 3 lane 1: empty",
        "State: departure",
    ]
    .map(str::to_owned)
    .into();
    things.push(first_finding(editor));
    things
}

#[test]
fn a_right_click_opens_the_menu_of_each_thing_and_escape_closes_it() {
    let mut editor = editor(plans::small());
    let plan = editor.state().document().plan().clone();
    for thing in things(&editor) {
        show_rack(&mut editor, "W1 rack 1");
        right_click(&mut editor, &thing);
        assert!(open(&editor).is_some(), "{thing}");
        key(&mut editor, Key::Escape);
        assert_eq!(open(&editor), None, "{thing}");
    }
    assert_eq!(plan, *editor.state().document().plan());
}

#[test]
fn the_menu_keys_open_it_too_and_the_keyboard_goes_back_where_it_was() {
    let mut editor = editor(plans::small());
    for thing in things(&editor) {
        show_rack(&mut editor, "W1 rack 1");
        for (modifiers, menu_key) in [(Modifiers::NONE, Key::Menu), (Modifiers::SHIFT, Key::F10)] {
            focus(&mut editor, &thing);
            keys(&mut editor, modifiers, menu_key);
            editor.run_steps(3);
            assert!(open(&editor).is_some(), "{thing} by {menu_key:?}");
            let inside = focused(&editor);
            assert!(
                inside.as_deref().is_some_and(|name| name != thing),
                "{thing}: {inside:?} has the keyboard"
            );
            key(&mut editor, Key::Escape);
            editor.run_steps(2);
            assert_eq!((open(&editor), focused(&editor).as_deref()), (None, Some(thing.as_str())));
        }
    }
}

#[test]
fn a_string_is_mirrored_from_its_menu_by_the_mouse() {
    let mut editor = editor(plans::small());
    right_click(&mut editor, "string C in the train side");
    assert_eq!(open(&editor), Some(MenuOf::String(plans::mark("C"))));
    shot(&mut editor, "menu-of-a-string");
    choose(&mut editor, "Mirror to the other side");
    assert_eq!(at(&editor, "C"), Some((2, 4, 3_017)));
    assert_eq!(open(&editor), None);
}

#[test]
fn a_string_is_moved_from_its_menu_by_keys_alone() {
    let mut editor = editor(plans::small());
    focus(&mut editor, "string C in the train side");
    keys(&mut editor, Modifiers::SHIFT, Key::F10);
    editor.run_steps(3);
    assert!(focused(&editor).is_some_and(|name| name.starts_with("Type its exact place")));
    key(&mut editor, Key::ArrowDown);
    editor.run_steps(2);
    key(&mut editor, Key::ArrowRight);
    editor.run_steps(4);
    let first = focused(&editor);
    assert!(first.as_deref().is_some_and(|name| name.starts_with("Rearward to the next catch")), "{first:?}");
    key(&mut editor, Key::Enter);
    editor.run_steps(3);
    assert!(at(&editor, "C").unwrap().2 > 3_017, "rearward to the next catch");
    assert_eq!(open(&editor), None);
}

#[test]
fn an_empty_pocket_takes_the_selected_string_and_fills_its_tier() {
    let mut editor = editor(plans::small());
    show_rack(&mut editor, "W1 rack 1");
    editor.get_by_label("Yard string D").click();
    editor.run_steps(2);
    right_click(&mut editor, "tier 3 lane 1: empty");
    choose(&mut editor, "Put string D here");
    let (tier, lane, _) = at(&editor, "D").unwrap();
    assert_eq!((tier, lane), (3, 1));
}

#[test]
fn a_yard_string_is_placed_and_removed_from_its_menu() {
    let mut editor = editor(plans::small());
    right_click(&mut editor, "Yard string D");
    choose(&mut editor, "Place in the first free pocket");
    assert!(at(&editor, "D").is_some());
    right_click(&mut editor, "Yard string E");
    choose(&mut editor, "Remove from the order");
    assert!(editor.state().document().plan().string(&plans::mark("E")).is_none());
}

#[test]
fn a_step_is_moved_from_the_menu_of_its_state() {
    let mut editor = editor(plans::small());
    let first = |editor: &Editor| {
        let step = &editor.state().document().plan().drops[0].steps[0];
        step.strings.marks().next().unwrap().to_string()
    };
    assert_eq!(first(&editor), "A");
    let state = editor.state().document().figures().states[1].title(editor.state().document().plan());
    right_click(&mut editor, &format!("State: {state}"));
    assert_eq!(open(&editor), Some(MenuOf::State(1)));
    choose(&mut editor, "Step later");
    assert_eq!(first(&editor), "B");
}

#[test]
fn a_finding_is_shown_in_its_table_from_its_menu() {
    let mut editor = editor(plans::small());
    let finding = first_finding(&editor);
    right_click(&mut editor, &finding);
    choose(&mut editor, "Zoom to its place");
    assert!(editor.state().selection().finding.is_some());
}

#[test]
fn a_menu_closes_where_the_plan_changes_under_it() {
    let mut editor = editor(plans::small());
    focus(&mut editor, "string C in the train side");
    key(&mut editor, Key::ArrowRight);
    right_click(&mut editor, "string C in the train side");
    keys(&mut editor, Modifiers::COMMAND, Key::Z);
    editor.run_steps(2);
    assert_eq!(open(&editor), None);
}
