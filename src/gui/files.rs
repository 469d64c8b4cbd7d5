//! Opening and saving: the flow from a wish over questions to the file, without ever waiting for a dialog.

use super::dialogs::{Answer, Dialog, Next, Purpose};
use super::{Document, Workbench};
use crate::disk::{DiskError, Expected, read_bytes, save};
use crate::edit::OnDisk;
use crate::format;
use crate::model::Plan;
use std::error::Error;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// What only the window around the workbench can do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Outside {
    /// Let the user choose a path; answer with [`Workbench::path_chosen`] or [`Workbench::no_file_dialog`].
    AskPath {
        /// What for.
        purpose: Purpose,
        /// A file to start from: its folder, and for saving its name.
        suggested: PathBuf,
    },
    /// Close the window; everything is saved or given up.
    CloseWindow,
}

impl Workbench {
    /// Does `next`, after asking about unsaved changes where there are some.
    pub(super) fn after_saving(&mut self, next: Next) {
        if self.document.is_touched() {
            self.dialog = Some(Dialog::Unsaved { next });
        } else {
            self.go_on(next);
        }
    }

    fn go_on(&mut self, next: Next) {
        match next {
            Next::New => self.show_document(Document::new(Arc::new(empty_plan()), OnDisk::Yes)),
            Next::Open => self.ask_path(Purpose::Open),
            Next::OpenPath(path) => self.open_path(&path),
            Next::OpenSample(at) => self.open_sample(at),
            Next::Close => self.outside.push(Outside::CloseWindow),
        }
    }

    fn ask_path(&mut self, purpose: Purpose) {
        // A second dialog before the first is answered would only confuse.
        if self.asking.replace(purpose).is_some() {
            return;
        }
        let suggested = self.document.path.clone().unwrap_or_else(|| PathBuf::from(self.suggested_name()));
        self.outside.push(Outside::AskPath { purpose, suggested });
    }

    fn suggested_name(&self) -> String {
        let keep = |c: char| if c.is_alphanumeric() { c.to_ascii_lowercase() } else { '-' };
        let name: String = self.document.plan().title.chars().map(keep).collect();
        let words: Vec<&str> = name.split('-').filter(|word| !word.is_empty()).collect();
        let name = if words.is_empty() { "plan".to_owned() } else { words.join("-") };
        format!("{name}.{}", format::EXTENSION)
    }

    /// The answer to [`Outside::AskPath`]; none: cancelled.
    pub fn path_chosen(&mut self, path: Option<PathBuf>) {
        let purpose = self.asking.take();
        let Some(path) = path else {
            self.next = None;
            return;
        };
        match purpose {
            Some(Purpose::Open) => self.open_path(&path),
            Some(Purpose::Save) => self.save_under(&path),
            None => {}
        }
    }

    /// The other answer to [`Outside::AskPath`]: there is no file dialog to be had, so a path must be typed.
    pub fn no_file_dialog(&mut self) {
        if let Some(purpose) = self.asking.take() {
            let text = match (&self.document.path, purpose) {
                (Some(path), _) => path.display().to_string(),
                (None, Purpose::Save) => self.suggested_name(),
                (None, Purpose::Open) => String::new(),
            };
            self.dialog = Some(Dialog::TypePath { purpose, text });
        }
    }

    /// Opens the plan at `path`; where that fails, says why and keeps what was open.
    pub fn open_path(&mut self, path: &Path) {
        let what = || format!("{} cannot be opened", path.display());
        let bytes = match read_bytes(path, format::MOST_BYTES as u64) {
            Ok(bytes) => bytes,
            Err(error) => return self.failed(what(), vec![chain(&error)]),
        };
        match format::read(&bytes) {
            Ok(plan) => {
                let document = Document::opened(plan, path.to_owned(), &bytes);
                self.show_document(document);
                self.start.remember(path);
            }
            Err(error) => {
                self.failed(what(), error.faults().iter().map(ToString::to_string).collect());
            }
        }
    }

    fn open_sample(&mut self, at: usize) {
        let Some(sample) = super::samples::SAMPLES.get(at) else { return };
        match sample.plan() {
            Ok(plan) => self.show_document(Document::new(Arc::new(plan), OnDisk::Yes)),
            Err(error) => self.failed(format!("{} cannot be opened", sample.title), vec![error.to_string()]),
        }
    }

    fn failed(&mut self, what: String, lines: Vec<String>) {
        self.dialog = Some(Dialog::Failed { what, lines });
    }

    /// Saves to the file that the plan came from, or asks where to.
    pub(super) fn save(&mut self) {
        match (self.document.path.clone(), self.document.stamp) {
            (Some(path), Some(stamp)) => self.save_to(&path, Expected::Unchanged(stamp)),
            _ => self.ask_path(Purpose::Save),
        }
    }

    /// Asks where to save.
    pub(super) fn save_as(&mut self) {
        self.ask_path(Purpose::Save);
    }

    /// Saves to a path that the user just chose; the dialog has asked about a file that is there already.
    fn save_under(&mut self, path: &Path) {
        let mut path = path.to_owned();
        let named = path.extension().is_some();
        if !named {
            path.set_extension(format::EXTENSION);
        }
        // A name that the program completed was not seen by the dialog, so nothing may be lost there.
        self.save_to(&path, if named { Expected::Anything } else { Expected::Nothing });
    }

    fn save_to(&mut self, path: &Path, expected: Expected) {
        let text = format::write(self.document.plan());
        match save(path, text.as_bytes(), expected) {
            Ok(stamp) => {
                self.document.saved_to(path.to_owned(), stamp);
                self.start.remember(path);
                self.say(format!("Saved {}", path.display()));
                if let Some(next) = self.next.take() {
                    self.go_on(next);
                }
            }
            Err(error @ (DiskError::ChangedOnDisk { .. } | DiskError::AlreadyThere { .. })) => {
                self.dialog = Some(Dialog::ChangedOnDisk { path: path.to_owned(), why: chain(&error) });
            }
            Err(error) => {
                self.next = None;
                self.failed("The plan was not saved".to_owned(), vec![chain(&error)]);
            }
        }
    }

    /// Goes on after a dialog was answered.
    pub(super) fn answered(&mut self, dialog: Dialog, answer: Answer) {
        match (dialog, answer) {
            (Dialog::Unsaved { next }, Answer::Save) => {
                self.next = Some(next);
                self.save();
            }
            (Dialog::Unsaved { next }, Answer::Discard) => self.go_on(next),
            (Dialog::ChangedOnDisk { path, .. }, Answer::Overwrite) => {
                self.save_to(&path, Expected::Anything);
            }
            (Dialog::ChangedOnDisk { .. }, Answer::SaveAs) => self.save_as(),
            (Dialog::TypePath { purpose, text }, Answer::Take) if !text.trim().is_empty() => {
                let path = PathBuf::from(text.trim());
                match purpose {
                    Purpose::Open => self.open_path(&path),
                    // Nothing has asked about a file that is there already.
                    Purpose::Save => self.save_typed(path),
                }
            }
            // Whatever was to follow is off.
            _ => self.next = None,
        }
    }

    fn save_typed(&mut self, mut path: PathBuf) {
        if path.extension().is_none() {
            path.set_extension(format::EXTENSION);
        }
        match (&self.document.path, self.document.stamp) {
            (Some(own), Some(stamp)) if *own == path => self.save_to(&path, Expected::Unchanged(stamp)),
            _ => self.save_to(&path, Expected::Nothing),
        }
    }
}

/// An error and what caused it, in one line.
fn chain(error: &dyn Error) -> String {
    let mut words = error.to_string();
    let mut cause = error.source();
    while let Some(error) = cause {
        words.push_str(&format!(" ({error})"));
        cause = error.source();
    }
    words
}

/// A plan with nothing in it.
pub(super) fn empty_plan() -> Plan {
    use crate::model::{Beyond, BeyondKind, Limits, Route, Train};
    use crate::units::{Length, UnitSystem};
    let nothing = Beyond { kind: BeyondKind::Nothing, distance: Length::ZERO };
    Plan {
        title: "New plan".to_owned(),
        notes: String::new(),
        units: UnitSystem::Metric,
        train: Train {
            vehicle_types: Vec::new(),
            rack_types: Vec::new(),
            vehicles: Vec::new(),
            coupling_slack: None,
            front_beyond: nothing,
            rear_beyond: nothing,
            lane_rule: None,
        },
        sections: Vec::new(),
        steels: Vec::new(),
        order: Vec::new(),
        placements: Vec::new(),
        drops: Vec::new(),
        route: Route::default(),
        limits: Limits::default(),
        accepted: Vec::new(),
        as_loaded: Vec::new(),
        weighings: Vec::new(),
        signatures: Vec::new(),
    }
}
