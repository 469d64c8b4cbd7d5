//! All figures that can be asked for, by topic; a new topic adds its line here.

use super::figure::{At, Depends, Figure};
use super::{LimitLine, Question, Working};
use super::{
    bands, cant, creep, curve_loads, curves, gauge, holding, holding_wagons, places, racks, springs, strings,
    train, unloading, vehicles,
};
use crate::checks::{Finding, Subject};
use crate::statics::Figures;

/// The figures of each topic.
const TOPICS: &[&[Figure]] = &[
    strings::FIGURES,
    places::FIGURES,
    racks::FIGURES,
    vehicles::FIGURES,
    train::FIGURES,
    unloading::FIGURES,
    creep::FIGURES,
    holding::FIGURES,
    holding_wagons::FIGURES,
    cant::FIGURES,
    gauge::FIGURES,
    curves::FIGURES,
    curve_loads::FIGURES,
    springs::FIGURES,
    bands::FIGURES,
];

/// Checks that judge a figure of another name, and that figure.
const JUDGED: &[(&str, &str)] = &[
    ("line-axle-load", "axle-load"),
    ("line-mass-per-metre", "mass-per-metre"),
    ("springs-line-axle-load", "springs-axle-load"),
];

/// The working of what is asked, in a state where the figure depends on it (departure where none is given).
///
/// None where the thing has no such figure, or the state was not worked out.
pub fn of(figures: &Figures, state: Option<usize>, question: &Question) -> Option<Working> {
    ask(figures, state.or(Some(0)), question, None)
}

/// The working of what a finding compares, with the limit that it is held against.
///
/// None for a finding without a comparison.
pub fn of_finding(figures: &Figures, finding: &Finding) -> Option<Working> {
    let comparison = finding.comparison?;
    let question = Question::new(finding.check.id, finding.subject);
    let mut working = ask(figures, finding.state, &question, Some(comparison.demand.value))?;
    working.limit = Some(LimitLine {
        comparison,
        outcome: finding.outcome,
        source: finding.limit_source.clone(),
        rule_source: finding.check.source,
    });
    Some(working)
}

/// Everything that can be asked, topic by topic; what a state has not, [`of`] answers with none.
pub fn questions(figures: &Figures) -> Vec<Question> {
    let all = TOPICS.iter().flat_map(|topic| topic.iter());
    all.flat_map(|figure| (figure.subjects)(figures).into_iter().map(|s| Question::new(figure.name, s)))
        .collect()
}

/// The names of all figures with what a reader calls them.
pub fn figure_names() -> impl Iterator<Item = (&'static str, &'static str)> {
    TOPICS.iter().flat_map(|topic| topic.iter()).map(|figure| (figure.name, figure.title))
}

/// The question of a figure or check called `what` about the thing that reads `place`, if there is one.
pub(super) fn question(figures: &Figures, what: &str, place: &str) -> Option<Question> {
    let figure = figure(what)?;
    let subjects: Vec<Subject> = (figure.subjects)(figures);
    let subject = subjects.into_iter().find(|subject| subject.place(figures) == place)?;
    Some(Question::new(figure.name, subject))
}

fn figure(what: &str) -> Option<&'static Figure> {
    let judged = JUDGED.iter().find(|(check, _)| *check == what).map_or(what, |(_, figure)| figure);
    TOPICS.iter().flat_map(|topic| topic.iter()).find(|figure| figure.name == judged)
}

fn ask(figures: &Figures, state: Option<usize>, question: &Question, demand: Option<f64>) -> Option<Working> {
    let figure = figure(question.what)?;
    let state = state.filter(|_| figure.depends != Depends::Plan);
    (figure.working)(&At { figures, figure, state, demand }, question.subject)
}
