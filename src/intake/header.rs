//! What a header says: the name of a column, and the unit of its numbers.

use super::field::{Field, Measure, Unit, plain};

/// Whether `header` stands for `field`; with the unit that it names.
pub(super) fn reads_as(header: &str, field: &Field) -> Option<Option<&'static Unit>> {
    let whole = tidy(header);
    if is_name(&whole, field) {
        return Some(None);
    }
    let (name, bracket) = split_bracket(&plain(header));
    let name = tidy(&name);
    if let Some(bracket) = bracket.filter(|_| is_name(&name, field)) {
        // Words in brackets that are no unit are a remark.
        return Some(field.measure.unit(bracket.trim_start_matches("in ").trim()));
    }
    let units = field.measure.units().iter();
    let spellings = units.flat_map(|unit| unit.names.iter().map(move |name| (*name, unit)));
    spellings
        .filter_map(|(spelling, unit)| {
            let stem = whole.strip_suffix(&tidy(spelling))?.strip_suffix(' ')?;
            let stem = stem.strip_suffix(" in").unwrap_or(stem);
            (is_name(stem, field) && !(spelling == "in" && stem.ends_with(" in")))
                .then_some((stem.len(), unit))
        })
        // The shortest name leaves the longest unit: "length in mm" is no length in inches.
        .min_by_key(|(stem, _)| *stem)
        .map(|(_, unit)| Some(unit))
}

/// The unit at the end of a header whose name may be any: `Laenge (m)`, `Lunghezza, mm`.
pub(super) fn unit_at_end(header: &str, measure: Measure) -> Option<&'static Unit> {
    let header = plain(header);
    if let (_, Some(bracket)) = split_bracket(&header) {
        return measure.unit(bracket.trim_start_matches("in ").trim());
    }
    let last = header.rsplit([' ', ',', '_']).next().filter(|last| last.len() < header.len())?;
    measure.unit(last)
}

/// Whether two headers are the same to a reader: capitals and spaces do not count.
pub(super) fn same(a: &str, b: &str) -> bool {
    plain(a) == plain(b)
}

fn is_name(words: &str, field: &Field) -> bool {
    field.names.iter().any(|name| tidy(name) == words)
}

/// Small letters, with marks between words taken for spaces.
fn tidy(words: &str) -> String {
    let spaced = |c: char| if matches!(c, '_' | '-' | '/' | ',' | ':' | '.' | '#' | '\n') { ' ' } else { c };
    plain(&words.chars().map(spaced).collect::<String>())
}

/// A header without what stands in brackets at its end, and that.
fn split_bracket(header: &str) -> (String, Option<String>) {
    let opened = header.rfind(['(', '[']);
    let inside = opened.and_then(|at| Some((at, header.get(at + 1..)?.strip_suffix([')', ']'])?)));
    match inside {
        Some((at, inside)) => (header.get(..at).unwrap_or_default().to_owned(), Some(inside.to_owned())),
        None => (header.to_owned(), None),
    }
}

#[cfg(test)]
mod tests {
    use super::super::kinds::Kind;
    use super::*;

    fn check(header: &str, kind: Kind, expected: Option<(&str, Option<&str>)>) {
        let fields = kind.fields().iter();
        let read =
            fields.filter_map(|field| Some((field.key, reads_as(header, field)?.map(|unit| unit.sign))));
        assert_eq!(read.collect::<Vec<_>>(), expected.into_iter().collect::<Vec<_>>(), "{header}");
    }

    #[test]
    fn headers_are_known_by_name_with_their_unit() {
        for (header, field, unit) in [
            ("Mark", "mark", None),
            ("String No.", "mark", None),
            ("STRING_ID", "mark", None),
            ("Length (m)", "length", Some("m")),
            ("length ft", "length", Some("ft")),
            ("L [mm]", "length", Some("mm")),
            ("Length, m", "length", Some("m")),
            ("Length/m", "length", Some("m")),
            ("Length in mm", "length", Some("mm")),
            ("Length in", "length", Some("in")),
            ("length_mm", "length", Some("mm")),
            ("Length (rounded)", "length", None),
            ("Length", "length", None),
            ("Weight lbs", "mass", Some("lb")),
            ("Mass (short tons)", "mass", Some("short tons")),
            ("Mass basis", "mass-basis", None),
            ("Rail section", "section", None),
            ("Side of track", "side", None),
            ("Site", "drop", None),
        ] {
            check(header, Kind::Order, Some((field, unit)));
        }
        check("Mass (kg/m)", Kind::Sections, Some(("mass", Some("kg/m"))));
        check("Ix [cm\u{2074}]", Kind::Sections, Some(("ix", Some("cm4"))));
        check("Area cm2", Kind::Sections, Some(("area", Some("cm2"))));
    }

    #[test]
    fn a_header_of_any_name_may_end_with_a_unit() {
        let check = |header, unit| {
            assert_eq!(unit_at_end(header, Measure::Length).map(|unit| unit.sign), unit, "{header}")
        };
        check("Laenge (m)", Some("m"));
        check("Lunghezza, mm", Some("mm"));
        check("Lengte FT", Some("ft"));
        check("Laenge [kg]", None);
        check("m", None);
        check("Laenge", None);
    }

    #[test]
    fn other_headers_stand_for_nothing() {
        for header in ["", "Remarks", "Lengths of old", "m", "(m)", "A1", "108"] {
            check(header, Kind::Order, None);
        }
    }
}
