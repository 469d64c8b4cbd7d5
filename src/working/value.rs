//! A working as data: steps of formula, numbers put in, and result.

use super::Question;
use crate::checks::{Comparison, Outcome};
use crate::units::Quantity;

/// How a number came about, from what was entered to the figure.
#[derive(Clone, Debug, PartialEq)]
pub struct Working {
    /// What it is the working of, such as `Load of an axle: vehicle W3, rear bogie`.
    pub title: String,
    /// The state that it holds in, index into `Figures::states`; none where states do not matter.
    pub state: Option<usize>,
    /// The theory that the formulas come from, and its source.
    pub source: String,
    /// What a reader must know to read it, such as which assumption is the worse one.
    pub notes: Vec<String>,
    /// The steps in order; the last one's result is the figure. Never empty.
    pub steps: Vec<WorkingStep>,
    /// The limit that a check holds the figure against, where the working is that of a finding.
    pub limit: Option<LimitLine>,
}

/// What a check compares a figure with.
#[derive(Clone, Debug, PartialEq)]
pub struct LimitLine {
    /// The figure and its limit.
    pub comparison: Comparison,
    /// How the thing fares.
    pub outcome: Outcome,
    /// Where the limit comes from.
    pub source: Option<String>,
    /// Where the rule comes from.
    pub rule_source: &'static str,
}

/// One formula with its numbers.
///
/// `formula` holds numbers, symbols of `inputs` and of the columns of `table`, `+ - * / ^`, round brackets, and
/// the functions `abs(a)`, `sqrt(a)`, `max(a, ...)` and `min(a, ...)`; `sum(a)`, `largest(a)` and `least(a)` go
/// over the rows of `table`. All values are SI, so that the formula gives the result without factors.
#[derive(Clone, Debug, PartialEq)]
pub struct WorkingStep {
    /// What is worked out, in words.
    pub what: String,
    /// The formula for `result`, such as `q * c + q * l / 2 + (M2 - M1) / l`.
    pub formula: String,
    /// The numbers put in.
    pub inputs: Vec<WorkingValue>,
    /// The rows that `sum`, `largest` and `least` go over.
    pub table: Option<WorkingTable>,
    /// What comes out: the very value of the figures.
    pub result: WorkingValue,
}

/// A number with its symbol, meaning and origin.
#[derive(Clone, Debug, PartialEq)]
pub struct WorkingValue {
    /// Its symbol in formulas: a letter, then letters, digits and `_`.
    pub symbol: String,
    /// What it is, in words.
    pub meaning: String,
    /// Its value in SI.
    pub value: Quantity,
    /// Where it comes from.
    pub origin: Origin,
}

/// Where a number put in comes from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Origin {
    /// Worked out here: a result, or the result of an earlier step.
    Here,
    /// Entered in the plan; the source that stands there, or what was entered.
    Entered(String),
    /// A constant of nature or a definition, with its source.
    Constant(&'static str),
    /// Found by a numerical solution; how it is told from other values.
    Found(&'static str),
    /// A figure with a working of its own.
    Figure(Question),
}

/// Rows of numbers put in.
#[derive(Clone, Debug, PartialEq)]
pub struct WorkingTable {
    /// The columns: symbol and meaning; `value` tells the kind, its number is that of no row.
    pub columns: Vec<WorkingColumn>,
    /// The rows, in the order in which they are added up.
    pub rows: Vec<WorkingRow>,
}

/// A column of a table.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WorkingColumn {
    /// Its symbol in the formula.
    pub symbol: String,
    /// What it is, in words.
    pub meaning: String,
}

/// One row of a table.
#[derive(Clone, Debug, PartialEq)]
pub struct WorkingRow {
    /// What the row is about, such as `vehicle W1 rack 2`.
    pub name: String,
    /// One value per column.
    pub values: Vec<Quantity>,
    /// The figure behind the row, where it has a working of its own.
    pub figure: Option<Question>,
}

impl Working {
    /// A working without steps yet.
    pub fn new(title: impl Into<String>, state: Option<usize>, source: impl Into<String>) -> Self {
        let (title, source) = (title.into(), source.into());
        Self { title, state, source, notes: Vec::new(), steps: Vec::new(), limit: None }
    }

    /// The same with one more step.
    #[must_use]
    pub fn step(mut self, step: WorkingStep) -> Self {
        self.steps.push(step);
        self
    }

    /// The same with one more note.
    #[must_use]
    pub fn note(mut self, note: impl Into<String>) -> Self {
        self.notes.push(note.into());
        self
    }

    /// The figure itself: what the last step gives.
    pub fn result(&self) -> Option<&WorkingValue> {
        self.steps.last().map(|step| &step.result)
    }
}

impl WorkingStep {
    /// A step for a result (symbol and meaning) by `formula`, without inputs yet.
    pub fn new(result: (&str, &str), value: Quantity, formula: impl Into<String>) -> Self {
        let (symbol, meaning) = result;
        Self {
            what: meaning.to_owned(),
            formula: formula.into(),
            inputs: Vec::new(),
            table: None,
            result: WorkingValue {
                symbol: symbol.to_owned(),
                meaning: meaning.to_owned(),
                value,
                origin: Origin::Here,
            },
        }
    }

    /// The same with one more number (symbol and meaning) put in.
    #[must_use]
    pub fn with(mut self, input: (&str, &str), value: Quantity, origin: Origin) -> Self {
        let (symbol, meaning) = (input.0.to_owned(), input.1.to_owned());
        self.inputs.push(WorkingValue { symbol, meaning, value, origin });
        self
    }

    /// The same with the result of an earlier step, or another value, put in as it is.
    #[must_use]
    pub fn with_value(mut self, value: WorkingValue) -> Self {
        self.inputs.push(value);
        self
    }

    /// The same with a table of `columns` (symbol and meaning).
    #[must_use]
    pub fn over(mut self, columns: &[(&str, &str)], rows: Vec<WorkingRow>) -> Self {
        let columns = columns
            .iter()
            .map(|(symbol, meaning)| WorkingColumn {
                symbol: (*symbol).to_owned(),
                meaning: (*meaning).to_owned(),
            })
            .collect();
        self.table = Some(WorkingTable { columns, rows });
        self
    }
}

impl Origin {
    /// Entered in the plan, with `source`.
    pub fn entered(source: impl Into<String>) -> Self {
        Self::Entered(source.into())
    }
}
