//! The outline of a RON text: its brackets, keys and values with their places, and nothing of their meaning.
//!
//! It comes before the typed reading, so that a missing comma, an open bracket or a file cut in half is told
//! as such; afterwards it tells where the field of a path stands, and the writer lays out text by it.

/// A stretch of the text, as byte offsets.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Span {
    pub(super) start: u32,
    pub(super) end: u32,
}

impl Span {
    pub(super) fn new(start: usize, end: usize) -> Self {
        Self { start: start as u32, end: end as u32 }
    }

    /// The text of the stretch.
    pub(super) fn of(self, text: &str) -> &str {
        text.get(self.start as usize..self.end as usize).unwrap_or_default()
    }
}

/// What a value is, seen from outside.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Shape {
    /// A number, a word or a quoted text.
    Leaf,
    /// `name(..)` or `(..)`.
    Round(Vec<Item>),
    /// `[..]`.
    Square(Vec<Item>),
    /// `{..}`.
    Curly(Vec<Item>),
}

/// A value: from its name or bracket to its end.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Node {
    pub(super) span: Span,
    pub(super) name: Option<Span>,
    pub(super) shape: Shape,
}

/// A value within brackets, with its key where it has one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Item {
    pub(super) key: Option<Span>,
    pub(super) value: Node,
}

impl Node {
    /// What stands within the brackets; empty for a leaf.
    pub(super) fn items(&self) -> &[Item] {
        match &self.shape {
            Shape::Leaf => &[],
            Shape::Round(items) | Shape::Square(items) | Shape::Curly(items) => items,
        }
    }

    /// The field called `key`.
    pub(super) fn field(&self, text: &str, key: &str) -> Option<&Item> {
        self.items().iter().find(|item| item.key.is_some_and(|span| span.of(text) == key))
    }

    /// The value within `Some(..)`, or the value itself.
    pub(super) fn inner(&self, text: &str) -> &Self {
        match (&self.shape, self.name) {
            (Shape::Round(items), Some(name)) if name.of(text) == "Some" && items.len() == 1 => {
                items.first().map_or(self, |item| item.value.inner(text))
            }
            _ => self,
        }
    }
}

/// Line and column, both from 1, of a byte offset.
pub(super) fn line_and_column(text: &str, offset: usize) -> (usize, usize) {
    let before = text.get(..offset).unwrap_or(text);
    let line_start = before.rfind('\n').map_or(0, |newline| newline + 1);
    let line = before.bytes().filter(|byte| *byte == b'\n').count() + 1;
    (line, before.get(line_start..).unwrap_or_default().chars().count() + 1)
}

/// The first characters of a value, to be shown: of its first line, since an error stands in one line.
pub(super) fn start_of(value: &str) -> String {
    value.lines().next().unwrap_or_default().chars().take(40).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_start_of_a_value_stays_in_its_line() {
        assert_eq!(start_of("(name:\n  1)"), "(name:");
        assert_eq!(start_of(&"x".repeat(50)), "x".repeat(40));
        assert_eq!(start_of(""), "");
    }
}
