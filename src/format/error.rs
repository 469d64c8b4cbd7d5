//! Why a file could not be read: where, what, and what to do.

use std::fmt;

/// One thing that is wrong with a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
    /// The field's path, such as `order[3].length_mm` (items count from 0); empty for the file as a whole.
    pub path: String,
    /// What is wrong, with the value.
    pub what: String,
    /// What to do.
    pub mend: String,
}

/// The most characters of a fault's path, of what is wrong, and of what to do: a hostile file must not make a
/// hostile message.
const MOST_CHARACTERS: (usize, usize, usize) = (200, 300, 1_000);

impl Fault {
    /// The fault at a line and column; what is too long to be read is cut.
    pub(super) fn new((line, column): (usize, usize), path: &str, (what, mend): (String, String)) -> Self {
        let (of_path, of_what, of_mend) = MOST_CHARACTERS;
        Self { line, column, path: cut(path, of_path), what: cut(&what, of_what), mend: cut(&mend, of_mend) }
    }
}

fn cut(words: &str, most: usize) -> String {
    match words.char_indices().nth(most) {
        Some((end, _)) => format!("{}..", words.get(..end).unwrap_or_default()),
        None => words.to_owned(),
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "line {}, column {}", self.line, self.column)?;
        if !self.path.is_empty() {
            write!(f, ", {}", self.path)?;
        }
        write!(f, ": {}; {}", self.what, self.mend)
    }
}

/// Why a file could not be read; nothing was changed by the attempt.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ReadError {
    /// More bytes than a plan can have.
    #[error(
        "line 1, column 1: the file has {bytes} bytes, more than the {limit} that a plan can have; check that it is a plan"
    )]
    TooLarge {
        /// How many it has.
        bytes: usize,
        /// The most.
        limit: usize,
    },
    /// Bytes that are not UTF-8 text.
    #[error("{0}")]
    NotText(Fault),
    /// Nothing, or nothing but white space and comments.
    #[error("{0}")]
    Empty(Fault),
    /// Brackets, quotes, commas or colons are not as they must be, or the file is cut short.
    #[error("{0}")]
    Form(Fault),
    /// There is no version, or it is not a whole number from 1.
    #[error("{0}")]
    NoVersion(Fault),
    /// A version that this program does not know yet.
    #[error("{fault}")]
    NewerVersion {
        /// The file's version.
        version: u64,
        /// The newest version that this program knows.
        known: u32,
        /// Where it stands.
        fault: Fault,
    },
    /// A field is unknown, missing, doubled or of the wrong kind.
    #[error("{0}")]
    Field(Fault),
    /// The fields are as they should be, but what they say cannot be; at least one, in file order.
    #[error("{}", listed(.0))]
    Plan(Vec<Fault>),
}

impl ReadError {
    /// Everything that is wrong, at least one, the first first.
    pub fn faults(&self) -> Vec<Fault> {
        match self {
            Self::TooLarge { bytes, limit } => vec![Fault {
                line: 1,
                column: 1,
                path: String::new(),
                what: format!("the file has {bytes} bytes, more than the {limit} that a plan can have"),
                mend: "check that it is a plan".to_owned(),
            }],
            Self::NotText(fault)
            | Self::Empty(fault)
            | Self::Form(fault)
            | Self::NoVersion(fault)
            | Self::NewerVersion { fault, .. }
            | Self::Field(fault) => vec![fault.clone()],
            Self::Plan(faults) => faults.clone(),
        }
    }
}

/// The faults, one a line.
fn listed(faults: &[Fault]) -> String {
    faults.iter().map(Fault::to_string).collect::<Vec<_>>().join("\n")
}
