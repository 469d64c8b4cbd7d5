//! The readings that can be judged, as differences with their spread, and what a change of the load does to them.

use super::Weighed;
use super::compare::part_of;
use crate::model::Placement;
use crate::statics::{StringOnVehicle, string_alone};

/// No reading is taken to be finer than this, in kg.
const LEAST_SPREAD_KG: f64 = 1.0;

/// The readings with a tolerance: read less computed, and how far chance may take that.
pub(super) struct Evidence<'a> {
    /// All readings.
    pub(super) weighed: &'a Weighed,
    /// The readings with a tolerance, as indices into those of `weighed`; all vectors here go with them.
    pub(super) judged: Vec<usize>,
    difference_kg: Vec<f64>,
    /// The standard deviation of each difference.
    spread_kg: Vec<f64>,
    /// By vehicle: its readings, as indices into `judged`.
    of_vehicle: Vec<Vec<usize>>,
}

impl<'a> Evidence<'a> {
    /// The readings of `weighed` that can be judged.
    ///
    /// Half the tolerance is the standard deviation of the scale; where the two assumptions on the body differ, the
    /// truth lies anywhere between them, which adds half their distance over the root of 3 (rectangular law, JCGM
    /// 100:2008, 4.3.7).
    pub(super) fn of(weighed: &'a Weighed) -> Self {
        let with_tolerance = |at: &usize| weighed.readings[*at].tolerance_kg.is_some();
        let judged: Vec<usize> = (0..weighed.readings.len()).filter(with_tolerance).collect();
        let spread = |at: &usize| {
            let reading = &weighed.readings[*at];
            let share = reading.tolerance_kg.unwrap_or_default() / reading.read_kg.max(LEAST_SPREAD_KG);
            // A scale that reads far too little is no finer for that.
            let scale_kg = share * reading.read_kg.max(reading.computed_kg) / 2.0;
            scale_kg.max(LEAST_SPREAD_KG).hypot(reading.body_kg / 3.0_f64.sqrt())
        };
        let mut of_vehicle = vec![Vec::new(); weighed.figures.consist.vehicles.len()];
        for (place, at) in judged.iter().enumerate() {
            of_vehicle[weighed.readings[*at].vehicle].push(place);
        }
        Self {
            difference_kg: judged.iter().map(|at| weighed.readings[*at].difference_kg()).collect(),
            spread_kg: judged.iter().map(spread).collect(),
            weighed,
            judged,
            of_vehicle,
        }
    }

    /// The sum of the squares of all differences, each over its spread.
    pub(super) fn misfit(&self) -> f64 {
        self.difference_kg.iter().zip(&self.spread_kg).map(|(kg, spread)| (kg / spread).powi(2)).sum()
    }

    /// The same once the computed values have changed by `effect_kg`.
    pub(super) fn misfit_after(&self, effect_kg: &[f64]) -> f64 {
        let each = self.difference_kg.iter().zip(effect_kg).zip(&self.spread_kg);
        each.map(|((difference, effect), spread)| ((difference - effect) / spread).powi(2)).sum()
    }

    /// The square of a change's size, each part over its spread.
    pub(super) fn size(&self, effect_kg: &[f64]) -> f64 {
        effect_kg.iter().zip(&self.spread_kg).map(|(kg, spread)| (kg / spread).powi(2)).sum()
    }

    /// The factor on `effect_kg` that leaves the least misfit; 0 for a change that no reading sees.
    pub(super) fn best_factor(&self, effect_kg: &[f64]) -> f64 {
        let each = self.difference_kg.iter().zip(effect_kg).zip(&self.spread_kg);
        let product: f64 =
            each.map(|((difference, effect), spread)| difference * effect / spread.powi(2)).sum();
        let size = self.size(effect_kg);
        if size > 0.0 { product / size } else { 0.0 }
    }

    /// The difference of one reading in kg, by its index into `judged`.
    pub(super) fn difference_kg(&self, place: usize) -> f64 {
        self.difference_kg[place]
    }

    /// What the string of `placement` puts on the parts that were read; none where it cannot lie there.
    pub(super) fn of_string(&self, placement: &Placement) -> Option<Vec<f64>> {
        let figures = &self.weighed.figures;
        let mut effect_kg = vec![0.0; self.judged.len()];
        for on in string_alone(&figures.plan, &figures.consist, placement)? {
            self.add(&on, &mut effect_kg);
        }
        Some(effect_kg)
    }

    /// Adds what something puts on one vehicle to the parts of it that were read.
    pub(super) fn add(&self, on: &StringOnVehicle, effect_kg: &mut [f64]) {
        let axles = self.weighed.figures.consist.vehicles[on.vehicle].axles_per_support;
        for place in &self.of_vehicle[on.vehicle] {
            let part = self.weighed.readings[self.judged[*place]].part;
            effect_kg[*place] += part_of(&on.supports, part, axles).0;
        }
    }

    /// A vector over the judged readings, spread over all readings.
    pub(super) fn over_all(&self, effect_kg: &[f64]) -> Vec<f64> {
        let mut all = vec![0.0; self.weighed.readings.len()];
        for (at, kg) in self.judged.iter().zip(effect_kg) {
            all[*at] = *kg;
        }
        all
    }
}
