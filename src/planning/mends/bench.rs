//! The bench on which changes are tried: the plan as it is, the finding, and what becomes of it after a change.

use super::Effect;
use crate::checks::{Assessment, Comparison, Finding, Judge, Outcome, Subject, assess};
use crate::edit::{Edit, Move};
use crate::model::{Plan, StringMark};
use crate::planning::lay;
use crate::statics::{Consist, Figures, PlacedString, Scope};
use crate::units::Text;
use std::sync::Arc;

/// A change that might mend a finding.
#[derive(Clone, Debug)]
pub(super) struct Candidate {
    /// What it does.
    pub(super) label: Text,
    /// The change.
    pub(super) edit: Edit,
    /// How large it is: metres along the train, or as many metres as it disturbs the yard's work like.
    pub(super) cost: f64,
    /// Changes of one family differ in size only, so that one of them is enough.
    pub(super) family: &'static str,
}

/// What candidates are made from and tried on.
#[derive(Clone, Copy)]
pub(super) struct Bench<'a> {
    pub(super) figures: &'a Figures,
    pub(super) assessment: &'a Assessment,
    pub(super) finding: &'a Finding,
}

impl<'a> Bench<'a> {
    pub(super) fn plan(&self) -> &'a Plan {
        &self.figures.plan
    }

    pub(super) fn consist(&self) -> &'a Consist {
        &self.figures.consist
    }

    /// The state of the worst; departure where states do not matter.
    pub(super) fn state(&self) -> usize {
        self.finding.state.unwrap_or(0)
    }

    /// The mark of a string of the order.
    pub(super) fn mark(&self, string: usize) -> Option<&'a StringMark> {
        self.plan().order.get(string).map(|string| &string.mark)
    }

    /// The placed string of the order's string.
    pub(super) fn placed(&self, string: usize) -> Option<&'a PlacedString> {
        self.figures.placed.iter().find(|placed| placed.string == string)
    }

    /// Whether tools may move it.
    pub(super) fn is_free(&self, placed: &PlacedString) -> bool {
        self.plan().placements.get(placed.placement).is_some_and(|placement| !placement.locked)
    }

    /// The vehicle that the finding is about, where it is about one or a part of one.
    pub(super) fn vehicle(&self) -> Option<usize> {
        match self.finding.subject {
            Subject::Vehicle(at)
            | Subject::Support(at, _)
            | Subject::Axle(at, _)
            | Subject::Wheel(at, ..) => Some(at),
            Subject::Rack(rack) | Subject::RackTier(rack, _) | Subject::Pocket(rack, ..) => {
                self.consist().racks.get(rack).map(|place| place.vehicle)
            }
            _ => None,
        }
    }

    /// Strings that the finding is about; for a rack or vehicle those that lie on it in the worst state.
    pub(super) fn strings(&self) -> Vec<&'a PlacedString> {
        let on = |racks: std::ops::Range<usize>| -> Vec<&'a PlacedString> {
            let present = self.figures.present(self.state());
            present
                .filter(|placed| placed.racks.start < racks.end && racks.start < placed.racks.end)
                .collect()
        };
        let lane_of = |placed: &&PlacedString| {
            self.plan().placements.get(placed.placement).map(|at| (at.tier, at.lane))
        };
        match self.finding.subject {
            Subject::String(at) | Subject::StringEnd(at, _) | Subject::StringAtRack(at, _) => {
                self.placed(at).into_iter().collect()
            }
            Subject::Strings(a, b) => [a, b].into_iter().filter_map(|at| self.placed(at)).collect(),
            Subject::Rack(rack) => on(rack..rack + 1),
            Subject::RackTier(rack, tier) => {
                let mut strings = on(rack..rack + 1);
                strings.retain(|placed| lane_of(placed).is_some_and(|(at, _)| at == tier));
                strings
            }
            Subject::Pocket(rack, tier, lane) => {
                let mut strings = on(rack..rack + 1);
                strings.retain(|placed| lane_of(placed) == Some((tier, lane)));
                strings
            }
            _ => match self.vehicle().and_then(|at| self.consist().vehicles.get(at)) {
                Some(place) => on(place.racks.clone()),
                None => Vec::new(),
            },
        }
    }

    /// Moves strings as one step; a hold whose rack is no longer under its string goes to the clamping rack nearest
    /// its middle.
    pub(super) fn moved(&self, label: &str, moves: Vec<Move>) -> Edit {
        let (plan, consist) = (self.plan(), self.consist());
        let new_hold = |step: &Move| {
            let length = plan.string(&step.string)?.length;
            let (front, rear) = (step.front, step.front + length);
            let [hold] = plan.placement(&step.string)?.holds.as_slice() else { return None };
            if lay::holds_still(plan, consist, hold, front, rear) {
                return None;
            }
            let holds = vec![lay::propose_hold(plan, consist, front, rear)?];
            Some(Edit::SetHolds { string: step.string.clone(), holds })
        };
        let holds: Vec<Edit> = moves.iter().filter_map(new_hold).collect();
        batch(label, std::iter::once(Edit::Move { moves }).chain(holds).collect())
    }

    /// What this finding's check says of its things after a change; none where it says nothing of them any more.
    fn finding_after(&self, after: &Figures) -> Option<Finding> {
        let mut judge = Judge::new(self.finding.check, after);
        (self.finding.check.run)(&mut judge);
        let findings = judge.findings().into_iter();
        findings.filter(|finding| finding.things == self.finding.things).min_by_key(|finding| finding.outcome)
    }

    /// Figures of all states after a change; none where it cannot be made.
    pub(super) fn after(&self, edit: &Edit) -> Option<Figures> {
        let applied = edit.apply(self.plan()).ok().filter(|applied| applied.returned_to_yard.is_empty())?;
        Some(Figures::of(Arc::new(applied.plan), Scope::All))
    }

    /// Whether the finding is gone after a change, as far as its own check sees.
    pub(super) fn is_mended_by(&self, edit: &Edit) -> bool {
        self.after(edit).is_some_and(|after| self.is_mended(self.finding_after(&after).as_ref()))
    }

    /// How much of its limit the finding uses after a change; nothing where it is not told any more.
    pub(super) fn use_after(&self, edit: &Edit) -> Option<f64> {
        let after = self.after(edit)?;
        let finding = self.finding_after(&after);
        let used =
            finding.as_ref().and_then(|finding| finding.comparison).map_or(0.0, Comparison::utilisation);
        // A thing that became undecided is no better.
        let undecided = finding.is_some_and(|finding| finding.outcome == Outcome::Undecided);
        Some(if undecided { f64::INFINITY } else { used })
    }

    fn is_mended(&self, after: Option<&Finding>) -> bool {
        let allowed = match self.finding.outcome {
            Outcome::Near | Outcome::Note => Outcome::Pass,
            _ => Outcome::Near,
        };
        after.is_none_or(|after| after.outcome >= allowed)
    }

    /// What a change does, by every check in every state; none where it does not mend the finding.
    pub(super) fn effect_of(&self, edit: &Edit) -> Option<Effect> {
        let after_figures = self.after(edit)?;
        let after = assess(&after_figures);
        let own = after.findings.iter().filter(|finding| is_same(finding, self.finding));
        let own = own.min_by_key(|finding| finding.outcome);
        if !self.is_mended(own) {
            return None;
        }
        let mut effect = Effect { after: own.and_then(|own| own.comparison), ..Effect::default() };
        let counts = |finding: &&Finding| matches!(finding.outcome, Outcome::Fail | Outcome::Undecided);
        for finding in after.findings.iter().filter(counts) {
            let before = self
                .assessment
                .findings
                .iter()
                .find(|before| is_same(before, finding) && before.outcome == finding.outcome);
            let name = || format!("{}: {}", finding.check.title, finding.things.join(", "));
            match before {
                None => effect.broken.push(name()),
                Some(before) if uses_more(finding, before) => effect.worsened.push(name()),
                Some(_) => {}
            }
        }
        let fails = |assessment: &Assessment| assessment.count(Outcome::Fail);
        let new_fails = effect.broken.len();
        effect.also_mended = (fails(self.assessment) + new_fails).saturating_sub(fails(&after) + 1);
        Some(effect)
    }
}

/// One edit, or several as one step called `label`.
pub(super) fn batch(label: &str, edits: Vec<Edit>) -> Edit {
    Edit::Batch { label: label.to_owned(), edits }
}

fn is_same(a: &Finding, b: &Finding) -> bool {
    a.check.id == b.check.id && a.things == b.things
}

/// Whether a finding uses more of its limit than before, rounding aside.
fn uses_more(now: &Finding, before: &Finding) -> bool {
    let used = |finding: &Finding| finding.comparison.map_or(0.0, Comparison::utilisation);
    let (now_used, before_used) = (used(now), used(before));
    now_used.is_finite() && now_used > before_used * (1.0 + 1.0e-9)
}
