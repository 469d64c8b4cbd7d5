//! Check `curve-rack-side-load`: what the strings press sideways on each rack's posts.

use super::track::{case_title, curves_asked};
use super::{Check, Comparison, Judge, Sense, Subject};
use crate::statics::curves::side_inertia_n;
use crate::statics::{Figures, StateFigures};
use crate::text;
use crate::units::{Quantity, Text};

pub(crate) static CHECK: Check = Check {
    id: "curve-rack-side-load",
    title: "Side load of racks",
    what: "The sideways force of all strings on each rack, in every state, against the rack's side rating: what \
           it takes to bend them to the route's curves, what their inertia adds (their weight on the rack times \
           the sideways acceleration of the plan's set), and both together.",
    why: "Fifty strings in tight pockets press 324 kN on the middle rack of a wagon at R 150: posts bend or break \
          and the strings of a tier come loose together.",
    mend: "Give the pockets more side play, spread the strings over more racks, or have the posts rated higher.",
    source: "Beam theory over the racks of wagons that stand as chords; inertia by the set of accelerations that \
             the plan names. The rating is the rack type's.",
    run,
};

fn run(judge: &mut Judge<'_>) {
    let Some(curves) = curves_asked(judge) else { return };
    let figures = judge.figures;
    let lateral_g = figures.plan.route.accelerations.as_ref().map(|set| set.lateral_g);
    if lateral_g.is_none() {
        let missing = text!["no securing accelerations are entered, so that side inertia is not counted"];
        judge.undecided(Subject::Plan, missing);
    }
    for (rack, rating_n) in rated(judge) {
        for (state, curve) in figures.worked.iter().zip(&curves.side_loads) {
            let Some(largest) = curve.racks_n.get(rack) else { continue };
            let load =
                Load { curve_n: largest.size, inertia_n: lateral_g.map(|g| side_inertia_n(state, rack, g)) };
            judge_rack(judge, state, (rack, rating_n), (load, largest.case));
        }
    }
}

/// Side load of a rack in N.
#[derive(Clone, Copy)]
struct Load {
    curve_n: f64,
    inertia_n: Option<f64>,
}

fn judge_rack(
    judge: &mut Judge<'_>,
    state: &StateFigures,
    (rack, rating_n): (usize, f64),
    (load, case): (Load, usize),
) {
    let force = Quantity::force(load.curve_n + load.inertia_n.unwrap_or_default());
    let comparison = Comparison::new(force, rating_n, Sense::AtMost);
    let figures = judge.figures;
    judge.compare_with(Some(state.state), Subject::Rack(rack), comparison, || parts(figures, load, case));
}

/// The parts of the load: the curve alone, inertia alone.
fn parts(figures: &Figures, load: Load, case: usize) -> Text {
    let title = if load.curve_n > 0.0 { case_title(figures, case) } else { "on the straight".to_owned() };
    let mut words = text![", ", Quantity::force(load.curve_n), " from curves (", title, ")"];
    match load.inertia_n {
        Some(inertia_n) => words.0.extend(text![" and ", Quantity::force(inertia_n), " from side inertia"].0),
        None => words.0.extend(text![", no side inertia counted"].0),
    }
    words
}

/// The racks under strings with their side ratings; a type without one is told as undecided, once.
fn rated(judge: &mut Judge<'_>) -> Vec<(usize, f64)> {
    let figures = judge.figures;
    let crossed = |rack: &usize| figures.placed.iter().any(|string| string.racks.contains(rack));
    let mut rated = Vec::new();
    for rack in (0..figures.consist.racks.len()).filter(crossed) {
        let rack_type = figures.consist.racks[rack].rack_type;
        let kind = &figures.plan.train.rack_types[rack_type];
        match kind.side_rating_n {
            Some(rating_n) => {
                judge.source(&kind.source.text);
                rated.push((rack, rating_n));
            }
            None => {
                let missing = text!["no side rating is entered for rack type ", kind.name.as_str()];
                judge.undecided(Subject::RackType(rack_type), missing);
            }
        }
    }
    rated
}

#[cfg(test)]
mod tests {
    use super::CHECK;
    use crate::checks::Outcome::{Fail, Near, NotAsked, Pass, Undecided};
    use crate::checks::bearing::testing::{check, findings, worst_text};
    use crate::checks::track::testing::in_a_curve;
    use crate::model::{Accelerations, Plan, Source, Sureness};

    fn plan(rating_n: f64, lateral_g: f64) -> Plan {
        let mut plan = in_a_curve();
        plan.train.rack_types[0].side_rating_n = Some(rating_n);
        plan.route.accelerations = Some(Accelerations {
            name: "block train".to_owned(),
            longitudinal_g: 1.0,
            lateral_g,
            vertical_g: 0.3,
            impact_m_per_s: None,
            source: Source { text: "test".to_owned(), sure: Sureness::Entered },
        });
        plan
    }

    fn demand_n(plan: &Plan) -> f64 {
        findings(&CHECK, plan).iter().filter_map(|f| f.comparison).map(|c| c.demand.value).fold(0.0, f64::max)
    }

    // Mechanics.md 5: 324 and 328 kN of fifty strings, 6.5 to 6.6 kN each, more at the entry; two strings here.
    #[test]
    fn a_rack_bears_its_rating_and_no_more() {
        let curve_n = demand_n(&plan(1.0e6, 0.0));
        assert!(curve_n > 2.0 * 6_560.0 && curve_n < 2.0 * 10_000.0, "{curve_n}");
        assert_eq!(findings(&CHECK, &plan(curve_n * 1.06, 0.0))[0].outcome, Pass);
        assert_eq!(findings(&CHECK, &plan(curve_n * 1.001, 0.0))[0].outcome, Near);
        assert_eq!(findings(&CHECK, &plan(curve_n * 0.999, 0.0))[0].outcome, Fail);
    }

    // Hand: by tributary length some 6.633 m x 60.21 kg/m x 2 strings x 0.5 g = 3.9 kN of inertia on a rack.
    #[test]
    fn side_inertia_adds_to_the_curve() {
        let with_n = demand_n(&plan(1.0e6, 0.5));
        let added_n = with_n - demand_n(&plan(1.0e6, 0.0));
        assert!(added_n > 0.8 * 3_917.0 && added_n < 1.3 * 3_917.0, "{added_n}");
        let text = worst_text(&CHECK, &plan(10.0e3, 0.5));
        assert!(text.contains("from curves (") && text.contains("from side inertia"), "{text}");
    }

    #[test]
    fn what_is_missing_is_undecided() {
        let mut missing = plan(1.0e6, 0.5);
        missing.train.rack_types[0].side_rating_n = None;
        check(&CHECK, &missing, &[(Undecided, "rack type Rack 5 x 10")]);
        let mut missing = plan(1.0e6, 0.5);
        missing.route.accelerations = None;
        check(&CHECK, &missing, &[(Undecided, "plan")]);
        missing.route.asked.clear();
        check(&CHECK, &missing, &[(NotAsked, "plan")]);
    }
}
