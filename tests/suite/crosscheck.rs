//! Random trains against a general-purpose frame library: tests/crosscheck/make_cases.py made the cases and
//! their results with PyNite (version in tests/crosscheck/requirements.txt); nothing in them is ours.

use crate::trains::{add, figures, place, plan, section, wagon};
use longstow::model::{Plan, RunningGear, VehicleType};
use longstow::statics::{Figures, SideLoads};
use longstow::units::{Length, STANDARD_GRAVITY_M_S2};
use serde::Deserialize;

/// Largest relative difference from the library's result.
const SLACK: f64 = 1.0e-6;

#[derive(Deserialize)]
struct Case {
    lanes_mm: Vec<f64>,
    vehicles: Vec<CaseVehicle>,
    strings: Vec<CaseString>,
}

#[derive(Deserialize)]
struct CaseVehicle {
    length_mm: i64,
    axles: u32,
    support_mm: i64,
    bogie_wheelbase_mm: i64,
    contact_mm: f64,
    tare_kg: f64,
    tare_front_kg: Option<f64>,
    tare_y_mm: f64,
    racks_mm: Vec<i64>,
    turned: bool,
    /// Front and rear support.
    support_n: [f64; 2],
    /// By support, by axle, left and right wheel.
    stiff_n: [Vec<[f64; 2]>; 2],
    soft_n: [Vec<[f64; 2]>; 2],
}

#[derive(Deserialize)]
struct CaseString {
    front_mm: i64,
    length_mm: i64,
    lane: u32,
    kg_per_m: f64,
    ix_cm4: f64,
    /// By rack crossed.
    racks_n: Vec<f64>,
}

fn cases() -> Vec<Case> {
    serde_json::from_str(include_str!("../crosscheck/cases.json")).unwrap()
}

fn figures_of(case: &Case) -> Figures {
    let mut plan = plan(&case.lanes_mm, 3);
    for vehicle in &case.vehicles {
        add(&mut plan, vehicle_type(vehicle), vehicle.turned);
    }
    for (tier, string) in (1..).zip(&case.strings) {
        add_string(&mut plan, string, tier);
    }
    figures(plan)
}

fn vehicle_type(case: &CaseVehicle) -> VehicleType {
    let apart = Length::from_mm(case.support_mm);
    let gear = match case.axles {
        1 => RunningGear::TwoAxle { wheelbase: apart },
        axles_per_bogie => RunningGear::Bogies {
            pivot_distance: apart,
            axles_per_bogie,
            bogie_wheelbase: Length::from_mm(case.bogie_wheelbase_mm),
        },
    };
    VehicleType {
        wheel_contact_mm: case.contact_mm,
        tare_kg: case.tare_kg,
        tare_front_kg: case.tare_front_kg,
        tare_y_mm: case.tare_y_mm,
        ..wagon(case.length_mm, gear, &case.racks_mm)
    }
}

fn add_string(plan: &mut Plan, string: &CaseString, tier: u32) {
    let name = format!("Section {tier}");
    plan.sections.push(section(&name, string.kg_per_m, string.ix_cm4));
    place(plan, &name, string.length_mm, (tier, string.lane, string.front_mm));
}

/// Compares a load in kg with the library's force; a rack that lifts off must carry nothing.
#[track_caller]
fn check(kg: f64, library_n: f64, what: &str) {
    let n = kg * STANDARD_GRAVITY_M_S2;
    assert!(
        (n - library_n).abs() <= SLACK * library_n.abs(),
        "{what}: {n} N, the library says {library_n} N"
    );
}

#[test]
fn rack_loads_agree_with_the_frame_library() {
    for (number, case) in cases().iter().enumerate() {
        let figures = figures_of(case);
        let mut racks_n = vec![0.0; figures.consist.racks.len()];
        for (at, (string, placed)) in case.strings.iter().zip(&figures.placed).enumerate() {
            assert_eq!(placed.carried_kg.len(), string.racks_n.len(), "case {number} string {at}");
            for (rack, (kg, n)) in placed.carried_kg.iter().zip(&string.racks_n).enumerate() {
                check(*kg, *n, &format!("case {number} string {at} rack {rack}"));
                racks_n[placed.racks.start + rack] += n;
            }
        }
        for (rack, n) in racks_n.iter().enumerate() {
            check(figures.worked[0].rack_kg(rack), *n, &format!("case {number} rack {rack}"));
        }
    }
}

#[test]
fn supports_axles_and_wheels_agree_with_the_frame_library() {
    for (number, case) in cases().iter().enumerate() {
        let figures = figures_of(case);
        for (at, (vehicle, loads)) in case.vehicles.iter().zip(&figures.worked[0].vehicles).enumerate() {
            for (support, ours) in loads.supports.iter().enumerate() {
                let what = format!("case {number} vehicle {at} support {support}");
                check(ours.load_kg, vehicle.support_n[support], &what);
                for [left_n, right_n] in &vehicle.stiff_n[support] {
                    check(ours.axle_kg, left_n + right_n, &what);
                }
                check_wheels(ours.stiff, &vehicle.stiff_n[support], &format!("{what} stiff"));
                check_wheels(ours.soft, &vehicle.soft_n[support], &format!("{what} soft"));
            }
        }
    }
}

#[track_caller]
fn check_wheels(ours: SideLoads, library_n: &[[f64; 2]], what: &str) {
    for [left_n, right_n] in library_n {
        check(ours.left_kg, *left_n, what);
        check(ours.right_kg, *right_n, what);
    }
}

#[test]
fn the_cases_hold_enough_of_every_kind() {
    let cases = cases();
    let count = |kind: &dyn Fn(&Case) -> bool| cases.iter().filter(|case| kind(case)).count();
    let lifts = |string: &CaseString| string.racks_n.contains(&0.0);
    let uneven =
        |v: &CaseVehicle| v.turned || v.tare_front_kg.is_some_and(|kg| (kg - v.tare_kg / 2.0).abs() > 1.0);
    assert!(count(&|_| true) >= 240);
    assert!(count(&|case| case.strings.iter().any(lifts)) >= 90);
    assert!(count(&|case| case.vehicles.iter().any(|vehicle| vehicle.axles != 2)) >= 50);
    assert!(count(&|case| case.vehicles.iter().any(uneven)) >= 50);
}
