//! Everything that the level rigid model says of a plan.

use super::{Consist, LoadState, PlacedString, VehicleLoads};
use crate::model::Plan;
use std::sync::Arc;

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
    /// Mass of the whole train in kg.
    pub train_kg: f64,
}

impl Figures {
    /// Works out `plan`, which must have no [`problems`](crate::model::problems).
    pub fn of(plan: Arc<Plan>, _scope: Scope) -> Self {
        let consist = Consist::of(&plan);
        Self { plan, consist, placed: Vec::new(), states: Vec::new(), worked: Vec::new() }
    }

    /// The figures of a state, where it was worked out.
    pub fn state(&self, state: usize) -> Option<&StateFigures> {
        self.worked.iter().find(|figures| figures.state == state)
    }

    /// The strings on the train in a state, in the order of placements.
    pub fn present(&self, state: usize) -> impl Iterator<Item = &PlacedString> {
        let present = self.states.get(state).map(|state| state.present.as_slice()).unwrap_or_default();
        self.placed.iter().zip(present).filter(|(_, present)| **present).map(|(placed, _)| placed)
    }
}

impl StateFigures {
    /// Load of a rack in kg.
    pub fn rack_kg(&self, rack: usize) -> f64 {
        self.rack_tiers_kg.get(rack).map_or(0.0, |tiers| tiers.iter().sum())
    }
}
