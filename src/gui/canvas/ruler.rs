//! The ruler along the train, in metres or feet, and the note that says at what scale it is drawn.

use super::view::{Projection, ruler_step};
use crate::gui::{Role as Ink, Theme};
use crate::units::{MM_PER_INCH, Quantity, QuantityKind, Style, UnitSystem};
use egui::{Align2, FontId, Painter, Rect, Stroke, pos2};

/// Height of the ruler in points.
pub(super) const RULER_POINTS: f32 = 20.0;
/// Least distance between marks with figures, in points.
const MARK_POINTS: f64 = 64.0;

/// Paints the ruler into `band`, with marks where `projection` shows them.
pub(super) fn ruler(painter: &Painter, band: Rect, projection: &Projection, style: Style, theme: &Theme) {
    let unit_mm = match style.units {
        UnitSystem::Metric => 1_000.0,
        UnitSystem::UsCustomary => 12.0 * MM_PER_INCH,
    };
    let step = ruler_step(projection.x_points_per_mm, unit_mm, MARK_POINTS);
    let ink = theme.color(Ink::WeakText);
    painter.hline(band.x_range(), band.bottom() - 0.5, Stroke::new(1.0, theme.color(Ink::Line)));
    let fifth = step / 5.0;
    let mut mark = (projection.x_mm(band.left()) / fifth).ceil();
    let last = projection.x_mm(band.right()) / fifth;
    while mark <= last {
        let x = projection.x(mark * fifth).round() + 0.5;
        let whole = (mark / 5.0).fract().abs() < 1e-9;
        let height = if whole { 6.0 } else { 3.0 };
        painter.vline(x, band.bottom() - height..=band.bottom(), Stroke::new(1.0, ink));
        if whole {
            let words = mark_words(mark * fifth, step, unit_mm, style);
            painter.text(
                pos2(x, band.bottom() - 6.0),
                Align2::CENTER_BOTTOM,
                words,
                FontId::proportional(10.0),
                ink,
            );
        }
        mark += 1.0;
    }
}

/// The figure at a mark: whole units where the step is whole, else as many decimals as it needs.
fn mark_words(at_mm: f64, step_mm: f64, unit_mm: f64, style: Style) -> String {
    let quantity = Quantity { value: at_mm / 1000.0, kind: QuantityKind::Length };
    let sign = quantity.unit_sign(style);
    let decimals = (-(step_mm / unit_mm).log10().floor()).clamp(0.0, 3.0) as usize;
    // Zero has no sign.
    let number = style.decimal.written(&format!("{:.*}", decimals, at_mm / unit_mm + 0.0));
    format!("{number} {sign}")
}

/// How the drawing is scaled, such as `537 m shown, heights above the deck x 42`.
pub(super) fn scale_words(projection: &Projection, deck_mm: f64, style: Style) -> String {
    let factor = projection.height_factor(deck_mm + 1.0);
    format!("{}, load heights x {}", shown_words(projection, style), times(factor))
}

/// How a deck plan is scaled, such as `537 m shown, widths x 22`.
pub(super) fn deck_scale_words(projection: &Projection, style: Style) -> String {
    let factor = projection.height_factor(0.0);
    if (factor - 1.0).abs() < 0.05 {
        return format!("{}, true shape", shown_words(projection, style));
    }
    format!("{}, widths x {}", shown_words(projection, style), times(factor))
}

fn times(factor: f64) -> String {
    if factor >= 9.5 { format!("{factor:.0}") } else { format!("{factor:.1}") }
}

fn shown_words(projection: &Projection, style: Style) -> String {
    let shown_m = f64::from(projection.rect.width()) / projection.x_points_per_mm / 1000.0;
    let shown = Quantity::length_m(shown_m);
    let value = shown.shown_value(style);
    let width = if value >= 20.0 { format!("{value:.0}") } else { format!("{value:.2}") };
    format!("{width} {} shown", shown.unit_sign(style))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(at_mm: f64, step_mm: f64, units: UnitSystem, expected: &str) {
        let style = Style { units, ..Style::default() };
        let unit_mm = if units == UnitSystem::Metric { 1_000.0 } else { 304.8 };
        assert_eq!(mark_words(at_mm, step_mm, unit_mm, style), expected);
    }

    #[test]
    fn marks_show_as_many_decimals_as_their_step_needs() {
        check(-0.0, 50_000.0, UnitSystem::Metric, "0 m");
        check(150_000.0, 50_000.0, UnitSystem::Metric, "150 m");
        check(2_500.0, 500.0, UnitSystem::Metric, "2.5 m");
        check(1_050.0, 50.0, UnitSystem::Metric, "1.05 m");
        check(304_800.0, 30_480.0, UnitSystem::UsCustomary, "1000 ft");
    }
}
