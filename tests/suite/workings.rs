//! Every working is put to the test: its formula with its inputs gives the figure, on samples and random plans.

use crate::formula::reckon;
use crate::random_plans::random_plan;
use longstow::checks::{REGISTRY, assess};
use longstow::format;
use longstow::model::Plan;
use longstow::statics::{Figures, Scope};
use longstow::working::{Origin, Question, Working, figure_names, of, of_finding, questions};
use std::collections::BTreeSet;
use std::path::Path;
use std::sync::Arc;

/// Largest difference between formula and figure, as a share of the figure.
const SLACK: f64 = 1.0e-9;

/// Largest difference as a share of the terms, where they nearly cancel.
const ROUNDING: f64 = 1.0e-12;

/// Puts the inputs of every step into its formula, and follows results from step to step.
fn check_working(working: &Working) {
    assert!(!working.steps.is_empty() && !working.source.trim().is_empty(), "{}", working.title);
    for (nth, step) in working.steps.iter().enumerate() {
        let told = format!("{}: {} = {}", working.title, step.result.symbol, step.formula);
        let reckoned = reckon(step).unwrap_or_else(|fault| panic!("{told}: {fault}"));
        let figure = step.result.value.value;
        let off = (reckoned.value - figure).abs();
        let close = off <= SLACK * figure.abs() || off <= ROUNDING * reckoned.size;
        assert!(close || same(reckoned.value, figure), "{told} gives {}, not {figure}", reckoned.value);
        for input in &step.inputs {
            assert!(!input.meaning.trim().is_empty(), "{told}: {} has no meaning", input.symbol);
            if input.origin == Origin::Here {
                let earlier = working.steps[..nth].iter().find(|step| step.result.symbol == input.symbol);
                let value = earlier.map(|step| step.result.value);
                assert_eq!(value, Some(input.value), "{told}: {} is worked out nowhere", input.symbol);
            }
        }
    }
}

/// At rest a support's load by its spring is that by the racks.
fn check_springs_bear_it(working: &Working) {
    let value = |symbol: &str| {
        let step = working.steps.iter().find(|step| step.result.symbol == symbol)?;
        Some(step.result.value.value)
    };
    if let Some((by_spring, by_racks)) = value("Bs").zip(value("B")) {
        let off = (by_spring - by_racks).abs();
        assert!(off <= 1.0e-6 * by_racks.abs(), "{}: {by_spring} and {by_racks}", working.title);
    }
}

/// All questions that the workings of `figures` refer to can be answered, with the value that was put in.
fn check_references(figures: &Figures, state: Option<usize>, working: &Working) {
    for step in &working.steps {
        for input in &step.inputs {
            if let Origin::Figure(asked) = &input.origin {
                let value = value_of(figures, state, asked);
                assert!(same(value, input.value.value), "{}: {}", working.title, asked.address(figures));
            }
        }
        for row in step.table.iter().flat_map(|table| &table.rows) {
            if let Some(asked) = &row.figure {
                let value = value_of(figures, state, asked);
                assert!(same(value, row.values[0].value), "{}: {}", working.title, asked.address(figures));
            }
        }
    }
}

/// Whether two values are one to the last bit (both without bound, say).
fn same(one: f64, other: f64) -> bool {
    one.total_cmp(&other).is_eq()
}

/// The value of a figure; of a reaction the force or the mass is meant, and either may be put in.
fn value_of(figures: &Figures, state: Option<usize>, asked: &Question) -> f64 {
    let working = of(figures, state, asked).unwrap_or_else(|| panic!("{}", asked.address(figures)));
    working.result().unwrap().value.value
}

/// Checks all questions about a plan in the given states; tells which figures were answered.
fn check_plan(plan: Plan, states: impl Fn(usize) -> Vec<usize>) -> BTreeSet<&'static str> {
    let figures = Figures::of(Arc::new(plan), Scope::All);
    let mut answered = BTreeSet::new();
    for state in states(figures.states.len()) {
        for asked in questions(&figures) {
            if let Some(working) = of(&figures, Some(state), &asked) {
                check_working(&working);
                check_springs_bear_it(&working);
                check_references(&figures, Some(state), &working);
                answered.insert(asked.what);
            }
        }
    }
    check_findings(&figures);
    answered
}

/// Every finding that compares has a working that ends with what it compares.
fn check_findings(figures: &Figures) -> BTreeSet<&'static str> {
    let mut stateless = BTreeSet::new();
    let (mut compared, mut without) = (BTreeSet::new(), BTreeSet::new());
    for finding in assess(figures).findings {
        let Some(comparison) = finding.comparison else { continue };
        let place = format!("{}: {}", finding.check.id, finding.things.join(", "));
        let repeated =
            (place.clone(), comparison.demand.value.to_bits(), comparison.capacity.value.to_bits());
        if stateless.contains(&repeated) {
            continue; // The very same in another state.
        }
        let Some(working) = of_finding(figures, &finding) else {
            without.insert(finding.check.id);
            continue;
        };
        check_working(&working);
        if working.state.is_none() {
            stateless.insert(repeated);
        }
        let result = working.result().unwrap().value;
        assert_eq!(result.kind, comparison.demand.kind, "{place}");
        let (worked, demand) = (result.value, comparison.demand.value);
        let close = (worked - demand).abs() <= 1.0e-12 * demand.abs() || same(worked, demand);
        assert!(close, "{place}: {worked}, not {demand}");
        assert_eq!(working.limit.unwrap().comparison, comparison, "{place}");
        compared.insert(finding.check.id);
    }
    assert!(without.is_empty(), "findings of these checks compare numbers and have no working: {without:?}");
    compared
}

fn plan_files(folder: &str) -> Vec<Plan> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
    let files = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let mut files: Vec<_> =
        files.filter(|path| path.extension().is_some_and(|ending| ending == "longstow")).collect();
    files.sort();
    files.iter().map(|path| format::read(&std::fs::read(path).unwrap()).unwrap()).collect()
}

#[test]
fn every_comparison_of_the_samples_has_a_working_that_gives_it() {
    let mut plans = 0;
    for folder in ["sample-loads", "tests/plans", "tests/frozen"] {
        for plan in plan_files(folder) {
            check_findings(&Figures::of(Arc::new(plan), Scope::All));
            plans += 1;
        }
    }
    assert!(plans >= 8);
}

#[test]
fn every_formula_of_random_plans_gives_its_figure() {
    let mut answered = BTreeSet::new();
    let mut compared = BTreeSet::new();
    for seed in 1..=16 {
        let plan = random_plan(seed);
        compared.extend(check_findings(&Figures::of(Arc::new(plan.clone()), Scope::All)));
        answered.extend(check_plan(plan, |count| vec![0, count / 2, count - 1]));
    }
    // What is asked only by way of a finding.
    let by_finding = ["light-vehicle", "idler-clearance", "pocket-shared", "pocket-fit"];
    for (name, _) in figure_names() {
        assert!(answered.contains(name) || by_finding.contains(&name), "{name} was never answered");
    }
    let without_numbers = [
        "order-placed",
        "rack-lift-off",
        "held-once",
        "access",
        "pairs-alike",
        "wagon-gap",
        "springs-lift-off",
    ];
    for check in REGISTRY {
        let known = compared.contains(check.id) || without_numbers.contains(&check.id);
        assert!(known, "no random plan makes {} compare anything", check.id);
    }
}
