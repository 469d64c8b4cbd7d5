//! What a table's columns can hold, by what names they are known, and in which units.

use crate::units::{KG_PER_LB, MM_PER_INCH};

/// What a column can hold.
#[derive(Debug, PartialEq)]
pub struct Field {
    /// Its stable name, as the command line takes it.
    pub key: &'static str,
    /// What a reader calls it.
    pub title: &'static str,
    /// What it means.
    pub about: &'static str,
    /// Which rows must have it.
    pub need: Need,
    /// What its cells are.
    pub measure: Measure,
    /// Headers by which it is known: small letters, words parted by one space.
    pub(super) names: &'static [&'static str],
}

/// Which rows must have a field.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Need {
    /// All.
    Always,
    /// Those that are new.
    NewRows,
    /// None.
    Never,
}

/// What the cells of a column are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measure {
    /// Words.
    Words,
    /// Lengths, in mm.
    Length,
    /// Masses, in kg.
    Mass,
    /// Masses per length, in kg/m.
    MassPerLength,
    /// Areas, in cm2.
    Area,
    /// Second moments of area, in cm4.
    SecondMoment,
    /// Section moduli, in cm3.
    Modulus,
}

/// A unit in which a column's bare numbers can be.
#[derive(Debug, PartialEq)]
pub struct Unit {
    /// Its sign, as shown and as the command line takes it.
    pub sign: &'static str,
    /// Its size in the unit of its measure.
    pub(super) size: f64,
    /// How else it is written, in small letters.
    pub(super) names: &'static [&'static str],
}

const fn unit(sign: &'static str, size: f64, names: &'static [&'static str]) -> Unit {
    Unit { sign, size, names }
}

const IN: f64 = MM_PER_INCH;

static LENGTHS: [Unit; 5] = [
    unit("mm", 1.0, &["mm", "millimetre", "millimetres", "millimeters"]),
    unit("cm", 10.0, &["cm", "centimetres", "centimeters"]),
    unit("m", 1000.0, &["m", "metre", "metres", "meter", "meters", "mtr"]),
    unit("ft", 12.0 * IN, &["ft", "foot", "feet", "'"]),
    unit("in", IN, &["in", "inch", "inches", "\""]),
];
static MASSES: [Unit; 5] = [
    unit("kg", 1.0, &["kg", "kgs", "kilograms"]),
    unit("t", 1000.0, &["t", "tonne", "tonnes"]),
    unit("lb", KG_PER_LB, &["lb", "lbs", "pounds"]),
    unit("short tons", 2000.0 * KG_PER_LB, &["short tons", "short ton"]),
    unit("long tons", 2240.0 * KG_PER_LB, &["long tons", "long ton"]),
];
static MASSES_PER_LENGTH: [Unit; 2] = [
    unit("kg/m", 1.0, &["kg/m"]),
    unit("lb/yd", KG_PER_LB / (36.0 * IN / 1000.0), &["lb/yd", "lbs/yd", "lb/yard"]),
];
static AREAS: [Unit; 3] = [
    unit("cm2", 1.0, &["cm2", "sq cm"]),
    unit("mm2", 0.01, &["mm2", "sq mm"]),
    unit("in2", IN * IN / 100.0, &["in2", "sq in"]),
];
static SECOND_MOMENTS: [Unit; 3] = [
    unit("cm4", 1.0, &["cm4"]),
    unit("mm4", 1.0e-4, &["mm4"]),
    unit("in4", IN * IN * IN * IN / 1.0e4, &["in4"]),
];
static MODULI: [Unit; 3] =
    [unit("cm3", 1.0, &["cm3"]), unit("mm3", 1.0e-3, &["mm3"]), unit("in3", IN * IN * IN / 1.0e3, &["in3"])];

impl Measure {
    /// The units that it can have, none for words.
    pub fn units(self) -> &'static [Unit] {
        match self {
            Self::Words => &[],
            Self::Length => &LENGTHS,
            Self::Mass => &MASSES,
            Self::MassPerLength => &MASSES_PER_LENGTH,
            Self::Area => &AREAS,
            Self::SecondMoment => &SECOND_MOMENTS,
            Self::Modulus => &MODULI,
        }
    }

    /// The unit that is written so.
    pub fn unit(self, written: &str) -> Option<&'static Unit> {
        let written = plain(written);
        self.units().iter().find(|unit| unit.sign == written || unit.names.contains(&written.as_str()))
    }
}

/// In small letters, words parted by one space, raised digits as plain ones.
pub(super) fn plain(words: &str) -> String {
    let lower = words.to_lowercase();
    let mut out = String::with_capacity(lower.len());
    for word in lower.split_whitespace() {
        if !out.is_empty() {
            out.push(' ');
        }
        out.extend(word.chars().filter(|c| *c != '^').map(|c| match c {
            '\u{b2}' => '2',
            '\u{b3}' => '3',
            '\u{2074}' => '4',
            '\u{2032}' | '\u{2019}' => '\'',
            '\u{2033}' | '\u{201d}' => '"',
            other => other,
        }));
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    // Conversion factors: NIST Special Publication 811, appendix B.8.
    #[test]
    fn units_are_known_by_their_signs_and_names_and_have_their_size() {
        for (measure, written, size) in [
            (Measure::Length, "Metres", 1000.0),
            (Measure::Length, "FT", 304.8),
            (Measure::Mass, "lbs", 0.453_592_37),
            (Measure::Mass, "short  tons", 907.184_74),
            (Measure::MassPerLength, "lb/yd", 0.496_054_648),
            (Measure::Area, "in\u{b2}", 6.451_6),
            (Measure::SecondMoment, "in^4", 41.623_142_56),
            (Measure::Modulus, "in3", 16.387_064),
        ] {
            let unit = measure.unit(written).unwrap_or_else(|| panic!("{written}"));
            assert!((unit.size / size - 1.0).abs() < 1.0e-8, "{written}: {}", unit.size);
        }
        assert_eq!(Measure::Mass.unit("tons"), None, "which ton is meant must be said");
        assert_eq!(Measure::Words.unit("m"), None);
    }
}
