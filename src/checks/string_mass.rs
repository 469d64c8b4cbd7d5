//! A string's stated mass agrees with its length and section.

use super::{Check, Comparison, Judge, Sense, Subject};
use crate::model::{LimitKind, MassEntry};
use crate::text;
use crate::units::Quantity;

/// The check.
pub(crate) static CHECK: Check = Check {
    id: "string-mass",
    title: "Stated mass",
    what: "The difference between a string's stated mass and length times mass per length of its section, as a \
           share of the latter.",
    why: "The plan goes by the stated mass; a slip in it, or a ton that was another ton, spoils every load.",
    mend: "Correct the mass, the length or the section, or let the mass be computed.",
    source: "common practice, no source; the value is the plan's limit",
    run,
};

fn run(judge: &mut Judge<'_>) {
    let figures = judge.figures;
    let stated: Vec<(usize, f64, f64)> = figures
        .plan
        .order
        .iter()
        .enumerate()
        .filter_map(|(index, string)| match string.mass {
            MassEntry::Computed => None,
            MassEntry::Stated { kg, .. } => {
                Some((index, kg, figures.plan.section(&string.section)?.mass_kg(string.length)))
            }
        })
        .collect();
    if stated.is_empty() {
        judge.not_applicable(|| text!["no string has a stated mass"]);
        return;
    }
    let Some(limit) = judge.limit(LimitKind::StatedMassDifference) else { return };
    for (string, stated_kg, computed_kg) in stated {
        let difference = Quantity::share((stated_kg - computed_kg).abs() / computed_kg);
        let comparison = Comparison::new(difference, limit.running, Sense::AtMost);
        judge.compare_with(None, Subject::String(string), comparison, || {
            text![": stated ", Quantity::mass(stated_kg), ", computed ", Quantity::mass(computed_kg)]
        });
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::Outcome;
    use crate::checks::trial::{expect, words};
    use crate::fixtures::{empty_plan, place};
    use crate::model::{Plan, StatedBasis};
    use crate::units::{KG_PER_LB, UnitSystem, parse_length, parse_mass_kg};

    fn one_string(length_mm: i64, kg_per_m: f64, stated_kg: f64) -> Plan {
        let mut plan = empty_plan(1);
        place(&mut plan, "S1", length_mm, (1, 1, 3_000));
        plan.sections[0].mass_kg_per_m = kg_per_m;
        plan.order[0].mass = MassEntry::Stated { kg: stated_kg, basis: StatedBasis::Document };
        plan
    }

    fn check(plan: Plan, expected: &[(Outcome, &str)]) {
        expect(&CHECK, plan, expected);
    }

    // 100 m at 60 kg/m are 6,000 kg; 5 % of it 300 kg; near from 285 kg.
    #[test]
    fn a_stated_mass_may_differ_up_to_the_limit_either_way() {
        for (stated_kg, expected) in [
            (6_000.0, None),
            (6_280.0, None),
            (6_299.0, Some(Outcome::Near)),
            (6_301.0, Some(Outcome::Fail)),
            (5_720.0, None),
            (5_701.0, Some(Outcome::Near)),
            (5_699.0, Some(Outcome::Fail)),
        ] {
            let expected: Vec<_> = expected.into_iter().map(|outcome| (outcome, "string S1")).collect();
            check(one_string(100_000, 60.0, stated_kg), &expected);
        }
    }

    // 1,320 ft of 136 lb/yd: 440 yd x 136 lb = 59,840 lb = 29.92 short tons (shared facts, section 6).
    #[test]
    fn thirty_seven_short_tons_typed_for_a_quarter_mile_string_fail() {
        let length = parse_length("1320 ft", UnitSystem::UsCustomary).unwrap();
        let kg_per_m = 136.0 * KG_PER_LB / 0.9144;
        let tons = |typed: &str| {
            let kg = parse_mass_kg(typed, UnitSystem::UsCustomary).unwrap();
            one_string(length.mm(), kg_per_m, kg)
        };
        check(tons("29.9 short tons"), &[]);
        let findings = expect(&CHECK, tons("37 short tons"), &[(Outcome::Fail, "string S1")]);
        assert_eq!(words(&findings), "string S1: 24 % of at most 5 %: stated 33.57 t, computed 27.14 t");
    }

    #[test]
    fn without_a_limit_it_is_undecided_and_without_stated_masses_not_applicable() {
        let mut plan = one_string(10_000, 60.0, 600.0);
        plan.limits.entries.remove(&LimitKind::StatedMassDifference);
        check(plan, &[(Outcome::Undecided, "limit difference of stated mass")]);
        let mut plan = one_string(10_000, 60.0, 600.0);
        plan.order[0].mass = MassEntry::Computed;
        check(plan, &[(Outcome::NotApplicable, "plan")]);
    }
}
