//! Each drawn curve in a sentence: where it is largest, where it is least, and where it jumps.

use super::{Measure, Plotted};
use crate::checks::Subject;
use crate::statics::Figures;
use crate::text;
use crate::units::{QuantityKind, Text};

/// Parts of a figure below which two values of it count as one.
const ALIKE: f64 = 1.0e-6;
/// A change between two neighbouring values is called a jump from this many times the mean change on.
const JUMP: f64 = 4.0;
/// Smaller changes of a load in kg and of a ratio cannot be read off a plot.
const LEAST_JUMP_KG: f64 = 10.0;
const LEAST_JUMP_RATIO: f64 = 0.01;

/// What a figure is called where its curve is told.
pub(super) fn figure_words(figure: &str) -> &'static str {
    match figure {
        "axle-load" => "axle load",
        "wheel-balance" => "left to right ratio",
        "rack-load" => "rack load",
        _ => "front to rear ratio",
    }
}

/// One drawn figure over growing values of what is turned.
#[derive(Debug)]
pub(super) struct Curve {
    /// What is drawn.
    pub(super) plotted: Plotted,
    /// Values of what is turned, each with the figure there.
    pub(super) points: Vec<(i64, Measure)>,
}

/// The change between two neighbours that stands out most.
#[derive(Clone, Copy, Debug)]
pub(super) struct Jump {
    /// The values of what is turned before and after it.
    pub(super) between: (i64, i64),
    /// The figure before and after it.
    pub(super) figures: (Measure, Measure),
}

impl Curve {
    /// What it is called: with the thing that it is of, where that is one thing all along.
    pub(super) fn name(&self, figures: &Figures) -> String {
        let first = self.points.first().map(|point| point.1);
        let name = figure_words(first.map_or("", |measure| measure.figure));
        match self.subject() {
            Some(subject) => format!("{name} of {}", subject.place(figures)),
            None => name.to_owned(),
        }
    }

    /// Where it is largest and least, each value told by `at`; none where there are fewer than two points.
    pub(super) fn extremes(&self, figures: &Figures, at: impl Fn(i64) -> Text) -> Option<Text> {
        let value = |point: &(i64, Measure)| point.1.quantity.value;
        let values = || self.points.iter().map(value);
        let (most, least) =
            (values().fold(f64::NEG_INFINITY, f64::max), values().fold(f64::INFINITY, f64::min));
        let alike = |a: f64, b: f64| (a - b).abs() <= ALIKE * most.abs();
        // Of several alike the first is told.
        let first = |sought: f64| self.points.iter().find(|point| alike(value(point), sought)).copied();
        let (most, least) = (first(most)?, first(least)?);
        if self.points.len() < 2 {
            return None;
        }
        let name = capital(self.name(figures));
        if alike(value(&most), value(&least)) {
            return Some(text![format!("{name}: "), most.1.quantity, " all along."]);
        }
        let mut told = text![format!("{name}: ")];
        for (word, point) in [("largest ", most), (", least ", least)] {
            let others = self.points.iter().filter(|other| alike(value(other), value(&point))).count() > 1;
            told.0.extend(text![word, point.1.quantity].0);
            if self.subject().is_none() {
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

    /// The change between two neighbours that stands out most, if one does.
    pub(super) fn jump(&self) -> Option<Jump> {
        let size = |pair: &[(i64, Measure)]| (pair[1].1.quantity.value - pair[0].1.quantity.value).abs();
        let steps = || self.points.windows(2).filter(|pair| size(pair).is_finite());
        let mean = steps().map(size).sum::<f64>() / steps().count().max(1) as f64;
        let most = steps().max_by(|a, b| size(a).total_cmp(&size(b)))?;
        let least = match most[0].1.quantity.kind {
            QuantityKind::Ratio => LEAST_JUMP_RATIO,
            _ => LEAST_JUMP_KG,
        };
        let stands_out = size(most) > JUMP * mean && size(most) >= least;
        stands_out.then(|| Jump { between: (most[0].0, most[1].0), figures: (most[0].1, most[1].1) })
    }

    /// The thing that it is of, where that is one all along.
    fn subject(&self) -> Option<Subject> {
        let first = self.points.first()?.1.subject;
        self.points.iter().all(|point| point.1.subject == first).then_some(first)
    }
}

/// Words with a capital at their beginning.
pub(super) fn capital(mut words: String) -> String {
    if let Some(first) = words.get_mut(..1) {
        first.make_ascii_uppercase();
    }
    words
}
