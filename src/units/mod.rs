//! Quantities that people type and read: lengths, masses, forces; metric and US display; parsing.
//!
//! Floor 0: uses nothing of the crate. Lengths along the train are whole millimetres ([`Length`]);
//! everything else in the program is an `f64` whose name carries its unit (`tare_kg`, `reaction_n`).

mod length;
mod parse;
mod quantity;
mod text;

pub use length::Length;
pub use parse::{ParseQuantityError, parse_length, parse_length_mm, parse_mass_kg, parse_number};
pub use quantity::{DecimalMark, Quantity, QuantityKind, Style, UnitSystem};
pub use text::{Piece, Text};

/// Standard acceleration of free fall in m/s2 (ISO 80000-3).
pub const STANDARD_GRAVITY_M_S2: f64 = 9.806_65;

/// Kilograms in one pound avoirdupois, exact (NIST Special Publication 811).
pub const KG_PER_LB: f64 = 0.453_592_37;

/// Kilograms per metre in one pound per yard, exact (NIST Special Publication 811): rails are known by it.
pub const KG_PER_M_IN_LB_PER_YD: f64 = KG_PER_LB / (36.0 * MM_PER_INCH / 1000.0);

/// Millimetres in one inch, exact (NIST Special Publication 811).
pub const MM_PER_INCH: f64 = 25.4;
