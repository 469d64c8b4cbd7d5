//! The open document: its history, where it lies on disk, and what is worked out of it.

use crate::checks::{Assessment, assess};
use crate::disk::Stamp;
use crate::edit::{Done, Edit, EditError, History, OnDisk};
use crate::model::Plan;
use crate::statics::{Figures, Scope};
use std::path::PathBuf;
use std::sync::Arc;

/// What stands in place of a file name before there is one.
pub(super) const NOT_SAVED_YET: &str = "not saved yet";

/// An open plan with the figures and findings of all its states, which always belong to the plan now.
#[derive(Clone, Debug)]
pub struct Document {
    history: History,
    /// Where it was read from or saved to last.
    pub path: Option<PathBuf>,
    /// What that file held then; none: it was never read or saved.
    pub stamp: Option<Stamp>,
    figures: Figures,
    assessment: Assessment,
}

impl Document {
    /// A document of `plan`.
    pub fn new(plan: Arc<Plan>, on_disk: OnDisk) -> Self {
        let figures = Figures::of(Arc::clone(&plan), Scope::All);
        let assessment = assess(&figures);
        Self { history: History::new(plan, on_disk), path: None, stamp: None, figures, assessment }
    }

    /// A document of `plan` as it was read from `path`, which held `bytes`.
    pub fn opened(plan: Plan, path: PathBuf, bytes: &[u8]) -> Self {
        let document = Self::new(Arc::new(plan), OnDisk::Yes);
        Self { path: Some(path), stamp: Some(Stamp::of(bytes)), ..document }
    }

    /// Whether closing it would lose changes.
    pub fn is_touched(&self) -> bool {
        !self.history.is_saved()
    }

    /// The file's name, or what stands for it while there is none.
    pub fn file_name(&self) -> String {
        let name = self.path.as_ref().and_then(|path| path.file_name());
        name.map_or_else(|| NOT_SAVED_YET.to_owned(), |name| name.to_string_lossy().into_owned())
    }

    /// The plan now.
    pub fn plan(&self) -> &Arc<Plan> {
        self.history.plan()
    }

    /// Its history.
    pub fn history(&self) -> &History {
        &self.history
    }

    /// Figures of all states.
    pub fn figures(&self) -> &Figures {
        &self.figures
    }

    /// What the checks say of all states.
    pub fn assessment(&self) -> &Assessment {
        &self.assessment
    }

    /// Makes an edit.
    ///
    /// # Errors
    /// As [`History::apply`]; nothing has changed then.
    pub fn apply(&mut self, edit: &Edit) -> Result<Done, EditError> {
        let done = self.history.apply(edit)?;
        self.work_out();
        Ok(done)
    }

    /// Takes the last step back; gives its label.
    pub fn undo(&mut self) -> Option<String> {
        let label = self.history.undo();
        self.work_out();
        label
    }

    /// Makes the last undone step again; gives its label.
    pub fn redo(&mut self) -> Option<String> {
        let label = self.history.redo();
        self.work_out();
        label
    }

    /// Remembers that the plan now is on disk at `path`.
    pub fn saved_to(&mut self, path: PathBuf, stamp: Stamp) {
        self.history.mark_saved();
        self.path = Some(path);
        self.stamp = Some(stamp);
    }

    fn work_out(&mut self) {
        if !Arc::ptr_eq(&self.figures.plan, self.history.plan()) {
            self.figures = Figures::of(Arc::clone(self.history.plan()), Scope::All);
            self.assessment = assess(&self.figures);
        }
    }
}
