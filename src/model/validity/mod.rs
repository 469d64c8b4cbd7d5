//! What no plan may be: the invariants that reading and editing keep.
//!
//! Only what makes a plan meaningless is told here: names twice, references to nothing, numbers without sense.
//! What a sound plan does wrong (a string placed twice, a tier that no rack has, a step too early) is for the
//! checks to find, because a half-finished plan must be kept too.

mod loading;
mod material;
mod order_table;
mod report;
mod route;
mod train;

use super::Plan;
use report::Report;

/// A broken invariant and where it stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problem {
    /// The field's path as in the file, such as `order[3].length_mm` (items count from 0).
    pub path: String,
    /// What is wrong, with the value.
    pub what: String,
    /// What to do.
    pub mend: String,
}

/// Everything that is wrong with `plan`, in file order; empty for a sound plan.
pub fn problems(plan: &Plan) -> Vec<Problem> {
    let mut report = Report::default();
    train::look(plan, &mut report);
    material::look(plan, &mut report);
    loading::look(plan, &mut report);
    route::look(plan, &mut report);
    loading::look_at_records(plan, &mut report);
    report.problems
}

#[cfg(test)]
pub(super) mod tests {
    use super::problems;
    use crate::fixtures;
    use crate::model::Plan;

    /// A sound plan of three wagons with two strings and a drop.
    pub(super) fn sound() -> Plan {
        let mut plan = fixtures::empty_plan(3);
        fixtures::place(&mut plan, "A1", 36_000, (1, 1, 1_500));
        fixtures::place(&mut plan, "A2", 36_000, (1, 10, 1_500));
        plan.drops.push(fixtures::drop_off("Site 1", &["A1", "A2"]));
        plan
    }

    /// Changes a sound plan and compares the paths of its problems with `paths`.
    pub(super) fn check(change: impl Fn(&mut Plan), paths: &[&str]) {
        let mut plan = sound();
        change(&mut plan);
        let found = problems(&plan);
        let found_paths: Vec<&str> = found.iter().map(|problem| problem.path.as_str()).collect();
        assert_eq!(found_paths, paths, "{found:#?}");
        assert!(found.iter().all(|problem| !problem.what.is_empty() && !problem.mend.is_empty()));
    }

    #[test]
    fn the_reference_plan_is_sound() {
        check(|_| {}, &[]);
    }

    #[test]
    fn what_checks_shall_find_is_not_a_problem() {
        check(
            |plan| {
                plan.placements.push(plan.placements[0].clone());
                plan.placements[0].tier = 99;
                plan.placements[0].lane = 99;
                plan.placements[0].holds.clear();
                plan.placements[1].front = crate::units::Length::from_mm(-1_000_000);
                let again = plan.drops[0].steps[0].clone();
                plan.drops[0].steps.push(again);
            },
            &[],
        );
    }

    #[test]
    fn problems_come_in_file_order() {
        check(
            |plan| {
                plan.route.speed_kmh = Some(-1.0);
                plan.order[1].section = crate::model::SectionName::new("none").unwrap();
                plan.train.vehicle_types[0].tare_kg = 0.0;
            },
            &["train.vehicle_types[0].tare_kg", "order[1].section", "route.speed_kmh"],
        );
    }
}
