//! The train on springs, beside the level rigid model: wagons that heave, pitch and roll under the strings that
//! couple them.
//!
//! Each vehicle under a string moves by heave z (up), pitch theta (rear end up), roll phi (right side up) and,
//! where its frame bends, by psi at its middle; its springs push back. A rack stands at
//! `z + xi theta + y phi + b psi + offset`, heights measured on the empty train, so that the tare moves nothing.
//! Contact is one-sided, string by string. Springs are linear, and those of both supports share a roll
//! equally; the sideways moment goes to the wheels by the same two assumptions as in the level model.

mod band;
mod bed;
mod coupling;
mod envelope;
mod model;
mod settle;
mod skyline;
mod spine;
#[cfg(test)]
mod tests;

pub use envelope::{LoadRange, SupportRange};

use super::figures::Carried;
use super::vehicle_loads::shares;
use super::{Figures, StateFigures, SupportLoads};
use crate::units::STANDARD_GRAVITY_M_S2;
use model::Model;
use settle::{Couplings, Rest};
use std::sync::OnceLock;

/// Which spring rates to go by.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum RateChoice {
    /// As entered.
    Entered,
    /// The lowest of the envelope, on every vehicle that has one.
    Lowest,
    /// The highest of the envelope.
    Highest,
}

/// Vehicles bear strings whose type has no spring rates.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SpringsMissing {
    /// Indices into `plan.train.vehicle_types`, growing.
    pub vehicle_types: Vec<usize>,
}

/// The train on springs.
#[derive(Clone, Debug, PartialEq)]
pub struct SpringFigures {
    /// One for each of [`Figures::worked`].
    pub states: Vec<SpringState>,
}

/// The train on springs in one state.
#[derive(Clone, Debug, PartialEq)]
pub struct SpringState {
    /// The loads, as the level model gives them.
    pub loads: StateFigures,
    /// By vehicle: how it moved from where it stands empty.
    pub moved: Vec<Moved>,
    /// The strings on the train that lie on racks, in the order of placements.
    pub strings: Vec<StringOnSprings>,
    /// Steps that it took to find the contact; one where it is that of level racks.
    pub steps: usize,
    /// Whether forces balance; the figures of a state that is not at rest mean nothing.
    pub at_rest: bool,
}

/// How a vehicle moved under its strings.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Moved {
    /// Its middle in m, up positive.
    pub heave_m: f64,
    /// Its slope, rear end up positive.
    pub pitch_rad: f64,
    /// Its tilt, right side up positive.
    pub roll_rad: f64,
    /// The middle of its frame against the line over its supports in m, up positive.
    pub frame_m: f64,
}

/// A string on the train on springs.
#[derive(Clone, Debug, PartialEq)]
pub struct StringOnSprings {
    /// Index into [`Figures::placed`].
    pub placed: usize,
    /// Reaction at each rack that it crosses in N, zero where it lifts off.
    pub reactions_n: Vec<f64>,
    /// Whether each rack carries.
    pub carries: Vec<bool>,
}

type Cached<T> = OnceLock<Result<T, SpringsMissing>>;

/// What was worked out on springs, once each.
#[derive(Clone, Debug, Default)]
pub(super) struct SpringCache {
    figures: Cached<SpringFigures>,
    envelope: Cached<Vec<Vec<[SupportRange; 2]>>>,
    bands: Cached<Vec<Vec<[SupportLoads; 2]>>>,
}

impl Figures {
    /// The worked states on springs; worked out when first asked for.
    ///
    /// # Errors
    /// [`SpringsMissing`] where a vehicle that a placed string crosses, in whatever state, has no springs.
    pub fn springs(&self) -> Result<&SpringFigures, &SpringsMissing> {
        let found = self.springs.figures.get_or_init(|| {
            let model = Model::new((&self.plan, &self.consist), &self.placed, RateChoice::Entered)?;
            let mut couplings = Couplings::default();
            let states = self.worked.iter().map(|worked| {
                let rest = self.rest(&model, worked.state, &mut couplings);
                self.spring_state(&model, (worked.state, &rest))
            });
            Ok(SpringFigures { states: states.collect() })
        });
        found.as_ref()
    }

    /// The lowest and highest loads over the envelope of spring rates and the wagon height tolerance.
    ///
    /// By worked state, vehicle and support. All rates are as entered, all lowest, all highest; to each the
    /// tolerance comes by linear sensitivity, every wagon high or low as it does most. Worked out when first
    /// asked for.
    ///
    /// # Errors
    /// As [`Figures::springs`].
    pub fn spring_envelope(&self) -> Result<&[Vec<[SupportRange; 2]>], &SpringsMissing> {
        self.springs.envelope.get_or_init(|| envelope::of(self)).as_deref()
    }

    /// Half the width of the tolerance band of each load, by worked state, vehicle and support: what the rack
    /// height tolerance (on springs) and the mass tolerance (level) can do at most, by linear sensitivity.
    ///
    /// A tolerance that is not entered adds nothing. Worked out when first asked for.
    ///
    /// # Errors
    /// As [`Figures::springs`], where a rack height tolerance is entered.
    pub fn tolerance_bands(&self) -> Result<&[Vec<[SupportLoads; 2]>], &SpringsMissing> {
        self.springs.bands.get_or_init(|| band::of(self)).as_deref()
    }

    /// The part of [`Figures::tolerance_bands`] that the mass tolerance makes.
    pub fn mass_tolerance_bands(&self) -> Vec<Vec<[SupportLoads; 2]>> {
        band::mass_bands(self)
    }

    /// The train at rest in a state.
    fn rest(&self, model: &Model<'_>, state: usize, couplings: &mut Couplings) -> Rest {
        let mut counts = vec![0.0; model.strands.len()];
        for (placed, strand) in self.placed.iter().zip(&model.strand_of) {
            if let Some(strand) = strand
                && self.states[state].present[placed.placement]
            {
                counts[*strand] += 1.0;
            }
        }
        model.settle(counts, couplings)
    }

    fn spring_state(&self, model: &Model<'_>, (state, rest): (usize, &Rest)) -> SpringState {
        let mut strings = Vec::new();
        let mut loads: Vec<(Vec<_>, Vec<f64>)> = Vec::with_capacity(self.placed.len());
        for (index, (placed, strand)) in self.placed.iter().zip(&model.strand_of).enumerate() {
            let lying = strand.and_then(|strand| rest.lying[strand].as_ref());
            let lying = lying.filter(|_| self.states[state].present[placed.placement]);
            let Some(lying) = lying else {
                loads.push((Vec::new(), Vec::new()));
                continue;
            };
            let mut reactions_n = vec![0.0; placed.racks.len()];
            let mut carries = vec![false; placed.racks.len()];
            for (support, reaction_n) in lying.on.iter().zip(&lying.reactions_n) {
                reactions_n[*support] = *reaction_n;
                carries[*support] = true;
            }
            let racks_kg: Vec<f64> = reactions_n.iter().map(|n| n / STANDARD_GRAVITY_M_S2).collect();
            loads.push((shares(&self.plan, &self.consist, placed, &racks_kg), racks_kg));
            strings.push(StringOnSprings { placed: index, reactions_n, carries });
        }
        let carried: Vec<_> = loads.iter().map(|(shares, racks_kg)| Carried { shares, racks_kg }).collect();
        SpringState {
            loads: self.work_out(state, &carried),
            moved: model.moved(&rest.moved),
            strings,
            steps: rest.steps,
            at_rest: rest.at_rest,
        }
    }
}

impl Model<'_> {
    fn moved(&self, unknowns: &[f64]) -> Vec<Moved> {
        let mut moved = vec![Moved::default(); self.consist.vehicles.len()];
        for wagon in &self.wagons {
            let own = &unknowns[wagon.first..wagon.first + wagon.unknowns()];
            moved[wagon.vehicle] = Moved {
                heave_m: own[0],
                pitch_rad: own[1],
                roll_rad: own[2],
                frame_m: own.get(3).copied().unwrap_or(0.0),
            };
        }
        moved
    }
}
