//! No string sags more between its racks than the limit.

use super::reading::rack_name;
use super::{Check, Comparison, Judge, Sense, Subject};
use crate::model::LimitKind;
use crate::text;
use crate::units::Quantity;

/// The check.
pub(crate) static CHECK: Check = Check {
    id: "string-sag",
    title: "Sag between racks",
    what: "The largest sag of each string under its own weight between neighbouring racks that carry it.",
    why: "A string that sags touches what lies below it, and climbs onto racks badly while it is moved.",
    mend: "Choose wagons whose racks stand closer, also across the couplings.",
    source: "three-moment equation; the value is the plan's limit",
    run,
};

fn run(judge: &mut Judge<'_>) {
    let figures = judge.figures;
    if !figures.placed.iter().any(|placed| placed.beam.is_ok()) {
        judge.not_applicable(|| text!["no string lies on racks"]);
        return;
    }
    let Some(limit) = judge.limit(LimitKind::Sag) else { return };
    for placed in &figures.placed {
        let Ok(beam) = &placed.beam else { continue };
        // Reversed, since of equal ones the last counts as the largest.
        let Some(span) = beam.spans.iter().rev().max_by(|a, b| a.sag_m.total_cmp(&b.sag_m)) else { continue };
        let subject = Subject::StringAtRack(placed.string, placed.racks.start + span.from);
        let comparison = Comparison::new(Quantity::small_length_m(span.sag_m), limit.running, Sense::AtMost);
        judge.compare_with(None, subject, comparison, || {
            text![" before ", rack_name(figures, placed.racks.start + span.to)]
        });
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::Outcome;
    use crate::checks::trial::{expect, findings_of};
    use crate::fixtures::{empty_plan, limit, place};
    use crate::model::Plan;
    use crate::units::Length;

    /// A string on the outer two racks of one wagon, 13.266 m apart, with no overhang.
    fn one_span() -> Plan {
        let mut plan = empty_plan(1);
        plan.train.vehicle_types[0].racks.remove(1);
        place(&mut plan, "S1", 13_266, (1, 1, 3_317));
        plan.placements[0].holds[0].rack = 1;
        plan
    }

    fn check(mut plan: Plan, sag_limit_m: f64, expected: &[(Outcome, &str)]) {
        plan.limits.entries.insert(LimitKind::Sag, limit(sag_limit_m));
        expect(&CHECK, plan, expected);
    }

    // By hand: 5 q l^4 / (384 E I), q = 60.21 x 9.80665 = 590.458 N/m, l^4 = 13.266^4 = 30,971.3 m4,
    // E I = 2.1e11 x 3038.3e-8 = 6,380,430 N m2:  91,436,434 / 2,450,085,120 = 37.320 mm.
    #[test]
    fn the_sag_of_a_single_span_is_that_of_the_simple_beam() {
        let findings = findings_of(&CHECK, one_span());
        let sag_m = findings[0].comparison.unwrap().demand.value;
        assert!((sag_m - 0.037_320).abs() < 5.0e-6, "{sag_m}");
    }

    #[test]
    fn the_sag_is_kept_from_both_sides_of_the_limit() {
        check(one_span(), 0.040, &[]);
        check(one_span(), 0.037_33, &[(Outcome::Near, "string S1, vehicle W1 rack 1")]);
        check(one_span(), 0.037_31, &[(Outcome::Fail, "string S1, vehicle W1 rack 1")]);
    }

    #[test]
    fn without_a_limit_it_is_undecided_and_without_strings_not_applicable() {
        let mut plan = one_span();
        plan.limits.entries.remove(&LimitKind::Sag);
        expect(&CHECK, plan, &[(Outcome::Undecided, "limit sag")]);
        check(empty_plan(1), 0.02, &[(Outcome::NotApplicable, "plan")]);
        let mut plan = one_span();
        plan.order[0].length = Length::from_mm(1_000);
        check(plan, 0.02, &[(Outcome::NotApplicable, "plan")]);
    }
}
