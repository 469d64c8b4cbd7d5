//! Opening and saving: the flow from a wish over questions to the file, without ever waiting for a dialog.

use super::dialogs::{Answer, Dialog, Next, Purpose};
use super::{Document, View, Workbench};
use crate::disk::{DiskError, Expected, read_bytes, save};
use crate::edit::OnDisk;
use crate::format;
use crate::model::Plan;
use std::error::Error;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// What only the window around the workbench can do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Outside {
    /// Let the user choose a path; answer with [`Workbench::path_chosen`] or [`Workbench::no_file_dialog`].
    AskPath {
        /// What for.
        purpose: Purpose,
        /// A file to start from: its folder, and for saving its name.
        suggested: PathBuf,
    },
    /// Close the window; everything is saved or given up.
    CloseWindow,
}

/// A file dialog that has not answered yet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Asking {
    purpose: Purpose,
    /// Whether the user was told that it is open.
    reminded: bool,
}

impl Workbench {
    /// Does `next`, after asking about unsaved changes where there are some.
    pub(super) fn after_saving(&mut self, next: Next) {
        if self.document.is_touched() {
            self.dialog = Some(Dialog::Unsaved { next });
        } else {
            self.go_on(next);
        }
    }

    fn go_on(&mut self, next: Next) {
        match next {
            Next::New => self.show_document(Document::new(Arc::new(empty_plan()), OnDisk::Yes)),
            Next::Open => self.ask_path(Purpose::Open),
            Next::OpenPath(path) => self.open_path(&path),
            Next::OpenSample(at) => self.open_sample(at),
            Next::OpenLeft(at) => self.open_left(at),
            Next::Close => self.outside.push(Outside::CloseWindow),
        }
    }

    pub(super) fn ask_path(&mut self, purpose: Purpose) {
        // A second dialog beside the first would only confuse; one that never answers must not lock the user out.
        match &mut self.asking {
            Some(asking) if !asking.reminded => {
                asking.reminded = true;
                return self
                    .say("A file dialog is open already; ask once more to type the path here instead");
            }
            Some(asking) => {
                asking.purpose = purpose;
                return self.no_file_dialog();
            }
            None => self.asking = Some(Asking { purpose, reminded: false }),
        }
        let suggested = match purpose {
            Purpose::Export(_) => self.suggested_export(),
            _ => self.document.path.clone().unwrap_or_else(|| PathBuf::from(self.suggested_name())),
        };
        self.outside.push(Outside::AskPath { purpose, suggested });
    }

    pub(super) fn suggested_name(&self) -> String {
        let keep = |c: char| if c.is_alphanumeric() { c.to_ascii_lowercase() } else { '-' };
        let name: String = self.document.plan().title.chars().map(keep).collect();
        let words: Vec<&str> = name.split('-').filter(|word| !word.is_empty()).collect();
        let name = if words.is_empty() { "plan".to_owned() } else { words.join("-") };
        format!("{name}.{}", format::EXTENSION)
    }

    /// The answer to [`Outside::AskPath`]; none: cancelled.
    pub fn path_chosen(&mut self, path: Option<PathBuf>) {
        // An answer that nobody waits for any more is let go of.
        let Some(Asking { purpose, .. }) = self.asking.take() else { return };
        let Some(path) = path else {
            (self.next, self.export) = (None, None);
            return;
        };
        match purpose {
            Purpose::Open => self.open_path(&path),
            Purpose::Save => self.save_under(&path),
            Purpose::TakeIn => self.take_file(&path),
            Purpose::Export(_) => self.export_under(&path),
            Purpose::Compare => self.compare_path(&path),
        }
    }

    /// The other answer to [`Outside::AskPath`]: there is no file dialog to be had, so a path must be typed.
    pub fn no_file_dialog(&mut self) {
        if let Some(Asking { purpose, .. }) = self.asking.take() {
            let text = match (&self.document.path, purpose) {
                (_, Purpose::Export(_)) => self.suggested_export().display().to_string(),
                (_, Purpose::TakeIn | Purpose::Compare) | (None, Purpose::Open) => String::new(),
                (Some(path), _) => path.display().to_string(),
                (None, Purpose::Save) => self.suggested_name(),
            };
            self.dialog = Some(Dialog::TypePath { purpose, text });
        }
    }

    /// Compares what is open with the plan at `path`; where that cannot be read, says why.
    pub fn compare_path(&mut self, path: &Path) {
        let read = read_bytes(path, format::MOST_BYTES as u64).map_err(|error| vec![chain(&error)]);
        let read = read.and_then(|bytes| {
            format::read(&bytes).map_err(|error| error.faults().iter().map(ToString::to_string).collect())
        });
        match read {
            Ok(plan) => {
                let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
                self.panels.views.compare.compare_with(plan, name);
                self.panels.views.view = View::Compare;
            }
            Err(lines) => self.failed(format!("{} cannot be read", path.display()), lines),
        }
    }

    fn open_sample(&mut self, at: usize) {
        let Some(sample) = super::samples::SAMPLES.get(at) else { return };
        match sample.plan() {
            Ok(plan) => self.show_document(Document::new(Arc::new(plan), OnDisk::Yes)),
            Err(error) => self.failed(format!("{} cannot be opened", sample.title), vec![error.to_string()]),
        }
    }

    pub(super) fn failed(&mut self, what: String, lines: Vec<String>) {
        self.dialog = Some(Dialog::Failed { what, lines });
    }

    /// Saves to the file that the plan came from, or asks where to.
    pub(super) fn save(&mut self) {
        match (self.document.path.clone(), self.document.stamp) {
            (Some(path), Some(stamp)) => self.save_to(&path, Expected::Unchanged(stamp)),
            _ => self.ask_path(Purpose::Save),
        }
    }

    /// Asks where to save.
    pub(super) fn save_as(&mut self) {
        self.ask_path(Purpose::Save);
    }

    /// Saves to a path that the user just chose; the dialog has asked about a file that is there already.
    fn save_under(&mut self, path: &Path) {
        let mut path = path.to_owned();
        let named = path.extension().is_some();
        if !named {
            path.set_extension(format::EXTENSION);
        }
        // A name that the program completed was not seen by the dialog, so nothing may be lost there.
        self.save_to(&path, if named { Expected::Anything } else { Expected::Nothing });
    }

    fn save_to(&mut self, path: &Path, expected: Expected) {
        let text = format::write(self.document.plan());
        match save(path, text.as_bytes(), expected) {
            Ok(stamp) => {
                self.document.saved_to(path.to_owned(), stamp);
                self.start.remember(path);
                self.say(format!("Saved {}", path.display()));
                if let Some(next) = self.next.take() {
                    self.go_on(next);
                }
            }
            Err(error @ (DiskError::ChangedOnDisk { .. } | DiskError::AlreadyThere { .. })) => {
                self.dialog = Some(Dialog::ChangedOnDisk { path: path.to_owned(), why: chain(&error) });
            }
            Err(error) => {
                self.next = None;
                self.failed("The plan was not saved".to_owned(), vec![chain(&error)]);
            }
        }
    }

    /// Goes on after a dialog was answered.
    pub(super) fn answered(&mut self, dialog: Dialog, answer: Answer) {
        match (dialog, answer) {
            (Dialog::Unsaved { next }, Answer::Save) => {
                self.next = Some(next);
                self.save();
            }
            (Dialog::Unsaved { next }, Answer::Discard) => self.go_on(next),
            (Dialog::ChangedOnDisk { path, .. }, Answer::Overwrite) => {
                self.save_to(&path, Expected::Anything);
            }
            (Dialog::ChangedOnDisk { .. }, Answer::SaveAs) => self.save_as(),
            (Dialog::TypePath { purpose, text }, Answer::Take) if !text.trim().is_empty() => {
                let path = PathBuf::from(text.trim());
                match purpose {
                    Purpose::Open => self.open_path(&path),
                    Purpose::Compare => self.compare_path(&path),
                    // Nothing has asked about a file that is there already.
                    Purpose::Save => self.save_typed(path),
                    Purpose::TakeIn => self.take_file(&path),
                    Purpose::Export(_) => self.export_to(&path, Expected::Nothing),
                }
            }
            (Dialog::Replace { path }, Answer::Overwrite) => self.export_to(&path, Expected::Anything),
            (Dialog::History { .. }, Answer::JumpTo(step)) => {
                self.jump_to(step);
                self.show_history();
            }
            (Dialog::LeftBehind { .. }, Answer::OpenLeft(at)) => self.after_saving(Next::OpenLeft(at)),
            (Dialog::LeftBehind { .. }, Answer::DiscardLeft(at)) => self.discard_left(at),
            // Whatever was to follow is off.
            _ => (self.next, self.export) = (None, None),
        }
    }

    fn save_typed(&mut self, mut path: PathBuf) {
        if path.extension().is_none() {
            path.set_extension(format::EXTENSION);
        }
        match (&self.document.path, self.document.stamp) {
            (Some(own), Some(stamp)) if *own == path => self.save_to(&path, Expected::Unchanged(stamp)),
            _ => self.save_to(&path, Expected::Nothing),
        }
    }
}

/// An error and what caused it, in one line.
pub(super) fn chain(error: &dyn Error) -> String {
    let mut words = error.to_string();
    let mut cause = error.source();
    while let Some(error) = cause {
        words.push_str(&format!(" ({error})"));
        cause = error.source();
    }
    words
}

/// A plan with nothing in it.
pub(super) fn empty_plan() -> Plan {
    use crate::model::{Beyond, BeyondKind, Limits, OrderTable, Route, Train};
    use crate::units::{Length, UnitSystem};
    let nothing = Beyond { kind: BeyondKind::Nothing, distance: Length::ZERO };
    Plan {
        title: "New plan".to_owned(),
        notes: String::new(),
        units: UnitSystem::Metric,
        train: Train {
            vehicle_types: Vec::new(),
            rack_types: Vec::new(),
            vehicles: Vec::new(),
            coupling_slack: None,
            front_beyond: nothing,
            rear_beyond: nothing,
            lane_rule: None,
        },
        sections: Vec::new(),
        steels: Vec::new(),
        order: Vec::new(),
        order_table: OrderTable::default(),
        placements: Vec::new(),
        drops: Vec::new(),
        route: Route::default(),
        limits: Limits::default(),
        accepted: Vec::new(),
        as_loaded: Vec::new(),
        weighings: Vec::new(),
        signatures: Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::Edit;
    use crate::gui::{Command, Request, SAMPLES, Start};
    use std::fs;
    use tempfile::TempDir;

    /// A folder with a copy of sample (a), and an editor on it.
    fn editor() -> (TempDir, PathBuf, Workbench) {
        let folder = TempDir::new().unwrap();
        let path = folder.path().join("plan.longstow");
        fs::write(&path, format::write(&SAMPLES[0].plan().unwrap())).unwrap();
        let mut editor = Workbench::at_start(Start::default());
        editor.open_path(&path);
        (folder, path, editor)
    }

    fn retitle(editor: &mut Workbench, title: &str) {
        editor.ask(Request::Edit(Edit::SetTitle { title: title.to_owned() }));
    }

    fn answer(editor: &mut Workbench, answer: Answer) {
        let dialog = editor.dialog.take().expect("a question");
        editor.answered(dialog, answer);
    }

    fn title_in(path: &Path) -> String {
        format::read(&fs::read(path).unwrap()).unwrap().title
    }

    #[test]
    fn the_window_title_tells_the_file_and_whether_changes_are_saved() {
        let (_folder, path, mut editor) = editor();
        assert_eq!(editor.window_title(), "Longstow - plan.longstow");
        retitle(&mut editor, "Changed");
        assert_eq!(editor.window_title(), "Longstow - plan.longstow*");
        editor.ask(Request::Command(Command::Save));
        assert_eq!(editor.window_title(), "Longstow - plan.longstow");
        assert_eq!(title_in(&path), "Changed");
        editor.ask(Request::Command(Command::Undo));
        assert_eq!(editor.window_title(), "Longstow - plan.longstow*");
    }

    #[test]
    fn a_bad_file_is_told_with_its_place_and_what_was_open_stays_open() {
        let (folder, path, mut editor) = editor();
        retitle(&mut editor, "Kept");
        let bad = folder.path().join("bad.longstow");
        let text = fs::read_to_string(&path).unwrap();
        fs::write(&bad, &text[..text.len() / 2]).unwrap();
        editor.open_path(&bad);
        let Some(Dialog::Failed { lines, .. }) = editor.dialog() else { panic!("{:?}", editor.dialog()) };
        assert!(lines[0].starts_with("line "), "{lines:?}");
        assert_eq!(editor.document().plan().title, "Kept");
        assert!(editor.document().is_touched());
        editor.open_path(folder.path());
        assert!(matches!(editor.dialog(), Some(Dialog::Failed { .. })));
        assert_eq!(editor.document().plan().title, "Kept");
    }

    #[test]
    fn a_file_that_changed_on_disk_is_overwritten_only_on_purpose() {
        let (_folder, path, mut editor) = editor();
        retitle(&mut editor, "Mine");
        let theirs = format::write(&SAMPLES[1].plan().unwrap());
        fs::write(&path, &theirs).unwrap();
        editor.ask(Request::Command(Command::Save));
        assert!(matches!(editor.dialog(), Some(Dialog::ChangedOnDisk { .. })));
        answer(&mut editor, Answer::Cancel);
        assert_eq!(fs::read_to_string(&path).unwrap(), theirs);
        assert!(editor.document().is_touched());
        editor.ask(Request::Command(Command::Save));
        answer(&mut editor, Answer::Overwrite);
        assert_eq!(title_in(&path), "Mine");
    }

    #[test]
    fn closing_with_changes_asks_and_loses_nothing_unless_told_to() {
        let (_folder, path, mut editor) = editor();
        editor.close_requested();
        assert_eq!(editor.take_outside(), [Outside::CloseWindow], "nothing to lose");
        retitle(&mut editor, "Changed");
        editor.close_requested();
        answer(&mut editor, Answer::Cancel);
        assert_eq!(editor.take_outside(), []);
        editor.close_requested();
        answer(&mut editor, Answer::Save);
        assert_eq!(editor.take_outside(), [Outside::CloseWindow]);
        assert_eq!(title_in(&path), "Changed");
        retitle(&mut editor, "Given up");
        editor.close_requested();
        answer(&mut editor, Answer::Discard);
        assert_eq!(editor.take_outside(), [Outside::CloseWindow]);
        assert_eq!(title_in(&path), "Changed");
    }

    #[test]
    fn opening_another_plan_asks_about_changes_first() {
        let (_folder, _, mut editor) = editor();
        retitle(&mut editor, "Changed");
        for request in [Request::OpenSample(1), Request::Command(Command::New)] {
            editor.ask(request);
            assert!(matches!(editor.dialog(), Some(Dialog::Unsaved { .. })));
            answer(&mut editor, Answer::Cancel);
            assert_eq!(editor.document().plan().title, "Changed");
        }
        editor.ask(Request::OpenSample(1));
        answer(&mut editor, Answer::Discard);
        assert_eq!(editor.document().plan().title, SAMPLES[1].title);
        assert_eq!(editor.document().path, None, "a copy, so that the sample itself is never overwritten");
    }

    #[test]
    fn where_no_file_dialog_is_to_be_had_a_path_is_typed() {
        let (folder, path, mut editor) = editor();
        editor.ask(Request::OpenSample(2));
        retitle(&mut editor, "Second of May");
        editor.ask(Request::Command(Command::Save));
        let outside = editor.take_outside();
        let [Outside::AskPath { purpose: Purpose::Save, suggested }] = outside.as_slice() else {
            panic!("{outside:?}")
        };
        assert_eq!(suggested, Path::new("second-of-may.longstow"));
        editor.no_file_dialog();
        let typed = folder.path().join("typed");
        editor.dialog = Some(Dialog::TypePath { purpose: Purpose::Save, text: typed.display().to_string() });
        answer(&mut editor, Answer::Take);
        assert_eq!(title_in(&typed.with_extension("longstow")), "Second of May");
        // Nobody has asked about the file that is there already, so this asks.
        let before = fs::read(&path).unwrap();
        editor.dialog = Some(Dialog::TypePath { purpose: Purpose::Save, text: path.display().to_string() });
        answer(&mut editor, Answer::Take);
        assert!(matches!(editor.dialog(), Some(Dialog::ChangedOnDisk { .. })));
        assert_eq!(fs::read(&path).unwrap(), before);
    }

    #[test]
    fn a_file_dialog_that_never_answers_does_not_lock_the_user_out() {
        let (_folder, _, mut editor) = editor();
        editor.ask(Request::Command(Command::SaveAs));
        assert_eq!(editor.take_outside().len(), 1);
        editor.ask(Request::Command(Command::SaveAs));
        assert_eq!((editor.take_outside(), editor.dialog()), (Vec::new(), None), "told, and nothing more");
        editor.ask(Request::Command(Command::SaveAs));
        assert!(matches!(editor.dialog(), Some(Dialog::TypePath { .. })));
        editor.path_chosen(Some(PathBuf::from("late")));
        assert!(matches!(editor.dialog(), Some(Dialog::TypePath { .. })), "a late answer is let go of");
    }

    #[test]
    fn a_read_only_file_is_refused_and_stays_as_it_is() {
        let (_folder, path, mut editor) = editor();
        let before = fs::read(&path).unwrap();
        let mut permissions = fs::metadata(&path).unwrap().permissions();
        permissions.set_readonly(true);
        fs::set_permissions(&path, permissions).unwrap();
        retitle(&mut editor, "Changed");
        editor.ask(Request::Command(Command::Save));
        let Some(Dialog::Failed { lines, .. }) = editor.dialog() else { panic!("{:?}", editor.dialog()) };
        assert!(lines[0].contains("read-only"), "{lines:?}");
        assert_eq!(fs::read(&path).unwrap(), before);
        assert!(editor.document().is_touched());
    }
}
