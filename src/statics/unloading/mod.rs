//! Strings leaving (or coming back) over an end of the train: bending between the last support and the seat, times.
//!
//! A string that is drawn off hangs free between its last support, at a height above the seat, and the place
//! where it comes to lie, level, on the seat. A straight Euler-Bernoulli bar: no drawing force, no friction, the
//! seat rigid and level. Closed forms: Roark's Formulas for Stress and Strain, beams with end slope and end moment;
//! the cases are worked out in the project's mechanics notes, section 6.

mod drawing;
mod lead;
mod over_racks;
mod peak;
mod per_step;
mod times;

pub use lead::{Bar, Lead};
pub use over_racks::{ChuteLine, OverRacks, SupportLine};
pub use peak::{Edge, EdgeModuli, Peak, Shifted, Sideways};
pub use per_step::{EndCase, EndCondition, StepString, Unloading};
pub use times::{DropTimes, StepTime};

pub(super) use per_step::unloading_of;
