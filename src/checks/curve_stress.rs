//! Check `curve-stress`: the sideways bending stress of every string in the route's curves.

use super::track::{case_title, curves_asked};
use super::{Check, Comparison, Judge, Sense, Subject};
use crate::model::LimitKind;
use crate::statics::curves::{CurveFigures, WorstPeak};
use crate::statics::{Figures, PlacedString};
use crate::text;
use crate::units::{Quantity, Text};

pub(crate) static CHECK: Check = Check {
    id: "curve-stress",
    title: "Bending stress in curves",
    what: "The largest stress at the edge of the foot as the racks of the wagons bend a string sideways, against \
           the lateral stress in curves: with the train all in each curve, anywhere on its way in and out, and in \
           the reverse curve. The wagons are chords of the track; three racks on a wagon stand in a straight line \
           and leave the bend to the gap before the next wagon; side play in the pockets eases it.",
    why: "A string that only follows the curve sees E c / R, 105 MPa for 60E1 at R 150. Three tight pockets on \
          each wagon double that, an entry without transition or a reverse curve makes it more. Rail that yields \
          stays bent.",
    mend: "Give the pockets more side play, choose racks with two pockets a wagon for this tier, or a route with \
           a larger radius, a transition or a longer straight in the reverse curve.",
    source: "Beam theory: M / W with the three-moment equation over the racks; E c / R of a rail bent to a curve. \
             The limit is the plan's.",
    run,
};

fn run(judge: &mut Judge<'_>) {
    let Some(curves) = curves_asked(judge) else { return };
    let Some(limit) = judge.limit(LimitKind::CurveStress) else { return };
    let figures = judge.figures;
    let mut least_m: Vec<Option<Option<f64>>> = vec![None; curves.classes.len()];
    for string in &figures.placed {
        let Some(class) = curves.class(string.placement) else { continue };
        let Some(worst) = curves.worst_peak(class) else { continue };
        let section = &figures.plan.sections[string.section];
        let Some(modulus_m3) = section.foot_side_modulus_m3() else {
            let missing = text![
                "no foot width and no lateral foot modulus is entered for section ",
                section.name.as_str()
            ];
            judge.undecided(Subject::Section(string.section), missing);
            continue;
        };
        let stress = Quantity::stress(worst.peak.moment_nm / modulus_m3);
        let comparison = Comparison::new(stress, limit.running, Sense::AtMost);
        let least_m = least_m[class].get_or_insert_with(|| {
            let broken = !comparison.holds();
            broken.then(|| curves.least_radius_m(figures, class, worst, limit.running * modulus_m3)).flatten()
        });
        let subject = Subject::String(string.string);
        judge.compare_with(None, subject, comparison, || where_and_radius(figures, curves, worst, *least_m));
    }
    judge_nothing_placed(judge, &figures.placed);
}

fn judge_nothing_placed(judge: &mut Judge<'_>, placed: &[PlacedString]) {
    if placed.is_empty() {
        judge.not_applicable(text!["no string is placed"]);
    }
}

fn where_and_radius(
    figures: &Figures,
    curves: &CurveFigures,
    worst: WorstPeak,
    least_m: Option<f64>,
) -> Text {
    let rack = Subject::Rack(worst.peak.rack).place(figures);
    let mut words = text![", ", case_title(figures, worst.case), ", at ", rack];
    let radius_m = curves.cases.get(worst.case).map(|case| case.case.radius_m);
    if let Some((least_m, radius_m)) = least_m.zip(radius_m) {
        let radii = text![
            "; within the limit from a radius of ",
            Quantity::length_m(least_m),
            " instead of ",
            Quantity::length_m(radius_m)
        ];
        words.0.extend(radii.0);
    }
    words
}

#[cfg(test)]
mod tests {
    use super::CHECK;
    use crate::checks::Outcome::{Fail, Near, NotAsked, Undecided};
    use crate::checks::bearing::testing::{check, findings, worst_text};
    use crate::checks::track::testing::in_a_curve;
    use crate::fixtures::limit;
    use crate::model::{LimitKind, Plan};

    fn limited(mut plan: Plan, pa: f64) -> Plan {
        plan.limits.entries.insert(LimitKind::CurveStress, limit(pa));
        plan
    }

    // Mechanics.md 5: 105 MPa x 2.37 at entry = 249 MPa (more near the ends of a string).
    #[test]
    fn a_string_may_reach_its_limit_and_no_more() {
        let stress_pa = findings(&CHECK, &in_a_curve())[0].comparison.unwrap().demand.value;
        assert!(stress_pa > 2.3 * 105.0e6 && stress_pa < 2.6 * 105.0e6, "{stress_pa}");
        check(&CHECK, &in_a_curve(), &[]);
        let strings = |outcome| [(outcome, "string S1"), (outcome, "string S2")];
        check(&CHECK, &limited(in_a_curve(), stress_pa), &strings(Near));
        check(&CHECK, &limited(in_a_curve(), stress_pa * 0.999), &strings(Fail));
        let text = worst_text(&CHECK, &limited(in_a_curve(), stress_pa / 2.0));
        assert!(text.contains("part in curve 1") && text.contains("from a radius of 300."), "{text}");
    }

    #[test]
    fn without_a_lateral_modulus_the_foot_gives_it() {
        let mut plan = in_a_curve();
        plan.sections[0].wy_foot_cm3 = None;
        check(&CHECK, &plan, &[]);
        plan.sections[0].foot_mm = None;
        check(&CHECK, &plan, &[(Undecided, "section 60E1")]);
    }

    #[test]
    fn what_is_missing_is_undecided() {
        let told = |change: fn(&mut Plan), things: &str| {
            let mut plan = in_a_curve();
            change(&mut plan);
            check(&CHECK, &plan, &[(Undecided, things)]);
        };
        told(|plan| plan.route.curves.clear(), "plan");
        told(|plan| plan.sections[0].iy_cm4 = None, "section 60E1");
        told(|plan| plan.train.rack_types[0].side_play_mm = None, "rack type Rack 5 x 10");
        told(
            |plan| drop(plan.limits.entries.remove(&LimitKind::CurveStress)),
            "limit lateral stress in curves",
        );
        let mut plan = in_a_curve();
        plan.route.asked.clear();
        check(&CHECK, &plan, &[(NotAsked, "plan")]);
    }
}
