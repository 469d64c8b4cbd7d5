//! Numbers that a plan keeps in one unit, shown and read in the units of the reader.

use super::fields::plain_text;
use crate::units::{KG_PER_M_IN_LB_PER_YD, MM_PER_INCH, Style, UnitSystem, parse_length_mm, parse_number};

/// Units of the plan, how many of them make one of the reader's, and the reader's sign. Factors: NIST Special
/// Publication 811, appendix B.8.
const US_CUSTOMARY: [(&str, f64, &str); 9] = [
    ("mm", MM_PER_INCH, "in"),
    ("m", 0.3048, "ft"),
    ("km/h", 1.609_344, "mph"),
    ("kg/m", KG_PER_M_IN_LB_PER_YD, "lb/yd"),
    ("cm²", 6.4516, "in²"),
    ("cm³", 16.387_064, "in³"),
    ("cm⁴", 41.623_142_56, "in⁴"),
    ("m/s", 0.3048, "ft/s"),
    ("m/s2", 0.3048, "ft/s2"),
];

/// How many of the plan's unit make one of the reader's, and what stands beside the field. `unit` may go on in words
/// after its sign.
pub(super) fn reader_unit(unit: &str, style: Style) -> (f64, String) {
    let sign = sign_of(unit);
    let known = US_CUSTOMARY.iter().find(|(plan, ..)| *plan == sign);
    match known.filter(|_| style.units == UnitSystem::UsCustomary) {
        Some((_, factor, reader)) => (*factor, format!("{reader}{}", &unit[sign.len()..])),
        None => (1.0, unit.to_owned()),
    }
}

/// A number of the plan as the reader has it: to a ten-thousandth where it had to be converted.
pub(super) fn shown(value: f64, unit: &str, style: Style) -> String {
    let (factor, _) = reader_unit(unit, style);
    match style.units {
        UnitSystem::Metric => plain_text(value, style),
        UnitSystem::UsCustomary => plain_text((value / factor * 1.0e4).round() / 1.0e4, style),
    }
}

/// Reads what the reader typed as a number of the plan; lengths may name their unit.
///
/// # Errors
/// Why it cannot be read.
pub(super) fn read(text: &str, unit: &str, style: Style) -> Result<f64, String> {
    let (factor, _) = reader_unit(unit, style);
    let length = |mm: f64| parse_length_mm(text, mm * factor).map(|read_mm| read_mm / mm);
    match sign_of(unit) {
        "mm" => length(1.0).map_err(|error| error.to_string()),
        "m" => length(1_000.0).map_err(|error| error.to_string()),
        _ => parse_number(text).map(|number| number * factor).map_err(|error| error.to_string()),
    }
}

fn sign_of(unit: &str) -> &str {
    unit.split([' ', ',']).next().unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::DecimalMark;

    const US: Style = Style { units: UnitSystem::UsCustomary, decimal: DecimalMark::Point };

    fn check(value: f64, unit: &str, metric: &str, us: (&str, &str)) {
        assert_eq!(shown(value, unit, Style::default()), metric);
        assert_eq!((shown(value, unit, US).as_str(), reader_unit(unit, US).1.as_str()), us);
        let read_back = read(us.0, unit, US).unwrap();
        assert!((read_back / value - 1.0).abs() < 1.0e-4, "{read_back}");
    }

    #[test]
    fn numbers_of_the_plan_are_shown_in_the_units_of_the_reader() {
        check(152.4, "mm", "152.4", ("6", "in"));
        check(150.0, "mm above deck, clear", "150", ("5.9055", "in above deck, clear"));
        check(300.0, "m", "300", ("984.252", "ft"));
        check(96.56064, "km/h", "96.56064", ("60", "mph"));
        check(60.21, "kg/m", "60.21", ("121.3778", "lb/yd"));
        check(76.7, "cm²", "76.7", ("11.8885", "in²"));
        check(41.623_142_56, "cm⁴", "41.623143", ("1", "in⁴"));
        check(0.3048, "m/s", "0.3048", ("1", "ft/s"));
        assert_eq!(reader_unit("min", US), (1.0, "min".to_owned()));
    }

    #[test]
    fn a_length_may_name_its_unit_in_both() {
        let close = |read: Result<f64, String>, mm: f64| assert!((read.unwrap() - mm).abs() < 1.0e-9);
        close(read("6 in", "mm", Style::default()), 152.4);
        close(read("6", "mm", US), 152.4);
        close(read("150 mm", "mm", US), 150.0);
        close(read("1 ft 6 in", "mm", US), 457.2);
        close(read("12,5", "mm", Style::default()), 12.5);
        assert!(read("six", "mm", US).is_err() && read("6 in", "km/h", US).is_err());
    }
}
