//! One difference between what two plans say, and the thing that it is about.

use crate::model::{
    DropName, LimitKind, RackTypeName, SectionName, SteelName, StringMark, VehicleMark, VehicleTypeName,
};
use crate::units::{Quantity, Text};

/// A part of the plan, in the order in which differences are told.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ChangeTopic {
    /// Where strings lie and are held.
    Places,
    /// The order.
    Order,
    /// Drops and their steps.
    Drops,
    /// The row of vehicles, and what stands beyond it.
    Train,
    /// Vehicle and rack types.
    Types,
    /// Rail sections and steels.
    Sections,
    /// Limits.
    Limits,
    /// Route, and what is asked to be judged.
    Route,
    /// Accepted findings, what was loaded, weighings, signatures.
    Records,
    /// Title, notes, units.
    Plan,
}

impl ChangeTopic {
    /// All topics in the order in which they are told.
    pub const ALL: [Self; 10] = [
        Self::Places,
        Self::Order,
        Self::Drops,
        Self::Train,
        Self::Types,
        Self::Sections,
        Self::Limits,
        Self::Route,
        Self::Records,
        Self::Plan,
    ];

    /// What a reader calls it; in small letters also the JSON value.
    pub fn title(self) -> &'static str {
        match self {
            Self::Places => "Where strings lie",
            Self::Order => "Order",
            Self::Drops => "Drops",
            Self::Train => "Train",
            Self::Types => "Types",
            Self::Sections => "Sections and steels",
            Self::Limits => "Limits",
            Self::Route => "Route",
            Self::Records => "Records",
            Self::Plan => "Plan",
        }
    }
}

/// What differs, by its name or mark, never by its index.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ChangedThing {
    /// A string.
    String(StringMark),
    /// A vehicle.
    Vehicle(VehicleMark),
    /// A vehicle type.
    VehicleType(VehicleTypeName),
    /// A rack type.
    RackType(RackTypeName),
    /// A rail section.
    Section(SectionName),
    /// A steel.
    Steel(SteelName),
    /// A drop.
    Drop(DropName),
    /// A limit.
    Limit(LimitKind),
    /// The train as a whole.
    Train,
    /// The route.
    Route,
    /// An accepted finding: the check's id, and the things as the finding names them.
    Finding(String, Vec<String>),
    /// A signature, by who signed.
    Signature(String),
    /// The plan as a whole.
    Plan,
}

impl ChangedThing {
    /// Its name as findings and JSON write it, such as `string S1`.
    pub fn name(&self) -> String {
        match self {
            Self::String(mark) => format!("string {mark}"),
            Self::Vehicle(mark) => format!("vehicle {mark}"),
            Self::VehicleType(name) => format!("vehicle type {name}"),
            Self::RackType(name) => format!("rack type {name}"),
            Self::Section(name) => format!("section {name}"),
            Self::Steel(name) => format!("steel {name}"),
            Self::Drop(name) => format!("drop {name}"),
            Self::Limit(kind) => format!("limit {}", kind.title()),
            Self::Train => "train".to_owned(),
            Self::Route => "route".to_owned(),
            Self::Finding(check, things) => format!("{}: {}", check.replace('-', " "), things.join(", ")),
            Self::Signature(by) => format!("signature of {by}"),
            Self::Plan => "plan".to_owned(),
        }
    }
}

/// One difference between two plans.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    /// The part of the plan.
    pub topic: ChangeTopic,
    /// The thing.
    pub thing: ChangedThing,
    /// What of it, such as `front end`.
    pub aspect: String,
    /// How it was; none: there was no such thing.
    pub before: Option<Text>,
    /// How it is; none: there is no such thing any more.
    pub after: Option<Text>,
    /// For numbers of both sides: after less before, in the SI unit of its kind.
    pub by: Option<Quantity>,
}

/// A row of one of the plan's lists that came, went, moved or differs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ChangeKind {
    /// It was not there before.
    Added,
    /// It is not there any more.
    Removed,
    /// It is there on both sides and differs.
    Changed,
}

impl ChangeKind {
    /// One word for a reader; also the JSON value.
    pub fn word(self) -> &'static str {
        match self {
            Self::Added => "added",
            Self::Removed => "removed",
            Self::Changed => "changed",
        }
    }
}

/// What is said of a placement that stands elsewhere in the plan's list.
pub(super) const PLACE_IN_LIST: &str = "place in the list of placements";

impl Change {
    /// Whether a string lies or is held otherwise on the train; its line elsewhere in the plan's list is no such
    /// change.
    pub fn is_on_train(&self) -> bool {
        self.topic == ChangeTopic::Places && self.aspect != PLACE_IN_LIST
    }

    /// Whether all that differs is where the line of a placement stands in the plan's list.
    pub fn is_of_list_only(&self) -> bool {
        self.topic == ChangeTopic::Places && self.aspect == PLACE_IN_LIST
    }

    /// Whether the thing came, went or differs.
    pub fn kind(&self) -> ChangeKind {
        match (&self.before, &self.after) {
            (None, _) => ChangeKind::Added,
            (_, None) => ChangeKind::Removed,
            _ => ChangeKind::Changed,
        }
    }
}
