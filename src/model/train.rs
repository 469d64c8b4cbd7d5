//! The train: vehicle types, rack types, and the row of vehicles.

use super::{RackTypeName, Source, VehicleMark, VehicleTypeName};
use crate::units::Length;

/// An end of the train.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum TrainEnd {
    /// Toward x = 0.
    Front,
    /// Toward growing x.
    Rear,
}

/// What a vehicle is in the train.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum VehicleKind {
    /// Hauls or pushes; its body stops a string at its buffer face.
    Engine,
    /// Carries strings.
    Wagon,
    /// Carries nothing; strings may reach over its deck.
    Idler,
}

/// How a vehicle stands on its axles; always symmetrical about its middle.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum RunningGear {
    /// Two single axles.
    TwoAxle {
        /// Between the axles, above zero.
        wheelbase: Length,
    },
    /// Two bogies of two or three axles each.
    Bogies {
        /// Between the pivots, above zero.
        pivot_distance: Length,
        /// 2 or 3.
        axles_per_bogie: u32,
        /// Between the outer axles of one bogie, above zero.
        bogie_wheelbase: Length,
    },
}

impl RunningGear {
    /// Between the two supports of the body: pivots, or axles of a two-axle vehicle.
    pub fn support_distance(self) -> Length {
        match self {
            Self::TwoAxle { wheelbase } => wheelbase,
            Self::Bogies { pivot_distance, .. } => pivot_distance,
        }
    }

    /// Axles under each of the two supports.
    pub fn axles_per_support(self) -> u32 {
        match self {
            Self::TwoAxle { .. } => 1,
            Self::Bogies { axles_per_bogie, .. } => axles_per_bogie,
        }
    }
}

/// Spring rates of a vehicle, where somebody entered them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Springs {
    /// Vertical rate of the front support (bogie or axle) in N/m.
    pub front_n_per_m: f64,
    /// Vertical rate of the rear support in N/m.
    pub rear_n_per_m: f64,
    /// Roll stiffness per support in N m/rad.
    pub roll_nm_per_rad: f64,
    /// Stiffness of the frame's bending shape in N/m; none: the frame is rigid.
    pub frame_n_per_m: Option<f64>,
    /// Lowest and highest rates to try, as shares of the entered ones (0.8 and 1.2, say).
    pub envelope: Option<(f64, f64)>,
    /// Height of the springs' tops above the rail in mm.
    pub spring_height_mm: Option<f64>,
    /// Sprung part of the tare in kg.
    pub sprung_tare_kg: Option<f64>,
}

/// A rack on a vehicle's deck.
#[derive(Clone, Debug, PartialEq)]
pub struct RackOnDeck {
    /// Its type, one of the plan's.
    pub rack_type: RackTypeName,
    /// From the vehicle's middle, positive toward its rear end before turning.
    pub at: Length,
    /// Height offset against its type's heights in mm (springs model only); 0 unless measured.
    pub height_offset_mm: f64,
}

/// A fixed stop on a vehicle that a string end can strike, across all tiers and lanes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct EndStop {
    /// From the vehicle's middle, positive toward its rear end before turning.
    pub at: Length,
}

/// A type of vehicle with its dimensions, tare and ratings; a rating that is none was not entered.
#[derive(Clone, Debug, PartialEq)]
pub struct VehicleType {
    /// Its name, unique in the plan.
    pub name: VehicleTypeName,
    /// Engine, wagon or idler.
    pub kind: VehicleKind,
    /// Over uncompressed buffers or between coupling faces, above zero.
    pub length: Length,
    /// Axles and supports.
    pub gear: RunningGear,
    /// Between the wheels' contact points in mm (1,500 on standard gauge), above zero.
    pub wheel_contact_mm: f64,
    /// Tare in kg, above zero.
    pub tare_kg: f64,
    /// Part of the tare on the front support in kg; none: half.
    pub tare_front_kg: Option<f64>,
    /// Sideways place of the tare's centre in mm, positive right before turning.
    pub tare_y_mm: f64,
    /// Height of the tare's centre above the rail in mm.
    pub tare_cog_height_mm: Option<f64>,
    /// Height of the deck above the rail, empty.
    pub deck_height: Option<Length>,
    /// Most load in kg.
    pub payload_rating_kg: Option<f64>,
    /// Most gross mass on one bogie in kg (bogie vehicles).
    pub bogie_rating_kg: Option<f64>,
    /// Most mass on one axle in kg.
    pub axle_rating_kg: Option<f64>,
    /// Most mass on one wheel in kg.
    pub wheel_rating_kg: Option<f64>,
    /// Most mass on one axle under braking in kg.
    pub axle_braking_rating_kg: Option<f64>,
    /// Most coupling force in N.
    pub coupling_rating_n: Option<f64>,
    /// Height of the coupling above the rail.
    pub coupling_height: Option<Length>,
    /// Braked weight in kg (braking record).
    pub braked_weight_kg: Option<f64>,
    /// Least radius the vehicle passes in m.
    pub least_radius_m: Option<f64>,
    /// Spring rates.
    pub springs: Option<Springs>,
    /// Racks from front to rear before turning.
    pub racks: Vec<RackOnDeck>,
    /// Fixed stops.
    pub end_stops: Vec<EndStop>,
    /// Where the figures come from.
    pub source: Source,
}

/// What a rack does to a string lengthwise.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum RackKind {
    /// The string rolls.
    Roller,
    /// The string can be clamped here.
    Clamping,
    /// The string slides on fixed steel.
    Fixed,
}

/// Which tiers must be empty before one can be reached.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum TierAccess {
    /// All tiers above must be empty at the racks concerned.
    AboveEmpty,
    /// A string can be drawn out below others.
    AnyTier,
}

/// One tier of a rack.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tier {
    /// Height of the seat (underside of the rail foot) above the deck in mm.
    pub seat_above_deck_mm: f64,
    /// Clear height for a section in mm; none: undecided.
    pub clear_mm: Option<f64>,
}

/// A type of rack.
#[derive(Clone, Debug, PartialEq)]
pub struct RackType {
    /// Its name, unique in the plan.
    pub name: RackTypeName,
    /// Roller, clamping or fixed.
    pub kind: RackKind,
    /// Tiers from the bottom, at least one.
    pub tiers: Vec<Tier>,
    /// Sideways places of the lanes in mm, from left to right before turning, strictly growing, at least one.
    pub lanes_y_mm: Vec<f64>,
    /// Clear width of a pocket in mm.
    pub pocket_width_mm: Option<f64>,
    /// Free side movement of a string in its pocket, each way, in mm.
    pub side_play_mm: Option<f64>,
    /// Most load in one pocket in kg.
    pub pocket_rating_kg: Option<f64>,
    /// Most load on one tier in kg.
    pub tier_rating_kg: Option<f64>,
    /// Most load on the whole rack in kg.
    pub rack_rating_kg: Option<f64>,
    /// Most sideways force on the rack's posts in N.
    pub side_rating_n: Option<f64>,
    /// Friction coefficient lengthwise; none: 0 for rollers, not entered for others.
    pub friction: Option<f64>,
    /// Most force of one hold in N (clamping racks).
    pub hold_rating_n: Option<f64>,
    /// Which tiers must be empty before one can be reached; none: not entered.
    pub tier_access: Option<TierAccess>,
    /// Where the figures come from.
    pub source: Source,
}

/// One vehicle of the row.
#[derive(Clone, Debug, PartialEq)]
pub struct Vehicle {
    /// Its mark, unique in the train.
    pub mark: VehicleMark,
    /// Its type, one of the plan's.
    pub vehicle_type: VehicleTypeName,
    /// Whether it stands turned round: everything fixed to it is mirrored in x and y.
    pub turned: bool,
    /// Its own tare in kg where it was weighed; none: the type's.
    pub tare_kg: Option<f64>,
    /// How much higher it stands than its type in mm (springs model only).
    pub height_offset_mm: f64,
}

/// What stands beyond an end of the train.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Beyond {
    /// What it is.
    pub kind: BeyondKind,
    /// Its distance from the outermost buffer face, zero or above.
    pub distance: Length,
}

/// A kind of thing beyond an end of the train.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum BeyondKind {
    /// Nothing: the buffer face itself is the limit.
    Nothing,
    /// A fixed stop.
    EndStop,
    /// Another vehicle that is not part of this plan.
    Vehicle,
}

/// Which lanes of a tier come off first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum LaneRule {
    /// Outermost first on each side.
    OutermostFirst,
    /// Innermost first on each side.
    InnermostFirst,
    /// Any lane at any time.
    AnyOrder,
}

/// The train.
#[derive(Clone, Debug, PartialEq)]
pub struct Train {
    /// Vehicle types used.
    pub vehicle_types: Vec<VehicleType>,
    /// Rack types used.
    pub rack_types: Vec<RackType>,
    /// The row, from the front end.
    pub vehicles: Vec<Vehicle>,
    /// Free movement of one coupling, both ways together.
    pub coupling_slack: Option<Length>,
    /// What stands beyond the front end.
    pub front_beyond: Beyond,
    /// What stands beyond the rear end.
    pub rear_beyond: Beyond,
    /// Which lanes come off first; none: not set.
    pub lane_rule: Option<LaneRule>,
}
