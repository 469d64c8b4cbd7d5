//! What becomes of a table that is taken in, in plain text: how it was read, and the fate of every line.

use super::layout::{counted, paragraph};
use crate::format::{Separator, Table, TableLine};
use crate::intake::{Intake, Measure, Outcome, column_words};
use crate::units::DecimalMark;

/// How a table was read and what becomes of each of its lines, for a reader.
pub fn intake_report(label: &str, table: &Table, intake: &Intake) -> String {
    let mut out = String::new();
    paragraph(&mut out, "Table:    ", "          ", &format!("{label}: {}", read_as(table, intake)));
    columns(&mut out, table, intake);
    let mark = intake.rows.iter().map(|row| row.name.chars().count()).max().unwrap_or(0);
    let digits = table.lines.last().map_or(1, |line| line.number.to_string().len()).max(4);
    out.push('\n');
    out.push_str(&format!("{:>digits$}  {:<mark$}  fate\n", "line", "row"));
    for row in &intake.rows {
        let first = format!("{:>digits$}  {:<mark$}  {:<9}  ", row.line, row.name, row.fate.word());
        let rest = " ".repeat(digits + mark + 15);
        paragraph(&mut out, &first, &rest, &row.words());
    }
    out.push('\n');
    paragraph(&mut out, "", "", &sum_words(intake));
    for unknown in &intake.unknown {
        let rows = counted(unknown.rows, "row", "rows");
        let like =
            unknown.like.as_ref().map(|like| format!("; the catalogue has {like}")).unwrap_or_default();
        let words = format!("not in the plan: {} \"{}\" of {rows}{like}", unknown.kind.noun(), unknown.name);
        paragraph(&mut out, "", "", &words);
    }
    for (field, columns) in &intake.matching.doubtful {
        let columns: Vec<String> = columns.iter().map(|column| quoted(table, intake, *column)).collect();
        let words = format!("{} may stand in {}; say in which", field.title, columns.join(" and in "));
        paragraph(&mut out, "", "", &words);
    }
    match &intake.outcome {
        Outcome::Obstacle(why) => paragraph(&mut out, "", "", &format!("the rows cannot be taken in: {why}")),
        Outcome::Edit { returned_to_yard, .. } if !returned_to_yard.is_empty() => {
            let marks: Vec<&str> = returned_to_yard.iter().map(|mark| mark.as_str()).collect();
            paragraph(&mut out, "", "", &format!("back to the yard list: {}", marks.join(", ")));
        }
        _ => {}
    }
    out
}

/// How many rows have which fate, in a sentence.
pub fn sum_words(intake: &Intake) -> String {
    let counts = intake.counts();
    let rows = counts.new + counts.changed + counts.unchanged + counts.refused;
    let parts = [
        (counts.new, "new"),
        (counts.changed, "changed"),
        (counts.unchanged, "unchanged"),
        (counts.refused, "refused"),
    ];
    let parts = parts.iter().filter(|(count, _)| *count > 0).map(|(count, word)| format!("{count} {word}"));
    let parts: Vec<String> = parts.collect();
    let fates = if parts.is_empty() { "none to take in".to_owned() } else { parts.join(", ") };
    let lines = counted(counts.skipped, "other line skipped", "other lines skipped");
    format!("{}: {fates}; {lines}", counted(rows, "row", "rows"))
}

/// How a table was read, in a few words.
pub fn read_as(table: &Table, intake: &Intake) -> String {
    let header = intake.matching.header.and_then(|header| table.lines.get(header));
    let headers = |line: &TableLine| format!("headers in line {}", line.number);
    let decimal = match intake.matching.decimal() {
        Some(DecimalMark::Point) => "decimal point, ",
        Some(DecimalMark::Comma) => "decimal comma, ",
        None => "",
    };
    format!(
        "{}, cells parted by {}, {decimal}{}",
        table.encoding,
        match table.separator {
            Separator::Comma => "commas",
            Separator::Semicolon => "semicolons",
            Separator::Tab => "tabs",
        },
        header.map_or_else(|| "no headers".to_owned(), headers),
    )
}

fn columns(out: &mut String, table: &Table, intake: &Intake) {
    let mut first = "Columns:  ";
    for matched in &intake.matching.columns {
        let Some(column) = matched.column else { continue };
        let unit = match (matched.field.measure, matched.unit) {
            (Measure::Words, _) => String::new(),
            (_, Some(unit)) => format!(", in {}", unit.sign),
            (_, None) => ", unit not known".to_owned(),
        };
        let words = format!("{} from {}{unit}", matched.field.title, quoted(table, intake, column));
        paragraph(out, first, "          ", &words);
        first = "          ";
    }
    if !intake.unused.is_empty() {
        let unused: Vec<String> = intake.unused.iter().map(|column| quoted(table, intake, *column)).collect();
        paragraph(out, "Not used: ", "          ", &unused.join(", "));
    }
    let missing: Vec<&str> = intake.missing.iter().map(|field| field.title).collect();
    if !missing.is_empty() {
        paragraph(out, "Missing:  ", "          ", &missing.join(", "));
    }
}

fn quoted(table: &Table, intake: &Intake, column: usize) -> String {
    format!("\"{}\"", column_words(table, &intake.matching, column))
}
