//! What all JSON output shares: printing, lists of documents, errors, states, names of things.

use crate::model::{Plan, RackRef, VehicleKind};
use crate::statics::{Figures, LoadState, PairHalf, StateKind, StateRule};
use serde::{Serialize, Serializer};
use std::io;

/// Why a report could not be written as JSON.
#[derive(Debug, thiserror::Error)]
#[error("the report could not be written as JSON: {0}")]
pub struct JsonError(#[from] serde_json::Error);

impl JsonError {
    /// What the writer said, where it was the writer that failed.
    pub fn into_io(self) -> io::Error {
        self.0.into()
    }
}

/// A document that tells of a plan that could not be reported; `JSON.md` describes its fields.
///
/// # Errors
/// [`JsonError`] where the text cannot be written.
pub fn error_json(label: &str, message: &str) -> Result<String, JsonError> {
    print(&ErrorDocument { shape: "longstow error 1", file: label, exit_code: 2, error: message })
}

/// Several documents as one JSON array, in the order given.
pub fn json_list(documents: &[String]) -> String {
    format!("[\n{}\n]", documents.join(",\n"))
}

/// Pretty-printed JSON; numbers have as many digits as bring the same value back.
pub(super) fn print(document: &impl Serialize) -> Result<String, JsonError> {
    Ok(serde_json::to_string_pretty(document)?)
}

/// The same, written piece by piece.
pub(super) fn print_to(out: &mut dyn io::Write, document: &impl Serialize) -> Result<(), JsonError> {
    Ok(serde_json::to_writer_pretty(out, document)?)
}

/// Rows that are made one by one while they are written: all of them together may be larger than the machine.
pub(super) struct Rows<F>(pub(super) F);

impl<F, I> Serialize for Rows<F>
where
    F: Fn() -> I,
    I: Iterator,
    I::Item: Serialize,
{
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_seq((self.0)())
    }
}

#[derive(Serialize)]
struct ErrorDocument<'a> {
    shape: &'static str,
    file: &'a str,
    exit_code: u8,
    error: &'a str,
}

/// A state without its figures.
#[derive(Serialize)]
pub(super) struct StateHead {
    state: usize,
    title: String,
    kind: &'static str,
    drop: Option<String>,
    step: Option<usize>,
    rule: &'static str,
    strings: Vec<String>,
}

impl StateHead {
    /// The head of state `index`.
    pub(super) fn of(figures: &Figures, index: usize, state: &LoadState) -> Self {
        let plan = &figures.plan;
        let (kind, drop, step) = match state.kind {
            StateKind::Departure => ("departure", None, None),
            StateKind::HalfPair { drop, step, half: PairHalf::First } => {
                ("first of a pair moved", Some(drop), Some(step))
            }
            StateKind::HalfPair { drop, step, half: PairHalf::Second } => {
                ("second of a pair moved", Some(drop), Some(step))
            }
            StateKind::AfterStep { drop, step } => ("after step", Some(drop), Some(step)),
            StateKind::AfterDrop { drop } => ("after drop", Some(drop), None),
        };
        Self {
            state: index,
            title: state.title(plan),
            kind,
            drop: drop.and_then(|drop| plan.drops.get(drop)).map(|drop| drop.name.to_string()),
            step: step.map(|step| step + 1),
            rule: match state.rule {
                StateRule::Running => "running",
                StateRule::Working => "working",
                StateRule::NoteOnly => "note only",
            },
            strings: figures.present(index).map(|placed| string_mark(plan, placed.string)).collect(),
        }
    }
}

/// A rack by its vehicle and number.
#[derive(Clone, Serialize)]
pub(super) struct RackName {
    vehicle: String,
    rack: u32,
}

impl RackName {
    /// Rack `number` of the vehicle with this index.
    pub(super) fn new(plan: &Plan, vehicle: usize, number: u32) -> Self {
        Self { vehicle: vehicle_mark(plan, vehicle), rack: number }
    }

    /// The name as the plan writes it.
    pub(super) fn named(rack: &RackRef) -> Self {
        Self { vehicle: rack.vehicle.to_string(), rack: rack.rack }
    }

    /// The name of a rack of the consist.
    pub(super) fn of(figures: &Figures, rack: usize) -> Option<Self> {
        figures.consist.racks.get(rack).map(|place| Self::new(&figures.plan, place.vehicle, place.number))
    }
}

/// The mark of a string of the order.
pub(super) fn string_mark(plan: &Plan, string: usize) -> String {
    plan.order.get(string).map(|string| string.mark.to_string()).unwrap_or_default()
}

/// The mark of a vehicle of the train.
pub(super) fn vehicle_mark(plan: &Plan, vehicle: usize) -> String {
    plan.train.vehicles.get(vehicle).map(|vehicle| vehicle.mark.to_string()).unwrap_or_default()
}

/// A vehicle's kind in one word.
pub(super) fn kind_word(kind: VehicleKind) -> &'static str {
    match kind {
        VehicleKind::Engine => "engine",
        VehicleKind::Wagon => "wagon",
        VehicleKind::Idler => "idler",
    }
}

/// An end in one word, by the index of its support.
pub(super) fn end_word(support: usize) -> &'static str {
    if support == 0 { "front" } else { "rear" }
}
