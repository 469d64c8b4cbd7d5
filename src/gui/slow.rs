//! What a large plan keeps from being done within a frame: opening it, and all its states after a step.
//!
//! The state shown is worked out at once; the others follow beside the window, and until they are there the views
//! say so. Small plans, and all plans where work is done at once, never get here.

use super::document::Worked;
use super::files::chain;
use super::grant::lapsed_words;
use super::{Document, PATIENCE, Polled, Settling, Work, Workbench};
use crate::disk::read_bytes;
use crate::disk::unsaved::LeftBehind;
use crate::edit::OnDisk;
use crate::format;
use crate::model::Plan;
use crate::report::Judged;
use crate::statics::Scope;
use egui::{Id, Modal, ProgressBar, Ui};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::{Duration, Instant};

/// A plan whose states all take longer than this shows its other states later.
const AT_ONCE: Duration = Duration::from_millis(80);

/// Work under way, and what was called off.
#[derive(Debug, Default)]
pub(super) struct Slow {
    opening: Option<Opening>,
    settling: Option<Work<Option<Worked>>>,
    /// The same of the load as it was recorded.
    settling_as_loaded: Option<Work<Option<Worked>>>,
    /// Somebody called it off: not begun again until the plan changes or somebody asks.
    left_unsettled: bool,
}

#[derive(Debug)]
struct Opening {
    source: Source,
    begun: Instant,
    work: Work<Opened>,
}

/// Where a plan is opened from.
#[derive(Debug)]
enum Source {
    File(PathBuf),
    LeftBehind(LeftBehind),
}

impl Source {
    fn words(&self) -> String {
        match self {
            Self::File(path) => path.display().to_string(),
            Self::LeftBehind(left) => left.work.title.clone(),
        }
    }
}

/// The document, or why there is none, a line each; none where it was called off.
type Opened = Option<Result<Box<Document>, Vec<String>>>;

impl Slow {
    /// Whether a plan is being opened.
    pub(super) fn is_opening(&self) -> bool {
        self.opening.is_some()
    }
}

impl Workbench {
    /// Which states a step works out before it is done.
    pub(super) fn scope(&self) -> Scope {
        let is_slow = self.works.is_beside() && self.document.took() > AT_ONCE;
        if is_slow { Scope::One(self.state) } else { Scope::All }
    }

    /// How far the states of the plan are worked out.
    pub(super) fn settling(&self) -> Settling {
        let settled = match self.judged {
            Judged::AsPlanned => self.document.is_settled(),
            Judged::AsLoaded => self.document.is_settled_as_loaded(),
        };
        match (settled, self.slow.left_unsettled) {
            (true, _) => Settling::Done,
            (false, false) => Settling::UnderWay,
            (false, true) => Settling::CalledOff,
        }
    }

    /// Takes what was worked out since the last frame, and begins what is missing.
    pub(super) fn slow_frame(&mut self, ui: &Ui) {
        if self.ctx != *ui.ctx() {
            self.ctx = ui.ctx().clone();
        }
        self.take_opened();
        self.take_settled();
        let scope = self.scope();
        self.document.look_at_as_loaded(scope);
        self.take_settled_as_loaded();
    }

    /// Lets all states be worked out anew where they are not known.
    pub(super) fn forget_settling(&mut self) {
        self.slow.settling = None;
        self.slow.settling_as_loaded = None;
        self.slow.left_unsettled = false;
    }

    fn take_settled(&mut self) {
        if self.document.is_settled() || self.slow.left_unsettled {
            return;
        }
        if self.slow.settling.is_none() {
            self.slow.settling = Some(self.work_out_all(Arc::clone(self.document.plan())));
        }
        match Work::take(&mut self.slow.settling) {
            Some(Some(worked)) => {
                let lapsed = self.document.settle(worked);
                self.before = None;
                if let Some(words) = lapsed_words(&lapsed) {
                    self.say(words);
                }
            }
            Some(None) => self.slow.left_unsettled = true,
            None => self.slow.left_unsettled = self.slow.settling.is_none(),
        }
    }

    /// Takes all states of the load as it was recorded, once somebody looks at it and one of them is known.
    fn take_settled_as_loaded(&mut self) {
        if !self.document.is_settled() || self.document.is_settled_as_loaded() || self.slow.left_unsettled {
            return;
        }
        if self.slow.settling_as_loaded.is_none() {
            let loaded = self.document.recorded().loaded().plan.clone();
            self.slow.settling_as_loaded = Some(self.work_out_all(Arc::new(loaded)));
        }
        match Work::take(&mut self.slow.settling_as_loaded) {
            Some(Some(worked)) => {
                self.document.settle_as_loaded(worked);
                self.before = None;
            }
            Some(None) => self.slow.left_unsettled = true,
            None => self.slow.left_unsettled = self.slow.settling_as_loaded.is_none(),
        }
    }

    fn work_out_all(&self, plan: Arc<Plan>) -> Work<Option<Worked>> {
        self.works.start(&self.ctx, "Working out all states", move |progress| {
            Worked::of(plan, |done, all| {
                progress.tell(done, all);
                !progress.is_called_off()
            })
        })
    }

    /// Opens the plan at `path`; where that fails, says why and keeps what was open.
    pub fn open_path(&mut self, path: &Path) {
        let name = path.file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned());
        let from = path.to_owned();
        self.open(&name, Source::File(path.to_owned()), move |go_on| read_file(&from, go_on));
    }

    /// Opens work that was left behind, by its place in the list.
    pub(super) fn open_left(&mut self, at: usize) {
        if at >= self.left.len() {
            return;
        }
        let left = self.left.remove(at);
        let (title, bytes) = (left.work.title.clone(), left.work.bytes.clone());
        self.open(&title, Source::LeftBehind(left), move |go_on| read(&bytes, OnDisk::No, go_on));
    }

    fn open(
        &mut self,
        name: &str,
        source: Source,
        read: impl FnOnce(&mut dyn FnMut(usize, usize) -> bool) -> Opened + Send + 'static,
    ) {
        let work = self.works.start(&self.ctx, format!("Opening {name}"), move |progress| {
            read(&mut |done, all| {
                progress.tell(done, all);
                !progress.is_called_off()
            })
        });
        self.slow.opening = Some(Opening { source, begun: Instant::now(), work });
        self.take_opened();
    }

    fn take_opened(&mut self) {
        let Some(mut opening) = self.slow.opening.take() else { return };
        let opened = match opening.work.poll() {
            Polled::Running => {
                self.slow.opening = Some(opening);
                return;
            }
            Polled::Stopped => None,
            Polled::Done(opened) => opened,
        };
        match (opened, opening.source) {
            (Some(Ok(document)), Source::File(path)) => {
                self.show_document(*document);
                self.start.remember(&path);
            }
            (Some(Ok(document)), Source::LeftBehind(left)) => self.take_over(*document, left),
            (None, source) => self.put_back(source),
            (Some(Err(lines)), source) => {
                self.failed(format!("{} cannot be opened", source.words()), lines);
                self.put_back(source);
            }
        }
    }

    /// What was left behind and could not be opened can be asked for again.
    fn put_back(&mut self, source: Source) {
        if let Source::LeftBehind(left) = source {
            self.left.push(left);
        }
    }

    /// While a plan is being opened: says so once it takes a while, with a way to leave it; whether it is.
    pub(super) fn opening_ui(&mut self, ui: &Ui) -> bool {
        let Some(opening) = &self.slow.opening else { return false };
        if opening.begun.elapsed() < PATIENCE {
            return true;
        }
        let share = opening.work.share();
        let path = opening.source.words();
        let modal = Modal::new(Id::unique("opening")).show(ui.ctx(), |ui| {
            ui.set_width(440.0);
            ui.heading("Opening a large plan");
            ui.add(egui::Label::new(path).truncate());
            ui.add(ProgressBar::new(share.unwrap_or(0.0)));
            ui.button("Cancel").clicked()
        });
        if (modal.inner || modal.should_close())
            && let Some(opening) = self.slow.opening.take()
        {
            self.put_back(opening.source);
        }
        true
    }
}

/// Reads the plan at `path` and works it out.
fn read_file(path: &Path, go_on: &mut dyn FnMut(usize, usize) -> bool) -> Opened {
    match read_bytes(path, format::MOST_BYTES as u64) {
        Ok(bytes) => {
            let opened = read(&bytes, OnDisk::Yes, go_on)?;
            Some(opened.map(|document| Box::new(document.read_from(path.to_owned(), &bytes))))
        }
        Err(error) => Some(Err(vec![chain(&error)])),
    }
}

/// Reads a plan and works it out.
fn read(bytes: &[u8], on_disk: OnDisk, go_on: &mut dyn FnMut(usize, usize) -> bool) -> Opened {
    match format::read(bytes) {
        Ok(plan) => Some(Ok(Box::new(Document::of(Worked::of(Arc::new(plan), go_on)?, on_disk)))),
        Err(error) => Some(Err(error.faults().iter().map(ToString::to_string).collect())),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::Edit;
    use crate::gui::{Request, SAMPLES, WorkPlace};
    use egui_kittest::Harness;
    use egui_kittest::kittest::Queryable as _;

    type Editor = Harness<'static, Workbench>;

    /// An editor that works beside its window, on a plan whose states are said to take a second.
    fn editor() -> Editor {
        let ctx = egui::Context::default();
        let mut workbench =
            Workbench::new(SAMPLES[0].plan().unwrap(), OnDisk::Yes).working(WorkPlace::Beside, &ctx);
        workbench.document = workbench.document.slow();
        let builder = Harness::builder().with_size(egui::vec2(1280.0, 800.0));
        let mut editor = builder.build_ui_state(|ui, workbench: &mut Workbench| workbench.ui(ui), workbench);
        editor.run_steps(4);
        editor
    }

    fn wait_until(editor: &mut Editor, holds: impl Fn(&Editor) -> bool) {
        while !holds(editor) {
            editor.step();
            std::thread::sleep(Duration::from_millis(5));
        }
    }

    fn retitle(editor: &mut Editor, title: &str) {
        editor.state_mut().ask(Request::Edit(Edit::SetTitle { title: title.to_owned() }));
    }

    #[test]
    fn the_state_shown_is_there_at_once_and_the_others_follow() {
        let mut editor = editor();
        let all = editor.state().document.figures().worked.len();
        editor.state_mut().ask(Request::ShowState(3));
        retitle(&mut editor, "Changed");
        let figures = Arc::clone(editor.state().document.figures());
        assert_eq!(figures.worked.iter().map(|state| state.state).collect::<Vec<_>>(), [3]);
        assert!(!editor.state().document.is_settled());
        editor.state_mut().ask(Request::ShowState(5));
        assert!(editor.state().document.figures().state(5).is_some());
        wait_until(&mut editor, |editor| editor.state().document.is_settled());
        assert_eq!(editor.state().document.figures().worked.len(), all);
        assert_eq!(editor.state().settling(), Settling::Done);
    }

    #[test]
    fn a_step_before_all_states_are_there_lets_them_be_worked_out_for_the_newest_plan() {
        let mut editor = editor();
        for title in ["First", "Second", "Third"] {
            retitle(&mut editor, title);
            editor.step();
        }
        wait_until(&mut editor, |editor| editor.state().document.is_settled());
        assert_eq!(editor.state().document.figures().plan.title, "Third");
    }

    #[test]
    fn states_that_were_called_off_are_worked_out_once_somebody_asks() {
        let mut editor = editor();
        retitle(&mut editor, "Changed");
        editor.state_mut().slow.left_unsettled = true;
        editor.run_steps(3);
        assert_eq!(editor.state().settling(), Settling::CalledOff);
        assert!(!editor.state().document.is_settled());
        editor.get_by_label("Work out all states").click();
        wait_until(&mut editor, |editor| editor.state().document.is_settled());
    }

    #[test]
    fn opening_a_large_plan_can_be_left_and_nothing_is_changed_meanwhile() {
        let mut editor = editor();
        let title = editor.state().document.plan().title.clone();
        let (left, has_left) = std::sync::mpsc::channel();
        let endless = move |go_on: &mut dyn FnMut(usize, usize) -> bool| {
            while go_on(1, 2) {
                std::thread::sleep(Duration::from_millis(1));
            }
            left.send(()).unwrap();
            None
        };
        editor.state_mut().open("endless.longstow", Source::File(PathBuf::from("endless.longstow")), endless);
        wait_until(&mut editor, |editor| editor.query_by_label("Opening a large plan").is_some());
        editor.key_press(egui::Key::Escape);
        editor.run_steps(3);
        has_left.recv().unwrap();
        assert!(!editor.state().slow.is_opening());
        assert_eq!(editor.state().document.plan().title, title);
    }
}
