//! Breaking and cutting words to a width.

use super::flow::Type;

/// Rounding of sums of advances.
const SLACK_MM: f64 = 1.0e-6;

/// `text` in lines that are at most `width_mm` wide; words that are wider alone are broken.
///
/// At least one line, which is empty where the text is; breaks at white space.
pub(super) fn wrap(text: &str, look: Type, width_mm: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let mut line = String::new();
    let fits = |word: &str| look.width_mm(word) <= width_mm + SLACK_MM;
    for word in &words(text, fits) {
        let joined = if line.is_empty() { word.clone() } else { format!("{line} {word}") };
        if fits(&joined) {
            line = joined;
            continue;
        }
        if !line.is_empty() {
            lines.push(std::mem::take(&mut line));
        }
        line = broken(word, look, width_mm, &mut lines);
    }
    if !line.is_empty() || lines.is_empty() {
        lines.push(line);
    }
    lines
}

/// The words of a text; a ratio such as `1.25 : 1` is one of them where it fits.
fn words(text: &str, fits: impl Fn(&str) -> bool) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        let glued = match words.last() {
            Some(last) if word == ":" || last.ends_with(" :") => Some(format!("{last} {word}")),
            _ => None,
        };
        match (glued.filter(|glued| fits(glued)), words.last_mut()) {
            (Some(glued), Some(last)) => *last = glued,
            _ => words.push(word.to_owned()),
        }
    }
    words
}

/// Adds what of `word` needs lines of its own, and gives the rest.
fn broken(word: &str, look: Type, width_mm: f64, lines: &mut Vec<String>) -> String {
    let mut part = String::new();
    for c in word.chars() {
        part.push(c);
        if look.width_mm(&part) > width_mm + SLACK_MM && part.chars().count() > 1 {
            part.pop();
            lines.push(std::mem::take(&mut part));
            part.push(c);
        }
    }
    part
}

/// `text`, or its beginning and an ellipsis, at most `width_mm` wide; none where not even a letter fits.
pub(super) fn cut(text: &str, look: Type, width_mm: f64) -> Option<String> {
    if look.width_mm(text) <= width_mm + SLACK_MM {
        return Some(text.to_owned());
    }
    let mut kept = String::new();
    for c in text.chars() {
        kept.push(c);
        if look.width_mm(&kept) + look.width_mm("…") > width_mm {
            kept.pop();
            break;
        }
    }
    let kept = kept.trim_end();
    (!kept.is_empty()).then(|| format!("{kept}…"))
}

/// `text`, or its beginning and end with an ellipsis between them, at most `width_mm` wide where three characters fit.
pub(super) fn shortened(text: &str, look: Type, width_mm: f64) -> String {
    let letters: Vec<char> = text.chars().collect();
    let with = |kept: usize| -> String {
        let (front, rear) = (kept - kept / 2, kept / 2);
        let rear = letters.get(letters.len() - rear..).unwrap_or_default();
        letters.iter().take(front).copied().chain(['…']).chain(rear.iter().copied()).collect()
    };
    if look.width_mm(text) <= width_mm + SLACK_MM || letters.len() < 4 {
        return text.to_owned();
    }
    let fits = (2..letters.len()).rev().map(with).find(|short| look.width_mm(short) <= width_mm);
    fits.unwrap_or_else(|| with(2))
}

/// `count` and the word that goes with it.
pub(super) fn counted(count: usize, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}

/// With its first letter large.
pub(super) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str, width_mm: f64, expected: &[&str]) {
        let lines = wrap(text, Type::BODY, width_mm);
        assert_eq!(lines, expected);
        assert!(
            lines
                .iter()
                .all(|line| Type::BODY.width_mm(line) <= width_mm + SLACK_MM || line.chars().count() == 1)
        );
    }

    #[test]
    fn lines_break_at_spaces_and_long_words_anywhere() {
        let two = Type::BODY.width_mm("ab cd");
        check("ab cd ef", two, &["ab cd", "ef"]);
        check("ab cd ef", two - 0.01, &["ab", "cd ef"]);
        check("abcdefgh", Type::BODY.width_mm("abc"), &["abc", "def", "gh"]);
        let ratio = Type::BODY.width_mm("1.25 : 1");
        check("ab 1.25 : 1", ratio, &["ab", "1.25 : 1"]);
        check("1.25 : 1", ratio - 0.01, &["1.25 :", "1"]);
        check("", 10.0, &[""]);
        check("ab", 0.1, &["a", "b"]);
    }

    #[test]
    fn what_is_too_wide_is_cut_with_an_ellipsis() {
        let width = Type::BODY.width_mm("ab…");
        assert_eq!(cut("abcdef", Type::BODY, width + 0.01).as_deref(), Some("ab…"));
        assert_eq!(cut("abcdef", Type::BODY, Type::BODY.width_mm("abcdef")).as_deref(), Some("abcdef"));
        assert_eq!(cut("abcdef", Type::BODY, 0.5), None);
    }

    #[test]
    fn a_mark_that_is_too_wide_keeps_its_beginning_and_its_end() {
        let check = |width: &str, expected: &str| {
            let width = Type::BODY.width_mm(width) + 0.001;
            assert_eq!(shortened("abcdef-01", Type::BODY, width), expected);
        };
        check("abcdef-01", "abcdef-01");
        check("ab…01", "ab…01");
        check("a…1", "a…1");
        check("", "a…1");
    }
}
