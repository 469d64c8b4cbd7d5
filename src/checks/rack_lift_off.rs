//! A string presses on every rack it crosses, above all on its last ones.

use super::reading::{rack_name, string_name};
use super::{Check, Judge, Subject};
use crate::statics::BeamFigures;
use crate::text;
use crate::units::Text;

/// The check.
pub(crate) static CHECK: Check = Check {
    id: "rack-lift-off",
    title: "Rack lift-off",
    what: "Each rack that the string crosses carries some of it; a rack near an end that carries nothing fails, \
           one between racks that carry is noted.",
    why: "An end that hangs free above its last rack can leave the pocket, and the next rack carries what it \
          does not.",
    mend: "Move the string along the train so that its end reaches less far past the last rack, or past one \
           rack more.",
    source: "three-moment equation with one-sided contact",
    run,
};

fn run(judge: &mut Judge<'_>) {
    let figures = judge.figures;
    for placed in &figures.placed {
        let Ok(beam) = &placed.beam else { continue };
        let name = || string_name(figures, placed.string);
        let Some((first, last)) = outermost(beam) else { continue };
        for (at, _) in beam.carries.iter().enumerate().filter(|(_, carries)| !**carries) {
            let rack = placed.racks.start + at;
            let subject = Subject::StringAtRack(placed.string, rack);
            if (first..=last).contains(&at) {
                judge.note(None, subject, || text![name(), " lifts off ", rack_name(figures, rack)]);
            } else {
                let end = if at < first { "front" } else { "rear" };
                let what = || {
                    let words = format!(" does not rest on {} at its {end} end", rack_name(figures, rack));
                    text![name(), words]
                };
                judge.fail(None, subject, what, Text::default);
            }
        }
        judge.pass(None, Subject::String(placed.string), || text!["strings press on every rack they cross"]);
    }
    judge.not_applicable(|| text!["no string lies on racks"]);
}

/// The first and the last support that carries.
fn outermost(beam: &BeamFigures) -> Option<(usize, usize)> {
    let first = beam.carries.iter().position(|carries| *carries)?;
    let last = beam.carries.iter().rposition(|carries| *carries)?;
    Some((first, last))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::Outcome;
    use crate::checks::trial::{expect, findings_of};
    use crate::fixtures::{empty_plan, place};
    use crate::model::Plan;
    use crate::units::Length;

    /// A string over two wagons whose racks stand `near_mm` either side of the middle.
    fn one_string(near_mm: i64, front_mm: i64, length_mm: i64) -> Plan {
        let mut plan = empty_plan(3);
        let racks = &mut plan.train.vehicle_types[0].racks;
        racks[0].at = Length::from_mm(-near_mm);
        racks[2].at = Length::from_mm(near_mm);
        place(&mut plan, "S1", length_mm, (1, 1, front_mm));
        plan
    }

    fn check(plan: Plan, expected: &[(Outcome, &str)]) {
        expect(&CHECK, plan, expected);
    }

    #[test]
    fn even_racks_carry_everywhere() {
        check(one_string(6_633, 2_000, 50_000), &[]);
        check(empty_plan(1), &[(Outcome::NotApplicable, "plan")]);
    }

    // Equal spans L, overhang c at the end: the second support lifts where c/L > 1.188 (mechanics.md 1), with
    // L 6.633 m where c > 7.880 m. Without the rack at 3.317 m the first one stands at 9.950 m.
    #[test]
    fn the_rack_behind_a_long_overhang_lifts_and_is_noted() {
        let overhang = |mm: i64| {
            let mut plan = one_string(6_633, 9_950 - mm, 40_000 + mm);
            let mut bare = plan.train.vehicle_types[0].clone();
            bare.name = crate::model::VehicleTypeName::new("Two racks").unwrap();
            bare.racks.remove(0);
            plan.train.vehicles[0].vehicle_type = bare.name.clone();
            plan.train.vehicle_types.push(bare);
            plan
        };
        check(overhang(7_870), &[]);
        check(overhang(7_890), &[(Outcome::Note, "string S1, vehicle W1 rack 2")]);
    }

    // Short end span 1 beside one span r: the end support lifts where r > 2.303 (mechanics.md 1). From the middle
    // rack of W1 to the first of W2 the spans are a and 19.9 - 2 a: r is 2.317 for a 4.610 m, 2.289 for 4.640 m.
    #[test]
    fn an_end_rack_beside_a_long_span_lifts_and_fails() {
        check(one_string(4_610, 9_950, 15_290), &[(Outcome::Fail, "string S1, vehicle W1 rack 2")]);
        check(one_string(4_640, 9_950, 15_260), &[]);
    }

    // Middle of three racks per wagon at spacing 1 with gap g between wagons: lifts where g > 1 + sqrt 2, here
    // spacing s and gap 19.9 - 2 s: s 4.509 m is the limit.
    #[test]
    fn the_middle_rack_of_a_wagon_with_wide_gaps_lifts_and_is_noted() {
        let long = |near_mm| {
            let mut plan = one_string(near_mm, 1_000, 20_000);
            plan.train.vehicles = empty_plan(9).train.vehicles;
            // Its ends are far from the middle wagon, W5: an influence dies by 0.268 per span (mechanics.md 1).
            plan.order[0].length = Length::from_mm(19_900 * 9 - 2_000);
            plan
        };
        let lifted = |plan: Plan| {
            let findings = findings_of(&CHECK, plan);
            findings.iter().any(|finding| {
                finding.outcome == Outcome::Note && finding.things.contains(&"vehicle W5 rack 2".to_owned())
            })
        };
        assert!(lifted(long(4_500)));
        assert!(!lifted(long(4_520)));
    }
}
