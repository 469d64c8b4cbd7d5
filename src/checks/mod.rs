//! The checks: one file each, a registry, and what they find.
//!
//! Floor 3: uses `statics`, `model` and `units`. A check reads [`Figures`](crate::statics::Figures), never the
//! live document, and tells a [`Judge`] about every thing it looked at, in every state; the judge keeps the worst.

mod access;
mod assess;
mod axle_load;
mod axle_ratio;
mod bearing;
mod bogie_load;
mod bogie_ratio;
mod braked_weight;
mod centre_height;
mod check;
mod creep_end_gap;
mod creep_least_overhang;
mod creep_rack_crossing;
mod end_clearance;
mod finding;
mod greatest_overhang;
mod held_once;
mod hold_buckling;
mod hold_force;
mod hold_impact;
mod hold_wagon_axle;
mod hold_wagon_coupling;
mod holds;
mod idler_clearance;
mod judge;
mod largest_span;
mod least_overhang;
mod light_vehicle;
mod line_axle_load;
mod line_mass_per_metre;
mod model_difference;
mod moving_ends;
mod on_springs;
mod order_placed;
mod pairs_alike;
mod payload;
mod pocket_fit;
mod pocket_load;
mod pocket_shared;
mod rack_lift_off;
mod rack_load;
mod reading;
mod registry;
mod row;
mod springs_axle_load;
mod springs_bogie_load;
mod springs_envelope;
mod springs_lift_off;
mod springs_line_axle_load;
mod springs_wheel_balance;
mod springs_wheel_load;
mod string_mass;
mod string_sag;
mod string_support;
mod subject;
mod tier_load;
mod tolerance_band;
mod train_length;
mod train_mass;
#[cfg(test)]
mod trial;
mod wagon_gap;
mod wheel_balance;
mod wheel_load;

pub use assess::{Assessment, Verdict, assess};
pub use check::Check;
pub use finding::{Comparison, Finding, Outcome, Sense};
pub use judge::{Judge, LimitValue};
pub use registry::REGISTRY;
pub use row::Words;
pub use subject::Subject;
