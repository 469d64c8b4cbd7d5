//! What no load may break, on random trains: sums of forces and moments, contact that only pushes, symmetry.

use crate::trains::{add, figures, place, plan, section, wagon};
use longstow::model::{Plan, RunningGear, VehicleType};
use longstow::statics::{Beam, BeamFigures, Figures, PlacedString, VehicleLoads};
use longstow::units::Length;
use proptest::prelude::*;

/// Share of the total weight (times a length for moments) that sums may miss.
const SLACK: f64 = 1.0e-9;

/// A train told by its dimensions, so that it can be mirrored.
#[derive(Clone, Debug)]
struct Train {
    lanes_mm: Vec<f64>,
    wagons: Vec<Wagon>,
    strings: Vec<StringAt>,
}

#[derive(Clone, Debug)]
struct Wagon {
    half_length_mm: i64,
    axles: u32,
    half_support_mm: i64,
    tare_kg: f64,
    front_share: f64,
    tare_y_mm: f64,
    racks_mm: Vec<i64>,
    turned: bool,
}

#[derive(Clone, Debug)]
struct StringAt {
    front_mm: i64,
    length_mm: i64,
    lane: u32,
    kg_per_m: f64,
}

fn any_wagon() -> impl Strategy<Value = Wagon> {
    let racks = prop::collection::btree_set(-13_i64..=13, 2..5);
    (4_500..10_500_i64, 1..4_u32, 0.28..0.38, 8_000.0..30_000.0, 0.4..0.6, -60.0..60.0, racks, any::<bool>())
        .prop_map(|(half_length_mm, axles, support, tare_kg, front_share, tare_y_mm, racks, turned)| Wagon {
            half_length_mm,
            axles,
            half_support_mm: (2.0 * support * half_length_mm as f64) as i64,
            tare_kg,
            front_share,
            tare_y_mm,
            racks_mm: racks.into_iter().map(|rack| rack * (half_length_mm - 300) / 13).collect(),
            turned,
        })
}

fn any_train() -> impl Strategy<Value = Train> {
    let lanes = prop::collection::btree_set(-26_i32..=26, 2..7);
    let string = (0.0..0.7, 0.2..1.0, any::<prop::sample::Index>(), 40.0..70.0);
    (lanes, prop::collection::vec(any_wagon(), 1..7), prop::collection::vec(string, 1..12)).prop_map(
        |(lanes, wagons, strings)| {
            let length_mm: i64 = wagons.iter().map(|wagon| 2 * wagon.half_length_mm).sum();
            let at = |share: f64| (share * length_mm as f64) as i64;
            let string = |(front, part, lane, kg_per_m): (f64, f64, prop::sample::Index, f64)| StringAt {
                front_mm: at(front),
                length_mm: at((1.0 - front) * part).max(1_000),
                lane: lane.index(lanes.len()) as u32 + 1,
                kg_per_m,
            };
            let strings = strings.into_iter().map(string).collect();
            let lanes_mm = lanes.iter().map(|lane| f64::from(50 * lane)).collect();
            Train { lanes_mm, wagons, strings }
        },
    )
}

impl Train {
    fn plan(&self) -> Plan {
        let mut plan = plan(&self.lanes_mm, self.strings.len() as u32);
        for wagon in &self.wagons {
            add(&mut plan, wagon.vehicle_type(), wagon.turned);
        }
        for (tier, string) in (1..).zip(&self.strings) {
            let name = format!("Section {tier}");
            plan.sections.push(section(&name, string.kg_per_m, 3_000.0));
            place(&mut plan, &name, string.length_mm, (tier, string.lane, string.front_mm));
        }
        plan
    }

    fn length_mm(&self) -> i64 {
        self.wagons.iter().map(|wagon| 2 * wagon.half_length_mm).sum()
    }

    /// The train seen in a mirror that swaps front and rear.
    fn swapped_front_and_rear(&self) -> Self {
        let mut mirrored = self.clone();
        mirrored.wagons.reverse();
        for wagon in &mut mirrored.wagons {
            wagon.racks_mm = wagon.racks_mm.iter().rev().map(|at| -at).collect();
            wagon.front_share = 1.0 - wagon.front_share;
        }
        for string in &mut mirrored.strings {
            string.front_mm = self.length_mm() - string.front_mm - string.length_mm;
        }
        mirrored
    }

    /// The train seen in a mirror that swaps left and right.
    fn swapped_left_and_right(&self) -> Self {
        let mut mirrored = self.clone();
        mirrored.lanes_mm = self.lanes_mm.iter().rev().map(|y| -y).collect();
        for wagon in &mut mirrored.wagons {
            wagon.tare_y_mm = -wagon.tare_y_mm;
        }
        for string in &mut mirrored.strings {
            string.lane = self.lanes_mm.len() as u32 + 1 - string.lane;
        }
        mirrored
    }

    /// The same train looked at from its other end: every vehicle turned, the last one first.
    fn seen_from_the_other_end(&self) -> Self {
        let mut other = self.clone();
        other.wagons.reverse();
        for wagon in &mut other.wagons {
            wagon.turned = !wagon.turned;
        }
        for string in &mut other.strings {
            string.front_mm = self.length_mm() - string.front_mm - string.length_mm;
            string.lane = self.lanes_mm.len() as u32 + 1 - string.lane;
        }
        other
    }
}

impl Wagon {
    fn vehicle_type(&self) -> VehicleType {
        let apart = Length::from_mm(2 * self.half_support_mm);
        let gear = match self.axles {
            1 => RunningGear::TwoAxle { wheelbase: apart },
            axles_per_bogie => RunningGear::Bogies {
                pivot_distance: apart,
                axles_per_bogie,
                bogie_wheelbase: Length::from_mm(1_800),
            },
        };
        VehicleType {
            tare_kg: self.tare_kg,
            tare_front_kg: Some(self.front_share * self.tare_kg),
            tare_y_mm: self.tare_y_mm,
            ..wagon(2 * self.half_length_mm, gear, &self.racks_mm)
        }
    }
}

#[track_caller]
fn near(value: f64, expected: f64, scale: f64) {
    assert!((value - expected).abs() <= SLACK * scale, "{value}, expected {expected}, scale {scale}");
}

fn check_string(figures: &Figures, placed: &PlacedString) {
    let racks = &figures.consist.racks[placed.racks.clone()];
    let length_m = (placed.rear - placed.front).m();
    let centre_m = f64::midpoint(placed.front.m(), placed.rear.m());
    near(placed.carried_kg.iter().sum(), placed.mass_kg, placed.mass_kg);
    for about_m in [placed.front.m(), placed.rear.m()] {
        let loads = racks.iter().zip(&placed.carried_kg);
        let moment: f64 = loads.map(|(rack, kg)| kg * (rack.x.m() - about_m)).sum();
        near(moment, placed.mass_kg * (centre_m - about_m), placed.mass_kg * length_m);
    }
    assert!(placed.carried_kg.iter().all(|kg| *kg >= 0.0));
}

/// Forces and moments of a vehicle: about its two buffer faces along, and about the track's middle across.
fn check_vehicle(figures: &Figures, index: usize) {
    let (place, loads) = (&figures.consist.vehicles[index], &figures.worked[0].vehicles[index]);
    let own_racks = place.racks.clone();
    let rack_kg = |rack: usize| figures.worked[0].rack_kg(rack);
    let pivots_m = [-0.5, 0.5].map(|half| place.middle_m + half * place.support_distance_m);
    let length_m = (place.rear - place.front).m();
    near(loads.gross_kg, loads.supports.iter().map(|support| support.load_kg).sum(), loads.gross_kg);
    for about_m in [place.front.m(), place.rear.m()] {
        let carried: f64 = pivots_m.iter().zip(loads.supports).map(|(x, s)| s.load_kg * (x - about_m)).sum();
        let tare: f64 = pivots_m.iter().zip(place.tare_kg).map(|(x, kg)| kg * (x - about_m)).sum();
        let racks = own_racks.clone();
        let payload: f64 =
            racks.map(|rack| rack_kg(rack) * (figures.consist.racks[rack].x.m() - about_m)).sum();
        near(carried, tare + payload, loads.gross_kg * length_m);
        let axles = place.axles_m.iter().enumerate();
        let axles: f64 = axles
            .map(|(axle, x)| loads.supports[axle / place.axles_per_support as usize].axle_kg * (x - about_m))
            .sum();
        near(axles, tare + payload, loads.gross_kg * length_m);
    }
    let mut side_kg_m = place.tare_kg.iter().sum::<f64>() * place.tare_y_m;
    for placed in &figures.placed {
        for (at, kg) in placed.carried_kg.iter().enumerate() {
            if own_racks.contains(&(placed.racks.start + at)) {
                side_kg_m += kg * placed.y_m[at];
            }
        }
    }
    check_wheels(loads, place.axles_per_support, place.contact_m, side_kg_m);
}

fn check_wheels(loads: &VehicleLoads, axles: u32, contact_m: f64, side_kg_m: f64) {
    for wheels in [loads.supports.map(|support| support.stiff), loads.supports.map(|support| support.soft)] {
        let axles = f64::from(axles);
        let sum: f64 = wheels.iter().map(|wheels| axles * (wheels.left_kg + wheels.right_kg)).sum();
        near(sum, loads.gross_kg, loads.gross_kg);
        let moment = |wheels: &longstow::statics::SideLoads| wheels.right_kg - wheels.left_kg;
        let moment: f64 = wheels.iter().map(|wheels| axles * moment(wheels) * contact_m / 2.0).sum();
        near(moment, side_kg_m, loads.gross_kg);
    }
}

fn check_train(figures: &Figures) {
    let state = &figures.worked[0];
    let carried = || figures.placed.iter().filter(|placed| placed.beam.is_ok());
    let tare_kg: f64 = figures.consist.vehicles.iter().flat_map(|place| place.tare_kg).sum();
    let gross_kg: f64 = state.vehicles.iter().map(|vehicle| vehicle.gross_kg).sum();
    near(gross_kg, tare_kg + carried().map(|placed| placed.mass_kg).sum::<f64>(), gross_kg);
    for about_m in [0.0, figures.consist.length.m()] {
        let (mut axles, mut weights) = (0.0, 0.0);
        for (place, loads) in figures.consist.vehicles.iter().zip(&state.vehicles) {
            for (axle, x_m) in place.axles_m.iter().enumerate() {
                axles += loads.supports[axle / place.axles_per_support as usize].axle_kg * (x_m - about_m);
            }
            for (half, kg) in [-0.5, 0.5].iter().zip(place.tare_kg) {
                weights += kg * (place.middle_m + half * place.support_distance_m - about_m);
            }
        }
        for placed in carried() {
            weights += placed.mass_kg * (f64::midpoint(placed.front.m(), placed.rear.m()) - about_m);
        }
        near(axles, weights, gross_kg * figures.consist.length.m());
    }
}

/// Vehicle loads of `other`, where its vehicles run the other way round if `reversed`.
fn check_mirrored(train: &Train, other: &Train, ends: Swap, sides: Swap) {
    let (one, two) = (figures(train.plan()), figures(other.plan()));
    let (one, mut two) = (&one.worked[0].vehicles, two.worked[0].vehicles.clone());
    if ends == Swap::Swapped {
        two.reverse();
        two.iter_mut().for_each(|vehicle| vehicle.supports.reverse());
    }
    for (one, two) in one.iter().zip(&two) {
        for (one, two) in one.supports.iter().zip(&two.supports) {
            near(one.load_kg, two.load_kg, one.load_kg.abs());
            for (one, two) in [(one.stiff, two.stiff), (one.soft, two.soft)] {
                let scale = one.left_kg.abs().max(one.right_kg.abs());
                let (left_kg, right_kg) = match sides {
                    Swap::Kept => (two.left_kg, two.right_kg),
                    Swap::Swapped => (two.right_kg, two.left_kg),
                };
                near(one.left_kg, left_kg, scale);
                near(one.right_kg, right_kg, scale);
            }
        }
    }
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Swap {
    Kept,
    Swapped,
}

proptest! {
    #[test]
    fn every_string_vehicle_and_train_is_in_equilibrium(train in any_train()) {
        let figures = figures(train.plan());
        for placed in figures.placed.iter().filter(|placed| placed.beam.is_ok()) {
            check_string(&figures, placed);
        }
        for vehicle in 0..figures.consist.vehicles.len() {
            check_vehicle(&figures, vehicle);
        }
        check_train(&figures);
    }

    #[test]
    fn mirrored_front_to_rear_the_loads_are_mirrored(train in any_train()) {
        check_mirrored(&train, &train.swapped_front_and_rear(), Swap::Swapped, Swap::Kept);
    }

    #[test]
    fn mirrored_left_to_right_the_loads_are_mirrored(train in any_train()) {
        check_mirrored(&train, &train.swapped_left_and_right(), Swap::Kept, Swap::Swapped);
    }

    #[test]
    fn seen_from_the_other_end_with_all_vehicles_turned_it_is_the_same_train(train in any_train()) {
        check_mirrored(&train, &train.seen_from_the_other_end(), Swap::Swapped, Swap::Swapped);
    }

    #[test]
    fn a_string_rests_only_on_racks_that_push_and_sinks_into_none(
        gaps_mm in prop::collection::vec(prop_oneof![Just(1_i64), 500..9_000_i64], 1..14),
        overhangs_mm in (0..9_000_i64, 0..9_000_i64),
    ) {
        let mut at_mm = 0;
        let mut supports_m = vec![0.0];
        supports_m.extend(gaps_mm.iter().map(|gap_mm| { at_mm += gap_mm; at_mm as f64 / 1000.0 }));
        let beam = Beam {
            supports_m: &supports_m,
            front_m: -overhangs_mm.0 as f64 / 1000.0,
            rear_m: (at_mm + overhangs_mm.1) as f64 / 1000.0,
            weight_n_per_m: 600.0,
            stiffness_n_m2: 6.0e6,
        };
        if let Ok(figures) = beam.solve() {
            check_contact(&beam, &figures);
        }
    }
}

/// Compares with the deflection line by double integration from the front tip, which knows no moments over
/// supports: zero where the string rests, not below zero where it lifts off, and the sag of every span.
fn check_contact(beam: &Beam<'_>, figures: &BeamFigures) {
    let (x, q) = (beam.supports_m, beam.weight_n_per_m);
    let weight_n = q * (beam.rear_m - beam.front_m);
    near(figures.reactions_n.iter().sum(), weight_n, weight_n);
    assert!(figures.reactions_n.iter().all(|reaction| *reaction >= 0.0));
    let curve = |at: f64| {
        let pushed: f64 =
            x.iter().zip(&figures.reactions_n).map(|(x, r)| r * (at - x).max(0.0).powi(3) / 6.0).sum();
        (pushed - q * (at - beam.front_m).powi(4) / 24.0) / beam.stiffness_n_m2
    };
    let mut on = (0..x.len()).filter(|support| figures.carries[*support]);
    let (first, last) = (on.next().unwrap(), on.next_back().unwrap());
    let slope = (curve(x[last]) - curve(x[first])) / (x[last] - x[first]);
    let height_m = |at: f64| curve(at) - curve(x[first]) - slope * (at - x[first]);
    // Double integration loses digits with the fourth power of the length; so does its slack.
    let slack_m = 1.0e-13 * q * (beam.rear_m - beam.front_m).powi(4) / beam.stiffness_n_m2 + 1.0e-12;
    for (support, height_m) in x.iter().map(|x| height_m(*x)).enumerate() {
        assert!(height_m >= -slack_m, "sinks into {support}: {height_m}");
        if figures.carries[support] {
            assert!(height_m <= slack_m, "floats over {support}: {height_m}");
        } else {
            assert_eq!(figures.reactions_n[support].to_bits(), 0);
        }
    }
    assert!((height_m(beam.front_m) - figures.front_tip_m).abs() <= slack_m);
    assert!((height_m(beam.rear_m) - figures.rear_tip_m).abs() <= slack_m);
    for span in &figures.spans {
        let step_m = span.length_m / 200.0;
        let lowest_m =
            (0..=200).map(|step| height_m(x[span.from] + step_m * f64::from(step))).fold(0.0, f64::min);
        // Between two steps a curve of this moment can hang lower by M step^2 / (8 E I).
        let missed_m = span.largest_moment_nm.max(0.0) * step_m * step_m / 8.0 / beam.stiffness_n_m2;
        assert!(span.sag_m >= -lowest_m - slack_m, "{} sags {lowest_m}", span.sag_m);
        assert!(span.sag_m <= -lowest_m + missed_m + slack_m, "{} sags {lowest_m}", span.sag_m);
    }
}
