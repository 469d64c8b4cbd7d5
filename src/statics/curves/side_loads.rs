//! What all strings of a state together press sideways on racks and wagons in the curves.

use super::{CaseFigures, CurveFigures};
use crate::statics::{Figures, PlacedString, StateFigures};
use crate::units::STANDARD_GRAVITY_M_S2;

/// The largest of something over all cases and places, and the case where it is.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Largest {
    /// Its size.
    pub size: f64,
    /// Index into [`CurveFigures::cases`].
    pub case: usize,
}

impl Largest {
    fn take(&mut self, value: f64, case: usize) {
        if value.abs() > self.size {
            *self = Self { size: value.abs(), case };
        }
    }
}

/// Sideways loads of one vehicle in curves.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct WagonSideLoads {
    /// Net side force of its strings in N.
    pub net_n: Largest,
    /// Moment of those forces about the vertical through its middle in N m.
    pub turning_nm: Largest,
    /// By support, front first: largest share of its wheels' load that one side loses; the worse of a stiff body,
    /// which shares the rolling moment half and half, and a soft one, which passes it by the lever rule.
    /// None where the height of a string on it is not known.
    pub unloading: Option<[Largest; 2]>,
}

/// Sideways loads of a state in curves.
#[derive(Clone, Debug, PartialEq)]
pub struct CurveSideLoads {
    /// Index into [`Figures::states`].
    pub state: usize,
    /// By rack of the consist, the largest sum of the forces of the strings on it in N.
    pub racks_n: Vec<Largest>,
    /// By vehicle.
    pub vehicles: Vec<WagonSideLoads>,
}

/// Sideways inertia of the strings on a rack in N: `lateral_g` times the weight that it carries.
pub fn side_inertia_n(state: &StateFigures, rack: usize, lateral_g: f64) -> f64 {
    state.rack_kg(rack) * STANDARD_GRAVITY_M_S2 * lateral_g
}

/// Share of its wheels' load that one side of a support loses to a rolling moment: 2 M / (b Q), where b is the
/// distance between the wheels' contact points and Q the support's load; without bound where it carries nothing.
pub fn unloading_share(rolling_nm: f64, contact_m: f64, load_kg: f64) -> f64 {
    let load_n = load_kg * STANDARD_GRAVITY_M_S2;
    if rolling_nm == 0.0 {
        0.0
    } else if load_n > 0.0 {
        2.0 * rolling_nm.abs() / (contact_m * load_n)
    } else {
        f64::INFINITY
    }
}

/// The worked states of `figures`, summed up for all cases and places of `curves`.
pub(super) fn sum_up(figures: &Figures, curves: &CurveFigures) -> Vec<CurveSideLoads> {
    let mut loads: Vec<CurveSideLoads> =
        figures.worked.iter().map(|state| CurveSideLoads::none(figures, state)).collect();
    for case in 0..curves.cases.len() {
        let mut sums = Sums::of(figures, curves, case);
        for (state, loads) in figures.worked.iter().zip(&mut loads) {
            sums.bring_to(&figures.states[state.state].present);
            sums.take_largest(state, loads);
        }
    }
    loads
}

impl CurveSideLoads {
    fn none(figures: &Figures, state: &StateFigures) -> Self {
        let mut unknown = vec![false; figures.consist.vehicles.len()];
        for string in figures.present(state.state) {
            for at in string.racks.clone().filter(|rack| height_m(figures, string, *rack).is_none()) {
                unknown[figures.consist.racks[at].vehicle] = true;
            }
        }
        let vehicle = |unknown: &bool| WagonSideLoads {
            unloading: (!unknown).then_some(Default::default()),
            ..WagonSideLoads::default()
        };
        Self {
            state: state.state,
            racks_n: vec![Largest::default(); figures.consist.racks.len()],
            vehicles: unknown.iter().map(vehicle).collect(),
        }
    }
}

/// Height above the rail at which a rack presses a string sideways: its centroid's.
pub fn height_m(figures: &Figures, string: &PlacedString, rack: usize) -> Option<f64> {
    let axis_mm = figures.plan.sections[string.section].neutral_axis_mm?;
    let seat_m = string.seat_m.get(rack.checked_sub(string.racks.start)?)?;
    seat_m.map(|seat_m| seat_m + axis_mm / 1000.0)
}

/// Running sums of one case: the strings of a state, place by place.
struct Sums<'a> {
    figures: &'a Figures,
    curves: &'a CurveFigures,
    case: usize,
    present: Vec<bool>,
    /// Force on a rack in N (of the strings, right positive), and that force times its height: place by place.
    racks: Vec<(f64, f64)>,
    /// By rack, strings in the sums.
    on_rack: Vec<usize>,
    strings_on: usize,
}

impl<'a> Sums<'a> {
    fn of(figures: &'a Figures, curves: &'a CurveFigures, case: usize) -> Self {
        let cells = curves.cases[case].places_m.len() * figures.consist.racks.len();
        let present = vec![false; figures.placed.len()];
        let on_rack = vec![0; figures.consist.racks.len()];
        Self { figures, curves, case, present, racks: vec![(0.0, 0.0); cells], on_rack, strings_on: 0 }
    }

    fn figures_of_case(&self) -> &'a CaseFigures {
        &self.curves.cases[self.case]
    }

    /// Takes strings off the sums and adds others, so that those of `present` are in them.
    fn bring_to(&mut self, present: &[bool]) {
        let figures = self.figures;
        for string in &figures.placed {
            let (is, wanted) = (self.present[string.placement], present[string.placement]);
            if is != wanted {
                self.add(string, if wanted { 1.0 } else { -1.0 });
                self.present[string.placement] = wanted;
                self.strings_on = if wanted { self.strings_on + 1 } else { self.strings_on - 1 };
                for on in &mut self.on_rack[string.racks.clone()] {
                    *on = if wanted { *on + 1 } else { *on - 1 };
                }
            }
        }
        // No rounding of strings that are gone.
        for cells in self.racks.chunks_mut(self.on_rack.len().max(1)) {
            for (cell, on) in cells.iter_mut().zip(&self.on_rack) {
                if *on == 0 {
                    *cell = (0.0, 0.0);
                }
            }
        }
    }

    fn add(&mut self, string: &PlacedString, times: f64) {
        let Some(class) = self.curves.class(string.placement) else { return };
        let all = self.figures.consist.racks.len();
        let heights_m: Vec<f64> = string
            .racks
            .clone()
            .map(|rack| height_m(self.figures, string, rack).unwrap_or_default())
            .collect();
        let forces_n = self.figures_of_case().forces_n[class].chunks(string.racks.len());
        for (forces_n, sums) in forces_n.zip(self.racks.chunks_mut(all)) {
            let sums = sums[string.racks.clone()].iter_mut();
            for ((force_n, height_m), sum) in forces_n.iter().zip(&heights_m).zip(sums) {
                sum.0 += times * force_n;
                sum.1 += times * force_n * height_m;
            }
        }
    }

    fn take_largest(&self, state: &StateFigures, loads: &mut CurveSideLoads) {
        if self.strings_on == 0 {
            return;
        }
        let consist = &self.figures.consist;
        for sums in self.racks.chunks(consist.racks.len().max(1)) {
            for (largest, (force_n, _)) in loads.racks_n.iter_mut().zip(sums) {
                largest.take(*force_n, self.case);
            }
            for (place, (vehicle, largest)) in
                consist.vehicles.iter().zip(state.vehicles.iter().zip(&mut loads.vehicles))
            {
                let (mut net_n, mut turning_nm, mut rolling_nm, mut rear_nm) = (0.0, 0.0, 0.0, 0.0);
                for (rack, (force_n, moment_nm)) in
                    consist.racks[place.racks.clone()].iter().zip(&sums[place.racks.clone()])
                {
                    net_n += force_n;
                    turning_nm += force_n * rack.from_middle_m;
                    rolling_nm += moment_nm;
                    rear_nm += moment_nm * (0.5 + rack.from_middle_m / place.support_distance_m);
                }
                largest.net_n.take(net_n, self.case);
                largest.turning_nm.take(turning_nm, self.case);
                let Some(unloading) = &mut largest.unloading else { continue };
                for (support, soft_nm) in [rolling_nm - rear_nm, rear_nm].into_iter().enumerate() {
                    let worse_nm = f64::max(soft_nm.abs(), rolling_nm.abs() / 2.0);
                    let load_kg = vehicle.supports[support].load_kg;
                    unloading[support].take(unloading_share(worse_nm, place.contact_m, load_kg), self.case);
                }
            }
        }
    }
}
