//! The things that can be turned.

/// One thing that can be turned; its values are whole numbers of a unit of its own.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Knob {
    /// How many strings lie on the train, from 1.
    Count,
    /// Length of the strings turned, in mm.
    Length,
    /// Rail section of the strings turned: an index into the sections that can be chosen, lightest first.
    Section,
    /// x of the front end of the foremost string turned, in mm.
    FrontEnd,
    /// Lane of one string, from 1 at the left facing the front.
    Lane,
}

impl Knob {
    /// All of them, in the order in which they are shown.
    pub const ALL: [Self; 5] = [Self::Count, Self::Length, Self::Section, Self::FrontEnd, Self::Lane];

    /// What a reader calls it.
    pub fn title(self) -> &'static str {
        match self {
            Self::Count => "Strings",
            Self::Length => "Length",
            Self::Section => "Rail section",
            Self::FrontEnd => "Front end at",
            Self::Lane => "Lane",
        }
    }

    /// What turning it does, in a sentence.
    pub fn purpose(self) -> &'static str {
        match self {
            Self::Count => {
                "How many strings lie on the train: taken off from the last, added by the filling rule."
            }
            Self::Length => "How long the strings are; their front ends stay where they are.",
            Self::Section => "Which rail they are; a heavier one puts more on every rack.",
            Self::FrontEnd => "Where along the train the front end of the foremost string comes.",
            Self::Lane => "In which lane one string lies; one that is in its way changes places with it.",
        }
    }

    /// What one step of it is, in its own unit: 1, or 100 mm.
    pub fn step(self) -> i64 {
        match self {
            Self::Length | Self::FrontEnd => 100,
            Self::Count | Self::Section | Self::Lane => 1,
        }
    }
}
