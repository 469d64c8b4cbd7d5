//! The menu of a finding.

use super::{Item, Line};
use crate::checks::{Finding, Outcome, Subject};
use crate::edit::Edit;
use crate::gui::{FindingKey, How, Request, Shown, Tab};

/// The lines for a finding.
pub(super) fn lines(shown: &Shown<'_>, key: &FindingKey) -> Vec<Line> {
    let findings = &shown.settled_assessment.findings;
    let Some(finding) = findings.iter().find(|finding| key.is_of(finding)) else { return Vec::new() };
    let place = finding.subject.place(shown.settled);
    let no_number = finding.comparison.is_none().then(|| "It compares no figures".to_owned());
    let how = Request::ShowWorking(How::Finding(key.clone()));
    let mut lines = vec![
        Line::Title(format!("{}: {place}", finding.check.title)),
        Item::new("Zoom to its place", Request::ShowFinding(key.clone())).by("Enter").into(),
        Item::new("How?", how).unless(no_number).into(),
        accept_item(finding, key).into(),
    ];
    lines.push(match table_of(finding.subject) {
        Some(tab) => Item::new("Show in the table", Request::ShowFinding(key.clone()))
            .and(Request::ShowTab(tab))
            .into(),
        None => Item::new("Show in the table", Request::ShowFinding(key.clone()))
            .unless(Some("No table has a row for it".to_owned()))
            .into(),
    });
    let words = format!(
        "{}: {}, {place}. {}",
        finding.outcome.word(),
        finding.check.title,
        finding.what.show(shown.style)
    );
    lines.push(Item::new("Copy its words", Request::CopyText(words)).into());
    lines.extend(thing_lines(shown, finding.subject));
    lines
}

fn accept_item(finding: &Finding, key: &FindingKey) -> Item {
    if finding.accepted.is_some() {
        let (check, things) = (finding.check.id.to_owned(), finding.things.clone());
        return Item::new("Take its acceptance back", Request::Edit(Edit::Unaccept { check, things }));
    }
    let no_fail =
        (finding.outcome != Outcome::Fail).then(|| "Only what fails needs to be accepted".to_owned());
    Item::new("Accept with a reason...", Request::AcceptFinding(key.clone())).unless(no_fail)
}

/// The table or form with a row for the subject.
fn table_of(subject: Subject) -> Option<Tab> {
    Some(match subject {
        Subject::String(_) | Subject::StringEnd(..) | Subject::Strings(..) | Subject::StringAtRack(..) => {
            Tab::Strings
        }
        Subject::Vehicle(_) | Subject::Support(..) | Subject::Axle(..) | Subject::Wheel(..) => Tab::Vehicles,
        Subject::Rack(_) | Subject::RackTier(..) | Subject::Pocket(..) => Tab::Racks,
        Subject::VehicleType(_) | Subject::RackType(_) => Tab::Types,
        Subject::Section(_) => Tab::Sections,
        Subject::Limit(_) => Tab::Limits,
        Subject::Drop(_) | Subject::Step(..) => Tab::Drops,
        Subject::Plan | Subject::Train => return None,
    })
}

/// The menu of the thing that the finding is about.
fn thing_lines(shown: &Shown<'_>, subject: Subject) -> Vec<Line> {
    let (words, lines) = match subject {
        Subject::String(at)
        | Subject::StringEnd(at, _)
        | Subject::Strings(at, _)
        | Subject::StringAtRack(at, _) => match shown.settled.plan.order.get(at) {
            Some(string) => (format!("String {}", string.mark), super::string::lines(shown, &string.mark)),
            None => return Vec::new(),
        },
        Subject::Vehicle(at) | Subject::Support(at, _) | Subject::Axle(at, _) | Subject::Wheel(at, ..) => {
            ("Its vehicle".to_owned(), super::vehicle::lines(shown, at))
        }
        Subject::Rack(at) | Subject::RackTier(at, _) | Subject::Pocket(at, ..) => {
            ("Its rack".to_owned(), super::places::rack_lines(shown, at))
        }
        _ => return Vec::new(),
    };
    vec![Line::Gap, Line::More { words, lines }]
}
