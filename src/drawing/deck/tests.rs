//! The deck plan against places worked out by hand, and what is alike on both sides of the track.

use super::super::trial::{expect_sound, figures, places, plan, texts};
use super::super::{Form, Role, Thing};
use super::*;
use crate::checks::Outcome;
use crate::fixtures::{empty_plan, place, steel};
use crate::model::{Curve, GaugeLine, Plan, Source, Sureness, Topic, TrainEnd};

const ONE: DeckLook = DeckLook { tiers: Tiers::Only(1), track: Track::Straight };

fn curve(radius_m: f64, inside: TrackSide) -> DeckLook {
    DeckLook { tiers: Tiers::Only(1), track: Track::Curve { radius_m, inside } }
}

fn deck(plan: Plan, look: DeckLook) -> Picture {
    let picture = deck_plan(&figures(plan), 0, look, Style::default());
    expect_sound(&picture);
    picture
}

/// Three wagons, a string in lane 1 and its twin in lane 10 of tier 1, pockets without play.
fn pair() -> Plan {
    let mut pair = empty_plan(3);
    pair.train.rack_types[0].side_play_mm = Some(0.0);
    place(&mut pair, "S1", 57_700, (1, 1, 1_000));
    place(&mut pair, "S2", 57_700, (1, 10, 1_000));
    pair
}

// The reference wagon by hand: racks at 3.317, 9.95 and 16.583 m; ten lanes over +-1,200 mm, so lane 4 is at
// -400 mm; a foot of 150 mm; racks reach half a lane (133 mm) past the outermost, bodies 180 mm more.
#[test]
fn on_the_straight_everything_stands_where_the_plan_puts_it() {
    let picture = deck(plan(), DeckLook { tiers: Tiers::Only(2), ..DeckLook::default() });
    assert_eq!(places(&picture, Role::String(None)), [[3_317, 16_583, -475, -325]]);
    let overhangs = [[2_000, 3_317, -475, -325], [16_583, 17_000, -475, -325]];
    assert_eq!(places(&picture, Role::Overhang(None)), overhangs);
    assert_eq!(places(&picture, Role::Hold), [[9_690, 10_210, -475, -325]]);
    let ends: Vec<i64> = places(&picture, Role::StringEnd).iter().map(|at| at[0]).collect();
    assert_eq!(ends, [2_000, 17_000]);
    let racks = places(&picture, Role::RackCarrying);
    assert_eq!(racks.iter().map(|at| at[0] + 60).collect::<Vec<_>>(), [3_317, 9_950, 16_583]);
    assert_eq!(racks[0][2..], [-1_333, 1_333]);
    assert_eq!(places(&picture, Role::WagonBody), [[600, 19_300, -1_513, 1_513]]);
    assert_eq!(places(&picture, Role::Headstock).len(), 2);
    assert_eq!(places(&picture, Role::Lane).len(), 10);
    assert!(picture.assumed.is_empty(), "{:?}", picture.assumed);
}

#[test]
fn one_tier_shows_its_strings_and_all_tiers_show_every_string_apart() {
    let mut stacked = plan();
    place(&mut stacked, "S2", 15_000, (1, 4, 2_000));
    place(&mut stacked, "S3", 15_000, (5, 5, 2_000));
    let count = |tiers| {
        let look = DeckLook { tiers, ..DeckLook::default() };
        places(&deck(stacked.clone(), look), Role::String(None)).len()
    };
    assert_eq!([1, 2, 3, 5].map(|tier| count(Tiers::Only(tier))), [1, 1, 0, 1]);
    let mut bands = places(&deck(stacked.clone(), DeckLook::default()), Role::String(None));
    bands.sort_by_key(|at| at[2]);
    assert_eq!(bands.len(), 3);
    assert!(bands.windows(2).all(|pair| pair[0][3] < pair[1][2]), "{bands:?}");
    // Five tiers in nine tenths of 266.7 mm are 48 mm each: tier 1 lies 96 mm left of lane 4, tier 2 48 mm.
    assert_eq!(bands[0][2] + bands[0][3], 2 * (-400 - 96));
    assert_eq!(bands[1][2] + bands[1][3], 2 * (-400 - 48));
}

// Hand: the body's middle is c^2/8R inside the track (c = 14.2 m; w = 1.8 m of the bogies adds w^2/8R), 170.7 mm
// at R 150, 128.0 mm at R 200 (textbook geometry; shared facts, section 5).
#[test]
fn on_a_curve_the_middle_rack_stands_inside_by_the_square_of_its_chord_over_eight_radii() {
    for (radius_m, throw_mm) in [(150.0, 170.73), (200.0, 128.05), (1.0e9, 0.0)] {
        let picture = deck(pair(), curve(radius_m, TrackSide::Right));
        let middle = places(&picture, Role::RackCarrying)[1];
        let expected = [throw_mm - 1_333.33_f64, throw_mm + 1_333.33].map(|mm| mm.round() as i64);
        assert_eq!([middle[2], middle[3]], expected, "R {radius_m}");
    }
}

#[test]
fn a_curve_to_the_left_is_the_mirror_image_of_one_to_the_right() {
    let both = [TrackSide::Right, TrackSide::Left].map(|inside| deck(pair(), curve(190.0, inside)));
    for role in [Role::String(None), Role::WagonBody, Role::Rack, Role::RackCarrying, Role::Swing] {
        let [right, left] = [&both[0], &both[1]].map(|picture| places(picture, role));
        let mut mirrored: Vec<_> = left.iter().map(|at| [at[0], at[1], -at[3], -at[2]]).collect();
        let mut right = right;
        right.sort_unstable();
        mirrored.sort_unstable();
        assert!(
            right.iter().zip(&mirrored).all(|(a, b)| (0..4).all(|i| (a[i] - b[i]).abs() <= 1)),
            "{role:?}"
        );
        assert_eq!(right.len(), mirrored.len());
    }
}

#[test]
fn ends_swing_on_a_curve_and_their_figure_is_that_of_the_curve_figures() {
    let mut asked = pair();
    asked.placements.pop();
    asked.order.pop();
    asked.route.curves =
        vec![Curve { radius_m: 150.0, arc_m: None, transition_m: 0.0, cant_mm: None, speed_kmh: None }];
    let worked = figures(asked.clone());
    let swing_m = worked.curves().cases[0].swings[0].unwrap()[0].from_deck_m;
    let picture = deck(asked.clone(), curve(150.0, TrackSide::Right));
    let line = places(&picture, Role::Swing)[0];
    assert_eq!([line[0], line[1]], [1_000, 1_000]);
    assert!((line[3] - line[2] - (swing_m.abs() * 1000.0).round() as i64).abs() <= 1, "{line:?} {swing_m}");
    let words = format!("{} mm", (swing_m.abs() * 1000.0).round());
    assert!(texts(&picture).iter().any(|text| text.starts_with(&words)), "{words}: {:?}", texts(&picture));
    assert!(places(&deck(asked, ONE), Role::Swing).is_empty());
}

#[test]
fn creep_follows_the_string_and_only_where_it_is_asked_for() {
    let mut creeping = pair();
    creeping.steels.push(steel());
    creeping.order.iter_mut().for_each(|string| string.steel = Some(steel().name));
    creeping.placements.iter_mut().for_each(|placement| placement.holds.truncate(1));
    creeping.train.coupling_slack = Some(Length::from_mm(20));
    creeping.route.temperature_range_k = Some(30.0);
    creeping.route.curves =
        vec![Curve { radius_m: 150.0, arc_m: None, transition_m: 0.0, cant_mm: None, speed_kmh: None }];
    assert!(places(&deck(creeping.clone(), ONE), Role::CreepRange).is_empty());
    creeping.route.asked = vec![Topic::Creep];
    for look in [ONE, curve(150.0, TrackSide::Left)] {
        assert_eq!(places(&deck(creeping.clone(), look), Role::CreepRange).len(), 2 * 2 * 3);
    }
}

fn gauged() -> Plan {
    let mut gauged = pair();
    gauged.route.gauge = Some(GaugeLine {
        name: "Line".to_owned(),
        points_mm: vec![(1_600.0, 400.0), (1_700.0, 1_200.0), (1_500.0, 3_200.0)],
        allowed_mm: vec![(250.0, 20.0, 30.0), (150.0, 165.0, 195.0)],
        source: Source { text: "test".to_owned(), sure: Sureness::Entered },
    });
    gauged
}

// The seat of tier 1 is at 1.40 m: the line falls from 1,700 at 1.2 m by 0.1 per mm to 1,662.8 at 1.40 + 0.172 m.
#[test]
fn the_gauge_line_counts_at_the_height_of_the_strings_shown_and_widens_in_a_curve() {
    let lines = |look| -> Vec<i64> {
        let mut lines: Vec<i64> =
            places(&deck(gauged(), look), Role::GaugeLine).iter().map(|at| at[2]).collect();
        lines.sort_unstable();
        lines.dedup();
        lines
    };
    let seat = 1_250.0 + gauged().train.rack_types[0].tiers[0].seat_above_deck_mm + 172.0;
    let half = (1_700.0 - (seat - 1_200.0) * 0.1_f64).round() as i64;
    assert_eq!(lines(ONE), [-half, half]);
    assert_eq!(lines(curve(150.0, TrackSide::Right)), [-half - 195, half + 165]);
    assert_eq!(lines(curve(150.0, TrackSide::Left)), [-half - 165, half + 195]);
    assert!(lines(curve(100.0, TrackSide::Left)).is_empty(), "the table ends before R 100");
    assert!(places(&deck(pair(), ONE), Role::GaugeLine).is_empty());
}

#[test]
fn wheel_loads_stand_on_both_sides_and_lean_with_the_load() {
    let heights = |plan: Plan| -> [i64; 2] {
        let picture = deck(plan, ONE);
        let bars: Vec<[i64; 4]> =
            Outcome::ALL.iter().flat_map(|outcome| places(&picture, Role::LoadBar(*outcome))).collect();
        assert_eq!(bars.len(), 2 * 12);
        [-1, 1].map(|side| {
            let own = bars.iter().filter(|at| at[2].signum() == side);
            own.map(|at| at[3] - at[2]).max().unwrap()
        })
    };
    let [left, right] = heights(pair());
    assert_eq!(left, right);
    let mut leaning = pair();
    leaning.placements.pop();
    let [left, right] = heights(leaning);
    assert!(left > right, "{left} {right}");
    let mut unrated = pair();
    unrated.train.vehicle_types[0].wheel_rating_kg = None;
    assert_eq!(places(&deck(unrated, ONE), Role::LoadRoom(Outcome::Undecided)).len(), 24);
}

#[test]
fn a_point_on_a_string_is_in_its_pocket_straight_and_on_a_curve() {
    let mut full = pair();
    place(&mut full, "S3", 30_000, (4, 7, 12_000));
    let figures = figures(full);
    for look in [DeckLook::default(), DeckLook { tiers: Tiers::All, ..curve(150.0, TrackSide::Left) }] {
        let deck = Deck::new(&figures, look);
        for placed in &figures.placed {
            let at = &figures.plan.placements[placed.placement];
            for rack in placed.racks.clone() {
                let x = figures.consist.racks[rack].x.mm() as f64;
                let (low, high) = deck.band_mm(placed, x);
                let found = deck.pocket_at(Point::new(x, f64::midpoint(low, high)));
                assert_eq!(found, Some((at.tier, at.lane)), "{look:?} rack {rack}");
            }
        }
    }
    let only = Deck::new(&figures, DeckLook { tiers: Tiers::Only(3), track: Track::Straight });
    assert_eq!(only.pocket_at(Point::new(0.0, -9_999.0)), Some((3, 1)));
    assert_eq!(only.pocket_at(Point::new(0.0, 9_999.0)), Some((3, 10)));
}

#[test]
fn what_cannot_be_worked_out_is_drawn_simply_and_told() {
    let mut bare = pair();
    (bare.sections[0].iy_cm4, bare.sections[0].foot_mm) = (None, None);
    let picture = deck(bare.clone(), curve(150.0, TrackSide::Right));
    assert_eq!(picture.assumed.len(), 2, "{:?}", picture.assumed);
    assert_eq!(places(&picture, Role::String(None)).len(), 2);
    assert!(places(&picture, Role::Swing).is_empty());
    bare.placements[0].lane = 99;
    assert_eq!(places(&deck(bare, ONE), Role::StringInTrouble).len(), 1);
}

#[test]
fn every_string_vehicle_axle_and_rack_can_be_chosen() {
    let picture = deck(pair(), curve(150.0, TrackSide::Right));
    let things = [
        Thing::String(1),
        Thing::StringEnd(0, TrainEnd::Rear),
        Thing::Hold { string: 0, rack: 4 },
        Thing::Vehicle(2),
        Thing::Axle { vehicle: 1, axle: 3 },
        Thing::Rack(8),
    ];
    for thing in things {
        assert!(picture.showing(thing).count() > 0, "{thing:?}");
    }
}

#[test]
fn front_and_sides_are_said_and_on_a_curve_its_inside() {
    let words = |look| {
        let picture = deck(pair(), look);
        let sides: Vec<String> = texts(&picture)
            .iter()
            .filter(|text| text.contains("side"))
            .map(|text| (*text).to_owned())
            .collect();
        sides
    };
    assert_eq!(words(ONE), ["right side", "left side"]);
    let curved = ["right side, outside of the curve", "left side, inside of the curve"];
    assert_eq!(words(curve(150.0, TrackSide::Left)), curved);
}

#[test]
fn a_train_without_vehicles_or_racks_can_be_drawn() {
    for look in [DeckLook::default(), ONE, curve(150.0, TrackSide::Left)] {
        assert!(texts(&deck(empty_plan(0), look)).is_empty());
        let mut bare = plan();
        bare.train.vehicle_types[0].racks.clear();
        bare.placements[0].holds.clear();
        assert_eq!(places(&deck(bare, look), Role::WagonBody).len(), 1);
    }
}

#[test]
fn an_outline_of_a_band_runs_back_over_the_same_places() {
    let picture = deck(pair(), curve(150.0, TrackSide::Right));
    let outlines = picture.shapes.iter().filter(|shape| matches!(shape.role, Role::String(_)));
    for shape in outlines {
        let Form::Outline(points) = &shape.form else { panic!("{shape:?}") };
        assert!(points.len() > 20);
        let back = points.iter().rev();
        assert!(points.iter().zip(back).all(|(a, b)| a.across_mm.total_cmp(&b.across_mm).is_eq()));
    }
}
