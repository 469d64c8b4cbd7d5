//! What differs between two sides, as rows of words under headings: what matters most first. The text, the window
//! and whoever else lists a comparison say the same.

use super::layout::counted;
use crate::checks::Sense;
use crate::planning::difference::{
    Change, ChangeTopic, ChangedThing, Difference, FigureChange, FindingChange, FindingSide, Turn,
};
use crate::units::{Quantity, QuantityKind, Style, Text};
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
        let rows = difference.findings.iter().enumerate().filter(|(_, change)| change.turn == turn);
        let rows = rows.map(|(at, change)| finding_row(at, change, style)).collect();
        DifferenceGroup { heading: turn.title(), rows, may_be_cut: !turn.is_of_verdict() }
    };
    let mut groups: Vec<DifferenceGroup> = verdicts.into_iter().map(findings).collect();
    for topic in ChangeTopic::ALL {
        let rows = difference.changes.iter().enumerate().filter(|(_, change)| change.topic == topic);
        let rows = rows.map(|(at, change)| change_row(at, change, style)).collect();
        groups.push(DifferenceGroup { heading: topic.title(), rows, may_be_cut: true });
    }
    let rows = difference.figures.iter().enumerate();
    let rows = rows.map(|(at, change)| figure_row(at, change, name_states, style)).collect();
    groups.push(DifferenceGroup { heading: "Loads, the worst first", rows, may_be_cut: true });
    groups.extend(others.into_iter().map(findings));
    groups.retain(|group| !group.rows.is_empty());
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

fn finding_row(at: usize, change: &FindingChange, style: Style) -> DifferenceRow {
    let compared = |side: &FindingSide| side.finding.as_ref().and_then(|finding| finding.comparison);
    let same = change.before.outcome == change.after.outcome;
    let words = |side: &FindingSide| match (compared(side), &side.finding, side.outcome) {
        (Some(compared), ..) => compared.demand.show(style),
        (None, Some(finding), _) if same => finding.what.show(style),
        (None, _, Some(outcome)) => outcome.word().to_owned(),
        (None, _, None) => "-".to_owned(),
    };
    let limit = compared(&change.after).or(compared(&change.before)).map(|compared| {
        let word = if compared.sense == Sense::AtMost { "at most" } else { "at least" };
        format!("of {word} {}", compared.capacity.show(style))
    });
    DifferenceRow {
        of: RowOf::Finding(at),
        thing: finding_place(change),
        aspect: String::new(),
        before: words(&change.before),
        after: words(&change.after),
        by: used_words(change.before.used(), change.after.used()),
        more: limit.unwrap_or_default(),
    }
}

/// The check and its things; of what passes both times its tightest place, which may be another one.
fn finding_place(change: &FindingChange) -> String {
    let compared = |side: &FindingSide| side.finding.clone().filter(|finding| finding.comparison.is_some());
    let things = |side: &FindingSide| compared(side).map(|finding| finding.things.join(", "));
    let (title, now) = (change.check.title, change.things.join(", "));
    match (things(&change.before), things(&change.after)) {
        (Some(one), Some(two)) if one != two => format!("{title}, tightest: {one}, now {two}"),
        _ => format!("{title}: {now}"),
    }
}

fn change_row(at: usize, change: &Change, style: Style) -> DifferenceRow {
    let told = |side: &Option<Text>| side.as_ref().map_or_else(|| "-".to_owned(), |text| text.show(style));
    DifferenceRow {
        of: RowOf::Change(at),
        thing: change.thing.name(),
        aspect: change.aspect.clone(),
        before: told(&change.before),
        after: told(&change.after),
        by: change.by.map_or_else(String::new, |by| by_words(by, style)),
        more: String::new(),
    }
}

fn figure_row(at: usize, change: &FigureChange, name_states: NameStates, style: Style) -> DifferenceRow {
    let sides = [change.before, change.after];
    let [before, after] =
        sides.map(|side| side.map_or_else(|| "-".to_owned(), |read| read.value.show(style)));
    let [one, two] = sides.map(|side| side.and_then(|reading| reading.used()));
    let mut more = used_words(one, two);
    if name_states == NameStates::Yes {
        let [one, two] =
            sides.map(|side| side.map_or_else(|| "-".to_owned(), |reading| reading.state.to_string()));
        let states = if one == two { format!("state {one}") } else { format!("state {one} to {two}") };
        more = if more.is_empty() { states } else { format!("{more}, {states}") };
    }
    DifferenceRow {
        of: RowOf::Figure(at),
        thing: change.place.name(),
        aspect: change.kind.title().to_owned(),
        before,
        after,
        by: change.by().map_or_else(String::new, |by| by_words(by, style)),
        more,
    }
}

/// By how much a number grew, with its sign and its unit, such as `+0.40 t`.
fn by_words(by: Quantity, style: Style) -> String {
    let size = Quantity { value: by.value.abs(), kind: by.kind };
    let shown = match by.kind {
        // The difference of two ratios is no ratio.
        QuantityKind::Ratio => size.show_number(style),
        _ => size.show(style),
    };
    let sign = if by.value < 0.0 { "-" } else { "+" };
    format!("{sign}{shown}")
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
    use crate::model::Plan;
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
        let check = |by: Quantity, expected: &str| assert_eq!(by_words(by, Style::default()), expected);
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
    fn states_are_named_where_several_were_looked_at() {
        let moved = difference(&plan(3_000), &plan(3_010));
        let more = |name_states| {
            let groups = difference_groups(&moved, name_states, Style::default());
            row(&groups, "Loads, the worst first", "wagon load").more.clone()
        };
        assert!(more(NameStates::Yes).ends_with(", state 0"), "{}", more(NameStates::Yes));
        assert!(!more(NameStates::No).contains("state"));
    }
}
