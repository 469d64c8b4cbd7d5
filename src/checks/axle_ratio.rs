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
