//! The open document: its history, where it lies on disk, and what is worked out of it.

use super::recorded::{Recorded, differ_in_records_only};
use crate::checks::{Assessment, assess, assess_while, lapsed, unrecorded};
use crate::disk::Stamp;
use crate::edit::{Done, Edit, EditError, History, OnDisk};
use crate::model::{Acceptance, Plan};
use crate::statics::{Figures, Scope};
use std::path::PathBuf;
use std::sync::Arc;
use std::time::{Duration, Instant};

/// What stands in place of a file name before there is one.
pub(super) const NOT_SAVED_YET: &str = "not saved yet";

/// An open plan with its figures and findings, which always belong to the plan now.
///
/// They are those of all states, or, after a step on a plan that takes its time, of one state only until
/// [`Document::settle`] brings the others.
#[derive(Clone, Debug)]
pub struct Document {
    history: History,
    /// Where it was read from or saved to last.
    pub path: Option<PathBuf>,
    /// What that file held then; none: it was never read or saved.
    pub stamp: Option<Stamp>,
    figures: Arc<Figures>,
    assessment: Arc<Assessment>,
    /// Whether they are of all states.
    is_settled: bool,
    /// How long all states took when they were worked out last.
    took: Duration,
    /// The plan that the last edit made, until all its states have told which acceptances lapsed with it; it may be
    /// left and come back to by steps before that.
    unjudged: Option<Arc<Plan>>,
    recorded: Recorded,
    /// The last edit that changed the plan, and how many there were.
    last_edit: Option<(u64, Edit)>,
}

/// What making an edit did.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Made {
    /// As the history says.
    pub done: Done,
    /// Acceptances that lapsed, since what they were given for has changed.
    pub lapsed: Vec<Acceptance>,
}

/// Figures and findings of all states of a plan.
#[derive(Debug)]
pub struct Worked {
    figures: Figures,
    assessment: Assessment,
    took: Duration,
}

impl Worked {
    /// Works out all states of `plan`, as long as `go_on` says so: it is told how many of how many parts are done.
    /// None once it says no.
    pub fn of(plan: Arc<Plan>, mut go_on: impl FnMut(usize, usize) -> bool) -> Option<Self> {
        let begun = Instant::now();
        if !go_on(0, 1) {
            return None;
        }
        let figures = Figures::of(plan, Scope::All);
        let assessment = assess_while(&figures, go_on)?;
        Some(Self { figures, assessment, took: begun.elapsed() })
    }

    fn at_once(plan: Arc<Plan>) -> Self {
        let begun = Instant::now();
        let figures = Figures::of(plan, Scope::All);
        let assessment = assess(&figures);
        Self { figures, assessment, took: begun.elapsed() }
    }
}

impl Document {
    /// A document of `plan`.
    pub fn new(plan: Arc<Plan>, on_disk: OnDisk) -> Self {
        Self::of(Worked::at_once(plan), on_disk)
    }

    /// A document of a plan that was worked out already.
    pub fn of(worked: Worked, on_disk: OnDisk) -> Self {
        let plan = Arc::clone(&worked.figures.plan);
        Self {
            recorded: Recorded::of(Arc::clone(&plan)),
            history: History::new(plan, on_disk),
            path: None,
            stamp: None,
            figures: Arc::new(worked.figures),
            assessment: Arc::new(worked.assessment),
            is_settled: true,
            took: worked.took,
            unjudged: None,
            last_edit: None,
        }
    }

    /// The same document as it was read from `path`, which held `bytes`.
    #[must_use]
    pub fn read_from(self, path: PathBuf, bytes: &[u8]) -> Self {
        Self { path: Some(path), stamp: Some(Stamp::of(bytes)), ..self }
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

    /// Figures of all states, or of one while the others are still to come.
    pub fn figures(&self) -> &Arc<Figures> {
        &self.figures
    }

    /// What the checks say of those states.
    pub fn assessment(&self) -> &Arc<Assessment> {
        &self.assessment
    }

    /// Whether all states are worked out.
    pub fn is_settled(&self) -> bool {
        self.is_settled
    }

    /// How long all states took when they were worked out last.
    pub fn took(&self) -> Duration {
        self.took
    }

    /// What the records of the plan say.
    pub fn recorded(&self) -> &Recorded {
        &self.recorded
    }

    /// Figures of the load as it was recorded and what the checks say of them: of all states, or of one while the
    /// others are still to come.
    pub fn as_loaded(&self) -> (&Arc<Figures>, &Arc<Assessment>) {
        self.recorded.judged((&self.figures, &self.assessment))
    }

    /// Whether all states of the load as it was recorded are worked out.
    pub fn is_settled_as_loaded(&self) -> bool {
        self.is_settled && self.recorded.is_whole()
    }

    /// Which states of the load as it was recorded are worked out once they are asked for.
    pub fn look_at_as_loaded(&mut self, scope: Scope) {
        self.recorded.look_at(scope);
    }

    /// Takes what was worked out of all states of the load as it is recorded now, and nothing where it is of another.
    pub fn settle_as_loaded(&mut self, worked: Worked) {
        self.recorded.settle(worked.figures, worked.assessment);
    }

    /// The last edit that changed the plan, with how many there were so far; steps back and forward are none.
    pub fn last_edit(&self) -> Option<(u64, &Edit)> {
        self.last_edit.as_ref().map(|(count, edit)| (*count, edit))
    }

    /// The same document, as if its states had taken a second.
    #[cfg(test)]
    pub(super) fn slow(self) -> Self {
        Self { took: Duration::from_secs(1), ..self }
    }

    /// Makes an edit and works out the states in `scope`. Acceptances of findings that it changes lapse within the
    /// same step, once all states are known.
    ///
    /// # Errors
    /// As [`History::apply`]; nothing has changed then.
    pub fn apply(&mut self, edit: &Edit, scope: Scope) -> Result<Made, EditError> {
        let done = match self.recording(edit) {
            Some(recording) => self.history.apply(&recording)?,
            None => self.history.apply(edit)?,
        };
        if done.changed {
            self.unjudged = Some(Arc::clone(self.history.plan()));
            let count = self.last_edit.as_ref().map_or(0, |(count, _)| *count);
            self.last_edit = Some((count + 1, edit.clone()));
        }
        let lapsed = self.work_out(scope);
        Ok(Made { done, lapsed })
    }

    /// Takes the last step back; gives its label.
    pub fn undo(&mut self, scope: Scope) -> Option<String> {
        let label = self.history.undo();
        self.work_out(scope);
        label
    }

    /// Makes the last undone step again; gives its label.
    pub fn redo(&mut self, scope: Scope) -> Option<String> {
        let label = self.history.redo();
        self.work_out(scope);
        label
    }

    /// Goes to a step of the history; whether there is one.
    pub fn jump_to(&mut self, step: usize, scope: Scope) -> bool {
        let exists = self.history.jump_to(step);
        self.work_out(scope);
        exists
    }

    /// While not all states are known: works out this one instead of the one known.
    pub fn look_at(&mut self, state: usize) {
        if !self.is_settled && self.figures.state(state).is_none() {
            self.work_out_one(state);
        }
    }

    /// Takes what was worked out of all states of the plan now, and nothing where it is of another plan; gives the
    /// acceptances that lapsed.
    pub fn settle(&mut self, worked: Worked) -> Vec<Acceptance> {
        if !Arc::ptr_eq(&worked.figures.plan, self.history.plan()) {
            return Vec::new();
        }
        let Worked { mut figures, mut assessment, took } = worked;
        // Only the newest step can be amended: those before it were judged when they were the newest.
        let is_unjudged = |plan: &mut Arc<Plan>| Arc::ptr_eq(plan, self.history.plan());
        let is_newest = self.history.redo_label().is_none();
        let lapsed = match self.unjudged.take_if(|plan| is_newest && is_unjudged(plan)) {
            Some(_) => self.let_acceptances_lapse(&mut figures, &mut assessment),
            None => Vec::new(),
        };
        (self.figures, self.assessment, self.took) = (Arc::new(figures), Arc::new(assessment), took);
        self.is_settled = true;
        self.recorded = self.recorded.followed_by(self.history.plan());
        lapsed
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
    fn let_acceptances_lapse(
        &mut self,
        figures: &mut Figures,
        assessment: &mut Assessment,
    ) -> Vec<Acceptance> {
        let at = lapsed(self.plan(), assessment);
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
            figures.plan = Arc::clone(self.history.plan());
            assessment.forget_acceptances(&at);
        }
        gone
    }

    /// Remembers that the plan now is on disk at `path`.
    pub fn saved_to(&mut self, path: PathBuf, stamp: Stamp) {
        self.history.mark_saved();
        self.path = Some(path);
        self.stamp = Some(stamp);
    }

    /// Works out the plan now, unless it is the one that is known; gives the acceptances that lapsed.
    fn work_out(&mut self, scope: Scope) -> Vec<Acceptance> {
        if Arc::ptr_eq(&self.figures.plan, self.history.plan()) {
            return Vec::new();
        }
        if differ_in_records_only(&self.figures.plan, self.history.plan()) {
            Arc::make_mut(&mut self.figures).plan = Arc::clone(self.history.plan());
            self.recorded = self.recorded.followed_by(self.history.plan());
            if self.is_settled {
                self.unjudged = None;
            }
            return Vec::new();
        }
        match scope {
            Scope::All => self.settle(Worked::at_once(Arc::clone(self.history.plan()))),
            Scope::One(state) => {
                self.work_out_one(state);
                Vec::new()
            }
        }
    }

    fn work_out_one(&mut self, state: usize) {
        let figures = Figures::of(Arc::clone(self.history.plan()), Scope::One(state)).live();
        self.assessment = Arc::new(assess(&figures));
        self.figures = Arc::new(figures);
        self.is_settled = false;
        self.recorded = self.recorded.followed_by(self.history.plan());
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
        let made = document.apply(&Edit::Accept { acceptance }, Scope::All).unwrap();
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
        let made = document.apply(&shifted(&document, &string, 1), Scope::All).unwrap();
        assert_eq!((made.lapsed.len(), accepted(&document)), (1, 0));
        let label = document.history().undo_label().unwrap().to_owned();
        assert_eq!(label, format!("Move string {string}; an acceptance lapsed"));
        document.undo(Scope::All);
        assert_eq!(accepted(&document), 1, "the same step brings it back");
        document.redo(Scope::All);
        assert_eq!(accepted(&document), 0);
    }

    #[test]
    fn an_acceptance_stays_where_something_else_changes_or_its_things_get_new_names() {
        let mut document = with_acceptance(|finding| Some(finding.found()));
        let (string, other) = (mark(&document), document.plan().placements.last().unwrap().string.clone());
        assert_ne!(string, other);
        assert_eq!(document.apply(&shifted(&document, &other, 1), Scope::All).unwrap().lapsed, []);
        let mut renamed = document.plan().string(&string).unwrap().clone();
        renamed.mark = StringMark::new("Other name").unwrap();
        document.apply(&Edit::Strings(Rows::Change { name: string, to: renamed }), Scope::All).unwrap();
        assert_eq!(accepted(&document), 1);
        assert_eq!(mark(&document).as_str(), "Other name");
    }

    #[test]
    fn an_acceptance_written_by_hand_is_recorded_before_the_first_change_and_lapses_with_it() {
        let mut document = with_acceptance(|_| None);
        let title = document.plan().title.clone();
        document.apply(&Edit::SetTitle { title }, Scope::All).unwrap();
        assert_eq!(document.plan().accepted[0].found, None, "a change of nothing records nothing");
        document.apply(&Edit::SetTitle { title: "Other".to_owned() }, Scope::All).unwrap();
        assert!(document.plan().accepted[0].found.is_some());
        assert_eq!(document.history().undo_label(), Some("Change title"));
        let mut document = with_acceptance(|_| None);
        let string = mark(&document);
        assert_eq!(document.apply(&shifted(&document, &string, 1), Scope::All).unwrap().lapsed.len(), 1);
    }

    fn all_of(plan: &Arc<Plan>) -> Worked {
        Worked::of(Arc::clone(plan), |_, _| true).unwrap()
    }

    #[test]
    fn one_state_is_shown_until_the_others_settle_and_acceptances_lapse_with_them() {
        let mut document = with_acceptance(|finding| Some(finding.found()));
        let (string, before) = (mark(&document), Arc::clone(document.plan()));
        let made = document.apply(&shifted(&document, &string, 1), Scope::One(0)).unwrap();
        assert_eq!((made.lapsed.len(), document.is_settled()), (0, false));
        assert_eq!(document.figures().worked.len(), 1);
        document.look_at(2);
        assert_eq!(document.figures().worked[0].state, 2);
        assert_eq!(document.settle(all_of(&before)), [], "figures of another plan are let go of");
        assert!(!document.is_settled());
        assert_eq!(document.settle(all_of(&Arc::clone(document.plan()))).len(), 1);
        assert_eq!((document.is_settled(), accepted(&document)), (true, 0));
        assert_eq!(document.figures().worked.len(), document.figures().states.len());
        document.undo(Scope::One(0));
        assert_eq!(document.plan().accepted.len(), 1);
        assert_eq!(document.settle(all_of(&Arc::clone(document.plan()))), []);
    }

    #[test]
    fn an_acceptance_lapses_too_where_the_step_was_taken_back_and_made_again_before_it_settled() {
        let mut document = with_acceptance(|finding| Some(finding.found()));
        let string = mark(&document);
        document.apply(&shifted(&document, &string, 1), Scope::One(0)).unwrap();
        document.undo(Scope::One(0));
        assert_eq!(
            document.settle(all_of(&Arc::clone(document.plan()))),
            [],
            "nothing is amended below a redo"
        );
        document.redo(Scope::One(0));
        assert_eq!(document.settle(all_of(&Arc::clone(document.plan()))).len(), 1);
        assert_eq!(accepted(&document), 0);
    }

    #[test]
    fn work_that_is_called_off_gives_nothing() {
        let plan = Arc::new(SAMPLES[5].plan().unwrap());
        assert!(Worked::of(Arc::clone(&plan), |_, _| false).is_none());
        assert!(Worked::of(plan, |done, _| done < 2).is_none());
    }
}
