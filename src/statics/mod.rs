//! Mechanics: strings on racks, loads of vehicles, states of the train. Pure functions of a plan.
//!
//! Floor 2: uses `model` and `units`. SI throughout: m, N, N m; loads on vehicles in kg (force / g), so that
//! they compare with ratings without a factor. Reactions upward positive; bending moment sagging positive.
//! [`Figures`] holds everything that the level rigid model says of a plan; it is the value of record.

mod beam;
mod consist;
mod contact;
mod figures;
mod placed;
mod springs;
mod states;
mod vehicle_loads;

pub use beam::{Beam, BeamError, BeamFigures, SpanFigures};
pub use consist::{Consist, RackPlace, VehiclePlace};
pub use figures::{Figures, Scope, StateFigures};
pub use placed::{PlacedString, Trouble};
pub use springs::{
    LoadRange, Moved, RateChoice, SpringFigures, SpringState, SpringsMissing, StringOnSprings, SupportRange,
};
pub use states::{LoadState, PairHalf, StateKind, StateRule, load_states};
pub use vehicle_loads::{SideLoads, SupportLoads, VehicleLoads};
