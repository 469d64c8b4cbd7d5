//! Where a value comes from, and how sure it is.

/// How sure a value is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Sureness {
    /// Read in the named source.
    Read,
    /// Read in a secondary page that quotes the source.
    Secondary,
    /// Computed from values that were read, by the method that the source text states.
    Computed,
    /// Common practice; there is no source.
    Practice,
    /// From memory, unconfirmed.
    Memory,
    /// Entered by the plan's author as their own.
    Entered,
}

impl Sureness {
    /// All of them, surest first.
    pub const ALL: [Self; 6] =
        [Self::Read, Self::Secondary, Self::Computed, Self::Entered, Self::Practice, Self::Memory];

    /// A few words for a reader.
    pub fn words(self) -> &'static str {
        match self {
            Self::Read => "read in the source",
            Self::Secondary => "quoted by a secondary page",
            Self::Computed => "computed from read values",
            Self::Practice => "common practice, no source",
            Self::Memory => "from memory, unconfirmed",
            Self::Entered => "entered by the author",
        }
    }
}

/// Where a value comes from.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Source {
    /// The publication, drawing, rating plate or person.
    pub text: String,
    /// How sure it is.
    pub sure: Sureness,
}
