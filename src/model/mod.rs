//! The document: what a plan says. No mechanics, no files, no window; nothing here can be computed.
//!
//! Floor 1: uses `units` only. Axes, stated once for the whole crate: x runs along the train from the
//! front buffer face of the first vehicle rearward; y to the right when facing the front end; z up from
//! the top of rail. "Front" is a property of the plan, not of the direction of travel.
//! Along-train places are whole millimetres ([`Length`](crate::units::Length)); lanes, tiers, racks and
//! axles are counted from 1 (tiers from the bottom, lanes from the left facing the front, racks and axles
//! from the front as the vehicle stands).

mod catalogue;
mod drop;
mod exercise;
mod ids;
mod limits;
mod order;
mod order_table;
mod placement;
mod plan;
mod records;
mod route;
mod section;
mod source;
mod train;
mod validity;

pub use catalogue::{Catalogue, FrictionRow, LimitSet};
pub use drop::{Drop, Step, StepKind, StepStrings};
pub use exercise::{Answer, Choice, Claim, Condition, Exercise, Knob, Measured};
pub use ids::{
    DropName, Name, NameError, RackTypeName, SectionName, SteelName, StringMark, VehicleMark,
    VehicleTypeName, is_unseen,
};
pub use limits::{Limit, LimitKind, Limits};
pub use order::{MassEntry, OrderedString, StatedBasis, TrackSide};
pub use order_table::{ColumnUnit, MatchedColumn, OrderColumn, OrderTable};
pub use placement::{Hold, Placement, RackRef, RackSpan};
pub use plan::Plan;
pub use records::{Acceptance, AsLoaded, Found, Signature, WeighedPart, Weighing};
pub use route::{Accelerations, Curve, FeedSpeeds, GaugeLine, Leg, LineClass, Route, SCurve, Topic};
pub use section::{RailSection, Steel};
pub use source::{Source, Sureness};
pub use train::{
    Beyond, BeyondKind, EndStop, LaneRule, RackKind, RackOnDeck, RackType, RunningGear, Springs, Tier,
    TierAccess, Train, TrainEnd, Vehicle, VehicleKind, VehicleType,
};
pub use validity::{Problem, problems};
