//! Reading what people type: `108 m`, `12,5`, `12 ft 6 in`, `6' 3 1/2"`, `24 t`, `37 short tons`.

use super::{KG_PER_LB, Length, MM_PER_INCH, UnitSystem};

/// Why a typed quantity could not be read.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ParseQuantityError {
    /// Nothing was typed.
    #[error("nothing was typed; type a number")]
    Empty,
    /// A part that should be a number is not one.
    #[error("\"{part}\" is not a number; type digits, with one point or comma for decimals")]
    NotANumber {
        /// The offending part.
        part: String,
    },
    /// Both `,` and `.` stand in one number, so either could be the decimal mark.
    #[error("\"{part}\" has both a comma and a point; type it with one decimal mark and no grouping")]
    TwoMarks {
        /// The offending part.
        part: String,
    },
    /// The unit is not one of this kind.
    #[error("\"{unit}\" is not a unit known here; use {known}")]
    UnknownUnit {
        /// What was typed.
        unit: String,
        /// The units that would do.
        known: &'static str,
    },
    /// The value is too large to be meant.
    #[error("the value is too large to be meant")]
    TooLarge,
}

/// Reads a plain number with a decimal point or comma, and fractions such as `1/2`.
///
/// # Errors
/// Nothing typed, not a number, or both a comma and a point.
pub fn parse_number(typed: &str) -> Result<f64, ParseQuantityError> {
    let part = typed.trim().replace('\u{2212}', "-");
    if part.is_empty() {
        return Err(ParseQuantityError::Empty);
    }
    if part.contains(',') && part.contains('.') {
        return Err(ParseQuantityError::TwoMarks { part });
    }
    let not_a_number = || ParseQuantityError::NotANumber { part: part.clone() };
    let plain = |text: &str| -> Result<f64, ParseQuantityError> {
        let sound = text.chars().all(|c| c.is_ascii_digit() || matches!(c, '.' | ',' | '-' | '+'));
        let value = text.replace(',', ".").parse::<f64>().map_err(|_| not_a_number())?;
        if sound && value.is_finite() { Ok(value) } else { Err(not_a_number()) }
    };
    match part.split_once('/') {
        None => plain(&part),
        Some((over, under)) => {
            let (over, under) = (plain(over.trim())?, plain(under.trim())?);
            if under == 0.0 { Err(not_a_number()) } else { Ok(over / under) }
        }
    }
}

/// Reads a length or position; a bare number is metres (metric) or feet (US customary).
///
/// # Errors
/// As [`parse_number`], and an unknown unit or a value beyond 10,000 km.
///
/// ```
/// use longstow::units::{parse_length, Length, UnitSystem};
/// assert_eq!(parse_length("12,5", UnitSystem::Metric), Ok(Length::from_mm(12_500)));
/// assert_eq!(parse_length("12 ft 6 in", UnitSystem::Metric), Ok(Length::from_mm(3_810)));
/// ```
pub fn parse_length(typed: &str, units: UnitSystem) -> Result<Length, ParseQuantityError> {
    let bare_mm = if units == UnitSystem::Metric { 1000.0 } else { 12.0 * MM_PER_INCH };
    parse_length_mm(typed, bare_mm).map(Length::from_mm_rounded)
}

/// Reads a length in mm, not rounded; a bare number is in units of `bare_mm`: 1 for a field that takes millimetres.
///
/// # Errors
/// As [`parse_length`].
pub fn parse_length_mm(typed: &str, bare_mm: f64) -> Result<f64, ParseQuantityError> {
    let mm = sum_of_parts(typed, "m, cm, mm, km, ft or in", bare_mm, |unit| {
        Some(match unit {
            "m" => 1000.0,
            "cm" => 10.0,
            "mm" => 1.0,
            "km" => 1.0e6,
            "ft" | "foot" | "feet" | "'" => 12.0 * MM_PER_INCH,
            "in" | "inch" | "inches" | "\"" => MM_PER_INCH,
            _ => return None,
        })
    })?;
    if mm.abs() > 1.0e10 {
        return Err(ParseQuantityError::TooLarge);
    }
    Ok(mm)
}

/// Reads a mass in kg; a bare number is tonnes (metric) or short tons (US customary).
///
/// A bare "ton" is refused: it must say which (a tonne is 1,000 kg, a short ton 2,000 lb, a long ton 2,240 lb).
///
/// # Errors
/// As [`parse_number`], and an unknown unit.
pub fn parse_mass_kg(typed: &str, units: UnitSystem) -> Result<f64, ParseQuantityError> {
    let bare = if units == UnitSystem::Metric { 1000.0 } else { 2000.0 * KG_PER_LB };
    sum_of_parts(typed, "t (1,000 kg), kg, lb, short tons (2,000 lb) or long tons (2,240 lb)", bare, |unit| {
        Some(match unit {
            "t" | "tonne" | "tonnes" => 1000.0,
            "kg" => 1.0,
            "lb" | "lbs" => KG_PER_LB,
            "short ton" | "short tons" => 2000.0 * KG_PER_LB,
            "long ton" | "long tons" => 2240.0 * KG_PER_LB,
            _ => return None,
        })
    })
}

/// Adds number-unit parts: `12 ft 6 1/2 in`. A sign in front counts for the whole.
fn sum_of_parts(
    typed: &str,
    known: &'static str,
    bare: f64,
    size_of: impl Fn(&str) -> Option<f64>,
) -> Result<f64, ParseQuantityError> {
    let typed = typed.trim().replace('\u{2212}', "-").to_lowercase();
    let (sign, mut rest) = match typed.strip_prefix('-') {
        Some(rest) => (-1.0, rest.trim_start()),
        None => (1.0, typed.as_str()),
    };
    if rest.is_empty() {
        return Err(ParseQuantityError::Empty);
    }
    let mut sum = 0.0;
    let mut parts = 0;
    while !rest.is_empty() {
        let number_end =
            rest.find(|c: char| !(c.is_ascii_digit() || " .,/".contains(c))).unwrap_or(rest.len());
        let (number, after) = rest.split_at(number_end);
        let unit_end = after.find(|c: char| c.is_ascii_digit()).unwrap_or(after.len());
        let (unit, next) = after.split_at(unit_end);
        let unit = unit.trim();
        // "6 1/2": words of one number add up.
        let words: Vec<&str> = number.split_whitespace().collect();
        if words.is_empty() {
            return Err(ParseQuantityError::NotANumber { part: rest.trim().to_owned() });
        }
        let fractions_only_after_first = words.iter().skip(1).all(|word| word.contains('/'));
        if words.len() > 2 || !fractions_only_after_first {
            return Err(ParseQuantityError::NotANumber { part: number.trim().to_owned() });
        }
        let value = words.iter().map(|word| parse_number(word)).sum::<Result<f64, _>>()?;
        let size = if unit.is_empty() && parts == 0 && next.is_empty() {
            bare
        } else {
            size_of(unit).ok_or_else(|| ParseQuantityError::UnknownUnit { unit: unit.to_owned(), known })?
        };
        sum += value * size;
        parts += 1;
        rest = next;
    }
    if sum.is_finite() { Ok(sign * sum) } else { Err(ParseQuantityError::TooLarge) }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn length(typed: &str) -> Result<i64, ParseQuantityError> {
        parse_length(typed, UnitSystem::Metric).map(Length::mm)
    }

    #[test]
    fn lengths_are_read_in_every_usual_form() {
        for (typed, mm) in [
            ("12.5", 12_500),
            ("12,5 m", 12_500),
            ("-0.4", -400),
            ("\u{2212}400 mm", -400),
            ("12 ft 6 in", 3_810),
            ("6' 3 1/2\"", 1_918),
            ("1/2 in", 13),
            ("3cm", 30),
        ] {
            assert_eq!(length(typed), Ok(mm), "{typed}");
        }
        assert_eq!(parse_length("10", UnitSystem::UsCustomary), Ok(Length::from_mm(3_048)));
    }

    #[test]
    fn what_is_not_a_length_is_refused_with_a_reason() {
        assert_eq!(length(""), Err(ParseQuantityError::Empty));
        assert!(matches!(length("1.234,5"), Err(ParseQuantityError::TwoMarks { .. })));
        assert!(matches!(length("12 parsec"), Err(ParseQuantityError::UnknownUnit { .. })));
        for typed in ["nan", "inf", "1e9", "--3", "m", "1 2", "1/0"] {
            assert!(length(typed).is_err(), "{typed}");
        }
        assert_eq!(length("99999999999"), Err(ParseQuantityError::TooLarge));
    }

    #[test]
    fn a_ton_must_say_which() {
        for (typed, kg) in [
            ("24", 24_000.0),
            ("24,5 t", 24_500.0),
            ("1 short ton", 907.184_74),
            ("1 long ton", 1_016.046_908_8),
        ] {
            let read = parse_mass_kg(typed, UnitSystem::Metric).unwrap();
            assert!((read - kg).abs() < 1.0e-9, "{typed}: {read}");
        }
        assert!(matches!(
            parse_mass_kg("37 tons", UnitSystem::UsCustomary),
            Err(ParseQuantityError::UnknownUnit { .. })
        ));
    }

    #[test]
    fn a_field_of_a_fixed_unit_takes_other_units_by_name_and_keeps_parts_of_a_millimetre() {
        let check = |typed: &str, bare_mm: f64, mm: f64| {
            assert!((parse_length_mm(typed, bare_mm).unwrap() - mm).abs() < 1.0e-9, "{typed}");
        };
        check("5,5", 1.0, 5.5);
        check("-12.25", 1.0, -12.25);
        check("1/4 in", 1.0, 6.35);
        check("12 ft 6 in", 1.0, 3_810.0);
        check("0.5", 1000.0, 500.0);
        check("500 mm", 1000.0, 500.0);
        assert!(parse_length_mm("5 kg", 1.0).is_err());
    }
}
