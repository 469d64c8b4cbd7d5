//! Workings of ranges of loads: the envelope of spring rates and wagon heights, and tolerance bands.

use super::figure::{At, Depends, Figure, of};
use super::springs::springs_entered;
use super::vehicles::axles;
use super::{Origin, Question, Working, WorkingRow, WorkingStep};
use crate::checks::Subject;
use crate::model::Topic;
use crate::statics::{Figures, SideLoads, SupportLoads};
use crate::units::{Quantity, QuantityKind};

/// The figures of ranges.
pub(super) const FIGURES: &[Figure] = &[
    figure("springs-envelope", "Highest load over spring rates and wagon heights", enveloped, envelope),
    figure("tolerance-band", "Highest load within its tolerances", banded, band),
];

const fn figure(
    name: &'static str,
    title: &'static str,
    subjects: fn(&Figures) -> Vec<Subject>,
    working: fn(&At<'_>, Subject) -> Option<Working>,
) -> Figure {
    Figure { name, title, depends: Depends::State, subjects, working }
}

const SOURCE: &str = "Linear sensitivity, the largest sum of sizes (textbook error analysis); beams on one-sided \
     elastic supports.";

fn enveloped(figures: &Figures) -> Vec<Subject> {
    let asked = figures.plan.route.asked.contains(&Topic::Springs) && springs_entered(figures);
    if asked { axles(figures) } else { Vec::new() }
}

fn banded(figures: &Figures) -> Vec<Subject> {
    let route = &figures.plan.route;
    let no_heights = route.rack_height_tolerance_mm.is_none_or(|mm| mm <= 0.0);
    let known = no_heights || springs_entered(figures);
    if route.asked.contains(&Topic::Tolerances) && known { axles(figures) } else { Vec::new() }
}

/// The four wheel loads of an axle: either side, by stiff and soft body.
fn wheels(loads: &SupportLoads) -> [(&'static str, f64); 4] {
    let SideLoads { left_kg, right_kg } = loads.stiff;
    [
        ("left wheel, stiff body", left_kg),
        ("right wheel, stiff body", right_kg),
        ("left wheel, soft body", loads.soft.left_kg),
        ("right wheel, soft body", loads.soft.right_kg),
    ]
}

fn place_of(at: &At<'_>, subject: Subject) -> Option<(usize, usize, usize)> {
    let (Subject::Support(vehicle, support) | Subject::Axle(vehicle, support)) = subject else { return None };
    let state = at.figures.worked.iter().position(|worked| Some(worked.state) == at.state)?;
    Some((state, vehicle, support))
}

/// Load per height.
fn per_height(kg_per_m: f64) -> Quantity {
    of(kg_per_m, QuantityKind::MassPerLength)
}

fn envelope(at: &At<'_>, subject: Subject) -> Option<Working> {
    let (state, vehicle, support) = place_of(at, subject)?;
    let range = at.figures.spring_envelope().ok()?.get(state)?.get(vehicle)?.get(support)?;
    let names = ["rates as entered", "lowest rates", "highest rates"];
    let rates = || names.into_iter().zip(&range.by_rates).filter_map(|(name, rates)| Some((name, (*rates)?)));
    let axle_rows = rates().map(|(name, [loads, change])| WorkingRow {
        name: name.to_owned(),
        values: vec![Quantity::mass(loads.axle_kg), per_height(change.axle_kg)],
        figure: None,
    });
    let wheel_rows = rates().flat_map(|(name, [loads, change])| {
        wheels(&loads).into_iter().zip(wheels(&change)).map(move |((wheel, kg), (_, kg_per_m))| WorkingRow {
            name: format!("{name}, {wheel}"),
            values: vec![Quantity::mass(kg), per_height(kg_per_m)],
            figure: None,
        })
    });
    let height_m = at.figures.plan.route.wagon_height_tolerance.map_or(0.0, |tolerance| tolerance.m());
    let step = |result: (&str, &str), high_kg: f64, rows: Vec<WorkingRow>| {
        let step = WorkingStep::new(result, Quantity::mass(high_kg), "largest(A + th * sh)")
            .with(
                ("th", "wagon height tolerance"),
                Quantity::small_length_m(height_m),
                Origin::entered("the route; 0 where none is entered"),
            )
            .over(
                &[
                    ("A", "load"),
                    ("sh", "its change by every wagon high or low by one unit, as it adds most"),
                ],
                rows,
            );
        at.start(subject, SOURCE).step(step)
    };
    let axle = step(("A1", "highest load of the axle"), range.axle.high_kg, axle_rows.collect());
    let wheel = step(("W1", "highest load of a wheel"), range.largest_wheel.high_kg, wheel_rows.collect());
    at.matching(vec![axle, wheel])
}

/// A load with its half band, and the part of that by the mass tolerance.
struct Band<'a> {
    loads: &'a SupportLoads,
    band: &'a SupportLoads,
    by_mass: &'a SupportLoads,
}

fn band(at: &At<'_>, subject: Subject) -> Option<Working> {
    let (state, vehicle, support) = place_of(at, subject)?;
    let band = at.figures.tolerance_bands().ok()?.get(state)?.get(vehicle)?.get(support)?;
    let by_mass = at.figures.mass_tolerance_bands();
    let by_mass = by_mass.get(state)?.get(vehicle)?.get(support)?;
    let level = at.loads(vehicle)?.supports.get(support)?;
    let springs = at.on_springs().filter(|_| at.figures.plan.route.asked.contains(&Topic::Springs));
    let springs = springs.and_then(|state| state.loads.vehicles.get(vehicle)?.supports.get(support));
    let mut workings = Vec::new();
    for (loads, name, model) in [
        (Some(level), "axle-load", "The level rigid model."),
        (springs, "springs-axle-load", "The train on springs."),
    ] {
        let Some(loads) = loads else { continue };
        let band = Band { loads, band, by_mass };
        let asked = Question::new(name, subject);
        let start = || at.start(subject, SOURCE).note(model);
        workings.push(start().step(band.axle_step(at, asked)));
        workings.push(start().step(band.wheel_step(at)));
    }
    at.matching(workings)
}

impl Band<'_> {
    fn axle_step(&self, at: &At<'_>, asked: Question) -> WorkingStep {
        let [sm, sh] = sensitivities(at, self.band.axle_kg, self.by_mass.axle_kg);
        let high = Quantity::mass(self.loads.axle_kg + self.band.axle_kg);
        let step = WorkingStep::new(("A1", "highest load of the axle"), high, "A + tm * sm + th * sh")
            .with(("A", "load of the axle"), Quantity::mass(self.loads.axle_kg), Origin::Figure(asked))
            .with(("sm", MASS_MEANS), Quantity::mass(sm), Origin::Found(SUM_OF_SIZES))
            .with(("sh", HEIGHT_MEANS), per_height(sh), Origin::Found(SUM_OF_SIZES));
        with_tolerances(at, step)
    }

    fn wheel_step(&self, at: &At<'_>) -> WorkingStep {
        let (band, by_mass) = (wheels(self.band), wheels(self.by_mass));
        let rows =
            wheels(self.loads).into_iter().zip(band).zip(by_mass).map(|(((name, kg), band), by_mass)| {
                let [sm, sh] = sensitivities(at, band.1, by_mass.1);
                WorkingRow {
                    name: name.to_owned(),
                    values: vec![Quantity::mass(kg), Quantity::mass(sm), per_height(sh)],
                    figure: None,
                }
            });
        let high = Quantity::mass(self.loads.wheel_range_kg(self.band, 1.0).1);
        let step =
            WorkingStep::new(("W1", "highest load of a wheel"), high, "largest(W + tm * sm + th * sh)").over(
                &[("W", "load of the wheel"), ("sm", MASS_MEANS), ("sh", HEIGHT_MEANS)],
                rows.collect(),
            );
        with_tolerances(at, step)
    }
}

const MASS_MEANS: &str = "what all strings put on it, sizes added up";
const HEIGHT_MEANS: &str = "its change by each rack raised by one unit of height, sizes added up";
const SUM_OF_SIZES: &str = "sum of sizes over all strings, or over all racks on springs";

/// Change per unit of the mass tolerance and of the rack height tolerance.
fn sensitivities(at: &At<'_>, band_kg: f64, by_mass_kg: f64) -> [f64; 2] {
    let [mass, height_m] = tolerances(at);
    let per = |kg: f64, unit: f64| if unit > 0.0 { kg / unit } else { 0.0 };
    [per(by_mass_kg, mass), per(band_kg - by_mass_kg, height_m)]
}

fn tolerances(at: &At<'_>) -> [f64; 2] {
    let route = &at.figures.plan.route;
    let height_mm = route.rack_height_tolerance_mm.unwrap_or_default();
    [route.mass_tolerance.unwrap_or_default(), height_mm / 1000.0]
}

fn with_tolerances(at: &At<'_>, step: WorkingStep) -> WorkingStep {
    let [mass, height_m] = tolerances(at);
    let route = || Origin::entered("the route; 0 where none is entered");
    step.with(("tm", "mass tolerance as a share"), Quantity::share(mass), route()).with(
        ("th", "rack height tolerance"),
        Quantity::small_length_m(height_m),
        route(),
    )
}
