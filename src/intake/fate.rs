//! What becomes of a row.

use std::fmt;

/// What becomes of one line of a table.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RowFate {
    /// Its number in the file, from 1.
    pub line: usize,
    /// What its row is known by, as written; its first words where no column is known to hold that; empty where it
    /// says nothing.
    pub name: String,
    /// What its cells say, one for each field of the kind; as understood, or as written where it is refused.
    pub cells: Vec<String>,
    /// What becomes of it.
    pub fate: Fate,
    /// What was understood otherwise than written.
    pub notes: Vec<String>,
}

/// What becomes of a row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Fate {
    /// It is added.
    New,
    /// It changes what the plan has.
    Update(Vec<Change>),
    /// It says what the plan has already.
    Unchanged,
    /// It cannot be taken in.
    Refused(Refusal),
    /// It is no row.
    Skipped(Skip),
}

impl Fate {
    /// One word for it.
    pub fn word(&self) -> &'static str {
        match self {
            Self::New => "new",
            Self::Update(_) => "changes",
            Self::Unchanged => "unchanged",
            Self::Refused(_) => "refused",
            Self::Skipped(_) => "skipped",
        }
    }
}

/// Something of the plan that a row changes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Change {
    /// What.
    pub what: &'static str,
    /// What it was.
    pub from: String,
    /// What it becomes.
    pub to: String,
}

/// Why a row cannot be taken in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refusal {
    /// The field at fault, where it is one; empty for the row as a whole.
    pub field: &'static str,
    /// What stands there, cut where it is long.
    pub text: String,
    /// Why, and what to do.
    pub why: String,
    /// What is to be said about the table so that it is read; none: the cell itself is to be mended.
    pub asks: Option<Asks>,
}

/// What somebody can say about a table so that a refused row is read.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Asks {
    /// Which column holds the field.
    Column,
    /// The unit of the column's bare numbers.
    Unit,
    /// The decimal mark of the table's numbers.
    DecimalMark,
}

/// Why a line is no row.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Skip {
    /// It says nothing.
    Blank,
    /// It stands before the headers.
    BeforeHeader,
    /// It is the headers.
    Header,
    /// It repeats the headers.
    HeaderAgain,
    /// It says the same as another line.
    SameAs(usize),
}

impl Refusal {
    /// A refusal of a cell.
    pub(super) fn of(field: &'static str, text: &str, why: impl Into<String>) -> Self {
        Self { field, text: shortened(text), why: why.into(), asks: None }
    }

    /// The same, mended by what is said about the table.
    pub(super) fn asking(self, asks: Option<Asks>) -> Self {
        Self { asks, ..self }
    }

    /// A refusal of the row as a whole.
    pub(super) fn row(why: impl Into<String>) -> Self {
        Self { field: "", text: String::new(), why: why.into(), asks: None }
    }
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match (self.field, self.text.as_str()) {
            ("", _) => f.write_str(&self.why),
            (field, "") => write!(f, "{field}: {}", self.why),
            (field, text) => write!(f, "{field} \"{text}\": {}", self.why),
        }
    }
}

impl fmt::Display for Skip {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Blank => f.write_str("blank"),
            Self::BeforeHeader => f.write_str("before the headers"),
            Self::Header => f.write_str("the headers"),
            Self::HeaderAgain => f.write_str("the headers again"),
            Self::SameAs(line) => write!(f, "says the same as line {line}"),
        }
    }
}

impl RowFate {
    /// The fate in words, with what was understood otherwise than written.
    pub fn words(&self) -> String {
        let fate = match &self.fate {
            Fate::New => String::new(),
            Fate::Unchanged => "as in the plan".to_owned(),
            Fate::Update(changes) => {
                let told =
                    changes.iter().map(|change| format!("{} {} -> {}", change.what, change.from, change.to));
                told.collect::<Vec<_>>().join("; ")
            }
            Fate::Refused(refusal) => refusal.to_string(),
            Fate::Skipped(skip) => skip.to_string(),
        };
        let parts = std::iter::once(fate).chain(self.notes.iter().cloned());
        parts.filter(|part| !part.is_empty()).collect::<Vec<_>>().join("; ")
    }
}

/// How many lines have which fate.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Counts {
    /// Rows that are added.
    pub new: usize,
    /// Rows that change what the plan has.
    pub changed: usize,
    /// Rows that say what the plan has.
    pub unchanged: usize,
    /// Rows that cannot be taken in.
    pub refused: usize,
    /// Lines that are no rows, and rows that repeat another.
    pub skipped: usize,
}

impl Counts {
    pub(super) fn of(rows: &[RowFate]) -> Self {
        let mut counts = Self::default();
        for row in rows {
            let count = match row.fate {
                Fate::New => &mut counts.new,
                Fate::Update(_) => &mut counts.changed,
                Fate::Unchanged => &mut counts.unchanged,
                Fate::Refused(_) => &mut counts.refused,
                Fate::Skipped(_) => &mut counts.skipped,
            };
            *count += 1;
        }
        counts
    }
}

/// The most characters of a cell that a message shows.
const MOST_SHOWN: usize = 60;

/// Words cut to a readable length, on one line.
pub(super) fn shortened(text: &str) -> String {
    let line = text.split(['\n', '\r']).next().unwrap_or_default();
    let cut: String = line.chars().take(MOST_SHOWN).collect();
    if cut.len() < text.len() { format!("{cut}..") } else { cut }
}
