//! How the order's table was matched.

use super::report::Report;
use crate::model::{OrderColumn, OrderTable};

/// The most columns that are kept.
const MOST_COLUMNS: usize = 200;
/// The most characters of a header.
const LONGEST_HEADER: usize = 200;

/// Looks at the matched columns.
pub(super) fn look(table: &OrderTable, report: &mut Report) {
    report.at_most("order_table.columns", table.columns.len(), MOST_COLUMNS);
    let headers: Vec<String> = table.columns.iter().map(|column| column.header.to_lowercase()).collect();
    report.unique("order_table.columns", "header", headers.iter().map(String::as_str));
    for (number, column) in table.columns.iter().enumerate() {
        let path = format!("order_table.columns[{number}]");
        report.said(format!("{path}.header"), &column.header);
        if column.header.chars().count() > LONGEST_HEADER {
            let what = format!("the header has more than {LONGEST_HEADER} characters");
            report.add(format!("{path}.header"), what, "shorten it, or remove the column");
        }
        let fits = match column.holds {
            OrderColumn::Length => column.unit.is_none_or(|unit| unit.is_length()),
            OrderColumn::Mass => column.unit.is_none_or(|unit| !unit.is_length()),
            _ => column.unit.is_none(),
        };
        if let Some(unit) = column.unit.filter(|_| !fits) {
            let what = format!("{} is no unit for what the column holds", unit.sign());
            report.add(format!("{path}.unit"), what, "name a unit of length or mass, or leave it out");
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::check;
    use crate::model::{ColumnUnit, MatchedColumn, OrderColumn, Plan};

    fn columns(plan: &mut Plan, columns: &[(&str, OrderColumn, Option<ColumnUnit>)]) {
        let column = |(header, holds, unit): &(&str, OrderColumn, Option<ColumnUnit>)| MatchedColumn {
            header: (*header).to_owned(),
            holds: *holds,
            unit: *unit,
        };
        plan.order_table.columns = columns.iter().map(column).collect();
    }

    #[test]
    fn a_header_is_said_once_and_a_unit_fits_what_is_held() {
        use OrderColumn as C;
        let (m, kg) = (Some(ColumnUnit::Metre), Some(ColumnUnit::Kilogram));
        check(
            |plan| columns(plan, &[("L", C::Length, m), ("kg", C::Mass, kg), ("x", C::Nothing, None)]),
            &[],
        );
        check(|plan| columns(plan, &[("L", C::Length, kg)]), &["order_table.columns[0].unit"]);
        check(|plan| columns(plan, &[("L", C::Mass, m)]), &["order_table.columns[0].unit"]);
        check(|plan| columns(plan, &[("L", C::Mark, kg)]), &["order_table.columns[0].unit"]);
        check(|plan| columns(plan, &[(" ", C::Mark, None)]), &["order_table.columns[0].header"]);
        let twice = [("No", C::Mark, None), ("NO", C::Drop, None)];
        check(|plan| columns(plan, &twice), &["order_table.columns[1].header"]);
        let long = "x".repeat(201);
        check(|plan| columns(plan, &[(&long, C::Mark, None)]), &["order_table.columns[0].header"]);
        check(|plan| columns(plan, &[(&long[1..], C::Mark, None)]), &[]);
    }
}
