//! The time line: departure, the steps of each drop, the end; over it the worst use and the wheel balance of each
//! state, and any check as a track of its own. It is scrubbed, played, and steps and drops are put in order on it.

mod card;
mod cells;
mod columns;
mod head;
mod plot;
mod reorder;
mod steps;
mod tracks;

use crate::gui::{Request, Shown};
use columns::Columns;
use egui::{Rect, Response, Ui, pos2, vec2};
use head::Playing;
use reorder::Held;

/// Heights of the rows under the plot: states, steps, names of drops.
const CELLS_POINTS: f32 = 16.0;
const STEPS_POINTS: f32 = 15.0;
const DROPS_POINTS: f32 = 14.0;
/// The plot is at least this high.
const LEAST_PLOT_POINTS: f32 = 30.0;
/// Height of a track.
pub(in crate::gui) const TRACK_POINTS: f32 = 42.0;

/// The time line's own state.
#[derive(Debug, Default)]
pub(in crate::gui) struct TimeLine {
    /// Ids of the checks that have a track.
    tracks: Vec<&'static str>,
    playing: Playing,
    /// What is being dragged to another place in the order.
    held: Option<Held>,
    /// How far the columns are scrolled, in points.
    offset: f32,
    /// The state that was brought into view last.
    followed: usize,
}

impl TimeLine {
    /// How many tracks there are.
    pub(in crate::gui) fn track_count(&self) -> usize {
        self.tracks.len()
    }

    /// Draws the time line into all of `ui`.
    pub(in crate::gui) fn ui(&mut self, ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
        // Names of its own: the pane is another one for each number of tracks, and menu and keyboard stay.
        let builder = egui::UiBuilder::new().scope_id(egui::Id::unique("time line"));
        ui.scope_builder(builder, |ui| self.rows_ui(ui, shown, requests));
    }

    fn rows_ui(&mut self, ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
        self.play(ui, shown, requests);
        self.head_ui(ui, shown, requests);
        let room = ui.available_rect_before_wrap();
        if room.width() < 40.0 || shown.settled.states.is_empty() {
            return;
        }
        let columns = self.scrolled(ui, shown, room);
        let rows = CELLS_POINTS + STEPS_POINTS + DROPS_POINTS;
        let upper = (room.height() - rows).max(LEAST_PLOT_POINTS);
        let tracks = (self.tracks.len() as f32 * TRACK_POINTS).min((upper - LEAST_PLOT_POINTS).max(0.0));
        let row = |top: f32, height: f32| {
            Rect::from_min_size(pos2(room.left(), room.top() + top), vec2(room.width(), height))
        };
        plot::plot_ui(ui, shown, &columns, row(0.0, upper - tracks - 2.0), requests);
        self.tracks_ui(ui, shown, (&columns, row(upper - tracks, tracks)), requests);
        cells::cells_ui(ui, shown, &columns, row(upper, CELLS_POINTS), requests);
        self.steps_ui(ui, shown, (&columns, row(upper + CELLS_POINTS, STEPS_POINTS)), requests);
        let names = row(upper + CELLS_POINTS + STEPS_POINTS, DROPS_POINTS);
        self.drops_ui(ui, shown, (&columns, names), requests);
        let all = row(upper, rows);
        self.held_ui(ui, shown, (&columns, all), requests);
        scroll_mark(ui, shown, &columns, all);
        ui.advance_cursor_after_rect(room);
    }

    /// The columns, scrolled by the wheel, by a pointer that drags at an edge, and to a state that was chosen.
    fn scrolled(&mut self, ui: &Ui, shown: &Shown<'_>, room: Rect) -> Columns {
        let mut columns = Columns::of(&shown.settled.states, room.x_range(), self.offset);
        if columns.hidden() > 0.0 {
            self.offset = columns.offset + wheel(ui, room) + edge_pull(ui, room);
            columns = Columns::of(&shown.settled.states, room.x_range(), self.offset);
        }
        if self.followed != shown.state {
            self.followed = shown.state;
            columns = columns.showing(shown.state);
        }
        self.offset = columns.offset;
        columns
    }
}

/// How far the wheel moves the columns.
fn wheel(ui: &Ui, room: Rect) -> f32 {
    let (over, delta) = ui.input(|input| {
        let over = input.pointer.hover_pos().is_some_and(|at| room.contains(at));
        (over, input.smooth_scroll_delta())
    });
    if over { -(delta.x + delta.y) } else { 0.0 }
}

/// A pointer that drags within so many points of an edge pulls the columns along.
const EDGE_POINTS: f32 = 24.0;
/// How far in each frame.
const PULL_POINTS: f32 = 7.0;

fn edge_pull(ui: &Ui, room: Rect) -> f32 {
    let dragging = ui.input(|input| {
        let from = input.pointer.press_origin().filter(|at| room.contains(*at));
        from.and(input.pointer.interact_pos()).filter(|_| input.pointer.primary_down())
    });
    let Some(at) = dragging else { return 0.0 };
    let pull = if at.x < room.left() + EDGE_POINTS {
        -PULL_POINTS
    } else if at.x > room.right() - EDGE_POINTS {
        PULL_POINTS
    } else {
        return 0.0;
    };
    ui.ctx().request_repaint();
    pull
}

/// Where the view stands among columns that do not fit, as a bar along the lower edge.
fn scroll_mark(ui: &Ui, shown: &Shown<'_>, columns: &Columns, rows: Rect) {
    let hidden = columns.hidden();
    if hidden <= 0.0 {
        return;
    }
    let whole = hidden + rows.width();
    let left = rows.left() + columns.offset / whole * rows.width();
    let size = vec2(rows.width() * rows.width() / whole, 3.0);
    let bar = Rect::from_min_size(pos2(left, rows.bottom() + 1.0), size);
    ui.painter().rect_filled(bar, 1.5, shown.theme.color(crate::gui::Role::WeakText));
}

/// Shows the state under a pointer that is pressed on `response`, as long as it is.
fn scrub(response: &Response, shown: &Shown<'_>, columns: &Columns, requests: &mut Vec<Request>) {
    let pressed =
        response.is_pointer_button_down_on() && response.ctx.input(|input| input.pointer.primary_down());
    if !(pressed || response.clicked()) {
        return;
    }
    let at = response.interact_pointer_pos().and_then(|at| columns.at(at.x));
    requests.extend(at.filter(|state| *state != shown.state).map(Request::ShowState));
}
