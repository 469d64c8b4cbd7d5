//! The kinds of tables that can be taken in, and what their columns can hold.

use super::field::{Field, Measure, Need};

/// What a table holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// The order: a string a row, known by its mark.
    Order,
    /// Rail sections, known by their names.
    Sections,
    /// Steps of drops.
    Steps,
    /// The row of vehicles, known by their marks.
    Train,
}

impl Kind {
    /// What a row is called, one and several.
    pub fn nouns(self) -> (&'static str, &'static str) {
        match self {
            Self::Order => ("string", "strings"),
            Self::Sections => ("section", "sections"),
            Self::Steps => ("step", "steps"),
            Self::Train => ("vehicle", "vehicles"),
        }
    }

    /// What its columns can hold, in the order of a table without headers.
    pub fn fields(self) -> &'static [Field] {
        match self {
            Self::Order => &ORDER,
            Self::Sections => &SECTIONS,
            Self::Steps => &STEPS,
            Self::Train => &TRAIN,
        }
    }

    /// The field with this key, and its place among the fields.
    pub fn field(self, key: &str) -> Option<(usize, &'static Field)> {
        self.fields().iter().enumerate().find(|(_, field)| field.key == key)
    }
}

const fn words(key: &'static str, title: &'static str, need: Need, names: &'static [&'static str]) -> Field {
    Field { key, title, about: "", need, measure: Measure::Words, names }
}

const fn about(field: Field, about: &'static str) -> Field {
    Field { about, ..field }
}

const fn number(
    key: &'static str,
    title: &'static str,
    kind: (Measure, Need),
    names: &'static [&'static str],
) -> Field {
    let (measure, need) = kind;
    Field { key, title, about: "", need, measure, names }
}

static ORDER: [Field; 8] = [
    about(
        words(
            "mark",
            "Mark",
            Need::Always,
            &[
                "mark",
                "string",
                "string mark",
                "string no",
                "string number",
                "string id",
                "string name",
                "no",
                "nr",
                "number",
                "id",
                "rail no",
                "rail number",
                "rail mark",
                "rail id",
                "piece",
                "piece mark",
                "tag",
            ],
        ),
        "By which the string is known; a row whose mark the plan has changes that string",
    ),
    about(
        words(
            "section",
            "Section",
            Need::NewRows,
            &["section", "rail section", "profile", "rail profile", "rail type", "rail"],
        ),
        "Rail section, one of the plan's or of the catalogue",
    ),
    about(
        number(
            "length",
            "Length",
            (Measure::Length, Need::NewRows),
            &["length", "len", "l", "string length", "rail length", "total length", "length of string"],
        ),
        "Length of the string",
    ),
    about(
        words(
            "side",
            "Side",
            Need::Never,
            &["side", "side of track", "track side", "rail side", "hand", "l/r"],
        ),
        "Side of the track that it is for: left or right",
    ),
    about(
        words(
            "drop",
            "Drop",
            Need::Never,
            &["drop", "site", "work site", "worksite", "destination", "drop site", "for drop", "location"],
        ),
        "Drop that it is for, or comes from",
    ),
    about(
        number(
            "mass",
            "Mass",
            (Measure::Mass, Need::Never),
            &["mass", "weight", "string mass", "string weight", "total mass", "total weight"],
        ),
        "Stated mass; left out, it is computed from length and section",
    ),
    about(
        words(
            "mass-basis",
            "Mass basis",
            Need::Never,
            &["mass basis", "basis", "mass by", "mass from", "weight basis", "basis of mass", "how weighed"],
        ),
        "How the mass was found: weighed, document or computed; without this column: from a document",
    ),
    about(
        words("steel", "Steel", Need::Never, &["steel", "grade", "steel grade", "rail grade", "rail steel"]),
        "Steel, one of the plan's or of the catalogue",
    ),
];

static SECTIONS: [Field; 14] = [
    about(
        words("name", "Name", Need::Always, &["name", "section", "rail section", "profile", "rail profile"]),
        "Name of the section; a row whose name the plan has changes that section",
    ),
    number(
        "mass",
        "Mass per length",
        (Measure::MassPerLength, Need::NewRows),
        &["mass per length", "mass", "weight", "linear mass", "mass per metre", "mass per meter"],
    ),
    number("area", "Area", (Measure::Area, Need::NewRows), &["area", "a", "cross section", "cross-section"]),
    number(
        "ix",
        "Second moment, horizontal axis",
        (Measure::SecondMoment, Need::NewRows),
        &[
            "ix",
            "ixx",
            "second moment horizontal axis",
            "moment of inertia x",
            "inertia x",
            "second moment, horizontal axis",
        ],
    ),
    number(
        "iy",
        "Second moment, vertical axis",
        (Measure::SecondMoment, Need::Never),
        &[
            "iy",
            "iyy",
            "second moment vertical axis",
            "moment of inertia y",
            "inertia y",
            "second moment, vertical axis",
        ],
    ),
    number("height", "Height", (Measure::Length, Need::Never), &["height", "h", "rail height"]),
    number(
        "foot",
        "Foot width",
        (Measure::Length, Need::Never),
        &["foot", "foot width", "base width", "width of foot"],
    ),
    number("head", "Head width", (Measure::Length, Need::Never), &["head", "head width", "width of head"]),
    number(
        "web",
        "Web thickness",
        (Measure::Length, Need::Never),
        &["web", "web thickness", "thickness of web"],
    ),
    number(
        "axis",
        "Neutral axis above foot",
        (Measure::Length, Need::Never),
        &["neutral axis", "neutral axis above foot", "centroid", "axis"],
    ),
    number(
        "wx-head",
        "Modulus at the head",
        (Measure::Modulus, Need::Never),
        &["wx head", "modulus at the head", "modulus head", "wxh"],
    ),
    number(
        "wx-foot",
        "Modulus at the foot",
        (Measure::Modulus, Need::Never),
        &["wx foot", "modulus at the foot", "modulus foot", "wxf"],
    ),
    number(
        "wy-foot",
        "Modulus of the foot edge, vertical axis",
        (Measure::Modulus, Need::Never),
        &["wy foot", "wy", "modulus of the foot edge, vertical axis", "wyf"],
    ),
    about(
        words("source", "Source", Need::Never, &["source", "from", "reference"]),
        "Where the figures come from; without it: the table",
    ),
];

static STEPS: [Field; 6] = [
    about(
        words(
            "drop",
            "Drop",
            Need::Always,
            &["drop", "site", "work site", "worksite", "destination", "name"],
        ),
        "Name of the drop that the step is added to",
    ),
    about(
        words(
            "string",
            "String",
            Need::Always,
            &["string", "strings", "mark", "marks", "string mark", "string marks", "first", "left"],
        ),
        "Mark of the string, or the two of a pair such as A1 + A2",
    ),
    about(
        words(
            "partner",
            "Partner",
            Need::Never,
            &["partner", "second", "pair", "pair with", "with", "right"],
        ),
        "The other string of a pair",
    ),
    about(
        words("way", "Off or on", Need::Never, &["off or on", "way", "off/on", "kind", "on or off"]),
        "off the train or on to it; left out: off",
    ),
    about(
        words("together", "Together", Need::Never, &["together", "leave together", "at once"]),
        "Whether the pair goes at the same time: yes or no; left out: no",
    ),
    about(
        words("toward", "Toward", Need::Never, &["toward", "towards", "over", "end"]),
        "The end that it goes over, front or rear; left out: the drop's",
    ),
];

static TRAIN: [Field; 4] = [
    about(
        words(
            "mark",
            "Mark",
            Need::Always,
            &[
                "mark",
                "vehicle",
                "wagon",
                "vehicle mark",
                "wagon mark",
                "wagon no",
                "wagon number",
                "no",
                "number",
                "id",
            ],
        ),
        "By which the vehicle is known; a row whose mark the plan has changes that vehicle",
    ),
    about(
        words("type", "Type", Need::NewRows, &["type", "vehicle type", "wagon type", "class", "kind"]),
        "Vehicle type, one of the plan's or of the catalogue",
    ),
    about(
        words("turned", "Turned", Need::Never, &["turned", "turned round", "reversed"]),
        "Whether it is turned round: yes or no; left out: no",
    ),
    about(
        number("tare", "Weighed tare", (Measure::Mass, Need::Never), &["tare", "weighed tare", "own tare"]),
        "Its own tare where it was weighed; left out: the type's",
    ),
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::intake::field::plain;
    use std::collections::BTreeSet;

    #[test]
    fn every_header_stands_for_one_field_and_is_written_as_it_is_looked_for() {
        for kind in [Kind::Order, Kind::Sections, Kind::Steps, Kind::Train] {
            let mut seen = BTreeSet::new();
            for name in kind.fields().iter().flat_map(|field| field.names) {
                assert!(seen.insert(name), "{kind:?}: {name}");
                assert_eq!(plain(name), *name);
            }
            assert!(kind.fields().iter().any(|field| field.need == Need::Always));
        }
    }
}
