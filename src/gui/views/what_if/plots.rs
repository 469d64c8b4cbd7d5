//! The plots: each figure over what is turned, its bound as a line, the present value as a point with its value.

use super::axes::{number_words, value_at, x_marks, x_names, x_of, x_title, x_words, y_marks};
use super::bench::{Bench, Over};
use super::marks::{Corner, Taken, Upward, Words, about, along};
use crate::gui::{Role, Shown};
use crate::model::Exercise;
use crate::planning::what_if::{Bound, Knob, Measure, Plotted, Reading};
use crate::units::{Quantity, Style};
use crate::working::Question;
use egui::{Color32, FontId, Key, Rect, RichText, Sense, Ui, WidgetInfo, pos2, vec2};
use egui_plot::{
    AxisHints, HLine, Line, LineStyle, MarkerShape, Plot, PlotPoint, PlotPoints, PlotTransform, Points, VLine,
};

/// Height of a line of figures over a plot, in points.
const HEAD_POINTS: f32 = 20.0;
/// Height of the numbers under a plot and of what they count, in points.
const AXIS_POINTS: f32 = 32.0;
/// Width of the numbers beside a plot, in points.
const SIDE_POINTS: f32 = 44.0;
/// A plot lower than this shows no scale, in points.
const LEAST_POINTS: f32 = 52.0;
/// A figure narrower than this in the line over a plot has a line of its own, in points.
const FIGURE_POINTS: f32 = 200.0;
/// Width of the names of plots over them, in points.
const NAME_POINTS: f32 = 118.0;

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

    /// With the unit of its numbers.
    fn heading(self, style: Style) -> String {
        match self {
            Self::Axles | Self::Rack => {
                format!("{}, {}", self.title(), Quantity::mass(0.0).unit_sign(style))
            }
            Self::Balance => format!("{}, to 1", self.title()),
        }
    }

    /// What it draws.
    pub(super) fn series(self) -> &'static [Plotted] {
        match self {
            Self::Axles => &[Plotted::FrontAxle, Plotted::RearAxle],
            Self::Balance => &[Plotted::BogieRatio, Plotted::WheelRatio],
            Self::Rack => &[Plotted::RackLoad],
        }
    }
}

/// Draws `charts` under each other into `height` points, or into more where that would be too low for any scale.
pub(super) fn charts_ui(
    ui: &mut Ui,
    shown: &Shown<'_>,
    bench: &Bench,
    (charts, height): (&[Chart], f32),
) -> Done {
    let mut done = Done::default();
    // Without the pointer over any of them the first is meant.
    let mut pointed = charts.first().copied().unwrap_or(Chart::Axles);
    let width = ui.available_width();
    let heads: f32 = charts.iter().map(|chart| HEAD_POINTS * lines(bench, *chart, width) as f32).sum();
    let count = charts.len().max(1) as f32;
    let gaps = ui.spacing().item_spacing.y * 2.0 * count;
    let each = ((height - AXIS_POINTS - gaps - heads) / count).max(LEAST_POINTS);
    for (at, chart) in charts.iter().enumerate() {
        let last = at + 1 == charts.len();
        ui.push_id(chart.title(), |ui| {
            let top = ui.cursor().top();
            head_ui(ui, shown, bench, (*chart, width), &mut done);
            let size = vec2(width, each);
            plot_ui(ui, shown, bench, (*chart, size, last), &mut done);
            let area = Rect::from_x_y_ranges(ui.max_rect().x_range(), top..=ui.cursor().top());
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

/// The figures of a plot now.
fn measures(bench: &Bench, chart: Chart) -> Vec<(usize, Plotted, Measure)> {
    let series = chart.series().iter().enumerate();
    series.filter_map(|(at, plotted)| Some((at, *plotted, bench.measure(*plotted)?))).collect()
}

/// In how many lines the figures of a plot stand over it.
fn lines(bench: &Bench, chart: Chart, width: f32) -> usize {
    let count = measures(bench, chart).len().max(1);
    if (width - NAME_POINTS) / (count as f32) < FIGURE_POINTS { count } else { 1 }
}

/// The figures of a plot now, each with its line, its bound and the way to its working.
fn head_ui(ui: &mut Ui, shown: &Shown<'_>, bench: &Bench, (chart, width): (Chart, f32), done: &mut Done) {
    let measures = measures(bench, chart);
    let each_its_own = lines(bench, chart, width) > 1;
    let gap = ui.spacing().item_spacing.x;
    let left = width - NAME_POINTS - gap;
    // Each has its part of the width, so that long names never push the next one out of sight.
    let part = match each_its_own {
        true => left,
        false => left / measures.len().max(1) as f32 - gap,
    };
    let layout = egui::Layout::left_to_right(egui::Align::Center);
    let mut row = |ui: &mut Ui, figures: &[(usize, Plotted, Measure)], heading: &str| {
        ui.horizontal(|ui| {
            ui.set_height(HEAD_POINTS);
            ui.allocate_ui_with_layout(vec2(NAME_POINTS, HEAD_POINTS), layout, |ui| {
                ui.set_min_width(NAME_POINTS);
                ui.strong(heading);
            });
            for (at, plotted, measure) in figures {
                ui.allocate_ui_with_layout(vec2(part.max(0.0), HEAD_POINTS), layout, |ui| {
                    ui.set_min_width(part.max(0.0));
                    let words = short(*plotted, measure, bench);
                    figure_ui(ui, shown, (*at, measure, &words), done);
                });
            }
        });
    };
    ui.scope(|ui| {
        ui.spacing_mut().item_spacing.y = 0.0;
        let heading = chart.heading(shown.style);
        if each_its_own {
            for (at, figure) in measures.iter().enumerate() {
                row(ui, std::slice::from_ref(figure), if at == 0 { &heading } else { "" });
            }
        } else {
            row(ui, &measures, &heading);
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

    /// Draws its line, and its present point.
    fn ui<'a>(&'a self, plot: &mut egui_plot::PlotUi<'a>, (at, color): (usize, Color32), over: Over) {
        let points = || PlotPoints::from(self.points.clone());
        // As a band, which many points would become, steep parts tear into dashes, and dashes are the other curve's.
        let line = Line::new("figure", points()).width(1.8).color(color).allow_band(false);
        plot.line(if at == 0 { line } else { line.style(LineStyle::dashed_loose()) });
        if self.points.len() < 2 || matches!(over, Over::States | Over::Knob(Knob::Section | Knob::Lane)) {
            plot.points(Points::new("each", points()).radius(2.0).color(color));
        }
        if let Some(now) = self.now {
            let shape = if at == 0 { MarkerShape::Circle } else { MarkerShape::Diamond };
            let point = Points::new("present", PlotPoints::from(vec![now])).shape(shape).radius(4.5);
            plot.points(point.color(color));
        }
    }

    fn ys(&self) -> impl Iterator<Item = f64> {
        self.points.iter().chain(&self.now).map(|point| point[1])
    }
}

/// The bounds of a plot with what they are called; one that is too far above the curves to be drawn tells so.
struct BoundLine {
    y: f64,
    words: String,
    seen: bool,
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
    (chart, size, last): (Chart, egui::Vec2, bool),
    done: &mut Done,
) {
    let style = shown.style;
    let readings = bench.readings();
    let curves: Vec<Curve> =
        chart.series().iter().map(|plotted| Curve::of(bench, &readings, *plotted, style)).collect();
    let bounds = bound_lines(chart, &curves, style);
    let (low, high) = heights(chart, &curves, &bounds);
    let over = bench.over;
    let (first, end, now) = bench.along();
    let (first, end, now) = (x_of(over, first, style), x_of(over, end, style), x_of(over, now, style));
    let air = if (end - first) < 1.0e-9 { 0.5 } else { (end - first) * 0.015 };
    let (left, right) = (first - air, end + air);
    let name = spoken(chart, bench, &curves, style);
    let names = x_names(bench);
    let (across, up) = (x_marks(over, (left, right), size.x - SIDE_POINTS), y_marks((low, high), size.y));
    let small = FontId::proportional(10.5);
    let mut below = AxisHints::new_x()
        .label_spacing(egui::Rangef::new(8.0, 12.0))
        .tick_label_font(small.clone())
        .formatter(move |mark, _| x_words(mark, &names, style));
    if last {
        below = below.label(RichText::new(x_title(over, style)).size(10.5));
    }
    let plot = Plot::new("plot")
        .height(if last { size.y + AXIS_POINTS } else { size.y })
        .width(size.x)
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
        .x_grid_spacer(move |_| across.clone())
        .y_grid_spacer(move |_| up.clone())
        .custom_x_axes(vec![below])
        .custom_y_axes(vec![
            AxisHints::new_y()
                .min_thickness(SIDE_POINTS)
                .tick_label_font(small)
                .label_spacing(egui::Rangef::new(8.0, 12.0))
                .formatter(move |mark, _| number_words(mark.value, mark.step_size, style)),
        ])
        .set_margin_fraction(vec2(0.0, 0.0));
    let (line, ink) = (shown.theme.color(Role::Line), shown.theme.color(Role::Text));
    let colors = [color(shown, 0), color(shown, 1)];
    let drawn = plot.show(ui, |plot| {
        plot.set_plot_bounds_x(left..=right);
        plot.set_plot_bounds_y(low..=high);
        plot.vline(VLine::new("now", now).color(line).width(1.0));
        for bound in bounds.iter().filter(|bound| bound.seen) {
            let dotted = LineStyle::dotted_dense();
            plot.hline(HLine::new("bound", bound.y).color(ink).style(dotted).width(1.2));
        }
        for (at, curve) in curves.iter().enumerate() {
            curve.ui(plot, (at, colors[at.min(1)]), over);
        }
        plot.pointer_coordinate().map(|at| at.x)
    });
    words_ui(ui, shown, (&curves, &bounds), &drawn.transform);
    let response = &drawn.response;
    response.widget_info(|| WidgetInfo::labeled(egui::Role::Image, true, name.as_str()));
    if response.is_pointer_button_down_on() {
        done.chosen = drawn.inner.map(|x| value_at(over, x, style)).or(done.chosen);
    }
}

/// The present values beside their points, and the names of the bounds along their lines: where they cover nothing.
fn words_ui(
    ui: &Ui,
    shown: &Shown<'_>,
    (curves, bounds): (&[Curve], &[BoundLine]),
    transform: &PlotTransform,
) {
    let frame = *transform.frame();
    let at = |point: [f64; 2]| transform.position_from_point(&PlotPoint::new(point[0], point[1]));
    let level = |y: f64| at([0.0, y]).y;
    let mut taken = Taken::new(frame.shrink2(vec2(5.0, 2.0)));
    for curve in curves {
        taken.line(curve.points.iter().map(|point| at(*point)).collect());
        if let Some(now) = curve.now {
            taken.mark(at(now));
        }
    }
    for bound in bounds.iter().filter(|bound| bound.seen) {
        let y = level(bound.y);
        taken.line(vec![pos2(frame.left(), y), pos2(frame.right(), y)]);
    }
    let painter = ui.painter().with_clip_rect(frame.intersect(ui.clip_rect()));
    let ground = shown.theme.color(Role::Canvas);
    let highest =
        curves.iter().filter_map(|curve| curve.now).map(|now| now[1]).fold(f64::NEG_INFINITY, f64::max);
    for (index, curve) in curves.iter().enumerate() {
        let (Some(measure), Some(now)) = (&curve.measure, curve.now) else { continue };
        let words = Words { text: measure.quantity.show(shown.style), size: 11.0, ink: color(shown, index) };
        // Of two, the upper above and the lower below.
        let upward = if now[1] >= highest { Upward::First } else { Upward::Last };
        taken.words_ui(&painter, words, ground, &about(at(now), upward));
    }
    for bound in bounds {
        let ink = shown.theme.color(Role::Text);
        let (text, tried) = if bound.seen {
            (bound.words.clone(), along(frame, level(bound.y)))
        } else {
            (format!("{}: far above ▲", bound.words), at_the_top(frame))
        };
        taken.words_ui(&painter, Words { text, size: 10.5, ink }, ground, &tried);
    }
}

/// Places at the upper edge, the middle first.
fn at_the_top(frame: Rect) -> Vec<Corner> {
    let at = |share: f32| pos2(frame.left() + frame.width() * share, frame.top() + 2.0);
    let corner = |share: f32| Corner { share: vec2(share, 0.0), at: at(share) };
    [0.5, 0.988, 0.012, 0.75, 0.25].map(corner).to_vec()
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
