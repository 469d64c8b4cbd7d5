//! The states as boxes in a row: to step on, and to drag along.

use super::columns::Columns;
use super::{card, scrub};
use crate::gui::commands::Pane;
use crate::gui::menus::{self, MenuOf};
use crate::gui::{Request, Role, Shown};
use crate::statics::StateKind;
use egui::{Align2, FontId, Key, Rect, Sense, Ui, WidgetInfo};

/// Draws the row of states.
pub(super) fn cells_ui(
    ui: &mut Ui,
    shown: &Shown<'_>,
    columns: &Columns,
    row: Rect,
    requests: &mut Vec<Request>,
) {
    // Under the boxes, which take clicks: a drag that begins on any of them goes on along all.
    let ground = ui.interact(row, ui.scope_id().with("states row"), Sense::drag());
    if ground.is_pointer_button_down_on() {
        scrub(&ground, shown, columns, requests);
    }
    for state in columns.seen() {
        cell_ui(ui, shown, (columns, row, state), requests);
    }
}

fn cell_ui(
    ui: &mut Ui,
    shown: &Shown<'_>,
    (columns, row, state): (&Columns, Rect, usize),
    requests: &mut Vec<Request>,
) {
    let Some(load) = shown.settled.states.get(state) else { return };
    let half = matches!(load.kind, StateKind::HalfPair { .. });
    let mut cell = Rect::from_x_y_ranges(columns.span(state), row.y_range());
    cell.max -= egui::vec2(1.0, 1.0);
    cell.min.y += if half { 4.0 } else { 0.0 };
    let response = ui.interact(cell, ui.scope_id().with(("state", state)), Sense::click());
    let title = load.title(&shown.settled.plan);
    let is_now = state == shown.state;
    response
        .widget_info(|| WidgetInfo::selected(egui::Role::Button, true, is_now, format!("State: {title}")));
    if is_now && shown.focus == Some(Pane::States) {
        response.request_focus();
    }
    let theme = shown.theme;
    let ground = match (is_now, load.kind) {
        (true, _) => Role::SelectedEdge,
        (_, StateKind::Departure | StateKind::AfterDrop { .. }) => Role::Gear,
        _ => Role::Line,
    };
    let painter = ui.painter_at(cell.expand(1.0).intersect(row.expand(1.0)));
    painter.rect_filled(cell, 0.0, theme.color(ground));
    if response.hovered() || response.has_focus() {
        let line = (1.5, theme.color(Role::Accent));
        painter.rect_stroke(cell, 0.0, line, egui::StrokeKind::Outside);
    }
    let words = match load.kind {
        StateKind::Departure => "dep".to_owned(),
        StateKind::AfterStep { step, .. } => format!("{}", step + 1),
        StateKind::AfterDrop { .. } => "●".to_owned(),
        StateKind::HalfPair { .. } => "½".to_owned(),
    };
    let ink =
        if matches!(ground, Role::SelectedEdge) || ground == Role::Gear { Role::Canvas } else { Role::Text };
    if cell.width() > 12.0 + 3.0 * words.len() as f32 {
        let font = FontId::proportional(10.5);
        painter.text(cell.center(), Align2::CENTER_CENTER, words, font, theme.color(ink));
    }
    menus::ask(&response, || MenuOf::State(state), requests);
    let by_key = response.has_focus() && ui.input(|i| i.key_pressed(Key::Enter) || i.key_pressed(Key::Space));
    if response.clicked() || by_key {
        requests.push(Request::ShowState(state));
    }
    card::on_hover(response, shown, columns);
}
