//! Check `train-length`: the length of the whole train.

use super::{Check, Judge, Subject};
use crate::model::{LimitKind, Topic};
use crate::units::Quantity;

pub(crate) static CHECK: Check = Check {
    id: "train-length",
    title: "Length of the train",
    what: "The length of all vehicles together over their buffer faces, engines too, against the greatest length \
           of the train. It is the same in every state, so the running value holds.",
    why: "Loops, sidings and platforms on the route bound how long a train may be.",
    mend: "Take vehicles out of the train that carry nothing, or plan two trains.",
    source: "The limit is the plan's own; there is no general one.",
    run,
};

fn run(judge: &mut Judge<'_>) {
    if !judge.asked(Topic::TrainTotals) {
        return;
    }
    let Some(limit) = judge.limit(LimitKind::TrainLength) else { return };
    let length = Quantity::length(judge.figures.consist.length);
    judge.at_most(None, Subject::Train, length, limit.running);
}
