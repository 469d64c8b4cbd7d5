//! Where the field of a path stands in a text, and which name a misspelt one is near.

use super::outline::Node;

/// The byte offset of the value at `path`, or of the nearest thing around it that is written.
pub(super) fn offset_of(text: &str, root: &Node, path: &str) -> usize {
    node_of(text, root, path).span.start as usize
}

/// The byte offset of the `nth` (from 0) key called `key` in the value at `path`, where there is one.
pub(super) fn offset_of_key(text: &str, root: &Node, (path, key): (&str, &str), nth: usize) -> Option<usize> {
    let keys = node_of(text, root, path).inner(text).items().iter().filter_map(|item| item.key);
    let mut called = keys.filter(|span| span.of(text) == key);
    called.nth(nth).map(|span| span.start as usize)
}

/// The value at `path`, or the nearest one around it that is written.
pub(super) fn node_of<'n>(text: &str, root: &'n Node, path: &str) -> &'n Node {
    let mut node = root;
    for step in path.split(['.', '[']).filter(|step| !step.is_empty()) {
        let inside = node.inner(text);
        let next = match step.strip_suffix(']') {
            Some(number) => number.parse().ok().and_then(|number: usize| inside.items().get(number)),
            None => inside.field(text, step),
        };
        match next {
            Some(item) => node = &item.value,
            None => return node,
        }
    }
    node
}

/// The units that end a field's name, and what they are called.
const UNITS: &[(&str, &str)] = &[
    ("mm", "millimetres"),
    ("cm", "centimetres"),
    ("m", "metres"),
    ("km", "kilometres"),
    ("in", "inches"),
    ("ft", "feet"),
    ("kg", "kilograms"),
    ("t", "tonnes"),
    ("lb", "pounds"),
    ("n", "newtons"),
    ("kn", "kilonewtons"),
    ("pa", "pascals"),
    ("mpa", "megapascals"),
    ("gpa", "gigapascals"),
    ("cm2", "square centimetres"),
    ("cm3", "cubic centimetres"),
    ("cm4", "cm to the fourth power"),
    ("mm2", "square millimetres"),
    ("mm3", "cubic millimetres"),
    ("mm4", "mm to the fourth power"),
    ("kg_per_m", "kilograms per metre"),
    ("n_per_m", "newtons per metre"),
    ("kn_per_m", "kilonewtons per metre"),
    ("n_per_mm", "newtons per millimetre"),
    ("kg_per_m3", "kilograms per cubic metre"),
    ("m_per_s", "metres per second"),
    ("m_per_s2", "metres per second squared"),
    ("kmh", "kilometres per hour"),
    ("mph", "miles per hour"),
    ("g", "multiples of free fall"),
    ("k", "kelvin"),
    ("min", "minutes"),
    ("h", "hours"),
    ("s", "seconds"),
    ("share", "a share of one"),
    ("percent", "per cent"),
    ("shares", "shares of one"),
];

/// What to do about `found`, which is none of `known`.
pub(super) fn mend_name(found: &str, known: &[&str]) -> String {
    let (stem, _) = split_unit(found);
    let same_stem = known.iter().find(|name| split_unit(name).0 == stem);
    if let Some((name, unit)) = same_stem.and_then(|name| Some((name, split_unit(name).1?))) {
        return format!("write `{name}`, in {unit}");
    }
    let nearest = known.iter().map(|name| (distance(found, name), name)).min();
    match nearest {
        Some((distance, name)) if distance <= 1 + name.chars().count() / 4 => format!("write `{name}`"),
        _ if known.is_empty() => "remove it".to_owned(),
        _ => format!("use one of: {}", known.join(", ")),
    }
}

/// A name without its unit, and what the unit is called.
fn split_unit(name: &str) -> (&str, Option<&'static str>) {
    let parted = UNITS.iter().filter_map(|(unit, words)| {
        let stem = name.strip_suffix(unit)?.strip_suffix('_')?;
        Some((stem, Some(*words)))
    });
    parted.min_by_key(|(stem, _)| stem.len()).unwrap_or((name, None))
}

/// How many letters must be put in, taken out or replaced to make `a` into `b`.
fn distance(a: &str, b: &str) -> usize {
    let b: Vec<char> = b.chars().collect();
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, from) in a.chars().take(100).enumerate() {
        let mut diagonal = i;
        let mut left = i + 1;
        for (cell, to) in row.iter_mut().skip(1).zip(&b) {
            let above = *cell;
            left = (diagonal + usize::from(!from.eq_ignore_ascii_case(to))).min(above + 1).min(left + 1);
            diagonal = above;
            *cell = left;
        }
        if let Some(first) = row.first_mut() {
            *first = i + 1;
        }
    }
    row.last().copied().unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::super::scan::outline;
    use super::*;

    #[test]
    fn a_path_leads_to_its_value_or_to_the_nearest_around_it() {
        let text = "(a: [(b: 1), X(b: Some((c: 2)))], d: 5)";
        let root = outline(text).unwrap().unwrap();
        let at = |path: &str| text.get(offset_of(text, &root, path)..).unwrap();
        for (path, found) in [
            ("", "(a:"),
            ("a", "[(b"),
            ("a[0].b", "1)"),
            ("a[1]", "X(b"),
            ("a[1].b.c", "2)"),
            ("a[7].b", "[(b"),
            ("d", "5)"),
            ("e", "(a:"),
        ] {
            assert!(at(path).starts_with(found), "{path}: {}", at(path));
        }
    }

    #[test]
    fn a_misspelt_name_is_told_its_nearest_and_a_wrong_unit_the_right_one() {
        let known = ["length_mm", "tare_kg", "title", "mark", "mass_kg_per_m"];
        for (found, mend) in [
            ("length_m", "write `length_mm`, in millimetres"),
            ("length", "write `length_mm`, in millimetres"),
            ("tare_t", "write `tare_kg`, in kilograms"),
            ("mass_per_m", "write `mass_kg_per_m`"),
            ("colour", "use one of: length_mm, tare_kg, title, mark, mass_kg_per_m"),
            ("titel", "write `title`"),
            ("Mark", "write `mark`"),
        ] {
            assert_eq!(mend_name(found, &known), mend, "{found}");
        }
    }

    #[test]
    fn the_distance_counts_letters() {
        assert_eq!(distance("", "abc"), 3);
        assert_eq!(distance("kitten", "sitting"), 3);
        assert_eq!(distance("same", "same"), 0);
    }
}
