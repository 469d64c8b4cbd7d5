//! What can be asked "how?": a figure or a check, of a thing.

use crate::checks::Subject;
use crate::statics::Figures;

/// A figure or check, and the thing it is asked of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Question {
    /// A figure's name (such as `reaction`) or a check's id (such as `axle-load`).
    pub what: &'static str,
    /// The thing.
    pub subject: Subject,
}

impl Question {
    /// The question about `subject`.
    pub const fn new(what: &'static str, subject: Subject) -> Self {
        Self { what, subject }
    }

    /// The question in plain words, such as `axle-load: vehicle W3, rear bogie`: what `--of` takes.
    pub fn address(&self, figures: &Figures) -> String {
        format!("{}: {}", self.what, self.subject.place(figures))
    }
}
