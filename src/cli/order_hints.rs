//! Below the fates of an order's rows: the option that mends each kind of refusal.

use super::order_said::Said;
use crate::format::Table;
use crate::intake::{
    Asks, Fate, Field, Intake, NameKind, Surroundings, Unknown, column_called, column_words,
};

/// The options that mend what is refused, a line for each thing that is to be said.
pub(super) fn hints(said: &Said, (table, intake): (&Table, &Intake), around: &Surroundings<'_>) -> String {
    let mut lines = columns(table, intake);
    lines.extend(asked(intake, Asks::Unit).map(unit));
    if asked(intake, Asks::DecimalMark).next().is_some() {
        lines.push("To say the decimal mark: --decimal point (or comma)".to_owned());
    }
    let unsaid = intake.unknown.iter().filter(|unknown| !said.tells(unknown));
    lines.extend(unsaid.flat_map(|unknown| names(unknown, around)));
    lines.iter().map(|line| format!("{line}\n")).collect()
}

/// The fields of which a refused row asks this.
fn asked(intake: &Intake, asks: Asks) -> impl Iterator<Item = &'static Field> {
    let asks_it = move |field: &&Field| {
        intake.rows.iter().any(|row| {
            matches!(&row.fate, Fate::Refused(why) if why.asks == Some(asks) && why.field == field.title)
        })
    };
    intake.kind.fields().iter().filter(asks_it)
}

/// Of each field that a column must hold and none does: the columns of which one may.
fn columns(table: &Table, intake: &Intake) -> Vec<String> {
    let asks = asked(intake, Asks::Column).next().is_some();
    let lacks = |field: &Field| asks && intake.missing.iter().any(|missing| missing.key == field.key);
    let mut lines = Vec::new();
    for field in intake.kind.fields() {
        let doubtful = intake.matching.doubtful.iter().find(|(doubted, _)| doubted.key == field.key);
        let candidates = match doubtful {
            Some((_, columns)) => columns,
            None if lacks(field) => &intake.unused,
            None => continue,
        };
        let columns: Vec<String> =
            candidates.iter().map(|column| column_option(table, intake, *column)).collect();
        if let Some(one_of) = one_of(&columns) {
            lines.push(format!("To say which column holds {}: --column {}={one_of}", field.title, field.key));
        }
    }
    lines
}

/// A column as `--column` takes it: its header in quotes, or its number where that would not be understood.
fn column_option(table: &Table, intake: &Intake, column: usize) -> String {
    let words = column_words(table, &intake.matching, column);
    let is_it = column_called(table, &intake.matching, &words) == Some(column);
    if is_it && is_plain(&words) { format!("\"{words}\"") } else { format!("#{}", column + 1) }
}

fn unit(field: &'static Field) -> String {
    let quoted = |sign: &str| if sign.contains(' ') { format!("\"{sign}\"") } else { sign.to_owned() };
    let signs: Vec<String> = field.measure.units().iter().map(|unit| quoted(unit.sign)).collect();
    let one_of = one_of(&signs).unwrap_or_default();
    format!("To say the unit of {}: --unit {}={one_of}", field.title, field.key)
}

/// What may be meant by a name that the plan does not have.
fn names(unknown: &Unknown, around: &Surroundings<'_>) -> Vec<String> {
    let (kind, name) = (unknown.kind, &unknown.name);
    let option = match kind {
        NameKind::Drop => "--drop",
        NameKind::Section => "--section",
        NameKind::Steel => "--steel",
        // An order names none.
        NameKind::VehicleType => return Vec::new(),
    };
    let mut lines = Vec::new();
    if kind == NameKind::Drop {
        lines.push(format!("To make the drop: --new-drop \"{name}\""));
    }
    if let Some(like) = &unknown.like {
        lines.push(format!("To copy it from the catalogue: {option} \"{name}={like}\""));
        return lines;
    }
    let known: Vec<String> = around.names(kind).iter().map(|known| format!("\"{name}={known}\"")).collect();
    if let Some(one_of) = one_of(&known) {
        lines.push(format!("To take it for a {} of the plan: {option} {one_of}", kind.noun()));
    }
    lines
}

/// The most alternatives that a hint names.
const MOST_NAMED: usize = 8;

/// The first of several things that an option may be given, with the others behind it.
fn one_of(things: &[String]) -> Option<String> {
    let (first, others) = things.split_first()?;
    let more = if others.len() > MOST_NAMED { ", .." } else { "" };
    let named: Vec<&str> = others.iter().take(MOST_NAMED).map(String::as_str).collect();
    Some(if named.is_empty() { first.clone() } else { format!("{first} (or {}{more})", named.join(", ")) })
}

/// Whether words in quotes reach the program as they are, whatever shell reads them.
fn is_plain(words: &str) -> bool {
    !words.contains(['"', '$', '`', '\\', '!', '%'])
}
