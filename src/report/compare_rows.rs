//! What differs between two sides, as rows of words under headings: what matters most first. The text, the window
//! and whoever else lists a comparison say the same.

use super::apart::{Apart, Digits, by_words};
use super::layout::counted;
use crate::checks::{Comparison, Sense};
use crate::planning::difference::{
    Change, ChangeTopic, ChangedThing, Difference, FigureChange, FindingChange, FindingSide, Turn,
};
use crate::text;
use crate::units::{Quantity, Style, Text};
use std::collections::BTreeSet;

/// Rows under one heading.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DifferenceGroup {
    /// The heading.
    pub heading: &'static str,
    /// Its rows, the worst first where one can be worse than another.
    pub rows: Vec<DifferenceRow>,
    /// Whether a long list of them may be cut short: it does not hold what has another verdict.
    pub may_be_cut: bool,
    /// How many more there are that differ by less than is shown, in words; none where there are none.
    pub left_out: Option<String>,
}

impl DifferenceGroup {
    /// The heading with the number of its rows.
    pub fn title(&self) -> String {
        match self.rows.len() {
            0 => self.heading.to_owned(),
            rows => format!("{} ({rows})", self.heading),
        }
    }

    /// A group of computed rows without those in which nobody can see a difference.
    fn of_seen(heading: &'static str, rows: Vec<(DifferenceRow, Seen)>, (one, many): (&str, &str)) -> Self {
        let all = rows.len();
        let seen = rows.into_iter().filter(|(_, seen)| *seen == Seen::Yes);
        let rows: Vec<DifferenceRow> = seen.map(|(row, _)| row).collect();
        let (and, further) = if rows.is_empty() { ("", "") } else { ("and ", "further ") };
        let words = |count: usize| {
            let differ = if count == 1 { format!("{one} differs") } else { format!("{many} differ") };
            format!("{and}{count} {further}{differ} by less than is shown")
        };
        let left_out = (all > rows.len()).then(|| words(all - rows.len()));
        Self { heading, rows, may_be_cut: true, left_out }
    }
}

/// One difference in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DifferenceRow {
    /// Which entry of the [`Difference`] it tells of.
    pub of: RowOf,
    /// What it is of, such as `string S1`.
    pub thing: String,
    /// What of it, such as `front end`; empty for findings, whose thing says all.
    pub aspect: String,
    /// How it was.
    pub before: String,
    /// How it is.
    pub after: String,
    /// By how much it grew, or of findings the shares of the limit; empty without numbers.
    pub by: String,
    /// What else there is to say: shares of the limit, the limit itself, states; empty for nothing.
    pub more: String,
}

/// An entry of a [`Difference`], by its index there.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum RowOf {
    /// Of its findings.
    Finding(usize),
    /// Of its changes.
    Change(usize),
    /// Of its figures.
    Figure(usize),
}

/// Whether a reader sees a difference in a row.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Seen {
    Yes,
    No,
}

impl Seen {
    fn when(seen: bool) -> Self {
        if seen { Self::Yes } else { Self::No }
    }
}

/// All of a comparison: other verdicts, the worst turn first; what the plans say; loads; findings of the same verdict.
///
/// `name_states` says whether a load's worst state is worth naming, since several were looked at.
pub fn difference_groups(
    difference: &Difference,
    name_states: NameStates,
    style: Style,
) -> Vec<DifferenceGroup> {
    let (verdicts, others): (Vec<Turn>, Vec<Turn>) =
        Turn::ALL.into_iter().partition(|turn| turn.is_of_verdict());
    let findings = |turn: Turn| {
        let rows = difference.findings.iter().enumerate().filter(move |(_, change)| change.turn == turn);
        rows.map(|(at, change)| finding_row(at, change, style))
    };
    let group = |heading, rows, may_be_cut| DifferenceGroup { heading, rows, may_be_cut, left_out: None };
    let verdict = |turn: Turn| group(turn.title(), findings(turn).map(|(row, _)| row).collect(), false);
    let mut groups: Vec<DifferenceGroup> = verdicts.into_iter().map(verdict).collect();
    for topic in ChangeTopic::ALL {
        let rows = difference.changes.iter().enumerate().filter(|(_, change)| change.topic == topic);
        let rows = rows.map(|(at, change)| change_row(at, change, style)).collect();
        groups.push(group(topic.title(), rows, true));
    }
    let rows = difference.figures.iter().enumerate();
    let rows = rows.map(|(at, change)| figure_row(at, change, name_states, style)).collect();
    groups.push(DifferenceGroup::of_seen("Loads, the worst first", rows, ("load", "loads")));
    let others = others.into_iter();
    groups.extend(others.map(|turn| {
        DifferenceGroup::of_seen(turn.title(), findings(turn).collect(), ("finding", "findings"))
    }));
    groups.retain(|group| !group.rows.is_empty() || group.left_out.is_some());
    groups
}

/// Whether the states of loads are named.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum NameStates {
    /// They are: each load is the worst of several states.
    Yes,
    /// They are not: one state was looked at.
    No,
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
    let on_train = difference.changes.iter().filter(|change| change.is_on_train());
    let moved: BTreeSet<&ChangedThing> = on_train.map(|change| &change.thing).collect();
    let listed = difference.changes.iter().filter(|change| change.is_of_list_only()).count();
    let others = difference.changes.iter().filter(|change| change.topic != ChangeTopic::Places).count();
    let more = [
        (moved.len(), "string lies otherwise", "strings lie otherwise"),
        (listed, "placement has another place in the list", "placements have other places in the list"),
        (others, "other entry differs", "other entries differ"),
        (difference.figures.len(), "load differs", "loads differ"),
        (used, "finding rests on other figures", "findings rest on other figures"),
    ];
    parts.extend(more.iter().filter(|(count, ..)| *count > 0).map(|(n, one, many)| counted(*n, one, many)));
    let mut sentence = parts.join(", ");
    sentence.push('.');
    sentence
}

/// A finding, and whether a reader sees what differs of it.
fn finding_row(at: usize, change: &FindingChange, style: Style) -> (DifferenceRow, Seen) {
    let same = change.before.outcome == change.after.outcome;
    let words = |side: &FindingSide| match (compared(side), &side.finding, side.outcome) {
        (Some(compared), ..) => Text::from(compared.demand),
        (None, Some(finding), _) if same => finding.what.clone(),
        (None, _, Some(outcome)) => text![outcome.word()],
        (None, _, None) => text!["-"],
    };
    let (before, after) = (words(&change.before), words(&change.after));
    // Another verdict rests on numbers that differ, be it ever so little.
    let shown = match change.turn.is_of_verdict() {
        true => Apart::of((&before, &after), None, (Digits::Computed, style)),
        false => Apart { before: before.show(style), after: after.show(style), by: String::new() },
    };
    let shares = [change.before.used(), change.after.used()];
    let [was, is] = shares.map(|share| used_words(share, None));
    let (limit, of_limit) = limit_words(compared(&change.before), compared(&change.after), style);
    let thing = finding_place(change);
    // Another place that is as tight is nothing to be told of alone.
    let seen = !shown.is_alike() || was != is || of_limit == Seen::Yes;
    let row = DifferenceRow {
        of: RowOf::Finding(at),
        thing,
        aspect: String::new(),
        before: shown.before,
        after: shown.after,
        by: used_words(shares[0], shares[1]),
        more: limit,
    };
    (row, Seen::when(seen))
}

fn compared(side: &FindingSide) -> Option<Comparison> {
    side.finding.as_ref().and_then(|finding| finding.comparison)
}

/// The limit of a finding, with how it was where it is another one; and whether that is seen.
fn limit_words(before: Option<Comparison>, after: Option<Comparison>, style: Style) -> (String, Seen) {
    let Some(now) = after.or(before) else { return (String::new(), Seen::No) };
    let word = if now.sense == Sense::AtMost { "at most" } else { "at least" };
    let was = before.unwrap_or(now).capacity;
    let limit = Apart::of((&was.into(), &now.capacity.into()), None, (Digits::Computed, style));
    match limit.is_alike() {
        true => (format!("of {word} {}", limit.after), Seen::No),
        false => (format!("of {word} {}, was {}", limit.after, limit.before), Seen::Yes),
    }
}

/// The check and its things; of what passes both times its tightest place, which may be another one.
fn finding_place(change: &FindingChange) -> String {
    let of_numbers = |side: &FindingSide| side.finding.clone().filter(|finding| finding.comparison.is_some());
    let things = |side: &FindingSide| of_numbers(side).map(|finding| finding.things.join(", "));
    let (title, now) = (change.check.title, change.things.join(", "));
    match (things(&change.before), things(&change.after)) {
        (Some(one), Some(two)) if one != two => format!("{title}, tightest: {one}, now {two}"),
        _ => format!("{title}: {now}"),
    }
}

fn change_row(at: usize, change: &Change, style: Style) -> DifferenceRow {
    let shown = change_words(change, style);
    DifferenceRow {
        of: RowOf::Change(at),
        thing: change.thing.name(),
        aspect: change.aspect.clone(),
        before: shown.before,
        after: shown.after,
        by: shown.by,
        more: String::new(),
    }
}

/// Both sides of a change with as many digits as make them differ; `-` for what is not there.
pub(super) fn change_words(change: &Change, style: Style) -> Apart {
    let [before, after] = [&change.before, &change.after].map(|side| side.clone().unwrap_or(text!["-"]));
    Apart::of((&before, &after), change.by, (Digits::Entered, style))
}

/// A load, and whether a reader sees what differs of it.
fn figure_row(
    at: usize,
    change: &FigureChange,
    name_states: NameStates,
    style: Style,
) -> (DifferenceRow, Seen) {
    let sides = [change.before, change.after];
    let [before, after] =
        sides.map(|side| side.map_or_else(|| "-".to_owned(), |read| read.value.show(style)));
    let by = change.by().map_or_else(String::new, |by| by_words(by, style, 0));
    let shown = Apart { before, after, by };
    let [one, two] = sides.map(|side| side.and_then(|reading| reading.used()));
    let mut more = used_words(one, two);
    if name_states == NameStates::Yes {
        let [one, two] =
            sides.map(|side| side.map_or_else(|| "-".to_owned(), |reading| reading.state.to_string()));
        let states = if one == two { format!("state {one}") } else { format!("state {one} to {two}") };
        more = if more.is_empty() { states } else { format!("{more}, {states}") };
    }
    let seen = Seen::when(!shown.is_alike());
    let row = DifferenceRow {
        of: RowOf::Figure(at),
        thing: change.place.name(),
        aspect: change.kind.title().to_owned(),
        before: shown.before,
        after: shown.after,
        by: shown.by,
        more,
    };
    (row, seen)
}

/// Shares of a limit, before and after.
fn used_words(before: Option<f64>, after: Option<f64>) -> String {
    let words = |share: f64| match share.is_finite() {
        true => Quantity::share(share).show(Style::default()),
        false => "beyond".to_owned(),
    };
    match (before, after) {
        (None, None) => String::new(),
        (Some(one), None) => format!("was {}", words(one)),
        (None, Some(two)) => format!("now {}", words(two)),
        (Some(one), Some(two)) => format!("{} to {}", words(one), words(two)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::Outcome;
    use crate::fixtures::{empty_plan, place};
    use crate::model::{LimitKind, Plan};
    use crate::planning::difference::Worked;
    use crate::statics::Scope;
    use crate::units::Length;
    use std::sync::Arc;

    fn plan(front_mm: i64) -> Plan {
        let mut plan = empty_plan(2);
        place(&mut plan, "S1", 30_000, (1, 1, front_mm));
        plan
    }

    fn difference(before: &Plan, after: &Plan) -> Difference {
        let [one, two] = [before, after].map(|plan| Worked::of(Arc::new(plan.clone()), Scope::All));
        Difference::of_plans(one.side(), two.side())
    }

    fn row<'g>(groups: &'g [DifferenceGroup], heading: &str, aspect: &str) -> &'g DifferenceRow {
        let group = groups.iter().find(|group| group.heading == heading).unwrap();
        group.rows.iter().find(|row| row.aspect == aspect).unwrap()
    }

    #[test]
    fn numbers_are_told_with_their_growth_and_its_sign() {
        let check = |by: Quantity, expected: &str| assert_eq!(by_words(by, Style::default(), 0), expected);
        check(Quantity::length(Length::from_mm(400)), "+0.400 m");
        check(Quantity::mass(-1_500.0), "-1.50 t");
        check(Quantity::ratio(-0.05), "-0.05");
        check(Quantity::mass(-0.1), "-0.00 t");
    }

    #[test]
    fn shares_of_a_limit_are_told_of_the_sides_that_have_them() {
        let check = |before, after, expected: &str| assert_eq!(used_words(before, after), expected);
        check(None, None, "");
        check(Some(0.5), None, "was 50 %");
        check(None, Some(f64::INFINITY), "now beyond");
        check(Some(0.5), Some(1.114), "50 % to 111 %");
    }

    #[test]
    fn nothing_differs_in_words_and_without_groups() {
        let same = difference(&plan(3_000), &plan(3_000));
        assert_eq!(difference_words(&same), "Nothing differs.");
        assert_eq!(difference_groups(&same, NameStates::Yes, Style::default()), []);
    }

    // The first rack stands at 3.317 m; 0.3 m overhang are wanted, so 3.1 m is too far back.
    #[test]
    fn what_is_broken_comes_before_what_moved_and_its_rows_lead_back_to_it() {
        let moved = difference(&plan(3_000), &plan(3_100));
        let groups = difference_groups(&moved, NameStates::No, Style::default());
        assert_eq!(groups[0].heading, "Newly broken");
        assert!(!groups[0].may_be_cut);
        let RowOf::Finding(at) = groups[0].rows[0].of else { panic!("{:?}", groups[0].rows) };
        assert_eq!(moved.findings[at].after.outcome, Some(Outcome::Fail));
        let front = row(&groups, "Where strings lie", "front end");
        assert_eq!((front.thing.as_str(), front.by.as_str()), ("string S1", "+0.100 m"));
        assert_eq!((front.before.as_str(), front.after.as_str()), ("3.000 m", "3.100 m"));
        let words = difference_words(&moved);
        assert!(
            words.starts_with("1 newly broken, ") && words.contains("1 string lies otherwise"),
            "{words}"
        );
    }

    #[test]
    fn another_order_of_the_list_alone_moves_no_string() {
        let mut one = plan(2_900);
        place(&mut one, "S2", 30_000, (1, 3, 2_900));
        let mut two = one.clone();
        two.placements.swap(0, 1);
        assert_eq!(difference_words(&difference(&one, &two)), "1 placement has another place in the list.");
    }

    #[test]
    fn states_are_named_where_several_were_looked_at() {
        let moved = difference(&plan(3_000), &plan(3_100));
        let more = |name_states| {
            let groups = difference_groups(&moved, name_states, Style::default());
            row(&groups, "Loads, the worst first", "wagon load").more.clone()
        };
        assert!(more(NameStates::Yes).ends_with(", state 0"), "{}", more(NameStates::Yes));
        assert!(!more(NameStates::No).contains("state"));
    }

    /// 1 mm moves some grams: below what is shown of loads.
    #[test]
    fn loads_that_differ_by_less_than_is_shown_are_counted_in_one_line() {
        let moved = difference(&plan(2_900), &plan(2_901));
        assert!(moved.figures.len() > 1);
        let groups = difference_groups(&moved, NameStates::No, Style::default());
        let row = row(&groups, "Where strings lie", "front end");
        assert_eq!((row.before.as_str(), row.after.as_str()), ("2.900 m", "2.901 m"));
        for group in &groups {
            let alike = |row: &&DifferenceRow| row.before == row.after && group.may_be_cut;
            assert_eq!(group.rows.iter().find(alike), None, "{}", group.heading);
        }
        let loads = groups.iter().find(|group| group.heading == "Loads, the worst first").unwrap();
        let left = moved.figures.len() - loads.rows.len();
        let words = loads.left_out.as_deref().unwrap();
        assert!(words.contains(&left.to_string()) && words.ends_with("by less than is shown"), "{words}");
    }

    #[test]
    fn a_limit_that_was_changed_is_told_with_the_findings_that_rest_on_it() {
        let mut other = plan(2_900);
        other.limits.entries.get_mut(&LimitKind::LeastOverhang).unwrap().running += 0.000_1;
        let groups = difference_groups(&difference(&plan(2_900), &other), NameStates::No, Style::default());
        let row = row(&groups, "Limits", "running value");
        assert_ne!(row.before, row.after);
        assert!(!row.by.ends_with("0.000 m"), "{row:?}");
    }
}
