//! The catalogue that ships with the program, in the same rows as a plan's own copies.

use super::error::ReadError;
use super::explain::Written;
use super::read::{outline_of, text_of, typed};
use super::v1::{
    Accelerations, FileOf, GaugeLine, LimitTable, LineClass, Number, RackType, RailSection, Source, Steel,
    VehicleType,
};
use crate::model::{Catalogue, FrictionRow, LimitSet};
use serde::Deserialize;

/// The files of the catalogue.
const FILES: [&str; 4] = [
    include_str!("../../assets/catalogue/rails.ron"),
    include_str!("../../assets/catalogue/lines.ron"),
    include_str!("../../assets/catalogue/rules.ron"),
    include_str!("../../assets/catalogue/vehicles.ron"),
];

/// All rows that ship with the program, each with its source; no limit is accepted.
///
/// # Errors
/// A row that cannot be read; a test shows that there is none.
pub fn catalogue() -> Result<Catalogue, ReadError> {
    let mut all = Catalogue::default();
    for file in FILES {
        let text = text_of(file.as_bytes())?;
        let root = outline_of(text)?;
        let rows: Rows = typed(Written { text, root: &root })?;
        all.sections.extend(rows.sections.into_model());
        all.steels.extend(rows.steels.into_model());
        all.line_classes.extend(rows.line_classes.into_model());
        all.limit_sets.extend(rows.limit_sets.into_iter().map(LimitSetRow::into_model));
        all.accelerations.extend(rows.accelerations.into_model());
        all.friction.extend(rows.friction.into_iter().map(Friction::into_model));
        all.vehicle_types.extend(rows.vehicle_types.into_model());
        all.rack_types.extend(rows.rack_types.into_model());
        all.gauges.extend(rows.gauges.into_model());
    }
    Ok(all)
}

/// What a file of the catalogue may hold.
#[derive(Default, Deserialize)]
#[serde(default, deny_unknown_fields)]
struct Rows {
    sections: Vec<RailSection>,
    steels: Vec<Steel>,
    line_classes: Vec<LineClass>,
    limit_sets: Vec<LimitSetRow>,
    accelerations: Vec<Accelerations>,
    friction: Vec<Friction>,
    vehicle_types: Vec<VehicleType>,
    rack_types: Vec<RackType>,
    gauges: Vec<GaugeLine>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct LimitSetRow {
    name: String,
    about: String,
    limits: LimitTable,
}

impl LimitSetRow {
    fn into_model(self) -> LimitSet {
        let limits = self.limits.into_model().entries.into_iter().collect();
        LimitSet { name: self.name, about: self.about, limits }
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Friction {
    name: String,
    coefficient: Number,
    source: Source,
}

impl Friction {
    fn into_model(self) -> FrictionRow {
        FrictionRow {
            name: self.name,
            coefficient: self.coefficient.into_model(),
            source: self.source.into_model(),
        }
    }
}
