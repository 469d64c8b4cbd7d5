//! What the monkey sees: the things of the window by name, as a screen reader has them; and its fingers.

use super::dice::Dice;
use crate::harness::Editor;
use egui::{Event, Key, Modifiers, PointerButton, Pos2, Rect, Role};
use egui_kittest::kittest::NodeT as _;

/// A thing that can be seen.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Seen {
    pub(super) role: Role,
    pub(super) label: String,
    pub(super) value: String,
    pub(super) rect: Rect,
}

/// Everything with a name that is not greyed.
pub(super) fn seen(editor: &Editor) -> Vec<Seen> {
    let nodes = editor.root().children_recursive();
    nodes
        .filter_map(|node| {
            let known = node.accesskit_node();
            let label = known.label().filter(|label| !label.is_empty() && !known.is_disabled())?;
            let value = known.value().unwrap_or_default();
            let rect = node.rect();
            assert!(rect.is_finite(), "{label:?} is told to screen readers at {rect:?}");
            Some(Seen { role: known.role(), label, value, rect })
        })
        .collect()
}

/// Things whose names begin so.
pub(super) fn named(things: &[Seen], begin: &str) -> Vec<Seen> {
    things.iter().filter(|thing| thing.label.starts_with(begin)).cloned().collect()
}

/// Things whose names end so.
pub(super) fn ending(things: &[Seen], end: &str) -> Vec<Seen> {
    things.iter().filter(|thing| thing.label.ends_with(end)).cloned().collect()
}

/// Somewhere on a thing.
pub(super) fn place_on(thing: &Seen, dice: &mut Dice) -> Pos2 {
    let rect = thing.rect.shrink2(thing.rect.size() * 0.15);
    rect.min + egui::vec2(rect.width() * dice.share(), rect.height() * dice.share())
}

/// Moves the pointer.
pub(super) fn point(editor: &mut Editor, at: Pos2) {
    editor.event(Event::PointerMoved(at));
    editor.step();
}

/// Presses a button of the mouse, or lets it go.
pub(super) fn button(
    editor: &mut Editor,
    pos: Pos2,
    (button, pressed): (PointerButton, bool),
    modifiers: Modifiers,
) {
    editor.event_modifiers(Event::PointerButton { pos, button, pressed, modifiers }, modifiers);
    editor.step();
}

/// Clicks at a place.
pub(super) fn click(editor: &mut Editor, at: Pos2, with: PointerButton) {
    point(editor, at);
    button(editor, at, (with, true), Modifiers::NONE);
    button(editor, at, (with, false), Modifiers::NONE);
    editor.step();
}

/// Clicks at a place with keys held.
pub(super) fn click_with(editor: &mut Editor, at: Pos2, held: Modifiers) {
    point(editor, at);
    for pressed in [true, false] {
        button(editor, at, (PointerButton::Primary, pressed), held);
    }
    editor.step();
}

/// Drags from one place to another by way of a third, with modifiers held at the end.
pub(super) fn drag(editor: &mut Editor, (from, to): (Pos2, Pos2), modifiers: Modifiers, typed: &str) {
    let primary = PointerButton::Primary;
    point(editor, from);
    button(editor, from, (primary, true), Modifiers::NONE);
    point(editor, from + (to - from) * 0.5);
    editor.event(Event::ModifiersChanged(modifiers));
    point(editor, to);
    type_words(editor, typed);
    button(editor, to, (primary, false), modifiers);
    editor.event(Event::ModifiersChanged(Modifiers::NONE));
    editor.step();
}

/// Types words at once; nothing where there are none.
pub(super) fn type_words(editor: &mut Editor, words: &str) {
    if !words.is_empty() {
        editor.event(Event::Text(words.to_owned()));
        editor.step();
    }
}

/// Presses a key and lets it go.
pub(super) fn press(editor: &mut Editor, (modifiers, key): (Modifiers, Key)) {
    editor.key_press_modifiers(modifiers, key);
    editor.step();
}
