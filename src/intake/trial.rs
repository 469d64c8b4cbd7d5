//! What the unit tests of this module share: a small plan, and tables taken into it.

use super::{Choices, Fate, Intake, Kind, Outcome, Surroundings};
use crate::fixtures::{drop_off, empty_plan, place};
use crate::format::{self, Parting, read_pasted};
use crate::model::{Catalogue, Plan};
use crate::units::Style;

/// Three wagons, three strings of 18 m, of which the first goes off at drop `Far`.
pub(super) fn plan() -> Plan {
    let mut plan = empty_plan(3);
    for (number, mark) in ["S1", "S2", "S3"].into_iter().enumerate() {
        place(&mut plan, mark, 18_000, (1, number as u32 + 1, 500));
    }
    plan.drops.push(drop_off("Far", &["S1"]));
    plan
}

/// The catalogue that ships.
pub(super) fn catalogue() -> Catalogue {
    format::catalogue().unwrap()
}

/// The table taken in with what `say` says about it.
pub(super) fn choosing(kind: Kind, plan: &Plan, rows: &str, say: impl FnOnce(&mut Choices)) -> Intake {
    let mut choices = Choices::default();
    say(&mut choices);
    let table = read_pasted(rows, Parting::AsFound).unwrap();
    let around = Surroundings { plan, catalogue: &catalogue(), style: Style::default() };
    Intake::of(kind, &table, &around, &choices)
}

/// The table taken in unasked.
pub(super) fn intake(kind: Kind, plan: &Plan, rows: &str) -> Intake {
    choosing(kind, plan, rows, |_| {})
}

/// Each row's fate in words.
pub(super) fn fates(kind: Kind, plan: &Plan, rows: &str) -> Vec<String> {
    let told = intake(kind, plan, rows).rows;
    told.iter().map(|row| format!("{} {}: {}", row.line, row.fate.word(), row.words())).collect()
}

/// Why rows are refused.
pub(super) fn refused(kind: Kind, plan: &Plan, rows: &str) -> Vec<String> {
    let told = intake(kind, plan, rows).rows.into_iter();
    told.filter_map(|row| match row.fate {
        Fate::Refused(refusal) => Some(refusal.to_string()),
        _ => None,
    })
    .collect()
}

/// The plan with the table taken in.
pub(super) fn after(kind: Kind, plan: &Plan, rows: &str) -> Plan {
    let taken = intake(kind, plan, rows);
    match taken.outcome {
        Outcome::Edit { edit, .. } => edit.apply(plan).unwrap().plan,
        other => panic!("{other:?}: {:?}", taken.rows),
    }
}
