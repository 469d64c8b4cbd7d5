//! Check `train-mass`: the mass of the whole train.

use super::{Check, Judge, Subject};
use crate::model::{LimitKind, Topic};
use crate::units::Quantity;

pub(crate) static CHECK: Check = Check {
    id: "train-mass",
    title: "Mass of the train",
    what: "The gross mass of all vehicles together, engines too, against the most mass of the train.",
    why: "Brakes, couplings and gradients of the route bound what one train may weigh.",
    mend: "Leave strings for another train, or add what the limit depends on (an engine, brakes) and enter the \
           limit that then holds.",
    source: "The limit is the plan's own; there is no general one.",
    run,
};

fn run(judge: &mut Judge<'_>) {
    if !judge.asked(Topic::TrainTotals) {
        return;
    }
    let Some(limit) = judge.limit(LimitKind::TrainMass) else { return };
    for (state, rule) in judge.states() {
        judge.at_most(Some(state.state), Subject::Train, Quantity::mass(state.train_kg), limit.by(rule));
    }
}
