//! What is written is read back the same, byte for byte and field for field.

use crate::format_full_plan::full_plan;
use longstow::format::{read, write};
use longstow::model::{
    Limits, MassEntry, OrderTable, OrderedString, Placement, Plan, Route, StatedBasis, StringMark, problems,
};
use longstow::units::Length;
use proptest::collection::vec;
use proptest::prelude::*;

#[test]
fn a_plan_with_every_field_survives_writing_and_reading() {
    let plan = full_plan();
    let text = write(&plan);
    let back = read(text.as_bytes()).unwrap_or_else(|error| panic!("{error}\n{text}"));
    assert_eq!(back, plan);
    assert_eq!(write(&back), text);
}

/// Changes a plan by one number, where it can.
type Change = fn(&mut Plan, f64);

/// Fields of every kind: required, optional, in lists, in variants, whole millimetres.
const CHANGES: &[Change] = &[
    |plan, value| plan.train.vehicle_types[0].tare_kg = value + 15_000.0,
    |plan, value| {
        plan.train.vehicle_types[0]
            .springs
            .iter_mut()
            .for_each(|springs| springs.front_n_per_m = value + 10_000.0)
    },
    |plan, value| {
        plan.train.vehicle_types[0]
            .springs
            .iter_mut()
            .for_each(|springs| springs.envelope = Some((value, value)))
    },
    |plan, value| plan.train.vehicle_types[0].payload_rating_kg = Some(value),
    |plan, value| plan.train.vehicle_types[0].length = Length::from_mm(19_900 + (value % 80_000.0) as i64),
    |plan, value| plan.train.rack_types[0].lanes_y_mm[0] = -1_000.0 - value % 90_000.0,
    |plan, value| plan.train.rack_types[0].tiers[1].clear_mm = Some(value),
    |plan, value| plan.sections[0].mass_kg_per_m = value,
    |plan, value| plan.sections[0].ix_cm4 = value,
    |plan, value| plan.order[0].mass = MassEntry::Stated { kg: value, basis: StatedBasis::Document },
    |plan, value| plan.order[1].length = Length::from_mm(1 + (value % 4.0e6) as i64),
    |plan, value| plan.placements[0].front = Length::from_mm((value % 1.0e10) as i64 - 5_000_000_000),
    |plan, value| plan.route.speed_kmh = Some(value),
    |plan, value| plan.weighings[0].kg = value,
    |plan, value| {
        plan.limits
            .entries
            .values_mut()
            .for_each(|limit| limit.working = Some(1.0 - 1.0 / (value + 2.0)).filter(|_| limit.running < 1.0))
    },
    |plan, _| plan.train.vehicle_types[0].springs = None,
    |plan, _| plan.drops[0].steps.truncate(1),
    |plan, _| plan.route = Route::default(),
    |plan, _| plan.limits = Limits::default(),
    |plan, _| plan.placements.truncate(1),
    |plan, value| {
        plan.title = format!("{value}: \"quoted\" \\ \t\u{2212} (a, b: [c]) // d /* e \n\r\u{feff}")
    },
    |plan, value| plan.train.vehicle_types[0].tare_y_mm = -(value % 90_000.0),
];

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn generated_plans_survive_exactly_and_are_written_one_way(
        changes in vec((0..CHANGES.len(), odd_number()), 1..40)
    ) {
        let mut plan = full_plan();
        for (change, value) in changes {
            CHANGES[change](&mut plan, value);
        }
        prop_assert_eq!(problems(&plan), Vec::new());
        let text = write(&plan);
        let back = read(text.as_bytes()).map_err(|error| TestCaseError::fail(error.to_string()))?;
        prop_assert_eq!(&back, &plan);
        prop_assert_eq!(write(&back), text);
    }
}

/// Numbers above zero of every size and with every kind of last digit.
fn odd_number() -> impl Strategy<Value = f64> {
    let neighbours = proptest::sample::select(vec![
        0.1 + 0.2,
        1.0 / 3.0,
        60.21,
        1.0e-9_f64.next_up(),
        1.0e11_f64.next_down(),
        4_503_599_627.370_497,
        1.0,
        24_000.0,
        1.0e-5,
    ]);
    prop_oneof![neighbours, 1.0e-9..1.0e11, (0.0..1.0_f64).prop_map(|share| share.powi(5) + 1.0e-9)]
}

#[test]
fn numbers_survive_bit_for_bit() {
    for value in [
        0.1 + 0.2,
        f64::MIN_POSITIVE * 1.0e300,
        5.0e-9,
        1.0e15,
        123_456_789_012.345_67,
        2.0_f64.powi(39) + 0.5,
    ] {
        let mut plan = full_plan();
        plan.sections[0].mass_kg_per_m = value.clamp(1.0e-9, 1.0e12);
        let back = read(write(&plan).as_bytes()).unwrap();
        assert_eq!(back.sections[0].mass_kg_per_m.to_bits(), plan.sections[0].mass_kg_per_m.to_bits());
    }
}

#[test]
fn a_plan_of_sixty_strings_stays_under_60_kb_with_a_line_for_each_string_and_placement() {
    let mut plan = full_plan();
    let (string, placement) = (plan.order[0].clone(), plan.placements[0].clone());
    for number in 0..57 {
        let mark: StringMark = format!("X{number:02}").parse().unwrap();
        plan.order.push(OrderedString { mark: mark.clone(), ..string.clone() });
        plan.placements.push(Placement { string: mark, ..placement.clone() });
    }
    let text = write(&plan);
    assert!(text.len() < 60_000, "{} bytes", text.len());
    assert_eq!(text.lines().filter(|line| line.starts_with("        (mark: ")).count(), 60);
    assert_eq!(
        text.lines().filter(|line| line.starts_with("        (string: ")).count(),
        59 + plan.as_loaded.len()
    );
    assert!(text.is_ascii() && !text.contains('\r') && text.ends_with(")\n"));
}

/// Written by the first version of the program; no later one may fail to read it or change what it says.
const FROZEN_V1: &str = include_str!("../frozen/v1-every-field.longstow");

#[test]
fn the_frozen_file_of_version_1_reads_as_it_always_did() {
    // Fields that version 1 gained since may be left out, and are then not written.
    let frozen = Plan { order_table: OrderTable::default(), ..full_plan() };
    assert_eq!(read(FROZEN_V1.as_bytes()), Ok(frozen.clone()));
    assert_eq!(write(&frozen), FROZEN_V1, "version 1 is frozen: a change of its text needs a version 2");
}
