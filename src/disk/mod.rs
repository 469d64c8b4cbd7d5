//! The only place that touches files: reading, saving that cannot lose anything, copies of unsaved work, the list of
//! recent files, the settings.
//!
//! Floor 2: knows bytes and paths, never plans. Every error names the path and what to do.

mod error;
mod read;
pub mod recent;
mod save;
pub mod settings;
pub mod unsaved;

pub use error::{Before, DiskError, SaveStep};
pub use read::{Stamp, is_same_file, read_bytes};
pub use save::{Expected, save};
