//! The first fields of a new vehicle type, rack type, section or steel: what must be known before there can be one at all.
//!
//! Nothing is filled in beforehand, so that no dimension and no mass stands in a plan that nobody typed.

use crate::gui::entered::{read, reader_unit};
use crate::gui::{Role, Shown};
use crate::model::{
    RackKind, RackType, RackTypeName, RailSection, RunningGear, SectionName, Source, Steel, SteelName,
    Sureness, Tier, VehicleKind, VehicleType, VehicleTypeName,
};
use crate::units::{Style, parse_length, parse_mass_kg, parse_number};
use egui::{Grid, Id, TextEdit, Ui};

/// A field: its name, and the unit that its number is kept in; none for names and for what names its unit itself.
type Field = (&'static str, &'static str);

const VEHICLE_FIELDS: [Field; 6] = [
    ("Name of the type", ""),
    ("Length over buffers", ""),
    ("Between pivots, or wheelbase of two axles", ""),
    ("Bogie wheelbase (empty: two axles)", ""),
    ("Between wheel contacts", "mm"),
    ("Tare", ""),
];
const RACK_FIELDS: [Field; 3] = [
    ("Name of the type", ""),
    ("Lowest seat above the deck", "mm"),
    ("Lanes from the middle, parted by ;", "mm"),
];
const SECTION_FIELDS: [Field; 4] = [
    ("Name of the section", ""),
    ("Mass per length", "kg/m"),
    ("Area", "cm²"),
    ("Second moment, horizontal axis,", "cm⁴"),
];
const STEEL_FIELDS: [Field; 2] = [("Name of the steel", ""), ("Modulus of elasticity", "GPa")];

/// What stands before a field.
fn label_of((name, unit): Field, style: Style) -> String {
    match unit {
        "" => name.to_owned(),
        unit => format!("{name} in {}", reader_unit(unit, style).1),
    }
}

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
            wheel_contact_mm: read(contact, "mm", shown.style)
                .map_err(|error| format!("wheel contacts: {error}"))?,
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
        let seat_above_deck_mm = read(seat, "mm", shown.style).map_err(|error| format!("seat: {error}"))?;
        Ok(RackType {
            name: RackTypeName::new(name.trim()).map_err(|error| error.to_string())?,
            kind: RackKind::Roller,
            tiers: vec![Tier { seat_above_deck_mm, clear_mm: None }],
            lanes_y_mm: super::type_forms::read_lanes(lanes, shown.style)?,
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
        let number = |what: &str, text: &str, unit: &str| {
            read(text, unit, shown.style).map_err(|error| format!("{what}: {error}"))
        };
        Ok(RailSection {
            name: SectionName::new(name.trim()).map_err(|error| error.to_string())?,
            mass_kg_per_m: number("mass per length", mass, "kg/m")?,
            area_cm2: number("area", area, "cm²")?,
            ix_cm4: number("second moment", ix, "cm⁴")?,
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
    fields: [Field; N],
    made_of: impl FnOnce(&[String; N]) -> Result<T, String>,
) -> Option<T> {
    let id = Id::unique(("draft of a type", fields[0].0, N));
    let (mut texts, mut refused) = ui
        .data(|data| data.get_temp::<(Vec<String>, String)>(id))
        .unwrap_or_else(|| (vec![String::new(); N], String::new()));
    Grid::new(id).num_columns(2).spacing([10.0, 4.0]).show(ui, |ui| {
        for (field, text) in fields.into_iter().zip(&mut texts) {
            let name = label_of(field, shown.style);
            ui.label(name.as_str());
            ui.add(TextEdit::singleline(text).desired_width(160.0)).accessible_name(name);
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
        match made_of(texts) {
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
