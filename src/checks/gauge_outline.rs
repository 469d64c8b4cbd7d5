//! Check `gauge-outline`: the outline of the load at every rack and end against the reference line.

use super::track::has_curves;
use super::{Check, Comparison, Judge, Sense, Subject};
use crate::model::Topic;
use crate::statics::Figures;
use crate::statics::gauge::{GaugeFigures, GaugeGap, Outline, OutlineAt, Reach, tilt_of};
use crate::text;
use crate::units::{Quantity, Text};

pub(crate) static CHECK: Check = Check {
    id: "gauge-outline",
    title: "Load gauge",
    what: "How far out the foot and the head of every string reach, at each rack and at its ends, against the \
           half-width of the reference line at that height: lane, half the section, side play, the throw in the \
           route's curves beyond what the line allows in them, and the lean of the body where its roll stiffness \
           is entered; on a rigid body otherwise. What wagons, posts and fastenings reach is not looked at.",
    why: "What is outside the line strikes platforms, signals, or the train on the next track.",
    mend: "Use the inner lanes for this string, a lower tier where the line narrows, a shorter overhang, or have \
           the load run as an exceptional one.",
    source: "Throw: textbook geometry. What a line allows in curves: its own table (EBO annex 2 for German \
             lines), between two rows the smaller radius's value. The line is the plan's.",
    run,
};

fn run(judge: &mut Judge<'_>) {
    if !judge.asked(Topic::Gauge) {
        return;
    }
    let figures = judge.figures;
    let Some(line) = &figures.plan.route.gauge else {
        judge.undecided(Subject::Plan, text!["no reference line is entered"]);
        return;
    };
    has_curves(judge);
    judge.source(&line.source.text);
    let gauge = figures.gauge();
    for gap in &gauge.gaps {
        tell_gap(judge, gauge, *gap);
    }
    for outline in &gauge.outlines {
        judge_outline(judge, gauge, outline);
    }
    if gauge.outlines.is_empty() && gauge.gaps.is_empty() && figures.placed.is_empty() {
        judge.not_applicable(text!["no string is placed"]);
    }
}

fn judge_outline(judge: &mut Judge<'_>, gauge: &GaugeFigures, outline: &Outline) {
    let figures = judge.figures;
    let string = figures.placed[outline.placement].string;
    let subject = match outline.at {
        OutlineAt::Rack(rack) => Subject::StringAtRack(string, rack),
        OutlineAt::End(end) => Subject::StringEnd(string, end),
    };
    let sprung = figures.worked.first().and_then(|state| tilt_of(figures, state, outline.vehicle)).is_some();
    if !sprung {
        let Some(reach) = outline.reach(0.0, 0.0) else { return };
        tell_reach(judge, (None, subject), reach, || words(gauge, outline, reach, None));
        return;
    }
    for state in &figures.worked {
        if !figures.states[state.state].present[outline.placement] {
            continue;
        }
        let Some((tilt_rad, springs_m)) = tilt_of(figures, state, outline.vehicle) else { continue };
        let Some(reach) = outline.reach(tilt_rad, springs_m) else { continue };
        let leans_m = (tilt_rad * (reach.height_m - springs_m)).abs();
        tell_reach(judge, (Some(state.state), subject), reach, || {
            words(gauge, outline, reach, Some(leans_m))
        });
    }
}

fn tell_reach(
    judge: &mut Judge<'_>,
    (state, subject): (Option<usize>, Subject),
    reach: Reach,
    words: impl Fn() -> Text,
) {
    let demand = Quantity::small_length_m(reach.reach_m);
    let comparison = Comparison::new(demand, reach.line_m, Sense::AtMost);
    judge.compare_with(state, subject, comparison, words);
}

fn words(gauge: &GaugeFigures, outline: &Outline, reach: Reach, leans_m: Option<f64>) -> Text {
    let mut words =
        text![" from the middle, ", Quantity::small_length_m(reach.height_m), " above the rail, "];
    match outline.curve.and_then(|curve| gauge.curves.get(curve)) {
        Some(curve) => words.0.extend(text!["in a curve of ", Quantity::length_m(curve.radius_m)].0),
        None => words.0.extend(text!["on the straight"].0),
    }
    let play_and_throw = text![" (", Quantity::small_length_m(outline.beside_m), " of play and throw)"];
    words.0.extend(play_and_throw.0);
    match leans_m {
        Some(leans_m) => words.0.extend(text![", leaning by ", Quantity::small_length_m(leans_m)].0),
        None => words.0.extend(text![", on a rigid body: no roll stiffness is entered"].0),
    }
    words
}

fn tell_gap(judge: &mut Judge<'_>, gauge: &GaugeFigures, gap: GaugeGap) {
    let figures: &Figures = judge.figures;
    let plan = &figures.plan;
    let section = |at: usize| plan.sections.get(at).map_or("?", |section| section.name.as_str());
    let (subject, missing) = match gap {
        GaugeGap::Section(at) => (
            Subject::Section(at),
            text!["height, foot width and head width are not all entered for section ", section(at)],
        ),
        GaugeGap::Stiffness(at) => (
            Subject::Section(at),
            text!["no second moment of area about the vertical axis is entered for section ", section(at)],
        ),
        GaugeGap::DeckHeight(at) => {
            let name = plan.train.vehicle_types.get(at).map_or("?", |kind| kind.name.as_str());
            (Subject::VehicleType(at), text!["no deck height is entered for vehicle type ", name])
        }
        GaugeGap::Play(at) => {
            let name = plan.train.rack_types.get(at).map_or("?", |kind| kind.name.as_str());
            (Subject::RackType(at), text!["no side play is entered for rack type ", name])
        }
        GaugeGap::Radius(at) => {
            let radius_m = gauge.curves.get(at).map_or(0.0, |curve| curve.radius_m);
            let radius = Quantity::length_m(radius_m);
            (Subject::Plan, text!["the reference line's table says nothing of a curve of ", radius])
        }
    };
    judge.undecided(subject, missing);
}

#[cfg(test)]
mod tests {
    use super::CHECK;
    use crate::checks::Outcome::{Fail, Near, NotAsked, Pass, Undecided};
    use crate::checks::bearing::testing::{check, findings, worst_text};
    use crate::checks::track::testing::{curve, in_a_curve};
    use crate::model::{GaugeLine, Plan, Source, Springs, Sureness};

    /// A plain line of the given half-width up to 4 m, which allows nothing in curves; string S1 alone.
    fn plan(half_mm: f64) -> Plan {
        let mut plan = in_a_curve();
        plan.placements.truncate(1);
        plan.route.curves = vec![curve(1.0e12)];
        plan.route.gauge = Some(GaugeLine {
            name: "plain".to_owned(),
            points_mm: vec![(half_mm, 0.0), (half_mm, 4_000.0)],
            allowed_mm: Vec::new(),
            source: Source { text: "test".to_owned(), sure: Sureness::Entered },
        });
        plan
    }

    // Lane 1.2 m and half a foot, 0.075 m, no play: 1.275 m.
    #[test]
    fn the_load_may_touch_the_line() {
        assert_eq!(findings(&CHECK, &plan(1_275.0))[0].outcome, Near);
        assert_eq!(findings(&CHECK, &plan(1_274.9))[0].outcome, Fail);
        assert_eq!(findings(&CHECK, &plan(1_400.0))[0].outcome, Pass);
        check(&CHECK, &plan(1_400.0), &[]);
        let mut low = plan(1_400.0);
        low.route.gauge.as_mut().unwrap().points_mm[1].1 = 1_571.9; // The head's top is at 1.572 m.
        assert_eq!(findings(&CHECK, &low)[0].outcome, Fail);
    }

    // R 150, middle rack: (50.41 + 0.81)/300 = 170.7 mm inside.
    #[test]
    fn throw_and_lean_push_it_out() {
        let mut plan = plan(1_446.0);
        plan.route.curves = vec![curve(150.0)];
        let middle = |plan: &Plan| {
            let told = findings(&CHECK, plan);
            told.iter().filter(|f| f.things == ["string S1", "vehicle W2 rack 2"]).map(|f| f.outcome).next()
        };
        assert_eq!(middle(&plan), Some(Near));
        plan.route.gauge.as_mut().unwrap().points_mm = vec![(1_445.0, 0.0), (1_445.0, 4_000.0)];
        assert_eq!(middle(&plan), Some(Fail));
        assert!(worst_text(&CHECK, &plan).contains("on a rigid body"));
        plan.train.vehicle_types[0].springs = Some(Springs {
            front_n_per_m: 4.0e6,
            rear_n_per_m: 4.0e6,
            roll_nm_per_rad: 4.0e6,
            frame_n_per_m: None,
            envelope: None,
            spring_height_mm: None,
            sprung_tare_kg: None,
        });
        assert!(worst_text(&CHECK, &plan).contains("leaning by"));
    }

    #[test]
    fn what_is_missing_is_undecided() {
        let told = |change: fn(&mut Plan), things: &str| {
            let mut plan = plan(2_000.0);
            change(&mut plan);
            check(&CHECK, &plan, &[(Undecided, things)]);
        };
        told(|plan| plan.route.gauge = None, "plan");
        told(|plan| plan.route.curves.clear(), "plan");
        told(|plan| plan.sections[0].head_mm = None, "section 60E1");
        told(|plan| plan.train.rack_types[0].side_play_mm = None, "rack type Rack 5 x 10");
        told(|plan| plan.train.vehicle_types[0].deck_height = None, "vehicle type Flat");
        told(
            |plan| {
                plan.route.gauge.as_mut().unwrap().allowed_mm = vec![(150.0, 1.0, 1.0)];
                plan.route.curves = vec![curve(140.0)];
            },
            "plan",
        );
        let mut plan = plan(2_000.0);
        plan.route.asked.clear();
        check(&CHECK, &plan, &[(NotAsked, "plan")]);
    }
}
