//! The window: a thin shell of eframe around the workbench.

use super::dialogs::Purpose;
use super::files::Outside;
use super::icon::icon;
use super::preferences::Preferences;
use super::safekeeping::KEPT_AFTER;
use super::start::Start;
use super::{Request, Theme, WorkPlace, Workbench};
use crate::disk::recent::RecentFiles;
use crate::disk::settings::SettingsFile;
use crate::disk::unsaved::Berth;
use crate::format::EXTENSION;
use egui::{Context, Ui, ViewportCommand};
use std::panic::{self, AssertUnwindSafe};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, Sender, channel};
use std::time::{Duration, Instant};

/// No window could be opened.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{why}")]
pub struct NoWindow {
    /// Why, in one line.
    pub why: String,
}

/// Opens the window on `plan`, or on the start view, and runs until it is closed.
///
/// # Errors
/// [`NoWindow`] where the window cannot be made: no display, one that fails, or a missing library (some of
/// these make the window code panic; that counts as an error until the first frame has been drawn, and as a
/// panic from then on).
pub fn run(plan: Option<PathBuf>) -> Result<(), NoWindow> {
    let drawn = Arc::new(AtomicBool::new(false));
    let hook: Arc<dyn Fn(&panic::PanicHookInfo<'_>) + Send + Sync> = Arc::from(panic::take_hook());
    let quiet = Arc::clone(&drawn);
    let loud = Arc::clone(&hook);
    panic::set_hook(Box::new(move |info| {
        if quiet.load(Ordering::Relaxed) {
            loud(info);
        }
    }));
    let seen = Arc::clone(&drawn);
    let result = panic::catch_unwind(AssertUnwindSafe(|| open(plan, seen)));
    panic::set_hook(Box::new(move |info| hook(info)));
    match result {
        Ok(Ok(())) => Ok(()),
        Ok(Err(error)) => Err(NoWindow { why: one_line(&error.to_string()) }),
        Err(payload) if drawn.load(Ordering::Relaxed) => panic::resume_unwind(payload),
        Err(payload) => {
            let words = payload.downcast_ref::<String>().map(String::as_str);
            let words = words.or_else(|| payload.downcast_ref::<&str>().copied());
            Err(NoWindow { why: one_line(words.unwrap_or("the window code gave up")) })
        }
    }
}

/// The reason in one line, without the source file and line of the window code that gave it.
fn one_line(words: &str) -> String {
    let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
    let after_place = words.rsplit_once(".rs:").map(|(_, rest)| rest);
    let reason =
        after_place.map(|rest| rest.trim_start_matches(|c: char| c.is_ascii_digit() || c == ':').trim());
    reason.filter(|reason| !reason.is_empty()).unwrap_or(&words).to_owned()
}

fn open(plan: Option<PathBuf>, drawn: Arc<AtomicBool>) -> eframe::Result {
    let viewport = egui::ViewportBuilder::default()
        .with_title("Longstow")
        .with_app_id("longstow")
        .with_inner_size([1280.0, 800.0])
        .with_min_inner_size([960.0, 600.0])
        .with_icon(icon())
        .with_drag_and_drop(true);
    let options = eframe::NativeOptions { viewport, ..Default::default() };
    let start = RecentFiles::of_user().map(Start::with_recent).unwrap_or_default();
    eframe::run_native(
        "longstow",
        options,
        Box::new(move |creation| {
            Theme::install(&creation.egui_ctx);
            let mut workbench = Workbench::at_start(start);
            workbench = workbench.working(WorkPlace::Beside, &creation.egui_ctx);
            let settings = SettingsFile::of_user().ok();
            let preferences = settings.as_ref().map(Preferences::read).unwrap_or_default();
            let written = settings.as_ref().and_then(|file| file.read().ok()).unwrap_or_default();
            workbench.take_up_settings(&written);
            let others = workbench.settings();
            preferences.apply(&creation.egui_ctx);
            workbench.ask(Request::SetDecimal(preferences.decimal));
            if let Ok(folder) = Berth::folder_of_user() {
                workbench = workbench.keeping_in(&folder, KEPT_AFTER);
            }
            if let Some(plan) = &plan {
                workbench.open_path(plan);
            }
            Ok(Box::new(App::new(workbench, drawn, Kept { settings, preferences, others })))
        }),
    )
}

/// What a file dialog came back with.
struct Chosen {
    path: Option<PathBuf>,
    took: Duration,
}

/// What the user chose for the window, as it was kept last, and where.
struct Kept {
    settings: Option<SettingsFile>,
    preferences: Preferences,
    /// What else is kept: sizes of panes, exercises done.
    others: Vec<(String, String)>,
}

struct App {
    workbench: Workbench,
    kept: Kept,
    drawn: Arc<AtomicBool>,
    title: String,
    /// Nothing can be lost any more, so the next wish to close is granted.
    may_close: bool,
    chosen: (Sender<Chosen>, Receiver<Chosen>),
}

/// A dialog that comes back empty sooner than a person can cancel it was never shown.
const TOO_SOON: Duration = Duration::from_millis(350);

impl App {
    fn new(workbench: Workbench, drawn: Arc<AtomicBool>, kept: Kept) -> Self {
        Self { workbench, kept, drawn, title: String::new(), may_close: false, chosen: channel() }
    }

    fn keep_preferences(&mut self, ctx: &Context) {
        let now = Preferences::now(ctx, self.workbench.decimal);
        let others = self.workbench.settings();
        // While an edge is dragged its size is not settled.
        let settled = !ctx.input(|input| input.pointer.any_down());
        if settled && (now != self.kept.preferences || others != self.kept.others) {
            if let Some(settings) = &self.kept.settings {
                now.keep(settings, &others);
            }
            (self.kept.preferences, self.kept.others) = (now, others);
        }
    }

    fn take_dropped_files(&mut self, ctx: &Context) {
        let dropped = ctx.input(|input| input.raw.dropped_files.first().map(|file| file.path().to_owned()));
        if let Some(path) = dropped {
            self.workbench.ask(Request::OpenPath(path));
        }
    }

    fn take_chosen(&mut self) {
        while let Ok(chosen) = self.chosen.1.try_recv() {
            match chosen.path {
                None if chosen.took < TOO_SOON => self.workbench.no_file_dialog(),
                path => self.workbench.path_chosen(path),
            }
        }
    }

    /// Shows a file dialog on a thread of its own: it may wait for as long as it likes, or for ever.
    fn ask_path(&self, ctx: &Context, frame: &eframe::Frame, purpose: Purpose, suggested: &Path) {
        let (files, extension) = match purpose {
            Purpose::Export(format) => (format.title(), format.extension()),
            Purpose::TakeIn => ("Tables", "csv"),
            Purpose::Open | Purpose::Save | Purpose::Compare => ("Longstow plans", EXTENSION),
        };
        let mut dialog = rfd::FileDialog::new().set_parent(frame).add_filter(files, &[extension]);
        if purpose == Purpose::TakeIn {
            dialog = dialog.add_filter("All files", &["*"]);
        }
        if let Some(folder) = suggested.parent().filter(|folder| !folder.as_os_str().is_empty()) {
            dialog = dialog.set_directory(folder);
        }
        if let Some(name) =
            suggested.file_name().filter(|_| !matches!(purpose, Purpose::Open | Purpose::TakeIn))
        {
            dialog = dialog.set_file_name(name.to_string_lossy());
        }
        let (sender, ctx) = (self.chosen.0.clone(), ctx.clone());
        std::thread::spawn(move || {
            let asked = Instant::now();
            let path = match purpose {
                Purpose::Open | Purpose::TakeIn | Purpose::Compare => dialog.pick_file(),
                Purpose::Save | Purpose::Export(_) => dialog.save_file(),
            };
            // The window may be gone by now; then nobody waits for the answer.
            drop(sender.send(Chosen { path, took: asked.elapsed() }));
            ctx.request_repaint();
        });
    }
}

impl eframe::App for App {
    fn logic(&mut self, ctx: &Context, _frame: &mut eframe::Frame) {
        if ctx.input(|input| input.viewport().close_requested()) && !self.may_close {
            ctx.send_viewport_cmd(ViewportCommand::CancelClose);
            self.workbench.close_requested();
            ctx.request_repaint();
        }
        // Nothing is drawn while the window is hidden, but work may be unsaved all the same.
        self.workbench.safekeep();
    }

    fn ui(&mut self, ui: &mut Ui, frame: &mut eframe::Frame) {
        let ctx = ui.ctx().clone();
        self.take_dropped_files(&ctx);
        self.take_chosen();
        self.workbench.ui(ui);
        for outside in self.workbench.take_outside() {
            match outside {
                Outside::AskPath { purpose, suggested } => self.ask_path(&ctx, frame, purpose, &suggested),
                Outside::CloseWindow => {
                    self.may_close = true;
                    ctx.send_viewport_cmd(ViewportCommand::Close);
                }
            }
        }
        self.keep_preferences(&ctx);
        let title = self.workbench.window_title();
        if title != self.title {
            ctx.send_viewport_cmd(ViewportCommand::Title(title.clone()));
            self.title = title;
        }
        self.drawn.store(true, Ordering::Relaxed);
    }

    fn on_exit(&mut self, _gl: Option<&eframe::glow::Context>) {
        self.workbench.leave();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_reason_is_one_line_without_places_in_source_files() {
        assert_eq!(one_line("os error at /a/b/mod.rs:765: DISPLAY is not set."), "DISPLAY is not set.");
        assert_eq!(one_line("a library\n  is missing"), "a library is missing");
        assert_eq!(one_line("failed at mod.rs:7"), "failed at mod.rs:7");
    }
}
