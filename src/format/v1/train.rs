//! Vehicle types, rack types and the row of vehicles, as version 1 of the file holds them.

use super::macros::{record, words};
use super::material::Source;
use super::value::{Count, FileOf, Id, Millimetres, Number, is_off, is_zero};
use crate::model::{self, RackTypeName, VehicleMark, VehicleTypeName};
use serde::{Deserialize, Serialize};

words! {
    /// An end of the train.
    TrainEnd = model::TrainEnd { Front, Rear }
}

words! {
    /// What a vehicle is.
    VehicleKind = model::VehicleKind { Engine, Wagon, Idler }
}

/// How a vehicle stands on its axles.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) enum RunningGear {
    TwoAxle { wheelbase_mm: Millimetres },
    Bogies { pivot_distance_mm: Millimetres, axles_per_bogie: Count, bogie_wheelbase_mm: Millimetres },
}

impl FileOf<model::RunningGear> for RunningGear {
    fn of(model: &model::RunningGear) -> Self {
        match model {
            model::RunningGear::TwoAxle { wheelbase } => {
                Self::TwoAxle { wheelbase_mm: FileOf::of(wheelbase) }
            }
            model::RunningGear::Bogies { pivot_distance, axles_per_bogie, bogie_wheelbase } => Self::Bogies {
                pivot_distance_mm: FileOf::of(pivot_distance),
                axles_per_bogie: FileOf::of(axles_per_bogie),
                bogie_wheelbase_mm: FileOf::of(bogie_wheelbase),
            },
        }
    }

    fn into_model(self) -> model::RunningGear {
        match self {
            Self::TwoAxle { wheelbase_mm } => {
                model::RunningGear::TwoAxle { wheelbase: wheelbase_mm.into_model() }
            }
            Self::Bogies { pivot_distance_mm, axles_per_bogie, bogie_wheelbase_mm } => {
                model::RunningGear::Bogies {
                    pivot_distance: pivot_distance_mm.into_model(),
                    axles_per_bogie: axles_per_bogie.into_model(),
                    bogie_wheelbase: bogie_wheelbase_mm.into_model(),
                }
            }
        }
    }
}

record! {
    /// Spring rates.
    Springs = model::Springs {
        front_n_per_m: Number = front_n_per_m,
        rear_n_per_m: Number = rear_n_per_m,
        roll_nm_per_rad: Number = roll_nm_per_rad,
        frame_n_per_m ["Option::is_none"]: Option<Number> = frame_n_per_m,
        envelope_shares ["Option::is_none"]: Option<(Number, Number)> = envelope,
        spring_height_mm ["Option::is_none"]: Option<Number> = spring_height_mm,
        sprung_tare_kg ["Option::is_none"]: Option<Number> = sprung_tare_kg,
    }
}

record! {
    /// A rack on a deck.
    RackOnDeck = model::RackOnDeck {
        r#type: Id<RackTypeName> = rack_type,
        at_mm: Millimetres = at,
        height_offset_mm ["is_zero"]: Number = height_offset_mm,
    }
}

record! {
    /// A fixed stop.
    EndStop = model::EndStop {
        at_mm: Millimetres = at,
    }
}

record! {
    /// A type of vehicle.
    VehicleType = model::VehicleType {
        name: Id<VehicleTypeName> = name,
        kind: VehicleKind = kind,
        length_mm: Millimetres = length,
        gear: RunningGear = gear,
        wheel_contact_mm: Number = wheel_contact_mm,
        tare_kg: Number = tare_kg,
        tare_front_kg ["Option::is_none"]: Option<Number> = tare_front_kg,
        tare_y_mm ["is_zero"]: Number = tare_y_mm,
        tare_cog_height_mm ["Option::is_none"]: Option<Number> = tare_cog_height_mm,
        deck_height_mm ["Option::is_none"]: Option<Millimetres> = deck_height,
        payload_rating_kg ["Option::is_none"]: Option<Number> = payload_rating_kg,
        bogie_rating_kg ["Option::is_none"]: Option<Number> = bogie_rating_kg,
        axle_rating_kg ["Option::is_none"]: Option<Number> = axle_rating_kg,
        wheel_rating_kg ["Option::is_none"]: Option<Number> = wheel_rating_kg,
        axle_braking_rating_kg ["Option::is_none"]: Option<Number> = axle_braking_rating_kg,
        coupling_rating_n ["Option::is_none"]: Option<Number> = coupling_rating_n,
        coupling_height_mm ["Option::is_none"]: Option<Millimetres> = coupling_height,
        braked_weight_kg ["Option::is_none"]: Option<Number> = braked_weight_kg,
        least_radius_m ["Option::is_none"]: Option<Number> = least_radius_m,
        springs ["Option::is_none"]: Option<Springs> = springs,
        racks ["Vec::is_empty"]: Vec<RackOnDeck> = racks,
        end_stops ["Vec::is_empty"]: Vec<EndStop> = end_stops,
        source: Source = source,
    }
}

words! {
    /// What a rack does to a string lengthwise.
    RackKind = model::RackKind { Roller, Clamping, Fixed }
}

words! {
    /// Which tiers must be empty before one can be reached.
    TierAccess = model::TierAccess { AboveEmpty, AnyTier }
}

record! {
    /// One tier of a rack.
    Tier = model::Tier {
        seat_above_deck_mm: Number = seat_above_deck_mm,
        clear_mm ["Option::is_none"]: Option<Number> = clear_mm,
    }
}

record! {
    /// A type of rack.
    RackType = model::RackType {
        name: Id<RackTypeName> = name,
        kind: RackKind = kind,
        tiers: Vec<Tier> = tiers,
        lanes_y_mm: Vec<Number> = lanes_y_mm,
        pocket_width_mm ["Option::is_none"]: Option<Number> = pocket_width_mm,
        side_play_mm ["Option::is_none"]: Option<Number> = side_play_mm,
        pocket_rating_kg ["Option::is_none"]: Option<Number> = pocket_rating_kg,
        tier_rating_kg ["Option::is_none"]: Option<Number> = tier_rating_kg,
        rack_rating_kg ["Option::is_none"]: Option<Number> = rack_rating_kg,
        side_rating_n ["Option::is_none"]: Option<Number> = side_rating_n,
        friction ["Option::is_none"]: Option<Number> = friction,
        hold_rating_n ["Option::is_none"]: Option<Number> = hold_rating_n,
        tier_access ["Option::is_none"]: Option<TierAccess> = tier_access,
        source: Source = source,
    }
}

record! {
    /// One vehicle of the row.
    Vehicle = model::Vehicle {
        mark: Id<VehicleMark> = mark,
        r#type: Id<VehicleTypeName> = vehicle_type,
        turned ["is_off"]: bool = turned,
        tare_kg ["Option::is_none"]: Option<Number> = tare_kg,
        height_offset_mm ["is_zero"]: Number = height_offset_mm,
    }
}

words! {
    /// A kind of thing beyond an end of the train.
    BeyondKind = model::BeyondKind { Nothing, EndStop, Vehicle }
}

record! {
    /// What stands beyond an end of the train.
    Beyond = model::Beyond {
        kind: BeyondKind = kind,
        distance_mm: Millimetres = distance,
    }
}

words! {
    /// Which lanes of a tier come off first.
    LaneRule = model::LaneRule { OutermostFirst, InnermostFirst, AnyOrder }
}

record! {
    /// The train.
    Train = model::Train {
        vehicle_types ["Vec::is_empty"]: Vec<VehicleType> = vehicle_types,
        rack_types ["Vec::is_empty"]: Vec<RackType> = rack_types,
        vehicles ["Vec::is_empty"]: Vec<Vehicle> = vehicles,
        coupling_slack_mm ["Option::is_none"]: Option<Millimetres> = coupling_slack,
        front_beyond: Beyond = front_beyond,
        rear_beyond: Beyond = rear_beyond,
        lane_rule ["Option::is_none"]: Option<LaneRule> = lane_rule,
    }
}
