//! The JSON against the page that describes it, and its values against the figures.

use super::tests::{AXLE, ORDER, assessed, at_axle_load, axle_accepted, figures_of, findings, plan};
use super::*;
use crate::checks::{REGISTRY, Subject};
use crate::fixtures::{drop_off, place, section_60e1};
use crate::model::{LimitKind, RailSection, SectionName, Topic, TrackSide};
use crate::statics::Figures;
use crate::text;
use crate::units::{Length, Quantity};
use crate::working::{Question, of, of_finding, questions};
use std::collections::BTreeSet;

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
    with_trouble.accepted.push(axle_accepted());
    let figures = figures_of(with_trouble);
    let check = check_json("p", &figures, &at_axle_load(&figures, 23_000.0)).unwrap();
    check_documented("check --json", &[check]);
    check_documented("figures --json", &[figures_json("p", &unloading_figures()).unwrap()]);
    check_documented("working --json", &[workings(&figures)]);
    let questions = questions(&figures);
    check_documented("working --list --json", &[questions_json("p", &figures, &questions).unwrap()]);
    check_documented("a plan that could not be read", &[error_json("p", "no such file").unwrap()]);
}

/// The figures of a plan that asks for unloading, with one string in trouble and one drop over a chute.
fn unloading_figures() -> Figures {
    let mut plan = plan();
    place(&mut plan, "S3", 3_000, (2, 1, 10_000));
    plan.route.asked.push(Topic::Unloading);
    let mut drop = drop_off("Site", &["S1"]);
    (drop.chute_height, drop.seat_offset) = (Some(Length::from_mm(900)), Some(Length::from_mm(300)));
    plan.drops.push(drop);
    let mut lacking = drop_off("Far site", &["S2"]);
    lacking.chute_height = Some(Length::from_mm(900));
    plan.drops.push(lacking);
    plan.sections[0].wx_head_cm3 = None;
    let whole = RailSection { name: SectionName::new("whole").unwrap(), ..section_60e1() };
    plan.sections.push(whole);
    plan.order[0].section = SectionName::new("whole").unwrap();
    figures_of(plan)
}

/// The workings of a finding and of a figure with a note.
fn workings(figures: &Figures) -> String {
    let check = REGISTRY.iter().find(|check| check.id == "axle-load").unwrap();
    let findings = findings(figures, check, |judge| {
        judge.at_most(Some(0), Subject::Support(0, 0), Quantity::mass(axle_kg(figures)), 22_500.0);
    });
    let of_finding = of_finding(figures, &findings[0]).unwrap();
    let ratio = Question::new("wheel-load", Subject::Support(0, 0));
    working_json("p", figures, &[of_finding, of(figures, Some(0), &ratio).unwrap()]).unwrap()
}

fn axle_kg(figures: &Figures) -> f64 {
    figures.worked[0].vehicles[0].supports[0].axle_kg
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
        judge.at_most(Some(0), Subject::Wheel(0, 0, TrackSide::Left), Quantity::ratio(f64::INFINITY), 1.25);
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
