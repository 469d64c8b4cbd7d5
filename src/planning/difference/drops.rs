//! What differs of the drops and of the order in which strings come off and on.

use super::matching::{Row, compare_rows, pairs};
use super::told::{Teller, of};
use super::{Change, ChangeTopic, ChangedThing};
use crate::model::{Drop, DropName, Step, StepKind, StepStrings, StringMark};
use crate::text;
use crate::units::{Quantity, QuantityKind, Text};

/// Tells what differs of the drops, then of their steps.
pub(super) fn compare_drops(changes: &mut Vec<Change>, before: &[Drop], after: &[Drop]) {
    compare_rows(changes, before, after);
    compare_steps(changes, &steps_of(before), &steps_of(after));
}

impl Row for Drop {
    type Key = DropName;
    const TOPIC: ChangeTopic = ChangeTopic::Drops;
    const THERE: &'static str = "planned";
    const PLACE: &'static str = "place among the drops";

    fn key(&self) -> DropName {
        self.name.clone()
    }

    fn thing(&self) -> ChangedThing {
        ChangedThing::Drop(self.name.clone())
    }

    fn words(&self) -> Text {
        text![format!("{} step{}", self.steps.len(), if self.steps.len() == 1 { "" } else { "s" })]
    }

    fn compare(&self, after: &Self, teller: &mut Teller<'_>) {
        // The steps are told of beside the drops, since a step may go from one drop to another.
        let Self {
            name: _,
            place,
            toward,
            gap_between,
            possession_min,
            handling_min,
            steps: _,
            chute_height,
            chute_roller_behind,
            chute_roller_lower,
            seat_offset,
        } = self;
        teller.tell("place", place, &after.place);
        teller.tell("strings go over the", *toward, after.toward);
        teller.tell("gap between strings", *gap_between, after.gap_between);
        let minutes = of(QuantityKind::Time, 60.0);
        teller.tell("possession", possession_min.map(&minutes), after.possession_min.map(&minutes));
        teller.tell("handling per step", handling_min.map(&minutes), after.handling_min.map(&minutes));
        teller.tell("chute above the seat", *chute_height, after.chute_height);
        teller.tell("chute roller behind", *chute_roller_behind, after.chute_roller_behind);
        teller.tell("chute roller lower by", *chute_roller_lower, after.chute_roller_lower);
        teller.tell("sideways to the seat", *seat_offset, after.seat_offset);
    }
}

/// A step with where it stands.
struct StepAt<'p> {
    drop: &'p DropName,
    /// From 1.
    number: usize,
    step: &'p Step,
}

impl StepAt<'_> {
    fn marks(&self) -> Vec<StringMark> {
        self.step.strings.marks().cloned().collect()
    }

    fn words(&self) -> Text {
        let of = match &self.step.strings {
            StepStrings::One(_) => String::new(),
            StepStrings::Pair { second, .. } => format!(", a pair with {second}"),
        };
        text![format!("step {} of {}{of}", self.number, self.drop)]
    }
}

fn steps_of(drops: &[Drop]) -> Vec<StepAt<'_>> {
    let steps = drops.iter().flat_map(|drop| {
        (1..).zip(&drop.steps).map(|(number, step)| StepAt { drop: &drop.name, number, step })
    });
    steps.collect()
}

/// Steps belong together where they move the same strings in the same order.
///
/// Steps that only have another number because one before them came or went are not told of.
fn compare_steps(changes: &mut Vec<Change>, before: &[StepAt<'_>], after: &[StepAt<'_>]) {
    for pair in pairs(before, after, StepAt::marks) {
        let Some(first) = pair.before.or(pair.after).and_then(|(_, at)| at.step.strings.marks().next())
        else {
            continue;
        };
        let mut teller = Teller::new(changes, ChangeTopic::Drops, ChangedThing::String(first.clone()));
        match (pair.before, pair.after) {
            (Some((_, one)), Some((_, two))) => {
                if pair.moved || one.drop != two.drop {
                    // Two equal places in words would be told as nothing.
                    let (from, to) = (Some(one.words()), Some(two.words()));
                    if from == to {
                        teller.tell("turn among the steps", pair_index(pair.before), pair_index(pair.after));
                    } else {
                        teller.came_or_went("unloading step", from, to);
                    }
                }
                compare_step(one.step, two.step, &mut teller);
            }
            (one, two) => teller.came_or_went(
                "unloading step",
                one.map(|(_, at)| at.words()),
                two.map(|(_, at)| at.words()),
            ),
        }
    }
}

fn pair_index<T>(side: Option<(usize, T)>) -> Option<Quantity> {
    side.map(|(at, _)| Quantity::count(at + 1))
}

fn compare_step(before: &Step, after: &Step, teller: &mut Teller<'_>) {
    let Step { kind, strings, toward } = before;
    let way = |kind: StepKind| match kind {
        StepKind::Off => "comes off",
        StepKind::On => "comes on",
    };
    teller.tell("way", way(*kind), way(after.kind));
    teller.tell("goes over the", *toward, after.toward);
    let together = |strings: &StepStrings| match strings {
        StepStrings::One(_) => None,
        StepStrings::Pair { first: _, second: _, together } => Some(*together),
    };
    teller.tell("the two go together", together(strings), together(&after.strings));
}
