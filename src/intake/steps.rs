//! Steps of drops, a row each, added behind those that are there.

use super::cells::{Cells, Spellings, YES_NO};
use super::fate::{Fate, Refusal, RowFate, Skip, shortened};
use super::keyed::{Reading, fate_of, no_row, skipped};
use super::names::{NameKind, Names, named};
use crate::edit::{Edit, Rows};
use crate::model::{Drop, DropName, Plan, Step, StepKind, StepStrings, StringMark, TrainEnd};
use std::collections::BTreeMap;

const WAYS: &Spellings<StepKind> = &[
    (StepKind::Off, &["off", "set down", "unload", "out", "drop"]),
    (StepKind::On, &["on", "pick up", "load", "in", "back"]),
];
const ENDS: &Spellings<TrainEnd> =
    &[(TrainEnd::Front, &["front", "f"]), (TrainEnd::Rear, &["rear", "r", "back"])];

/// What stands between the two marks of a pair.
const PAIRED_BY: [char; 4] = ['+', '&', '/', ','];

/// A step that is in a drop already, or will be.
struct Known {
    drop: DropName,
    step: Step,
    /// The line that adds it; none: the plan has it.
    line: Option<usize>,
}

/// The fates of the rows, and the edits that add their steps.
pub(super) fn take(reading: &Reading<'_>, names: &mut Names<'_>) -> (Vec<RowFate>, Vec<Edit>) {
    let of_plan = reading.plan.drops.iter();
    let mut known: Vec<Known> = of_plan
        .flat_map(|drop| drop.steps.iter().map(|step| (drop.name.clone(), step.clone())))
        .map(|(drop, step)| Known { drop, step, line: None })
        .collect();
    let mut fates = Vec::new();
    for line in reading.matching.rows(reading.table) {
        let cells = Cells::new(line, reading.matching);
        if let Some(skip) = no_row(cells, reading.table) {
            fates.push(skipped(cells, skip));
            continue;
        }
        names.notes.clear();
        let read = cells
            .expect_width(reading.table)
            .and_then(|()| step_of(cells, reading.plan, names))
            .and_then(|(drop, step)| fate_among(&known, &drop, &step).map(|fate| (fate, drop, step)));
        fates.push(match read {
            Err(refusal) => {
                RowFate { name: strings_written(cells), ..fate_of(cells, Fate::Refused(refusal)) }
            }
            Ok((fate, drop, step)) => {
                let told = RowFate {
                    line: line.number,
                    name: strings_words(&step),
                    cells: told(&drop, &step),
                    fate,
                    notes: std::mem::take(&mut names.notes),
                };
                if told.fate == Fate::New {
                    known.push(Known { drop, step, line: Some(line.number) });
                }
                told
            }
        });
    }
    let edits = edits(reading.plan, known, names);
    (fates, edits)
}

fn step_of(cells: Cells<'_>, plan: &Plan, names: &mut Names<'_>) -> Result<(DropName, Step), Refusal> {
    let drop = named(NameKind::Drop, &names.find(NameKind::Drop, cells.said("drop")?)?)?;
    let strings = cells.said("string")?;
    let together = cells.choice("together", YES_NO)?;
    let pair = |first: &str, second: &str| {
        let (first, second) = (mark(cells, "string", first, plan)?, mark(cells, "partner", second, plan)?);
        if first == second {
            return Err(cells.refused("string", "a string cannot be a pair with itself"));
        }
        Ok(StepStrings::Pair { first, second, together: together.unwrap_or(false) })
    };
    let strings = match cells.words("partner")? {
        Some(partner) => pair(strings, partner)?,
        // A mark may hold a sign that parts pairs: the mark as a whole counts first.
        None if has(plan, strings) => StepStrings::One(mark(cells, "string", strings, plan)?),
        None => match strings.split_once(PAIRED_BY) {
            Some((first, second)) => pair(first.trim(), second.trim())?,
            None => StepStrings::One(mark(cells, "string", strings, plan)?),
        },
    };
    if together.is_some() && matches!(strings, StepStrings::One(_)) {
        names.notes.push("one string goes by itself".to_owned());
    }
    let kind = cells.choice("way", WAYS)?.unwrap_or(StepKind::Off);
    Ok((drop, Step { kind, strings, toward: cells.choice("toward", ENDS)? }))
}

fn has(plan: &Plan, words: &str) -> bool {
    plan.order.iter().any(|string| string.mark.as_str() == words)
}

fn mark(cells: Cells<'_>, key: &'static str, words: &str, plan: &Plan) -> Result<StringMark, Refusal> {
    let found = plan.order.iter().find(|string| string.mark.as_str() == words);
    let why = || format!("the order has no string \"{}\"; take in the order first", shortened(words));
    found.map(|string| string.mark.clone()).ok_or_else(|| cells.refused(key, why()))
}

/// New, or in the plan already, or said twice; a string goes each way once.
fn fate_among(known: &[Known], drop: &DropName, step: &Step) -> Result<Fate, Refusal> {
    if let Some(same) = known.iter().find(|known| known.drop == *drop && known.step == *step) {
        return Ok(same.line.map_or(Fate::Unchanged, |line| Fate::Skipped(Skip::SameAs(line))));
    }
    let goes = |known: &&Known| {
        known.step.kind == step.kind
            && known.step.strings.marks().any(|mark| step.strings.marks().any(|own| own == mark))
    };
    match known.iter().find(goes) {
        Some(other) => {
            let way = if step.kind == StepKind::Off { "off" } else { "on" };
            let words = strings_words(&other.step);
            let by = other.line.map_or_else(|| "the plan".to_owned(), |line| format!("line {line}"));
            let drop = &other.drop;
            Err(Refusal::row(format!(
                "{words} goes {way} at {drop} already, by {by}; a string goes {way} once"
            )))
        }
        None => Ok(Fate::New),
    }
}

fn edits(plan: &Plan, known: Vec<Known>, names: &Names<'_>) -> Vec<Edit> {
    let mut added: BTreeMap<DropName, Vec<Step>> = BTreeMap::new();
    for new in known.into_iter().filter(|known| known.line.is_some()) {
        added.entry(new.drop).or_default().push(new.step);
    }
    let change = |(name, steps): (DropName, Vec<Step>)| {
        let mut to: Drop = plan.drop_named(&name).or_else(|| names.made_drop(name.as_str()))?.clone();
        to.steps.extend(steps);
        Some(Edit::Drops(Rows::Change { name, to }))
    };
    added.into_iter().filter_map(change).collect()
}

fn strings_written(cells: Cells<'_>) -> String {
    cells.written().get(1).map(|words| shortened(words)).unwrap_or_default()
}

fn strings_words(step: &Step) -> String {
    step.strings.marks().map(StringMark::as_str).collect::<Vec<_>>().join(" + ")
}

fn told(drop: &DropName, step: &Step) -> Vec<String> {
    let mut marks = step.strings.marks().map(ToString::to_string);
    let (first, second) = (marks.next().unwrap_or_default(), marks.next().unwrap_or_default());
    let together = match step.strings {
        StepStrings::One(_) => "",
        StepStrings::Pair { together: true, .. } => "yes",
        StepStrings::Pair { together: false, .. } => "no",
    };
    let way = if step.kind == StepKind::Off { "off" } else { "on" };
    let toward = match step.toward {
        None => "",
        Some(TrainEnd::Front) => "front",
        Some(TrainEnd::Rear) => "rear",
    };
    vec![drop.to_string(), first, second, way.to_owned(), together.to_owned(), toward.to_owned()]
}

#[cfg(test)]
mod tests {
    use super::super::kinds::Kind;
    use super::super::trial::{after, fates, plan, refused};

    #[test]
    fn steps_are_added_behind_those_that_are_there() {
        let longer = after(Kind::Steps, &plan(), "Far\tS2 + S3\n");
        let steps: Vec<String> = longer.drops[0].steps.iter().map(super::strings_words).collect();
        assert_eq!(steps, ["S1", "S2 + S3"]);
        let longer = after(Kind::Steps, &plan(), "drop,string,partner,way,together\nFar,S2,S3,on,yes\n");
        assert!(matches!(
            longer.drops[0].steps[1].strings,
            crate::model::StepStrings::Pair { together: true, .. }
        ));
    }

    #[test]
    fn a_step_is_said_once_and_a_string_goes_each_way_once() {
        assert_eq!(
            fates(Kind::Steps, &plan(), "Far\tS1\nFar\tS2\nFar\tS2\n"),
            ["1 unchanged: as in the plan", "2 new: ", "3 skipped: says the same as line 2",]
        );
        let why = refused(Kind::Steps, &plan(), "Far\tS1 + S2\nFar\tS9\nNear\tS2\n");
        assert_eq!(
            why,
            [
                "S1 goes off at Far already, by the plan; a string goes off once",
                "String \"S9\": the order has no string \"S9\"; take in the order first",
                "drop \"Near\": the plan has no such drop; add it first, or say which is meant",
            ]
        );
    }
}
