//! The load as it is and its differences from the plan as JSON; `JSON.md` describes every field.

use super::json_common::{JsonError, RackName, print};
use super::loaded_text::deviation_words;
use super::records::{Load, Records};
use crate::format::{SignatureState, Standing};
use crate::model::{Hold, Plan};
use crate::planning::{Deviation, Difference, Loaded, Place};
use crate::units::Style;
use serde::Serialize;

/// What was recorded of a plan's load, as one JSON object; `label` says which plan, as its reader knows it.
///
/// # Errors
/// [`JsonError`] where the text cannot be written.
pub fn loaded_json(
    label: &str,
    plan: &Plan,
    loaded: &Loaded,
    (records, exit_code): (&Records, u8),
) -> Result<String, JsonError> {
    print(&LoadedDocument {
        shape: "longstow loaded 1",
        file: label,
        title: &plan.title,
        exit_code,
        confirmed: loaded.confirmed(),
        planned: loaded.planned,
        not_confirmed: loaded.not_confirmed.iter().map(|mark| mark.as_str()).collect(),
        differences: loaded.differences.iter().map(DifferenceRow::of).collect(),
        signatures: records.signatures.iter().map(SignatureRow::of).collect(),
    })
}

#[derive(Serialize)]
struct LoadedDocument<'a> {
    shape: &'static str,
    file: &'a str,
    title: &'a str,
    exit_code: u8,
    confirmed: usize,
    planned: usize,
    not_confirmed: Vec<&'a str>,
    differences: Vec<DifferenceRow<'a>>,
    signatures: Vec<SignatureRow<'a>>,
}

#[derive(Serialize)]
struct DifferenceRow<'a> {
    string: &'a str,
    what: &'static str,
    words: String,
    planned: Option<PlaceRow>,
    loaded: Option<PlaceRow>,
    by: &'a str,
    at: &'a str,
}

/// What is told of a place: only what differs.
#[derive(Default, Serialize)]
struct PlaceRow {
    tier: Option<u32>,
    lane: Option<u32>,
    front_m: Option<f64>,
    holds: Option<Vec<RackName>>,
}

impl<'a> DifferenceRow<'a> {
    fn of(difference: &'a Difference) -> Self {
        let pocket = |(tier, lane)| PlaceRow { tier: Some(tier), lane: Some(lane), ..PlaceRow::default() };
        let whole =
            |place: &Place| PlaceRow { front_m: Some(place.front.m()), ..pocket((place.tier, place.lane)) };
        let (what, planned, loaded) = match &difference.what {
            Deviation::Pocket { planned, loaded } => {
                ("pocket", Some(pocket(*planned)), Some(pocket(*loaded)))
            }
            Deviation::Front { planned, loaded } => {
                let front = |m: f64| Some(PlaceRow { front_m: Some(m), ..PlaceRow::default() });
                ("front end", front(planned.m()), front(loaded.m()))
            }
            Deviation::Holds { planned, loaded } => {
                let holds = |holds: &[Hold]| {
                    let rows = holds.iter().map(RackName::named).collect();
                    Some(PlaceRow { holds: Some(rows), ..PlaceRow::default() })
                };
                ("holds", holds(planned), holds(loaded))
            }
            Deviation::Missing { planned } => ("missing", Some(whole(planned)), None),
            Deviation::NotPlanned { loaded } => ("not planned", None, Some(whole(loaded))),
        };
        Self {
            string: difference.string.as_str(),
            what,
            words: deviation_words(&difference.what, Style::default()),
            planned,
            loaded,
            by: &difference.by,
            at: &difference.at,
        }
    }
}

/// The load that is judged.
#[derive(Serialize)]
pub(super) struct LoadBlock {
    judged: &'static str,
    confirmed: usize,
    planned: usize,
    differ: usize,
}

impl LoadBlock {
    /// The block of `load`.
    pub(super) fn of(load: &Load) -> Self {
        let Load { judged, confirmed, planned, differ } = *load;
        Self { judged: judged.words(), confirmed, planned, differ }
    }
}

/// A signature as JSON.
#[derive(Serialize)]
pub(super) struct SignatureRow<'a> {
    by: &'a str,
    at: &'a str,
    hash: &'a str,
    matches: bool,
}

impl<'a> SignatureRow<'a> {
    /// The row of a signature.
    pub(super) fn of(state: &'a SignatureState) -> Self {
        let signature = &state.signature;
        Self {
            by: &signature.by,
            at: &signature.at,
            hash: &signature.hash,
            matches: state.standing == Standing::Matches,
        }
    }
}
