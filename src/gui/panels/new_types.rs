//! The first fields of a new vehicle type, rack type, section or steel: what must be known before there can be one at all.
//!
//! Nothing is filled in beforehand, so that no dimension and no mass stands in a plan that nobody typed.

use crate::gui::{Role, Shown};
use crate::model::{
    RackKind, RackType, RackTypeName, RailSection, RunningGear, SectionName, Source, Steel, SteelName,
    Sureness, Tier, VehicleKind, VehicleType, VehicleTypeName,
};
use crate::units::{parse_length, parse_mass_kg, parse_number};
use egui::{Grid, Id, TextEdit, Ui};

const VEHICLE_FIELDS: [&str; 6] = [
    "Name of the type",
    "Length over buffers",
    "Between pivots, or wheelbase of two axles",
    "Bogie wheelbase (empty: two axles)",
    "Between wheel contacts in mm",
    "Tare",
];
const RACK_FIELDS: [&str; 3] =
    ["Name of the type", "Lowest seat above the deck in mm", "Lanes from the middle in mm, parted by ;"];
const SECTION_FIELDS: [&str; 4] = [
    "Name of the section",
    "Mass per length in kg/m",
    "Area in cm2",
    "Second moment, horizontal axis, in cm4",
];
const STEEL_FIELDS: [&str; 2] = ["Name of the steel", "Modulus of elasticity in GPa"];

/// Draws the first fields of a vehicle type; gives the type once all are read.
pub(super) fn vehicle_ui(ui: &mut Ui, shown: &Shown<'_>) -> Option<VehicleType> {
    drafts_ui(ui, shown, VEHICLE_FIELDS, |texts| {
        let units = shown.style.units;
        let [name, length, support, bogie, contact, tare] = texts;
        let length_of =
            |what: &str, text: &str| parse_length(text, units).map_err(|error| format!("{what}: {error}"));
        let support = length_of("distance", support)?;
        let gear = if bogie.trim().is_empty() {
            RunningGear::TwoAxle { wheelbase: support }
        } else {
            let bogie_wheelbase = length_of("bogie wheelbase", bogie)?;
            RunningGear::Bogies { pivot_distance: support, axles_per_bogie: 2, bogie_wheelbase }
        };
        Ok(VehicleType {
            name: VehicleTypeName::new(name.trim()).map_err(|error| error.to_string())?,
            kind: VehicleKind::Wagon,
            length: length_of("length", length)?,
            gear,
            wheel_contact_mm: parse_number(contact).map_err(|error| format!("wheel contacts: {error}"))?,
            tare_kg: parse_mass_kg(tare, units).map_err(|error| format!("tare: {error}"))?,
            tare_front_kg: None,
            tare_y_mm: 0.0,
            tare_cog_height_mm: None,
            deck_height: None,
            payload_rating_kg: None,
            bogie_rating_kg: None,
            axle_rating_kg: None,
            wheel_rating_kg: None,
            axle_braking_rating_kg: None,
            coupling_rating_n: None,
            coupling_height: None,
            braked_weight_kg: None,
            least_radius_m: None,
            springs: None,
            racks: Vec::new(),
            end_stops: Vec::new(),
            source: entered(),
        })
    })
}

/// Draws the first fields of a rack type; gives the type once all are read.
pub(super) fn rack_ui(ui: &mut Ui, shown: &Shown<'_>) -> Option<RackType> {
    drafts_ui(ui, shown, RACK_FIELDS, |texts| {
        let [name, seat, lanes] = texts;
        let seat_above_deck_mm = parse_number(seat).map_err(|error| format!("seat: {error}"))?;
        Ok(RackType {
            name: RackTypeName::new(name.trim()).map_err(|error| error.to_string())?,
            kind: RackKind::Roller,
            tiers: vec![Tier { seat_above_deck_mm, clear_mm: None }],
            lanes_y_mm: super::type_forms::read_lanes(lanes)?,
            pocket_width_mm: None,
            side_play_mm: None,
            pocket_rating_kg: None,
            tier_rating_kg: None,
            rack_rating_kg: None,
            side_rating_n: None,
            friction: None,
            hold_rating_n: None,
            tier_access: None,
            source: entered(),
        })
    })
}

/// Draws the first fields of a rail section; gives the section once all are read.
pub(super) fn section_ui(ui: &mut Ui, shown: &Shown<'_>) -> Option<RailSection> {
    drafts_ui(ui, shown, SECTION_FIELDS, |texts| {
        let [name, mass, area, ix] = texts;
        let number = |what: &str, text: &str| parse_number(text).map_err(|error| format!("{what}: {error}"));
        Ok(RailSection {
            name: SectionName::new(name.trim()).map_err(|error| error.to_string())?,
            mass_kg_per_m: number("mass per length", mass)?,
            area_cm2: number("area", area)?,
            ix_cm4: number("second moment", ix)?,
            iy_cm4: None,
            height_mm: None,
            foot_mm: None,
            head_mm: None,
            web_mm: None,
            neutral_axis_mm: None,
            wx_head_cm3: None,
            wx_foot_cm3: None,
            wy_foot_cm3: None,
            source: entered(),
        })
    })
}

/// Draws the first fields of a steel; gives the steel once all are read.
pub(super) fn steel_ui(ui: &mut Ui, shown: &Shown<'_>) -> Option<Steel> {
    drafts_ui(ui, shown, STEEL_FIELDS, |texts| {
        let [name, modulus] = texts;
        Ok(Steel {
            name: SteelName::new(name.trim()).map_err(|error| error.to_string())?,
            modulus_gpa: parse_number(modulus).map_err(|error| format!("modulus: {error}"))?,
            expansion_1e6_per_k: None,
            density_kg_per_m3: None,
            tensile_mpa: None,
            yield_mpa: None,
            handling_mpa: None,
            source: entered(),
        })
    })
}

/// Fields that are kept while they are typed, and a button that reads them all.
fn drafts_ui<T, const N: usize>(
    ui: &mut Ui,
    shown: &Shown<'_>,
    names: [&str; N],
    read: impl FnOnce(&[String; N]) -> Result<T, String>,
) -> Option<T> {
    let id = Id::unique(("draft of a type", names[0], N));
    let (mut texts, mut refused) = ui
        .data(|data| data.get_temp::<(Vec<String>, String)>(id))
        .unwrap_or_else(|| (vec![String::new(); N], String::new()));
    Grid::new(id).num_columns(2).spacing([10.0, 4.0]).show(ui, |ui| {
        for (name, text) in names.iter().zip(&mut texts) {
            ui.label(*name);
            ui.add(TextEdit::singleline(text).desired_width(160.0)).accessible_name(*name);
            ui.end_row();
        }
    });
    ui.weak("Everything else is entered after that; what is not entered leaves its checks undecided.");
    if !refused.is_empty() {
        ui.colored_label(shown.theme.color(Role::Fail), &refused);
    }
    let mut made = None;
    if ui.button("Add it").clicked()
        && let Some(texts) = texts.first_chunk::<N>()
    {
        match read(texts) {
            Ok(row) => made = Some(row),
            Err(reason) => refused = reason,
        }
    }
    if made.is_some() {
        ui.data_mut(|data| data.remove_temp::<(Vec<String>, String)>(id));
    } else {
        ui.data_mut(|data| data.insert_temp(id, (texts, refused)));
    }
    made
}

fn entered() -> Source {
    Source { text: "entered by hand".to_owned(), sure: Sureness::Entered }
}
