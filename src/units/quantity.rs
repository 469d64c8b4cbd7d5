//! A value in SI units that knows what it measures, and how it is shown.

use super::{KG_PER_LB, Length, MM_PER_INCH, STANDARD_GRAVITY_M_S2};

/// The units that figures are shown in. Files always hold metric values.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum UnitSystem {
    /// Tonnes of 1,000 kg, kN, m, mm, MPa.
    #[default]
    Metric,
    /// Short tons of 2,000 lb, pounds, feet, inches, ksi.
    UsCustomary,
}

/// The sign between the whole part and the decimals.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum DecimalMark {
    /// `12.5`
    #[default]
    Point,
    /// `12,5`
    Comma,
}

impl DecimalMark {
    /// Digits with a point, such as `12.5`, written with this mark.
    pub fn written(self, digits: &str) -> String {
        match self {
            Self::Point => digits.to_owned(),
            Self::Comma => digits.replace('.', ","),
        }
    }
}

/// How quantities are written for a reader.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Style {
    /// Metric or US customary.
    pub units: UnitSystem,
    /// Point or comma.
    pub decimal: DecimalMark,
}

/// What a [`Quantity`] measures; decides its unit and its digits.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum QuantityKind {
    /// A load or a mass, in kg; shown as t or short tons.
    Mass,
    /// A load or a mass that is a term of a sum, in kg; shown as t or short tons, one digit finer than the sum.
    MassTerm,
    /// A mass of one thing that people state in small units, in kg; shown as kg or lb.
    SmallMass,
    /// A place or a length along the train, in m; shown as m or ft.
    Length,
    /// A small length, in m; shown as mm or in.
    SmallLength,
    /// A force, in N; shown as kN or kip.
    Force,
    /// A moment, in N m; shown as kN m or kip ft.
    Moment,
    /// A stress, in Pa; shown as MPa or ksi.
    Stress,
    /// Mass per length, in kg/m; shown as t/m or short ton/ft.
    MassPerLength,
    /// Larger over smaller, no unit; shown as `1.25 : 1`.
    Ratio,
    /// A share of one, no unit; shown as `85 %`.
    Share,
    /// A number of things.
    Count,
    /// A speed, in m/s; shown as km/h or mph.
    Speed,
    /// An acceleration, in m/s2; shown in g.
    Acceleration,
    /// A time, in s; shown in minutes.
    Time,
    /// An acceleration, in m/s2; shown as m/s2 or ft/s2.
    FreeFall,
    /// A force per length or a spring rate, in N/m; shown as kN/m or kip/ft.
    ForcePerLength,
    /// A bending stiffness E I, in N m2; shown as kN m2 or kip ft2.
    BendingStiffness,
    /// A mass times a distance, in kg m; shown as t m or short ton ft.
    MassMoment,
    /// A section modulus, in m3; shown as cm3 or in3.
    SectionModulus,
    /// A second moment of area, in m4; shown as cm4 or in4.
    SecondMoment,
    /// An area, in m2; shown as cm2 or in2.
    Area,
    /// An angle or a slope, in rad; shown in thousandths.
    Angle,
    /// A moment per angle, in N m/rad; shown as kN m/rad or kip ft/rad.
    AngularStiffness,
    /// A plain number with decimals, no unit.
    Number,
}

const FOOT_M: f64 = 12.0 * MM_PER_INCH / 1000.0;
const KIP_N: f64 = 1000.0 * KG_PER_LB * STANDARD_GRAVITY_M_S2;
const SHORT_TON_KG: f64 = 2000.0 * KG_PER_LB;
const KSI_PA: f64 = KIP_N / (MM_PER_INCH / 1000.0 * MM_PER_INCH / 1000.0);

/// A value in SI units (kg, m, N, N m, Pa, kg/m, m/s, m/s2; ratios and counts plain) and what it measures.
///
/// ```
/// use longstow::units::{Quantity, Style};
/// assert_eq!(Quantity::mass(22_500.0).show(Style::default()), "22.50 t");
/// assert_eq!(Quantity::ratio(1.25).show(Style::default()), "1.25 : 1");
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Quantity {
    /// The value in the SI unit of its kind.
    pub value: f64,
    /// What it measures.
    pub kind: QuantityKind,
}

impl Quantity {
    /// A load or mass in kg.
    pub const fn mass(kg: f64) -> Self {
        Self { value: kg, kind: QuantityKind::Mass }
    }
    /// A mass in kg, shown in small units.
    pub const fn small_mass(kg: f64) -> Self {
        Self { value: kg, kind: QuantityKind::SmallMass }
    }
    /// A place or length along the train.
    pub fn length(length: Length) -> Self {
        Self { value: length.m(), kind: QuantityKind::Length }
    }
    /// A length in m, shown in m or ft.
    pub const fn length_m(m: f64) -> Self {
        Self { value: m, kind: QuantityKind::Length }
    }
    /// A length in m, shown in mm or in.
    pub const fn small_length_m(m: f64) -> Self {
        Self { value: m, kind: QuantityKind::SmallLength }
    }
    /// A force in N.
    pub const fn force(n: f64) -> Self {
        Self { value: n, kind: QuantityKind::Force }
    }
    /// A moment in N m.
    pub const fn moment(nm: f64) -> Self {
        Self { value: nm, kind: QuantityKind::Moment }
    }
    /// A stress in Pa.
    pub const fn stress(pa: f64) -> Self {
        Self { value: pa, kind: QuantityKind::Stress }
    }
    /// A mass per length in kg/m.
    pub const fn mass_per_length(kg_per_m: f64) -> Self {
        Self { value: kg_per_m, kind: QuantityKind::MassPerLength }
    }
    /// A ratio, larger over smaller.
    pub const fn ratio(ratio: f64) -> Self {
        Self { value: ratio, kind: QuantityKind::Ratio }
    }
    /// A share of one.
    pub const fn share(share: f64) -> Self {
        Self { value: share, kind: QuantityKind::Share }
    }
    /// A time in s.
    pub const fn time_s(s: f64) -> Self {
        Self { value: s, kind: QuantityKind::Time }
    }
    /// A plain number with decimals.
    pub const fn number(number: f64) -> Self {
        Self { value: number, kind: QuantityKind::Number }
    }
    /// A number of things.
    pub fn count(count: usize) -> Self {
        Self { value: count as f64, kind: QuantityKind::Count }
    }

    /// The value in the unit that `style` shows it in.
    pub fn shown_value(self, style: Style) -> f64 {
        self.value / self.unit(style).0
    }

    /// The unit's sign in `style`, such as `t` or `ft`; empty for ratios and counts.
    pub fn unit_sign(self, style: Style) -> &'static str {
        self.unit(style).1
    }

    /// Digits and unit, as a reader sees them.
    pub fn show(self, style: Style) -> String {
        self.show_finer(style, 0)
    }

    /// Digits and unit with so many more decimals than usual, where two values would read alike.
    pub fn show_finer(self, style: Style, more: usize) -> String {
        let number = self.show_number_finer(style, more);
        match self.kind {
            QuantityKind::Ratio => format!("{number} : 1"),
            _ => match self.unit(style).1 {
                "" => number,
                sign => format!("{number} {sign}"),
            },
        }
    }

    /// The digits alone; infinite values are written in words.
    pub fn show_number(self, style: Style) -> String {
        self.show_number_finer(style, 0)
    }

    /// The digits alone, with so many more decimals than usual.
    pub fn show_number_finer(self, style: Style, more: usize) -> String {
        if !self.value.is_finite() {
            return if self.value > 0.0 { "unlimited".to_owned() } else { "none".to_owned() };
        }
        let (size, _, decimals) = self.unit(style);
        let digits = format!("{:.*}", decimals + more, self.value / size);
        // A small negative rounds to "-0.00", which reads as a fault.
        let digits = match digits.strip_prefix('-') {
            Some(rest) if rest.chars().all(|c| c == '0' || c == '.') => rest.to_owned(),
            _ => digits,
        };
        style.decimal.written(&digits)
    }

    /// Units of what is read in workings only, not in tables of figures.
    fn working_unit(self, style: Style) -> (f64, &'static str, usize) {
        use QuantityKind as K;
        const INCH_M: f64 = MM_PER_INCH / 1000.0;
        match (self.kind, style.units) {
            (K::Time, _) => (60.0, "min", 1),
            (K::FreeFall, UnitSystem::Metric) => (1.0, "m/s2", 5),
            (K::FreeFall, UnitSystem::UsCustomary) => (FOOT_M, "ft/s2", 4),
            (K::ForcePerLength, UnitSystem::Metric) => (1000.0, "kN/m", 4),
            (K::ForcePerLength, UnitSystem::UsCustomary) => (KIP_N / FOOT_M, "kip/ft", 4),
            (K::BendingStiffness, UnitSystem::Metric) => (1000.0, "kN m2", 1),
            (K::BendingStiffness, UnitSystem::UsCustomary) => (KIP_N * FOOT_M * FOOT_M, "kip ft2", 1),
            (K::MassMoment, UnitSystem::Metric) => (1000.0, "t m", 3),
            (K::MassMoment, UnitSystem::UsCustomary) => (SHORT_TON_KG * FOOT_M, "short ton ft", 3),
            (K::SectionModulus, UnitSystem::Metric) => (1.0e-6, "cm3", 1),
            (K::SectionModulus, UnitSystem::UsCustomary) => (INCH_M * INCH_M * INCH_M, "in3", 2),
            (K::SecondMoment, UnitSystem::Metric) => (1.0e-8, "cm4", 1),
            (K::SecondMoment, UnitSystem::UsCustomary) => (INCH_M * INCH_M * INCH_M * INCH_M, "in4", 2),
            (K::Area, UnitSystem::Metric) => (1.0e-4, "cm2", 2),
            (K::Area, UnitSystem::UsCustomary) => (INCH_M * INCH_M, "in2", 3),
            (K::Angle, _) => (0.001, "mrad", 2),
            (K::AngularStiffness, UnitSystem::Metric) => (1000.0, "kN m/rad", 0),
            (K::AngularStiffness, UnitSystem::UsCustomary) => (KIP_N * FOOT_M, "kip ft/rad", 0),
            _ => (1.0, "", 4),
        }
    }

    /// (size of one unit in SI, sign, decimals)
    fn unit(self, style: Style) -> (f64, &'static str, usize) {
        use QuantityKind as K;
        match (self.kind, style.units) {
            (K::Mass, UnitSystem::Metric) => (1000.0, "t", 2),
            (K::Mass, UnitSystem::UsCustomary) => (SHORT_TON_KG, "short tons", 2),
            (K::MassTerm, UnitSystem::Metric) => (1000.0, "t", 3),
            (K::MassTerm, UnitSystem::UsCustomary) => (SHORT_TON_KG, "short tons", 3),
            (K::SmallMass, UnitSystem::Metric) => (1.0, "kg", 1),
            (K::SmallMass, UnitSystem::UsCustomary) => (KG_PER_LB, "lb", 0),
            (K::Length, UnitSystem::Metric) => (1.0, "m", 3),
            (K::Length, UnitSystem::UsCustomary) => (FOOT_M, "ft", 2),
            (K::SmallLength, UnitSystem::Metric) => (0.001, "mm", 0),
            (K::SmallLength, UnitSystem::UsCustomary) => (MM_PER_INCH / 1000.0, "in", 2),
            (K::Force, UnitSystem::Metric) => (1000.0, "kN", 2),
            (K::Force, UnitSystem::UsCustomary) => (KIP_N, "kip", 2),
            (K::Moment, UnitSystem::Metric) => (1000.0, "kN m", 2),
            (K::Moment, UnitSystem::UsCustomary) => (KIP_N * FOOT_M, "kip ft", 2),
            (K::Stress, UnitSystem::Metric) => (1.0e6, "MPa", 1),
            (K::Stress, UnitSystem::UsCustomary) => (KSI_PA, "ksi", 2),
            (K::MassPerLength, UnitSystem::Metric) => (1000.0, "t/m", 2),
            (K::MassPerLength, UnitSystem::UsCustomary) => (SHORT_TON_KG / FOOT_M, "short tons/ft", 3),
            (K::Ratio, _) => (1.0, "", 2),
            (K::Share, _) => (0.01, "%", 0),
            (K::Count, _) => (1.0, "", 0),
            (K::Speed, UnitSystem::Metric) => (1.0 / 3.6, "km/h", 0),
            (K::Speed, UnitSystem::UsCustomary) => (0.447_04, "mph", 0),
            (K::Acceleration, _) => (STANDARD_GRAVITY_M_S2, "g", 2),
            (K::Number, _) => (1.0, "", 4),
            _ => self.working_unit(style),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const US: Style = Style { units: UnitSystem::UsCustomary, decimal: DecimalMark::Point };

    fn check(quantity: Quantity, metric: &str, us: &str) {
        assert_eq!(quantity.show(Style::default()), metric);
        assert_eq!(quantity.show(US), us);
    }

    // Conversion factors: NIST Special Publication 811, appendix B.8.
    #[test]
    fn quantities_show_in_both_unit_systems() {
        check(Quantity::mass(907.184_74), "0.91 t", "1.00 short tons");
        check(Quantity::small_mass(45.359_237), "45.4 kg", "100 lb");
        check(Quantity::length_m(402.336), "402.336 m", "1320.00 ft");
        check(Quantity::small_length_m(0.0254), "25 mm", "1.00 in");
        check(Quantity::force(4_448.221_615), "4.45 kN", "1.00 kip");
        check(Quantity::stress(6_894_757.0), "6.9 MPa", "1.00 ksi");
        check(Quantity::ratio(1.25), "1.25 : 1", "1.25 : 1");
        check(Quantity::share(0.856), "86 %", "86 %");
        check(Quantity::count(3), "3", "3");
        check(Quantity::time_s(90.0), "1.5 min", "1.5 min");
        let of = |value, kind| Quantity { value, kind };
        check(of(14_593.903, QuantityKind::ForcePerLength), "14.5939 kN/m", "1.0000 kip/ft");
        check(of(1.638_706_4e-5, QuantityKind::SectionModulus), "16.4 cm3", "1.00 in3");
        check(of(4.162_314_26e-7, QuantityKind::SecondMoment), "41.6 cm4", "1.00 in4");
        check(of(9.806_65, QuantityKind::FreeFall), "9.80665 m/s2", "32.1740 ft/s2");
    }

    #[test]
    fn a_comma_replaces_the_point_when_asked_for() {
        let style = Style { units: UnitSystem::Metric, decimal: DecimalMark::Comma };
        assert_eq!(Quantity::mass(22_500.0).show(style), "22,50 t");
    }

    #[test]
    fn more_decimals_are_shown_when_asked_for() {
        assert_eq!(Quantity::mass(68_001.0).show_finer(Style::default(), 1), "68.001 t");
        assert_eq!(Quantity::ratio(1.25).show_finer(Style::default(), 2), "1.2500 : 1");
        assert_eq!(Quantity::mass(-0.1).show_number_finer(Style::default(), 0), "0.00");
    }

    #[test]
    fn nothing_reads_as_minus_zero_or_as_not_a_number() {
        assert_eq!(Quantity::mass(-0.1).show(Style::default()), "0.00 t");
        assert_eq!(Quantity::ratio(f64::INFINITY).show(Style::default()), "unlimited : 1");
    }
}
