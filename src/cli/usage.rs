//! Why arguments cannot be followed.

use lexopt::Arg;
use std::ffi::OsString;

/// Why the arguments cannot be followed; each says what to give instead.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum UsageError {
    /// An option that nothing here knows.
    #[error("there is no option \"{option}\" for {of}; see longstow help")]
    UnknownOption {
        /// As given.
        option: String,
        /// The command.
        of: &'static str,
    },
    /// A command without its plans.
    #[error("{of} needs at least one plan: longstow {of} PLAN...")]
    NoPlan {
        /// The command.
        of: &'static str,
    },
    /// `order` without just a plan and a table.
    #[error("order needs a plan and a table: longstow order PLAN TABLE.csv")]
    NotPlanAndTable,
    /// A table of several plans.
    #[error("a table for a spreadsheet, and a file to print into, take one plan: longstow {of} PLAN --csv")]
    SeveralForTable {
        /// The command.
        of: &'static str,
    },
    /// Two kinds of output, or an option of a kind that was not asked for.
    #[error("{what}; see longstow help")]
    NotTogether {
        /// What does not go together.
        what: &'static str,
    },
    /// A command that writes a document, without its plan or its file.
    #[error("{of} needs one plan and a file to write: longstow {of} PLAN -o FILE")]
    PlanAndFile {
        /// The command.
        of: &'static str,
    },
    /// `working` without a question.
    #[error(
        "working needs a question: longstow working PLAN --of \"axle-load: vehicle W3, rear bogie\", or --list"
    )]
    NoQuestion,
    /// `compare` without two things to compare.
    #[error(
        "compare needs two plans, or one plan and two of its states: longstow compare BEFORE AFTER, or longstow \
         compare PLAN --states 0 4"
    )]
    NoPair,
    /// Several plans for the editor, or a command that is none.
    #[error(
        "the editor opens one plan, and \"{first}\" is no command; to check several plans use longstow check \
         PLAN..., and see longstow help"
    )]
    SeveralPlans {
        /// The first of them.
        first: String,
    },
    /// An option that takes one value, with two.
    #[error("{option} is given twice, and one of the two would be ignored; give it once")]
    Twice {
        /// The option.
        option: &'static str,
    },
    /// A value that an option cannot take.
    #[error("\"{value}\" is no value for {option}; give {takes}")]
    BadValue {
        /// As given.
        value: String,
        /// The option.
        option: &'static str,
        /// What it takes.
        takes: &'static str,
    },
    /// An option without its value, or a value where none belongs.
    #[error("{what}; see longstow help")]
    Malformed {
        /// What is wrong.
        what: String,
    },
}

impl From<lexopt::Error> for UsageError {
    fn from(error: lexopt::Error) -> Self {
        Self::Malformed { what: error.to_string() }
    }
}

impl UsageError {
    /// An argument that the command `of` does not know.
    pub(super) fn unknown(arg: Arg<'_>, of: &'static str) -> Self {
        let option = match arg {
            Arg::Short(letter) => format!("-{letter}"),
            Arg::Long(name) => format!("--{name}"),
            Arg::Value(value) => value.to_string_lossy().into_owned(),
        };
        Self::UnknownOption { option, of }
    }

    /// A value that `option` cannot take.
    pub(super) fn bad(value: OsString, option: &'static str, takes: &'static str) -> Self {
        Self::BadValue { value: value.to_string_lossy().into_owned(), option, takes }
    }
}
