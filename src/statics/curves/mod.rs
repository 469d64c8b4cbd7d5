//! Curves: vehicles as chords of the track, strings bent sideways through their pockets.
//!
//! Offsets are across the track, right positive; the reference is a straight line that touches the track at one
//! place, against which vehicles are straight and strings bend. Small slopes; the radius of a lane is taken as
//! the track's (a lane 1.2 m beside the centre of R 150 is 0.8 % off); friction between strings and racks is
//! left out; pockets and posts do not give.

mod cases;
mod chords;
mod classes;
mod closer;
mod figures;
mod laid;
mod path;
mod pockets;
mod side_loads;
mod swing;
#[cfg(test)]
mod tests;

pub use cases::{CurveCase, CurveKind, Turn};
pub use chords::{Chord, chords, throw_m};
pub(super) use classes::classify;
pub use classes::{CurveGap, StringClass};
pub use figures::{CaseFigures, CurveFigures, CurveScope, MomentPeak, WorstPeak};
pub use laid::Laid;
pub use path::Path;
pub use pockets::{BentString, Pocket, Touch};
pub use side_loads::{CurveSideLoads, Largest, WagonSideLoads, height_m, side_inertia_n, unloading_share};
pub use swing::{EndSwing, Neighbours};
