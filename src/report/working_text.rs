//! Workings in plain text: formula, numbers put in, intermediate values, result, source.

use super::finding_text::{state_name, used};
use super::layout::paragraph;
use crate::checks::Sense;
use crate::statics::Figures;
use crate::units::{Quantity, QuantityKind, Style};
use crate::working::{LimitLine, Origin, Question, Working, WorkingStep, WorkingTable, WorkingValue};

/// Digits that values in workings are shown with, so that a reader can reckon along.
const DIGITS: i32 = 6;

/// A working for a reader, at most about 100 columns wide but for formulas, which are never broken.
pub fn working_report(figures: &Figures, working: &Working, style: Style) -> String {
    let mut out = String::new();
    paragraph(&mut out, "", "  ", &working.title);
    if let Some(state) = working.state {
        paragraph(&mut out, "In:       ", "          ", &state_name(figures, state));
    }
    paragraph(&mut out, "By:       ", "          ", &working.source);
    for note in &working.notes {
        paragraph(&mut out, "Note:     ", "          ", note);
    }
    for (number, step) in (1..).zip(&working.steps) {
        out.push('\n');
        step_lines(&mut out, (number, step), style);
    }
    if let Some(limit) = &working.limit {
        out.push('\n');
        limit_lines(&mut out, limit, style);
    }
    ask_on(&mut out, figures, working);
    out.push('\n');
    let units = "Formulas hold in SI units (kg, m, N, s, Pa, rad); values are shown in the plan's units.";
    paragraph(&mut out, "", "", units);
    out
}

/// What can be asked of a plan, a line each.
pub fn questions_report(figures: &Figures, questions: &[Question]) -> String {
    let mut out = String::new();
    for question in questions {
        out.push_str(&question.address(figures));
        out.push('\n');
    }
    out
}

/// A value in the reader's units, with six digits.
pub fn working_value(value: Quantity, style: Style) -> String {
    let number = digits(value.shown_value(style), style);
    match (value.kind, value.unit_sign(style)) {
        (QuantityKind::Ratio, _) => format!("{number} : 1"),
        (_, "") => number,
        (_, sign) => format!("{number} {sign}"),
    }
}

/// Where a number put in comes from, in words.
pub fn origin_words(figures: &Figures, origin: &Origin) -> String {
    match origin {
        Origin::Here => "worked out above".to_owned(),
        Origin::Entered(source) => format!("entered: {source}"),
        Origin::Constant(source) => (*source).to_owned(),
        Origin::Found(how) => format!("found so that {how}"),
        Origin::Figure(asked) => asked.address(figures),
    }
}

fn digits(value: f64, style: Style) -> String {
    if !value.is_finite() {
        return "without bound".to_owned();
    }
    let whole = if value == 0.0 { 0 } else { value.abs().log10().floor() as i32 };
    let decimals = usize::try_from((DIGITS - 1 - whole).clamp(0, 9)).unwrap_or_default();
    let text = format!("{value:.decimals$}");
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    let text = if text == "-0" { "0" } else { text };
    style.decimal.written(text)
}

fn step_lines(out: &mut String, (number, step): (usize, &WorkingStep), style: Style) {
    paragraph(out, &format!("{number:>2}. "), "    ", &step.what);
    out.push_str(&format!("      {} = {}\n", step.result.symbol, step.formula));
    let values: Vec<String> = step.inputs.iter().map(|input| working_value(input.value, style)).collect();
    let width = values.iter().map(|value| value.chars().count()).max().unwrap_or(0);
    for (input, value) in step.inputs.iter().zip(&values) {
        let first = format!("      {:<4} {value:>width$}  ", input.symbol);
        paragraph(out, &first, &" ".repeat(first.chars().count()), &input_words(input));
    }
    if let Some(table) = &step.table {
        table_lines(out, table, style);
    }
    out.push_str(&format!("      {} = {}\n", step.result.symbol, working_value(step.result.value, style)));
}

fn input_words(input: &WorkingValue) -> String {
    match &input.origin {
        Origin::Here | Origin::Figure(_) => input.meaning.clone(),
        Origin::Entered(source) => format!("{} ({source})", input.meaning),
        Origin::Constant(source) => format!("{} ({source})", input.meaning),
        Origin::Found(how) => format!("{} ({how})", input.meaning),
    }
}

fn table_lines(out: &mut String, table: &WorkingTable, style: Style) {
    for column in &table.columns {
        paragraph(
            out,
            &format!("      {:<4} ", column.symbol),
            "           ",
            &format!("{}:", column.meaning),
        );
    }
    let name_width = table.rows.iter().map(|row| row.name.chars().count()).max().unwrap_or(0);
    let cell = |value: &Quantity| working_value(*value, style);
    let widths: Vec<usize> = (0..table.columns.len())
        .map(|column| {
            let cells = table.rows.iter().filter_map(|row| row.values.get(column));
            let symbol = table.columns.get(column).map_or(0, |column| column.symbol.chars().count());
            cells.map(|value| cell(value).chars().count()).max().unwrap_or(0).max(symbol)
        })
        .collect();
    let mut heads = format!("        {:<name_width$}", "");
    for (column, width) in table.columns.iter().zip(&widths) {
        heads.push_str(&format!("  {:>width$}", column.symbol));
    }
    out.push_str(&format!("{}\n", heads.trim_end()));
    for row in &table.rows {
        let mut line = format!("        {:<name_width$}", row.name);
        for (value, width) in row.values.iter().zip(&widths) {
            line.push_str(&format!("  {:>width$}", cell(value)));
        }
        out.push_str(&format!("{}\n", line.trim_end()));
    }
    if table.rows.is_empty() {
        out.push_str("        nothing to add up\n");
    }
}

fn limit_lines(out: &mut String, limit: &LimitLine, style: Style) {
    let compared = limit.comparison;
    let sense = match compared.sense {
        Sense::AtMost => "at most",
        Sense::AtLeast => "at least",
    };
    let words = format!(
        "{} {sense} {}: {}, {}",
        working_value(compared.demand, style),
        working_value(compared.capacity, style),
        used(compared),
        limit.outcome.word()
    );
    paragraph(out, "Limit:    ", "          ", &words);
    if let Some(source) = &limit.source {
        paragraph(out, "From:     ", "          ", source);
    }
    paragraph(out, "Rule:     ", "          ", limit.rule_source);
}

/// The figures put in that have a working of their own; of many rows the first few.
fn ask_on(out: &mut String, figures: &Figures, working: &Working) {
    const MOST: usize = 8;
    let mut asked: Vec<Question> = Vec::new();
    for step in &working.steps {
        let inputs = step.inputs.iter().filter_map(|input| match &input.origin {
            Origin::Figure(asked) => Some(*asked),
            _ => None,
        });
        let rows = step.table.iter().flat_map(|table| &table.rows).filter_map(|row| row.figure);
        for question in inputs.chain(rows) {
            if !asked.contains(&question) {
                asked.push(question);
            }
        }
    }
    if asked.is_empty() {
        return;
    }
    out.push_str("\nAsk on with --of:\n");
    for question in asked.iter().take(MOST) {
        out.push_str(&format!("      \"{}\"\n", question.address(figures)));
    }
    if asked.len() > MOST {
        out.push_str(&format!("      and {} more of this kind\n", asked.len() - MOST));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_in_workings_have_six_digits() {
        let check =
            |quantity, expected: &str| assert_eq!(working_value(quantity, Style::default()), expected);
        check(Quantity::mass(4_754.912_34), "4.75491 t");
        check(Quantity::mass(24_000.0), "24 t");
        check(Quantity::length_m(0.0), "0 m");
        check(Quantity::length_m(-6.633), "-6.633 m");
        check(Quantity::stress(123.456_78e6), "123.457 MPa");
        check(Quantity::ratio(1.25), "1.25 : 1");
        check(Quantity::ratio(f64::INFINITY), "without bound : 1");
        check(Quantity::small_length_m(1.234_567_8e-6), "0.00123457 mm");
        check(Quantity::mass(1_234_567_890.0), "1234568 t");
    }
}
