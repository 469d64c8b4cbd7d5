//! What every panel is given to draw.

use super::canvas::Pairs;
use super::document::Document;
use super::recorded::plan_judged;
use super::{Pane, Theme, Works};
use crate::checks::{Assessment, Finding, Outcome, assess};
use crate::edit::{Edit, History};
use crate::model::{Plan, StringMark};
use crate::report::Judged;
use crate::statics::{Figures, Scope};
use crate::units::Style;
use std::collections::BTreeSet;
use std::sync::Arc;

/// Which finding is meant, whatever its place in the list: the check and the things, not the text.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FindingKey {
    /// The check's id.
    pub check: &'static str,
    /// The things it concerns.
    pub things: Vec<String>,
}

impl FindingKey {
    /// The key of `finding`.
    pub fn of(finding: &Finding) -> Self {
        Self { check: finding.check.id, things: finding.things.clone() }
    }

    /// Whether `finding` is meant.
    pub fn is_of(&self, finding: &Finding) -> bool {
        self.check == finding.check.id && self.things == finding.things
    }
}

/// What is selected, shared by all views.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Selection {
    /// Strings of the order, on the train or not.
    pub strings: BTreeSet<StringMark>,
    /// A vehicle, by index into the train.
    pub vehicle: Option<usize>,
    /// The rack that the rack face shows, by index into the consist.
    pub rack: usize,
    /// The finding shown.
    pub finding: Option<FindingKey>,
}

impl Selection {
    /// The selected string, where it is exactly one.
    pub fn only_string(&self) -> Option<&StringMark> {
        match self.strings.len() {
            1 => self.strings.first(),
            _ => None,
        }
    }
}

/// What an edit would do, worked out for one state.
#[derive(Clone, Debug)]
pub struct Preview {
    /// The edit.
    pub edit: Edit,
    /// Why it cannot be made, in words; the figures are then those of the plan as it is.
    pub refused: Option<String>,
    /// Figures of the plan after the edit; only the state shown is worked out.
    pub figures: Figures,
    /// What the checks say of that state.
    pub assessment: Assessment,
    /// Findings that fail after the edit and did not before.
    pub newly_broken: Vec<FindingKey>,
    /// Findings that failed before the edit and do not after.
    pub mended: Vec<FindingKey>,
}

impl Preview {
    /// Works out `edit` on `plan`, the plan as meant, in `state` of the load that is `judged`; `before` is the
    /// assessment of that load in the same state. A `refusal` says why the edit is not made whatever it would do.
    pub fn of(
        edit: Edit,
        plan: &Arc<Plan>,
        (judged, state): (Judged, usize),
        before: &Assessment,
        refusal: Option<String>,
    ) -> Self {
        let applied = match refusal {
            Some(why) => Err(why),
            None => edit.apply(plan).map_err(|error| error.to_string()),
        };
        let (plan, refused) = match applied {
            Ok(applied) => (Arc::new(applied.plan), None),
            Err(why) => (Arc::clone(plan), Some(why)),
        };
        let plan = plan_judged(&plan, judged);
        let figures = Figures::of(plan, Scope::One(state)).live();
        let assessment = assess(&figures);
        let newly_broken = fails_only_in(&assessment, before);
        let mended = fails_only_in(before, &assessment);
        Self { edit, refused, figures, assessment, newly_broken, mended }
    }
}

/// What fails in `these` and not in `those`.
fn fails_only_in(these: &Assessment, those: &Assessment) -> Vec<FindingKey> {
    let fails = |assessment: &Assessment| -> BTreeSet<FindingKey> {
        let failing = assessment.findings.iter().filter(|finding| finding.outcome == Outcome::Fail);
        failing.map(FindingKey::of).collect()
    };
    fails(these).difference(&fails(those)).cloned().collect()
}

/// How far the states of the plan are worked out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Settling {
    /// All of them.
    Done,
    /// The state shown; the others are under way.
    UnderWay,
    /// The state shown; somebody called off the others.
    CalledOff,
}

/// What panels get; nothing in it can be changed.
#[derive(Clone, Copy, Debug)]
pub struct Shown<'a> {
    /// The plan in the views: the preview's while one lasts; with each string where it was recorded while the load is
    /// judged as it is.
    pub plan: &'a Arc<Plan>,
    /// Its figures: all states, or while a preview lasts the state shown only.
    pub figures: &'a Figures,
    /// What the checks say of those figures.
    pub assessment: &'a Assessment,
    /// Figures of all states of the plan without the preview; of the state shown only while not all are settled.
    pub settled: &'a Arc<Figures>,
    /// What the checks say of those states of the plan without the preview.
    pub settled_assessment: &'a Arc<Assessment>,
    /// Whether that is all states; after a step on a large plan the others come a little later.
    pub settling: Settling,
    /// Which load is judged and shown.
    pub judged: Judged,
    /// The open plan as meant, its records, and figures and findings of both loads.
    pub document: &'a Document,
    /// What can be undone and redone, and whether all is saved.
    pub history: &'a History,
    /// The file's name, or what stands for it.
    pub file_name: &'a str,
    /// The part of the window that the keyboard goes to with this frame: its first item takes the focus.
    pub focus: Option<Pane>,
    /// The state shown, an index into the figures' states.
    pub state: usize,
    /// What is selected.
    pub selection: &'a Selection,
    /// Whether the two strings of a pair move as one.
    pub pairs: Pairs,
    /// How quantities are written.
    pub style: Style,
    /// The preview, while one lasts.
    pub preview: Option<&'a Preview>,
    /// The colours.
    pub theme: &'a Theme,
    /// Starts work that takes longer than a frame may, beside the window.
    pub works: &'a Works,
}
