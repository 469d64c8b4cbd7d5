//! The axes of the plots: what runs along them, in which unit, and which numbers stand at them.

use super::bench::{Bench, Over};
use crate::planning::what_if::Knob;
use crate::units::{Length, Quantity, Style};
use egui_plot::GridMark;

/// Room that a number takes along the horizontal axis, in points: of a length, and of a short whole number.
const NUMBER_POINTS: f32 = 52.0;
const WHOLE_POINTS: f32 = 22.0;
/// Room that a number takes up the vertical axis, in points.
const LINE_POINTS: f32 = 14.5;
/// More of them than this are no easier to read off.
const MOST_LINES: usize = 8;
/// Fewer numbers than this do not tell a scale.
const FEWEST: usize = 3;

/// Where a value lies along a plot: lengths in the units shown, everything else as it is.
pub(super) fn x_of(over: Over, value: i64, style: Style) -> f64 {
    match over {
        Over::Knob(Knob::Length | Knob::FrontEnd) => {
            Quantity::length(Length::from_mm(value)).shown_value(style)
        }
        _ => value as f64,
    }
}

/// The value at a place along a plot.
pub(super) fn value_at(over: Over, x: f64, style: Style) -> i64 {
    match over {
        Over::Knob(knob @ (Knob::Length | Knob::FrontEnd)) => {
            let metre = Quantity::length_m(1.0).shown_value(style);
            let steps = x / metre * 1000.0 / knob.step() as f64;
            steps.round() as i64 * knob.step()
        }
        _ => x.round() as i64,
    }
}

/// What runs along the plots, with its unit.
pub(super) fn x_title(over: Over, style: Style) -> String {
    let unit = Quantity::length_m(1.0).unit_sign(style);
    match over {
        Over::Knob(Knob::Count) => "strings".to_owned(),
        Over::Knob(Knob::Length) => format!("length, {unit}"),
        Over::Knob(Knob::Section) => "rail section".to_owned(),
        Over::Knob(Knob::FrontEnd) => format!("front end, {unit}"),
        Over::Knob(Knob::Lane) => "lane".to_owned(),
        Over::States => "state".to_owned(),
    }
}

/// The numbers that stand along the plots of `width` points.
pub(super) fn x_marks(over: Over, (low, high): (f64, f64), width: f32) -> Vec<GridMark> {
    match over {
        Over::Knob(Knob::Length | Knob::FrontEnd) => {
            marks((low, high), fitting(width, NUMBER_POINTS), Steps::Any)
        }
        Over::Knob(Knob::Count | Knob::Lane) => {
            marks((low, high), fitting(width, WHOLE_POINTS), Steps::Whole)
        }
        // Each has a name, which is left out where it has no room.
        Over::Knob(Knob::Section) | Over::States => marks((low, high), usize::MAX, Steps::Whole),
    }
}

/// The numbers that stand beside a plot of `height` points.
pub(super) fn y_marks((low, high): (f64, f64), height: f32) -> Vec<GridMark> {
    marks((low, high), fitting(height, LINE_POINTS).min(MOST_LINES), Steps::Any)
}

fn fitting(points: f32, each: f32) -> usize {
    (points / each).floor().max(FEWEST as f32) as usize
}

/// Whether numbers may lie between whole ones.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Steps {
    Any,
    Whole,
}

/// Round numbers from `low` to `high`: as many as fit, `most`, and never fewer than three but for want of whole ones.
fn marks((low, high): (f64, f64), most: usize, steps: Steps) -> Vec<GridMark> {
    if !(low.is_finite() && high.is_finite()) || high <= low {
        return Vec::new();
    }
    let count = |step: &f64| ((high / step).floor() - (low / step).ceil()) as usize + 1;
    let least = if steps == Steps::Whole { 1.0 } else { 0.0 };
    // From steps of about the whole width downward.
    let power = (high - low).log10().ceil() as i32;
    let sizes = (0..9).flat_map(|down| [1.0, 0.5, 0.25, 0.2].map(|part| part * 10.0_f64.powi(power - down)));
    let sizes = sizes.filter(|step| *step >= least && (steps == Steps::Any || step.fract() < 1.0e-9));
    let mut best = None;
    for step in sizes {
        let enough = best.is_some_and(|best| count(&best) >= FEWEST);
        if enough && count(&step) > most {
            break;
        }
        best = Some(step);
    }
    let Some(step) = best else { return Vec::new() };
    let first = (low / step).ceil() as i64;
    let numbers = (first..).map(|at| at as f64 * step).take_while(|value| *value <= high);
    numbers.map(|value| GridMark { value, step_size: step }).collect()
}

/// Names of the values along a plot where numbers say nothing.
pub(super) fn x_names(bench: &Bench) -> Vec<String> {
    match bench.over {
        Over::Knob(Knob::Section) => {
            bench.scratch().sections().iter().map(|section| section.name.to_string()).collect()
        }
        Over::States => bench.figures.states.iter().map(|state| state.title(&bench.figures.plan)).collect(),
        Over::Knob(_) => Vec::new(),
    }
}

/// What stands at a mark of the horizontal axis.
pub(super) fn x_words(mark: GridMark, names: &[String], style: Style) -> String {
    if names.is_empty() {
        return number_words(mark.value, mark.step_size, style);
    }
    let whole = mark.value.round();
    let at = ((mark.value - whole).abs() < 1.0e-6 && whole >= 0.0).then_some(whole as usize);
    at.and_then(|at| names.get(at)).cloned().unwrap_or_default()
}

/// A number on an axis, with as many digits as its step needs.
pub(super) fn number_words(value: f64, step: f64, style: Style) -> String {
    let is_whole = |decimals: &i32| {
        let step = step * 10.0_f64.powi(*decimals);
        (step - step.round()).abs() < 1.0e-6 && step > 0.5
    };
    let decimals = (0..5).find(is_whole).unwrap_or(5) as usize;
    style.decimal.written(&format!("{value:.decimals$}"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::DecimalMark;
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
        assert_eq!(number_words(7.5, 2.5, comma), "7,5");
        assert_eq!(number_words(0.5, 0.5, Style::default()), "0.5");
    }

    #[test]
    fn what_runs_along_is_named_with_its_unit() {
        let us = Style { units: UnitSystem::UsCustomary, ..Style::default() };
        assert_eq!(x_title(Over::Knob(Knob::FrontEnd), Style::default()), "front end, m");
        assert_eq!(x_title(Over::Knob(Knob::Length), us), "length, ft");
        assert_eq!(x_title(Over::Knob(Knob::Lane), us), "lane");
    }

    fn check(span: (f64, f64), most: usize, steps: Steps, expected: &[f64]) {
        let found: Vec<f64> = marks(span, most, steps).iter().map(|mark| mark.value).collect();
        let alike = found.len() == expected.len()
            && found.iter().zip(expected).all(|(found, expected)| (found - expected).abs() < 1.0e-9);
        assert!(alike, "{span:?}: {found:?}");
    }

    #[test]
    fn round_numbers_stand_at_the_axes_three_at_least() {
        check((0.0, 9.6), 8, Steps::Any, &[0.0, 2.0, 4.0, 6.0, 8.0]);
        check((13.2, 28.7), 3, Steps::Any, &[15.0, 20.0, 25.0]);
        // Too low for three, but one number tells nothing.
        check((11.0, 19.0), 3, Steps::Any, &[12.5, 15.0, 17.5]);
        check((0.98, 1.33), 4, Steps::Any, &[1.0, 1.1, 1.2, 1.3]);
        check((0.9, 8.1), 20, Steps::Whole, &[1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0]);
        check((0.5, 32.5), 10, Steps::Whole, &[5.0, 10.0, 15.0, 20.0, 25.0, 30.0]);
        check((0.5, 1.5), 10, Steps::Whole, &[1.0]);
        check((2.0, 2.0), 10, Steps::Any, &[]);
    }
}
