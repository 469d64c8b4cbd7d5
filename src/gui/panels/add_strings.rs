//! The form that adds strings to the order: one, or several with numbered marks.

use crate::edit::{Edit, Rows};
use crate::gui::fields::{Spec, pick_ui};
use crate::gui::glossary::term_ui;
use crate::gui::samples::catalogue;
use crate::gui::{Request, Role, Shown};
use crate::model::{MassEntry, OrderedString, RailSection, StringMark, TrackSide};
use crate::units::{Style, parse_length};
use egui::{Grid, TextEdit, Ui};

/// What has been typed so far.
#[derive(Debug)]
pub(super) struct AddStrings {
    mark: String,
    length: String,
    count: u32,
    sides: Sides,
    section: Option<usize>,
    drop: Option<usize>,
    refused: Option<String>,
}

/// For which side of the track the new strings are.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum Sides {
    /// Not said.
    #[default]
    NotSaid,
    /// All left.
    Left,
    /// All right.
    Right,
    /// Left and right in turn.
    InTurn,
}

impl Default for AddStrings {
    fn default() -> Self {
        Self {
            mark: "S1".to_owned(),
            length: String::new(),
            count: 1,
            sides: Sides::default(),
            section: None,
            drop: None,
            refused: None,
        }
    }
}

impl AddStrings {
    /// Draws the form, folded away at first.
    pub(super) fn ui(&mut self, ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
        let open = shown.plan.order.is_empty();
        egui::CollapsingHeader::new("Add strings").default_open(open).show(ui, |ui| {
            let sections = sections(shown);
            self.fields_ui(ui, shown, &sections);
            if let Some(refused) = &self.refused {
                ui.colored_label(shown.theme.color(Role::Fail), refused);
            }
            if ui.button("Add to the order").clicked() {
                match self.edit(shown, &sections) {
                    Ok(edit) => {
                        self.refused = None;
                        self.mark = numbered(&self.mark, self.count);
                        requests.push(Request::Edit(edit));
                    }
                    Err(reason) => self.refused = Some(reason),
                }
            }
        });
    }

    fn fields_ui(&mut self, ui: &mut Ui, shown: &Shown<'_>, sections: &[(RailSection, bool)]) {
        Grid::new("add strings").num_columns(2).spacing([8.0, 3.0]).show(ui, |ui| {
            term_ui(ui, "First mark");
            ui.add(TextEdit::singleline(&mut self.mark).desired_width(110.0)).accessible_name("First mark");
            ui.end_row();
            term_ui(ui, "Section");
            let names: Vec<String> =
                sections
                    .iter()
                    .map(|(section, own)| {
                        if *own { section.name.to_string() } else { format!("{} (catalogue)", section.name) }
                    })
                    .collect();
            let spec = Spec::new("Section of new strings").wide(104.0).hint("choose");
            if let Some(section) = pick_ui(ui, spec, self.section, &names) {
                self.section = Some(section);
            }
            ui.end_row();
            term_ui(ui, "Length");
            ui.add(
                TextEdit::singleline(&mut self.length).desired_width(110.0).hint_text("108 m, 12 ft 6 in"),
            )
            .accessible_name("Length of new strings");
            ui.end_row();
            term_ui(ui, "How many");
            ui.add(egui::DragValue::new(&mut self.count).range(1..=400).update_while_editing(false))
                .accessible_name("How many new strings");
            ui.end_row();
            ui.label("Side");
            let sides = [
                (Sides::NotSaid, "not said"),
                (Sides::Left, "left"),
                (Sides::Right, "right"),
                (Sides::InTurn, "left, right in turn"),
            ];
            let spec = Spec::new("Side of new strings").wide(104.0);
            if let Some(sides) = crate::gui::fields::choice_ui(ui, spec, self.sides, &sides) {
                self.sides = sides;
            }
            ui.end_row();
            term_ui(ui, "Drop");
            let drops: Vec<String> = shown.plan.drops.iter().map(|drop| drop.name.to_string()).collect();
            let spec = Spec::new("Drop of new strings").wide(104.0).hint("none");
            if let Some(drop) = pick_ui(ui, spec, self.drop, &drops) {
                self.drop = Some(drop);
            }
            ui.end_row();
        });
    }

    fn edit(&self, shown: &Shown<'_>, sections: &[(RailSection, bool)]) -> Result<Edit, String> {
        let (section, own) =
            self.section.and_then(|at| sections.get(at)).ok_or("choose the section of the new strings")?;
        let Style { units, .. } = shown.style;
        let length = parse_length(&self.length, units).map_err(|error| format!("length: {error}"))?;
        let mut edits = Vec::new();
        if !own {
            edits.push(Edit::Sections(Rows::Add { at: None, row: section.clone() }));
        }
        for number in 0..self.count {
            let mark = StringMark::new(numbered(self.mark.trim(), number).as_str())
                .map_err(|error| error.to_string())?;
            let side = match self.sides {
                Sides::NotSaid => None,
                Sides::Left => Some(TrackSide::Left),
                Sides::Right => Some(TrackSide::Right),
                Sides::InTurn if number % 2 == 0 => Some(TrackSide::Left),
                Sides::InTurn => Some(TrackSide::Right),
            };
            let row = OrderedString {
                mark,
                section: section.name.clone(),
                steel: None,
                length,
                side,
                drop: self.drop.and_then(|at| shown.plan.drops.get(at)).map(|drop| drop.name.clone()),
                mass: MassEntry::Computed,
            };
            edits.push(Edit::Strings(Rows::Add { at: None, row }));
        }
        let label = match self.count {
            1 => format!("Add string {}", self.mark.trim()),
            count => format!("Add {count} strings"),
        };
        let edit = Edit::Batch { label, edits };
        // Told here, beside the form, rather than in the status line.
        edit.apply(shown.plan).map_err(|error| error.to_string())?;
        Ok(edit)
    }
}

/// The plan's sections, then those of the catalogue that it does not have; whether each is the plan's own.
fn sections(shown: &Shown<'_>) -> Vec<(RailSection, bool)> {
    let own = shown.plan.sections.iter().map(|section| (section.clone(), true));
    let others = catalogue().sections.iter().filter(|section| shown.plan.section(&section.name).is_none());
    own.chain(others.map(|section| (section.clone(), false))).collect()
}

/// The mark `steps` after `first`: its last number counts on, or one is added.
fn numbered(first: &str, steps: u32) -> String {
    let stem = first.trim_end_matches(|c: char| c.is_ascii_digit());
    let digits = &first[stem.len()..];
    match digits.parse::<u32>() {
        Ok(number) => format!("{stem}{:0width$}", number.saturating_add(steps), width = digits.len()),
        Err(_) if steps == 0 => first.to_owned(),
        Err(_) => format!("{first}{}", steps + 1),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marks_count_on_from_their_last_number() {
        assert_eq!(numbered("S1", 0), "S1");
        assert_eq!(numbered("S1", 9), "S10");
        assert_eq!(numbered("S08", 3), "S11");
        assert_eq!(numbered("East", 0), "East");
        assert_eq!(numbered("East", 1), "East2");
        assert_eq!(numbered("", 1), "2");
    }
}
