//! The top line: menus, the plan's title, the sum of the findings, undo and redo.

use super::judge::{judge_ui, signed_ui};
use super::mark::{mark_ui, role_of, verdict_told};
use crate::checks::Outcome;
use crate::gui::commands::Command;
use crate::gui::document::NOT_SAVED_YET;
use crate::gui::preferences::{COLOURS, SIZES};
use crate::gui::{Preview, Request, SavedTable, Settling, Shown, Start};
use crate::intake::Kind;
use crate::units::DecimalMark;
use egui::{Button, MenuBar, RichText, Ui};

/// Draws the line. `start` lists the samples and recent files for the File menu.
pub(in crate::gui) fn top_bar_ui(ui: &mut Ui, shown: &Shown<'_>, start: &Start, requests: &mut Vec<Request>) {
    MenuBar::new().ui(ui, |ui| {
        ui.menu_button("File", |ui| file_menu_ui(ui, start, requests));
        ui.menu_button("Edit", |ui| edit_menu_ui(ui, shown, requests));
        ui.menu_button("View", |ui| view_menu_ui(ui, shown, requests));
        ui.menu_button("Help", |ui| {
            ui.set_min_width(220.0);
            command_ui(ui, Command::Exercises, requests);
            command_ui(ui, Command::Shortcuts, requests);
            if ui.button("About and cautions").clicked() {
                requests.push(Request::ShowAbout);
                ui.close();
            }
        });
        ui.separator();
        undo_ui(ui, shown, requests);
        let find = ui
            .button("Find")
            .on_hover_text("Any command, string, vehicle, finding ... by its words (Ctrl+K)");
        if find.clicked() {
            requests.push(Request::Command(Command::Find));
        }
        ui.separator();
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            verdict_ui(ui, shown, requests);
            ui.separator();
            judge_ui(ui, shown, requests);
            ui.separator();
            signed_ui(ui, shown, requests);
            ui.with_layout(egui::Layout::left_to_right(egui::Align::Center), |ui| title_ui(ui, shown));
        });
    });
}

/// A menu line for a command, with its first shortcut.
fn command_ui(ui: &mut Ui, command: Command, requests: &mut Vec<Request>) {
    if ui.add(button_of(command, command.title())).clicked() {
        requests.push(Request::Command(command));
        ui.close();
    }
}

fn button_of(command: Command, words: &str) -> Button<'_> {
    let button = Button::new(words);
    match command.keys().into_iter().next() {
        Some(keys) => button.shortcut_text(keys),
        None => button,
    }
}

fn file_menu_ui(ui: &mut Ui, start: &Start, requests: &mut Vec<Request>) {
    ui.set_min_width(200.0);
    command_ui(ui, Command::New, requests);
    command_ui(ui, Command::Open, requests);
    ui.menu_button("Recent", |ui| {
        if start.recent.is_empty() {
            ui.weak("nothing opened yet");
        }
        for path in &start.recent {
            if ui.button(path.display().to_string()).clicked() {
                requests.push(Request::OpenPath(path.clone()));
                ui.close();
            }
        }
    });
    ui.menu_button("Samples", |ui| {
        for (at, sample) in Start::SAMPLES.iter().enumerate() {
            if ui.button(sample.title).on_hover_text(sample.about).clicked() {
                requests.push(Request::OpenSample(at));
                ui.close();
            }
        }
    });
    command_ui(ui, Command::LeftBehind, requests);
    ui.separator();
    command_ui(ui, Command::Save, requests);
    command_ui(ui, Command::SaveAs, requests);
    ui.separator();
    ui.menu_button("Take in", |ui| {
        for kind in [Kind::Order, Kind::Sections, Kind::Steps, Kind::Train] {
            command_ui(ui, Command::TakeIn(kind), requests);
        }
    });
    ui.menu_button("Save a table", |ui| {
        for table in SavedTable::ALL {
            command_ui(ui, Command::SaveTable(table), requests);
        }
    });
    ui.separator();
    command_ui(ui, Command::Close, requests);
}

fn edit_menu_ui(ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
    ui.set_min_width(260.0);
    for (command, label) in
        [(Command::Undo, shown.history.undo_label()), (Command::Redo, shown.history.redo_label())]
    {
        let words = match label {
            Some(label) => format!("{}: {label}", command.title()),
            None => command.title().to_owned(),
        };
        if ui.add_enabled(label.is_some(), button_of(command, &words)).clicked() {
            requests.push(Request::Command(command));
            ui.close();
        }
    }
    command_ui(ui, Command::History, requests);
    ui.separator();
    command_ui(ui, Command::Find, requests);
    command_ui(ui, Command::SelectAll, requests);
    let any = !shown.selection.strings.is_empty();
    ui.add_enabled_ui(any, |ui| {
        command_ui(ui, Command::TakeOff, requests);
        command_ui(ui, Command::Lock, requests);
        command_ui(ui, Command::HoldAtMiddle, requests);
        command_ui(ui, Command::Mirror, requests);
        command_ui(ui, Command::SwapPockets, requests);
    });
    command_ui(ui, Command::FillTier, requests);
    command_ui(ui, Command::PairsAsOne, requests);
    ui.separator();
    ui.add_enabled_ui(shown.selection.vehicle.is_some(), |ui| {
        for command in [
            Command::TurnVehicle,
            Command::DuplicateVehicle,
            Command::VehicleForward,
            Command::VehicleRearward,
            Command::RemoveVehicle,
        ] {
            command_ui(ui, command, requests);
        }
    });
}

fn view_menu_ui(ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
    ui.set_min_width(240.0);
    for command in
        [Command::WholeTrain, Command::ZoomToSelection, Command::ZoomToRack, Command::ZoomToFinding]
    {
        command_ui(ui, command, requests);
    }
    ui.separator();
    for command in [
        Command::FirstState,
        Command::StateBefore,
        Command::StateAfter,
        Command::LastState,
        Command::PlayStates,
    ] {
        command_ui(ui, command, requests);
    }
    for command in [Command::RackBefore, Command::RackAfter] {
        command_ui(ui, command, requests);
    }
    for command in [Command::FindingBefore, Command::FindingAfter] {
        command_ui(ui, command, requests);
    }
    command_ui(ui, Command::JudgeTheOther, requests);
    ui.separator();
    for view in crate::gui::View::ALL {
        command_ui(ui, Command::Show(view), requests);
    }
    ui.separator();
    ui.menu_button("Go to", |ui| {
        for pane in crate::gui::commands::Pane::ALL {
            command_ui(ui, Command::GoTo(pane), requests);
        }
    });
    ui.separator();
    ui.menu_button("Colours", |ui| {
        for (words, preference) in COLOURS {
            let now = ui.ctx().options(|options| options.theme_preference);
            if ui.radio(now == preference, words).clicked() {
                requests.push(Request::SetColours(preference));
            }
        }
    });
    ui.menu_button("Size", |ui| {
        let now = ui.ctx().zoom_factor();
        for size in SIZES {
            if ui.radio((now - size).abs() < 0.01, format!("{:.0} %", size * 100.0)).clicked() {
                requests.push(Request::SetSize(size));
            }
        }
        ui.weak("Ctrl with +, - and 0 too");
    });
    ui.menu_button("Units", |ui| {
        for (units, words) in crate::gui::fields::UNIT_SYSTEMS {
            if ui.radio(shown.style.units == units, words).clicked() && shown.style.units != units {
                requests.push(Request::Edit(crate::edit::Edit::SetUnits { units }));
            }
        }
        ui.separator();
        for (mark, words) in
            [(DecimalMark::Point, "Decimal point (1.25)"), (DecimalMark::Comma, "Decimal comma (1,25)")]
        {
            if ui.radio(shown.style.decimal == mark, words).clicked() {
                requests.push(Request::SetDecimal(mark));
            }
        }
    });
}

fn undo_ui(ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
    for (command, label) in
        [(Command::Undo, shown.history.undo_label()), (Command::Redo, shown.history.redo_label())]
    {
        let button = ui.add_enabled(label.is_some(), Button::new(command.title()));
        let button = match label {
            Some(label) => button.on_hover_text(label),
            None => button,
        };
        if button.clicked() {
            requests.push(Request::Command(command));
        }
    }
}

fn title_ui(ui: &mut Ui, shown: &Shown<'_>) {
    let title = if shown.plan.title.is_empty() { "Plan without a title" } else { &shown.plan.title };
    ui.add(egui::Label::new(RichText::new(title).strong()).truncate());
    if shown.history.is_saved() || shown.file_name == NOT_SAVED_YET {
        ui.add(egui::Label::new(RichText::new(shown.file_name).weak()).truncate());
    } else {
        ui.add(egui::Label::new(RichText::new(format!("{} (not saved)", shown.file_name)).weak()).truncate());
    }
}

/// The sum in words and shape, with the counts that it rests on.
fn verdict_ui(ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
    if let Some(preview) = shown.preview {
        return preview_verdict_ui(ui, shown, preview);
    }
    if shown.settling != Settling::Done {
        return unsettled_ui(ui, shown, requests);
    }
    let (outcome, words) = verdict_told(shown.settled_assessment);
    ui.label(RichText::new(words).strong().color(shown.theme.color(role_of(outcome))))
        .on_hover_text("All states of the plan against the limits entered. The program computes; it never says that a train may run.");
    mark_ui(ui, outcome);
}

/// While other states than the one shown are not known: nothing is said of the plan as a whole.
fn unsettled_ui(ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
    if shown.settling == Settling::CalledOff {
        let button = ui.button("Work out all states");
        if button.on_hover_text("Only the state shown is worked out").clicked() {
            requests.push(Request::WorkOut);
        }
        return;
    }
    ui.label(RichText::new("Being worked out").strong())
        .on_hover_text("The state shown is worked out; the others follow.");
    ui.add(egui::Spinner::new().size(14.0));
}

/// While a drag lasts: what it would change in the state shown; the sum over all states is not worked out for it.
fn preview_verdict_ui(ui: &mut Ui, shown: &Shown<'_>, preview: &Preview) {
    let (broken, mended) = (preview.newly_broken.len(), preview.mended.len());
    let (outcome, words) = match (&preview.refused, broken, mended) {
        (Some(_), ..) => (Outcome::Fail, "Not possible here".to_owned()),
        (None, 0, 0) => (Outcome::Note, "Here: breaks nothing, mends nothing".to_owned()),
        (None, 0, mended) => (Outcome::Pass, format!("Here: mends {mended}")),
        (None, broken, 0) => (Outcome::Fail, format!("Here: breaks {broken}")),
        (None, broken, mended) => (Outcome::Fail, format!("Here: breaks {broken}, mends {mended}")),
    };
    ui.label(RichText::new(words).strong().color(shown.theme.color(role_of(outcome))))
        .on_hover_text("In the state shown; all states are checked once you let go.");
    mark_ui(ui, outcome);
}
