//! Workings of unloading: leads, stress, times.

use super::figure::{At, Depends, Figure, of};
use super::{Origin, Question, Working, WorkingRow, WorkingStep, WorkingValue};
use crate::checks::Subject;
use crate::model::{StepStrings, Topic};
use crate::statics::{Edge, EndCase, EndCondition, Figures, Peak, StepString};
use crate::units::{Quantity, QuantityKind, Style};

/// The figures of unloading.
pub(super) const FIGURES: &[Figure] = &[
    figure("lead-free-end", "Lead of a string with its end free on the last support", moved, free_end),
    figure("lead-held-level", "Lead of a string held level at the last support", moved, held_level),
    figure("lead-over-racks", "Lead of a string that runs over the racks", moved, over_racks),
    figure("unloading-stress", "Stress while unloading", moved, stress),
    figure("step-time", "Time of a step", steps, step_time),
    figure("unloading-time", "Time at a drop", drops, drop_time),
];

const fn figure(
    name: &'static str,
    title: &'static str,
    subjects: fn(&Figures) -> Vec<Subject>,
    working: fn(&At<'_>, Subject) -> Option<Working>,
) -> Figure {
    Figure { name, title, depends: Depends::Plan, subjects, working }
}

const LEAD_SOURCE: &str = "Straight bar from a level rigid seat to a support above it, no friction and no drawing \
     force (Roark's Formulas for Stress and Strain); sideways by three-moment equations, pockets without play.";

fn asked(figures: &Figures) -> bool {
    figures.plan.route.asked.contains(&Topic::Unloading)
}

/// Strings that a drop with a chute moves.
fn moved(figures: &Figures) -> Vec<Subject> {
    if !asked(figures) {
        return Vec::new();
    }
    let mut strings: Vec<usize> = figures.unloading().strings.iter().map(|moved| moved.string).collect();
    strings.sort_unstable();
    strings.dedup();
    strings.into_iter().map(Subject::String).collect()
}

fn drops(figures: &Figures) -> Vec<Subject> {
    let drops = figures.plan.drops.iter().enumerate().filter(|(_, drop)| !drop.steps.is_empty());
    drops.filter(|_| asked(figures)).map(|(index, _)| Subject::Drop(index)).collect()
}

fn steps(figures: &Figures) -> Vec<Subject> {
    let drops = figures.plan.drops.iter().enumerate().filter(|_| asked(figures));
    drops
        .flat_map(|(index, drop)| (0..drop.steps.len()).map(move |step| Subject::Step(index, step)))
        .collect()
}

fn free_end(at: &At<'_>, subject: Subject) -> Option<Working> {
    first_lead(at, subject, EndCondition::FreeEnd)
}

fn held_level(at: &At<'_>, subject: Subject) -> Option<Working> {
    first_lead(at, subject, EndCondition::HeldLevel)
}

fn over_racks(at: &At<'_>, subject: Subject) -> Option<Working> {
    first_lead(at, subject, EndCondition::OverRacks)
}

/// The lead of the string at the first drop that moves it.
fn first_lead(at: &At<'_>, subject: Subject, condition: EndCondition) -> Option<Working> {
    let Subject::String(string) = subject else { return None };
    let moved = at.figures.unloading().strings.iter().find(|moved| moved.string == string)?;
    let case = moved.case(condition)?;
    let mut working = at.start(subject, LEAD_SOURCE).note(place_note(at.figures, moved, case));
    for step in lead_steps(at.figures, moved, case) {
        working = working.step(step);
    }
    Some(working)
}

fn place_note(figures: &Figures, moved: &StepString, case: &EndCase) -> String {
    let behind = Quantity::length_m(case.behind_m).show(Style::default());
    let how = match case.condition {
        EndCondition::FreeEnd => "at last, with its end free on the last rack or chute roller".to_owned(),
        EndCondition::OverRacks => format!(
            "while it runs over the racks, lifting off some, at its worst with {behind} of it still behind the last \
             rack or chute roller"
        ),
        EndCondition::HeldLevel => "if it is held level at the last rack or chute roller".to_owned(),
    };
    format!("At {}, {how}.", Subject::Step(moved.drop, moved.step).place(figures))
}

/// Weight, stiffness, length, moment over the support, and the largest moment of the lead.
fn lead_steps(figures: &Figures, moved: &StepString, case: &EndCase) -> Vec<WorkingStep> {
    let lead = &case.lead;
    let stiffness = stiffness_step(figures, moved);
    let length = Quantity::length_m(lead.length_m);
    let length = match case.condition {
        EndCondition::FreeEnd => WorkingStep::new(LENGTH, length, "sqrt(sqrt(24 * EI * h / q))"),
        EndCondition::HeldLevel => WorkingStep::new(LENGTH, length, "sqrt(sqrt(72 * EI * h / q))"),
        EndCondition::OverRacks => WorkingStep::new(LENGTH, length, "L0").with(
            ("L0", "length"),
            length,
            Origin::Found("the slope of the racks' side and that of the lead are one over the last support"),
        ),
    };
    let length = match case.condition {
        EndCondition::OverRacks => length,
        _ => with_bar(length, figures, (moved, lead.height_m), &stiffness.result),
    };
    let support = with_bar(
        WorkingStep::new(
            ("Ms", "moment over the last support, sagging positive"),
            Quantity::moment(lead.support_moment_nm),
            "6 * EI * h / L^2 - q * L^2 / 4",
        ),
        figures,
        (moved, lead.height_m),
        &stiffness.result,
    )
    .with_value(length.result.clone());
    let seat = with_bar(
        WorkingStep::new(
            ("N", "force at the seat where the string comes to lie"),
            Quantity::force(lead.seat_n),
            "6 * EI * h / L^3 + q * L / 4",
        ),
        figures,
        (moved, lead.height_m),
        &stiffness.result,
    )
    .with_value(length.result.clone());
    let largest = WorkingStep::new(
        ("M", "largest moment, whichever way it bends"),
        Quantity::moment(lead.largest_moment_nm()),
        "max(abs(Ms), N * min(L, N / q) - q * min(L, N / q)^2 / 2)",
    )
    .with_value(support.result.clone())
    .with_value(seat.result.clone())
    .with_value(length.result.clone())
    .with(("q", "weight per length"), per_length(moved), weight_origin(moved));
    let mut steps = vec![stiffness, length, support, seat, largest];
    if let Some(racks) = &case.racks {
        let over = Quantity::moment(racks.largest_moment_nm());
        let largest = steps[4].result.clone();
        steps.push(
            WorkingStep::new(
                ("Mr", "largest moment, over the racks as well"),
                over,
                "max(M, largest(abs(Mi)), largest(Ma))",
            )
            .with_value(largest)
            .over(&SUPPORT_COLUMNS, support_rows(case)),
        );
    }
    steps
}

const LENGTH: (&str, &str) = ("L", "length of the lead, from the last support to where it lies");

/// The columns of the supports of the racks' side.
const SUPPORT_COLUMNS: [(&str, &str); 4] = [
    ("Mi", "moment over the support"),
    ("Ma", "largest moment within the span to the next one that carries"),
    ("R", "reaction"),
    ("xi", "place, toward the seat positive from the last deck rack"),
];

fn support_rows(case: &EndCase) -> Vec<WorkingRow> {
    let Some(racks) = &case.racks else { return Vec::new() };
    let within = racks.span_moments_nm();
    let carried = racks.supports.iter().filter(|support| support.carries).enumerate();
    let rows = carried.map(|(k, support)| WorkingRow {
        name: format!("support {} from the innermost", k + 1),
        values: vec![
            Quantity::moment(support.moment_nm),
            Quantity::moment(within.get(k).copied().unwrap_or_default()),
            Quantity::force(support.reaction_n),
            Quantity::length_m(support.place_m),
        ],
        figure: None,
    });
    rows.collect()
}

fn per_length(moved: &StepString) -> Quantity {
    of(moved.bar.weight_n_per_m, QuantityKind::ForcePerLength)
}

fn weight_origin(moved: &StepString) -> Origin {
    Origin::Figure(Question::new("string-weight", Subject::String(moved.string)))
}

fn stiffness_step(figures: &Figures, moved: &StepString) -> WorkingStep {
    let product = of(moved.bar.stiffness_n_m2, QuantityKind::BendingStiffness);
    let modulus_pa = figures.modulus_pa(moved.string);
    let section = section_source(figures, moved);
    WorkingStep::new(("EI", "bending stiffness"), product, "E * I")
        .with(
            ("E", "modulus of elasticity"),
            Quantity::stress(modulus_pa),
            Origin::entered("steel of the string; 210 GPa without one"),
        )
        .with(
            ("I", "second moment of area about the horizontal axis"),
            of(moved.bar.stiffness_n_m2 / modulus_pa, QuantityKind::SecondMoment),
            Origin::entered(section),
        )
}

fn section_source(figures: &Figures, moved: &StepString) -> String {
    let section =
        figures.plan.order.get(moved.string).and_then(|string| figures.plan.section(&string.section));
    section.map_or_else(|| "its section".to_owned(), |s| format!("section {}: {}", s.name, s.source.text))
}

fn with_bar(
    step: WorkingStep,
    figures: &Figures,
    (moved, height_m): (&StepString, f64),
    stiffness: &WorkingValue,
) -> WorkingStep {
    let drop = Subject::Drop(moved.drop).place(figures);
    step.with_value(stiffness.clone())
        .with(("q", "weight per length"), per_length(moved), weight_origin(moved))
        .with(
            ("h", "height of the last support above the seat"),
            Quantity::length_m(height_m),
            Origin::entered(format!("chute of {drop}")),
        )
}

fn stress(at: &At<'_>, subject: Subject) -> Option<Working> {
    let Subject::String(string) = subject else { return None };
    let strings = at.figures.unloading().strings.iter().filter(|moved| moved.string == string);
    let mut workings: Vec<Working> = strings.filter_map(|moved| stress_working(at, subject, moved)).collect();
    // The worst drop first: what counts where no finding says which is meant.
    workings.sort_by(|a, b| {
        let pa = |working: &Working| working.result().map_or(0.0, |result| result.value.value);
        pa(b).total_cmp(&pa(a))
    });
    at.matching(workings)
}

fn stress_working(at: &At<'_>, subject: Subject, moved: &StepString) -> Option<Working> {
    let (case, peak) = moved.worst()?;
    let mut working = at
        .start(subject, LEAD_SOURCE)
        .note(place_note(at.figures, moved, case))
        .note("Both bendings are taken at the same place; their peaks lie apart and are never added.");
    let steps = lead_steps(at.figures, moved, case);
    let (length, seat) = (steps.get(1)?.result.clone(), steps.get(3)?.result.clone());
    let beyond = peak.from_seat_m > case.lead.length_m;
    // Behind the last support the moment is that of the racks' side, not of the lead.
    let vertical = moment_step(moved, &peak, (!beyond).then_some(&seat));
    let mut stress = WorkingStep::new(
        ("f", "stress at the edge of the section"),
        Quantity::stress(peak.stress_pa),
        if case.sideways.is_some() { "abs(Mx) / W + abs(My) / Wy" } else { "abs(Mx) / W" },
    )
    .with_value(vertical.result.clone());
    let moduli = moved.moduli.as_ref().ok()?;
    let (w, wy, edge) = match peak.edge {
        Edge::Head => (moduli.head_m3, moduli.head_side_m3, "head"),
        Edge::Foot => (moduli.foot_m3, moduli.foot_side_m3, "foot"),
    };
    let modulus = |value: f64| of(value, QuantityKind::SectionModulus);
    let from = Origin::entered(section_source(at.figures, moved));
    stress = stress.with(("W", &format!("section modulus at the {edge}")), modulus(w), from.clone());
    for step in steps {
        working = working.step(step);
    }
    working = working.step(vertical);
    if let (Some(sideways), Some(wy)) = (&case.sideways, wy) {
        let side = side_step(moved, sideways, &peak, &length);
        stress = stress.with_value(side.result.clone()).with(
            ("Wy", &format!("section modulus at the {edge}'s edge, sideways")),
            modulus(wy),
            from,
        );
        working = working.step(side);
    }
    Some(working.step(stress))
}

/// The moment about the horizontal axis where the stress is largest.
fn moment_step(moved: &StepString, peak: &Peak, seat: Option<&WorkingValue>) -> WorkingStep {
    let moment = Quantity::moment(peak.moment_nm);
    let result = ("Mx", "moment there about the horizontal axis");
    match seat {
        Some(seat) => WorkingStep::new(result, moment, "N * s - q * s^2 / 2")
            .with_value(seat.clone())
            .with(("q", "weight per length"), per_length(moved), weight_origin(moved))
            .with(
                ("s", "distance of the place from where the string comes to lie"),
                Quantity::length_m(peak.from_seat_m),
                Origin::Found("the stress is largest there"),
            ),
        None => WorkingStep::new(result, moment, "M0").with(
            ("M0", "moment behind the last support"),
            moment,
            Origin::Found("three-moment equations over the racks; the stress is largest there"),
        ),
    }
}

/// The moment about the vertical axis at the same place: linear between the places where it is known.
fn side_step(
    moved: &StepString,
    sideways: &crate::statics::Sideways,
    peak: &Peak,
    length: &WorkingValue,
) -> WorkingStep {
    let result = ("My", "moment there about the vertical axis");
    let moment = Quantity::moment(peak.side_moment_nm);
    let place = Origin::Found("the stress is largest there");
    let ends = sideways.moments.windows(2).find(|pair| peak.from_seat_m <= pair[1].0);
    let Some([(x0, m0), (x1, m1)]) = ends.and_then(|pair| pair.first_chunk()) else {
        return WorkingStep::new(result, moment, "0");
    };
    let offset = Quantity::length_m(moved.seat_offset_m.unwrap_or_default());
    if sideways.moments.len() == 2 && *m1 == 0.0 {
        return WorkingStep::new(result, moment, "3 * EIy * d / L^2 * (1 - s / L)")
            .with(
                ("EIy", "bending stiffness about the vertical axis"),
                of(sideways.stiffness_n_m2, QuantityKind::BendingStiffness),
                Origin::entered("steel and section of the string"),
            )
            .with(("d", "from the lane sideways to the seat"), offset, Origin::entered("the drop"))
            .with_value(length.clone())
            .with(("s", "distance of the place"), Quantity::length_m(peak.from_seat_m), place);
    }
    let known = Origin::Found("three-moment equations about the vertical axis");
    WorkingStep::new(result, moment, "m0 + (m1 - m0) * (s - x0) / (x1 - x0)")
        .with(("m0", "sideways moment nearer to the seat"), Quantity::moment(*m0), known.clone())
        .with(("m1", "sideways moment further from it"), Quantity::moment(*m1), known)
        .with(("x0", "place of m0 from the seat"), Quantity::length_m(*x0), Origin::Found("seat or guide"))
        .with(("x1", "place of m1 from the seat"), Quantity::length_m(*x1), Origin::Found("the next guide"))
        .with(("s", "distance of the place"), Quantity::length_m(peak.from_seat_m), place)
}

const TIME_SOURCE: &str = "Length over speed, and handling, as entered.";

fn step_time(at: &At<'_>, subject: Subject) -> Option<Working> {
    let Subject::Step(drop, step) = subject else { return None };
    let time = at.figures.unloading().times.get(drop)?.steps.get(step)?;
    let strings = &at.figures.plan.drops.get(drop)?.steps.get(step)?.strings;
    let rows = strings.marks().filter_map(|mark| {
        let string = at.figures.plan.order.iter().position(|string| string.mark == *mark)?;
        Some(WorkingRow {
            name: Subject::String(string).place(at.figures),
            values: vec![Quantity::length(at.figures.plan.order[string].length)],
            figure: None,
        })
    });
    let together = matches!(strings, StepStrings::Pair { together: true, .. });
    let formula = if together { "largest(l)" } else { "sum(l)" };
    let fed = WorkingStep::new(("L", "length fed"), Quantity::length_m(time.fed_m), formula)
        .over(&[("l", "length of the string")], rows.collect());
    let total = WorkingStep::new(("t", "time of the step"), Quantity::time_s(time.total_s?), "L / v + t0")
        .with_value(fed.result.clone())
        .with(
            ("v", "feeding speed"),
            of(time.speed_m_per_s?, QuantityKind::Speed),
            Origin::entered("feeding speeds of the route"),
        )
        .with(
            ("t0", "handling"),
            Quantity::time_s(time.handling_s?),
            Origin::entered("handling time of the drop"),
        );
    let mut working = at.start(subject, TIME_SOURCE).step(fed).step(total);
    if together {
        working = working.note("The pair goes together, so that the longer string is the length fed.");
    }
    Some(working)
}

fn drop_time(at: &At<'_>, subject: Subject) -> Option<Working> {
    let Subject::Drop(drop) = subject else { return None };
    let times = at.figures.unloading().times.get(drop)?;
    let rows = times.steps.iter().enumerate().filter_map(|(step, time)| {
        let subject = Subject::Step(drop, step);
        Some(WorkingRow {
            name: subject.place(at.figures),
            values: vec![Quantity::time_s(time.total_s?)],
            figure: Some(Question::new("step-time", subject)),
        })
    });
    let total = WorkingStep::new(("t", "time of all steps"), Quantity::time_s(times.total_s?), "sum(t1)")
        .over(&[("t1", "time of the step")], rows.collect());
    Some(at.start(subject, TIME_SOURCE).step(total))
}
