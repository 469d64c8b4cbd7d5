//! A plan in which every field of the model is set, for the tests of the file format.

use longstow::model::*;
use longstow::units::{DecimalMark, Length, UnitSystem};

fn mm(mm: i64) -> Length {
    Length::from_mm(mm)
}

fn name<T: std::str::FromStr<Err = NameError>>(text: &str) -> T {
    text.parse().unwrap()
}

fn source(sure: Sureness) -> Source {
    Source { text: "drawing 12, \"sheet\" 3".to_owned(), sure }
}

fn rack(vehicle: &str, rack: u32) -> RackRef {
    RackRef { vehicle: name(vehicle), rack }
}

/// A sound plan with every optional field set and every kind of step, gear, mass and weighed part.
pub(crate) fn full_plan() -> Plan {
    Plan {
        title: "Every field".to_owned(),
        notes: "first line\nsecond line".to_owned(),
        units: UnitSystem::UsCustomary,
        train: train(),
        sections: vec![section()],
        steels: vec![steel()],
        order: order(),
        order_table: order_table(),
        placements: placements(),
        drops: drops(),
        route: route(),
        limits: limits(),
        accepted: vec![Acceptance {
            check: "wheel-ratio".to_owned(),
            things: vec!["W1".to_owned()],
            by: "A. Planner".to_owned(),
            why: "weighed".to_owned(),
            at: "2026-11-25".to_owned(),
            found: Some(Found::Figures { demand: 1.31, capacity: 1.25 }),
        }],
        as_loaded: vec![AsLoaded {
            string: name("A1"),
            tier: 1,
            lane: 2,
            front: mm(1_600),
            holds: vec![rack("W1", 2)],
            missing: true,
            by: "Y. Supervisor".to_owned(),
            at: "2026-11-26".to_owned(),
        }],
        weighings: weighings(),
        signatures: vec![Signature {
            by: "Y. Supervisor".to_owned(),
            at: "2026-11-26".to_owned(),
            hash: "0f".to_owned(),
        }],
    }
}

fn order_table() -> OrderTable {
    let column = |header: &str, holds, unit| MatchedColumn { header: header.to_owned(), holds, unit };
    OrderTable {
        decimal: Some(DecimalMark::Comma),
        columns: vec![
            column("How long", OrderColumn::Length, Some(ColumnUnit::Metre)),
            column("Remarks, \"own\"", OrderColumn::Nothing, None),
        ],
    }
}

fn train() -> Train {
    Train {
        vehicle_types: vec![wagon(), two_axle()],
        rack_types: vec![rack_type()],
        vehicles: vec![
            vehicle("W1", "Flat", false),
            vehicle("W2", "Flat", true),
            vehicle("I1", "Idler", false),
        ],
        coupling_slack: Some(mm(40)),
        front_beyond: Beyond { kind: BeyondKind::EndStop, distance: mm(500) },
        rear_beyond: Beyond { kind: BeyondKind::Vehicle, distance: mm(0) },
        lane_rule: Some(LaneRule::OutermostFirst),
    }
}

fn vehicle(mark: &str, kind: &str, turned: bool) -> Vehicle {
    Vehicle {
        mark: name(mark),
        vehicle_type: name(kind),
        turned,
        tare_kg: Some(23_950.5),
        height_offset_mm: -4.5,
    }
}

fn wagon() -> VehicleType {
    VehicleType {
        name: name("Flat"),
        kind: VehicleKind::Wagon,
        length: mm(19_900),
        gear: RunningGear::Bogies {
            pivot_distance: mm(14_200),
            axles_per_bogie: 2,
            bogie_wheelbase: mm(1_800),
        },
        wheel_contact_mm: 1_500.0,
        tare_kg: 24_000.0,
        tare_front_kg: Some(12_100.0),
        tare_y_mm: 3.25,
        tare_cog_height_mm: Some(900.0),
        deck_height: Some(mm(1_180)),
        payload_rating_kg: Some(66_000.0),
        bogie_rating_kg: Some(45_000.0),
        axle_rating_kg: Some(22_500.0),
        wheel_rating_kg: Some(11_250.0),
        axle_braking_rating_kg: Some(24_000.0),
        coupling_rating_n: Some(850_000.0),
        coupling_height: Some(mm(1_050)),
        braked_weight_kg: Some(58_000.0),
        least_radius_m: Some(75.0),
        springs: Some(Springs {
            front_n_per_m: 4.0e6,
            rear_n_per_m: 4.1e6,
            roll_nm_per_rad: 4.0e6,
            frame_n_per_m: Some(2.5e7),
            envelope: Some((0.8, 1.2)),
            spring_height_mm: Some(700.0),
            sprung_tare_kg: Some(15_000.0),
        }),
        racks: [-6_633, 0, 6_633]
            .map(|at| RackOnDeck { rack_type: name("R 5x10"), at: mm(at), height_offset_mm: 0.1 })
            .to_vec(),
        end_stops: vec![EndStop { at: mm(-9_500) }],
        source: source(Sureness::Entered),
    }
}

fn two_axle() -> VehicleType {
    VehicleType {
        name: name("Idler"),
        kind: VehicleKind::Idler,
        gear: RunningGear::TwoAxle { wheelbase: mm(9_000) },
        length: mm(14_000),
        tare_front_kg: None,
        racks: Vec::new(),
        end_stops: Vec::new(),
        ..wagon()
    }
}

fn rack_type() -> RackType {
    RackType {
        name: name("R 5x10"),
        kind: RackKind::Roller,
        tiers: vec![
            Tier { seat_above_deck_mm: 100.0, clear_mm: Some(185.0) },
            Tier { seat_above_deck_mm: 330.5, clear_mm: Some(185.0) },
        ],
        lanes_y_mm: vec![-1_200.0, -933.3, 933.3, 1_200.0],
        pocket_width_mm: Some(200.0),
        side_play_mm: Some(25.0),
        pocket_rating_kg: Some(900.0),
        tier_rating_kg: Some(8_000.0),
        rack_rating_kg: Some(30_000.0),
        side_rating_n: Some(120_000.0),
        friction: Some(0.02),
        hold_rating_n: Some(60_000.0),
        tier_access: Some(TierAccess::AboveEmpty),
        source: source(Sureness::Practice),
    }
}

fn section() -> RailSection {
    RailSection {
        name: name("60E1"),
        mass_kg_per_m: 60.21,
        area_cm2: 76.70,
        ix_cm4: 3_038.3,
        iy_cm4: Some(512.3),
        height_mm: Some(172.0),
        foot_mm: Some(150.0),
        head_mm: Some(72.0),
        web_mm: Some(16.5),
        neutral_axis_mm: Some(80.9),
        wx_head_cm3: Some(333.6),
        wx_foot_cm3: Some(375.5),
        wy_foot_cm3: Some(68.3),
        source: source(Sureness::Computed),
    }
}

fn steel() -> Steel {
    Steel {
        name: name("R260"),
        modulus_gpa: 210.0,
        expansion_1e6_per_k: Some(11.8),
        density_kg_per_m3: Some(7_850.0),
        tensile_mpa: Some(880.0),
        yield_mpa: Some(440.0),
        handling_mpa: Some(300.0),
        source: source(Sureness::Read),
    }
}

fn order() -> Vec<OrderedString> {
    let string = |mark: &str, side, mass| OrderedString {
        mark: name(mark),
        section: name("60E1"),
        steel: Some(name("R260")),
        length: mm(36_000),
        side: Some(side),
        drop: Some(name("Site 1")),
        mass,
    };
    let stated = |kg, basis| MassEntry::Stated { kg, basis };
    vec![
        string("A1", TrackSide::Left, stated(2_170.25, StatedBasis::Weighed)),
        string("A2", TrackSide::Right, stated(2_167.56, StatedBasis::Document)),
        string("old 1", TrackSide::Left, MassEntry::Computed),
    ]
}

fn placements() -> Vec<Placement> {
    let place = |mark: &str, lane, locked| Placement {
        string: name(mark),
        tier: 1,
        lane,
        front: mm(1_500),
        holds: vec![rack("W1", 2)],
        rests_on: Some(RackSpan { first: rack("W1", 1), last: rack("W2", 3) }),
        locked,
    };
    vec![place("A1", 1, true), place("A2", 4, false)]
}

fn drops() -> Vec<Drop> {
    let pair = StepStrings::Pair { first: name("A1"), second: name("A2"), together: true };
    vec![Drop {
        name: name("Site 1"),
        place: "Example junction, up line".to_owned(),
        toward: TrainEnd::Rear,
        gap_between: Some(mm(20)),
        possession_min: Some(240.0),
        handling_min: Some(7.5),
        chute_height: Some(mm(400)),
        chute_roller_behind: Some(mm(6_000)),
        chute_roller_lower: Some(mm(200)),
        seat_offset: Some(mm(1_000)),
        steps: vec![
            Step { kind: StepKind::Off, strings: pair.clone(), toward: Some(TrainEnd::Front) },
            Step { kind: StepKind::On, strings: StepStrings::One(name("old 1")), toward: None },
            Step { kind: StepKind::On, strings: pair, toward: Some(TrainEnd::Rear) },
        ],
    }]
}

fn route() -> Route {
    Route {
        line_class: Some(LineClass {
            name: "D4".to_owned(),
            axle_kg: 22_500.0,
            mass_per_metre_kg: Some(8_000.0),
            source: source(Sureness::Secondary),
        }),
        curves: vec![Curve {
            radius_m: 150.0,
            arc_m: Some(200.0),
            transition_m: 0.0,
            cant_mm: Some(100.0),
            speed_kmh: Some(40.0),
        }],
        s_curve: Some(SCurve { radius_m: 190.0, straight_m: 6.0 }),
        greatest_cant_mm: Some(150.0),
        speed_kmh: Some(80.0),
        cant_deficiency_mm: Some(100.0),
        gauge: Some(GaugeLine {
            name: "G2".to_owned(),
            points_mm: vec![(1_620.0, 400.0), (1_645.0, 1_170.0)],
            allowed_mm: vec![(250.0, 20.0, 20.0), (225.0, 55.0, 60.0)],
            source: source(Sureness::Secondary),
        }),
        humped: Some(false),
        accelerations: Some(Accelerations {
            name: "not humped".to_owned(),
            longitudinal_g: 1.0,
            lateral_g: 0.5,
            vertical_g: 0.3,
            impact_m_per_s: Some(1.25),
            source: source(Sureness::Secondary),
        }),
        braking_m_per_s2: Some(1.2),
        buffing_m_per_s2: Some(1.5),
        temperature_range_k: Some(40.0),
        rack_height_tolerance_mm: Some(5.0),
        mass_tolerance: Some(0.02),
        wagon_height_tolerance: Some(mm(20)),
        feed: Some(FeedSpeeds { loading_m_per_s: Some(0.75), unloading_m_per_s: Some(1.5) }),
        legs: vec![Leg { name: "yard to site 1".to_owned(), leading: TrainEnd::Front }],
        asked: Topic::ALL.to_vec(),
    }
}

fn limits() -> Limits {
    let limit = |(number, kind): (usize, LimitKind)| {
        let (running, working) = match kind {
            LimitKind::LeastRacks => (3.0, 2.0),
            LimitKind::WheelUnloading => (0.4, 0.45),
            _ => (1.25 + number as f64, 1.3 + number as f64),
        };
        let limit = Limit {
            running,
            working: Some(working),
            source: source(Sureness::Memory),
            accepted_by: Some("A. Planner".to_owned()),
        };
        (kind, limit)
    };
    let entries = LimitKind::ALL.into_iter().enumerate().map(limit).collect();
    Limits { entries, near_share: Some(0.9) }
}

fn weighings() -> Vec<Weighing> {
    let parts =
        [WeighedPart::Vehicle, WeighedPart::Axle(2), WeighedPart::LeftWheel(3), WeighedPart::RightWheel(4)];
    let weighing = |part| Weighing {
        vehicle: name("W1"),
        part,
        kg: 6_250.5,
        tolerance: Some(0.01),
        by: "Y. Supervisor".to_owned(),
        at: "2026-11-26 06:10".to_owned(),
    };
    parts.map(weighing).to_vec()
}
