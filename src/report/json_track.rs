//! Curves, gauge and cant as JSON; `JSON.md` describes every field.

use super::json_common::{RackName, end_word, string_mark, vehicle_mark};
use crate::model::{Topic, TrainEnd};
use crate::statics::cant::{CantCase, Leaning};
use crate::statics::curves::{
    CurveCase, CurveFigures, CurveKind, CurveSideLoads, EndSwing, Largest, Turn, side_inertia_n,
};
use crate::statics::gauge::{Outline, OutlineAt, tilt_of};
use crate::statics::{Figures, PlacedString, StateFigures, StateRule};
use serde::Serialize;

fn asked(figures: &Figures, topic: Topic) -> bool {
    figures.plan.route.asked.contains(&topic)
}

/// The strings in the route's curves.
#[derive(Serialize)]
pub(super) struct CurvesBlock {
    pending: bool,
    cases: Vec<CaseRow>,
    strings: Vec<StringRow>,
    states: Vec<StateRow>,
}

impl CurvesBlock {
    /// None where the plan does not ask for curves.
    pub(super) fn of(figures: &Figures) -> Option<Self> {
        asked(figures, Topic::Curves).then(|| {
            let curves = figures.curves();
            let states = figures.worked.iter().zip(&curves.side_loads);
            Self {
                pending: curves.pending,
                cases: curves.cases.iter().map(|case| CaseRow::of(&case.case)).collect(),
                strings: figures.placed.iter().map(|string| StringRow::of(figures, string)).collect(),
                states: states.map(|(state, loads)| StateRow::of(figures, state, loads)).collect(),
            }
        })
    }
}

#[derive(Serialize)]
struct CaseRow {
    curve: Option<usize>,
    part: &'static str,
    inside: &'static str,
    radius_m: f64,
    between_m: f64,
    arc_m: Option<f64>,
}

impl CaseRow {
    fn of(case: &CurveCase) -> Self {
        Self {
            curve: case.curve.map(|curve| curve + 1),
            part: match case.kind {
                CurveKind::Steady => "all",
                CurveKind::FrontIn => "front",
                CurveKind::RearIn => "rear",
                CurveKind::Through => "passing",
                CurveKind::Reverse => "reverse",
            },
            inside: match case.turn {
                Turn::Right => "right",
                Turn::Left => "left",
            },
            radius_m: case.radius_m,
            between_m: case.between_m,
            arc_m: case.arc_m,
        }
    }
}

#[derive(Serialize)]
struct StringRow {
    string: String,
    moment_nm: Option<f64>,
    worst_case: Option<usize>,
    worst_rack: Option<RackName>,
    ends: Vec<EndRow>,
}

#[derive(Serialize)]
struct EndRow {
    end: &'static str,
    case: usize,
    from_track_m: f64,
    from_deck_m: f64,
}

impl StringRow {
    fn of(figures: &Figures, string: &PlacedString) -> Self {
        let curves = figures.curves();
        let worst = curves.class(string.placement).and_then(|class| curves.worst_peak(class));
        let ends = (0..2).flat_map(|end| EndRow::all(curves, string.placement, end));
        Self {
            string: string_mark(&figures.plan, string.string),
            moment_nm: worst.map(|worst| worst.peak.moment_nm),
            worst_case: worst.map(|worst| worst.case),
            worst_rack: worst.and_then(|worst| RackName::of(figures, worst.peak.rack)),
            ends: ends.collect(),
        }
    }
}

impl EndRow {
    /// The swing of one end in each case.
    fn all(curves: &CurveFigures, placement: usize, end: usize) -> Vec<Self> {
        let cases = curves.cases.iter().enumerate();
        let swings =
            cases.filter_map(|(case, figures)| Some((case, (*figures.swings.get(placement)?)?[end])));
        let row = |(case, EndSwing { from_track_m, from_deck_m })| Self {
            end: end_word(end),
            case,
            from_track_m,
            from_deck_m,
        };
        swings.map(row).collect()
    }
}

#[derive(Serialize)]
struct StateRow {
    state: usize,
    racks: Vec<RackRow>,
    vehicles: Vec<VehicleRow>,
}

#[derive(Serialize)]
struct RackRow {
    #[serde(flatten)]
    name: Option<RackName>,
    curve_n: f64,
    worst_case: usize,
    inertia_n: Option<f64>,
}

#[derive(Serialize)]
struct VehicleRow {
    vehicle: String,
    net_side_n: f64,
    turning_nm: f64,
    front_unloading_share: Option<f64>,
    rear_unloading_share: Option<f64>,
}

impl StateRow {
    fn of(figures: &Figures, state: &StateFigures, loads: &CurveSideLoads) -> Self {
        let lateral_g = figures.plan.route.accelerations.as_ref().map(|set| set.lateral_g);
        let rack = |(rack, largest): (usize, &Largest)| RackRow {
            name: RackName::of(figures, rack),
            curve_n: largest.size,
            worst_case: largest.case,
            inertia_n: lateral_g.map(|lateral_g| side_inertia_n(state, rack, lateral_g)),
        };
        let vehicles = loads.vehicles.iter().enumerate().map(|(vehicle, wagon)| VehicleRow {
            vehicle: vehicle_mark(&figures.plan, vehicle),
            net_side_n: wagon.net_n.size,
            turning_nm: wagon.turning_nm.size,
            front_unloading_share: wagon.unloading.map(|unloading| unloading[0].size),
            rear_unloading_share: wagon.unloading.map(|unloading| unloading[1].size),
        });
        Self {
            state: state.state,
            racks: loads.racks_n.iter().enumerate().map(rack).collect(),
            vehicles: vehicles.collect(),
        }
    }
}

/// The outline of the load.
#[derive(Serialize)]
pub(super) struct GaugeBlock {
    line: Option<String>,
    sections: Vec<OutlineRow>,
}

#[derive(Serialize)]
struct OutlineRow {
    string: String,
    end: Option<&'static str>,
    #[serde(flatten)]
    rack: Option<RackName>,
    y_m: f64,
    beside_m: f64,
    worst_radius_m: Option<f64>,
    reach_m: Option<f64>,
    line_m: Option<f64>,
    height_m: Option<f64>,
}

impl GaugeBlock {
    /// None where the plan does not ask for the gauge.
    pub(super) fn of(figures: &Figures) -> Option<Self> {
        asked(figures, Topic::Gauge).then(|| Self {
            line: figures.plan.route.gauge.as_ref().map(|line| line.name.clone()),
            sections: figures
                .gauge()
                .outlines
                .iter()
                .map(|outline| OutlineRow::of(figures, outline))
                .collect(),
        })
    }
}

impl OutlineRow {
    fn of(figures: &Figures, outline: &Outline) -> Self {
        let string = &figures.placed[outline.placement];
        let (end, rack) = match outline.at {
            OutlineAt::Rack(rack) => (None, rack),
            OutlineAt::End(TrainEnd::Front) => (Some("front"), string.racks.start),
            OutlineAt::End(TrainEnd::Rear) => (Some("rear"), string.racks.end.saturating_sub(1)),
        };
        // Where the body leans, in the state where least is left.
        // Half-done pairs that are only noted are left out, as the check judges without them.
        let on = |state: &&StateFigures| {
            let of = &figures.states[state.state];
            of.rule != StateRule::NoteOnly && of.present[outline.placement]
        };
        let leaning =
            figures.worked.iter().filter(on).filter_map(|state| tilt_of(figures, state, outline.vehicle));
        let reaches = leaning.filter_map(|(tilt_rad, springs_m)| outline.reach(tilt_rad, springs_m));
        let worst = reaches.min_by(|a, b| (a.line_m - a.reach_m).total_cmp(&(b.line_m - b.reach_m)));
        let worst = worst.or_else(|| outline.reach(0.0, 0.0));
        Self {
            string: string_mark(&figures.plan, string.string),
            end,
            rack: RackName::of(figures, rack),
            y_m: outline.y_m,
            beside_m: outline.beside_m,
            worst_radius_m: outline.curve.and_then(|at| Some(figures.gauge().curves.get(at)?.radius_m)),
            reach_m: worst.map(|reach| reach.reach_m),
            line_m: worst.map(|reach| reach.line_m),
            height_m: worst.map(|reach| reach.height_m),
        }
    }
}

/// Wheel unloading on cant.
#[derive(Serialize)]
pub(super) struct CantBlock {
    states: Vec<CantState>,
}

#[derive(Serialize)]
struct CantState {
    state: usize,
    vehicles: Vec<CantVehicle>,
}

#[derive(Serialize)]
struct CantVehicle {
    vehicle: String,
    height_m: f64,
    offset_m: f64,
    roll_s: Option<f64>,
    roll_missing: Option<&'static str>,
    cases: Vec<CantRow>,
}

#[derive(Serialize)]
struct CantRow {
    case: &'static str,
    curve: Option<usize>,
    side_g: f64,
    rigid_unloading_share: f64,
    sprung_unloading_share: Option<f64>,
    rigid_overturning_g: f64,
    sprung_overturning_g: Option<f64>,
}

impl CantBlock {
    /// None where the plan does not ask for cant.
    pub(super) fn of(figures: &Figures) -> Option<Self> {
        asked(figures, Topic::Cant).then(|| {
            let cases = CantCase::of(&figures.plan.route);
            let states = figures.worked.iter().map(|state| CantState::of(figures, state, &cases));
            Self { states: states.collect() }
        })
    }
}

impl CantState {
    fn of(figures: &Figures, state: &StateFigures, cases: &[CantCase]) -> Self {
        let travels = figures.states[state.state].rule == StateRule::Running;
        let vehicle = |vehicle: usize| {
            let lean = Leaning::of(figures, state, vehicle)?;
            let cases = cases.iter().filter(|case| travels || case.stands());
            Some(CantVehicle {
                vehicle: vehicle_mark(&figures.plan, vehicle),
                height_m: lean.height_m,
                offset_m: lean.offset_m,
                roll_s: lean.roll.ok(),
                roll_missing: lean.roll.err().map(|gap| gap.words()),
                cases: cases.map(|case| CantRow::of(&lean, case)).collect(),
            })
        };
        let vehicles = (0..figures.consist.vehicles.len()).filter_map(vehicle);
        Self { state: state.state, vehicles: vehicles.collect() }
    }
}

impl CantRow {
    fn of(lean: &Leaning, case: &CantCase) -> Self {
        let side_g = case.side_g(lean.contact_m);
        let (name, curve) = match case {
            CantCase::Standing { .. } => ("standing", None),
            CantCase::AtSpeed { curve, .. } => ("at speed", Some(curve + 1)),
            CantCase::Deficiency { .. } => ("cant deficiency", None),
        };
        let sprung = lean.roll.ok();
        Self {
            case: name,
            curve,
            side_g,
            rigid_unloading_share: lean.unloading(side_g, 0.0),
            sprung_unloading_share: sprung.map(|s| lean.unloading(side_g, s)),
            rigid_overturning_g: lean.overturning_g(0.0),
            sprung_overturning_g: sprung.map(|s| lean.overturning_g(s)),
        }
    }
}
