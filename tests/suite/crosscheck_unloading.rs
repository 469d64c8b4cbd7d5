//! Random strings drawn off a train against an independent minimisation of their energy:
//! tests/crosscheck/make_unloading_cases.py made the cases and their results; nothing in them is ours.

use crate::trains::close;
use longstow::statics::{Bar, ChuteLine, OverRacks};
use longstow::units::STANDARD_GRAVITY_M_S2;
use serde::Deserialize;

/// The mesh of the minimisation in m: it knows the place where a string comes to lie to about one step.
const MESH_M: f64 = 0.05;

/// Largest difference of a moment, as a share of the largest moment of the case.
const SLACK: f64 = 0.01;

#[derive(Deserialize)]
struct Case {
    kg_per_m: f64,
    ix_cm4: f64,
    height_m: f64,
    /// From the last rack inward.
    racks_m: Vec<f64>,
    /// How far behind the last rack, and how much lower.
    roller: Option<(f64, f64)>,
    tail_m: f64,
    lead_m: f64,
    support_moment_nm: f64,
    sagging_moment_nm: f64,
    carries: Vec<bool>,
}

fn solve(case: &Case) -> OverRacks {
    let bar = Bar {
        weight_n_per_m: case.kg_per_m * STANDARD_GRAVITY_M_S2,
        stiffness_n_m2: 210.0e9 * case.ix_cm4 * 1.0e-8,
    };
    let mut places_m: Vec<f64> = case.racks_m.iter().rev().copied().collect();
    let tail_m = case.tail_m + places_m[0];
    let mut heights_m = vec![case.height_m; places_m.len()];
    if let Some((behind_m, lower_m)) = case.roller {
        places_m.push(behind_m);
        heights_m.push(case.height_m - lower_m);
    }
    OverRacks::solve(bar, &ChuteLine { places_m, heights_m, tail_m }).unwrap()
}

#[test]
fn leads_moments_and_lifted_racks_are_those_of_least_energy() {
    let cases: Vec<Case> = serde_json::from_str(include_str!("../crosscheck/unloading_cases.json")).unwrap();
    assert!(cases.len() >= 50);
    let (mut rollers, mut lifted) = (0, 0);
    for case in &cases {
        let racks = solve(case);
        close(racks.lead.length_m, case.lead_m, 1.5 * MESH_M);
        let size_nm = case.support_moment_nm.abs().max(case.sagging_moment_nm);
        close(racks.lead.support_moment_nm, case.support_moment_nm, SLACK * size_nm);
        close(racks.lead.largest_sagging().0, case.sagging_moment_nm, SLACK * size_nm);
        let carries = racks.supports.iter().take(case.racks_m.len()).rev().map(|support| support.carries);
        assert_eq!(carries.collect::<Vec<_>>(), case.carries);
        rollers += usize::from(case.roller.is_some());
        lifted += usize::from(case.carries.iter().any(|carries| !carries));
    }
    assert!(rollers >= 20 && lifted >= 40, "{rollers} with a roller, {lifted} with lifted racks");
}
