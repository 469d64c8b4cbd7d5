//! A new plan, from an empty one to a verdict, with nothing but the window's own buttons and fields.

use crate::harness::{Editor, key, keys};
use egui::{Event, Key, Modifiers, Role, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use longstow::checks::Verdict;
use longstow::gui::{Start, Workbench};

fn click(editor: &mut Editor, label: &str) {
    editor.get_by_label(label).click();
    editor.run_steps(3);
}

fn press(editor: &mut Editor, role: Role, label: &str) {
    editor.get_by_role_and_label(role, label).click();
    editor.run_steps(3);
}

/// Types into every field of this name.
fn enter(editor: &mut Editor, field: &str, words: &str) {
    let count = editor.get_all_by_role_and_label(Role::TextInput, field).count();
    for at in 0..count {
        let place = editor.get_all_by_role_and_label(Role::TextInput, field).nth(at);
        place.into_iter().for_each(|field| field.focus());
        editor.run_steps(2);
        keys(editor, Modifiers::COMMAND, Key::A);
        editor.event(Event::Text(words.to_owned()));
        key(editor, Key::Enter);
    }
}

fn choose(editor: &mut Editor, choice: &str, word: &str) {
    press(editor, Role::ComboBox, choice);
    click(editor, word);
}

fn enter_types(editor: &mut Editor) {
    press(editor, Role::Button, "Types");
    for (field, words) in [
        ("Tare centre above rail", "700"),
        ("Deck above rail", "1.25"),
        ("Load", "66"),
        ("Bogie", "45"),
        ("Axle", "22,5"),
        ("Wheel", "12500 kg"),
    ] {
        enter(editor, field, words);
    }
    for rack in ["Roller rack 5 x 10", "Clamping rack 5 x 10"] {
        press(editor, Role::Button, rack);
        for (field, words) in [
            ("Pocket width", "200"),
            ("Clear height", "200"),
            ("One pocket", "3"),
            ("One tier", "8"),
            ("Whole rack", "30"),
        ] {
            enter(editor, field, words);
        }
    }
}

fn enter_limits(editor: &mut Editor) {
    press(editor, Role::Button, "Limits");
    enter(editor, "Your name, to accept limits", "A. Planner");
    press(editor, Role::Button, "Take over and accept all of it");
    for (limit, words) in [
        ("centre of gravity height", "2"),
        ("least overhang", "0.3"),
        ("greatest overhang", "7"),
        ("gap in a pocket", "1"),
        ("end clearance", "0.5"),
        ("least number of racks", "3"),
        ("largest span", "9"),
        ("sag", "20"),
        ("difference of stated mass", "5"),
    ] {
        enter(editor, &format!("{limit}, while travelling"), words);
    }
    press(editor, Role::Button, "Accept the 9 entered and not accepted yet");
}

#[test]
fn a_new_plan_is_led_to_a_verdict_by_the_windows_own_means() {
    let workbench = Workbench::at_start(Start::default());
    let mut editor: Editor = Harness::builder()
        .with_size(vec2(1900.0, 2600.0))
        .build_ui_state(|ui, workbench: &mut Workbench| workbench.ui(ui), workbench);
    let editor = &mut editor;
    editor.run_steps(3);
    press(editor, Role::Button, "New plan");

    press(editor, Role::Button, "Train");
    press(editor, Role::Button, "From the catalogue");
    press(editor, Role::Button, "Flat 19.9 m, four axles, holding");
    press(editor, Role::Button, "Flat 19.9 m, four axles, holding");
    choose(editor, "Lanes come off", "in any order");
    enter_types(editor);
    enter_limits(editor);
    press(editor, Role::Button, "Route");
    choose(editor, "Line class", "D4");

    choose(editor, "Section of new strings", "60E1 (catalogue)");
    enter(editor, "Length of new strings", "30 m");
    choose(editor, "Side of new strings", "left, right in turn");
    editor.get_by_label("How many new strings").focus();
    editor.run_steps(2);
    keys(editor, Modifiers::COMMAND, Key::A);
    editor.event(Event::Text("2".to_owned()));
    key(editor, Key::Enter);
    press(editor, Role::Button, "Add to the order");
    assert_eq!(editor.state().document().plan().order.len(), 2);

    press(editor, Role::Button, "Drops");
    press(editor, Role::Button, "Add a drop");
    click(editor, "Yard string S1");
    editor.event(Event::ModifiersChanged(Modifiers::COMMAND));
    click(editor, "Yard string S2");
    editor.event(Event::ModifiersChanged(Modifiers::NONE));
    editor.run_steps(2);
    assert_eq!(editor.state().selection().strings.len(), 2);
    press(editor, Role::Button, "Selected strings come off in pairs");
    press(editor, Role::Button, "Place");

    let document = editor.state().document();
    assert_eq!(document.plan().placements.len(), 2);
    assert_eq!(document.figures().states.len(), 5, "departure, two halves of the pair, its step, the end");
    let open: Vec<String> = document
        .assessment()
        .findings
        .iter()
        .filter(|finding| finding.is_open())
        .map(|finding| format!("{}: {}", finding.check.id, finding.what.show(Default::default())))
        .collect();
    assert_eq!(open, [""; 0]);
    assert_eq!(document.assessment().verdict(), Verdict::NothingOpen);
}
