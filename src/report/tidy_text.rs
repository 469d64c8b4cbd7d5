//! What making a plan file tidy changes, in plain text.

use super::layout::{counted, paragraph};
use crate::format::TidyChange;

/// What making a file tidy changes, a line or more for each kind.
pub fn tidy_report(changes: &[TidyChange]) -> String {
    let mut out = String::new();
    for change in changes {
        paragraph(&mut out, "  ", "    ", &change_words(change));
    }
    out
}

/// A change in a sentence.
pub fn change_words(change: &TidyChange) -> String {
    match change {
        TidyChange::Comments { lines } => {
            let told: Vec<String> =
                lines.iter().map(|(line, words)| format!("line {line}: {words}")).collect();
            format!("{} dropped ({})", counted(lines.len(), "comment", "comments"), few(&told))
        }
        TidyChange::Mark => "byte order mark dropped".to_owned(),
        TidyChange::LineEnds => "lines end in LF".to_owned(),
        TidyChange::Wrapped { paths } => {
            format!("Some(..) taken off {}: {}", counted(paths.len(), "value", "values"), few(paths))
        }
        TidyChange::Named { paths } => {
            format!("name taken off {}: {}", counted(paths.len(), "record", "records"), few(&called(paths)))
        }
        TidyChange::Order { paths } => format!("fields put in order: {}", few(&called(paths))),
        TidyChange::LeftOut { paths } => {
            format!("left out, since they say what is meant without them: {}", few(paths))
        }
        TidyChange::Added { paths } => format!("written though empty: {}", few(paths)),
        TidyChange::Values { values } => {
            let told: Vec<String> =
                values.iter().map(|(path, from, to)| format!("{path} {from} -> {to}")).collect();
            format!("{} written the one way: {}", counted(values.len(), "value", "values"), few(&told))
        }
        TidyChange::Layout => "spaces and line breaks".to_owned(),
    }
}

/// The plan as a whole has no path.
fn called(paths: &[String]) -> Vec<String> {
    paths.iter().map(|path| if path.is_empty() { "the plan".to_owned() } else { path.clone() }).collect()
}

/// The first few, and how many more.
fn few(words: &[String]) -> String {
    const SHOWN: usize = 6;
    let shown = words.iter().take(SHOWN).cloned().collect::<Vec<_>>().join(", ");
    match words.len().saturating_sub(SHOWN) {
        0 => shown,
        more => format!("{shown} and {more} more"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn long_lists_are_cut_and_counted() {
        let paths: Vec<String> = (0..8).map(|number| format!("order[{number}].drop")).collect();
        let words = change_words(&TidyChange::LeftOut { paths });
        assert!(words.ends_with("order[4].drop, order[5].drop and 2 more"), "{words}");
        assert_eq!(
            change_words(&TidyChange::Order { paths: vec![String::new()] }),
            "fields put in order: the plan"
        );
    }
}
