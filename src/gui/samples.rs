//! The sample loads that ship with the program, and the catalogue, as the forms use it.

use super::files::empty_plan;
use crate::format;
use crate::model::{Catalogue, Exercise, Plan};
use std::sync::{Arc, OnceLock};

/// A sample load: a plan to open a copy of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sample {
    /// What a list calls it: the plan's title.
    pub title: &'static str,
    /// What it shows.
    pub about: &'static str,
    text: &'static str,
}

macro_rules! sample {
    ($title:literal, $about:literal, $file:literal) => {
        Sample { title: $title, about: $about, text: include_str!(concat!("../../sample-loads/", $file)) }
    };
}

/// All samples, in the order of their files.
pub const SAMPLES: [Sample; 8] = [
    sample!(
        "Ossbeck renewal, 108 m strings",
        "32 strings on six flats, taken off in pairs: the place to begin",
        "a-six-flats.longstow"
    ),
    sample!("Full train for Tarnhollow", "50 strings of 500 m on 27 flats", "b-full-train.longstow"),
    sample!(
        "Two sites: Ossbeck and Brackenlow",
        "mixed lengths, pairs, old rail taken on",
        "c-two-sites.longstow"
    ),
    sample!(
        "Quarter-mile strings for Cedar Notch",
        "US customary, five tiers of ten",
        "d-quarter-mile.longstow"
    ),
    sample!(
        "Short rails on two-axle wagons",
        "the 2 : 1 axle rule, entered by the author",
        "e-two-axle.longstow"
    ),
    sample!(
        "Half-finished load for Ossbeck",
        "fails: out of balance; its findings show what mends it",
        "f-one-sided.longstow"
    ),
    sample!(
        "Strings one rack too short",
        "fails: ends miss their rack; its findings show what mends it",
        "g-one-rack-too-short.longstow"
    ),
    sample!(
        "Ratings still to be entered",
        "undecided: each finding leads to the rating that is missing",
        "h-ratings-missing.longstow"
    ),
];

/// Where in the list the samples begin that have something to find and to mend.
pub(super) const WITH_FINDINGS: usize = 5;

impl Sample {
    /// A copy of its plan.
    ///
    /// # Errors
    /// As [`format::read`]; tests read every sample.
    pub fn plan(&self) -> Result<Plan, format::ReadError> {
        format::read(self.text.as_bytes())
    }
}

/// The catalogue that plans copy rows from; empty where it cannot be read, which a test of `format` rules out.
pub(super) fn catalogue() -> &'static Catalogue {
    static CATALOGUE: OnceLock<Catalogue> = OnceLock::new();
    CATALOGUE.get_or_init(|| format::catalogue().unwrap_or_default())
}

/// The small train that a trainee turns sliders over; an empty plan where it cannot be read, which a test of `format`
/// rules out.
pub(super) fn teaching_train() -> Arc<Plan> {
    static TRAIN: OnceLock<Arc<Plan>> = OnceLock::new();
    let read = || Arc::new(format::teaching_train().unwrap_or_else(|_| empty_plan()));
    Arc::clone(TRAIN.get_or_init(read))
}

/// The exercises for whoever learns; none where they cannot be read, which a test of `format` rules out.
pub(super) fn exercises() -> &'static [Exercise] {
    static EXERCISES: OnceLock<Vec<Exercise>> = OnceLock::new();
    EXERCISES.get_or_init(|| format::exercises().unwrap_or_default())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::{Verdict, assess};
    use crate::statics::{Figures, Scope};

    #[test]
    fn every_sample_can_be_read_and_is_listed_under_its_own_title() {
        for sample in SAMPLES {
            assert_eq!(sample.plan().unwrap().title, sample.title);
        }
    }

    #[test]
    fn loads_to_look_at_come_first_and_those_with_something_to_find_after_them() {
        for (at, sample) in SAMPLES.iter().enumerate() {
            let figures = Figures::of(Arc::new(sample.plan().unwrap()), Scope::All);
            let is_open = assess(&figures).verdict() != Verdict::NothingOpen;
            assert_eq!(is_open, at >= WITH_FINDINGS, "{}", sample.title);
        }
    }
}
