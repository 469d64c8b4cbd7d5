//! Names that a table uses for things of the plan: found, taken to be another spelling, or asked about.

use super::choices::Choices;
use super::fate::Refusal;
use super::taken::Surroundings;
use crate::edit::{Edit, Rows, copied_type};
use crate::model::{Drop, DropName, NameError, RailSection, SectionName, Steel, TrainEnd};
use crate::units::Length;
use std::collections::BTreeMap;

/// What a name stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum NameKind {
    /// A rail section.
    Section,
    /// A steel.
    Steel,
    /// A drop.
    Drop,
    /// A vehicle type.
    VehicleType,
}

impl NameKind {
    /// What a reader calls it.
    pub fn noun(self) -> &'static str {
        match self {
            Self::Section => "section",
            Self::Steel => "steel",
            Self::Drop => "drop",
            Self::VehicleType => "vehicle type",
        }
    }
}

/// What is meant by a name that the plan does not have.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NameChoice {
    /// Nothing: rows with it are refused.
    Refuse,
    /// What is called so in the plan, or else in the catalogue, from which it is then copied.
    Use(String),
    /// A drop to be made, over whose end strings go.
    Make(TrainEnd),
}

/// A name that the plan does not have.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unknown {
    /// What it stands for.
    pub kind: NameKind,
    /// The name, as written first.
    pub name: String,
    /// How many rows use it.
    pub rows: usize,
    /// What of the catalogue is spelt nearly so.
    pub like: Option<String>,
}

/// Finds names and gathers what must be added to the plan for them.
pub(super) struct Names<'a> {
    around: &'a Surroundings<'a>,
    choices: &'a Choices,
    unknown: BTreeMap<(NameKind, String), Unknown>,
    /// What is added before the rows, by kind and name.
    adds: BTreeMap<(NameKind, String), Vec<Edit>>,
    /// What was understood otherwise than written in the row that is being read.
    pub(super) notes: Vec<String>,
}

impl<'a> Names<'a> {
    pub(super) fn new(around: &'a Surroundings<'a>, choices: &'a Choices) -> Self {
        Self { around, choices, unknown: BTreeMap::new(), adds: BTreeMap::new(), notes: Vec::new() }
    }

    /// The mass of a string of the plan's or the catalogue's section, in kg.
    pub(super) fn section_mass_kg(&self, section: &SectionName, length: Length) -> Option<f64> {
        let in_catalogue = || self.around.catalogue.sections.iter().find(|row| row.name == *section);
        let section = self.around.plan.section(section).or_else(in_catalogue)?;
        Some(section.mass_kg(length))
    }

    /// The drop that is to be made under this name.
    pub(super) fn made_drop(&self, name: &str) -> Option<&Drop> {
        match self.adds.get(&(NameKind::Drop, name.to_owned()))?.first()? {
            Edit::Drops(Rows::Add { row, .. }) => Some(row),
            _ => None,
        }
    }

    /// The names asked about, and the edits that add what was chosen.
    pub(super) fn done(self) -> (Vec<Unknown>, Vec<Edit>) {
        (self.unknown.into_values().collect(), self.adds.into_values().flatten().collect())
    }

    /// The name of the plan, or to be in it, that is meant by `written`; notes where it is spelt otherwise.
    pub(super) fn find(&mut self, kind: NameKind, written: &str) -> Result<String, Refusal> {
        let known = self.around.names(kind);
        if known.iter().any(|name| name == written) {
            return Ok(written.to_owned());
        }
        let key = (kind, loose(written));
        let said = self.choices.meant(kind, written).cloned();
        let alike: Vec<&String> = known.iter().filter(|name| loose(name) == key.1).collect();
        if let ([only], None) = (alike.as_slice(), &said) {
            self.notes.push(format!("{} \"{written}\" taken for {only}", kind.noun()));
            return Ok((*only).clone());
        }
        if let (Some(name), None) = (only_alike_as_number(known.iter(), written), &said) {
            self.notes.push(format!(
                "{} \"{written}\" taken for {name}, which spreadsheets take for a number",
                kind.noun()
            ));
            return Ok(name.clone());
        }
        let in_catalogue = self.around.catalogue_names(kind);
        let alike = in_catalogue.iter().find(|name| loose(name) == key.1);
        let like = alike.or_else(|| only_alike_as_number(in_catalogue.iter(), written)).cloned();
        let unknown = self.unknown.entry(key.clone()).or_insert_with(|| Unknown {
            kind,
            name: written.to_owned(),
            rows: 0,
            like: like.clone(),
        });
        unknown.rows += 1;
        let noun = kind.noun();
        match said {
            Some(NameChoice::Use(name)) => {
                self.add(kind, &name).map_err(|why| Refusal::of(noun, written, why))?;
                if name != written {
                    self.notes.push(format!("{noun} \"{written}\" taken for {name}"));
                }
                Ok(name)
            }
            Some(NameChoice::Make(end)) if kind == NameKind::Drop => {
                let name = unknown.name.clone();
                self.make_drop(&name, end).map_err(|why| Refusal::of(noun, written, why))?;
                Ok(name)
            }
            _ => Err(Refusal::of(noun, written, not_there(noun, like.as_deref()))),
        }
    }

    /// Sees to it that the plan has what is called `name`: it has it, or the catalogue gives it.
    fn add(&mut self, kind: NameKind, name: &str) -> Result<(), String> {
        let key = (kind, name.to_owned());
        if self.around.names(kind).iter().any(|known| known == name) || self.adds.contains_key(&key) {
            return Ok(());
        }
        let mut edits = self.around.copy(kind, name);
        if edits.is_empty() {
            return Err(format!("neither the plan nor the catalogue has a {} \"{name}\"", kind.noun()));
        }
        // Two vehicle types may bring the same rack type.
        edits.retain(|edit| !self.adds.values().flatten().any(|added| added == edit));
        self.adds.insert(key, edits);
        Ok(())
    }

    fn make_drop(&mut self, name: &str, toward: TrainEnd) -> Result<(), String> {
        let key = (NameKind::Drop, name.to_owned());
        if self.adds.contains_key(&key) {
            return Ok(());
        }
        let name: DropName = name.parse().map_err(|error: NameError| error.to_string())?;
        let row = Drop {
            name,
            place: String::new(),
            toward,
            gap_between: None,
            possession_min: None,
            handling_min: None,
            chute_height: None,
            chute_roller_behind: None,
            chute_roller_lower: None,
            seat_offset: None,
            steps: Vec::new(),
        };
        self.adds.insert(key, vec![Edit::Drops(Rows::Add { at: None, row })]);
        Ok(())
    }
}

fn not_there(noun: &str, like: Option<&str>) -> String {
    match like {
        Some(like) => format!("the plan has no such {noun}; the catalogue has {like}: say that it is meant"),
        None => format!("the plan has no such {noun}; add it first, or say which is meant"),
    }
}

/// The only one of `names` that is the same number as `written`: a spreadsheet makes `5.40E+02` of the section 54E1.
fn only_alike_as_number<'n>(
    mut names: impl Iterator<Item = &'n String>,
    written: &str,
) -> Option<&'n String> {
    let number = as_number(written)?;
    let mut is_same = |name: &&String| as_number(name).is_some_and(|other| other.total_cmp(&number).is_eq());
    let found = names.find(&mut is_same)?;
    names.find(&mut is_same).is_none().then_some(found)
}

/// What a spreadsheet takes a name for that is written like a number.
pub(super) fn as_number(name: &str) -> Option<f64> {
    let is_sign = |c: char| c.is_ascii_digit() || matches!(c, '.' | ',' | '+' | '-' | 'e' | 'E');
    let number: f64 = name.chars().all(is_sign).then(|| name.replace(',', ".").parse().ok()).flatten()?;
    number.is_finite().then_some(number)
}

/// A name without what spellings differ in: capitals, spaces, hyphens, points.
pub(super) fn loose(name: &str) -> String {
    name.to_lowercase().chars().filter(|c| !c.is_whitespace() && !matches!(c, '-' | '_' | '.')).collect()
}

impl Surroundings<'_> {
    /// The names that the plan has.
    pub fn names(&self, kind: NameKind) -> Vec<String> {
        fn all<T>(rows: &[T], name: impl Fn(&T) -> &str) -> Vec<String> {
            rows.iter().map(|row| name(row).to_owned()).collect()
        }
        match kind {
            NameKind::Section => all(&self.plan.sections, |row| row.name.as_str()),
            NameKind::Steel => all(&self.plan.steels, |row| row.name.as_str()),
            NameKind::Drop => all(&self.plan.drops, |row| row.name.as_str()),
            NameKind::VehicleType => all(&self.plan.train.vehicle_types, |row| row.name.as_str()),
        }
    }

    /// The names that the catalogue has.
    pub fn catalogue_names(&self, kind: NameKind) -> Vec<String> {
        let catalogue = self.catalogue;
        match kind {
            NameKind::Section => catalogue.sections.iter().map(|row| row.name.to_string()).collect(),
            NameKind::Steel => catalogue.steels.iter().map(|row| row.name.to_string()).collect(),
            NameKind::VehicleType => catalogue.vehicle_types.iter().map(|row| row.name.to_string()).collect(),
            NameKind::Drop => Vec::new(),
        }
    }

    /// The edits that copy a row of the catalogue into the plan; empty where the catalogue has none.
    fn copy(&self, kind: NameKind, name: &str) -> Vec<Edit> {
        let catalogue = self.catalogue;
        match kind {
            NameKind::Section => {
                let row = catalogue.sections.iter().find(|row: &&RailSection| row.name.as_str() == name);
                row.map(|row| Edit::Sections(Rows::Add { at: None, row: row.clone() })).into_iter().collect()
            }
            NameKind::Steel => {
                let row = catalogue.steels.iter().find(|row: &&Steel| row.name.as_str() == name);
                row.map(|row| Edit::Steels(Rows::Add { at: None, row: row.clone() })).into_iter().collect()
            }
            NameKind::VehicleType => {
                let row = catalogue.vehicle_types.iter().find(|row| row.name.as_str() == name);
                row.map(|row| copied_type(self.plan, catalogue, row)).unwrap_or_default()
            }
            NameKind::Drop => Vec::new(),
        }
    }
}

/// A found name as the model's kind of name.
pub(super) fn named<N: std::str::FromStr<Err = NameError>>(kind: NameKind, name: &str) -> Result<N, Refusal> {
    name.parse().map_err(|error: NameError| Refusal::of(kind.noun(), name, error.to_string()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_like_numbers_are_known_again_after_a_spreadsheet_had_them() {
        let check = |names: &[&str], written, expected| {
            let names: Vec<String> = names.iter().map(|name| (*name).to_owned()).collect();
            assert_eq!(
                only_alike_as_number(names.iter(), written).map(String::as_str),
                expected,
                "{written}"
            );
        };
        let sections = ["49E1", "54E1", "60E1", "60E2", "Own"];
        check(&sections, "5.40E+02", Some("54E1"));
        check(&sections, "5,4E+02", Some("54E1"));
        check(&sections, "600", Some("60E1"));
        check(&sections, "6000", Some("60E2"));
        check(&sections, "60", None);
        check(&sections, "Own", None);
        check(&["6E2", "60E1"], "600", None);
        check(&["007"], "7", Some("007"));
    }
}
