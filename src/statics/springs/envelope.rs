//! The lowest and highest loads over low and high spring rates and wagons that stand high or low.

use super::band::raised;
use super::model::Model;
use super::settle::Couplings;
use super::{RateChoice, SpringsMissing};
use crate::statics::{Figures, SupportLoads};
use std::ops::Range;

/// A lowest and a highest load in kg.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LoadRange {
    /// The lowest.
    pub low_kg: f64,
    /// The highest.
    pub high_kg: f64,
}

/// The loads of a support over the envelope.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SupportRange {
    /// On the support.
    pub load: LoadRange,
    /// On each of its axles.
    pub axle: LoadRange,
    /// On the heavier wheel of each axle, of stiff and soft body.
    pub largest_wheel: LoadRange,
    /// At the entered, lowest and highest rates: the loads, and their largest change by wagons that stand 1 m high
    /// or low; none for rates that were not tried.
    pub by_rates: [Option<[SupportLoads; 2]>; 3],
}

/// The envelope of the worked states of `figures`.
pub(super) fn of(figures: &Figures) -> Result<Vec<Vec<[SupportRange; 2]>>, SpringsMissing> {
    let tolerance_m = figures.plan.route.wagon_height_tolerance.map_or(0.0, |tolerance| tolerance.m());
    let vehicles = figures.consist.vehicles.len();
    let mut ranges = vec![vec![[SupportRange::EMPTY; 2]; vehicles]; figures.worked.len()];
    // How strings couple the wagons does not depend on the wagons' springs.
    let mut couplings = Couplings::default();
    let rates = [RateChoice::Entered, RateChoice::Lowest, RateChoice::Highest];
    let types = &figures.plan.train.vehicle_types;
    let enveloped = types.iter().any(|kind| kind.springs.is_some_and(|springs| springs.envelope.is_some()));
    for (tried, rates) in rates.into_iter().take(if enveloped { 3 } else { 1 }).enumerate() {
        let model = Model::new((&figures.plan, &figures.consist), &figures.placed, rates)?;
        let wagons: Vec<Range<usize>> = if tolerance_m > 0.0 {
            model.wagons.iter().map(|wagon| figures.consist.vehicles[wagon.vehicle].racks.clone()).collect()
        } else {
            Vec::new()
        };
        for (ranges, worked) in ranges.iter_mut().zip(&figures.worked) {
            let rest = figures.rest(&model, worked.state, &mut couplings);
            let changes = raised(&model, &rest, &wagons, &mut couplings);
            let loads = figures.spring_state(&model, (worked.state, &rest)).loads;
            for ((range, loads), changes) in ranges.iter_mut().zip(&loads.vehicles).zip(&changes) {
                for ((range, load), change) in range.iter_mut().zip(&loads.supports).zip(changes) {
                    range.include(load, change, tolerance_m);
                    range.by_rates[tried] = Some([*load, *change]);
                }
            }
        }
    }
    Ok(ranges)
}

impl LoadRange {
    const EMPTY: Self = Self { low_kg: f64::INFINITY, high_kg: f64::NEG_INFINITY };

    fn include(&mut self, load_kg: f64, change_kg: f64) {
        self.low_kg = self.low_kg.min(load_kg - change_kg);
        self.high_kg = self.high_kg.max(load_kg + change_kg);
    }
}

impl SupportRange {
    const EMPTY: Self = Self {
        load: LoadRange::EMPTY,
        axle: LoadRange::EMPTY,
        largest_wheel: LoadRange::EMPTY,
        by_rates: [None; 3],
    };

    fn include(&mut self, load: &SupportLoads, change: &SupportLoads, tolerance_m: f64) {
        self.load.include(load.load_kg, change.load_kg * tolerance_m);
        self.axle.include(load.axle_kg, change.axle_kg * tolerance_m);
        let (low_kg, high_kg) = load.wheel_range_kg(change, tolerance_m);
        self.largest_wheel.low_kg = self.largest_wheel.low_kg.min(low_kg);
        self.largest_wheel.high_kg = self.largest_wheel.high_kg.max(high_kg);
    }
}
