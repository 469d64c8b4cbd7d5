//! Tables taken in by mouse and keys: pasted, dropped, matched, questioned, and taken back as one step.

use crate::harness::{Editor, editor, key, keys, rect_of, shot};
use egui::{Event, Key, Modifiers, Role};
use egui_kittest::kittest::Queryable as _;
use longstow::gui::{Command, Dialog, ExportFormat, Outside, Purpose, Request, SavedTable, Tab};
use longstow::model::Plan;
use std::fs;

const ROWS: &str = "Mark\tSection\tLength (m)\nS1\t60E1\t55,1\nX1\t60E1\t20,5\nX2\t60E1\tlong\n";

fn three_flats() -> Plan {
    longstow::format::read(include_bytes!("../plans/three-flats.longstow")).unwrap()
}

fn on_tab(tab: Tab) -> Editor {
    let mut editor = editor(three_flats());
    editor.state_mut().ask(Request::ShowTab(tab));
    editor.run_steps(3);
    editor
}

fn paste(editor: &mut Editor, text: &str) {
    editor.event(Event::Paste(text.to_owned()));
    editor.run_steps(4);
}

fn plan(editor: &Editor) -> &Plan {
    editor.state().document().plan()
}

fn click(editor: &mut Editor, label: &str) {
    editor.get_by_label(label).click();
    editor.run_steps(4);
}

fn pick(editor: &mut Editor, list: &str, line: &str) {
    editor.get_by_role_and_label(Role::ComboBox, list).click();
    editor.run_steps(4);
    // The lines of a list are buttons; the same words may stand in the table as labels.
    let lines: Vec<_> =
        editor.query_all_by_role_and_label(Role::Button, line).map(|node| node.rect().center()).collect();
    let at = *lines.last().unwrap_or_else(|| panic!("{list} has no {line}"));
    editor.event(Event::PointerMoved(at));
    for pressed in [true, false] {
        let (button, modifiers) = (egui::PointerButton::Primary, Modifiers::NONE);
        editor.event(Event::PointerButton { pos: at, button, pressed, modifiers });
        editor.step();
    }
    editor.run_steps(4);
}

#[test]
fn rows_pasted_into_the_order_show_their_fates_and_are_one_step_of_undo() {
    let mut editor = on_tab(Tab::Order);
    let before = plan(&editor).clone();
    paste(&mut editor, ROWS);
    for label in ["= 1 unchanged", "+ 1 new", "! 1 refused", "! the refused row stays out"] {
        assert!(editor.query_by_label(label).is_some(), "{label}");
    }
    shot(&mut editor, "take-in-order");
    click(&mut editor, "Take in 1 string");
    assert_eq!(plan(&editor).order.len(), before.order.len() + 1);
    assert_eq!(plan(&editor).order.last().unwrap().length.mm(), 20_500);
    keys(&mut editor, Modifiers::COMMAND, Key::Z);
    assert_eq!(*plan(&editor), before);
}

#[test]
fn a_paste_of_a_word_or_into_a_field_is_no_table() {
    let mut editor = on_tab(Tab::Order);
    paste(&mut editor, "S1");
    assert!(editor.query_by_label("Take in an order").is_none());
    editor.get_all_by_role_and_label(Role::TextInput, "Mark in the order").next().unwrap().focus();
    editor.run_steps(2);
    paste(&mut editor, ROWS);
    assert!(editor.query_by_label("Take in an order").is_none());
}

#[test]
fn columns_units_and_names_are_said_once_and_remembered() {
    let mut editor = on_tab(Tab::Order);
    let rows = "Kennung;Profil;Strecke;Ziel\nX1;54E1;20;Nord\n";
    paste(&mut editor, rows);
    assert!(editor.query_by_label_contains("say which column holds: Mark, Section, Length").is_some());
    pick(&mut editor, "Column of mark", "Kennung");
    pick(&mut editor, "Column of section", "Profil");
    pick(&mut editor, "Column of length", "Strecke");
    pick(&mut editor, "Unit of length", "m");
    pick(&mut editor, "Column of drop", "Ziel");
    pick(&mut editor, "What is meant by section 54E1", "54E1, copied from the catalogue");
    pick(&mut editor, "What is meant by drop Nord", "a new drop, strings go over the front");
    shot(&mut editor, "take-in-questions");
    click(&mut editor, "Take in 1 string");
    let after = plan(&editor).clone();
    let last = after.order.last().unwrap();
    assert_eq!((last.section.as_str(), last.length.mm()), ("54E1", 20_000));
    assert_eq!(last.drop.as_ref().unwrap().as_str(), "Nord");
    assert_eq!(after.order_table.columns.len(), 4);
    paste(&mut editor, &rows.replace("20", "21"));
    click(&mut editor, "Change 1 string from a table");
    assert_eq!(plan(&editor).order.last().unwrap().length.mm(), 21_000);
}

#[test]
fn it_is_opened_worked_and_left_by_keys_alone() {
    let mut editor = on_tab(Tab::Vehicles);
    keys(&mut editor, Modifiers::COMMAND, Key::I);
    editor.run_steps(3);
    assert_eq!(crate::harness::focused(&editor).as_deref(), Some("Choose a file..."));
    paste(&mut editor, ROWS);
    for _ in 0..60 {
        if crate::harness::focused(&editor).as_deref() == Some("Take in 1 string") {
            break;
        }
        key(&mut editor, Key::Tab);
    }
    key(&mut editor, Key::Enter);
    editor.run_steps(3);
    assert_eq!(plan(&editor).order.last().unwrap().mark.as_str(), "X1");
    keys(&mut editor, Modifiers::COMMAND, Key::I);
    key(&mut editor, Key::Escape);
    editor.run_steps(3);
    assert!(editor.query_by_label("Take in an order").is_none());
}

#[test]
fn steps_vehicles_and_sections_are_pasted_into_their_tables() {
    let mut editor = on_tab(Tab::Train);
    paste(&mut editor, "W8\tFlat\nW9\tFlat\tyes\n");
    click(&mut editor, "Take in 2 vehicles");
    assert_eq!(plan(&editor).train.vehicles.len(), 5);
    editor.state_mut().ask(Request::ShowTab(Tab::Sections));
    editor.run_steps(3);
    paste(&mut editor, "Name\tMass (kg/m)\tArea (cm2)\tIx (cm4)\nOwn\t50\t64\t2000\n");
    shot(&mut editor, "take-in-sections");
    click(&mut editor, "Take in 1 section");
    assert_eq!(plan(&editor).sections.last().unwrap().name.as_str(), "Own");
    editor.state_mut().ask(Request::ShowTab(Tab::Order));
    editor.run_steps(3);
    paste(&mut editor, "Mark\tSection\tLength m\nX1\tOwn\t20\n");
    click(&mut editor, "Take in 1 string");
    editor.state_mut().ask(Request::ShowTab(Tab::Drops));
    editor.run_steps(3);
    let drop = plan(&editor).drops[0].name.to_string();
    let steps = plan(&editor).drops[0].steps.len();
    paste(&mut editor, &format!("{drop}\tX1\n{drop}\tX7\n"));
    click(&mut editor, "Take in 1 step");
    assert_eq!(plan(&editor).drops[0].steps.len(), steps + 1);
}

#[test]
fn a_file_dropped_on_the_window_is_taken_in_and_one_that_is_no_table_says_so() {
    let folder = tempfile::tempdir().unwrap();
    let mut editor = on_tab(Tab::Vehicles);
    let path = folder.path().join("order.CSV");
    fs::write(&path, ROWS).unwrap();
    editor.state_mut().ask(Request::OpenPath(path));
    editor.run_steps(4);
    assert!(
        editor
            .query_by_label_contains("from order.CSV: UTF-8, cells parted by tabs, decimal comma")
            .is_some()
    );
    click(&mut editor, "Cancel");
    let packed = folder.path().join("order.xlsx");
    fs::write(&packed, b"PK\x03\x04").unwrap();
    editor.state_mut().ask(Request::OpenPath(packed));
    editor.run_steps(4);
    assert!(editor.query_by_label_contains("order.xlsx: this is a spreadsheet's own file").is_some());
    shot(&mut editor, "take-in-no-table");
    paste(&mut editor, ROWS);
    assert!(editor.query_by_label("Take in 1 string").is_some());
}

#[test]
fn another_decimal_mark_separator_or_header_line_can_be_said() {
    let mut editor = on_tab(Tab::Order);
    paste(&mut editor, "Order of May;x\nMark;Section;Length (m)\nX1;60E1;1.080\n");
    assert!(editor.query_by_label_contains("it may be 1.080 or 1080").is_some());
    pick(&mut editor, "Decimal mark", "comma: 107,5");
    assert!(editor.query_by_label("1080.000 m").is_some());
    pick(&mut editor, "Decimal mark", "point: 107.5");
    assert!(editor.query_by_label("1.080 m").is_some());
    pick(&mut editor, "Headers", "line 1");
    assert!(editor.query_by_label_contains("say which column holds").is_some());
    pick(&mut editor, "Headers", "line 2");
    pick(&mut editor, "Cells parted by", "commas");
    assert!(editor.query_by_label("Nothing to take in").is_some());
}

#[test]
fn every_table_is_saved_where_the_user_wants_it() {
    let folder = tempfile::tempdir().unwrap();
    let mut editor = on_tab(Tab::Vehicles);
    for (at, table) in SavedTable::ALL.into_iter().enumerate() {
        editor.state_mut().ask(Request::Command(Command::SaveTable(table)));
        let outside = editor.state_mut().take_outside();
        let purpose = Purpose::Export(ExportFormat::Csv);
        assert!(
            matches!(&outside[..], [Outside::AskPath { purpose: asked, .. }] if *asked == purpose),
            "{outside:?}"
        );
        let path = folder.path().join(format!("table-{at}"));
        editor.state_mut().path_chosen(Some(path.clone()));
        let text = fs::read_to_string(path.with_extension("csv")).unwrap();
        assert!(text.lines().count() > 3, "{table:?}: {text}");
    }
    let order = fs::read_to_string(folder.path().join("table-0.csv")).unwrap();
    assert!(order.starts_with("Mark,Section,Length (m),"), "{order}");
    assert!(editor.state().dialog().is_none_or(|dialog| !matches!(dialog, Dialog::Failed { .. })));
    let save = rect_of(&editor, SavedTable::Vehicles.title());
    assert!(save.is_positive());
}

#[test]
fn the_questions_fit_the_smallest_window_and_a_large_one() {
    for (width, height) in [(960.0, 600.0), (1280.0, 800.0), (2560.0, 1440.0)] {
        let mut editor = crate::harness::editor_of_size(three_flats(), width, height);
        editor.state_mut().ask(Request::TakePasted(
            longstow::intake::Kind::Sections,
            "Name\tMass (kg/m)\tArea (cm2)\tIx (cm4)\nOwn\t50\t64\t2000\n".to_owned(),
        ));
        editor.run_steps(4);
        let window = egui::Rect::from_min_size(egui::Pos2::ZERO, egui::vec2(width, height));
        for label in ["Take in 1 section", "Cancel", "all 2 lines", "Take in rail sections"] {
            let rect = rect_of(&editor, label);
            assert!(window.contains_rect(rect), "{label} at {rect} in {window}");
        }
        shot(&mut editor, &format!("take-in-{width}"));
    }
}
