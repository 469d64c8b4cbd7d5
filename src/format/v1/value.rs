//! The values that fields of a file hold: numbers, whole millimetres, counts, names; and how they are refused.
//!
//! Each refuses a wrong value while it is read, so that the error knows its line, column and path.

use crate::units::{Length, UnitSystem, parse_length};
use serde::de::{Deserialize, Deserializer, Error, Unexpected, Visitor};
use serde::ser::{Serialize, Serializer};
use std::fmt::{self, Display};
use std::str::FromStr;

/// Stands between what is wrong and what to do in the text of a refusal.
pub(crate) const MEND_MARK: char = '\u{1f}';

/// The largest length or position in mm that a file may hold: 10,000 km.
pub(crate) const LARGEST_MM: f64 = 1.0e10;

/// What a file holds for a value of the model, both ways.
pub(crate) trait FileOf<M>: Sized {
    /// The file's form of `model`.
    fn of(model: &M) -> Self;
    /// The model's form of what was read.
    fn into_model(self) -> M;
}

/// A finite decimal number.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Number(pub(crate) f64);

/// A whole number of millimetres within [`LARGEST_MM`] either way.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Millimetres(i64);

/// A whole number from 0.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Count(u32);

/// A name or mark, tidy as the model wants it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Id<T>(T);

/// Whether a number is 0, and so need not be written where 0 is the default.
pub(crate) fn is_zero(number: &Number) -> bool {
    *number == Number::default()
}

/// Whether a flag is off, and so need not be written.
pub(crate) fn is_off(flag: &bool) -> bool {
    !flag
}

impl Serialize for Number {
    /// Whole numbers without a point, everything else in the shortest form that reads back exactly.
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let value = self.0;
        let whole =
            value.fract() == 0.0 && value.abs() < 1.0e15 && !(value == 0.0 && value.is_sign_negative());
        if whole { serializer.serialize_i64(value as i64) } else { serializer.serialize_f64(value) }
    }
}

impl Serialize for Millimetres {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_i64(self.0)
    }
}

impl Serialize for Count {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_u32(self.0)
    }
}

impl<T: Display> Serialize for Id<T> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(&self.0)
    }
}

impl<'de> Deserialize<'de> for Number {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let value = deserializer.deserialize_any(AnyNumber { wanted: "a number" })?;
        Ok(Self(value))
    }
}

impl<'de> Deserialize<'de> for Millimetres {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let value = deserializer.deserialize_any(AnyNumber { wanted: "a whole number of millimetres" })?;
        if value.abs() > LARGEST_MM {
            return Err(refusal(
                format!("{value} mm is beyond 10,000 km"),
                "write the length in millimetres, without grouping or a unit",
            ));
        }
        if value.fract() != 0.0 {
            let (as_mm, as_m) = (value.round(), (value * 1000.0).round());
            return Err(refusal(
                format!("{value} is not whole millimetres"),
                format!("write {as_m} for {value} m, or {as_mm} for {value} mm"),
            ));
        }
        Ok(Self(value as i64))
    }
}

impl<'de> Deserialize<'de> for Count {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let value = deserializer.deserialize_any(AnyNumber { wanted: "a whole number" })?;
        if value.fract() != 0.0 || value < 0.0 || value > f64::from(u32::MAX) {
            return Err(refusal(format!("{value} is not a whole number from 0"), "count in whole numbers"));
        }
        Ok(Self(value as u32))
    }
}

impl<'de, T: FromStr<Err: Display>> Deserialize<'de> for Id<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        text.parse().map(Self).map_err(|why| {
            let why = format!("{why}");
            let (what, mend) = why.rsplit_once("; ").unwrap_or((&why, "write another name"));
            refusal(what, mend)
        })
    }
}

/// An error that says what is wrong and what to do.
pub(crate) fn refusal<E: Error>(what: impl Display, mend: impl Display) -> E {
    E::custom(format_args!("{what}{MEND_MARK}{mend}"))
}

/// Takes any finite number, whole or not.
struct AnyNumber {
    wanted: &'static str,
}

impl Visitor<'_> for AnyNumber {
    type Value = f64;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.wanted)
    }

    fn visit_i64<E: Error>(self, value: i64) -> Result<f64, E> {
        Ok(value as f64)
    }

    fn visit_u64<E: Error>(self, value: u64) -> Result<f64, E> {
        Ok(value as f64)
    }

    fn visit_f64<E: Error>(self, value: f64) -> Result<f64, E> {
        if value.is_finite() {
            return Ok(value);
        }
        Err(refusal(format!("{value} is not a number that can be reckoned with"), "write a finite number"))
    }

    fn visit_str<E: Error>(self, text: &str) -> Result<f64, E> {
        let has_unit = text.chars().any(char::is_alphabetic);
        let mend = match parse_length(text, UnitSystem::Metric) {
            Ok(length) if has_unit && self.wanted.ends_with("millimetres") => {
                format!("write {} (for {text}), without quotes or a unit", length.mm())
            }
            _ => "write it without quotes or a unit; the field's name tells the unit".to_owned(),
        };
        Err(refusal(format!("{text:?} is text, not {}", self.wanted), mend))
    }

    fn visit_unit<E: Error>(self) -> Result<f64, E> {
        Err(E::invalid_type(Unexpected::Unit, &self))
    }
}

impl FileOf<f64> for Number {
    fn of(model: &f64) -> Self {
        Self(*model)
    }
    fn into_model(self) -> f64 {
        self.0
    }
}

impl FileOf<Length> for Millimetres {
    fn of(model: &Length) -> Self {
        Self(model.mm())
    }
    fn into_model(self) -> Length {
        Length::from_mm(self.0)
    }
}

impl FileOf<u32> for Count {
    fn of(model: &u32) -> Self {
        Self(*model)
    }
    fn into_model(self) -> u32 {
        self.0
    }
}

impl<T: Clone> FileOf<T> for Id<T> {
    fn of(model: &T) -> Self {
        Self(model.clone())
    }
    fn into_model(self) -> T {
        self.0
    }
}

impl FileOf<Self> for String {
    fn of(model: &Self) -> Self {
        model.clone()
    }
    fn into_model(self) -> Self {
        self
    }
}

impl FileOf<Self> for bool {
    fn of(model: &Self) -> Self {
        *model
    }
    fn into_model(self) -> Self {
        self
    }
}

impl<M, F: FileOf<M>> FileOf<Option<M>> for Option<F> {
    fn of(model: &Option<M>) -> Self {
        model.as_ref().map(F::of)
    }
    fn into_model(self) -> Option<M> {
        self.map(F::into_model)
    }
}

impl<M, F: FileOf<M>> FileOf<Vec<M>> for Vec<F> {
    fn of(model: &Vec<M>) -> Self {
        model.iter().map(F::of).collect()
    }
    fn into_model(self) -> Vec<M> {
        self.into_iter().map(F::into_model).collect()
    }
}

impl<M, F: FileOf<M>> FileOf<(M, M)> for (F, F) {
    fn of((a, b): &(M, M)) -> Self {
        (F::of(a), F::of(b))
    }
    fn into_model(self) -> (M, M) {
        (self.0.into_model(), self.1.into_model())
    }
}
