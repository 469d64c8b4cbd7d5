//! What the figures document says of creep, holds and brakes; `JSON.md` describes every field.

use super::json_common::{RackName, end_word, vehicle_mark};
use crate::model::{Topic, TrainEnd};
use crate::statics::{
    EndCreep, Figures, HoldingWagon, ImpactForce, PlacedString, Pushed, PushedBy, Shift, StateFigures,
};
use serde::Serialize;

/// The creep of both ends of a string.
#[derive(Serialize)]
pub(super) struct CreepRow {
    front: EndRow,
    rear: EndRow,
}

#[derive(Serialize)]
struct EndRow {
    last: Option<RackName>,
    overhang_m: f64,
    over_last: ShiftRow,
    next: Option<NextRow>,
}

#[derive(Serialize)]
struct NextRow {
    rack: Option<RackName>,
    distance_m: f64,
    shift: ShiftRow,
}

#[derive(Serialize)]
struct ShiftRow {
    in_m: f64,
    out_m: f64,
    couplings: usize,
    length_m: f64,
    radius_m: Option<f64>,
    turn_rad: f64,
    curve_in_m: f64,
    curve_out_m: f64,
    polygon_m: f64,
    slack_m: f64,
    temperature_m: f64,
}

impl CreepRow {
    /// The creep of a string; none where the plan does not ask for it or it is not known.
    pub(super) fn of(figures: &Figures, placed: &PlacedString) -> Option<Self> {
        if !figures.plan.route.asked.contains(&Topic::Creep) {
            return None;
        }
        let at = figures.placed.iter().position(|other| other.placement == placed.placement)?;
        let [front, rear] = figures.creep().strings.get(at)?.as_ref().ok()?;
        Some(Self { front: EndRow::of(figures, front), rear: EndRow::of(figures, rear) })
    }
}

impl EndRow {
    fn of(figures: &Figures, creep: &EndCreep) -> Self {
        Self {
            last: RackName::of(figures, creep.last_rack),
            overhang_m: creep.overhang_m,
            over_last: ShiftRow::of(&creep.over_last),
            next: creep.next.as_ref().map(|next| NextRow {
                rack: RackName::of(figures, next.rack),
                distance_m: next.distance_m,
                shift: ShiftRow::of(&next.shift),
            }),
        }
    }
}

impl ShiftRow {
    fn of(shift: &Shift) -> Self {
        Self {
            in_m: shift.in_m(),
            out_m: shift.out_m(),
            couplings: shift.couplings,
            length_m: shift.length_m,
            radius_m: shift.radius_m,
            turn_rad: shift.turn_rad,
            curve_in_m: shift.curve_in_m,
            curve_out_m: shift.curve_out_m,
            polygon_m: shift.polygon_m,
            slack_m: shift.slack_m,
            temperature_m: shift.temperature_m,
        }
    }
}

/// What the hold of a string must take.
#[derive(Serialize)]
pub(super) struct HoldingRow {
    inertia_n: f64,
    friction_n: f64,
    force_n: f64,
    impact: Option<ImpactRow>,
    pushed: Vec<PushedRow>,
}

#[derive(Serialize)]
struct ImpactRow {
    impedance_n_s_per_m: f64,
    wave_m_per_s: f64,
    sides_m: [f64; 2],
    change_m_per_s: f64,
    bound_n: f64,
    half_sine_n: Option<f64>,
}

#[derive(Serialize)]
struct PushedRow {
    part: &'static str,
    from: Option<RackName>,
    span_m: f64,
    compression_n: f64,
    by: &'static str,
    euler_n: Option<f64>,
}

impl HoldingRow {
    /// The holding of a string; none where the plan does not ask for it or enters no accelerations.
    pub(super) fn of(figures: &Figures, placed: &PlacedString) -> Option<Self> {
        if !figures.plan.route.asked.contains(&Topic::HoldForces) {
            return None;
        }
        let at = figures.placed.iter().position(|other| other.placement == placed.placement)?;
        let holding = figures.holding()?.strings.get(at)?;
        Some(Self {
            inertia_n: holding.inertia_n,
            friction_n: holding.friction_n,
            force_n: holding.force_n,
            impact: holding.impact.as_ref().map(ImpactRow::of),
            pushed: holding.pushed.iter().flatten().map(|pushed| PushedRow::of(figures, pushed)).collect(),
        })
    }
}

impl ImpactRow {
    fn of(impact: &ImpactForce) -> Self {
        Self {
            impedance_n_s_per_m: impact.rod.impedance_n_s_per_m,
            wave_m_per_s: impact.rod.wave_m_per_s,
            sides_m: impact.sides_m,
            change_m_per_s: impact.change_m_per_s,
            bound_n: impact.bound_n,
            half_sine_n: impact.half_sine_n,
        }
    }
}

impl PushedRow {
    fn of(figures: &Figures, pushed: &Pushed) -> Self {
        Self {
            part: end_word(usize::from(pushed.part == TrainEnd::Rear)),
            from: RackName::of(figures, pushed.from),
            span_m: pushed.span_m,
            compression_n: pushed.compression_n,
            by: match pushed.by {
                PushedBy::Inertia => "inertia",
                PushedBy::Impact => "impact",
            },
            euler_n: pushed.euler_n,
        }
    }
}

/// What the strings held on one vehicle do to it in a state.
#[derive(Serialize)]
pub(super) struct HoldingWagonRow {
    vehicle: String,
    strings: usize,
    held_kg: f64,
    deceleration_m_per_s2: f64,
    force_n: f64,
    through_n: f64,
    moment_nm: Option<f64>,
    axle_kg: Option<f64>,
}

impl HoldingWagonRow {
    /// The holding vehicles of a state; none where the plan does not ask for it or enters no deceleration.
    pub(super) fn all(figures: &Figures, state: usize) -> Option<Vec<Self>> {
        if !figures.plan.route.asked.contains(&Topic::HoldForces) {
            return None;
        }
        let wagons = figures.holding_wagons(state)?;
        Some(wagons.iter().map(|wagon| Self::of(figures, wagon)).collect())
    }

    fn of(figures: &Figures, wagon: &HoldingWagon) -> Self {
        Self {
            vehicle: vehicle_mark(&figures.plan, wagon.vehicle),
            strings: wagon.strings,
            held_kg: wagon.held_kg,
            deceleration_m_per_s2: wagon.deceleration_m_per_s2,
            force_n: wagon.force_n,
            through_n: wagon.through_n,
            moment_nm: wagon.moment_nm,
            axle_kg: wagon.axle_kg,
        }
    }
}

/// The braked weight over the train's mass; none where the plan does not ask for it or a type has none entered.
pub(super) fn braked_weight_share(figures: &Figures, worked: &StateFigures) -> Option<f64> {
    let asked = figures.plan.route.asked.contains(&Topic::Braking);
    asked.then(|| figures.braked_kg()).flatten().map(|braked_kg| braked_kg / worked.train_kg)
}
