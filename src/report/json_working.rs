//! Workings as JSON; `JSON.md` describes every field.

use super::LEVEL_RIGID;
use super::finding_text::si_unit;
use super::json_common::{JsonError, print};
use super::working_text::origin_words;
use crate::checks::Sense;
use crate::statics::Figures;
use crate::units::Quantity;
use crate::working::{LimitLine, Origin, Question, Working, WorkingStep, WorkingTable, WorkingValue};
use serde::Serialize;

/// Workings of a plan's figures as one JSON object; `label` says which plan, as its reader knows it.
///
/// # Errors
/// [`JsonError`] where the text cannot be written.
pub fn working_json(label: &str, figures: &Figures, workings: &[Working]) -> Result<String, JsonError> {
    print(&WorkingDocument {
        shape: "longstow working 1",
        file: label,
        title: &figures.plan.title,
        model: LEVEL_RIGID,
        workings: workings.iter().map(|working| WorkingRow::of(figures, working)).collect(),
    })
}

/// What can be asked of a plan as one JSON object.
///
/// # Errors
/// [`JsonError`] where the text cannot be written.
pub fn questions_json(label: &str, figures: &Figures, questions: &[Question]) -> Result<String, JsonError> {
    let asks = questions.iter().map(|question| question.address(figures)).collect();
    print(&QuestionsDocument { shape: "longstow questions 1", file: label, title: &figures.plan.title, asks })
}

#[derive(Serialize)]
struct QuestionsDocument<'a> {
    shape: &'static str,
    file: &'a str,
    title: &'a str,
    asks: Vec<String>,
}

#[derive(Serialize)]
struct WorkingDocument<'a> {
    shape: &'static str,
    file: &'a str,
    title: &'a str,
    model: &'static str,
    workings: Vec<WorkingRow<'a>>,
}

#[derive(Serialize)]
struct WorkingRow<'a> {
    title: &'a str,
    state: Option<usize>,
    state_title: Option<String>,
    source: &'a str,
    notes: &'a [String],
    steps: Vec<StepRow<'a>>,
    limit: Option<LimitRow<'a>>,
}

impl<'a> WorkingRow<'a> {
    fn of(figures: &Figures, working: &'a Working) -> Self {
        let state = working.state.and_then(|state| figures.states.get(state));
        Self {
            title: &working.title,
            state: working.state,
            state_title: state.map(|state| state.title(&figures.plan)),
            source: &working.source,
            notes: &working.notes,
            steps: working.steps.iter().map(|step| StepRow::of(figures, step)).collect(),
            limit: working.limit.as_ref().map(LimitRow::of),
        }
    }
}

#[derive(Serialize)]
struct StepRow<'a> {
    what: &'a str,
    formula: &'a str,
    inputs: Vec<InputRow<'a>>,
    table: Option<TableRows<'a>>,
    result: ResultRow<'a>,
}

impl<'a> StepRow<'a> {
    fn of(figures: &Figures, step: &'a WorkingStep) -> Self {
        Self {
            what: &step.what,
            formula: &step.formula,
            inputs: step.inputs.iter().map(|input| InputRow::of(figures, input)).collect(),
            table: step.table.as_ref().map(|table| TableRows::of(figures, table)),
            result: ResultRow {
                symbol: &step.result.symbol,
                value: step.result.value.value,
                unit: si_unit(step.result.value.kind),
            },
        }
    }
}

#[derive(Serialize)]
struct ResultRow<'a> {
    symbol: &'a str,
    value: f64,
    unit: &'static str,
}

#[derive(Serialize)]
struct InputRow<'a> {
    symbol: &'a str,
    meaning: &'a str,
    value: f64,
    unit: &'static str,
    origin: &'static str,
    from: String,
}

impl<'a> InputRow<'a> {
    fn of(figures: &Figures, input: &'a WorkingValue) -> Self {
        Self {
            symbol: &input.symbol,
            meaning: &input.meaning,
            value: input.value.value,
            unit: si_unit(input.value.kind),
            origin: match input.origin {
                Origin::Here => "step",
                Origin::Entered(_) => "entered",
                Origin::Constant(_) => "constant",
                Origin::Found(_) => "found",
                Origin::Figure(_) => "figure",
            },
            from: origin_words(figures, &input.origin),
        }
    }
}

#[derive(Serialize)]
struct TableRows<'a> {
    columns: Vec<ColumnRow<'a>>,
    rows: Vec<TableRow<'a>>,
}

#[derive(Serialize)]
struct ColumnRow<'a> {
    symbol: &'a str,
    meaning: &'a str,
    unit: Option<&'static str>,
}

#[derive(Serialize)]
struct TableRow<'a> {
    name: &'a str,
    values: Vec<f64>,
    figure: Option<String>,
}

impl<'a> TableRows<'a> {
    fn of(figures: &Figures, table: &'a WorkingTable) -> Self {
        let unit = |column: usize| {
            let value: Option<&Quantity> = table.rows.first().and_then(|row| row.values.get(column));
            value.map(|value| si_unit(value.kind))
        };
        let columns = table.columns.iter().enumerate().map(|(at, column)| ColumnRow {
            symbol: &column.symbol,
            meaning: &column.meaning,
            unit: unit(at),
        });
        let rows = table.rows.iter().map(|row| TableRow {
            name: &row.name,
            values: row.values.iter().map(|value| value.value).collect(),
            figure: row.figure.map(|figure| figure.address(figures)),
        });
        Self { columns: columns.collect(), rows: rows.collect() }
    }
}

#[derive(Serialize)]
struct LimitRow<'a> {
    demand: f64,
    capacity: f64,
    unit: &'static str,
    sense: &'static str,
    utilisation: f64,
    margin: f64,
    outcome: &'static str,
    limit_source: Option<&'a str>,
    rule_source: &'static str,
}

impl<'a> LimitRow<'a> {
    fn of(limit: &'a LimitLine) -> Self {
        let compared = limit.comparison;
        Self {
            demand: compared.demand.value,
            capacity: compared.capacity.value,
            unit: si_unit(compared.demand.kind),
            sense: match compared.sense {
                Sense::AtMost => "at most",
                Sense::AtLeast => "at least",
            },
            utilisation: compared.utilisation(),
            margin: compared.margin().value,
            outcome: limit.outcome.word(),
            limit_source: limit.source.as_deref(),
            rule_source: limit.rule_source,
        }
    }
}
