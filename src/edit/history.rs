//! The document over time: whole plans, undo, redo, and what is on disk.

use super::{Edit, EditError};
use crate::model::{Plan, StringMark};
use std::collections::VecDeque;
use std::sync::Arc;

/// Whether a plan that a history starts with is on disk as it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum OnDisk {
    /// It was just read from its file.
    Yes,
    /// It is new, was recovered, or comes from somewhere else than its file.
    No,
}

/// What making an edit did.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Done {
    /// Whether a step was made; an edit that changes nothing makes none.
    pub changed: bool,
    /// Strings that the edit took off the train though it was not about them.
    pub returned_to_yard: Vec<StringMark>,
}

/// An open document: the plan now, the plans before it and those undone.
///
/// Keeps at most [`History::MOST_STEPS`] steps; the oldest are forgotten first.
#[derive(Clone, Debug)]
pub struct History {
    /// Oldest first, never empty; the first one's label is what the history started from.
    entries: VecDeque<Entry>,
    /// Index of the plan now.
    cursor: usize,
    /// What is on disk. Kept apart from the entries, so that forgetting old steps cannot make it untrue.
    saved: Option<Arc<Plan>>,
    /// Whether the plan now equals what is on disk.
    is_saved: bool,
}

#[derive(Clone, Debug)]
struct Entry {
    label: String,
    plan: Arc<Plan>,
}

impl History {
    /// The most steps that can be undone.
    pub const MOST_STEPS: usize = 1_000;

    /// Starts with `plan`.
    pub fn new(plan: Arc<Plan>, on_disk: OnDisk) -> Self {
        let saved = (on_disk == OnDisk::Yes).then(|| Arc::clone(&plan));
        let is_saved = saved.is_some();
        let entries = VecDeque::from([Entry { label: "Start".to_owned(), plan }]);
        Self { entries, cursor: 0, saved, is_saved }
    }

    /// The plan now.
    pub fn plan(&self) -> &Arc<Plan> {
        // The cursor always names an entry.
        &self.entries[self.cursor].plan
    }

    /// Makes an edit as one step and forgets what was undone; an edit that changes nothing does neither.
    ///
    /// # Errors
    /// As [`Edit::apply`]; nothing has changed then.
    pub fn apply(&mut self, edit: &Edit) -> Result<Done, EditError> {
        let applied = edit.apply(self.plan())?;
        if applied.plan == **self.plan() {
            return Ok(Done::default());
        }
        self.entries.truncate(self.cursor + 1);
        self.entries.push_back(Entry { label: edit.label(), plan: Arc::new(applied.plan) });
        if self.entries.len() > Self::MOST_STEPS + 1 {
            self.entries.pop_front();
        }
        self.go_to(self.entries.len() - 1);
        Ok(Done { changed: true, returned_to_yard: applied.returned_to_yard })
    }

    /// Takes the last step back; gives its label, or none where there is nothing to undo.
    pub fn undo(&mut self) -> Option<String> {
        let label = self.undo_label()?.to_owned();
        self.go_to(self.cursor - 1);
        Some(label)
    }

    /// Makes the last undone step again; gives its label, or none where there is nothing to redo.
    pub fn redo(&mut self) -> Option<String> {
        let label = self.redo_label()?.to_owned();
        self.go_to(self.cursor + 1);
        Some(label)
    }

    /// What [`History::undo`] would take back.
    pub fn undo_label(&self) -> Option<&str> {
        if self.cursor == 0 { None } else { Some(&self.entries[self.cursor].label) }
    }

    /// What [`History::redo`] would make again.
    pub fn redo_label(&self) -> Option<&str> {
        self.entries.get(self.cursor + 1).map(|entry| entry.label.as_str())
    }

    /// Labels of all plans kept, oldest first: the start (or the oldest step kept), then one per step.
    pub fn labels(&self) -> impl ExactSizeIterator<Item = &str> {
        self.entries.iter().map(|entry| entry.label.as_str())
    }

    /// Index of the plan now among [`History::labels`].
    pub fn cursor(&self) -> usize {
        self.cursor
    }

    /// Goes to the plan with this index among [`History::labels`]; whether there is one.
    pub fn jump_to(&mut self, index: usize) -> bool {
        let exists = index < self.entries.len();
        if exists {
            self.go_to(index);
        }
        exists
    }

    /// Whether the plan now is what is on disk.
    pub fn is_saved(&self) -> bool {
        self.is_saved
    }

    /// Remembers that the plan now has been written to disk.
    pub fn mark_saved(&mut self) {
        self.saved = Some(Arc::clone(self.plan()));
        self.is_saved = true;
    }

    fn go_to(&mut self, index: usize) {
        self.cursor = index;
        self.is_saved = self.saved.as_deref() == Some(&**self.plan());
    }
}
