//! Plain text laid out in columns: wrapped paragraphs, labelled lines, tables.

/// The most columns that a line of running text takes.
pub(super) const WIDTH: usize = 100;

/// Adds `text` to `out`, wrapped at [`WIDTH`], its first line after `first`, the others after `rest`.
pub(super) fn paragraph(out: &mut String, first: &str, rest: &str, text: &str) {
    let mut line = first.to_owned();
    let mut empty = true;
    for word in text.split_whitespace() {
        let joined = line.chars().count() + usize::from(!empty) + word.chars().count();
        if !empty && joined > WIDTH {
            push_line(out, &line);
            line = rest.to_owned();
            empty = true;
        }
        if !empty {
            line.push(' ');
        }
        line.push_str(word);
        empty = false;
    }
    push_line(out, &line);
}

/// Adds a line that names what follows, `label` padded to a column of its own.
pub(super) fn labelled(out: &mut String, label: &str, text: &str) {
    let first = format!("      {label:<11} ");
    paragraph(out, &first, &" ".repeat(first.chars().count()), text);
}

/// `count` and the word that goes with it, such as `1 state` or `17 states`.
pub(super) fn counted(count: usize, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}

/// Growing numbers in few words, such as `3, 5 to 9`.
pub(super) fn ranges(numbers: &[usize]) -> String {
    let mut parts: Vec<(usize, usize)> = Vec::new();
    for &number in numbers {
        match parts.last_mut() {
            Some((_, last)) if *last + 1 == number => *last = number,
            _ => parts.push((number, number)),
        }
    }
    let words = parts.into_iter().map(|(first, last)| match last - first {
        0 => first.to_string(),
        1 => format!("{first}, {last}"),
        _ => format!("{first} to {last}"),
    });
    words.collect::<Vec<_>>().join(", ")
}

/// A column's heading: up to three lines of words.
pub(super) struct Heading(pub(super) &'static str, pub(super) &'static str, pub(super) &'static str);

/// Rows of cells under headings; the first columns stand left, the others right.
pub(super) struct Table {
    heads: Vec<[String; 3]>,
    left: usize,
    rows: Vec<Vec<String>>,
}

impl Table {
    /// A table whose first `left` columns hold words.
    pub(super) fn new(left: usize, heads: impl IntoIterator<Item = Heading>) -> Self {
        let heads = heads.into_iter().map(|Heading(a, b, c)| [a, b, c].map(str::to_owned)).collect();
        Self { heads, left, rows: Vec::new() }
    }

    /// Adds a column at the right.
    pub(super) fn column(&mut self, head: [String; 3]) {
        self.heads.push(head);
    }

    /// Adds a row, one cell per column.
    pub(super) fn row(&mut self, cells: Vec<String>) {
        self.rows.push(cells);
    }

    /// Adds the table to `out`, or `none` where it has no rows.
    pub(super) fn write(&self, out: &mut String, none: &str) {
        if self.rows.is_empty() {
            push_line(out, &format!("  {none}"));
            return;
        }
        let widths: Vec<usize> = (0..self.heads.len()).map(|column| self.width(column)).collect();
        for line in 0..3 {
            let cells: Vec<&str> = self.heads.iter().map(|head| head[line].as_str()).collect();
            if cells.iter().any(|cell| !cell.is_empty()) {
                self.write_line(out, &widths, &cells);
            }
        }
        for row in &self.rows {
            self.write_line(out, &widths, &row.iter().map(String::as_str).collect::<Vec<_>>());
        }
    }

    fn width(&self, column: usize) -> usize {
        let heads = self.heads.get(column).into_iter().flatten();
        let cells = self.rows.iter().filter_map(|row| row.get(column));
        heads.chain(cells).map(|cell| cell.chars().count()).max().unwrap_or(0)
    }

    fn write_line(&self, out: &mut String, widths: &[usize], cells: &[&str]) {
        let mut line = String::new();
        for (column, (cell, width)) in cells.iter().zip(widths).enumerate() {
            line.push_str("  ");
            if column < self.left {
                line.push_str(&format!("{cell:<width$}"));
            } else {
                line.push_str(&format!("{cell:>width$}"));
            }
        }
        push_line(out, &line);
    }
}

fn push_line(out: &mut String, line: &str) {
    out.push_str(line.trim_end());
    out.push('\n');
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn paragraphs_wrap_at_the_width_and_not_before() {
        let check = |length: usize, lines: usize| {
            let mut out = String::new();
            paragraph(&mut out, "", "  ", &format!("{} b", "a".repeat(length)));
            assert_eq!(out.lines().count(), lines, "{out}");
        };
        check(WIDTH - 2, 1);
        check(WIDTH - 1, 2);
        // A word that is too long alone is kept whole rather than lost.
        check(WIDTH + 5, 2);
    }

    #[test]
    fn numbers_are_told_in_ranges() {
        let check = |numbers: &[usize], expected: &str| assert_eq!(ranges(numbers), expected);
        check(&[], "");
        check(&[3], "3");
        check(&[3, 4], "3, 4");
        check(&[0, 3, 4, 5, 9], "0, 3 to 5, 9");
    }

    #[test]
    fn tables_align_words_left_and_numbers_right() {
        let mut table = Table::new(1, [Heading("name", "", ""), Heading("mass", "", "t")]);
        table.row(vec!["W1".to_owned(), "5.00".to_owned()]);
        table.row(vec!["W10".to_owned(), "24.00".to_owned()]);
        let mut out = String::new();
        table.write(&mut out, "none");
        assert_eq!(out, "  name   mass\n            t\n  W1     5.00\n  W10   24.00\n");
    }
}
