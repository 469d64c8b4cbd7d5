//! Every field of a plan file counts: whatever is changed in the text of a plan in which everything is set, the
//! comparison tells of it, and of nothing where the plans are equal.

use crate::format_full_plan::full_plan;
use longstow::format;
use longstow::model::Plan;
use longstow::planning::difference::plan_changes;

/// Words that can stand for each other in a plan file.
const INSTEAD: [(&str, &str); 18] = [
    ("Metric", "UsCustomary"),
    ("Left", "Right"),
    ("Off", "On"),
    ("Front", "Rear"),
    ("true", "false"),
    ("Comma", "Point"),
    ("Wagon", "Idler"),
    ("Roller", "Fixed"),
    ("Clamping", "Fixed"),
    ("AboveEmpty", "AnyTier"),
    ("OutermostFirst", "AnyOrder"),
    ("Weighed", "Document"),
    ("EndStop", "Vehicle"),
    ("Read", "Entered"),
    ("Secondary", "Entered"),
    ("Memory", "Entered"),
    ("Entered", "Memory"),
    ("Metre", "Foot"),
];

/// The text with one thing in it changed, in every way: a line left out, a number larger, words longer, another word.
fn variants(text: &str) -> Vec<String> {
    let mut variants = Vec::new();
    let lines: Vec<&str> = text.lines().collect();
    for at in 0..lines.len() {
        variants.push([&lines[..at], &lines[at + 1..]].concat().join("\n"));
    }
    let is_word = |c: char| c.is_alphanumeric() || c == '_' || c == '.';
    let starts = text
        .char_indices()
        .filter(|(at, c)| is_word(*c) && !text[..*at].chars().next_back().is_some_and(is_word));
    for (at, _) in starts.collect::<Vec<_>>() {
        let end = text[at..].find(|c| !is_word(c)).map_or(text.len(), |length| at + length);
        let word = &text[at..end];
        let with = |word: &str| format!("{}{word}{}", &text[..at], &text[end..]);
        if let Ok(number) = word.parse::<f64>() {
            variants.push(with(&(number + 1.0).to_string()));
            variants.push(with(&(number * 1.01).to_string()));
        } else if text[..at].ends_with('"') {
            variants.push(with(&format!("{word} x")));
        }
        let others = INSTEAD.iter().filter(|(from, _)| *from == word).map(|(_, to)| *to);
        let back = INSTEAD.iter().filter(|(_, to)| *to == word).map(|(from, _)| *from);
        variants.extend(others.chain(back).map(with));
    }
    variants
}

#[test]
fn whatever_differs_in_a_plan_file_is_told_both_ways_and_only_what_differs() {
    let plan: Plan = full_plan();
    let text = format::write(&plan);
    assert_eq!(plan_changes(&plan, &format::read(text.as_bytes()).unwrap()), []);
    let (mut sound, mut equal) = (0, 0);
    for variant in variants(&text) {
        // Most variants that cannot be read name something that is not there any more.
        let Ok(other) = format::read(variant.as_bytes()) else { continue };
        let (there, back) = (plan_changes(&plan, &other), plan_changes(&other, &plan));
        assert_eq!(there.is_empty(), plan == other, "{}", differing_line(&text, &variant));
        assert_eq!(there.len(), back.len(), "{}", differing_line(&text, &variant));
        if plan == other { equal += 1 } else { sound += 1 }
    }
    assert!(sound > 500, "only {sound} variants could be read");
    assert!(equal < 20, "{equal} variants are the plan itself");
}

fn differing_line(text: &str, variant: &str) -> String {
    let pair = text.lines().zip(variant.lines()).find(|(one, two)| one != two);
    format!("{pair:?}")
}
