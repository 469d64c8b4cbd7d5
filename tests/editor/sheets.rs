//! The printed pages in the window, by mouse and keys: the very ones that go into the PDF.

use crate::harness::{Editor, editor, editor_of_size, key, keys, rect_of};
use egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use longstow::format;
use longstow::gui::{Dialog, ExportFormat, Outside, Purpose, Request, SAMPLES};
use longstow::model::{AsLoaded, Plan};
use longstow::report::Judged;
use longstow::units::Length;
use std::path::Path;

/// The sample with this letter.
fn sample(letter: char) -> Plan {
    SAMPLES[letter as usize - 'a' as usize].plan().unwrap()
}

fn sheets(letter: char) -> Editor {
    let mut editor = editor(sample(letter));
    keys(&mut editor, Modifiers::COMMAND, Key::Num7);
    editor.run_steps(3);
    editor
}

fn click(editor: &mut Editor, label: &str) {
    editor.get_by_label(label).click();
    editor.run_steps(3);
}

/// What a reader of the screen tells of a page.
fn told(editor: &Editor, label: &str) -> String {
    editor.get_by_label(label).accesskit_node().value().unwrap_or_default()
}

/// Writes what the editor wants to write to `path`.
fn write(editor: &mut Editor, kind: ExportFormat, path: &Path) {
    editor.run_steps(2);
    let outside = editor.state_mut().take_outside();
    let [Outside::AskPath { purpose, suggested }] = outside.as_slice() else { panic!("{outside:?}") };
    assert_eq!(*purpose, Purpose::Export(kind));
    assert_eq!(suggested.extension().unwrap(), kind.extension());
    editor.state_mut().path_chosen(Some(path.to_owned()));
}

#[test]
fn the_pages_are_shown_and_told_with_their_words() {
    let editor = sheets('h');
    let cover = told(&editor, "page 1 of 13, Cover");
    assert!(cover.contains("8 things are undecided"), "{cover}");
    assert!(cover.contains(&format::plan_hash(editor.state().document().plan())), "{cover}");
}

#[test]
fn the_pages_are_of_the_plan_as_meant_while_the_load_as_it_is_is_judged() {
    let mut plan = sample('h');
    let placed = plan.placements[0].clone();
    plan.as_loaded.push(AsLoaded {
        string: placed.string,
        tier: placed.tier,
        lane: placed.lane,
        front: placed.front + Length::from_mm(100),
        holds: placed.holds,
        missing: false,
        by: "M. Holm".to_owned(),
        at: "2026-03-09".to_owned(),
    });
    let mut editor = editor(plan);
    editor.state_mut().ask(Request::Judge(Judged::AsLoaded));
    keys(&mut editor, Modifiers::COMMAND, Key::Num7);
    editor.run_steps(3);
    let hash = format::plan_hash(editor.state().document().plan());
    let pages = editor.query_all_by_label_contains("page 1 of");
    let told: Vec<String> = pages.filter_map(|page| page.accesskit_node().value()).collect();
    assert!(told.iter().any(|words| words.contains(&hash)), "{hash}: {told:?}");
}

#[test]
fn keys_and_the_list_turn_the_pages() {
    let mut editor = sheets('h');
    key(&mut editor, Key::PageDown);
    editor.run_steps(3);
    assert!(told(&editor, "page 2 of 13, Train diagram").contains("front end at the left"));
    click(&mut editor, "go to page 9 of 13, Findings");
    assert!(told(&editor, "page 9 of 13, Findings").contains("Undecided (8)"));
    key(&mut editor, Key::Home);
    editor.run_steps(3);
    assert!(editor.query_by_label("page 1 of 13, Cover").is_some());
    assert!(editor.query_by_label("page 9 of 13, Findings").is_none(), "out of sight");
}

#[test]
fn paper_and_zoom_change_what_is_seen() {
    let mut editor = sheets('h');
    let shape = |editor: &Editor, label: &str| {
        let page = rect_of(editor, label);
        (page.width(), page.height())
    };
    key(&mut editor, Key::Num1);
    editor.run_steps(3);
    let (width, height) = shape(&editor, "page 1 of 13, Cover");
    assert!((f64::from(height / width) - 297.0 / 210.0).abs() < 0.01, "{width} by {height}");
    click(&mut editor, "Letter");
    let label = "page 1 of 13, Cover";
    let (width, height) = shape(&editor, label);
    assert!((f64::from(height / width) - 11.0 / 8.5).abs() < 0.01, "{width} by {height}");
    click(&mut editor, "pages smaller");
    assert!((shape(&editor, label).0 * 1.2 - width).abs() < 1.0);
    key(&mut editor, Key::Plus);
    editor.run_steps(3);
    assert!((shape(&editor, label).0 - width).abs() < 1.0);
}

#[test]
fn an_edit_makes_new_pages() {
    let mut editor = sheets('h');
    let before = told(&editor, "page 1 of 13, Cover");
    let title = longstow::edit::Edit::SetTitle { title: "Another name".to_owned() };
    editor.state_mut().ask(Request::Edit(title));
    editor.run_steps(4);
    let after = told(&editor, "page 1 of 13, Cover");
    assert!(after.contains("Another name") && !before.contains("Another name"), "{after}");
}

#[test]
fn the_pages_are_written_as_pdf_by_button_and_by_key() {
    let folder = tempfile::tempdir().unwrap();
    let mut editor = sheets('h');
    click(&mut editor, "Save as PDF...");
    let first = folder.path().join("one.pdf");
    write(&mut editor, ExportFormat::Pdf, &first);
    keys(&mut editor, Modifiers::COMMAND, Key::P);
    let second = folder.path().join("two");
    write(&mut editor, ExportFormat::Pdf, &second);
    let bytes = |path: &Path| std::fs::read(path).unwrap();
    assert!(bytes(&first).starts_with(b"%PDF-1.7"));
    assert_eq!(bytes(&first), bytes(&folder.path().join("two.pdf")), "the very same pages");
}

#[test]
fn a_drawing_is_written_as_svg_and_replaced_only_on_purpose() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("side.svg");
    let mut editor = sheets('h');
    click(&mut editor, "Save drawing as SVG");
    click(&mut editor, "Train side...");
    write(&mut editor, ExportFormat::Svg, &path);
    let svg = std::fs::read_to_string(&path).unwrap();
    assert!(svg.starts_with("<?xml") && svg.contains(">F3</text>"));
    click(&mut editor, "Save drawing as SVG");
    click(&mut editor, "Rack face of the rack shown...");
    write(&mut editor, ExportFormat::Svg, &folder.path().join("side"));
    assert!(matches!(editor.state().dialog(), Some(Dialog::Replace { .. })));
    editor.run_steps(2);
    click(&mut editor, "Replace");
    assert_ne!(std::fs::read_to_string(&path).unwrap(), svg);
}

#[test]
fn all_controls_are_in_sight_in_a_small_and_in_a_large_window() {
    for (width, height) in [(1280.0, 800.0), (2560.0, 1440.0)] {
        let mut editor = editor_of_size(sample('c'), width, height);
        keys(&mut editor, Modifiers::COMMAND, Key::Num7);
        editor.run_steps(3);
        let names = ["A4", "Letter", "worst", "state shown", "pages larger", "page width", "whole page"];
        let saves = ["Save as PDF...", "Save drawing as SVG"];
        let whole = egui::Rect::from_min_size(egui::Pos2::ZERO, egui::vec2(width, height));
        let rects: Vec<egui::Rect> = names
            .iter()
            .chain(&saves)
            .map(|name| {
                let nodes: Vec<_> = editor.get_all_by_label(name).collect();
                nodes.into_iter().map(|node| node.rect()).min_by(|a, b| a.top().total_cmp(&b.top())).unwrap()
            })
            .collect();
        for (nth, rect) in rects.iter().enumerate() {
            assert!(whole.contains_rect(*rect), "{rect:?}");
            let others = &rects[nth + 1..];
            assert!(others.iter().all(|other| !other.shrink(1.0).intersects(*rect)), "{rect:?}");
        }
    }
}
