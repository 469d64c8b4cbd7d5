//! The catalogue against the published figures, retyped here with their sources.

use longstow::format::catalogue;
use longstow::model::{
    Catalogue, Limit, LimitKind, Plan, RackKind, RailSection, RunningGear, Source, Sureness, VehicleKind,
    problems,
};

fn shipped() -> Catalogue {
    catalogue().unwrap_or_else(|error| panic!("{error}"))
}

fn section(name: &str) -> RailSection {
    let found = shipped().sections.into_iter().find(|section| section.name.as_str() == name);
    found.unwrap_or_else(|| panic!("no section {name}"))
}

/// kg/m, cm2, Ix and Iy cm4, height, foot, head, web and neutral axis mm, Wx head and foot, Wy foot cm3; 0: not given.
type Row = (&'static str, [f64; 12]);

fn values(section: &RailSection) -> [f64; 12] {
    let or_zero = Option::<f64>::unwrap_or_default;
    [
        section.mass_kg_per_m,
        section.area_cm2,
        section.ix_cm4,
        or_zero(section.iy_cm4),
        or_zero(section.height_mm),
        or_zero(section.foot_mm),
        or_zero(section.head_mm),
        or_zero(section.web_mm),
        or_zero(section.neutral_axis_mm),
        or_zero(section.wx_head_cm3),
        or_zero(section.wx_foot_cm3),
        or_zero(section.wy_foot_cm3),
    ]
}

fn check_rows(rows: &[Row], sure: Sureness) {
    for (name, expected) in rows {
        let section = section(name);
        assert_eq!(values(&section).map(f64::to_bits), expected.map(f64::to_bits), "{name}");
        assert_eq!(section.source.sure, sure, "{name}");
    }
}

/// Outlines of EN 13674-1, integrated with 7850 kg/m3; 60E1, 60E2 and 54E1 agree with its printed table.
const EN_13674_1: [Row; 11] = [
    ("46E1", [46.18, 58.82, 1641.1, 298.2, 145.0, 125.0, 65.0, 14.0, 69.4, 216.9, 236.6, 47.7]),
    ("49E1", [49.39, 62.92, 1816.5, 319.1, 149.0, 125.0, 67.0, 14.0, 73.4, 240.3, 247.5, 51.1]),
    ("49E5", [49.13, 62.59, 1799.7, 316.7, 149.0, 125.0, 67.0, 14.0, 73.1, 237.0, 246.4, 50.7]),
    ("50E3", [50.02, 63.71, 2057.9, 351.2, 155.0, 133.0, 70.0, 14.0, 75.7, 259.5, 271.8, 52.8]),
    ("50E6", [50.90, 64.84, 2017.9, 396.8, 153.0, 140.0, 65.0, 15.5, 71.7, 248.3, 281.3, 56.7]),
    ("54E1", [54.77, 69.77, 2337.9, 419.2, 159.0, 140.0, 70.0, 16.0, 75.1, 278.7, 311.2, 59.9]),
    ("54E2", [53.82, 68.56, 2307.5, 341.5, 161.0, 125.0, 67.0, 16.0, 77.5, 276.4, 297.6, 54.6]),
    ("54E3", [54.57, 69.51, 2074.1, 354.8, 154.0, 125.0, 67.0, 16.0, 75.1, 262.8, 276.3, 56.8]),
    ("56E1", [56.27, 71.69, 2320.9, 421.6, 158.75, 140.0, 69.85, 20.0, 74.5, 275.5, 311.5, 60.2]),
    ("60E1", [60.21, 76.70, 3038.3, 512.3, 172.0, 150.0, 72.0, 16.5, 80.9, 333.6, 375.5, 68.3]),
    ("60E2", [60.03, 76.48, 3021.5, 510.5, 172.0, 150.0, 72.0, 16.5, 80.7, 330.8, 374.5, 68.1]),
];

/// UIC 860, annex 4 of a Polish yard instruction and a published catalogue; GOST 8161-75; the Chinese 60 kg/m rail.
const READ: [Row; 5] = [
    ("UIC60", [60.34, 76.86, 3055.0, 512.9, 0.0, 0.0, 0.0, 0.0, 0.0, 335.5, 377.4, 0.0]),
    ("UIC54", [54.43, 69.34, 2346.0, 417.5, 0.0, 0.0, 0.0, 0.0, 0.0, 279.2, 312.9, 0.0]),
    ("S49", [49.43, 62.97, 1819.0, 320.0, 0.0, 0.0, 0.0, 0.0, 0.0, 240.0, 0.0, 0.0]),
    ("R65", [64.72, 82.65, 3540.0, 564.0, 180.0, 150.0, 0.0, 0.0, 0.0, 358.0, 435.0, 0.0]),
    ("China 60", [60.64, 77.45, 3217.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0]),
];

/// AREMA chapter 4 figures and AS 1085.1 figures, quoted by secondary pages.
const SECONDARY: [Row; 5] = [
    ("115RE", [56.74, 72.37, 2726.0, 445.0, 168.28, 139.70, 69.06, 15.88, 0.0, 295.0, 359.0, 0.0]),
    ("119RE", [58.86, 75.08, 2972.0, 450.0, 0.0, 0.0, 0.0, 0.0, 0.0, 318.0, 374.0, 0.0]),
    ("132RE", [65.31, 83.31, 3659.0, 599.0, 0.0, 0.0, 0.0, 0.0, 0.0, 367.0, 449.0, 0.0]),
    ("AS 50 kg", [50.6, 64.51, 2010.0, 0.0, 154.0, 127.0, 0.0, 0.0, 0.0, 253.5, 269.1, 0.0]),
    ("AS 60 kg", [60.6, 77.25, 2930.0, 490.0, 170.0, 146.0, 0.0, 0.0, 0.0, 322.4, 369.3, 0.0]),
];

/// 136RE: partly from memory; Ix 94.9 and 94.2 in4.
const MEMORY: [Row; 2] = [
    ("136RE older head", [67.5, 85.9, 3950.0, 0.0, 185.74, 152.40, 74.61, 17.46, 0.0, 0.0, 0.0, 0.0]),
    ("136RE newer head", [67.5, 85.9, 3921.0, 0.0, 185.74, 152.40, 74.61, 17.46, 0.0, 0.0, 0.0, 0.0]),
];

#[test]
fn rail_sections_are_as_published() {
    check_rows(&EN_13674_1, Sureness::Computed);
    check_rows(&READ, Sureness::Read);
    check_rows(&SECONDARY, Sureness::Secondary);
    check_rows(&MEMORY, Sureness::Memory);
    let rows = EN_13674_1.len() + READ.len() + SECONDARY.len() + MEMORY.len();
    assert_eq!(shipped().sections.len(), rows, "a section is not compared with its source");
}

/// Two values that were rounded apart agree within the last digits of both.
fn agree(what: &str, found: f64, expected: f64, within: f64) {
    assert!((found - expected).abs() <= within, "{what}: {found} against {expected}");
}

#[test]
fn section_moduli_are_second_moments_over_distances() {
    for (name, row) in EN_13674_1 {
        let [mass, area, ix, iy, height, foot, .., axis, wx_head, wx_foot, wy_foot] = row;
        // The neutral axis is rounded to 0.1 mm, so a modulus agrees within 0.1 mm / distance and its own digit.
        let within = |modulus: f64, distance_mm: f64| modulus * 0.06 / distance_mm + 0.06;
        agree(name, ix / (axis / 10.0), wx_foot, within(wx_foot, axis));
        agree(name, ix / ((height - axis) / 10.0), wx_head, within(wx_head, height - axis));
        agree(name, iy / (foot / 20.0), wy_foot, 0.06);
        // Density 7850 kg/m3.
        agree(name, area * 0.785, mass, 0.012);
    }
}

#[test]
fn north_american_sections_agree_in_both_unit_systems() {
    // AREMA chapter 4, quoted: lb/yd and in4. The page cuts its kg/m after two digits instead of rounding.
    for (name, lb_per_yd, ix_in4) in
        [("115RE", 114.38, Some(65.5)), ("119RE", 118.67, None), ("132RE", 131.66, None)]
    {
        let section = section(name);
        agree(name, section.mass_kg_per_m, lb_per_yd * 0.453_592_37 / 0.9144, 0.01);
        if let Some(ix_in4) = ix_in4 {
            agree(name, section.ix_cm4, ix_in4 * 2.54_f64.powi(4), 0.05 * 2.54_f64.powi(4));
        }
    }
    agree("136RE", section("136RE older head").ix_cm4, 94.9 * 2.54_f64.powi(4), 1.0);
    agree("136RE", section("136RE newer head").ix_cm4, 94.2 * 2.54_f64.powi(4), 1.0);
}

#[test]
fn steels_are_as_published() {
    let steels = shipped().steels;
    let found: Vec<_> = steels
        .iter()
        .map(|steel| (steel.name.as_str(), steel.tensile_mpa, steel.yield_mpa, steel.source.sure))
        .collect();
    assert_eq!(
        found,
        [
            ("R260", Some(880.0), None, Sureness::Read),
            ("R350HT", Some(1175.0), None, Sureness::Secondary),
            ("AS 1085.1 as rolled", None, Some(420.0), Sureness::Read),
            ("AS 1085.1 head-hardened", None, None, Sureness::Read),
        ]
    );
    for steel in steels {
        assert!((206.0..=210.0).contains(&steel.modulus_gpa), "{}", steel.name);
        assert_eq!((steel.expansion_1e6_per_k, steel.density_kg_per_m3), (Some(11.8), Some(7_850.0)));
        assert_eq!(steel.handling_mpa, None, "nobody may be given a handling stress that nobody entered");
    }
}

#[test]
fn line_classes_are_as_published() {
    let classes = shipped().line_classes;
    let found: Vec<_> = classes
        .iter()
        .map(|class| {
            (class.name.as_str(), class.axle_kg / 1000.0, class.mass_per_metre_kg.map(|kg| kg / 1000.0))
        })
        .collect();
    // EN 15528: axle load in t, mass per metre in t/m.
    let en_15528 = [
        ("A", 16.0, 5.0),
        ("B1", 18.0, 5.0),
        ("B2", 18.0, 6.4),
        ("C2", 20.0, 6.4),
        ("C3", 20.0, 7.2),
        ("C4", 20.0, 8.0),
        ("D2", 22.5, 6.4),
        ("D3", 22.5, 7.2),
        ("D4", 22.5, 8.0),
        ("E4", 25.0, 8.0),
        ("E5", 25.0, 8.8),
    ];
    let expected: Vec<_> = en_15528.map(|(name, axle, metre)| (name, axle, Some(metre))).to_vec();
    assert_eq!(found[..11], expected);
    // GB route availability, published tonnes per axle.
    assert_eq!(
        found[11..15],
        [("RA3", 16.5, None), ("RA5", 19.0, None), ("RA8", 22.8, None), ("RA10", 25.4, None)]
    );
    // Gross load on rail over four axles, in lb.
    for (class, lb) in classes[15..].iter().zip([220_000.0, 263_000.0, 286_000.0, 315_000.0]) {
        agree(&class.name, class.axle_kg, lb * 0.453_592_37 / 4.0, 0.006);
        assert_eq!((class.mass_per_metre_kg, class.source.sure), (None, Sureness::Computed));
    }
    assert_eq!(classes.len(), 19);
}

#[test]
fn limit_sets_are_as_published_and_nobody_has_accepted_them() {
    let sets = shipped().limit_sets;
    let limits: Vec<(&str, LimitKind, &Limit)> = sets
        .iter()
        .flat_map(|set| set.limits.iter().map(|(kind, limit)| (set.name.as_str(), *kind, limit)))
        .collect();
    assert!(limits.iter().all(|(_, _, limit)| limit.accepted_by.is_none() && limit.working.is_none()));
    let found: Vec<_> =
        limits.iter().map(|(set, kind, limit)| (*set, *kind, limit.running, limit.source.sure)).collect();
    let (uic, china, army) =
        ("UIC loading guidelines, balance", "Chinese loading rules", "US Army TR0690, idlers");
    assert_eq!(
        found,
        [
            // UIC Loading Guidelines vol. 1 sec. 3.3, quoted in doi 10.1007/s11071-021-06386-3.
            (uic, LimitKind::WheelRatio, 1.25, Sureness::Read),
            (uic, LimitKind::BogieRatio, 3.0, Sureness::Read),
            ("Two-axle wagons, unconfirmed", LimitKind::TwoAxleRatio, 2.0, Sureness::Memory),
            // Same paper; Chinese rules of 1995: 500 mm between overhangs, 150 mm above the floor.
            (china, LimitKind::CentreHeight, 2.0, Sureness::Read),
            (china, LimitKind::IdlerGap, 0.5, Sureness::Read),
            (china, LimitKind::IdlerHeight, 0.15, Sureness::Read),
            ("New Zealand, centre of gravity", LimitKind::CentreHeight, 2.0, Sureness::Read),
            // 24 in and 4 in.
            (army, LimitKind::IdlerGap, 0.6096, Sureness::Read),
            (army, LimitKind::IdlerHeight, 0.1016, Sureness::Read),
            // At least 60 % must remain.
            ("US cant rule", LimitKind::WheelUnloading, 1.0 - 0.6, Sureness::Read),
        ]
    );
}

#[test]
fn accelerations_and_friction_are_as_published() {
    let rows = shipped();
    let found: Vec<_> = rows
        .accelerations
        .iter()
        .map(|set| (set.longitudinal_g, set.lateral_g, set.vertical_g, set.source.sure))
        .collect();
    assert_eq!(
        found,
        [
            // UIC Loading Guidelines vol. 1 sec. 1.3, quoted: humped; not humped.
            (4.0, 0.5, 0.3, Sureness::Secondary),
            (1.0, 0.5, 0.3, Sureness::Secondary),
            // CTU packing guidelines, long-stroke buffers.
            (2.0, 0.5, 0.3, Sureness::Secondary),
            // CTU Code 2014, rail: from memory.
            (0.5, 0.5, 0.0, Sureness::Memory),
            (1.0, 0.5, 0.3, Sureness::Memory),
        ]
    );
    let friction: Vec<_> = rows.friction.iter().map(|row| (row.coefficient, row.source.sure)).collect();
    let (read, practice) = (Sureness::Read, Sureness::Practice);
    // CTU Code appendix 2; the last two are common practice.
    assert_eq!(friction, [(0.4, read), (0.3, read), (0.2, read), (0.15, practice), (0.0, practice)]);
}

#[test]
fn gauge_lines_are_as_published() {
    let gauges = shipped().gauges;
    let [g2, g1] = &gauges[..] else { panic!("{} gauge lines", gauges.len()) };
    // EBO annex 8, quoted, in m.
    let line =
        [(1.620, 0.400), (1.620, 1.170), (1.645, 1.170), (1.645, 3.530), (1.470, 3.835), (0.785, 4.680)];
    assert_eq!(g2.points_mm, line.map(|(y, z)| ((y * 1000.0_f64).round(), (z * 1000.0_f64).round())));
    // EBO annex 2, gauge up to 1445 mm: radius m, inside and outside mm.
    for (radius_m, inside_mm, outside_mm) in [
        (250.0, 20.0, 20.0),
        (300.0, 18.0, 18.0),
        (400.0, 14.0, 14.0),
        (500.0, 13.0, 13.0),
        (225.0, 55.0, 60.0),
        (200.0, 85.0, 95.0),
        (190.0, 95.0, 110.0),
        (180.0, 110.0, 130.0),
        (170.0, 130.0, 145.0),
        (150.0, 165.0, 195.0),
        (120.0, 365.0, 395.0),
        (100.0, 560.0, 600.0),
    ] {
        assert!(g2.allowed_mm.contains(&(radius_m, inside_mm, outside_mm)), "R {radius_m}");
    }
    assert_eq!((g2.allowed_mm.len(), g2.source.sure), (12, Sureness::Secondary));
    let line = [(1645.0, 1170.0), (1645.0, 3250.0), (1425.0, 3700.0), (1120.0, 4010.0), (525.0, 4310.0)];
    assert_eq!((&g1.points_mm[..], g1.source.sure), (&line[..], Sureness::Memory));
}

#[test]
fn generic_types_have_dimensions_but_no_rating_that_nobody_entered() {
    let rows = shipped();
    for kind in &rows.vehicle_types {
        let ratings = [
            kind.payload_rating_kg,
            kind.bogie_rating_kg,
            kind.axle_rating_kg,
            kind.wheel_rating_kg,
            kind.axle_braking_rating_kg,
            kind.coupling_rating_n,
            kind.braked_weight_kg,
            kind.least_radius_m,
            kind.tare_cog_height_mm,
        ];
        assert_eq!(ratings, [None; 9], "{}", kind.name);
        assert_eq!((kind.deck_height, kind.springs), (None, None), "{}", kind.name);
        assert_eq!(kind.source.sure, Sureness::Practice, "{}", kind.name);
    }
    for kind in &rows.rack_types {
        let ratings = [
            kind.pocket_rating_kg,
            kind.tier_rating_kg,
            kind.rack_rating_kg,
            kind.side_rating_n,
            kind.hold_rating_n,
            kind.friction,
            kind.pocket_width_mm,
        ];
        assert_eq!(ratings, [None; 7], "{}", kind.name);
        let mirrored: Vec<f64> = kind.lanes_y_mm.iter().rev().map(|y_mm| -y_mm).collect();
        assert_eq!(kind.lanes_y_mm, mirrored, "{} is lopsided", kind.name);
    }
    let sizes: Vec<_> =
        rows.rack_types.iter().map(|kind| (kind.kind, kind.tiers.len(), kind.lanes_y_mm.len())).collect();
    let (roller, clamping) = (RackKind::Roller, RackKind::Clamping);
    assert_eq!(sizes, [(roller, 5, 10), (clamping, 5, 10), (roller, 3, 12), (clamping, 3, 12)]);
    let has = |wanted: fn(&RunningGear) -> bool| rows.vehicle_types.iter().any(|kind| wanted(&kind.gear));
    assert!(has(|gear| matches!(gear, RunningGear::TwoAxle { .. })));
    assert!(has(|gear| matches!(gear, RunningGear::Bogies { axles_per_bogie: 2, .. })));
    assert!(has(|gear| matches!(gear, RunningGear::Bogies { axles_per_bogie: 3, .. })));
    for wanted in [VehicleKind::Engine, VehicleKind::Wagon, VehicleKind::Idler] {
        assert!(rows.vehicle_types.iter().any(|kind| kind.kind == wanted), "{wanted:?}");
    }
}

#[test]
fn every_row_names_its_source_and_makes_a_sound_plan() {
    let rows = shipped();
    let sources: Vec<&Source> = rows
        .sections
        .iter()
        .map(|row| &row.source)
        .chain(rows.steels.iter().map(|row| &row.source))
        .chain(rows.line_classes.iter().map(|row| &row.source))
        .chain(rows.limit_sets.iter().flat_map(|set| set.limits.iter().map(|(_, limit)| &limit.source)))
        .chain(rows.accelerations.iter().map(|row| &row.source))
        .chain(rows.friction.iter().map(|row| &row.source))
        .chain(rows.vehicle_types.iter().map(|row| &row.source))
        .chain(rows.rack_types.iter().map(|row| &row.source))
        .chain(rows.gauges.iter().map(|row| &row.source))
        .collect();
    assert!(sources.iter().all(|source| !source.text.trim().is_empty()));
    let mut plan: Plan = crate::format_full_plan::full_plan();
    plan.sections.retain(|section| shipped().sections.iter().all(|row| row.name != section.name));
    plan.sections.extend(rows.sections);
    plan.steels.clear();
    plan.steels.extend(rows.steels);
    plan.train.vehicle_types.extend(rows.vehicle_types);
    plan.train.rack_types.extend(rows.rack_types);
    plan.limits.entries.extend(rows.limit_sets.into_iter().flat_map(|set| set.limits));
    for (gauge, accelerations) in rows.gauges.iter().cycle().zip(&rows.accelerations) {
        plan.route.gauge = Some(gauge.clone());
        plan.route.accelerations = Some(accelerations.clone());
        assert_eq!(problems(&plan), []);
    }
}
