//! Reports against hand-made findings and a small plan: words, units, and the page that describes the JSON.

use super::*;
use crate::checks::{Assessment, Check, Finding, Judge, Subject};
use crate::fixtures::{drop_off, empty_plan, place};
use crate::model::{Acceptance, LimitKind, Plan};
use crate::statics::{Figures, Scope};
use crate::text;
use crate::units::{DecimalMark, Quantity, Style, UnitSystem};
use std::collections::BTreeSet;
use std::sync::Arc;

static AXLE: Check = Check {
    id: "test-axle",
    title: "Axle load",
    what: "compares",
    why: "matters",
    mend: "take strings off",
    source: "test",
    run: |_| {},
};

static ORDER: Check = Check { id: "test-order", title: "Order complete", ..AXLE };

const US: Style = Style { units: UnitSystem::UsCustomary, decimal: DecimalMark::Point };

/// Two wagons, two strings, one drop that takes both off one after the other: departure and three states more.
fn plan() -> Plan {
    let mut plan = empty_plan(2);
    place(&mut plan, "S1", 36_000, (1, 5, 2_000));
    place(&mut plan, "S2", 36_000, (1, 6, 2_000));
    plan.drops.push(drop_off("Eastmoor", &["S1", "S2"]));
    plan
}

fn figures_of(plan: Plan) -> Figures {
    Figures::of(Arc::new(plan), Scope::All)
}

fn findings(figures: &Figures, check: &'static Check, tell: impl Fn(&mut Judge<'_>)) -> Vec<Finding> {
    let mut judge = Judge::new(check, figures);
    tell(&mut judge);
    judge.findings()
}

fn assessed(mut findings: Vec<Finding>) -> Assessment {
    findings.sort_by_key(|finding| finding.outcome);
    Assessment { findings }
}

/// An axle at `demand_kg` of at most 22.5 t in state 1, beside an order told as complete.
fn at_axle_load(figures: &Figures, demand_kg: f64) -> Assessment {
    let mut told = findings(figures, &AXLE, |judge| {
        judge.source("plate of W1");
        judge.at_most(Some(1), Subject::Axle(0, 1), Quantity::mass(demand_kg), 22_500.0);
    });
    told.extend(findings(figures, &ORDER, |judge| judge.pass(None, Subject::Plan, text!["all placed"])));
    assessed(told)
}

fn text_of(figures: &Figures, assessment: &Assessment, list: &[OnRequest]) -> String {
    let list = list.iter().copied().collect();
    check_report(figures, assessment, &CheckReportOptions { style: Style::default(), list })
}

#[test]
fn the_verdict_line_comes_first_and_counts_what_is_open() {
    let figures = figures_of(plan());
    let states = figures.states.len();
    let check = |assessment: &Assessment, expected: &str, code: u8| {
        let report = text_of(&figures, assessment, &[]);
        assert_eq!(report.lines().next().unwrap(), expected);
        assert_eq!(exit_code(assessment.verdict()), code);
    };
    assert_eq!(states, 4);
    check(&at_axle_load(&figures, 22_500.0), "No entered limit is broken in any of 4 states.", 0);
    check(&at_axle_load(&figures, 22_501.0), "1 limit is broken, in 4 states.", 1);
    let missing = findings(&figures, &AXLE, |judge| {
        judge.undecided(Subject::Vehicle(0), text!["axle rating"]);
        judge.undecided(Subject::Vehicle(1), text!["axle rating"]);
    });
    check(&assessed(missing), "2 things are undecided and no entered limit is broken, in 4 states.", 3);
}

#[test]
fn an_accepted_fail_is_told_in_the_verdict_and_listed_on_request() {
    let mut plan = plan();
    plan.accepted.push(Acceptance {
        check: "test-axle".to_owned(),
        things: vec!["vehicle W1".to_owned(), "axle 2".to_owned()],
        by: "A. Planner".to_owned(),
        why: "weighed lighter".to_owned(),
        at: "2024-05-01".to_owned(),
    });
    let figures = figures_of(plan);
    let assessment = at_axle_load(&figures, 23_000.0);
    let short = text_of(&figures, &assessment, &[]);
    let first = short.lines().next().unwrap();
    assert!(first.ends_with("without being accepted. 1 broken limit was accepted by name."), "{first}");
    assert!(!short.contains("weighed lighter"));
    let long = text_of(&figures, &assessment, &[OnRequest::Accepted]);
    assert!(long.contains("by A. Planner, 2024-05-01: weighed lighter"));
    assert_eq!(exit_code(assessment.verdict()), 0);
}

#[test]
fn a_finding_tells_place_demand_capacity_margin_states_mend_and_source() {
    let figures = figures_of(plan());
    let report = text_of(&figures, &at_axle_load(&figures, 23_400.0), &[]);
    for line in [
        "  Axle load [test-axle]",
        "      place       vehicle W1, axle 2",
        "      demand      23.40 t",
        "      capacity    at most 22.50 t",
        "      margin      broken by 0.90 t, 104 % used",
        "      mend        take strings off",
        "      limit from  plate of W1",
    ] {
        assert!(report.lines().any(|told| told == line), "{line}\nis not in\n{report}");
    }
    assert!(report.contains("states      state 1 ("), "{report}");
}

#[test]
fn a_limit_broken_by_less_than_the_digits_show_still_says_by_how_much() {
    let figures = figures_of(plan());
    let report = text_of(&figures, &at_axle_load(&figures, 22_500.5), &[]);
    assert!(report.contains("broken by 5.00e-1 kg"), "{report}");
}

#[test]
fn figures_are_told_in_the_units_of_the_style() {
    let figures = figures_of(plan());
    let options = CheckReportOptions { style: US, ..CheckReportOptions::default() };
    let report = check_report(&figures, &at_axle_load(&figures, 23_400.0), &options);
    // 23,400 kg / 907.18474 kg per short ton (NIST Special Publication 811).
    assert!(report.contains("demand      25.79 short tons"), "{report}");
    assert!(!report.contains("23.40 t"));
    let us = figures_report(&figures, US);
    assert!(us.contains("short tons") && us.contains(" ft"));
}

#[test]
fn what_passes_and_what_was_not_asked_is_listed_on_request_only() {
    let figures = figures_of(plan());
    let mut told =
        findings(&figures, &AXLE, |judge| judge.not_asked(text!["the plan does not ask for this"]));
    told.extend(findings(&figures, &ORDER, |judge| judge.pass(None, Subject::Plan, text!["all placed"])));
    let assessment = assessed(told);
    let short = text_of(&figures, &assessment, &[]);
    assert!(short.contains("1 pass, 0 not applicable, 1 not asked."), "{short}");
    assert!(!short.contains("all placed") && !short.contains("does not ask"));
    let long = text_of(&figures, &assessment, &OnRequest::ALL);
    assert!(long.contains("      found       all placed"), "{long}");
    assert!(long.ends_with("Axle load [test-axle]: the plan does not ask for this\n"), "{long}");
}

#[test]
fn no_report_says_that_a_train_is_safe_or_may_run() {
    let figures = figures_of(plan());
    let report = text_of(&figures, &at_axle_load(&figures, 1.0), &OnRequest::ALL).to_lowercase();
    for word in ["safe", "may run", "may go", "may leave", "approved", "fit to"] {
        assert!(!report.contains(word), "{word}");
    }
    assert!(report.contains("releases no train"));
}

#[test]
fn reports_keep_to_their_width() {
    let figures = figures_of(plan());
    let reports = [
        text_of(&figures, &at_axle_load(&figures, 23_400.0), &OnRequest::ALL),
        figures_report(&figures, Style::default()),
        figures_report(&figures, US),
    ];
    for line in reports.iter().flat_map(|report| report.lines()) {
        assert!(line.chars().count() <= 112, "{line}");
    }
}

/// The fields of one section of `JSON.md`.
fn documented(heading: &str) -> BTreeSet<String> {
    let page = include_str!("JSON.md");
    let section = page.split("\n## ").find(|section| section.starts_with(heading)).unwrap();
    let fields = section.lines().filter_map(|line| line.strip_prefix("| `")?.split_once('`'));
    fields.map(|(field, _)| field.to_owned()).collect()
}

/// The paths of all values in a document that are no objects or arrays; nulls count too.
fn paths(value: &serde_json::Value, at: &str, found: &mut BTreeSet<String>) {
    match value {
        serde_json::Value::Object(fields) => {
            for (name, value) in fields {
                let dot = if at.is_empty() { "" } else { "." };
                paths(value, &format!("{at}{dot}{name}"), found);
            }
        }
        serde_json::Value::Array(values) => {
            values.iter().for_each(|value| paths(value, &format!("{at}[]"), found));
        }
        _ => {
            found.insert(at.to_owned());
        }
    }
}

fn check_documented(heading: &str, documents: &[String]) {
    let mut found = BTreeSet::new();
    for document in documents {
        paths(&serde_json::from_str(document).unwrap(), "", &mut found);
    }
    let documented = documented(heading);
    assert!(!documented.is_empty());
    // A null stands for a whole object, such as `findings[].demand`; its fields are described one by one.
    let printed: BTreeSet<String> = found
        .into_iter()
        .filter(|path| !documented.iter().any(|field| field.starts_with(&format!("{path}."))))
        .collect();
    assert_eq!(printed, documented, "{heading}");
}

#[test]
fn every_field_of_the_json_is_described_and_every_described_field_is_printed() {
    let mut with_trouble = plan();
    place(&mut with_trouble, "S3", 3_000, (2, 1, 10_000));
    with_trouble.accepted.push(Acceptance {
        check: "test-axle".to_owned(),
        things: vec!["vehicle W1".to_owned(), "axle 2".to_owned()],
        by: "A. Planner".to_owned(),
        why: "weighed lighter".to_owned(),
        at: "2024-05-01".to_owned(),
    });
    let figures = figures_of(with_trouble);
    let check = check_json("p", &figures, &at_axle_load(&figures, 23_000.0)).unwrap();
    check_documented("check --json", &[check]);
    check_documented("figures --json", &[figures_json("p", &figures).unwrap()]);
    check_documented("a plan that could not be read", &[error_json("p", "no such file").unwrap()]);
}

/// The numbers of a field in a document, read as text by the standard library: a JSON reader may round.
fn numbers(document: &str, field: &str) -> Vec<f64> {
    let lines = document.lines().filter_map(|line| line.trim().strip_prefix(&format!("\"{field}\": ")));
    lines.map(|number| number.trim_end_matches(',').parse().unwrap()).collect()
}

#[test]
fn json_values_come_back_bit_for_bit() {
    let figures = figures_of(plan());
    let json = figures_json("p", &figures).unwrap();
    let reactions =
        figures.placed.iter().flat_map(|placed| placed.beam.as_ref().unwrap().reactions_n.clone());
    assert_eq!(bits(numbers(&json, "reaction_n")), bits(reactions.collect()));
    let trains = figures.worked.iter().map(|worked| worked.train_kg);
    assert_eq!(bits(numbers(&json, "train_kg")), bits(trains.collect()));
}

fn bits(values: Vec<f64>) -> Vec<u64> {
    assert!(!values.is_empty());
    values.into_iter().map(f64::to_bits).collect()
}

#[test]
fn a_use_without_bound_is_null_and_a_missing_limit_is_named() {
    let figures = figures_of(plan());
    let mut told = findings(&figures, &AXLE, |judge| {
        judge.at_most(
            Some(0),
            Subject::Wheel(0, 0, crate::model::TrackSide::Left),
            Quantity::ratio(f64::INFINITY),
            1.25,
        );
    });
    told.extend(findings(&figures, &ORDER, |judge| {
        judge.undecided(Subject::Limit(LimitKind::Sag), text!["no limit is entered"]);
    }));
    let json: serde_json::Value =
        serde_json::from_str(&check_json("p", &figures, &assessed(told)).unwrap()).unwrap();
    let unbound = &json["findings"][0];
    assert!(unbound["utilisation"].is_null() && unbound["demand"]["value"].is_null());
    assert_eq!(unbound["capacity"]["value"], 1.25);
    assert_eq!(json["findings"][1]["things"][0], "limit sag");
    assert_eq!(json["exit_code"], 1);
}

#[test]
fn several_documents_are_one_array_in_the_order_given() {
    let documents = ["a", "b"].map(|label| error_json(label, "bad").unwrap());
    let json: serde_json::Value = serde_json::from_str(&json_list(&documents)).unwrap();
    assert_eq!([&json[0]["file"], &json[1]["file"]], ["a", "b"]);
}
