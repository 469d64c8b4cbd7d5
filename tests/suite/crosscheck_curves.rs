//! Random strings in random curves against general-purpose minimisation: tests/crosscheck/make_curve_cases.py made
//! the cases and their results with SciPy (version in tests/crosscheck/requirements.txt); nothing in them is ours.

use crate::trains::{add, figures, place, plan, wagon};
use longstow::model::RunningGear;
use longstow::statics::curves::{BentString, CurveFigures, CurveScope, Path, chords};
use longstow::units::Length;
use serde::Deserialize;

#[derive(Deserialize)]
struct Case {
    length_mm: i64,
    pivots_mm: i64,
    bogie_wheelbase_mm: i64,
    racks_mm: Vec<i64>,
    wagons: usize,
    play_mm: f64,
    places: Vec<(f64, f64)>,
    moments_nm: Vec<f64>,
    forces_n: Vec<f64>,
}

fn bent(case: &Case) -> Option<BentString> {
    let mut plan = plan(&[0.0], 1);
    plan.sections[0].iy_cm4 = Some(512.3);
    plan.train.rack_types[0].side_play_mm = Some(case.play_mm);
    let gear = RunningGear::Bogies {
        pivot_distance: Length::from_mm(case.pivots_mm),
        axles_per_bogie: 2,
        bogie_wheelbase: Length::from_mm(case.bogie_wheelbase_mm),
    };
    for _ in 0..case.wagons {
        add(&mut plan, wagon(case.length_mm, gear, &case.racks_mm), false);
    }
    place(&mut plan, "60E1", case.length_mm * case.wagons as i64, (1, 1, 0));
    let figures = figures(plan);
    let curves = CurveFigures::of(&figures, CurveScope::Steady);
    let class = curves.classes.first()?;
    let mut bent = BentString::new(class.stiffness_n_m2);
    class.lay(&figures.consist, &chords(&figures.consist, &Path::of(&case.places)), &mut bent);
    Some(bent)
}

fn check(found: &[f64], expected: &[f64], (what, number): (&str, usize)) {
    assert_eq!(found.len(), expected.len(), "{what} of case {number}");
    let largest = expected.iter().fold(1.0, |largest: f64, value| largest.max(value.abs()));
    for (found, expected) in found.iter().zip(expected) {
        assert!(
            (found - expected).abs() < 1.0e-6 * largest,
            "{what} of case {number}: {found} for {expected}"
        );
    }
}

#[test]
fn strings_bend_in_curves_as_general_purpose_minimisation_says() {
    let text = include_str!("../crosscheck/curve_cases.json");
    let cases: Vec<Case> = serde_json::from_str(text).unwrap();
    assert!(cases.len() >= 100);
    for (number, case) in cases.iter().enumerate() {
        let bent = bent(case).unwrap();
        check(&bent.moments_nm, &case.moments_nm, ("moments", number));
        check(&bent.forces_n, &case.forces_n, ("forces", number));
    }
    assert!(
        cases
            .iter()
            .filter(|case| case.play_mm > 0.0 && case.moments_nm.iter().any(|m| m.abs() > 1.0))
            .count()
            > 30
    );
}
