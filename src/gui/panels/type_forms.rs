//! The forms of a vehicle type and of a rack type, with every rating; an empty rating is not entered.

use super::springs_form::springs_ui;
use crate::edit::{Edit, Rows};
use crate::gui::entered;
use crate::gui::fields::{
    Entry, Spec, choice_ui, form_grid, heading_ui, length_ui, live, name_ui, number_ui, pick_ui, quantity_ui,
    some_length_ui, some_number_ui, some_quantity_ui, typed_ui, words_ui,
};
use crate::gui::{Request, Shown};
use crate::model::{
    EndStop, RackKind, RackOnDeck, RackType, RunningGear, Source, Sureness, Tier, TierAccess, VehicleKind,
    VehicleType,
};
use crate::units::{Length, Quantity, QuantityKind, Style};
use egui::Ui;

/// A row of a form: a label, and a field that may change the row being edited.
macro_rules! row {
    ($ui:expr, $label:expr, |$inner:ident| $field:expr) => {{
        crate::gui::glossary::term_ui($ui, $label);
        let changed = $ui.horizontal(|$inner| $field).inner;
        $ui.end_row();
        changed
    }};
}

/// Draws the form of a vehicle type, by index.
pub(super) fn vehicle_type_ui(ui: &mut Ui, shown: &Shown<'_>, index: usize, requests: &mut Vec<Request>) {
    let Some(kind) = shown.settled.plan.train.vehicle_types.get(index) else { return };
    let mut to = kind.clone();
    let entry = live(ui, |ui| {
        ui.push_id(("vehicle type", kind.name.as_str()), |ui| {
            form_grid(("vehicle type", index)).show(ui, |ui| body_ui(ui, shown.style, &mut to));
            heading_ui(ui, "Ratings");
            form_grid(("vehicle ratings", index)).show(ui, |ui| ratings_ui(ui, shown.style, &mut to));
            springs_ui(ui, shown.style, &mut to.springs);
            heading_ui(ui, "Racks on the deck");
            racks_on_deck_ui(ui, shown, &mut to);
            heading_ui(ui, "Fixed end stops");
            end_stops_ui(ui, shown.style, &mut to);
            source_ui(ui, &mut to.source);
        });
    });
    if to != *kind {
        requests.push(asked(entry, Edit::VehicleTypes(Rows::Change { name: kind.name.clone(), to })));
    }
}

fn body_ui(ui: &mut Ui, style: Style, to: &mut VehicleType) {
    let length = |ui: &mut Ui, name: &str, value: &mut Length| {
        let given = row!(ui, name, |ui| length_ui(ui, Spec::new(name), *value, style));
        given.into_iter().for_each(|given| *value = given);
    };
    if let Some(name) =
        row!(ui, "Type name", |ui| name_ui(ui, Spec::new("Type name").wide(140.0), to.name.as_str()))
    {
        to.name = name;
    }
    let kinds = [
        (VehicleKind::Wagon, "wagon"),
        (VehicleKind::Engine, "engine"),
        (VehicleKind::Idler, "idler (carries nothing)"),
    ];
    if let Some(kind) = row!(ui, "Kind", |ui| choice_ui(ui, Spec::new("Kind"), to.kind, &kinds)) {
        to.kind = kind;
    }
    length(ui, "Length over buffers", &mut to.length);
    gear_ui(ui, style, &mut to.gear);
    let contact = (to.wheel_contact_mm, "mm");
    if let Some(mm) = row!(ui, "Between wheel contacts", |ui| {
        number_ui(ui, Spec::new("Between wheel contacts"), contact, style)
    }) {
        to.wheel_contact_mm = mm;
    }
    if let Some(kg) =
        row!(ui, "Tare", |ui| { quantity_ui(ui, Spec::new("Tare"), Quantity::mass(to.tare_kg), style) })
    {
        to.tare_kg = kg;
    }
    let optional = |ui: &mut Ui, name: &str, value: &mut Option<f64>| {
        let now = (*value, QuantityKind::Mass);
        let given = row!(ui, name, |ui| some_quantity_ui(ui, Spec::new(name), now, style));
        given.into_iter().for_each(|given| *value = given);
    };
    optional(ui, "Tare on the front", &mut to.tare_front_kg);
    if let Some(mm) = row!(ui, "Tare centre to the right", |ui| {
        number_ui(ui, Spec::new("Tare centre to the right"), (to.tare_y_mm, "mm"), style)
    }) {
        to.tare_y_mm = mm;
    }
    if let Some(mm) = row!(ui, "Tare centre above rail", |ui| {
        some_number_ui(ui, Spec::new("Tare centre above rail"), (to.tare_cog_height_mm, "mm"), style)
    }) {
        to.tare_cog_height_mm = mm;
    }
    if let Some(height) = row!(ui, "Deck above rail", |ui| some_length_ui(
        ui,
        Spec::new("Deck above rail"),
        to.deck_height,
        style
    )) {
        to.deck_height = height;
    }
}

fn gear_ui(ui: &mut Ui, style: Style, gear: &mut RunningGear) {
    let axles = match gear {
        RunningGear::TwoAxle { .. } => 1,
        RunningGear::Bogies { axles_per_bogie, .. } => *axles_per_bogie,
    };
    let choices = [(1, "two axles"), (2, "bogies of two axles"), (3, "bogies of three axles")];
    let chosen = row!(ui, "Running gear", |ui| {
        choice_ui(ui, Spec::new("Running gear").wide(140.0), axles, &choices)
    });
    let support = gear.support_distance();
    match chosen {
        Some(1) => *gear = RunningGear::TwoAxle { wheelbase: support },
        Some(axles_per_bogie) => {
            let bogie_wheelbase = match gear {
                RunningGear::Bogies { bogie_wheelbase, .. } => *bogie_wheelbase,
                RunningGear::TwoAxle { .. } => Length::from_mm(1_800),
            };
            *gear = RunningGear::Bogies { pivot_distance: support, axles_per_bogie, bogie_wheelbase };
        }
        None => {}
    }
    let length = |ui: &mut Ui, name: &str, value: &mut Length| {
        let given = row!(ui, name, |ui| length_ui(ui, Spec::new(name), *value, style));
        given.into_iter().for_each(|given| *value = given);
    };
    match gear {
        RunningGear::TwoAxle { wheelbase } => length(ui, "Wheelbase", wheelbase),
        RunningGear::Bogies { pivot_distance, bogie_wheelbase, .. } => {
            length(ui, "Between pivots", pivot_distance);
            length(ui, "Bogie wheelbase", bogie_wheelbase);
        }
    }
}

fn ratings_ui(ui: &mut Ui, style: Style, to: &mut VehicleType) {
    let optional = |ui: &mut Ui, name: &str, value: &mut Option<f64>, kind| {
        let now = (*value, kind);
        let given = row!(ui, name, |ui| some_quantity_ui(ui, Spec::new(name), now, style));
        given.into_iter().for_each(|given| *value = given);
    };
    optional(ui, "Load", &mut to.payload_rating_kg, QuantityKind::Mass);
    if matches!(to.gear, RunningGear::Bogies { .. }) {
        optional(ui, "Bogie", &mut to.bogie_rating_kg, QuantityKind::Mass);
    }
    optional(ui, "Axle", &mut to.axle_rating_kg, QuantityKind::Mass);
    optional(ui, "Wheel", &mut to.wheel_rating_kg, QuantityKind::Mass);
    optional(ui, "Axle under braking", &mut to.axle_braking_rating_kg, QuantityKind::Mass);
    optional(ui, "Coupling force", &mut to.coupling_rating_n, QuantityKind::Force);
    if let Some(height) = row!(ui, "Coupling above rail", |ui| {
        some_length_ui(ui, Spec::new("Coupling above rail"), to.coupling_height, style)
    }) {
        to.coupling_height = height;
    }
    optional(ui, "Braked weight", &mut to.braked_weight_kg, QuantityKind::Mass);
    optional(ui, "Least radius", &mut to.least_radius_m, QuantityKind::Length);
}

fn racks_on_deck_ui(ui: &mut Ui, shown: &Shown<'_>, to: &mut VehicleType) {
    let names: Vec<String> = shown.plan.train.rack_types.iter().map(|kind| kind.name.to_string()).collect();
    let mut remove = None;
    form_grid("racks on deck").num_columns(4).show(ui, |ui| {
        for (at, rack) in to.racks.iter_mut().enumerate() {
            ui.push_id(at, |ui| {
                let now = names.iter().position(|name| name == rack.rack_type.as_str());
                let spec = Spec::new("Rack type");
                let kinds = &shown.plan.train.rack_types;
                if let Some(kind) = pick_ui(ui, spec, now, &names).and_then(|at| kinds.get(at)) {
                    rack.rack_type = kind.name.clone();
                }
            });
            ui.push_id(("at", at), |ui| {
                ui.horizontal(|ui| {
                    let spec = Spec::new("Rack from the middle, rearward").wide(60.0);
                    if let Some(place) = length_ui(ui, spec, rack.at, shown.style) {
                        rack.at = place;
                    }
                });
            });
            ui.push_id(("height", at), |ui| {
                ui.horizontal(|ui| {
                    let spec = Spec::new("Rack higher by").wide(36.0);
                    if let Some(mm) = number_ui(ui, spec, (rack.height_offset_mm, "mm up"), shown.style) {
                        rack.height_offset_mm = mm;
                    }
                });
            });
            let button = ui.small_button("x").accessible_name(format!("Remove rack {}", at + 1));
            if button.on_hover_text("Remove this rack").clicked() {
                remove = Some(at);
            }
            ui.end_row();
        }
    });
    if let Some(at) = remove {
        to.racks.remove(at);
    }
    let first = shown.plan.train.rack_types.first();
    if let Some(kind) = first
        && ui.small_button("Add a rack").clicked()
    {
        // Behind the last one, as far again as the last two are apart; the planner types the true place.
        let place = match to.racks.as_slice() {
            [] => Length::ZERO,
            [only] => only.at + Length::from_mm(5_000),
            [.., before, last] => last.at + last.at - before.at,
        };
        to.racks.push(RackOnDeck { rack_type: kind.name.clone(), at: place, height_offset_mm: 0.0 });
    }
    if first.is_none() {
        ui.weak("Add a rack type first.");
    }
}

fn end_stops_ui(ui: &mut Ui, style: Style, to: &mut VehicleType) {
    let mut remove = None;
    for (at, stop) in to.end_stops.iter_mut().enumerate() {
        ui.push_id(("stop", at), |ui| {
            ui.horizontal(|ui| {
                let spec = Spec::new("End stop from the middle, rearward").wide(60.0);
                if let Some(place) = length_ui(ui, spec, stop.at, style) {
                    stop.at = place;
                }
                if ui.small_button("x").accessible_name(format!("Remove end stop {}", at + 1)).clicked() {
                    remove = Some(at);
                }
            });
        });
    }
    if let Some(at) = remove {
        to.end_stops.remove(at);
    }
    if ui.small_button("Add an end stop").clicked() {
        to.end_stops.push(EndStop { at: to.length });
        // Half the length: its buffer face.
        if let Some(stop) = to.end_stops.last_mut() {
            stop.at = Length::from_mm(to.length.mm() / 2);
        }
    }
}

/// Where the figures come from, and how sure they are.
pub(super) fn source_ui(ui: &mut Ui, source: &mut Source) {
    heading_ui(ui, "Where the figures come from");
    let spec = Spec::new("Source").wide(220.0);
    if let Some(text) = words_ui(ui, spec, &source.text) {
        source.text = text;
    }
    let choices = Sureness::ALL.map(|sure| (sure, sure.words()));
    if let Some(sure) = choice_ui(ui, Spec::new("How sure").wide(180.0), source.sure, &choices) {
        source.sure = sure;
    }
}

/// Draws the form of a rack type, by index.
pub(super) fn rack_type_ui(ui: &mut Ui, shown: &Shown<'_>, index: usize, requests: &mut Vec<Request>) {
    let Some(kind) = shown.settled.plan.train.rack_types.get(index) else { return };
    let mut to = kind.clone();
    let entry = live(ui, |ui| {
        ui.push_id(("rack type", kind.name.as_str()), |ui| {
            form_grid(("rack type", index)).show(ui, |ui| rack_fields_ui(ui, shown.style, &mut to));
            heading_ui(ui, "Tiers, from the bottom");
            tiers_ui(ui, shown.style, &mut to);
            heading_ui(ui, "Ratings");
            form_grid(("rack ratings", index)).show(ui, |ui| rack_ratings_ui(ui, shown.style, &mut to));
            source_ui(ui, &mut to.source);
        });
    });
    if to != *kind {
        requests.push(asked(entry, Edit::RackTypes(Rows::Change { name: kind.name.clone(), to })));
    }
}

/// What is entered is made; what is only typed is shown.
fn asked(entry: Entry, edit: Edit) -> Request {
    match entry {
        Entry::Done => Request::Edit(edit),
        Entry::Typing => Request::Preview(Some(edit)),
    }
}

fn rack_fields_ui(ui: &mut Ui, style: Style, to: &mut RackType) {
    if let Some(name) =
        row!(ui, "Type name", |ui| name_ui(ui, Spec::new("Type name").wide(140.0), to.name.as_str()))
    {
        to.name = name;
    }
    let kinds =
        [(RackKind::Roller, "rollers"), (RackKind::Clamping, "can clamp"), (RackKind::Fixed, "fixed steel")];
    if let Some(kind) = row!(ui, "Kind", |ui| choice_ui(ui, Spec::new("Kind"), to.kind, &kinds)) {
        to.kind = kind;
    }
    let lanes = to.lanes_y_mm.iter().map(|mm| entered::shown(*mm, "mm", style));
    let lanes = lanes.collect::<Vec<_>>().join("; ");
    let given = row!(ui, "Lanes from the middle", |ui| {
        let spec = Spec::new("Lanes from the middle").wide(300.0);
        let given = typed_ui(ui, spec, &lanes, |text| read_lanes(text, style));
        ui.label(entered::reader_unit("mm, parted by ;", style).1);
        given
    });
    if let Some(lanes) = given {
        to.lanes_y_mm = lanes;
    }
    let optional = |ui: &mut Ui, name: &str, value: &mut Option<f64>, unit: &str| {
        let given = row!(ui, name, |ui| some_number_ui(ui, Spec::new(name), (*value, unit), style));
        given.into_iter().for_each(|given| *value = given);
    };
    optional(ui, "Pocket width", &mut to.pocket_width_mm, "mm");
    optional(ui, "Side play each way", &mut to.side_play_mm, "mm");
    optional(ui, "Friction", &mut to.friction, "");
    friction_menu_ui(ui, to);
    let access = [
        (None, "not entered"),
        (Some(TierAccess::AboveEmpty), "tiers above must be empty"),
        (Some(TierAccess::AnyTier), "any tier at any time"),
    ];
    if let Some(access) = row!(ui, "Reaching a tier", |ui| {
        choice_ui(ui, Spec::new("Reaching a tier").wide(170.0), to.tier_access, &access)
    }) {
        to.tier_access = access;
    }
}

/// Coefficients that have a source; one's own is typed.
fn friction_menu_ui(ui: &mut Ui, to: &mut RackType) {
    ui.label("");
    ui.menu_button("Friction from the catalogue", |ui| {
        for row in &crate::gui::samples::catalogue().friction {
            let words = format!("{}: {}", row.name, row.coefficient);
            if ui.button(words).on_hover_text(&row.source.text).clicked() {
                to.friction = Some(row.coefficient);
                ui.close();
            }
        }
    });
    ui.end_row();
}

/// Reads lane places parted by semicolons; they must grow from left to right.
pub(super) fn read_lanes(text: &str, style: Style) -> Result<Vec<f64>, String> {
    let lanes = text.split(';').map(|lane| entered::read(lane.trim(), "mm", style));
    let lanes = lanes.collect::<Result<Vec<f64>, _>>()?;
    match lanes.windows(2).all(|pair| pair[0] < pair[1]) {
        true => Ok(lanes),
        false => Err("lanes must grow from left to right; put the smallest place first".to_owned()),
    }
}

fn tiers_ui(ui: &mut Ui, style: Style, to: &mut RackType) {
    let last = to.tiers.len().saturating_sub(1);
    let mut remove = None;
    for (at, tier) in to.tiers.iter_mut().enumerate() {
        ui.push_id(("tier", at), |ui| {
            ui.horizontal(|ui| {
                ui.label(format!("{}: seat", at + 1));
                let spec = Spec::new("Seat above deck").wide(56.0);
                if let Some(mm) =
                    number_ui(ui, spec, (tier.seat_above_deck_mm, "mm above deck, clear"), style)
                {
                    tier.seat_above_deck_mm = mm;
                }
                let spec = Spec::new("Clear height").wide(90.0);
                if let Some(mm) = some_number_ui(ui, spec, (tier.clear_mm, "mm"), style) {
                    tier.clear_mm = mm;
                }
                if at == last && at > 0 {
                    let button = ui.small_button("x").accessible_name("Remove the top tier");
                    if button.on_hover_text("Remove the top tier").clicked() {
                        remove = Some(at);
                    }
                }
            });
        });
    }
    if let Some(at) = remove {
        to.tiers.remove(at);
    }
    if ui.small_button("Add a tier on top").clicked() {
        let (seat, clear_mm) = match to.tiers.as_slice() {
            [] => (0.0, None),
            [only] => (only.seat_above_deck_mm + 250.0, only.clear_mm),
            [.., below, top] => (2.0 * top.seat_above_deck_mm - below.seat_above_deck_mm, top.clear_mm),
        };
        to.tiers.push(Tier { seat_above_deck_mm: seat, clear_mm });
    }
}

fn rack_ratings_ui(ui: &mut Ui, style: Style, to: &mut RackType) {
    let optional = |ui: &mut Ui, name: &str, value: &mut Option<f64>, kind| {
        let now = (*value, kind);
        let given = row!(ui, name, |ui| some_quantity_ui(ui, Spec::new(name), now, style));
        given.into_iter().for_each(|given| *value = given);
    };
    optional(ui, "One pocket", &mut to.pocket_rating_kg, QuantityKind::Mass);
    optional(ui, "One tier", &mut to.tier_rating_kg, QuantityKind::Mass);
    optional(ui, "Whole rack", &mut to.rack_rating_kg, QuantityKind::Mass);
    optional(ui, "Sideways on the posts", &mut to.side_rating_n, QuantityKind::Force);
    optional(ui, "One hold", &mut to.hold_rating_n, QuantityKind::Force);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lanes_are_read_from_left_to_right_with_either_decimal_mark() {
        let read = |text| read_lanes(text, Style::default());
        assert_eq!(read("-600; 0; 600.5"), Ok(vec![-600.0, 0.0, 600.5]));
        assert_eq!(read("-0,5;0,5"), Ok(vec![-0.5, 0.5]));
        assert!(read("600; -600").is_err());
        assert!(read("0;").is_err());
        assert!(read("").is_err());
    }
}
