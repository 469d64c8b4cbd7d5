//! What was recorded of a load, and how it differs from the plan, in plain text.

use super::layout::{counted, paragraph};
use super::records::{Records, load_words, signature_words};
use crate::model::{Hold, Plan};
use crate::planning::{Deviation, Loaded, Place};
use crate::units::{Length, Quantity, Style};

/// What was recorded of a plan's load for a reader: the sum, the differences, what nobody confirmed.
pub fn loaded_report(plan: &Plan, loaded: &Loaded, records: &Records, style: Style) -> String {
    let mut out = String::new();
    paragraph(&mut out, "", "", &loaded_words(loaded));
    out.push('\n');
    if !plan.title.trim().is_empty() {
        paragraph(&mut out, "Plan:           ", "                ", &plan.title);
    }
    if let Some(load) = &records.load {
        paragraph(&mut out, "Load:           ", "                ", &load_words(load));
    }
    for state in &records.signatures {
        paragraph(&mut out, "Signed:         ", "                ", &signature_words(state));
    }
    if !loaded.differences.is_empty() {
        out.push_str(&format!("\nDifferences ({})\n", loaded.differences.len()));
    }
    for difference in &loaded.differences {
        let words = deviation_words(&difference.what, style);
        let first = format!("  string {}: ", difference.string);
        let seen = format!("{words} (seen by {}, {})", difference.by, difference.at);
        paragraph(&mut out, &first, "      ", &seen);
    }
    if !loaded.not_confirmed.is_empty() {
        out.push_str(&format!("\nNot confirmed, so taken as planned ({})\n", loaded.not_confirmed.len()));
        let marks: Vec<&str> = loaded.not_confirmed.iter().map(|mark| mark.as_str()).collect();
        paragraph(&mut out, "  ", "  ", &marks.join(", "));
    }
    out.push('\n');
    paragraph(&mut out, "", "", "longstow check PLAN --as-loaded judges the load as it is.");
    out
}

/// The sum in a sentence.
fn loaded_words(loaded: &Loaded) -> String {
    let differ = match loaded.strings_that_differ() {
        0 => "nothing recorded differs from the plan".to_owned(),
        count => format!("{} from the plan", counted(count, "string differs", "strings differ")),
    };
    format!("{} of {} strings are confirmed; {differ}.", loaded.confirmed(), loaded.planned)
}

/// A difference in words, such as `its front end is 0.400 m farther back than planned`.
pub fn deviation_words(what: &Deviation, style: Style) -> String {
    match what {
        Deviation::Pocket { planned, loaded } => {
            format!("it lies in {}, planned in {}", pocket_words(*loaded), pocket_words(*planned))
        }
        Deviation::Front { planned, loaded } => {
            let by = *loaded - *planned;
            let way = if by.is_negative() { "forward" } else { "back" };
            format!("its front end is {} farther {way} than planned", length(by.abs(), style))
        }
        Deviation::Holds { planned, loaded } => {
            format!("it is held at {}, planned at {}", hold_words(loaded), hold_words(planned))
        }
        Deviation::Missing { planned } => {
            format!("it is not on the train, planned in {}", place_words(planned, style))
        }
        Deviation::NotPlanned { loaded } => {
            format!("it is on the train in {}, planned to stay in the yard", place_words(loaded, style))
        }
    }
}

fn pocket_words((tier, lane): (u32, u32)) -> String {
    format!("tier {tier}, lane {lane}")
}

fn place_words(place: &Place, style: Style) -> String {
    format!("{}, front end at {}", pocket_words((place.tier, place.lane)), length(place.front, style))
}

fn hold_words(holds: &[Hold]) -> String {
    let names: Vec<String> =
        holds.iter().map(|hold| format!("{} rack {}", hold.vehicle, hold.rack)).collect();
    if names.is_empty() { "no rack".to_owned() } else { names.join(" and ") }
}

fn length(length: Length, style: Style) -> String {
    Quantity::length(length).show(style)
}
