//! The deck plan: the train seen from above.

use crate::gui::canvas::Canvas;
use crate::gui::{Request, Shown};
use egui::Ui;

/// The view's own state.
#[derive(Debug, Default)]
pub(in crate::gui) struct DeckPlan {}

impl DeckPlan {
    /// Draws the view into all of `ui`.
    pub(in crate::gui) fn ui(
        &mut self,
        ui: &mut Ui,
        shown: &Shown<'_>,
        canvas: &mut Canvas,
        requests: &mut Vec<Request>,
    ) {
        let _ = canvas;
        let _ = (shown, requests);
        ui.label("being built");
    }
}
