//! Tables as spreadsheets write and read them: text in lines and cells, both ways.
//!
//! Reading finds out the encoding, what parts the cells, and where quotes stay open; it knows nothing of what the
//! cells mean. Writing guards words that a spreadsheet would take for a formula, so that they read back as they were.

mod cell;
mod encoding;
mod error;
mod parting;
mod read;
mod write;

pub use cell::TableCell;
pub use encoding::Encoding;
pub use error::TableError;
pub use parting::{Parting, Separator};
pub use read::{MOST_TABLE_BYTES, MOST_TABLE_LINES, Table, TableLine, read_pasted, read_table};
pub use write::{OutCell, TableForm, write_table};
