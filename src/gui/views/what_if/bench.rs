//! A scratch copy on the bench: what is turned, and all that is worked out of it for the view.

use crate::checks::{Assessment, Subject, assess};
use crate::gui::samples::catalogue;
use crate::gui::{Selection, Shown};
use crate::model::{Exercise, Plan};
use crate::planning::what_if::{
    Along, Bounds, Focus, Knob, Measure, Plotted, Reading, Scratch, Sweep, Whom, explain,
};
use crate::statics::{Figures, Scope};
use crate::units::Text;
use std::sync::Arc;

/// Values of a knob that are worked out in a frame; the first frame of a curve gets twice as many.
const VALUES_A_FRAME: usize = 16;

/// What the plots run over.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Over {
    /// The values of a knob, at departure.
    Knob(Knob),
    /// The states, from departure to the end.
    States,
}

/// Which states of the scratch copy are worked out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum States {
    /// The departing train: what a slider moves must answer at once.
    Departure,
    /// All of them, for exercises on small trains.
    All,
}

/// The scratch copy with its figures.
#[derive(Debug)]
pub(super) struct Bench {
    scratch: Scratch,
    states: States,
    pub(super) figures: Arc<Figures>,
    pub(super) assessment: Arc<Assessment>,
    pub(super) bounds: Bounds,
    pub(super) focus: Focus,
    pub(super) over: Over,
    /// The state shown.
    pub(super) state: usize,
    selection: Selection,
    sweep: Sweep,
    by_state: Vec<Reading>,
    /// What the plots draw, from the top: that alone is told in words.
    drawn: Vec<Plotted>,
    told: Option<Vec<Text>>,
}

impl Bench {
    /// A bench with a copy of `plan`; none where nothing lies on racks.
    pub(super) fn of(plan: Arc<Plan>, states: States) -> Option<Self> {
        let scratch = Scratch::of(plan, &catalogue().sections)?;
        let figures = figures_of(&scratch, states);
        let bounds = Bounds::of(&figures.plan, &figures.consist);
        let over = Over::Knob(Knob::Count);
        let sweep = Sweep::new(&scratch, Knob::Count);
        let mut bench = Self {
            assessment: Arc::new(assess(&figures)),
            by_state: by_state(&figures),
            scratch,
            states,
            figures: Arc::new(figures),
            bounds,
            focus: Focus::default(),
            over,
            state: 0,
            selection: Selection::default(),
            sweep,
            drawn: Vec::new(),
            told: None,
        };
        bench.focus.vehicle = bench.worst_vehicle();
        bench.look_at_rack();
        Some(bench)
    }

    /// The same, looking at what an exercise is about, its plots over what it lets turn.
    pub(super) fn of_exercise(exercise: &Exercise) -> Option<Self> {
        let mut bench = Self::of(Arc::clone(&exercise.plan), States::All)?;
        let (plan, consist) = (&bench.figures.plan, &bench.figures.consist);
        let vehicle = plan.train.vehicles.iter().position(|vehicle| vehicle.mark == exercise.wagon);
        let rack = exercise.rack.as_ref().and_then(|rack| consist.rack_named(plan, rack));
        let over = match exercise.knobs.first() {
            Some(knob) => Over::Knob(*knob),
            None if bench.by_state.len() > 1 => Over::States,
            None => Over::Knob(Knob::FrontEnd),
        };
        bench.look_at(Focus { vehicle, rack });
        bench.run_over(over);
        Some(bench)
    }

    /// The scratch copy.
    pub(super) fn scratch(&self) -> &Scratch {
        &self.scratch
    }

    /// Turns a knob.
    pub(super) fn turn(&mut self, knob: Knob, value: i64) {
        if self.scratch.value(knob) != value {
            self.scratch.set(knob, value);
            self.work_out();
        }
    }

    /// Chooses whose length, section and front end are turned.
    pub(super) fn turn_those_of(&mut self, whom: Whom) {
        self.scratch.set_whom(whom);
        self.work_out();
    }

    /// Shows the plots over something else.
    pub(super) fn run_over(&mut self, over: Over) {
        self.over = over;
        self.told = None;
        self.keep_sweep();
    }

    /// Looks at another wagon or rack.
    pub(super) fn look_at(&mut self, focus: Focus) {
        self.focus = focus;
        self.told = None;
        self.look_at_rack();
    }

    /// Shows another state.
    pub(super) fn show_state(&mut self, state: usize) {
        self.state = state.min(self.by_state.len().saturating_sub(1));
    }

    /// How many states are worked out, from the first on.
    pub(super) fn states_worked(&self) -> usize {
        self.by_state.len()
    }

    /// Works a part of what is left; whether more is left.
    pub(super) fn work(&mut self) -> bool {
        let first = self.sweep.readings().next().is_none();
        let values = if first { 2 * VALUES_A_FRAME } else { VALUES_A_FRAME };
        let left = (0..values).all(|_| self.sweep.work());
        if !left && self.told.is_none() {
            let along = match self.over {
                Over::Knob(_) => Along::Knob(&self.scratch, &self.sweep),
                Over::States => Along::States(&self.by_state),
            };
            self.told = Some(explain(along, &self.drawn, self.focus, &self.figures));
        }
        left
    }

    /// Takes note of what the plots draw; whether that is new, so that it is not told yet.
    pub(super) fn draws(&mut self, plotted: Vec<Plotted>) -> bool {
        let new = self.drawn != plotted;
        if new {
            (self.drawn, self.told) = (plotted, None);
        }
        new
    }

    /// What the curves show, once they are there.
    pub(super) fn told(&self) -> &[Text] {
        self.told.as_deref().unwrap_or_default()
    }

    /// The readings along the plots that are worked out so far.
    pub(super) fn readings(&self) -> Vec<&Reading> {
        match self.over {
            Over::Knob(_) => self.sweep.readings().collect(),
            Over::States => self.by_state.iter().collect(),
        }
    }

    /// The least and the largest value along the plots, and the present one.
    pub(super) fn along(&self) -> (i64, i64, i64) {
        match self.over {
            Over::Knob(knob) => {
                let span = self.scratch.span(knob);
                (*span.start(), *span.end(), self.scratch.value(knob))
            }
            Over::States => (0, self.by_state.len() as i64 - 1, self.state as i64),
        }
    }

    /// A figure in the state shown, with its bound.
    pub(super) fn measure(&self, plotted: Plotted) -> Option<Measure> {
        self.bounds.measure(self.by_state.get(self.state)?, plotted, self.focus)
    }

    /// What views of the scratch copy are given: `around` with the copy in place of the open plan.
    pub(super) fn shown<'a>(&'a self, around: &Shown<'a>) -> Shown<'a> {
        Shown {
            plan: &self.figures.plan,
            figures: &self.figures,
            assessment: &self.assessment,
            settled: &self.figures,
            settled_assessment: &self.assessment,
            focus: None,
            state: self.state,
            selection: &self.selection,
            preview: None,
            ..*around
        }
    }

    fn work_out(&mut self) {
        self.figures = Arc::new(figures_of(&self.scratch, self.states));
        self.assessment = Arc::new(assess(&self.figures));
        self.by_state = by_state(&self.figures);
        self.bounds = Bounds::of(&self.figures.plan, &self.figures.consist);
        self.show_state(self.state);
        self.told = None;
        self.keep_sweep();
        self.look_at_rack();
    }

    fn keep_sweep(&mut self) {
        if let Over::Knob(knob) = self.over
            && !self.sweep.is_for(&self.scratch, knob)
        {
            self.sweep = Sweep::new(&self.scratch, knob);
        }
    }

    fn worst_vehicle(&self) -> Option<usize> {
        match self.measure(Plotted::FrontAxle)?.subject {
            Subject::Support(vehicle, _) | Subject::Axle(vehicle, _) => Some(vehicle),
            _ => None,
        }
    }

    /// The rack in the picture is the one looked at, else the one that is told as the worst.
    fn look_at_rack(&mut self) {
        if let Some(Subject::Rack(rack)) = self.measure(Plotted::RackLoad).map(|measure| measure.subject) {
            self.selection.rack = rack;
        }
        self.selection.vehicle = self.focus.vehicle;
    }
}

fn figures_of(scratch: &Scratch, states: States) -> Figures {
    match states {
        States::Departure => Figures::of(scratch.plan(), Scope::One(0)).live(),
        States::All => Figures::of(scratch.plan(), Scope::All),
    }
}

/// The readings of all states that are worked out, from the first on.
fn by_state(figures: &Figures) -> Vec<Reading> {
    (0..figures.states.len()).map_while(|state| Reading::in_state(state as i64, figures, state)).collect()
}
