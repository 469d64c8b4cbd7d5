//! Questions and messages over the window: one at a time, answered by mouse or keys, Escape being the safe answer.

use super::commands::Command;
use super::dialog_lists::{history_ui, left_ui};
use super::exports::ExportFormat;
use super::safekeeping::LeftWords;
use super::start::CAUTION;
use super::{Role, Theme};
use crate::format::EXTENSION;
use egui::{Button, Grid, Id, Modal, RichText, ScrollArea, TextEdit, Ui};
use std::path::{Path, PathBuf};

/// What is to be done once unsaved changes are out of the way.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Next {
    /// Start an empty plan.
    New,
    /// Choose a file and open it.
    Open,
    /// Open this file.
    OpenPath(PathBuf),
    /// Open a copy of a sample.
    OpenSample(usize),
    /// Open work that was left behind, by its place in the list.
    OpenLeft(usize),
    /// Close the window.
    Close,
}

/// What a path is wanted for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Purpose {
    /// To open the file.
    Open,
    /// To save to it.
    Save,
    /// To take its table in.
    TakeIn,
    /// To write a document of this kind to it.
    Export(ExportFormat),
    /// To compare its plan with the one that is open.
    Compare,
}

/// A question or message.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Dialog {
    /// There are unsaved changes; what then?
    Unsaved {
        /// What was asked for.
        next: Next,
    },
    /// The file changed on disk since it was opened.
    ChangedOnDisk {
        /// The file.
        path: PathBuf,
        /// Why saving was refused, in words.
        why: String,
    },
    /// There is a file already where a document is to go.
    Replace {
        /// The file.
        path: PathBuf,
    },
    /// Something went wrong; what was open stays open.
    Failed {
        /// What could not be done.
        what: String,
        /// Why, a line each.
        lines: Vec<String>,
    },
    /// No file dialog is to be had: type a path.
    TypePath {
        /// What for.
        purpose: Purpose,
        /// What was typed so far.
        text: String,
    },
    /// The list of shortcuts.
    Shortcuts,
    /// What the program is and what its model leaves out.
    About,
    /// The steps of the history, and which of them the plan stands at.
    History {
        /// Their labels, oldest first.
        labels: Vec<String>,
        /// The step that the plan stands at.
        at: usize,
    },
    /// Runs that ended badly left work behind.
    LeftBehind {
        /// The works, newest first.
        works: Vec<LeftWords>,
    },
}

impl Dialog {
    /// A name of its own for each kind, so that none inherits the size of another.
    fn name(&self) -> &'static str {
        match self {
            Self::Unsaved { .. } => "unsaved",
            Self::ChangedOnDisk { .. } => "changed",
            Self::Replace { .. } => "replace",
            Self::Failed { .. } => "failed",
            Self::TypePath { .. } => "path",
            Self::Shortcuts => "shortcuts",
            Self::About => "about",
            Self::History { .. } => "history",
            Self::LeftBehind { .. } => "left behind",
        }
    }
}

/// How a dialog was answered.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Answer {
    /// Save first, then go on.
    Save,
    /// Go on without saving.
    Discard,
    /// Overwrite what is on disk.
    Overwrite,
    /// Save under another name.
    SaveAs,
    /// Go on with what was typed.
    Take,
    /// Go to a step of the history.
    JumpTo(usize),
    /// Open work that was left behind.
    OpenLeft(usize),
    /// Give up work that was left behind.
    DiscardLeft(usize),
    /// Do nothing.
    Cancel,
}

/// Draws `dialog` over everything; gives the answer once there is one.
pub(super) fn dialog_ui(ui: &mut Ui, dialog: &mut Dialog) -> Option<Answer> {
    let ctx = ui.ctx().clone();
    let modal = Modal::new(Id::unique(("dialog", dialog.name()))).show(&ctx, |ui| {
        let wide = matches!(dialog, Dialog::Shortcuts | Dialog::About | Dialog::LeftBehind { .. });
        let width: f32 = if wide { 560.0 } else { 440.0 };
        ui.set_width(width.min(ctx.content_rect().width() - 60.0));
        match dialog {
            Dialog::Unsaved { .. } => unsaved_ui(ui),
            Dialog::ChangedOnDisk { why, .. } => changed_ui(ui, why),
            Dialog::Replace { path } => replace_ui(ui, path),
            Dialog::Failed { what, lines } => failed_ui(ui, what, lines),
            Dialog::TypePath { purpose, text } => type_path_ui(ui, *purpose, text),
            Dialog::Shortcuts => shortcuts_ui(ui),
            Dialog::About => about_ui(ui),
            Dialog::History { labels, at } => history_ui(ui, labels, *at),
            Dialog::LeftBehind { works } => left_ui(ui, works),
        }
    });
    modal.inner.or(modal.should_close().then_some(Answer::Cancel))
}

/// Buttons in a row at the right, the safe one last; the first gets the focus when the dialog opens.
pub(super) fn buttons_ui(ui: &mut Ui, buttons: &[(&str, Answer)]) -> Option<Answer> {
    let mut answer = None;
    ui.add_space(8.0);
    ui.horizontal(|ui| {
        // Made from left to right, so that Tab goes that way too; the room before them keeps them at the right.
        let font = egui::TextStyle::Button.resolve(ui.style());
        let padding = 2.0 * ui.spacing().button_padding.x;
        let gaps = ui.spacing().item_spacing.x * (buttons.len() as f32);
        let width = |words: &str| {
            let galley = ui.painter().layout_no_wrap(words.to_owned(), font.clone(), egui::Color32::WHITE);
            (galley.size().x + padding).max(80.0)
        };
        let all: f32 = buttons.iter().map(|(words, _)| width(words)).sum();
        ui.add_space((ui.available_width() - all - gaps).max(0.0));
        for (at, (words, means)) in buttons.iter().enumerate() {
            let button = ui.add(Button::new(*words).min_size(egui::vec2(80.0, 24.0)));
            if button.clicked() {
                answer = Some(*means);
            }
            let unfocused = ui.memory(|memory| memory.focused().is_none());
            if at == 0 && unfocused {
                button.request_focus();
            }
        }
    });
    answer
}

fn unsaved_ui(ui: &mut Ui) -> Option<Answer> {
    ui.heading("Save the changes first?");
    ui.label("The plan has changes that are not saved. Without saving they are lost.");
    buttons_ui(
        ui,
        &[("Save", Answer::Save), ("Discard changes", Answer::Discard), ("Cancel", Answer::Cancel)],
    )
}

fn changed_ui(ui: &mut Ui, why: &str) -> Option<Answer> {
    ui.heading("The file changed on disk");
    ui.label(why);
    ui.label("Overwriting loses what somebody else put there.");
    buttons_ui(
        ui,
        &[("Save as...", Answer::SaveAs), ("Overwrite", Answer::Overwrite), ("Cancel", Answer::Cancel)],
    )
}

fn replace_ui(ui: &mut Ui, path: &Path) -> Option<Answer> {
    ui.heading("Replace the file?");
    ui.label(format!("{} is there already. Replacing loses what it holds.", path.display()));
    buttons_ui(ui, &[("Replace", Answer::Overwrite), ("Cancel", Answer::Cancel)])
}

fn failed_ui(ui: &mut Ui, what: &str, lines: &[String]) -> Option<Answer> {
    let theme = Theme::of(ui);
    ui.label(RichText::new(what).heading().color(theme.color(Role::Fail)));
    ScrollArea::vertical().max_height(280.0).min_scrolled_height(280.0).show(ui, |ui| {
        for line in lines {
            ui.add(egui::Label::new(line).wrap().selectable(true));
            ui.add_space(2.0);
        }
    });
    ui.weak("What was open stays open and unchanged.");
    buttons_ui(ui, &[("Close", Answer::Cancel)])
}

fn type_path_ui(ui: &mut Ui, purpose: Purpose, text: &mut String) -> Option<Answer> {
    ui.heading(match purpose {
        Purpose::Open => "Open which file?",
        Purpose::Compare => "Compare with which file?",
        Purpose::Save => "Save to which file?",
        Purpose::TakeIn => "Take in which table?",
        Purpose::Export(_) => "Write to which file?",
    });
    let extension = match purpose {
        Purpose::Export(format) => format.extension(),
        Purpose::TakeIn => "csv",
        _ => EXTENSION,
    };
    ui.weak(format!("This system offers no file dialog, so type the path here. It ends in .{extension}"));
    let field =
        ui.add(TextEdit::singleline(text).desired_width(f32::INFINITY)).accessible_name("Path of the file");
    // Asked before the field is given the keyboard back, since then it has never lost it.
    let entered = field.lost_focus() && ui.input(|input| input.key_pressed(egui::Key::Enter));
    if ui.memory(|memory| memory.focused().is_none()) {
        field.request_focus();
    }
    let word = match purpose {
        Purpose::Open => "Open file",
        Purpose::Compare => "Compare with file",
        Purpose::Save => "Save file",
        Purpose::TakeIn => "Take in",
        Purpose::Export(_) => "Write file",
    };
    let answer = buttons_ui(ui, &[(word, Answer::Take), ("Cancel", Answer::Cancel)]);
    if entered { Some(Answer::Take) } else { answer }
}

const POINTER: [(&str, &str); 14] = [
    ("Drag a string", "from the yard list and back, between pockets, along the train; Escape puts it back"),
    ("In a drag: Alt, Shift, Ctrl", "catch at nothing, move one of a pair alone, swap with what lies there"),
    ("In a drag: type a number", "the exact place; R for the rear end, O for the overhang, Enter drops"),
    ("Drag a vehicle", "to another place in the train; with the keyboard on it also Ctrl and Left or Right"),
    ("Right click, Menu key or Shift+F10", "what can be done with the thing"),
    ("Click, Ctrl or Shift with it", "select one, one more, a range"),
    ("Drag on empty ground", "select what the band touches"),
    ("Wheel, Ctrl with it", "pan along the train, zoom"),
    ("Arrow keys on a string", "nudge by 10 mm, with Ctrl 1 mm, with Shift 1 m; up and down change the tier"),
    ("Alt and Left or Right on a string", "to the next place where it catches"),
    ("Enter on a string of the yard list", "place it in the first free pocket at the rack shown"),
    ("Space on a string of the yard list", "choose it or let go of it"),
    ("Enter on an empty pocket of the rack face", "put what is chosen there"),
    ("Tab, Enter or Space", "go on to the next thing, press or choose it"),
];

fn shortcuts_ui(ui: &mut Ui) -> Option<Answer> {
    ui.heading("Keyboard and mouse");
    ScrollArea::vertical().max_height(460.0).min_scrolled_height(460.0).show(ui, |ui| {
        Grid::new("shortcuts").num_columns(2).striped(true).spacing([24.0, 4.0]).show(ui, |ui| {
            for command in Command::all() {
                ui.label(command.title());
                ui.label(RichText::new(command.keys().join("  or  ")).monospace());
                ui.end_row();
            }
            for (what, does) in POINTER {
                ui.label(what);
                ui.label(does);
                ui.end_row();
            }
        });
    });
    buttons_ui(ui, &[("Close", Answer::Cancel)])
}

/// What the model leaves out, as every sheet says it too.
const LEFT_OUT: [&str; 4] = [
    "Static only: no dynamics, no track twist, no torsion of rails.",
    "Racks are level and rigid: the value of record. Where a plan asks, springs are reckoned beside it.",
    "The axles of a bogie share equally.",
    "Tolerances of track and wagons add to every figure: leave margin.",
];

fn about_ui(ui: &mut Ui) -> Option<Answer> {
    ui.heading("Longstow");
    ui.label(concat!("Version ", env!("CARGO_PKG_VERSION"), ", MIT or Apache-2.0"));
    ui.add_space(6.0);
    ui.label(CAUTION);
    ui.add_space(6.0);
    ui.strong("What the model leaves out");
    for line in LEFT_OUT {
        ui.label(line);
    }
    buttons_ui(ui, &[("Close", Answer::Cancel)])
}
