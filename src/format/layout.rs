//! How canonical text is laid out: what fits stands on one line, long lists and records one item a line.

use super::outline::{Item, Node, Shape};

/// The longest line, in characters, that a record may take before its fields go on lines of their own.
const WIDTH: usize = 140;

/// Lists of records that stand this near to the root have one record a line, however short.
const LISTS_OPEN_TO: usize = 2;

/// Lays out `root`, the outline of `compact`, with four spaces a level and `\n` at every line's end.
pub(super) fn lay_out(compact: &str, root: &Node) -> String {
    let mut page = Page { compact, out: String::with_capacity(compact.len() * 2) };
    page.write(root, 0, 0);
    page.out.push('\n');
    page.out
}

struct Page<'t> {
    compact: &'t str,
    out: String,
}

impl Page<'_> {
    /// Writes `node`, whose line is already `used` characters long and indented by `level`.
    fn write(&mut self, node: &Node, level: usize, used: usize) {
        if !must_open(node, level) {
            let mut flat = String::new();
            self.flat(node, &mut flat);
            if used + flat.chars().count() < WIDTH || node.items().is_empty() {
                self.out.push_str(&flat);
                return;
            }
        }
        let (open, close) = self.brackets(node);
        self.out.push_str(&open);
        for Item { key, value } in node.items() {
            self.out.push('\n');
            self.out.push_str(&"    ".repeat(level + 1));
            let key = key.map(|key| format!("{}: ", key.of(self.compact))).unwrap_or_default();
            self.out.push_str(&key);
            self.write(value, level + 1, 4 * (level + 1) + key.chars().count());
            self.out.push(',');
        }
        self.out.push('\n');
        self.out.push_str(&"    ".repeat(level));
        self.out.push_str(close);
    }

    fn flat(&self, node: &Node, flat: &mut String) {
        if node.shape == Shape::Leaf {
            flat.push_str(node.span.of(self.compact));
            return;
        }
        let (open, close) = self.brackets(node);
        flat.push_str(&open);
        for (number, Item { key, value }) in node.items().iter().enumerate() {
            if number > 0 {
                flat.push_str(", ");
            }
            if let Some(key) = key {
                flat.push_str(key.of(self.compact));
                flat.push_str(": ");
            }
            self.flat(value, flat);
        }
        flat.push_str(close);
    }

    /// The opening bracket, with the name before it, and the closing one.
    fn brackets(&self, node: &Node) -> (String, &'static str) {
        let name = node.name.map(|name| name.of(self.compact)).unwrap_or_default();
        match node.shape {
            Shape::Leaf => (node.span.of(self.compact).to_owned(), ""),
            Shape::Round(_) => (format!("{name}("), ")"),
            Shape::Square(_) => ("[".to_owned(), "]"),
            Shape::Curly(_) => ("{".to_owned(), "}"),
        }
    }
}

/// Whether `node` goes over several lines even if it is short.
fn must_open(node: &Node, level: usize) -> bool {
    let records = matches!(node.shape, Shape::Square(_))
        && node.items().iter().any(|item| matches!(item.value.shape, Shape::Round(_)));
    level == 0
        || (level <= LISTS_OPEN_TO && records)
        || node.items().iter().any(|item| must_open(&item.value, level + 1))
}

#[cfg(test)]
mod tests {
    use super::super::scan::outline;
    use super::*;

    fn check(compact: &str, expected: &str) {
        let root = outline(compact).unwrap().unwrap();
        assert_eq!(lay_out(compact, &root), expected);
    }

    #[test]
    fn records_of_a_list_near_the_root_take_a_line_each() {
        check(
            "(a:1,b:[(c:1,d:\"x, y\"),(c:2)],e:[1,2],f:(g:1))",
            "(\n    a: 1,\n    b: [\n        (c: 1, d: \"x, y\"),\n        (c: 2),\n    ],\n    e: [1, 2],\n    f: (g: 1),\n)\n",
        );
    }

    #[test]
    fn a_record_that_is_too_long_for_a_line_is_opened() {
        let long = "x".repeat(WIDTH);
        check(
            &format!("(a:F(b:\"{long}\",c:2))"),
            &format!("(\n    a: F(\n        b: \"{long}\",\n        c: 2,\n    ),\n)\n"),
        );
    }
}
