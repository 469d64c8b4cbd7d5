//! The colour and pattern of a drop, as strings for it have on the drawings.

use crate::gui::Theme;
use crate::gui::canvas::{drop_look, pattern_mesh};
use egui::{Painter, Rect, Sense, Ui, vec2};

/// A small box in a line of words; for no drop as strings without one.
pub(super) fn swatch_ui(ui: &mut Ui, drop: Option<usize>) {
    let (rect, _) = ui.allocate_exact_size(vec2(18.0, 12.0), Sense::hover());
    let theme = Theme::of(ui);
    paint_swatch(ui.painter(), rect.shrink2(vec2(0.0, 1.0)), drop, &theme);
}

/// Paints a box with the colour and pattern of a drop, by its index.
pub(super) fn paint_swatch(painter: &Painter, rect: Rect, drop: Option<usize>, theme: &Theme) {
    let look = drop_look(theme, drop);
    painter.rect_filled(rect, 1.0, look.fill);
    painter.add(pattern_mesh(rect, look));
}
