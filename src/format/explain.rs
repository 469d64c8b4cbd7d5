//! Turns the errors of the RON reader into faults with a place, a path, and words that say what to do.

use super::error::Fault;
use super::locate::{mend_name, node_of, offset_of, offset_of_key};
use super::outline::{Node, line_and_column, start_of};
use super::v1::MEND_MARK;
use ron::error::{Error, SpannedError};
use serde_path_to_error::{Path, Segment};

/// A text and its outline.
#[derive(Clone, Copy)]
pub(super) struct Written<'t> {
    pub(super) text: &'t str,
    pub(super) root: &'t Node,
}

impl Written<'_> {
    /// A fault at the value of `path`.
    pub(super) fn fault_at(self, path: &str, what: String, mend: String) -> Fault {
        self.fault(offset_of(self.text, self.root, path), path, (what, mend))
    }

    fn fault(self, offset: usize, path: &str, words: (String, String)) -> Fault {
        Fault::new(line_and_column(self.text, offset), path, words)
    }

    /// What is wrong at `path`, where the reader stopped with `error`.
    pub(super) fn explain(self, error: &SpannedError, path: &Path) -> Fault {
        let path = path_text(path);
        match &error.code {
            Error::NoSuchStructField { expected, found, .. } => self.unknown_field(&path, found, expected),
            Error::DuplicateStructField { field, .. } => {
                let (path, field) = self.around(&path, field);
                let second = offset_of_key(self.text, self.root, (&path, field), 1);
                let offset = second.unwrap_or_else(|| offset_of(self.text, self.root, &path));
                let words = (format!("`{field}` is written twice"), "remove one of the two".to_owned());
                self.fault(offset, &joined(&path, field), words)
            }
            Error::MissingStructField { field, .. } => {
                let words = (format!("`{field}` is missing"), format!("add `{field}`"));
                self.fault(offset_of(self.text, self.root, &path), &joined(&path, field), words)
            }
            Error::TrailingCharacters | Error::ExpectedStructLikeEnd => {
                let words = (sentence(&error.code), "remove what is too much there".to_owned());
                self.by_span(error, &path, words)
            }
            code => {
                let found = node_of(self.text, self.root, &path).span.of(self.text);
                let (what, mend) = words_of(code, &shortened(found));
                self.fault_at(&path, what, mend)
            }
        }
    }

    fn unknown_field(self, path: &str, found: &str, known: &[&str]) -> Fault {
        let (path, found) = self.around(path, found);
        let offset = offset_of_key(self.text, self.root, (&path, found), 0)
            .unwrap_or_else(|| offset_of(self.text, self.root, &path));
        let what = format!("`{}` is not a field here", start_of(found));
        self.fault(offset, &joined(&path, found), (what, mend_name(found, known)))
    }

    /// The path of the record that holds `field`, whether or not the reader put the field on the path.
    fn around<'f>(self, path: &str, field: &'f str) -> (String, &'f str) {
        let holder = match path.rsplit_once('.') {
            Some((holder, last)) if last == field => holder,
            None if path == field => "",
            _ => path,
        };
        (holder.to_owned(), field)
    }

    /// A fault where the reader itself says that it is.
    fn by_span(self, error: &SpannedError, path: &str, words: (String, String)) -> Fault {
        let start = error.span.start;
        Fault::new((start.line, start.col), path, words)
    }
}

/// What is wrong and what to do, for an error at a value that is written as `found`.
fn words_of(code: &Error, found: &str) -> (String, String) {
    match code {
        Error::Message(message) => match message.split_once(MEND_MARK) {
            Some((what, mend)) => (what.to_owned(), mend.to_owned()),
            None => (message.clone(), "see FORMAT.md for what belongs here".to_owned()),
        },
        Error::InvalidValueForType { expected, .. } => {
            (format!("{found} stands where {expected} belongs"), format!("write {expected}"))
        }
        Error::ExpectedDifferentLength { .. } => (
            format!("{found} has too many or too few values"),
            "add or remove values; see FORMAT.md for what belongs here".to_owned(),
        ),
        Error::NoSuchEnumVariant { expected, found, .. } => {
            (format!("`{}` is none of the words known here", start_of(found)), mend_name(found, expected))
        }
        Error::ExpectedDifferentStructName { expected, .. } => {
            (format!("{found} stands where `{expected}` belongs"), format!("write `{expected}(` or just `(`"))
        }
        Error::ExpectedString | Error::ExpectedStringEnd => {
            (format!("{found} is not text in quotes"), "put it in double quotes".to_owned())
        }
        Error::ExpectedBoolean => {
            (format!("{found} is neither true nor false"), "write true or false".to_owned())
        }
        Error::ExpectedArray | Error::ExpectedArrayEnd => (
            format!("{found} is not a list"),
            "write the values in square brackets, such as [1, 2]".to_owned(),
        ),
        Error::ExpectedNamedStructLike("RackRef") => (
            format!("{found} is not a rack"),
            "write the vehicle's mark and the rack's number, such as (\"W1\", 2)".to_owned(),
        ),
        Error::ExpectedNamedStructLike(_) | Error::ExpectedStructLike | Error::ExpectedMap => (
            format!("{found} is not a record"),
            "write its fields in round brackets, such as (name: value)".to_owned(),
        ),
        Error::ExpectedIdentifier | Error::InvalidIdentifier(_) | Error::SuggestRawIdentifier(_) => {
            (format!("{found} is not one of the words known here"), mend_word(found))
        }
        Error::InvalidEscape(_) => {
            (format!("{found} holds a backslash that means nothing"), r"write a backslash as \\".to_owned())
        }
        Error::ExceededRecursionLimit => {
            ("brackets are nested too deep".to_owned(), "check that the file is a plan".to_owned())
        }
        other => (format!("{found}: {}", sentence(other)), "see FORMAT.md for what belongs here".to_owned()),
    }
}

/// What to do about a value that should be a bare word.
fn mend_word(found: &str) -> String {
    let bare = found.trim_matches('`').trim_matches('"');
    match bare.chars().next() {
        Some(first) if first.is_alphabetic() && bare.chars().all(char::is_alphanumeric) => {
            format!("if `{bare}` is one of them, write it without quotes; see FORMAT.md for the words")
        }
        _ => "write one of the words that FORMAT.md lists for this field, such as `Weighed(6500)`".to_owned(),
    }
}

/// The reader's own words, to stand within a sentence.
fn sentence(code: &Error) -> String {
    let words = code.to_string();
    let mut letters = words.chars();
    letters.next().map(|first| first.to_lowercase().chain(letters).collect()).unwrap_or_default()
}

/// A value as written, cut to a readable length, in backquotes.
fn shortened(found: &str) -> String {
    let start = start_of(found.lines().next().unwrap_or_default());
    let more = if start.len() < found.len() { " .." } else { "" };
    format!("`{start}{more}`")
}

fn joined(path: &str, field: &str) -> String {
    if path.is_empty() { field.to_owned() } else { format!("{path}.{field}") }
}

/// The path as the program writes it: fields and numbers, without the names of variants.
fn path_text(path: &Path) -> String {
    path.iter().fold(String::new(), |so_far, segment| match segment {
        Segment::Seq { index } => format!("{so_far}[{index}]"),
        Segment::Map { key } => joined(&so_far, key),
        Segment::Enum { .. } | Segment::Unknown => so_far,
    })
}
