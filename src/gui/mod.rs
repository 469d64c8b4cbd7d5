//! The editor's window: everything seen and done by hand.
//!
//! Floor 7: uses all below except `cli`. The [`Workbench`] is the whole editor drawn into a `Ui`, knowing
//! nothing of the window around it; panels show what is [`Shown`] and hand back [`Request`]s, and only the
//! workbench grants them. [`run`] opens the window.

mod anchors;
mod app;
mod arrangement;
pub mod canvas;
mod commands;
mod dialog_lists;
mod dialogs;
mod document;
mod entered;
mod exports;
mod fields;
mod files;
mod finder;
mod focus;
mod glossary;
mod grant;
mod granting_by_hand;
mod icon;
mod judging;
pub mod menus;
mod panels;
mod panes;
mod preferences;
mod recorded;
mod request;
mod safekeeping;
mod samples;
mod shown;
mod slow;
mod start;
mod taking;
mod theme;
mod today;
mod train_edits;
mod views;
mod work;
mod workbench;

pub use app::{NoWindow, run};
pub use commands::{Command, Pane};
pub use dialogs::{Answer, Dialog, Next, Purpose};
pub use document::{Document, Made};
pub use exports::{Export, ExportFormat};
pub use files::Outside;
pub use panels::tables::Tab;
pub use panels::working::How;
pub use recorded::Recorded;
pub use request::{Request, SelectMode, ZoomTarget};
pub use safekeeping::LeftWords;
pub use samples::{SAMPLES, Sample};
pub use shown::{FindingKey, Preview, Selection, Settling, Shown};
pub use start::Start;
pub use taking::SavedTable;
pub use theme::{Role, Theme};
pub use views::View;
pub use work::{PATIENCE, Polled, Progress, Running, Work, WorkPlace, Works};
pub use workbench::Workbench;
