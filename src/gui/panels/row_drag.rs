//! Rows that are dragged to another place of their list by a handle, or moved by the arrow keys while it has the
//! keyboard.

use crate::gui::{Role, Theme};
use egui::{
    CursorIcon, DragAndDrop, EventFilter, Key, Modifiers, Rangef, Rect, Response, Sense, Stroke, Ui,
    WidgetInfo, pos2, vec2,
};

/// The size of a handle in points.
const HANDLE: egui::Vec2 = vec2(14.0, 18.0);
/// A row dragged within so many points of the list's edge scrolls it.
const EDGE_POINTS: f32 = 22.0;

/// A row that is being dragged: the list's name, and its index there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct DraggedRow {
    /// The list.
    pub(super) list: String,
    /// The row.
    pub(super) row: usize,
}

/// Which way a row is moved by keys.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Way {
    /// Up, to an earlier place.
    Earlier,
    /// Down, to a later place.
    Later,
}

/// A handle to drag a row by; gives itself, and which way an arrow key asks for.
pub(super) fn handle_ui(ui: &mut Ui, name: &str, dragged: DraggedRow) -> (Response, Option<Way>) {
    let (_, rect) = ui.allocate_space(HANDLE);
    // By list and name alone: the keyboard stays with a row that goes to another place.
    let id = egui::Id::unique(("row handle", &dragged.list, name));
    let response = ui.interact(rect, id, Sense::click_and_drag());
    response.widget_info(|| WidgetInfo::labeled(egui::Role::Button, true, name));
    let theme = Theme::of(ui);
    let strong = response.hovered() || response.has_focus();
    let stroke = Stroke::new(1.4, theme.color(if strong { Role::Accent } else { Role::WeakText }));
    for by in [-3.5, 0.0, 3.5] {
        ui.painter().hline(rect.center().x - 4.0..=rect.center().x + 4.0, rect.center().y + by, stroke);
    }
    if response.clicked() {
        response.request_focus();
    }
    if response.drag_started() {
        DragAndDrop::set_payload(ui.ctx(), dragged);
    }
    let way = way_by_key(ui, &response);
    let how = format!("{name}: drag it, or press an arrow key");
    (response.on_hover_cursor(CursorIcon::Grab).on_hover_text(how), way)
}

fn way_by_key(ui: &Ui, response: &Response) -> Option<Way> {
    if !response.has_focus() {
        return None;
    }
    let filter = EventFilter { vertical_arrows: true, ..EventFilter::default() };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, filter));
    let pressed = |key| ui.input_mut(|input| input.consume_key(Modifiers::NONE, key));
    match (pressed(Key::ArrowUp), pressed(Key::ArrowDown)) {
        (true, _) => Some(Way::Earlier),
        (_, true) => Some(Way::Later),
        _ => None,
    }
}

/// Follows a row of `list` that is dragged over `rows`, each with its index and place: shows where it would go; once
/// it is let go there, gives the row and the gap, counted in rows before it.
pub(super) fn dropped_among(
    ui: &Ui,
    list: &str,
    rows: &[(usize, Rect)],
    across: Rangef,
) -> Option<(usize, usize)> {
    let dragged = DragAndDrop::payload::<DraggedRow>(ui.ctx()).filter(|dragged| dragged.list == list)?;
    let at = ui.input(|input| input.pointer.interact_pos())?;
    let (first, last) = (rows.first()?, rows.last()?);
    let after = rows.iter().filter(|(_, rect)| rect.center().y < at.y).count();
    let gap = after.checked_sub(1).map_or(first.0, |before| rows[before].0 + 1);
    let y = if after == 0 { first.1.top() } else { rows[after - 1].1.bottom() };
    let near = at.y > first.1.top() - 60.0 && at.y < last.1.bottom() + 60.0;
    if !near || !across.contains(at.x) {
        return None;
    }
    let stays = gap == dragged.row || gap == dragged.row + 1;
    let theme = Theme::of(ui);
    let color = theme.color(if stays { Role::Origin } else { Role::Ghost });
    let painter = ui.painter();
    painter.hline(across, y, Stroke::new(2.5, color));
    let head = vec![pos2(across.min, y - 4.0), pos2(across.min + 6.0, y), pos2(across.min, y + 4.0)];
    painter.add(egui::Shape::convex_polygon(head, color, Stroke::NONE));
    ui.ctx().set_cursor_icon(CursorIcon::Grabbing);
    let released = ui.input(|input| input.pointer.any_released());
    if !released {
        return None;
    }
    DragAndDrop::clear_payload(ui.ctx());
    (!stays).then_some((dragged.row, gap))
}

/// Scrolls the list around `ui` while a row of it is dragged near its upper or lower edge.
pub(super) fn pull_at_edges(ui: &Ui, list: &str) {
    let ours = DragAndDrop::payload::<DraggedRow>(ui.ctx()).is_some_and(|dragged| dragged.list == list);
    let Some(at) = ui.input(|input| input.pointer.interact_pos()).filter(|_| ours) else { return };
    let view = ui.clip_rect();
    let by = if at.y < view.top() + EDGE_POINTS {
        8.0
    } else if at.y > view.bottom() - EDGE_POINTS {
        -8.0
    } else {
        return;
    };
    ui.scroll_with_delta_animation(vec2(0.0, by), egui::style::ScrollAnimation::none());
    ui.ctx().request_repaint();
}

/// The index of a row once it has left its old place for a gap.
pub(super) fn index_after(from: usize, gap: usize) -> usize {
    if gap > from { gap - 1 } else { gap }
}
