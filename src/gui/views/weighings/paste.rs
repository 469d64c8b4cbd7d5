//! Readings pasted from a spreadsheet: each row's fate is shown before anything is taken.

use super::grid::axle_of;
use crate::edit::Edit;
use crate::format::{Parting, TableLine, read_pasted};
use crate::gui::fields::read_quantity;
use crate::gui::views::person::Person;
use crate::gui::{Request, Role, Shown};
use crate::model::{Plan, VehicleMark, WeighedPart, Weighing};
use crate::report::part_words;
use crate::units::{Quantity, QuantityKind, Style};
use egui::{RichText, ScrollArea, TextEdit, Ui};

/// The box for pasted rows.
#[derive(Debug, Default)]
pub(super) struct Paste {
    open: bool,
    text: String,
}

/// What becomes of one row.
#[derive(Clone, Debug, PartialEq)]
enum Fate {
    /// A reading; its tolerance where the row has one.
    Reading { vehicle: VehicleMark, part: WeighedPart, kg: f64, tolerance: Option<f64> },
    /// The names of the columns.
    Heading,
    /// It cannot be read, and why.
    Refused(String),
}

impl Paste {
    /// Whether the box stands in place of the grid.
    pub(super) fn is_open(&self) -> bool {
        self.open
    }

    /// Draws the button that opens and closes the box.
    pub(super) fn toggle_ui(&mut self, ui: &mut Ui) {
        let why = "Rows from a spreadsheet: vehicle, part, reading, tolerance";
        if ui.selectable_label(self.open, "Paste rows").on_hover_text(why).clicked() {
            self.open = !self.open;
        }
    }

    /// Draws the box and what becomes of each row; `tolerance` goes to rows that have none.
    pub(super) fn ui(
        &mut self,
        ui: &mut Ui,
        shown: &Shown<'_>,
        (tolerance, person): (Option<f64>, &Person),
        requests: &mut Vec<Request>,
    ) {
        let unit = Quantity::small_mass(0.0).unit_sign(shown.style);
        ui.label(format!(
            "One reading to a row: vehicle, part, reading in {unit}, tolerance in % (may be missing). Parts: whole, axle 2, axle 2 left, axle 2 right."
        ));
        let height = (ui.available_height() * 0.4).max(60.0);
        ScrollArea::vertical().id_salt("pasted").max_height(height).show(ui, |ui| {
            let edit = TextEdit::multiline(&mut self.text).desired_width(f32::INFINITY).desired_rows(5);
            ui.add(edit.hint_text("W01\taxle 1\t9240\t1")).accessible_name("Rows of readings");
        });
        if self.text.trim().is_empty() {
            ui.weak("Nothing pasted yet.");
            return;
        }
        let plan: &Plan = shown.document.plan();
        let fates = match fates(&self.text, plan, shown.style) {
            Ok(fates) => fates,
            Err(why) => {
                ui.colored_label(shown.theme.color(Role::Fail), why);
                return;
            }
        };
        self.take_ui(ui, (plan, &fates, tolerance), person, requests);
        ScrollArea::vertical().id_salt("fates").auto_shrink(false).show(ui, |ui| {
            for (line, fate) in &fates {
                fate_ui(ui, shown, *line, fate);
            }
        });
    }

    /// The button that takes what can be read, with how many rows are left out.
    fn take_ui(
        &mut self,
        ui: &mut Ui,
        (plan, fates, tolerance): (&Plan, &[(usize, Fate)], Option<f64>),
        person: &Person,
        requests: &mut Vec<Request>,
    ) {
        let count = fates.iter().filter(|(_, fate)| matches!(fate, Fate::Reading { .. })).count();
        let refused = fates.iter().filter(|(_, fate)| matches!(fate, Fate::Refused(_))).count();
        ui.horizontal(|ui| {
            let words =
                if count == 1 { "Enter 1 reading".to_owned() } else { format!("Enter {count} readings") };
            let button = ui.add_enabled(count > 0, egui::Button::new(words));
            match refused {
                0 => ui.weak("every row can be read"),
                1 => ui.strong("1 row cannot be read and is left out"),
                refused => ui.strong(format!("{refused} rows cannot be read and are left out")),
            };
            if button.clicked()
                && let Some((by, at)) = person.signs(requests)
            {
                let reading = |(_, fate): &(usize, Fate)| match fate {
                    Fate::Reading { vehicle, part, kg, tolerance: own } => Some(Weighing {
                        vehicle: vehicle.clone(),
                        part: *part,
                        kg: *kg,
                        tolerance: own.or(tolerance),
                        by: by.clone(),
                        at: at.clone(),
                    }),
                    Fate::Heading | Fate::Refused(_) => None,
                };
                requests.push(Request::Edit(taken(plan, fates.iter().filter_map(reading).collect())));
                (self.open, self.text) = (false, String::new());
            }
        });
    }
}

/// The edit that enters readings: each takes the place of an earlier reading of the same part.
fn taken(plan: &Plan, readings: Vec<Weighing>) -> Edit {
    let (mut changes, mut new) = (Vec::new(), Vec::new());
    let count = readings.len();
    for reading in readings {
        let is_same = |one: &Weighing| one.vehicle == reading.vehicle && one.part == reading.part;
        match plan.weighings.iter().rposition(is_same) {
            Some(at) => changes.push(Edit::ChangeWeighing { at, to: reading }),
            None => new.push(reading),
        }
    }
    let added = (!new.is_empty()).then_some(Edit::AddWeighings { readings: new });
    let label = if count == 1 { "Enter 1 reading".to_owned() } else { format!("Enter {count} readings") };
    Edit::Batch { label, edits: changes.into_iter().chain(added).collect() }
}

fn fate_ui(ui: &mut Ui, shown: &Shown<'_>, line: usize, fate: &Fate) {
    let (role, words) = match fate {
        Fate::Reading { vehicle, part, kg, tolerance } => {
            let share = |share: f64| format!(", tolerance {}", Quantity::share(share).show(shown.style));
            let mass = Quantity::small_mass(*kg).show(shown.style);
            let tolerance = tolerance.map(share).unwrap_or_default();
            (Role::Text, format!("{vehicle} {}: {mass}{tolerance}", part_words(*part)))
        }
        Fate::Heading => (Role::WeakText, "names of the columns".to_owned()),
        Fate::Refused(why) => (Role::Fail, format!("left out: {why}")),
    };
    ui.label(RichText::new(format!("line {line}: {words}")).color(shown.theme.color(role)));
}

/// What becomes of each row of `text`, with the number of its line.
fn fates(text: &str, plan: &Plan, style: Style) -> Result<Vec<(usize, Fate)>, String> {
    let table = read_pasted(text, Parting::AsFound).map_err(|error| error.to_string())?;
    let lines = table.lines.iter().filter(|line| !line.is_blank()).enumerate();
    let fate = |(nth, line): (usize, &TableLine)| {
        let fate = match fate(line, plan, style) {
            Ok(fate) => fate,
            // Names of columns hold no digit.
            Err(_) if nth == 0 && !line.cells.iter().any(|cell| has_digit(&cell.text)) => Fate::Heading,
            Err(why) => Fate::Refused(why),
        };
        (line.number, fate)
    };
    Ok(lines.map(fate).collect())
}

fn has_digit(text: &str) -> bool {
    text.chars().any(|letter| letter.is_ascii_digit())
}

fn fate(line: &TableLine, plan: &Plan, style: Style) -> Result<Fate, String> {
    let cell = |at: usize| line.cells.get(at).map(|cell| cell.text.as_str()).unwrap_or_default();
    if line.cells.iter().any(|cell| cell.is_formula) {
        return Err("it holds a formula; paste its value".to_owned());
    }
    let vehicle = plan.train.vehicles.iter().find(|vehicle| vehicle.mark.as_str() == cell(0));
    let vehicle = vehicle.ok_or_else(|| format!("the train has no vehicle \"{}\"", cell(0)))?;
    let part = part_of(cell(1))?;
    let kind = plan.train.vehicle_types.iter().find(|kind| kind.name == vehicle.vehicle_type);
    let axles = kind.map_or(0, |kind| 2 * kind.gear.axles_per_support());
    if axle_of(part) > axles {
        return Err(format!("vehicle {} has {axles} axles, not {}", vehicle.mark, axle_of(part)));
    }
    let kg = read_quantity(cell(2), QuantityKind::SmallMass, style)
        .map_err(|why| format!("the reading \"{}\": {why}", cell(2)))?;
    if kg < 0.0 {
        return Err(format!("the reading \"{}\" is below zero", cell(2)));
    }
    let tolerance = match cell(3) {
        "" => None,
        text => Some(
            read_quantity(text, QuantityKind::Share, style)
                .map_err(|why| format!("the tolerance \"{text}\": {why}"))
                .and_then(|share| {
                    if share > 0.0 {
                        Ok(share)
                    } else {
                        Err(format!("the tolerance \"{text}\" is not above zero"))
                    }
                })?,
        ),
    };
    Ok(Fate::Reading { vehicle: vehicle.mark.clone(), part, kg, tolerance })
}

/// A part from what people write: nothing or `whole`, `axle 2`, `2`, `axle 2 left`, `2 R`, `left wheel 2`.
fn part_of(text: &str) -> Result<WeighedPart, String> {
    let unknown = || format!("the part \"{text}\" is none of: whole, axle 2, axle 2 left, axle 2 right");
    let lower = text.to_lowercase();
    let spaced: String = lower
        .char_indices()
        .flat_map(|(at, letter)| {
            let before = lower[..at].chars().next_back();
            let parts = before.is_some_and(|before| before.is_ascii_digit() != letter.is_ascii_digit());
            parts.then_some(' ').into_iter().chain([letter])
        })
        .collect();
    let said = spaced.split(|letter: char| !letter.is_alphanumeric()).filter(|word| !word.is_empty());
    let words: Vec<&str> = said.filter(|word| !matches!(*word, "axle" | "wheel")).collect();
    if matches!(words.as_slice(), [] | ["whole" | "vehicle" | "wagon" | "all"]) {
        return if lower.contains("axle") || lower.contains("wheel") {
            Err(unknown())
        } else {
            Ok(WeighedPart::Vehicle)
        };
    }
    let number = |word: &str| word.parse::<u32>().ok().filter(|axle| *axle > 0);
    let (axle, side) = match words.as_slice() {
        [axle] => (number(axle), ""),
        [one, other] => {
            (number(one).or_else(|| number(other)), if number(one).is_some() { *other } else { *one })
        }
        _ => (None, ""),
    };
    match (axle, side) {
        (Some(axle), "") => Ok(WeighedPart::Axle(axle)),
        (Some(axle), "left" | "l") => Ok(WeighedPart::LeftWheel(axle)),
        (Some(axle), "right" | "r") => Ok(WeighedPart::RightWheel(axle)),
        _ => Err(unknown()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::empty_plan;
    use crate::units::UnitSystem;

    fn told(text: &str, style: Style) -> Vec<String> {
        let told = |(line, fate): (usize, Fate)| match fate {
            Fate::Reading { vehicle, part, kg, tolerance } => {
                format!("{line} {vehicle} {part:?} {kg:.1} {tolerance:?}")
            }
            Fate::Heading => format!("{line} heading"),
            Fate::Refused(why) => format!("{line} {why}"),
        };
        fates(text, &empty_plan(2), style).unwrap().into_iter().map(told).collect()
    }

    #[test]
    fn every_row_is_read_or_named_with_its_reason() {
        let text = "vehicle\tpart\treading\ttolerance\nW1\twhole\t26400\t1\nW2\taxle 1 left\t3240,5\t0,5 %\n\nW9\taxle 1\t1\nW1\tbogie\t1\nW1\t1\tmuch\nW1\t1\t-5\nW1\t1\t5\t0\nW1\t4 R\t5\nW1\t5 R\t5";
        let metric = Style::default();
        assert_eq!(
            told(text, metric),
            [
                "1 heading",
                "2 W1 Vehicle 26400.0 Some(0.01)",
                "3 W2 LeftWheel(1) 3240.5 Some(0.005)",
                "5 the train has no vehicle \"W9\"",
                "6 the part \"bogie\" is none of: whole, axle 2, axle 2 left, axle 2 right",
                &format!(
                    "7 the reading \"much\": {}",
                    read_quantity("much", QuantityKind::SmallMass, metric).unwrap_err()
                ),
                "8 the reading \"-5\" is below zero",
                "9 the tolerance \"0\" is not above zero",
                "10 W1 RightWheel(4) 5.0 None",
                "11 vehicle W1 has 4 axles, not 5",
            ]
        );
        let us = Style { units: UnitSystem::UsCustomary, ..metric };
        // NIST Special Publication 811, appendix B.8: 1 lb is 0.453 592 37 kg.
        assert_eq!(told("W1,1,1000", us), ["1 W1 Axle(1) 453.6 None"]);
        assert_eq!(told("W1;2;9,24 t", metric), ["1 W1 Axle(2) 9240.0 None"]);
        assert_eq!(told("W1,1,=A1", metric), ["1 it holds a formula; paste its value"]);
    }

    #[test]
    fn a_pasted_reading_takes_the_place_of_the_earlier_one_of_its_part() {
        let reading = |part, kg| Weighing {
            vehicle: VehicleMark::new("W1").unwrap(),
            part,
            kg,
            tolerance: None,
            by: "A. Yard".to_owned(),
            at: "Monday".to_owned(),
        };
        let plan = Plan { weighings: vec![reading(WeighedPart::Axle(1), 1.0)], ..empty_plan(2) };
        let readings = vec![reading(WeighedPart::Axle(2), 3.0), reading(WeighedPart::Axle(1), 2.0)];
        let after = taken(&plan, readings.clone()).apply(&plan).unwrap().plan;
        assert_eq!(after.weighings, [readings[1].clone(), readings[0].clone()]);
    }

    #[test]
    fn parts_are_known_however_people_write_them() {
        use WeighedPart::{Axle, LeftWheel, RightWheel, Vehicle};
        let known = [
            ("", Vehicle),
            ("Whole", Vehicle),
            ("wagon", Vehicle),
            ("2", Axle(2)),
            ("Axle 12", Axle(12)),
            ("axle2", Axle(2)),
            ("2L", LeftWheel(2)),
            ("axle 2, left wheel", LeftWheel(2)),
            ("right wheel 3", RightWheel(3)),
            ("r3", RightWheel(3)),
        ];
        for (text, part) in known {
            assert_eq!(part_of(text), Ok(part), "{text}");
        }
        for text in ["axle", "wheel", "left", "axle 0", "bogie 1", "1 2", "axle 1 middle"] {
            assert!(part_of(text).is_err(), "{text}");
        }
    }
}
