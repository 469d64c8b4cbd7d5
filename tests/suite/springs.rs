//! The train on springs: the project's reference train as a plan file, and random trains against an independent
//! minimisation of energy (tests/crosscheck/make_spring_cases.py made the cases; nothing in them is ours).

use crate::trains::{add, bogies, figures, place, plan, section, wagon};
use longstow::format;
use longstow::model::{Plan, Springs, VehicleType};
use longstow::report::figures_json;
use longstow::statics::{Figures, Scope};
use longstow::units::{Length, STANDARD_GRAVITY_M_S2};
use serde::Deserialize;
use std::sync::Arc;

const REFERENCE_TRAIN: &str = include_str!("../plans/reference-train.longstow");

/// Largest difference from the minimisation in N, beside a share of 1e-6: it holds its conditions to 1e-7 N, and
/// its stiffest parts cost it digits.
const SLACK_N: f64 = 0.05;

#[derive(Deserialize)]
struct Case {
    lanes_mm: Vec<f64>,
    vehicles: Vec<CaseVehicle>,
    strings: Vec<CaseString>,
}

#[derive(Deserialize)]
struct CaseVehicle {
    length_mm: i64,
    support_mm: i64,
    racks_mm: Vec<i64>,
    offsets_mm: Vec<f64>,
    height_mm: f64,
    turned: bool,
    front_n_per_m: f64,
    rear_n_per_m: f64,
    roll_nm_per_rad: f64,
    frame_n_per_m: Option<f64>,
    /// What strings put on front and rear support.
    support_n: [f64; 2],
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

fn figures_of(case: &Case) -> Figures {
    let mut plan = plan(&case.lanes_mm, 8);
    for vehicle in &case.vehicles {
        add(&mut plan, vehicle_type(vehicle), vehicle.turned);
        plan.train.vehicles.last_mut().unwrap().height_offset_mm = vehicle.height_mm;
    }
    for (tier, string) in (1..).zip(&case.strings) {
        let name = format!("Section {tier}");
        plan.sections.push(section(&name, string.kg_per_m, string.ix_cm4));
        place(&mut plan, &name, string.length_mm, (tier, string.lane, string.front_mm));
    }
    figures(plan)
}

fn vehicle_type(case: &CaseVehicle) -> VehicleType {
    let mut kind = wagon(case.length_mm, bogies(case.support_mm), &case.racks_mm);
    for (rack, offset_mm) in kind.racks.iter_mut().zip(&case.offsets_mm) {
        rack.height_offset_mm = *offset_mm;
    }
    kind.springs = Some(Springs {
        front_n_per_m: case.front_n_per_m,
        rear_n_per_m: case.rear_n_per_m,
        roll_nm_per_rad: case.roll_nm_per_rad,
        frame_n_per_m: case.frame_n_per_m,
        envelope: None,
        spring_height_mm: None,
        sprung_tare_kg: None,
    });
    kind
}

#[track_caller]
fn check(ours_n: f64, minimised_n: f64, what: &str) {
    let slack_n = SLACK_N + 1.0e-6 * minimised_n.abs();
    assert!((ours_n - minimised_n).abs() <= slack_n, "{what}: {ours_n} N, minimised {minimised_n} N");
}

#[test]
fn reactions_and_support_loads_agree_with_a_minimisation_of_energy() {
    let cases: Vec<Case> = serde_json::from_str(include_str!("../crosscheck/spring_cases.json")).unwrap();
    assert!(cases.len() >= 100);
    for (number, case) in cases.iter().enumerate() {
        let figures = figures_of(case);
        let state = &figures.springs().unwrap().states[0];
        assert!(state.at_rest, "case {number}");
        assert_eq!(state.strings.len(), case.strings.len(), "case {number}");
        for (at, (string, ours)) in case.strings.iter().zip(&state.strings).enumerate() {
            assert_eq!(ours.reactions_n.len(), string.racks_n.len(), "case {number} string {at}");
            for (rack, (ours_n, n)) in ours.reactions_n.iter().zip(&string.racks_n).enumerate() {
                check(*ours_n, *n, &format!("case {number} string {at} rack {rack}"));
            }
        }
        for (at, (vehicle, loads)) in case.vehicles.iter().zip(&state.loads.vehicles).enumerate() {
            let tare_kg = figures.consist.vehicles[at].tare_kg;
            for (support, n) in vehicle.support_n.iter().enumerate() {
                let ours_n = (loads.supports[support].load_kg - tare_kg[support]) * STANDARD_GRAVITY_M_S2;
                check(ours_n, *n, &format!("case {number} vehicle {at} support {support}"));
            }
        }
    }
}

fn reference_train() -> Plan {
    format::read(REFERENCE_TRAIN.as_bytes()).unwrap()
}

fn most(json: &serde_json::Value) -> f64 {
    let vehicles = json["states"][0]["vehicles"].as_array().unwrap();
    let supports = vehicles.iter().flat_map(|vehicle| vehicle["supports"].as_array().unwrap());
    supports.map(|support| support["axle_kg"].as_f64().unwrap()).fold(0.0, f64::max)
}

// Project reference (shared mechanics, section 3), computed there with an independent solver: 23.47 t rigid, 23.32 t
// with 4 MN/m and 4 MN m/rad per bogie.
#[test]
fn the_reference_train_gives_23_47_t_level_and_23_32_t_on_springs_in_the_json() {
    let figures = Figures::of(Arc::new(reference_train()), Scope::All);
    let json = figures_json("reference-train", &figures).unwrap();
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    assert!((most(&json) - 23_470.0).abs() < 5.0);
    assert!((most(&json["springs"]) - 23_320.0).abs() < 5.0);
    assert_eq!(json["springs"]["model"], "springs");
}

#[test]
fn the_reference_train_is_kept_as_the_program_writes_it() {
    let plan = reference_train();
    assert_eq!(format::write(&plan), REFERENCE_TRAIN);
    assert_eq!((plan.train.vehicles.len(), plan.order.len()), (27, 50));
    assert!(plan.order.iter().all(|string| string.length == Length::from_mm(500_000)));
}
