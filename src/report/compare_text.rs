//! What differs between two plans or two states, in plain text: short, aligned, the worst first.

use super::finding_text::state_name;
use super::layout::{counted, paragraph};
use super::verdict::verdict_line;
use crate::checks::Sense;
use crate::planning::difference::{
    Change, ChangeTopic, ChangedThing, Difference, FigureChange, FindingChange, FindingSide, Side, Turn,
};
use crate::units::{Quantity, QuantityKind, Style, Text};
use std::collections::BTreeSet;

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
    let most = if listed == Listed::All { usize::MAX } else { SHORT };
    let (verdicts, others): (Vec<Turn>, Vec<Turn>) =
        Turn::ALL.into_iter().partition(|turn| turn.is_of_verdict());
    for turn in verdicts {
        findings_list(&mut out, difference, (turn, usize::MAX), style);
    }
    for topic in ChangeTopic::ALL {
        let rows = difference.changes.iter().filter(|change| change.topic == topic);
        let rows = rows.map(|change| change_row(change, style)).collect();
        list(&mut out, topic.title(), rows, most);
    }
    let states = (before.side.figures.worked.len(), after.side.figures.worked.len());
    let rows = difference.figures.iter().map(|change| figure_row(change, states, style)).collect();
    list(&mut out, "Loads, the worst first", rows, most);
    for turn in others {
        findings_list(&mut out, difference, (turn, most), style);
    }
    out
}

/// The sum of a comparison in a sentence.
pub fn difference_words(difference: &Difference) -> String {
    if difference.is_empty() {
        return "Nothing differs.".to_owned();
    }
    let mut parts = Vec::new();
    for turn in Turn::ALL {
        let count = difference.count(turn);
        if count > 0 && turn.is_of_verdict() {
            parts.push(format!("{count} {}", turn.words()));
        }
    }
    let used = difference.findings.iter().filter(|change| !change.turn.is_of_verdict()).count();
    let of_places = |change: &&Change| change.topic == ChangeTopic::Places;
    let moved: BTreeSet<&ChangedThing> =
        difference.changes.iter().filter(of_places).map(|change| &change.thing).collect();
    let others = difference.changes.iter().filter(|change| !of_places(change)).count();
    let more = [
        (moved.len(), "string lies otherwise", "strings lie otherwise"),
        (others, "other entry differs", "other entries differ"),
        (difference.figures.len(), "load differs", "loads differ"),
        (used, "finding rests on other figures", "findings rest on other figures"),
    ];
    parts.extend(more.iter().filter(|(count, ..)| *count > 0).map(|(n, one, many)| counted(*n, one, many)));
    let mut sentence = parts.join(", ");
    sentence.push('.');
    sentence
}

/// By how much a number grew, with its sign and its unit, such as `+0.40 t`.
pub fn by_words(by: Quantity, style: Style) -> String {
    let size = Quantity { value: by.value.abs(), kind: by.kind };
    let shown = match by.kind {
        // The difference of two ratios is no ratio.
        QuantityKind::Ratio => size.show_number(style),
        _ => size.show(style),
    };
    let sign = if by.value < 0.0 { "-" } else { "+" };
    format!("{sign}{shown}")
}

/// A side of a change: what is said there, or that there is nothing.
pub fn told_words(side: Option<&Text>, style: Style) -> String {
    side.map_or_else(|| "-".to_owned(), |text| text.show(style))
}

/// A share of a limit; beyond any share where the limit is nothing.
pub fn share_words(used: Option<f64>) -> String {
    match used {
        None => "-".to_owned(),
        Some(share) if share.is_finite() => Quantity::share(share).show(Style::default()),
        Some(_) => "beyond".to_owned(),
    }
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

/// A line of a list.
struct Line {
    thing: String,
    aspect: String,
    before: String,
    after: String,
    by: String,
    /// What else is to be said of it.
    more: String,
}

fn findings_list(out: &mut String, difference: &Difference, (turn, most): (Turn, usize), style: Style) {
    let rows = difference.findings.iter().filter(|change| change.turn == turn);
    let rows: Vec<Line> = rows.map(|change| finding_row(change, style)).collect();
    let mut heading = turn.words().to_owned();
    heading[..1].make_ascii_uppercase();
    // What has no numbers takes several lines each.
    let wordy = rows.iter().any(|line| width(&line.after) > WIDEST);
    list(out, &heading, rows, if wordy { most.min(SHORT / 4) } else { most });
}

fn finding_row(change: &FindingChange, style: Style) -> Line {
    let compared = |side: &FindingSide| side.finding.as_ref().and_then(|finding| finding.comparison);
    let (one, two) = (compared(&change.before), compared(&change.after));
    let same = change.before.outcome == change.after.outcome;
    let words = |side: &FindingSide| match (compared(side), &side.finding, side.outcome) {
        (Some(compared), ..) => compared.demand.show(style),
        (None, Some(finding), _) if same => finding.what.show(style),
        (None, _, Some(outcome)) => outcome.word().to_owned(),
        (None, _, None) => "-".to_owned(),
    };
    let more = two.or(one).map(|compared| {
        let word = if compared.sense == Sense::AtMost { "at most" } else { "at least" };
        format!("of {word} {}", compared.capacity.show(style))
    });
    Line {
        thing: finding_place(change),
        aspect: String::new(),
        before: words(&change.before),
        after: words(&change.after),
        by: used_words(change.before.used(), change.after.used()),
        more: more.unwrap_or_default(),
    }
}

/// The check and its things; of what passes both times its tightest place, which may be another one.
pub fn finding_place(change: &FindingChange) -> String {
    let compared = |side: &FindingSide| side.finding.clone().filter(|finding| finding.comparison.is_some());
    let things = |side: &FindingSide| compared(side).map(|finding| finding.things.join(", "));
    let (title, now) = (change.check.title, change.things.join(", "));
    match (things(&change.before), things(&change.after)) {
        (Some(one), Some(two)) if one != two => format!("{title}, tightest: {one}, now {two}"),
        _ => format!("{title}: {now}"),
    }
}

/// Shares of a limit, before and after.
fn used_words(before: Option<f64>, after: Option<f64>) -> String {
    match (before, after) {
        (None, None) => String::new(),
        (Some(_), None) => format!("was {}", share_words(before)),
        (None, Some(_)) => format!("now {}", share_words(after)),
        (Some(_), Some(_)) => format!("{} to {}", share_words(before), share_words(after)),
    }
}

fn change_row(change: &Change, style: Style) -> Line {
    Line {
        thing: change.thing.name(),
        aspect: change.aspect.clone(),
        before: told_words(change.before.as_ref(), style),
        after: told_words(change.after.as_ref(), style),
        by: change.by.map_or_else(String::new, |by| by_words(by, style)),
        more: String::new(),
    }
}

fn figure_row(change: &FigureChange, states: (usize, usize), style: Style) -> Line {
    let [before, after] = [change.before, change.after]
        .map(|side| side.map_or_else(|| "-".to_owned(), |r| r.value.show(style)));
    let [one, two] = [change.before, change.after].map(|side| side.and_then(|reading| reading.used()));
    let mut more = used_words(one, two);
    if states.0.max(states.1) > 1 {
        let state = |side: Option<usize>| side.map_or_else(|| "-".to_owned(), |state| state.to_string());
        let [one, two] = [change.before, change.after].map(|side| state(side.map(|reading| reading.state)));
        let words = if one == two { format!("state {one}") } else { format!("state {one} to {two}") };
        more = if more.is_empty() { words } else { format!("{more}, {words}") };
    }
    Line {
        thing: change.place.name(),
        aspect: change.kind.title().to_owned(),
        before,
        after,
        by: change.by().map_or_else(String::new, |by| by_words(by, style)),
        more,
    }
}

/// Writes a list under its heading: short rows in columns, long ones over several lines.
fn list(out: &mut String, heading: &str, rows: Vec<Line>, most: usize) {
    if rows.is_empty() {
        return;
    }
    out.push_str(&format!("\n{heading} ({})\n", rows.len()));
    let cut = rows.len().saturating_sub(most);
    let shown = &rows[..rows.len() - cut];
    let fits = |line: &&Line| [&line.before, &line.after].iter().all(|cell| width(cell) <= WIDEST);
    let widest = |cell: fn(&Line) -> &str| shown.iter().filter(fits).map(|line| width(cell(line))).max();
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
}

/// Ends a line with both sides of what differs: numbers at the right of their columns, words at the left.
fn figures(out: &mut String, mut text: String, line: &Line, [_, _, before, after, by]: [usize; 5]) {
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
