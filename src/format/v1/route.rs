//! The route and the limits, as version 1 of the file holds them.

use super::macros::{record, words};
use super::material::Source;
use super::train::TrainEnd;
use super::value::{FileOf, Millimetres, Number};
use crate::model::{self, LimitKind};
use serde::{Deserialize, Serialize};

record! {
    /// A line class.
    LineClass = model::LineClass {
        name: String = name,
        axle_kg: Number = axle_kg,
        mass_per_metre_kg ["Option::is_none"]: Option<Number> = mass_per_metre_kg,
        source: Source = source,
    }
}

record! {
    /// A curve.
    Curve = model::Curve {
        radius_m: Number = radius_m,
        arc_m ["Option::is_none"]: Option<Number> = arc_m,
        transition_m: Number = transition_m,
        cant_mm ["Option::is_none"]: Option<Number> = cant_mm,
        speed_kmh ["Option::is_none"]: Option<Number> = speed_kmh,
    }
}

record! {
    /// A reverse curve.
    SCurve = model::SCurve {
        radius_m: Number = radius_m,
        straight_m: Number = straight_m,
    }
}

/// What the line allows beyond a reference line in curves of one radius.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Allowed {
    radius_m: Number,
    inside_mm: Number,
    outside_mm: Number,
}

impl FileOf<(f64, f64, f64)> for Allowed {
    fn of(&(radius_m, inside_mm, outside_mm): &(f64, f64, f64)) -> Self {
        Self { radius_m: Number(radius_m), inside_mm: Number(inside_mm), outside_mm: Number(outside_mm) }
    }
    fn into_model(self) -> (f64, f64, f64) {
        (self.radius_m.0, self.inside_mm.0, self.outside_mm.0)
    }
}

record! {
    /// A reference line of the load gauge.
    GaugeLine = model::GaugeLine {
        name: String = name,
        points_mm: Vec<(Number, Number)> = points_mm,
        allowed ["Vec::is_empty"]: Vec<Allowed> = allowed_mm,
        source: Source = source,
    }
}

record! {
    /// A set of securing accelerations.
    Accelerations = model::Accelerations {
        name: String = name,
        longitudinal_g: Number = longitudinal_g,
        lateral_g: Number = lateral_g,
        vertical_g: Number = vertical_g,
        impact_m_per_s ["Option::is_none"]: Option<Number> = impact_m_per_s,
        source: Source = source,
    }
}

record! {
    /// Feeding speeds.
    FeedSpeeds = model::FeedSpeeds {
        loading_m_per_s ["Option::is_none"]: Option<Number> = loading_m_per_s,
        unloading_m_per_s ["Option::is_none"]: Option<Number> = unloading_m_per_s,
    }
}

record! {
    /// A part of the route hauled in one direction.
    Leg = model::Leg {
        name: String = name,
        leading: TrainEnd = leading,
    }
}

words! {
    /// A group of checks that a plan may ask for.
    Topic = model::Topic {
        TrainTotals, Springs, Curves, Creep, HoldForces, Gauge, Cant, Unloading, Braking, Tolerances,
    }
}

record! {
    /// The route and its conditions.
    #[derive(Default)]
    Route = model::Route {
        line_class ["Option::is_none"]: Option<LineClass> = line_class,
        curves ["Vec::is_empty"]: Vec<Curve> = curves,
        s_curve ["Option::is_none"]: Option<SCurve> = s_curve,
        greatest_cant_mm ["Option::is_none"]: Option<Number> = greatest_cant_mm,
        speed_kmh ["Option::is_none"]: Option<Number> = speed_kmh,
        cant_deficiency_mm ["Option::is_none"]: Option<Number> = cant_deficiency_mm,
        gauge ["Option::is_none"]: Option<GaugeLine> = gauge,
        humped ["Option::is_none"]: Option<bool> = humped,
        accelerations ["Option::is_none"]: Option<Accelerations> = accelerations,
        braking_m_per_s2 ["Option::is_none"]: Option<Number> = braking_m_per_s2,
        buffing_m_per_s2 ["Option::is_none"]: Option<Number> = buffing_m_per_s2,
        temperature_range_k ["Option::is_none"]: Option<Number> = temperature_range_k,
        rack_height_tolerance_mm ["Option::is_none"]: Option<Number> = rack_height_tolerance_mm,
        mass_tolerance_share ["Option::is_none"]: Option<Number> = mass_tolerance,
        wagon_height_tolerance_mm ["Option::is_none"]: Option<Millimetres> = wagon_height_tolerance,
        feed ["Option::is_none"]: Option<FeedSpeeds> = feed,
        legs ["Vec::is_empty"]: Vec<Leg> = legs,
        asked ["Vec::is_empty"]: Vec<Topic> = asked,
    }
}

record! {
    /// A limit's value and where it comes from.
    Limit = model::Limit {
        running: Number = running,
        working ["Option::is_none"]: Option<Number> = working,
        source: Source = source,
        accepted_by ["Option::is_none"]: Option<String> = accepted_by,
    }
}

/// The table of limits: a field for each kind, called as [`LimitKind::key`] says (a test compares them).
macro_rules! limit_table {
    ($($key:ident = $kind:ident),* $(,)?) => {
        /// The plan's limits.
        #[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
        #[serde(deny_unknown_fields, rename = "Limits")]
        pub(crate) struct LimitTable {
            $(#[serde(default, skip_serializing_if = "Option::is_none")] $key: Option<Limit>,)*
            #[serde(default, skip_serializing_if = "Option::is_none")]
            near_share: Option<Number>,
        }

        impl FileOf<model::Limits> for LimitTable {
            fn of(model: &model::Limits) -> Self {
                let model::Limits { entries, near_share } = model;
                Self {
                    $($key: entries.get(&LimitKind::$kind).map(Limit::of),)*
                    near_share: FileOf::of(near_share),
                }
            }

            fn into_model(self) -> model::Limits {
                let entries = [$((LimitKind::$kind, self.$key),)*];
                let entries = entries.into_iter().filter_map(|(kind, limit)| Some((kind, limit?.into_model())));
                model::Limits { entries: entries.collect(), near_share: self.near_share.into_model() }
            }
        }
    };
}

limit_table! {
    wheel_ratio = WheelRatio,
    bogie_ratio = BogieRatio,
    two_axle_ratio = TwoAxleRatio,
    centre_height_m = CentreHeight,
    least_overhang_m = LeastOverhang,
    greatest_overhang_m = GreatestOverhang,
    pocket_gap_m = PocketGap,
    end_clearance_m = EndClearance,
    idler_gap_m = IdlerGap,
    idler_height_m = IdlerHeight,
    least_racks = LeastRacks,
    largest_span_m = LargestSpan,
    sag_m = Sag,
    stated_mass_difference_share = StatedMassDifference,
    train_mass_kg = TrainMass,
    train_length_m = TrainLength,
    light_vehicle_kg = LightVehicle,
    heavy_set_kg = HeavySet,
    curve_stress_pa = CurveStress,
    unloading_stress_pa = UnloadingStress,
    wheel_unloading_share = WheelUnloading,
    braked_weight_share = BrakedWeight,
    model_difference_share = ModelDifference,
}
