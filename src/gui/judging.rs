//! Which load is judged and shown: as planned, or as it was recorded.

use super::{Request, Workbench};
use crate::checks::Assessment;
use crate::edit::Edit;
use crate::report::{Judged, Records, load_words};
use crate::statics::Figures;
use std::sync::Arc;

/// What is said while the load is shown as it is.
pub(super) const AS_LOADED: &str = "Shown as loaded: strings cannot be moved here";

impl Workbench {
    /// Which load is judged and shown.
    pub fn judged(&self) -> Judged {
        self.judged
    }

    /// Shows the plan as meant, or the load as it was recorded, in all views.
    pub(super) fn judge(&mut self, judged: Judged) {
        self.judged = judged;
        self.preview = None;
        self.before = None;
        let recorded = self.document.recorded();
        let records = Records::of(recorded.meant(), recorded.loaded(), judged);
        match records.load {
            Some(load) => self.say(format!("Shown {}", load_words(&load))),
            None => self.say("Shown as planned"),
        }
    }

    /// Shows the other load.
    pub(super) fn judge_the_other(&mut self) {
        self.grant(Request::Judge(match self.judged {
            Judged::AsPlanned => Judged::AsLoaded,
            Judged::AsLoaded => Judged::AsPlanned,
        }));
    }

    /// Figures and findings of the load that is judged: of all states, or of one while the others are still to come.
    pub(super) fn settled(&self) -> (&Arc<Figures>, &Arc<Assessment>) {
        match self.judged {
            Judged::AsPlanned => (self.document.figures(), self.document.assessment()),
            Judged::AsLoaded => self.document.as_loaded(),
        }
    }

    /// Why an edit is not made while the load is shown as it is; none where it is made.
    ///
    /// What would change where strings lie in the plan as meant would not be seen in the views; and what is accepted
    /// is accepted of the plan as meant.
    pub(super) fn refusal(&self, edit: &Edit) -> Option<String> {
        if self.judged == Judged::AsPlanned {
            return None;
        }
        let plan = self.document.plan();
        let planned = "judge as planned (J) to change the plan, or enter in the rack walk what was loaded";
        let changed = edit.apply(plan).ok()?.plan;
        if changed.placements != plan.placements {
            return Some(format!("{AS_LOADED}; {planned}"));
        }
        let accepts_more = changed.accepted.len() > plan.accepted.len();
        accepts_more.then(|| "Findings of the plan as meant can be accepted; judge as planned (J)".to_owned())
    }
}
