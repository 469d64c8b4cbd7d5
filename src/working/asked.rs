//! What people ask in words, such as `axle-load: vehicle W3, rear bogie`, and the answer.

use super::catalogue::{figure_names, of, of_finding, question, questions};
use super::{Question, Working};
use crate::checks::{Finding, REGISTRY};
use crate::statics::Figures;
use crate::units::Style;

/// Why a question cannot be answered; each says what to ask instead.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum AskError {
    /// Neither a figure nor a check has this name.
    #[error("there is no figure or check called \"{what}\"; {near}")]
    NoSuch {
        /// As asked.
        what: String,
        /// Names that come near, or where to find all.
        near: String,
    },
    /// The figure is known, but no thing was named.
    #[error("say of what, such as --of \"{example}\"")]
    NoThing {
        /// A question that can be asked.
        example: String,
    },
    /// The plan has no such thing, or nothing that the figure is of.
    #[error("{what} has nothing called \"{things}\" in this plan{example}")]
    NoSuchThing {
        /// The figure or check.
        what: String,
        /// As asked.
        things: String,
        /// A question that can be asked, in words; empty where there is none.
        example: String,
    },
    /// The check's topic has no workings.
    #[error("there is no working of what {what} compares; what it found: {found}")]
    NoWorking {
        /// The check, and its things.
        what: String,
        /// What it found.
        found: String,
    },
    /// The check compares nothing there, so that there is no number to explain.
    #[error("{what} compares no numbers there: {found}")]
    NoNumber {
        /// The check, and its things.
        what: String,
        /// What it found.
        found: String,
    },
}

/// The answer to a question in words: `WHAT: THING, THING`, or a check's id alone for its worst finding.
///
/// `findings` are those of the plan's assessment; a finding's own state and limit are told where `state` is none.
///
/// # Errors
/// [`AskError`] where nothing answers to the name or the things, or where no numbers are compared.
pub fn answer(
    figures: &Figures,
    findings: &[Finding],
    state: Option<usize>,
    text: &str,
) -> Result<Working, AskError> {
    let (what, things) = match text.split_once(':') {
        Some((what, things)) => (what.trim(), tidy(things)),
        None => (text.trim(), String::new()),
    };
    let of_check: Vec<&Finding> = findings.iter().filter(|finding| finding.check.id == what).collect();
    let told =
        of_check.iter().filter(|finding| things.is_empty() || tidy(&finding.things.join(", ")) == things);
    let told: Vec<&&Finding> = told.collect();
    if let Some(working) = told.iter().find_map(|finding| of_finding(figures, finding)) {
        return Ok(working);
    }
    if let Some(working) = question(figures, what, &things).and_then(|asked| of(figures, state, &asked)) {
        return Ok(working);
    }
    if let Some(finding) = told.first() {
        let what = format!("{what} ({})", finding.things.join(", "));
        let found = finding.what.show(Style::default());
        return Err(match finding.comparison {
            Some(_) => AskError::NoWorking { what, found },
            None => AskError::NoNumber { what, found },
        });
    }
    Err(refusal(figures, what, things))
}

/// One space between words, and one after a comma.
fn tidy(things: &str) -> String {
    let parts = things.split(',').map(|part| part.split_whitespace().collect::<Vec<_>>().join(" "));
    parts.collect::<Vec<_>>().join(", ")
}

fn refusal(figures: &Figures, what: &str, things: String) -> AskError {
    let known = figure_names().any(|(name, _)| name == what) || REGISTRY.iter().any(|check| check.id == what);
    if !known {
        return AskError::NoSuch { what: what.to_owned(), near: near(what) };
    }
    let example = questions(figures).into_iter().find(|question: &Question| question.what == what);
    let example = example.map(|question| question.address(figures));
    match (things.is_empty(), example) {
        (true, Some(example)) => AskError::NoThing { example },
        (_, example) => AskError::NoSuchThing {
            what: what.to_owned(),
            things,
            example: example.map_or_else(String::new, |example| format!("; ask --of \"{example}\", say")),
        },
    }
}

/// Names that share a word with what was asked.
fn near(what: &str) -> String {
    let words: Vec<String> = what.to_lowercase().split(['-', ' ']).map(str::to_owned).collect();
    let shares = |name: &str| name.split('-').any(|part| words.iter().any(|word| word == part));
    let mut names: Vec<&str> = figure_names().map(|(name, _)| name).filter(|name| shares(name)).collect();
    names.truncate(6);
    match names.as_slice() {
        [] => "see longstow working PLAN --list".to_owned(),
        names => format!("is it one of these: {}?", names.join(", ")),
    }
}
