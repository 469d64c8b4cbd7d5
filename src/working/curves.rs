//! Workings of curves: bending stress, swing of ends, least radius.

use super::figure::{At, Depends, Figure, of};
use super::{Origin, Working, WorkingRow, WorkingStep};
use crate::checks::Subject;
use crate::model::{Topic, TrainEnd};
use crate::statics::Figures;
use crate::statics::curves::{BentString, CurveFigures, Neighbours, StringClass, Touch, WorstPeak};
use crate::units::{Quantity, QuantityKind};

/// The figures of curves that no state changes.
pub(super) const FIGURES: &[Figure] = &[
    figure("curve-stress", "Bending stress in curves", strings, stress),
    figure("curve-overhang-swing", "Swing of an end toward the string beside it", ends, swing),
    figure("curve-least-radius", "Smallest radius of the route", vehicles, least_radius),
];

const fn figure(
    name: &'static str,
    title: &'static str,
    subjects: fn(&Figures) -> Vec<Subject>,
    working: fn(&At<'_>, Subject) -> Option<Working>,
) -> Figure {
    Figure { name, title, depends: Depends::Plan, subjects, working }
}

/// The theory of strings in curves.
pub(super) const SOURCE: &str = "Wagons as chords of the track; a string as a beam over the pockets whose sides it \
     touches (three-moment equations), lying where it bends least; friction left out.";

/// The curves, where the plan asks for them and names one.
pub(super) fn curves_asked(figures: &Figures) -> Option<&CurveFigures> {
    let route = &figures.plan.route;
    let named = !route.curves.is_empty() || route.s_curve.is_some();
    (named && route.asked.contains(&Topic::Curves)).then(|| figures.curves())
}

fn strings(figures: &Figures) -> Vec<Subject> {
    let Some(curves) = curves_asked(figures) else { return Vec::new() };
    let known = figures.placed.iter().filter(|placed| curves.class(placed.placement).is_some());
    known.map(|placed| Subject::String(placed.string)).collect()
}

fn ends(figures: &Figures) -> Vec<Subject> {
    let Some(curves) = curves_asked(figures) else { return Vec::new() };
    let end = |pair: &Neighbours| Subject::StringEnd(figures.placed[pair.placement].string, pair.end);
    let mut ends: Vec<Subject> = curves.neighbours.iter().map(end).collect();
    ends.sort_unstable();
    ends.dedup();
    ends
}

fn vehicles(figures: &Figures) -> Vec<Subject> {
    let asked = curves_asked(figures).is_some();
    (0..figures.consist.vehicles.len()).filter(|_| asked).map(Subject::Vehicle).collect()
}

/// What a reader calls a case, and where the train is on it.
pub(super) fn case_note(curves: &CurveFigures, (case, place): (usize, usize)) -> String {
    let Some(case) = curves.cases.get(case) else { return String::new() };
    let place_m = case.places_m.get(place).copied().unwrap_or_default();
    match case.places_m.len() {
        0 | 1 => format!("Worst {}.", case.case.title()),
        _ => {
            format!("Worst {}, its beginning at {place_m:.1} m behind the train's front.", case.case.title())
        }
    }
}

fn least_radius(at: &At<'_>, subject: Subject) -> Option<Working> {
    let route = &at.figures.plan.route;
    let curves = route.curves.iter().enumerate().map(|(at, on)| (format!("curve {}", at + 1), on.radius_m));
    let s_curve = route.s_curve.map(|on| ("reverse curve".to_owned(), on.radius_m));
    let rows: Vec<WorkingRow> = curves
        .chain(s_curve)
        .map(|(name, radius_m)| WorkingRow { name, values: vec![Quantity::length_m(radius_m)], figure: None })
        .collect();
    let least =
        rows.iter().flat_map(|row| &row.values).map(|value| value.value).fold(f64::INFINITY, f64::min);
    let step =
        WorkingStep::new(("Rk", "smallest radius of the route"), Quantity::length_m(least), "least(R)")
            .over(&[("R", "radius")], rows);
    Some(at.start(subject, "Radii as entered; no theory is needed.").step(step))
}

fn stress(at: &At<'_>, subject: Subject) -> Option<Working> {
    let Subject::String(string) = subject else { return None };
    let (curves, placed) = (curves_asked(at.figures)?, at.placed(string)?);
    let class = curves.class(placed.placement)?;
    let worst = curves.worst_peak(class)?;
    let section = &at.figures.plan.sections[placed.section];
    let modulus_m3 = section.foot_side_modulus_m3()?;
    let rack = Subject::Rack(worst.peak.rack).place(at.figures);
    let note = case_note(curves, (worst.case, worst.peak.place));
    let working = at.start(subject, SOURCE).note(note).note(format!("The moment is largest at {rack}."));
    let stiffness = stiffness_step(at.figures, string, &curves.classes[class])?;
    let moment = moment_step(at, (curves, class, worst), &stiffness)?;
    let stress = WorkingStep::new(
        ("f", "stress at the edge of the foot"),
        Quantity::stress(worst.peak.moment_nm / modulus_m3),
        "M / W",
    )
    .with_value(moment.result.clone())
    .with(
        ("W", "section modulus of the foot about the vertical axis"),
        of(modulus_m3, QuantityKind::SectionModulus),
        Origin::entered(format!("section {}: {}", section.name, section.source.text)),
    );
    Some(working.step(stiffness).step(moment).step(stress))
}

fn stiffness_step(figures: &Figures, string: usize, class: &StringClass) -> Option<WorkingStep> {
    let section = figures.plan.section(&figures.plan.order.get(string)?.section)?;
    let product = of(class.stiffness_n_m2, QuantityKind::BendingStiffness);
    let step = WorkingStep::new(("EI", "bending stiffness about the vertical axis"), product, "E * Iy")
        .with(
            ("E", "modulus of elasticity"),
            Quantity::stress(figures.modulus_pa(string)),
            Origin::entered("steel of the string; 210 GPa without one"),
        )
        .with(
            ("Iy", "second moment of area about the vertical axis"),
            of(section.iy_cm4? * 1.0e-8, QuantityKind::SecondMoment),
            Origin::entered(format!("section {}: {}", section.name, section.source.text)),
        );
    Some(step)
}

/// The moment at the worst rack by the three-moment equation over it and the touched pockets beside it.
fn moment_step(
    at: &At<'_>,
    (curves, class, worst): (&CurveFigures, usize, WorstPeak),
    stiffness: &WorkingStep,
) -> Option<WorkingStep> {
    let bent = curves.bent(at.figures, class, (worst.case, worst.peak.place))?;
    let pocket = worst.peak.rack.checked_sub(curves.classes[class].racks.start)?;
    let result = ("M", "moment there about the vertical axis");
    let moment = Quantity::moment(worst.peak.moment_nm);
    let Some(three) = touched_beside(&bent, pocket) else {
        // Fewer than three touched pockets: nothing bends it.
        return Some(WorkingStep::new(result, moment, "0"));
    };
    let formula = "abs(6 * EI * ((w2 - w1) / l2 - (w1 - w0) / l1) - l1 * M0 - l2 * M2) / (2 * (l1 + l2))";
    let [before, here, after] = three;
    let span = |from: usize, to: usize| Quantity::length_m(bent.pockets[to].x_m - bent.pockets[from].x_m);
    let mut step = WorkingStep::new(result, moment, formula)
        .with_value(stiffness.result.clone())
        .with(("l1", "distance to the touched pocket in front"), span(before, here), rack_places())
        .with(("l2", "distance to the touched pocket behind"), span(here, after), rack_places());
    let rack = |pocket: usize| {
        let rack = curves.classes[class].racks.start + pocket;
        Subject::Rack(rack).place(at.figures)
    };
    for (symbol, pocket) in [("w0", before), ("w1", here), ("w2", after)] {
        let meaning =
            format!("place of the string across at {}, {}", rack(pocket), touch_words(&bent, pocket));
        step = step.with((symbol, &meaning), Quantity::length_m(bent.places_m[pocket]), CHORD);
    }
    for (symbol, pocket) in [("M0", before), ("M2", after)] {
        let meaning = format!("moment at {}", rack(pocket));
        step = step.with((symbol, &meaning), Quantity::moment(bent.moments_nm[pocket]), SOLVED);
    }
    Some(step)
}

const CHORD: Origin = Origin::Found(
    "pocket on the chord of its vehicle over the track, with lane and side play, against a straight reference",
);
const SOLVED: Origin = Origin::Found("three-moment equations over all touched pockets");

fn rack_places() -> Origin {
    Origin::entered("rack places")
}

fn touch_words(bent: &BentString, pocket: usize) -> &'static str {
    match bent.touches[pocket] {
        Touch::Tight => "in a tight pocket",
        Touch::Right => "at the pocket's right side",
        Touch::Left => "at the pocket's left side",
        Touch::Free => "touching neither side",
    }
}

/// A touched pocket with the touched ones before and behind it.
fn touched_beside(bent: &BentString, pocket: usize) -> Option<[usize; 3]> {
    let touched = |at: &usize| bent.touches[*at] != Touch::Free;
    let before = (0..pocket).rev().find(touched)?;
    let after = (pocket + 1..bent.pockets.len()).find(touched)?;
    touched(&pocket).then_some([before, pocket, after])
}

fn swing(at: &At<'_>, subject: Subject) -> Option<Working> {
    let Subject::StringEnd(string, end) = subject else { return None };
    let curves = curves_asked(at.figures)?;
    let mirrored = curves.classes.iter().all(StringClass::runs_straight);
    let pairs = curves.neighbours.iter().enumerate().filter(|(_, pair)| {
        pair.end == end && at.figures.placed.get(pair.placement).is_some_and(|own| own.string == string)
    });
    let workings = pairs.filter_map(|(index, pair)| {
        let nearer = curves.nearest_approach(index, mirrored)?;
        swing_working(at, subject, (curves, pair), nearer)
    });
    at.matching(workings.collect())
}

/// The working of one end against one string beside it, where it comes nearest: case, side, and by how much.
fn swing_working(
    at: &At<'_>,
    subject: Subject,
    (curves, pair): (&CurveFigures, &Neighbours),
    (case, side, nearer_m): (usize, usize, f64),
) -> Option<Working> {
    let index = curves.neighbours.iter().position(|other| other == pair)?;
    let place = *curves.cases.get(case)?.approach_places.get(index)?.get(side)?;
    let (own, beside) = (at.figures.placed.get(pair.placement)?, at.figures.placed.get(pair.beside)?);
    let laid = |placement: usize| curves.bent(at.figures, curves.class(placement)?, (case, place));
    let (bent, other) = (laid(pair.placement)?, laid(pair.beside)?);
    let tip_m = if pair.end == TrainEnd::Front { own.front.m() } else { own.rear.m() };
    let tip = tip_step(&bent, pair.end, tip_m)?;
    let lanes_m = beside.y_m.first()? - own.y_m.first()?;
    let gap = "w2 - w1 + e";
    let formula = if side == 0 { format!("max(0, t - ({gap}))") } else { format!("max(0, {gap} - t)") };
    let name = Subject::String(beside.string).place(at.figures);
    let step = WorkingStep::new(
        ("d", &format!("how much nearer the end comes to {name}")),
        Quantity::small_length_m(nearer_m),
        formula,
    )
    .with_value(tip.result.clone())
    .with(
        ("w2", &format!("place of {name} across beside the tip, from its own first lane")),
        Quantity::length_m(other.at_m(tip_m)),
        SOLVED,
    )
    .with(
        ("e", "its first lane to the right of the end's own first lane"),
        Quantity::length_m(lanes_m),
        Origin::entered("lanes"),
    )
    .with(
        ("t", "how far it lies to the right of the end on straight track"),
        Quantity::length_m(pair.to_the_right_m),
        Origin::entered("lanes"),
    );
    let working = at.start(subject, SOURCE).note(case_note(curves, (case, place)));
    Some(working.step(tip).step(step))
}

/// Where the tip is: straight on beyond the last touched pocket.
fn tip_step(bent: &BentString, end: TrainEnd, tip_m: f64) -> Option<WorkingStep> {
    let (pocket, slope) = match end {
        TrainEnd::Front => (0, bent.end_slopes[0]),
        TrainEnd::Rear => (bent.pockets.len().checked_sub(1)?, bent.end_slopes[1]),
    };
    let (last_m, x_m) = (*bent.places_m.get(pocket)?, bent.pockets[pocket].x_m);
    let result = ("w1", "place of the tip across, from the string's first lane");
    let step = WorkingStep::new(result, Quantity::length_m(bent.at_m(tip_m)), "wl + k * c")
        .with(("wl", "place of the string at the last rack"), Quantity::length_m(last_m), SOLVED)
        .with(("k", "slope of the string there, per length rearward"), of(slope, QuantityKind::Angle), SOLVED)
        .with(
            ("c", "from the last rack to the tip, rearward positive"),
            Quantity::length_m(tip_m - x_m),
            Origin::entered("placement and rack places"),
        );
    Some(step)
}
