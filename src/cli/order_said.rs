//! What is said about the table of an order: which column holds what, in which unit, and what its names mean.

use super::usage::UsageError;
use crate::format::Table;
use crate::intake::{
    Choices, ColumnChoice, Field, HeaderChoice, Intake, Kind, NameChoice, NameKind, Surroundings, Unknown,
    column_called,
};
use crate::model::TrainEnd;
use crate::units::DecimalMark;
use lexopt::ValueExt;
use std::ffi::OsString;

/// What was said about the table, as it was given.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Said {
    /// `--headers`.
    pub(super) header: HeaderChoice,
    /// `--decimal`.
    pub(super) decimal: Option<DecimalMark>,
    /// Field and header, or nothing for a field that no column holds.
    columns: Vec<(String, String)>,
    /// Field and unit.
    units: Vec<(String, String)>,
    names: Vec<SaidName>,
}

/// What is meant by a name.
#[derive(Clone, Debug, PartialEq, Eq)]
struct SaidName {
    /// The option that says so.
    option: &'static str,
    kind: NameKind,
    /// The name as the table has it.
    written: String,
    choice: NameChoice,
}

/// `--headers`: the number of the line with the headers, or none.
pub(super) fn header(value: OsString) -> Result<HeaderChoice, UsageError> {
    match value.to_str() {
        Some("none") => Ok(HeaderChoice::Without),
        Some(line) if line.parse::<usize>().is_ok_and(|line| line >= 1) => {
            Ok(HeaderChoice::Line(line.parse().unwrap_or(1)))
        }
        _ => Err(UsageError::bad(value, "--headers", "the number of the line with the headers, or none")),
    }
}

impl Said {
    /// `--column FIELD=HEADER`.
    pub(super) fn column(&mut self, value: OsString) -> Result<(), UsageError> {
        self.columns.push(pair(value, "--column", "FIELD=HEADER")?);
        Ok(())
    }

    /// `--unit FIELD=UNIT`.
    pub(super) fn unit(&mut self, value: OsString) -> Result<(), UsageError> {
        self.units.push(pair(value, "--unit", "FIELD=UNIT")?);
        Ok(())
    }

    /// `--section`, `--steel` or `--drop NAME=NAME`, as `option` and `kind` say.
    pub(super) fn name(
        &mut self,
        (option, kind): (&'static str, NameKind),
        value: OsString,
    ) -> Result<(), UsageError> {
        let takes = "NAME=NAME, the name in the table and the one that is meant";
        let (written, meant) = pair(value, option, takes)?;
        self.names.push(SaidName { option, kind, written, choice: NameChoice::Use(meant) });
        Ok(())
    }

    /// `--new-drop NAME`, or `NAME=front` where strings go over the front end.
    pub(super) fn new_drop(&mut self, value: OsString) -> Result<(), UsageError> {
        let words = value.clone().string()?;
        let (name, toward) = match words.rsplit_once('=') {
            Some((name, "front")) => (name, TrainEnd::Front),
            Some((name, "rear")) => (name, TrainEnd::Rear),
            Some(_) => return Err(UsageError::bad(value, "--new-drop", "NAME, NAME=front or NAME=rear")),
            None => (words.as_str(), TrainEnd::Rear),
        };
        let (kind, written) = (NameKind::Drop, name.trim().to_owned());
        self.names.push(SaidName { option: "--new-drop", kind, written, choice: NameChoice::Make(toward) });
        Ok(())
    }

    /// The choices; columns are looked up in the table as it is read so far.
    pub(super) fn choices(&self, table: &Table, around: &Surroundings<'_>) -> Result<Choices, String> {
        let mut choices = Choices::default();
        (choices.header, choices.decimal) = (self.header, self.decimal);
        for SaidName { kind, written, choice, .. } in &self.names {
            if choices.meant(*kind, written).is_some() {
                return Err(format!("what is meant by the {} \"{written}\" is said twice", kind.noun()));
            }
            choices.mean(*kind, written, choice.clone());
        }
        let first = Intake::of(Kind::Order, table, around, &choices);
        for (key, words) in &self.columns {
            let field = field(key)?;
            let choice = match words.as_str() {
                "" => ColumnChoice::Without,
                words => ColumnChoice::Column(column_called(table, &first.matching, words).ok_or_else(|| {
                    format!("no column, or more than one, is headed \"{words}\"; name it by its number, as in #3")
                })?),
            };
            if choices.columns.insert(field.key, choice).is_some() {
                return Err(format!("which column holds {key} is said twice"));
            }
        }
        for (key, words) in &self.units {
            let field = field(key)?;
            let known: Vec<&str> = field.measure.units().iter().map(|unit| unit.sign).collect();
            let unit = field.measure.unit(words).ok_or_else(|| match known.as_slice() {
                [] => format!("{key} has no unit"),
                known => format!("\"{words}\" is no unit of {key}; give {}", known.join(", ")),
            })?;
            if choices.units.insert(field.key, unit).is_some() {
                return Err(format!("the unit of {key} is said twice"));
            }
        }
        Ok(choices)
    }

    /// Whether it is said what is meant by a name.
    pub(super) fn tells(&self, unknown: &Unknown) -> bool {
        self.names.iter().any(|said| said.is_of(unknown))
    }

    /// What was said in vain, a line each: of names that no row leaves open, and units that no column needs.
    pub(super) fn in_vain(&self, intake: &Intake) -> String {
        let asked = |said: &&SaidName| intake.unknown.iter().any(|unknown| said.is_of(unknown));
        let names = self.names.iter().filter(|said| !asked(said)).map(|SaidName { option, kind, written, .. }| {
            let noun = kind.noun();
            format!("Not used: {option} \"{written}\"; no row has such a {noun} that the plan does not have.\n")
        });
        let held = |key: &str| {
            intake.matching.columns.iter().any(|matched| matched.field.key == key && matched.column.is_some())
        };
        let units = self.units.iter().filter(|(key, _)| !held(key));
        let units = units.map(|(key, unit)| format!("Not used: --unit {key}={unit}; no column holds it.\n"));
        names.chain(units).collect()
    }
}

impl SaidName {
    /// Whether it is said of this name, in whatever spelling.
    fn is_of(&self, unknown: &Unknown) -> bool {
        let mut only = Choices::default();
        only.mean(self.kind, &self.written, self.choice.clone());
        only.meant(unknown.kind, &unknown.name).is_some()
    }
}

fn pair(value: OsString, option: &'static str, takes: &'static str) -> Result<(String, String), UsageError> {
    let words = value.clone().string()?;
    match words.split_once('=') {
        Some((left, right)) if !left.trim().is_empty() => {
            Ok((left.trim().to_owned(), right.trim().to_owned()))
        }
        _ => Err(UsageError::bad(value, option, takes)),
    }
}

fn field(key: &str) -> Result<&'static Field, String> {
    let fields = || Kind::Order.fields().iter().map(|field| field.key).collect::<Vec<_>>().join(", ");
    let found = Kind::Order.field(key).map(|(_, field)| field);
    found.ok_or_else(|| format!("\"{key}\" is nothing that a column can hold; it can hold {}", fields()))
}
