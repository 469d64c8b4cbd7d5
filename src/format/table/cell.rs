//! One cell: its words, and the guard that keeps a spreadsheet from reckoning with them.

/// The sign that spreadsheets put before words that are not to be reckoned with.
const GUARD: char = '\'';

/// A cell of a table that was read.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct TableCell {
    /// Its words, without white space at the ends and without the guard.
    pub text: String,
    /// Whether it stands there unguarded as a formula, `=..`: what was meant is not in the file.
    pub is_formula: bool,
}

impl TableCell {
    /// The cell that stands as `written` in the file.
    pub(super) fn of(written: &str) -> Self {
        let trimmed = trimmed(written);
        match trimmed.strip_prefix(GUARD).filter(|rest| needs_guard(rest)) {
            Some(rest) => Self { text: rest.to_owned(), is_formula: false },
            None => Self { text: trimmed.to_owned(), is_formula: trimmed.starts_with(['=', '\u{ff1d}']) },
        }
    }

    /// Whether it says nothing.
    pub fn is_empty(&self) -> bool {
        self.text.is_empty()
    }
}

/// Words as they are written into a cell: guarded where a spreadsheet would take them for a formula.
pub(super) fn guarded(words: &str) -> String {
    if needs_guard(words) { format!("{GUARD}{words}") } else { words.to_owned() }
}

/// Whether a spreadsheet may reckon with words that begin so, or they begin with the guard itself.
fn needs_guard(words: &str) -> bool {
    words.starts_with(['\t', '\r', '\n'])
        || words
            .trim_start()
            .starts_with(['=', '+', '-', '@', GUARD, '\u{ff1d}', '\u{ff0b}', '\u{ff0d}', '\u{ff20}'])
}

/// Without white space, and the marks that stand for none, at the ends.
fn trimmed(written: &str) -> &str {
    written.trim_matches(|c: char| c.is_whitespace() || matches!(c, '\u{feff}' | '\u{200b}'))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_spreadsheet_would_reckon_with_is_guarded_and_reads_back() {
        for (words, written) in [
            ("A1", "A1"),
            ("=1+1", "'=1+1"),
            ("+A", "'+A"),
            ("-12", "'-12"),
            ("@SUM(A1)", "'@SUM(A1)"),
            ("'=A", "''=A"),
            ("'", "''"),
            ("'quoted'", "''quoted'"),
            ("\u{ff1d}1", "'\u{ff1d}1"),
            ("a=b", "a=b"),
        ] {
            assert_eq!(guarded(words), written);
            assert_eq!(TableCell::of(written), TableCell { text: words.to_owned(), is_formula: false });
        }
        assert_eq!(guarded(" =1"), "' =1");
    }

    #[test]
    fn an_unguarded_formula_is_known_as_one_and_other_quotes_are_left_alone() {
        assert!(TableCell::of("=A1").is_formula);
        assert!(!TableCell::of("-12").is_formula);
        assert_eq!(TableCell::of(" \u{a0}'tis \u{feff}").text, "'tis");
    }
}
