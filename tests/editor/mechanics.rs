//! Issue 3 in the window: how a figure came about, creep at the ends, springs that are entered by hand.

use crate::harness::{Editor, editor, editor_of_size, key, keys, rect_of, shot};
use crate::plans;
use egui::{Event, Key, Modifiers, Role, pos2, vec2};
use egui_kittest::kittest::Queryable as _;
use longstow::checks::{Finding, Outcome};
use longstow::gui::{FindingKey, Request, Tab};
use longstow::model::{Curve, Plan, Source, Steel, SteelName, Sureness, Topic};
use longstow::report::working_value;
use longstow::units::Style;
use longstow::working;

fn findings<'e>(editor: &'e Editor, check: &str) -> Vec<&'e Finding> {
    let findings = editor.state().document().assessment().findings.iter();
    findings.filter(|finding| finding.check.id == check).collect()
}

fn ask(editor: &mut Editor, request: Request) {
    editor.state_mut().ask(request);
    editor.run_steps(3);
}

fn click(editor: &mut Editor, label: &str) {
    editor.get_by_label(label).click();
    editor.run_steps(3);
}

#[test]
fn how_opens_the_working_of_a_finding_and_the_workings_behind_it() {
    let mut editor = editor(plans::small());
    let finding = findings(&editor, "axle-load")[0].clone();
    let figures = editor.state().document().figures();
    let expected = working::of_finding(figures, &finding).unwrap();
    let result = expected.result().unwrap();
    let value = working_value(result.value, Style::default());
    let title = expected.title.clone();
    let formulas: Vec<String> =
        expected.steps.iter().map(|step| format!("{} = {}", step.result.symbol, step.formula)).collect();
    let figure = format!("{} = {value}", result.symbol);

    ask(&mut editor, Request::ShowFinding(FindingKey::of(&finding)));
    click(&mut editor, "How? Load of an axle");
    assert!(editor.query_by_label(&title).is_some(), "{title}");
    for formula in &formulas {
        assert!(editor.query_all_by_label(formula).next().is_some(), "{formula}");
    }
    assert!(editor.query_by_label(&figure).is_some(), "{figure}");
    shot(&mut editor, "how");

    // On to the load of a rack that stands in the sum, and back.
    let behind = editor.get_all_by_label_contains("How? rack-load: ").next();
    behind.into_iter().for_each(|link| link.click());
    editor.run_steps(3);
    assert!(editor.query_by_label(&title).is_none());
    assert!(editor.query_by_label_contains("Load on a rack: vehicle ").is_some());
    click(&mut editor, "Back");
    assert!(editor.query_by_label(&title).is_some());
}

#[test]
fn a_string_is_asked_how_its_figures_came_about() {
    let mut editor = editor_of_size(plans::small(), 1600.0, 1200.0);
    click(&mut editor, "string A in the train side");
    click(&mut editor, "How? string A");
    click(&mut editor, "Weight per length of a string");
    assert!(editor.query_by_label("Weight per length of a string: string A").is_some());
}

/// Strings of a steel, in a wide curve, with slack and heat.
fn creeping() -> Plan {
    let mut plan = plans::small();
    let name = SteelName::new("R260").unwrap();
    plan.steels.push(Steel {
        name: name.clone(),
        modulus_gpa: 210.0,
        expansion_1e6_per_k: Some(11.5),
        density_kg_per_m3: None,
        tensile_mpa: None,
        yield_mpa: None,
        handling_mpa: None,
        source: Source { text: "an invented mill".to_owned(), sure: Sureness::Entered },
    });
    for string in &mut plan.order {
        string.steel = Some(name.clone());
    }
    plan.route.temperature_range_k = Some(40.0);
    plan.route.curves =
        vec![Curve { radius_m: 300.0, arc_m: None, transition_m: 0.0, cant_mm: None, speed_kmh: None }];
    plan.route.asked = vec![Topic::Creep];
    plan
}

/// What hovering at the front end of string A says.
fn hover_at_front_end(editor: &mut Editor) -> bool {
    let string = rect_of(editor, "string A in the train side");
    editor.hover_at(pos2(string.left() + 0.5, string.center().y));
    editor.run_steps(40);
    editor.query_by_label_contains("string A, front end: ").is_some()
        && editor.query_by_label_contains(", creeps ").is_some()
}

#[test]
fn an_end_shows_its_creep_where_the_plan_asks_for_it_and_only_there() {
    let mut asking = editor(creeping());
    assert!(hover_at_front_end(&mut asking));
    click(&mut asking, "string A in the train side");
    assert!(asking.query_by_label("Creep of its ends").is_some());
    shot(&mut asking, "creep");
    let mut silent = editor(plans::small());
    assert!(!hover_at_front_end(&mut silent));
    click(&mut silent, "string A in the train side");
    assert!(silent.query_by_label("Creep of its ends").is_none());
}

/// Types into a field.
fn enter(editor: &mut Editor, field: &str, words: &str) {
    editor.get_by_role_and_label(Role::TextInput, field).focus();
    editor.run_steps(2);
    keys(editor, Modifiers::COMMAND, Key::A);
    editor.event(Event::Text(words.to_owned()));
    key(editor, Key::Enter);
    editor.run_steps(2);
}

#[test]
fn spring_rates_that_are_entered_make_an_undecided_finding_decided() {
    let mut plan = plans::small();
    plan.route.asked = vec![Topic::Springs];
    let size = vec2(1900.0, 2600.0);
    let mut editor = editor_of_size(plan, size.x, size.y);
    let outcomes = |editor: &Editor| -> Vec<Outcome> {
        findings(editor, "springs-axle-load").iter().map(|finding| finding.outcome).collect()
    };
    assert_eq!(outcomes(&editor), [Outcome::Undecided]);
    ask(&mut editor, Request::ShowTab(Tab::Types));
    enter(&mut editor, "Spring rate of the front", "4000");
    enter(&mut editor, "Spring rate of the rear", "4000");
    assert_eq!(outcomes(&editor), [Outcome::Undecided], "two of three rates decide nothing");
    enter(&mut editor, "Roll stiffness of each", "4000");
    let springs = editor.state().document().plan().train.vehicle_types[0].springs.unwrap();
    for rate in [springs.front_n_per_m, springs.rear_n_per_m, springs.roll_nm_per_rad] {
        assert!((rate - 4.0e6).abs() < 1.0e-3, "kN/m are typed, N/m are kept: {rate}");
    }
    assert_eq!(outcomes(&editor), [Outcome::Pass]);
    enter(&mut editor, "Lowest and highest rates", "80; 120");
    let springs = editor.state().document().plan().train.vehicle_types[0].springs.unwrap();
    assert_eq!(springs.envelope, Some((0.8, 1.2)));
    ask(&mut editor, Request::ShowTab(Tab::Vehicles));
    assert!(editor.query_by_label("Axle, springs").is_some());
}
