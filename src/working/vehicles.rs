//! Workings of what vehicles bear: payload, supports, axles, wheels, ratios, mass per metre, centre height.

use super::figure::{At, BODY_SOURCE, Depends, Figure, of};
use super::{Origin, Question, Working, WorkingRow, WorkingStep, WorkingValue};
use crate::checks::Subject;
use crate::model::RunningGear;
use crate::statics::{Figures, SideLoads, VehicleLoads, VehiclePlace};
use crate::units::{Quantity, QuantityKind};

/// The figures of vehicles.
pub(super) const FIGURES: &[Figure] = &[
    figure("payload", "Load of a vehicle", vehicles, payload),
    figure("gross-mass", "Gross mass of a vehicle", vehicles, gross),
    figure("bogie-load", "Load of a bogie", bogies, support_load),
    figure("axle-load", "Load of an axle", axles, axle_load),
    figure("wheel-load", "Load of a wheel", axles, wheel_load),
    figure("wheel-balance", "Larger over smaller wheel load", axles, wheel_ratio),
    figure("bogie-ratio", "Larger over smaller bogie load", on_bogies, support_ratio),
    figure("axle-ratio", "Larger over smaller axle load", on_two_axles, support_ratio),
    figure("mass-per-metre", "Mass per metre of a vehicle", vehicles, mass_per_metre),
    figure("centre-height", "Height of the gross centre of gravity", vehicles, centre_height),
];

const fn figure(
    name: &'static str,
    title: &'static str,
    subjects: fn(&Figures) -> Vec<Subject>,
    working: fn(&At<'_>, Subject) -> Option<Working>,
) -> Figure {
    Figure { name, title, depends: Depends::State, subjects, working }
}

fn vehicles(figures: &Figures) -> Vec<Subject> {
    (0..figures.consist.vehicles.len()).map(Subject::Vehicle).collect()
}

fn has_bogies(figures: &Figures, vehicle: usize) -> bool {
    let kind = figures.consist.vehicles.get(vehicle).map(|place| place.vehicle_type);
    let kind = kind.and_then(|kind| figures.plan.train.vehicle_types.get(kind));
    kind.is_some_and(|kind| matches!(kind.gear, RunningGear::Bogies { .. }))
}

fn on_bogies(figures: &Figures) -> Vec<Subject> {
    (0..figures.consist.vehicles.len()).filter(|v| has_bogies(figures, *v)).map(Subject::Vehicle).collect()
}

fn on_two_axles(figures: &Figures) -> Vec<Subject> {
    (0..figures.consist.vehicles.len()).filter(|v| !has_bogies(figures, *v)).map(Subject::Vehicle).collect()
}

pub(super) fn bogies(figures: &Figures) -> Vec<Subject> {
    axles(figures).into_iter().filter(|subject| matches!(subject, Subject::Support(..))).collect()
}

/// The subjects of axle figures: a bogie, whose axles share equally, or the axle of a two-axle vehicle.
pub(super) fn axles(figures: &Figures) -> Vec<Subject> {
    let of_vehicle = |vehicle: usize| {
        [0, 1].map(|support| match has_bogies(figures, vehicle) {
            true => Subject::Support(vehicle, support),
            false => Subject::Axle(vehicle, support),
        })
    };
    (0..figures.consist.vehicles.len()).flat_map(of_vehicle).collect()
}

/// One support of a vehicle with its loads.
struct Borne<'f> {
    at: At<'f>,
    vehicle: usize,
    place: &'f VehiclePlace,
    loads: &'f VehicleLoads,
    support: usize,
}

impl<'f> Borne<'f> {
    fn of(at: &At<'f>, subject: Subject) -> Option<Self> {
        let (vehicle, support) = match subject {
            Subject::Support(vehicle, support) | Subject::Axle(vehicle, support) if support < 2 => {
                (vehicle, support)
            }
            Subject::Vehicle(vehicle) => (vehicle, 0),
            _ => return None,
        };
        let place = at.figures.consist.vehicles.get(vehicle)?;
        Some(Self { at: *at, vehicle, place, loads: at.loads(vehicle)?, support })
    }

    fn tare(&self) -> Origin {
        let plan = &self.at.figures.plan;
        let kind = plan.train.vehicle_types.get(self.place.vehicle_type);
        let own = plan.train.vehicles.get(self.vehicle).is_some_and(|vehicle| vehicle.tare_kg.is_some());
        match (own, kind) {
            (true, _) => Origin::entered("weighed tare of the vehicle"),
            (false, Some(kind)) => Origin::entered(format!("type {}: {}", kind.name, kind.source.text)),
            (false, None) => Origin::entered("its type"),
        }
    }

    fn kind(&self, what: &str) -> Origin {
        let kind = self.at.figures.plan.train.vehicle_types.get(self.place.vehicle_type);
        Origin::entered(match kind {
            Some(kind) => format!("{what}, type {}: {}", kind.name, kind.source.text),
            None => what.to_owned(),
        })
    }

    /// Rows of the vehicle's racks: load, and place from the vehicle's middle.
    fn rack_rows(&self) -> Vec<WorkingRow> {
        let level = self.at.figure.depends != Depends::Springs;
        let racks = self.place.racks.clone();
        racks
            .filter_map(|rack| {
                let kg = self.at.worked()?.rack_kg(rack);
                let from_middle_m = self.at.figures.consist.racks.get(rack)?.from_middle_m;
                Some(WorkingRow {
                    name: Subject::Rack(rack).place(self.at.figures),
                    values: vec![Quantity::mass(kg), Quantity::length_m(from_middle_m)],
                    figure: level.then_some(Question::new("rack-load", Subject::Rack(rack))),
                })
            })
            .collect()
    }

    /// Rows of the loads of each lane at each rack: load, place along, place across.
    fn lane_rows(&self) -> Vec<WorkingRow> {
        let mut rows = Vec::new();
        for rack in self.place.racks.clone() {
            let Some(place) = self.at.figures.consist.racks.get(rack) else { continue };
            for (lane, y_m) in (1_u32..).zip(&place.lanes_y_m) {
                let in_lane = self.at.present().filter(|placed| {
                    let placement = self.at.figures.plan.placements.get(placed.placement);
                    placement.is_some_and(|placement| placement.lane == lane)
                });
                let loads: Vec<f64> = in_lane.filter_map(|placed| self.at.carried_kg(placed, rack)).collect();
                if loads.is_empty() {
                    continue;
                }
                let sum_kg = loads.iter().sum();
                rows.push(WorkingRow {
                    name: format!("{} lane {lane}", Subject::Rack(rack).place(self.at.figures)),
                    values: vec![
                        Quantity::mass(sum_kg),
                        Quantity::length_m(place.from_middle_m),
                        Quantity::length_m(*y_m),
                    ],
                    figure: None,
                });
            }
        }
        rows
    }

    fn support_distance(&self) -> (Quantity, Origin) {
        (Quantity::length_m(self.place.support_distance_m), self.kind("distance of pivots or axles"))
    }

    /// The load of the support: the lever rule over the racks, and its part of the tare.
    fn support_step(&self) -> WorkingStep {
        let (sign, end) = if self.support == 0 { ("-", "front") } else { ("+", "rear") };
        let load = Quantity::mass(self.loads.supports[self.support].load_kg);
        let (distance, from) = self.support_distance();
        let meaning = format!("load on the {end} support");
        let formula = format!("T + sum(F * (1/2 {sign} xi / p))");
        WorkingStep::new(("B", &meaning), load, formula)
            .with(("T", "tare on it"), Quantity::mass(self.place.tare_kg[self.support]), self.tare())
            .with(("p", "distance between the two supports"), distance, from)
            .over(
                &[("F", "load of the rack"), ("xi", "place of the rack from the middle, rearward positive")],
                self.rack_rows(),
            )
    }

    fn axle_step(&self, borne: &WorkingValue) -> WorkingStep {
        let axle = Quantity::mass(self.loads.supports[self.support].axle_kg);
        WorkingStep::new(("A", "load of each axle"), axle, "B / n").with_value(borne.clone()).with(
            ("n", "axles of the support"),
            Quantity::count(self.place.axles_per_support as usize),
            self.kind("running gear"),
        )
    }

    /// The sideways moment that the support takes under one assumption.
    fn side_step(&self, twist: Twist) -> WorkingStep {
        let support = &self.loads.supports[self.support];
        let axles = f64::from(self.place.axles_per_support);
        let sides = twist.of(self.loads, self.support);
        let moment = of(
            (sides.right_kg - support.axle_kg / 2.0) * axles * self.place.contact_m,
            QuantityKind::MassMoment,
        );
        let (distance, from) = self.support_distance();
        let sign = if self.support == 0 { "-" } else { "+" };
        let (symbol, formula, tare_kg) = match twist {
            Twist::Stiff => {
                ("S", "(sum(F * y) + T * yT) / 2".to_owned(), self.place.tare_kg[0] + self.place.tare_kg[1])
            }
            Twist::Soft => {
                ("U", format!("sum(F * y * (1/2 {sign} xi / p)) + T * yT"), self.place.tare_kg[self.support])
            }
        };
        let tare_means = if twist == Twist::Stiff { "tare" } else { "tare on this support" };
        let mut step = WorkingStep::new((symbol, twist.meaning()), moment, formula)
            .with(("T", tare_means), Quantity::mass(tare_kg), self.tare())
            .with(
                ("yT", "place of the tare's centre to the right"),
                Quantity::length_m(self.place.tare_y_m),
                self.kind("tare's centre"),
            );
        if twist == Twist::Soft {
            step = step.with(("p", "distance between the two supports"), distance, from);
        }
        step.over(
            &[
                ("F", "load of the lane on the rack"),
                ("xi", "place of the rack from the middle, rearward positive"),
                ("y", "place of the lane to the right"),
            ],
            self.lane_rows(),
        )
    }

    /// The two wheels of an axle under one assumption.
    fn wheel_steps(&self, twist: Twist, axle: &WorkingValue, moment: &WorkingValue) -> [WorkingStep; 2] {
        let sides = twist.of(self.loads, self.support);
        let [left, right] = twist.wheel_symbols();
        [(left, "left", "-", sides.left_kg), (right, "right", "+", sides.right_kg)].map(
            |(symbol, side, sign, kg)| {
                let meaning = format!("{side} wheel, {} body", twist.word());
                let formula = format!("A / 2 {sign} {} / (b * n)", moment.symbol);
                WorkingStep::new((symbol, &meaning), Quantity::mass(kg), formula)
                    .with_value(axle.clone())
                    .with_value(moment.clone())
                    .with(
                        ("b", "between the wheels' contact points"),
                        Quantity::length_m(self.place.contact_m),
                        self.kind("wheel contact"),
                    )
                    .with(
                        ("n", "axles of the support"),
                        Quantity::count(self.place.axles_per_support as usize),
                        self.kind("running gear"),
                    )
            },
        )
    }
}

/// How a body passes a sideways moment to its supports.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Twist {
    /// Half and half.
    Stiff,
    /// By the lever rule.
    Soft,
}

impl Twist {
    fn of(self, loads: &VehicleLoads, support: usize) -> SideLoads {
        match self {
            Self::Stiff => loads.supports[support].stiff,
            Self::Soft => loads.supports[support].soft,
        }
    }

    fn word(self) -> &'static str {
        match self {
            Self::Stiff => "stiff",
            Self::Soft => "soft",
        }
    }

    fn meaning(self) -> &'static str {
        match self {
            Self::Stiff => {
                "sideways moment on the support, right positive: a stiff body shares it half and half"
            }
            Self::Soft => {
                "sideways moment on the support, right positive: a soft body passes it by the lever rule"
            }
        }
    }

    fn wheel_symbols(self) -> [&'static str; 2] {
        match self {
            Self::Stiff => ["L1", "R1"],
            Self::Soft => ["L2", "R2"],
        }
    }
}

fn payload(at: &At<'_>, subject: Subject) -> Option<Working> {
    let borne = Borne::of(at, subject)?;
    Some(at.start(subject, BODY_SOURCE).step(payload_step(&borne)))
}

fn payload_step(borne: &Borne<'_>) -> WorkingStep {
    let rows = borne.rack_rows().into_iter().map(|mut row| {
        row.values.truncate(1);
        row
    });
    WorkingStep::new(("P", "load of the vehicle"), Quantity::mass(borne.loads.payload_kg), "sum(F)")
        .over(&[("F", "load of the rack")], rows.collect())
}

fn gross(at: &At<'_>, subject: Subject) -> Option<Working> {
    let borne = Borne::of(at, subject)?;
    let load = payload_step(&borne);
    let gross = gross_step(&borne, &load.result);
    Some(at.start(subject, BODY_SOURCE).step(load).step(gross))
}

fn gross_step(borne: &Borne<'_>, load: &WorkingValue) -> WorkingStep {
    let tare_kg = borne.place.tare_kg[0] + borne.place.tare_kg[1];
    WorkingStep::new(("G", "gross mass"), Quantity::mass(borne.loads.gross_kg), "T + P")
        .with(("T", "tare"), Quantity::mass(tare_kg), borne.tare())
        .with_value(load.clone())
}

pub(super) fn support_load(at: &At<'_>, subject: Subject) -> Option<Working> {
    let borne = Borne::of(at, subject)?;
    Some(at.start(subject, BODY_SOURCE).step(borne.support_step()))
}

pub(super) fn axle_load(at: &At<'_>, subject: Subject) -> Option<Working> {
    let borne = Borne::of(at, subject)?;
    let support = borne.support_step();
    let axle = borne.axle_step(&support.result);
    Some(at.start(subject, BODY_SOURCE).step(support).step(axle))
}

/// The steps up to the four wheels, and the wheels: left and right, stiff and soft.
fn wheels(borne: &Borne<'_>, mut working: Working) -> (Working, [WorkingValue; 4]) {
    let support = borne.support_step();
    let axle = borne.axle_step(&support.result);
    let (stiff, soft) = (borne.side_step(Twist::Stiff), borne.side_step(Twist::Soft));
    let [l1, r1] = borne.wheel_steps(Twist::Stiff, &axle.result, &stiff.result);
    let [l2, r2] = borne.wheel_steps(Twist::Soft, &axle.result, &soft.result);
    let values = [&l1, &r1, &l2, &r2].map(|step| step.result.clone());
    for step in [support, axle, stiff, l1, r1, soft, l2, r2] {
        working = working.step(step);
    }
    (working, values)
}

pub(super) fn wheel_load(at: &At<'_>, subject: Subject) -> Option<Working> {
    let borne = Borne::of(at, subject)?;
    let largest = Quantity::mass(borne.loads.supports[borne.support].largest_wheel_kg());
    let (working, values) = wheels(&borne, at.start(subject, BODY_SOURCE));
    let mut step =
        WorkingStep::new(("W", "heavier wheel by the worse assumption"), largest, "max(L1, R1, L2, R2)");
    for value in values {
        step = step.with_value(value);
    }
    Some(working.step(step).note(TWIST_NOTE))
}

/// Why both assumptions are worked out.
const TWIST_NOTE: &str = "How stiff the body twists is not known; the two assumptions bound it, and the worse one \
     counts.";

pub(super) fn wheel_ratio(at: &At<'_>, subject: Subject) -> Option<Working> {
    let borne = Borne::of(at, subject)?;
    let support = &borne.loads.supports[borne.support];
    let (mut working, [l1, r1, l2, r2]) = wheels(&borne, at.start(subject, BODY_SOURCE));
    let mut ratios = Vec::new();
    for (symbol, twist, left, right) in [("a1", Twist::Stiff, l1, r1), ("a2", Twist::Soft, l2, r2)] {
        let ratio = Quantity::ratio(twist.of(borne.loads, borne.support).ratio());
        let formula = ratio_formula(&left.symbol, &right.symbol);
        let step = WorkingStep::new((symbol, &format!("ratio, {} body", twist.word())), ratio, formula);
        let step = step.with_value(left).with_value(right);
        ratios.push(step.result.clone());
        working = working.step(step);
    }
    let mut worse =
        WorkingStep::new(("a", "the worse ratio"), Quantity::ratio(support.worse_ratio()), "max(a1, a2)");
    for ratio in ratios {
        worse = worse.with_value(ratio);
    }
    Some(working.step(worse).note(TWIST_NOTE))
}

/// Larger over smaller; without bound where the smaller is nothing or lifts.
fn ratio_formula(one: &str, other: &str) -> String {
    format!("max({one}, {other}) / max(0, min({one}, {other}))")
}

fn support_ratio(at: &At<'_>, subject: Subject) -> Option<Working> {
    let mut borne = Borne::of(at, subject)?;
    let mut working = at.start(subject, BODY_SOURCE);
    let mut ratio = WorkingStep::new(
        ("a", "larger over smaller"),
        Quantity::ratio(borne.loads.support_ratio()),
        ratio_formula("B1", "B2"),
    );
    for (support, symbol) in [(0, "B1"), (1, "B2")] {
        borne.support = support;
        let mut step = borne.support_step();
        step.result.symbol = symbol.to_owned();
        ratio = ratio.with_value(step.result.clone());
        working = working.step(step);
    }
    Some(working.step(ratio))
}

fn mass_per_metre(at: &At<'_>, subject: Subject) -> Option<Working> {
    let borne = Borne::of(at, subject)?;
    let load = payload_step(&borne);
    let gross = gross_step(&borne, &load.result);
    let length = Quantity::length(borne.place.rear - borne.place.front);
    let result = of(borne.loads.mass_per_metre_kg, QuantityKind::MassPerLength);
    let step = WorkingStep::new(("m", "mass per metre"), result, "G / l")
        .with_value(gross.result.clone())
        .with(("l", "length over uncompressed buffers"), length, borne.kind("length"));
    let source = "Gross mass over length over uncompressed buffers (EN 15528).";
    Some(at.start(subject, source).step(load).step(gross).step(step))
}

fn centre_height(at: &At<'_>, subject: Subject) -> Option<Working> {
    let borne = Borne::of(at, subject)?;
    let height_m = borne.loads.centre_height_m?;
    let plan = &at.figures.plan;
    let tare_height_mm = plan.train.vehicle_types.get(borne.place.vehicle_type)?.tare_cog_height_mm?;
    let load = payload_step(&borne);
    let gross = gross_step(&borne, &load.result);
    let tare = gross.inputs.first()?.clone();
    let step = WorkingStep::new(
        ("z", "height of the gross centre above the rail"),
        Quantity::length_m(height_m),
        "(T * zT + sum(F * h)) / G",
    )
    .with_value(tare)
    .with(
        ("zT", "height of the tare's centre"),
        Quantity::length_m(tare_height_mm / 1000.0),
        borne.kind("tare's centre"),
    )
    .with_value(gross.result.clone())
    .over(
        &[("F", "load"), ("h", "height of its centre above the rail: deck, seat and neutral axis")],
        height_rows(&borne),
    );
    Some(at.start(subject, BODY_SOURCE).step(load).step(gross).step(step))
}

/// Rows of loads with the heights of their centres: the strings of one tier and section on one rack together.
fn height_rows(borne: &Borne<'_>) -> Vec<WorkingRow> {
    let plan = &borne.at.figures.plan;
    let mut rows: Vec<WorkingRow> = Vec::new();
    for placed in borne.at.present() {
        let section = &plan.sections[placed.section];
        let Some(axis_mm) = section.neutral_axis_mm else { continue };
        let Some(placement) = plan.placements.get(placed.placement) else { continue };
        for rack in borne.place.racks.clone() {
            let Some(kg) = borne.at.carried_kg(placed, rack) else { continue };
            let Some(Some(seat_m)) = placed.seat_m.get(rack - placed.racks.start) else { continue };
            let rack_name = Subject::Rack(rack).place(borne.at.figures);
            let name = format!("{rack_name} tier {}, {}", placement.tier, section.name);
            match rows.iter_mut().find(|row| row.name == name) {
                Some(row) => row.values[0].value += kg,
                None => rows.push(WorkingRow {
                    name,
                    values: vec![Quantity::mass(kg), Quantity::length_m(seat_m + axis_mm / 1000.0)],
                    figure: None,
                }),
            }
        }
    }
    rows
}
