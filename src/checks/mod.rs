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

pub use assess::{Assessment, Verdict, assess};
pub use check::Check;
pub use finding::{Comparison, Finding, Outcome, Sense};
pub use judge::{Judge, LimitValue};
pub use registry::REGISTRY;
pub use row::Words;
pub use subject::Subject;
