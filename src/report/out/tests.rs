//! The tables against the figures that they hold, and read back.

use super::*;
use crate::checks::assess;
use crate::fixtures::{empty_plan, place};
use crate::format::{Parting, Table, catalogue, read_table};
use crate::intake::{Choices, Intake, Kind, Outcome, Surroundings};
use crate::model::{MassEntry, Plan, StatedBasis, StringMark, TrackSide};
use crate::statics::Scope;
use crate::units::{DecimalMark, Length, UnitSystem};
use std::sync::Arc;

fn plan() -> Plan {
    let mut plan = empty_plan(2);
    place(&mut plan, "=S1", 30_001, (1, 1, 500));
    place(&mut plan, "S2; odd", 20_000, (1, 2, 1_000));
    place(&mut plan, "S3", 18_250, (2, 1, 1_000));
    plan.order[1].mass = MassEntry::Stated { kg: 1_234.567, basis: StatedBasis::Weighed };
    plan.order[1].side = Some(TrackSide::Right);
    plan.placements.pop();
    plan
}

fn figures() -> Figures {
    Figures::of(Arc::new(plan()), Scope::All)
}

fn back(table: &OutTable, form: TableForm) -> Table {
    read_table(table.csv(form).as_bytes(), Parting::AsFound).unwrap()
}

fn forms() -> [(Style, TableForm); 4] {
    let all = [UnitSystem::Metric, UnitSystem::UsCustomary].map(|units| {
        [DecimalMark::Point, DecimalMark::Comma]
            .map(|decimal| (Style { units, decimal }, TableForm::with_decimal(decimal)))
    });
    [all[0][0], all[0][1], all[1][0], all[1][1]]
}

#[test]
fn every_row_has_a_cell_for_each_header_and_headers_differ() {
    let (figures, style) = (figures(), Style::default());
    let plan = &figures.plan;
    for table in [
        vehicles_table(&figures, style),
        racks_table(&figures, style),
        strings_table(&figures, style),
        findings_table(&figures, &assess(&figures), style),
        placements_table(plan, style),
        order_table(plan, style),
    ] {
        assert!(!table.rows.is_empty());
        assert!(table.rows.iter().all(|row| row.len() == table.header.len()), "{:?}", table.header);
        let distinct: std::collections::BTreeSet<_> = table.header.iter().collect();
        assert_eq!(distinct.len(), table.header.len());
    }
}

#[test]
fn the_order_that_is_put_out_is_taken_in_again_as_it_was_in_every_form() {
    let mut plan = plan();
    for (style, form) in forms() {
        plan.units = style.units;
        for table in [order_table(&plan, style), placements_table(&plan, style)] {
            let around = Surroundings { plan: &plan, catalogue: &catalogue().unwrap(), style };
            let taken = Intake::of(Kind::Order, &back(&table, form), &around, &Choices::default());
            let counts = taken.counts();
            // Masses in short tons come back as the nearest number with six decimals.
            let kept =
                counts.unchanged + if style.units == UnitSystem::UsCustomary { counts.changed } else { 0 };
            assert_eq!((kept, counts.refused, counts.new), (3, 0, 0), "{style:?}: {:?}", taken.rows);
            let outcome = match taken.outcome {
                Outcome::Nothing => plan.clone(),
                Outcome::Edit { edit, .. } => edit.apply(&plan).unwrap().plan,
                Outcome::Obstacle(why) => panic!("{why}"),
            };
            for (before, after) in plan.order.iter().zip(&outcome.order) {
                assert_eq!(
                    (&before.mark, before.length, before.side),
                    (&after.mark, after.length, after.side)
                );
                let kg = |mass| match mass {
                    MassEntry::Computed => 0.0,
                    MassEntry::Stated { kg, .. } => kg,
                };
                assert!((kg(before.mass) - kg(after.mass)).abs() < 0.001);
            }
        }
    }
}

#[test]
fn cells_are_the_figures_in_the_units_of_their_headers() {
    let figures = figures();
    let style = Style { units: UnitSystem::UsCustomary, ..Style::default() };
    let table = vehicles_table(&figures, style);
    let column = table.header.iter().position(|title| title == "Gross (short tons)").unwrap();
    let OutCell::Number(shown) = table.rows[0][column] else { panic!("no number") };
    // A short ton is 907.18474 kg (NIST Special Publication 811, appendix B.8).
    assert!((shown * 907.184_74 - figures.worked[0].vehicles[0].gross_kg).abs() < 1.0e-6);
    let strings = strings_table(&figures, Style::default());
    let column = strings.header.iter().position(|title| title == "Rear end (m)").unwrap();
    assert_eq!(strings.rows[0][column], OutCell::Number(30.501));
}

#[test]
fn a_string_in_the_yard_has_no_place_and_a_formula_is_guarded() {
    let plan = plan();
    let text = placements_table(&plan, Style::default()).csv(TableForm::default());
    let lines: Vec<&str> = text.lines().collect();
    assert!(lines[1].starts_with("'=S1,60E1,30.0010,,,"), "{}", lines[1]);
    assert!(lines[3].ends_with(",,,,,,,"), "{}", lines[3]);
    let mark: StringMark = "S3".parse().unwrap();
    assert_eq!(plan.string(&mark).map(|string| string.length), Some(Length::from_mm(18_250)));
}
