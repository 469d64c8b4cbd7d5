//! Vehicle types, rack types and the row of vehicles.

use super::report::{ABOVE_ZERO, DISTANCE, FROM_ZERO, Field, LENGTH, Range, Report, mm};
use crate::model::{Plan, RackType, RunningGear, Springs, Vehicle, VehicleType};
use crate::units::Length;
use std::collections::BTreeMap;

/// The most vehicles of a train.
const MOST_VEHICLES: usize = 1_000;
/// The most types of vehicles, or of racks, in a plan.
const MOST_TYPES: usize = 200;
/// The most racks or stops on one vehicle, and tiers or lanes of one rack.
const MOST_OF_ONE: usize = 100;
/// The most racks of the whole train: each string is reckoned with at each rack that it crosses, so that many short
/// lists that are each allowed would need all memory.
const MOST_RACKS: usize = 5_000;
/// The longest vehicle in mm.
const VEHICLE_LENGTH: Range = Range::new(1.0, 100_000.0, "above zero");
/// Dimensions across and in height, in mm.
const ACROSS: Range = Range::new(-100_000.0, 100_000.0, "that can be meant");
/// Spring rates in N/m and roll stiffness in N m/rad; on softer springs than these an empty wagon would sink by
/// metres, so that kN or kN/mm were meant.
const RATE: Range = Range::new(1.0e4, 1.0e12, "of 10,000 or above");
/// Friction coefficients.
const FRICTION: Range = Range::new(0.0, 2.0, "of zero or above");

/// Looks at the train.
pub(super) fn look(plan: &Plan, report: &mut Report) {
    let train = &plan.train;
    report.at_most("train.vehicle_types", train.vehicle_types.len(), MOST_TYPES);
    report.unique("train.vehicle_types", "name", train.vehicle_types.iter().map(|kind| kind.name.as_str()));
    for (number, kind) in train.vehicle_types.iter().enumerate() {
        vehicle_type(plan, kind, &format!("train.vehicle_types[{number}]"), report);
    }
    report.at_most("train.rack_types", train.rack_types.len(), MOST_TYPES);
    report.unique("train.rack_types", "name", train.rack_types.iter().map(|kind| kind.name.as_str()));
    for (number, kind) in train.rack_types.iter().enumerate() {
        rack_type(kind, &format!("train.rack_types[{number}]"), report);
    }
    report.at_most("train.vehicles", train.vehicles.len(), MOST_VEHICLES);
    report.unique("train.vehicles", "mark", train.vehicles.iter().map(|vehicle| vehicle.mark.as_str()));
    for (number, one) in train.vehicles.iter().enumerate() {
        vehicle(plan, one, &format!("train.vehicles[{number}]"), report);
    }
    racks_in_all(plan, report);
    report.numbers("train", &[("coupling_slack_mm", train.coupling_slack.and_then(mm), DISTANCE)]);
    report.numbers("train.front_beyond", &[("distance_mm", mm(train.front_beyond.distance), DISTANCE)]);
    report.numbers("train.rear_beyond", &[("distance_mm", mm(train.rear_beyond.distance), DISTANCE)]);
}

fn racks_in_all(plan: &Plan, report: &mut Report) {
    let train = &plan.train;
    let racks: BTreeMap<&str, usize> =
        train.vehicle_types.iter().map(|kind| (kind.name.as_str(), kind.racks.len())).collect();
    let of = |vehicle: &Vehicle| racks.get(vehicle.vehicle_type.as_str()).copied().unwrap_or(0);
    let all: usize = train.vehicles.iter().map(of).sum();
    if all > MOST_RACKS {
        report.add(
            "train.vehicles",
            format!("the vehicles have {all} racks in all, more than the {MOST_RACKS} that a train can have"),
            "remove vehicles, or racks of their types",
        );
    }
}

fn vehicle_type(plan: &Plan, kind: &VehicleType, path: &str, report: &mut Report) {
    let numbers: [Field; 16] = [
        ("length_mm", mm(kind.length), VEHICLE_LENGTH),
        ("wheel_contact_mm", Some(kind.wheel_contact_mm), ABOVE_ZERO),
        ("tare_kg", Some(kind.tare_kg), ABOVE_ZERO),
        ("tare_front_kg", kind.tare_front_kg, FROM_ZERO),
        ("tare_y_mm", Some(kind.tare_y_mm), ACROSS),
        ("tare_cog_height_mm", kind.tare_cog_height_mm, FROM_ZERO),
        ("deck_height_mm", kind.deck_height.and_then(mm), DISTANCE),
        ("payload_rating_kg", kind.payload_rating_kg, ABOVE_ZERO),
        ("bogie_rating_kg", kind.bogie_rating_kg, ABOVE_ZERO),
        ("axle_rating_kg", kind.axle_rating_kg, ABOVE_ZERO),
        ("wheel_rating_kg", kind.wheel_rating_kg, ABOVE_ZERO),
        ("axle_braking_rating_kg", kind.axle_braking_rating_kg, ABOVE_ZERO),
        ("coupling_rating_n", kind.coupling_rating_n, ABOVE_ZERO),
        ("coupling_height_mm", kind.coupling_height.and_then(mm), DISTANCE),
        ("braked_weight_kg", kind.braked_weight_kg, FROM_ZERO),
        ("least_radius_m", kind.least_radius_m, ABOVE_ZERO),
    ];
    report.numbers(path, &numbers);
    if kind.tare_front_kg.is_some_and(|front_kg| front_kg > kind.tare_kg) {
        report.add(
            format!("{path}.tare_front_kg"),
            format!("the front part of the tare is more than the tare of {} kg", kind.tare_kg),
            "enter at most the tare",
        );
    }
    gear(kind, path, report);
    if let Some(springs) = &kind.springs {
        look_at_springs(springs, kind.tare_kg, &format!("{path}.springs"), report);
    }
    racks(plan, kind, path, report);
}

fn gear(kind: &VehicleType, path: &str, report: &mut Report) {
    let path = format!("{path}.gear");
    let mut shorter = |key: &str, length: Length, than: (&str, Length)| {
        if length >= than.1 && than.1 > Length::ZERO {
            report.add(
                format!("{path}.{key}"),
                format!("{length} is not shorter than the {} of {}", than.0, than.1),
                "check the dimensions of the vehicle",
            );
        }
    };
    match kind.gear {
        RunningGear::TwoAxle { wheelbase } => {
            shorter("wheelbase_mm", wheelbase, ("vehicle's length", kind.length));
            report.numbers(&path, &[("wheelbase_mm", mm(wheelbase), LENGTH)]);
        }
        RunningGear::Bogies { pivot_distance, axles_per_bogie, bogie_wheelbase } => {
            shorter("pivot_distance_mm", pivot_distance, ("vehicle's length", kind.length));
            shorter("bogie_wheelbase_mm", bogie_wheelbase, ("pivot distance", pivot_distance));
            if !matches!(axles_per_bogie, 2 | 3) {
                report.add(
                    format!("{path}.axles_per_bogie"),
                    format!("a bogie with {axles_per_bogie} axles cannot be reckoned with"),
                    "enter 2 or 3",
                );
            }
            let fields = [
                ("pivot_distance_mm", mm(pivot_distance), LENGTH),
                ("bogie_wheelbase_mm", mm(bogie_wheelbase), LENGTH),
            ];
            report.numbers(&path, &fields);
        }
    }
}

fn look_at_springs(springs: &Springs, tare_kg: f64, path: &str, report: &mut Report) {
    let fields = [
        ("front_n_per_m", Some(springs.front_n_per_m), RATE),
        ("rear_n_per_m", Some(springs.rear_n_per_m), RATE),
        ("roll_nm_per_rad", Some(springs.roll_nm_per_rad), RATE),
        ("frame_n_per_m", springs.frame_n_per_m, RATE),
        ("envelope_shares", springs.envelope.map(|(low, _)| low), ABOVE_ZERO),
        ("envelope_shares", springs.envelope.map(|(_, high)| high), ABOVE_ZERO),
        ("spring_height_mm", springs.spring_height_mm, FROM_ZERO),
        ("sprung_tare_kg", springs.sprung_tare_kg, FROM_ZERO),
    ];
    report.numbers(path, &fields);
    if springs.envelope.is_some_and(|(low, high)| low > high) {
        report.add(
            format!("{path}.envelope_shares"),
            "the lowest share is above the highest",
            "write the lower share first",
        );
    }
    if springs.sprung_tare_kg.is_some_and(|sprung_kg| sprung_kg > tare_kg) {
        report.add(
            format!("{path}.sprung_tare_kg"),
            format!("the sprung part of the tare is more than the tare of {tare_kg} kg"),
            "enter at most the tare",
        );
    }
}

fn racks(plan: &Plan, kind: &VehicleType, path: &str, report: &mut Report) {
    let half_m = kind.length.m() / 2.0;
    let on_deck = |path: String, at: Length, report: &mut Report| {
        if at.m().abs() > half_m && half_m > 0.0 {
            report.add(
                path,
                format!("{at} from the middle is beyond the end of a vehicle of {}", kind.length),
                "enter the place from the vehicle's middle, negative toward its front",
            );
        }
    };
    report.at_most(&format!("{path}.racks"), kind.racks.len(), MOST_OF_ONE);
    for (number, rack) in kind.racks.iter().enumerate() {
        let path = format!("{path}.racks[{number}]");
        if plan.rack_type(&rack.rack_type).is_none() {
            report.missing(format!("{path}.type"), "rack type", &rack.rack_type);
        }
        on_deck(format!("{path}.at_mm"), rack.at, report);
        report.numbers(&path, &[("height_offset_mm", Some(rack.height_offset_mm), ACROSS)]);
    }
    let places: Vec<f64> = kind.racks.iter().filter_map(|rack| mm(rack.at)).collect();
    report.growing(
        |number| format!("{path}.racks[{number}].at_mm"),
        &places,
        "write the racks from front to rear, each at its own place",
    );
    report.at_most(&format!("{path}.end_stops"), kind.end_stops.len(), MOST_OF_ONE);
    for (number, stop) in kind.end_stops.iter().enumerate() {
        on_deck(format!("{path}.end_stops[{number}].at_mm"), stop.at, report);
    }
}

fn rack_type(kind: &RackType, path: &str, report: &mut Report) {
    for (list, len) in [("tiers", kind.tiers.len()), ("lanes_y_mm", kind.lanes_y_mm.len())] {
        report.at_most(&format!("{path}.{list}"), len, MOST_OF_ONE);
        if len == 0 {
            report.add(format!("{path}.{list}"), "the list is empty", "enter at least one");
        }
    }
    for (number, tier) in kind.tiers.iter().enumerate() {
        let fields = [
            ("seat_above_deck_mm", Some(tier.seat_above_deck_mm), ACROSS),
            ("clear_mm", tier.clear_mm, ABOVE_ZERO),
        ];
        report.numbers(&format!("{path}.tiers[{number}]"), &fields);
    }
    let seats: Vec<f64> = kind.tiers.iter().map(|tier| tier.seat_above_deck_mm).collect();
    let tier = |number| format!("{path}.tiers[{number}].seat_above_deck_mm");
    report.growing(tier, &seats, "write the tiers from the bottom up");
    for (number, y_mm) in kind.lanes_y_mm.iter().enumerate() {
        report.number(|| format!("{path}.lanes_y_mm[{number}]"), *y_mm, ACROSS);
    }
    let lane = |number| format!("{path}.lanes_y_mm[{number}]");
    report.growing(lane, &kind.lanes_y_mm, "write the lanes from left to right, each at its own place");
    let fields = [
        ("pocket_width_mm", kind.pocket_width_mm, ABOVE_ZERO),
        ("side_play_mm", kind.side_play_mm, FROM_ZERO),
        ("pocket_rating_kg", kind.pocket_rating_kg, ABOVE_ZERO),
        ("tier_rating_kg", kind.tier_rating_kg, ABOVE_ZERO),
        ("rack_rating_kg", kind.rack_rating_kg, ABOVE_ZERO),
        ("side_rating_n", kind.side_rating_n, ABOVE_ZERO),
        ("friction", kind.friction, FRICTION),
        ("hold_rating_n", kind.hold_rating_n, ABOVE_ZERO),
    ];
    report.numbers(path, &fields);
}

fn vehicle(plan: &Plan, vehicle: &Vehicle, path: &str, report: &mut Report) {
    if plan.vehicle_type(&vehicle.vehicle_type).is_none() {
        report.missing(format!("{path}.type"), "vehicle type", &vehicle.vehicle_type);
    }
    let fields = [
        ("tare_kg", vehicle.tare_kg, ABOVE_ZERO),
        ("height_offset_mm", Some(vehicle.height_offset_mm), ACROSS),
    ];
    report.numbers(path, &fields);
}

#[cfg(test)]
mod tests {
    use crate::model::validity::tests::check;
    use crate::model::{
        EndStop, Plan, RackOnDeck, RackTypeName, RunningGear, Springs, Vehicle, VehicleType, VehicleTypeName,
    };
    use crate::units::Length;

    /// Changes the vehicle type of a sound plan; `path` is where the problem must be, none: no problem.
    fn check_type(change: impl Fn(&mut VehicleType), path: Option<&str>) {
        let path = path.map(|path| format!("train.vehicle_types[0].{path}"));
        let paths: Vec<&str> = path.iter().map(String::as_str).collect();
        check(|plan| change(&mut plan.train.vehicle_types[0]), &paths);
    }

    fn mm(mm: i64) -> Length {
        Length::from_mm(mm)
    }

    #[test]
    fn names_and_marks_are_unique_and_resolve() {
        check(|plan| plan.train.vehicles[2].mark = "W1".parse().unwrap(), &["train.vehicles[2].mark"]);
        check(
            |plan| plan.train.vehicle_types.push(plan.train.vehicle_types[0].clone()),
            &["train.vehicle_types[1].name"],
        );
        check(
            |plan| plan.train.rack_types.push(plan.train.rack_types[0].clone()),
            &["train.rack_types[1].name"],
        );
        let no_type = VehicleTypeName::new("none").unwrap();
        check(|plan| plan.train.vehicles[2].vehicle_type = no_type.clone(), &["train.vehicles[2].type"]);
        let no_rack = RackTypeName::new("none").unwrap();
        check_type(|kind| kind.racks[1].rack_type = no_rack.clone(), Some("racks[1].type"));
    }

    #[test]
    fn tare_and_ratings_are_above_zero_where_entered() {
        for bad in [0.0, -1.0, f64::NAN, f64::INFINITY] {
            check_type(|kind| kind.wheel_contact_mm = bad, Some("wheel_contact_mm"));
            check_type(|kind| kind.payload_rating_kg = Some(bad), Some("payload_rating_kg"));
            check_type(|kind| kind.axle_rating_kg = Some(bad), Some("axle_rating_kg"));
            check_type(|kind| kind.bogie_rating_kg = Some(bad), Some("bogie_rating_kg"));
            check_type(|kind| kind.wheel_rating_kg = Some(bad), Some("wheel_rating_kg"));
            check_type(|kind| kind.coupling_rating_n = Some(bad), Some("coupling_rating_n"));
            check(|plan| plan.train.vehicles[1].tare_kg = Some(bad), &["train.vehicles[1].tare_kg"]);
        }
        check_type(|kind| kind.payload_rating_kg = Some(0.001), None);
        check_type(|kind| kind.payload_rating_kg = None, None);
        check_type(|kind| kind.tare_kg = -0.5, Some("tare_kg"));
    }

    #[test]
    fn the_front_part_of_the_tare_is_at_most_the_tare() {
        let tare_kg = 24_000.0;
        check_type(|kind| (kind.tare_kg, kind.tare_front_kg) = (tare_kg, Some(tare_kg)), None);
        check_type(|kind| kind.tare_front_kg = Some(0.0), None);
        check_type(
            |kind| (kind.tare_kg, kind.tare_front_kg) = (tare_kg, Some(24_000.1)),
            Some("tare_front_kg"),
        );
        check_type(|kind| kind.tare_front_kg = Some(-1.0), Some("tare_front_kg"));
    }

    #[test]
    fn the_gear_fits_under_the_vehicle() {
        let bogies = |pivot, axles_per_bogie, wheelbase| {
            move |kind: &mut VehicleType| {
                kind.gear = RunningGear::Bogies {
                    pivot_distance: mm(pivot),
                    axles_per_bogie,
                    bogie_wheelbase: mm(wheelbase),
                };
            }
        };
        check_type(bogies(19_899, 2, 1_800), None);
        check_type(bogies(19_900, 2, 1_800), Some("gear.pivot_distance_mm"));
        check_type(bogies(14_200, 3, 1), None);
        check_type(bogies(14_200, 2, 0), Some("gear.bogie_wheelbase_mm"));
        check_type(bogies(14_200, 2, 14_199), None);
        check_type(bogies(14_200, 2, 14_200), Some("gear.bogie_wheelbase_mm"));
        check_type(bogies(14_200, 1, 1_800), Some("gear.axles_per_bogie"));
        check_type(bogies(14_200, 4, 1_800), Some("gear.axles_per_bogie"));
        let two_axle = |wheelbase| {
            move |kind: &mut VehicleType| kind.gear = RunningGear::TwoAxle { wheelbase: mm(wheelbase) }
        };
        check_type(two_axle(1), None);
        check_type(two_axle(0), Some("gear.wheelbase_mm"));
        check_type(two_axle(19_900), Some("gear.wheelbase_mm"));
    }

    #[test]
    fn the_racks_of_the_train_are_bounded_in_all() {
        let train_of = |vehicles: usize, racks: usize| {
            move |plan: &mut Plan| {
                let kind = &mut plan.train.vehicle_types[0];
                let rack = kind.racks[0].clone();
                let along = |at: usize| Length::from_mm(-9_000 + 100 * at as i64);
                kind.racks = (0..racks).map(|at| RackOnDeck { at: along(at), ..rack.clone() }).collect();
                let vehicle = plan.train.vehicles[0].clone();
                let mark = |at: usize| format!("W{}", at + 1).parse().unwrap();
                plan.train.vehicles =
                    (0..vehicles).map(|at| Vehicle { mark: mark(at), ..vehicle.clone() }).collect();
                plan.placements.clear();
                plan.drops.clear();
            }
        };
        check(train_of(50, 100), &[]);
        check(train_of(51, 100), &["train.vehicles"]);
        check(train_of(1_000, 5), &[]);
        check(train_of(1_000, 100), &["train.vehicles"]);
    }

    #[test]
    fn racks_and_stops_stand_on_the_vehicle_from_front_to_rear() {
        check_type(|kind| kind.racks[2].at = mm(9_950), None);
        check_type(|kind| kind.racks[2].at = mm(9_951), Some("racks[2].at_mm"));
        check_type(|kind| kind.racks[0].at = mm(i64::MIN), Some("racks[0].at_mm"));
        check_type(|kind| kind.racks[1].at = kind.racks[0].at, Some("racks[1].at_mm"));
        check_type(|kind| kind.racks.swap(0, 1), Some("racks[1].at_mm"));
        check_type(|kind| kind.end_stops.push(EndStop { at: mm(-9_950) }), None);
        check_type(|kind| kind.end_stops.push(EndStop { at: mm(-9_951) }), Some("end_stops[0].at_mm"));
    }

    #[test]
    fn the_length_of_a_vehicle_can_be_meant() {
        check_type(|kind| kind.length = mm(100_000), None);
        check_type(|kind| kind.length = mm(100_001), Some("length_mm"));
        check(
            |plan| {
                plan.train.vehicle_types.push(VehicleType {
                    name: "x".parse().unwrap(),
                    length: mm(0),
                    gear: RunningGear::TwoAxle { wheelbase: mm(-1) },
                    racks: Vec::new(),
                    ..plan.train.vehicle_types[0].clone()
                })
            },
            &["train.vehicle_types[1].length_mm", "train.vehicle_types[1].gear.wheelbase_mm"],
        );
    }

    #[test]
    fn spring_rates_can_be_those_of_a_wagon() {
        let springs = Springs {
            front_n_per_m: 4.0e6,
            rear_n_per_m: 4.0e6,
            roll_nm_per_rad: 4.0e6,
            frame_n_per_m: None,
            envelope: Some((1.0, 1.0)),
            spring_height_mm: Some(0.0),
            sprung_tare_kg: Some(1.0),
        };
        check_type(|kind| kind.springs = Some(springs), None);
        let broken = |change: fn(&mut Springs), path: &str| {
            check_type(
                |kind| {
                    let mut springs = springs;
                    change(&mut springs);
                    kind.springs = Some(springs);
                },
                Some(path),
            );
        };
        broken(|springs| springs.front_n_per_m = 0.0, "springs.front_n_per_m");
        broken(|springs| springs.front_n_per_m = 9_999.0, "springs.front_n_per_m");
        check_type(|kind| kind.springs = Some(Springs { front_n_per_m: 10_000.0, ..springs }), None);
        broken(|springs| springs.rear_n_per_m = -1.0, "springs.rear_n_per_m");
        broken(|springs| springs.roll_nm_per_rad = f64::NAN, "springs.roll_nm_per_rad");
        broken(|springs| springs.frame_n_per_m = Some(0.0), "springs.frame_n_per_m");
        broken(|springs| springs.envelope = Some((1.2, 0.8)), "springs.envelope_shares");
        broken(|springs| springs.envelope = Some((0.0, 0.8)), "springs.envelope_shares");
        broken(|springs| springs.spring_height_mm = Some(-1.0), "springs.spring_height_mm");
        broken(|springs| springs.sprung_tare_kg = Some(1.0e6), "springs.sprung_tare_kg");
    }

    #[test]
    fn a_rack_has_rising_tiers_and_lanes_from_left_to_right() {
        let rack = "train.rack_types[0]";
        let at = |path: &str| format!("{rack}.{path}");
        check(|plan| plan.train.rack_types[0].tiers.truncate(1), &[]);
        check(|plan| plan.train.rack_types[0].tiers.clear(), &[&at("tiers")]);
        check(|plan| plan.train.rack_types[0].lanes_y_mm.clear(), &[&at("lanes_y_mm")]);
        check(|plan| plan.train.rack_types[0].lanes_y_mm.swap(3, 4), &[&at("lanes_y_mm[4]")]);
        check(
            |plan| {
                let tiers = &mut plan.train.rack_types[0].tiers;
                tiers[1].seat_above_deck_mm = tiers[0].seat_above_deck_mm;
            },
            &[&at("tiers[1].seat_above_deck_mm")],
        );
        check(|plan| plan.train.rack_types[0].tiers[2].clear_mm = Some(0.0), &[&at("tiers[2].clear_mm")]);
        check(|plan| plan.train.rack_types[0].friction = Some(-0.1), &[&at("friction")]);
        check(|plan| plan.train.rack_types[0].friction = Some(0.0), &[]);
        check(|plan| plan.train.rack_types[0].hold_rating_n = Some(0.0), &[&at("hold_rating_n")]);
        check(|plan| plan.train.rack_types[0].lanes_y_mm[9] = f64::NAN, &[&at("lanes_y_mm[9]")]);
    }

    #[test]
    fn the_row_has_its_bounds() {
        check(|plan| plan.train.coupling_slack = Some(mm(-1)), &["train.coupling_slack_mm"]);
        check(|plan| plan.train.front_beyond.distance = mm(-1), &["train.front_beyond.distance_mm"]);
        check(|plan| plan.train.rear_beyond.distance = mm(-1), &["train.rear_beyond.distance_mm"]);
        let row = |len: usize| {
            move |plan: &mut Plan| {
                let first = plan.train.vehicles[0].clone();
                for number in plan.train.vehicles.len()..len {
                    let mark = format!("X{number}").parse().unwrap();
                    plan.train.vehicles.push(Vehicle { mark, ..first.clone() });
                }
            }
        };
        check(row(1_000), &[]);
        check(row(1_001), &["train.vehicles"]);
    }
}
