//! The states in a strip: departure, the steps of each drop, the end; with the worst use and the wheel
//! balance of each drawn over it.

use crate::gui::commands::Pane;
use crate::gui::menus::{self, MenuOf};
use crate::gui::{Request, Role, Shown};
use crate::model::LimitKind;
use crate::statics::{StateKind, StateRule, SupportLoads};
use egui::{Align2, FontId, Key, Rect, RichText, Sense, Ui, WidgetInfo, pos2, vec2};
use egui_plot::{HLine, Line, LineStyle, MarkerShape, Plot, PlotPoints, Points, VLine};

/// The states of one column of the strip: usually one; the two halves of a pair are narrow.
const HALF_SHARE: f64 = 0.5;
const TRACK_POINTS: f32 = 30.0;

/// Where each state begins and ends along the strip, in columns.
struct Columns(Vec<(f64, f64)>);

impl Columns {
    fn of(shown: &Shown<'_>) -> Self {
        let mut x = 0.0;
        let columns = shown.settled.states.iter().map(|state| {
            let width = if matches!(state.kind, StateKind::HalfPair { .. }) { HALF_SHARE } else { 1.0 };
            let column = (x, x + width);
            x += width;
            column
        });
        Self(columns.collect())
    }

    fn total(&self) -> f64 {
        self.0.last().map_or(1.0, |column| column.1)
    }

    fn middle(&self, state: usize) -> f64 {
        self.0.get(state).map_or(0.0, |column| (column.0 + column.1) / 2.0)
    }

    fn at(&self, x: f64) -> Option<usize> {
        self.0.iter().position(|column| column.0 <= x && x < column.1)
    }
}

/// Draws the strip.
pub(in crate::gui) fn strip_ui(ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
    let columns = Columns::of(shown);
    let last = columns.0.len().saturating_sub(1);
    ui.horizontal(|ui| {
        ui.heading("States");
        let before = ui.add_enabled(shown.state > 0, egui::Button::new("◀")).accessible_name("State before");
        if before.on_hover_text("State before ( [ )").clicked() {
            requests.push(Request::ShowState(shown.state.saturating_sub(1)));
        }
        let after = ui.add_enabled(shown.state < last, egui::Button::new("▶")).accessible_name("State after");
        if after.on_hover_text("State after ( ] )").clicked() {
            requests.push(Request::ShowState(shown.state + 1));
        }
        if let Some(state) = shown.settled.states.get(shown.state) {
            ui.strong(state.title(&shown.settled.plan));
            ui.weak(match state.rule {
                StateRule::Running => "judged by running values",
                StateRule::Working => "judged by working values",
                StateRule::NoteOnly => "half of a pair that leaves together: noted only",
            });
            ui.weak(format!("{} of {}", shown.state + 1, last + 1));
            if let Some(share) = shown.settled_assessment.state_uses.get(shown.state).copied().flatten() {
                let words = format!("uses up to {:.0} % of a load limit", share * 100.0);
                ui.add(egui::Label::new(RichText::new(words).weak()).truncate());
            }
        }
        // Without room the lines go unnamed here; their names stand in the hover.
        if ui.available_width() > LEGEND_POINTS {
            legend_ui(ui, shown);
        }
    });
    let plot = plot_rect(ui);
    plot_ui(ui, shown, &columns, plot, requests);
    track_ui(ui, shown, &columns, requests);
}

/// The line of the worst use; limits on places, which no state changes, have no part in it.
const USE_WORDS: &str = "worst use of a load limit";

/// Room that the names of the lines take.
const LEGEND_POINTS: f32 = 420.0;

fn legend_ui(ui: &mut Ui, shown: &Shown<'_>) {
    ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
        for (words, role, dashed) in [
            ("limit (100 %)", Role::Text, true),
            ("worst wheel ratio of its limit", Role::OtherString, true),
            (USE_WORDS, Role::Accent, false),
        ] {
            ui.label(RichText::new(words).small());
            let (rect, _) = ui.allocate_exact_size(vec2(22.0, 10.0), Sense::hover());
            let line = egui::Stroke::new(1.8, shown.theme.color(role));
            let ends = [rect.left_center(), rect.right_center()];
            if dashed {
                let gap = if role == Role::Text { 2.0 } else { 4.0 };
                ui.painter().extend(egui::Shape::dashed_line(&ends, line, 4.0, gap));
            } else {
                ui.painter().line_segment(ends, line);
            }
        }
    });
}

fn plot_rect(ui: &Ui) -> f32 {
    (ui.available_height() - TRACK_POINTS - 6.0).max(24.0)
}

/// The plot begins at this share of the limit at most.
const HIGHEST_GROUND: f64 = 0.6;

fn plot_ui(ui: &mut Ui, shown: &Shown<'_>, columns: &Columns, height: f32, requests: &mut Vec<Request>) {
    let series = Series::of(shown);
    let points = |values: &[Option<f64>]| -> Vec<[f64; 2]> {
        let points = values.iter().enumerate();
        points.filter_map(|(state, value)| value.map(|value| [columns.middle(state), value])).collect()
    };
    let least = series.worst_use.iter().chain(&series.wheel).flatten().fold(1.0_f64, |a, b| a.min(*b));
    // What matters lies near the limit, so the lower part is left out where nothing reaches it.
    let least = (least - 0.1).clamp(0.0, HIGHEST_GROUND);
    let most = series.worst_use.iter().chain(&series.wheel).flatten().fold(1.1_f64, |a, b| a.max(*b));
    let theme = shown.theme;
    let (uses, wheels) = (points(&series.worst_use), points(&series.wheel));
    let (uses_alone, wheels_alone) = (uses.clone(), wheels.clone());
    let now = columns.middle(shown.state);
    let total = columns.total();
    let plot = Plot::new("states plot")
        .height(height)
        .width(ui.available_width())
        .show_axes(false)
        .show_grid(false)
        .show_x(false)
        .show_y(false)
        .allow_zoom(false)
        .allow_scroll(false)
        .allow_drag(false)
        .allow_boxed_zoom(false)
        .set_margin_fraction(vec2(0.0, 0.0))
        .show(ui, move |plot| {
            plot.set_plot_bounds_x(0.0..=total);
            plot.set_plot_bounds_y(least..=(most + 0.08));
            plot.vline(VLine::new("state shown", now).color(theme.color(Role::SelectedEdge)).width(1.5));
            let dotted = LineStyle::dotted_dense();
            plot.hline(HLine::new("limit", 1.0).color(theme.color(Role::Text)).style(dotted).width(1.0));
            let line =
                |name: &str, points: Vec<[f64; 2]>| Line::new(name, PlotPoints::from(points)).width(1.8);
            plot.line(line(USE_WORDS, uses).color(theme.color(Role::Accent)));
            // One state alone makes no line.
            if let ([only], [wheel]) = (uses_alone.as_slice(), wheels_alone.as_slice()) {
                let dot = |name: &str, at: [f64; 2]| Points::new(name, vec![at]).radius(4.0);
                plot.points(dot(USE_WORDS, *only).color(theme.color(Role::Accent)));
                let mark = dot("worst wheel ratio of its limit", *wheel).shape(MarkerShape::Diamond);
                plot.points(mark.color(theme.color(Role::OtherString)));
            }
            let dashed = LineStyle::dashed_loose();
            let wheel = line("worst wheel ratio of its limit", wheels);
            plot.line(wheel.color(theme.color(Role::OtherString)).style(dashed));
            plot.pointer_coordinate().map(|at| at.x)
        });
    let clicked = plot.response.clicked() || plot.response.is_pointer_button_down_on();
    if let Some(state) = plot.inner.filter(|_| clicked).and_then(|x| columns.at(x))
        && state != shown.state
    {
        requests.push(Request::ShowState(state));
    }
}

/// The states as boxes to step on, over the names of their drops.
fn track_ui(ui: &mut Ui, shown: &Shown<'_>, columns: &Columns, requests: &mut Vec<Request>) {
    let (_, rect) = ui.allocate_space(vec2(ui.available_width(), TRACK_POINTS));
    let scale = f64::from(rect.width()) / columns.total();
    let x = |column: f64| rect.left() + (column * scale) as f32;
    for (state, column) in columns.0.iter().enumerate() {
        let half = matches!(shown.settled.states[state].kind, StateKind::HalfPair { .. });
        let top = if half { rect.top() + 4.0 } else { rect.top() };
        let cell = Rect::from_min_max(pos2(x(column.0), top), pos2(x(column.1) - 1.0, rect.top() + 15.0));
        cell_ui(ui, shown, cell, state, requests);
    }
    drop_names_ui(ui, shown, columns, rect);
}

fn cell_ui(ui: &mut Ui, shown: &Shown<'_>, cell: Rect, state: usize, requests: &mut Vec<Request>) {
    let Some(load) = shown.settled.states.get(state) else { return };
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
    let painter = ui.painter_at(cell.expand(1.0));
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
        painter.text(
            cell.center(),
            Align2::CENTER_CENTER,
            words,
            FontId::proportional(10.5),
            theme.color(ink),
        );
    }
    menus::ask(&response, || MenuOf::State(state), requests);
    let by_key = response.has_focus() && ui.input(|i| i.key_pressed(Key::Enter) || i.key_pressed(Key::Space));
    if response.on_hover_text(title).clicked() || by_key {
        requests.push(Request::ShowState(state));
    }
}

fn drop_names_ui(ui: &Ui, shown: &Shown<'_>, columns: &Columns, rect: Rect) {
    let scale = f64::from(rect.width()) / columns.total();
    let font = FontId::proportional(11.0);
    for (at, drop) in shown.settled.plan.drops.iter().enumerate() {
        let is_of_it = |kind: StateKind| match kind {
            StateKind::Departure => false,
            StateKind::HalfPair { drop, .. }
            | StateKind::AfterStep { drop, .. }
            | StateKind::AfterDrop { drop } => drop == at,
        };
        let mut of_it = shown.settled.states.iter().enumerate().filter(|(_, state)| is_of_it(state.kind));
        let Some((first, _)) = of_it.next() else { continue };
        let last = of_it.next_back().map_or(first, |(last, _)| last);
        let left = rect.left() + (columns.0[first].0 * scale) as f32;
        let right = rect.left() + (columns.0[last].1 * scale) as f32 - 1.0;
        let under = Rect::from_min_max(pos2(left, rect.top() + 16.0), pos2(right, rect.bottom()));
        let painter = ui.painter_at(under);
        painter.hline(left..=right, under.top() + 1.0, (1.0, shown.theme.color(Role::WeakText)));
        painter.text(
            pos2(left + 2.0, under.top() + 2.0),
            Align2::LEFT_TOP,
            drop.name.as_str(),
            font.clone(),
            shown.theme.color(Role::WeakText),
        );
    }
}

/// One value per state, as a share of the limit.
struct Series {
    worst_use: Vec<Option<f64>>,
    wheel: Vec<Option<f64>>,
}

/// Uses above this are drawn here: how far above does not matter to the eye.
const TOP: f64 = 1.6;

impl Series {
    fn of(shown: &Shown<'_>) -> Self {
        let figures = shown.settled;
        let limit = figures.plan.limits.get(LimitKind::WheelRatio);
        let wheel_of = |state: usize| -> Option<f64> {
            let limit = limit?;
            let loads = figures.state(state)?;
            let allowed = match figures.states.get(state)?.rule {
                StateRule::Running => limit.running,
                StateRule::Working | StateRule::NoteOnly => limit.working.unwrap_or(limit.running),
            };
            let supports = loads.vehicles.iter().flat_map(|vehicle| &vehicle.supports);
            let worst = supports.map(SupportLoads::worse_ratio).fold(1.0, f64::max);
            Some((worst / allowed).min(TOP))
        };
        let worst_use = shown
            .settled_assessment
            .state_uses
            .iter()
            .map(|share| share.map(|share| share.min(TOP)))
            .collect();
        Self { worst_use, wheel: (0..figures.states.len()).map(wheel_of).collect() }
    }
}
