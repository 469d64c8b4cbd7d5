//! The whole train seen from its left side.

use super::bars::label;
use super::creep::creep_shapes;
use super::heights::{assumed_decks, deck_mm, load_top_mm, rack_top_mm, side_band_mm, tier_mm};
use super::vehicles::{BODY_DEPTH_MM, BUFFER_MM, COUPLING_MM, load_shapes, mm, roof_mm, vehicle_shapes};
use super::{Area, Form, Picture, Point, Role, Shape, TextSize, Thing};
use crate::model::{BeyondKind, Hold, TrainEnd};
use crate::statics::{Figures, PlacedString, RackPlace};
use crate::units::Style;

/// Share of the picture's width that its height should be, heights exaggerated.
const SHAPE: f64 = 0.22;
// Sizes of what is only indicated: no plan enters them.
const POST_MM: f64 = 120.0;
const SEAT_REACH_MM: f64 = 300.0;
const HOLD_REACH_MM: f64 = 260.0;
/// Share of its lane's height that a string leaves free below and above, so that neighbours stay apart.
const LANE_MARGIN: f64 = 0.1;

/// The train in a state, front end at the left, true in length and height.
///
/// Across is x in the train, up is height above the rail; seen from the left side, so of the lanes of a tier
/// lane 1 is nearest and lowest ([`side_band_mm`](super::side_band_mm)). Below the rail hang the axle and
/// bogie loads as bars against their ratings (axles: the least of rating and line class). Bodies, wheels and
/// couplings are only indicated. In a state that `figures` did not work out the bars are missing.
pub fn train_side(figures: &Figures, state: usize, style: Style) -> Picture {
    let mut shapes = ground_shapes(figures, state);
    let loads = figures.state(state);
    for place in &figures.consist.vehicles {
        vehicle_shapes(&mut shapes, figures, place);
        if let Some(loads) = loads {
            load_shapes(&mut shapes, (figures, loads), place, style);
        }
    }
    for placed in figures.present(state) {
        string_shapes(&mut shapes, figures, placed);
        creep_shapes(&mut shapes, figures, placed);
    }
    let mut picture = Picture::of(shapes);
    let (width, height) = (picture.bounds.width_mm(), picture.bounds.height_mm());
    picture.vertical_exaggeration = if height > 0.0 { (SHAPE * width / height).max(1.0) } else { 1.0 };
    picture.assumed = assumed_decks(figures, style);
    picture
}

/// The rail, the racks, and the stops on the train and beyond its ends.
pub(super) fn ground_shapes(figures: &Figures, state: usize) -> Vec<Shape> {
    let mut shapes = Vec::with_capacity(64 + 40 * figures.consist.vehicles.len());
    let length_mm = mm(figures.consist.length);
    let rail = Form::Line(Point::new(-BUFFER_MM, 0.0), Point::new(length_mm + BUFFER_MM, 0.0));
    shapes.push(Shape { form: rail, role: Role::Rail, thing: None });
    let loads = figures.state(state);
    for (index, rack) in figures.consist.racks.iter().enumerate() {
        let carries = loads.is_some_and(|loads| loads.rack_kg(index) > 0.0);
        rack_shapes(&mut shapes, figures, (index, rack), carries);
    }
    stop_shapes(&mut shapes, figures);
    shapes
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
    let height = (0.0, roof_mm(figures));
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
                let body = (COUPLING_MM - BODY_DEPTH_MM, height.1);
                push(Form::Box(Area::spanning((x, x + outward * 2.0 * BUFFER_MM), body)));
            }
        }
    }
}

/// A string with its overhangs, ends, holds and mark.
pub(super) fn string_shapes(shapes: &mut Vec<Shape>, figures: &Figures, placed: &PlacedString) {
    let plan = &figures.plan;
    let (Some(string), Some(placement)) =
        (plan.order.get(placed.string), plan.placements.get(placed.placement))
    else {
        return;
    };
    let (low, high) = string_band_mm(figures, placed, (placement.tier, placement.lane));
    let margin = (high - low) * LANE_MARGIN;
    let up = (low + margin, high - margin);
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
pub(super) fn string_band_mm(figures: &Figures, placed: &PlacedString, pocket: (u32, u32)) -> (f64, f64) {
    let (tier, lane) = pocket;
    let crossed = placed.racks.clone();
    let all = 0..figures.consist.racks.len().min(1);
    let band = crossed.chain(all).find_map(|rack| side_band_mm(figures, rack, tier, lane));
    band.unwrap_or_else(|| {
        let top = load_top_mm(figures).unwrap_or(deck_mm(figures, 0));
        (top + 100.0, top + 200.0)
    })
}

/// Index into the consist of the rack that a hold names.
pub(super) fn rack_index(figures: &Figures, hold: &Hold) -> Option<usize> {
    let vehicle = figures.plan.train.vehicles.iter().position(|vehicle| vehicle.mark == hold.vehicle)?;
    let racks = figures.consist.vehicles.get(vehicle)?.racks.clone();
    let rack = racks.start + (hold.rack as usize).checked_sub(1)?;
    racks.contains(&rack).then_some(rack)
}

#[cfg(test)]
mod tests {
    use super::super::trial::{expect_sound, figures, places, plan, texts};
    use super::*;
    use crate::fixtures::{empty_plan, place};
    use crate::model::{Beyond, EndStop, Plan};
    use crate::units::Length;

    fn side(plan: Plan) -> Picture {
        let picture = train_side(&figures(plan), 0, Style::default());
        expect_sound(&picture);
        picture
    }

    // The reference wagon by hand: middle 9.95 m, pivots 2.85 and 17.05 m, axles 0.9 m to each side of them,
    // racks at 3.317, 9.95 and 16.583 m; deck 1.25 m, tier 2 from 1.65 to 1.85 m in ten lanes of 20 mm,
    // of which a string shows 16.
    #[test]
    fn wagon_racks_and_string_stand_where_the_plan_puts_them() {
        let picture = side(plan());
        let wheels: Vec<i64> = places(&picture, Role::Wheel).iter().map(|at| at[0] + 460).collect();
        assert_eq!(wheels, [1_950, 3_750, 16_150, 17_950]);
        let posts = places(&picture, Role::RackCarrying);
        assert_eq!(posts.iter().map(|at| at[0] + 60).collect::<Vec<_>>(), [3_317, 9_950, 16_583]);
        assert_eq!(posts[0][2..], [1_250, 2_600]);
        assert_eq!(places(&picture, Role::String(None)), [[3_317, 16_583, 1_712, 1_728]]);
        let overhangs = [[2_000, 3_317, 1_712, 1_728], [16_583, 17_000, 1_712, 1_728]];
        assert_eq!(places(&picture, Role::Overhang(None)), overhangs);
        assert_eq!(places(&picture, Role::Hold), [[9_690, 10_210, 1_712, 1_728]]);
        assert_eq!(
            places(&picture, Role::StringEnd).iter().map(|at| at[0]).collect::<Vec<_>>(),
            [2_000, 17_000]
        );
        assert!(picture.assumed.is_empty());
    }

    #[test]
    fn every_string_vehicle_axle_and_rack_can_be_chosen() {
        let picture = side(plan());
        let axles = (0..4).map(|axle| Thing::Axle { vehicle: 0, axle });
        let racks = (0..3).map(Thing::Rack);
        let ends = [TrainEnd::Front, TrainEnd::Rear].map(|end| Thing::StringEnd(0, end));
        let others = [
            Thing::String(0),
            Thing::Vehicle(0),
            Thing::Support { vehicle: 0, support: 1 },
            Thing::Hold { string: 0, rack: 1 },
        ];
        for thing in axles.chain(racks).chain(ends).chain(others) {
            assert!(picture.showing(thing).count() > 0, "{thing:?}");
        }
    }

    #[test]
    fn lanes_of_a_tier_lie_above_each_other_without_touching_other_tiers() {
        let mut two = plan();
        place(&mut two, "S2", 15_000, (2, 5, 2_000));
        place(&mut two, "S3", 15_000, (3, 1, 2_000));
        let bands: Vec<_> = places(&side(two), Role::String(None)).iter().map(|at| [at[2], at[3]]).collect();
        assert_eq!(bands, [[1_712, 1_728], [1_732, 1_748], [1_902, 1_918]]);
    }

    #[test]
    fn a_point_on_a_string_is_in_its_pocket() {
        let figures = figures(plan());
        for (tier, lane) in [(1, 1), (1, 10), (2, 4), (5, 10)] {
            let (low, high) = side_band_mm(&figures, 1, tier, lane).unwrap();
            for up in [low + 0.1, high - 0.1] {
                let at = Point::new(9_000.0, up);
                assert_eq!(super::super::side_pocket_at(&figures, at), Some((tier, lane)));
            }
        }
        assert_eq!(side_band_mm(&figures, 1, 6, 1), None);
        assert_eq!(side_band_mm(&figures, 1, 1, 11), None);
        assert_eq!(super::super::side_pocket_at(&figures, Point::new(0.0, 9_999.0)), Some((5, 10)));
        assert_eq!(super::super::side_pocket_at(&figures, Point::new(0.0, -9_999.0)), Some((1, 1)));
    }

    #[test]
    fn a_string_that_cannot_lie_so_is_shown_all_the_same() {
        let trouble = |at: (u32, u32, i64)| {
            let mut odd = empty_plan(1);
            place(&mut odd, "S1", 2_000, at);
            places(&side(odd), Role::StringInTrouble)
        };
        assert_eq!(trouble((1, 1, 4_000)), [[4_000, 6_000, 1_402, 1_418]]);
        assert_eq!(trouble((1, 1, -5_000)), [[-5_000, -3_000, 1_402, 1_418]]);
        assert_eq!(trouble((9, 1, 9_000)), [[9_000, 11_000, 2_710, 2_790]]);
    }

    #[test]
    fn stops_on_the_train_and_beyond_its_ends_are_shown() {
        let mut stopped = empty_plan(1);
        stopped.train.vehicle_types[0].end_stops = vec![EndStop { at: Length::from_mm(9_000) }];
        let distance = Length::from_mm(500);
        stopped.train.front_beyond = Beyond { kind: BeyondKind::EndStop, distance };
        stopped.train.rear_beyond = Beyond { kind: BeyondKind::Vehicle, distance };
        let across: Vec<_> = places(&side(stopped), Role::EndStop).iter().map(|at| [at[0], at[1]]).collect();
        assert_eq!(across, [[18_950, 18_950], [-500, -500], [20_400, 21_600]]);
        assert!(places(&side(empty_plan(1)), Role::EndStop).is_empty());
    }

    #[test]
    fn a_deck_height_that_nobody_entered_is_told() {
        let mut plan = plan();
        plan.train.vehicle_types[0].deck_height = None;
        let picture = side(plan);
        assert_eq!(picture.assumed, ["The deck height of Flat is not entered; it is drawn at 1.200 m."]);
    }

    #[test]
    fn a_train_without_vehicles_or_without_racks_can_be_drawn() {
        assert!(texts(&side(empty_plan(0))).is_empty());
        let mut bare = plan();
        bare.train.vehicle_types[0].racks.clear();
        bare.placements[0].holds.clear();
        assert_eq!(places(&side(bare), Role::StringInTrouble).len(), 1);
    }

    #[test]
    fn a_state_that_was_not_worked_out_has_no_bars() {
        let picture = train_side(&figures(plan()), 99, Style::default());
        expect_sound(&picture);
        assert!(
            picture.shapes.iter().all(|shape| !matches!(shape.role, Role::LoadRoom(_) | Role::String(_)))
        );
    }

    #[test]
    fn a_full_train_needs_few_shapes() {
        let mut full = empty_plan(27);
        for string in 0..50u32 {
            place(&mut full, &format!("S{string}"), 500_000, (string / 10 + 1, string % 10 + 1, 18_650));
        }
        let picture = side(full);
        assert!(picture.shapes.len() < 2_500, "{}", picture.shapes.len());
        assert_eq!(places(&picture, Role::String(None)).len(), 50);
        assert_eq!(places(&picture, Role::Wheel).len(), 108);
    }
}
