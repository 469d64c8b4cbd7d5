//! The plots: each figure over what is turned, its bound as a line, the present value as a point with its value.

use super::bench::{Bench, Over};
use crate::gui::{Role, Shown, Theme};
use crate::model::Exercise;
use crate::planning::what_if::{Bound, Knob, Measure, Plotted, Reading};
use crate::units::{DecimalMark, Length, Quantity, Style};
use crate::working::Question;
use egui::{Align2, Color32, Key, RichText, Sense, Ui, WidgetInfo, vec2};
use egui_plot::{
    AxisHints, GridMark, HLine, Line, LineStyle, MarkerShape, Plot, PlotPoint, PlotPoints, Points, VLine,
};

/// Height of the line of figures over a plot, in points.
const HEAD_POINTS: f32 = 20.0;
/// Height of the numbers under a plot, in points.
const AXIS_POINTS: f32 = 18.0;

/// A plot of one or two figures of the same unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Chart {
    /// Axle loads of the wagon's front and rear bogie.
    Axles,
    /// Front to rear, and left to right.
    Balance,
    /// Load of the rack.
    Rack,
}

/// What the user did in the plots.
#[derive(Debug, Default)]
pub(super) struct Done {
    /// A figure was asked how it came about.
    pub(super) asked: Option<Question>,
    /// The pointer chose this value along the plots.
    pub(super) chosen: Option<i64>,
}

impl Chart {
    /// All of them, from the top.
    pub(super) const ALL: [Self; 3] = [Self::Axles, Self::Balance, Self::Rack];

    /// Those that the answer of an exercise is about; where it is about none of them, the load of the rack.
    pub(super) fn of_exercise(exercise: &Exercise) -> Vec<Self> {
        let words = format!("{:?}", exercise.answer);
        let about = |signs: &[&str]| signs.iter().any(|sign| words.contains(sign));
        let axles = about(&["AxleLoad", "BogieRatio", "axle-load"]);
        let balance = about(&["BogieRatio", "WheelRatio", "wheel-balance"]);
        let rack = about(&["RackLoad", "rack-load"]) || !(axles || balance);
        let all = [(axles, Self::Axles), (balance, Self::Balance), (rack, Self::Rack)];
        all.into_iter().filter(|(is_about, _)| *is_about).map(|(_, chart)| chart).collect()
    }

    fn title(self) -> &'static str {
        match self {
            Self::Axles => "Axle load",
            Self::Balance => "Balance",
            Self::Rack => "Rack load",
        }
    }

    fn series(self) -> &'static [Plotted] {
        match self {
            Self::Axles => &[Plotted::FrontAxle, Plotted::RearAxle],
            Self::Balance => &[Plotted::BogieRatio, Plotted::WheelRatio],
            Self::Rack => &[Plotted::RackLoad],
        }
    }
}

/// Draws `charts` under each other into `height` points.
pub(super) fn charts_ui(
    ui: &mut Ui,
    shown: &Shown<'_>,
    bench: &Bench,
    (charts, height): (&[Chart], f32),
) -> Done {
    let mut done = Done::default();
    // Without the pointer over any of them the first is meant.
    let mut pointed = charts.first().copied().unwrap_or(Chart::Axles);
    let count = charts.len().max(1) as f32;
    let gaps = ui.spacing().item_spacing.y * 2.0 * count;
    let each = ((height - AXIS_POINTS - gaps) / count - HEAD_POINTS).max(40.0);
    for (at, chart) in charts.iter().enumerate() {
        let last = at + 1 == charts.len();
        ui.push_id(chart.title(), |ui| {
            let top = ui.cursor().top();
            head_ui(ui, shown, bench, *chart, &mut done);
            let height = if last { each + AXIS_POINTS } else { each };
            plot_ui(ui, shown, bench, (*chart, height, last), &mut done);
            let area = egui::Rect::from_x_y_ranges(ui.max_rect().x_range(), top..=ui.cursor().top());
            if ui.rect_contains_pointer(area) {
                pointed = *chart;
            }
        });
    }
    if !ui.ctx().text_edit_focused() && ui.input(|input| input.key_pressed(Key::Questionmark)) {
        let measure = pointed.series().iter().find_map(|plotted| bench.measure(*plotted));
        done.asked = measure.map(|measure| Question::new(measure.figure, measure.subject));
    }
    done
}

/// What a reader calls a figure beside its plot.
fn short(plotted: Plotted, measure: &Measure, bench: &Bench) -> String {
    let place = measure.subject.place(&bench.figures);
    let place = place.strip_prefix("vehicle ").unwrap_or(&place).to_owned();
    match plotted {
        Plotted::BogieRatio => format!("front to rear, {place}"),
        Plotted::WheelRatio => format!("left to right, {place}"),
        _ => place,
    }
}

/// The figures of a plot now, each with its line, its bound and the way to its working.
fn head_ui(ui: &mut Ui, shown: &Shown<'_>, bench: &Bench, chart: Chart, done: &mut Done) {
    ui.horizontal(|ui| {
        ui.set_height(HEAD_POINTS);
        ui.strong(chart.title());
        let measures: Vec<(usize, Plotted, Measure)> = chart
            .series()
            .iter()
            .enumerate()
            .filter_map(|(at, plotted)| Some((at, *plotted, bench.measure(*plotted)?)))
            .collect();
        // Each has its part of the width, so that long names never push the next one out of sight.
        let gaps = ui.spacing().item_spacing.x * measures.len() as f32;
        let part = (ui.available_width() - gaps).max(0.0) / measures.len().max(1) as f32;
        for (at, plotted, measure) in measures {
            let layout = egui::Layout::left_to_right(egui::Align::Center);
            ui.allocate_ui_with_layout(vec2(part, HEAD_POINTS), layout, |ui| {
                ui.set_min_width(part);
                let words = short(plotted, &measure, bench);
                figure_ui(ui, shown, (at, &measure, &words), done);
            });
        }
    });
}

/// One figure of a plot now.
fn figure_ui(ui: &mut Ui, shown: &Shown<'_>, (at, measure, words): (usize, &Measure, &str), done: &mut Done) {
    line_sample(ui, shown, at);
    let broken = measure.holds() == Some(false);
    let sign = if broken { "! " } else { "" };
    let mut value = RichText::new(format!("{sign}{}", measure.quantity.show(shown.style))).strong();
    if broken {
        value = value.color(shown.theme.color(Role::Fail));
    }
    let hint = format!("{words}: {}", bound_words(measure, shown.style));
    ui.label(value).on_hover_text(hint.as_str());
    let how = ui.small_button("How?").accessible_name(format!("How? {words}"));
    if how.on_hover_text(format!("{hint}\nHow it came about (?)")).clicked() {
        done.asked = Some(Question::new(measure.figure, measure.subject));
    }
    ui.add(egui::Label::new(RichText::new(words).weak().small()).truncate());
}

fn bound_words(measure: &Measure, style: Style) -> String {
    let of = |value: f64| Quantity { value, kind: measure.quantity.kind }.show(style);
    match measure.bound {
        Bound::Entered(value) => format!("at most {}", of(value)),
        Bound::NotAccepted(value) => format!("limit {} entered, but not accepted", of(value)),
        Bound::Missing => "no rating or limit entered, so undecided".to_owned(),
    }
}

fn line_sample(ui: &mut Ui, shown: &Shown<'_>, at: usize) {
    let (rect, _) = ui.allocate_exact_size(vec2(20.0, 10.0), Sense::hover());
    let stroke = egui::Stroke::new(1.8, color(shown, at));
    let ends = [rect.left_center(), rect.right_center()];
    if at == 0 {
        ui.painter().line_segment(ends, stroke);
    } else {
        ui.painter().extend(egui::Shape::dashed_line(&ends, stroke, 5.0, 4.0));
    }
}

fn color(shown: &Shown<'_>, at: usize) -> Color32 {
    shown.theme.color(if at == 0 { Role::Accent } else { Role::OtherString })
}

/// One figure along the plot, in the units shown.
struct Curve {
    points: Vec<[f64; 2]>,
    now: Option<[f64; 2]>,
    measure: Option<Measure>,
}

impl Curve {
    fn of(bench: &Bench, readings: &[&Reading], plotted: Plotted, style: Style) -> Self {
        let at = |reading: &&Reading| {
            let measure = bench.bounds.measure(reading, plotted, bench.focus)?;
            Some([x_of(bench.over, reading.value, style), measure.quantity.shown_value(style)])
        };
        let points = readings.iter().filter_map(at).filter(|point| point[1].is_finite()).collect();
        let measure = bench.measure(plotted);
        let now = measure
            .map(|measure| [x_of(bench.over, bench.along().2, style), measure.quantity.shown_value(style)]);
        Self { points, now: now.filter(|point| point[1].is_finite()), measure }
    }

    fn ys(&self) -> impl Iterator<Item = f64> {
        self.points.iter().chain(&self.now).map(|point| point[1])
    }
}

/// Where a value lies along a plot: lengths in the units shown, everything else as it is.
fn x_of(over: Over, value: i64, style: Style) -> f64 {
    match over {
        Over::Knob(Knob::Length | Knob::FrontEnd) => {
            Quantity::length(Length::from_mm(value)).shown_value(style)
        }
        _ => value as f64,
    }
}

/// The value at a place along a plot.
fn value_at(over: Over, x: f64, style: Style) -> i64 {
    match over {
        Over::Knob(knob @ (Knob::Length | Knob::FrontEnd)) => {
            let metre = Quantity::length_m(1.0).shown_value(style);
            let steps = x / metre * 1000.0 / knob.step() as f64;
            steps.round() as i64 * knob.step()
        }
        _ => x.round() as i64,
    }
}

/// The bounds of a plot with what they are called; one that is too far above the curves to be drawn tells so.
struct BoundLine {
    y: f64,
    words: String,
    seen: bool,
}

/// What a plot shows, in the units shown.
#[derive(Clone, Copy)]
struct Room {
    left: f64,
    right: f64,
    low: f64,
    high: f64,
}

/// A bound this many times above the highest point would press the curves flat.
const FARTHEST: f64 = 2.4;

fn bound_lines(chart: Chart, curves: &[Curve], style: Style) -> Vec<BoundLine> {
    let highest = curves.iter().flat_map(Curve::ys).fold(0.0, f64::max);
    let far = if chart == Chart::Balance { 1.5 } else { FARTHEST };
    let mut lines: Vec<BoundLine> = Vec::new();
    for (curve, plotted) in curves.iter().zip(chart.series()) {
        let Some(measure) = &curve.measure else { continue };
        let Some(value) = measure.bound.value() else { continue };
        let most = Quantity { value, kind: measure.quantity.kind };
        let y = most.shown_value(style);
        let name = match (plotted, measure.bound) {
            (Plotted::BogieRatio, _) => "limit front to rear",
            (Plotted::WheelRatio, _) => "limit left to right",
            (_, Bound::NotAccepted(_)) => "limit, not accepted",
            _ => "rating",
        };
        if lines.iter().all(|line| (line.y - y).abs() > 1.0e-9) {
            let words = format!("{name} {}", most.show(style));
            lines.push(BoundLine { y, words, seen: y <= highest * far });
        }
    }
    lines
}

/// The least and the largest height of a plot: all points and the bounds that are drawn, with some air.
fn heights(chart: Chart, curves: &[Curve], bounds: &[BoundLine]) -> (f64, f64) {
    let drawn = bounds.iter().filter(|bound| bound.seen).map(|bound| bound.y);
    let ys: Vec<f64> = curves.iter().flat_map(Curve::ys).chain(drawn).collect();
    let least = ys.iter().copied().fold(f64::INFINITY, f64::min);
    let most = ys.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    if !(least.is_finite() && most.is_finite()) {
        return (0.0, 1.0);
    }
    let floor = if chart == Chart::Balance { 0.1 } else { 0.05 * most.abs() };
    let air = ((most - least) * 0.16).max(floor);
    let low = if chart == Chart::Balance { 1.0 - air * 0.4 } else { (least - air).max(0.0) };
    (low.min(least), most + air)
}

fn plot_ui(
    ui: &mut Ui,
    shown: &Shown<'_>,
    bench: &Bench,
    (chart, height, last): (Chart, f32, bool),
    done: &mut Done,
) {
    let style = shown.style;
    let readings = bench.readings();
    let curves: Vec<Curve> =
        chart.series().iter().map(|plotted| Curve::of(bench, &readings, *plotted, style)).collect();
    let bounds = bound_lines(chart, &curves, style);
    let (low, high) = heights(chart, &curves, &bounds);
    let (first, end, now) = bench.along();
    let (first, end, now) =
        (x_of(bench.over, first, style), x_of(bench.over, end, style), x_of(bench.over, now, style));
    let air = if (end - first) < 1.0e-9 { 0.5 } else { (end - first) * 0.015 };
    let (left, right) = (first - air, end + air);
    let name = spoken(chart, bench, &curves, style);
    let over = bench.over;
    let names = x_names(bench);
    let theme = *shown.theme;
    let colors = [color(shown, 0), color(shown, 1)];
    let plot = Plot::new("plot")
        .height(height)
        .width(ui.available_width())
        .sense(Sense::DRAG)
        .show_axes([last, true])
        .show_grid([false, true])
        .show_x(false)
        .show_y(false)
        .allow_zoom(false)
        .allow_scroll(false)
        .allow_drag(false)
        .allow_boxed_zoom(false)
        .allow_axis_zoom_drag(false)
        .allow_double_click_reset(false)
        .x_axis_formatter(move |mark, _| x_words(mark, &names, style))
        .custom_y_axes(vec![
            AxisHints::new_y()
                .min_thickness(44.0)
                .label_spacing(egui::Rangef::new(12.0, 20.0))
                .formatter(move |mark, _| number_words(mark.value, mark.step_size, style)),
        ])
        .set_margin_fraction(vec2(0.0, 0.0));
    let drawn = plot.show(ui, move |plot| {
        plot.set_plot_bounds_x(left..=right);
        plot.set_plot_bounds_y(low..=high);
        plot.vline(VLine::new("now", now).color(theme.color(Role::Line)).width(1.0));
        for bound in &bounds {
            bound_ui(plot, bound, Room { left, right, low, high }, &theme);
        }
        for (at, curve) in curves.iter().enumerate() {
            let line =
                Line::new("figure", PlotPoints::from(curve.points.clone())).width(1.8).color(colors[at]);
            plot.line(if at == 0 { line } else { line.style(LineStyle::dashed_loose()) });
            if curve.points.len() < 2 || matches!(over, Over::States | Over::Knob(Knob::Section | Knob::Lane))
            {
                let dots = Points::new("each", PlotPoints::from(curve.points.clone())).radius(2.0);
                plot.points(dots.color(colors[at]));
            }
        }
        let highest =
            curves.iter().filter_map(|curve| curve.now).map(|now| now[1]).fold(f64::NEG_INFINITY, f64::max);
        let upper = curves.iter().position(|curve| curve.now.is_some_and(|now| now[1] >= highest));
        for (at, curve) in curves.iter().enumerate() {
            let Some(now) = curve.now else { continue };
            let shape = if at == 0 { MarkerShape::Circle } else { MarkerShape::Diamond };
            let point = Points::new("present", PlotPoints::from(vec![now])).shape(shape).radius(4.5);
            plot.points(point.color(colors[at]));
            now_ui(
                plot,
                (curve, upper == Some(at)),
                Room { left, right, low, high },
                (colors[at], style, &theme),
            );
        }
        plot.pointer_coordinate().map(|at| at.x)
    });
    let response = &drawn.response;
    response.widget_info(|| WidgetInfo::labeled(egui::Role::Image, true, name.as_str()));
    if response.is_pointer_button_down_on() {
        done.chosen = drawn.inner.map(|x| value_at(over, x, style)).or(done.chosen);
    }
}

/// Draws the line of a bound; one far above the curves is told at the upper edge.
fn bound_ui(plot: &mut egui_plot::PlotUi<'_>, bound: &BoundLine, room: Room, theme: &Theme) {
    let ink = theme.color(Role::Text);
    let rise = room.high - room.low;
    let text = |words: String, (share, y): (f64, f64), anchor: Align2| {
        let at = PlotPoint::new(room.left + (room.right - room.left) * share, y);
        let words = RichText::new(words).size(10.5).background_color(theme.color(Role::Canvas));
        egui_plot::Text::new("bound", at, words).anchor(anchor).color(ink)
    };
    if bound.seen {
        let dotted = LineStyle::dotted_dense();
        plot.hline(HLine::new("bound", bound.y).color(ink).style(dotted).width(1.2));
        // Above the line, unless that is too near the upper edge.
        let (aside, anchor) = match room.high - bound.y < rise * 0.2 {
            true => (-0.03, Align2::LEFT_TOP),
            false => (0.02, Align2::LEFT_BOTTOM),
        };
        plot.text(text(bound.words.clone(), (0.012, bound.y + rise * aside), anchor));
    } else {
        // In the middle, clear of the name of a line that is drawn.
        let words = format!("{}: far above ▲", bound.words);
        plot.text(text(words, (0.5, room.high - rise * 0.02), Align2::CENTER_TOP));
    }
}

/// The present value beside its point, on the side with room; of two, the upper above and the lower below.
fn now_ui(
    plot: &mut egui_plot::PlotUi<'_>,
    (curve, is_upper): (&Curve, bool),
    room: Room,
    (ink, style, theme): (Color32, Style, &Theme),
) {
    let (Some(measure), Some(now)) = (&curve.measure, curve.now) else { return };
    let words = RichText::new(measure.quantity.show(style)).size(11.0).strong();
    let left = now[0] > (room.left + room.right) / 2.0;
    let anchor = match (left, is_upper) {
        (true, true) => Align2::RIGHT_BOTTOM,
        (true, false) => Align2::RIGHT_TOP,
        (false, true) => Align2::LEFT_BOTTOM,
        (false, false) => Align2::LEFT_TOP,
    };
    let aside = (room.right - room.left) * if left { -0.014 } else { 0.014 };
    let words = words.background_color(theme.color(Role::Canvas));
    let place = PlotPoint::new(now[0] + aside, now[1]);
    plot.text(egui_plot::Text::new("value", place, words).anchor(anchor).color(ink));
}

/// Names of the values along a plot where numbers say nothing.
fn x_names(bench: &Bench) -> Vec<String> {
    match bench.over {
        Over::Knob(Knob::Section) => {
            bench.scratch().sections().iter().map(|section| section.name.to_string()).collect()
        }
        Over::States => bench.figures.states.iter().map(|state| state.title(&bench.figures.plan)).collect(),
        Over::Knob(_) => Vec::new(),
    }
}

fn x_words(mark: GridMark, names: &[String], style: Style) -> String {
    if names.is_empty() {
        return number_words(mark.value, mark.step_size, style);
    }
    let whole = mark.value.round();
    let at = ((mark.value - whole).abs() < 1.0e-6 && whole >= 0.0).then_some(whole as usize);
    at.and_then(|at| names.get(at)).cloned().unwrap_or_default()
}

/// A number on an axis, with as many digits as its step needs.
fn number_words(value: f64, step: f64, style: Style) -> String {
    let decimals = (0..4).find(|decimals| step * 10.0_f64.powi(*decimals) > 0.999).unwrap_or(4) as usize;
    let digits = format!("{value:.decimals$}");
    match style.decimal {
        DecimalMark::Point => digits,
        DecimalMark::Comma => digits.replace('.', ","),
    }
}

/// The plot in words: what it is over, each figure now with its bound, and how far it goes.
fn spoken(chart: Chart, bench: &Bench, curves: &[Curve], style: Style) -> String {
    let over = match bench.over {
        Over::Knob(knob) => knob.title(),
        Over::States => "States",
    };
    let mut words = format!("Plot of {} over {}", chart.title().to_lowercase(), over.to_lowercase());
    for (curve, plotted) in curves.iter().zip(chart.series()) {
        let Some(measure) = &curve.measure else { continue };
        let show = |shown: f64| {
            let si = shown * measure.quantity.value / measure.quantity.shown_value(style);
            Quantity { value: si, kind: measure.quantity.kind }.show(style)
        };
        let name = short(*plotted, measure, bench);
        words.push_str(&format!(
            "; {name}: {}, {}",
            measure.quantity.show(style),
            bound_words(measure, style)
        ));
        let (low, high) =
            curve.ys().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), y| (low.min(y), high.max(y)));
        if low.is_finite() && measure.quantity.value.is_finite() && measure.quantity.value.abs() > 0.0 {
            words.push_str(&format!(", along the plot {} to {}", show(low), show(high)));
        }
    }
    words
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::UnitSystem;

    #[test]
    fn a_place_on_a_plot_is_the_value_that_lies_there_on_whole_steps() {
        let over = Over::Knob(Knob::FrontEnd);
        let us = Style { units: UnitSystem::UsCustomary, ..Style::default() };
        for style in [Style::default(), us] {
            for value in [0, 100, 12_300] {
                assert_eq!(value_at(over, x_of(over, value, style) + 0.02, style), value);
            }
        }
        assert_eq!(value_at(Over::Knob(Knob::Lane), 3.4, us), 3);
    }

    #[test]
    fn axis_numbers_have_the_digits_of_their_step_and_the_readers_mark() {
        let comma = Style { decimal: DecimalMark::Comma, ..Style::default() };
        assert_eq!(number_words(1.25, 0.05, comma), "1,25");
        assert_eq!(number_words(20.0, 5.0, comma), "20");
        assert_eq!(number_words(0.5, 0.5, Style::default()), "0.5");
    }
}
