//! Weighings: readings of scales beside what is computed.

use crate::gui::{Request, Shown};
use egui::Ui;

/// The view's own state.
#[derive(Debug, Default)]
pub(in crate::gui) struct Weighings {}

impl Weighings {
    /// Draws the view into all of `ui`.
    pub(in crate::gui) fn ui(&mut self, ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
        let _ = (shown, requests);
        ui.label("being built");
    }
}
