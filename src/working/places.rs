//! Workings of comparisons of places, sizes and counts: overhangs past racks, clearances, gaps, fits, masses.

use super::figure::{At, Depends, Figure};
use super::{Origin, Question, Working, WorkingRow, WorkingStep};
use crate::checks::{Subject, heights_over_idlers, last_racks, nearest_behind, nearest_in_front};
use crate::model::{MassEntry, TrainEnd};
use crate::statics::{Figures, PlacedString};
use crate::units::{Quantity, QuantityKind, Style};

/// The figures of places, sizes and counts.
pub(super) const FIGURES: &[Figure] = &[
    figure("string-support", "Racks under a string", strings, rack_count),
    figure("least-overhang", "Overhang past the last rack", ends, least_overhang),
    figure("end-clearance", "Distance of an end to what is beyond it", ends, end_clearance),
    figure("idler-clearance", "Clearance over an idler", none, idler_clearance),
    figure("pocket-shared", "Gap between two strings in one pocket", none, gap),
    figure("pocket-fit", "Size of a section in its pocket", none, fit),
    figure("string-mass", "Difference of the stated from the computed mass", stated, mass_difference),
];

const fn figure(
    name: &'static str,
    title: &'static str,
    subjects: fn(&Figures) -> Vec<Subject>,
    working: fn(&At<'_>, Subject) -> Option<Working>,
) -> Figure {
    Figure { name, title, depends: Depends::Plan, subjects, working }
}

/// What the plan's own places and sizes need no theory for.
const MEASURED: &str = "Places and sizes as entered; no theory is needed.";

fn none(_: &Figures) -> Vec<Subject> {
    Vec::new()
}

fn strings(figures: &Figures) -> Vec<Subject> {
    figures.placed.iter().map(|placed| Subject::String(placed.string)).collect()
}

fn ends(figures: &Figures) -> Vec<Subject> {
    let both = [TrainEnd::Front, TrainEnd::Rear];
    figures.placed.iter().flat_map(|placed| both.map(|end| Subject::StringEnd(placed.string, end))).collect()
}

fn stated(figures: &Figures) -> Vec<Subject> {
    let order = figures.plan.order.iter().enumerate();
    order.filter(|(_, s)| s.mass != MassEntry::Computed).map(|(string, _)| Subject::String(string)).collect()
}

fn placement() -> Origin {
    Origin::entered("front end of the placement, length of the string")
}

fn rack_count(at: &At<'_>, subject: Subject) -> Option<Working> {
    let Subject::String(string) = subject else { return None };
    let placed = at.placed(string)?;
    let rows = placed.racks.clone().map(|rack| WorkingRow {
        name: Subject::Rack(rack).place(at.figures),
        values: vec![Quantity::count(1)],
        figure: None,
    });
    let step =
        WorkingStep::new(("N", "racks under the string"), Quantity::count(placed.racks.len()), "sum(n)")
            .over(&[("n", "a rack between its ends")], rows.collect());
    Some(at.start(subject, MEASURED).step(step))
}

fn least_overhang(at: &At<'_>, subject: Subject) -> Option<Working> {
    let Subject::StringEnd(string, end) = subject else { return None };
    let placed = at.placed(string)?;
    let (first, last) = last_racks(at.figures, placed)?;
    let (rack, tip, formula) = match end {
        TrainEnd::Front => (first, placed.front, "x - xe"),
        TrainEnd::Rear => (last, placed.rear, "xe - x"),
    };
    let x = at.figures.consist.racks.get(rack)?.x;
    let overhang = if end == TrainEnd::Front { x - tip } else { tip - x };
    let name = format!("place of {}, the last to be reached", Subject::Rack(rack).place(at.figures));
    let step = WorkingStep::new(("c", "overhang past the rack"), Quantity::length(overhang), formula)
        .with(("x", &name), Quantity::length(x), Origin::entered("vehicle lengths and rack places"))
        .with(("xe", "place of the end"), Quantity::length(tip), placement());
    Some(at.start(subject, MEASURED).step(step))
}

fn end_clearance(at: &At<'_>, subject: Subject) -> Option<Working> {
    let Subject::StringEnd(string, end) = subject else { return None };
    let placed = at.placed(string)?;
    let ((x, obstacle), tip, formula) = match end {
        TrainEnd::Front => (nearest_in_front(at.figures, placed), placed.front, "xe - x"),
        TrainEnd::Rear => (nearest_behind(at.figures, placed), placed.rear, "x - xe"),
    };
    let distance = if end == TrainEnd::Front { tip - x } else { x - tip };
    let beyond = obstacle.words(at.figures).show(Style::default());
    let beyond = format!("place of {}", beyond.trim_start().trim_start_matches("to "));
    let step = WorkingStep::new(("a", "distance"), Quantity::length(distance), formula)
        .with(("x", &beyond), Quantity::length(x), Origin::entered("the train and what stands beyond it"))
        .with(("xe", "place of the end"), Quantity::length(tip), placement());
    Some(at.start(subject, MEASURED).step(step))
}

fn idler_clearance(at: &At<'_>, subject: Subject) -> Option<Working> {
    if let Subject::Strings(..) = subject {
        return gap(at, subject);
    }
    let heights = heights_over_idlers(at.figures).into_iter().filter(|(about, _)| *about == subject);
    let workings = heights.map(|(_, over)| {
        let idler = Subject::Vehicle(over.idler).place(at.figures);
        let droop = droop(at.figures, over.hangs, over.droop_m);
        let step = WorkingStep::new(
            ("h", &format!("clear height above the deck of {idler}")),
            Quantity::small_length_m(over.clear_m()),
            "zs - w - zd",
        )
        .with(
            ("zs", "height of the lower seat beside the idler above the rail"),
            Quantity::length_m(over.seat_m),
            Origin::entered("deck height and tier of the rack"),
        )
        .with_value(droop.result.clone())
        .with(
            ("zd", "height of the idler's deck above the rail"),
            Quantity::length_m(over.deck_m),
            Origin::entered("deck height of the idler's type"),
        );
        let source = "Seat height less what the string hangs below it; level rigid model.";
        at.start(subject, source).step(droop).step(step)
    });
    at.matching(workings.collect())
}

/// How far a string hangs below its seat: at a tip that bends down, or within a span.
fn droop(figures: &Figures, hangs: Subject, droop_m: f64) -> WorkingStep {
    let result = ("w", "how far it hangs below its seat");
    let droop = Quantity::small_length_m(droop_m);
    let tip_m = match hangs {
        Subject::StringEnd(string, end) => figures.placed.iter().find_map(|placed| {
            let beam = placed.beam.as_ref().ok().filter(|_| placed.string == string)?;
            Some(if end == TrainEnd::Front { beam.front_tip_m } else { beam.rear_tip_m })
        }),
        _ => None,
    };
    match tip_m {
        Some(tip_m) => WorkingStep::new(result, droop, "max(0, -w1)").with(
            ("w1", "deflection of the tip, up positive"),
            Quantity::small_length_m(tip_m),
            Origin::Figure(Question::new("tip", hangs)),
        ),
        None => WorkingStep::new(result, droop, "w1").with(
            ("w1", "largest sag of the span over it"),
            droop,
            Origin::Figure(Question::new("string-sag", hangs)),
        ),
    }
}

/// The gap between two strings in line.
fn gap(at: &At<'_>, subject: Subject) -> Option<Working> {
    let Subject::Strings(a, b) = subject else { return None };
    let (a, b) = (at.placed(a)?, at.placed(b)?);
    let (first, second) = if (a.front, a.placement) <= (b.front, b.placement) { (a, b) } else { (b, a) };
    let name = |placed: &PlacedString| Subject::String(placed.string).place(at.figures);
    let distance = Quantity::length(second.front - first.rear);
    let step = WorkingStep::new(("a", "gap"), distance, "x2 - x1")
        .with(("x1", &format!("rear end of {}", name(first))), Quantity::length(first.rear), placement())
        .with(("x2", &format!("front end of {}", name(second))), Quantity::length(second.front), placement());
    Some(at.start(subject, MEASURED).step(step))
}

fn fit(at: &At<'_>, subject: Subject) -> Option<Working> {
    let Subject::StringAtRack(string, _) = subject else { return None };
    let section = at.figures.plan.sections.get(at.placed(string)?.section)?;
    let sizes =
        [("foot width of the section", section.foot_mm), ("height of the section", section.height_mm)];
    let workings = sizes.into_iter().filter_map(|(name, mm)| {
        let size = Quantity::small_length_m(mm? / 1000.0);
        let from = Origin::entered(format!("section {}: {}", section.name, section.source.text));
        let step = WorkingStep::new(("d", name), size, "d0").with(("d0", name), size, from);
        Some(at.start(subject, MEASURED).step(step))
    });
    at.matching(workings.collect())
}

fn mass_difference(at: &At<'_>, subject: Subject) -> Option<Working> {
    let Subject::String(string) = subject else { return None };
    let ordered = at.figures.plan.order.get(string)?;
    let MassEntry::Stated { kg, .. } = ordered.mass else { return None };
    let section = at.figures.plan.section(&ordered.section)?;
    let computed_kg = section.mass_kg(ordered.length);
    let per_metre = Quantity { value: section.mass_kg_per_m, kind: QuantityKind::MassPerLength };
    let computed = WorkingStep::new(("m0", "computed mass"), Quantity::mass(computed_kg), "m1 * L")
        .with(
            ("m1", "mass per length of the section"),
            per_metre,
            Origin::entered(format!("section {}: {}", section.name, section.source.text)),
        )
        .with(("L", "length of the string"), Quantity::length(ordered.length), Origin::entered("the order"));
    let share = Quantity::share((kg - computed_kg).abs() / computed_kg);
    let difference = WorkingStep::new(("d", "difference as a share"), share, "abs(m - m0) / m0")
        .with(("m", "stated mass"), Quantity::mass(kg), Origin::entered("the order"))
        .with_value(computed.result.clone());
    Some(at.start(subject, MEASURED).step(computed).step(difference))
}
