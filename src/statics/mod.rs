//! Mechanics: strings on racks, loads of vehicles, states of the train. Pure functions of a plan.
//!
//! Floor 2: uses `model` and `units`. SI throughout: m, N, N m; loads on vehicles in kg (force / g), so that
//! they compare with ratings without a factor. Reactions upward positive; bending moment sagging positive.
//! [`Figures`] holds everything that the level rigid model says of a plan; it is the value of record.

mod beam;
pub mod cant;
mod consist;
mod contact;
mod creep;
pub mod curves;
mod effect;
mod figures;
pub mod gauge;
mod holding;
mod holding_wagon;
mod impact;
mod mirror;
mod one_sided;
mod placed;
mod seek;
mod springs;
mod states;
mod turning;
mod unloading;
mod vehicle_loads;

pub use beam::{Beam, BeamError, BeamFigures, SpanFigures};
pub use consist::{Consist, RackPlace, VehiclePlace};
pub use creep::{Creep, CreepCauses, CreepNeeds, EndCreep, NextRack, NoCreep, Shift};
pub use effect::{StringOnVehicle, string_alone, tare_per_kg};
pub use figures::{Figures, Scope, StateFigures};
pub use holding::{Held, Holding, ImpactForce, Pushed, PushedBy, StringHolding};
pub use holding_wagon::HoldingWagon;
pub use impact::{HalfSine, Rod};
pub use mirror::{alike, are_mirrored, mirrored_lane, pair_partner};
pub use placed::{PlacedString, Trouble};
pub use springs::{
    LoadRange, Moved, RateChoice, SpringFigures, SpringState, SpringsMissing, StringOnSprings, SupportRange,
};
pub use states::{LoadState, PairHalf, StateKind, StateRule, load_states};
pub use unloading::{
    Bar, ChuteLine, DropTimes, Edge, EdgeModuli, EndCase, EndCondition, Lead, OverRacks, Peak, Shifted,
    Sideways, StepString, StepTime, SupportLine, Unloading,
};
pub use vehicle_loads::{SideLoads, SupportLoads, VehicleLoads};
