//! What the checks of curves share: whether curves can be looked at, and what is missing for it.

use super::{Judge, Subject};
use crate::model::Topic;
use crate::statics::Figures;
use crate::statics::curves::{CurveFigures, CurveGap};
use crate::text;

/// The strings in the route's curves, where the plan asks for curves and names one; else tells why not.
///
/// Tells too what is missing for strings that cannot be looked at, and what a live preview leaves for later.
pub(super) fn curves_asked<'f>(judge: &mut Judge<'f>) -> Option<&'f CurveFigures> {
    if !judge.asked(Topic::Curves) || !has_curves(judge) {
        return None;
    }
    let curves = judge.figures.curves();
    for gap in &curves.class_of {
        tell_gap(judge, *gap);
    }
    if curves.pending {
        judge.note(None, Subject::Train, text!["entry and reverse curves are still being worked out"]);
    }
    Some(curves)
}

/// Whether the route names a curve; where not, tells so as undecided.
pub(super) fn has_curves(judge: &mut Judge<'_>) -> bool {
    let route = &judge.figures.plan.route;
    let has = !route.curves.is_empty() || route.s_curve.is_some();
    if !has {
        judge.undecided(Subject::Plan, text!["no curve of the route is entered"]);
    }
    has
}

fn tell_gap(judge: &mut Judge<'_>, gap: Result<usize, CurveGap>) {
    let plan = &judge.figures.plan;
    match gap {
        Err(CurveGap::NoStiffness(section)) => {
            let name = plan.sections.get(section).map_or("?", |section| section.name.as_str());
            let missing =
                text!["no second moment of area about the vertical axis is entered for section ", name];
            judge.undecided(Subject::Section(section), missing);
        }
        Err(CurveGap::NoPlay(rack_type)) => {
            let name = plan.train.rack_types.get(rack_type).map_or("?", |kind| kind.name.as_str());
            judge.undecided(
                Subject::RackType(rack_type),
                text!["no side play is entered for rack type ", name],
            );
        }
        // The checks of pockets and support tell of strings that lie in none.
        Err(CurveGap::NotOnRacks) | Ok(_) => {}
    }
}

/// What a reader calls a curve case.
pub(super) fn case_title(figures: &Figures, case: usize) -> String {
    figures.curves().cases.get(case).map_or_else(|| "?".to_owned(), |case| case.case.title())
}

/// Plans for the tests of the curve checks.
#[cfg(test)]
pub(super) mod testing {
    use crate::fixtures::{empty_plan, limit, place};
    use crate::model::{Curve, LimitKind, Plan, Topic};

    /// A curve without transition, cant or speed of its own.
    pub(crate) fn curve(radius_m: f64) -> Curve {
        Curve { radius_m, arc_m: None, transition_m: 0.0, cant_mm: None, speed_kmh: None }
    }

    /// Four reference wagons, tight pockets, strings S1 and S2 of 77 m in lanes 1 and 10, a curve of R 150, all
    /// topics of the track asked for.
    pub(crate) fn in_a_curve() -> Plan {
        let mut plan = empty_plan(4);
        place(&mut plan, "S1", 77_000, (1, 1, 1_300));
        place(&mut plan, "S2", 77_000, (1, 10, 1_300));
        plan.train.rack_types[0].side_play_mm = Some(0.0);
        plan.route.curves = vec![curve(150.0)];
        plan.route.asked = vec![Topic::Curves, Topic::Gauge, Topic::Cant];
        plan.limits.entries.insert(LimitKind::CurveStress, limit(300.0e6));
        plan.limits.entries.insert(LimitKind::WheelUnloading, limit(0.4));
        plan
    }
}
