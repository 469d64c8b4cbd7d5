//! The JSON against the page that describes it, and its values against the figures.

use super::tests::{AXLE, ORDER, assessed, at_axle_load, axle_accepted, figures_of, findings, plan};
use super::*;
use crate::checks::{REGISTRY, Subject};
use crate::fixtures::{accelerations, drop_off, place, section_60e1, steel};
use crate::intake::{Choices, Intake, Kind, Surroundings};
use crate::model::{
    Accelerations, AsLoaded, Curve, GaugeLine, LimitKind, Plan, RackSpan, RailSection, SectionName,
    Signature, Source, Springs, Sureness, Topic, TrackSide, Weighing,
};
use crate::planning::Loaded;
use crate::planning::difference::{Difference, Worked};
use crate::planning::weighings::{Cause, Explanation, Weighed, explain};
use crate::statics::{Figures, Scope};
use crate::text;
use crate::units::{Length, Quantity, Style};
use crate::working::{Question, of, of_finding, questions};
use std::collections::BTreeSet;
use std::sync::Arc;

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
    // A null stands for a whole object, such as `findings[].demand`, or for a list of them; the fields are
    // described one by one.
    let stands_for = |path: &str, field: &str| {
        field.strip_prefix(path).is_some_and(|rest| rest.starts_with('.') || rest.starts_with("[]"))
    };
    let printed: BTreeSet<String> =
        found.into_iter().filter(|path| !documented.iter().any(|field| stands_for(path, field))).collect();
    assert_eq!(printed, documented, "{heading}");
}

/// Asks for every topic whose figures are printed, and enters what they need: also a string with racks beyond
/// both of its ends.
fn ask_for_all(plan: &mut Plan) {
    place(plan, "S4", 14_000, (3, 1, 5_000));
    plan.route.asked.extend([Topic::Creep, Topic::HoldForces, Topic::Braking]);
    plan.route.curves =
        vec![Curve { radius_m: 200.0, arc_m: None, transition_m: 0.0, cant_mm: None, speed_kmh: None }];
    plan.route.temperature_range_k = Some(40.0);
    plan.route.accelerations = Some(Accelerations { impact_m_per_s: Some(0.5), ..accelerations() });
    plan.route.braking_m_per_s2 = Some(1.2);
    plan.train.vehicle_types[0].braked_weight_kg = Some(30_000.0);
    plan.steels.push(steel());
    for string in &mut plan.order {
        string.steel = Some(steel().name);
    }
}

#[test]
fn every_field_of_the_json_is_described_and_every_described_field_is_printed() {
    let mut with_trouble = plan();
    place(&mut with_trouble, "S3", 3_000, (2, 1, 10_000));
    with_trouble.accepted.push(axle_accepted());
    ask_for_all(&mut with_trouble);
    let figures = figures_of(with_trouble);
    let (weighed, records) = recorded();
    let assessment = at_axle_load(&figures, 23_000.0);
    let check = check_json_with("p", &figures, &assessment, &records).unwrap();
    check_documented("check --json", &[check]);
    let more = [springs_asked(None), springs_asked(Some(4.0e6))].map(figures_of);
    let track = figures_of(track_asked());
    let unloading = unloading_figures();
    let all = [&figures, &more[0], &more[1], &track, &unloading];
    let documents = all.map(|figures| figures_json_with("p", figures, &records).unwrap());
    check_documented("figures --json", &documents);
    check_documented("loaded --json", &[loaded_told()]);
    check_documented("compare --json", &compared());
    let [twice] = weighings_told(&read_twice(&weighed), &records);
    let [once] = weighings_told(&weighed, &records);
    check_documented("weighings --json", &[once, twice]);
    check_documented("working --json", &[workings(&figures)]);
    let questions = questions(&figures);
    check_documented("working --list --json", &[questions_json("p", &figures, &questions).unwrap()]);
    check_documented("placements --json", &[placements_json("p", &laid()).unwrap()]);
    check_documented("order --json", &orders_told());
    check_documented("tidy --json", &[tidied_told()]);
    check_documented("a plan that could not be read", &[error_json("p", "no such file").unwrap()]);
}

/// A string that is meant to rest on a span of racks.
fn laid() -> Plan {
    let mut plan = plan();
    let hold = plan.placements[0].holds[0].clone();
    plan.placements[0].rests_on = Some(RackSpan { first: hold.clone(), last: hold });
    plan
}

/// A table with a row that changes a string and one that is refused.
fn orders_told() -> Vec<String> {
    let plan = plan();
    let mark = &plan.order[0].mark;
    let text = format!("mark,length m,note\n{mark},9,x\nN1,?,\n");
    let table = crate::format::read_table(text.as_bytes(), crate::format::Parting::AsFound).unwrap();
    let catalogue = crate::format::catalogue().unwrap();
    let around = Surroundings { plan: &plan, catalogue: &catalogue, style: Style::default() };
    let mut intake = Intake::of(Kind::Order, &table, &around, &Choices::default());
    intake.rows[1].notes.push("noted".to_owned());
    let end = IntakeEnd { saved: None, exit_code: 1 };
    vec![intake_json(("p", "t"), &plan, (&table, &intake), end).unwrap()]
}

fn tidied_told() -> String {
    let text = format!("{}// end", crate::format::write(&plan()));
    tidy_json("p", &crate::format::tidy(text.as_bytes()).unwrap(), None, 1).unwrap()
}

/// Two plans and two states.
fn compared() -> [String; 2] {
    let worked = |plan: Plan, scope| Worked::of(Arc::new(plan), scope);
    let mut after = plan();
    place(&mut after, "S3", 20_000, (2, 4, 1_000));
    after.placements[0].front = Length::from_mm(2_600);
    after.drops.push(drop_off("Far", &["S1"]));
    let told = |(one, two): (&Worked, &Worked), difference: Difference| {
        let before = Compared { label: "a", side: one.side() };
        let after = Compared { label: "b", side: two.side() };
        compare_json(&difference, (&before, &after), 1).unwrap()
    };
    let (one, two) = (worked(plan(), Scope::All), worked(after.clone(), Scope::All));
    let plans = told((&one, &two), Difference::of_plans(one.side(), two.side()));
    let (one, two) = (worked(after.clone(), Scope::One(0)), worked(after, Scope::One(1)));
    [plans, told((&one, &two), Difference::of_states(one.side(), two.side()))]
}

/// The plan of the command tests that was walked, weighed and signed.
fn recorded() -> (Weighed, Records) {
    let text = include_bytes!("../../tests/plans/three-flats-recorded.longstow");
    let plan = crate::format::read(text).unwrap();
    let loaded = Loaded::of(&plan);
    let records = Records::of(&plan, &loaded, Judged::AsLoaded);
    (Weighed::of(&Arc::new(loaded.plan)), records)
}

/// Every kind of difference.
fn loaded_told() -> String {
    let seen = |mark: &str, missing| AsLoaded {
        string: mark.parse().unwrap(),
        tier: 2,
        lane: 5,
        front: Length::from_mm(2_100),
        holds: Vec::new(),
        missing,
        by: "A. Yard".to_owned(),
        at: "Monday".to_owned(),
    };
    let mut plan = plan();
    place(&mut plan, "S3", 20_000, (1, 1, 0));
    place(&mut plan, "S4", 20_000, (1, 1, 0));
    place(&mut plan, "S5", 20_000, (1, 2, 0));
    plan.placements.remove(3);
    let held = AsLoaded { holds: plan.placements[0].holds.clone(), ..seen("S2", false) };
    plan.placements[1].holds.clear();
    plan.as_loaded = vec![seen("S1", false), held, seen("S3", true), seen("S4", false)];
    let hash = "0f".to_owned();
    plan.signatures.push(Signature { by: "A. Yard".to_owned(), at: "Monday".to_owned(), hash });
    let loaded = Loaded::of(&plan);
    let records = Records::of(&plan, &loaded, Judged::AsLoaded);
    loaded_json("p", &plan, &loaded, (&records, 1)).unwrap()
}

/// A search that tells of causes of all kinds.
/// The same with a second reading of its first part, which contradicts the first.
fn read_twice(weighed: &Weighed) -> Weighed {
    let mut plan = (*weighed.figures.plan).clone();
    let again = Weighing { kg: 2.0 * plan.weighings[0].kg, ..plan.weighings[0].clone() };
    plan.weighings.push(again);
    Weighed::of(&Arc::new(plan))
}

fn weighings_told(weighed: &Weighed, records: &Records) -> [String; 1] {
    let mut diagnosis = explain(weighed, |_, _| true).unwrap();
    let one = diagnosis.causes[0].clone();
    let causes = [
        Cause::Lane { string: 0, lane: 1, tiers: vec![1] },
        Cause::Shifted { string: 0, by: Length::ZERO },
        Cause::Mass { string: 0, factor: 1.5 },
        Cause::Tare { vehicle: 0, by_kg: 1.0 },
        Cause::Reading { reading: 0, expected_kg: 1.0 },
    ];
    diagnosis.causes = causes.map(|cause| Explanation { cause, ..one.clone() }).to_vec();
    [weighings_json("p", weighed, &diagnosis, (records, 1)).unwrap()]
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

/// The plan asking for curves, gauge and cant, with all that they need.
fn track_asked() -> Plan {
    let mut plan = plan();
    plan.route.asked = vec![Topic::Curves, Topic::Gauge, Topic::Cant];
    plan.route.curves = vec![Curve {
        radius_m: 190.0,
        arc_m: None,
        transition_m: 20.0,
        cant_mm: Some(60.0),
        speed_kmh: Some(40.0),
    }];
    plan.route.greatest_cant_mm = Some(150.0);
    let source = Source { text: "test".to_owned(), sure: Sureness::Entered };
    let points_mm = vec![(1_645.0, 0.0), (1_645.0, 4_000.0)];
    let name = "plain".to_owned();
    plan.route.gauge = Some(GaugeLine { name, points_mm, allowed_mm: Vec::new(), source });
    plan
}

/// The plan asking for springs of a rate, which may be missing, and for tolerances.
fn springs_asked(rate: Option<f64>) -> Plan {
    let mut plan = plan();
    plan.route.asked = vec![Topic::Springs, Topic::Tolerances];
    plan.train.vehicle_types[0].racks[0].height_offset_mm = 20.0;
    (plan.route.rack_height_tolerance_mm, plan.route.mass_tolerance) = (Some(2.0), Some(0.02));
    plan.train.vehicle_types[0].springs = rate.map(|rate| Springs {
        front_n_per_m: rate,
        rear_n_per_m: rate,
        roll_nm_per_rad: rate,
        frame_n_per_m: None,
        envelope: Some((0.8, 1.2)),
        spring_height_mm: None,
        sprung_tare_kg: None,
    });
    plan
}

#[test]
fn springs_and_tolerances_are_null_where_not_asked_and_name_the_types_without_rates() {
    let json = |plan: Plan| -> serde_json::Value {
        serde_json::from_str(&figures_json("p", &figures_of(plan)).unwrap()).unwrap()
    };
    let not_asked = json(plan());
    assert!(not_asked["springs"].is_null() && not_asked["tolerances"].is_null());
    for block in ["springs", "tolerances"] {
        assert_eq!(json(springs_asked(None))[block]["springs_missing"][0], "Flat");
    }
    let asked = json(springs_asked(Some(4.0e6)));
    let support = &asked["springs"]["states"][0]["vehicles"][0]["supports"][0];
    let level = &asked["states"][0]["vehicles"][0]["supports"][0];
    let of = |value: &serde_json::Value| value.as_f64().unwrap();
    let difference = of(&support["axle_kg"]) - of(&level["axle_kg"]);
    assert!((of(&support["against_level_kg"]) - difference).abs() < 1.0e-6 && difference.abs() > 1.0);
}

#[test]
fn the_text_tells_of_unloading_where_asked() {
    let style = Style::default();
    assert!(!figures_report(&figures_of(plan()), style).contains("Unloading, "));
    let asked = figures_report(&unloading_figures(), style);
    for words in ["drop Site, step 1", "over the racks", "section data missing", "time not known, possession"]
    {
        assert!(asked.contains(words), "\"{words}\" is not in\n{asked}");
    }
    assert!(asked.lines().all(|line| line.chars().count() <= 100), "{asked}");
}

#[test]
fn the_text_tells_of_springs_where_asked() {
    let text = |plan: Plan| figures_report(&figures_of(plan), Style::default());
    assert!(!text(plan()).contains("on springs, loads"));
    assert!(text(springs_asked(None)).contains("undecided, no spring rates are entered for Flat"));
    let asked = text(springs_asked(Some(4.0e6)));
    assert!(asked.contains("  on springs, loads in t, heave in mm"));
    assert!(asked.lines().all(|line| line.chars().count() <= 100), "{asked}");
}

/// The numbers of a field in a document, read as text by the standard library: a JSON reader may round.
fn numbers(document: &str, field: &str) -> Vec<f64> {
    let lines = document.lines().filter_map(|line| line.trim().strip_prefix(&format!("\"{field}\": ")));
    lines.map(|number| number.trim_end_matches(',').parse().unwrap()).collect()
}

#[test]
fn figures_written_piece_by_piece_are_the_same() {
    let figures = figures_of(plan());
    let mut written = Vec::new();
    write_figures_json(&mut written, "p", (&figures, &Records::default())).unwrap();
    assert_eq!(String::from_utf8(written).unwrap(), figures_json("p", &figures).unwrap());
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

#[test]
fn what_a_plan_does_not_ask_for_is_null() {
    let json = |plan| -> serde_json::Value {
        serde_json::from_str(&figures_json("p", &figures_of(plan)).unwrap()).unwrap()
    };
    let silent = json(plan());
    assert!(silent["strings"][0]["creep"].is_null() && silent["strings"][0]["holding"].is_null());
    let state = &silent["states"][0];
    assert!(state["holding_wagons"].is_null() && state["braked_weight_share"].is_null());
    let mut asking = plan();
    ask_for_all(&mut asking);
    let told = json(asking.clone());
    let figures = figures_of(asking);
    let out_m = figures.creep().strings[0].as_ref().unwrap()[1].over_last.out_m();
    let told_out_m = told["strings"][0]["creep"]["rear"]["over_last"]["out_m"].as_f64().unwrap();
    assert!(out_m > 0.0 && (told_out_m - out_m).abs() < 1e-12);
    // 2 x 30 t braked of two wagons of 24 t and 86 m of 60.21 kg/m.
    let share = told["states"][0]["braked_weight_share"].as_f64().unwrap();
    assert!((share - 60_000.0 / (48_000.0 + 86.0 * 60.21)).abs() < 1e-12);
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

// Each topic asked for has its table in the text as well, with the figures that JSON gives.
#[test]
fn the_text_has_a_table_for_each_topic_of_the_track_that_is_asked_for() {
    let heads = ["Strings in curves", "Outline of the load", "Wheel unloading on cant"];
    let text = |plan: Plan| figures_report(&figures_of(plan), Style::default());
    let (asked, bare) = (text(track_asked()), text(plan()));
    for head in heads {
        assert!(asked.contains(head) && !bare.contains(head), "{head}: {asked}");
    }
    let figures = figures_of(track_asked());
    let curves = figures.curves();
    let worst = curves.worst_peak(curves.class(0).unwrap()).unwrap();
    let moment = Quantity::moment(worst.peak.moment_nm).show_number(Style::default());
    let row = asked.lines().find(|line| line.contains(&curves.cases[worst.case].case.title())).unwrap();
    assert!(row.contains("string S1") && row.contains(&moment), "{row}");
    assert!(asked.lines().all(|line| line.chars().count() <= 100), "{asked}");
}

// Creep and holds as in JSON; undecided where nothing is entered.
#[test]
fn the_text_has_creep_and_holds() {
    let mut plan = plan();
    plan.route.asked = vec![Topic::Creep, Topic::HoldForces];
    let told = figures_report(&figures_of(plan.clone()), Style::default());
    assert!(told.contains("Creep of ends against their last rack"), "{told}");
    assert!(told.contains("Holds of strings") && told.contains("undecided: no accelerations"), "{told}");
    ask_for_all(&mut plan);
    let told = figures_report(&figures_of(plan), Style::default());
    assert!(!told.contains("undecided: no accelerations"), "{told}");
    assert!(told.lines().all(|line| line.chars().count() <= 100), "{told}");
}
