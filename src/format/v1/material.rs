//! Sources, rail sections, steels and the ordered strings, as version 1 of the file holds them.

use super::macros::{record, words};
use super::value::{FileOf, Id, Millimetres, Number};
use crate::model::{self, DropName, SectionName, SteelName, StringMark, Sureness};
use serde::{Deserialize, Serialize};

/// Where a value comes from: how sure it is, and the text, as in `Read("EN 13674-1")`.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(crate) enum Source {
    Read(String),
    Secondary(String),
    Computed(String),
    Practice(String),
    Memory(String),
    Entered(String),
}

impl FileOf<model::Source> for Source {
    fn of(model: &model::Source) -> Self {
        let model::Source { text, sure } = model;
        let text = text.clone();
        match sure {
            Sureness::Read => Self::Read(text),
            Sureness::Secondary => Self::Secondary(text),
            Sureness::Computed => Self::Computed(text),
            Sureness::Practice => Self::Practice(text),
            Sureness::Memory => Self::Memory(text),
            Sureness::Entered => Self::Entered(text),
        }
    }

    fn into_model(self) -> model::Source {
        let (text, sure) = match self {
            Self::Read(text) => (text, Sureness::Read),
            Self::Secondary(text) => (text, Sureness::Secondary),
            Self::Computed(text) => (text, Sureness::Computed),
            Self::Practice(text) => (text, Sureness::Practice),
            Self::Memory(text) => (text, Sureness::Memory),
            Self::Entered(text) => (text, Sureness::Entered),
        };
        model::Source { text, sure }
    }
}

record! {
    /// A rail section.
    RailSection = model::RailSection {
        name: Id<SectionName> = name,
        mass_kg_per_m: Number = mass_kg_per_m,
        area_cm2: Number = area_cm2,
        ix_cm4: Number = ix_cm4,
        iy_cm4 ["Option::is_none"]: Option<Number> = iy_cm4,
        height_mm ["Option::is_none"]: Option<Number> = height_mm,
        foot_mm ["Option::is_none"]: Option<Number> = foot_mm,
        head_mm ["Option::is_none"]: Option<Number> = head_mm,
        web_mm ["Option::is_none"]: Option<Number> = web_mm,
        neutral_axis_mm ["Option::is_none"]: Option<Number> = neutral_axis_mm,
        wx_head_cm3 ["Option::is_none"]: Option<Number> = wx_head_cm3,
        wx_foot_cm3 ["Option::is_none"]: Option<Number> = wx_foot_cm3,
        wy_foot_cm3 ["Option::is_none"]: Option<Number> = wy_foot_cm3,
        source: Source = source,
    }
}

record! {
    /// A rail steel.
    Steel = model::Steel {
        name: Id<SteelName> = name,
        modulus_gpa: Number = modulus_gpa,
        expansion_1e6_per_k ["Option::is_none"]: Option<Number> = expansion_1e6_per_k,
        density_kg_per_m3 ["Option::is_none"]: Option<Number> = density_kg_per_m3,
        tensile_mpa ["Option::is_none"]: Option<Number> = tensile_mpa,
        yield_mpa ["Option::is_none"]: Option<Number> = yield_mpa,
        handling_mpa ["Option::is_none"]: Option<Number> = handling_mpa,
        source: Source = source,
    }
}

words! {
    /// A side of the track.
    TrackSide = model::TrackSide { Left, Right }
}

/// A string's mass: computed (and then not written), or stated in kg with its basis.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub(crate) enum StringMass {
    #[default]
    Computed,
    Weighed(Number),
    Document(Number),
}

impl StringMass {
    fn is_computed(&self) -> bool {
        *self == Self::Computed
    }
}

impl FileOf<model::MassEntry> for StringMass {
    fn of(model: &model::MassEntry) -> Self {
        match *model {
            model::MassEntry::Computed => Self::Computed,
            model::MassEntry::Stated { kg, basis: model::StatedBasis::Weighed } => Self::Weighed(Number(kg)),
            model::MassEntry::Stated { kg, basis: model::StatedBasis::Document } => {
                Self::Document(Number(kg))
            }
        }
    }

    fn into_model(self) -> model::MassEntry {
        match self {
            Self::Computed => model::MassEntry::Computed,
            Self::Weighed(Number(kg)) => model::MassEntry::Stated { kg, basis: model::StatedBasis::Weighed },
            Self::Document(Number(kg)) => {
                model::MassEntry::Stated { kg, basis: model::StatedBasis::Document }
            }
        }
    }
}

record! {
    /// One string of the order.
    OrderedString = model::OrderedString {
        mark: Id<StringMark> = mark,
        section: Id<SectionName> = section,
        steel ["Option::is_none"]: Option<Id<SteelName>> = steel,
        length_mm: Millimetres = length,
        side ["Option::is_none"]: Option<TrackSide> = side,
        drop ["Option::is_none"]: Option<Id<DropName>> = drop,
        mass_kg ["StringMass::is_computed"]: StringMass = mass,
    }
}
