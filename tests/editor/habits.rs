//! Habits of a good editor: everything found by words, the history as a list, work that outlives a crash, and
//! windows that never wait.

use crate::harness::{Editor, at, editor, editor_with, focused, key, keys, shot};
use crate::plans;
use egui::{Event, Key, Modifiers, Role, vec2};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use longstow::disk::unsaved::{Berth, Unsaved};
use longstow::edit::{Edit, OnDisk};
use longstow::gui::{Command, Dialog, Request, SAMPLES, Start, Tab, View, WorkPlace, Workbench};
use std::path::Path;
use std::time::{Duration, SystemTime};
use tempfile::TempDir;

fn type_words(editor: &mut Editor, words: &str) {
    editor.event(Event::Text(words.to_owned()));
    editor.run_steps(2);
}

/// Opens the list of all that can be done, and types words there.
fn find(editor: &mut Editor, words: &str) {
    keys(editor, Modifiers::COMMAND, Key::K);
    assert_eq!(focused(editor).as_deref(), Some("Find"));
    type_words(editor, words);
}

/// The lines of the list.
fn found(editor: &Editor) -> Vec<String> {
    let labels = editor.root().children_recursive().filter_map(|node| node.accesskit_node().label());
    labels.filter_map(|label| label.strip_prefix("Find: ").map(str::to_owned)).collect()
}

#[test]
fn a_command_is_found_by_its_words_and_done_by_enter() {
    let mut editor = editor(plans::small());
    find(&mut editor, "deck");
    shot(&mut editor, "finder");
    assert_eq!(found(&editor)[0], "Deck plan");
    key(&mut editor, Key::Enter);
    assert!(found(&editor).is_empty(), "it closes");
    assert!(editor.query_by_label("on a curve").is_some(), "the deck plan is shown");
    find(&mut editor, "no such thing at all");
    assert!(found(&editor).is_empty());
    key(&mut editor, Key::Escape);
    assert!(editor.query_by_label("Find: Undo").is_none());
    assert_ne!(focused(&editor).as_deref(), Some("Find"));
}

#[test]
fn a_string_a_vehicle_and_a_finding_are_gone_to_by_name() {
    let mut editor = editor(SAMPLES[5].plan().unwrap());
    find(&mut editor, "string l05");
    key(&mut editor, Key::Enter);
    assert_eq!(editor.state().selection().only_string().unwrap().as_str(), "L05");
    find(&mut editor, "vehicle f3");
    key(&mut editor, Key::Enter);
    assert_eq!(editor.state().selection().vehicle, Some(2));
    find(&mut editor, "fail f5 rear");
    key(&mut editor, Key::ArrowDown);
    key(&mut editor, Key::ArrowUp);
    key(&mut editor, Key::Enter);
    let finding = editor.state().selection().finding.clone().unwrap();
    assert_eq!(finding.things, ["vehicle F5", "rear bogie"]);
    find(&mut editor, "limits");
    editor.get_by_label("Find: Set up: Limits").click();
    editor.run_steps(4);
    assert!(editor.query_by_label("Your name, to accept limits").is_some());
}

#[test]
fn a_thing_is_shown_even_from_a_view_that_does_not_draw_it() {
    let mut editor = editor(SAMPLES[5].plan().unwrap());
    editor.state_mut().ask(Request::Command(Command::Show(View::Weighings)));
    editor.run_steps(3);
    find(&mut editor, "string l05");
    key(&mut editor, Key::Enter);
    editor.run_steps(2);
    assert!(editor.query_by_label("string L05 in the train side").is_some());
}

#[test]
fn the_history_lists_every_step_and_leads_to_any_of_them() {
    let mut editor = editor(plans::small());
    let start = at(&editor, "C");
    for title in ["First", "Second", "Third"] {
        editor.state_mut().ask(Request::Edit(Edit::SetTitle { title: title.to_owned() }));
    }
    keys(&mut editor, Modifiers::COMMAND | Modifiers::SHIFT, Key::H);
    shot(&mut editor, "history");
    editor.get_by_label("Step 1: Change title").click();
    editor.run_steps(3);
    assert_eq!(editor.state().document().plan().title, "First");
    assert!(matches!(editor.state().dialog(), Some(Dialog::History { at: 1, .. })), "the list stays open");
    editor.get_by_label("Step 3: Change title").click();
    editor.run_steps(3);
    assert_eq!(editor.state().document().plan().title, "Third");
    editor.get_by_label("Step 0: As it was opened").click();
    editor.run_steps(3);
    key(&mut editor, Key::Escape);
    assert_eq!((at(&editor, "C"), editor.state().dialog()), (start, None));
    keys(&mut editor, Modifiers::COMMAND, Key::Y);
    assert_eq!(editor.state().document().plan().title, "First");
}

/// Lets frames pass until something holds; the work is done beside the window.
fn wait_until(editor: &mut Editor, what: &str, holds: impl Fn(&Editor) -> bool) {
    let holds_within = |editor: &mut Editor| {
        (0..2_000).any(|_| {
            editor.step();
            std::thread::sleep(Duration::from_millis(5));
            holds(editor)
        })
    };
    assert!(holds_within(editor), "never: {what}");
}

fn copies(folder: &Path) -> usize {
    let entries = std::fs::read_dir(folder).map(|entries| entries.flatten().collect::<Vec<_>>());
    entries
        .unwrap_or_default()
        .iter()
        .filter(|entry| entry.path().extension().is_some_and(|e| e == "unsaved"))
        .count()
}

/// An editor on a saved plan that keeps unsaved work in `folder` at once.
fn keeping(folder: &TempDir) -> (Editor, std::path::PathBuf) {
    let path = folder.path().join("plan.longstow");
    std::fs::write(&path, longstow::format::write(&plans::small())).unwrap();
    let mut workbench =
        Workbench::at_start(Start::default()).keeping_in(&folder.path().join("state"), Duration::ZERO);
    workbench.open_path(&path);
    (editor_with(workbench, vec2(1280.0, 800.0)), path)
}

fn retitle(editor: &mut Editor, title: &str) {
    editor.state_mut().ask(Request::Edit(Edit::SetTitle { title: title.to_owned() }));
}

#[test]
fn unsaved_work_is_kept_until_it_is_saved_and_gone_once_the_program_ends_well() {
    let folder = TempDir::new().unwrap();
    let state = folder.path().join("state");
    let (mut editor, path) = keeping(&folder);
    editor.run_steps(5);
    assert_eq!(copies(&state), 0, "nothing is unsaved");
    retitle(&mut editor, "Changed");
    wait_until(&mut editor, "a copy", |_| copies(&state) == 1);
    assert!(!std::fs::read_to_string(&path).unwrap().contains("Changed"), "the file itself is as it was");
    keys(&mut editor, Modifiers::COMMAND, Key::S);
    wait_until(&mut editor, "no copy any more", |_| copies(&state) == 0);
    retitle(&mut editor, "Changed again");
    wait_until(&mut editor, "a copy", |_| copies(&state) == 1);
    editor.state_mut().leave();
    assert_eq!(std::fs::read_dir(&state).unwrap().count(), 0);
}

/// What a run that ended badly leaves: a copy of the small plan with another title.
fn crashed(folder: &TempDir, title: &str) -> std::path::PathBuf {
    let path = folder.path().join("plan.longstow");
    let text = longstow::format::write(&plans::small());
    std::fs::write(&path, &text).unwrap();
    let mut plan = plans::small();
    plan.title = title.to_owned();
    let stamp = longstow::disk::Stamp::of(text.as_bytes());
    let work = Unsaved {
        title: title.to_owned(),
        from: Some((path.clone(), stamp)),
        at: SystemTime::now(),
        bytes: longstow::format::write(&plan).into_bytes(),
    };
    Berth::take(&folder.path().join("state")).unwrap().keep(&work).unwrap();
    path
}

fn offered(folder: &TempDir) -> Editor {
    let workbench =
        Workbench::at_start(Start::default()).keeping_in(&folder.path().join("state"), Duration::ZERO);
    let mut editor = editor_with(workbench, vec2(1280.0, 800.0));
    wait_until(&mut editor, "an offer", |editor| editor.state().dialog().is_some());
    editor.run_steps(3);
    editor
}

#[test]
fn what_a_crashed_run_left_is_offered_opened_and_saved_over_its_own_file() {
    let folder = TempDir::new().unwrap();
    let path = crashed(&folder, "Half done");
    let mut editor = offered(&folder);
    shot(&mut editor, "left-behind");
    editor.get_by_label("Open Half done").click();
    editor.run_steps(4);
    assert_eq!(editor.state().document().plan().title, "Half done");
    assert!(editor.state().document().is_touched(), "it is not saved yet");
    wait_until(&mut editor, "one copy, of this run", |_| copies(&folder.path().join("state")) == 1);
    keys(&mut editor, Modifiers::COMMAND, Key::S);
    assert_eq!(editor.state().dialog(), None);
    let saved = longstow::format::read(&std::fs::read(&path).unwrap()).unwrap();
    assert_eq!(saved.title, "Half done");
}

#[test]
fn work_left_behind_never_overwrites_a_file_that_changed_since_without_asking() {
    let folder = TempDir::new().unwrap();
    let path = crashed(&folder, "Half done");
    let theirs = longstow::format::write(&SAMPLES[0].plan().unwrap());
    std::fs::write(&path, &theirs).unwrap();
    let mut editor = offered(&folder);
    editor.get_by_label("Open Half done").click();
    editor.run_steps(4);
    keys(&mut editor, Modifiers::COMMAND, Key::S);
    assert!(matches!(editor.state().dialog(), Some(Dialog::ChangedOnDisk { .. })));
    assert_eq!(std::fs::read_to_string(&path).unwrap(), theirs);
}

#[test]
fn work_left_behind_is_discarded_or_put_off_by_keys_alone() {
    let folder = TempDir::new().unwrap();
    crashed(&folder, "Half done");
    let mut editor = offered(&folder);
    key(&mut editor, Key::Escape);
    assert_eq!(editor.state().dialog(), None);
    assert_eq!(copies(&folder.path().join("state")), 1, "put off: it stays");
    editor.state_mut().ask(Request::Command(Command::LeftBehind));
    editor.run_steps(3);
    editor.get_by_label("Discard Half done").focus();
    editor.run_steps(2);
    key(&mut editor, Key::Enter);
    wait_until(&mut editor, "none left", |_| copies(&folder.path().join("state")) == 0);
    assert_eq!(editor.state().dialog(), None);
}

#[test]
fn a_plan_is_opened_beside_the_window() {
    let folder = TempDir::new().unwrap();
    let path = folder.path().join("plan.longstow");
    std::fs::write(&path, longstow::format::write(&SAMPLES[2].plan().unwrap())).unwrap();
    let workbench = Workbench::at_start(Start::default());
    let workbench = workbench.working(WorkPlace::Beside, &egui::Context::default());
    let mut editor = editor_with(workbench, vec2(1280.0, 800.0));
    editor.state_mut().open_path(&path);
    wait_until(&mut editor, "opened", |editor| editor.state().document().path.is_some());
    assert!(editor.state().document().is_settled());
    assert_eq!(editor.state().document().plan().title, SAMPLES[2].title);
}

#[test]
fn a_file_that_cannot_be_read_is_told_after_it_was_looked_at_beside_the_window() {
    let workbench = Workbench::new(plans::small(), OnDisk::Yes);
    let workbench = workbench.working(WorkPlace::Beside, &egui::Context::default());
    let mut editor = editor_with(workbench, vec2(1280.0, 800.0));
    editor.state_mut().open_path(Path::new("no such file.longstow"));
    wait_until(&mut editor, "told", |editor| matches!(editor.state().dialog(), Some(Dialog::Failed { .. })));
    assert_eq!(editor.state().document().plan().title, plans::small().title);
}

#[test]
fn colours_follow_the_system_until_somebody_chooses() {
    let mut editor = editor(plans::small());
    let is_dark = |editor: &Editor| editor.ctx.global_style().visuals.dark_mode;
    // The harness begins with a colour of its own, the program does not.
    editor.ctx.set_theme(egui::ThemePreference::System);
    for theme in [egui::Theme::Dark, egui::Theme::Light, egui::Theme::Dark] {
        editor.input_mut().system_theme = Some(theme);
        editor.run_steps(3);
        eprintln!(
            "DBG {:?} {:?} {:?}",
            editor.ctx.options(|o| o.theme_preference),
            editor.ctx.system_theme(),
            editor.ctx.theme()
        );
        assert_eq!(is_dark(&editor), theme == egui::Theme::Dark, "{theme:?}");
    }
    find(&mut editor, "colours light");
    key(&mut editor, Key::Enter);
    editor.run_steps(3);
    assert!(!is_dark(&editor), "chosen, whatever the system says");
    find(&mut editor, "colours system");
    key(&mut editor, Key::Enter);
    editor.run_steps(3);
    assert!(is_dark(&editor));
}

/// Where everything with a name lies in a window of this density.
fn places(density: f32) -> Vec<(String, egui::Rect)> {
    let workbench = Workbench::new(SAMPLES[5].plan().unwrap(), OnDisk::Yes);
    let builder = egui_kittest::Harness::builder().with_size(vec2(1280.0, 800.0));
    let builder = builder.with_pixels_per_point(density);
    let mut editor = builder.build_ui_state(|ui, workbench: &mut Workbench| workbench.ui(ui), workbench);
    editor.run_steps(5);
    let nodes = editor.root().children_recursive();
    nodes.filter_map(|node| Some((node.accesskit_node().label()?, node.rect()))).collect()
}

#[test]
fn on_a_dense_screen_everything_lies_where_it_lies_on_any_other() {
    let (usual, dense) = (places(1.0), places(2.0));
    assert!(usual.len() > 100, "{}", usual.len());
    let names =
        |places: &[(String, egui::Rect)]| places.iter().map(|(name, _)| name.clone()).collect::<Vec<_>>();
    assert_eq!(names(&usual), names(&dense));
    for ((name, one), (_, other)) in usual.iter().zip(&dense).filter(|((_, one), _)| one.is_finite()) {
        let apart = (one.min - other.min).length().max((one.max - other.max).length());
        assert!(apart < 4.0, "{name}: {one} and {other}");
    }
}

#[test]
fn everything_that_can_be_used_has_a_name_and_a_place_for_screen_readers() {
    let mut editor = editor(SAMPLES[5].plan().unwrap());
    let tabs = Tab::FIGURES.into_iter().chain(Tab::SET_UP).map(Request::ShowTab);
    let views = View::ALL.into_iter().map(|view| Request::Command(Command::Show(view)));
    for asked in tabs.chain(views) {
        let what = format!("{asked:?}");
        editor.state_mut().ask(asked);
        editor.run_steps(4);
        for node in editor.root().children_recursive() {
            let known = node.accesskit_node();
            let label = known.label().unwrap_or_default();
            if let Some(place) = known.raw_bounds().filter(|_| !label.is_empty()) {
                let is_finite = [place.x0, place.x1, place.y0, place.y1].into_iter().all(f64::is_finite);
                assert!(is_finite, "{what}: {label:?} lies at {place:?}");
            }
            let used = [Role::Button, Role::CheckBox, Role::ComboBox, Role::TextInput, Role::ListItem];
            if used.contains(&known.role()) {
                assert!(
                    !label.trim().is_empty(),
                    "{what}: a {:?} at {:?} has no name",
                    known.role(),
                    node.rect()
                );
            }
        }
    }
}
