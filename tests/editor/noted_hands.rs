//! Hands that work in the editor and note each move as a line, which a script replays in a real window.
//!
//! The layout of a window of the same size is the same, so the same places are met. With `LONGSTOW_WINDOW_MOVES` set
//! the lines are written to that file; `LONGSTOW_WINDOW_RESULT` names what the real window left behind.

use crate::harness::{Editor, editor_with, rect_of};
use egui::{Event, Key, Modifiers, Pos2, vec2};
use egui_kittest::kittest::Queryable as _;
use longstow::gui::Workbench;
use std::fmt::Write as _;
use std::path::PathBuf;

/// What the real window left behind, where the script asks for it to be compared.
pub(crate) fn result_of_window() -> Option<Vec<u8>> {
    let result = std::env::var_os("LONGSTOW_WINDOW_RESULT")?;
    Some(std::fs::read(PathBuf::from(result)).unwrap())
}

/// Hands that work in the editor and note what they do.
pub(crate) struct NotedHands {
    pub(crate) editor: Editor,
    moves: String,
}

impl NotedHands {
    /// Hands in a window around `workbench`, of the size of the real one.
    pub(crate) fn on(workbench: Workbench) -> Self {
        Self { editor: editor_with(workbench, vec2(1280.0, 800.0)), moves: String::new() }
    }

    /// Writes the moves down where the script wants them.
    pub(crate) fn keep(&self) {
        if let Some(moves) = std::env::var_os("LONGSTOW_WINDOW_MOVES") {
            std::fs::write(PathBuf::from(moves), &self.moves).unwrap();
        }
    }

    pub(crate) fn click(&mut self, label: &str) {
        self.click_at(rect_of(&self.editor, label).center());
    }

    pub(crate) fn click_field(&mut self, name: &str) {
        self.click_at(self.editor.get_by_role_and_label(egui::Role::TextInput, name).rect().center());
    }

    pub(crate) fn click_at(&mut self, at: Pos2) {
        self.note(&format!("click {} {}", at.x.round(), at.y.round()));
        for pressed in [true, false] {
            self.editor.event(Event::PointerMoved(at.round()));
            self.button(at.round(), pressed);
            self.editor.run_steps(2);
        }
        self.editor.run_steps(30);
    }

    pub(crate) fn drag(&mut self, from: Pos2, to: Pos2) {
        let (from, to) = (from.round(), to.round());
        self.note(&format!("drag {} {} {} {}", from.x, from.y, to.x, to.y));
        self.editor.event(Event::PointerMoved(from));
        self.editor.run_steps(2);
        self.button(from, true);
        for step in 1..=8_u8 {
            self.editor.event(Event::PointerMoved(from + (to - from) * (f32::from(step) / 8.0)));
            self.editor.run_steps(2);
        }
        self.button(to, false);
        self.editor.run_steps(4);
    }

    fn button(&mut self, pos: Pos2, pressed: bool) {
        let modifiers = Modifiers::NONE;
        self.editor.event(Event::PointerButton {
            pos,
            button: egui::PointerButton::Primary,
            pressed,
            modifiers,
        });
    }

    pub(crate) fn key(&mut self, modifiers: Modifiers, key: Key, name: &str) {
        self.note(&format!("key {name}"));
        self.editor.key_press_modifiers(modifiers, key);
        self.editor.run_steps(3);
    }

    pub(crate) fn text(&mut self, text: &str) {
        self.note(&format!("type {text}"));
        self.editor.event(Event::Text(text.to_owned()));
        self.editor.run_steps(3);
    }

    fn note(&mut self, line: &str) {
        writeln!(self.moves, "{line}").unwrap();
    }
}
