//! Each curve in a sentence: where it is largest and where it is least.

use super::Measure;
use crate::statics::Figures;
use crate::text;
use crate::units::Text;

/// Parts of a figure below which two values of it count as one.
const ALIKE: f64 = 1.0e-6;

/// What a figure is called where its curve is told.
pub(super) fn figure_words(figure: &str) -> &'static str {
    match figure {
        "axle-load" => "axle load",
        "wheel-balance" => "left to right ratio",
        "rack-load" => "rack load",
        _ => "front to rear ratio",
    }
}

/// One figure over growing values of what is turned.
#[derive(Debug, Default)]
pub(super) struct Curve(pub(super) Vec<(i64, Measure)>);

impl Curve {
    /// Where it is largest and least, each value told by `at`; none where there are fewer than two points.
    pub(super) fn extremes(&self, figures: &Figures, at: impl Fn(i64) -> Text) -> Option<Text> {
        let value = |point: &(i64, Measure)| point.1.quantity.value;
        let values = || self.0.iter().map(value);
        let (most, least) =
            (values().fold(f64::NEG_INFINITY, f64::max), values().fold(f64::INFINITY, f64::min));
        let alike = |a: f64, b: f64| (a - b).abs() <= ALIKE * most.abs();
        // Of several alike the first is told.
        let first = |sought: f64| self.0.iter().find(|point| alike(value(point), sought)).copied();
        let (most, least) = (first(most)?, first(least)?);
        if self.0.len() < 2 {
            return None;
        }
        let mut name = figure_words(most.1.figure).to_owned();
        if let Some(first) = name.get_mut(..1) {
            first.make_ascii_uppercase();
        }
        if alike(value(&most), value(&least)) {
            return Some(text![format!("{name}: "), most.1.quantity, " all along."]);
        }
        let mut told = text![format!("{name}: ")];
        for (word, point) in [("largest ", most), (", least ", least)] {
            let others = self.0.iter().filter(|other| alike(value(other), value(&point))).count() > 1;
            told.0.extend(text![word, point.1.quantity].0);
            if word.starts_with("largest") {
                told.0.extend(text![format!(" ({})", point.1.subject.place(figures))].0);
            }
            told.0.extend(text![" "].0);
            told.0.extend(at(point.0).0);
            if others {
                told.0.extend(text![" and elsewhere"].0);
            }
        }
        told.0.extend(text!["."].0);
        Some(told)
    }

    /// The change between two neighbours that stands out most, if one does: the values before and after, and by how
    /// much it goes up.
    pub(super) fn jump(&self) -> Option<(i64, i64, f64)> {
        let changes = self
            .0
            .windows(2)
            .map(|pair| (pair[0].0, pair[1].0, pair[1].1.quantity.value - pair[0].1.quantity.value));
        let changes: Vec<(i64, i64, f64)> = changes.collect();
        let mean = changes.iter().map(|change| change.2.abs()).sum::<f64>() / changes.len().max(1) as f64;
        let most = changes.into_iter().max_by(|a, b| a.2.abs().total_cmp(&b.2.abs()))?;
        (most.2.abs() > JUMP * mean && most.2.abs() >= LEAST_JUMP_KG).then_some(most)
    }
}

/// A change between two neighbouring values is called a jump from this many times the mean change on.
const JUMP: f64 = 4.0;
/// A smaller change of a load in kg is not worth a sentence.
const LEAST_JUMP_KG: f64 = 1.0;
