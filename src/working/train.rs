//! Workings of the whole train: mass and length.

use super::figure::{At, Depends, Figure};
use super::{Origin, Question, Working, WorkingRow, WorkingStep};
use crate::checks::{Subject, sets_pressing_on};
use crate::model::LimitKind;
use crate::statics::{Figures, StateRule};
use crate::units::Quantity;

/// The figures of the train.
pub(super) const FIGURES: &[Figure] = &[
    Figure {
        name: "train-mass",
        title: "Mass of the train",
        depends: Depends::State,
        subjects: |_| vec![Subject::Train],
        working: mass,
    },
    Figure {
        name: "train-length",
        title: "Length of the train",
        depends: Depends::Plan,
        subjects: |_| vec![Subject::Train],
        working: length,
    },
    Figure {
        name: "light-vehicle",
        title: "Mass of the set that presses on a light vehicle",
        depends: Depends::State,
        subjects: |_| Vec::new(),
        working: light_vehicle,
    },
    Figure {
        name: "braked-weight",
        title: "Braked weight percentage",
        depends: Depends::State,
        subjects: |figures| match figures.braked_kg() {
            Some(_) => vec![Subject::Train],
            None => Vec::new(),
        },
        working: braked_weight,
    },
];

fn vehicle_rows(figures: &Figures, of: impl Fn(usize) -> Quantity) -> Vec<WorkingRow> {
    let row = |vehicle: usize| WorkingRow {
        name: Subject::Vehicle(vehicle).place(figures),
        values: vec![of(vehicle)],
        figure: None,
    };
    (0..figures.consist.vehicles.len()).map(row).collect()
}

fn mass(at: &At<'_>, subject: Subject) -> Option<Working> {
    let total_kg = at.worked()?.train_kg;
    let tare = |vehicle: usize| at.figures.consist.vehicles[vehicle].tare_kg;
    let rows = vehicle_rows(at.figures, |vehicle| Quantity::mass(tare(vehicle)[0] + tare(vehicle)[1]));
    let tare_kg: f64 = rows.iter().flat_map(|row| &row.values).map(|value| value.value).sum();
    let vehicles = WorkingStep::new(("T", "tare of all vehicles"), Quantity::mass(tare_kg), "sum(t)")
        .over(&[("t", "tare of the vehicle")], rows);
    let rows: Vec<WorkingRow> = at
        .present()
        .map(|placed| WorkingRow {
            name: Subject::String(placed.string).place(at.figures),
            values: vec![Quantity::mass(placed.mass_kg)],
            figure: None,
        })
        .collect();
    let strings_kg: f64 = rows.iter().flat_map(|row| &row.values).map(|value| value.value).sum();
    let strings =
        WorkingStep::new(("S", "mass of all strings on the train"), Quantity::mass(strings_kg), "sum(m)")
            .over(&[("m", "mass of the string")], rows);
    let total = WorkingStep::new(("G", "mass of the train"), Quantity::mass(total_kg), "T + S")
        .with_value(vehicles.result.clone())
        .with_value(strings.result.clone());
    Some(at.start(subject, "A sum of what is entered.").step(vehicles).step(strings).step(total))
}

fn length(at: &At<'_>, subject: Subject) -> Option<Working> {
    let places = &at.figures.consist.vehicles;
    let rows =
        vehicle_rows(at.figures, |vehicle| Quantity::length(places[vehicle].rear - places[vehicle].front));
    let total = Quantity::length(at.figures.consist.length);
    let step = WorkingStep::new(("L", "length of the train"), total, "sum(l)")
        .over(&[("l", "length over uncompressed buffers")], rows);
    Some(at.start(subject, "A sum of what is entered.").step(step))
}

fn light_vehicle(at: &At<'_>, subject: Subject) -> Option<Working> {
    let Subject::Vehicle(vehicle) = subject else { return None };
    let (worked, rule) = (at.worked()?, at.figures.states.get(at.state?)?.rule);
    let limit = at.figures.plan.limits.get(LimitKind::LightVehicle)?;
    let light_kg = match rule {
        StateRule::Running => limit.running,
        StateRule::Working | StateRule::NoteOnly => limit.working.unwrap_or(limit.running),
    };
    let pressing = sets_pressing_on(at.figures, worked, light_kg);
    let pressing = pressing.into_iter().find(|pressing| pressing.vehicle == vehicle)?;
    let rows = pressing.set.iter().map(|vehicle| WorkingRow {
        name: Subject::Vehicle(*vehicle).place(at.figures),
        values: vec![Quantity::mass(worked.vehicles.get(*vehicle).map_or(0.0, |loads| loads.gross_kg))],
        figure: Some(Question::new("gross-mass", Subject::Vehicle(*vehicle))),
    });
    let own_kg = worked.vehicles.get(vehicle)?.gross_kg;
    let step = WorkingStep::new(
        ("H", "mass of the set on the other side of the light vehicle from an engine"),
        Quantity::mass(pressing.set_kg),
        "sum(G)",
    )
    .over(&[("G", "gross mass of a vehicle that is not light")], rows.collect());
    let light = WorkingStep::new(
        ("d", "by how much the vehicle is under the threshold of a light one"),
        Quantity::mass(light_kg - own_kg),
        "k - G0",
    )
    .with(
        ("k", "threshold of a light vehicle"),
        Quantity::mass(light_kg),
        Origin::entered(&*limit.source.text),
    )
    .with(
        ("G0", "its gross mass"),
        Quantity::mass(own_kg),
        Origin::Figure(Question::new("gross-mass", subject)),
    );
    Some(at.start(subject, "A sum of gross masses up to the next engine.").step(light).step(step))
}

fn braked_weight(at: &At<'_>, subject: Subject) -> Option<Working> {
    let (braked_kg, train_kg) = (at.figures.braked_kg()?, at.worked()?.train_kg);
    let plan = &at.figures.plan;
    let braked = |vehicle: usize| {
        let kind = plan.train.vehicle_types.get(at.figures.consist.vehicles[vehicle].vehicle_type);
        Quantity::mass(kind.and_then(|kind| kind.braked_weight_kg).unwrap_or_default())
    };
    let sum = WorkingStep::new(("B", "braked weight of all vehicles"), Quantity::mass(braked_kg), "sum(b)")
        .over(&[("b", "braked weight entered for the vehicle's type")], vehicle_rows(at.figures, braked));
    let share = WorkingStep::new(
        ("r", "braked weight as a share of the mass"),
        Quantity::share(braked_kg / train_kg),
        "B / G",
    )
    .with_value(sum.result.clone())
    .with(
        ("G", "mass of the train"),
        Quantity::mass(train_kg),
        Origin::Figure(Question::new("train-mass", subject)),
    );
    let source = "Percentage = 100 B / m (UIC 544-1, quoted by a secondary page).";
    Some(at.start(subject, source).step(sum).step(share))
}
