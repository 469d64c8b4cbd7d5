//! The curves against the project's reference values (mechanics.md 5), closed forms and conditions of contact.

use super::*;
use crate::fixtures::{empty_plan, place};
use crate::model::{Curve, Plan, SCurve};
use crate::statics::{Figures, Scope};
use std::sync::Arc;

const EI_NM2: f64 = 210.0e9 * 512.3e-8;

fn curve(radius_m: f64) -> Curve {
    Curve { radius_m, arc_m: None, transition_m: 0.0, cant_mm: None, speed_kmh: None }
}

/// Reference wagons with racks at the given places and one string over them all, in pockets with play.
fn train(wagons: usize, racks_mm: &[i64], play_mm: f64) -> Plan {
    let mut plan = empty_plan(wagons);
    let kind = &mut plan.train.vehicle_types[0];
    let rack = kind.racks[0].clone();
    kind.racks = racks_mm
        .iter()
        .map(|mm| crate::model::RackOnDeck { at: crate::units::Length::from_mm(*mm), ..rack.clone() })
        .collect();
    plan.train.rack_types[0].side_play_mm = Some(play_mm);
    let length_mm = 19_900 * wagons as i64 - 2_000;
    place(&mut plan, "S1", length_mm, (1, 1, 1_000));
    plan.route.curves = vec![curve(150.0)];
    plan
}

fn figures(plan: Plan) -> Figures {
    Figures::of(Arc::new(plan), Scope::All)
}

fn worked_out(plan: Plan) -> CurveFigures {
    CurveFigures::of(&figures(plan), CurveScope::All)
}

fn case(curves: &CurveFigures, kind: CurveKind) -> &CaseFigures {
    curves.cases.iter().find(|case| case.case.kind == kind).unwrap()
}

/// Largest moment of a case over that of a string bent to the curve, E I / R.
fn over_floor(curves: &CurveFigures, kind: CurveKind, radius_m: f64) -> f64 {
    case(curves, kind).peaks[0].moment_nm / (EI_NM2 / radius_m)
}

fn check(found: f64, expected: f64, share: f64) {
    assert!((found - expected).abs() <= share * expected.abs(), "{found} for {expected}");
}

const THREE: [i64; 3] = [-6_633, 0, 6_633];

// Mechanics.md 5: stress floor E c / R, 105 MPa for 60E1 at R 150 (E 210 GPa, c = 75 mm).
#[test]
fn a_string_bent_to_r_150_sees_105_mpa() {
    check(EI_NM2 / 150.0 / 68.3e-6, 105.0e6, 0.001);
}

// Mechanics.md 5: M = (E I / R) LOB / (g + l/2) with three even tight pockets, twice the floor; 1.0 with two.
#[test]
fn three_tight_pockets_double_the_moment_and_two_leave_it() {
    let middle = |racks_mm: &[i64]| {
        let figures = figures(train(20, racks_mm, 0.0));
        let curves = CurveFigures::of(&figures, CurveScope::Steady);
        let mut bent = BentString::new(EI_NM2);
        let chords = chords(&figures.consist, &Path::steady(1.0 / 150.0));
        curves.classes[0].lay(&figures.consist, &chords, &mut bent);
        let racks = racks_mm.len();
        let within = bent.moments_nm[8 * racks..12 * racks].iter();
        within.fold(0.0, |largest: f64, moment| largest.max(moment.abs())) / (EI_NM2 / 150.0)
    };
    let closed = |g_m: f64, l_m: f64| 19.9 / (g_m + l_m / 2.0);
    check(middle(&THREE), closed(19.9 - 2.0 * 6.633, 6.633), 1.0e-3);
    check(middle(&THREE), 2.0, 0.002);
    check(middle(&[-5_000, 0, 5_000]), closed(9.9, 5.0), 1.0e-3);
    check(middle(&[-6_633, 6_633]), 1.0, 1.0e-3);
}

// Mechanics.md 5: entry straight into the arc 2.37; S-curve 2.74 with no straight, 2.55 with 6 m, 2.44 with 10 m.
#[test]
fn entry_and_reverse_curve_bend_more() {
    let mut plan = train(20, &THREE, 0.0);
    for (straight_m, times) in [(0.0, 2.74), (6.0, 2.55), (10.0, 2.44)] {
        plan.route.s_curve = Some(SCurve { radius_m: 150.0, straight_m });
        let curves = worked_out(plan.clone());
        check(over_floor(&curves, CurveKind::Reverse, 150.0), times, 0.01);
        check(over_floor(&curves, CurveKind::FrontIn, 150.0), 2.37, 0.01);
        check(over_floor(&curves, CurveKind::RearIn, 150.0), 2.37, 0.01);
    }
}

// A transition far longer than the wagons leaves the steady moment: 2.00 inside, 2.04 at the string's ends.
#[test]
fn a_long_transition_takes_the_entry_away() {
    let mut plan = train(20, &THREE, 0.0);
    plan.route.curves[0].transition_m = 200.0;
    let curves = worked_out(plan);
    let steady = over_floor(&curves, CurveKind::Steady, 150.0);
    let entry = over_floor(&curves, CurveKind::FrontIn, 150.0);
    assert!(entry < 1.03 * steady && entry > 0.99 * steady, "{entry} {steady}");
}

// An arc as long as the train or longer is no other case; a short one reaches the entry's moment of 2.37 at
// both its ends.
#[test]
fn a_short_arc_is_passed_as_a_whole() {
    let mut plan = train(20, &THREE, 0.0);
    plan.route.curves[0].arc_m = Some(199.0);
    let curves = worked_out(plan);
    check(over_floor(&curves, CurveKind::Through, 150.0), 2.37, 0.01);
}

// Mechanics.md 5, R 150, 50 strings: 324 kN on a middle rack inside the string, 328 near its ends.
#[test]
fn fifty_tight_strings_press_a_middle_rack_with_324_kn() {
    let curves = worked_out(train(20, &THREE, 0.0));
    let forces = &case(&curves, CurveKind::Steady).forces_n[0];
    check(forces[31].abs() * 50.0, 324.0e3, 0.01);
    let largest = forces.iter().fold(0.0, |largest: f64, force| largest.max(force.abs()));
    check(largest * 50.0, 328.0e3, 0.01);
}

/// Largest net side force of one string on one wagon in the entry, well inside the string, in N.
fn net_at_entry_n(play_mm: f64) -> f64 {
    let curves = worked_out(train(20, &THREE, play_mm));
    let forces = &case(&curves, CurveKind::FrontIn).forces_n[0];
    let inside = forces.chunks(60).flat_map(|train| train[15..45].chunks(3));
    inside.map(|wagon| wagon.iter().sum::<f64>().abs()).fold(0.0, f64::max)
}

// Mechanics.md 5: pocket play of 40 mm each way cuts the net wagon force at entry from 139 to 37 kN (50 strings).
#[test]
fn play_cuts_the_side_force_at_entry() {
    check(net_at_entry_n(0.0) * 50.0, 139.0e3, 0.01);
    let with_play_n = net_at_entry_n(40.0) * 50.0;
    assert!((with_play_n - 37.0e3).abs() < 0.5e3, "{with_play_n}"); // Given in whole kN.
}

// Mechanics.md 5, R 150, tip 4 m beyond an outer rack: 220 mm from the track, 105 mm from the next deck's line.
#[test]
fn an_overhang_of_4_m_swings_220_mm() {
    let mut plan = train(20, &THREE, 0.0);
    // The last rack under it is the outer one of the 19th wagon; its tip is over the 20th.
    let end_mm = 18 * 19_900 + 9_950 + 6_633 + 4_000;
    plan.order[0].length = crate::units::Length::from_mm(end_mm - 1_000);
    let curves = worked_out(plan);
    let swing = case(&curves, CurveKind::Steady).swings[0].unwrap()[1];
    check(swing.from_track_m, -0.220, 0.01);
    check(swing.from_deck_m, -0.105, 0.01);
}

#[test]
fn a_left_curve_is_the_mirror_of_a_right_one() {
    let figures = figures(train(6, &THREE, 20.0));
    let curves = CurveFigures::of(&figures, CurveScope::Steady);
    let lay = |curvature_per_m: f64| {
        let mut bent = BentString::new(EI_NM2);
        let chords = chords(&figures.consist, &Path::steady(curvature_per_m));
        curves.classes[0].lay(&figures.consist, &chords, &mut bent);
        bent.forces_n
    };
    for (right, left) in lay(1.0 / 150.0).iter().zip(lay(-1.0 / 150.0)) {
        assert!((right + left).abs() < 1.0e-3, "{right} {left}");
    }
}

// Equilibrium: the racks' forces on a string and their moments about any place sum to zero.
#[test]
fn side_forces_are_in_equilibrium() {
    for play_mm in [0.0, 15.0, 60.0] {
        let figures = figures(train(8, &THREE, play_mm));
        let curves = CurveFigures::of(&figures, CurveScope::All);
        for case in &curves.cases {
            for forces in case.forces_n[0].chunks(24) {
                let sum: f64 = forces.iter().sum();
                let turning: f64 =
                    forces.iter().zip(&figures.consist.racks).map(|(force, rack)| force * rack.x.m()).sum();
                assert!(sum.abs() < 1.0e-3 && turning.abs() < 0.1, "{sum} {turning}");
            }
        }
    }
}

#[test]
fn with_play_enough_nothing_bends_and_a_straight_presses_nothing() {
    let mut plan = train(3, &THREE, 2_000.0);
    let curves = worked_out(plan.clone());
    assert!(curves.cases.iter().all(|case| case.peaks[0].moment_nm == 0.0));
    plan.train.rack_types[0].side_play_mm = Some(0.0);
    plan.route.curves[0].radius_m = 1.0e9;
    let curves = worked_out(plan);
    assert!(curves.cases.iter().all(|case| case.peaks[0].moment_nm < 0.01));
}

// Tight pockets: the moment goes as 1/R, so that the least radius for half the moment is twice the radius.
#[test]
fn the_least_radius_keeps_the_moment() {
    let figures = figures(train(8, &THREE, 0.0));
    let curves = CurveFigures::of(&figures, CurveScope::All);
    let worst = curves.worst_peak(0).unwrap();
    assert_eq!(curves.cases[worst.case].case.kind, CurveKind::FrontIn);
    let least_m =
        |share: f64| curves.least_radius_m(&figures, 0, worst, share * worst.peak.moment_nm).unwrap();
    check(least_m(1.0), 150.0, 0.002);
    check(least_m(0.5), 300.0, 0.002);
    assert_eq!(curves.least_radius_m(&figures, 0, worst, 1.0e12), None);
}

#[test]
fn what_is_missing_is_named_by_string() {
    let mut plan = train(3, &THREE, 20.0);
    plan.train.rack_types[0].side_play_mm = None;
    assert_eq!(worked_out(plan.clone()).class_of, [Err(CurveGap::NoPlay(0))]);
    plan.sections[0].iy_cm4 = None;
    assert_eq!(worked_out(plan.clone()).class_of, [Err(CurveGap::NoStiffness(0))]);
    plan.placements[0].lane = 99;
    assert_eq!(worked_out(plan).class_of, [Err(CurveGap::NotOnRacks)]);
}

#[test]
fn a_live_preview_leaves_the_sweeps_for_later() {
    let figures = figures(train(3, &THREE, 20.0));
    let steady = CurveFigures::of(&figures, CurveScope::Steady);
    assert!(steady.pending && steady.cases.len() == 1);
    let all = CurveFigures::of(&figures, CurveScope::All);
    assert!(!all.pending && all.cases.len() == 3);
    assert_eq!(all.cases[0], steady.cases[0]);
}

// Hand: a middle rack's 6,488 N of each of three strings (mechanics.md 5: 324 kN of fifty) comes to 19.5 kN.
#[test]
fn the_strings_of_a_state_press_together() {
    let mut plan = train(20, &THREE, 0.0);
    let length_mm = plan.order[0].length.mm();
    place(&mut plan, "S2", length_mm, (1, 10, 1_000));
    place(&mut plan, "S3", length_mm, (2, 5, 1_000));
    plan.drops.push(crate::fixtures::drop_off("Eastmoor", &["S3", "S2", "S1"]));
    let figures = figures(plan);
    let curves = figures.curves();
    assert_eq!((curves.classes.len(), curves.side_loads.len()), (1, 5));
    let steady = |state: usize| {
        let forces = &curves.cases[0].forces_n[0];
        let present = figures.present(figures.worked[state].state).count() as f64;
        (forces[31] * present, curves.side_loads[state].racks_n[31])
    };
    for (state, strings) in [(0, 3.0), (1, 2.0), (2, 1.0), (3, 0.0), (4, 0.0)] {
        let (expected_n, largest) = steady(state);
        check(expected_n, strings * 6_487.4, 0.001);
        assert!(largest.size >= expected_n - 1.0e-6 && largest.size < 1.35 * expected_n + 1.0e-6);
    }
    // Inside, the steady forces of a wagon's racks cancel: what is left comes from the entry.
    let wagon = &curves.side_loads[0].vehicles[10];
    check(wagon.net_n.size, 139.0e3 * 3.0 / 50.0, 0.01);
    assert_ne!(wagon.net_n.case, 0);
}

// Hand: 10 kN at 1.5 m on wheels 1.5 m apart roll 15 kN m, 10 kN off one side; of 20 t, 98.07 kN a side: 10.2 %.
#[test]
fn a_side_force_takes_load_off_the_wheels() {
    check(unloading_share(15.0e3, 1.5, 20_000.0), 10.0e3 / (10.0e3 * 9.80665), 1.0e-9);
    assert!(unloading_share(0.0, 1.5, 0.0).abs() < 1.0e-12);
    assert!(unloading_share(1.0, 1.5, 0.0).is_infinite());
}

#[test]
fn unloading_needs_the_heights_of_what_is_on_the_wagon() {
    let mut plan = train(3, &THREE, 0.0);
    assert!(figures(plan.clone()).curves().side_loads[0].vehicles[1].unloading.unwrap()[0].size > 0.0);
    plan.train.vehicle_types[0].deck_height = None;
    assert_eq!(figures(plan).curves().side_loads[0].vehicles[1].unloading, None);
}

// A search every 5 cm: with a look every metre alone, peaks were up to some per cent below it. With play, touches that
// change between two places leave kinks that a parabola cuts a little short.
#[test]
fn peaks_between_the_places_are_found() {
    for (racks_mm, play_mm) in [(vec![-2_000, 0, 2_000], 0.0), (THREE.to_vec(), 0.0), (THREE.to_vec(), 10.0)]
    {
        let mut plan = train(4, &racks_mm, play_mm);
        plan.route.s_curve = Some(SCurve { radius_m: 190.0, straight_m: 6.0 });
        let figures = figures(plan);
        let curves = figures.curves();
        for (at, case) in curves.cases.iter().enumerate().skip(1) {
            let places_m = case.case.places_m(figures.consist.length.m());
            let (first_m, last_m) = (places_m[0], places_m[places_m.len() - 1]);
            let mut bent = BentString::new(EI_NM2);
            let (mut moment_nm, mut forces_n) = (0.0_f64, vec![0.0_f64; figures.consist.racks.len()]);
            for step in 0..=((last_m - first_m) / 0.05) as u32 {
                let path = case.case.path(first_m + 0.05 * f64::from(step));
                curves.classes[0].lay(&figures.consist, &chords(&figures.consist, &path), &mut bent);
                moment_nm = moment_nm.max(bent.peak().unwrap().1);
                for (largest_n, force_n) in forces_n.iter_mut().zip(&bent.forces_n) {
                    *largest_n = largest_n.max(force_n.abs());
                }
            }
            let share = if play_mm > 0.0 { 3.0e-3 } else { 1.0e-3 };
            check(case.peaks[0].moment_nm, moment_nm, share);
            let found_n = |rack: usize| {
                let sides = case.forces_n[0].chunks(forces_n.len());
                sides.map(|forces| forces[rack].abs()).fold(0.0, f64::max)
            };
            for (rack, force_n) in forces_n.iter().enumerate() {
                check(found_n(rack), *force_n, share);
                assert!(curves.side_loads[0].racks_n[rack].size >= (1.0 - share) * force_n, "{at} {rack}");
            }
        }
    }
}
