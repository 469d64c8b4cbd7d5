//! Why a file or a pasted text is no table.

use super::{MOST_TABLE_BYTES, MOST_TABLE_LINES};

/// Why a table could not be read; nothing was taken from it.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum TableError {
    /// Nothing, or nothing but blank lines.
    #[error("the table is empty; choose another file, or copy the cells again")]
    Empty,
    /// More bytes than a table may have.
    #[error(
        "the table has {bytes} bytes, more than the {MOST_TABLE_BYTES} that are read; take out what is not needed"
    )]
    TooLarge {
        /// How many it has.
        bytes: usize,
    },
    /// More lines than a table may have.
    #[error("the table has more than {MOST_TABLE_LINES} lines; take out what is not needed, or split it")]
    TooManyLines,
    /// A spreadsheet's own file.
    #[error("this is a spreadsheet's own file, not text; save it as CSV there, and choose that file")]
    Spreadsheet,
    /// A zero byte.
    #[error("line {line} holds a zero byte, so this is no text; save the table as CSV in UTF-8")]
    ZeroByte {
        /// The line, from 1.
        line: usize,
    },
    /// Bytes that are not what they should be.
    #[error("this is no text that can be read: {what}; save the table as CSV in UTF-8")]
    NotText {
        /// What is wrong.
        what: String,
    },
    /// A quote that is not closed.
    #[error("the quote that opens in line {line} is never closed; close it, or double quotes within quotes")]
    OpenQuote {
        /// The line, from 1.
        line: usize,
    },
    /// A cell that is longer than any cell of a spreadsheet.
    #[error("line {line} has a cell of more than {most} characters; check the quotes there")]
    LongCell {
        /// The line where it begins, from 1.
        line: usize,
        /// The most characters.
        most: usize,
    },
    /// A line with more cells than are read.
    #[error("line {line} has more than {most} cells; take out columns that are not needed")]
    WideLine {
        /// The line, from 1.
        line: usize,
        /// The most cells.
        most: usize,
    },
}
