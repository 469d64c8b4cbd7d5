//! Which findings are listed: by outcome, check, vehicle, state and words.

use crate::checks::{Assessment, Finding, Outcome, Subject};
use crate::gui::{FindingKey, Shown};
use crate::model::TrainEnd;
use crate::statics::Figures;
use crate::units::Style;
use egui::{ComboBox, TextEdit, Ui};

/// What the list lets through.
#[derive(Debug, Default)]
pub(super) struct Filter {
    hidden: Vec<Outcome>,
    search: String,
    /// The id of the only check listed.
    check: Option<&'static str>,
    /// The mark of the only vehicle listed.
    vehicle: Option<String>,
    /// Only what holds in the state shown.
    in_state: bool,
}

/// What is filtered.
#[derive(Clone, Copy)]
pub(in crate::gui) struct Listed<'a> {
    /// The findings.
    pub(in crate::gui) assessment: &'a Assessment,
    /// The figures they belong to.
    pub(in crate::gui) figures: &'a Figures,
    /// The state shown.
    pub(in crate::gui) state: usize,
    /// How quantities are written.
    pub(in crate::gui) style: Style,
}

impl<'a> Listed<'a> {
    /// What a panel shows.
    pub(super) fn of(shown: &Shown<'a>) -> Self {
        let Shown { assessment, figures, state, style, .. } = *shown;
        Self { assessment, figures, state, style }
    }
}

impl Filter {
    /// Draws the search field, the outcomes and the choices.
    pub(super) fn ui(&mut self, ui: &mut Ui, shown: &Shown<'_>) {
        let search = TextEdit::singleline(&mut self.search).hint_text("Search").desired_width(f32::INFINITY);
        ui.add(search).accessible_name("Search findings");
        ui.horizontal_wrapped(|ui| {
            for outcome in Outcome::ALL {
                let count = shown.assessment.count(outcome);
                if count == 0 {
                    continue;
                }
                let on = !self.hidden.contains(&outcome);
                let words = format!("{} {count}", outcome.word());
                if ui.selectable_label(on, words).on_hover_text(outcome_words(outcome)).clicked() {
                    if on {
                        self.hidden.push(outcome);
                    } else {
                        self.hidden.retain(|hidden| *hidden != outcome);
                    }
                }
            }
        });
        // In a narrow pane the last of them takes a line of its own.
        ui.horizontal_wrapped(|ui| {
            let width = ((ui.available_width() - 120.0) / 2.0).max(72.0);
            self.check_ui(ui, shown, width);
            self.vehicle_ui(ui, shown, width);
            let toggle = ui.selectable_label(self.in_state, "state shown");
            if toggle.on_hover_text("Lists only what holds in the state shown").clicked() {
                self.in_state = !self.in_state;
            }
        });
        ui.add_space(2.0);
    }

    fn check_ui(&mut self, ui: &mut Ui, shown: &Shown<'_>, width: f32) {
        let findings = &shown.assessment.findings;
        let title = |id: &'static str| {
            findings.iter().find(|finding| finding.check.id == id).map_or(id, |finding| finding.check.title)
        };
        let chosen = self.check.map_or("any check", title).to_owned();
        let combo = ComboBox::from_id_salt("check listed").selected_text(chosen).width(width).truncate();
        let drawn = combo.show_ui(ui, |ui| {
            ui.selectable_value(&mut self.check, None, "any check");
            for check in crate::checks::REGISTRY {
                let count = findings.iter().filter(|finding| finding.check.id == check.id).count();
                if count > 0 {
                    let words = format!("{} ({count})", check.title);
                    ui.selectable_value(&mut self.check, Some(check.id), words);
                }
            }
        });
        drawn.response.accessible_name("Check listed");
    }

    fn vehicle_ui(&mut self, ui: &mut Ui, shown: &Shown<'_>, width: f32) {
        let chosen = self.vehicle.clone().unwrap_or_else(|| "any vehicle".to_owned());
        let combo = ComboBox::from_id_salt("vehicle listed").selected_text(chosen).width(width).truncate();
        let drawn = combo.show_ui(ui, |ui| {
            ui.selectable_value(&mut self.vehicle, None, "any vehicle");
            for vehicle in &shown.plan.train.vehicles {
                let mark = vehicle.mark.to_string();
                ui.selectable_value(&mut self.vehicle, Some(mark.clone()), mark);
            }
        });
        drawn.response.accessible_name("Vehicle listed");
    }

    /// Whether words are looked for.
    pub(super) fn is_searching(&self) -> bool {
        !self.search.is_empty()
    }

    /// Lists everything again.
    pub(super) fn clear(&mut self) {
        *self = Self::default();
    }

    /// The findings that are listed, the worst first.
    pub(super) fn list<'a>(&self, listed: &Listed<'a>) -> Vec<&'a Finding> {
        let wanted = self.search.to_lowercase();
        let marked = |mark: &String| {
            let mut vehicles = listed.figures.plan.train.vehicles.iter();
            vehicles.position(|vehicle| vehicle.mark.as_str() == mark)
        };
        // A vehicle that is gone from the train is not looked for any more.
        let vehicle = self.vehicle.as_ref().and_then(marked);
        let passes = |finding: &&Finding| {
            !self.hidden.contains(&finding.outcome)
                && self.check.is_none_or(|check| finding.check.id == check)
                && (!self.in_state || finding.states.contains(&listed.state))
                && vehicle.is_none_or(|vehicle| is_at(finding.subject, listed.figures, vehicle))
                && (wanted.is_empty() || search_text(finding, listed.style).contains(&wanted))
        };
        listed.assessment.findings.iter().filter(passes).collect()
    }

    /// The finding after (or, with a negative step, before) `current` in the list; the first where it is none of them.
    pub(super) fn beside(
        &self,
        listed: &Listed<'_>,
        current: Option<&FindingKey>,
        step: isize,
    ) -> Option<FindingKey> {
        let list = self.list(listed);
        let at = current.and_then(|key| list.iter().position(|finding| key.is_of(finding)));
        let next = match at {
            Some(at) => at.checked_add_signed(step)?,
            None if step < 0 => list.len().checked_sub(1)?,
            None => 0,
        };
        list.get(next).map(|finding| FindingKey::of(finding))
    }
}

/// What an outcome means, in a sentence.
fn outcome_words(outcome: Outcome) -> &'static str {
    match outcome {
        Outcome::Fail => "A limit is broken. Press to show or hide these.",
        Outcome::Undecided => {
            "Something was not entered or not accepted, so it cannot be said. Press to show or hide these."
        }
        Outcome::Near => {
            "Within the limit, by less than the margin of the plan. Press to show or hide these."
        }
        Outcome::Note => "Something to know; breaks no limit. Press to show or hide these.",
        Outcome::Pass => "Within the limit; the tightest of its kind. Press to show or hide these.",
        Outcome::NotApplicable => "Nothing in this plan to apply it to. Press to show or hide these.",
        Outcome::NotAsked => "The plan does not ask for it. Press to show or hide these.",
    }
}

/// Whether a thing is a vehicle, a part of it, or a string that lies on it.
fn is_at(subject: Subject, figures: &Figures, vehicle: usize) -> bool {
    let consist = &figures.consist;
    let carries = |rack: usize| consist.racks.get(rack).is_some_and(|place| place.vehicle == vehicle);
    let placed = |string: usize| figures.placed.iter().find(|placed| placed.string == string);
    let lies = |string: usize| placed(string).is_some_and(|placed| placed.racks.clone().any(carries));
    match subject {
        Subject::Vehicle(at) | Subject::Support(at, _) | Subject::Axle(at, _) | Subject::Wheel(at, ..) => {
            at == vehicle
        }
        Subject::Rack(rack)
        | Subject::RackTier(rack, _)
        | Subject::Pocket(rack, ..)
        | Subject::StringAtRack(_, rack) => carries(rack),
        Subject::StringEnd(string, end) => placed(string).is_some_and(|placed| {
            let mut racks = placed.racks.clone();
            let last = if end == TrainEnd::Front { racks.next() } else { racks.next_back() };
            last.is_some_and(carries)
        }),
        Subject::String(string) => lies(string),
        Subject::Strings(first, second) => lies(first) || lies(second),
        Subject::VehicleType(kind) => {
            consist.vehicles.get(vehicle).is_some_and(|place| place.vehicle_type == kind)
        }
        _ => false,
    }
}

fn search_text(finding: &Finding, style: Style) -> String {
    format!("{} {} {}", finding.check.title, finding.things.join(" "), finding.what.show(style))
        .to_lowercase()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::assess;
    use crate::gui::SAMPLES;
    use crate::statics::Scope;
    use std::sync::Arc;

    /// The findings of the one-sided sample that a filter lists, as check and place.
    fn listed(filter: &Filter) -> Vec<String> {
        let figures = Figures::of(Arc::new(SAMPLES[5].plan().unwrap()), Scope::All);
        let assessment = assess(&figures);
        let listed = Listed { assessment: &assessment, figures: &figures, state: 0, style: Style::default() };
        let line = |finding: &&Finding| format!("{}: {}", finding.check.id, finding.things.join(", "));
        filter.list(&listed).iter().map(line).collect()
    }

    fn only(outcome: Outcome) -> Filter {
        let hidden = Outcome::ALL.into_iter().filter(|other| *other != outcome).collect();
        Filter { hidden, ..Filter::default() }
    }

    #[test]
    fn findings_are_listed_by_outcome_check_vehicle_and_words_together() {
        let fails = listed(&only(Outcome::Fail));
        assert_eq!(fails.len(), 15);
        let balance = Filter { check: Some("wheel-balance"), ..only(Outcome::Fail) };
        let of_balance = listed(&balance);
        assert!(!of_balance.is_empty() && of_balance.len() < 15, "{of_balance:#?}");
        let of_f5 = listed(&Filter { vehicle: Some("F5".to_owned()), ..balance });
        assert_eq!(
            of_f5,
            ["wheel-balance: vehicle F5, front bogie", "wheel-balance: vehicle F5, rear bogie"]
        );
        let words =
            Filter { vehicle: Some("F5".to_owned()), search: "REAR bogie".to_owned(), ..only(Outcome::Fail) };
        assert_eq!(listed(&words), ["wheel-balance: vehicle F5, rear bogie"]);
        let gone = Filter { vehicle: Some("gone".to_owned()), ..only(Outcome::Fail) };
        assert_eq!(listed(&gone), fails, "a vehicle that is gone hides nothing");
    }

    #[test]
    fn only_what_holds_in_the_state_shown_is_listed_where_that_is_asked_for() {
        let here = listed(&Filter { in_state: true, ..only(Outcome::Fail) });
        assert!(here.iter().all(|line| !line.starts_with("order-placed")), "{here:#?}");
        assert!(here.iter().any(|line| line.starts_with("wheel-balance")));
    }

    #[test]
    fn next_and_before_go_through_the_list_and_stop_at_its_ends() {
        let figures = Figures::of(Arc::new(SAMPLES[5].plan().unwrap()), Scope::All);
        let assessment = assess(&figures);
        let listed = Listed { assessment: &assessment, figures: &figures, state: 0, style: Style::default() };
        let filter = only(Outcome::Fail);
        let list = filter.list(&listed);
        let key = |at: usize| Some(FindingKey::of(list[at]));
        let beside = |current: Option<FindingKey>, step| filter.beside(&listed, current.as_ref(), step);
        assert_eq!((beside(None, 1), beside(None, -1)), (key(0), key(14)));
        assert_eq!((beside(key(3), 1), beside(key(3), -1)), (key(4), key(2)));
        assert_eq!((beside(key(14), 1), beside(key(0), -1)), (None, None));
        let hidden = assessment.findings.iter().find(|finding| finding.outcome == Outcome::Pass).unwrap();
        assert_eq!(beside(Some(FindingKey::of(hidden)), 1), key(0), "from what is not listed to the first");
    }
}
