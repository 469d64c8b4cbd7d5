//! Placements, drops and records, as version 1 of the file holds them.

use super::macros::record;
use super::train::TrainEnd;
use super::value::{Count, FileOf, Id, Millimetres, Number, is_off};
use crate::model::{self, DropName, StepStrings, StringMark, VehicleMark};
use serde::{Deserialize, Serialize};

/// A rack of the train: the vehicle's mark and the rack's number, as in `("W3", 2)`.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(crate) struct RackRef(Id<VehicleMark>, Count);

impl FileOf<model::RackRef> for RackRef {
    fn of(model: &model::RackRef) -> Self {
        let model::RackRef { vehicle, rack } = model;
        Self(FileOf::of(vehicle), FileOf::of(rack))
    }
    fn into_model(self) -> model::RackRef {
        model::RackRef { vehicle: self.0.into_model(), rack: self.1.into_model() }
    }
}

record! {
    /// The racks that a string is meant to rest on.
    RackSpan = model::RackSpan {
        first: RackRef = first,
        last: RackRef = last,
    }
}

record! {
    /// Where one string lies.
    Placement = model::Placement {
        string: Id<StringMark> = string,
        tier: Count = tier,
        lane: Count = lane,
        front_mm: Millimetres = front,
        holds ["Vec::is_empty"]: Vec<RackRef> = holds,
        rests_on ["Option::is_none"]: Option<RackSpan> = rests_on,
        locked ["is_off"]: bool = locked,
    }
}

/// One step of a drop, as in `Off(strings: ["A1"])`; two strings are a pair.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "WrittenStep", into = "WrittenStep")]
pub(crate) struct Step(model::Step);

/// A step as it is written.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename = "Step", deny_unknown_fields)]
enum WrittenStep {
    Off {
        strings: Vec<Id<StringMark>>,
        #[serde(default, skip_serializing_if = "is_off")]
        together: bool,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        toward: Option<TrainEnd>,
    },
    On {
        strings: Vec<Id<StringMark>>,
        #[serde(default, skip_serializing_if = "is_off")]
        together: bool,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        toward: Option<TrainEnd>,
    },
}

impl From<Step> for WrittenStep {
    fn from(Step(step): Step) -> Self {
        let model::Step { kind, strings, toward } = step;
        let together = matches!(strings, StepStrings::Pair { together: true, .. });
        let strings = strings.marks().map(Id::of).collect();
        let toward = FileOf::of(&toward);
        match kind {
            model::StepKind::Off => Self::Off { strings, together, toward },
            model::StepKind::On => Self::On { strings, together, toward },
        }
    }
}

impl TryFrom<WrittenStep> for Step {
    type Error = String;

    fn try_from(written: WrittenStep) -> Result<Self, String> {
        let (kind, strings, together, toward) = match written {
            WrittenStep::Off { strings, together, toward } => {
                (model::StepKind::Off, strings, together, toward)
            }
            WrittenStep::On { strings, together, toward } => (model::StepKind::On, strings, together, toward),
        };
        let refused = |what: &str, mend: &str| format!("{what}{}{mend}", super::MEND_MARK);
        let mut marks = strings.into_iter().map(FileOf::into_model);
        let strings = match (marks.next(), marks.next(), marks.next()) {
            (Some(_), None, None) if together => {
                return Err(refused(
                    "one string cannot leave together",
                    "name the other string, or take `together` away",
                ));
            }
            (Some(mark), None, None) => StepStrings::One(mark),
            (Some(first), Some(second), None) => StepStrings::Pair { first, second, together },
            (None, ..) => {
                return Err(refused("the step moves no string", "name one string, or the two of a pair"));
            }
            _ => {
                return Err(refused(
                    "the step moves more than two strings",
                    "split it into steps of one string or one pair",
                ));
            }
        };
        Ok(Self(model::Step { kind, strings, toward: toward.into_model() }))
    }
}

impl FileOf<model::Step> for Step {
    fn of(model: &model::Step) -> Self {
        Self(model.clone())
    }
    fn into_model(self) -> model::Step {
        self.0
    }
}

record! {
    /// A site at which the train gives or takes strings.
    Drop = model::Drop {
        name: Id<DropName> = name,
        place ["String::is_empty"]: String = place,
        toward: TrainEnd = toward,
        gap_between_mm ["Option::is_none"]: Option<Millimetres> = gap_between,
        possession_min ["Option::is_none"]: Option<Number> = possession_min,
        handling_min ["Option::is_none"]: Option<Number> = handling_min,
        chute_height_mm ["Option::is_none"]: Option<Millimetres> = chute_height,
        chute_roller_behind_mm ["Option::is_none"]: Option<Millimetres> = chute_roller_behind,
        chute_roller_lower_mm ["Option::is_none"]: Option<Millimetres> = chute_roller_lower,
        seat_offset_mm ["Option::is_none"]: Option<Millimetres> = seat_offset,
        steps ["Vec::is_empty"]: Vec<Step> = steps,
    }
}

record! {
    /// An accepted finding.
    Acceptance = model::Acceptance {
        check: String = check,
        things ["Vec::is_empty"]: Vec<String> = things,
        by: String = by,
        why: String = why,
        at: String = at,
        found ["Option::is_none"]: Option<Found> = found,
    }
}

/// What a finding said when it was accepted.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(crate) enum Found {
    Figures(Number, Number),
    Words(String),
}

impl FileOf<model::Found> for Found {
    fn of(model: &model::Found) -> Self {
        match model {
            model::Found::Figures { demand, capacity } => {
                Self::Figures(Number::of(demand), Number::of(capacity))
            }
            model::Found::Words(words) => Self::Words(words.clone()),
        }
    }
    fn into_model(self) -> model::Found {
        match self {
            Self::Figures(demand, capacity) => {
                model::Found::Figures { demand: demand.into_model(), capacity: capacity.into_model() }
            }
            Self::Words(words) => model::Found::Words(words),
        }
    }
}

record! {
    /// Where one string was really put.
    AsLoaded = model::AsLoaded {
        string: Id<StringMark> = string,
        tier: Count = tier,
        lane: Count = lane,
        front_mm: Millimetres = front,
        holds ["Vec::is_empty"]: Vec<RackRef> = holds,
        missing ["is_off"]: bool = missing,
        by: String = by,
        at: String = at,
    }
}

/// The part of a vehicle that stood on the scale.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub(crate) enum WeighedPart {
    Vehicle,
    Axle(Count),
    LeftWheel(Count),
    RightWheel(Count),
}

impl FileOf<model::WeighedPart> for WeighedPart {
    fn of(model: &model::WeighedPart) -> Self {
        match model {
            model::WeighedPart::Vehicle => Self::Vehicle,
            model::WeighedPart::Axle(axle) => Self::Axle(Count::of(axle)),
            model::WeighedPart::LeftWheel(axle) => Self::LeftWheel(Count::of(axle)),
            model::WeighedPart::RightWheel(axle) => Self::RightWheel(Count::of(axle)),
        }
    }
    fn into_model(self) -> model::WeighedPart {
        match self {
            Self::Vehicle => model::WeighedPart::Vehicle,
            Self::Axle(axle) => model::WeighedPart::Axle(axle.into_model()),
            Self::LeftWheel(axle) => model::WeighedPart::LeftWheel(axle.into_model()),
            Self::RightWheel(axle) => model::WeighedPart::RightWheel(axle.into_model()),
        }
    }
}

record! {
    /// One reading of a scale.
    Weighing = model::Weighing {
        vehicle: Id<VehicleMark> = vehicle,
        part: WeighedPart = part,
        kg: Number = kg,
        tolerance_share ["Option::is_none"]: Option<Number> = tolerance,
        by: String = by,
        at: String = at,
    }
}

record! {
    /// A sign-off.
    Signature = model::Signature {
        by: String = by,
        at: String = at,
        hash: String = hash,
    }
}
