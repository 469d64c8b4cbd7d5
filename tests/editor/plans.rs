//! Plans that the editor tests work on, built through the public model.

use longstow::model::{
    Beyond, BeyondKind, Drop, DropName, Hold, LaneRule, Limit, LimitKind, Limits, LineClass, MassEntry,
    OrderTable, OrderedString, Placement, Plan, RackKind, RackOnDeck, RackRef, RackType, RackTypeName,
    RailSection, Route, RunningGear, SectionName, Source, Step, StepKind, StepStrings, StringMark, Sureness,
    Tier, TierAccess, Train, TrainEnd, Vehicle, VehicleKind, VehicleMark, VehicleType, VehicleTypeName,
};
use longstow::units::{Length, UnitSystem};
use std::collections::BTreeMap;

/// A train of `wagons` flats with three racks each, two drops (`East`, `West`) and no strings.
///
/// Racks stand at 3,317, 9,950 and 16,583 mm of each wagon of 19,900 mm, with 3 tiers and 6 lanes.
pub(crate) fn empty(wagons: usize) -> Plan {
    Plan {
        title: "Editor test".to_owned(),
        notes: String::new(),
        units: UnitSystem::Metric,
        train: train(wagons, (3, 6)),
        sections: vec![section()],
        steels: Vec::new(),
        order: Vec::new(),
        order_table: OrderTable::default(),
        placements: Vec::new(),
        drops: vec![drop("East"), drop("West")],
        route: Route {
            line_class: Some(LineClass {
                name: "D4".to_owned(),
                axle_kg: 22_500.0,
                mass_per_metre_kg: Some(8_000.0),
                source: source(),
            }),
            ..Route::default()
        },
        limits: limits(),
        accepted: Vec::new(),
        as_loaded: Vec::new(),
        weighings: Vec::new(),
        signatures: Vec::new(),
    }
}

/// Four wagons; A and B (40.1 m) lie beside each other in tier 1, C (20.5 m) above, D and E are in the yard.
pub(crate) fn small() -> Plan {
    let mut plan = empty(4);
    for (mark, length_mm, drop) in
        [("A", 40_100, 0), ("B", 40_100, 0), ("C", 20_500, 1), ("D", 40_100, 1), ("E", 20_500, 0)]
    {
        order(&mut plan, mark, length_mm, drop);
    }
    lay(&mut plan, "A", (1, 3, 3_017), ("W2", 1));
    lay(&mut plan, "B", (1, 4, 3_017), ("W2", 1));
    lay(&mut plan, "C", (2, 3, 3_017), ("W1", 3));
    plan
}

/// 27 wagons and 50 strings of 500 m in 5 tiers and 10 lanes.
pub(crate) fn long() -> Plan {
    let mut plan = empty(27);
    plan.train = train(27, (5, 10));
    for number in 0..50_u32 {
        let mark = format!("S{:02}", number + 1);
        order(&mut plan, &mark, 500_000, (number % 2) as usize);
        let (tier, lane) = (number / 10 + 1, number % 10 + 1);
        let wagon = format!("W{}", 12 + number % 5);
        lay(&mut plan, &mark, (tier, lane, 18_650), (&wagon, 2));
    }
    plan
}

/// A string mark.
pub(crate) fn mark(text: &str) -> StringMark {
    StringMark::new(text).unwrap()
}

/// Orders a string of so many millimetres for a drop, by index, with a step of its own.
pub(crate) fn order(plan: &mut Plan, name: &str, length_mm: i64, drop: usize) {
    plan.order.push(OrderedString {
        mark: mark(name),
        section: SectionName::new("60E1").unwrap(),
        steel: None,
        length: Length::from_mm(length_mm),
        side: None,
        drop: Some(plan.drops[drop].name.clone()),
        mass: MassEntry::Computed,
    });
    let strings = StepStrings::One(mark(name));
    plan.drops[drop].steps.push(Step { kind: StepKind::Off, strings, toward: None });
}

/// Lays a string into a pocket with its front end at so many millimetres, held at one rack.
pub(crate) fn lay(plan: &mut Plan, name: &str, (tier, lane, front_mm): (u32, u32, i64), hold: (&str, u32)) {
    plan.placements.push(Placement {
        string: mark(name),
        tier,
        lane,
        front: Length::from_mm(front_mm),
        holds: vec![held_at(hold.0, hold.1)],
        rests_on: None,
        locked: false,
    });
}

/// A hold.
pub(crate) fn held_at(vehicle: &str, rack: u32) -> Hold {
    RackRef { vehicle: VehicleMark::new(vehicle).unwrap(), rack }
}

fn train(wagons: usize, (tiers, lanes): (u32, u32)) -> Train {
    let nothing = Beyond { kind: BeyondKind::Nothing, distance: Length::ZERO };
    let vehicle = |number| Vehicle {
        mark: VehicleMark::new(&format!("W{number}")).unwrap(),
        vehicle_type: VehicleTypeName::new("Flat").unwrap(),
        turned: false,
        tare_kg: None,
        height_offset_mm: 0.0,
    };
    Train {
        vehicle_types: vec![wagon()],
        rack_types: vec![rack(tiers, lanes)],
        vehicles: (1..=wagons).map(vehicle).collect(),
        coupling_slack: Some(Length::from_mm(40)),
        front_beyond: nothing,
        rear_beyond: nothing,
        lane_rule: Some(LaneRule::AnyOrder),
    }
}

fn wagon() -> VehicleType {
    let rack = |at_mm| RackOnDeck {
        rack_type: RackTypeName::new("Rack").unwrap(),
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
        coupling_height: None,
        braked_weight_kg: None,
        least_radius_m: None,
        springs: None,
        racks: vec![rack(-6_633), rack(0), rack(6_633)],
        end_stops: Vec::new(),
        source: source(),
    }
}

fn rack(tiers: u32, lanes: u32) -> RackType {
    let spread_mm = 2_400.0 / f64::from(lanes - 1);
    RackType {
        name: RackTypeName::new("Rack").unwrap(),
        kind: RackKind::Clamping,
        tiers: (0..tiers)
            .map(|tier| Tier { seat_above_deck_mm: 150.0 + 250.0 * f64::from(tier), clear_mm: Some(200.0) })
            .collect(),
        lanes_y_mm: (0..lanes).map(|lane| -1_200.0 + spread_mm * f64::from(lane)).collect(),
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

/// 60E1 by EN 13674-1, outline integrated from the published profile.
fn section() -> RailSection {
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

fn drop(name: &str) -> Drop {
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
        steps: Vec::new(),
    }
}

fn limits() -> Limits {
    let entries: BTreeMap<LimitKind, Limit> = [
        (LimitKind::WheelRatio, 1.25),
        (LimitKind::BogieRatio, 3.0),
        (LimitKind::CentreHeight, 2.0),
        (LimitKind::LeastOverhang, 0.3),
        (LimitKind::GreatestOverhang, 4.0),
        (LimitKind::PocketGap, 0.5),
        (LimitKind::EndClearance, 0.5),
        (LimitKind::LeastRacks, 3.0),
        (LimitKind::LargestSpan, 9.0),
        (LimitKind::Sag, 0.02),
    ]
    .map(|(kind, running)| {
        (kind, Limit { running, working: None, source: source(), accepted_by: Some("Tester".to_owned()) })
    })
    .into();
    Limits { entries, near_share: None }
}

fn source() -> Source {
    Source { text: "test".to_owned(), sure: Sureness::Entered }
}
