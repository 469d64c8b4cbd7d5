//! Gathers problems: ranges of numbers, names that must differ, lists that must grow.

use super::Problem;
use crate::units::Length;
use std::collections::BTreeSet;
use std::fmt::Display;

/// The numbers that a field may hold, ends included.
#[derive(Clone, Copy)]
pub(super) struct Range {
    pub(super) least: f64,
    pub(super) most: f64,
    /// How a reader is told the lower end.
    pub(super) words: &'static str,
}

impl Range {
    pub(super) const fn new(least: f64, most: f64, words: &'static str) -> Self {
        Self { least, most, words }
    }
}

/// No value of a sound plan is larger, so that products of several still are numbers.
const MOST: f64 = 1.0e12;

/// The largest place or length along the train in mm: 10,000 km.
const MOST_MM: f64 = 1.0e10;

/// Above zero; far enough from it that its inverse is a number that can be reckoned with.
pub(super) const ABOVE_ZERO: Range = Range::new(1.0e-9, MOST, "above zero");
/// Zero or above.
pub(super) const FROM_ZERO: Range = Range::new(0.0, MOST, "of zero or above");
/// A share of one, zero excluded.
pub(super) const SHARE: Range = Range::new(1.0e-9, 1.0, "above zero");
/// A tolerance as a share of one.
pub(super) const TOLERANCE: Range = Range::new(0.0, 1.0, "of zero or above");
/// Larger over smaller.
pub(super) const RATIO: Range = Range::new(1.0, MOST, "of 1 or above");
/// A length in mm, above zero.
pub(super) const LENGTH: Range = Range::new(1.0, MOST_MM, "above zero");
/// A length in mm, zero or above.
pub(super) const DISTANCE: Range = Range::new(0.0, MOST_MM, "of zero or above");
/// A place in mm.
pub(super) const PLACE: Range = Range::new(-MOST_MM, MOST_MM, "that can be meant");
/// A figure that a check compares.
pub(super) const FIGURE: Range = Range::new(-MOST, MOST, "that can be meant");
/// A whole number from 1.
pub(super) const COUNT: Range = Range::new(1.0, 1.0e6, "of 1 or above");

/// A field's key, its value where it has one, and the values that it may have.
pub(super) type Field = (&'static str, Option<f64>, Range);

/// Whole millimetres as a field's value.
pub(super) fn mm(length: Length) -> Option<f64> {
    Some(length.mm() as f64)
}

/// The problems found so far.
#[derive(Default)]
pub(super) struct Report {
    pub(super) problems: Vec<Problem>,
}

impl Report {
    /// Adds a problem.
    pub(super) fn add(&mut self, path: impl Into<String>, what: impl Into<String>, mend: impl Into<String>) {
        self.problems.push(Problem { path: path.into(), what: what.into(), mend: mend.into() });
    }

    /// Looks at the numbers of the record at `path`; answers whether all are in range.
    pub(super) fn numbers(&mut self, path: &str, fields: &[Field]) -> bool {
        let before = self.problems.len();
        for (key, value, range) in fields {
            if let Some(value) = value {
                self.number(|| join(path, key), *value, *range);
            }
        }
        self.problems.len() == before
    }

    /// Looks at one number.
    pub(super) fn number(&mut self, path: impl Fn() -> String, value: f64, range: Range) {
        if value >= range.least && value <= range.most {
            return;
        }
        // Without hundreds of noughts.
        let far_off = value != 0.0 && value.is_finite() && !(1.0e-15..1.0e15).contains(&value.abs());
        let shown = if far_off { format!("{value:e}") } else { value.to_string() };
        let what = format!("{shown} is not a number {}", range.words);
        if value > range.most && value.is_finite() {
            let what = format!("{shown} is more than {}, the most that can be meant here", range.most);
            self.add(path(), what, "check the value and its unit");
        } else if value > 0.0 && value < range.least && range.least < 1.0 {
            let what = format!("{shown} is less than {:e}, the least that can be meant here", range.least);
            self.add(path(), what, "check the value and its unit");
        } else {
            self.add(path(), what, format!("enter a number {}", range.words));
        }
    }

    /// Looks whether the `key`s of the list at `path` differ.
    pub(super) fn unique<'n>(&mut self, path: &str, key: &str, names: impl Iterator<Item = &'n str>) {
        let mut seen = BTreeSet::new();
        for (number, name) in names.enumerate() {
            if !seen.insert(name) {
                let what = format!("\"{name}\" stands twice");
                self.add(format!("{path}[{number}].{key}"), what, "give each its own name");
            }
        }
    }

    /// Looks whether the list at `path` has no more than `most` items.
    pub(super) fn at_most(&mut self, path: &str, len: usize, most: usize) {
        if len > most {
            self.add(
                path,
                format!("{len} items are more than the {most} that a plan can have"),
                "remove some",
            );
        }
    }

    /// Looks whether the values of the list at `path` grow, each more than the one before.
    pub(super) fn growing(&mut self, path: impl Fn(usize) -> String, values: &[f64], mend: &str) {
        for (number, pair) in values.windows(2).enumerate() {
            if let [before, after] = pair
                && before >= after
            {
                self.add(path(number + 1), format!("{after} follows {before}"), mend);
            }
        }
    }

    /// Tells that nothing is called `name`.
    pub(super) fn missing(&mut self, path: String, what: &str, name: impl Display) {
        self.add(
            path,
            format!("there is no {what} \"{name}\""),
            format!("name a {what} of the plan, or add it"),
        );
    }

    /// Looks whether the text at `path` says something.
    pub(super) fn said(&mut self, path: String, text: &str) {
        if text.trim().is_empty() {
            self.add(path, "nothing is said", "write a name");
        }
    }
}

fn join(path: &str, key: &str) -> String {
    if path.is_empty() { key.to_owned() } else { format!("{path}.{key}") }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(value: f64, range: Range, sound: bool) {
        let mut report = Report::default();
        report.number(String::new, value, range);
        assert_eq!(report.problems.is_empty(), sound, "{value}");
    }

    #[test]
    fn ranges_hold_their_ends_and_nothing_beyond() {
        for (value, range, sound) in [
            (0.0, ABOVE_ZERO, false),
            (1.0e-9, ABOVE_ZERO, true),
            (1.0e12, ABOVE_ZERO, true),
            (1.1e12, ABOVE_ZERO, false),
            (0.0, FROM_ZERO, true),
            (-1.0e-9, FROM_ZERO, false),
            (-1.0e10, PLACE, true),
            (f64::NAN, PLACE, false),
            (f64::INFINITY, PLACE, false),
            (f64::NEG_INFINITY, PLACE, false),
            (1.0, SHARE, true),
            (1.001, SHARE, false),
            (0.999, RATIO, false),
            (1.0, RATIO, true),
            (0.0, LENGTH, false),
            (1.0, LENGTH, true),
            (1.0e10, PLACE, true),
            (1.0e10 + 1.0, PLACE, false),
        ] {
            check(value, range, sound);
        }
    }

    #[test]
    fn a_value_out_of_range_is_named_with_what_to_do() {
        let mut report = Report::default();
        report.numbers("a[0]", &[("tare_kg", Some(-5.0), ABOVE_ZERO)]);
        let problem = report.problems.pop().unwrap();
        assert_eq!(problem.path, "a[0].tare_kg");
        assert_eq!(problem.what, "-5 is not a number above zero");
        assert_eq!(problem.mend, "enter a number above zero");
    }

    #[test]
    fn growing_values_must_differ() {
        let mut report = Report::default();
        report.growing(|number| format!("[{number}]"), &[1.0, 2.0, 2.0, 3.0, 2.5], "sort them");
        let paths: Vec<_> = report.problems.iter().map(|problem| problem.path.as_str()).collect();
        assert_eq!(paths, ["[2]", "[4]"]);
    }

    #[test]
    fn a_number_far_off_is_shown_with_its_power_of_ten() {
        let told = |value: f64| {
            let mut report = Report::default();
            report.number(String::new, value, ABOVE_ZERO);
            report.problems[0].what.clone()
        };
        assert_eq!(told(1.0e300), "1e300 is more than 1000000000000, the most that can be meant here");
        assert_eq!(told(1.0e-300), "1e-300 is less than 1e-9, the least that can be meant here");
        assert_eq!(told(-2.5), "-2.5 is not a number above zero");
    }
}
