//! The scratch train, drawn: its side and the face of the rack looked at, following the sliders.

use crate::gui::Shown;
use crate::gui::canvas::{small_face_ui, small_side_ui};
use egui::{Ui, vec2};

/// Draws both beside each other, `height` points high.
pub(super) fn pictures_ui(ui: &mut Ui, scratch: &Shown<'_>, height: f32) {
    ui.horizontal(|ui| {
        let face = (height * 1.15).min(ui.available_width() * 0.4);
        let side = ui.available_width() - face - ui.spacing().item_spacing.x;
        small_side_ui(ui, scratch, vec2(side, height));
        small_face_ui(ui, scratch, vec2(face, height));
    });
}
