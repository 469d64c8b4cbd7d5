//! A small plan to edit in tests, and the two ways an edit can end.

use super::{Applied, Edit, EditError};
use crate::fixtures;
use crate::model::{Plan, RackRef, StringMark, VehicleMark, problems};

/// Three reference wagons W1 to W3; S1, S2 (a pair) and S3 on them, S4 in the yard; drops `Far` and `Near`.
pub(super) fn plan() -> Plan {
    let mut plan = fixtures::empty_plan(3);
    fixtures::place(&mut plan, "S1", 36_000, (1, 1, 2_000));
    fixtures::place(&mut plan, "S2", 36_000, (1, 10, 2_000));
    fixtures::place(&mut plan, "S3", 16_000, (2, 4, 42_000));
    fixtures::place(&mut plan, "S4", 20_000, (2, 5, 2_000));
    plan.placements.pop();
    plan.drops = vec![fixtures::drop_off("Far", &["S1", "S2"]), fixtures::drop_off("Near", &["S3"])];
    assert!(problems(&plan).is_empty());
    plan
}

/// The mark of a string.
pub(super) fn string(mark: &str) -> StringMark {
    StringMark::new(mark).unwrap()
}

/// The mark of a vehicle.
pub(super) fn wagon(mark: &str) -> VehicleMark {
    VehicleMark::new(mark).unwrap()
}

/// A rack of a vehicle.
pub(super) fn rack(vehicle: &str, rack: u32) -> RackRef {
    RackRef { vehicle: wagon(vehicle), rack }
}

/// Applies an edit that must succeed and must leave a sound plan.
pub(super) fn applied(plan: &Plan, edit: &Edit) -> Applied {
    let applied = edit.apply(plan).unwrap_or_else(|error| panic!("{}: {error}", edit.label()));
    assert_eq!(problems(&applied.plan), problems(plan));
    applied
}

/// The plan after an edit that must succeed and send nothing to the yard.
pub(super) fn after(plan: &Plan, edit: &Edit) -> Plan {
    let applied = applied(plan, edit);
    assert!(applied.returned_to_yard.is_empty(), "{:?}", applied.returned_to_yard);
    applied.plan
}

/// Applies an edit that must be refused.
pub(super) fn refused(plan: &Plan, edit: &Edit) -> EditError {
    let untouched = plan.clone();
    let error = edit.apply(plan).map(|applied| applied.plan).expect_err(&edit.label());
    assert_eq!(*plan, untouched);
    error
}
