//! The train on springs and the tolerance bands as JSON; `JSON.md` describes every field.

use super::json_common::{RackName, end_word, string_mark, vehicle_mark};
use crate::model::Topic;
use crate::statics::{
    Figures, LoadRange, SideLoads, SpringState, SpringsMissing, StringOnSprings, SupportLoads, SupportRange,
};
use serde::Serialize;

/// The second model beside the level rigid one.
#[derive(Serialize)]
pub(super) struct SpringsBlock {
    model: &'static str,
    springs_missing: Vec<String>,
    states: Vec<StateRow>,
}

impl SpringsBlock {
    /// The train on springs; none where the plan does not ask for it.
    pub(super) fn of(figures: &Figures) -> Option<Self> {
        if !figures.plan.route.asked.contains(&Topic::Springs) {
            return None;
        }
        let found = figures.springs().and_then(|springs| Ok((springs, figures.spring_envelope()?)));
        let (springs_missing, states) = match found {
            Err(missing) => (type_names(figures, missing), Vec::new()),
            Ok((springs, envelope)) => {
                let states = springs.states.iter().zip(envelope);
                (Vec::new(), states.map(|state| StateRow::of(figures, state)).collect())
            }
        };
        Some(Self { model: "springs", springs_missing, states })
    }
}

/// Half the widths of the tolerance bands.
#[derive(Serialize)]
pub(super) struct TolerancesBlock {
    springs_missing: Vec<String>,
    states: Vec<BandState>,
}

impl TolerancesBlock {
    /// The bands; none where the plan does not ask for them.
    pub(super) fn of(figures: &Figures) -> Option<Self> {
        if !figures.plan.route.asked.contains(&Topic::Tolerances) {
            return None;
        }
        Some(match figures.tolerance_bands() {
            Err(missing) => Self { springs_missing: type_names(figures, missing), states: Vec::new() },
            Ok(bands) => {
                let states = figures.worked.iter().zip(bands);
                let states = states.map(|(worked, bands)| BandState::of(figures, worked.state, bands));
                Self { springs_missing: Vec::new(), states: states.collect() }
            }
        })
    }
}

fn type_names(figures: &Figures, missing: &SpringsMissing) -> Vec<String> {
    let types = &figures.plan.train.vehicle_types;
    let kinds = missing.vehicle_types.iter().filter_map(|index| types.get(*index));
    kinds.map(|kind| kind.name.to_string()).collect()
}

#[derive(Serialize)]
struct StateRow {
    state: usize,
    at_rest: bool,
    steps: usize,
    vehicles: Vec<VehicleRow>,
    racks: Vec<RackRow>,
    strings: Vec<StringRow>,
}

#[derive(Serialize)]
struct VehicleRow {
    vehicle: String,
    gross_kg: f64,
    heave_m: f64,
    pitch_rad: f64,
    roll_rad: f64,
    frame_m: f64,
    supports: Vec<SupportRow>,
}

#[derive(Serialize)]
struct SupportRow {
    support: &'static str,
    load_kg: f64,
    axle_kg: f64,
    against_level_kg: f64,
    wheel_ratio: f64,
    largest_wheel_kg: f64,
    stiff: Wheels,
    soft: Wheels,
    envelope: EnvelopeRow,
}

#[derive(Serialize)]
struct EnvelopeRow {
    axle: RangeRow,
    largest_wheel: RangeRow,
}

#[derive(Serialize)]
struct RangeRow {
    low_kg: f64,
    high_kg: f64,
}

#[derive(Serialize)]
struct Wheels {
    left_kg: f64,
    right_kg: f64,
}

#[derive(Serialize)]
struct RackRow {
    #[serde(flatten)]
    name: RackName,
    height_offset_m: f64,
    total_kg: f64,
}

#[derive(Serialize)]
struct StringRow {
    string: String,
    racks: Vec<CrossedRack>,
}

#[derive(Serialize)]
struct CrossedRack {
    #[serde(flatten)]
    name: Option<RackName>,
    carries: bool,
    reaction_n: f64,
}

impl StateRow {
    fn of(figures: &Figures, (state, envelope): (&SpringState, &Vec<[SupportRange; 2]>)) -> Self {
        let racks = figures.consist.racks.iter().enumerate().map(|(rack, place)| RackRow {
            name: RackName::new(&figures.plan, place.vehicle, place.number),
            height_offset_m: place.height_offset_m,
            total_kg: state.loads.rack_kg(rack),
        });
        let vehicles = 0..state.loads.vehicles.len();
        Self {
            state: state.loads.state,
            at_rest: state.at_rest,
            steps: state.steps,
            vehicles: vehicles
                .filter_map(|vehicle| VehicleRow::of(figures, (state, envelope), vehicle))
                .collect(),
            racks: racks.collect(),
            strings: state.strings.iter().map(|string| StringRow::of(figures, string)).collect(),
        }
    }
}

impl VehicleRow {
    fn of(
        figures: &Figures,
        (state, envelope): (&SpringState, &Vec<[SupportRange; 2]>),
        vehicle: usize,
    ) -> Option<Self> {
        let (loads, moved) = (state.loads.vehicles.get(vehicle)?, state.moved.get(vehicle)?);
        let level = figures.state(state.loads.state)?.vehicles.get(vehicle)?;
        let supports = loads.supports.iter().zip(&level.supports).zip(envelope.get(vehicle)?);
        let supports = supports.enumerate().map(|(support, ((loads, level), range))| SupportRow {
            support: end_word(support),
            load_kg: loads.load_kg,
            axle_kg: loads.axle_kg,
            against_level_kg: loads.axle_kg - level.axle_kg,
            wheel_ratio: loads.worse_ratio(),
            largest_wheel_kg: loads.largest_wheel_kg(),
            stiff: loads.stiff.into(),
            soft: loads.soft.into(),
            envelope: EnvelopeRow { axle: range.axle.into(), largest_wheel: range.largest_wheel.into() },
        });
        Some(Self {
            vehicle: vehicle_mark(&figures.plan, vehicle),
            gross_kg: loads.gross_kg,
            heave_m: moved.heave_m,
            pitch_rad: moved.pitch_rad,
            roll_rad: moved.roll_rad,
            frame_m: moved.frame_m,
            supports: supports.collect(),
        })
    }
}

impl StringRow {
    fn of(figures: &Figures, string: &StringOnSprings) -> Self {
        let placed = figures.placed.get(string.placed);
        let first = placed.map_or(0, |placed| placed.racks.start);
        let racks = string.carries.iter().zip(&string.reactions_n).enumerate();
        Self {
            string: placed.map(|placed| string_mark(&figures.plan, placed.string)).unwrap_or_default(),
            racks: racks
                .map(|(nth, (carries, reaction_n))| CrossedRack {
                    name: RackName::of(figures, first + nth),
                    carries: *carries,
                    reaction_n: *reaction_n,
                })
                .collect(),
        }
    }
}

#[derive(Serialize)]
struct BandState {
    state: usize,
    vehicles: Vec<BandVehicle>,
}

#[derive(Serialize)]
struct BandVehicle {
    vehicle: String,
    supports: Vec<BandRow>,
}

#[derive(Serialize)]
struct BandRow {
    support: &'static str,
    load_kg: f64,
    axle_kg: f64,
    stiff: Wheels,
    soft: Wheels,
}

impl BandState {
    fn of(figures: &Figures, state: usize, bands: &[[SupportLoads; 2]]) -> Self {
        let vehicles = bands.iter().enumerate().map(|(vehicle, supports)| BandVehicle {
            vehicle: vehicle_mark(&figures.plan, vehicle),
            supports: supports.iter().enumerate().map(BandRow::of).collect(),
        });
        Self { state, vehicles: vehicles.collect() }
    }
}

impl BandRow {
    fn of((support, band): (usize, &SupportLoads)) -> Self {
        Self {
            support: end_word(support),
            load_kg: band.load_kg,
            axle_kg: band.axle_kg,
            stiff: band.stiff.into(),
            soft: band.soft.into(),
        }
    }
}

impl From<SideLoads> for Wheels {
    fn from(loads: SideLoads) -> Self {
        Self { left_kg: loads.left_kg, right_kg: loads.right_kg }
    }
}

impl From<LoadRange> for RangeRow {
    fn from(range: LoadRange) -> Self {
        Self { low_kg: range.low_kg, high_kg: range.high_kg }
    }
}
