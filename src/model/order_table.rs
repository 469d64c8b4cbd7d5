//! How the columns of the order's table were matched, so that the same table can be taken in again unasked.

use crate::units::DecimalMark;

/// What was said about the table that the order comes in: a spreadsheet's columns, by their headers.
///
/// Only what the program would not find out by itself is kept.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct OrderTable {
    /// The decimal mark of its numbers; none: found out from the numbers.
    pub decimal: Option<DecimalMark>,
    /// Its columns, each header once.
    pub columns: Vec<MatchedColumn>,
}

impl OrderTable {
    /// Whether nothing was said.
    pub fn is_empty(&self) -> bool {
        self.decimal.is_none() && self.columns.is_empty()
    }
}

/// A column that was matched by hand.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MatchedColumn {
    /// The words at its head.
    pub header: String,
    /// What it holds.
    pub holds: OrderColumn,
    /// The unit of its bare numbers; only lengths and masses have one.
    pub unit: Option<ColumnUnit>,
}

/// What a column of the order's table holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum OrderColumn {
    /// The string's mark.
    Mark,
    /// The rail section.
    Section,
    /// The steel.
    Steel,
    /// The length.
    Length,
    /// The side of the track.
    Side,
    /// The drop.
    Drop,
    /// The mass.
    Mass,
    /// How the mass was found.
    MassBasis,
    /// Nothing that the order needs.
    Nothing,
}

/// The unit of a column's bare numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ColumnUnit {
    /// mm
    Millimetre,
    /// cm
    Centimetre,
    /// m
    Metre,
    /// Feet of 12 inches.
    Foot,
    /// Inches of 25.4 mm.
    Inch,
    /// kg
    Kilogram,
    /// Tonnes of 1,000 kg.
    Tonne,
    /// Pounds avoirdupois.
    Pound,
    /// Short tons of 2,000 lb.
    ShortTon,
    /// Long tons of 2,240 lb.
    LongTon,
}

impl ColumnUnit {
    /// All units, lengths first.
    pub const ALL: [Self; 10] = [
        Self::Millimetre,
        Self::Centimetre,
        Self::Metre,
        Self::Foot,
        Self::Inch,
        Self::Kilogram,
        Self::Tonne,
        Self::Pound,
        Self::ShortTon,
        Self::LongTon,
    ];

    /// Whether it measures lengths; the others measure masses.
    pub fn is_length(self) -> bool {
        matches!(self, Self::Millimetre | Self::Centimetre | Self::Metre | Self::Foot | Self::Inch)
    }

    /// Its sign, such as `mm` or `short tons`.
    pub fn sign(self) -> &'static str {
        match self {
            Self::Millimetre => "mm",
            Self::Centimetre => "cm",
            Self::Metre => "m",
            Self::Foot => "ft",
            Self::Inch => "in",
            Self::Kilogram => "kg",
            Self::Tonne => "t",
            Self::Pound => "lb",
            Self::ShortTon => "short tons",
            Self::LongTon => "long tons",
        }
    }
}
