//! Everything that the level rigid model says of a plan.

use super::curves::{CurveFigures, CurveScope};
use super::gauge::GaugeFigures;
use super::placed::{modulus_pa, place_all};
use super::springs::SpringCache;
use super::unloading::unloading_of;
use super::vehicle_loads::{Share, shares};
use super::{Consist, Creep, Holding, LoadState, PlacedString, Unloading, VehicleLoads, load_states};
use crate::model::{LimitKind, Plan};
use std::sync::{Arc, OnceLock};

/// Which states to work out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Scope {
    /// All of them.
    All,
    /// One, by index (live previews); clamped to the last.
    One(usize),
}

/// The level rigid figures of a plan.
#[derive(Clone, Debug)]
pub struct Figures {
    /// The plan they belong to.
    pub plan: Arc<Plan>,
    /// The train laid out.
    pub consist: Consist,
    /// One per placement.
    pub placed: Vec<PlacedString>,
    /// All states, whether worked out or not.
    pub states: Vec<LoadState>,
    /// The states worked out, in order.
    pub worked: Vec<StateFigures>,
    /// Worked out when first asked for.
    creep: OnceLock<Creep>,
    /// Worked out when first asked for.
    holding: OnceLock<Option<Holding>>,
    /// Which curve cases [`curves`](Self::curves) works out.
    curve_scope: CurveScope,
    curves: OnceLock<CurveFigures>,
    gauge: OnceLock<GaugeFigures>,
    unloading: OnceLock<Unloading>,
    /// The train on springs, once somebody asked for it.
    pub(super) springs: SpringCache,
}

/// What a placed string puts on the train.
pub(super) struct Carried<'a> {
    /// On each vehicle that it crosses.
    pub(super) shares: &'a [(usize, Share)],
    /// On each rack that it crosses, in kg.
    pub(super) racks_kg: &'a [f64],
}

/// Loads in one state.
#[derive(Clone, Debug, PartialEq)]
pub struct StateFigures {
    /// Index into [`Figures::states`].
    pub state: usize,
    /// One per vehicle.
    pub vehicles: Vec<VehicleLoads>,
    /// One per rack of the consist: load per tier in kg, from the bottom.
    pub rack_tiers_kg: Vec<Vec<f64>>,
    /// Mass of the whole train in kg: tare, and every string on it, also one that its racks cannot carry.
    pub train_kg: f64,
}

impl Figures {
    /// Works out `plan`, which must have no [`problems`](crate::model::problems).
    pub fn of(plan: Arc<Plan>, scope: Scope) -> Self {
        let consist = Consist::of(&plan);
        let placed = place_all(&plan, &consist);
        let states = load_states(&plan);
        let last = states.len().saturating_sub(1);
        let wanted = match scope {
            Scope::All => 0..states.len(),
            Scope::One(state) => state.min(last)..state.min(last) + 1,
        };
        let shares: Vec<_> =
            placed.iter().map(|placed| shares(&plan, &consist, placed, &placed.carried_kg)).collect();
        let mut figures = Self {
            plan,
            consist,
            placed,
            states,
            worked: Vec::new(),
            creep: OnceLock::new(),
            holding: OnceLock::new(),
            curve_scope: CurveScope::All,
            curves: OnceLock::new(),
            gauge: OnceLock::new(),
            unloading: OnceLock::new(),
            springs: SpringCache::default(),
        };
        let carried = figures.placed.iter().zip(&shares);
        let carried: Vec<_> =
            carried.map(|(placed, shares)| Carried { shares, racks_kg: &placed.carried_kg }).collect();
        figures.worked = wanted.map(|state| figures.work_out(state, &carried)).collect();
        figures
    }

    /// The same figures for a live preview, which leaves entry and reverse curves for later.
    #[must_use]
    pub fn live(self) -> Self {
        Self { curve_scope: CurveScope::Steady, curves: OnceLock::new(), ..self }
    }

    /// The strings in the route's curves, worked out when first asked for.
    pub fn curves(&self) -> &CurveFigures {
        self.curves.get_or_init(|| CurveFigures::of(self, self.curve_scope))
    }

    /// The outline of the load against the route's reference line, worked out when first asked for.
    pub fn gauge(&self) -> &GaugeFigures {
        self.gauge.get_or_init(|| GaugeFigures::of(self))
    }

    /// The figures of a state, where it was worked out.
    pub fn state(&self, state: usize) -> Option<&StateFigures> {
        self.worked.iter().find(|figures| figures.state == state)
    }

    /// The value that the plan's limit of `kind` has in a state, by index; none where it is not entered or nobody
    /// accepted it.
    pub fn accepted_limit(&self, kind: LimitKind, state: usize) -> Option<f64> {
        let rule = self.states.get(state)?.rule;
        self.plan.limits.accepted(kind).map(|limit| rule.value_of(limit))
    }

    /// Modulus of elasticity of a string of the order in Pa: its steel's, or 210 GPa without one.
    pub fn modulus_pa(&self, string: usize) -> f64 {
        self.plan.order.get(string).map_or(f64::NAN, |string| modulus_pa(&self.plan, string))
    }

    /// Bending and times of unloading, worked out at the first call; they do not depend on the state.
    pub fn unloading(&self) -> &Unloading {
        self.unloading.get_or_init(|| unloading_of(self))
    }

    /// The creep of every string; worked out when first asked for, whether or not the plan asks for it.
    pub fn creep(&self) -> &Creep {
        self.creep.get_or_init(|| Creep::of(self))
    }

    /// What every hold must take; worked out when first asked for. None where no accelerations are entered.
    pub fn holding(&self) -> Option<&Holding> {
        self.holding.get_or_init(|| Holding::of(self)).as_ref()
    }

    /// Braked weight of all vehicles in kg; none where a type of vehicle in the train has none entered.
    pub fn braked_kg(&self) -> Option<f64> {
        let types = &self.plan.train.vehicle_types;
        self.consist.vehicles.iter().map(|place| types[place.vehicle_type].braked_weight_kg).sum()
    }

    /// The strings on the train in a state, in the order of placements.
    pub fn present(&self, state: usize) -> impl Iterator<Item = &PlacedString> {
        let present = self.states.get(state).map(|state| state.present.as_slice()).unwrap_or_default();
        self.placed.iter().zip(present).filter(|(_, present)| **present).map(|(placed, _)| placed)
    }

    /// Sums a state from scratch in the order of placements, so that it is the same to the last bit whatever
    /// else is worked out; `carried` has an entry for each placed string.
    pub(super) fn work_out(&self, state: usize, carried: &[Carried<'_>]) -> StateFigures {
        let (plan, consist) = (&self.plan, &self.consist);
        let mut loads = vec![Share::NONE; consist.vehicles.len()];
        let mut rack_tiers_kg: Vec<Vec<f64>> = consist
            .racks
            .iter()
            .map(|rack| vec![0.0; plan.train.rack_types[rack.rack_type].tiers.len()])
            .collect();
        let mut strings_kg = 0.0;
        let present = &self.states[state].present;
        let strings = self.placed.iter().zip(carried);
        for (placed, carried) in strings.filter(|(placed, _)| present[placed.placement]) {
            strings_kg += placed.mass_kg;
            for (vehicle, share) in carried.shares {
                loads[*vehicle].add(share);
            }
            let tier = (plan.placements[placed.placement].tier as usize).saturating_sub(1);
            for (rack, carried_kg) in placed.racks.clone().zip(carried.racks_kg) {
                rack_tiers_kg[rack][tier] += carried_kg;
            }
        }
        let vehicles = consist.vehicles.iter().zip(&loads);
        let vehicles: Vec<_> = vehicles
            .map(|(place, load)| {
                let tare_height_mm = plan.train.vehicle_types[place.vehicle_type].tare_cog_height_mm;
                VehicleLoads::of(place, tare_height_mm.map(|mm| mm / 1000.0), load)
            })
            .collect();
        let tare_kg: f64 = consist.vehicles.iter().map(|place| place.tare_kg[0] + place.tare_kg[1]).sum();
        StateFigures { state, vehicles, rack_tiers_kg, train_kg: tare_kg + strings_kg }
    }
}

impl StateFigures {
    /// Load of a rack in kg.
    pub fn rack_kg(&self, rack: usize) -> f64 {
        self.rack_tiers_kg.get(rack).map_or(0.0, |tiers| tiers.iter().sum())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::{drop_off, empty_plan, place};

    fn reference() -> Plan {
        let mut plan = empty_plan(27);
        for tier in 1..=5 {
            for lane in 1..=10 {
                place(&mut plan, &format!("T{tier}L{lane}"), 500_000, (tier, lane, 18_650));
            }
        }
        plan
    }

    #[test]
    fn the_worst_axle_of_the_reference_train_is_23_47_t() {
        // Project reference (mechanics.md 3), computed there with an independent solver: 23.47 t by the exact
        // beam, against 22.80 t by tributary lengths.
        let figures = Figures::of(Arc::new(reference()), Scope::All);
        let worst_kg = figures.worked[0]
            .vehicles
            .iter()
            .flat_map(|vehicle| vehicle.supports)
            .map(|support| support.axle_kg)
            .fold(0.0, f64::max);
        assert!((worst_kg - 23_470.0).abs() < 5.0, "{worst_kg}");
    }

    #[test]
    fn one_state_alone_is_the_same_to_the_last_bit() {
        let mut plan = reference();
        plan.drops.push(drop_off("Eastmoor", &["T5L1", "T5L10", "T4L3"]));
        let plan = Arc::new(plan);
        let all = Figures::of(plan.clone(), Scope::All);
        assert_eq!(all.worked.len(), 5);
        for state in 0..all.states.len() {
            let one = Figures::of(plan.clone(), Scope::One(state));
            assert_eq!(one.worked, [all.worked[state].clone()]);
        }
        assert_eq!(Figures::of(plan, Scope::One(99)).worked[0].state, 4);
    }
}
