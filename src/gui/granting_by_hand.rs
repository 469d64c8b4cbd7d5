//! Granting what hands ask for: mirror, swap, pairs, a whole tier.

use super::Workbench;
use super::canvas::{self, Change, Pairs};
use super::grant::Made;
use crate::model::StringMark;
use std::sync::Arc;

impl Workbench {
    /// Moves the selected strings to the lanes opposite theirs.
    pub(super) fn mirror(&mut self) {
        let strings = self.selected_marks();
        let consist = &self.document.figures().consist;
        self.make_or_say(canvas::mirrored(self.document.plan(), consist, &strings));
    }

    /// Exchanges the pockets of the two selected strings.
    pub(super) fn swap_pockets(&mut self) {
        let strings = self.selected_marks();
        let consist = &self.document.figures().consist;
        self.make_or_say(canvas::swapped_two(self.document.plan(), consist, &strings, self.pairs));
    }

    /// Lets pairs move as one, or apart.
    pub(super) fn turn_pairs(&mut self) {
        self.pairs = self.pairs.turned();
        self.say(match self.pairs {
            Pairs::AsOne => "Pairs move as one: where one goes, the other goes as its mirror image",
            Pairs::Apart => "Pairs move apart: each string moves alone",
        });
    }

    /// Fills the lowest tier with a free pocket at the rack shown: with the selected strings of the yard list, else with
    /// those of the last drop that has any.
    pub(super) fn fill_tier(&mut self) {
        let plan = Arc::clone(self.document.plan());
        let waits = |mark: &StringMark| plan.placement(mark).is_none();
        let mut strings: Vec<StringMark> =
            self.selection.strings.iter().filter(|mark| waits(mark)).cloned().collect();
        if strings.is_empty() {
            strings = canvas::next_to_fill(&plan);
        }
        let consist = &self.document.figures().consist;
        let rack = self.selection.rack;
        let tier = canvas::tier_to_fill(&plan, consist, rack, &strings);
        self.make_or_say(canvas::fill_tier(&plan, consist, (rack, tier), &strings));
    }

    /// Makes a change, or says why there is none.
    pub(super) fn make_or_say(&mut self, change: Result<Change, String>) {
        match change {
            Ok(change) => self.make_change(change),
            Err(why) => self.say(why),
        }
    }

    /// Makes a change; where it could be made, says what it did besides.
    pub(super) fn make_change(&mut self, change: Change) {
        if self.make(&change.edit) == Made::Yes && !change.said.is_empty() {
            self.say(change.said);
        }
    }

    /// The selected strings that are on the train, in the order of their marks.
    fn selected_marks(&self) -> Vec<StringMark> {
        let plan = self.document.plan();
        self.selection.strings.iter().filter(|mark| plan.placement(mark).is_some()).cloned().collect()
    }
}
