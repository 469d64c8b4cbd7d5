//! Workings of creep: how far ends move in curves, by coupling slack and by heat, and what that leaves.

use super::figure::{At, Depends, Figure};
use super::{Origin, Question, Working, WorkingStep, WorkingValue};
use crate::checks::{BeyondEnd, Subject, beyond_end, shifts_together};
use crate::model::{Topic, TrainEnd};
use crate::statics::{EndCreep, Figures, PlacedString, Shift};
use crate::units::{Length, Quantity, Style};

/// The figures of creep.
pub(super) const FIGURES: &[Figure] = &[
    figure("creep-least-overhang", "Overhang of an end after creep", ends, overhang),
    figure("creep-end-gap", "Distance of an end to what is beyond it after creep", ends, gap),
    figure("creep-rack-crossing", "Movement of an end against the racks beside it", ends, crossing),
];

const fn figure(
    name: &'static str,
    title: &'static str,
    subjects: fn(&Figures) -> Vec<Subject>,
    working: fn(&At<'_>, Subject) -> Option<Working>,
) -> Figure {
    Figure { name, title, depends: Depends::Plan, subjects, working }
}

const SOURCE: &str = "Geometry: wagons stand as a polygon on the curve, the string is as long as it is and rolls \
     without friction on all racks but its hold; free movement of couplings; thermal expansion.";

/// Ends whose creep is known, where the plan asks for it.
fn ends(figures: &Figures) -> Vec<Subject> {
    if !figures.plan.route.asked.contains(&Topic::Creep) {
        return Vec::new();
    }
    let both = [TrainEnd::Front, TrainEnd::Rear];
    let known = figures.placed.iter().zip(&figures.creep().strings).filter(|(_, creep)| creep.is_ok());
    known.flat_map(|(placed, _)| both.map(|end| Subject::StringEnd(placed.string, end))).collect()
}

fn creep_of<'f>(at: &At<'f>, subject: Subject) -> Option<(&'f PlacedString, &'f EndCreep)> {
    let Subject::StringEnd(string, end) = subject else { return None };
    let strings = at.figures.placed.iter().zip(&at.figures.creep().strings);
    let (placed, creep) = strings.into_iter().find(|(placed, _)| placed.string == string)?;
    Some((placed, creep.as_ref().ok()?.iter().find(|creep| creep.end == end)?))
}

/// Which way an end moves.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Way {
    /// Away from its hold.
    Out,
    /// Toward its hold.
    In,
}

/// The steps of one shift: curve, slack, heat, and their sum; `mark` ends the symbols.
fn shift_steps(
    at: &At<'_>,
    placed: &PlacedString,
    shift: &Shift,
    (way, mark): (Way, &str),
) -> Vec<WorkingStep> {
    let curve = curve_step(shift, way, mark);
    let slack = slack_step(at, shift, mark);
    let heat = heat_step(at, placed, shift, mark);
    let (total_m, meaning) = match way {
        Way::Out => (shift.out_m(), "farthest that the end moves away from its hold"),
        Way::In => (shift.in_m(), "farthest that the end moves toward its hold"),
    };
    let [c, s, h] = [&curve, &slack, &heat].map(|step| step.result.clone());
    let formula = format!("{} + {} + {}", c.symbol, s.symbol, h.symbol);
    let total = WorkingStep::new((&format!("m{mark}"), meaning), Quantity::length_m(total_m), formula)
        .with_value(c)
        .with_value(s)
        .with_value(h);
    vec![curve, slack, heat, total]
}

fn curve_step(shift: &Shift, way: Way, mark: &str) -> WorkingStep {
    let (total_m, polygon_m, side_m, sign) = match way {
        Way::Out => (shift.curve_out_m, shift.polygon_m, shift.curve_out_m - shift.polygon_m, "+"),
        Way::In => (-shift.curve_in_m, shift.polygon_in_m, shift.polygon_in_m - shift.curve_in_m, "-"),
    };
    let where_worst = Origin::Found("the largest of all places of the train on the route's curves");
    // Toward the hold counts positive, and the polygon moves an end away from it.
    let formula = if sign == "+" { format!("p{mark} + y{mark}") } else { format!("y{mark} - p{mark}") };
    let result = (format!("c{mark}"), "movement in curves");
    WorkingStep::new((&result.0, result.1), Quantity::length_m(total_m), formula)
        .with(
            (&format!("p{mark}"), "by the polygon of the vehicles: chords and coupling arms against the straight"),
            Quantity::length_m(polygon_m),
            where_worst.clone(),
        )
        .with(
            (
                &format!("y{mark}"),
                "by the lane beside the middle: its offset times the turn between the hold's vehicle and that of \
                 the end",
            ),
            Quantity::length_m(side_m),
            where_worst,
        )
}

fn slack_step(at: &At<'_>, shift: &Shift, mark: &str) -> WorkingStep {
    let slack = at.figures.plan.train.coupling_slack.unwrap_or(Length::ZERO);
    let result = (format!("s{mark}"), "movement by coupling slack");
    let formula = format!("n{mark} * s0");
    WorkingStep::new((&result.0, result.1), Quantity::length_m(shift.slack_m), formula)
        .with(
            (&format!("n{mark}"), "couplings between the hold and the end"),
            Quantity::count(shift.couplings),
            Origin::entered("the train and the hold"),
        )
        .with(("s0", "free movement of one coupling"), Quantity::length(slack), Origin::entered("the train"))
}

fn heat_step(at: &At<'_>, placed: &PlacedString, shift: &Shift, mark: &str) -> WorkingStep {
    let plan = &at.figures.plan;
    let steel = plan.order.get(placed.string).and_then(|string| string.steel.as_ref());
    let steel = steel.and_then(|name| plan.steel(name));
    let expansion = steel.and_then(|steel| steel.expansion_1e6_per_k).unwrap_or_default();
    let source =
        steel.map_or_else(String::new, |steel| format!("steel {}: {}", steel.name, steel.source.text));
    let result = (format!("h{mark}"), "movement by heat or cold");
    let formula = format!("a{mark} * l{mark} * dT / 1000000");
    WorkingStep::new((&result.0, result.1), Quantity::length_m(shift.temperature_m), formula)
        .with(
            (&format!("a{mark}"), "expansion in millionths per K"),
            Quantity::number(expansion),
            Origin::entered(source),
        )
        .with(
            (&format!("l{mark}"), "length of the string from the hold to the end"),
            Quantity::length_m(shift.length_m),
            Origin::entered("hold and placement"),
        )
        .with(
            ("dT", "difference in temperature of strings against frames in K, both ways"),
            Quantity::number(plan.route.temperature_range_k.unwrap_or_default()),
            Origin::entered("the route"),
        )
}

/// A working with the steps of one shift in it, and what they give.
fn with_shift(
    at: &At<'_>,
    working: Working,
    placed: &PlacedString,
    shift: &Shift,
    way: (Way, &str),
) -> (Working, Option<WorkingValue>) {
    let steps = shift_steps(at, placed, shift, way);
    let total = steps.last().map(|step| step.result.clone());
    let radius = shift.radius_m.filter(|_| way.0 == Way::Out).map(Quantity::length_m);
    let curve = if shift.reverse { "reverse curve" } else { "curve" };
    let working = match radius {
        Some(radius) => working.note(format!(
            "The {curve} of {} moves it farthest; hold and end stand on vehicles that turn by up to {:.1} mrad against \
             each other.",
            radius.show(Style::default()),
            shift.turn_rad * 1000.0
        )),
        None => working,
    };
    (steps.into_iter().fold(working, Working::step), total)
}

fn overhang(at: &At<'_>, subject: Subject) -> Option<Working> {
    let (placed, creep) = creep_of(at, subject)?;
    let (working, moved) = with_shift(at, at.start(subject, SOURCE), placed, &creep.over_last, (Way::In, ""));
    let left_m = creep.overhang_m - creep.over_last.in_m();
    let rack = Subject::Rack(creep.last_rack).place(at.figures);
    let meaning = format!("overhang past {rack} at rest");
    let step = WorkingStep::new(("r", "overhang that is left"), Quantity::length_m(left_m), "u - m")
        .with(("u", &meaning), Quantity::length_m(creep.overhang_m), Origin::Figure(at_rest(subject)))
        .with_value(moved?);
    Some(working.step(step))
}

fn at_rest(subject: Subject) -> Question {
    Question::new("least-overhang", subject)
}

fn crossing(at: &At<'_>, subject: Subject) -> Option<Working> {
    let (placed, creep) = creep_of(at, subject)?;
    let mut workings = Vec::new();
    let ways = [(Way::In, Some(&creep.over_last)), (Way::Out, creep.next.as_ref().map(|next| &next.shift))];
    for (way, shift) in ways {
        let Some(shift) = shift else { continue };
        let rack =
            if way == Way::In { Some(creep.last_rack) } else { creep.next.as_ref().map(|next| next.rack) };
        let rack = rack.map_or_else(String::new, |rack| Subject::Rack(rack).place(at.figures));
        let working = at.start(subject, SOURCE).note(format!("Against {rack}."));
        workings.push(with_shift(at, working, placed, shift, (way, "")).0);
    }
    at.matching(workings)
}

fn gap(at: &At<'_>, subject: Subject) -> Option<Working> {
    match subject {
        Subject::StringEnd(string, end) => {
            let placed = at.placed(string)?;
            end_gap(at, subject, placed, &beyond_end(at.figures, placed, end)?)
        }
        Subject::Strings(a, b) => string_gap(at, subject, (at.placed(a)?, at.placed(b)?)),
        _ => None,
    }
}

fn end_gap(at: &At<'_>, subject: Subject, placed: &PlacedString, beyond: &BeyondEnd) -> Option<Working> {
    let (working, moved) = with_shift(at, at.start(subject, SOURCE), placed, &beyond.shift, (Way::Out, ""));
    let words = beyond.obstacle.words(at.figures).show(Style::default());
    let meaning = format!("distance at rest {}", words.trim_start());
    let left = Quantity::length_m(beyond.left_m());
    let step = WorkingStep::new(("r", "distance that is left"), left, "d - m - s1")
        .with(
            ("d", &meaning),
            Quantity::length(beyond.distance),
            Origin::Figure(Question::new("end-clearance", subject)),
        )
        .with_value(moved?)
        .with(
            ("s1", "slack of the coupling to a vehicle beyond the train; 0 otherwise"),
            Quantity::length_m(beyond.slack_m),
            Origin::entered("what stands beyond the train"),
        );
    Some(working.step(step))
}

/// The gap of two strings in line, both ends moved toward each other.
fn string_gap(at: &At<'_>, subject: Subject, (a, b): (&PlacedString, &PlacedString)) -> Option<Working> {
    let (first, second) = if (a.front, a.placement) <= (b.front, b.placement) { (a, b) } else { (b, a) };
    let [one, other] = shifts_together(at.figures, first, second)?;
    let (working, m1) = with_shift(at, at.start(subject, SOURCE), first, &one, (Way::Out, "1"));
    let (working, m2) = with_shift(at, working, second, &other, (Way::Out, "2"));
    let gap = second.front - first.rear;
    let left = Quantity::length_m(gap.m() - (one.out_m() + other.out_m()));
    let step = WorkingStep::new(("r", "gap that is left"), left, "d - m1 - m2")
        .with(
            ("d", "gap at rest"),
            Quantity::length(gap),
            Origin::Figure(Question::new("pocket-shared", subject)),
        )
        .with_value(m1?)
        .with_value(m2?);
    Some(working.step(step))
}
