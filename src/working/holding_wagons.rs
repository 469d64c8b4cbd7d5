//! Workings of what held strings do to a wagon under braking and buffing: its couplings and axles.

use super::figure::{At, Depends, Figure, of};
use super::{Origin, Question, Working, WorkingRow, WorkingStep};
use crate::checks::Subject;
use crate::model::{Topic, VehicleType};
use crate::statics::{Figures, Held, HoldingWagon, PlacedString};
use crate::units::{Quantity, QuantityKind, STANDARD_GRAVITY_M_S2};

/// The figures of wagons that hold strings.
pub(super) const FIGURES: &[Figure] = &[
    figure("hold-wagon-coupling", "Force at the couplings of a holding wagon", wagons, coupling),
    figure("hold-wagon-axle", "Axle of a holding wagon under braking", axles, axle),
];

const fn figure(
    name: &'static str,
    title: &'static str,
    subjects: fn(&Figures) -> Vec<Subject>,
    working: fn(&At<'_>, Subject) -> Option<Working>,
) -> Figure {
    Figure { name, title, depends: Depends::State, subjects, working }
}

const SOURCE: &str = "Newton's second law; balance of moments on the wagon; every vehicle braked in proportion to its \
     weight.";

/// The vehicles that hold strings in any state, where the plan asks for it.
fn wagons(figures: &Figures) -> Vec<Subject> {
    if !figures.plan.route.asked.contains(&Topic::HoldForces) {
        return Vec::new();
    }
    let holds = figures.placed.iter().filter_map(|placed| match Held::of(figures, placed) {
        Held::At(rack) => Some(figures.consist.racks[rack].vehicle),
        Held::Nowhere | Held::Several => None,
    });
    let mut vehicles: Vec<usize> = holds.collect();
    vehicles.sort_unstable();
    vehicles.dedup();
    vehicles.into_iter().map(Subject::Vehicle).collect()
}

fn axles(figures: &Figures) -> Vec<Subject> {
    let holding = wagons(figures);
    let of_holding = |subject: &Subject| match subject {
        Subject::Support(vehicle, _) | Subject::Axle(vehicle, _) => {
            holding.contains(&Subject::Vehicle(*vehicle))
        }
        _ => false,
    };
    super::vehicles::axles(figures).into_iter().filter(of_holding).collect()
}

fn wagon(at: &At<'_>, vehicle: usize) -> Option<HoldingWagon> {
    at.figures.holding_wagons(at.state?)?.into_iter().find(|wagon| wagon.vehicle == vehicle)
}

/// The strings held on a vehicle in the state, with their holds.
fn held_on<'f>(at: &At<'f>, vehicle: usize) -> Vec<(&'f PlacedString, usize)> {
    let holds = at.present().filter_map(|placed| match Held::of(at.figures, placed) {
        Held::At(rack) if at.figures.consist.racks[rack].vehicle == vehicle => Some((placed, rack)),
        _ => None,
    });
    holds.collect()
}

/// What friction a string has on all racks but its hold, undiminished, in N.
fn friction_n(figures: &Figures, placed: &PlacedString, hold: usize) -> f64 {
    let racks = placed.racks.clone().zip(&placed.carried_kg).filter(|(rack, _)| *rack != hold);
    let each = racks.filter_map(|(rack, kg)| {
        let kind = figures.plan.train.rack_types.get(figures.consist.racks.get(rack)?.rack_type)?;
        Some(kind.friction? * kg * STANDARD_GRAVITY_M_S2)
    });
    each.sum()
}

fn with_deceleration(at: &At<'_>, step: WorkingStep, wagon: &HoldingWagon) -> WorkingStep {
    let vertical_g = at.figures.plan.route.accelerations.as_ref().map_or(0.0, |set| set.vertical_g);
    step.with(
        ("d", "larger of the train's braking and buffing deceleration"),
        of(wagon.deceleration_m_per_s2, QuantityKind::FreeFall),
        Origin::entered("the route"),
    )
    .with(
        ("v", "vertical acceleration in g"),
        Quantity::number(vertical_g),
        Origin::entered("accelerations of the route"),
    )
}

const COLUMNS: [(&str, &str); 2] =
    [("m", "mass of the string"), ("R", "friction on its other racks, where a coefficient is entered")];

fn coupling(at: &At<'_>, subject: Subject) -> Option<Working> {
    let Subject::Vehicle(vehicle) = subject else { return None };
    let wagon = wagon(at, vehicle)?;
    let rows = held_on(at, vehicle).into_iter().map(|(placed, hold)| WorkingRow {
        name: Subject::String(placed.string).place(at.figures),
        values: vec![Quantity::mass(placed.mass_kg), Quantity::force(friction_n(at.figures, placed, hold))],
        figure: None,
    });
    let own = WorkingStep::new(
        ("P1", "what the strings held on the wagon push or pull"),
        Quantity::force(wagon.force_n),
        "sum(max(0, m * d - R * max(0, 1 - v)))",
    )
    .over(&COLUMNS, rows.collect());
    let own = with_deceleration(at, own, &wagon);
    let through = through_step(at, &wagon)?;
    let larger =
        WorkingStep::new(("P", "force at the couplings"), Quantity::force(wagon.coupling_n()), "max(P1, P2)")
            .with_value(own.result.clone())
            .with_value(through.result.clone());
    Some(at.start(subject, SOURCE).step(own).step(through).step(larger))
}

/// What passes through because other wagons brake strings that are held here or beyond.
fn through_step(at: &At<'_>, wagon: &HoldingWagon) -> Option<WorkingStep> {
    let net_kg = at.figures.borne_less_held_kg(at.state?);
    let own_kg = *net_kg.get(wagon.vehicle)?;
    let rows = net_kg.iter().enumerate().take(wagon.vehicle).map(|(vehicle, kg)| WorkingRow {
        name: Subject::Vehicle(vehicle).place(at.figures),
        values: vec![Quantity::mass(*kg)],
        figure: None,
    });
    let braking = at.figures.plan.route.braking_m_per_s2.unwrap_or_default();
    let step = WorkingStep::new(
        ("P2", "what passes through beside it when the train brakes"),
        Quantity::force(wagon.through_n),
        "max(abs(sum(k)), abs(sum(k) + k0)) * b",
    )
    .with(
        ("k0", "what the wagon bears of held strings, less the strings held on it"),
        Quantity::mass(own_kg),
        Origin::Found("sum of the strings' loads on its racks"),
    )
    .with(
        ("b", "braking deceleration; 0 where none is entered"),
        of(braking, QuantityKind::FreeFall),
        Origin::entered("the route"),
    )
    .over(&[("k", "the same of the vehicles in front")], rows.collect());
    Some(step)
}

fn axle(at: &At<'_>, subject: Subject) -> Option<Working> {
    let (Subject::Support(vehicle, support) | Subject::Axle(vehicle, support)) = subject else { return None };
    let wagon = wagon(at, vehicle)?;
    let (moment_nm, added_kg) = (wagon.moment_nm?, wagon.axle_kg?);
    let place = at.figures.consist.vehicles.get(vehicle)?;
    let kind = at.figures.plan.train.vehicle_types.get(place.vehicle_type)?;
    let from_kind = || Origin::entered(format!("type {}: {}", kind.name, kind.source.text));
    let moment = moment_step(at, &wagon, kind, moment_nm)?;
    let added = WorkingStep::new(
        ("dA", "what each axle gains at one end of the wagon, and loses at the other"),
        Quantity::mass(added_kg),
        "abs(M) / p / n / g",
    )
    .with_value(moment.result.clone())
    .with(("p", "distance of pivots or axles"), Quantity::length_m(place.support_distance_m), from_kind())
    .with(("n", "axles of a support"), Quantity::count(place.axles_per_support as usize), from_kind())
    .with_g();
    let rest_kg = at.loads(vehicle)?.supports.get(support)?.axle_kg;
    let total = Quantity::mass(rest_kg + added_kg);
    let total = WorkingStep::new(("A", "load of the axle under braking"), total, "A0 + dA")
        .with(("A0", "at rest"), Quantity::mass(rest_kg), Origin::Figure(Question::new("axle-load", subject)))
        .with_value(added.result.clone());
    Some(at.start(subject, SOURCE).step(moment).step(added).step(total))
}

fn moment_step(at: &At<'_>, wagon: &HoldingWagon, kind: &VehicleType, moment_nm: f64) -> Option<WorkingStep> {
    let rows = held_on(at, wagon.vehicle).into_iter().map(|(placed, hold)| {
        let axis_m = at.figures.plan.sections.get(placed.section)?.neutral_axis_mm? / 1000.0;
        let seat_m = (*placed.seat_m.get(hold - placed.racks.start)?)?;
        Some(WorkingRow {
            name: Subject::String(placed.string).place(at.figures),
            values: vec![
                Quantity::mass(placed.mass_kg),
                Quantity::force(friction_n(at.figures, placed, hold)),
                Quantity::length_m(seat_m + axis_m),
            ],
            figure: None,
        })
    });
    let rows = rows.collect::<Option<Vec<_>>>()?;
    let columns =
        [COLUMNS[0], COLUMNS[1], ("z", "height of its centre above the rail: seat and neutral axis")];
    let step = WorkingStep::new(
        ("M", "moment of the held strings about the couplings"),
        Quantity::moment(moment_nm),
        "sum(max(0, m * d - R * max(0, 1 - v)) * (z - zc))",
    )
    .with(
        ("zc", "height of the couplings"),
        Quantity::length(kind.coupling_height?),
        Origin::entered(format!("type {}: {}", kind.name, kind.source.text)),
    )
    .over(&columns, rows);
    Some(with_deceleration(at, step, wagon))
}
