//! Small sound plans for unit tests, built from the reference wagon of the mechanics' test values.
//!
//! Wagon: 19.9 m over buffers, pivots 14.2 m, bogie wheelbase 1.8 m, tare 24 t, racks at -6.633, 0 and
//! +6.633 m with 5 tiers and 10 lanes over +-1.2 m. Every rating and limit is entered, so that a test takes
//! away just what it is about.

use crate::model::*;
use crate::units::{Length, UnitSystem};
use std::collections::BTreeMap;

/// A plan of `wagons` reference wagons marked `W1`.. and no strings.
pub(crate) fn empty_plan(wagons: usize) -> Plan {
    Plan {
        title: "Test plan".to_owned(),
        notes: String::new(),
        units: UnitSystem::Metric,
        train: Train {
            vehicle_types: vec![reference_wagon()],
            rack_types: vec![reference_rack()],
            vehicles: (1..=wagons).map(|number| vehicle(&format!("W{number}"), "Flat")).collect(),
            coupling_slack: Some(Length::from_mm(40)),
            front_beyond: Beyond { kind: BeyondKind::Nothing, distance: Length::ZERO },
            rear_beyond: Beyond { kind: BeyondKind::Nothing, distance: Length::ZERO },
            lane_rule: Some(LaneRule::AnyOrder),
        },
        sections: vec![section_60e1()],
        steels: Vec::new(),
        order: Vec::new(),
        order_table: OrderTable::default(),
        placements: Vec::new(),
        drops: Vec::new(),
        route: Route {
            line_class: Some(LineClass {
                name: "D4".to_owned(),
                axle_kg: 22_500.0,
                mass_per_metre_kg: Some(8_000.0),
                source: source(),
            }),
            asked: vec![Topic::TrainTotals],
            ..Route::default()
        },
        limits: Limits { entries: limits(), near_share: None },
        accepted: Vec::new(),
        as_loaded: Vec::new(),
        weighings: Vec::new(),
        signatures: Vec::new(),
    }
}

/// Adds string `mark` of 60E1 to the order and places it, held at the middle rack of the wagon nearest its middle.
pub(crate) fn place(plan: &mut Plan, mark: &str, length_mm: i64, at: (u32, u32, i64)) {
    let (tier, lane, front_mm) = at;
    plan.order.push(OrderedString {
        mark: StringMark::new(mark).unwrap(),
        section: SectionName::new("60E1").unwrap(),
        steel: None,
        length: Length::from_mm(length_mm),
        side: None,
        drop: None,
        mass: MassEntry::Computed,
    });
    let wagon = ((front_mm + length_mm / 2) / 19_900).clamp(0, plan.train.vehicles.len() as i64 - 1) as usize;
    plan.placements.push(Placement {
        string: StringMark::new(mark).unwrap(),
        tier,
        lane,
        front: Length::from_mm(front_mm),
        holds: vec![RackRef { vehicle: plan.train.vehicles[wagon].mark.clone(), rack: 2 }],
        rests_on: None,
        locked: false,
    });
}

/// A drop called `name` whose steps take off one string each, toward the rear.
pub(crate) fn drop_off(name: &str, marks: &[&str]) -> Drop {
    Drop {
        name: DropName::new(name).unwrap(),
        place: String::new(),
        toward: TrainEnd::Rear,
        gap_between: None,
        possession_min: None,
        handling_min: None,
        chute_height: None,
        chute_roller_behind: None,
        chute_roller_lower: None,
        seat_offset: None,
        steps: marks
            .iter()
            .map(|mark| Step {
                kind: StepKind::Off,
                strings: StepStrings::One(StringMark::new(mark).unwrap()),
                toward: None,
            })
            .collect(),
    }
}

/// A vehicle of the type called `kind`.
pub(crate) fn vehicle(mark: &str, kind: &str) -> Vehicle {
    Vehicle {
        mark: VehicleMark::new(mark).unwrap(),
        vehicle_type: VehicleTypeName::new(kind).unwrap(),
        turned: false,
        tare_kg: None,
        height_offset_mm: 0.0,
    }
}

/// The reference wagon, called `Flat`.
pub(crate) fn reference_wagon() -> VehicleType {
    let rack = |at_mm| RackOnDeck {
        rack_type: RackTypeName::new("Rack 5 x 10").unwrap(),
        at: Length::from_mm(at_mm),
        height_offset_mm: 0.0,
    };
    VehicleType {
        name: VehicleTypeName::new("Flat").unwrap(),
        kind: VehicleKind::Wagon,
        length: Length::from_mm(19_900),
        gear: RunningGear::Bogies {
            pivot_distance: Length::from_mm(14_200),
            axles_per_bogie: 2,
            bogie_wheelbase: Length::from_mm(1_800),
        },
        wheel_contact_mm: 1_500.0,
        tare_kg: 24_000.0,
        tare_front_kg: None,
        tare_y_mm: 0.0,
        tare_cog_height_mm: Some(700.0),
        deck_height: Some(Length::from_mm(1_250)),
        payload_rating_kg: Some(66_000.0),
        bogie_rating_kg: Some(45_000.0),
        axle_rating_kg: Some(22_500.0),
        wheel_rating_kg: Some(12_500.0),
        axle_braking_rating_kg: None,
        coupling_rating_n: None,
        coupling_height: Some(Length::from_mm(1_060)),
        braked_weight_kg: None,
        least_radius_m: Some(75.0),
        springs: None,
        racks: vec![rack(-6_633), rack(0), rack(6_633)],
        end_stops: Vec::new(),
        source: source(),
    }
}

/// The reference rack, called `Rack 5 x 10`; it can clamp.
pub(crate) fn reference_rack() -> RackType {
    RackType {
        name: RackTypeName::new("Rack 5 x 10").unwrap(),
        kind: RackKind::Clamping,
        tiers: (0..5)
            .map(|tier| Tier { seat_above_deck_mm: 150.0 + 250.0 * f64::from(tier), clear_mm: Some(200.0) })
            .collect(),
        lanes_y_mm: (0..10).map(|lane| -1_200.0 + 2_400.0 / 9.0 * f64::from(lane)).collect(),
        pocket_width_mm: Some(200.0),
        side_play_mm: Some(20.0),
        pocket_rating_kg: Some(3_000.0),
        tier_rating_kg: Some(8_000.0),
        rack_rating_kg: Some(30_000.0),
        side_rating_n: None,
        friction: None,
        hold_rating_n: None,
        tier_access: Some(TierAccess::AboveEmpty),
        source: source(),
    }
}

/// 60E1 by EN 13674-1 (shared facts, section 1).
pub(crate) fn section_60e1() -> RailSection {
    RailSection {
        name: SectionName::new("60E1").unwrap(),
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
        source: source(),
    }
}

/// R260 by EN 13674-1, expansion and density by the shared facts, section 1.
pub(crate) fn steel() -> Steel {
    Steel {
        name: SteelName::new("R260").unwrap(),
        modulus_gpa: 210.0,
        expansion_1e6_per_k: Some(11.8),
        density_kg_per_m3: Some(7_850.0),
        tensile_mpa: Some(880.0),
        yield_mpa: None,
        handling_mpa: None,
        source: source(),
    }
}

/// 1 g lengthwise and nothing else.
pub(crate) fn accelerations() -> Accelerations {
    Accelerations {
        name: "Test set".to_owned(),
        longitudinal_g: 1.0,
        lateral_g: 0.0,
        vertical_g: 0.0,
        impact_m_per_s: None,
        source: source(),
    }
}

/// A limit of `kind` with `running` as its only value, accepted.
pub(crate) fn limit(running: f64) -> Limit {
    Limit { running, working: None, source: source(), accepted_by: Some("Tester".to_owned()) }
}

fn limits() -> BTreeMap<LimitKind, Limit> {
    [
        (LimitKind::WheelRatio, 1.25),
        (LimitKind::BogieRatio, 3.0),
        (LimitKind::TwoAxleRatio, 2.0),
        (LimitKind::CentreHeight, 2.0),
        (LimitKind::LeastOverhang, 0.3),
        (LimitKind::GreatestOverhang, 4.0),
        (LimitKind::PocketGap, 0.5),
        (LimitKind::EndClearance, 0.5),
        (LimitKind::IdlerGap, 0.5),
        (LimitKind::IdlerHeight, 0.15),
        (LimitKind::LeastRacks, 3.0),
        (LimitKind::LargestSpan, 9.0),
        (LimitKind::Sag, 0.02),
        (LimitKind::StatedMassDifference, 0.05),
        (LimitKind::TrainMass, 3.0e6),
        (LimitKind::TrainLength, 750.0),
    ]
    .map(|(kind, running)| (kind, limit(running)))
    .into()
}

fn source() -> Source {
    Source { text: "test".to_owned(), sure: Sureness::Entered }
}
