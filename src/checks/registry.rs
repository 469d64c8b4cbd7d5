//! All checks, a line each, in the order in which reports list them.

use super::{
    Check, axle_load, axle_ratio, bogie_load, bogie_ratio, centre_height, light_vehicle, line_axle_load,
    line_mass_per_metre, payload, pocket_load, rack_load, tier_load, train_length, train_mass, wheel_balance,
    wheel_load,
};

/// Every check of the program.
pub static REGISTRY: &[&Check] = &[
    &pocket_load::CHECK,
    &tier_load::CHECK,
    &rack_load::CHECK,
    &payload::CHECK,
    &bogie_load::CHECK,
    &axle_load::CHECK,
    &wheel_load::CHECK,
    &line_axle_load::CHECK,
    &line_mass_per_metre::CHECK,
    &wheel_balance::CHECK,
    &bogie_ratio::CHECK,
    &axle_ratio::CHECK,
    &centre_height::CHECK,
    &train_mass::CHECK,
    &train_length::CHECK,
    &light_vehicle::CHECK,
];
