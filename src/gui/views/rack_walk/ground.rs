//! What the parts of the view draw from: plan, walk, and how each string stands to its record.

use crate::checks::Outcome;
use crate::edit::Edit;
use crate::gui::panels::mark::verdict_told;
use crate::gui::views::person::Person;
use crate::gui::{Document, Request, Shown};
use crate::model::{AsLoaded, Placement, Plan, StringMark};
use crate::planning::walk::{EndPassed, Meeting, Stop, Walk};
use crate::planning::{Difference, Loaded};
use crate::report::deviation_words;
use crate::statics::Consist;
use crate::units::{Length, Quantity};

/// Everything that the parts of the view need.
pub(super) struct Ground<'a> {
    pub(super) shown: &'a Shown<'a>,
    /// The plan as meant.
    pub(super) meant: &'a Plan,
    pub(super) consist: &'a Consist,
    pub(super) loaded: &'a Loaded,
    pub(super) walk: Walk,
    pub(super) stops: Vec<Stop>,
    pub(super) person: &'a Person,
}

/// How a string stands to its record.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Seen {
    /// Nobody has recorded it.
    NotYet,
    /// It was recorded as planned.
    AsPlanned,
    /// It was recorded otherwise, in words.
    Otherwise(String),
}

impl<'a> Ground<'a> {
    /// The ground of a walk.
    pub(super) fn of(shown: &'a Shown<'a>, walk: Walk, person: &'a Person) -> Self {
        let meant: &Plan = shown.document.plan();
        let consist = &shown.document.figures().consist;
        let loaded = shown.document.recorded().loaded();
        let stops = walk.stops(meant, consist);
        Self { shown, meant, consist, loaded, walk, stops, person }
    }

    /// How a string stands to its record.
    pub(super) fn seen(&self, mark: &StringMark) -> Seen {
        if self.meant.record(mark).is_none() {
            return Seen::NotYet;
        }
        let of_it = |one: &&Difference| one.string == *mark;
        let words = |one: &Difference| deviation_words(&one.what, self.shown.style);
        let differences: Vec<String> = self.loaded.differences.iter().filter(of_it).map(words).collect();
        if differences.is_empty() { Seen::AsPlanned } else { Seen::Otherwise(differences.join("; ")) }
    }

    /// The strings in the order in which the walk meets them, each with the end met and its stop.
    pub(super) fn met(&self) -> impl Iterator<Item = (&Stop, &EndPassed)> {
        self.stops.iter().flat_map(|stop| {
            stop.ends.iter().filter(|end| end.meeting == Meeting::First).map(move |end| (stop, end))
        })
    }

    /// Strings that the plan leaves in the yard.
    pub(super) fn in_yard(&self) -> impl Iterator<Item = &StringMark> {
        self.meant.order.iter().map(|string| &string.mark).filter(|mark| self.meant.placement(mark).is_none())
    }

    /// All strings with a line of their own, in the order of the list.
    pub(super) fn lines(&self) -> Vec<&StringMark> {
        self.met().map(|(_, end)| &end.of.string).chain(self.in_yard()).collect()
    }

    /// The string whose line Tab comes to: the one selected, else the first that is not confirmed, else the first.
    pub(super) fn tab_stop(&self) -> Option<StringMark> {
        let lines = self.lines();
        let selected = self.shown.selection.only_string().filter(|mark| lines.contains(mark));
        let open =
            || self.met().map(|(_, end)| &end.of.string).find(|mark| self.meant.record(mark).is_none());
        selected.or_else(open).or(lines.first().copied()).cloned()
    }

    /// The next string after `mark` that is not confirmed; the one after it where all are.
    pub(super) fn next_open(&self, mark: &StringMark) -> Option<StringMark> {
        let planned: Vec<&StringMark> = self.met().map(|(_, end)| &end.of.string).collect();
        let at = planned.iter().position(|other| *other == mark)?;
        let round = planned[at + 1..].iter().chain(&planned[..at]);
        let open = round.copied().find(|other| self.meant.record(other).is_none());
        open.or(planned.get(at + 1).copied()).cloned()
    }

    /// The string `by` lines farther down the list, or up where it is below zero.
    pub(super) fn beside(&self, mark: &StringMark, by: isize) -> Option<StringMark> {
        let lines = self.lines();
        let at = lines.iter().position(|other| *other == mark)?.checked_add_signed(by)?;
        lines.get(at).copied().cloned()
    }

    /// The stop at which the walk meets a string; none where it is not planned on the train.
    pub(super) fn stop_of(&self, mark: &StringMark) -> Option<&Stop> {
        self.met().find(|(_, end)| end.of.string == *mark).map(|(stop, _)| stop)
    }

    /// The rack whose pockets are drawn: the rack shown, or the first under the string chosen while that is the stop
    /// at which the walk meets it.
    pub(super) fn face_rack(&self) -> usize {
        let shown = self.shown.selection.rack;
        let under = |mark: &StringMark| {
            self.stop_of(mark).filter(|stop| stop.rack == shown)?;
            let lies = |stop: &&Stop| stop.pockets.iter().any(|one| one.string == *mark);
            self.stops.iter().find(lies).map(|stop| stop.rack)
        };
        self.shown.selection.only_string().and_then(under).unwrap_or(shown)
    }

    /// Confirms strings as planned.
    pub(super) fn confirm(&self, strings: Vec<StringMark>, requests: &mut Vec<Request>) {
        if let Some((by, at)) = self.person.signs(requests) {
            requests.push(Request::Edit(Edit::ConfirmAsPlanned { strings, by, at }));
        }
    }

    /// Records a string as it was, or as planned where nobody recorded it, but for `change`.
    pub(super) fn record(
        &self,
        mark: &StringMark,
        change: impl FnOnce(&mut AsLoaded),
        requests: &mut Vec<Request>,
    ) {
        let planned = || self.meant.placement(mark).map(planned_record);
        let Some(mut record) = self.meant.record(mark).cloned().or_else(planned) else { return };
        let Some((by, at)) = self.person.signs(requests) else { return };
        (record.by, record.at) = (by, at);
        change(&mut record);
        requests.push(Request::Edit(Edit::RecordAsLoaded { records: vec![record] }));
    }

    /// A length in the reader's units.
    pub(super) fn length(&self, length: Length) -> String {
        Quantity::length(length).show(self.shown.style)
    }
}

/// What the checks say of all states of the load as it is; that they are still to come, until they are there.
pub(super) fn verdict_as_loaded(document: &Document) -> (Outcome, String) {
    let assessment = document.as_loaded().1;
    let open = document.recorded().loaded().not_confirmed.len();
    if document.is_settled_as_loaded() {
        match verdict_told(assessment) {
            // Nothing is known yet of what nobody has seen.
            (Outcome::Pass, words) if open > 0 => (Outcome::NotAsked, format!("{words}, so far")),
            told => told,
        }
    } else {
        (Outcome::NotAsked, "all states are being worked out".to_owned())
    }
}

/// The record that says that a string lies as planned.
fn planned_record(placement: &Placement) -> AsLoaded {
    AsLoaded {
        string: placement.string.clone(),
        tier: placement.tier,
        lane: placement.lane,
        front: placement.front,
        holds: placement.holds.clone(),
        missing: false,
        by: String::new(),
        at: String::new(),
    }
}
