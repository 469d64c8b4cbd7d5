//! Version 1 of the plan file: its types, frozen. Once released, no field here changes its name or meaning.
//!
//! Separate from the model, so that the model can move on; every model field has its place here
//! (the conversions take each model struct apart in full, so a new field does not compile until it has one).

mod loading;
mod macros;
mod material;
mod order_table;
mod route;
mod train;
mod value;

pub(crate) use loading::{Acceptance, AsLoaded, Drop, Placement, Signature, Weighing};
pub(crate) use material::{OrderedString, RailSection, Source, Steel};
pub(crate) use order_table::OrderTable;
pub(crate) use route::{Accelerations, GaugeLine, LimitTable, LineClass, Route};
pub(crate) use train::{RackType, Train, VehicleType};
pub(crate) use value::{Count, FileOf, MEND_MARK, Number};

use crate::model;
use crate::units::UnitSystem;
use macros::words;
use serde::{Deserialize, Serialize};

/// The version that this module reads and writes.
pub(crate) const VERSION: u32 = 1;

words! {
    /// The units of reports and windows; a file's own values are always metric.
    Units = UnitSystem { Metric, UsCustomary }
}

/// The whole file.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Plan {
    version: Count,
    title: String,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    notes: String,
    units: Units,
    train: Train,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    sections: Vec<RailSection>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    steels: Vec<Steel>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    order: Vec<OrderedString>,
    #[serde(default, skip_serializing_if = "OrderTable::is_empty")]
    order_table: OrderTable,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    placements: Vec<Placement>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    drops: Vec<Drop>,
    #[serde(default)]
    route: Route,
    #[serde(default)]
    limits: LimitTable,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    accepted: Vec<Acceptance>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    as_loaded: Vec<AsLoaded>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    weighings: Vec<Weighing>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    signatures: Vec<Signature>,
}

impl FileOf<model::Plan> for Plan {
    fn of(plan: &model::Plan) -> Self {
        let model::Plan {
            title,
            notes,
            units,
            train,
            sections,
            steels,
            order,
            order_table,
            placements,
            drops,
            route,
            limits,
            accepted,
            as_loaded,
            weighings,
            signatures,
        } = plan;
        Self {
            version: Count::of(&VERSION),
            title: title.clone(),
            notes: notes.clone(),
            units: FileOf::of(units),
            train: FileOf::of(train),
            sections: FileOf::of(sections),
            steels: FileOf::of(steels),
            order: FileOf::of(order),
            order_table: FileOf::of(order_table),
            placements: FileOf::of(placements),
            drops: FileOf::of(drops),
            route: FileOf::of(route),
            limits: FileOf::of(limits),
            accepted: FileOf::of(accepted),
            as_loaded: FileOf::of(as_loaded),
            weighings: FileOf::of(weighings),
            signatures: FileOf::of(signatures),
        }
    }

    fn into_model(self) -> model::Plan {
        model::Plan {
            title: self.title,
            notes: self.notes,
            units: self.units.into_model(),
            train: self.train.into_model(),
            sections: self.sections.into_model(),
            steels: self.steels.into_model(),
            order: self.order.into_model(),
            order_table: self.order_table.into_model(),
            placements: self.placements.into_model(),
            drops: self.drops.into_model(),
            route: self.route.into_model(),
            limits: self.limits.into_model(),
            accepted: self.accepted.into_model(),
            as_loaded: self.as_loaded.into_model(),
            weighings: self.weighings.into_model(),
            signatures: self.signatures.into_model(),
        }
    }
}
