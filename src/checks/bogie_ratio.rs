//! Check `bogie-ratio`: the loads of the two bogies of a vehicle against each other.

use super::bearing::on_bogies;
use super::{Check, Judge, Subject};
use crate::model::LimitKind;
use crate::text;
use crate::units::Quantity;

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
            judge.at_most(Some(state.state), Subject::Vehicle(vehicle), ratio, limit.by(rule));
        }
    }
}
