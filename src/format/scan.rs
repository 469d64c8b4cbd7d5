//! Finds the outline of a RON text, and tells what is wrong with its signs: brackets, quotes, commas, colons.

use super::error::Fault;
use super::outline::{Item, Node, Shape, Span, line_and_column, start_of};

/// The deepest nesting that a file may have; the format itself needs fewer than ten levels.
const DEEPEST: usize = 32;

/// The most values that a file may hold, brackets included.
const MOST_VALUES: usize = 2_000_000;

/// The outline of `text`; none if it holds nothing but white space and comments.
///
/// # Errors
/// The first place where brackets, quotes, commas or colons are not as they must be.
pub(super) fn outline(text: &str) -> Result<Option<Node>, Fault> {
    outline_and_comments(text).map(|(root, _)| root)
}

/// The outline of `text`, and its comments in the order in which they stand.
///
/// # Errors
/// As [`outline`].
pub(super) fn outline_and_comments(text: &str) -> Result<(Option<Node>, Vec<Span>), Fault> {
    let mut scan = Scan { text, at: 0, values: 0, comments: Vec::new() };
    let root = scan
        .skip_attributes()
        .and_then(|()| scan.root())
        .map_err(|slip| Fault::new(line_and_column(text, slip.at), &slip.path(), (slip.what, slip.mend)))?;
    Ok((root, scan.comments))
}

/// A fault whose path is still being gathered, innermost step first.
struct Slip {
    at: usize,
    what: String,
    mend: String,
    steps: Vec<String>,
}

impl Slip {
    fn path(&self) -> String {
        let path: String = self.steps.iter().rev().map(String::as_str).collect();
        path.strip_prefix('.').unwrap_or(&path).to_owned()
    }
}

fn slip<T>(at: usize, what: impl Into<String>, mend: impl Into<String>) -> Result<T, Slip> {
    Err(Slip { at, what: what.into(), mend: mend.into(), steps: Vec::new() })
}

struct Scan<'t> {
    text: &'t str,
    at: usize,
    values: usize,
    comments: Vec<Span>,
}

impl Scan<'_> {
    fn rest(&self) -> &str {
        self.text.get(self.at..).unwrap_or_default()
    }

    fn peek(&self) -> Option<char> {
        self.rest().chars().next()
    }

    fn root(&mut self) -> Result<Option<Node>, Slip> {
        self.skip_blank()?;
        if self.peek().is_none() {
            return Ok(None);
        }
        let node = self.value(0)?;
        self.skip_blank()?;
        match self.peek() {
            None => Ok(Some(node)),
            Some(found) => slip(
                self.at,
                format!("{found:?} stands after the plan's last bracket"),
                "remove what follows the plan",
            ),
        }
    }

    /// Skips `#![enable(..)]` lines at the head of the file.
    fn skip_attributes(&mut self) -> Result<(), Slip> {
        loop {
            self.skip_blank()?;
            if !self.rest().starts_with("#!") {
                return Ok(());
            }
            match self.rest().find(']') {
                Some(end) => self.at += end + 1,
                None => {
                    return slip(
                        self.at,
                        "the `#!` line has no closing `]`",
                        "write `#![enable(implicit_some)]`",
                    );
                }
            }
        }
    }

    /// Skips white space and comments.
    fn skip_blank(&mut self) -> Result<(), Slip> {
        loop {
            let rest = self.rest();
            let trimmed = rest.trim_start();
            let blank = rest.len() - trimmed.len();
            if trimmed.starts_with("//") {
                let length = trimmed.find('\n').unwrap_or(trimmed.len());
                self.at += blank + length;
                self.keep_comment(self.at - length);
            } else if trimmed.starts_with("/*") {
                self.at += blank;
                let start = self.at;
                self.skip_block_comment()?;
                self.keep_comment(start);
            } else {
                self.at += blank;
                return Ok(());
            }
        }
    }

    /// Keeps the comment from `start` to here; a place that is looked at twice is kept once.
    fn keep_comment(&mut self, start: usize) {
        let comment = Span::new(start, self.at);
        if self.comments.last().is_none_or(|last| last.start < comment.start) {
            self.comments.push(comment);
        }
    }

    /// Skips a block comment; they may be nested.
    fn skip_block_comment(&mut self) -> Result<(), Slip> {
        let start = self.at;
        let mut open = 0_usize;
        loop {
            if self.rest().starts_with("/*") {
                open += 1;
                self.at += 2;
            } else if self.rest().starts_with("*/") {
                open -= 1;
                self.at += 2;
                if open == 0 {
                    return Ok(());
                }
            } else if let Some(next) = self.peek() {
                self.at += next.len_utf8();
            } else {
                return slip(start, "the comment that starts here has no end", "write `*/` where it ends");
            }
        }
    }

    fn value(&mut self, depth: usize) -> Result<Node, Slip> {
        self.values += 1;
        if self.values > MOST_VALUES {
            return slip(
                self.at,
                format!("the file holds more than {MOST_VALUES} values"),
                "check that it is a plan",
            );
        }
        let start = self.at;
        let name = match self.peek() {
            Some('(' | '[' | '{') => None,
            Some('"' | '\'') => return self.quoted(start),
            _ if self.rest().starts_with(['r', 'b']) && self.is_raw_or_bytes() => return self.quoted(start),
            _ => Some(self.word()?),
        };
        let word_end = self.at;
        self.skip_blank()?;
        let shape = match (self.peek(), name) {
            (Some('('), _) => Shape::Round(self.bracket(')', depth)?),
            (Some('['), None) => Shape::Square(self.bracket(']', depth)?),
            (Some('{'), None) => Shape::Curly(self.bracket('}', depth)?),
            _ => {
                self.at = word_end;
                Shape::Leaf
            }
        };
        let name = if shape == Shape::Leaf { None } else { name };
        Ok(Node { span: Span::new(start, self.at), name, shape })
    }

    /// A number or a word.
    fn word(&mut self) -> Result<Span, Slip> {
        let start = self.at;
        let is_part = |c: char| c.is_alphanumeric() || matches!(c, '_' | '+' | '-' | '.' | '#');
        let length = self.rest().find(|c| !is_part(c)).unwrap_or(self.rest().len());
        if length > 0 {
            self.at += length;
            return Ok(Span::new(start, self.at));
        }
        match self.peek() {
            None => slip(start, "the file ends where a value is due", CUT),
            Some(found @ (')' | ']' | '}' | ',' | ':')) => slip(
                start,
                format!("{found:?} stands where a value is due"),
                "write the value, or remove what has none",
            ),
            Some(found) => {
                slip(start, format!("{found:?} does not belong here"), "remove it, or put it in quotes")
            }
        }
    }

    fn is_raw_or_bytes(&self) -> bool {
        let after = self.rest().trim_start_matches(['r', 'b']);
        let letters = self.rest().len() - after.len();
        letters <= 2 && (after.starts_with(['"', '\'']) || after.trim_start_matches('#').starts_with('"'))
    }

    /// A quoted text, plain, raw (`r#".."#`) or of bytes, or a quoted letter.
    fn quoted(&mut self, start: usize) -> Result<Node, Slip> {
        let head = self.rest().find(['"', '\'']).unwrap_or_default();
        let prefix = self.rest().get(..head).unwrap_or_default();
        let (raw, hashes) = (prefix.contains('r'), prefix.matches('#').count());
        self.at += head;
        let quote = self.peek().unwrap_or('"');
        self.at += 1;
        let end = if raw {
            let closing = format!("\"{}", "#".repeat(hashes));
            self.rest().find(&closing).map(|found| found + closing.len())
        } else {
            end_of_quote(self.rest(), quote)
        };
        match end {
            Some(length) => {
                self.at += length;
                Ok(Node { span: Span::new(start, self.at), name: None, shape: Shape::Leaf })
            }
            None => slip(
                start,
                "the text that starts here has no closing quote",
                "close the quote; if the file is cut short, restore it from a copy",
            ),
        }
    }

    /// What stands between the bracket at the place and `close`.
    fn bracket(&mut self, close: char, depth: usize) -> Result<Vec<Item>, Slip> {
        let open_at = self.at;
        if depth >= DEEPEST {
            return slip(
                open_at,
                format!("brackets are nested more than {DEEPEST} deep"),
                "check that the file is a plan",
            );
        }
        self.at += 1;
        let mut items = Vec::new();
        loop {
            self.skip_blank()?;
            if self.closes(open_at, close)? {
                return Ok(items);
            }
            let item = self.item(depth).map_err(|mut slip| {
                if close == ']' {
                    slip.steps.push(format!("[{}]", items.len()));
                }
                slip
            })?;
            self.skip_blank()?;
            if close == ')'
                && item.key.is_none()
                && self.peek().is_some()
                && items.iter().any(|item: &Item| item.key.is_some())
            {
                return self.no_name(&item);
            }
            items.push(item);
            match self.peek() {
                Some(',') => self.at += 1,
                Some(')' | ']' | '}') | None => {}
                Some(found) => return self.no_separator(items.last(), found),
            }
        }
    }

    /// A value without a name stands among fields: a stray comma, most likely.
    fn no_name<T>(&self, item: &Item) -> Result<T, Slip> {
        if let Some(found) = self.peek().filter(|found| !matches!(found, ',' | ')')) {
            return self.no_separator(Some(item), found);
        }
        slip(
            item.value.span.start as usize,
            format!("`{}` has no field name before it", start_of(item.value.span.of(self.text))),
            "write `name: value`, and numbers with a point and without grouping",
        )
    }

    /// Two values stand side by side: a colon or a comma was forgotten.
    fn no_separator<T>(&self, last: Option<&Item>, found: char) -> Result<T, Slip> {
        if !(found.is_alphanumeric() || "\"'([{_+-.:".contains(found)) {
            return slip(
                self.at,
                format!("{found:?} does not belong here"),
                "remove it, or put it in quotes",
            );
        }
        let word = last.filter(|item| item.key.is_none()).map(|item| item.value.span.of(self.text));
        match word.filter(|word| word.starts_with(char::is_alphabetic) && *word != "true" && *word != "false")
        {
            Some(word) => {
                slip(self.at, format!("a colon is missing after `{word}`"), format!("write `{word}: ..`"))
            }
            None => slip(
                self.at,
                format!("a comma is missing before {found:?}"),
                "write a comma between the two values, or close the quote before them",
            ),
        }
    }

    /// Whether the bracket of `open_at` closes here; steps over the closing bracket.
    fn closes(&mut self, open_at: usize, close: char) -> Result<bool, Slip> {
        match self.peek() {
            Some(found) if found == close => {
                self.at += 1;
                Ok(true)
            }
            Some(found @ (')' | ']' | '}')) => {
                let (line, column) = line_and_column(self.text, open_at);
                slip(
                    self.at,
                    format!(
                        "{found:?} stands where the bracket of line {line}, column {column} needs {close:?}"
                    ),
                    format!("close that bracket with {close:?} first"),
                )
            }
            None => {
                let (line, column) = line_and_column(self.text, open_at);
                slip(
                    self.at,
                    format!("the file ends before the bracket of line {line}, column {column} is closed"),
                    CUT,
                )
            }
            Some(_) => Ok(false),
        }
    }

    /// A value, or a key, a colon and a value.
    fn item(&mut self, depth: usize) -> Result<Item, Slip> {
        let first = self.value(depth + 1)?;
        self.skip_blank()?;
        if self.peek() != Some(':') {
            return Ok(Item { key: None, value: first });
        }
        let (key, text) = (first.span, self.text);
        self.at += 1;
        let value = self.skip_blank().and_then(|()| self.value(depth + 1)).map_err(|mut slip| {
            slip.steps.push(format!(".{}", key.of(text)));
            slip
        })?;
        Ok(Item { key: Some(key), value })
    }
}

/// What to do about a file that ends too early.
const CUT: &str = "the file looks cut short: restore it from a copy, or finish it by hand";

/// The length of a quoted text after its opening quote, closing quote included.
fn end_of_quote(rest: &str, quote: char) -> Option<usize> {
    let mut escaped = false;
    for (at, c) in rest.char_indices() {
        match c {
            _ if escaped => escaped = false,
            '\\' => escaped = true,
            _ if c == quote => return Some(at + 1),
            _ => {}
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str, line: usize, column: usize, path: &str, what: &str) {
        let fault = outline(text).unwrap_err();
        assert_eq!((fault.line, fault.column, fault.path.as_str()), (line, column, path), "{fault}");
        assert!(fault.what.contains(what), "{fault}");
    }

    #[test]
    fn sound_texts_have_an_outline() {
        for text in [
            "(a: 1, b: [2, -3.5e-7,], c: \"x \\\" ) y\", d: 'q', e: '\\'')",
            "A(r#type: b\"x\", raw: r#\"a \" ( b\"#) // end",
            "/* a /* b */ c */ [(), Some((x: 1)), W(2), { 1: 2 }]",
            "#![enable(implicit_some)] #![enable(unwrap_newtypes)] ( )",
        ] {
            assert!(outline(text).unwrap().is_some(), "{text}");
        }
        assert_eq!(outline(" // nothing\n"), Ok(None));
    }

    #[test]
    fn a_sign_that_is_wrong_is_found_where_it_stands() {
        check("(a: [(b: 1),\n (b: 2]))", 2, 7, "a[1]", "needs ')'");
        check("(a: 1\n b: 2)", 2, 2, "", "a comma is missing");
        check("(a: 1, b 2)", 1, 10, "", "a colon is missing after `b`");
        check("(a: 1, 2)", 1, 8, "", "`2` has no field name");
        check("(a: )", 1, 5, "a", "a value is due");
        check("(a: [1, 2", 1, 10, "a", "the file ends before the bracket of line 1, column 5");
        check("(a: \"x)", 1, 5, "a", "no closing quote");
        check("(a: r#\"x\")", 1, 5, "a", "no closing quote");
        check("(a: 1) b", 1, 8, "", "after the plan's last bracket");
        check("(a: 1; b: 2)", 1, 6, "", "';' does not belong here");
        check("(a: @)", 1, 5, "a", "'@' does not belong here");
        check("#![enable(x", 1, 1, "", "no closing `]`");
    }

    #[test]
    fn nesting_ends_at_its_limit() {
        let nested = |depth: usize| format!("{}{}", "[".repeat(depth), "]".repeat(depth));
        assert!(outline(&nested(DEEPEST)).is_ok());
        assert!(outline(&nested(DEEPEST + 1)).unwrap_err().what.contains("nested more than"));
    }
}
