//! What somebody said about a table, over what is found out from it.

use super::field::Unit;
use super::names::{NameChoice, NameKind, loose};
use crate::units::DecimalMark;
use std::collections::BTreeMap;

/// What was said; what was not is found out.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Choices {
    /// Where the headers stand.
    pub header: HeaderChoice,
    /// The decimal mark of the numbers.
    pub decimal: Option<DecimalMark>,
    /// Which column holds what, by the field's key.
    pub columns: BTreeMap<&'static str, ColumnChoice>,
    /// The unit of a column's bare numbers, by the field's key.
    pub units: BTreeMap<&'static str, &'static Unit>,
    /// What is meant by names that the plan does not have.
    names: BTreeMap<(NameKind, String), NameChoice>,
}

impl Choices {
    /// Says what is meant by a name that the plan does not have; other spellings of it are meant too.
    pub fn mean(&mut self, kind: NameKind, written: &str, choice: NameChoice) {
        self.names.insert((kind, loose(written)), choice);
    }

    /// What was said about a name.
    pub fn meant(&self, kind: NameKind, written: &str) -> Option<&NameChoice> {
        self.names.get(&(kind, loose(written)))
    }
}

/// Where the headers stand.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum HeaderChoice {
    /// Where they are found.
    #[default]
    AsFound,
    /// Nowhere: every line is a row.
    Without,
    /// In the line with this number, from 1.
    Line(usize),
}

/// Which column holds a field.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum ColumnChoice {
    /// None.
    Without,
    /// The one with this index.
    Column(usize),
}
