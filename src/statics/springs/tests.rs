//! The train on springs against the project's reference values, limiting cases, balance of forces and symmetry.

use super::band::raised;
use super::model::Model;
use super::*;
use crate::fixtures::{drop_off, empty_plan, place};
use crate::model::{Plan, RackOnDeck, Springs, VehicleTypeName};
use crate::statics::{Scope, SupportLoads};
use crate::units::Length;
use std::sync::Arc;

const REFERENCE: Springs = Springs {
    front_n_per_m: 4.0e6,
    rear_n_per_m: 4.0e6,
    roll_nm_per_rad: 4.0e6,
    frame_n_per_m: None,
    envelope: None,
    spring_height_mm: None,
    sprung_tare_kg: None,
};

/// The reference train of the shared mechanics, section 3: 27 wagons, 50 x 500 m of 60E1.
fn reference(springs: Springs) -> Plan {
    let mut plan = empty_plan(27);
    plan.train.vehicle_types[0].springs = Some(springs);
    for tier in 1..=5 {
        for lane in 1..=10 {
            place(&mut plan, &format!("T{tier}L{lane}"), 500_000, (tier, lane, 18_650));
        }
    }
    plan
}

/// Five wagons with strings whose ends are staggered, in lanes of both sides.
fn staggered(springs: Springs) -> Plan {
    let mut plan = empty_plan(5);
    plan.train.vehicle_types[0].springs = Some(springs);
    for (number, (lane, front_mm, length_mm)) in [
        (1, 1_500, 90_000),
        (2, 14_000, 61_000),
        (5, 8_000, 80_000),
        (9, 31_000, 36_000),
        (10, 2_000, 50_000),
    ]
    .into_iter()
    .enumerate()
    {
        place(&mut plan, &format!("S{number}"), length_mm, (1, lane, front_mm));
    }
    plan
}

fn figures(plan: Plan) -> Figures {
    Figures::of(Arc::new(plan), Scope::All)
}

fn stiff(times: f64) -> Springs {
    Springs {
        front_n_per_m: REFERENCE.front_n_per_m * times,
        rear_n_per_m: REFERENCE.rear_n_per_m * times,
        roll_nm_per_rad: REFERENCE.roll_nm_per_rad * times,
        ..REFERENCE
    }
}

fn departure(figures: &Figures) -> &SpringState {
    &figures.springs().unwrap().states[0]
}

fn supports(loads: &StateFigures) -> Vec<SupportLoads> {
    loads.vehicles.iter().flat_map(|vehicle| vehicle.supports).collect()
}

fn worst_axle_kg(loads: &StateFigures) -> f64 {
    supports(loads).iter().map(|support| support.axle_kg).fold(0.0, f64::max)
}

// Project reference (shared mechanics, section 3), computed there with an independent solver: 23.47 t rigid, 23.32 t
// with 4 MN/m and 4 MN m/rad per bogie.
#[test]
fn the_worst_axle_of_the_reference_train_is_23_32_t_on_springs() {
    let figures = figures(reference(REFERENCE));
    let state = departure(&figures);
    assert!(state.at_rest);
    assert!((worst_axle_kg(&figures.worked[0]) - 23_470.0).abs() < 5.0);
    let on_springs_kg = worst_axle_kg(&state.loads);
    assert!((on_springs_kg - 23_320.0).abs() < 5.0, "{on_springs_kg}");
}

#[test]
fn stiff_springs_give_the_level_rigid_figures() {
    for plan in [reference(stiff(1.0e7)), staggered(stiff(1.0e7))] {
        let figures = figures(plan);
        let state = departure(&figures);
        assert!(state.at_rest);
        for (one, other) in supports(&state.loads).iter().zip(supports(&figures.worked[0])) {
            assert!((one.load_kg - other.load_kg).abs() < 0.01, "{one:?} {other:?}");
            assert!((one.soft.left_kg - other.soft.left_kg).abs() < 0.01);
        }
    }
}

// Shared mechanics, section 3: one wagon 20 mm low puts +7 % on its neighbours, on the axles next to it.
#[test]
fn a_low_wagon_loads_its_neighbours() {
    let axles_kg = |low_mm: f64| {
        let mut plan = reference(REFERENCE);
        plan.train.vehicles[13].height_offset_mm = -low_mm;
        let figures = figures(plan);
        let state = departure(&figures);
        assert!(state.at_rest);
        [(12, 1), (13, 0), (14, 0)]
            .map(|(vehicle, support)| state.loads.vehicles[vehicle].supports[support].axle_kg)
    };
    let (level, low) = (axles_kg(0.0), axles_kg(20.0));
    for neighbour in [0, 2] {
        let more = low[neighbour] / level[neighbour] - 1.0;
        assert!((more - 0.07).abs() < 0.005, "{more}");
    }
    assert!(low[1] < level[1]);
}

/// Wagons whose springs, frames, offsets and directions all differ.
fn mixed(seed: u64) -> Plan {
    let mut state = seed;
    let mut next = move || {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (state >> 11) as f64 / (1u64 << 53) as f64
    };
    let mut plan = empty_plan(6);
    let kind = plan.train.vehicle_types[0].clone();
    for number in 0..3 {
        let mut other = kind.clone();
        other.name = VehicleTypeName::new(&format!("Kind {number}")).unwrap();
        other.springs = Some(Springs {
            front_n_per_m: 1.0e6 + 6.0e6 * next(),
            rear_n_per_m: 1.0e6 + 6.0e6 * next(),
            roll_nm_per_rad: 1.0e6 + 6.0e6 * next(),
            frame_n_per_m: (number != 1).then(|| 2.0e6 + 2.0e7 * next()),
            ..REFERENCE
        });
        for rack in &mut other.racks {
            *rack = RackOnDeck { height_offset_mm: 30.0 * (next() - 0.5), ..rack.clone() };
        }
        plan.train.vehicle_types.push(other);
    }
    for (number, vehicle) in plan.train.vehicles.iter_mut().enumerate() {
        vehicle.vehicle_type = VehicleTypeName::new(&format!("Kind {}", number % 3)).unwrap();
        vehicle.turned = next() < 0.5;
        vehicle.height_offset_mm = 20.0 * (next() - 0.5);
    }
    for lane in 1..=10 {
        let front_mm = (30_000.0 * next()) as i64 + 2_000;
        place(&mut plan, &format!("S{lane}"), 40_000 + (45_000.0 * next()) as i64, (1, lane, front_mm));
    }
    plan
}

#[test]
fn at_rest_springs_and_strings_balance_on_any_train_and_contact_is_one_sided() {
    for seed in 1..=60 {
        let figures = figures(mixed(seed));
        let model =
            Model::new((&figures.plan, &figures.consist), &figures.placed, RateChoice::Entered).unwrap();
        let rest = figures.rest(&model, 0, &mut Couplings::default());
        assert!(rest.at_rest && rest.steps < 12, "seed {seed}: {} steps", rest.steps);
        let state = departure(&figures);
        for wagon in &model.wagons {
            let pushes_n = wagon.spring_forces(&rest.moved);
            let loads = &state.loads.vehicles[wagon.vehicle];
            let tare_kg = figures.consist.vehicles[wagon.vehicle].tare_kg;
            for (support, push_n) in pushes_n.iter().take(2).enumerate() {
                let carried_n = (loads.supports[support].load_kg - tare_kg[support]) * STANDARD_GRAVITY_M_S2;
                assert!((carried_n - push_n).abs() < 0.1, "seed {seed}: {carried_n} {push_n}");
            }
            let side_nm = loads.centre_y_m * loads.gross_kg * STANDARD_GRAVITY_M_S2;
            assert!((side_nm - pushes_n[2]).abs() < 0.1, "seed {seed}: {side_nm} {}", pushes_n[2]);
        }
        for string in &state.strings {
            let placed = &figures.placed[string.placed];
            let weight_n = placed.mass_kg * STANDARD_GRAVITY_M_S2;
            assert!((string.reactions_n.iter().sum::<f64>() - weight_n).abs() < 1.0e-4);
            assert!(string.reactions_n.iter().all(|n| *n >= 0.0));
        }
    }
}

#[test]
fn contact_that_stays_takes_one_step() {
    assert_eq!(departure(&figures(reference(REFERENCE))).steps, 1);
}

#[test]
fn a_train_mirrored_side_to_side_is_loaded_as_its_mirror_image() {
    let plan = staggered(REFERENCE);
    let mut mirrored = plan.clone();
    mirrored.placements.iter_mut().for_each(|placement| placement.lane = 11 - placement.lane);
    let (plan, mirrored) = (figures(plan), figures(mirrored));
    let pairs = supports(&departure(&plan).loads).into_iter().zip(supports(&departure(&mirrored).loads));
    for (one, other) in pairs {
        assert!((one.load_kg - other.load_kg).abs() < 1.0e-3);
        assert!((one.soft.left_kg - other.soft.right_kg).abs() < 1.0e-3);
        assert!((one.stiff.right_kg - other.stiff.left_kg).abs() < 1.0e-3);
    }
}

#[test]
fn a_vehicle_turned_round_turns_its_springs_too() {
    let uneven = Springs { front_n_per_m: 2.0e6, rear_n_per_m: 6.0e6, ..REFERENCE };
    let even_rates = |turned: bool, springs: Springs| {
        let mut plan = staggered(springs);
        plan.train.vehicles.iter_mut().for_each(|vehicle| vehicle.turned = turned);
        supports(&departure(&figures(plan)).loads)
    };
    let swapped = Springs { front_n_per_m: 6.0e6, rear_n_per_m: 2.0e6, ..uneven };
    let (turned, as_drawn) = (even_rates(true, uneven), even_rates(false, swapped));
    for (one, other) in turned.iter().zip(&as_drawn) {
        assert!((one.load_kg - other.load_kg).abs() < 1.0e-3);
    }
    let straight = even_rates(false, uneven);
    assert!(straight.iter().zip(&turned).any(|(one, other)| (one.load_kg - other.load_kg).abs() > 10.0));
}

#[test]
fn a_frame_that_bends_takes_load_off_its_middle_rack_and_a_stiff_one_none() {
    let middle_kg = |frame_n_per_m: Option<f64>| {
        let figures = figures(reference(Springs { frame_n_per_m, ..REFERENCE }));
        departure(&figures).loads.rack_kg(13 * 3 + 1)
    };
    let rigid_kg = middle_kg(None);
    assert!((middle_kg(Some(1.0e14)) - rigid_kg).abs() < 0.1);
    assert!(middle_kg(Some(1.0e7)) < 0.98 * rigid_kg);
}

// A closed form: one wagon, its string resting on its two outer racks only, over the bogies' springs. The load is
// statics alone, the heave is W/2k and the roll W y/2 k_roll.
#[test]
fn one_wagon_moves_as_its_springs_say() {
    let mut plan = empty_plan(1);
    let kind = &mut plan.train.vehicle_types[0];
    kind.springs = Some(REFERENCE);
    kind.racks.remove(1);
    place(&mut plan, "S1", 16_000, (1, 10, 1_950));
    let figures = figures(plan);
    let state = departure(&figures);
    let weight_n = 16.0 * 60.21 * STANDARD_GRAVITY_M_S2;
    let moved = state.moved[0];
    assert!((moved.heave_m + weight_n / 8.0e6).abs() < 1.0e-9);
    assert!((moved.roll_rad + weight_n * 1.2 / 8.0e6).abs() < 1.0e-9);
    assert!(moved.pitch_rad.abs() < 1.0e-9);
}

#[test]
fn heights_that_the_types_differ_by_count_where_all_are_entered() {
    let low = |deck_mm: Option<i64>| {
        let mut plan = reference(REFERENCE);
        let mut other = plan.train.vehicle_types[0].clone();
        other.name = VehicleTypeName::new("Low flat").unwrap();
        other.deck_height = deck_mm.map(Length::from_mm);
        plan.train.vehicles[13].vehicle_type = other.name.clone();
        plan.train.vehicle_types.push(other);
        departure(&figures(plan)).loads.vehicles[13].gross_kg
    };
    let mut offset = reference(REFERENCE);
    offset.train.vehicles[13].height_offset_mm = -20.0;
    let as_offset_kg = departure(&figures(offset)).loads.vehicles[13].gross_kg;
    assert!((low(Some(1_230)) - as_offset_kg).abs() < 0.01);
    assert!((low(None) - low(Some(1_250))).abs() < 0.01);
}

#[test]
fn a_vehicle_under_strings_without_springs_is_named_and_one_without_strings_needs_none() {
    let mut plan = staggered(REFERENCE);
    let mut bare = plan.train.vehicle_types[0].clone();
    (bare.name, bare.springs) = (VehicleTypeName::new("Bare").unwrap(), None);
    plan.train.vehicle_types.push(bare);
    plan.train.vehicles.push(crate::fixtures::vehicle("E1", "Bare"));
    assert!(figures(plan.clone()).springs().is_ok());
    plan.train.vehicles[2].vehicle_type = VehicleTypeName::new("Bare").unwrap();
    let missing = SpringsMissing { vehicle_types: vec![1] };
    assert_eq!(figures(plan).springs().unwrap_err(), &missing);
}

#[test]
fn one_state_alone_is_the_same_to_the_last_bit() {
    let mut plan = staggered(REFERENCE);
    plan.drops.push(drop_off("Eastmoor", &["S1", "S4"]));
    let plan = Arc::new(plan);
    let all = Figures::of(plan.clone(), Scope::All);
    for state in 0..all.states.len() {
        let one = Figures::of(plan.clone(), Scope::One(state));
        assert_eq!(one.springs().unwrap().states, [all.springs().unwrap().states[state].clone()]);
    }
}

// Sensitivities against the difference of two whole solutions whose contact is the same.
#[test]
fn sensitivities_are_what_a_small_change_does() {
    let (rise_mm, rack) = (0.01, 7);
    let of = |rise_mm: f64| {
        let mut plan = staggered(REFERENCE);
        let mut other = plan.train.vehicle_types[0].clone();
        other.name = VehicleTypeName::new("Measured").unwrap();
        other.racks[rack % 3].height_offset_mm = rise_mm;
        plan.train.vehicles[rack / 3].vehicle_type = other.name.clone();
        plan.train.vehicle_types.push(other);
        figures(plan)
    };
    let (before, after) = (of(0.0), of(rise_mm));
    let model = Model::new((&before.plan, &before.consist), &before.placed, RateChoice::Entered).unwrap();
    let rest = before.rest(&model, 0, &mut Couplings::default());
    let sensitivity =
        raised(&model, &rest, std::slice::from_ref(&(rack..rack + 1)), &mut Couplings::default());
    let sensitivity = sensitivity.iter().flatten();
    let (before, after) = (supports(&departure(&before).loads), supports(&departure(&after).loads));
    for ((before, after), kg_per_m) in before.iter().zip(&after).zip(sensitivity) {
        let check = |before_kg: f64, after_kg: f64, kg_per_m: f64| {
            let change_kg = (after_kg - before_kg).abs();
            assert!((change_kg - kg_per_m * rise_mm / 1000.0).abs() < 1.0e-5, "{change_kg} {kg_per_m}");
        };
        check(before.load_kg, after.load_kg, kg_per_m.load_kg);
        check(before.stiff.left_kg, after.stiff.left_kg, kg_per_m.stiff.left_kg);
        check(before.soft.right_kg, after.soft.right_kg, kg_per_m.soft.right_kg);
    }
    assert!(before.iter().zip(&after).any(|(a, b)| (a.load_kg - b.load_kg).abs() > 1.0e-3));
}

#[test]
fn tolerance_bands_add_heights_and_masses_and_are_nothing_without_them() {
    let band = |height_mm: Option<f64>, mass: Option<f64>| {
        let mut plan = staggered(REFERENCE);
        plan.route.rack_height_tolerance_mm = height_mm;
        plan.route.mass_tolerance = mass;
        figures(plan).tolerance_bands().unwrap()[0][2][0]
    };
    assert_eq!(band(None, None), SupportLoads::default());
    let (heights, masses, both) =
        (band(Some(2.0), None), band(None, Some(0.02)), band(Some(2.0), Some(0.02)));
    assert!(heights.load_kg > 0.0 && masses.load_kg > 0.0);
    assert!((heights.load_kg + masses.load_kg - both.load_kg).abs() < 1.0e-9);
    // Every string presses on this support, so that the masses' part is their share of the load.
    let figures = figures(staggered(REFERENCE));
    let load_kg = figures.worked[0].vehicles[2].supports[0].load_kg - 12_000.0;
    assert!((masses.load_kg - 0.02 * load_kg).abs() < 1.0e-6);
}

#[test]
fn the_envelope_holds_the_loads_at_low_and_high_rates_and_widens_with_the_height_tolerance() {
    let with = |tolerance_mm: Option<i64>, envelope: Option<(f64, f64)>| {
        let mut plan = staggered(Springs { envelope, ..REFERENCE });
        plan.route.wagon_height_tolerance = tolerance_mm.map(Length::from_mm);
        figures(plan)
    };
    let axle_kg = |times: f64| {
        let figures = figures(staggered(stiff(times)));
        departure(&figures).loads.vehicles[1].supports[1].axle_kg
    };
    let range = |figures: &Figures| figures.spring_envelope().unwrap()[0][1][1].axle;
    let alone = range(&with(None, None));
    assert!((alone.low_kg - axle_kg(1.0)).abs() < 1.0e-6 && (alone.high_kg - alone.low_kg).abs() < 1.0e-6);
    let rates = range(&with(None, Some((0.5, 2.0))));
    let loads = [axle_kg(0.5), axle_kg(1.0), axle_kg(2.0)];
    assert!((rates.low_kg - loads.into_iter().fold(f64::INFINITY, f64::min)).abs() < 1.0e-6);
    assert!((rates.high_kg - loads.into_iter().fold(0.0, f64::max)).abs() < 1.0e-6);
    let tolerant = range(&with(Some(10), None));
    assert!(tolerant.low_kg < alone.low_kg - 10.0 && tolerant.high_kg > alone.high_kg + 10.0);
}
