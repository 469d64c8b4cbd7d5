//! The exercises that ship with the program: their texts and answers in one file, their trains in plan files.
//!
//! In texts a quantity stands in braces with its unit, such as `{1.5 m}`, so that it is read in the reader's units.

use super::error::ReadError;
use super::explain::Written;
use super::read::{outline_of, read, text_of, typed};
use super::v1::MEND_MARK;
use crate::model::{
    Answer, Choice, Claim, Condition, Exercise, Knob, Measured, NameError, Plan, RackRef, StringMark,
    TrainEnd, VehicleMark,
};
use crate::units::{Piece, Quantity, Text, UnitSystem, parse_length, parse_mass_kg};
use serde::Deserialize;
use serde::de::{Deserializer, Error};
use std::str::FromStr;
use std::sync::Arc;

const EXERCISES: &str = include_str!("../../assets/exercises/exercises.ron");

macro_rules! trains {
    ($($name:literal),* $(,)?) => {
        [$(($name, include_str!(concat!("../../assets/exercises/", $name, ".longstow")))),*]
    };
}

/// The trains by the name that exercises call them.
const TRAINS: [(&str, &str); 11] = trains![
    "access",
    "ends",
    "four-racks",
    "hold",
    "lever",
    "long-span",
    "no-rating",
    "odd-string",
    "states",
    "teaching-train",
    "too-short",
];

/// The small train to turn sliders over.
///
/// # Errors
/// A file that cannot be read; a test shows that it can.
pub fn teaching_train() -> Result<Plan, ReadError> {
    train("teaching-train")
}

/// All exercises, in the order in which they are best done.
///
/// # Errors
/// A text or train that cannot be read; a test shows that there is none.
pub fn exercises() -> Result<Vec<Exercise>, ReadError> {
    let text = text_of(EXERCISES.as_bytes())?;
    let root = outline_of(text)?;
    let rows: Vec<ExerciseRow> = typed(Written { text, root: &root })?;
    rows.into_iter().map(ExerciseRow::into_model).collect()
}

fn train(name: &str) -> Result<Plan, ReadError> {
    let text = TRAINS.iter().find(|(known, _)| *known == name).map_or("", |(_, text)| text);
    read(text.as_bytes())
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ExerciseRow {
    id: String,
    title: String,
    train: String,
    text: Words,
    task: Words,
    hints: Vec<Words>,
    #[serde(default)]
    knobs: Vec<KnobWord>,
    wagon: Mark<VehicleMark>,
    #[serde(default)]
    rack: Option<Rack>,
    answer: AnswerRow,
    explanation: Words,
    workings: Vec<String>,
}

impl ExerciseRow {
    fn into_model(self) -> Result<Exercise, ReadError> {
        Ok(Exercise {
            plan: Arc::new(train(&self.train)?),
            id: self.id,
            title: self.title,
            text: self.text.0,
            task: self.task.0,
            hints: self.hints.into_iter().map(|hint| hint.0).collect(),
            knobs: self.knobs.into_iter().map(KnobWord::into_model).collect(),
            wagon: self.wagon.0,
            rack: self.rack.map(Rack::into_model),
            answer: self.answer.into_model(),
            explanation: self.explanation.0,
            workings: self.workings,
        })
    }
}

#[derive(Deserialize)]
enum AnswerRow {
    Figure { of: MeasuredRow, tolerance: f64 },
    Choice(Vec<ChoiceRow>),
    Turned(Vec<ConditionRow>),
}

impl AnswerRow {
    fn into_model(self) -> Answer {
        match self {
            Self::Figure { of, tolerance } => Answer::Figure { of: of.into_model(), tolerance },
            Self::Choice(rows) => Answer::Choice(rows.into_iter().map(ChoiceRow::into_model).collect()),
            Self::Turned(rows) => Answer::Turned(rows.into_iter().map(ConditionRow::into_model).collect()),
        }
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ChoiceRow {
    words: Words,
    right_if: Vec<ClaimRow>,
    reply: Words,
}

impl ChoiceRow {
    fn into_model(self) -> Choice {
        let claims = self.right_if.into_iter().map(ClaimRow::into_model).collect();
        Choice { words: self.words.0, claims, reply: self.reply.0 }
    }
}

#[derive(Deserialize)]
enum ClaimRow {
    Finds { check: String, of: String, outcome: String },
    HeldAt { string: Mark<StringMark>, at: Vec<Rack>, check: String, outcome: String },
    StepsInOrder { strings: Vec<Mark<StringMark>>, check: String, outcome: String },
    LargestIn { of: MeasuredRow, state: usize },
}

impl ClaimRow {
    fn into_model(self) -> Claim {
        match self {
            Self::Finds { check, of, outcome } => Claim::Finds { check, of, outcome },
            Self::HeldAt { string, at, check, outcome } => {
                let at = at.into_iter().map(Rack::into_model).collect();
                Claim::HeldAt { string: string.0, at, check, outcome }
            }
            Self::StepsInOrder { strings, check, outcome } => {
                let strings = strings.into_iter().map(|mark| mark.0).collect();
                Claim::StepsInOrder { strings, check, outcome }
            }
            Self::LargestIn { of, state } => Claim::LargestIn { of: of.into_model(), state },
        }
    }
}

#[derive(Deserialize)]
enum ConditionRow {
    Keeps(Vec<String>),
    Greatest(KnobWord),
    AtMost(MeasuredRow, f64),
}

impl ConditionRow {
    fn into_model(self) -> Condition {
        match self {
            Self::Keeps(checks) => Condition::Keeps(checks),
            Self::Greatest(knob) => Condition::Greatest(knob.into_model()),
            Self::AtMost(of, value) => Condition::AtMost(of.into_model(), value),
        }
    }
}

#[derive(Deserialize)]
enum MeasuredRow {
    AxleLoad(Mark<VehicleMark>, EndWord),
    BogieRatio(Mark<VehicleMark>),
    WheelRatio(Mark<VehicleMark>),
    RackLoad(Mark<VehicleMark>, u32),
}

impl MeasuredRow {
    fn into_model(self) -> Measured {
        match self {
            Self::AxleLoad(vehicle, EndWord::Front) => Measured::AxleLoad(vehicle.0, TrainEnd::Front),
            Self::AxleLoad(vehicle, EndWord::Rear) => Measured::AxleLoad(vehicle.0, TrainEnd::Rear),
            Self::BogieRatio(vehicle) => Measured::BogieRatio(vehicle.0),
            Self::WheelRatio(vehicle) => Measured::WheelRatio(vehicle.0),
            Self::RackLoad(vehicle, rack) => Measured::RackLoad(RackRef { vehicle: vehicle.0, rack }),
        }
    }
}

#[derive(Deserialize)]
enum EndWord {
    Front,
    Rear,
}

#[derive(Deserialize)]
enum KnobWord {
    Count,
    Length,
    Section,
    FrontEnd,
    Lane,
}

impl KnobWord {
    fn into_model(self) -> Knob {
        match self {
            Self::Count => Knob::Count,
            Self::Length => Knob::Length,
            Self::Section => Knob::Section,
            Self::FrontEnd => Knob::FrontEnd,
            Self::Lane => Knob::Lane,
        }
    }
}

#[derive(Deserialize)]
struct Rack(Mark<VehicleMark>, u32);

impl Rack {
    fn into_model(self) -> RackRef {
        RackRef { vehicle: self.0.0, rack: self.1 }
    }
}

/// A mark or name.
struct Mark<T>(T);

impl<'de, T: FromStr<Err = NameError>> Deserialize<'de> for Mark<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        String::deserialize(deserializer)?.parse().map(Self).map_err(D::Error::custom)
    }
}

/// A text with quantities in braces.
struct Words(Text);

impl<'de> Deserialize<'de> for Words {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        words(&text)
            .map(Self)
            .map_err(|what| D::Error::custom(format!("{what}{MEND_MARK}write it as in {{1.5 m}}")))
    }
}

fn words(text: &str) -> Result<Text, String> {
    let mut pieces = Vec::new();
    let mut rest = text;
    while let Some((before, after)) = rest.split_once('{') {
        let (inside, after) =
            after.split_once('}').ok_or_else(|| format!("a brace is not closed after \"{before}\""))?;
        pieces.push(Piece::from(before));
        pieces.push(Piece::from(quantity(inside)?));
        rest = after;
    }
    pieces.push(Piece::from(rest));
    Ok(Text(pieces))
}

/// A length in m or mm, a mass in t or kg.
fn quantity(text: &str) -> Result<Quantity, String> {
    let metric = UnitSystem::Metric;
    match text.rsplit_once(' ').map(|(_, unit)| unit) {
        Some("m") => parse_length(text, metric).map(Quantity::length).map_err(|error| error.to_string()),
        Some("mm") => parse_length(text, metric)
            .map(|length| Quantity::small_length_m(length.m()))
            .map_err(|error| error.to_string()),
        Some("t") => parse_mass_kg(text, metric).map(Quantity::mass).map_err(|error| error.to_string()),
        Some("kg") => {
            parse_mass_kg(text, metric).map(Quantity::small_mass).map_err(|error| error.to_string())
        }
        _ => Err(format!("{{{text}}} is no length or mass")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Style;

    #[test]
    fn a_quantity_in_braces_is_read_in_the_readers_units() {
        let us = Style { units: UnitSystem::UsCustomary, ..Style::default() };
        let text = words("at {1.5 m}, {301 kg}.").unwrap();
        assert_eq!(text.show(Style::default()), "at 1.500 m, 301.0 kg.");
        assert_eq!(text.show(us), "at 4.92 ft, 664 lb.");
        assert!(words("at {1.5").is_err() && words("at {1.5 yd}").is_err());
    }

    #[test]
    fn all_exercises_and_their_trains_can_be_read_and_have_names_of_their_own() {
        let exercises = exercises().unwrap();
        assert!((8..=12).contains(&exercises.len()), "{}", exercises.len());
        let mut ids: Vec<&str> = exercises.iter().map(|exercise| exercise.id.as_str()).collect();
        ids.sort_unstable();
        ids.dedup();
        assert_eq!(ids.len(), exercises.len());
        assert!(exercises.iter().all(|exercise| exercise.hints.len() >= 2));
        assert_eq!(teaching_train().unwrap().placements.len(), 18);
    }
}
