//! The figures of a plan as JSON; `JSON.md` describes every field.

use super::LEVEL_RIGID;
use super::figures_text::trouble_words;
use super::json_common::{
    JsonError, RackName, Rows, StateHead, end_word, kind_word, print, print_to, string_mark, vehicle_mark,
};
use super::json_holding::{CreepRow, HoldingRow, HoldingWagonRow, braked_weight_share};
use super::json_loaded::LoadBlock;
use super::json_springs::{SpringsBlock, TolerancesBlock};
use super::json_track::{CantBlock, CurvesBlock, GaugeBlock};
use super::json_unloading::UnloadingRows;
use super::records::Records;
use crate::statics::{
    BeamFigures, Figures, PlacedString, SideLoads, StateFigures, SupportLoads, VehicleLoads, VehiclePlace,
};
use crate::units::STANDARD_GRAVITY_M_S2;
use serde::Serialize;
use std::io;

/// The figures of a plan as one JSON object; `label` says which plan, as its reader knows it.
///
/// Values are SI with loads of vehicles in kg, at full precision; a ratio without bound is null.
///
/// # Errors
/// [`JsonError`] where the text cannot be written.
pub fn figures_json(label: &str, figures: &Figures) -> Result<String, JsonError> {
    figures_json_with(label, figures, &Records::default())
}

/// The same, telling which load the figures are of.
///
/// # Errors
/// As [`figures_json`].
pub fn figures_json_with(label: &str, figures: &Figures, records: &Records) -> Result<String, JsonError> {
    print(&document(label, figures, records))
}

/// The same, written piece by piece: for a long train with many states it may be larger than the machine's memory.
///
/// # Errors
/// [`JsonError`] where `out` fails.
pub fn write_figures_json(
    out: &mut dyn io::Write,
    label: &str,
    (figures, records): (&Figures, &Records),
) -> Result<(), JsonError> {
    print_to(out, &document(label, figures, records))
}

fn document<'a>(label: &'a str, figures: &'a Figures, records: &'a Records) -> impl Serialize + 'a {
    FiguresDocument {
        shape: "longstow figures 1",
        file: label,
        title: &figures.plan.title,
        model: LEVEL_RIGID,
        load: records.load.as_ref().map(LoadBlock::of),
        gravity_m_per_s2: STANDARD_GRAVITY_M_S2,
        train: TrainRow::of(figures),
        strings: Rows(move || figures.placed.iter().map(move |placed| StringRow::of(figures, placed))),
        states: Rows(move || figures.worked.iter().filter_map(move |worked| StateRow::of(figures, worked))),
        springs: SpringsBlock::of(figures),
        tolerances: TolerancesBlock::of(figures),
        curves: CurvesBlock::of(figures),
        gauge: GaugeBlock::of(figures),
        cant: CantBlock::of(figures),
        unloading: UnloadingRows::of(figures),
    }
}

#[derive(Serialize)]
struct FiguresDocument<'a, Strings, States> {
    shape: &'static str,
    file: &'a str,
    title: &'a str,
    model: &'static str,
    load: Option<LoadBlock>,
    gravity_m_per_s2: f64,
    train: TrainRow,
    strings: Strings,
    states: States,
    springs: Option<SpringsBlock>,
    tolerances: Option<TolerancesBlock>,
    curves: Option<CurvesBlock>,
    gauge: Option<GaugeBlock>,
    cant: Option<CantBlock>,
    unloading: Option<UnloadingRows>,
}

#[derive(Serialize)]
struct TrainRow {
    length_m: f64,
    vehicles: Vec<VehicleRow>,
    racks: Vec<RackRow>,
}

#[derive(Serialize)]
struct VehicleRow {
    vehicle: String,
    #[serde(rename = "type")]
    vehicle_type: String,
    kind: &'static str,
    turned: bool,
    front_m: f64,
    rear_m: f64,
    support_distance_m: f64,
    axles_per_support: u32,
    axles_m: Vec<f64>,
    contact_m: f64,
    tare_front_kg: f64,
    tare_rear_kg: f64,
    tare_y_m: f64,
}

#[derive(Serialize)]
struct RackRow {
    #[serde(flatten)]
    name: RackName,
    #[serde(rename = "type")]
    rack_type: String,
    x_m: f64,
    from_middle_m: f64,
    lanes_y_m: Vec<f64>,
}

impl TrainRow {
    fn of(figures: &Figures) -> Self {
        let plan = &figures.plan;
        let racks = figures.consist.racks.iter().map(|place| RackRow {
            name: RackName::new(plan, place.vehicle, place.number),
            rack_type: plan
                .train
                .rack_types
                .get(place.rack_type)
                .map(|t| t.name.to_string())
                .unwrap_or_default(),
            x_m: place.x.m(),
            from_middle_m: place.from_middle_m,
            lanes_y_m: place.lanes_y_m.clone(),
        });
        Self {
            length_m: figures.consist.length.m(),
            vehicles: figures.consist.vehicles.iter().map(|place| VehicleRow::of(figures, place)).collect(),
            racks: racks.collect(),
        }
    }
}

impl VehicleRow {
    fn of(figures: &Figures, place: &VehiclePlace) -> Self {
        let train = &figures.plan.train;
        let kind = train.vehicle_types.get(place.vehicle_type);
        Self {
            vehicle: vehicle_mark(&figures.plan, place.vehicle),
            vehicle_type: kind.map(|kind| kind.name.to_string()).unwrap_or_default(),
            kind: kind_word(place.kind),
            turned: train.vehicles.get(place.vehicle).is_some_and(|vehicle| vehicle.turned),
            front_m: place.front.m(),
            rear_m: place.rear.m(),
            support_distance_m: place.support_distance_m,
            axles_per_support: place.axles_per_support,
            axles_m: place.axles_m.clone(),
            contact_m: place.contact_m,
            tare_front_kg: place.tare_kg[0],
            tare_rear_kg: place.tare_kg[1],
            tare_y_m: place.tare_y_m,
        }
    }
}

#[derive(Serialize)]
struct StringRow {
    string: String,
    section: String,
    tier: Option<u32>,
    lane: Option<u32>,
    front_m: f64,
    rear_m: f64,
    length_m: f64,
    mass_kg: f64,
    computed_mass_kg: f64,
    held_at: Vec<HoldRow>,
    trouble: Option<String>,
    front_overhang_m: Option<f64>,
    rear_overhang_m: Option<f64>,
    front_tip_m: Option<f64>,
    rear_tip_m: Option<f64>,
    racks: Vec<CrossedRack>,
    spans: Vec<SpanRow>,
    creep: Option<CreepRow>,
    holding: Option<HoldingRow>,
}

#[derive(Serialize)]
struct HoldRow {
    vehicle: String,
    rack: u32,
}

#[derive(Serialize)]
struct CrossedRack {
    #[serde(flatten)]
    name: Option<RackName>,
    x_m: Option<f64>,
    y_m: Option<f64>,
    seat_m: Option<f64>,
    carries: Option<bool>,
    reaction_n: Option<f64>,
    carried_kg: Option<f64>,
    moment_nm: Option<f64>,
}

#[derive(Serialize)]
struct SpanRow {
    from: Option<RackName>,
    to: Option<RackName>,
    length_m: f64,
    largest_moment_nm: f64,
    sag_m: f64,
}

impl StringRow {
    fn of(figures: &Figures, placed: &PlacedString) -> Self {
        let plan = &figures.plan;
        let placement = plan.placements.get(placed.placement);
        let beam = placed.beam.as_ref().ok();
        let holds = placement.into_iter().flat_map(|placement| &placement.holds);
        Self {
            string: string_mark(plan, placed.string),
            section: plan.sections.get(placed.section).map(|s| s.name.to_string()).unwrap_or_default(),
            tier: placement.map(|placement| placement.tier),
            lane: placement.map(|placement| placement.lane),
            front_m: placed.front.m(),
            rear_m: placed.rear.m(),
            length_m: (placed.rear - placed.front).m(),
            mass_kg: placed.mass_kg,
            computed_mass_kg: placed.computed_mass_kg,
            held_at: holds
                .map(|hold| HoldRow { vehicle: hold.vehicle.to_string(), rack: hold.rack })
                .collect(),
            trouble: placed.beam.as_ref().err().map(|trouble| trouble_words(figures, *trouble)),
            front_overhang_m: beam.map(|beam| beam.front_overhang_m),
            rear_overhang_m: beam.map(|beam| beam.rear_overhang_m),
            front_tip_m: beam.map(|beam| beam.front_tip_m),
            rear_tip_m: beam.map(|beam| beam.rear_tip_m),
            racks: placed.racks.clone().enumerate().map(|at| CrossedRack::of(figures, placed, at)).collect(),
            spans: beam.map(|beam| spans(figures, placed, beam)).unwrap_or_default(),
            creep: CreepRow::of(figures, placed),
            holding: HoldingRow::of(figures, placed),
        }
    }
}

impl CrossedRack {
    /// The string at one of its racks: (its number among those crossed, its index in the consist).
    fn of(figures: &Figures, placed: &PlacedString, (nth, rack): (usize, usize)) -> Self {
        let beam = placed.beam.as_ref().ok();
        Self {
            name: RackName::of(figures, rack),
            x_m: figures.consist.racks.get(rack).map(|place| place.x.m()),
            y_m: placed.y_m.get(nth).copied(),
            seat_m: placed.seat_m.get(nth).copied().flatten(),
            carries: beam.and_then(|beam| beam.carries.get(nth)).copied(),
            reaction_n: beam.and_then(|beam| beam.reactions_n.get(nth)).copied(),
            carried_kg: placed.carried_kg.get(nth).copied(),
            moment_nm: beam.and_then(|beam| beam.moments_nm.get(nth)).copied(),
        }
    }
}

fn spans(figures: &Figures, placed: &PlacedString, beam: &BeamFigures) -> Vec<SpanRow> {
    let name = |nth: usize| RackName::of(figures, placed.racks.start + nth);
    let rows = beam.spans.iter().map(|span| SpanRow {
        from: name(span.from),
        to: name(span.to),
        length_m: span.length_m,
        largest_moment_nm: span.largest_moment_nm,
        sag_m: span.sag_m,
    });
    rows.collect()
}

#[derive(Serialize)]
struct StateRow {
    #[serde(flatten)]
    head: StateHead,
    train_kg: f64,
    braked_weight_share: Option<f64>,
    holding_wagons: Option<Vec<HoldingWagonRow>>,
    vehicles: Vec<LoadedVehicle>,
    racks: Vec<LoadedRack>,
}

#[derive(Serialize)]
struct LoadedVehicle {
    vehicle: String,
    payload_kg: f64,
    gross_kg: f64,
    mass_per_metre_kg_per_m: f64,
    support_ratio: f64,
    centre_height_m: Option<f64>,
    centre_y_m: f64,
    supports: Vec<SupportRow>,
    axles: Vec<AxleRow>,
}

#[derive(Serialize)]
struct SupportRow {
    support: &'static str,
    load_kg: f64,
    axle_kg: f64,
    wheel_ratio: f64,
    largest_wheel_kg: f64,
}

#[derive(Serialize)]
struct AxleRow {
    axle: usize,
    support: &'static str,
    x_m: f64,
    load_kg: f64,
    stiff: Wheels,
    soft: Wheels,
}

#[derive(Serialize)]
struct Wheels {
    left_kg: f64,
    right_kg: f64,
    ratio: f64,
}

#[derive(Serialize)]
struct LoadedRack {
    #[serde(flatten)]
    name: RackName,
    tiers_kg: Vec<f64>,
    total_kg: f64,
}

impl StateRow {
    fn of(figures: &Figures, worked: &StateFigures) -> Option<Self> {
        let state = figures.states.get(worked.state)?;
        let places = figures.consist.vehicles.iter().zip(&worked.vehicles);
        let racks = figures.consist.racks.iter().zip(&worked.rack_tiers_kg).enumerate();
        Some(Self {
            head: StateHead::of(figures, worked.state, state),
            train_kg: worked.train_kg,
            braked_weight_share: braked_weight_share(figures, worked),
            holding_wagons: HoldingWagonRow::all(figures, worked.state),
            vehicles: places.map(|(place, loads)| LoadedVehicle::of(figures, place, loads)).collect(),
            racks: racks
                .map(|(rack, (place, tiers))| LoadedRack {
                    name: RackName::new(&figures.plan, place.vehicle, place.number),
                    tiers_kg: tiers.clone(),
                    total_kg: worked.rack_kg(rack),
                })
                .collect(),
        })
    }
}

impl LoadedVehicle {
    fn of(figures: &Figures, place: &VehiclePlace, loads: &VehicleLoads) -> Self {
        let per_support = place.axles_per_support.max(1) as usize;
        let axles = place.axles_m.iter().enumerate().filter_map(|(axle, x_m)| {
            let support = axle / per_support;
            loads.supports.get(support).map(|loads| AxleRow::of(axle, support, *x_m, loads))
        });
        Self {
            vehicle: vehicle_mark(&figures.plan, place.vehicle),
            payload_kg: loads.payload_kg,
            gross_kg: loads.gross_kg,
            mass_per_metre_kg_per_m: loads.mass_per_metre_kg,
            support_ratio: loads.support_ratio(),
            centre_height_m: loads.centre_height_m,
            centre_y_m: loads.centre_y_m,
            supports: loads.supports.iter().enumerate().map(SupportRow::of).collect(),
            axles: axles.collect(),
        }
    }
}

impl SupportRow {
    fn of((support, loads): (usize, &SupportLoads)) -> Self {
        Self {
            support: end_word(support),
            load_kg: loads.load_kg,
            axle_kg: loads.axle_kg,
            wheel_ratio: loads.worse_ratio(),
            largest_wheel_kg: loads.largest_wheel_kg(),
        }
    }
}

impl AxleRow {
    fn of(axle: usize, support: usize, x_m: f64, loads: &SupportLoads) -> Self {
        Self {
            axle: axle + 1,
            support: end_word(support),
            x_m,
            load_kg: loads.axle_kg,
            stiff: loads.stiff.into(),
            soft: loads.soft.into(),
        }
    }
}

impl From<SideLoads> for Wheels {
    fn from(loads: SideLoads) -> Self {
        Self { left_kg: loads.left_kg, right_kg: loads.right_kg, ratio: loads.ratio() }
    }
}
