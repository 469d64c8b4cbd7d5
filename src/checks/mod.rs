//! The checks: one file each, a registry, and what they find.
//!
//! Floor 3: uses `statics`, `model` and `units`. A check reads [`Figures`](crate::statics::Figures), never the
//! live document, and tells a [`Judge`] about every thing it looked at, in every state; the judge keeps the worst.

mod assess;
mod check;
mod finding;
mod judge;
mod registry;
mod row;
mod subject;
#[cfg(test)]
mod trial;

mod axle_load;
mod axle_ratio;
mod bearing;
mod bogie_load;
mod bogie_ratio;
mod centre_height;
mod light_vehicle;
mod line_axle_load;
mod line_mass_per_metre;
mod payload;
mod pocket_load;
mod rack_load;
mod tier_load;
mod train_length;
mod train_mass;
mod wheel_balance;
mod wheel_load;

pub use assess::{Assessment, Verdict, assess};
pub use check::Check;
pub use finding::{Comparison, Finding, Outcome, Sense};
pub use judge::{Judge, LimitValue};
pub use registry::REGISTRY;
pub use row::Words;
pub use subject::Subject;
