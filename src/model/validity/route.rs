//! The route and the limits.

use super::report::{ABOVE_ZERO, FROM_ZERO, RATIO, Range, Report, SHARE, TOLERANCE, mm};
use crate::model::{Curve, GaugeLine, Limit, LimitKind, Plan, Route};
use std::collections::BTreeSet;

/// The most items of a list here.
const MOST_ITEMS: usize = 1_000;

/// Looks at the route and the limits.
pub(super) fn look(plan: &Plan, report: &mut Report) {
    route(&plan.route, report);
    for (kind, entry) in &plan.limits.entries {
        limit(*kind, entry, report);
    }
    report.numbers("limits", &[("near_share", plan.limits.near_share, SHARE)]);
}

fn route(route: &Route, report: &mut Report) {
    if let Some(class) = &route.line_class {
        let fields = [
            ("axle_kg", Some(class.axle_kg), ABOVE_ZERO),
            ("mass_per_metre_kg", class.mass_per_metre_kg, ABOVE_ZERO),
        ];
        report.numbers("route.line_class", &fields);
    }
    report.at_most("route.curves", route.curves.len(), MOST_ITEMS);
    for (number, one) in route.curves.iter().enumerate() {
        curve(one, &format!("route.curves[{number}]"), report);
    }
    if let Some(s_curve) = route.s_curve {
        let fields = [
            ("radius_m", Some(s_curve.radius_m), RADIUS),
            ("straight_m", Some(s_curve.straight_m), FROM_ZERO),
        ];
        report.numbers("route.s_curve", &fields);
    }
    let fields = [
        ("greatest_cant_mm", route.greatest_cant_mm, CANT),
        ("speed_kmh", route.speed_kmh, ABOVE_ZERO),
        ("cant_deficiency_mm", route.cant_deficiency_mm, CANT),
    ];
    report.numbers("route", &fields);
    if let Some(line) = &route.gauge {
        gauge(line, report);
    }
    conditions(route, report);
}

/// The radius of a track in m: no vehicle on rails runs on one tighter than 20 m.
const RADIUS: Range = Range::new(20.0, 1.0e12, "of 20 m or above");

/// A cant in mm: half a metre would be a third of the gauge.
const CANT: Range = Range::new(0.0, 500.0, "of zero or above");

fn curve(curve: &Curve, path: &str, report: &mut Report) {
    let fields = [
        ("radius_m", Some(curve.radius_m), RADIUS),
        ("arc_m", curve.arc_m, ABOVE_ZERO),
        ("transition_m", Some(curve.transition_m), FROM_ZERO),
        ("cant_mm", curve.cant_mm, CANT),
        ("speed_kmh", curve.speed_kmh, FROM_ZERO),
    ];
    report.numbers(path, &fields);
}

fn gauge(line: &GaugeLine, report: &mut Report) {
    report.at_most("route.gauge.points_mm", line.points_mm.len(), MOST_ITEMS);
    if line.points_mm.len() < 2 {
        report.add(
            "route.gauge.points_mm",
            format!("{} points make no line", line.points_mm.len()),
            "enter at least two points, from the bottom up",
        );
    }
    for (number, (half_width_mm, height_mm)) in line.points_mm.iter().enumerate() {
        let path = || format!("route.gauge.points_mm[{number}]");
        report.number(path, *half_width_mm, FROM_ZERO);
        report.number(path, *height_mm, FROM_ZERO);
    }
    for (number, pair) in line.points_mm.windows(2).enumerate() {
        if let [(_, below_mm), (_, above_mm)] = pair
            && above_mm < below_mm
        {
            report.add(
                format!("route.gauge.points_mm[{}]", number + 1),
                format!("the height of {above_mm} mm follows {below_mm} mm"),
                "write the points from the bottom up",
            );
        }
    }
    report.at_most("route.gauge.allowed", line.allowed_mm.len(), MOST_ITEMS);
    for (number, (radius_m, inside_mm, outside_mm)) in line.allowed_mm.iter().enumerate() {
        let fields = [
            ("radius_m", Some(*radius_m), ABOVE_ZERO),
            ("inside_mm", Some(*inside_mm), FROM_ZERO),
            ("outside_mm", Some(*outside_mm), FROM_ZERO),
        ];
        report.numbers(&format!("route.gauge.allowed[{number}]"), &fields);
    }
    let falling: Vec<f64> = line.allowed_mm.iter().map(|(radius_m, ..)| -radius_m).collect();
    let radius = |number| format!("route.gauge.allowed[{number}].radius_m");
    report.growing(radius, &falling, "write the radii from the largest to the smallest");
}

fn conditions(route: &Route, report: &mut Report) {
    if let Some(set) = &route.accelerations {
        let fields = [
            ("longitudinal_g", Some(set.longitudinal_g), FROM_ZERO),
            ("lateral_g", Some(set.lateral_g), FROM_ZERO),
            ("vertical_g", Some(set.vertical_g), FROM_ZERO),
            ("impact_m_per_s", set.impact_m_per_s, FROM_ZERO),
        ];
        report.numbers("route.accelerations", &fields);
    }
    let fields = [
        ("braking_m_per_s2", route.braking_m_per_s2, FROM_ZERO),
        ("buffing_m_per_s2", route.buffing_m_per_s2, FROM_ZERO),
        ("temperature_range_k", route.temperature_range_k, FROM_ZERO),
        ("rack_height_tolerance_mm", route.rack_height_tolerance_mm, FROM_ZERO),
        ("mass_tolerance_share", route.mass_tolerance, TOLERANCE),
        ("wagon_height_tolerance_mm", route.wagon_height_tolerance.and_then(mm), FROM_ZERO),
    ];
    report.numbers("route", &fields);
    if let Some(feed) = route.feed {
        let fields = [
            ("loading_m_per_s", feed.loading_m_per_s, ABOVE_ZERO),
            ("unloading_m_per_s", feed.unloading_m_per_s, ABOVE_ZERO),
        ];
        report.numbers("route.feed", &fields);
    }
    report.at_most("route.legs", route.legs.len(), MOST_ITEMS);
    let mut seen = BTreeSet::new();
    for (number, topic) in route.asked.iter().enumerate() {
        if !seen.insert(topic) {
            report.add(format!("route.asked[{number}]"), format!("{topic:?} stands twice"), "remove one");
        }
    }
}

fn limit(kind: LimitKind, limit: &Limit, report: &mut Report) {
    let path = format!("limits.{}", kind.key());
    let range = range_of(kind);
    report.numbers(&path, &[("running", Some(limit.running), range), ("working", limit.working, range)]);
    if kind == LimitKind::LeastRacks && limit.running.fract() != 0.0 {
        report.add(
            format!("{path}.running"),
            format!("{} is not a whole number of racks", limit.running),
            "enter a whole number",
        );
    }
    if let Some(by) = &limit.accepted_by {
        report.said(format!("{path}.accepted_by"), by);
    }
}

fn range_of(kind: LimitKind) -> Range {
    match kind {
        LimitKind::WheelRatio | LimitKind::BogieRatio | LimitKind::TwoAxleRatio => RATIO,
        LimitKind::WheelUnloading => SHARE,
        _ => ABOVE_ZERO,
    }
}

#[cfg(test)]
mod tests {
    use crate::model::validity::tests::check;
    use crate::model::{
        Accelerations, Curve, FeedSpeeds, GaugeLine, Limit, LimitKind, Plan, SCurve, Source, Sureness, Topic,
    };

    fn source() -> Source {
        Source { text: String::new(), sure: Sureness::Entered }
    }

    fn check_limit(kind: LimitKind, running: f64, sound: bool) {
        let path = format!("limits.{}.running", kind.key());
        let limit = Limit { running, working: None, source: source(), accepted_by: None };
        let paths = [path.as_str()];
        check(
            |plan| {
                plan.limits.entries.insert(kind, limit.clone());
            },
            if sound { &[] } else { &paths },
        );
    }

    #[test]
    fn limits_are_above_zero_and_ratios_at_least_one() {
        check_limit(LimitKind::WheelRatio, 1.0, true);
        check_limit(LimitKind::WheelRatio, 0.999, false);
        check_limit(LimitKind::BogieRatio, 0.3, false);
        check_limit(LimitKind::TwoAxleRatio, f64::INFINITY, false);
        check_limit(LimitKind::Sag, 0.01, true);
        check_limit(LimitKind::Sag, 0.0, false);
        check_limit(LimitKind::WheelUnloading, 1.0, true);
        check_limit(LimitKind::WheelUnloading, 1.1, false);
        check_limit(LimitKind::LeastRacks, 3.0, true);
        check_limit(LimitKind::LeastRacks, 2.5, false);
    }

    #[test]
    fn the_working_value_is_held_to_the_same_range_and_acceptance_has_a_name() {
        let limit =
            Limit { running: 1.25, working: Some(0.9), source: source(), accepted_by: Some(" ".to_owned()) };
        check(
            |plan| {
                plan.limits.entries.insert(LimitKind::WheelRatio, limit.clone());
            },
            &["limits.wheel_ratio.working", "limits.wheel_ratio.accepted_by"],
        );
    }

    #[test]
    fn the_near_share_lies_above_zero_and_up_to_one() {
        check(|plan| plan.limits.near_share = Some(1.0), &[]);
        check(|plan| plan.limits.near_share = Some(1.01), &["limits.near_share"]);
        check(|plan| plan.limits.near_share = Some(0.0), &["limits.near_share"]);
    }

    #[test]
    fn line_class_curves_and_conditions_have_their_signs() {
        let class = |change: fn(&mut crate::model::LineClass)| {
            move |plan: &mut Plan| plan.route.line_class.iter_mut().for_each(change)
        };
        check(class(|class| class.axle_kg = 0.0), &["route.line_class.axle_kg"]);
        check(class(|class| class.mass_per_metre_kg = Some(0.0)), &["route.line_class.mass_per_metre_kg"]);
        check(class(|class| class.mass_per_metre_kg = None), &[]);
        let curve =
            Curve { radius_m: 150.0, arc_m: None, transition_m: 0.0, cant_mm: Some(0.0), speed_kmh: None };
        check(|plan| plan.route.curves = vec![curve], &[]);
        check(
            |plan| plan.route.curves = vec![Curve { radius_m: 0.0, ..curve }],
            &["route.curves[0].radius_m"],
        );
        check(|plan| plan.route.curves = vec![Curve { radius_m: 20.0, ..curve }], &[]);
        check(
            |plan| plan.route.curves = vec![Curve { radius_m: 19.999, cant_mm: Some(500.1), ..curve }],
            &["route.curves[0].radius_m", "route.curves[0].cant_mm"],
        );
        check(
            |plan| plan.route.curves = vec![Curve { arc_m: Some(0.0), ..curve }],
            &["route.curves[0].arc_m"],
        );
        check(|plan| plan.route.s_curve = Some(SCurve { radius_m: 150.0, straight_m: 0.0 }), &[]);
        check(
            |plan| plan.route.s_curve = Some(SCurve { radius_m: -1.0, straight_m: -1.0 }),
            &["route.s_curve.radius_m", "route.s_curve.straight_m"],
        );
        check(|plan| plan.route.braking_m_per_s2 = Some(-0.1), &["route.braking_m_per_s2"]);
        check(|plan| plan.route.mass_tolerance = Some(1.5), &["route.mass_tolerance_share"]);
        check(|plan| plan.route.asked = vec![Topic::Creep, Topic::Creep], &["route.asked[1]"]);
        let feed = FeedSpeeds { loading_m_per_s: Some(0.0), unloading_m_per_s: None };
        check(|plan| plan.route.feed = Some(feed), &["route.feed.loading_m_per_s"]);
        let still = Accelerations {
            name: String::new(),
            longitudinal_g: 0.0,
            lateral_g: 0.0,
            vertical_g: -0.1,
            impact_m_per_s: None,
            source: source(),
        };
        check(|plan| plan.route.accelerations = Some(still.clone()), &["route.accelerations.vertical_g"]);
    }

    #[test]
    fn a_gauge_line_goes_up_and_its_radii_go_down() {
        let line = |points: &[(f64, f64)], allowed: &[(f64, f64, f64)]| GaugeLine {
            name: String::new(),
            points_mm: points.to_vec(),
            allowed_mm: allowed.to_vec(),
            source: source(),
        };
        let level =
            line(&[(1_620.0, 1_170.0), (1_645.0, 1_170.0)], &[(250.0, 20.0, 20.0), (225.0, 55.0, 60.0)]);
        check(|plan| plan.route.gauge = Some(level.clone()), &[]);
        let falling = line(&[(1_620.0, 1_170.0), (1_645.0, 1_169.0)], &[]);
        check(|plan| plan.route.gauge = Some(falling.clone()), &["route.gauge.points_mm[1]"]);
        let short = line(&[(1_620.0, 1_170.0)], &[]);
        check(|plan| plan.route.gauge = Some(short.clone()), &["route.gauge.points_mm"]);
        let same = line(&level.points_mm, &[(250.0, 20.0, 20.0), (250.0, 20.0, 20.0)]);
        check(|plan| plan.route.gauge = Some(same.clone()), &["route.gauge.allowed[1].radius_m"]);
    }
}
