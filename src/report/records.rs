//! What stands beside every judgement: which load was judged, and who signed.

use crate::format::{SignatureState, Standing, signature_states};
use crate::model::Plan;
use crate::planning::Loaded;

/// What the records of a plan say of a judgement.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Records {
    /// Which load is judged; none: as planned, and nothing is recorded.
    pub load: Option<Load>,
    /// The signatures, and whether each still matches.
    pub signatures: Vec<SignatureState>,
}

/// Which load is judged, and how far records bear it out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Load {
    /// Which.
    pub judged: Judged,
    /// Strings planned at departure that somebody has recorded.
    pub confirmed: usize,
    /// Strings planned at departure.
    pub planned: usize,
    /// Strings that were recorded otherwise than planned.
    pub differ: usize,
}

/// Which load figures and checks are of.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Judged {
    /// As the plan means it.
    #[default]
    AsPlanned,
    /// As it was recorded; strings without a record count as planned.
    AsLoaded,
}

impl Records {
    /// The records of `plan`, the plan as meant, where `judged` is judged.
    pub fn of(plan: &Plan, loaded: &Loaded, judged: Judged) -> Self {
        let told = judged == Judged::AsLoaded || !plan.as_loaded.is_empty();
        let load = Load {
            judged,
            confirmed: loaded.confirmed(),
            planned: loaded.planned,
            differ: loaded.strings_that_differ(),
        };
        Self { load: told.then_some(load), signatures: signature_states(plan) }
    }
}

impl Judged {
    /// What a reader calls it.
    pub fn words(self) -> &'static str {
        match self {
            Self::AsPlanned => "as planned",
            Self::AsLoaded => "as loaded",
        }
    }
}

/// Which load is judged, in a line such as `as loaded; 41 of 50 strings confirmed, 2 differ from the plan`.
pub fn load_words(load: &Load) -> String {
    let Load { judged, confirmed, planned, differ } = load;
    let verb = if *differ == 1 { "differs" } else { "differ" };
    let differ = if *differ == 0 { "none".to_owned() } else { differ.to_string() };
    format!("{}; {confirmed} of {planned} strings confirmed, {differ} {verb} from the plan", judged.words())
}

/// A signature in a line, such as `by M. Holm, 2026-11-25 06:10 +01:00; the plan is unchanged since`.
pub fn signature_words(state: &SignatureState) -> String {
    let standing = match state.standing {
        Standing::Matches => "the plan is unchanged since",
        Standing::Changed => "the plan was changed since, so this signature no longer matches",
    };
    format!("by {}, {}; {standing}", state.signature.by, state.signature.at)
}
