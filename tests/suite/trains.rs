//! Small trains for tests of the mechanics, built from their dimensions alone.

use longstow::model::*;
use longstow::statics::{Figures, Scope, VehicleLoads};
use longstow::units::{Length, UnitSystem};
use std::sync::Arc;

/// A plan of no vehicles and no strings, with 60E1 (EN 13674-1, shared facts section 1) and one rack type called
/// `Rack` of `tiers` tiers 0.25 m apart.
pub(crate) fn plan(lanes_y_mm: &[f64], tiers: u32) -> Plan {
    let nothing = Beyond { kind: BeyondKind::Nothing, distance: Length::ZERO };
    Plan {
        title: "Test".to_owned(),
        notes: String::new(),
        units: UnitSystem::Metric,
        train: Train {
            vehicle_types: Vec::new(),
            rack_types: vec![rack_type(lanes_y_mm, tiers)],
            vehicles: Vec::new(),
            coupling_slack: None,
            front_beyond: nothing,
            rear_beyond: nothing,
            lane_rule: None,
        },
        sections: vec![section("60E1", 60.21, 3_038.3)],
        steels: Vec::new(),
        order: Vec::new(),
        order_table: OrderTable::default(),
        placements: Vec::new(),
        drops: Vec::new(),
        route: Route::default(),
        limits: Limits::default(),
        accepted: Vec::new(),
        as_loaded: Vec::new(),
        weighings: Vec::new(),
        signatures: Vec::new(),
    }
}

/// The plan that mechanics.md 3 calls its reference: 27 wagons, 50 strings of 500 m of 60E1 in 5 tiers of 10
/// lanes, all ends aligned and centred.
pub(crate) fn reference_plan() -> Plan {
    let lanes: Vec<f64> = (0..10).map(|lane| -1_200.0 + 2_400.0 / 9.0 * f64::from(lane)).collect();
    let mut plan = plan(&lanes, 5);
    for _ in 0..27 {
        add(&mut plan, reference_wagon(), false);
    }
    for tier in 1..=5 {
        for lane in 1..=10 {
            place(&mut plan, "60E1", 500_000, (tier, lane, 18_650));
        }
    }
    plan
}

/// The wagon of the reference train: 19.9 m, pivots 14.2 m, tare 24 t, racks at -6.633, 0 and +6.633 m.
pub(crate) fn reference_wagon() -> VehicleType {
    wagon(19_900, bogies(14_200), &[-6_633, 0, 6_633])
}

/// Two-axle bogies of 1.8 m wheelbase, `pivots_mm` apart.
pub(crate) fn bogies(pivots_mm: i64) -> RunningGear {
    RunningGear::Bogies {
        pivot_distance: Length::from_mm(pivots_mm),
        axles_per_bogie: 2,
        bogie_wheelbase: Length::from_mm(1_800),
    }
}

/// A wagon of 24 t tare and 1.5 m between wheel contacts with its racks at `racks_mm` from its middle.
pub(crate) fn wagon(length_mm: i64, gear: RunningGear, racks_mm: &[i64]) -> VehicleType {
    let rack = |at_mm: &i64| RackOnDeck {
        rack_type: RackTypeName::new("Rack").unwrap(),
        at: Length::from_mm(*at_mm),
        height_offset_mm: 0.0,
    };
    VehicleType {
        name: VehicleTypeName::new("not yet added").unwrap(),
        kind: VehicleKind::Wagon,
        length: Length::from_mm(length_mm),
        gear,
        wheel_contact_mm: 1_500.0,
        tare_kg: 24_000.0,
        tare_front_kg: None,
        tare_y_mm: 0.0,
        tare_cog_height_mm: Some(700.0),
        deck_height: Some(Length::from_mm(1_250)),
        payload_rating_kg: None,
        bogie_rating_kg: None,
        axle_rating_kg: None,
        wheel_rating_kg: None,
        axle_braking_rating_kg: None,
        coupling_rating_n: None,
        coupling_height: None,
        braked_weight_kg: None,
        least_radius_m: None,
        springs: None,
        racks: racks_mm.iter().map(rack).collect(),
        end_stops: Vec::new(),
        source: source(),
    }
}

/// Adds a vehicle of its own type at the rear of the train.
pub(crate) fn add(plan: &mut Plan, mut kind: VehicleType, turned: bool) {
    let number = plan.train.vehicles.len() + 1;
    kind.name = VehicleTypeName::new(&format!("Type {number}")).unwrap();
    plan.train.vehicles.push(Vehicle {
        mark: VehicleMark::new(&format!("W{number}")).unwrap(),
        vehicle_type: kind.name.clone(),
        turned,
        tare_kg: None,
        height_offset_mm: 0.0,
    });
    plan.train.vehicle_types.push(kind);
}

/// Orders and places a string of `section`; `at` is tier, lane and front end in mm. Marks are S1, S2 and so on.
pub(crate) fn place(plan: &mut Plan, section: &str, length_mm: i64, at: (u32, u32, i64)) {
    let mark = StringMark::new(&format!("S{}", plan.order.len() + 1)).unwrap();
    plan.order.push(OrderedString {
        mark: mark.clone(),
        section: SectionName::new(section).unwrap(),
        steel: None,
        length: Length::from_mm(length_mm),
        side: None,
        drop: None,
        mass: MassEntry::Computed,
    });
    plan.placements.push(Placement {
        string: mark,
        tier: at.0,
        lane: at.1,
        front: Length::from_mm(at.2),
        holds: Vec::new(),
        rests_on: None,
        locked: false,
    });
}

/// Places a string of 60E1 and states its mass in kg.
pub(crate) fn place_mass(plan: &mut Plan, mass_kg: f64, length_mm: i64, at: (u32, u32, i64)) {
    place(plan, "60E1", length_mm, at);
    let string = plan.order.last_mut().unwrap();
    string.mass = MassEntry::Stated { kg: mass_kg, basis: StatedBasis::Weighed };
}

/// A section of which only mass and stiffness are known.
pub(crate) fn section(name: &str, mass_kg_per_m: f64, ix_cm4: f64) -> RailSection {
    RailSection {
        name: SectionName::new(name).unwrap(),
        mass_kg_per_m,
        area_cm2: 76.70,
        ix_cm4,
        iy_cm4: None,
        height_mm: None,
        foot_mm: None,
        head_mm: None,
        web_mm: None,
        neutral_axis_mm: Some(80.9),
        wx_head_cm3: None,
        wx_foot_cm3: None,
        wy_foot_cm3: None,
        source: source(),
    }
}

/// All figures of a plan.
pub(crate) fn figures(plan: Plan) -> Figures {
    Figures::of(Arc::new(plan), Scope::All)
}

/// The loads of the vehicles at departure.
pub(crate) fn loads(plan: Plan) -> Vec<VehicleLoads> {
    figures(plan).worked.swap_remove(0).vehicles
}

/// Asserts that two values agree within `slack`.
#[track_caller]
pub(crate) fn close(value: f64, expected: f64, slack: f64) {
    assert!((value - expected).abs() <= slack, "{value}, expected {expected} within {slack}");
}

fn rack_type(lanes_y_mm: &[f64], tiers: u32) -> RackType {
    let tier = |tier| Tier { seat_above_deck_mm: 150.0 + 250.0 * f64::from(tier), clear_mm: None };
    RackType {
        name: RackTypeName::new("Rack").unwrap(),
        kind: RackKind::Roller,
        tiers: (0..tiers).map(tier).collect(),
        lanes_y_mm: lanes_y_mm.to_vec(),
        pocket_width_mm: None,
        side_play_mm: None,
        pocket_rating_kg: None,
        tier_rating_kg: None,
        rack_rating_kg: None,
        side_rating_n: None,
        friction: None,
        hold_rating_n: None,
        tier_access: None,
        source: source(),
    }
}

fn source() -> Source {
    Source { text: "test".to_owned(), sure: Sureness::Entered }
}
