//! A figure that can be asked for: its name, the things it is of, and the function that tells its working.

use super::{Origin, Working, WorkingStep};
use crate::checks::Subject;
use crate::statics::{Figures, PlacedString, SpringState, StateFigures, StringOnSprings, VehicleLoads};
use crate::units::{Quantity, QuantityKind, STANDARD_GRAVITY_M_S2};

/// A figure; each topic lists its own, and a check whose id is the figure's name gets the same working.
#[derive(Clone, Copy, Debug)]
pub(super) struct Figure {
    /// Its name, kebab-case: the check's id where a check judges this very figure.
    pub(super) name: &'static str,
    /// What a reader calls it.
    pub(super) title: &'static str,
    /// Whether it depends on the state.
    pub(super) depends: Depends,
    /// The things that it can be asked of.
    pub(super) subjects: fn(&Figures) -> Vec<Subject>,
    /// Its working; none where the thing has no such figure.
    pub(super) working: fn(&At<'_>, Subject) -> Option<Working>,
}

/// What a figure depends on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Depends {
    /// On the plan alone.
    Plan,
    /// On the state as well.
    State,
    /// On the state, the train on springs.
    Springs,
}

/// What a working is asked of.
#[derive(Clone, Copy, Debug)]
pub(super) struct At<'f> {
    /// The figures.
    pub(super) figures: &'f Figures,
    /// The figure asked for.
    pub(super) figure: &'f Figure,
    /// The state, for figures that depend on it.
    pub(super) state: Option<usize>,
    /// What a check compared, where the question comes from a finding: tells which of several figures is meant.
    pub(super) demand: Option<f64>,
}

impl<'f> At<'f> {
    /// A working of the figure asked for, without steps yet.
    pub(super) fn start(&self, subject: Subject, source: &str) -> Working {
        let state = self.state.filter(|_| self.figure.depends != Depends::Plan);
        Working::new(format!("{}: {}", self.figure.title, subject.place(self.figures)), state, source)
    }

    /// The state's figures; on springs where the figure is one of them.
    pub(super) fn worked(&self) -> Option<&'f StateFigures> {
        match self.figure.depends {
            Depends::Springs => self.on_springs().map(|state| &state.loads),
            Depends::Plan | Depends::State => self.figures.state(self.state?),
        }
    }

    /// The train on springs in the state.
    pub(super) fn on_springs(&self) -> Option<&'f SpringState> {
        let springs = self.figures.springs().ok()?;
        springs.states.iter().find(|springs| Some(springs.loads.state) == self.state)
    }

    /// What a rack carries of a string in kg; none where the string does not cross it, or lies on no rack.
    pub(super) fn carried_kg(&self, placed: &PlacedString, rack: usize) -> Option<f64> {
        let at = rack.checked_sub(placed.racks.start)?;
        match self.figure.depends {
            Depends::Plan | Depends::State => placed.carried_kg.get(at).copied(),
            Depends::Springs => {
                let strings = &self.on_springs()?.strings;
                let lies = |string: &&StringOnSprings| {
                    self.figures.placed.get(string.placed).is_some_and(|own| own.string == placed.string)
                };
                let reaction_n = strings.iter().find(lies)?.reactions_n.get(at)?;
                Some(reaction_n / STANDARD_GRAVITY_M_S2)
            }
        }
    }

    /// A vehicle's loads in the state.
    pub(super) fn loads(&self, vehicle: usize) -> Option<&'f VehicleLoads> {
        self.worked()?.vehicles.get(vehicle)
    }

    /// The strings on the train in the state.
    pub(super) fn present(&self) -> impl Iterator<Item = &'f PlacedString> {
        self.figures.present(self.state.unwrap_or_default())
    }

    /// The placement of a string of the order.
    pub(super) fn placed(&self, string: usize) -> Option<&'f PlacedString> {
        self.figures.placed.iter().find(|placed| placed.string == string)
    }

    /// The one of several working alternatives whose result is what the check compared; else the first.
    pub(super) fn matching(&self, workings: Vec<Working>) -> Option<Working> {
        let off = |working: &Working| {
            let result = working.result().map_or(f64::INFINITY, |result| result.value.value);
            self.demand.map_or(0.0, |demand| {
                if demand.to_bits() == result.to_bits() { 0.0 } else { (demand - result).abs() }
            })
        };
        workings.into_iter().min_by(|a, b| off(a).total_cmp(&off(b)))
    }
}

/// A quantity of a kind.
pub(super) const fn of(value: f64, kind: QuantityKind) -> Quantity {
    Quantity { value, kind }
}

/// Where the acceleration of free fall comes from.
pub(super) const FREE_FALL: Origin = Origin::Constant("standard acceleration of free fall, ISO 80000-3");

impl WorkingStep {
    /// The same with the acceleration of free fall put in as `g`.
    pub(super) fn with_g(self) -> Self {
        self.with(("g", "free fall"), of(STANDARD_GRAVITY_M_S2, QuantityKind::FreeFall), FREE_FALL)
    }
}

/// The theory behind the level rigid figures of strings.
pub(super) const BEAM_SOURCE: &str = "Beam on level point supports that can only push: Clapeyron's three-moment \
     equation (any textbook of structural analysis); level rigid model.";

/// The theory behind the loads of vehicles.
pub(super) const BODY_SOURCE: &str = "Balance of forces and moments on a rigid body; axles of a bogie share \
     equally; level rigid model.";
