//! What differs between two plans or two states, in plain text: short, aligned, the worst first.

use super::compare_rows::{DifferenceGroup, DifferenceRow, NameStates, difference_groups, difference_words};
use super::finding_text::state_name;
use super::layout::paragraph;
use super::verdict::verdict_line;
use crate::planning::difference::{Difference, Side};
use crate::units::Style;

/// One side of a comparison as its reader knows it.
#[derive(Clone, Copy, Debug)]
pub struct Compared<'a> {
    /// Which plan it is.
    pub label: &'a str,
    /// Its figures and findings.
    pub side: Side<'a>,
}

/// How much of a comparison is listed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Listed {
    /// Of each list what matters most.
    #[default]
    Short,
    /// All of it.
    All,
}

/// Rows of a list that is cut short.
const SHORT: usize = 12;
/// The widest cell of an aligned row, in characters; longer ones get lines of their own.
const WIDEST: usize = 38;
/// The widest all cells of a row may be together to stand in one line.
const BESIDE: usize = 88;

/// A comparison for a reader: the sum in a sentence, the verdicts of both sides, then findings, changes and loads.
pub fn compare_report(
    difference: &Difference,
    (before, after): (&Compared<'_>, &Compared<'_>),
    (listed, style): (Listed, Style),
) -> String {
    let mut out = String::new();
    paragraph(&mut out, "", "", &difference_words(difference));
    out.push('\n');
    for (word, compared) in [("Before:  ", before), ("After:   ", after)] {
        let Side { figures, assessment } = compared.side;
        let verdict = verdict_line(figures, assessment);
        paragraph(&mut out, word, "         ", &format!("{}: {verdict}", side_words(compared)));
    }
    let worked = before.side.figures.worked.len().max(after.side.figures.worked.len());
    let name_states = if worked > 1 { NameStates::Yes } else { NameStates::No };
    for group in difference_groups(difference, name_states, style) {
        group_lines(&mut out, &group, listed);
    }
    out
}

fn side_words(compared: &Compared<'_>) -> String {
    let figures = compared.side.figures;
    match figures.worked.as_slice() {
        [only] if figures.states.len() > 1 => {
            format!("{}, {}", compared.label, state_name(figures, only.state))
        }
        _ => compared.label.to_owned(),
    }
}

/// Writes rows under their heading: short ones in columns, long ones over several lines.
fn group_lines(out: &mut String, group: &DifferenceGroup, listed: Listed) {
    let rows = &group.rows;
    out.push_str(&format!("\n{}\n", group.title()));
    let fits = |row: &&DifferenceRow| [&row.before, &row.after].iter().all(|cell| width(cell) <= WIDEST);
    let most = match (listed, group.may_be_cut) {
        (Listed::All, _) | (_, false) => usize::MAX,
        // Each takes several lines.
        _ if !rows.iter().all(|row| fits(&row)) => SHORT / 4,
        _ => SHORT,
    };
    let cut = rows.len().saturating_sub(most);
    let shown = &rows[..rows.len() - cut];
    let widest =
        |cell: fn(&DifferenceRow) -> &str| shown.iter().filter(fits).map(|row| width(cell(row))).max();
    let columns = [
        widest(|line| &line.thing),
        widest(|line| &line.aspect),
        widest(|line| &line.before),
        widest(|line| &line.after),
        widest(|line| &line.by),
    ]
    .map(|width| width.unwrap_or(0));
    let [thing, aspect, ..] = columns;
    // Things with long names would push all figures out of sight, so these go below.
    let beside = columns.iter().sum::<usize>() <= BESIDE;
    for line in shown {
        let name = format!("  {:<thing$}  {:<aspect$}", line.thing, line.aspect);
        match (fits(&line), beside) {
            (true, true) => figures(out, name, line, columns),
            (true, false) => {
                push(out, &name);
                figures(out, "    ".to_owned(), line, columns);
            }
            (false, _) => {
                push(out, &name);
                paragraph(out, "      was ", "          ", &line.before);
                paragraph(out, "      is  ", "          ", &line.after);
            }
        }
    }
    if cut > 0 {
        out.push_str(&format!("  and {cut} more; --list all lists them, and --json holds them\n"));
    }
    if let Some(left_out) = &group.left_out {
        out.push_str(&format!("  {left_out}; --json holds them\n"));
    }
}

/// Ends a line with both sides of what differs: numbers at the right of their columns, words at the left.
fn figures(out: &mut String, mut text: String, line: &DifferenceRow, [_, _, before, after, by]: [usize; 5]) {
    if line.by.is_empty() {
        text.push_str(&format!("  {:<before$} -> {:<after$}", line.before, line.after));
    } else {
        text.push_str(&format!("  {:>before$} -> {:>after$}", line.before, line.after));
    }
    if by > 0 {
        text.push_str(&format!("  {:>by$}", line.by));
    }
    if !line.more.is_empty() {
        text.push_str(&format!("  {}", line.more));
    }
    push(out, &text);
}

fn push(out: &mut String, line: &str) {
    out.push_str(line.trim_end());
    out.push('\n');
}

fn width(cell: &str) -> usize {
    cell.chars().count()
}
