//! Check `curve-overhang-swing`: string ends that swing toward the strings beside them in curves.

use super::track::{case_title, curves_asked};
use super::{Check, Comparison, Judge, Sense, Subject};
use crate::model::TrainEnd;
use crate::statics::Figures;
use crate::statics::curves::{CurveFigures, Neighbours, StringClass};
use crate::text;
use crate::units::{Quantity, Text};

pub(crate) static CHECK: Check = Check {
    id: "curve-overhang-swing",
    title: "Swing of overhangs in curves",
    what: "How far the end of a string swings toward the strings beside it in the same tier, which other racks \
           lead, against the free width between their feet, in all curves of the route. The swing of every end \
           from the track and from the deck under it is among the figures.",
    why: "An end keeps on in the line of its own wagon: at R 150 the tip of a 4 m overhang is 220 mm off the \
          track and 105 mm off the line of the next wagon, while the string in the next lane, which goes on \
          over that wagon, stays near the track.",
    mend: "Shorten the overhang, end both strings at the same rack, or leave the lane beside it free.",
    source: "Geometry of chords and beam theory; the free width is that of the sections and lanes entered.",
    run,
};

fn run(judge: &mut Judge<'_>) {
    let Some(curves) = curves_asked(judge) else { return };
    let figures = judge.figures;
    let mirrored = curves.classes.iter().all(StringClass::runs_straight);
    for (at, pair) in curves.neighbours.iter().enumerate() {
        let Some(gap_m) = free_width_m(judge, pair) else { continue };
        let Some((case, _, nearer_m)) = curves.nearest_approach(at, mirrored) else { continue };
        let subject = Subject::StringEnd(figures.placed[pair.placement].string, pair.end);
        let comparison = Comparison::new(Quantity::small_length_m(nearer_m), gap_m, Sense::AtMost);
        let beside = Subject::String(figures.placed[pair.beside].string).place(figures);
        for state in &figures.worked {
            let present = &figures.states[state.state].present;
            if present[pair.placement] && present[pair.beside] {
                judge.compare_with(Some(state.state), subject, comparison, || {
                    text![" toward ", beside.as_str(), ", ", case_title(figures, case)]
                });
            }
        }
    }
    tell_widest(judge, curves);
}

/// Free width between the feet of an end and the string beside it in m; where a foot is not entered, tells so.
fn free_width_m(judge: &mut Judge<'_>, pair: &Neighbours) -> Option<f64> {
    let figures = judge.figures;
    let mut feet_m = 0.0;
    for placement in [pair.placement, pair.beside] {
        let section = figures.placed[placement].section;
        let Some(foot_mm) = figures.plan.sections[section].foot_mm else {
            let name = figures.plan.sections[section].name.as_str();
            judge.undecided(Subject::Section(section), text!["no foot width is entered for section ", name]);
            return None;
        };
        feet_m += foot_mm / 1000.0;
    }
    Some(pair.to_the_right_m.abs() - feet_m / 2.0)
}

/// Where no two ends come near each other, tells of the end that swings furthest.
fn tell_widest(judge: &mut Judge<'_>, curves: &CurveFigures) {
    if !curves.neighbours.is_empty() {
        return;
    }
    let figures = judge.figures;
    let ends = curves.cases.iter().flat_map(|case| case.swings.iter().enumerate());
    let ends = ends.filter_map(|(placement, swings)| Some((placement, (*swings)?)));
    let ends = ends.flat_map(|(placement, [front, rear])| {
        [(placement, TrainEnd::Front, front), (placement, TrainEnd::Rear, rear)]
    });
    let widest = ends.max_by(|a, b| a.2.from_deck_m.abs().total_cmp(&b.2.from_deck_m.abs()));
    let Some((placement, end, swing)) = widest else { return };
    let subject = Subject::StringEnd(figures.placed[placement].string, end);
    judge.pass(None, subject, || widest_words(figures, subject, (swing.from_track_m, swing.from_deck_m)));
}

fn widest_words(figures: &Figures, subject: Subject, (track_m, deck_m): (f64, f64)) -> Text {
    text![
        subject.place(figures),
        " swings furthest, ",
        Quantity::small_length_m(deck_m.abs()),
        " from the line of the deck; up to ",
        Quantity::small_length_m(track_m.abs()),
        " from the track; no string beside an end swings differently",
    ]
}

#[cfg(test)]
mod tests {
    use super::CHECK;
    use crate::checks::Outcome::{Fail, NotAsked, Undecided};
    use crate::checks::bearing::testing::{check, findings, worst_text};
    use crate::checks::track::testing::in_a_curve;
    use crate::fixtures::place;
    use crate::model::Plan;

    /// S3 in lane 5 ends 4 m beyond the outer rack of the third wagon, over the fourth.
    fn overhanging(beside_lane: u32) -> Plan {
        let mut plan = in_a_curve();
        place(&mut plan, "S3", 2 * 19_900 + 9_950 + 6_633 + 4_000 - 1_300, (1, 5, 1_300));
        place(&mut plan, "S4", 77_000, (1, beside_lane, 1_300));
        plan
    }

    // Lanes 266.7 mm apart, feet of 150 mm: 116.7 mm free. The tip swings 220 mm outward (mechanics.md 5) while
    // the string beside it stays near the track: 210.8 mm in the arc, 222.8 mm with the front part in it (solved
    // apart with a general matrix solver).
    #[test]
    fn an_end_must_not_reach_the_next_lane() {
        let plan = overhanging(6);
        let told = findings(&CHECK, &plan);
        let comparison = told[0].comparison.unwrap();
        assert!((comparison.capacity.value - 0.116_67).abs() < 1.0e-4);
        assert!((comparison.demand.value - 0.2228).abs() < 0.0005, "{comparison:?}");
        check(&CHECK, &plan, &[(Fail, "string S3, rear end")]);
        check(&CHECK, &overhanging(7), &[]);
        check(&CHECK, &overhanging(4), &[(Fail, "string S3, rear end")]);
    }

    #[test]
    fn strings_that_end_alike_swing_alike() {
        let text = worst_text(&CHECK, &in_a_curve());
        assert!(text.contains("swings furthest"), "{text}");
        check(&CHECK, &in_a_curve(), &[]);
    }

    #[test]
    fn what_is_missing_is_undecided() {
        let mut plan = overhanging(6);
        plan.sections[0].foot_mm = None;
        check(&CHECK, &plan, &[(Undecided, "section 60E1")]);
        plan.route.asked.clear();
        check(&CHECK, &plan, &[(NotAsked, "plan")]);
    }
}
