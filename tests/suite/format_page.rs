//! The format page and the file types are the same: every field stands on it, and nothing else does.

use crate::format_full_plan::full_plan;
use longstow::format::{ReadError, read, write};
use std::collections::{BTreeMap, BTreeSet};

const PAGE: &str = include_str!("../../src/format/FORMAT.md");

/// The rows of the page's tables: path to whether the field is required.
fn rows() -> BTreeMap<String, bool> {
    let mut rows = BTreeMap::new();
    for line in PAGE.lines().filter(|line| line.starts_with("| `")) {
        let cells: Vec<&str> = line.trim_matches('|').split(" | ").map(str::trim).collect();
        let [path, kind, required, meaning] = cells[..] else { panic!("four cells: {line}") };
        assert!(!kind.is_empty() && !meaning.is_empty(), "{line}");
        let required = match required {
            "yes" => true,
            "no" => false,
            other => panic!("{other} is neither yes nor no: {line}"),
        };
        let doubled = rows.insert(path.trim_matches('`').to_owned(), required);
        assert!(doubled.is_none(), "{path} stands twice");
    }
    rows
}

/// A field of a text: its path with empty brackets for items, and the bytes that it takes with its comma.
struct Field {
    path: String,
    start: usize,
    end: usize,
}

/// The fields of canonical `text`, found by brackets and keys alone, so without the code under test.
fn fields(text: &str) -> Vec<Field> {
    let mut found: Vec<Field> = Vec::new();
    let mut open: Vec<(char, Option<usize>)> = Vec::new();
    let mut key: Option<usize> = None;
    let mut word_start = 0;
    let mut quoted = false;
    let mut escaped = false;
    let mut path: Vec<String> = Vec::new();
    let start = text.find("(\n").unwrap();
    for (at, c) in text.char_indices().skip_while(|(at, _)| *at < start) {
        if quoted {
            quoted = escaped || c != '"';
            escaped = c == '\\' && !escaped;
            continue;
        }
        match c {
            '"' => quoted = true,
            '(' | '[' => {
                open.push((c, key.take()));
                if c == '[' {
                    path.push("[]".to_owned());
                }
                word_start = at + 1;
            }
            ':' => {
                let name = text[word_start..at].trim();
                path.push(format!(".{name}"));
                let path: String = path.concat().trim_start_matches('.').to_owned();
                found.push(Field { path, start: word_start, end: 0 });
                key = Some(found.len() - 1);
            }
            ',' | ')' | ']' => {
                if let Some(index) = key.take() {
                    found[index].end = if c == ',' { at + 1 } else { at };
                    path.pop();
                }
                word_start = at + 1;
                if c != ',' {
                    if c == ']' {
                        path.pop();
                    }
                    key = open.pop().and_then(|(_, key)| key);
                }
            }
            _ => {}
        }
    }
    found
}

/// The page shows the four fields of a limit at the first limit only.
fn shown_once(path: &str) -> bool {
    let mut parts = path.split('.');
    parts.next() == Some("limits") && parts.next() != Some("wheel_ratio") && parts.next().is_some()
}

#[test]
fn every_field_of_a_full_plan_stands_on_the_page_and_nothing_else_does() {
    let text = write(&full_plan());
    let written: BTreeSet<String> =
        fields(&text).into_iter().map(|field| field.path).filter(|path| !shown_once(path)).collect();
    let on_page: BTreeSet<String> = rows().into_keys().collect();
    let missing: Vec<_> = written.difference(&on_page).collect();
    let too_much: Vec<_> = on_page.difference(&written).collect();
    assert!(missing.is_empty(), "not on the page: {missing:?}");
    assert!(too_much.is_empty(), "on the page, but no field: {too_much:?}");
}

#[test]
fn the_page_tells_rightly_which_fields_are_required() {
    let text = write(&full_plan());
    let rows = rows();
    let mut tried = BTreeSet::new();
    for Field { path, start, end } in fields(&text) {
        if shown_once(&path) || !tried.insert(path.clone()) {
            continue;
        }
        let without = format!("{}{}", &text[..start], &text[end..]);
        let is_missing = match read(without.as_bytes()) {
            Err(error @ (ReadError::Field(_) | ReadError::NoVersion(_))) => {
                let fault = &error.faults()[0];
                let said =
                    fault.what.contains("is missing") || fault.what.contains("does not say its version");
                assert!(said, "{path}: {error}");
                true
            }
            // Left out, it may leave references that lead nowhere; but the field itself is not missed.
            Ok(_) | Err(ReadError::Plan(_)) => false,
            Err(other) => panic!("{path}: {other}"),
        };
        assert_eq!(is_missing, rows[&path], "{path}: the page says otherwise");
    }
    assert!(tried.len() > 150, "only {} fields were tried", tried.len());
}

#[test]
fn every_example_on_the_page_can_be_read() {
    let examples: Vec<&str> =
        PAGE.split("```ron\n").skip(1).map(|rest| rest.split("```").next().unwrap()).collect();
    assert!(examples.len() >= 3);
    for example in examples {
        read(example.as_bytes()).unwrap_or_else(|error| panic!("{error}\n{example}"));
    }
}

#[test]
fn every_limit_is_called_by_its_key() {
    for kind in longstow::model::LimitKind::ALL {
        assert!(rows().contains_key(&format!("limits.{}", kind.key())), "{kind:?}");
        assert!(write(&full_plan()).contains(&format!("\n        {}: (", kind.key())), "{kind:?}");
    }
}
