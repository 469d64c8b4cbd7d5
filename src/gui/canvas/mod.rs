//! The drawn views and the tools that work on them.

use super::{Request, Shown, ZoomTarget};
use crate::model::StringMark;
use crate::units::Length;

/// The state of the drawn views: zoom, pan, and what is being dragged.
#[derive(Debug, Default)]
pub struct Canvas {}

impl Canvas {
    /// Draws the train side into all of `ui`.
    pub fn train_side_ui(&mut self, ui: &mut egui::Ui, _shown: &Shown<'_>, _requests: &mut Vec<Request>) {
        ui.label("train side");
    }

    /// Draws the face of the selected rack into all of `ui`.
    pub fn rack_face_ui(&mut self, ui: &mut egui::Ui, _shown: &Shown<'_>, _requests: &mut Vec<Request>) {
        ui.label("rack face");
    }

    /// Follows a drag over all views; called last in each frame, so that the ghost lies on top.
    pub fn drag_ui(&mut self, _ui: &mut egui::Ui, _shown: &Shown<'_>, _requests: &mut Vec<Request>) {}

    /// Takes hold of strings from outside the drawn views; the pointer is down.
    pub fn grab(&mut self, _strings: Vec<StringMark>, _grab_offset: Length) {}

    /// Whether a drag lasts.
    pub fn is_dragging(&self) -> bool {
        false
    }

    /// Brings something into view on the train side with the next frame.
    pub fn zoom_to(&mut self, _target: ZoomTarget) {}
}
