//! A vehicle or rack type as a picture beside its form: one vehicle of it alone, with nothing on it.

use crate::drawing::{Form, Picture, rack_face, train_side};
use crate::gui::canvas::picture_ui;
use crate::gui::{Selection, Shown};
use crate::model::{Limits, Plan, RackOnDeck, Route, Train, Vehicle, VehicleMark, VehicleType};
use crate::statics::{Figures, Scope};
use crate::units::Length;
use egui::{Rect, RichText, Ui, pos2};
use std::sync::Arc;

/// Draws a vehicle of the type with this index, and the face of its first rack, into all of `ui`.
pub(super) fn vehicle_picture_ui(ui: &mut Ui, shown: &Shown<'_>, kind: usize) {
    let Some(kind) = shown.plan.train.vehicle_types.get(kind) else { return };
    match lone(shown.plan, kind.clone()) {
        Some(figures) => figures_ui(ui, shown, &figures, Faces::SideAndRack),
        None => drop(ui.weak("It cannot be drawn yet.")),
    }
}

/// Draws the face of a rack of the type with this index, on a vehicle that has one, into all of `ui`.
pub(super) fn rack_picture_ui(ui: &mut Ui, shown: &Shown<'_>, kind: usize) {
    let train = &shown.plan.train;
    let Some(rack) = train.rack_types.get(kind) else { return };
    let carries = |kind: &&VehicleType| kind.racks.iter().any(|on_deck| on_deck.rack_type == rack.name);
    let Some(under) = train.vehicle_types.iter().find(carries).or(train.vehicle_types.first()) else {
        ui.weak("Add a vehicle type to see it on a deck.");
        return;
    };
    let on_deck = RackOnDeck { rack_type: rack.name.clone(), at: Length::ZERO, height_offset_mm: 0.0 };
    match lone(shown.plan, VehicleType { racks: vec![on_deck], ..under.clone() }) {
        Some(figures) => figures_ui(ui, shown, &figures, Faces::Rack),
        None => drop(ui.weak("It cannot be drawn yet.")),
    }
}

/// What is drawn of a vehicle.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Faces {
    Rack,
    SideAndRack,
}

/// A train of one vehicle of `kind` and nothing on it; none where that is no valid plan.
fn lone(plan: &Plan, kind: VehicleType) -> Option<Arc<Figures>> {
    let vehicle = Vehicle {
        mark: VehicleMark::new(kind.name.as_str()).ok()?,
        vehicle_type: kind.name.clone(),
        turned: false,
        tare_kg: None,
        height_offset_mm: 0.0,
    };
    let train = Train { vehicles: vec![vehicle], vehicle_types: vec![kind], ..plan.train.clone() };
    let lone = Plan {
        train,
        order: Vec::new(),
        placements: Vec::new(),
        drops: Vec::new(),
        route: Route::default(),
        limits: Limits::default(),
        accepted: Vec::new(),
        as_loaded: Vec::new(),
        weighings: Vec::new(),
        signatures: Vec::new(),
        ..plan.clone()
    };
    crate::model::problems(&lone).is_empty().then(|| Arc::new(Figures::of(Arc::new(lone), Scope::One(0))))
}

fn figures_ui(ui: &mut Ui, shown: &Shown<'_>, figures: &Arc<Figures>, faces: Faces) {
    let nothing = Selection::default();
    let shown =
        Shown { plan: &figures.plan, figures, settled: figures, selection: &nothing, state: 0, ..*shown };
    let whole = ui.available_rect_before_wrap();
    let name = ui.label(RichText::new("Drawn from the form, as typed").weak());
    let top = name.rect.bottom() + 4.0;
    let rest = Rect::from_min_max(pos2(whole.left(), top), whole.max);
    let middle = pos2(rest.left(), rest.top() + rest.height() * 0.4);
    let face = || rack_face(figures, 0, 0, shown.style);
    // The name of the only vehicle would stand over its wheels.
    let side = || {
        let mut picture = train_side(figures, 0, shown.style);
        picture.shapes.retain(|shape| !matches!(shape.form, Form::Text { .. }));
        picture
    };
    let drawn = |picture: &Picture| !picture.shapes.is_empty();
    match faces {
        Faces::Rack => picture_ui(ui, &shown, &face(), rest),
        Faces::SideAndRack if !drawn(&face()) => {
            picture_ui(ui, &shown, &side(), rest);
        }
        Faces::SideAndRack => {
            let (upper, lower) = (
                Rect::from_min_max(rest.min, pos2(rest.right(), middle.y)),
                Rect::from_min_max(middle, rest.max),
            );
            picture_ui(ui, &shown, &side(), upper);
            picture_ui(ui, &shown, &face(), lower);
        }
    }
}
