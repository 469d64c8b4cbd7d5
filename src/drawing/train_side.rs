//! The whole train seen from its left side.

use super::bars::{Load, figure, hanging, label};
use super::heights::{assumed_decks, deck_mm, rack_top_mm, side_band_mm, tier_mm};
use super::{Area, Form, Picture, Point, Role, Shape, TextSize, Thing};
use crate::model::{BeyondKind, Hold, TrainEnd, VehicleKind};
use crate::statics::{Figures, PlacedString, RackPlace, StateFigures, VehiclePlace};
use crate::units::{Length, Style};

/// Upper edge of the axle bars and their height at the whole rating, in mm.
const AXLE_BAR_MM: (f64, f64) = (-300.0, 1_500.0);
/// Where axle loads are written.
const AXLE_FIGURE_MM: (f64, f64) = (-2_750.0, -2_450.0);
/// Upper edge of the bogie bars and their height at the whole rating, in mm.
const BOGIE_BAR_MM: (f64, f64) = (-2_850.0, 600.0);
/// Where bogie loads are written.
const BOGIE_FIGURE_MM: (f64, f64) = (-4_050.0, -3_750.0);
/// Share of the picture's width that its height should be, heights exaggerated.
const SHAPE: f64 = 0.22;
// Sizes of what is only indicated: no plan enters them.
const WHEEL_RADIUS_MM: f64 = 460.0;
const BODY_DEPTH_MM: f64 = 350.0;
const BUFFER_MM: f64 = 600.0;
const ENGINE_TOP_MM: f64 = 3_800.0;
const COUPLING_MM: f64 = 1_060.0;
const POST_MM: f64 = 120.0;
const SEAT_REACH_MM: f64 = 300.0;
const HOLD_REACH_MM: f64 = 260.0;

/// The train in a state, front end at the left, true in length and height.
///
/// Across is x in the train, up is height above the rail; seen from the left side, so of the lanes of a tier
/// lane 1 is nearest and lowest ([`side_band_mm`](super::side_band_mm)). Below the rail hang the axle and
/// bogie loads as bars against their ratings (axles: the least of rating and line class). Bodies, wheels and
/// couplings are only indicated. In a state that `figures` did not work out the bars are missing.
pub fn train_side(figures: &Figures, state: usize, style: Style) -> Picture {
    let mut shapes = Vec::with_capacity(64 + 40 * figures.consist.vehicles.len());
    let loads = figures.state(state);
    let length_mm = mm(figures.consist.length);
    let rail = Form::Line(Point::new(-BUFFER_MM, 0.0), Point::new(length_mm + BUFFER_MM, 0.0));
    shapes.push(Shape { form: rail, role: Role::Rail, thing: None });
    for place in &figures.consist.vehicles {
        vehicle_shapes(&mut shapes, figures, place);
        if let Some(loads) = loads {
            load_shapes(&mut shapes, (figures, loads), place, style);
        }
    }
    for (index, rack) in figures.consist.racks.iter().enumerate() {
        let carries = loads.is_some_and(|loads| loads.rack_kg(index) > 0.0);
        rack_shapes(&mut shapes, figures, (index, rack), carries);
    }
    stop_shapes(&mut shapes, figures);
    for placed in figures.present(state) {
        string_shapes(&mut shapes, figures, placed);
    }
    let mut picture = Picture::of(shapes);
    let (width, height) = (picture.bounds.width_mm(), picture.bounds.height_mm());
    picture.vertical_exaggeration = if height > 0.0 { (SHAPE * width / height).max(1.0) } else { 1.0 };
    picture.assumed = assumed_decks(figures, style);
    picture
}

fn vehicle_shapes(shapes: &mut Vec<Shape>, figures: &Figures, place: &VehiclePlace) {
    let thing = Some(Thing::Vehicle(place.vehicle));
    let (front, rear) = (mm(place.front), mm(place.rear));
    let deck = deck_mm(figures, place.vehicle);
    let inset = BUFFER_MM.min((rear - front) / 10.0);
    let coupling = Form::Line(Point::new(front, COUPLING_MM), Point::new(rear, COUPLING_MM));
    shapes.push(Shape { form: coupling, role: Role::Coupling, thing });
    let (role, top) = match place.kind {
        VehicleKind::Engine => (Role::EngineBody, ENGINE_TOP_MM.max(deck)),
        VehicleKind::Wagon => (Role::WagonBody, deck),
        VehicleKind::Idler => (Role::IdlerBody, deck),
    };
    let body = Area::spanning((front + inset, rear - inset), (deck - BODY_DEPTH_MM, top));
    shapes.push(Shape { form: Form::Box(body), role, thing });
    let per_support = place.axles_per_support.max(1) as usize;
    for (support, axles) in place.axles_m.chunks(per_support).enumerate() {
        if let (Some(first), Some(last), true) = (axles.first(), axles.last(), per_support > 1) {
            let across = (first * 1000.0 - WHEEL_RADIUS_MM, last * 1000.0 + WHEEL_RADIUS_MM);
            let form = Form::Box(Area::spanning(across, (WHEEL_RADIUS_MM, WHEEL_RADIUS_MM + 180.0)));
            let thing = Some(Thing::Support { vehicle: place.vehicle, support });
            shapes.push(Shape { form, role: Role::Bogie, thing });
        }
    }
    for (axle, x_m) in place.axles_m.iter().enumerate() {
        let middle = Point::new(x_m * 1000.0, WHEEL_RADIUS_MM);
        let form = Form::Circle { middle, radius_mm: WHEEL_RADIUS_MM };
        let thing = Some(Thing::Axle { vehicle: place.vehicle, axle });
        shapes.push(Shape { form, role: Role::Wheel, thing });
    }
    if let Some(vehicle) = figures.plan.train.vehicles.get(place.vehicle) {
        let room = Area::spanning((front + inset, rear - inset), (150.0, deck - BODY_DEPTH_MM));
        shapes.push(label(vehicle.mark.to_string(), room, (Role::Label, TextSize::Normal), thing));
    }
}

fn load_shapes(
    shapes: &mut Vec<Shape>,
    (figures, loads): (&Figures, &StateFigures),
    place: &VehiclePlace,
    style: Style,
) {
    let kind = figures.plan.train.vehicle_types.get(place.vehicle_type);
    let (Some(kind), Some(loads)) = (kind, loads.vehicles.get(place.vehicle)) else { return };
    let near = figures.plan.limits.near_share();
    let class_kg = figures.plan.route.line_class.as_ref().map(|class| class.axle_kg);
    let per_support = place.axles_per_support.max(1) as usize;
    let pitch = least_pitch_mm(&place.axles_m);
    for (axle, x_m) in place.axles_m.iter().enumerate() {
        let Some(support) = loads.supports.get(axle / per_support) else { continue };
        let load = Load::against(support.axle_kg, &[kind.axle_rating_kg, class_kg], near);
        let thing = Thing::Axle { vehicle: place.vehicle, axle };
        let at =
            |width: f64, up| Area::spanning((x_m * 1000.0 - width / 2.0, x_m * 1000.0 + width / 2.0), up);
        hanging(shapes, &load, at(pitch * 0.5, band(AXLE_BAR_MM)), thing);
        shapes.push(figure(&load, at(pitch, AXLE_FIGURE_MM), style, thing));
    }
    if per_support == 1 {
        return;
    }
    for (support, axles) in place.axles_m.chunks(per_support).enumerate().take(2) {
        let (Some(first), Some(last)) = (axles.first(), axles.last()) else { continue };
        let load = Load::against(loads.supports[support].load_kg, &[kind.bogie_rating_kg], near);
        let thing = Thing::Support { vehicle: place.vehicle, support };
        let across = (first * 1000.0 - pitch * 0.25, last * 1000.0 + pitch * 0.25);
        hanging(shapes, &load, Area::spanning(across, band(BOGIE_BAR_MM)), thing);
        shapes.push(figure(&load, Area::spanning(across, BOGIE_FIGURE_MM), style, thing));
    }
}

fn rack_shapes(
    shapes: &mut Vec<Shape>,
    figures: &Figures,
    (index, rack): (usize, &RackPlace),
    carries: bool,
) {
    let Some(rack_type) = figures.plan.train.rack_types.get(rack.rack_type) else { return };
    let (x, deck) = (mm(rack.x), deck_mm(figures, rack.vehicle));
    let thing = Some(Thing::Rack(index));
    let post = Area::spanning((x - POST_MM / 2.0, x + POST_MM / 2.0), (deck, deck + rack_top_mm(rack_type)));
    let role = if carries { Role::RackCarrying } else { Role::Rack };
    shapes.push(Shape { form: Form::Box(post), role, thing });
    for (tier, _) in (1..).zip(&rack_type.tiers) {
        let Some((seat, _)) = tier_mm(rack_type, tier) else { continue };
        let from = Point::new(x - SEAT_REACH_MM, deck + seat);
        let form = Form::Line(from, Point::new(x + SEAT_REACH_MM, deck + seat));
        shapes.push(Shape { form, role: Role::Seat, thing });
    }
}

fn stop_shapes(shapes: &mut Vec<Shape>, figures: &Figures) {
    let height = (0.0, ENGINE_TOP_MM);
    let mut push = |form| shapes.push(Shape { form, role: Role::EndStop, thing: None });
    for stop in &figures.consist.end_stops {
        push(Form::Line(Point::new(mm(*stop), COUPLING_MM), Point::new(mm(*stop), height.1)));
    }
    let (train, length) = (&figures.plan.train, mm(figures.consist.length));
    let ends = [(train.front_beyond, 0.0, -1.0), (train.rear_beyond, length, 1.0)];
    for (beyond, face, outward) in ends {
        let x = face + outward * mm(beyond.distance);
        match beyond.kind {
            BeyondKind::Nothing => {}
            BeyondKind::EndStop => push(Form::Line(Point::new(x, height.0), Point::new(x, height.1))),
            BeyondKind::Vehicle => {
                let body = (COUPLING_MM - BODY_DEPTH_MM, ENGINE_TOP_MM);
                push(Form::Box(Area::spanning((x, x + outward * 2.0 * BUFFER_MM), body)));
            }
        }
    }
}

fn string_shapes(shapes: &mut Vec<Shape>, figures: &Figures, placed: &PlacedString) {
    let plan = &figures.plan;
    let (Some(string), Some(placement)) =
        (plan.order.get(placed.string), plan.placements.get(placed.placement))
    else {
        return;
    };
    let up = string_band_mm(figures, placed, (placement.tier, placement.lane));
    let thing = Some(Thing::String(placed.string));
    let drop = string.drop.as_ref().and_then(|name| plan.drops.iter().position(|drop| drop.name == *name));
    let (front, rear) = (mm(placed.front), mm(placed.rear));
    let racks = figures.consist.racks.get(placed.racks.clone()).unwrap_or_default();
    let mut part = |from: f64, to: f64, role| {
        if to > from {
            let form = Form::Box(Area::spanning((from, to), up));
            shapes.push(Shape { form, role, thing });
        }
    };
    match (racks.first(), racks.last(), &placed.beam) {
        (Some(first), Some(last), Ok(_)) => {
            part(front, mm(first.x), Role::Overhang(drop));
            part(mm(first.x), mm(last.x), Role::String(drop));
            part(mm(last.x), rear, Role::Overhang(drop));
        }
        _ => part(front, rear, Role::StringInTrouble),
    }
    for (x, end) in [(front, TrainEnd::Front), (rear, TrainEnd::Rear)] {
        let form = Form::Line(Point::new(x, up.0), Point::new(x, up.1));
        let thing = Some(Thing::StringEnd(placed.string, end));
        shapes.push(Shape { form, role: Role::StringEnd, thing });
    }
    for rack in placement.holds.iter().filter_map(|hold| rack_index(figures, hold)) {
        let Some(place) = figures.consist.racks.get(rack) else { continue };
        let across = (mm(place.x) - HOLD_REACH_MM, mm(place.x) + HOLD_REACH_MM);
        let thing = Some(Thing::Hold { string: placed.string, rack });
        shapes.push(Shape { form: Form::Box(Area::spanning(across, up)), role: Role::Hold, thing });
    }
    let room = Area::spanning((front, rear), up);
    shapes.push(label(string.mark.to_string(), room, (Role::Label, TextSize::Normal), thing));
}

/// Bottom and top of a string in mm: of its pocket at the first rack that has it, else above the decks.
fn string_band_mm(figures: &Figures, placed: &PlacedString, pocket: (u32, u32)) -> (f64, f64) {
    let (tier, lane) = pocket;
    let crossed = placed.racks.clone();
    let all = 0..figures.consist.racks.len().min(1);
    let band = crossed.chain(all).find_map(|rack| side_band_mm(figures, rack, tier, lane));
    band.unwrap_or_else(|| {
        let tops = figures.consist.racks.iter().filter_map(|rack| {
            let rack_type = figures.plan.train.rack_types.get(rack.rack_type)?;
            Some(deck_mm(figures, rack.vehicle) + rack_top_mm(rack_type))
        });
        let top = tops.fold(deck_mm(figures, 0), f64::max);
        (top + 100.0, top + 200.0)
    })
}

/// Index into the consist of the rack that a hold names.
fn rack_index(figures: &Figures, hold: &Hold) -> Option<usize> {
    let vehicle = figures.plan.train.vehicles.iter().position(|vehicle| vehicle.mark == hold.vehicle)?;
    let racks = figures.consist.vehicles.get(vehicle)?.racks.clone();
    let rack = racks.start + (hold.rack as usize).checked_sub(1)?;
    racks.contains(&rack).then_some(rack)
}

fn least_pitch_mm(axles_m: &[f64]) -> f64 {
    let pitches = axles_m.windows(2).filter_map(|pair| Some((pair.last()? - pair.first()?) * 1000.0));
    pitches.fold(2_000.0, f64::min)
}

fn band((top, height): (f64, f64)) -> (f64, f64) {
    (top - height, top)
}

fn mm(length: Length) -> f64 {
    length.mm() as f64
}
