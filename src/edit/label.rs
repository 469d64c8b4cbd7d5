//! What the Undo menu calls an edit.

use super::{Edit, Locked};
use crate::model::StringMark;

impl Edit {
    /// What was done, in a few words without a full stop, such as `Move 3 strings`.
    pub fn label(&self) -> String {
        match self {
            Self::Place { placement } => format!("Place string {}", placement.string),
            Self::TakeOff { strings } => format!("Take {} off", strings_words(strings.iter())),
            Self::Move { moves } => {
                format!("Move {}", strings_words(moves.iter().map(|step| &step.string)))
            }
            Self::SwapPockets { first, second } => format!("Swap pockets of {first} and {second}"),
            Self::SetHolds { string, .. } => format!("Change holds of string {string}"),
            Self::SetRestsOn { string, .. } => format!("Change racks meant for string {string}"),
            Self::SetLocked { strings, locked: Locked::Yes } => {
                format!("Lock {}", strings_words(strings.iter()))
            }
            Self::SetLocked { strings, locked: Locked::No } => {
                format!("Unlock {}", strings_words(strings.iter()))
            }
            Self::Turn { vehicles } => match vehicles.as_slice() {
                [mark] => format!("Turn vehicle {mark} round"),
                _ => format!("Turn {} vehicles round", vehicles.len()),
            },
            Self::Strings(rows) => rows.label(),
            Self::Vehicles(rows) => rows.label(),
            Self::VehicleTypes(rows) => rows.label(),
            Self::RackTypes(rows) => rows.label(),
            Self::Sections(rows) => rows.label(),
            Self::Steels(rows) => rows.label(),
            Self::Drops(rows) => rows.label(),
            Self::SetLimit { kind, limit: Some(_) } => format!("Set limit: {}", kind.title()),
            Self::SetLimit { kind, limit: None } => format!("Clear limit: {}", kind.title()),
            Self::Accept { acceptance } => {
                format!("Accept a finding of {}", acceptance.check.replace('-', " "))
            }
            Self::Unaccept { check, .. } => format!("Take back acceptance of {check}"),
            Self::Batch { label, .. } => label.clone(),
            Self::RecordAsLoaded { records } => {
                let marks = records.iter().map(|record| &record.string);
                format!("Record {} as loaded", strings_words(marks))
            }
            Self::ConfirmAsPlanned { strings, .. } => {
                format!("Confirm {} as planned", strings_words(strings.iter()))
            }
            Self::RemoveAsLoaded { strings } => {
                format!("Take back the record of {}", strings_words(strings.iter()))
            }
            Self::AddWeighings { readings } => format!("Add {}", readings_words(readings.len())),
            Self::RemoveWeighings { at } => format!("Remove {}", readings_words(at.len())),
            Self::Sign { signature } => format!("Sign as {}", signature.by),
            _ => self.plain_label().to_owned(),
        }
    }

    /// Labels that name no thing.
    fn plain_label(&self) -> &'static str {
        match self {
            Self::MoveStep { .. } => "Move step",
            Self::SetTrainSettings(_) => "Change train settings",
            Self::SetRoute { .. } => "Change route",
            Self::AdoptLimits { .. } => "Adopt limits",
            Self::AcceptLimits { .. } => "Accept limits",
            Self::SetNearShare { .. } => "Change near margin",
            Self::ChangeWeighing { .. } => "Change reading",
            Self::RemoveSignature { .. } => "Take signature back",
            Self::SetTitle { .. } => "Change title",
            Self::SetNotes { .. } => "Change notes",
            Self::SetOrderTable { .. } => "Remember the columns of the order's table",
            Self::SetUnits { .. } => "Change units",
            _ => "Change plan",
        }
    }
}

fn strings_words<'a>(mut marks: impl ExactSizeIterator<Item = &'a StringMark>) -> String {
    match (marks.len(), marks.next()) {
        (1, Some(mark)) => format!("string {mark}"),
        (count, _) => format!("{count} strings"),
    }
}

fn readings_words(count: usize) -> String {
    if count == 1 { "reading".to_owned() } else { format!("{count} readings") }
}

#[cfg(test)]
mod tests {
    use super::super::trial::{plan, string, wagon};
    use super::super::{Edit, Locked, Rows};
    use crate::model::LimitKind;

    #[test]
    fn labels_say_what_was_done_and_to_what() {
        let row = plan().order[0].clone();
        let strings = |marks: &[&str]| marks.iter().map(|mark| string(mark)).collect::<Vec<_>>();
        for (edit, label) in [
            (Edit::TakeOff { strings: strings(&["S1"]) }, "Take string S1 off"),
            (Edit::TakeOff { strings: strings(&["S1", "S2"]) }, "Take 2 strings off"),
            (Edit::SetLocked { strings: strings(&["S1"]), locked: Locked::Yes }, "Lock string S1"),
            (Edit::Turn { vehicles: vec![wagon("W1")] }, "Turn vehicle W1 round"),
            (Edit::Strings(Rows::Add { at: None, row: row.clone() }), "Add string S1"),
            (Edit::Strings(Rows::Change { name: string("A1"), to: row.clone() }), "Rename string A1 to S1"),
            (Edit::Strings(Rows::Change { name: string("S1"), to: row }), "Change string S1"),
            (Edit::Vehicles(Rows::Remove { names: vec![wagon("W1"), wagon("W2")] }), "Remove 2 vehicles"),
            (Edit::SetLimit { kind: LimitKind::Sag, limit: None }, "Clear limit: sag"),
            (Edit::SetTitle { title: String::new() }, "Change title"),
        ] {
            assert_eq!(edit.label(), label);
        }
    }
}
