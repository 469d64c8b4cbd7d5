//! The open document: its history, where it lies on disk, and what is worked out of it.

use super::recorded::{Recorded, differ_in_records_only};
use crate::checks::{Assessment, assess, lapsed, unrecorded};
use crate::disk::Stamp;
use crate::edit::{Done, Edit, EditError, History, OnDisk};
use crate::model::{Acceptance, Plan};
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
    recorded: Recorded,
}

/// What making an edit did.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Made {
    /// As the history says.
    pub done: Done,
    /// Acceptances that lapsed, since what they were given for has changed.
    pub lapsed: Vec<Acceptance>,
}

impl Document {
    /// A document of `plan`.
    pub fn new(plan: Arc<Plan>, on_disk: OnDisk) -> Self {
        let figures = Figures::of(Arc::clone(&plan), Scope::All);
        let assessment = assess(&figures);
        let recorded = Recorded::of(Arc::clone(&plan));
        Self { history: History::new(plan, on_disk), path: None, stamp: None, figures, assessment, recorded }
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

    /// What the records of the plan say.
    pub fn recorded(&self) -> &Recorded {
        &self.recorded
    }

    /// Figures of all states of the load as it was recorded, and what the checks say of them.
    pub fn as_loaded(&self) -> (&Figures, &Assessment) {
        self.recorded.judged((&self.figures, &self.assessment))
    }

    /// Makes an edit. Acceptances of findings that it changes lapse within the same step.
    ///
    /// # Errors
    /// As [`History::apply`]; nothing has changed then.
    pub fn apply(&mut self, edit: &Edit) -> Result<Made, EditError> {
        let done = match self.recording(edit) {
            Some(recording) => self.history.apply(&recording)?,
            None => self.history.apply(edit)?,
        };
        self.work_out();
        let lapsed = if done.changed { self.let_acceptances_lapse() } else { Vec::new() };
        Ok(Made { done, lapsed })
    }

    /// The edit, after it is recorded what every acceptance covers now; none where all of them say so already.
    fn recording(&self, edit: &Edit) -> Option<Edit> {
        let records = unrecorded(self.plan(), &self.assessment);
        if records.is_empty() || edit.apply(self.plan()).is_ok_and(|applied| applied.plan == **self.plan()) {
            return None;
        }
        let records = records.into_iter().map(|acceptance| Edit::Accept { acceptance });
        Some(Edit::Batch { label: edit.label(), edits: records.chain([edit.clone()]).collect() })
    }

    /// Takes out acceptances of what is not any more as it was accepted; gives them.
    fn let_acceptances_lapse(&mut self) -> Vec<Acceptance> {
        let at = lapsed(self.plan(), &self.assessment);
        let gone: Vec<Acceptance> = at.iter().map(|at| self.plan().accepted[*at].clone()).collect();
        if gone.is_empty() {
            return gone;
        }
        let edits = gone.iter().map(|acceptance| Edit::Unaccept {
            check: acceptance.check.clone(),
            things: acceptance.things.clone(),
        });
        let edit = Edit::Batch { label: String::new(), edits: edits.collect() };
        let note = match gone.len() {
            1 => "; an acceptance lapsed".to_owned(),
            count => format!("; {count} acceptances lapsed"),
        };
        // Taking out what is there cannot be refused; if it were, the checks would still not count it.
        if self.history.amend(&edit, &note).is_ok() {
            self.figures.plan = Arc::clone(self.history.plan());
            self.assessment.forget_acceptances(&at);
            self.recorded = self.recorded.followed_by(self.history.plan());
        }
        gone
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
        let plan = self.history.plan();
        if Arc::ptr_eq(&self.figures.plan, plan) {
            return;
        }
        if differ_in_records_only(&self.figures.plan, plan) {
            self.figures.plan = Arc::clone(plan);
        } else {
            self.figures = Figures::of(Arc::clone(plan), Scope::All);
            self.assessment = assess(&self.figures);
        }
        self.recorded = self.recorded.followed_by(plan);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::{Finding, Outcome};
    use crate::edit::{Move, Rows};
    use crate::gui::SAMPLES;
    use crate::model::{Found, StringMark};
    use crate::units::Length;

    /// A document of the plan whose strings are one rack too short, with its first fail that compares accepted.
    fn with_acceptance(record: impl FnOnce(&Finding) -> Option<Found>) -> Document {
        let plan = SAMPLES[6].plan().unwrap();
        let mut document = Document::new(Arc::new(plan), OnDisk::Yes);
        let fail =
            |finding: &&Finding| finding.outcome == Outcome::Fail && finding.check.id == "least-overhang";
        let finding = document.assessment().findings.iter().find(fail).unwrap().clone();
        let acceptance = Acceptance {
            check: finding.check.id.to_owned(),
            things: finding.things.clone(),
            by: "A. Planner".to_owned(),
            why: "measured".to_owned(),
            at: "Monday".to_owned(),
            found: record(&finding),
        };
        let made = document.apply(&Edit::Accept { acceptance }).unwrap();
        assert_eq!(made.lapsed, []);
        assert_eq!(accepted(&document), 1);
        document
    }

    fn accepted(document: &Document) -> usize {
        let counted = document.assessment().findings.iter().filter(|finding| finding.accepted.is_some());
        assert_eq!(counted.count(), document.plan().accepted.len());
        document.plan().accepted.len()
    }

    /// The string that the acceptance is about.
    fn mark(document: &Document) -> StringMark {
        let things = &document.plan().accepted[0].things;
        StringMark::new(things[0].strip_prefix("string ").unwrap()).unwrap()
    }

    fn shifted(document: &Document, string: &StringMark, by_mm: i64) -> Edit {
        let placed = document.plan().placement(string).unwrap();
        let (tier, lane, front) = (placed.tier, placed.lane, placed.front + Length::from_mm(by_mm));
        Edit::Move { moves: vec![Move { string: string.clone(), tier, lane, front }] }
    }

    #[test]
    fn an_acceptance_lapses_within_the_step_that_changes_what_it_was_given_for() {
        let mut document = with_acceptance(|finding| Some(finding.found()));
        let string = mark(&document);
        let made = document.apply(&shifted(&document, &string, 1)).unwrap();
        assert_eq!((made.lapsed.len(), accepted(&document)), (1, 0));
        let label = document.history().undo_label().unwrap().to_owned();
        assert_eq!(label, format!("Move string {string}; an acceptance lapsed"));
        document.undo();
        assert_eq!(accepted(&document), 1, "the same step brings it back");
        document.redo();
        assert_eq!(accepted(&document), 0);
    }

    #[test]
    fn an_acceptance_stays_where_something_else_changes_or_its_things_get_new_names() {
        let mut document = with_acceptance(|finding| Some(finding.found()));
        let (string, other) = (mark(&document), document.plan().placements.last().unwrap().string.clone());
        assert_ne!(string, other);
        assert_eq!(document.apply(&shifted(&document, &other, 1)).unwrap().lapsed, []);
        let mut renamed = document.plan().string(&string).unwrap().clone();
        renamed.mark = StringMark::new("Other name").unwrap();
        document.apply(&Edit::Strings(Rows::Change { name: string, to: renamed })).unwrap();
        assert_eq!(accepted(&document), 1);
        assert_eq!(mark(&document).as_str(), "Other name");
    }

    #[test]
    fn an_acceptance_written_by_hand_is_recorded_before_the_first_change_and_lapses_with_it() {
        let mut document = with_acceptance(|_| None);
        let title = document.plan().title.clone();
        document.apply(&Edit::SetTitle { title }).unwrap();
        assert_eq!(document.plan().accepted[0].found, None, "a change of nothing records nothing");
        document.apply(&Edit::SetTitle { title: "Other".to_owned() }).unwrap();
        assert!(document.plan().accepted[0].found.is_some());
        assert_eq!(document.history().undo_label(), Some("Change title"));
        let mut document = with_acceptance(|_| None);
        let string = mark(&document);
        assert_eq!(document.apply(&shifted(&document, &string, 1)).unwrap().lapsed.len(), 1);
    }
}
