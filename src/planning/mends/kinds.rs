//! Each kind of mend on the samples and on small plans; what is offered is proved by the trial itself.

use super::mends;
use super::trial::{lines, offered, sample, worked};
use crate::fixtures::{accelerations, drop_off, empty_plan, place, steel};
use crate::model::{
    Accelerations, Curve, LimitKind, Plan, StepStrings, StringMark, TierAccess, Topic, VehicleMark,
};
use crate::units::Length;

/// The mends of the first finding of `check` whose things end in `things` must be these.
fn check(plan: Plan, check: &str, things: &str, expected: &[&str]) {
    assert_eq!(lines(&offered(plan, check, things)), expected, "{check}, {things}");
}

// Racks: 3.317, 9.950, 16.583, 23.217, 29.850, 36.483, 43.117 m ... Overhangs from 0.3 to 4 m.
fn pair(front_mm: i64, length_mm: i64) -> Plan {
    let mut plan = empty_plan(3);
    place(&mut plan, "S1", length_mm, (1, 1, front_mm));
    place(&mut plan, "S2", length_mm, (1, 10, front_mm));
    plan
}

fn mark(mark: &str) -> StringMark {
    StringMark::new(mark).unwrap()
}

fn as_one_step(plan: &mut Plan) {
    plan.drops.push(drop_off("Site", &["S1"]));
    plan.drops[0].steps[0].strings =
        StepStrings::Pair { first: mark("S1"), second: mark("S2"), together: true };
}

#[test]
fn an_end_is_shifted_until_it_reaches_far_enough_and_no_farther_than_needed() {
    check(
        pair(3_217, 34_000),
        "least-overhang",
        "string S1, front end",
        &[
            "Shift string S1 toward the front by 0.200 m (0.300 m then; breaks nothing)",
            "Shift strings S1 and S2 toward the front by 0.200 m (0.300 m then; mends 1 more; breaks nothing)",
        ],
    );
}

#[test]
fn an_end_that_reaches_too_far_or_too_near_a_stop_is_shifted_back() {
    let lines_of = |plan, check, things| lines(&offered(plan, check, things));
    let far = lines_of(pair(5_000, 36_000), "greatest-overhang", "S1, front end");
    assert!(far[0].starts_with("Shift string S1 toward the front by "), "{far:#?}");
    let near = lines_of(pair(100, 36_000), "end-clearance", "S1, front end");
    assert!(near[0].starts_with("Shift string S1 toward the rear by "), "{near:#?}");
    assert!(near.iter().all(|line| line.ends_with("breaks nothing)")), "{near:#?}");
}

#[test]
fn what_a_shift_would_break_is_told_with_it() {
    // Both ends reach too far: 40 m find no place on racks 6.633 m apart that leaves both ends within 4 m and off
    // the train's end.
    let found = offered(pair(3_000, 40_000), "greatest-overhang", "S1, rear end");
    assert!(!found.is_empty());
    assert!(found.iter().all(|mend| mend.effect.breaks() > 0), "{:#?}", lines(&found));
}

#[test]
fn a_string_one_rack_too_short_rests_on_one_rack_less() {
    check(
        sample('g'),
        "string-support",
        "string A1, vehicle F4 rack 3",
        &[
            "Let string A1 rest on F1 rack 1 to F4 rack 2 only (mends 1 more; breaks nothing)",
            "Let strings A1 and A2 rest on F1 rack 1 to F4 rack 2 only (mends 3 more; breaks nothing)",
            "Let 4 strings (A1 to B2) rest on F1 rack 1 to F4 rack 2 only (mends 7 more; breaks nothing)",
        ],
    );
}

#[test]
fn every_fail_of_a_one_sided_load_has_a_mend_that_breaks_nothing() {
    let (figures, assessment) = worked(sample('f'));
    let fails: Vec<_> =
        assessment.findings.iter().filter(|f| f.outcome == crate::checks::Outcome::Fail).collect();
    assert_eq!(fails.len(), 15);
    for finding in fails {
        let found = mends(&figures, &assessment, finding, |_, _| true);
        assert!(found.first().is_some_and(|mend| mend.effect.breaks() == 0), "{:?}", finding.things);
    }
    check(
        sample('f'),
        "wheel-balance",
        "vehicle F5, front bogie",
        &[
            "Mirror string L05 to lane 8; Mirror string L09 to lane 8 (1.22 : 1 then; mends 11 more; breaks nothing)",
        ],
    );
}

#[test]
fn a_string_that_is_held_nowhere_or_twice_is_held_at_a_clamping_rack_under_it() {
    let mut plan = pair(3_000, 34_000);
    plan.placements[0].holds.clear();
    let once = ["Hold string S1 at W2 rack 1 (breaks nothing)"];
    check(plan, "held-once", "S1", &once);
    let mut plan = pair(3_000, 34_000);
    let second = crate::model::RackRef { rack: 1, ..plan.placements[0].holds[0].clone() };
    plan.placements[0].holds.push(second);
    assert!(lines(&offered(plan, "held-once", "S1"))[0].starts_with("Hold string S1 at "));
}

#[test]
fn the_second_of_a_pair_is_laid_as_the_mirror_image_of_the_first() {
    let mut plan = pair(3_000, 34_000);
    as_one_step(&mut plan);
    plan.placements[0].lane = 2;
    check(
        plan,
        "pairs-alike",
        "string S2",
        &[
            "Lay string S2 as the mirror image of S1 (breaks nothing)",
            "Lay string S1 as the mirror image of S2 (breaks nothing)",
        ],
    );
}

#[test]
fn one_of_two_strings_in_one_pocket_goes_to_the_next() {
    let mut plan = pair(3_000, 34_000);
    plan.placements[1].lane = 1;
    check(plan, "pocket-shared", "S2", &["Move string S1 to tier 1 lane 2 (breaks nothing)"]);
}

/// Ten strings side by side in the top tier.
fn top_tier() -> Plan {
    let mut plan = empty_plan(3);
    for lane in 1..=10 {
        place(&mut plan, &format!("T{lane}"), 34_000, (5, lane, 3_000));
    }
    plan
}

fn set_limit(plan: &mut Plan, kind: LimitKind, value: f64) {
    if let Some(limit) = plan.limits.entries.get_mut(&kind) {
        limit.running = value;
    }
}

#[test]
fn a_load_that_is_too_high_is_lowered_string_by_string() {
    let mut plan = top_tier();
    set_limit(&mut plan, LimitKind::CentreHeight, 1.1);
    let expected = "Move string T1 to tier 1 lane 1; Move string T2 to tier 1 lane 2; Move string T3 to tier 1 lane 3; \
                    Move string T4 to tier 1 lane 4; Move string T7 to tier 1 lane 7 (1.081 m then; mends 1 more; \
                    breaks nothing)";
    check(plan, "centre-height", "vehicle W1", &[expected]);
}

#[test]
fn an_overloaded_tier_gives_strings_to_another() {
    let mut plan = top_tier();
    plan.train.rack_types[0].tier_rating_kg = Some(4_200.0);
    let first = lines(&offered(plan, "tier-load", "vehicle W1 rack 2, tier 5")).remove(0);
    assert_eq!(first, "Move string T1 to tier 4 lane 1 (4.06 t then; mends 1 more; breaks nothing)");
}

#[test]
fn where_only_less_load_helps_the_mend_says_what_it_breaks() {
    let mut plan = top_tier();
    plan.train.rack_types[0].rack_rating_kg = Some(4_200.0);
    let last = lines(&offered(plan, "rack-load", "vehicle W1 rack 2")).pop().unwrap();
    assert_eq!(last, "Take T1 off the train (4.06 t then; mends 1 more; breaks Order placed: string T1)");
}

#[test]
fn a_blocked_step_comes_later_or_the_blocking_one_first() {
    let mut plan = empty_plan(3);
    place(&mut plan, "A", 34_000, (1, 1, 3_000));
    place(&mut plan, "B", 34_000, (2, 1, 3_000));
    plan.train.rack_types[0].tier_access = Some(TierAccess::AboveEmpty);
    plan.drops.push(drop_off("Site", &["A", "B"]));
    check(
        plan,
        "access",
        "drop Site, step 1",
        &[
            "Let A be step 2 of Site instead of step 1 (breaks nothing)",
            "Let B be step 1 of Site instead of step 2 (breaks nothing)",
        ],
    );
}

#[test]
fn a_half_empty_train_out_of_balance_takes_the_other_side_next() {
    let mut plan = empty_plan(3);
    for (mark, lane) in [("L1", 1), ("L2", 2), ("L3", 3), ("R1", 10), ("R2", 9), ("R3", 8)] {
        place(&mut plan, mark, 34_000, (1, lane, 3_000));
    }
    plan.drops.push(drop_off("Site", &["L1", "L2", "L3", "R1", "R2", "R3"]));
    check(
        plan,
        "wheel-balance",
        "vehicle W1, rear bogie",
        &["Take the two sides off in turn at Site (mends 3 more; breaks nothing)"],
    );
}

/// Six wagons and one string from 1.0 m to `rear_mm`, held at rack 2 of a wagon.
fn long(rear_mm: i64, held_at: &str) -> Plan {
    let mut plan = empty_plan(6);
    place(&mut plan, "S1", rear_mm - 1_000, (1, 10, 1_000));
    plan.steels.push(steel());
    plan.order[0].steel = Some(steel().name);
    plan.placements[0].holds[0].vehicle = VehicleMark::new(held_at).unwrap();
    plan
}

#[test]
fn an_end_that_creeps_off_is_shifted_or_held_elsewhere() {
    let mut plan = long(109_820, "W3");
    plan.route.asked.push(Topic::Creep);
    plan.train.coupling_slack = Some(Length::ZERO);
    plan.route.temperature_range_k = Some(0.0);
    plan.route.curves =
        vec![Curve { radius_m: 1_000.0, arc_m: None, transition_m: 0.0, cant_mm: None, speed_kmh: None }];
    check(
        plan,
        "creep-least-overhang",
        "S1, rear end",
        &[
            "Shift string S1 toward the rear by 0.001 m (0.300 m then; breaks nothing)",
            "Hold string S1 at W4 rack 1 (0.323 m then; breaks nothing)",
        ],
    );
}

#[test]
fn a_string_that_would_buckle_beside_its_hold_is_held_nearer_its_middle() {
    let mut plan = long(109_850, "W1");
    plan.route.asked.push(Topic::HoldForces);
    plan.route.accelerations = Some(Accelerations { longitudinal_g: 5.5, ..accelerations() });
    check(
        plan,
        "hold-buckling",
        "S1, rear end",
        &["Hold string S1 at W2 rack 3 (238.26 kN then; breaks nothing)"],
    );
}

#[test]
fn a_string_that_waits_is_placed_where_it_breaks_nothing() {
    let mut plan = pair(3_000, 34_000);
    plan.placements.pop();
    let expected = "Place string S2 in tier 1 lane 5, beginning at W1 rack 3 (breaks nothing)";
    check(plan, "order-placed", "S2", &[expected]);
}

#[test]
fn a_locked_string_is_left_where_it_is() {
    let mut plan = pair(3_217, 34_000);
    plan.placements[0].locked = true;
    check(plan, "least-overhang", "string S1, front end", &[]);
}

#[test]
fn a_search_that_is_stopped_gives_what_it_has_found() {
    let (figures, assessment) = worked(pair(3_217, 34_000));
    let finding = assessment.findings.iter().find(|f| f.check.id == "least-overhang").unwrap();
    let found = mends(&figures, &assessment, finding, |_, _| false);
    assert_eq!(found, []);
    let mut told = Vec::new();
    mends(&figures, &assessment, finding, |done, all| {
        told.push((done, all));
        true
    });
    assert!(told.len() > 1 && told.iter().all(|(done, all)| done < all), "{told:?}");
}
