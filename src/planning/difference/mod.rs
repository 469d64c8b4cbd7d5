//! What differs between two plans, or between two states of one plan: what the plans say, what their loads are, and
//! what the checks find. Strings, vehicles and racks are known by their marks, never by their index.

mod change;
mod drops;
mod figures;
mod findings;
mod matching;
mod material;
mod records;
mod route;
mod strings;
#[cfg(test)]
mod tests;
mod there;
mod told;
mod train;

pub use change::{Change, ChangeKind, ChangeTopic, ChangedThing};
pub use figures::{FigureChange, FigureKind, FigurePlace, FigureReading};
pub use findings::{FindingChange, FindingSide, Turn};
pub use route::limit_value;

use crate::checks::{Assessment, assess};
use crate::model::{MatchedColumn, OrderColumn, OrderTable, Plan};
use crate::statics::{Figures, Scope};
use crate::text;
use crate::units::{DecimalMark, Text, UnitSystem};
use matching::compare_rows;
use std::sync::Arc;
use told::Teller;

/// Everything that differs between two sides.
#[derive(Clone, Debug, Default)]
pub struct Difference {
    /// What the plans say, by topic; of two states, which strings lie on the train.
    pub changes: Vec<Change>,
    /// Findings with another verdict or another use of their limit, the worst turn first.
    pub findings: Vec<FindingChange>,
    /// Loads that differ; what has become worse comes first.
    pub figures: Vec<FigureChange>,
}

/// One side of a comparison, worked out: all states of a plan, or one of them.
#[derive(Clone, Copy, Debug)]
pub struct Side<'a> {
    /// Its figures; of each load the worst over the states that were worked out is compared.
    pub figures: &'a Figures,
    /// What the checks say of them.
    pub assessment: &'a Assessment,
}

/// Figures and findings of a side.
#[derive(Clone, Debug)]
pub struct Worked {
    /// Its figures.
    pub figures: Figures,
    /// What the checks say of them.
    pub assessment: Assessment,
}

impl Worked {
    /// Works out a side: all states of `plan`, or one alone, so that findings of others do not hide its own.
    pub fn of(plan: Arc<Plan>, scope: Scope) -> Self {
        let figures = Figures::of(plan, scope);
        let assessment = assess(&figures);
        Self { figures, assessment }
    }

    /// It as a side of a comparison.
    pub fn side(&self) -> Side<'_> {
        Side { figures: &self.figures, assessment: &self.assessment }
    }
}

impl Difference {
    /// What differs between two plans.
    ///
    /// The plans are equal exactly where [`changes`](Self::changes) is empty.
    pub fn of_plans(before: Side<'_>, after: Side<'_>) -> Self {
        Self::with(plan_changes(&before.figures.plan, &after.figures.plan), before, after)
    }

    /// What differs between two states of one plan, each worked out alone.
    pub fn of_states(before: Side<'_>, after: Side<'_>) -> Self {
        Self::with(presence_changes(before.figures, after.figures), before, after)
    }

    fn with(changes: Vec<Change>, before: Side<'_>, after: Side<'_>) -> Self {
        Self {
            changes,
            findings: findings::compare_findings(before, after),
            figures: figures::compare_figures(before.figures, after.figures),
        }
    }

    /// Whether nothing differs.
    pub fn is_empty(&self) -> bool {
        self.changes.is_empty() && self.findings.is_empty() && self.figures.is_empty()
    }

    /// How many findings turned in this way.
    pub fn count(&self, turn: Turn) -> usize {
        self.findings.iter().filter(|change| change.turn == turn).count()
    }
}

/// The state of `other` that people call the same as `state` of `figures`; where there is none, the one with the
/// same number, or the last.
pub fn state_like(figures: &Figures, state: usize, other: &Figures) -> usize {
    let title = figures.states.get(state).map(|state| state.title(&figures.plan));
    let same = other.states.iter().position(|state| Some(state.title(&other.plan)) == title);
    same.unwrap_or_else(|| state.min(other.states.len().saturating_sub(1)))
}

/// What two plans say differently, by topic; nothing exactly where they are equal.
pub fn plan_changes(before: &Plan, after: &Plan) -> Vec<Change> {
    // Every field of the plan is named here, so that a new one cannot be forgotten.
    let Plan {
        title,
        notes,
        units,
        train,
        sections,
        steels,
        order,
        order_table,
        placements,
        drops,
        route,
        limits,
        accepted,
        as_loaded,
        weighings,
        signatures,
    } = before;
    let mut changes = Vec::new();
    compare_rows(&mut changes, placements, &after.placements);
    compare_rows(&mut changes, order, &after.order);
    drops::compare_drops(&mut changes, drops, &after.drops);
    train::compare_trains(&mut changes, train, &after.train);
    compare_rows(&mut changes, sections, &after.sections);
    compare_rows(&mut changes, steels, &after.steels);
    route::compare_limits(&mut changes, limits, &after.limits);
    route::compare_routes(&mut changes, route, &after.route);
    compare_rows(&mut changes, accepted, &after.accepted);
    compare_rows(&mut changes, as_loaded, &after.as_loaded);
    compare_rows(&mut changes, weighings, &after.weighings);
    compare_rows(&mut changes, signatures, &after.signatures);
    let mut teller = Teller::new(&mut changes, ChangeTopic::Plan, ChangedThing::Plan);
    teller.tell("title", title, &after.title);
    teller.tell("notes", notes, &after.notes);
    teller.tell("units", units_word(*units), units_word(after.units));
    teller.tell("decimal mark of the order's table", mark_word(order_table), mark_word(&after.order_table));
    let columns = (order_table.columns.as_slice(), after.order_table.columns.as_slice());
    teller.list("column of the order's table", columns, column_words);
    changes
}

fn mark_word(table: &OrderTable) -> Option<&'static str> {
    table.decimal.map(|mark| match mark {
        DecimalMark::Point => "point",
        DecimalMark::Comma => "comma",
    })
}

fn column_words(column: &MatchedColumn) -> Text {
    let holds = match column.holds {
        OrderColumn::Mark => "mark",
        OrderColumn::Section => "section",
        OrderColumn::Steel => "steel",
        OrderColumn::Length => "length",
        OrderColumn::Side => "side of the track",
        OrderColumn::Drop => "drop",
        OrderColumn::Mass => "mass",
        OrderColumn::MassBasis => "how the mass was found",
        OrderColumn::Nothing => "nothing",
    };
    let unit = column.unit.map(|unit| format!(" in {}", unit.sign())).unwrap_or_default();
    text![format!("{} holds {holds}{unit}", column.header)]
}

fn units_word(units: UnitSystem) -> &'static str {
    match units {
        UnitSystem::Metric => "metric",
        UnitSystem::UsCustomary => "US customary",
    }
}

/// Which strings are on the train in the state that one has worked out and not in that of the other.
fn presence_changes(before: &Figures, after: &Figures) -> Vec<Change> {
    let state_of = |figures: &Figures| figures.worked.first().map_or(0, |worked| worked.state);
    let is_there = |figures: &Figures, placement: usize| {
        let state = figures.states.get(state_of(figures));
        state.and_then(|state| state.present.get(placement)).copied().unwrap_or(false)
    };
    let mut changes = Vec::new();
    for (at, placement) in before.plan.placements.iter().enumerate() {
        let lies = |there: bool| {
            if there {
                strings::lies(placement.tier, placement.lane, placement.front)
            } else {
                text!["not on the train"]
            }
        };
        let thing = ChangedThing::String(placement.string.clone());
        let mut teller = Teller::new(&mut changes, ChangeTopic::Places, thing);
        teller.tell("on the train", lies(is_there(before, at)), lies(is_there(after, at)));
    }
    changes
}
