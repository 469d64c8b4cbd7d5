//! Exercises for whoever learns: a small plan, a question, and how the program's own engine tells a right answer.

use super::{Plan, RackRef, StringMark, TrainEnd, VehicleMark};
use crate::units::Text;
use std::sync::Arc;

/// One thing of a scratch copy that can be turned; its values are whole numbers of a unit of its own.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Knob {
    /// How many strings lie on the train, from 1.
    Count,
    /// Length of the strings turned, in mm.
    Length,
    /// Rail section of the strings turned: an index into the sections that can be chosen, lightest first.
    Section,
    /// x of the front end of the foremost string turned, in mm.
    FrontEnd,
    /// Lane of one string, from 1 at the left facing the front.
    Lane,
}

/// A figure that an answer is about, at departure unless a state is named beside it.
#[derive(Clone, Debug, PartialEq)]
pub enum Measured {
    /// Load of an axle of a wagon's front or rear bogie.
    AxleLoad(VehicleMark, TrainEnd),
    /// Larger over smaller bogie load of a wagon.
    BogieRatio(VehicleMark),
    /// The worst wheel ratio of a wagon.
    WheelRatio(VehicleMark),
    /// Load of a rack.
    RackLoad(RackRef),
}

/// What can be said of a plan and put to the test by the checks.
#[derive(Clone, Debug, PartialEq)]
pub enum Claim {
    /// The worst that a check finds of a thing (of all its things where none is named) has this outcome.
    Finds {
        /// The check's id.
        check: String,
        /// The thing as findings name it, such as `vehicle K2 rack 2`; empty: any.
        of: String,
        /// The outcome's word, such as `fail`.
        outcome: String,
    },
    /// With a string held elsewhere, the worst that a check finds has this outcome.
    HeldAt {
        /// The string.
        string: StringMark,
        /// The racks that hold it instead; a sound plan has one.
        at: Vec<RackRef>,
        /// The check's id.
        check: String,
        /// The outcome's word.
        outcome: String,
    },
    /// With the steps of the first drop in this order, the worst that a check finds has this outcome.
    StepsInOrder {
        /// The strings of the steps, each step one string.
        strings: Vec<StringMark>,
        /// The check's id.
        check: String,
        /// The outcome's word.
        outcome: String,
    },
    /// Of all states, the figure is largest in this one.
    LargestIn {
        /// The figure.
        of: Measured,
        /// The state, by index from departure.
        state: usize,
    },
}

/// One of several answers to choose from.
#[derive(Clone, Debug, PartialEq)]
pub struct Choice {
    /// The answer.
    pub words: Text,
    /// It is right where all of these are true.
    pub claims: Vec<Claim>,
    /// Said to whoever chooses it while it is wrong.
    pub reply: Text,
}

/// What the scratch copy must be for the answer to be right.
#[derive(Clone, Debug, PartialEq)]
pub enum Condition {
    /// None of these checks (by id) finds a fail or something undecided.
    Keeps(Vec<String>),
    /// One step of the knob further and one of the checks of `Keeps` would find one.
    Greatest(Knob),
    /// The figure is at most this, in its SI unit.
    AtMost(Measured, f64),
}

/// How an exercise is answered, and what is right.
#[derive(Clone, Debug, PartialEq)]
pub enum Answer {
    /// A figure is typed; right within this share of the figure itself.
    Figure {
        /// The figure.
        of: Measured,
        /// The largest error, as a share.
        tolerance: f64,
    },
    /// One of these is chosen.
    Choice(Vec<Choice>),
    /// The sliders are set so that all of these are true.
    Turned(Vec<Condition>),
}

/// An exercise.
#[derive(Clone, Debug, PartialEq)]
pub struct Exercise {
    /// What progress is kept under; the same for ever.
    pub id: String,
    /// What a list calls it.
    pub title: String,
    /// The train that it is about.
    pub plan: Arc<Plan>,
    /// What to know first.
    pub text: Text,
    /// What to do.
    pub task: Text,
    /// Help, from the smallest to the largest.
    pub hints: Vec<Text>,
    /// The sliders that are shown.
    pub knobs: Vec<Knob>,
    /// The wagon looked at.
    pub wagon: VehicleMark,
    /// The rack looked at; none: the worst.
    pub rack: Option<RackRef>,
    /// How it is answered.
    pub answer: Answer,
    /// Told once it is answered rightly.
    pub explanation: Text,
    /// The workings that belong to it, as they are asked for: `axle-load: vehicle K2, front bogie`; may be none.
    pub workings: Vec<String>,
}

impl Knob {
    /// All of them, in the order in which they are shown.
    pub const ALL: [Self; 5] = [Self::Count, Self::Length, Self::Section, Self::FrontEnd, Self::Lane];

    /// What a reader calls it.
    pub fn title(self) -> &'static str {
        match self {
            Self::Count => "Strings",
            Self::Length => "Length",
            Self::Section => "Rail section",
            Self::FrontEnd => "Front end at",
            Self::Lane => "Lane",
        }
    }

    /// What turning it does, in a sentence.
    pub fn purpose(self) -> &'static str {
        match self {
            Self::Count => {
                "How many strings lie on the train: taken off from the last, added by the filling rule."
            }
            Self::Length => "How long the strings are; their front ends stay where they are.",
            Self::Section => "Which rail they are; a heavier one puts more on every rack.",
            Self::FrontEnd => "Where along the train the front end of the foremost string comes.",
            Self::Lane => "In which lane one string lies; one that is in its way changes places with it.",
        }
    }

    /// What one step of it is, in its own unit: 1, or 100 mm.
    pub fn step(self) -> i64 {
        match self {
            Self::Length | Self::FrontEnd => 100,
            Self::Count | Self::Section | Self::Lane => 1,
        }
    }
}
