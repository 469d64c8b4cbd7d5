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

    /// Makes an edit as part of the step that led to the plan now, adding `note` to its label; at the start it is
    /// a step of its own.
    ///
    /// # Errors
    /// As [`Edit::apply`]; nothing has changed then.
    pub fn amend(&mut self, edit: &Edit, note: &str) -> Result<(), EditError> {
        if self.cursor == 0 {
            return self.apply(edit).map(|_| ());
        }
        let applied = edit.apply(self.plan())?;
        let entry = &mut self.entries[self.cursor];
        entry.label = format!("{}{note}", entry.label);
        entry.plan = Arc::new(applied.plan);
        self.go_to(self.cursor);
        Ok(())
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

    /// What is on disk; none: it was never saved or read.
    pub fn saved(&self) -> Option<&Arc<Plan>> {
        self.saved.as_ref()
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

#[cfg(test)]
mod tests {
    use super::super::trial::{plan, string};
    use super::super::{Locked, Move, Rows, TrainSettings};
    use super::*;
    use crate::fixtures::vehicle;
    use crate::model::{AsLoaded, Placement, Signature, VehicleMark, WeighedPart, Weighing, problems};
    use crate::units::Length;
    use proptest::prelude::*;

    fn title(title: &str) -> Edit {
        Edit::SetTitle { title: title.to_owned() }
    }

    fn started(on_disk: OnDisk) -> History {
        History::new(Arc::new(plan()), on_disk)
    }

    #[test]
    fn steps_are_undone_and_made_again_by_name() {
        let mut history = started(OnDisk::Yes);
        assert_eq!((history.undo(), history.redo()), (None, None));
        assert!(history.apply(&title("A")).unwrap().changed);
        let off = Edit::TakeOff { strings: vec![string("S1")] };
        history.apply(&off).unwrap();
        assert_eq!((history.undo_label(), history.redo_label()), (Some("Take string S1 off"), None));
        assert_eq!(history.undo().as_deref(), Some("Take string S1 off"));
        assert_eq!(history.undo().as_deref(), Some("Change title"));
        assert_eq!(**history.plan(), plan());
        assert_eq!((history.undo_label(), history.redo_label()), (None, Some("Change title")));
        assert_eq!(history.redo().as_deref(), Some("Change title"));
        assert_eq!(history.plan().title, "A");
    }

    #[test]
    fn an_edit_that_changes_nothing_makes_no_step_and_keeps_what_was_undone() {
        let mut history = started(OnDisk::Yes);
        history.apply(&title("A")).unwrap();
        history.undo();
        assert!(!history.apply(&title(&plan().title)).unwrap().changed);
        assert_eq!(history.redo_label(), Some("Change title"));
        assert_eq!(history.labels().collect::<Vec<_>>(), ["Start", "Change title"]);
    }

    #[test]
    fn a_refused_edit_leaves_the_document_alone() {
        let mut history = started(OnDisk::Yes);
        let before = Arc::clone(history.plan());
        history.apply(&Edit::TakeOff { strings: vec![string("S4")] }).unwrap_err();
        assert!(Arc::ptr_eq(&before, history.plan()) && history.is_saved());
    }

    #[test]
    fn a_new_step_forgets_what_was_undone() {
        let mut history = started(OnDisk::Yes);
        history.apply(&title("A")).unwrap();
        history.undo();
        history.apply(&title("B")).unwrap();
        assert_eq!((history.cursor(), history.labels().len(), history.redo_label()), (1, 2, None));
        assert!(history.jump_to(0) && !history.jump_to(2));
        assert_eq!((history.cursor(), &history.plan().title), (0, &plan().title));
    }

    #[test]
    fn the_history_knows_which_plan_is_on_disk() {
        let mut history = started(OnDisk::No);
        assert!(!history.is_saved());
        history.mark_saved();
        assert!(history.is_saved());
        history.apply(&title("A")).unwrap();
        assert!(!history.is_saved());
        history.mark_saved();
        history.undo();
        assert!(!history.is_saved());
        history.redo();
        assert!(history.is_saved());
        history.undo();
        history.apply(&title("A")).unwrap();
        assert!(history.is_saved(), "the same plan reached another way is on disk too");
    }

    #[test]
    fn forgetting_old_steps_keeps_the_truth_about_the_disk() {
        let mut history = started(OnDisk::Yes);
        for number in 0..History::MOST_STEPS {
            history.apply(&title(&number.to_string())).unwrap();
        }
        assert_eq!(history.labels().len(), History::MOST_STEPS + 1);
        assert!(history.jump_to(0) && history.is_saved());
        assert!(history.jump_to(History::MOST_STEPS));
        history.apply(&title("one more")).unwrap();
        assert_eq!(
            (history.labels().len(), history.cursor()),
            (History::MOST_STEPS + 1, History::MOST_STEPS)
        );
        assert!(history.jump_to(0) && !history.is_saved());
        history.apply(&title(&plan().title)).unwrap();
        assert!(history.is_saved());
    }

    #[test]
    fn an_amended_step_is_still_one_step() {
        let mut history = started(OnDisk::Yes);
        history.apply(&title("A")).unwrap();
        history.amend(&title("B"), ", and again").unwrap();
        assert_eq!((history.undo_label(), history.cursor()), (Some("Change title, and again"), 1));
        assert_eq!(history.plan().title, "B");
        history.amend(&Edit::TakeOff { strings: vec![string("S4")] }, "").unwrap_err();
        assert_eq!(history.plan().title, "B");
        history.undo();
        assert_eq!(history.plan().title, plan().title);
        history.amend(&title("C"), "").unwrap();
        assert_eq!((history.undo_label(), history.labels().len()), (Some("Change title"), 2));
    }

    #[test]
    fn a_batch_is_one_step_or_none() {
        let take = Edit::TakeOff { strings: vec![string("S1")] };
        let placement = plan().placements[0].clone();
        let again = Edit::Place { placement: Placement { tier: 3, ..placement } };
        let batch = |edits| Edit::Batch { label: "Lift string S1".to_owned(), edits };
        let mut history = started(OnDisk::Yes);
        history.apply(&batch(vec![take.clone(), again])).unwrap();
        assert_eq!(history.undo_label(), Some("Lift string S1"));
        assert_eq!(history.plan().placement(&string("S1")).unwrap().tier, 3);
        let error = history.apply(&batch(vec![take.clone(), take])).unwrap_err();
        assert_eq!(error, EditError::NotPlaced { string: string("S1") });
        assert_eq!(history.cursor(), 1);
    }

    fn any_mark() -> impl Strategy<Value = StringMark> {
        (1..=5).prop_map(|number| string(&format!("S{number}")))
    }

    fn any_wagon() -> impl Strategy<Value = VehicleMark> {
        (1..=5).prop_map(|number| VehicleMark::new(&format!("W{number}")).unwrap())
    }

    fn any_edit() -> impl Strategy<Value = Edit> {
        let pocket = || (1..=5u32, 1..=10u32, -2_000..60_000i64);
        let place = (any_mark(), pocket()).prop_map(|(mark, (tier, lane, front))| {
            let mut placement = plan().placements[0].clone();
            (placement.string, placement.tier, placement.lane) = (mark, tier, lane);
            placement.front = Length::from_mm(front);
            Edit::Place { placement }
        });
        let shift = (any_mark(), pocket()).prop_map(|(string, (tier, lane, front))| Edit::Move {
            moves: vec![Move { string, tier, lane, front: Length::from_mm(front) }],
        });
        let rename = (any_mark(), any_mark()).prop_map(|(name, mark)| {
            let to = crate::model::OrderedString { mark, ..plan().order[0].clone() };
            Edit::Strings(Rows::Change { name, to })
        });
        let add = (any_wagon(), 0..5usize).prop_map(|(mark, at)| {
            Edit::Vehicles(Rows::Add { at: Some(at), row: vehicle(mark.as_str(), "Flat") })
        });
        let slack = (0..100i64).prop_map(|mm| {
            let train = plan().train;
            Edit::SetTrainSettings(TrainSettings {
                coupling_slack: Some(Length::from_mm(mm)),
                front_beyond: train.front_beyond,
                rear_beyond: train.rear_beyond,
                lane_rule: train.lane_rule,
            })
        });
        let locked = prop_oneof![Just(Locked::Yes), Just(Locked::No)];
        let record =
            (any_mark(), pocket(), any::<bool>()).prop_map(|(mark, (tier, lane, front), missing)| {
                let front = Length::from_mm(front);
                let (by, at) = ("A. Yard".to_owned(), "Monday".to_owned());
                let record = AsLoaded { string: mark, tier, lane, front, holds: Vec::new(), missing, by, at };
                Edit::RecordAsLoaded { records: vec![record] }
            });
        let confirm = any_mark().prop_map(|mark| Edit::ConfirmAsPlanned {
            strings: vec![mark],
            by: "A. Yard".to_owned(),
            at: "Monday".to_owned(),
        });
        let reading = |(vehicle, axle, kg): (VehicleMark, u32, u32)| {
            let (by, at) = ("A. Yard".to_owned(), "Monday".to_owned());
            let (part, kg) = (WeighedPart::LeftWheel(axle), f64::from(kg));
            Weighing { vehicle, part, kg, tolerance: None, by, at }
        };
        let weigh = || (any_wagon(), 1..=5u32, 0..20_000u32).prop_map(reading);
        let sign = "[ A-Z]{0,3}".prop_map(|by| Edit::Sign {
            signature: Signature { by, at: "Monday".to_owned(), hash: "0f".to_owned() },
        });
        prop_oneof![
            record,
            confirm,
            any_mark().prop_map(|mark| Edit::RemoveAsLoaded { strings: vec![mark] }),
            weigh().prop_map(|reading| Edit::AddWeighings { readings: vec![reading] }),
            (0..3usize, weigh()).prop_map(|(at, to)| Edit::ChangeWeighing { at, to }),
            (0..3usize).prop_map(|at| Edit::RemoveWeighings { at: vec![at] }),
            sign,
            (0..2usize).prop_map(|at| Edit::RemoveSignature { at }),
            place,
            shift,
            rename,
            add,
            slack,
            any_mark().prop_map(|mark| Edit::TakeOff { strings: vec![mark] }),
            (any_mark(), any_mark()).prop_map(|(first, second)| Edit::SwapPockets { first, second }),
            (any_mark(), locked).prop_map(|(mark, locked)| Edit::SetLocked { strings: vec![mark], locked }),
            any_mark().prop_map(|mark| Edit::Strings(Rows::Remove { names: vec![mark] })),
            any_wagon().prop_map(|mark| Edit::Vehicles(Rows::Remove { names: vec![mark] })),
            (any_wagon(), 0..4usize).prop_map(|(name, to)| Edit::Vehicles(Rows::Move { name, to })),
            any_wagon().prop_map(|mark| Edit::Turn { vehicles: vec![mark] }),
        ]
    }

    proptest! {
        #[test]
        fn undoing_and_redoing_everything_passes_through_the_same_sound_plans(
            edits in proptest::collection::vec(any_edit(), 1..40)
        ) {
            let mut history = started(OnDisk::Yes);
            let mut plans = vec![Arc::clone(history.plan())];
            for edit in &edits {
                if history.apply(edit).is_ok_and(|done| done.changed) {
                    plans.push(Arc::clone(history.plan()));
                }
                prop_assert!(problems(history.plan()).is_empty());
            }
            for plan in plans.iter().rev().skip(1) {
                prop_assert!(history.undo().is_some());
                prop_assert_eq!(history.plan(), plan);
            }
            prop_assert!(history.undo().is_none() && history.is_saved());
            for plan in plans.iter().skip(1) {
                prop_assert!(history.redo().is_some());
                prop_assert_eq!(history.plan(), plan);
            }
            prop_assert!(history.redo().is_none());
        }
    }
}
