//! The plan file: reading it, writing it, and the catalogue that ships in the same form.
//!
//! Floor 2: uses `model` and `units`; takes and gives text and bytes, never a path. Serde lives here.
//! Every field of the file is described in `FORMAT.md` beside this file; a test keeps the two equal.

mod catalogue;
mod error;
mod exercises;
mod explain;
mod hash;
mod layout;
mod locate;
mod outline;
mod read;
mod scan;
mod table;
mod tidy;
mod v1;
mod write;

pub use catalogue::catalogue;
pub use error::{Fault, ReadError};
pub use exercises::{exercises, teaching_train};
pub use hash::{SignatureState, Standing, plan_hash, signature_states};
pub use read::{MOST_BYTES, read};
pub use table::{
    Encoding, MOST_TABLE_BYTES, MOST_TABLE_LINES, OutCell, Parting, Separator, Table, TableCell, TableError,
    TableForm, TableLine, read_pasted, read_table, write_table,
};
pub use tidy::{Tidied, TidyChange, TidyError, tidy};
pub use write::write;

/// The extension of plan files, without the point.
pub const EXTENSION: &str = "longstow";
