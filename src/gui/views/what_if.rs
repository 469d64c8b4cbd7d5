//! What if: the trainee turns a slider over a scratch copy and sees the loads answer.

use crate::gui::{Request, Shown};
use egui::Ui;

/// The view's own state.
#[derive(Debug, Default)]
pub(in crate::gui) struct WhatIf {}

impl WhatIf {
    /// Draws the view into all of `ui`.
    pub(in crate::gui) fn ui(&mut self, ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
        let _ = (shown, requests);
        ui.label("being built");
    }
}
