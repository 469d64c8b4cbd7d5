//! Hands that work in the editor as a user's do: one on the mouse, or two on the keyboard, and nothing else.

use crate::harness::{Editor, focused, rect_of};
use egui::{Event, Key, Modifiers, Pos2, Rect, Role};
use egui_kittest::kittest::{AccessKitNode, Queryable as _};

/// A hand on the mouse: it moves, presses and lets go, and knows nothing else.
pub(crate) struct Mouse(pub(crate) Editor);

impl Mouse {
    fn moved(&mut self, to: Pos2) {
        self.0.event(Event::PointerMoved(to));
        self.0.step();
    }

    fn button(&mut self, pos: Pos2, pressed: bool) {
        let (button, modifiers) = (egui::PointerButton::Primary, Modifiers::NONE);
        self.0.event(Event::PointerButton { pos, button, pressed, modifiers });
        self.0.step();
    }

    /// Clicks at a place of the window.
    pub(crate) fn click_at(&mut self, at: Pos2) {
        assert!(self.0.ctx.content_rect().contains(at), "{at} lies outside the window");
        self.moved(at);
        self.button(at, true);
        self.button(at, false);
        // A list or menu takes a few frames to open or close.
        self.0.run_steps(4);
    }

    /// Clicks the thing with this label.
    pub(crate) fn click(&mut self, label: &str) {
        let at = rect_of(&self.0, label).center();
        self.click_at(at);
    }

    /// Clicks the one thing of this kind that is named so, or whose name begins so where `label` ends with `*`.
    pub(crate) fn click_on(&mut self, role: Role, label: &str) {
        let at = self.0.get_by(|node| is_named(node, role, label)).rect().center();
        self.click_at(at);
    }

    /// Opens a menu and clicks its line, not a button of the same name elsewhere.
    pub(crate) fn menu(&mut self, menu: &str, line: &str) {
        let lines = |editor: &Editor| -> Vec<Rect> {
            editor.query_all_by(|node| is_named(node, Role::Button, line)).map(|node| node.rect()).collect()
        };
        let before = lines(&self.0);
        self.click_on(Role::Button, menu);
        let mut opened = lines(&self.0);
        opened.retain(|rect| !before.contains(rect));
        assert_eq!(opened.len(), 1, "{menu}, {line}: {opened:?}");
        self.click_at(opened[0].center());
    }

    /// Types words where the last click put the cursor.
    pub(crate) fn types(&mut self, words: &str) {
        self.0.event(Event::Text(words.to_owned()));
        self.0.run_steps(2);
    }

    /// Types words over all that is in the field clicked last, and Enter.
    pub(crate) fn types_over(&mut self, words: &str) {
        self.0.key_press_modifiers(Modifiers::COMMAND, Key::A);
        self.0.step();
        self.types(words);
        self.0.key_press(Key::Enter);
        self.0.run_steps(3);
    }

    /// Drags from one place to another.
    pub(crate) fn drag(&mut self, from: Pos2, to: Pos2) {
        self.moved(from);
        self.button(from, true);
        for step in 1..=6_u8 {
            self.moved(from + (to - from) * (f32::from(step) / 6.0));
        }
        self.moved(to);
        self.button(to, false);
        self.0.run_steps(2);
    }

    /// Drags the thing with one label onto that with the other.
    pub(crate) fn drag_onto(&mut self, from: &str, to: &str) {
        let (from, to) = (rect_of(&self.0, from).center(), rect_of(&self.0, to).center());
        self.drag(from, to);
    }
}

fn is_named(node: &AccessKitNode<'_>, role: Role, label: &str) -> bool {
    let name = node.label().unwrap_or_default();
    node.role() == role && is_called(&name, label)
}

/// Whether a name is this label, or begins so where the label ends with `*`.
fn is_called(name: &str, label: &str) -> bool {
    match label.strip_suffix('*') {
        Some(begin) => name.starts_with(begin),
        None => name == label,
    }
}

/// Two hands on the keyboard: they press keys and type, and know nothing else.
pub(crate) struct Keyboard(pub(crate) Editor);

impl Keyboard {
    /// Presses a key.
    pub(crate) fn press(&mut self, key: Key) {
        self.press_with(Modifiers::NONE, key);
    }

    /// Presses a key with modifiers.
    pub(crate) fn press_with(&mut self, modifiers: Modifiers, key: Key) {
        self.0.key_press_modifiers(modifiers, key);
        self.0.run_steps(2);
    }

    /// Presses a key so many times.
    pub(crate) fn times(&mut self, times: usize, key: Key) {
        (0..times).for_each(|_| self.press(key));
    }

    /// Types words.
    pub(crate) fn types(&mut self, words: &str) {
        self.0.event(Event::Text(words.to_owned()));
        self.0.step();
    }

    /// Presses Tab until the thing with this label has the keyboard, or one whose label begins so before a `*`.
    pub(crate) fn tab_to(&mut self, label: &str) {
        for _ in 0..120 {
            if focused(&self.0).is_some_and(|name| is_called(&name, label)) {
                break;
            }
            self.0.key_press(Key::Tab);
            self.0.step();
        }
        self.0.step();
        self.expect_focus(label);
    }

    /// That the thing with this label has the keyboard, and is in sight as a whole.
    pub(crate) fn expect_focus(&self, label: &str) {
        let name = focused(&self.0);
        assert!(name.as_deref().is_some_and(|name| is_called(name, label)), "{label}, not {name:?}");
        let id = self.0.ctx.memory(|memory| memory.focused()).unwrap();
        let thing = self.0.ctx.read_response(id).unwrap();
        let (seen, whole) = (thing.interact_rect, thing.rect.shrink(1.0));
        assert!(seen.contains_rect(whole), "of {label} at {whole}, only {seen} is in sight");
    }
}
