//! Workings of cant and speed: wheel unloading, overturning, and how far a body leans.

use super::figure::{At, Depends, Figure, of};
use super::{Origin, Question, Working, WorkingRow, WorkingStep, WorkingValue};
use crate::checks::{Subject, cant_case_words};
use crate::model::Topic;
use crate::statics::Figures;
use crate::statics::cant::{CantCase, Leaning, roll_of};
use crate::units::{Quantity, QuantityKind, STANDARD_GRAVITY_M_S2, Style};

/// The figures of cant.
pub(super) const FIGURES: &[Figure] = &[
    figure("cant-wheel-unloading", "Load that the wheels of one side lose on cant", unloading),
    figure("cant-overturning", "Sideways acceleration on cant", overturning),
];

const fn figure(
    name: &'static str,
    title: &'static str,
    working: fn(&At<'_>, Subject) -> Option<Working>,
) -> Figure {
    Figure { name, title, depends: Depends::State, subjects: vehicles, working }
}

const SOURCE: &str = "Statics of a body on two rails, rolling on its springs where they are entered.";

fn vehicles(figures: &Figures) -> Vec<Subject> {
    if !figures.plan.route.asked.contains(&Topic::Cant) {
        return Vec::new();
    }
    (0..figures.consist.vehicles.len()).map(Subject::Vehicle).collect()
}

/// One vehicle in one case.
struct Leans<'f> {
    at: At<'f>,
    vehicle: usize,
    lean: Leaning,
    case: CantCase,
}

/// The workings of every case that the check looks at in this state.
fn workings<'f>(
    at: &At<'f>,
    subject: Subject,
    of_case: fn(&Leans<'f>, Working) -> Option<Working>,
) -> Option<Working> {
    let Subject::Vehicle(vehicle) = subject else { return None };
    let lean = Leaning::of(at.figures, at.worked()?, vehicle)?;
    let cases = CantCase::of(&at.figures.plan.route).into_iter().filter_map(|case| {
        let leans = Leans { at: *at, vehicle, lean, case };
        let words = cant_case_words(&case).show(Style::default());
        of_case(&leans, at.start(subject, SOURCE).note(format!("The vehicle is {words}.")))
    });
    at.matching(cases.collect())
}

fn unloading(at: &At<'_>, subject: Subject) -> Option<Working> {
    workings(at, subject, |leans, working| {
        let lean = &leans.lean;
        let (working, s) = leans.with_roll(working)?;
        let side = leans.side_step();
        let offset = leans.offset_step()?;
        let share = lean.unloading(leans.side_g(), lean.roll.unwrap_or(0.0));
        let formula =
            if s.is_some() { "2 * (z * (1 + s) * abs(a) + y) / b" } else { "2 * (z * abs(a) + y) / b" };
        let mut step = WorkingStep::new(
            ("dQ", "share of their load that the wheels of one side lose"),
            Quantity::share(share),
            formula,
        )
        .with_value(side.result.clone())
        .with_value(offset.result.clone());
        if let Some(s) = s {
            step = step.with_value(s);
        }
        Some(working.step(side).step(offset).step(leans.with_contact(leans.with_height(step))))
    })
}

fn overturning(at: &At<'_>, subject: Subject) -> Option<Working> {
    workings(at, subject, |leans, working| {
        let lean = &leans.lean;
        let (working, s) = leans.with_roll(working)?;
        let offset = leans.offset_step()?;
        let capacity = lean.overturning_g(lean.roll.unwrap_or(0.0)).max(0.0) * STANDARD_GRAVITY_M_S2;
        let formula = if s.is_some() {
            "max(0, (b / 2 - y) / (z * (1 + s))) * g"
        } else {
            "max(0, (b / 2 - y) / z) * g"
        };
        let mut limit = WorkingStep::new(
            ("ak", "sideways acceleration at which the wheels of one side carry nothing"),
            of(capacity, QuantityKind::Acceleration),
            formula,
        )
        .with_value(offset.result.clone())
        .with_g();
        if let Some(s) = s {
            limit = limit.with_value(s);
        }
        let limit = leans.with_contact(leans.with_height(limit));
        let side = leans.side_step();
        let demand = of(leans.side_g().abs() * STANDARD_GRAVITY_M_S2, QuantityKind::Acceleration);
        let step = WorkingStep::new(("as", "sideways acceleration"), demand, "abs(a) * g")
            .with_value(side.result.clone())
            .with_g();
        Some(working.step(offset).step(limit).step(side).step(step))
    })
}

impl Leans<'_> {
    fn side_g(&self) -> f64 {
        self.case.side_g(self.lean.contact_m)
    }

    fn kind(&self, what: &str) -> Origin {
        kind_of(&self.at, self.vehicle, what)
    }

    fn with_contact(&self, step: WorkingStep) -> WorkingStep {
        let b = Quantity::length_m(self.lean.contact_m);
        step.with(("b", "between the wheels' contact points"), b, self.kind("wheel contact"))
    }

    fn with_height(&self, step: WorkingStep) -> WorkingStep {
        let from = Origin::Figure(Question::new("centre-height", Subject::Vehicle(self.vehicle)));
        let z = Quantity::length_m(self.lean.height_m);
        step.with(("z", "height of the gross centre above the rail"), z, from)
    }

    /// The working with the steps of the roll, where it is known.
    fn with_roll(&self, working: Working) -> Option<(Working, Option<WorkingValue>)> {
        if self.lean.roll.is_err() {
            return Some((working.note("As a rigid body: the roll on its springs is not entered."), None));
        }
        let steps = roll_steps(&self.at, self.vehicle)?;
        let s = steps.last().map(|step| step.result.clone());
        Some((steps.into_iter().fold(working, Working::step), s))
    }

    /// Sideways acceleration along the deck over g.
    fn side_step(&self) -> WorkingStep {
        let result = ("a", "sideways acceleration along the deck over g, outward positive");
        let route = |what: &str| Origin::entered(format!("{what} of the route"));
        let new = |formula: &str| WorkingStep::new(result, Quantity::number(self.side_g()), formula);
        let step = match self.case {
            CantCase::Standing { cant_m } => {
                new("-D / b").with(("D", "cant"), Quantity::small_length_m(cant_m), route("greatest cant"))
            }
            CantCase::Deficiency { deficiency_m } => {
                let missing = Quantity::small_length_m(deficiency_m);
                new("I / b").with(("I", "cant deficiency"), missing, route("greatest cant deficiency"))
            }
            CantCase::AtSpeed { speed_m_per_s, radius_m, cant_m, .. } => new("v^2 / (R * g) - D / b")
                .with(("v", "speed"), of(speed_m_per_s, QuantityKind::Speed), route("speed"))
                .with(("R", "radius"), Quantity::length_m(radius_m), route("curve"))
                .with(("D", "cant"), Quantity::small_length_m(cant_m), route("curve"))
                .with_g(),
        };
        self.with_contact(step)
    }

    /// How far the load of the worse support is beside the middle.
    fn offset_step(&self) -> Option<WorkingStep> {
        let loads = self.at.loads(self.vehicle)?;
        let ends = ["front", "rear"].into_iter().zip(&loads.supports);
        let sides = ends.flat_map(|(end, s)| [(end, "stiff", s.stiff), (end, "soft", s.soft)]);
        let bearing = sides.filter(|(_, _, side)| side.left_kg + side.right_kg > 0.0);
        let rows = bearing.map(|(end, body, side)| WorkingRow {
            name: format!("{end} support, {body} body"),
            values: vec![Quantity::mass(side.left_kg), Quantity::mass(side.right_kg)],
            figure: None,
        });
        let step = WorkingStep::new(
            ("y", "distance of the load's centre from the middle over the worse support"),
            Quantity::small_length_m(self.lean.offset_m),
            "largest(abs(Wr - Wl) / (Wl + Wr)) * b / 2",
        )
        .over(&[("Wl", "left wheel"), ("Wr", "right wheel")], rows.collect());
        Some(self.with_contact(step))
    }
}

fn kind_of(at: &At<'_>, vehicle: usize, what: &str) -> Origin {
    let place = at.figures.consist.vehicles.get(vehicle);
    let kind = place.and_then(|place| at.figures.plan.train.vehicle_types.get(place.vehicle_type));
    Origin::entered(match kind {
        Some(kind) => format!("{what}, type {}: {}", kind.name, kind.source.text),
        None => what.to_owned(),
    })
}

/// By how much the roll of a body on its springs multiplies the lever; none where it is not known.
pub(super) fn roll_steps(at: &At<'_>, vehicle: usize) -> Option<Vec<WorkingStep>> {
    let s = roll_of(at.figures, at.worked()?, vehicle).ok()?;
    let (loads, place) = (at.loads(vehicle)?, at.figures.consist.vehicles.get(vehicle)?);
    let kind = at.figures.plan.train.vehicle_types.get(place.vehicle_type)?;
    let springs = kind.springs?;
    let from = |what: &str| kind_of(at, vehicle, what);
    let springs_m = springs.spring_height_mm? / 1000.0;
    let (sprung_kg, tare_kg) = (springs.sprung_tare_kg?, loads.gross_kg - loads.payload_kg);
    let tare_m = kind.tare_cog_height_mm.unwrap_or_default() / 1000.0;
    let height_m = loads.centre_height_m.unwrap_or_default();
    let moment_kg_m = height_m * loads.gross_kg - tare_m * tare_kg - loads.payload_kg * springs_m
        + sprung_kg * (tare_m - springs_m).max(0.0);
    let tilting_nm = moment_kg_m * STANDARD_GRAVITY_M_S2;
    let tilting = WorkingStep::new(
        ("Mt", "sprung weight times its height above the springs"),
        Quantity::moment(tilting_nm),
        "(zg * G - zT * (G - P) - P * hs + ms * max(0, zT - hs)) * g",
    )
    .with(
        ("zg", "height of the gross centre above the rail; 0 where it is not known"),
        Quantity::length_m(height_m),
        Origin::Found("heights of tare and strings over the gross mass"),
    )
    .with(("G", "gross mass"), Quantity::mass(loads.gross_kg), figure_of("gross-mass", vehicle))
    .with(("P", "load"), Quantity::mass(loads.payload_kg), figure_of("payload", vehicle))
    .with(("zT", "height of the tare's centre"), Quantity::length_m(tare_m), from("tare's centre"))
    .with(("hs", "height of the springs' tops"), Quantity::length_m(springs_m), from("spring height"))
    .with(("ms", "sprung part of the tare"), Quantity::mass(sprung_kg), from("sprung tare"))
    .with_g();
    let result = ("s", "by how much the roll on the springs adds to the lever");
    let value = Quantity::number(s);
    let roll =
        if s.is_finite() {
            let rate = of(springs.roll_nm_per_rad, QuantityKind::AngularStiffness);
            WorkingStep::new(result, value, "max(0, Mt) / (2 * kr - Mt)")
                .with_value(tilting.result.clone())
                .with(("kr", "roll stiffness of each support"), rate, from("springs"))
        } else {
            let found = Origin::Found("the springs cannot hold the body upright");
            WorkingStep::new(result, value, "s0").with(("s0", "without bound"), value, found)
        };
    Some(vec![tilting, roll])
}

fn figure_of(name: &'static str, vehicle: usize) -> Origin {
    Origin::Figure(Question::new(name, Subject::Vehicle(vehicle)))
}
