//! Text reports against hand-made findings and a small plan: words, units, widths.

use super::*;
use crate::checks::{Assessment, Check, Finding, Judge, Subject};
use crate::fixtures::{drop_off, empty_plan, place};
use crate::model::{Acceptance, Plan};
use crate::statics::{Figures, Scope};
use crate::text;
use crate::units::{DecimalMark, Quantity, Style, UnitSystem};
use std::sync::Arc;

pub(super) static AXLE: Check = Check {
    id: "test-axle",
    title: "Axle load",
    what: "compares",
    why: "matters",
    mend: "take strings off",
    source: "test",
    run: |_| {},
};

pub(super) static ORDER: Check = Check { id: "test-order", title: "Order complete", ..AXLE };

const US: Style = Style { units: UnitSystem::UsCustomary, decimal: DecimalMark::Point };

/// Two wagons, two strings, one drop that takes both off one after the other: departure and three states more.
pub(super) fn plan() -> Plan {
    let mut plan = empty_plan(2);
    place(&mut plan, "S1", 36_000, (1, 5, 2_000));
    place(&mut plan, "S2", 36_000, (1, 6, 2_000));
    plan.drops.push(drop_off("Eastmoor", &["S1", "S2"]));
    plan
}

pub(super) fn figures_of(plan: Plan) -> Figures {
    Figures::of(Arc::new(plan), Scope::All)
}

pub(super) fn findings(
    figures: &Figures,
    check: &'static Check,
    tell: impl Fn(&mut Judge<'_>),
) -> Vec<Finding> {
    let mut judge = Judge::new(check, figures);
    tell(&mut judge);
    judge.findings()
}

pub(super) fn assessed(mut findings: Vec<Finding>) -> Assessment {
    findings.sort_by_key(|finding| finding.outcome);
    Assessment { findings, state_uses: Vec::new(), by_state: Vec::new() }
}

/// An axle at `demand_kg` of at most 22.5 t in state 1, beside an order told as complete.
pub(super) fn at_axle_load(figures: &Figures, demand_kg: f64) -> Assessment {
    let mut told = findings(figures, &AXLE, |judge| {
        judge.source("plate of W1");
        judge.at_most(Some(1), Subject::Axle(0, 1), Quantity::mass(demand_kg), 22_500.0);
    });
    told.extend(findings(figures, &ORDER, |judge| judge.pass(None, Subject::Plan, text!["all placed"])));
    assessed(told)
}

/// The acceptance of what [`at_axle_load`] finds.
pub(super) fn axle_accepted() -> Acceptance {
    Acceptance {
        check: "test-axle".to_owned(),
        things: vec!["vehicle W1".to_owned(), "axle 2".to_owned()],
        by: "A. Planner".to_owned(),
        why: "weighed lighter".to_owned(),
        at: "2024-05-01".to_owned(),
        found: None,
    }
}

fn text_of(figures: &Figures, assessment: &Assessment, list: &[OnRequest]) -> String {
    let list = list.iter().copied().collect();
    check_report(figures, assessment, &CheckReportOptions { list, ..CheckReportOptions::default() })
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
    plan.accepted.push(axle_accepted());
    let figures = figures_of(plan);
    let assessment = at_axle_load(&figures, 23_000.0);
    let short = text_of(&figures, &assessment, &[]);
    let first = short.lines().next().unwrap();
    assert!(first.ends_with(" in any of 4 states, but for 1 accepted by name."), "{first}");
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
    assert!(!report.contains("      found"), "the lines above say it all: {report}");
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
        assert!(line.chars().count() <= 100, "{line}");
    }
}
