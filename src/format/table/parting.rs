//! What parts the cells of a line: said by the file, or found by trying.

use std::fmt;

/// What stands between the cells of a line.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Separator {
    /// `,`
    #[default]
    Comma,
    /// `;`
    Semicolon,
    /// A tab.
    Tab,
}

impl Separator {
    /// All of them; of two that part a table equally well the earlier is meant.
    pub const ALL: [Self; 3] = [Self::Tab, Self::Semicolon, Self::Comma];

    /// Its sign.
    pub fn sign(self) -> char {
        match self {
            Self::Comma => ',',
            Self::Semicolon => ';',
            Self::Tab => '\t',
        }
    }
}

impl fmt::Display for Separator {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Comma => "comma",
            Self::Semicolon => "semicolon",
            Self::Tab => "tab",
        })
    }
}

/// How to find out what parts the cells.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Parting {
    /// From the table itself.
    #[default]
    AsFound,
    /// Somebody said so.
    By(Separator),
}

/// Lines that are looked at to find the separator.
const LINES_TO_TRY: usize = 200;

/// The separator that a first line such as `sep=;` names, as some spreadsheets write it.
pub(super) fn said_in(text: &str) -> Option<Separator> {
    let line = text.lines().next()?.trim().trim_matches('"').to_lowercase();
    let rest = line.strip_prefix("sep=")?;
    // The tab itself is white space and trimmed away.
    match rest {
        ";" => Some(Separator::Semicolon),
        "," => Some(Separator::Comma),
        "" | "\t" | "\\t" => Some(Separator::Tab),
        _ => None,
    }
}

/// The separator that parts most lines into the same number of cells; where none parts any the most frequent, else a comma.
pub(super) fn found_in(text: &str) -> Separator {
    let weigh = |separator: Separator| {
        let counts = separators_in_lines(text, separator);
        let most_common = counts.iter().copied().filter(|count| *count > 0).max_by_key(|count| {
            let alike = counts.iter().filter(|other| *other == count).count();
            alike * count
        })?;
        let alike = counts.iter().filter(|count| **count == most_common).count();
        Some(alike as f64 / counts.len() as f64 * (alike * most_common) as f64)
    };
    let weighed = Separator::ALL.into_iter().filter_map(|separator| Some((separator, weigh(separator)?)));
    let heavier = |best: (Separator, f64), next: (Separator, f64)| if next.1 > best.1 { next } else { best };
    let most_frequent = || {
        let counted =
            Separator::ALL.into_iter().map(|separator| (text.matches(separator.sign()).count(), separator));
        let most = counted.filter(|(count, _)| *count > 0).max_by_key(|(count, _)| *count);
        most.map(|(_, separator)| separator).unwrap_or_default()
    };
    weighed.reduce(heavier).map_or_else(most_frequent, |(separator, _)| separator)
}

/// How many separators each of the first lines that are not blank has, outside quotes and not at its end.
fn separators_in_lines(text: &str, separator: Separator) -> Vec<usize> {
    let mut counts = Vec::new();
    let (mut count, mut trailing, mut quoted, mut blank) = (0, 0, false, true);
    for c in text.chars().chain(['\n']) {
        match c {
            '"' => {
                quoted = !quoted;
                (trailing, blank) = (0, false);
            }
            '\n' if !quoted => {
                if !blank {
                    counts.push(count - trailing);
                }
                (count, trailing, blank) = (0, 0, true);
                if counts.len() >= LINES_TO_TRY {
                    break;
                }
            }
            _ if quoted => {}
            _ if c == separator.sign() => {
                count += 1;
                trailing += 1;
            }
            _ if c.is_whitespace() => {}
            _ => (trailing, blank) = (0, false),
        }
    }
    counts
}

/// Where in a cell the reading is.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Within {
    Start,
    Plain,
    Quoted,
    /// Behind a quote that closes the cell, or is the first of a doubled one.
    AfterQuote,
}

/// The line in which a quote opens that is never closed; quotes open at the beginning of a cell only.
pub(super) fn open_quote(text: &str, separator: Separator) -> Option<usize> {
    let (mut line, mut opened, mut within) = (1, 1, Within::Start);
    for c in text.chars() {
        let ends = c == '\n' || c == separator.sign();
        within = match (within, c) {
            (Within::Start, '"') => {
                opened = line;
                Within::Quoted
            }
            (Within::Quoted, '"') => Within::AfterQuote,
            (Within::Quoted, _) | (Within::AfterQuote, '"') => Within::Quoted,
            _ if ends => Within::Start,
            _ => Within::Plain,
        };
        line += usize::from(c == '\n');
    }
    (within == Within::Quoted).then_some(opened)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str, separator: Separator) {
        assert_eq!(found_in(text), separator, "{text}");
    }

    #[test]
    fn the_separator_is_what_parts_the_lines_alike() {
        check("Mark,Section,Length\nA1,60E1,108\n", Separator::Comma);
        check("Mark;Section;Length\nA1;60E1;107,5\nA2;60E1;107,5\n", Separator::Semicolon);
        check("Mark\tSection\tLength\nA1\t60E1\t1.234,5\n", Separator::Tab);
        check("Mark;Note\nA1;\"a, b, c, d\"\nA2;\"a, b, c, d\"\n", Separator::Semicolon);
        check("Order of May; first part\n\nMark,Length\nA1,1\nA2,2\nA3,3", Separator::Comma);
        check("A1\nA2\n", Separator::Comma);
        check(" \n;;;\n", Separator::Semicolon);
        check(";;;\n;;;\nMark,Length\nA1,1\n", Separator::Comma);
    }

    #[test]
    fn the_first_line_may_say_what_it_is() {
        assert_eq!(said_in("sep=;\na;b"), Some(Separator::Semicolon));
        assert_eq!(said_in("\"SEP=,\"\n"), Some(Separator::Comma));
        assert_eq!(said_in("sep=\t\n"), Some(Separator::Tab));
        assert_eq!(said_in("sep=x\n"), None);
        assert_eq!(said_in("separator\n"), None);
    }

    #[test]
    fn a_quote_that_stays_open_is_told_with_the_line_where_it_opens() {
        let check = |text, line| assert_eq!(open_quote(text, Separator::Comma), line, "{text}");
        check("a,\"b\"\nc", None);
        check("a,\"b\nc\nd", Some(1));
        check("a\n\"b\"\"\"\nc", None);
        check("a\n\"b\"\"\nc", Some(2));
        check("a,6\" long\n", None);
        check("\"a\"b\"\nc", None);
    }
}
