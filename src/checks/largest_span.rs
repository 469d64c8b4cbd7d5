//! No span between racks that carry is longer than the limit.

use super::reading::rack_name;
use super::{Check, Comparison, Judge, Sense, Subject};
use crate::model::LimitKind;
use crate::text;
use crate::units::Quantity;

/// The check.
pub(crate) static CHECK: Check = Check {
    id: "largest-span",
    title: "Largest span",
    what: "The longest span of each string between neighbouring racks that carry it.",
    why: "A long span lets the string buckle sideways under braking and sag onto what lies below.",
    mend: "Choose wagons whose racks stand closer, also across the couplings.",
    source: "common practice, no source; the value is the plan's limit",
    run,
};

fn run(judge: &mut Judge<'_>) {
    let figures = judge.figures;
    if !figures.placed.iter().any(|placed| placed.beam.is_ok()) {
        judge.not_applicable(|| text!["no string lies on racks"]);
        return;
    }
    let Some(limit) = judge.limit(LimitKind::LargestSpan) else { return };
    for placed in &figures.placed {
        let Ok(beam) = &placed.beam else { continue };
        // Reversed, since of equal ones the last counts as the largest.
        let Some(span) = beam.spans.iter().rev().max_by(|a, b| a.length_m.total_cmp(&b.length_m)) else {
            continue;
        };
        let subject = Subject::StringAtRack(placed.string, placed.racks.start + span.from);
        let comparison = Comparison::new(Quantity::length_m(span.length_m), limit.running, Sense::AtMost);
        judge.compare_with(None, subject, comparison, || {
            text![" to ", rack_name(figures, placed.racks.start + span.to)]
        });
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::Outcome;
    use crate::checks::trial::{expect, words};
    use crate::fixtures::{empty_plan, place};
    use crate::model::Plan;
    use crate::units::Length;

    /// Racks `near_mm` either side of the wagons' middles: the span across the coupling is 19.9 m less twice that.
    fn one_string(near_mm: i64) -> Plan {
        let mut plan = empty_plan(3);
        let racks = &mut plan.train.vehicle_types[0].racks;
        racks[0].at = Length::from_mm(-near_mm);
        racks[2].at = Length::from_mm(near_mm);
        place(&mut plan, "S1", 36_000, (1, 1, 1_000));
        plan
    }

    fn check(plan: Plan, expected: &[(Outcome, &str)]) {
        expect(&CHECK, plan, expected);
    }

    // Limit 9 m. Racks at 5.450 m: 9.000 m; at 5.449 m: 9.002 m; at 5.700 m: 8.500 m, 94 % of it.
    #[test]
    fn the_span_across_a_coupling_is_judged_from_both_sides_of_the_limit() {
        check(one_string(5_700), &[]);
        check(one_string(5_450), &[(Outcome::Near, "string S1, vehicle W1 rack 3")]);
        let findings = expect(&CHECK, one_string(5_449), &[(Outcome::Fail, "string S1, vehicle W1 rack 3")]);
        let told = "string S1, vehicle W1 rack 3: 9.002 m of at most 9.000 m to vehicle W2 rack 1";
        assert_eq!(words(&findings), told);
    }

    #[test]
    fn without_a_limit_it_is_undecided_and_without_strings_not_applicable() {
        let mut plan = one_string(5_700);
        plan.limits.entries.remove(&LimitKind::LargestSpan);
        check(plan, &[(Outcome::Undecided, "limit largest span")]);
        check(empty_plan(1), &[(Outcome::NotApplicable, "plan")]);
    }
}
