//! Workings of the outline of the load: lane, half the section, play, throw or swing, lean.

use super::cant::roll_steps;
use super::figure::{At, Depends, Figure, of};
use super::{Origin, Working, WorkingStep, WorkingValue};
use crate::checks::Subject;
use crate::model::{Topic, TrainEnd};
use crate::statics::gauge::{GaugeCurve, Level, Outline, OutlineAt, Reach, tilt_of};
use crate::statics::{Figures, PlacedString};
use crate::units::{Quantity, QuantityKind};

/// The figures of the load gauge.
pub(super) const FIGURES: &[Figure] = &[Figure {
    name: "gauge-outline",
    title: "How far out a string reaches",
    depends: Depends::State,
    subjects,
    working,
}];

const SOURCE: &str = "Throw: textbook geometry; swing of ends: strings bent over their pockets, wagons as chords of the \
     track. What a line allows in curves: its own table.";

fn subject_of(figures: &Figures, outline: &Outline) -> Subject {
    let string = figures.placed[outline.placement].string;
    match outline.at {
        OutlineAt::Rack(rack) => Subject::StringAtRack(string, rack),
        OutlineAt::End(end) => Subject::StringEnd(string, end),
    }
}

fn subjects(figures: &Figures) -> Vec<Subject> {
    if !figures.plan.route.asked.contains(&Topic::Gauge) {
        return Vec::new();
    }
    figures.gauge().outlines.iter().map(|outline| subject_of(figures, outline)).collect()
}

fn working(at: &At<'_>, subject: Subject) -> Option<Working> {
    let outline =
        at.figures.gauge().outlines.iter().find(|outline| subject_of(at.figures, outline) == subject)?;
    let beside = beside_steps(at, outline)?;
    let mut working = beside.iter().cloned().fold(at.start(subject, SOURCE), Working::step);
    let lean = at.worked().and_then(|state| tilt_of(at.figures, state, outline.vehicle));
    let (tilt_rad, springs_m) = lean.unwrap_or_default();
    let tilt = if lean.is_some() { Some(tilt_steps(at, outline.vehicle, tilt_rad)?) } else { None };
    let tilt_value = tilt.as_ref().and_then(|steps| steps.last()).map(|step| step.result.clone());
    match tilt {
        Some(steps) => working = steps.into_iter().fold(working, Working::step),
        None => working = working.note("On a rigid body: no roll stiffness is entered."),
    }
    let reach = outline.reach(tilt_rad, springs_m)?;
    let beside = beside.last()?.result.clone();
    let step = reach_step(outline, reach, (tilt_value, tilt_rad, springs_m), beside)?;
    let line = Quantity::small_length_m(reach.line_m);
    let note =
        format!("The line's half-width at that height is {}.", line.show(crate::units::Style::default()));
    Some(working.step(step).note(note))
}

/// The reach at the height and on the side where least is left.
fn reach_step(
    outline: &Outline,
    reach: Reach,
    (tilt, tilt_rad, springs_m): (Option<WorkingValue>, f64, f64),
    beside: WorkingValue,
) -> Option<WorkingStep> {
    let needed_m = |side: f64, level: &Level| {
        side * (outline.y_m + tilt_rad * (level.height_m - springs_m)) + level.half_m + outline.beside_m
    };
    let same = |a: f64, b: f64| a.to_bits() == b.to_bits();
    let found = [1.0, -1.0].into_iter().find_map(|side| {
        let here = |level: &&Level| {
            same(level.height_m, reach.height_m) && same(needed_m(side, level), reach.reach_m)
        };
        outline.levels.iter().find(here).map(|level| (side, level))
    });
    let (side, level) = found?;
    let (sign, word) = if side > 0.0 { ("", "right") } else { ("-", "left") };
    let place = if tilt.is_some() { "(y + t * (z - hs))" } else { "y" };
    let result = ("u", &*format!("how far the string reaches to the {word} of the middle"));
    let formula = format!("{sign}{place} + hw + k");
    let mut step = WorkingStep::new(result, Quantity::small_length_m(reach.reach_m), formula)
        .with(("y", "place of the lane to the right"), Quantity::length_m(outline.y_m), lanes())
        .with(
            ("hw", &format!("half the width of the section {:.3} m above the rail", level.height_m)),
            Quantity::small_length_m(level.half_m),
            Origin::entered("the section"),
        )
        .with_value(beside);
    if let Some(tilt) = tilt {
        step = step
            .with_value(tilt)
            .with(
                ("z", "that height"),
                Quantity::length_m(level.height_m),
                Origin::entered("deck, tier, section, reference line"),
            )
            .with(
                ("hs", "height of the springs, about which the body leans"),
                Quantity::length_m(springs_m),
                Origin::entered("springs of the vehicle's type"),
            );
    }
    Some(step)
}

fn lanes() -> Origin {
    Origin::entered("lanes of the rack")
}

/// How far the body leans by its load's side moment.
fn tilt_steps(at: &At<'_>, vehicle: usize, tilt_rad: f64) -> Option<Vec<WorkingStep>> {
    let (loads, place) = (at.loads(vehicle)?, at.figures.consist.vehicles.get(vehicle)?);
    let springs = at.figures.plan.train.vehicle_types.get(place.vehicle_type)?.springs?;
    let mut steps = roll_steps(at, vehicle).unwrap_or_default();
    let more = steps.last().map(|step| step.result.clone());
    let formula = if more.is_some() { "yc * G * g / (2 * kr) * (1 + s)" } else { "yc * G * g / (2 * kr)" };
    let mut tilt = WorkingStep::new(
        ("t", "lean of the body, right side down positive"),
        Quantity { value: tilt_rad, kind: QuantityKind::Angle },
        formula,
    )
    .with(
        ("yc", "place of the gross centre to the right"),
        Quantity::small_length_m(loads.centre_y_m),
        Origin::Found("side moments of tare and strings over the gross mass"),
    )
    .with(("G", "gross mass"), Quantity::mass(loads.gross_kg), Origin::Found("tare and strings"))
    .with(
        ("kr", "roll stiffness of each support"),
        of(springs.roll_nm_per_rad, QuantityKind::AngularStiffness),
        Origin::entered("springs of the vehicle's type"),
    )
    .with_g();
    if let Some(more) = more {
        tilt = tilt.with_value(more);
    }
    steps.push(tilt);
    Some(steps)
}

/// The steps to what play and throw (or swing) add, the last one.
fn beside_steps(at: &At<'_>, outline: &Outline) -> Option<Vec<WorkingStep>> {
    let curve = match outline.curve {
        Some(curve) => Some(at.figures.gauge().curves.get(curve)?),
        None => None,
    };
    let placed = at.figures.placed.get(outline.placement)?;
    let result = ("k", "side movement, and throw beyond what the line allows");
    let beside = Quantity::small_length_m(outline.beside_m);
    match (outline.at, curve) {
        (OutlineAt::Rack(rack), None) => {
            Some(vec![with_play(at, WorkingStep::new(result, beside, "pl"), ("pl", rack))?])
        }
        (OutlineAt::Rack(rack), Some(curve)) => {
            let throw = throw_step(at, rack, (outline, curve))?;
            let step = with_play(at, WorkingStep::new(result, beside, BEYOND), ("pl", rack))?;
            Some(vec![throw.clone(), with_allowed(step.with_value(throw.result), curve)])
        }
        (OutlineAt::End(end), None) => Some(vec![askew_step(at, placed, end, (result, beside))?]),
        (OutlineAt::End(end), Some(curve)) => {
            let swing = WorkingStep::new(result, beside, BEYOND).with(
                ("T", "swing of the end toward the inside, outside negative"),
                Quantity::small_length_m(outline.thrown_m),
                Origin::Found("the string bent over its pockets in the curve (three-moment equations)"),
            );
            Some(vec![with_allowed(with_play(at, swing, ("pl", last_rack(placed, end)))?, curve)])
        }
    }
}

const BEYOND: &str = "pl + max(0, T - ai, -T - ao)";

fn with_play(at: &At<'_>, step: WorkingStep, (symbol, rack): (&str, usize)) -> Option<WorkingStep> {
    let kind = at.figures.plan.train.rack_types.get(at.figures.consist.racks.get(rack)?.rack_type)?;
    let play = Quantity::small_length_m(kind.side_play_mm? / 1000.0);
    let meaning = format!("side play at {}", Subject::Rack(rack).place(at.figures));
    let from = Origin::entered(format!("rack type {}: {}", kind.name, kind.source.text));
    Some(step.with((symbol, &meaning), play, from))
}

fn with_allowed(step: WorkingStep, curve: &GaugeCurve) -> WorkingStep {
    let [inside_m, outside_m] = curve.allowed_m.unwrap_or_default();
    let table = || Origin::entered("table of the reference line");
    step.with(("ai", "what the line allows inside"), Quantity::small_length_m(inside_m), table()).with(
        ("ao", "what it allows outside"),
        Quantity::small_length_m(outside_m),
        table(),
    )
}

/// Throw of a place on a vehicle that stands as a chord of the track.
fn throw_step(at: &At<'_>, rack: usize, (outline, curve): (&Outline, &GaugeCurve)) -> Option<WorkingStep> {
    let place = at.figures.consist.racks.get(rack)?;
    let vehicle = at.figures.consist.vehicles.get(place.vehicle)?;
    let bogie = vehicle.axles_m.get(..(vehicle.axles_per_support as usize))?;
    let wheelbase_m = bogie.last()? - bogie.first()?;
    let from_type = || Origin::entered("dimensions of the vehicle's type");
    let result = ("T", "throw of the rack toward the inside, outside negative");
    let step = WorkingStep::new(
        result,
        Quantity::small_length_m(outline.thrown_m),
        "(p^2 / 4 - xi^2 + w^2 / 4) / (2 * R)",
    )
    .with(("p", "distance of pivots or axles"), Quantity::length_m(vehicle.support_distance_m), from_type())
    .with(("xi", "place of the rack from the middle"), Quantity::length_m(place.from_middle_m), from_type())
    .with(("w", "wheelbase of a bogie; 0 for single axles"), Quantity::length_m(wheelbase_m), from_type())
    .with(("R", "radius"), Quantity::length_m(curve.radius_m), Origin::entered("curve of the route"));
    Some(step)
}

fn last_rack(placed: &PlacedString, end: TrainEnd) -> usize {
    match end {
        TrainEnd::Front => placed.racks.start,
        TrainEnd::Rear => placed.racks.end - 1,
    }
}

/// On the straight: the string loose and askew in its last two pockets.
fn askew_step(
    at: &At<'_>,
    placed: &PlacedString,
    end: TrainEnd,
    (result, beside): ((&str, &str), Quantity),
) -> Option<WorkingStep> {
    let last = last_rack(placed, end);
    let before = match end {
        TrainEnd::Front => (last + 1).min(placed.racks.end - 1),
        TrainEnd::Rear => last.saturating_sub(1).max(placed.racks.start),
    };
    let x_m = |rack: usize| at.figures.consist.racks[rack].x.m();
    let tip_m = if end == TrainEnd::Front { placed.front.m() } else { placed.rear.m() };
    if last == before {
        return with_play(at, WorkingStep::new(result, beside, "p1"), ("p1", last));
    }
    let step = WorkingStep::new(result, beside, "p1 + (p1 + p2) * c / l");
    let step = with_play(at, step, ("p1", last))?;
    let step = with_play(at, step, ("p2", before))?
        .with(
            ("c", "overhang of the end past its last rack"),
            Quantity::length_m((tip_m - x_m(last)).abs()),
            Origin::entered("placement"),
        )
        .with(
            ("l", "distance of the last two racks"),
            Quantity::length_m((x_m(last) - x_m(before)).abs()),
            Origin::entered("rack places"),
        );
    Some(step)
}
