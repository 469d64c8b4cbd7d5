//! Workings of what holds take: inertia, friction, impact, buckling of the pushed part.

use super::figure::{At, Depends, Figure, of};
use super::{Origin, Working, WorkingRow, WorkingStep};
use crate::checks::Subject;
use crate::model::{Accelerations, RailSection, Topic, TrainEnd};
use crate::statics::{Figures, Held, PlacedString, Pushed, StringHolding};
use crate::units::{Quantity, QuantityKind, STANDARD_GRAVITY_M_S2};
use std::f64::consts::PI;
use std::ops::Range;

/// The figures of holds.
pub(super) const FIGURES: &[Figure] = &[
    figure("hold-force", "Force at a hold", at_holds, force),
    figure("hold-impact", "Impact at a hold", at_holds, impact),
    figure("hold-buckling", "Compression of the part that is pushed toward the hold", parts, buckling),
];

const fn figure(
    name: &'static str,
    title: &'static str,
    subjects: fn(&Figures) -> Vec<Subject>,
    working: fn(&At<'_>, Subject) -> Option<Working>,
) -> Figure {
    Figure { name, title, depends: Depends::Plan, subjects, working }
}

const NEWTON: &str = "Newton's second law on the string; friction on racks by their coefficient.";
const WAVES: &str =
    "One-dimensional waves in a rod with free far ends (textbook: Kolsky, Stress Waves in Solids).";
const EULER: &str = "Euler's strut with hinged ends (textbook), pressed by the inertia of the rail farther out or by \
     the head of an impact's wave.";

/// The strings that are held once, where the plan asks for forces at holds.
fn held(figures: &Figures) -> impl Iterator<Item = (&PlacedString, &StringHolding, usize)> {
    let asked = figures.plan.route.asked.contains(&Topic::HoldForces);
    let holding = asked.then(|| figures.holding()).flatten();
    let strings = holding.into_iter().flat_map(|holding| figures.placed.iter().zip(&holding.strings));
    strings.filter_map(|(placed, holding)| match holding.held {
        Held::At(rack) => Some((placed, holding, rack)),
        Held::Nowhere | Held::Several => None,
    })
}

fn at_holds(figures: &Figures) -> Vec<Subject> {
    held(figures).map(|(placed, _, rack)| Subject::StringAtRack(placed.string, rack)).collect()
}

fn parts(figures: &Figures) -> Vec<Subject> {
    let pushed = held(figures).flat_map(|(placed, holding, _)| {
        let parts = holding.pushed.iter().flatten();
        parts.map(|pushed| Subject::StringEnd(placed.string, pushed.part))
    });
    pushed.collect()
}

/// A string that is held once in the accelerations of the route.
struct Holder<'f> {
    figures: &'f Figures,
    placed: &'f PlacedString,
    holding: &'f StringHolding,
    hold: usize,
    set: &'f Accelerations,
}

impl<'f> Holder<'f> {
    fn of(at: &At<'f>, string: usize) -> Option<Self> {
        let (placed, holding, hold) = held(at.figures).find(|(placed, ..)| placed.string == string)?;
        let set = at.figures.plan.route.accelerations.as_ref()?;
        Some(Self { figures: at.figures, placed, holding, hold, set })
    }

    fn set(&self) -> Origin {
        Origin::entered(format!("{}: {}", self.set.name, self.set.source.text))
    }

    fn section(&self) -> &'f RailSection {
        &self.figures.plan.sections[self.placed.section]
    }

    fn section_source(&self) -> Origin {
        let section = self.section();
        Origin::entered(format!("section {}: {}", section.name, section.source.text))
    }

    fn with_mass(&self, step: WorkingStep) -> WorkingStep {
        step.with(
            ("m", "mass of the string"),
            Quantity::small_mass(self.placed.mass_kg),
            Origin::entered("the order: stated, or length times mass per length"),
        )
    }

    fn with_acceleration(&self, step: WorkingStep) -> WorkingStep {
        step.with(
            ("a", "lengthwise acceleration in g"),
            Quantity::number(self.set.longitudinal_g),
            self.set(),
        )
        .with_g()
    }

    fn with_modulus(&self, step: WorkingStep) -> WorkingStep {
        step.with(
            ("E", "modulus of elasticity"),
            Quantity::stress(self.figures.modulus_pa(self.placed.string)),
            Origin::entered("steel of the string; 210 GPa without one"),
        )
    }

    fn length(&self) -> Quantity {
        Quantity::length(self.placed.rear - self.placed.front)
    }

    /// Friction on some racks of the string: coefficient times load, lightened by the vertical acceleration.
    fn friction_step(&self, racks: impl Iterator<Item = usize>, friction_n: f64) -> WorkingStep {
        friction_step(self.figures, self.placed, racks, friction_n).with(
            ("v", "vertical acceleration in g"),
            Quantity::number(self.set.vertical_g),
            self.set(),
        )
    }

    /// Impedance of the rail.
    fn impedance_step(&self, impedance_n_s_per_m: f64) -> WorkingStep {
        let result = ("Z", "impedance of the rail in N s/m: force for each m/s at the head of a wave");
        let step = WorkingStep::new(result, Quantity::number(impedance_n_s_per_m), "sqrt(E * S * m / L)");
        let step = self.with_modulus(step).with(
            ("S", "area of the section"),
            of(self.section().area_cm2 * 1.0e-4, QuantityKind::Area),
            self.section_source(),
        );
        self.with_mass(step).with(("L", "length of the string"), self.length(), Origin::entered("the order"))
    }

    fn with_change(&self, step: WorkingStep, change_m_per_s: f64) -> WorkingStep {
        step.with(("dv", "speed change of an impact"), of(change_m_per_s, QuantityKind::Speed), self.set())
    }
}

/// Friction on racks as a table; where no coefficient is entered the table has no rows.
pub(super) fn friction_step(
    figures: &Figures,
    placed: &PlacedString,
    racks: impl Iterator<Item = usize>,
    friction_n: f64,
) -> WorkingStep {
    let rows = racks.filter_map(|rack| {
        let kind = figures.plan.train.rack_types.get(figures.consist.racks.get(rack)?.rack_type)?;
        let kg = placed.carried_kg.get(rack.checked_sub(placed.racks.start)?)?;
        Some(WorkingRow {
            name: Subject::Rack(rack).place(figures),
            values: vec![Quantity::number(kind.friction?), Quantity::mass(*kg)],
            figure: None,
        })
    });
    WorkingStep::new(
        ("R", "friction on racks for which a coefficient is entered, lightened by the vertical acceleration"),
        Quantity::force(friction_n),
        "sum(u * F) * g * max(0, 1 - v)",
    )
    .with_g()
    .over(&[("u", "friction coefficient"), ("F", "what the rack carries of the string")], rows.collect())
}

fn force(at: &At<'_>, subject: Subject) -> Option<Working> {
    let Subject::StringAtRack(string, rack) = subject else { return None };
    let holder = Holder::of(at, string).filter(|holder| holder.hold == rack)?;
    let holding = holder.holding;
    let inertia = WorkingStep::new(
        ("N", "mass times lengthwise acceleration"),
        Quantity::force(holding.inertia_n),
        "m * a * g",
    );
    let inertia = holder.with_acceleration(holder.with_mass(inertia));
    let others = holder.placed.racks.clone().filter(|other| *other != rack);
    let friction = holder.friction_step(others, holding.friction_n);
    let force =
        WorkingStep::new(("P", "force at the hold"), Quantity::force(holding.force_n), "max(0, N - R)")
            .with_value(inertia.result.clone())
            .with_value(friction.result.clone());
    Some(at.start(subject, NEWTON).step(inertia).step(friction).step(force))
}

fn impact(at: &At<'_>, subject: Subject) -> Option<Working> {
    let Subject::StringAtRack(string, rack) = subject else { return None };
    let holder = Holder::of(at, string).filter(|holder| holder.hold == rack)?;
    let impact = holder.holding.impact?;
    let impedance = holder.impedance_step(impact.rod.impedance_n_s_per_m);
    let sides = impact.sides_m.iter().filter(|side_m| **side_m > 0.0).count();
    let bound = WorkingStep::new(
        ("P", "what no impact of this speed change exceeds"),
        Quantity::force(impact.bound_n),
        "n * Z * dv",
    )
    .with(("n", "sides of the hold with rail"), Quantity::count(sides), Origin::entered("hold and placement"))
    .with_value(impedance.result.clone());
    let bound = holder.with_change(bound, impact.change_m_per_s);
    Some(at.start(subject, WAVES).step(impedance).step(bound))
}

fn buckling(at: &At<'_>, subject: Subject) -> Option<Working> {
    let Subject::StringEnd(string, end) = subject else { return None };
    let holder = Holder::of(at, string)?;
    let pushed = holder.holding.pushed.iter().flatten().find(|pushed| pushed.part == end)?;
    let mut working = at.start(subject, EULER);
    if let Some(euler) = euler_step(&holder, pushed) {
        working = working.step(euler);
    }
    let (friction, inertia) = inertia_steps(&holder, pushed);
    let mut force = WorkingStep::new(
        ("P", "compression in the span nearest to buckling"),
        Quantity::force(pushed.compression_n),
        "N",
    )
    .with_value(inertia.result.clone());
    working = working.step(friction).step(inertia);
    if let Some(change_m_per_s) = holder.set.impact_m_per_s {
        let impact_n_s = holder.holding.impact.map(|impact| impact.rod.impedance_n_s_per_m)?;
        let impedance = holder.impedance_step(impact_n_s);
        force.formula = "max(N, Z * dv)".to_owned();
        force = holder.with_change(force.with_value(impedance.result.clone()), change_m_per_s);
        working = working.step(impedance);
    }
    let span =
        format!("The span behind {} is the worst of its part.", Subject::Rack(pushed.from).place(at.figures));
    Some(working.step(force).note(span))
}

/// The force at which the span buckles: what the compression is held against.
fn euler_step(holder: &Holder<'_>, pushed: &Pushed) -> Option<WorkingStep> {
    let iy_m4 = holder.section().iy_cm4? * 1.0e-8;
    let result = ("Pe", "force at which the span buckles sideways");
    let step = WorkingStep::new(result, Quantity::force(pushed.euler_n?), "pi^2 * E * Iy / l^2")
        .with(("pi", "circumference over diameter"), Quantity::number(PI), Origin::Constant("a definition"))
        .with(
            ("Iy", "second moment of area about the vertical axis"),
            of(iy_m4, QuantityKind::SecondMoment),
            holder.section_source(),
        )
        .with(
            ("l", "span between its two racks"),
            Quantity::length_m(pushed.span_m),
            Origin::entered("rack places"),
        );
    Some(holder.with_modulus(step))
}

/// What the rail farther out than the span presses with: friction out there, and inertia less friction.
fn inertia_steps(holder: &Holder<'_>, pushed: &Pushed) -> (WorkingStep, WorkingStep) {
    let (placed, racks) = (holder.placed, &holder.figures.consist.racks);
    let (outside, outer): (Quantity, Range<usize>) = match pushed.part {
        TrainEnd::Front => {
            (Quantity::length(racks[pushed.from + 1].x - placed.front), placed.racks.start..pushed.from + 1)
        }
        TrainEnd::Rear => {
            (Quantity::length(placed.rear - racks[pushed.from].x), pushed.from + 1..placed.racks.end)
        }
    };
    let lightened = (1.0 - holder.set.vertical_g).max(0.0);
    let carried =
        |rack: &usize| placed.carried_kg.get(rack - placed.racks.start).copied().unwrap_or_default();
    let rubbing_n: f64 = outer
        .clone()
        .filter_map(|rack| {
            let kind = holder.figures.plan.train.rack_types.get(racks[rack].rack_type)?;
            Some(kind.friction? * (carried(&rack) * STANDARD_GRAVITY_M_S2))
        })
        .sum();
    let friction = holder.friction_step(outer, rubbing_n * lightened);
    let n_per_m =
        placed.mass_kg / holder.length().value * (holder.set.longitudinal_g * STANDARD_GRAVITY_M_S2);
    let inertia = WorkingStep::new(
        ("N", "inertia of the rail farther out, less friction there"),
        Quantity::force((n_per_m * outside.value - friction.result.value.value).max(0.0)),
        "max(0, m / L * a * g * lo - R)",
    )
    .with(("L", "length of the string"), holder.length(), Origin::entered("the order"))
    .with(
        ("lo", "length of the rail from the span's inner rack to the end"),
        outside,
        Origin::entered("placement"),
    )
    .with_value(friction.result.clone());
    (friction, holder.with_acceleration(holder.with_mass(inertia)))
}
