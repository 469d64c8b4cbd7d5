//! The rubber band, the same in every drawn view: begun beside everything, drawn while the button is down, and what it
//! spans once the button is let go.

use crate::gui::{Role, SelectMode, Theme};
use egui::{Key, Pos2, Rect, Stroke, StrokeKind, Ui};

/// A rubber band of a view, while there is one.
#[derive(Debug, Default)]
pub(super) struct Band {
    /// Where it began, in screen points.
    from: Option<Pos2>,
}

impl Band {
    /// Begins one where the button went down.
    pub(super) fn begin(&mut self, ui: &Ui) {
        self.from = ui.input(|input| input.pointer.press_origin());
    }

    /// Lets go of it without choosing anything.
    pub(super) fn end(&mut self) {
        self.from = None;
    }

    /// Draws it within `view`. Once the button is let go, gives what it spans, and how that combines with the selection:
    /// with Ctrl or Shift it is added. Escape lets go of it.
    pub(super) fn ui(&mut self, ui: &Ui, view: Rect, theme: &Theme) -> Option<(Rect, SelectMode)> {
        let from = self.from?;
        let (to, modifiers) = ui.input(|input| (input.pointer.interact_pos(), input.modifiers));
        let (released, escaped, down) = ui.input(|input| {
            (input.pointer.any_released(), input.key_pressed(Key::Escape), input.pointer.any_down())
        });
        let band = Rect::from_two_pos(from, to.unwrap_or(from)).intersect(view);
        if released || escaped || !down {
            self.end();
            let mode = match modifiers.command || modifiers.shift {
                true => SelectMode::Add,
                false => SelectMode::Only,
            };
            return (released && !escaped).then_some((band, mode));
        }
        let color = theme.color(Role::SelectedEdge);
        ui.painter().rect(band, 0.0, color.gamma_multiply(0.15), Stroke::new(1.0, color), StrokeKind::Inside);
        None
    }
}
