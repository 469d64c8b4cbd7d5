//! The records: what was loaded otherwise, readings of scales, signatures that are kept in the plan; and the cautions.

use super::cover::has_room_for;
use super::flow::{Flow, Type};
use super::matter::{Matter, NOT_ENTERED};
use super::table::{Cell, Column, Kind, Stress, Table};
use super::wording::counted;
use crate::format::{Standing, signature_states};
use crate::model::Weighing;
use crate::planning::weighings::{ComparedReading, Weighed};
use crate::report::{cautions, deviation_words, part_words};
use crate::units::Quantity;
use std::sync::Arc;

/// Title of the part.
pub(super) const RECORDS: &str = "Records and cautions";

/// Adds the part.
pub(super) fn records(flow: &mut Flow, matter: &Matter<'_>) {
    flow.part(RECORDS);
    notes(flow, matter);
    differences(flow, matter);
    weighings(flow, matter);
    signatures(flow, matter);
    flow.heading("Cautions", 20.0);
    for caution in cautions() {
        flow.bullet(caution, Type::BODY);
    }
}

/// The notes of the plan in full, where the cover has no room for them.
fn notes(flow: &mut Flow, matter: &Matter<'_>) {
    let notes = &matter.plan().notes;
    if has_room_for(flow, notes) {
        return;
    }
    flow.heading("Notes of the plan", 14.0);
    for line in notes.lines().filter(|line| !line.trim().is_empty()) {
        let line = flow.boxed(line);
        flow.paragraph(&line, Type::BODY);
    }
}

fn differences(flow: &mut Flow, matter: &Matter<'_>) {
    let loaded = &matter.loaded;
    flow.heading("As loaded", 14.0);
    if matter.plan().as_loaded.is_empty() {
        flow.paragraph(
            "Nobody has recorded yet how the strings were loaded. This sheet is of the plan as meant.",
            Type::BODY,
        );
        return;
    }
    flow.paragraph(
        &format!(
            "{} of {} strings are confirmed. This sheet is of the plan as meant; what was loaded otherwise:",
            loaded.confirmed(),
            loaded.planned
        ),
        Type::BODY,
    );
    let mut table = Table::new(vec![
        Column::new(Kind::Words, "string"),
        Column::new(Kind::Words, "what differs from the plan"),
        Column::new(Kind::Words, "seen by"),
        Column::new(Kind::Words, "when"),
    ]);
    for difference in &loaded.differences {
        table.row(vec![
            Cell::strong(difference.string.to_string()),
            deviation_words(&difference.what, matter.style).into(),
            difference.by.as_str().into(),
            difference.at.as_str().into(),
        ]);
    }
    table.put(flow, "Nothing that was recorded differs.");
    if !loaded.not_confirmed.is_empty() {
        let marks: Vec<&str> = loaded.not_confirmed.iter().map(|mark| mark.as_str()).collect();
        flow.paragraph(&format!("Not confirmed, so taken as planned: {}.", marks.join(", ")), Type::BODY);
    }
}

/// What the records leave open, in sentences for the cover.
pub(super) fn open_records(matter: &Matter<'_>) -> Vec<String> {
    let mut open = Vec::new();
    let missing = matter.loaded.not_confirmed.len();
    if missing > 0 && !matter.plan().as_loaded.is_empty() {
        let are = if missing == 1 { "is" } else { "are" };
        let planned = counted(matter.loaded.planned, "string", "strings");
        open.push(format!("As loaded: {missing} of {planned} {are} not confirmed."));
    }
    let readings = weighed(matter).readings;
    let count = readings.iter().filter(|reading| is_off(reading)).count();
    if count > 0 {
        let differ = if count == 1 { "differs" } else { "differ" };
        let read = readings.len();
        open.push(format!("Weighings: {count} of {read} readings {differ} by more than the tolerance."));
    }
    for state in signature_states(matter.plan()) {
        if state.standing == Standing::Changed {
            let (by, at) = (&state.signature.by, &state.signature.at);
            open.push(format!("Signatures: the plan was changed since {by} signed it on {at}."));
        }
    }
    open
}

/// The readings beside what is computed of the load as it is, for that is what a scale reads.
fn weighed(matter: &Matter<'_>) -> Weighed {
    Weighed::of(&Arc::new(matter.loaded.plan.clone()))
}

/// Whether a reading differs by more than its tolerance allows.
fn is_off(reading: &ComparedReading) -> bool {
    reading.allowed_kg().is_some_and(|allowed| reading.difference_kg().abs() > allowed)
}

fn weighings(flow: &mut Flow, matter: &Matter<'_>) {
    if matter.plan().weighings.is_empty() {
        return;
    }
    flow.heading("Readings of scales", 14.0);
    let weighed = weighed(matter);
    let mass = matter.mass_sign();
    let figure = |head: &str| Column::new(Kind::Figure, format!("{head}\n{mass}"));
    let mut table = Table::new(vec![
        Column::new(Kind::Words, "vehicle"),
        Column::new(Kind::Words, "part"),
        figure("read"),
        figure("computed"),
        figure("difference"),
        figure("allowed"),
        Column::new(Kind::Words, "read by"),
        Column::new(Kind::Words, "when"),
    ]);
    for (entered, reading) in matter.plan().weighings.iter().zip(&weighed.readings) {
        let Weighing { by, at, .. } = entered;
        let difference = Quantity::mass(reading.difference_kg()).show_number(matter.style);
        let stress = if is_off(reading) { Stress::Broken } else { Stress::None };
        table.row(vec![
            Cell::strong(matter.vehicle(reading.vehicle)),
            part_words(reading.part).into(),
            matter.mass_number(reading.read_kg).into(),
            matter.mass_number(reading.computed_kg).into(),
            Cell::stressed(difference, stress),
            reading.allowed_kg().map_or(NOT_ENTERED.to_owned(), |kg| matter.mass_number(kg)).into(),
            by.as_str().into(),
            at.as_str().into(),
        ]);
    }
    table.put(flow, "");
}

fn signatures(flow: &mut Flow, matter: &Matter<'_>) {
    flow.heading("Signatures in the plan", 12.0);
    let mut table = Table::new(vec![
        Column::new(Kind::Words, "by"),
        Column::new(Kind::Words, "when"),
        Column::new(Kind::Words, "of the plan"),
        Column::new(Kind::Words, "does it still match?"),
    ]);
    for state in signature_states(matter.plan()) {
        let (words, stress) = match state.standing {
            Standing::Matches => ("yes: the plan is unchanged since", Stress::None),
            Standing::Changed => ("NO: the plan was changed since", Stress::Broken),
        };
        table.row(vec![
            Cell::strong(state.signature.by.as_str()),
            state.signature.at.as_str().into(),
            Matter::short(&state.signature.hash).into(),
            Cell::stressed(words, stress),
        ]);
    }
    table.put(flow, "Nobody has signed this plan in the program.");
}
