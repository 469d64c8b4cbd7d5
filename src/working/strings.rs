//! Workings of strings on their racks: reactions, moments, sag, overhangs, tips.

use super::figure::{At, BEAM_SOURCE, Depends, Figure, of};
use super::{Origin, Question, Working, WorkingStep};
use crate::checks::Subject;
use crate::model::{MassEntry, TrainEnd};
use crate::statics::{BeamFigures, Figures, PlacedString, SpanFigures};
use crate::units::{Quantity, QuantityKind, STANDARD_GRAVITY_M_S2};

/// The figures of strings.
pub(super) const FIGURES: &[Figure] = &[
    figure("string-weight", "Weight per length of a string", strings, weight),
    figure("reaction", "Load of a string on a rack", at_racks, reaction),
    figure("bending-moment", "Bending moment over a rack", at_racks, support_moment),
    figure("span-moment", "Largest bending moment of a span", at_spans, span_moment),
    figure("string-sag", "Sag between racks", at_spans, sag),
    figure("largest-span", "Span between racks that carry", at_spans, span_length),
    figure("greatest-overhang", "Overhang beyond the last rack that carries", at_ends, overhang),
    figure("tip", "Deflection of a tip, up positive", at_ends, tip),
];

const fn figure(
    name: &'static str,
    title: &'static str,
    subjects: fn(&Figures) -> Vec<Subject>,
    working: fn(&At<'_>, Subject) -> Option<Working>,
) -> Figure {
    Figure { name, title, depends: Depends::Plan, subjects, working }
}

/// A string on its racks, solved.
struct Laid<'f> {
    figures: &'f Figures,
    placed: &'f PlacedString,
    beam: &'f BeamFigures,
    /// Supports that carry, from the front.
    on: Vec<usize>,
}

impl<'f> Laid<'f> {
    fn of(at: &At<'f>, string: usize) -> Option<Self> {
        let placed = at.placed(string)?;
        let beam = placed.beam.as_ref().ok()?;
        let on = (0..beam.carries.len()).filter(|support| beam.carries[*support]).collect();
        Some(Self { figures: at.figures, placed, beam, on })
    }

    fn x_m(&self, support: usize) -> f64 {
        self.figures.consist.racks[self.placed.racks.start + support].x.m()
    }

    /// Where `support` stands among those that carry.
    fn order(&self, support: usize) -> Option<usize> {
        self.on.iter().position(|on| *on == support)
    }

    fn rack(&self, support: usize) -> Subject {
        Subject::StringAtRack(self.placed.string, self.placed.racks.start + support)
    }

    fn weight_n_per_m(&self) -> f64 {
        self.placed.mass_kg * STANDARD_GRAVITY_M_S2 / (self.placed.rear - self.placed.front).m()
    }

    fn stiffness_n_m2(&self) -> f64 {
        self.modulus_pa() * self.figures.plan.sections[self.placed.section].ix_cm4 * 1.0e-8
    }

    fn modulus_pa(&self) -> f64 {
        self.figures.modulus_pa(self.placed.string)
    }

    fn with_q(&self, step: WorkingStep) -> WorkingStep {
        let q = of(self.weight_n_per_m(), QuantityKind::ForcePerLength);
        let asked = Question::new("string-weight", Subject::String(self.placed.string));
        step.with(("q", "weight per length of the string"), q, Origin::Figure(asked))
    }

    fn with_moment(&self, step: WorkingStep, symbol: &str, support: usize) -> WorkingStep {
        let meaning = format!("bending moment over {}", rack_name(self, support));
        let asked = Question::new("bending-moment", self.rack(support));
        let moment = Quantity::moment(self.beam.moments_nm[support]);
        step.with((symbol, &meaning), moment, Origin::Figure(asked))
    }

    fn with_span(&self, step: WorkingStep, symbol: &str, (from, to): (usize, usize)) -> WorkingStep {
        let meaning = format!("from {} to {}", rack_name(self, from), rack_name(self, to));
        let length_m = Quantity::length_m(self.x_m(to) - self.x_m(from));
        step.with((symbol, &meaning), length_m, Origin::entered("places of the racks"))
    }

    fn with_overhang(&self, step: WorkingStep, end: TrainEnd) -> WorkingStep {
        let (word, length_m) = match end {
            TrainEnd::Front => ("front", self.beam.front_overhang_m),
            TrainEnd::Rear => ("rear", self.beam.rear_overhang_m),
        };
        let asked = Question::new("greatest-overhang", Subject::StringEnd(self.placed.string, end));
        let meaning = format!("overhang at the {word} end");
        step.with(("c", &meaning), Quantity::length_m(length_m), Origin::Figure(asked))
    }

    fn span_from(&self, support: usize) -> Option<&'f SpanFigures> {
        self.beam.spans.iter().find(|span| span.from == support)
    }
}

fn rack_name(laid: &Laid<'_>, support: usize) -> String {
    Subject::Rack(laid.placed.racks.start + support).place(laid.figures)
}

fn strings(figures: &Figures) -> Vec<Subject> {
    figures.placed.iter().map(|placed| Subject::String(placed.string)).collect()
}

fn at_racks(figures: &Figures) -> Vec<Subject> {
    let lying = figures.placed.iter().filter(|placed| placed.beam.is_ok());
    lying
        .flat_map(|placed| placed.racks.clone().map(|rack| Subject::StringAtRack(placed.string, rack)))
        .collect()
}

fn at_spans(figures: &Figures) -> Vec<Subject> {
    let lying = figures.placed.iter().filter_map(|placed| Some((placed, placed.beam.as_ref().ok()?)));
    lying
        .flat_map(|(placed, beam)| {
            let from = beam.spans.iter().map(|span| placed.racks.start + span.from);
            from.map(|rack| Subject::StringAtRack(placed.string, rack))
        })
        .collect()
}

fn at_ends(figures: &Figures) -> Vec<Subject> {
    let lying = figures.placed.iter().filter(|placed| placed.beam.is_ok());
    let ends = [TrainEnd::Front, TrainEnd::Rear];
    lying.flat_map(|placed| ends.map(|end| Subject::StringEnd(placed.string, end))).collect()
}

/// String and support of a [`Subject::StringAtRack`] that the string crosses.
fn laid_at<'f>(at: &At<'f>, subject: Subject) -> Option<(Laid<'f>, usize)> {
    let Subject::StringAtRack(string, rack) = subject else { return None };
    let laid = Laid::of(at, string)?;
    let support = rack.checked_sub(laid.placed.racks.start)?;
    (support < laid.beam.carries.len()).then_some((laid, support))
}

fn weight(at: &At<'_>, subject: Subject) -> Option<Working> {
    let Subject::String(string) = subject else { return None };
    let (ordered, placed) = (at.figures.plan.order.get(string)?, at.placed(string)?);
    let section = &at.figures.plan.sections[placed.section];
    let length = Quantity::length(ordered.length);
    let (formula, mass, mass_from) = match ordered.mass {
        MassEntry::Computed => (
            "m * g",
            (("m", "mass per length of the section"), of(section.mass_kg_per_m, QuantityKind::MassPerLength)),
            Origin::entered(format!("section {}: {}", section.name, section.source.text)),
        ),
        MassEntry::Stated { kg, .. } => (
            "M * g / L",
            (("M", "stated mass of the string"), Quantity::mass(kg)),
            Origin::entered("stated in the order"),
        ),
    };
    let result =
        of(placed.mass_kg * STANDARD_GRAVITY_M_S2 / ordered.length.m(), QuantityKind::ForcePerLength);
    let mut step = WorkingStep::new(("q", "weight per length"), result, formula)
        .with(mass.0, mass.1, mass_from)
        .with_g();
    if formula.contains('L') {
        step = step.with(("L", "length of the string"), length, Origin::entered("the order"));
    }
    Some(at.start(subject, "Weight is mass times free fall, spread evenly along the string.").step(step))
}

/// Where the value of free fall comes from.
fn reaction(at: &At<'_>, subject: Subject) -> Option<Working> {
    let (laid, support) = laid_at(at, subject)?;
    let force = Quantity::force(laid.beam.reactions_n[support]);
    let working = at.start(subject, BEAM_SOURCE);
    let Some(k) = laid.order(support) else {
        let step = WorkingStep::new(("R", "reaction where the string lifts off"), force, "0");
        return Some(working.step(step).note("A rack cannot pull: the string lifts off here."));
    };
    let result = ("R", "reaction of the rack");
    let on = &laid.on;
    let last = on.len() - 1;
    let step = if k == 0 || k == last {
        let (inner, end, l) = match k {
            0 => (on[1], TrainEnd::Front, (support, on[1])),
            _ => (on[last - 1], TrainEnd::Rear, (on[last - 1], support)),
        };
        let step = WorkingStep::new(result, force, "q * c + q * l / 2 + (M2 - M1) / l");
        let step = laid.with_span(laid.with_overhang(laid.with_q(step), end), "l", l);
        laid.with_moment(laid.with_moment(step, "M1", support), "M2", inner)
    } else {
        let (before, behind) = (on[k - 1], on[k + 1]);
        let formula = "q * (l1 + l2) / 2 + (M1 - M2) / l1 + (M3 - M2) / l2";
        let step = laid.with_q(WorkingStep::new(result, force, formula));
        let step = laid.with_span(laid.with_span(step, "l1", (before, support)), "l2", (support, behind));
        let step = laid.with_moment(laid.with_moment(step, "M1", before), "M2", support);
        laid.with_moment(step, "M3", behind)
    };
    let carried = WorkingStep::new(
        ("F", "mass that the rack carries"),
        Quantity::mass(laid.placed.carried_kg[support]),
        "R / g",
    )
    .with(result, force, Origin::Here)
    .with_g();
    Some(working.step(step).step(carried))
}

fn support_moment(at: &At<'_>, subject: Subject) -> Option<Working> {
    let (laid, support) = laid_at(at, subject)?;
    let moment = Quantity::moment(laid.beam.moments_nm[support]);
    let result = ("M", "bending moment, sagging positive");
    let working = at.start(subject, BEAM_SOURCE);
    let on = &laid.on;
    let (first, last) = (*on.first()?, *on.last()?);
    let Some(k) = laid.order(support).filter(|k| *k > 0 && on[*k] != last) else {
        if support <= first || support >= last {
            return Some(working.step(overhang_moment(&laid, support, moment)));
        }
        return Some(lifted_moment(&laid, support, working));
    };
    let formula = "-(q * (l1^3 + l2^3) / 4 + M1 * l1 + M3 * l2) / (2 * (l1 + l2))";
    let (before, behind) = (on[k - 1], on[k + 1]);
    let step = laid.with_q(WorkingStep::new(result, moment, formula));
    let step = laid.with_span(laid.with_span(step, "l1", (before, support)), "l2", (support, behind));
    let step = laid.with_moment(laid.with_moment(step, "M1", before), "M3", behind);
    Some(working.step(step).note(
        "The moments over all racks follow from such equations together; here that of this rack is put in terms of \
         its neighbours.",
    ))
}

/// The moment at a support from which the string hangs free to its tip.
fn overhang_moment(laid: &Laid<'_>, support: usize, moment: Quantity) -> WorkingStep {
    let (front, rear) = (laid.placed.front, laid.placed.rear);
    let beyond_m = match laid.on.first() {
        Some(first) if support <= *first => laid.x_m(support) - front.m(),
        _ => rear.m() - laid.x_m(support),
    };
    let from = Origin::entered("place of the rack, front end and length of the string");
    laid.with_q(WorkingStep::new(("M", "bending moment, sagging positive"), moment, "-q * c^2 / 2")).with(
        ("c", "free length beyond the rack"),
        Quantity::length_m(beyond_m),
        from,
    )
}

/// The moment at a rack that the string lifts off, between two that carry.
fn lifted_moment(laid: &Laid<'_>, support: usize, working: Working) -> Working {
    let k = laid.on.partition_point(|on| *on < support);
    let (before, behind) = (laid.on[k - 1], laid.on[k]);
    let (shear, step) = shear(laid, (before, behind));
    let formula = "M1 + V * s - q * s^2 / 2";
    let moment = Quantity::moment(laid.beam.moments_nm[support]);
    let at_rack = laid
        .with_q(WorkingStep::new(("M", "bending moment, sagging positive"), moment, formula))
        .with_value(shear);
    let at_rack = laid.with_span(laid.with_moment(at_rack, "M1", before), "s", (before, support));
    working.step(step).step(at_rack).note("The string lifts off this rack; the moment is the beam's there.")
}

/// The shear behind the front support of a span.
fn shear(laid: &Laid<'_>, (from, to): (usize, usize)) -> (super::WorkingValue, WorkingStep) {
    let l = laid.x_m(to) - laid.x_m(from);
    let moments = &laid.beam.moments_nm;
    let shear_n = laid.weight_n_per_m() * l / 2.0 + (moments[to] - moments[from]) / l;
    let result = ("V", "shear just behind the rack in front");
    let step = WorkingStep::new(result, Quantity::force(shear_n), "q * l / 2 + (M2 - M1) / l");
    let step = laid.with_span(laid.with_q(step), "l", (from, to));
    let step = laid.with_moment(laid.with_moment(step, "M1", from), "M2", to);
    (step.result.clone(), step)
}

fn span_moment(at: &At<'_>, subject: Subject) -> Option<Working> {
    let (laid, support) = laid_at(at, subject)?;
    let span = laid.span_from(support)?;
    let (shear, first) = shear(&laid, (span.from, span.to));
    let l = laid.x_m(span.to) - laid.x_m(span.from);
    let peak_m = (shear.value.value / laid.weight_n_per_m()).clamp(0.0, l);
    let place = laid
        .with_q(WorkingStep::new(
            ("s", "place of the largest moment behind the rack in front"),
            Quantity::length_m(peak_m),
            "max(0, min(l, V / q))",
        ))
        .with_value(shear.clone());
    let place = laid.with_span(place, "l", (span.from, span.to));
    let moment = Quantity::moment(span.largest_moment_nm);
    let last = laid
        .with_q(WorkingStep::new(
            ("M", "largest moment, sagging positive"),
            moment,
            "M1 + V * s - q * s^2 / 2",
        ))
        .with_value(shear)
        .with_value(place.result.clone());
    let last = laid.with_moment(last, "M1", span.from);
    Some(at.start(subject, BEAM_SOURCE).step(first).step(place).step(last))
}

fn stiffness(laid: &Laid<'_>) -> WorkingStep {
    let section = &laid.figures.plan.sections[laid.placed.section];
    let steel = laid.figures.plan.order[laid.placed.string].steel.as_ref();
    let modulus_from = match steel {
        Some(steel) => Origin::entered(format!("steel {steel}")),
        None => Origin::Constant("210 GPa, where no steel is entered"),
    };
    let product = of(laid.stiffness_n_m2(), QuantityKind::BendingStiffness);
    WorkingStep::new(("EI", "bending stiffness"), product, "E * I")
        .with(("E", "modulus of elasticity"), Quantity::stress(laid.modulus_pa()), modulus_from)
        .with(
            ("I", "second moment of area about the horizontal axis"),
            of(section.ix_cm4 * 1.0e-8, QuantityKind::SecondMoment),
            Origin::entered(format!("section {}: {}", section.name, section.source.text)),
        )
}

fn sag(at: &At<'_>, subject: Subject) -> Option<Working> {
    let (laid, support) = laid_at(at, subject)?;
    let span = laid.span_from(support)?;
    let formula = "max(0, s * (l - s) * ((M1 * (2 * l - s) + M2 * (l + s)) / (6 * l) \
                   + q * (l^2 + l * s - s^2) / 24) / EI)";
    let (stiffness, place) = (stiffness(&laid), Quantity::length_m(span.sag_at_m));
    let sag = WorkingStep::new(("w", "largest sag"), Quantity::small_length_m(span.sag_m), formula)
        .with_value(stiffness.result.clone())
        .with(
            ("s", "where it hangs lowest, behind the rack in front"),
            place,
            Origin::Found("the slope is zero there"),
        );
    let sag = laid.with_span(laid.with_q(sag), "l", (span.from, span.to));
    let sag = laid.with_moment(laid.with_moment(sag, "M1", span.from), "M2", span.to);
    Some(at.start(subject, BEAM_SOURCE).step(stiffness).step(sag))
}

fn span_length(at: &At<'_>, subject: Subject) -> Option<Working> {
    let (laid, support) = laid_at(at, subject)?;
    let span = laid.span_from(support)?;
    let place = |support: usize| Quantity::length_m(laid.x_m(support));
    let step = WorkingStep::new(("l", "span"), Quantity::length_m(span.length_m), "x2 - x1")
        .with(("x1", &format!("place of {}", rack_name(&laid, span.from))), place(span.from), racks())
        .with(("x2", &format!("place of {}", rack_name(&laid, span.to))), place(span.to), racks());
    Some(at.start(subject, "Distance of neighbouring racks that carry; level rigid model.").step(step))
}

fn racks() -> Origin {
    Origin::entered("lengths of the vehicles and places of their racks")
}

fn overhang(at: &At<'_>, subject: Subject) -> Option<Working> {
    let Subject::StringEnd(string, end) = subject else { return None };
    let laid = Laid::of(at, string)?;
    let (support, tip, length_m, formula) = match end {
        TrainEnd::Front => (*laid.on.first()?, laid.placed.front, laid.beam.front_overhang_m, "x - xe"),
        TrainEnd::Rear => (*laid.on.last()?, laid.placed.rear, laid.beam.rear_overhang_m, "xe - x"),
    };
    let name = format!("place of {}, the last that carries", rack_name(&laid, support));
    let step = WorkingStep::new(("c", "overhang"), Quantity::length_m(length_m), formula)
        .with(("x", &name), Quantity::length_m(laid.x_m(support)), racks())
        .with(("xe", "place of the end"), Quantity::length(tip), Origin::entered("the placement"));
    Some(
        at.start(subject, "Distance from the last rack that carries to the end; level rigid model.")
            .step(step),
    )
}

fn tip(at: &At<'_>, subject: Subject) -> Option<Working> {
    let Subject::StringEnd(string, end) = subject else { return None };
    let laid = Laid::of(at, string)?;
    let last = laid.on.len().checked_sub(2)?;
    let (near, far, tip_m) = match end {
        TrainEnd::Front => (laid.on[0], laid.on[1], laid.beam.front_tip_m),
        TrainEnd::Rear => (laid.on[last + 1], laid.on[last], laid.beam.rear_tip_m),
    };
    let stiffness = stiffness(&laid);
    let (l, q) = ((laid.x_m(far) - laid.x_m(near)).abs(), laid.weight_n_per_m());
    let moments = &laid.beam.moments_nm;
    let rise_nm2 = moments[near] * l / 3.0 + moments[far] * l / 6.0 + q * l * l * l / 24.0;
    let slope = of(rise_nm2 / laid.stiffness_n_m2(), QuantityKind::Angle);
    let rise = WorkingStep::new(
        ("t", "slope at the last rack, rising toward the tip positive"),
        slope,
        "(M1 * l / 3 + M2 * l / 6 + q * l^3 / 24) / EI",
    )
    .with_value(stiffness.result.clone());
    let rise = laid.with_span(laid.with_q(rise), "l", (near.min(far), near.max(far)));
    let rise = laid.with_moment(laid.with_moment(rise, "M1", near), "M2", far);
    let deflection = WorkingStep::new(
        ("w", "deflection of the tip, up positive"),
        Quantity::small_length_m(tip_m),
        "t * c - q * c^4 / (8 * EI)",
    )
    .with_value(rise.result.clone())
    .with_value(stiffness.result.clone());
    let deflection = laid.with_overhang(laid.with_q(deflection), end);
    Some(at.start(subject, BEAM_SOURCE).step(stiffness).step(rise).step(deflection))
}
