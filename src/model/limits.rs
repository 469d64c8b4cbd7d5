//! Limits: named, each with its value, its source and who accepted it. None comes from code.

use super::Source;
use std::collections::BTreeMap;

/// The name of a limit; its unit is the SI one that [`LimitKind::key`] ends in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum LimitKind {
    /// Larger over smaller wheel load of any axle.
    WheelRatio,
    /// Larger over smaller bogie load of a bogie vehicle.
    BogieRatio,
    /// Larger over smaller axle load of a two-axle vehicle.
    TwoAxleRatio,
    /// Height of the gross centre of gravity above the rail in m.
    CentreHeight,
    /// Least overhang of each end in m.
    LeastOverhang,
    /// Greatest overhang of each end in m.
    GreatestOverhang,
    /// Least gap between two strings in one pocket in m.
    PocketGap,
    /// Least distance from a string end to a stop, an engine or the train's end in m.
    EndClearance,
    /// Least gap between two overhangs above an idler in m.
    IdlerGap,
    /// Least height of a string above an idler's deck in m.
    IdlerHeight,
    /// Least number of racks under a string.
    LeastRacks,
    /// Largest span between racks that carry in m.
    LargestSpan,
    /// Largest sag between racks in m.
    Sag,
    /// Largest difference of a stated from a computed string mass, as a share.
    StatedMassDifference,
    /// Most mass of the train in kg.
    TrainMass,
    /// Greatest length of the train in m.
    TrainLength,
    /// A vehicle of less gross mass than this is light, in kg.
    LightVehicle,
    /// A set of loaded wagons of more gross mass than this is heavy, in kg.
    HeavySet,
    /// Largest lateral bending stress in curves in Pa.
    CurveStress,
    /// Largest bending stress while unloading in Pa.
    UnloadingStress,
    /// Largest share of a wheel's load that may be lost on cant.
    WheelUnloading,
    /// Least braked weight percentage, as a share.
    BrakedWeight,
    /// Largest share of difference between level and springs that passes without a warning.
    ModelDifference,
}

impl LimitKind {
    /// All kinds, in the order of files and lists.
    pub const ALL: [Self; 23] = [
        Self::WheelRatio,
        Self::BogieRatio,
        Self::TwoAxleRatio,
        Self::CentreHeight,
        Self::LeastOverhang,
        Self::GreatestOverhang,
        Self::PocketGap,
        Self::EndClearance,
        Self::IdlerGap,
        Self::IdlerHeight,
        Self::LeastRacks,
        Self::LargestSpan,
        Self::Sag,
        Self::StatedMassDifference,
        Self::TrainMass,
        Self::TrainLength,
        Self::LightVehicle,
        Self::HeavySet,
        Self::CurveStress,
        Self::UnloadingStress,
        Self::WheelUnloading,
        Self::BrakedWeight,
        Self::ModelDifference,
    ];

    /// Its key in files and JSON, ending in the SI unit of its value where it has one.
    pub fn key(self) -> &'static str {
        match self {
            Self::WheelRatio => "wheel_ratio",
            Self::BogieRatio => "bogie_ratio",
            Self::TwoAxleRatio => "two_axle_ratio",
            Self::CentreHeight => "centre_height_m",
            Self::LeastOverhang => "least_overhang_m",
            Self::GreatestOverhang => "greatest_overhang_m",
            Self::PocketGap => "pocket_gap_m",
            Self::EndClearance => "end_clearance_m",
            Self::IdlerGap => "idler_gap_m",
            Self::IdlerHeight => "idler_height_m",
            Self::LeastRacks => "least_racks",
            Self::LargestSpan => "largest_span_m",
            Self::Sag => "sag_m",
            Self::StatedMassDifference => "stated_mass_difference_share",
            Self::TrainMass => "train_mass_kg",
            Self::TrainLength => "train_length_m",
            Self::LightVehicle => "light_vehicle_kg",
            Self::HeavySet => "heavy_set_kg",
            Self::CurveStress => "curve_stress_pa",
            Self::UnloadingStress => "unloading_stress_pa",
            Self::WheelUnloading => "wheel_unloading_share",
            Self::BrakedWeight => "braked_weight_share",
            Self::ModelDifference => "model_difference_share",
        }
    }

    /// What a reader calls it.
    pub fn title(self) -> &'static str {
        match self {
            Self::WheelRatio => "wheel load ratio",
            Self::BogieRatio => "bogie load ratio",
            Self::TwoAxleRatio => "axle load ratio of two-axle vehicles",
            Self::CentreHeight => "centre of gravity height",
            Self::LeastOverhang => "least overhang",
            Self::GreatestOverhang => "greatest overhang",
            Self::PocketGap => "gap in a pocket",
            Self::EndClearance => "end clearance",
            Self::IdlerGap => "gap between overhangs above an idler",
            Self::IdlerHeight => "height above an idler's deck",
            Self::LeastRacks => "least number of racks",
            Self::LargestSpan => "largest span",
            Self::Sag => "sag",
            Self::StatedMassDifference => "difference of stated mass",
            Self::TrainMass => "train mass",
            Self::TrainLength => "train length",
            Self::LightVehicle => "light vehicle threshold",
            Self::HeavySet => "heavy set threshold",
            Self::CurveStress => "lateral stress in curves",
            Self::UnloadingStress => "stress while unloading",
            Self::WheelUnloading => "wheel unloading on cant",
            Self::BrakedWeight => "braked weight percentage",
            Self::ModelDifference => "difference between the models",
        }
    }
}

/// A limit's value and where it comes from.
#[derive(Clone, Debug, PartialEq)]
pub struct Limit {
    /// The value while the train travels, in the SI unit of its kind, above zero.
    pub running: f64,
    /// The value between the steps of a drop; none: the running value holds.
    pub working: Option<f64>,
    /// Where it comes from.
    pub source: Source,
    /// Who accepted it for this plan; none: not accepted, so whatever it judges is undecided.
    pub accepted_by: Option<String>,
}

/// The plan's limits.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Limits {
    /// What is entered, by kind.
    pub entries: BTreeMap<LimitKind, Limit>,
    /// A pass that uses at least this share of its limit is told as near; none: 0.95.
    pub near_share: Option<f64>,
}

impl Limit {
    /// The value between the steps of a drop: the working one where entered, else the running one.
    pub fn working_value(&self) -> f64 {
        self.working.unwrap_or(self.running)
    }
}

impl Limits {
    /// The limit of `kind`, where one is entered.
    pub fn get(&self, kind: LimitKind) -> Option<&Limit> {
        self.entries.get(&kind)
    }

    /// The limit of `kind`, where one is entered and somebody accepted it: no other limit judges anything.
    pub fn accepted(&self, kind: LimitKind) -> Option<&Limit> {
        self.get(kind).filter(|limit| limit.accepted_by.is_some())
    }

    /// The share of a limit from which a pass is told as near: as set, else 0.95.
    pub fn near_share(&self) -> f64 {
        self.near_share.unwrap_or(0.95)
    }
}
