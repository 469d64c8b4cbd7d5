//! The worst use of a load limit and the worst wheel ratio of each state, as lines.

use super::columns::Columns;
use super::{card, scrub};
use crate::gui::{Request, Role, Shown};
use egui::{Painter, Pos2, Rect, Sense, Shape, Stroke, StrokeKind, Ui, WidgetInfo, pos2};

/// The plot begins at this share of the limit at most.
const HIGHEST_GROUND: f64 = 0.6;
/// Uses above this are drawn here: how far above does not matter to the eye.
const TOP: f64 = 1.6;
/// The check whose use is the wheel ratio over its limit.
const WHEELS: &str = "wheel-balance";

/// Heights of shares of a limit.
#[derive(Clone, Copy, Debug)]
pub(super) struct Scale {
    pub(super) rect: Rect,
    pub(super) least: f64,
    pub(super) most: f64,
}

impl Scale {
    pub(super) fn y(&self, share: f64) -> f32 {
        let up = (share.min(self.most) - self.least) / (self.most - self.least);
        self.rect.bottom() - (up.max(0.0) as f32) * self.rect.height()
    }
}

/// Draws the plot and takes the pointer over it.
pub(super) fn plot_ui(
    ui: &mut Ui,
    shown: &Shown<'_>,
    columns: &Columns,
    rect: Rect,
    requests: &mut Vec<Request>,
) {
    let response = ui.interact(rect, ui.scope_id().with("plot"), Sense::click_and_drag());
    response.widget_info(|| WidgetInfo::labeled(egui::Role::Canvas, true, "use over the states"));
    let theme = shown.theme;
    let painter = ui.painter_at(rect);
    painter.rect_filled(rect, 2.0, theme.color(Role::Canvas));
    let uses = &shown.settled_assessment.state_uses;
    let wheels: Vec<Option<f64>> = uses_of(shown, WHEELS);
    let all = || uses.iter().chain(&wheels).flatten().copied();
    // What matters lies near the limit, so the lower part is left out where nothing reaches it.
    let least = (all().fold(1.0_f64, f64::min) - 0.1).clamp(0.0, HIGHEST_GROUND);
    let most = all().fold(1.1_f64, f64::max).min(TOP) + 0.08;
    let scale = Scale { rect, least, most };
    now_line(&painter, shown, columns, rect);
    limit_line(&painter, shown, &scale);
    let wheel = Stroke::new(1.8, theme.color(Role::OtherString));
    for points in runs(columns, &wheels, &scale) {
        painter.extend(match points.as_slice() {
            [only] => vec![Shape::circle_filled(*only, 3.0, wheel.color)],
            _ => Shape::dashed_line(&points, wheel, 7.0, 5.0),
        });
    }
    use_line(&painter, columns, uses, &scale, Stroke::new(1.8, theme.color(Role::Accent)));
    painter.rect_stroke(rect, 2.0, Stroke::new(1.0, theme.color(Role::Line)), StrokeKind::Inside);
    scrub(&response, shown, columns, requests);
    card::on_hover(response, shown, columns);
}

/// The uses that a check tells of the states.
fn uses_of(shown: &Shown<'_>, check: &str) -> Vec<Option<f64>> {
    let of = shown.settled_assessment.by_state.iter().find(|of| of.check.id == check);
    of.map_or_else(Vec::new, |of| of.states.iter().map(|told| told.and_then(|told| told.used)).collect())
}

/// An upright line at the state shown.
pub(super) fn now_line(painter: &Painter, shown: &Shown<'_>, columns: &Columns, rect: Rect) {
    let stroke = Stroke::new(1.5, shown.theme.color(Role::SelectedEdge));
    painter.vline(columns.middle(shown.state), rect.y_range(), stroke);
}

/// A dotted line where all of a limit is used.
pub(super) fn limit_line(painter: &Painter, shown: &Shown<'_>, scale: &Scale) {
    let y = scale.y(1.0).round() + 0.5;
    let ends = [pos2(scale.rect.left(), y), pos2(scale.rect.right(), y)];
    let stroke = Stroke::new(1.0, shown.theme.color(Role::Text));
    painter.extend(Shape::dashed_line(&ends, stroke, 2.0, 4.0));
}

/// A line through the uses of the states in view, with gaps where none is known.
pub(super) fn use_line(
    painter: &Painter,
    columns: &Columns,
    uses: &[Option<f64>],
    scale: &Scale,
    stroke: Stroke,
) {
    for points in runs(columns, uses, scale) {
        painter.add(match points.as_slice() {
            [only] => Shape::circle_filled(*only, 3.0, stroke.color),
            _ => Shape::line(points, stroke),
        });
    }
}

/// Points of states in a row, in and next to the view, of which a use is known.
fn runs(columns: &Columns, uses: &[Option<f64>], scale: &Scale) -> Vec<Vec<Pos2>> {
    let seen = columns.seen();
    let (first, last) = (seen.start.saturating_sub(1), (seen.end + 1).min(uses.len()));
    let near = uses.get(first..last).unwrap_or_default();
    let known = |state: usize| uses.get(state).copied().flatten();
    let point = |state: usize| Some(pos2(columns.middle(state), scale.y(known(state)?)));
    let states: Vec<usize> = (first..first + near.len()).filter(|state| known(*state).is_some()).collect();
    let in_a_row = states.chunk_by(|a, b| a + 1 == *b);
    in_a_row.map(|run| run.iter().filter_map(|state| point(*state)).collect()).collect()
}
