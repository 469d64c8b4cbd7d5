//! Vehicles on a train side, and their loads as bars below the rail.

use super::bars::{Load, figure, hanging, label, second_mark, whisker};
use super::heights::{deck_mm, load_top_mm};
use super::{Area, Form, Point, Role, Shape, TextSize, Thing};
use crate::model::{Topic, VehicleKind};
use crate::statics::{Figures, StateFigures, SupportLoads, VehicleLoads, VehiclePlace};
use crate::units::{Length, Style};

/// Upper edge of the axle bars and their height at the whole rating, in mm.
const AXLE_BAR_MM: (f64, f64) = (-300.0, 1_500.0);
/// Where axle loads are written.
const AXLE_FIGURE_MM: (f64, f64) = (-2_750.0, -2_450.0);
/// Upper edge of the bogie bars and their height at the whole rating, in mm.
const BOGIE_BAR_MM: (f64, f64) = (-2_850.0, 600.0);
/// Where bogie loads are written.
const BOGIE_FIGURE_MM: (f64, f64) = (-4_050.0, -3_750.0);
// Sizes of what is only indicated: no plan enters them.
const WHEEL_RADIUS_MM: f64 = 460.0;
/// Depth of a wagon's frame below its deck.
pub(super) const BODY_DEPTH_MM: f64 = 350.0;
/// Length of a buffer.
pub(super) const BUFFER_MM: f64 = 600.0;
/// Height of an engine's roof, unless the load ends lower.
const ENGINE_TOP_MM: f64 = 3_800.0;
/// Height of couplings.
pub(super) const COUPLING_MM: f64 = 1_060.0;

/// A vehicle on its wheels, with its mark.
pub(super) fn vehicle_shapes(shapes: &mut Vec<Shape>, figures: &Figures, place: &VehiclePlace) {
    let thing = Some(Thing::Vehicle(place.vehicle));
    let (front, rear) = (mm(place.front), mm(place.rear));
    let deck = deck_mm(figures, place.vehicle);
    let inset = BUFFER_MM.min((rear - front) / 10.0);
    let coupling = Form::Line(Point::new(front, COUPLING_MM), Point::new(rear, COUPLING_MM));
    shapes.push(Shape { form: coupling, role: Role::Coupling, thing });
    let (role, top) = match place.kind {
        VehicleKind::Engine => (Role::EngineBody, roof_mm(figures).max(deck)),
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

/// The loads of its axles and bogies against their ratings, and in figures; where the plan asks for them a second
/// mark for the load on springs, and a whisker for the band of its tolerances.
pub(super) fn load_shapes(
    shapes: &mut Vec<Shape>,
    (figures, state): (&Figures, &StateFigures),
    place: &VehiclePlace,
    style: Style,
) {
    let kind = figures.plan.train.vehicle_types.get(place.vehicle_type);
    let (Some(kind), Some(loads)) = (kind, state.vehicles.get(place.vehicle)) else { return };
    let near = figures.plan.limits.near_share();
    let axle_ratings = figures.plan.axle_ratings_kg(kind);
    let (on_springs, bands) = (on_springs(figures, state.state), tolerance_bands(figures, state.state));
    let (on_springs, bands) = (
        on_springs.and_then(|loads| loads.get(place.vehicle)),
        bands.and_then(|bands| bands.get(place.vehicle)),
    );
    let per_support = place.axles_per_support.max(1) as usize;
    let pitch = least_pitch_mm(&place.axles_m);
    for (axle, x_m) in place.axles_m.iter().enumerate() {
        let at = axle / per_support;
        let Some(support) = loads.supports.get(at) else { continue };
        let load = Load::against(support.axle_kg, &axle_ratings, near);
        let thing = Thing::Axle { vehicle: place.vehicle, axle };
        let bar = axle_room(*x_m, pitch * 0.5, band(AXLE_BAR_MM));
        hanging(shapes, &load, bar, thing);
        if let Some(support) = on_springs.and_then(|loads| loads.supports.get(at)) {
            second_mark(shapes, &Load::against(support.axle_kg, &axle_ratings, near), bar, thing);
        }
        if let Some(band) = bands.and_then(|bands| bands.get(at)) {
            whisker(shapes, &load, band.axle_kg, bar, thing);
        }
        shapes.push(figure(&load, axle_room(*x_m, pitch, AXLE_FIGURE_MM), style, thing));
    }
    if per_support == 1 {
        return;
    }
    for (support, axles) in place.axles_m.chunks(per_support).enumerate().take(2) {
        let (Some(first), Some(last)) = (axles.first(), axles.last()) else { continue };
        let load = Load::against(loads.supports[support].load_kg, &[kind.bogie_rating_kg], near);
        let thing = Thing::Support { vehicle: place.vehicle, support };
        let across = (first * 1000.0 - pitch * 0.25, last * 1000.0 + pitch * 0.25);
        let bar = Area::spanning(across, band(BOGIE_BAR_MM));
        hanging(shapes, &load, bar, thing);
        if let Some(loads) = on_springs {
            let load = Load::against(loads.supports[support].load_kg, &[kind.bogie_rating_kg], near);
            second_mark(shapes, &load, bar, thing);
        }
        shapes.push(figure(&load, Area::spanning(across, BOGIE_FIGURE_MM), style, thing));
    }
}

/// Of each axle of a vehicle its support, the room of its bar, and its ratings.
pub(super) fn axle_bars(figures: &Figures, vehicle: usize) -> Vec<(usize, Area, [Option<f64>; 2])> {
    let Some(place) = figures.consist.vehicles.get(vehicle) else { return Vec::new() };
    let kind = figures.plan.train.vehicle_types.get(place.vehicle_type);
    let ratings = kind.map_or([None; 2], |kind| figures.plan.axle_ratings_kg(kind));
    let (per_support, pitch) = (place.axles_per_support.max(1) as usize, least_pitch_mm(&place.axles_m));
    let axles = place.axles_m.iter().enumerate();
    axles
        .map(|(axle, x_m)| (axle / per_support, axle_room(*x_m, pitch * 0.5, band(AXLE_BAR_MM)), ratings))
        .filter(|(support, ..)| *support < 2)
        .collect()
}

/// A room so wide under an axle.
fn axle_room(x_m: f64, width_mm: f64, up: (f64, f64)) -> Area {
    Area::spanning((x_m * 1000.0 - width_mm / 2.0, x_m * 1000.0 + width_mm / 2.0), up)
}

/// The vehicles of a state on springs; none where the plan does not ask for them, a rate is missing, or the state
/// found no rest.
pub fn on_springs(figures: &Figures, state: usize) -> Option<&[VehicleLoads]> {
    if !figures.plan.route.asked.contains(&Topic::Springs) {
        return None;
    }
    let springs = figures.springs().ok()?;
    let found = springs.states.iter().find(|found| found.loads.state == state && found.at_rest)?;
    Some(&found.loads.vehicles)
}

/// Half the width of the tolerance band of each load of a state; none where the plan does not ask for it, or a
/// spring rate that it needs is missing.
pub fn tolerance_bands(figures: &Figures, state: usize) -> Option<&[[SupportLoads; 2]]> {
    if !figures.plan.route.asked.contains(&Topic::Tolerances) {
        return None;
    }
    let nth = figures.worked.iter().position(|worked| worked.state == state)?;
    figures.tolerance_bands().ok()?.get(nth).map(Vec::as_slice)
}

/// Height that engines and stops are drawn to: heights of loads are exaggerated, and nobody looks for an engine's.
pub(super) fn roof_mm(figures: &Figures) -> f64 {
    load_top_mm(figures).map_or(ENGINE_TOP_MM, |top| top.min(ENGINE_TOP_MM))
}

/// The least distance between two axles of a vehicle in mm, at most 2 m.
pub(super) fn least_pitch_mm(axles_m: &[f64]) -> f64 {
    let pitches = axles_m.windows(2).filter_map(|pair| Some((pair.last()? - pair.first()?) * 1000.0));
    pitches.fold(2_000.0, f64::min)
}

fn band((top, height): (f64, f64)) -> (f64, f64) {
    (top - height, top)
}

/// A length in mm.
pub(super) fn mm(length: Length) -> f64 {
    length.mm() as f64
}

#[cfg(test)]
mod tests {
    use super::super::trial::{figures, places, texts};
    use super::super::{Picture, train_side};
    use super::*;
    use crate::checks::Outcome;
    use crate::fixtures::empty_plan;
    use crate::model::{Plan, RunningGear, Springs};

    fn side(plan: Plan) -> Picture {
        train_side(&figures(plan), 0, Style::default())
    }

    // An empty wagon of 24 t has 6 t on each axle: 6/22.5 of 1,500 mm is 400 mm; 12 t of 45 t on each bogie.
    #[test]
    fn axle_and_bogie_loads_hang_as_bars_against_their_ratings() {
        let picture = side(empty_plan(1));
        let bars = places(&picture, Role::LoadBar(Outcome::Pass));
        assert_eq!(bars.len(), 6);
        assert_eq!(bars[0][2..], [-700, -300]);
        assert_eq!(bars[4][2..], [-2_850 - 160, -2_850]);
        assert_eq!(texts(&picture).iter().filter(|words| **words == "6.00 t").count(), 4);
        assert_eq!(texts(&picture).iter().filter(|words| **words == "12.00 t").count(), 2);
    }

    #[test]
    fn a_rating_that_nobody_entered_leaves_the_bar_undecided() {
        let mut unrated = empty_plan(1);
        unrated.train.vehicle_types[0].axle_rating_kg = None;
        let picture = side(unrated.clone());
        assert_eq!(places(&picture, Role::LoadBar(Outcome::Undecided)).len(), 4);
        unrated.route.line_class = None;
        let picture = side(unrated);
        assert_eq!(places(&picture, Role::LoadBar(Outcome::Undecided)).len(), 0);
        assert_eq!(places(&picture, Role::LoadRoom(Outcome::Undecided)).len(), 4);
    }

    // A two-axle wagon of 24 t has 12 t on each axle: 12/22.5 of 1,500 mm is 800 mm.
    #[test]
    fn a_two_axle_wagon_has_axles_and_no_bogies() {
        let mut plan = empty_plan(1);
        plan.train.vehicle_types[0].gear = RunningGear::TwoAxle { wheelbase: Length::from_mm(9_000) };
        let picture = side(plan);
        assert_eq!(places(&picture, Role::Bogie).len(), 0);
        let wheels: Vec<i64> = places(&picture, Role::Wheel).iter().map(|at| at[0] + 460).collect();
        assert_eq!(wheels, [5_450, 14_450]);
        let bars = places(&picture, Role::LoadBar(Outcome::Pass));
        assert_eq!(bars.iter().map(|at| [at[2], at[3]]).collect::<Vec<_>>(), [[-1_100, -300]; 2]);
    }

    #[test]
    fn engines_and_idlers_are_told_from_wagons() {
        for (kind, role) in [
            (VehicleKind::Engine, Role::EngineBody),
            (VehicleKind::Wagon, Role::WagonBody),
            (VehicleKind::Idler, Role::IdlerBody),
        ] {
            let mut plan = empty_plan(1);
            plan.train.vehicle_types[0].kind = kind;
            assert_eq!(places(&side(plan), role).len(), 1);
        }
    }
    #[test]
    fn an_engine_is_drawn_no_higher_than_the_load() {
        let mut plan = empty_plan(2);
        let mut engine = plan.train.vehicle_types[0].clone();
        engine.name = crate::model::VehicleTypeName::new("Engine").unwrap();
        engine.kind = VehicleKind::Engine;
        engine.racks.clear();
        plan.train.vehicles[0].vehicle_type = engine.name.clone();
        plan.train.vehicle_types.push(engine);
        let picture = side(plan);
        let top = |role| places(&picture, role)[0][3];
        assert_eq!(top(Role::EngineBody), top(Role::Rack));
    }
    #[test]
    fn springs_get_a_second_mark_and_tolerances_a_whisker_where_they_are_asked_for() {
        let mut asked = super::super::trial::plan();
        asked.train.vehicle_types[0].springs = Some(Springs {
            front_n_per_m: 4.0e6,
            rear_n_per_m: 4.0e6,
            roll_nm_per_rad: 4.0e6,
            frame_n_per_m: None,
            envelope: None,
            spring_height_mm: None,
            sprung_tare_kg: None,
        });
        asked.route.mass_tolerance = Some(0.02);
        let count = |plan: &Plan, role| places(&side(plan.clone()), role).len();
        assert_eq!(count(&asked, Role::SpringsMark(Outcome::Pass)), 0);
        assert_eq!(count(&asked, Role::ToleranceBand), 0);
        asked.route.asked = vec![Topic::Springs, Topic::Tolerances];
        assert_eq!(count(&asked, Role::SpringsMark(Outcome::Pass)), 6, "four axles and two bogies");
        assert_eq!(count(&asked, Role::ToleranceBand), 12, "three lines for each axle");
        asked.train.vehicle_types[0].springs = None;
        assert_eq!(count(&asked, Role::SpringsMark(Outcome::Pass)), 0);
    }
}
