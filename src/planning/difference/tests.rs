//! Each kind of edit is told of by the thing and by what of it, and each difference reads backwards as well.

use super::{
    Change, ChangeKind, Difference, FigureKind, FigurePlace, Side, Turn, Worked, plan_changes, state_like,
};
use crate::checks::Outcome;
use crate::edit::{Edit, Locked, Move, Rows, StepPlace, TrainSettings};
use crate::fixtures::{drop_off, empty_plan, limit, place, reference_rack, reference_wagon, steel, vehicle};
use crate::model::{
    Acceptance, DropName, LimitKind, OrderTable, Placement, Plan, RackRef, RackSpan, SectionName, Signature,
    StringMark, TrackSide, VehicleMark, WeighedPart, Weighing,
};
use crate::statics::Scope;
use crate::units::{DecimalMark, Length, Style, UnitSystem};
use std::sync::Arc;

/// Three flats; S1, S2 and S3 on them, S4 in the yard; two drops; a record of each kind.
fn plan() -> Plan {
    let mut plan = empty_plan(3);
    place(&mut plan, "S1", 36_000, (1, 1, 2_000));
    place(&mut plan, "S2", 36_000, (1, 10, 2_000));
    place(&mut plan, "S3", 16_000, (2, 4, 42_000));
    place(&mut plan, "S4", 20_000, (2, 5, 2_000));
    plan.placements.pop();
    plan.drops = vec![drop_off("Far", &["S1", "S2"]), drop_off("Near", &["S3"])];
    plan.weighings = vec![reading("W1", 12_000.0)];
    plan.accepted = vec![acceptance("S1")];
    plan.signatures = vec![signature("A. Yard")];
    let confirm = Edit::ConfirmAsPlanned { strings: vec![mark("S2")], by: "A. Yard".to_owned(), at: day() };
    confirm.apply(&plan).unwrap().plan
}

fn mark(text: &str) -> StringMark {
    text.parse().unwrap()
}

fn wagon(text: &str) -> VehicleMark {
    text.parse().unwrap()
}

fn day() -> String {
    "Monday".to_owned()
}

fn reading(vehicle: &str, kg: f64) -> Weighing {
    let (vehicle, part) = (wagon(vehicle), WeighedPart::Axle(1));
    Weighing { vehicle, part, kg, tolerance: Some(0.01), by: "A. Yard".to_owned(), at: day() }
}

fn acceptance(string: &str) -> Acceptance {
    Acceptance {
        check: "least-overhang".to_owned(),
        things: vec![format!("string {string}")],
        by: "A. Planner".to_owned(),
        why: "measured".to_owned(),
        at: day(),
        found: None,
    }
}

fn signature(by: &str) -> Signature {
    Signature { by: by.to_owned(), at: day(), hash: "0f".to_owned() }
}

/// An edit, and the thing and the aspect by which the difference that it makes is named.
type Sample = (Edit, &'static str, &'static str);

fn load_edits(plan: &Plan) -> Vec<Sample> {
    let moves = vec![Move { string: mark("S1"), tier: 1, lane: 1, front: Length::from_mm(2_400) }];
    let placement = Placement { string: mark("S4"), tier: 5, lane: 5, ..plan.placements[0].clone() };
    let holds = vec![RackRef { vehicle: wagon("W1"), rack: 3 }];
    let at = |rack| RackRef { vehicle: wagon("W1"), rack };
    let rests_on = Some(RackSpan { first: at(1), last: at(2) });
    vec![
        (Edit::Place { placement }, "string S4", "on the train"),
        (Edit::TakeOff { strings: vec![mark("S3")] }, "string S3", "on the train"),
        (Edit::Move { moves }, "string S1", "front end"),
        (Edit::SwapPockets { first: mark("S1"), second: mark("S2") }, "string S2", "pocket"),
        (Edit::SetHolds { string: mark("S1"), holds }, "string S1", "held at"),
        (Edit::SetRestsOn { string: mark("S1"), rests_on }, "string S1", "meant to rest on"),
        (Edit::SetLocked { strings: vec![mark("S2")], locked: Locked::Yes }, "string S2", "locked"),
    ]
}

fn row_edits(plan: &Plan) -> Vec<Sample> {
    let name = |text: &str| -> SectionName { text.parse().unwrap() };
    let ordered = |change: fn(&mut crate::model::OrderedString)| {
        let mut to = plan.order[0].clone();
        change(&mut to);
        Edit::Strings(Rows::Change { name: mark("S1"), to })
    };
    let mut kind = reference_wagon();
    kind.tare_kg = 25_000.0;
    let mut rack = reference_rack();
    rack.rack_rating_kg = None;
    let mut section = plan.sections[0].clone();
    section.mass_kg_per_m = 61.0;
    let mut drop = plan.drops[0].clone();
    drop.place = "km 12".to_owned();
    let from = StepPlace { drop: plan.drops[0].name.clone(), step: 0 };
    let to = StepPlace { drop: plan.drops[1].name.clone(), step: 1 };
    // Of two drops either may be said to have moved when they change places.
    let far: DropName = plan.drops[0].name.clone();
    vec![
        (ordered(|to| to.length = Length::from_mm(35_000)), "string S1", "length"),
        (ordered(|to| to.side = Some(TrackSide::Left)), "string S1", "side of the track"),
        (Edit::Strings(Rows::Move { name: mark("S4"), to: 0 }), "string S4", "place in the order"),
        (Edit::Vehicles(Rows::Add { at: None, row: vehicle("W9", "Flat") }), "vehicle W9", "in the train"),
        (Edit::Turn { vehicles: vec![wagon("W2")] }, "vehicle W2", "turned round"),
        (Edit::VehicleTypes(Rows::Change { name: kind.name.clone(), to: kind }), "vehicle type Flat", "tare"),
        (
            Edit::RackTypes(Rows::Change { name: rack.name.clone(), to: rack }),
            "rack type Rack 5 x 10",
            "rack rating",
        ),
        (Edit::Sections(Rows::Change { name: name("60E1"), to: section }), "section 60E1", "mass"),
        (Edit::Steels(Rows::Add { at: None, row: steel() }), "steel R260", "described"),
        (Edit::Drops(Rows::Change { name: far.clone(), to: drop }), "drop Far", "place"),
        (Edit::Drops(Rows::Move { name: far, to: 1 }), "drop Near", "place among the drops"),
        (Edit::MoveStep { from, to }, "string S1", "unloading step"),
    ]
}

fn setting_edits(plan: &Plan) -> Vec<Sample> {
    let train = &plan.train;
    let settings = TrainSettings {
        coupling_slack: None,
        front_beyond: train.front_beyond,
        rear_beyond: train.rear_beyond,
        lane_rule: train.lane_rule,
    };
    let mut route = plan.route.clone();
    route.speed_kmh = Some(80.0);
    let table = OrderTable { decimal: Some(DecimalMark::Comma), columns: Vec::new() };
    let by = "B. Planner".to_owned();
    let sag = LimitKind::Sag;
    vec![
        (Edit::SetTrainSettings(settings), "train", "coupling slack"),
        (Edit::SetRoute { route: Box::new(route) }, "route", "speed"),
        (Edit::SetLimit { kind: sag, limit: None }, "limit sag", "entered"),
        (
            Edit::AdoptLimits { limits: vec![(sag, limit(0.03))], by: by.clone() },
            "limit sag",
            "running value",
        ),
        (Edit::AcceptLimits { kinds: vec![sag], by }, "limit sag", "accepted by"),
        (Edit::SetNearShare { share: Some(0.9) }, "plan", "near from"),
        (Edit::SetTitle { title: "Other".to_owned() }, "plan", "title"),
        (Edit::SetNotes { notes: "Note".to_owned() }, "plan", "notes"),
        (Edit::SetOrderTable { table }, "plan", "decimal mark of the order's table"),
        (Edit::SetUnits { units: UnitSystem::UsCustomary }, "plan", "units"),
    ]
}

fn record_edits(plan: &Plan) -> Vec<Sample> {
    let accepted = "least overhang: string S1";
    let unaccept =
        Edit::Unaccept { check: "least-overhang".to_owned(), things: vec!["string S1".to_owned()] };
    let mut moved = plan.as_loaded[0].clone();
    moved.front = Length::from_mm(2_300);
    let confirm = Edit::ConfirmAsPlanned { strings: vec![mark("S1")], by: "A. Yard".to_owned(), at: day() };
    let title = Edit::SetTitle { title: "Both".to_owned() };
    vec![
        (Edit::Accept { acceptance: acceptance("S3") }, "least overhang: string S3", "accepted finding"),
        (unaccept, accepted, "accepted finding"),
        (Edit::RecordAsLoaded { records: vec![moved] }, "string S2", "front end as loaded"),
        (confirm, "string S1", "as loaded"),
        (Edit::RemoveAsLoaded { strings: vec![mark("S2")] }, "string S2", "as loaded"),
        (Edit::AddWeighings { readings: vec![reading("W2", 9_000.0)] }, "vehicle W2", "weighed"),
        (Edit::ChangeWeighing { at: 0, to: reading("W1", 9_000.0) }, "vehicle W1", "reading of axle 1"),
        (Edit::RemoveWeighings { at: vec![0] }, "vehicle W1", "weighed"),
        (Edit::Sign { signature: signature("B. Yard") }, "signature of B. Yard", "signed"),
        (Edit::RemoveSignature { at: 0 }, "signature of A. Yard", "signed"),
        (Edit::Batch { label: "Both".to_owned(), edits: vec![title] }, "plan", "title"),
    ]
}

/// Numbers the kinds of edits from 0: a new kind must get a number here, and with it a sample above.
fn kind_of(edit: &Edit) -> usize {
    match edit {
        Edit::Place { .. } => 0,
        Edit::TakeOff { .. } => 1,
        Edit::Move { .. } => 2,
        Edit::SwapPockets { .. } => 3,
        Edit::SetHolds { .. } => 4,
        Edit::SetRestsOn { .. } => 5,
        Edit::SetLocked { .. } => 6,
        Edit::Strings(_) => 7,
        Edit::Vehicles(_) => 8,
        Edit::Turn { .. } => 9,
        Edit::VehicleTypes(_) => 10,
        Edit::RackTypes(_) => 11,
        Edit::Sections(_) => 12,
        Edit::Steels(_) => 13,
        Edit::Drops(_) => 14,
        Edit::MoveStep { .. } => 15,
        Edit::SetTrainSettings(_) => 16,
        Edit::SetRoute { .. } => 17,
        Edit::SetLimit { .. } => 18,
        Edit::AdoptLimits { .. } => 19,
        Edit::AcceptLimits { .. } => 20,
        Edit::SetNearShare { .. } => 21,
        Edit::SetTitle { .. } => 22,
        Edit::SetNotes { .. } => 23,
        Edit::SetOrderTable { .. } => 24,
        Edit::SetUnits { .. } => 25,
        Edit::Accept { .. } => 26,
        Edit::Unaccept { .. } => 27,
        Edit::RecordAsLoaded { .. } => 28,
        Edit::ConfirmAsPlanned { .. } => 29,
        Edit::RemoveAsLoaded { .. } => 30,
        Edit::AddWeighings { .. } => 31,
        Edit::ChangeWeighing { .. } => 32,
        Edit::RemoveWeighings { .. } => 33,
        Edit::Sign { .. } => 34,
        Edit::RemoveSignature { .. } => 35,
        Edit::Batch { .. } => 36,
    }
}
const KINDS: usize = 37;

#[test]
fn each_kind_of_edit_makes_a_difference_that_names_it() {
    let plan = plan();
    let samples = [load_edits(&plan), row_edits(&plan), setting_edits(&plan), record_edits(&plan)].concat();
    let mut seen = [false; KINDS];
    for (edit, thing, aspect) in samples {
        let after = edit.apply(&plan).unwrap_or_else(|error| panic!("{}: {error}", edit.label())).plan;
        assert_ne!(after, plan, "{}", edit.label());
        let changes = plan_changes(&plan, &after);
        let told = changes.iter().any(|change| change.thing.name() == thing && change.aspect == aspect);
        assert!(told, "{}: {thing}, {aspect} is not in {changes:?}", edit.label());
        expect_mirrored(&changes, &plan_changes(&after, &plan));
        seen[kind_of(&edit)] = true;
    }
    assert!(seen.iter().all(|seen| *seen), "{seen:?}");
}

/// That `back` says of each thing the same with the sides exchanged.
fn expect_mirrored(there: &[Change], back: &[Change]) {
    let row = |change: &Change, turned: bool| {
        let show = |text: &Option<crate::units::Text>| text.as_ref().map(|text| text.show(Style::default()));
        let (one, two) = (show(&change.before), show(&change.after));
        let (one, two) = if turned { (two, one) } else { (one, two) };
        let by = change.by.map(|by| if turned { -by.value } else { by.value });
        (change.topic, change.thing.clone(), change.aspect.clone(), one, two, by.map(|by| (by * 1e6).round()))
    };
    let sorted = |changes: &[Change], turned: bool| {
        let mut rows: Vec<String> =
            changes.iter().map(|change| format!("{:?}", row(change, turned))).collect();
        // Zero has two signs.
        rows.iter_mut().for_each(|row| *row = row.replace("-0.0", "0.0"));
        rows.sort();
        rows
    };
    assert_eq!(sorted(there, false), sorted(back, true));
}

fn worked(plan: &Plan, scope: Scope) -> Worked {
    Worked::of(Arc::new(plan.clone()), scope)
}

fn between(before: &Plan, after: &Plan) -> Difference {
    let (one, two) = (worked(before, Scope::All), worked(after, Scope::All));
    Difference::of_plans(one.side(), two.side())
}

#[test]
fn a_plan_does_not_differ_from_itself() {
    let difference = between(&plan(), &plan());
    assert!(difference.is_empty(), "{difference:?}");
    let one = worked(&plan(), Scope::One(1));
    assert!(Difference::of_states(one.side(), one.side()).is_empty());
}

/// The plan with S1 moved rearward, so that its front end stands on its first rack and overhangs no more.
fn shifted() -> Plan {
    let moves = vec![Move { string: mark("S1"), tier: 1, lane: 1, front: Length::from_mm(3_200) }];
    Edit::Move { moves }.apply(&plan()).unwrap().plan
}

#[test]
fn what_is_newly_broken_comes_first_and_is_mended_the_other_way() {
    let (there, back) = (between(&plan(), &shifted()), between(&shifted(), &plan()));
    let first = &there.findings[0];
    assert_eq!((first.turn, first.check.id), (Turn::Broken, "least-overhang"), "{:?}", there.findings);
    assert_eq!(first.things, ["string S1", "front end"]);
    assert_eq!(first.after.outcome, Some(Outcome::Fail));
    assert_eq!(there.count(Turn::Broken), back.count(Turn::Mended));
    assert!(there.findings.is_sorted_by_key(|change| change.turn));
    let turns = |difference: &Difference| {
        let rows = difference.findings.iter().map(|change| (change.check.id, change.turn));
        rows.collect::<Vec<_>>()
    };
    let mut mirrored: Vec<_> = turns(&back).into_iter().map(|(check, turn)| (check, turn.back())).collect();
    let mut told = turns(&there);
    mirrored.sort();
    told.sort();
    assert_eq!(told, mirrored);
}

// S1 is 36 m of 60.21 kg/m, 2,167.6 kg. Its middle moves 1.2 m back; the row weighs the same as a whole.
#[test]
fn loads_are_compared_by_mark_with_what_became_worse_first() {
    let (there, back) = (between(&plan(), &shifted()), between(&shifted(), &plan()));
    assert!(there.figures.iter().all(|change| change.kind != FigureKind::TrainMass), "the mass stays");
    let payload = |difference: &Difference, vehicle: &str| {
        let place = FigurePlace::Vehicle(wagon(vehicle));
        let mut found =
            difference.figures.iter().filter(|c| c.kind == FigureKind::Payload && c.place == place);
        found.next().and_then(|change| change.by()).map_or(0.0, |by| by.value)
    };
    let moved = payload(&there, "W2");
    assert!(moved > 10.0 && (payload(&there, "W1") + moved).abs() < 1e-6, "{moved}");
    assert!((payload(&back, "W2") + moved).abs() < 1e-9);
    let growths: Vec<f64> = there.figures.iter().map(|change| change.growth()).collect();
    assert!(growths.is_sorted_by(|a, b| a >= b), "{growths:?}");
}

#[test]
fn a_vehicle_that_stands_elsewhere_is_known_by_its_mark() {
    let ahead = Edit::Vehicles(Rows::Add { at: Some(0), row: vehicle("W0", "Flat") });
    let after = ahead.apply(&plan()).unwrap().plan;
    let difference = between(&plan(), &after);
    let gone: Vec<_> = difference.figures.iter().filter(|change| change.after.is_none()).collect();
    assert!(gone.is_empty(), "{gone:?}");
    let new = difference.figures.iter().filter(|change| change.before.is_none());
    assert!(new.map(|change| change.place.name()).all(|name| name.starts_with("vehicle W0")));
    let moved = difference.changes.iter().find(|change| change.thing.name() == "string S1").unwrap();
    // The string went along with its wagon, 19.9 m back.
    assert!((moved.by.unwrap().value - 19.9).abs() < 1e-9);
    assert!(difference.changes.iter().all(|change| change.aspect != "place in the train"));
}

#[test]
fn of_two_states_the_strings_that_left_are_named_and_findings_are_those_of_each_alone() {
    let plan = plan();
    let (departure, after) = (worked(&plan, Scope::One(0)), worked(&plan, Scope::One(3)));
    let difference = Difference::of_states(departure.side(), after.side());
    let gone: Vec<String> = difference.changes.iter().map(|change| change.thing.name()).collect();
    assert_eq!(gone, ["string S1", "string S2"]);
    assert!(difference.changes.iter().all(|change| change.kind() == ChangeKind::Changed));
    let mass = difference.figures.iter().find(|change| change.kind == FigureKind::TrainMass).unwrap();
    assert!((mass.by().unwrap().value + 2.0 * 36.0 * 60.21).abs() < 1e-6);
}

#[test]
fn a_state_is_found_again_by_its_title() {
    let before = worked(&plan(), Scope::All);
    let mut other = plan();
    other.drops.remove(0);
    let other = worked(&other, Scope::All);
    let near = before.figures.states.len() - 1;
    assert_eq!(state_like(&before.figures, near, &other.figures), other.figures.states.len() - 1);
    assert_eq!(state_like(&before.figures, 1, &other.figures), 1, "none of that title: the same number");
}

#[test]
fn an_acceptance_turns_a_broken_limit_and_nothing_else() {
    let broken = worked(&shifted(), Scope::All);
    let fail = broken.assessment.findings.iter().find(|finding| finding.outcome == Outcome::Fail).unwrap();
    let accept = Edit::Accept {
        acceptance: Acceptance {
            check: fail.check.id.to_owned(),
            things: fail.things.clone(),
            ..acceptance("S1")
        },
    };
    let accepted = worked(&accept.apply(&shifted()).unwrap().plan, Scope::All);
    let sides: (Side<'_>, Side<'_>) = (broken.side(), accepted.side());
    let turns = |difference: Difference| difference.findings.iter().map(|c| c.turn).collect::<Vec<_>>();
    assert_eq!(turns(Difference::of_plans(sides.0, sides.1)), [Turn::NewlyAccepted]);
    assert_eq!(turns(Difference::of_plans(sides.1, sides.0)), [Turn::NoLongerAccepted]);
}

/// Renames the vehicle at the rear everywhere, so that nothing but its mark differs.
fn renamed(plan: &Plan) -> Plan {
    let mut renamed = plan.clone();
    renamed.train.vehicles.last_mut().unwrap().mark = wagon("X3");
    renamed
}

#[test]
fn what_is_gone_with_its_thing_is_judged_no_more_and_nothing_of_it_passes() {
    let mut plan = plan();
    plan.weighings.clear();
    // S3 lies half on the last vehicle, whose load is then told of by the vehicle's mark.
    plan.train.vehicle_types[0].payload_rating_kg = Some(1.0);
    let difference = between(&plan, &renamed(&plan));
    let of = |name: &str| -> Vec<(Turn, Option<Outcome>, Option<Outcome>)> {
        let named = |things: &[String]| things.iter().any(|thing| thing == name);
        let changes = difference.findings.iter().filter(|change| named(&change.things));
        changes.map(|change| (change.turn, change.before.outcome, change.after.outcome)).collect()
    };
    let (old, new) = (of("vehicle W3"), of("vehicle X3"));
    assert!(!old.is_empty() && !new.is_empty(), "{:?}", difference.findings);
    for (turn, before, after) in old {
        assert_eq!((turn, after), (Turn::NoLongerJudged, None), "{before:?}");
    }
    assert!(new.iter().all(|(_, before, after)| before.is_none() && after.is_some()), "{new:?}");
    assert!(new.iter().any(|(turn, ..)| *turn == Turn::Broken), "{new:?}");
}

#[test]
fn another_order_of_the_list_of_placements_alone_changes_no_finding_and_no_load() {
    let plan = plan();
    let mut swapped = plan.clone();
    swapped.placements.swap(0, 1);
    let difference = between(&plan, &swapped);
    let words = |change: &super::FindingChange| (change.check.id, change.turn, change.things.clone());
    assert_eq!(difference.findings.iter().map(words).collect::<Vec<_>>(), []);
    assert_eq!(difference.figures, []);
    let told: Vec<&str> = difference.changes.iter().map(|change| change.aspect.as_str()).collect();
    assert_eq!(told, ["place in the list of placements"]);
}

/// No finding of the same verdict and without numbers is told that says the same on both sides.
#[test]
fn other_grounds_are_told_in_other_words() {
    let plan = plan();
    let mut unheld = plan.clone();
    for change in [0, 1, 2] {
        unheld.placements[change].holds.clear();
        let difference = between(&plan, &unheld);
        let what = |side: &super::FindingSide| side.finding.as_ref().map(|finding| finding.what.clone());
        for change in difference.findings.iter().filter(|change| change.turn == Turn::OtherGrounds) {
            let numbers = change.before.used().is_some();
            assert!(numbers || what(&change.before) != what(&change.after), "{change:?}");
        }
    }
}
