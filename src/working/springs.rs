//! Workings of the train on springs: how a vehicle moved, and what its supports, axles and wheels bear then.

use super::figure::{At, Depends, Figure, of};
use super::vehicles::{axle_load, axles, bogies, support_load, wheel_load, wheel_ratio};
use super::{Origin, Question, Working, WorkingStep};
use crate::checks::Subject;
use crate::model::Topic;
use crate::statics::Figures;
use crate::units::{Quantity, QuantityKind, STANDARD_GRAVITY_M_S2};

/// The figures of the train on springs.
pub(super) const FIGURES: &[Figure] = &[
    figure("springs-bogie-load", "Load of a bogie, on springs", sprung_bogies, bogie),
    figure("springs-axle-load", "Load of an axle, on springs", sprung_axles, axle),
    figure("springs-wheel-load", "Load of a wheel, on springs", sprung_axles, wheel),
    figure("springs-wheel-balance", "Larger over smaller wheel load, on springs", sprung_axles, ratio),
    Figure {
        name: "model-difference",
        title: "Difference of the axle load on springs from the level one",
        depends: Depends::State,
        subjects: sprung_axles,
        working: difference,
    },
];

const fn figure(
    name: &'static str,
    title: &'static str,
    subjects: fn(&Figures) -> Vec<Subject>,
    working: fn(&At<'_>, Subject) -> Option<Working>,
) -> Figure {
    Figure { name, title, depends: Depends::Springs, subjects, working }
}

const SOURCE: &str = "Beams on one-sided elastic supports, every wagon with heave, pitch and roll (and bending of its \
     frame where entered), at rest; balance of forces and moments on each wagon (textbook statics).";

fn asked(figures: &Figures) -> bool {
    figures.plan.route.asked.contains(&Topic::Springs) && springs_entered(figures)
}

/// Whether every vehicle under a string has springs; a list of questions must not wait for the train to settle.
pub(super) fn springs_entered(figures: &Figures) -> bool {
    let has = |rack: usize| {
        let vehicle = figures.consist.racks.get(rack).and_then(|r| figures.consist.vehicles.get(r.vehicle));
        let kind = vehicle.and_then(|place| figures.plan.train.vehicle_types.get(place.vehicle_type));
        kind.is_some_and(|kind| kind.springs.is_some())
    };
    figures.placed.iter().all(|placed| placed.racks.clone().all(has))
}

fn sprung_axles(figures: &Figures) -> Vec<Subject> {
    if asked(figures) { axles(figures) } else { Vec::new() }
}

fn sprung_bogies(figures: &Figures) -> Vec<Subject> {
    if asked(figures) { bogies(figures) } else { Vec::new() }
}

fn bogie(at: &At<'_>, subject: Subject) -> Option<Working> {
    moved_first(at, subject, support_load)
}

fn axle(at: &At<'_>, subject: Subject) -> Option<Working> {
    moved_first(at, subject, axle_load)
}

fn wheel(at: &At<'_>, subject: Subject) -> Option<Working> {
    moved_first(at, subject, wheel_load)
}

fn ratio(at: &At<'_>, subject: Subject) -> Option<Working> {
    moved_first(at, subject, wheel_ratio)
}

/// The working by the loads of the racks on springs, with the balance of the vehicle's springs before it.
fn moved_first(
    at: &At<'_>,
    subject: Subject,
    by_racks: fn(&At<'_>, Subject) -> Option<Working>,
) -> Option<Working> {
    let mut working = by_racks(at, subject)?;
    working.source = SOURCE.to_owned();
    if let Some(step) = spring_step(at, subject) {
        working.steps.insert(0, step);
        working.notes.push(
            "Bs and B are the same load, once by the vehicle's springs and once by the racks: at rest they agree."
                .to_owned(),
        );
    }
    Some(working)
}

/// The support's load by its spring, from how the vehicle moved; none for a vehicle that stays as it stands.
fn spring_step(at: &At<'_>, subject: Subject) -> Option<WorkingStep> {
    let (Subject::Support(vehicle, support) | Subject::Axle(vehicle, support)) = subject else { return None };
    let place = at.figures.consist.vehicles.get(vehicle)?;
    let kind = at.figures.plan.train.vehicle_types.get(place.vehicle_type)?;
    let springs = kind.springs?;
    let moved = at.on_springs()?.moved.get(vehicle)?;
    let turned = at.figures.plan.train.vehicles.get(vehicle)?.turned;
    let rates = [springs.front_n_per_m, springs.rear_n_per_m];
    let rate_n_per_m = rates[if turned { 1 - support } else { support }];
    let (sign, side) = if support == 0 { ("-", -1.0) } else { ("+", 1.0) };
    let sunk_m = moved.heave_m + side * place.support_distance_m / 2.0 * moved.pitch_rad;
    let load_kg = place.tare_kg[support] - rate_n_per_m * sunk_m / STANDARD_GRAVITY_M_S2;
    let found = || Origin::Found("all wagons and strings at rest together, racks that lift off left out");
    let from_type = || Origin::entered(format!("type {}: {}", kind.name, kind.source.text));
    let step = WorkingStep::new(
        ("Bs", "load on the support by its spring"),
        Quantity::mass(load_kg),
        format!("T0 - ks * (hv {sign} p / 2 * th) / g"),
    )
    .with(("T0", "tare on it"), Quantity::mass(place.tare_kg[support]), from_type())
    .with(("ks", "its spring rate"), of(rate_n_per_m, QuantityKind::ForcePerLength), from_type())
    .with(("hv", "heave of the vehicle, up positive"), Quantity::length_m(moved.heave_m), found())
    .with(("th", "pitch, rear end up positive"), of(moved.pitch_rad, QuantityKind::Angle), found())
    .with(
        ("p", "distance between the two supports"),
        Quantity::length_m(place.support_distance_m),
        from_type(),
    )
    .with_g();
    Some(step)
}

fn difference(at: &At<'_>, subject: Subject) -> Option<Working> {
    let (Subject::Support(vehicle, support) | Subject::Axle(vehicle, support)) = subject else { return None };
    let level_kg = at.loads(vehicle)?.supports.get(support)?.axle_kg;
    let springs_kg = at.on_springs()?.loads.vehicles.get(vehicle)?.supports.get(support)?.axle_kg;
    let share = if level_kg > 0.0 { (springs_kg - level_kg).abs() / level_kg } else { f64::INFINITY };
    let step = WorkingStep::new(
        ("d", "difference as a share of the level value"),
        Quantity::share(share),
        if level_kg > 0.0 { "abs(As - A) / A" } else { "1 / 0" },
    )
    .with(
        ("As", "axle load on springs"),
        Quantity::mass(springs_kg),
        Origin::Figure(Question::new("springs-axle-load", subject)),
    )
    .with(
        ("A", "level rigid axle load"),
        Quantity::mass(level_kg),
        Origin::Figure(Question::new("axle-load", subject)),
    );
    Some(at.start(subject, SOURCE).step(step))
}
