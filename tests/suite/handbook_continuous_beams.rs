//! A string on its racks against published values for continuous beams.
//!
//! Equal spans: Civil Engineering Formulas, table 2.1 (re-solved exactly in shared facts, section 6).
//! Overhang and lift-off values: closed forms of the three-moment equations, re-solved exactly there.

use crate::trains::close;
use longstow::statics::{Beam, BeamError, BeamFigures};

/// Modulus of elasticity times second moment of 60E1 in N m2 (E 210 GPa, EN 13674-1).
const EI_60E1: f64 = 210.0e9 * 3_038.3e-8;

/// Weight and span are one, so that results are the table's factors.
const STIFFNESS: f64 = 1.0;

fn solve(supports_m: &[f64], front_m: f64, rear_m: f64) -> Result<BeamFigures, BeamError> {
    Beam { supports_m, front_m, rear_m, weight_n_per_m: 1.0, stiffness_n_m2: STIFFNESS }.solve()
}

fn equal_spans(spans: usize) -> Vec<f64> {
    (0..=spans).map(|support| support as f64).collect()
}

fn all_close(values: &[f64], expected: &[f64], slack: f64) {
    assert_eq!(values.len(), expected.len());
    values.iter().zip(expected).for_each(|(value, expected)| close(*value, *expected, slack));
}

fn check_equal_spans(reactions: &[f64], over: f64, hogging: &[f64], sagging: &[f64]) {
    let supports = equal_spans(reactions.len() - 1);
    let beam = solve(&supports, 0.0, supports[supports.len() - 1]).unwrap();
    all_close(&beam.reactions_n, &reactions.iter().map(|r| r / over).collect::<Vec<_>>(), 1.0e-12);
    let moments: Vec<f64> = hogging.iter().map(|m| -m / over).collect();
    all_close(&beam.moments_nm[1..moments.len() + 1], &moments, 1.0e-12);
    for (span, expected) in beam.spans.iter().zip(sagging) {
        close(span.largest_moment_nm, *expected, 0.000_05);
    }
}

#[test]
fn equal_spans_give_the_handbook_reactions_and_moments() {
    check_equal_spans(&[3.0, 10.0, 3.0], 8.0, &[1.0], &[0.0703, 0.0703]);
    check_equal_spans(&[4.0, 11.0, 11.0, 4.0], 10.0, &[1.0, 1.0], &[0.080, 0.025, 0.080]);
    check_equal_spans(&[11.0, 32.0, 26.0, 32.0, 11.0], 28.0, &[3.0, 2.0, 3.0], &[0.0772, 0.0364]);
    check_equal_spans(
        &[15.0, 43.0, 37.0, 37.0, 43.0, 15.0],
        38.0,
        &[4.0, 3.0, 3.0, 4.0],
        &[0.0779, 0.0332, 0.0461, 0.0332, 0.0779],
    );
    let six = [41.0, 118.0, 100.0, 106.0, 100.0, 118.0, 41.0];
    check_equal_spans(&six, 104.0, &[11.0, 8.0, 9.0, 8.0, 11.0], &[]);
}

#[test]
fn overhangs_at_both_ends_give_the_exact_reactions() {
    for (spans, overhang, expected) in [
        (3, 0.25, vec![11.0 / 16.0, 17.0 / 16.0, 17.0 / 16.0, 11.0 / 16.0]),
        (3, 0.5, vec![21.0 / 20.0, 19.0 / 20.0, 19.0 / 20.0, 21.0 / 20.0]),
        (2, 0.5, vec![17.0 / 16.0, 7.0 / 8.0, 17.0 / 16.0]),
    ] {
        let beam = solve(&equal_spans(spans), -overhang, spans as f64 + overhang).unwrap();
        all_close(&beam.reactions_n, &expected, 1.0e-12);
        assert_eq!((beam.front_overhang_m, beam.rear_overhang_m), (overhang, overhang));
    }
}

#[test]
fn an_overhang_as_long_as_the_only_span_just_unloads_the_first_rack_and_a_longer_one_tips() {
    all_close(&solve(&[0.0, 1.0], 0.0, 2.0).unwrap().reactions_n, &[0.0, 2.0], 1.0e-12);
    all_close(&solve(&[0.0, 1.0, 2.0], 0.0, 3.0).unwrap().reactions_n, &[0.5, 0.5, 2.0], 1.0e-12);
    assert!(solve(&[0.0, 1.0], 0.0, 1.999).is_ok());
    assert_eq!(solve(&[0.0, 1.0], 0.0, 2.001), Err(BeamError::Tips));
    assert_eq!(solve(&[0.0, 1.0], -1.001, 1.0), Err(BeamError::Tips));
}

#[test]
fn no_rack_and_one_rack_do_not_carry() {
    assert_eq!(solve(&[], 0.0, 1.0), Err(BeamError::NoSupport));
    assert_eq!(solve(&[0.5], 0.0, 1.0), Err(BeamError::Tips));
}

/// Whether support `which` carries, when the supports stand `spans` apart and the beam reaches `overhang` in front.
fn carries(spans: &[f64], overhang: f64, which: usize) -> bool {
    let mut supports = vec![0.0];
    supports.extend(spans.iter().scan(0.0, |x, span| {
        *x += span;
        Some(*x)
    }));
    let beam = solve(&supports, -overhang, supports[supports.len() - 1]).unwrap();
    let carries = beam.carries[which];
    assert_eq!(carries, beam.reactions_n[which] > 0.0);
    carries
}

// Lift-off limits (project test values, mechanics.md 1; exact roots of the three-moment equations).

#[test]
fn a_short_end_span_lifts_off_beyond_2_303_times_it_beside_one_span() {
    assert!(carries(&[1.0, 2.302], 0.0, 0));
    assert!(!carries(&[1.0, 2.304], 0.0, 0));
}

#[test]
fn a_short_end_span_lifts_off_beyond_2_803_times_it_beside_many_spans() {
    let spans = |r: f64| [vec![1.0], vec![r; 12]].concat();
    assert!(carries(&spans(2.802), 0.0, 0));
    assert!(!carries(&spans(2.804), 0.0, 0));
}

#[test]
fn the_second_rack_lifts_off_under_an_end_overhang_beyond_1_188_spans() {
    assert!(carries(&[1.0; 12], 1.187, 1));
    assert!(!carries(&[1.0; 12], 1.189, 1));
}

#[test]
fn the_middle_rack_of_three_lifts_off_beyond_a_gap_of_1_plus_root_2() {
    let limit = 1.0 + 2.0_f64.sqrt();
    let spans = |gap: f64| [1.0, 1.0, gap].repeat(9);
    let middle_of_the_train = 3 * 4 + 1;
    assert!(carries(&spans(limit - 0.001), 0.0, middle_of_the_train));
    assert!(!carries(&spans(limit + 0.001), 0.0, middle_of_the_train));
}

#[test]
fn the_influence_of_an_end_dies_by_0_268_per_span() {
    // 2 - sqrt 3, the ratio of neighbouring moments of an unloaded infinite row of equal spans.
    let with_overhang = solve(&equal_spans(20), -0.5, 20.0).unwrap().moments_nm;
    let without = solve(&equal_spans(20), 0.0, 20.0).unwrap().moments_nm;
    let change = |support: usize| with_overhang[support] - without[support];
    for support in 0..6 {
        close(-change(support + 1) / change(support), 2.0 - 3.0_f64.sqrt(), 1.0e-6);
    }
}

#[test]
fn the_interior_of_a_long_60e1_string_gives_the_reference_rack_loads() {
    // Project test value (mechanics.md 1, made with g 9.81): racks at -5.5, 0, +5.5 m on 19.9 m wagons.
    let supports: Vec<f64> =
        (0..27).flat_map(|wagon| [-5.5, 0.0, 5.5].map(|at| 19.9 * f64::from(wagon) + at)).collect();
    let beam = Beam {
        supports_m: &supports,
        front_m: -7.0,
        rear_m: 19.9 * 26.0 + 7.0,
        weight_n_per_m: 60.21 * 9.81,
        stiffness_n_m2: EI_60E1,
    };
    let figures = beam.solve().unwrap();
    let middle = 3 * 13;
    all_close(&figures.reactions_n[middle..middle + 3], &[4_754.9, 2_244.4, 4_754.9], 0.05);
    let hogging = figures.moments_nm[middle..middle + 3].iter().copied().fold(0.0, f64::min);
    close(hogging, -3_330.0, 0.05);
    let spans = &figures.spans[middle - 1..middle + 3];
    let sagging = spans.iter().map(|span| span.largest_moment_nm).fold(0.0, f64::max);
    close(sagging, 2_518.3, 0.05);
    // About 10 MPa in the head, 333.6 cm3 by EN 13674-1.
    close(-hogging / 333.6e-6 / 1.0e6, 10.0, 0.05);
}

#[test]
fn sag_and_tips_follow_the_closed_forms_of_two_supports() {
    // One span between two simple supports sags 5 q l^4 / (384 EI) at its middle (any beam table).
    let figures = solve(&[0.0, 1.0], 0.0, 1.0).unwrap();
    close(figures.spans[0].sag_m, 5.0 / 384.0, 1.0e-12);
    // Overhangs c on both sides of a span l: tip falls q c (3 c^2 (c + 2 l) - l^3) / (24 EI) (beam table, from
    // memory; it is the tip formula of mechanics.md 1 with both moments -q c^2 / 2).
    for c in [0.2_f64, 0.5, 0.9] {
        let figures = solve(&[0.0, 1.0], -c, 1.0 + c).unwrap();
        let falls = c * (3.0 * c * c * (c + 2.0) - 1.0) / 24.0;
        close(figures.front_tip_m, -falls, 1.0e-12);
        close(figures.rear_tip_m, -falls, 1.0e-12);
        // At mid span: 5/384 - c^2/16 downward; with long overhangs it bows up and does not sag at all.
        close(figures.spans[0].sag_m, (5.0 / 384.0 - c * c / 16.0).max(0.0), 1.0e-12);
    }
    // Either of two equal spans sags q l^4 / (185 EI) (beam table, rounded there to three digits), which is
    // (39 + 55 sqrt 33) / 65,536.
    let sag_m = solve(&[0.0, 1.0, 2.0], 0.0, 2.0).unwrap().spans[0].sag_m;
    close(sag_m * 185.0, 1.0, 0.003);
    close(sag_m, (39.0 + 55.0 * 33.0_f64.sqrt()) / 65_536.0, 1.0e-12);
}
