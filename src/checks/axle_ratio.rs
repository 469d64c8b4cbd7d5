//! Check `axle-ratio`: the loads of the two axles of a two-axle vehicle against each other.

use super::bearing::on_bogies;
use super::bogie_ratio::judge_support_ratio;
use super::{Check, Judge};
use crate::model::LimitKind;

pub(crate) static CHECK: Check = Check {
    id: "axle-ratio",
    title: "Front and rear axle loads",
    what: "The heavier over the lighter axle load, tare included, of every two-axle vehicle, against the axle \
           load ratio of two-axle vehicles.",
    why: "An axle that carries little is easily lifted off or twisted out of the track by one that carries much.",
    mend: "Move strings toward the other axle: let their ends come down on racks nearer to it, or end them one \
           rack earlier on this wagon.",
    source: "2 : 1 is known from memory, unconfirmed; the value that is judged by is the plan's.",
    run,
};

fn run(judge: &mut Judge<'_>) {
    let figures = judge.figures;
    let vehicles: Vec<usize> =
        (0..figures.consist.vehicles.len()).filter(|&vehicle| !on_bogies(figures, vehicle)).collect();
    judge_support_ratio(judge, &vehicles, LimitKind::TwoAxleRatio, "no two-axle vehicle in the train");
}

#[cfg(test)]
mod tests {
    use super::CHECK;
    use crate::checks::Outcome::{Fail, Near, NotApplicable, Undecided};
    use crate::checks::bearing::testing::{check, load_ahead, on_two_axles};
    use crate::fixtures::empty_plan;
    use crate::model::{LimitKind, Plan};

    // Axles 9 m apart, tare 12 t, 12 t at 3 m ahead: 6 + 12 (1/2 + 3/9) = 16 t and 8 t, 2 : 1.
    fn two_axles(load_kg: f64) -> Plan {
        let mut plan = load_ahead(12_000.0, load_kg, 3_000, 5);
        on_two_axles(&mut plan, 9_000);
        plan
    }

    #[test]
    fn the_ratio_of_two_axles_is_kept_up_to_two_and_no_further() {
        check(&CHECK, &two_axles(12_000.0), &[(Near, "vehicle W1")]);
        check(&CHECK, &two_axles(12_010.0), &[(Fail, "vehicle W1")]);
        check(&CHECK, &two_axles(6_000.0), &[]);
    }

    #[test]
    fn a_missing_limit_is_undecided_but_no_matter_without_two_axle_vehicles() {
        let mut plan = empty_plan(1);
        plan.limits.entries.remove(&LimitKind::TwoAxleRatio);
        check(&CHECK, &plan, &[(NotApplicable, "plan")]);
        on_two_axles(&mut plan, 9_000);
        check(&CHECK, &plan, &[(Undecided, "limit axle load ratio of two-axle vehicles")]);
    }
}
