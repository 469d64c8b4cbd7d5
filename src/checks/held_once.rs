//! Each string is held lengthwise at exactly one place that can hold it.

use super::reading::{placement_of, rack_name, rack_named, rack_type_of, string_name};
use super::{Check, Judge, Subject};
use crate::model::{Hold, RackKind};
use crate::statics::PlacedString;
use crate::text;
use crate::units::Text;

/// The check.
pub(crate) static CHECK: Check = Check {
    id: "held-once",
    title: "Held once",
    what: "Each string has exactly one hold, at a clamping rack that stands under it.",
    why: "A string held nowhere moves along the train; one held at two wagons carries the train's own forces.",
    mend: "Give the string one hold at a clamping rack under it.",
    source: "common practice, no source",
    run,
};

fn run(judge: &mut Judge<'_>) {
    let figures = judge.figures;
    if figures.placed.is_empty() {
        judge.not_applicable(|| text!["no strings are on the train"]);
    }
    for placed in &figures.placed {
        let Some(placement) = placement_of(figures, placed) else { continue };
        let subject = Subject::String(placed.string);
        let name = || string_name(figures, placed.string);
        match placement.holds.as_slice() {
            [] => {
                let what = || text![name(), " is held nowhere: it can move along the train"];
                judge.fail(None, subject, what, Text::default);
            }
            [hold] => judge_hold(judge, placed, hold),
            holds => {
                let many = holds.len();
                let what = || {
                    text![name(), format!(" is held at {many} places: it would carry the train's own forces")]
                };
                judge.fail(None, subject, what, Text::default);
            }
        }
    }
}

fn judge_hold(judge: &mut Judge<'_>, placed: &PlacedString, hold: &Hold) {
    let figures = judge.figures;
    let subject = Subject::String(placed.string);
    let name = || string_name(figures, placed.string);
    let Some(rack) = rack_named(figures, hold) else {
        let what = || {
            let Hold { vehicle, rack } = hold;
            text![name(), format!(" is held at rack {rack} of vehicle {vehicle}, which is not there")]
        };
        judge.fail(None, subject, what, Text::default);
        return;
    };
    let clamps = rack_type_of(figures, rack).is_some_and(|kind| kind.kind == RackKind::Clamping);
    if !clamps {
        let what = || text![name(), " is held at ", rack_name(figures, rack), ", which cannot clamp"];
        judge.fail(None, subject, what, Text::default);
    } else if !placed.racks.contains(&rack) {
        let what = || text![name(), " is held at ", rack_name(figures, rack), ", which is not under it"];
        judge.fail(None, subject, what, Text::default);
    } else {
        judge.pass(None, subject, || text!["every string is held once, at a clamping rack under it"]);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::Outcome;
    use crate::checks::trial::{expect, words};
    use crate::fixtures::{empty_plan, place};
    use crate::model::{Plan, RackRef, VehicleMark};

    /// A string over racks 1 and 2 of W1 up to rack 2 of W2, with the given holds.
    fn held_at(holds: &[(&str, u32)]) -> Plan {
        let mut plan = empty_plan(2);
        place(&mut plan, "S1", 28_000, (1, 1, 3_000));
        plan.placements[0].holds = holds
            .iter()
            .map(|(vehicle, rack)| RackRef { vehicle: VehicleMark::new(vehicle).unwrap(), rack: *rack })
            .collect();
        plan
    }

    fn check(plan: Plan, told: &str) {
        let findings = expect(&CHECK, plan, &[(Outcome::Fail, "string S1")]);
        assert_eq!(words(&findings), told);
    }

    #[test]
    fn one_hold_passes_none_and_two_fail() {
        expect(&CHECK, held_at(&[("W1", 2)]), &[]);
        check(held_at(&[]), "string S1 is held nowhere: it can move along the train");
        check(
            held_at(&[("W1", 2), ("W2", 2)]),
            "string S1 is held at 2 places: it would carry the train's own forces",
        );
        expect(&CHECK, empty_plan(1), &[(Outcome::NotApplicable, "plan")]);
    }

    #[test]
    fn the_hold_must_be_there_under_the_string_and_clamp() {
        expect(&CHECK, held_at(&[("W2", 2)]), &[]);
        check(held_at(&[("W2", 3)]), "string S1 is held at vehicle W2 rack 3, which is not under it");
        check(held_at(&[("W2", 4)]), "string S1 is held at rack 4 of vehicle W2, which is not there");
        for kind in [RackKind::Roller, RackKind::Fixed] {
            let mut plan = held_at(&[("W1", 2)]);
            plan.train.rack_types[0].kind = kind;
            check(plan, "string S1 is held at vehicle W1 rack 2, which cannot clamp");
        }
    }
}
