//! Enters into a plan what springs, curves, creep, holds, gauge, cant, braking and tolerances need.

use crate::random_plans::Dice;
use crate::trains::figures;
use longstow::model::*;
use longstow::units::Length;

fn source() -> Source {
    Source { text: "test".to_owned(), sure: Sureness::Entered }
}

/// Enters data for all topics, a little different for each roll of the dice.
pub(crate) fn enter_all(plan: &mut Plan, dice: &mut Dice) {
    for kind in &mut plan.train.rack_types {
        kind.side_play_mm = Some([0.0, 15.0, 40.0][dice.pick(3)]);
        kind.side_rating_n = Some(60_000.0);
        kind.hold_rating_n = Some(100_000.0);
        kind.friction = dice.one_in(2).then_some(0.1);
    }
    for kind in &mut plan.train.vehicle_types {
        vehicle_type(kind, dice);
    }
    for vehicle in &mut plan.train.vehicles {
        vehicle.height_offset_mm = dice.between(-6, 6) as f64;
    }
    plan.train.coupling_slack = Some(Length::from_mm(dice.between(0, 40)));
    if dice.one_in(2) {
        plan.train.rear_beyond = Beyond { kind: BeyondKind::Vehicle, distance: Length::from_mm(900) };
    }
    steel(plan);
    route(&mut plan.route, dice);
    hold(plan, dice);
}

fn vehicle_type(kind: &mut VehicleType, dice: &mut Dice) {
    kind.axle_braking_rating_kg = Some(25_000.0);
    kind.coupling_rating_n = Some(850_000.0);
    kind.coupling_height = Some(Length::from_mm(1_060));
    kind.braked_weight_kg = Some(kind.tare_kg * 1.1);
    kind.least_radius_m = Some(90.0);
    kind.springs = Some(Springs {
        front_n_per_m: 4.0e6,
        rear_n_per_m: dice.between(30, 50) as f64 * 1.0e5,
        roll_nm_per_rad: 4.0e6,
        frame_n_per_m: dice.one_in(2).then_some(8.0e6),
        envelope: Some((0.8, 1.2)),
        spring_height_mm: Some(700.0),
        sprung_tare_kg: Some(kind.tare_kg * 0.6),
    });
}

fn steel(plan: &mut Plan) {
    let name = SteelName::new("R260").unwrap();
    plan.steels.push(Steel {
        name: name.clone(),
        modulus_gpa: 207.0,
        expansion_1e6_per_k: Some(11.5),
        density_kg_per_m3: Some(7_850.0),
        tensile_mpa: Some(880.0),
        yield_mpa: None,
        handling_mpa: None,
        source: source(),
    });
    for string in &mut plan.order {
        string.steel = Some(name.clone());
    }
}

fn route(route: &mut Route, dice: &mut Dice) {
    let curve = |radius_m: f64, arc_m: Option<f64>, transition_m: f64| Curve {
        radius_m,
        arc_m,
        transition_m,
        cant_mm: Some(100.0),
        speed_kmh: Some(40.0),
    };
    route.curves = vec![curve(190.0, None, 0.0), curve(400.0, Some(dice.between(20, 90) as f64), 25.0)];
    route.s_curve = dice.one_in(2).then_some(SCurve { radius_m: 250.0, straight_m: 6.0 });
    route.greatest_cant_mm = Some(150.0);
    route.cant_deficiency_mm = Some(100.0);
    route.accelerations = Some(Accelerations {
        name: "set".to_owned(),
        longitudinal_g: 1.0,
        lateral_g: 0.5,
        vertical_g: 0.3,
        impact_m_per_s: (!dice.one_in(4)).then_some(1.5),
        source: source(),
    });
    route.braking_m_per_s2 = Some(1.2);
    route.buffing_m_per_s2 = dice.one_in(2).then_some(9.0);
    route.temperature_range_k = Some(20.0);
    route.rack_height_tolerance_mm = Some(3.0);
    route.mass_tolerance = Some(0.01);
    route.wagon_height_tolerance = Some(Length::from_mm(10));
    route.gauge = Some(GaugeLine {
        name: "line".to_owned(),
        points_mm: vec![(1_500.0, 400.0), (1_575.0, 1_170.0), (1_575.0, 3_175.0), (700.0, 4_300.0)],
        allowed_mm: vec![(250.0, 0.0, 0.0), (150.0, 80.0, 110.0)],
        source: source(),
    });
}

/// Holds most strings at one of the racks under them, some nowhere.
fn hold(plan: &mut Plan, dice: &mut Dice) {
    let figures = figures(plan.clone());
    for placed in &figures.placed {
        let racks = placed.racks.clone().count();
        if racks == 0 || dice.one_in(12) {
            continue;
        }
        let rack = &figures.consist.racks[placed.racks.start + dice.pick(racks)];
        let vehicle = plan.train.vehicles[rack.vehicle].mark.clone();
        plan.placements[placed.placement].holds = vec![RackRef { vehicle, rack: rack.number }];
    }
}
