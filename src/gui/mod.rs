//! The editor's window: everything seen and done by hand.
//!
//! Floor 7: uses all below except `cli`. The [`Workbench`] is the whole editor drawn into a `Ui`, knowing
//! nothing of the window around it; panels show what is [`Shown`] and hand back [`Request`]s, and only the
//! workbench applies them.

pub mod canvas;
mod commands;
mod document;
mod fields;
mod request;
mod shown;
mod theme;
mod workbench;

pub use document::Document;
pub use request::{Request, SelectMode, ZoomTarget};
pub use shown::{FindingKey, Preview, Selection, Shown};
pub use theme::{Role, Theme};
pub use workbench::Workbench;
