//! Steps of drops, a row each, added behind those that are there.

use super::cells::{Cells, Spellings, YES_NO};
use super::fate::{Fate, Refusal, RowFate, Skip, shortened};
use super::keyed::{Reading, fate_of, no_row, skipped};
use super::names::{NameKind, Names, named};
use crate::edit::{Edit, Rows};
use crate::model::{Drop, DropName, Plan, Step, StepKind, StepStrings, StringMark, TrainEnd};
use std::collections::{BTreeMap, BTreeSet};

const WAYS: &Spellings<StepKind> = &[
    (StepKind::Off, &["off", "set down", "unload", "out", "drop"]),
    (StepKind::On, &["on", "pick up", "load", "in", "back"]),
];
const ENDS: &Spellings<TrainEnd> =
    &[(TrainEnd::Front, &["front", "f"]), (TrainEnd::Rear, &["rear", "r", "back"])];

/// What stands between the two marks of a pair.
const PAIRED_BY: [char; 4] = ['+', '&', '/', ','];

/// A line that was read.
struct ReadStep<'a> {
    cells: Cells<'a>,
    claim: Claim,
    notes: Vec<String>,
    read: Result<(DropName, Step), Refusal>,
}

/// Which strings a line moves and which way, as far as that can be read.
struct Claim {
    marks: Vec<String>,
    /// None where it cannot be read.
    way: Option<StepKind>,
}

/// The fates of the rows, and the edits that add their steps.
pub(super) fn take(reading: &Reading<'_>, names: &mut Names<'_>) -> (Vec<RowFate>, Vec<Edit>) {
    let mut fates = Vec::new();
    let mut lines = Vec::new();
    for line in reading.matching.rows(reading.table) {
        let cells = Cells::new(line, reading.matching);
        match no_row(cells, reading.table) {
            Some(skip) => fates.push(skipped(cells, skip)),
            None => lines.push(read_line(reading, cells, names)),
        }
    }
    let decided = decided(reading.plan, &lines);
    let mut added = Vec::new();
    for (line, fate) in lines.into_iter().zip(decided) {
        fates.push(match (fate, line.read) {
            (Err(refusal), _) | (_, Err(refusal)) => {
                RowFate { name: strings_written(line.cells), ..fate_of(line.cells, Fate::Refused(refusal)) }
            }
            (Ok(fate), Ok((drop, step))) => {
                let told = RowFate {
                    line: line.cells.line.number,
                    name: strings_words(&step),
                    cells: told(&drop, &step),
                    fate,
                    notes: line.notes,
                };
                if told.fate == Fate::New {
                    added.push((drop, step));
                }
                told
            }
        });
    }
    fates.sort_by_key(|fate| fate.line);
    (fates, edits(reading.plan, added, names))
}

fn read_line<'a>(reading: &Reading<'_>, cells: Cells<'a>, names: &mut Names<'_>) -> ReadStep<'a> {
    names.notes.clear();
    let read = cells.expect_width(reading.table).and_then(|()| step_of(cells, reading.plan, names));
    ReadStep { cells, claim: Claim::of(cells, reading.plan), notes: std::mem::take(&mut names.notes), read }
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

impl Claim {
    fn of(cells: Cells<'_>, plan: &Plan) -> Self {
        let words = |key| cells.words(key).ok().flatten();
        let pair =
            |words: &str| words.split_once(PAIRED_BY).map(|(a, b)| [a, b].map(|mark| mark.trim().to_owned()));
        let marks = match (words("string"), words("partner")) {
            (Some(strings), None) if !has(plan, strings) => {
                pair(strings).map_or_else(|| vec![strings.to_owned()], Vec::from)
            }
            (first, second) => first.into_iter().chain(second).map(str::to_owned).collect(),
        };
        Self { marks, way: cells.choice("way", WAYS).ok().map(|way| way.unwrap_or(StepKind::Off)) }
    }

    /// Whether both may move a string the same way.
    fn may_clash(&self, other: &Self) -> bool {
        self.way.is_none() || other.way.is_none() || self.way == other.way
    }
}

/// The fate of each line: new, in the plan already, said twice, or refused.
///
/// A string goes each way once, so of lines that move one string the same way and differ none is taken, nor one beside a
/// line that cannot be read, which may be the right one.
fn decided(plan: &Plan, lines: &[ReadStep<'_>]) -> Vec<Result<Fate, Refusal>> {
    let mut by_mark: BTreeMap<&str, BTreeSet<usize>> = BTreeMap::new();
    for (at, line) in lines.iter().enumerate() {
        for mark in &line.claim.marks {
            by_mark.entry(mark).or_default().insert(at);
        }
    }
    let decide = |(at, line): (usize, &ReadStep<'_>)| {
        let (drop, step) = line.read.as_ref().map_err(Refusal::clone)?;
        if let Some(fate) = fate_in_plan(plan, drop, step)? {
            return Ok(fate);
        }
        for mark in &line.claim.marks {
            let same_mark = by_mark.get(mark.as_str()).into_iter().flatten();
            let rivals: Vec<&ReadStep<'_>> = same_mark
                .filter_map(|at| lines.get(*at))
                .filter(|other| other.claim.may_clash(&line.claim))
                .collect();
            if let Some(why) = why_none_is_taken(&rivals) {
                return Err(line.cells.refused("string", format!("{} {why}", shortened(mark))));
            }
        }
        let is_same = |other: &&ReadStep<'_>| other.read.as_ref().ok() == Some(&(drop.clone(), step.clone()));
        let earlier = lines.iter().take(at).find(is_same);
        Ok(earlier.map_or(Fate::New, |earlier| Fate::Skipped(Skip::SameAs(earlier.cells.line.number))))
    };
    lines.iter().enumerate().map(decide).collect()
}

/// What the plan has of a step: it itself, or none of its strings going that way.
fn fate_in_plan(plan: &Plan, drop: &DropName, step: &Step) -> Result<Option<Fate>, Refusal> {
    let mut known = plan.drops.iter().flat_map(|drop| drop.steps.iter().map(move |step| (&drop.name, step)));
    if known.clone().any(|known| known == (drop, step)) {
        return Ok(Some(Fate::Unchanged));
    }
    let goes = |(_, known): &(&DropName, &Step)| {
        known.kind == step.kind
            && known.strings.marks().any(|mark| step.strings.marks().any(|own| own == mark))
    };
    let Some((drop, other)) = known.find(goes) else { return Ok(None) };
    let (way, words) = (way_word(step.kind), strings_words(other));
    Err(Refusal::row(format!("{words} goes {way} at {drop} already, by the plan; a string goes {way} once")))
}

/// Why none of the lines that may move one string the same way is taken; none where all say the same.
fn why_none_is_taken(rivals: &[&ReadStep<'_>]) -> Option<String> {
    let numbers = |lines: &mut dyn Iterator<Item = &&ReadStep<'_>>| {
        lines.map(|line| line.cells.line.number.to_string()).collect::<Vec<_>>().join(", ")
    };
    let all = numbers(&mut rivals.iter());
    let unread = numbers(&mut rivals.iter().filter(|line| line.read.is_err()));
    if !unread.is_empty() {
        return Some(format!(
            "is moved by lines {all}, of which {unread} cannot be read; leave the right one"
        ));
    }
    let mut steps = rivals.iter().map(|line| line.read.as_ref().ok());
    let first = steps.next();
    let differ = steps.any(|step| Some(step) != first);
    let way = rivals.first()?.claim.way.map(way_word)?;
    differ.then(|| {
        format!("goes {way} in lines {all}, which differ; a string goes {way} once: leave the right one")
    })
}

fn way_word(kind: StepKind) -> &'static str {
    match kind {
        StepKind::Off => "off",
        StepKind::On => "on",
    }
}

fn edits(plan: &Plan, steps: Vec<(DropName, Step)>, names: &Names<'_>) -> Vec<Edit> {
    let mut added: BTreeMap<DropName, Vec<Step>> = BTreeMap::new();
    for (drop, step) in steps {
        added.entry(drop).or_default().push(step);
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
    let way = way_word(step.kind);
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

    #[test]
    fn of_lines_that_move_one_string_the_same_way_and_differ_none_is_taken() {
        let differ = "goes off in lines 1, 3, which differ; a string goes off once: leave the right one";
        assert_eq!(
            fates(
                Kind::Steps,
                &plan(),
                "drop,string,way\nFar,S2,off\nFar,S3,off\nFar,S2 + S3,off\nFar,S2,on\n"
            ),
            [
                "1 skipped: the headers".to_owned(),
                format!("2 refused: String \"S2\": S2 {}", differ.replace("1, 3", "2, 4")),
                format!("3 refused: String \"S3\": S3 {}", differ.replace("1, 3", "3, 4")),
                format!("4 refused: String \"S2 + S3\": S2 {}", differ.replace("1, 3", "2, 4")),
                "5 new: ".to_owned(),
            ]
        );
    }

    #[test]
    fn a_step_is_not_taken_where_a_line_of_its_string_cannot_be_read() {
        let beside = |unread: &str| {
            let rows = format!("drop,string,way\nFar,S2,off\nFar,S3,off\n{unread}\n");
            refused(Kind::Steps, &plan(), &rows)
        };
        let why = "String \"S2\": S2 is moved by lines 2, 4, of which 4 cannot be read; leave the right one";
        for unread in ["Near,S2,off", "Far,S2,sideways", "Far,S2 + S9,off", "Far,S2,off,yes"] {
            let told = beside(unread);
            assert!(told.len() == 2 && told[0] == why, "{unread}: {told:?}");
        }
        assert_eq!(beside("Near,S2,on").len(), 1, "a string goes on, too");
        assert_eq!(beside("Near,S1,off").len(), 1);
    }
}
