//! Rows known by a name: read, told apart, compared with the plan's, and turned into edits.

use super::cells::{Cells, Told, first_words};
use super::fate::{Asks, Change, Fate, Refusal, RowFate, Skip, shortened};
use super::kinds::Kind;
use super::matching::Matching;
use super::names::{Names, as_number, loose};
use crate::edit::{Edit, Row, Rows};
use crate::format::Table;
use crate::model::{NameError, Plan};
use crate::units::Style;
use std::collections::BTreeMap;
use std::fmt::Display;
use std::str::FromStr;

/// A row of one of the plan's tables that can be taken in.
pub(super) trait TakenRow: Row<Name: FromStr<Err = NameError> + Display> {
    /// What the table holds.
    const KIND: Kind;
    /// The key of the field that names it.
    const KEY: &'static str;

    /// The row that the cells make of `old`, or make anew.
    fn read(
        cells: Cells<'_>,
        name: Self::Name,
        old: Option<&Self>,
        names: &mut Names<'_>,
    ) -> Result<Self, Refusal>;

    /// What it says of each field of its kind.
    fn told(&self, style: Style) -> Vec<Told>;

    /// The edit that changes the plan's rows.
    fn edit(rows: Rows<Self>) -> Edit;
}

/// What is needed to read rows.
pub(super) struct Reading<'a> {
    pub(super) plan: &'a Plan,
    pub(super) style: Style,
    pub(super) table: &'a Table,
    pub(super) matching: &'a Matching,
}

/// A line that was read.
struct ReadLine<'a, R: TakenRow> {
    cells: Cells<'a>,
    /// The name as written, or the first words where no column holds it.
    name: String,
    /// The name, where it can be read; the rest of the row may be unreadable.
    key: Option<R::Name>,
    notes: Vec<String>,
    row: Result<R, Refusal>,
}

/// The fates of the rows, and the edits that take them in.
pub(super) fn take<R: TakenRow>(reading: &Reading<'_>, names: &mut Names<'_>) -> (Vec<RowFate>, Vec<Edit>) {
    let mut fates = Vec::new();
    let mut read: Vec<ReadLine<'_, R>> = Vec::new();
    for line in reading.matching.rows(reading.table) {
        let cells = Cells::new(line, reading.matching);
        match no_row(cells, reading.table) {
            Some(skip) => fates.push(skipped(cells, skip)),
            None => read.push(read_line(reading, cells, names)),
        }
    }
    let twins = tell_twins_apart(&mut read);
    let mut edits = Vec::new();
    for (line, twin) in read.into_iter().zip(twins) {
        let fate = match (twin, line.row) {
            (Some(first), _) => fate_of(line.cells, Fate::Skipped(Skip::SameAs(first))),
            (None, Err(refusal)) => fate_of(line.cells, Fate::Refused(refusal)),
            (None, Ok(row)) => {
                let old = R::rows(reading.plan).iter().find(|old| old.name() == row.name());
                let told = row.told(reading.style);
                let fate = fate_against(old, &row, &told, reading.style);
                match fate {
                    Fate::New => edits.push(R::edit(Rows::Add { at: None, row: row.clone() })),
                    Fate::Update(_) => {
                        let name = row.name().clone();
                        edits.push(R::edit(Rows::Change { name, to: row.clone() }));
                    }
                    _ => {}
                }
                let cells = told.into_iter().map(|told| told.shown).collect();
                RowFate {
                    line: line.cells.line.number,
                    name: line.name.clone(),
                    cells,
                    fate,
                    notes: Vec::new(),
                }
            }
        };
        fates.push(RowFate { name: shortened(&line.name), notes: line.notes, ..fate });
    }
    fates.sort_by_key(|fate| fate.line);
    (fates, edits)
}

/// Why a line is no row, where it is none.
pub(super) fn no_row(cells: Cells<'_>, table: &Table) -> Option<Skip> {
    if cells.line.is_blank() {
        return Some(Skip::Blank);
    }
    cells.are_headers_again(table).then_some(Skip::HeaderAgain)
}

/// The fate of a line that is no row.
pub(super) fn skipped(cells: Cells<'_>, skip: Skip) -> RowFate {
    fate_of(cells, Fate::Skipped(skip))
}

/// The fate of a line with its cells as written.
pub(super) fn fate_of(cells: Cells<'_>, fate: Fate) -> RowFate {
    let shown = cells.written().iter().map(|cell| shortened(cell)).collect();
    RowFate { line: cells.line.number, name: String::new(), cells: shown, fate, notes: Vec::new() }
}

fn read_line<'a, R: TakenRow>(
    reading: &Reading<'_>,
    cells: Cells<'a>,
    names: &mut Names<'_>,
) -> ReadLine<'a, R> {
    names.notes.clear();
    let said = cells.said(R::KEY);
    let key = said.as_ref().ok().and_then(|name| name.parse().ok());
    let name = match said {
        Ok(name) => name.to_owned(),
        // No column is known to hold it: the row is called by its first words, so that it can be told from others.
        Err(refusal) if refusal.asks == Some(Asks::Column) => first_words(cells.line),
        Err(_) => String::new(),
    };
    let row = cells.expect_width(reading.table).and_then(|()| {
        let said = cells.said(R::KEY)?;
        let key: R::Name =
            said.parse().map_err(|error: NameError| cells.refused(R::KEY, error.to_string()))?;
        let old = R::rows(reading.plan).iter().find(|old| *old.name() == key);
        if old.is_none() {
            note_likeness::<R>(reading.plan, said, names);
        }
        R::read(cells, key, old, names)
    });
    let notes = if row.is_ok() { std::mem::take(&mut names.notes) } else { Vec::new() };
    ReadLine { cells, key, name, notes, row }
}

/// A new row that is spelt nearly as one of the plan's may be meant for that one.
fn note_likeness<R: TakenRow>(plan: &Plan, said: &str, names: &mut Names<'_>) {
    let as_it = |name: &str| {
        let same_number = || Some(as_number(name)?.total_cmp(&as_number(said)?).is_eq());
        loose(name) == loose(said) || same_number() == Some(true)
    };
    let alike = R::rows(plan).iter().find(|old| as_it(&old.name().to_string()));
    if let Some(old) = alike {
        names.notes.push(format!("another {} than the plan's {}", R::NOUN, old.name()));
    }
}

/// Of rows with one name that say the same the first is taken, and none where they differ or one cannot be read, which
/// may be the right one; answers for each row the line of an earlier one that says the same.
fn tell_twins_apart<R: TakenRow>(read: &mut [ReadLine<'_, R>]) -> Vec<Option<usize>> {
    let mut by_name: BTreeMap<String, Vec<usize>> = BTreeMap::new();
    for (at, line) in read.iter().enumerate() {
        if let Some(key) = &line.key {
            by_name.entry(key.to_string()).or_default().push(at);
        }
    }
    let mut twins = vec![None; read.len()];
    for same_name in by_name.values().filter(|lines| lines.len() > 1) {
        let lines: Vec<&ReadLine<'_, R>> = same_name.iter().filter_map(|at| read.get(*at)).collect();
        let first = lines.first().map(|line| line.cells.line.number);
        let Some(why) = why_none_is_taken(&lines) else {
            same_name.iter().skip(1).for_each(|at| twins[*at] = first);
            continue;
        };
        for at in same_name {
            let line = &mut read[*at];
            // A row that cannot be read keeps its own reason.
            if line.row.is_ok() {
                line.row = Err(line.cells.refused(R::KEY, why.clone()));
            }
        }
    }
    twins
}

/// Why none of the rows with one name is taken; none where all say the same.
fn why_none_is_taken<R: TakenRow>(lines: &[&ReadLine<'_, R>]) -> Option<String> {
    let numbers = |lines: &mut dyn Iterator<Item = &&ReadLine<'_, R>>| {
        lines.map(|line| line.cells.line.number.to_string()).collect::<Vec<_>>().join(", ")
    };
    let all = numbers(&mut lines.iter());
    if lines.iter().any(|line| line.row.is_err()) {
        let unread = numbers(&mut lines.iter().filter(|line| line.row.is_err()));
        return Some(format!(
            "lines {all} have the same, of which {unread} cannot be read; leave the right one"
        ));
    }
    let mut rows = lines.iter().map(|line| line.row.as_ref().ok());
    let first = rows.next();
    let differ = rows.any(|row| Some(row) != first);
    differ.then(|| format!("lines {all} have the same and differ; leave the right one"))
}

fn fate_against<R: TakenRow>(old: Option<&R>, row: &R, told: &[Told], style: Style) -> Fate {
    let Some(old) = old else { return Fate::New };
    let before = old.told(style);
    let pairs = R::KIND.fields().iter().zip(before.into_iter().zip(told));
    let changes: Vec<Change> = pairs
        .filter(|(_, (from, to))| from.exact != to.exact)
        .map(|(field, (from, to))| {
            let (from, to) = match from.shown == to.shown {
                true => (from.exact, to.exact.clone()),
                false => (from.shown, to.shown.clone()),
            };
            let word = |told: String| if told.is_empty() { "none".to_owned() } else { told };
            Change { what: field.title, from: word(from), to: word(to) }
        })
        .collect();
    if old == row { Fate::Unchanged } else { Fate::Update(changes) }
}
