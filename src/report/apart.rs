//! Two values beside each other with as many digits as make them differ: a change must not look like none.

use crate::units::{Piece, Quantity, QuantityKind, Style, Text};

/// How it was, how it is and by how much it grew, as a reader sees them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Apart {
    /// How it was.
    pub(super) before: String,
    /// How it is.
    pub(super) after: String,
    /// By how much it grew, with its sign and its unit, such as `+0.40 t`; empty without numbers.
    pub(super) by: String,
}

/// How many decimals beyond the usual ones are tried.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Digits {
    /// As many as tell any two entered numbers apart: an `f64` has 17 digits.
    Entered,
    /// Up to a hundredth of a gram in tonnes; below that computed numbers differ by their rounding.
    Computed,
}

/// What is said of entries that differ though even all digits read alike, such as texts of other characters.
const ALIKE: &str = "differs, though it reads alike";

impl Apart {
    /// Shows both with the fewest digits that make them differ; without such digits, as each is shown alone.
    pub(super) fn of(
        (before, after): (&Text, &Text),
        by: Option<Quantity>,
        (digits, style): (Digits, Style),
    ) -> Self {
        let most = if digits == Digits::Entered { 20 } else { 6 };
        let shown = |more: usize| Self {
            before: show(before, after, style, more),
            after: show(after, before, style, more),
            by: by.map_or_else(String::new, |by| by_words(by, style, more)),
        };
        (0..=most).map(shown).find(|apart| !apart.is_alike()).unwrap_or_else(|| match digits {
            Digits::Entered => Self { by: ALIKE.to_owned(), ..shown(0) },
            Digits::Computed => shown(0),
        })
    }

    /// Whether nobody can see a difference.
    pub(super) fn is_alike(&self) -> bool {
        let is_none = |by: &str| by.contains('0') && !by.contains(|c| matches!(c, '1'..='9'));
        self.before == self.after || is_none(digits_of(&self.by))
    }
}

/// By how much a number grew, with its sign and its unit and so many more decimals than usual.
pub(super) fn by_words(by: Quantity, style: Style, more: usize) -> String {
    let size = Quantity { value: by.value.abs(), kind: by.kind };
    let shown = match by.kind {
        // The difference of two ratios is no ratio.
        QuantityKind::Ratio => size.show_number_finer(style, more),
        _ => size.show_finer(style, more),
    };
    let sign = if by.value < 0.0 { "-" } else { "+" };
    format!("{sign}{shown}")
}

/// The number without its unit, which may have a digit in it, as `m2`.
fn digits_of(by: &str) -> &str {
    by.split(' ').next().unwrap_or_default()
}

/// A text whose values have more decimals than usual where they differ from those of the other side.
fn show(text: &Text, other: &Text, style: Style, more: usize) -> String {
    let pieces = text.0.iter().enumerate().map(|(at, piece)| match piece {
        Piece::Words(words) => words.clone(),
        Piece::Value(value) if other.0.get(at) == Some(piece) => value.show(style),
        Piece::Value(value) => value.show_finer(style, more),
    });
    pieces.collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::text;

    /// Two entries, and how each and their difference are shown.
    fn check(before: Quantity, after: Quantity, expected: [&str; 3]) {
        let by = Quantity { value: after.value - before.value, ..after };
        let shown = Apart::of((&before.into(), &after.into()), Some(by), (Digits::Entered, Style::default()));
        assert_eq!([shown.before, shown.after, shown.by], expected.map(str::to_owned));
    }

    #[test]
    fn entries_are_shown_with_as_many_digits_as_make_them_differ() {
        check(Quantity::mass(68_000.0), Quantity::mass(69_000.0), ["68.00 t", "69.00 t", "+1.00 t"]);
        check(Quantity::mass(68_000.0), Quantity::mass(68_001.0), ["68.000 t", "68.001 t", "+0.001 t"]);
        check(Quantity::mass(22_500.0), Quantity::mass(22_499.0), ["22.500 t", "22.499 t", "-0.001 t"]);
        let (one, two) = (Quantity::ratio(1.25), Quantity::ratio(1.250_000_1));
        check(one, two, ["1.2500000 : 1", "1.2500001 : 1", "+0.0000001"]);
        // Rounding makes these differ with two decimals, but not what lies between them.
        check(Quantity::mass(14.9), Quantity::mass(15.1), ["0.0149 t", "0.0151 t", "+0.0002 t"]);
        let ulp = 1.25_f64.next_up();
        let shown = ["1.2500000000000000 : 1", "1.2500000000000002 : 1", "+0.0000000000000002"];
        check(one, Quantity::ratio(ulp), shown);
    }

    #[test]
    fn only_the_value_that_differs_gets_more_digits() {
        let rack = |m: f64, mm: f64| {
            text!["R at ", Quantity::length_m(m), ", higher by ", Quantity::small_length_m(mm / 1000.0)]
        };
        let shown = Apart::of((&rack(3.0, 5.0), &rack(3.0, 5.25)), None, (Digits::Entered, Style::default()));
        assert_eq!(shown.before, "R at 3.000 m, higher by 5.0 mm");
        assert_eq!(shown.after, "R at 3.000 m, higher by 5.2 mm");
    }

    #[test]
    fn what_reads_alike_with_all_digits_is_said_to() {
        let shown = Apart::of((&text![""], &text!["", ""]), None, (Digits::Entered, Style::default()));
        assert_eq!(shown.by, ALIKE);
        let (one, two) = (Quantity::mass(34_000.0), Quantity::mass(34_000.0_f64.next_up()));
        let shown = Apart::of((&one.into(), &two.into()), None, (Digits::Computed, Style::default()));
        assert!(shown.is_alike() && shown.before == "34.00 t", "{shown:?}");
    }
}
