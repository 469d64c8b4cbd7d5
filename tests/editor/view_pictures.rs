//! Stored pictures of each view, light and dark, in two sizes of the window; not a single pixel may differ.
//!
//! `UPDATE_SNAPSHOTS=1 cargo test --test editor view_pictures` draws them anew; look at each before it is kept.

use crate::cpu_renderer::render_part;
use crate::harness::{Editor, editor_of_size, key, keys, rect_of};
use crate::plans;
use egui::{Key, Modifiers, Rect, pos2, vec2};
use egui_kittest::kittest::Queryable as _;
use image::codecs::png::{CompressionType, FilterType, PngEncoder};
use image::{ImageReader, RgbaImage};
use longstow::edit::{Edit, Move};
use longstow::gui::{Command, FindingKey, How, Request, SelectMode, Tab, View};
use longstow::model::{
    AsLoaded, Curve, GaugeLine, Plan, Signature, Source, Springs, Steel, SteelName, Sureness, Topic,
    TrackSide, VehicleMark, WeighedPart, Weighing,
};
use longstow::units::Length;
use std::fs::{self, File};
use std::path::{Path, PathBuf};

/// The pictures that there are, each by itself in every size and theme.
const NAMES: [&str; 16] = [
    "train-side",
    "train-side-close",
    "deck-plan",
    "deck-plan-curve",
    "deck-plan-close",
    "rack-face",
    "yard-list",
    "findings",
    "figures",
    "working",
    "states",
    "what-if",
    "rack-walk",
    "weighings",
    "compare",
    "sheets",
];
/// Sizes of the window.
const SIZES: [(f32, f32); 2] = [(1120.0, 700.0), (1280.0, 800.0)];

/// Four wagons on springs and an unrated turned one, strings in two tiers with creep, a tight curve, a narrow gauge;
/// two strings wait in the yard.
fn plan() -> Plan {
    let mut plan = plans::small();
    let name = SteelName::new("R260").unwrap();
    plan.steels.push(Steel {
        name: name.clone(),
        modulus_gpa: 210.0,
        expansion_1e6_per_k: Some(11.5),
        density_kg_per_m3: None,
        tensile_mpa: Some(880.0),
        yield_mpa: None,
        handling_mpa: Some(400.0),
        source: source(),
    });
    for (at, string) in plan.order.iter_mut().enumerate() {
        string.steel = Some(name.clone());
        string.side = Some(if at % 2 == 0 { TrackSide::Left } else { TrackSide::Right });
    }
    plan.placements[0].lane = 1;
    plan.placements[2].locked = true;
    plan.train.vehicle_types[0].springs = Some(Springs {
        front_n_per_m: 8.0e6,
        rear_n_per_m: 8.0e6,
        roll_nm_per_rad: 2.0e6,
        frame_n_per_m: None,
        envelope: None,
        spring_height_mm: Some(800.0),
        sprung_tare_kg: Some(15_000.0),
    });
    let mut unrated = plan.train.vehicle_types[0].clone();
    unrated.name = longstow::model::VehicleTypeName::new("Unrated flat").unwrap();
    (unrated.axle_rating_kg, unrated.wheel_rating_kg) = (None, None);
    let last = &mut plan.train.vehicles[3];
    (last.vehicle_type, last.turned) = (unrated.name.clone(), true);
    last.mark = VehicleMark::new("X9").unwrap();
    plan.train.vehicle_types.push(unrated);
    plan.route.temperature_range_k = Some(40.0);
    plan.route.curves =
        vec![Curve { radius_m: 150.0, arc_m: None, transition_m: 0.0, cant_mm: None, speed_kmh: None }];
    plan.route.gauge = Some(GaugeLine {
        name: "narrow".to_owned(),
        points_mm: vec![(1_500.0, 400.0), (1_500.0, 1_500.0), (1_280.0, 1_900.0), (700.0, 3_000.0)],
        allowed_mm: vec![(250.0, 20.0, 20.0), (150.0, 165.0, 195.0)],
        source: source(),
    });
    plan.route.asked = vec![Topic::Springs, Topic::Creep, Topic::Gauge];
    plan
}

fn source() -> Source {
    Source { text: "invented".to_owned(), sure: Sureness::Entered }
}

/// Compares what `show` leads to, and says where it is, with its stored pictures.
fn check(name: &str, show: impl Fn(&mut Editor) -> Rect) {
    assert!(NAMES.contains(&name), "{name} is not among the names");
    let mut wrong = Vec::new();
    for (width, height) in SIZES {
        let mut editor = editor_of_size(plan(), width, height);
        let part = show(&mut editor);
        for (theme, word) in [(egui::Theme::Light, "light"), (egui::Theme::Dark, "dark")] {
            editor.ctx.set_theme(theme);
            editor.run_steps(4);
            let found = render_part(&mut editor, part);
            wrong.extend(compare(&format!("{name}-{width}-{word}"), &found).err());
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Says how a picture differs from the stored one, which it puts beside it; takes its place where that is asked for.
fn compare(name: &str, found: &RgbaImage) -> Result<(), String> {
    let stored = folder().join(format!("{name}.png"));
    let anew = folder().join(format!("{name}.new.png"));
    let kept = ImageReader::open(&stored).ok().map(|reader| reader.decode().unwrap().into_rgba8());
    if kept.as_ref() == Some(found) {
        drop(fs::remove_file(anew));
        return Ok(());
    }
    if std::env::var_os("UPDATE_SNAPSHOTS").is_some() {
        write(&stored, found);
        return Ok(());
    }
    write(&anew, found);
    Err(match kept {
        None => format!("{name}: there is no such picture yet"),
        Some(kept) if kept.dimensions() != found.dimensions() => {
            format!("{name}: {:?} instead of {:?}", found.dimensions(), kept.dimensions())
        }
        Some(kept) => {
            let places = kept.enumerate_pixels().filter(|(x, y, pixel)| found.get_pixel(*x, *y) != *pixel);
            let places: Vec<(u32, u32)> = places.map(|(x, y, _)| (x, y)).collect();
            format!("{name}: {} pixels differ, the first at {:?}", places.len(), places.first())
        }
    })
}

fn write(path: &Path, picture: &RgbaImage) {
    let file = File::create(path).unwrap();
    let encoder = PngEncoder::new_with_quality(file, CompressionType::Best, FilterType::Adaptive);
    picture.write_with_encoder(encoder).unwrap();
}

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/editor/pictures")
}

fn ask(editor: &mut Editor, request: Request) {
    editor.state_mut().ask(request);
    editor.run_steps(4);
}

fn select(editor: &mut Editor, mark: &str) {
    ask(editor, Request::Select { strings: vec![plans::mark(mark)], mode: SelectMode::Only });
}

/// The columns beside the views, from below the top bar down to the states.
fn column(editor: &Editor, from: f32, to: f32) -> Rect {
    let top = rect_of(editor, "Search findings").top() - 26.0;
    Rect::from_min_max(pos2(from, top), pos2(to, states_top(editor)))
}

fn states_top(editor: &Editor) -> f32 {
    rect_of(editor, "State before").top() - 6.0
}

fn left_of_views(editor: &Editor) -> f32 {
    rect_of(editor, "Train side").left() - 8.0
}

fn right_of_views(editor: &Editor) -> f32 {
    rect_of(editor, "Search findings").left() - 10.0
}

/// What a tab of the lower middle shows, beside the rack face where it leaves room for that.
fn tab(editor: &mut Editor, tab: Tab) -> Rect {
    ask(editor, Request::ShowTab(tab));
    let face = editor.query_by_label("rack face").map(|face| face.rect().right() + 8.0);
    let left = face.unwrap_or(left_of_views(editor) + 2.0);
    let top = rect_of(editor, "Vehicles").bottom() + 8.0;
    Rect::from_min_max(pos2(left, top), pos2(right_of_views(editor), states_top(editor) - 4.0))
}

/// A view that takes all of the middle.
fn view(editor: &mut Editor, view: View) -> Rect {
    ask(editor, Request::Command(Command::Show(view)));
    let top = rect_of(editor, "Train side").bottom() + 3.0;
    let (left, right) = (left_of_views(editor) + 2.0, right_of_views(editor) - 2.0);
    Rect::from_min_max(pos2(left, top), pos2(right, states_top(editor)))
}

fn deck_plan(editor: &mut Editor) {
    keys(editor, Modifiers::COMMAND, Key::Num2);
    editor.run_steps(2);
}

/// The deck plan with the choices over it.
fn deck_part(editor: &Editor) -> Rect {
    let view = rect_of(editor, "deck plan");
    Rect::from_min_max(view.min - vec2(0.0, 24.0), view.max)
}

#[test]
fn the_train_from_its_side() {
    check("train-side", |editor| {
        select(editor, "A");
        rect_of(editor, "train side")
    });
}

#[test]
fn two_wagons_from_their_side_with_figures_and_creep() {
    check("train-side-close", |editor| {
        key(editor, Key::Plus);
        key(editor, Key::Plus);
        rect_of(editor, "train side")
    });
}

#[test]
fn the_train_from_above() {
    check("deck-plan", |editor| {
        deck_plan(editor);
        select(editor, "B");
        deck_part(editor)
    });
}

#[test]
fn the_train_from_above_on_a_curve() {
    check("deck-plan-curve", |editor| {
        deck_plan(editor);
        key(editor, Key::C);
        key(editor, Key::Num1);
        deck_part(editor)
    });
}

#[test]
fn the_end_of_a_string_from_above_with_creep_and_swing() {
    check("deck-plan-close", |editor| {
        deck_plan(editor);
        key(editor, Key::C);
        let finding = editor.state().document().assessment().findings.iter().find(|finding| {
            matches!(
                finding.subject,
                longstow::checks::Subject::StringEnd(0, longstow::model::TrainEnd::Rear)
            )
        });
        let shown = finding.map(FindingKey::of).expect("the rear end of A has a finding");
        ask(editor, Request::ShowFinding(shown));
        deck_part(editor)
    });
}

#[test]
fn a_rack_with_its_gauge_and_its_centres_of_gravity() {
    check("rack-face", |editor| {
        ask(editor, Request::ShowRack(4));
        rect_of(editor, "rack face")
    });
}

#[test]
fn the_yard_list_over_the_details_of_a_string() {
    check("yard-list", |editor| {
        select(editor, "C");
        column(editor, 0.0, left_of_views(editor))
    });
}

#[test]
fn the_findings_one_of_them_chosen() {
    check("findings", |editor| {
        let shown = FindingKey::of(&editor.state().document().assessment().findings[0]);
        ask(editor, Request::ShowFinding(shown));
        let whole = editor.ctx.content_rect().right();
        column(editor, right_of_views(editor), whole)
    });
}

#[test]
fn the_figures_of_vehicles() {
    check("figures", |editor| tab(editor, Tab::Vehicles));
}

#[test]
fn how_a_figure_came_about() {
    check("working", |editor| {
        let findings = &editor.state().document().assessment().findings;
        let axle = findings.iter().find(|finding| finding.check.id == "axle-load").map(FindingKey::of);
        ask(editor, Request::ShowWorking(How::Finding(axle.expect("axles are judged"))));
        tab(editor, Tab::Working)
    });
}

#[test]
fn the_states_in_which_the_train_is_judged() {
    check("states", |editor| {
        ask(editor, Request::ShowState(2));
        let whole = editor.ctx.content_rect();
        Rect::from_min_max(pos2(0.0, states_top(editor)), pos2(whole.right(), whole.bottom() - 24.0))
    });
}

/// A confirmed, B missing, C 0.4 m farther back; two axles weighed, one of them out of tolerance; signed before.
fn with_records(editor: &mut Editor) {
    let (by, at) = ("M. Holm".to_owned(), "2026-11-25 06:10 +01:00".to_owned());
    let records = ["A", "B", "C"].map(|mark| {
        let planned = editor.state().document().plan().placement(&plans::mark(mark)).unwrap().clone();
        let back = Length::from_mm(if mark == "C" { 400 } else { 0 });
        AsLoaded {
            string: planned.string,
            tier: planned.tier,
            lane: planned.lane,
            front: planned.front + back,
            holds: planned.holds,
            missing: mark == "B",
            by: by.clone(),
            at: at.clone(),
        }
    });
    ask(editor, Request::Edit(Edit::RecordAsLoaded { records: records.to_vec() }));
    let reading = |(axle, kg)| Weighing {
        vehicle: VehicleMark::new("W1").unwrap(),
        part: WeighedPart::Axle(axle),
        kg,
        tolerance: Some(0.02),
        by: by.clone(),
        at: at.clone(),
    };
    let readings = [(1, 6_900.0), (2, 6_500.0), (3, 7_100.0), (4, 7_150.0)].map(reading).to_vec();
    ask(editor, Request::Edit(Edit::AddWeighings { readings }));
    let signature = Signature { by, at, hash: "0".repeat(64) };
    ask(editor, Request::Edit(Edit::Sign { signature }));
}

/// All of the middle under the tabs.
fn middle(editor: &Editor) -> Rect {
    let top = rect_of(editor, "Train side").bottom() + 4.0;
    Rect::from_min_max(pos2(left_of_views(editor), top), pos2(right_of_views(editor), states_top(editor)))
}

#[test]
fn the_walk_along_the_train_with_what_differs() {
    check("rack-walk", |editor| {
        with_records(editor);
        select(editor, "C");
        keys(editor, Modifiers::COMMAND, Key::Num4);
        editor.run_steps(4);
        middle(editor)
    });
}

#[test]
fn readings_beside_what_is_computed_and_what_would_explain_them() {
    check("weighings", |editor| {
        with_records(editor);
        keys(editor, Modifiers::COMMAND, Key::Num5);
        editor.run_steps(4);
        middle(editor)
    });
}

#[test]
fn what_if_a_string_lay_elsewhere() {
    check("what-if", |editor| view(editor, View::WhatIf));
}

#[test]
fn what_differs_between_the_plan_and_an_earlier_one() {
    check("compare", |editor| {
        // A metre rearward and up into an empty pocket: places, figures and verdicts differ.
        let placement = editor.state().document().plan().placement(&plans::mark("B")).expect("it is placed");
        let moved = Move {
            string: placement.string.clone(),
            tier: 3,
            lane: placement.lane,
            front: placement.front + Length::from_mm(1_000),
        };
        ask(editor, Request::Edit(Edit::Move { moves: vec![moved] }));
        view(editor, View::Compare)
    });
}

#[test]
fn the_sheets_to_look_through() {
    check("sheets", |editor| {
        let part = view(editor, View::Sheets);
        for _ in 0..400 {
            if editor.query_by_label_contains("being made").is_none() {
                break;
            }
            // The pages are made beside the window.
            std::thread::sleep(std::time::Duration::from_millis(25));
            editor.step();
        }
        // The first page tells the hour at which it was made, and every foot does.
        key(editor, Key::PageDown);
        editor.run_steps(4);
        part
    });
}

#[test]
fn every_stored_picture_is_one_of_these_and_all_of_them_are_small() {
    let expected: Vec<String> = NAMES
        .iter()
        .flat_map(|name| SIZES.map(|(width, _)| format!("{name}-{width}")))
        .flat_map(|name| ["light", "dark"].map(|theme| format!("{name}-{theme}.png")))
        .collect();
    let mut bytes = 0;
    let mut stored = Vec::new();
    for entry in fs::read_dir(folder()).unwrap().map(Result::unwrap) {
        let name = entry.file_name().into_string().unwrap();
        if !name.ends_with(".new.png") {
            bytes += entry.metadata().unwrap().len();
            stored.push(name);
        }
    }
    let others: Vec<_> = stored.iter().filter(|name| !expected.contains(name)).collect();
    assert!(others.is_empty(), "no test compares {others:?}");
    assert!(bytes < 3_000_000, "{bytes} bytes of pictures");
}
