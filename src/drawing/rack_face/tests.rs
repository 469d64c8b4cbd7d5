//! Tests of the rack face.

use super::*;
use crate::checks::Outcome;
use crate::drawing::trial::{expect_sound, figures, places, plan, texts};
use crate::fixtures::{empty_plan, place};
use crate::model::{GaugeLine, LimitKind, Plan, Source, Sureness, TrackSide};

fn face(plan: Plan, rack: usize) -> Picture {
    let picture = rack_face(&figures(plan), 0, rack, Style::default());
    expect_sound(&picture);
    picture
}

/// S1 and S2 in the outermost lanes of tier 1.
fn pair() -> Plan {
    let mut pair = empty_plan(1);
    place(&mut pair, "S1", 15_000, (1, 1, 2_000));
    place(&mut pair, "S2", 15_000, (1, 10, 2_000));
    pair
}

// Lane 4 of ten over +-1,200 mm is at -400 mm; tier 2 is 400 mm above the deck at 1,250 mm; pockets are
// 200 mm wide and high; 60E1 is 150 mm wide and 172 mm high.
#[test]
fn pockets_and_sections_stand_where_the_rack_puts_them() {
    let picture = face(plan(), 1);
    assert_eq!(places(&picture, Role::PocketEmpty).len(), 49);
    assert_eq!(places(&picture, Role::PocketTaken), [[-500, -300, 1_650, 1_850]]);
    assert_eq!(places(&picture, Role::String(None)), [[-475, -325, 1_650, 1_822]]);
    let pocket = Thing::Pocket { rack: 1, tier: 2, lane: 4 };
    assert_eq!(picture.showing(pocket).count(), 1);
    let words = texts(&picture);
    assert!(words.contains(&"S1") && words.contains(&"vehicle W1 rack 2"), "{words:?}");
}

#[test]
fn a_string_shows_only_at_racks_that_it_crosses() {
    let mut short = empty_plan(1);
    place(&mut short, "S1", 9_000, (1, 1, 2_000));
    assert_eq!(places(&face(short.clone(), 1), Role::String(None)).len(), 1);
    assert_eq!(places(&face(short, 2), Role::String(None)).len(), 0);
}

#[test]
fn a_pair_in_mirrored_lanes_is_its_own_mirror_image_and_in_balance() {
    let picture = face(pair(), 1);
    let [left, right] = places(&picture, Role::String(None)).try_into().unwrap();
    assert_eq!([left[0], left[1]], [-right[1], -right[0]]);
    assert_eq!([left[2], left[3]], [right[2], right[3]]);
    let [left] = places(&picture, Role::Balance(TrackSide::Left, Outcome::Pass)).try_into().unwrap();
    let [right] = places(&picture, Role::Balance(TrackSide::Right, Outcome::Pass)).try_into().unwrap();
    assert_eq!([left[0], left[1]], [-right[1], -right[0]]);
    assert!(texts(&picture).contains(&"1.00 : 1"));
}

#[test]
fn a_one_sided_load_leans_to_its_side() {
    let mut leaning = pair();
    leaning.placements.remove(1);
    let picture = face(leaning, 1);
    let bars = |side| -> Vec<[i64; 4]> {
        Outcome::ALL.iter().flat_map(|outcome| places(&picture, Role::Balance(side, *outcome))).collect()
    };
    assert!(-bars(TrackSide::Left)[0][0] > bars(TrackSide::Right)[0][1]);
    assert!(places(&picture, Role::CentreOfGravity)[0][0] + 45 < 0);
}

#[test]
fn the_centre_of_gravity_of_an_empty_wagon_is_that_of_its_tare() {
    assert_eq!(places(&face(empty_plan(1), 0), Role::CentreOfGravity), [[-45, 45, 655, 745]]);
    let mut unknown = empty_plan(1);
    unknown.train.vehicle_types[0].tare_cog_height_mm = None;
    assert!(places(&face(unknown, 0), Role::CentreOfGravity).is_empty());
}

#[test]
fn a_wheel_ratio_that_nobody_accepted_leaves_the_balance_undecided() {
    let mut open = pair();
    if let Some(limit) = open.limits.entries.get_mut(&LimitKind::WheelRatio) {
        limit.accepted_by = None;
    }
    let picture = face(open, 1);
    assert_eq!(places(&picture, Role::Balance(TrackSide::Left, Outcome::Undecided)).len(), 1);
}

/// The leaning plan's opposite: S1 in tier 1, lane 10, with a line of this half-width up to 3.2 m.
fn gauged(half_mm: f64) -> Plan {
    let mut gauged = empty_plan(1);
    place(&mut gauged, "S1", 15_000, (1, 10, 2_000));
    gauged.route.gauge = Some(GaugeLine {
        name: "Line".to_owned(),
        points_mm: vec![(half_mm, 400.0), (half_mm, 3_200.0)],
        allowed_mm: Vec::new(),
        source: Source { text: "test".to_owned(), sure: Sureness::Entered },
    });
    gauged
}

fn left_words(plan: Plan) -> String {
    let picture = face(plan, 1);
    texts(&picture).into_iter().find(|words| words.starts_with("gauge")).unwrap().to_owned()
}

// Hand: lane 10 is at 1,200 mm; half a foot of 75 mm and 20 mm of play more: 1,295 mm. 60E1 is 172 mm high, its
// head 72 mm wide: half the width falls by 39 mm from foot to head.
#[test]
fn the_gauge_line_is_mirrored_and_what_reaches_beyond_it_is_marked_on_its_side() {
    let picture = face(gauged(1_300.0), 1);
    assert_eq!(places(&picture, Role::GaugeLine), [[-1_300, 1_300, 400, 3_200]]);
    assert!(places(&picture, Role::OutOfGauge).is_empty());
    assert_eq!(left_words(gauged(1_300.0)), "gauge Line: 5 mm left at S1");
    // 13 mm beyond at the foot, at the line a third of 172 mm higher.
    let picture = face(gauged(1_282.0), 1);
    assert_eq!(places(&picture, Role::OutOfGauge), [[1_282, 1_295, 1_400, 1_457]]);
    assert_eq!(left_words(gauged(1_282.0)), "gauge Line: S1 13 mm beyond");
    let mut other = gauged(1_282.0);
    other.placements[0].lane = 1;
    assert_eq!(places(&face(other, 1), Role::OutOfGauge), [[-1_295, -1_282, 1_400, 1_457]]);
}

#[test]
fn the_gauge_says_where_the_load_is_not_known_and_where_there_is_none() {
    let mut unknown = gauged(1_300.0);
    unknown.sections[0].foot_mm = None;
    assert_eq!(left_words(unknown), "gauge Line: load's reach not known");
    let mut empty = gauged(1_300.0);
    empty.placements.clear();
    assert_eq!(left_words(empty), "gauge Line: no load here");
}

// Hand: the load of one string alone has its centre in the string's lane; lane 10 is 1,200 mm to the right.
#[test]
fn the_load_has_a_centre_of_its_own_above_its_seat() {
    let figures = figures(gauged(1_300.0));
    let [wagon, load] = centres(&figures, 0, 0).try_into().unwrap();
    assert_eq!((wagon.of, load.of), (CentreOf::Vehicle, CentreOf::Load));
    assert!((load.at.across_mm - 1_200.0).abs() < 1e-6, "{load:?}");
    assert!(1_400.0 < load.at.up_mm && load.at.up_mm < 1_572.0, "{load:?}");
    assert!(wagon.at.up_mm < load.at.up_mm && wagon.at.across_mm < 1_200.0);
    let words = load.words(Style::default());
    assert!(words.starts_with("centre of gravity of the load alone: 1.4"), "{words}");
    assert!(
        words.ends_with("1,200 mm right of the middle") || words.ends_with("1200 mm right of the middle")
    );
    let empty = centres(&self::figures(empty_plan(1)), 0, 0);
    assert_eq!(empty.len(), 1);
    assert!(empty[0].words(Style::default()).ends_with("in the middle"));
}

#[test]
fn what_nobody_entered_is_assumed_and_told() {
    let mut bare = plan();
    bare.train.vehicle_types[0].deck_height = None;
    let rack = &mut bare.train.rack_types[0];
    (rack.pocket_width_mm, rack.rack_rating_kg) = (None, None);
    rack.tiers.iter_mut().for_each(|tier| tier.clear_mm = None);
    bare.sections[0].web_mm = None;
    let picture = face(bare, 1);
    assert_eq!(picture.assumed.len(), 3);
    assert_eq!(places(&picture, Role::String(None)).len(), 1);
    assert_eq!(places(&picture, Role::LoadRoom(Outcome::Undecided)).len(), 1);
}

#[test]
fn there_is_nothing_to_see_where_there_is_no_rack() {
    assert!(face(plan(), 3).shapes.is_empty());
    assert!(face(empty_plan(0), 0).shapes.is_empty());
}
