//! What if: a scratch copy of a plan in which one thing is turned at a time, and how the loads answer.
//!
//! A [`Scratch`] holds what was turned and gives the plan that comes of it; a [`Sweep`] works out the loads at many
//! values of one [`Knob`], coarse first, so that whoever draws them can stop after any of them. All loads are those
//! of [`Figures`](crate::statics::Figures) at departure; nothing here knows mechanics of its own.

mod curves;
mod explain;
mod fill;
mod lane;
mod lever;
mod reading;
mod scratch;
mod sweep;
mod take;

pub use crate::model::Knob;
pub use explain::{Along, explain};
pub use fill::FILL_RULE;
pub use lever::lever_words;
pub use reading::{Bound, Bounds, Focus, Measure, Plotted, Reading};
pub use scratch::{Scratch, Whom};
pub use sweep::Sweep;
