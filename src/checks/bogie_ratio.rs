//! Check `bogie-ratio`: the loads of the two bogies of a vehicle against each other.

use super::bearing::on_bogies;
use super::{Check, Comparison, Judge, Sense, Subject};
use crate::model::LimitKind;
use crate::statics::VehicleLoads;
use crate::text;
use crate::units::{Quantity, Text};

pub(crate) static CHECK: Check = Check {
    id: "bogie-ratio",
    title: "Front and rear bogie loads",
    what: "The heavier over the lighter bogie load, tare included, of every vehicle on bogies, against the bogie \
           load ratio.",
    why: "A bogie that carries little is easily lifted off or twisted out of the track by one that carries much.",
    mend: "Move strings toward the other bogie: let their ends come down on racks nearer to it, or end them one \
           rack earlier on this wagon.",
    source: "UIC Loading Guidelines vol. 1 sec. 3.3 as quoted in doi 10.1007/s11071-021-06386-3 (3 : 1); the \
             value that is judged by is the plan's.",
    run,
};

fn run(judge: &mut Judge<'_>) {
    let figures = judge.figures;
    let vehicles: Vec<usize> =
        (0..figures.consist.vehicles.len()).filter(|&vehicle| on_bogies(figures, vehicle)).collect();
    judge_support_ratio(judge, &vehicles, LimitKind::BogieRatio, "no vehicle of the train stands on bogies");
}

/// Judges the ratio of the two supports of `vehicles` against the limit of `kind`; `none` says that there are none.
pub(super) fn judge_support_ratio(
    judge: &mut Judge<'_>,
    vehicles: &[usize],
    kind: LimitKind,
    none: &'static str,
) {
    if vehicles.is_empty() {
        judge.not_applicable(text![none]);
        return;
    }
    let Some(limit) = judge.limit(kind) else { return };
    for &vehicle in vehicles {
        for (state, rule) in judge.states() {
            let Some(loads) = state.vehicles.get(vehicle) else { continue };
            let ratio = Quantity::ratio(loads.support_ratio());
            let comparison = Comparison::new(ratio, limit.by(rule), Sense::AtMost);
            judge.compare_with(Some(state.state), Subject::Vehicle(vehicle), comparison, || {
                heavier_end(loads)
            });
        }
    }
}

/// Which end is the heavier, and whether the other lifts.
fn heavier_end(loads: &VehicleLoads) -> Text {
    let [front, rear] = loads.supports;
    let end = if front.load_kg > rear.load_kg { ", front end heavier" } else { ", rear end heavier" };
    text![end, if loads.support_ratio().is_infinite() { ", the other lifts" } else { "" }]
}

#[cfg(test)]
mod tests {
    use super::CHECK;
    use crate::checks::Outcome::{Fail, Near, NotApplicable, Undecided};
    use crate::checks::bearing::testing::{check, findings, load_ahead, on_two_axles, worst_text};
    use crate::fixtures::{empty_plan, limit};
    use crate::model::LimitKind;

    // Shared facts, section 6: load over a pivot, tare 24 t, load 30 t: 42 t and 12 t, 3.5 : 1.
    #[test]
    fn a_load_over_a_pivot_fails() {
        let plan = load_ahead(24_000.0, 30_000.0, 7_100, 5);
        check(&CHECK, &plan, &[(Fail, "vehicle W1")]);
        assert!((findings(&CHECK, &plan)[0].comparison.unwrap().demand.value - 3.5).abs() < 1.0e-9);
        assert_eq!(worst_text(&CHECK, &plan), "vehicle W1: 3.50 : 1 of at most 3.00 : 1, front end heavier");
    }

    // Tare 24 t, 30 t at 13.2 m ahead of the middle, beyond the bogie: the rear one would have to pull.
    #[test]
    fn a_bogie_that_lifts_is_told() {
        let plan = load_ahead(24_000.0, 30_000.0, 13_200, 5);
        check(&CHECK, &plan, &[(Fail, "vehicle W1")]);
        assert!(worst_text(&CHECK, &plan).ends_with("front end heavier, the other lifts"));
    }

    // The gross centre a quarter of the pivot distance ahead gives 3 : 1: 24 t of tare and 24 t at the pivot,
    // 7.1 m ahead, have it at 3.55 m.
    #[test]
    fn the_ratio_is_three_at_a_quarter_of_the_pivot_distance() {
        check(&CHECK, &load_ahead(24_000.0, 24_000.0, 7_100, 5), &[(Near, "vehicle W1")]);
        check(&CHECK, &load_ahead(24_000.0, 24_000.0, -7_100, 5), &[(Near, "vehicle W1")]);
        check(&CHECK, &load_ahead(24_000.0, 24_010.0, 7_100, 5), &[(Fail, "vehicle W1")]);
        check(&CHECK, &load_ahead(24_000.0, 24_000.0, 3_550, 5), &[]);
    }

    #[test]
    fn an_empty_wagon_is_judged_by_its_tare() {
        let mut plan = empty_plan(1);
        check(&CHECK, &plan, &[]);
        plan.train.vehicle_types[0].tare_front_kg = Some(19_000.0);
        check(&CHECK, &plan, &[(Fail, "vehicle W1")]);
    }

    #[test]
    fn a_missing_limit_is_undecided_but_no_matter_without_bogies() {
        let mut plan = empty_plan(1);
        plan.limits.entries.remove(&LimitKind::BogieRatio);
        check(&CHECK, &plan, &[(Undecided, "limit bogie load ratio")]);
        on_two_axles(&mut plan, 9_000);
        check(&CHECK, &plan, &[(NotApplicable, "plan")]);
    }

    #[test]
    fn the_limit_is_the_plans() {
        let mut plan = load_ahead(24_000.0, 30_000.0, 7_100, 5);
        plan.limits.entries.insert(LimitKind::BogieRatio, limit(4.0));
        check(&CHECK, &plan, &[]);
    }
}
