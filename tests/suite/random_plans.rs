//! Random sound plans that make every check compare something; the same plan for the same seed.

use crate::trains::{add, bogies, place, plan, wagon};
use longstow::model::*;
use longstow::units::Length;

/// A linear congruential generator (Numerical Recipes' constants): the same numbers everywhere.
pub(crate) struct Dice(u64);

impl Dice {
    /// A whole number from `least` to `most`.
    pub(crate) fn between(&mut self, least: i64, most: i64) -> i64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        let span = u64::try_from(most - least).unwrap() + 1;
        least + i64::try_from((self.0 >> 33) % span).unwrap()
    }

    pub(crate) fn one_in(&mut self, count: i64) -> bool {
        self.between(1, count) == 1
    }

    /// An index below `count`.
    pub(crate) fn pick(&mut self, count: usize) -> usize {
        usize::try_from(self.between(0, i64::try_from(count).unwrap() - 1)).unwrap()
    }
}

/// Random plan number `seed`: an engine or two, wagons of several kinds, an idler, strings, drops with a chute.
pub(crate) fn random_plan(seed: u64) -> Plan {
    let mut dice = Dice(seed.wrapping_mul(0x9E37_79B9));
    let mut plan = plan(&[-1_200.0, -700.0, -250.0, 250.0, 700.0, 1_200.0], 3);
    rate_racks(&mut plan.train.rack_types[0]);
    whole_section(&mut plan.sections[0]);
    limits(&mut plan);
    train(&mut plan, &mut dice);
    strings(&mut plan, &mut dice);
    drops(&mut plan, &mut dice);
    plan.route.line_class = Some(LineClass {
        name: "D4".to_owned(),
        axle_kg: 22_500.0,
        mass_per_metre_kg: Some(8_000.0),
        source: source(),
    });
    plan.route.feed = Some(FeedSpeeds { loading_m_per_s: Some(0.5), unloading_m_per_s: Some(0.75) });
    plan.route.asked = Topic::ALL.to_vec();
    crate::all_topics::enter_all(&mut plan, &mut dice);
    assert_eq!(problems(&plan), Vec::new(), "seed {seed}");
    plan
}

fn source() -> Source {
    Source { text: "test".to_owned(), sure: Sureness::Entered }
}

fn rate_racks(kind: &mut RackType) {
    kind.pocket_width_mm = Some(200.0);
    kind.pocket_rating_kg = Some(1_500.0);
    kind.tier_rating_kg = Some(5_000.0);
    kind.rack_rating_kg = Some(12_000.0);
    for tier in &mut kind.tiers {
        tier.clear_mm = Some(190.0);
    }
}

/// 60E1 (EN 13674-1, shared facts, section 1).
fn whole_section(section: &mut RailSection) {
    (section.iy_cm4, section.wy_foot_cm3) = (Some(512.3), Some(68.3));
    (section.wx_head_cm3, section.wx_foot_cm3) = (Some(333.6), Some(375.5));
    (section.height_mm, section.foot_mm, section.head_mm) = (Some(172.0), Some(150.0), Some(72.0));
}

fn limits(plan: &mut Plan) {
    for kind in LimitKind::ALL {
        let running = match kind {
            LimitKind::WheelRatio => 1.25,
            LimitKind::BogieRatio | LimitKind::LeastRacks => 3.0,
            LimitKind::TwoAxleRatio | LimitKind::CentreHeight => 2.0,
            LimitKind::LeastOverhang => 0.3,
            LimitKind::GreatestOverhang => 4.0,
            LimitKind::PocketGap | LimitKind::EndClearance | LimitKind::IdlerGap => 0.5,
            LimitKind::IdlerHeight => 0.15,
            LimitKind::LargestSpan => 9.0,
            LimitKind::Sag => 0.02,
            LimitKind::TrainMass => 3.0e6,
            LimitKind::TrainLength => 750.0,
            LimitKind::LightVehicle => 30_000.0,
            LimitKind::HeavySet => 100_000.0,
            LimitKind::CurveStress | LimitKind::UnloadingStress => 200.0e6,
            LimitKind::StatedMassDifference
            | LimitKind::WheelUnloading
            | LimitKind::BrakedWeight
            | LimitKind::ModelDifference => 0.05,
        };
        let accepted_by = Some("Tester".to_owned());
        plan.limits.entries.insert(kind, Limit { running, working: None, source: source(), accepted_by });
    }
}

fn rated(mut kind: VehicleType) -> VehicleType {
    kind.payload_rating_kg = Some(60_000.0);
    kind.axle_rating_kg = Some(22_500.0);
    kind.wheel_rating_kg = Some(12_500.0);
    if matches!(kind.gear, RunningGear::Bogies { .. }) {
        kind.bogie_rating_kg = Some(45_000.0);
    }
    kind
}

fn train(plan: &mut Plan, dice: &mut Dice) {
    let mut engine = rated(wagon(15_000, bogies(8_000), &[]));
    (engine.kind, engine.tare_kg) = (VehicleKind::Engine, 80_000.0);
    let mut idler = rated(wagon(16_000, bogies(10_000), &[]));
    idler.kind = VehicleKind::Idler;
    add(plan, engine, false);
    if dice.one_in(2) {
        add(plan, idler.clone(), false);
    }
    for _ in 0..dice.between(4, 8) {
        let mut kind = match dice.between(1, 3) {
            1 => wagon(14_000, RunningGear::TwoAxle { wheelbase: Length::from_mm(9_000) }, &[-4_500, 4_500]),
            2 => wagon(19_900, bogies(14_200), &[-6_633, 0, 6_633]),
            _ => wagon(19_900, bogies(14_200), &[-6_000, -5_000, dice.between(-800, 800), 5_500]),
        };
        kind.tare_y_mm = dice.between(-20, 20) as f64;
        kind.tare_kg = dice.between(14_000, 31_000) as f64;
        if dice.one_in(3) {
            kind.tare_front_kg = Some(kind.tare_kg * 0.48);
        }
        let turned = dice.one_in(2);
        add(plan, rated(kind), turned);
    }
    add(plan, idler, false);
}

fn strings(plan: &mut Plan, dice: &mut Dice) {
    let racks: Vec<i64> = rack_places_mm(plan);
    let (first_mm, last_mm) = (racks[0], racks[racks.len() - 1]);
    for tier in 1..=3 {
        for lane in 1..=6 {
            if dice.one_in(3) {
                continue;
            }
            let from = first_mm - dice.between(300, 3_500);
            let length = last_mm - from + dice.between(-20_000, 3_500);
            // Now and then two strings in one pocket, or one with a stated mass.
            if dice.one_in(4) && length > 70_000 {
                let half = length / 2;
                place(plan, "60E1", half - 700, (tier, lane, from));
                place(plan, "60E1", half, (tier, lane, from + half));
            } else {
                place(plan, "60E1", length, (tier, lane, from));
            }
            if dice.one_in(3) {
                let string = plan.order.last_mut().unwrap();
                let kg = 61.0 * string.length.m();
                string.mass = MassEntry::Stated { kg, basis: StatedBasis::Weighed };
            }
        }
    }
}

fn rack_places_mm(plan: &Plan) -> Vec<i64> {
    let figures = crate::trains::figures(plan.clone());
    figures.consist.racks.iter().map(|rack| rack.x.mm()).collect()
}

fn drops(plan: &mut Plan, dice: &mut Dice) {
    let marks: Vec<StringMark> = plan.order.iter().rev().take(5).map(|string| string.mark.clone()).collect();
    let one = |mark: &StringMark, kind| Step { kind, strings: StepStrings::One(mark.clone()), toward: None };
    let mut steps: Vec<Step> = marks.iter().take(2).map(|mark| one(mark, StepKind::Off)).collect();
    if let [first, second, ..] = marks.get(2..).unwrap_or_default() {
        steps.push(Step {
            kind: StepKind::Off,
            strings: StepStrings::Pair {
                first: first.clone(),
                second: second.clone(),
                together: dice.one_in(2),
            },
            toward: Some(TrainEnd::Front),
        });
    }
    let roller = dice.one_in(2);
    plan.drops.push(Drop {
        name: DropName::new("Eastmoor").unwrap(),
        place: String::new(),
        toward: TrainEnd::Rear,
        gap_between: None,
        possession_min: Some(30.0),
        handling_min: Some(3.0),
        chute_height: Some(Length::from_mm(dice.between(500, 1_500))),
        chute_roller_behind: roller.then(|| Length::from_mm(dice.between(2_000, 7_000))),
        chute_roller_lower: roller.then(|| Length::from_mm(dice.between(0, 400))),
        seat_offset: Some(Length::from_mm(if dice.one_in(2) { 0 } else { dice.between(100, 1_200) })),
        steps,
    });
}
