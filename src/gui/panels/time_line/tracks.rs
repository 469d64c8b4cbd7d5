//! Checks as tracks of their own: the use of each state against its limit, and a mark where it is broken or near.

use super::columns::Columns;
use super::head::used_words;
use super::plot::{Scale, limit_line, now_line, use_line};
use super::{TRACK_POINTS, TimeLine, card, scrub};
use crate::checks::{CheckStates, Outcome};
use crate::gui::panels::mark::{paint_mark, role_of};
use crate::gui::{Request, Role, Shown};
use egui::{
    FontId, Painter, Rect, ScrollArea, Sense, Stroke, StrokeKind, Ui, UiBuilder, WidgetInfo, pos2, vec2,
};

/// A track reaches a little above its limit.
const TOP: f64 = 1.15;

impl TimeLine {
    /// Draws the tracks, to be scrolled where there is no room for all.
    pub(super) fn tracks_ui(
        &mut self,
        ui: &mut Ui,
        shown: &Shown<'_>,
        (columns, rect): (&Columns, Rect),
        requests: &mut Vec<Request>,
    ) {
        if self.tracks.is_empty() || rect.height() < 8.0 {
            return;
        }
        let mut gone = None;
        let mut child = ui.new_child(UiBuilder::new().max_rect(rect).id_salt("tracks"));
        ScrollArea::vertical().auto_shrink(false).show(&mut child, |ui| {
            ui.spacing_mut().item_spacing.y = 0.0;
            for id in &self.tracks {
                let (_, room) = ui.allocate_space(vec2(ui.available_width(), TRACK_POINTS));
                let room = Rect::from_x_y_ranges(rect.x_range(), room.y_range()).shrink2(vec2(0.0, 1.0));
                let of = shown.settled_assessment.by_state.iter().find(|of| of.check.id == *id);
                if track_ui(ui, shown, (columns, room), (id, of), requests) {
                    gone = Some(*id);
                }
            }
        });
        gone.into_iter().for_each(|id| self.remove_track(id));
    }
}

/// Height of a track's name, in points.
const NAME_POINTS: f32 = 15.0;

/// One track; whether it is to go.
fn track_ui(
    ui: &mut Ui,
    shown: &Shown<'_>,
    (columns, room): (&Columns, Rect),
    (id, of): (&'static str, Option<&CheckStates>),
    requests: &mut Vec<Request>,
) -> bool {
    let title = crate::gui::panels::findings::title_of(id);
    let response = ui.interact(room, ui.scope_id().with(("track", id)), Sense::click_and_drag());
    response.widget_info(|| {
        let used = used_words(of.and_then(CheckStates::most_used));
        WidgetInfo::labeled(egui::Role::Canvas, true, format!("track {title} {used}"))
    });
    let theme = shown.theme;
    let painter = ui.painter_at(room);
    painter.rect_filled(room, 2.0, theme.color(Role::Canvas));
    now_line(&painter, shown, columns, room);
    if let Some(of) = of {
        // Under its name, which would cover the first states.
        let plot = Rect::from_min_max(room.min + vec2(0.0, NAME_POINTS), room.max);
        let scale = Scale { rect: plot, least: 0.0, most: TOP };
        limit_line(&painter, shown, &scale);
        let uses: Vec<Option<f64>> = of.states.iter().map(|told| told.and_then(|told| told.used)).collect();
        let worst = of.worst().map_or(Role::Accent, role_of);
        use_line(&painter, columns, &uses, &scale, Stroke::new(1.6, theme.color(worst)));
        marks(&painter, shown, columns, (of, &scale));
    }
    painter.rect_stroke(room, 2.0, Stroke::new(1.0, theme.color(Role::Line)), StrokeKind::Inside);
    scrub(&response, shown, columns, requests);
    card::on_hover(response, shown, columns);
    name_ui(ui, shown, room, (id, title, of))
}

/// A mark for each run of states in which the limit is broken or near, at the one that uses most.
fn marks(painter: &Painter, shown: &Shown<'_>, columns: &Columns, (of, scale): (&CheckStates, &Scale)) {
    let seen = columns.seen();
    let told = of.states.get(seen.start..seen.end.min(of.states.len())).unwrap_or_default();
    let open = |at: usize| {
        let told = told.get(at).copied().flatten()?;
        matches!(told.outcome, Outcome::Fail | Outcome::Near).then_some(told)
    };
    let states: Vec<usize> = (0..told.len()).filter(|at| open(*at).is_some()).collect();
    let alike =
        |a: &usize, b: &usize| a + 1 == *b && open(*a).map(|t| t.outcome) == open(*b).map(|t| t.outcome);
    for run in states.chunk_by(alike) {
        let used = |at: &usize| open(*at).and_then(|told| told.used).unwrap_or(0.0);
        let Some(at) = run.iter().copied().max_by(|a, b| used(a).total_cmp(&used(b))) else { continue };
        let Some(told) = open(at) else { continue };
        let y = scale.y(told.used.unwrap_or(1.0)).clamp(scale.rect.top() + 7.0, scale.rect.bottom() - 7.0);
        paint_mark(painter, pos2(columns.middle(seen.start + at), y), told.outcome, *shown.theme);
    }
}

/// The name of a track on a plate at its left, and a button that takes it away; whether that was pressed.
fn name_ui(
    ui: &mut Ui,
    shown: &Shown<'_>,
    room: Rect,
    (id, title, of): (&'static str, &str, Option<&CheckStates>),
) -> bool {
    let theme = shown.theme;
    let words = match of {
        Some(of) => format!("{title} {}", used_words(of.most_used())),
        None => format!("{title}: tells of no state"),
    };
    let font = FontId::proportional(11.0);
    let galley = ui.painter().layout_no_wrap(words, font, theme.color(Role::Text));
    let plate = Rect::from_min_size(room.min + vec2(2.0, 2.0), vec2(galley.size().x + 24.0, 14.0));
    ui.painter_at(room).rect_filled(plate, 2.0, theme.color(Role::Canvas).gamma_multiply(0.85));
    ui.painter_at(room).galley(plate.min + vec2(18.0, 0.0), galley, theme.color(Role::Text));
    let place = Rect::from_min_size(plate.min, vec2(15.0, 14.0));
    let mut child = ui.new_child(UiBuilder::new().max_rect(place).id_salt(("track name", id)));
    let button = child.add(egui::Button::new("×").small().frame(false).min_size(place.size()));
    button.accessible_name(format!("Remove the track {title}")).on_hover_text("Remove this track").clicked()
}
