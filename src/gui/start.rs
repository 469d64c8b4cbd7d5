//! The start view: open, new, samples, recent files; what the program is, and its caution.

use super::samples::{SAMPLES, Sample, WITH_FINDINGS};
use super::{Command, Request, Role, Theme};
use crate::disk::recent::RecentFiles;
use egui::{Align, Button, Layout, RichText, ScrollArea, Ui, vec2};
use std::path::{Path, PathBuf};

/// What can be opened without looking for it.
#[derive(Debug, Default)]
pub struct Start {
    /// Files opened or saved last, newest first.
    pub recent: Vec<PathBuf>,
    list: Option<RecentFiles>,
}

impl Start {
    /// The samples.
    pub const SAMPLES: &'static [Sample] = &SAMPLES;

    /// With the recent files of `list`; a list that cannot be read is as good as none.
    pub fn with_recent(list: RecentFiles) -> Self {
        let recent = list.paths().unwrap_or_default();
        Self { recent, list: Some(list) }
    }

    /// Puts `path` first among the recent files.
    pub fn remember(&mut self, path: &Path) {
        if let Some(list) = &self.list {
            // A list that cannot be kept is no reason to bother the user.
            let kept = list.remember(path);
            self.recent = kept.and_then(|()| list.paths()).unwrap_or_else(|_| self.recent.clone());
        }
    }
}

/// The caution that stands wherever somebody might take the program's word for more than it is.
pub(super) const CAUTION: &str = "Longstow computes. It never says that a train may run: the limits are those that \
you entered or accepted, the model is static and leaves out what Help lists, and local rules and licensed people \
decide.";

/// Draws the view into all of `ui`.
pub(super) fn start_ui(ui: &mut Ui, start: &Start, requests: &mut Vec<Request>) {
    let theme = Theme::of(ui);
    ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
        let width = 760.0_f32.min(ui.available_width() - 40.0);
        ui.add_space((ui.available_height() * 0.08).clamp(8.0, 90.0));
        ui.with_layout(Layout::top_down(Align::Center), |ui| {
            ui.allocate_ui_with_layout(vec2(width, 0.0), Layout::top_down(Align::Min), |ui| {
                ui.set_width(width);
                ui.label(RichText::new("Longstow").size(34.0).strong());
                ui.label(
                    RichText::new(
                        "Plan how long welded rail strings are carried on a rail train, and see every state \
                         checked from full to empty.",
                    )
                    .size(15.0),
                );
                ui.add_space(14.0);
                ui.horizontal(|ui| {
                    for command in [Command::New, Command::Open] {
                        let words = RichText::new(command.title()).size(15.0);
                        if ui.add(Button::new(words).min_size(vec2(150.0, 34.0))).clicked() {
                            requests.push(Request::Command(command));
                        }
                    }
                    ui.weak("or drop a plan file on the window");
                });
                ui.add_space(18.0);
                ui.columns(2, |columns| {
                    samples_ui(&mut columns[0], requests);
                    recent_ui(&mut columns[1], start, requests);
                });
                ui.add_space(18.0);
                ui.label(RichText::new(CAUTION).color(theme.color(Role::WeakText)));
            });
        });
    });
}

fn samples_ui(ui: &mut Ui, requests: &mut Vec<Request>) {
    ui.heading("New to this?");
    if ui.link(Command::Exercises.title()).clicked() {
        requests.push(Request::Command(Command::Exercises));
    }
    ui.label(RichText::new("turn sliders on a small train, and see loads and balance answer").small().weak());
    ui.add_space(8.0);
    ui.heading("Samples");
    ui.weak("A copy opens; the sample itself stays as it is.");
    ui.add_space(4.0);
    for (at, sample) in SAMPLES.iter().enumerate() {
        match at {
            0 => drop(ui.strong("Loads to look at")),
            WITH_FINDINGS => drop(ui.strong("Loads with something to find")),
            _ => {}
        }
        if ui.link(sample.title).clicked() {
            requests.push(Request::OpenSample(at));
        }
        ui.label(RichText::new(sample.about).small().weak());
        ui.add_space(3.0);
    }
}

fn recent_ui(ui: &mut Ui, start: &Start, requests: &mut Vec<Request>) {
    ui.heading("Recent");
    if start.recent.is_empty() {
        ui.weak("Plans that you open or save are listed here.");
    }
    ui.add_space(4.0);
    for path in &start.recent {
        let name =
            path.file_name().map_or_else(|| path.display().to_string(), |name| name.to_string_lossy().into());
        if ui.link(name).on_hover_text(path.display().to_string()).clicked() {
            requests.push(Request::OpenPath(path.clone()));
        }
        let folder = path.parent().map(|folder| folder.display().to_string()).unwrap_or_default();
        ui.add(egui::Label::new(RichText::new(folder).small().weak()).truncate());
        ui.add_space(3.0);
    }
}
