//! How the table is written, and which column holds what: found out, and to be changed.

use crate::format::{Parting, Separator, Table};
use crate::gui::fields::{Spec, choice_ui, pick_ui};
use crate::gui::{Role, Theme};
use crate::intake::{
    Choices, ColumnChoice, HeaderChoice, Intake, Matched, Measure, Need, column_count, column_words,
};
use crate::units::DecimalMark;
use egui::{RichText, ScrollArea, Ui, vec2};

/// Separator, decimal mark and headers.
pub(super) fn form_ui(ui: &mut Ui, told: (&Table, &Intake), said: (&mut Choices, &mut Parting)) {
    let ((table, intake), (choices, parting)) = (told, said);
    ui.horizontal_wrapped(|ui| {
        ui.label("Cells parted by");
        let now = table.separator;
        let separators =
            [(Separator::Comma, "commas"), (Separator::Semicolon, "semicolons"), (Separator::Tab, "tabs")];
        if let Some(separator) = choice_ui(ui, Spec::new("Cells parted by").wide(96.0), now, &separators) {
            *parting = Parting::By(separator);
        }
        ui.label("Decimal mark").on_hover_text(
            "Found out from the numbers. Where all of them could be read both ways, say it here.",
        );
        let marks = [
            (None, "none found"),
            (Some(DecimalMark::Point), "point: 107.5"),
            (Some(DecimalMark::Comma), "comma: 107,5"),
        ];
        let now = intake.matching.decimal();
        if let Some(mark) = choice_ui(ui, Spec::new("Decimal mark").wide(110.0), now, &marks) {
            choices.decimal = mark;
        }
        ui.label("Headers");
        header_ui(ui, (table, intake), choices);
    });
}

/// The lines that may hold the headers are among the first.
const LINES_OFFERED: usize = 12;

fn header_ui(ui: &mut Ui, (table, intake): (&Table, &Intake), choices: &mut Choices) {
    let lines: Vec<usize> = table.lines.iter().take(LINES_OFFERED).map(|line| line.number).collect();
    let mut names = vec!["none".to_owned()];
    names.extend(lines.iter().map(|line| format!("line {line}")));
    let header = intake.matching.header.and_then(|header| table.lines.get(header)).map(|line| line.number);
    let now = match header {
        None => Some(0),
        Some(line) => lines.iter().position(|other| *other == line).map(|at| at + 1),
    };
    if let Some(at) = pick_ui(ui, Spec::new("Headers").wide(84.0), now, &names) {
        let line = at.checked_sub(1).and_then(|at| lines.get(at));
        choices.header = line.map_or(HeaderChoice::Without, |line| HeaderChoice::Line(*line));
        // Columns are known by their headers.
        choices.columns.clear();
    }
}

/// Room for one field.
const BLOCK: egui::Vec2 = vec2(206.0, 42.0);

/// A block for each field: its name over the column and the unit.
pub(super) fn columns_ui(ui: &mut Ui, told: (&Table, &Intake), choices: &mut Choices) {
    let (table, intake) = told;
    let mut names = vec!["not in the table".to_owned()];
    names.extend((0..column_count(table)).map(|column| column_words(table, &intake.matching, column)));
    let height = (ui.ctx().content_rect().height() * 0.24).max(BLOCK.y * 2.0);
    ScrollArea::vertical().id_salt("columns").max_height(height).show(ui, |ui| {
        ui.horizontal_wrapped(|ui| {
            for matched in &intake.matching.columns {
                ui.allocate_ui(BLOCK, |ui| {
                    ui.set_min_size(BLOCK);
                    ui.vertical(|ui| field_ui(ui, intake, (matched, &names), choices));
                });
            }
        });
    });
}

fn field_ui(ui: &mut Ui, intake: &Intake, (matched, names): (&Matched, &[String]), choices: &mut Choices) {
    let theme = Theme::of(ui);
    let field = matched.field;
    let doubtful = intake.matching.doubtful.iter().any(|(doubted, _)| doubted.key == field.key);
    let missing = intake.missing.iter().any(|lacking| lacking.key == field.key);
    let needed = if field.need == Need::Never { "" } else { " *" };
    let mut title = RichText::new(format!("{}{needed}", field.title)).small();
    if doubtful || missing {
        title = title.color(theme.color(Role::Fail)).strong();
    }
    let label = ui.add(egui::Label::new(title).truncate());
    let mut about = vec![field.about];
    if field.need != Need::Never {
        about.push("* needed of a new row");
    }
    if doubtful {
        about.push("several columns may hold it; say which");
    }
    about.retain(|words| !words.is_empty());
    if !about.is_empty() {
        label.on_hover_text(about.join("; "));
    }
    ui.horizontal(|ui| {
        let has_unit = field.measure != Measure::Words;
        let now = Some(matched.column.map_or(0, |column| column + 1));
        let name = format!("Column of {}", field.title.to_lowercase());
        let width = if has_unit { 112.0 } else { 186.0 };
        if let Some(at) = pick_ui(ui, Spec::new(&name).wide(width), now, names) {
            let choice = at.checked_sub(1).map_or(ColumnChoice::Without, ColumnChoice::Column);
            // A column holds one thing: what it was said to hold before is found anew.
            choices.columns.retain(|_, other| *other != choice || choice == ColumnChoice::Without);
            choices.columns.insert(field.key, choice);
        }
        if has_unit && matched.column.is_some() {
            let units = field.measure.units();
            let signs: Vec<String> = units.iter().map(|unit| unit.sign.to_owned()).collect();
            let now = matched.unit.and_then(|unit| units.iter().position(|other| other == unit));
            let name = format!("Unit of {}", field.title.to_lowercase());
            let spec = Spec::new(&name).wide(66.0).hint("unit?");
            if let Some(unit) = pick_ui(ui, spec, now, &signs).and_then(|at| units.get(at)) {
                choices.units.insert(field.key, unit);
            }
        }
    });
}
