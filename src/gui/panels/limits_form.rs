//! The limits: value, source and who accepted it; and whole sets to accept from the catalogue.

use crate::edit::Edit;
use crate::gui::fields::{Spec, choice_ui, some_quantity_ui, take_wish, words_ui};
use crate::gui::glossary::{explained, term_ui};
use crate::gui::{Request, Role, Shown};
use crate::model::{Limit, LimitKind, LimitSet, Source, Sureness};
use crate::units::{Quantity, QuantityKind};
use egui::{RichText, TextEdit, Ui};

/// Where the name is entered.
const NAME_FIELD: &str = "Your name, to accept limits";

/// Who accepts limits; kept for the next ones.
#[derive(Debug, Default)]
pub(super) struct Adopter {
    by: String,
    set: usize,
}

/// What a limit measures.
pub(in crate::gui) fn quantity_kind(kind: LimitKind) -> QuantityKind {
    use LimitKind as L;
    match kind {
        L::WheelRatio | L::BogieRatio | L::TwoAxleRatio => QuantityKind::Ratio,
        L::CentreHeight
        | L::LeastOverhang
        | L::GreatestOverhang
        | L::PocketGap
        | L::EndClearance
        | L::IdlerGap
        | L::LargestSpan
        | L::TrainLength => QuantityKind::Length,
        L::IdlerHeight | L::Sag => QuantityKind::SmallLength,
        L::LeastRacks => QuantityKind::Count,
        L::StatedMassDifference | L::WheelUnloading | L::BrakedWeight | L::ModelDifference => {
            QuantityKind::Share
        }
        L::TrainMass | L::LightVehicle | L::HeavySet => QuantityKind::Mass,
        L::CurveStress | L::UnloadingStress => QuantityKind::Stress,
    }
}

impl Adopter {
    /// Draws the form.
    pub(super) fn ui(&mut self, ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
        ui.horizontal_wrapped(|ui| {
            term_ui(ui, "Your name");
            let name = TextEdit::singleline(&mut self.by).hint_text("to accept limits").desired_width(130.0);
            let name = ui.add(name).accessible_name(NAME_FIELD);
            take_wish(ui, &name, NAME_FIELD);
            self.accept_entered_ui(ui, shown, requests);
        });
        self.sets_ui(ui, shown, requests);
        ui.separator();
        let layout = Columns::in_room(ui.available_width().min(ui.clip_rect().width()));
        layout.heads_ui(ui);
        for kind in LimitKind::ALL {
            ui.push_id(kind.key(), |ui| self.limit_ui(ui, shown, (kind, &layout), requests));
        }
    }

    fn accept_entered_ui(&self, ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
        let entries = &shown.plan.limits.entries;
        let open = entries.iter().filter(|(_, limit)| limit.accepted_by.is_none());
        let kinds: Vec<LimitKind> = open.map(|(kind, _)| *kind).collect();
        if kinds.is_empty() {
            return;
        }
        let words = format!("Accept the {} entered and not accepted yet", kinds.len());
        if ui.button(words).clicked() {
            self.accept(kinds, requests);
        }
    }

    fn accept(&self, kinds: Vec<LimitKind>, requests: &mut Vec<Request>) {
        let edit = self.name(requests).map(|by| Edit::AcceptLimits { kinds, by });
        requests.extend(edit.map(Request::Edit));
    }

    /// The name that limits are accepted in; without one, leads to where it is entered.
    fn name(&self, requests: &mut Vec<Request>) -> Option<String> {
        let by = self.by.trim().to_owned();
        if by.is_empty() {
            requests.push(Request::GoToField(NAME_FIELD.to_owned()));
            requests.push(Request::Say("Type your name, then accept: it stays with the limit".to_owned()));
            return None;
        }
        Some(by)
    }

    fn sets_ui(&mut self, ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
        let sets = &crate::gui::samples::catalogue().limit_sets;
        let names: Vec<String> = sets.iter().map(|set| set.name.clone()).collect();
        ui.horizontal_wrapped(|ui| {
            term_ui(ui, "Limit set");
            let spec = Spec::new("Limit set").wide(260.0).hint("none in the catalogue");
            if let Some(set) = crate::gui::fields::pick_ui(ui, spec, Some(self.set), &names) {
                self.set = set;
            }
            if let Some(set) = sets.get(self.set)
                && ui.button("Take over and accept all of it").clicked()
            {
                let limits = set.limits.clone();
                let edit = self.name(requests).map(|by| Edit::AdoptLimits { limits, by });
                requests.extend(edit.map(Request::Edit));
            }
        });
        if let Some(set) = sets.get(self.set) {
            ui.weak(&set.about);
            ui.weak(set_words(shown, set));
        }
    }

    fn limit_ui(
        &self,
        ui: &mut Ui,
        shown: &Shown<'_>,
        (kind, layout): (LimitKind, &Columns),
        requests: &mut Vec<Request>,
    ) {
        let now = shown.plan.limits.get(kind);
        ui.horizontal(|ui| {
            cell_ui(ui, layout.title, |ui| {
                explained(ui.add(egui::Label::new(kind.title()).truncate()), kind.title());
            });
            cell_ui(ui, layout.value, |ui| running_ui(ui, shown, (kind, now), requests));
            let Some(limit) = now else { return };
            cell_ui(ui, layout.value, |ui| working_ui(ui, shown, (kind, limit), requests));
            if layout.stacked {
                self.accepted_ui(ui, shown, (kind, limit), requests);
            } else {
                source_ui(ui, (kind, limit), layout.source, requests);
                self.accepted_ui(ui, shown, (kind, limit), requests);
            }
        });
        if let Some(limit) = now.filter(|_| layout.stacked) {
            ui.horizontal(|ui| {
                ui.add_space(12.0);
                ui.weak("from");
                source_ui(ui, (kind, limit), layout.source, requests);
            });
        }
        ui.add(egui::Separator::default().spacing(3.0));
    }

    fn accepted_ui(
        &self,
        ui: &mut Ui,
        shown: &Shown<'_>,
        line: (LimitKind, &Limit),
        requests: &mut Vec<Request>,
    ) {
        let (kind, limit) = line;
        match &limit.accepted_by {
            Some(by) => {
                ui.label(by);
            }
            None => {
                ui.horizontal(|ui| {
                    let color = shown.theme.color(Role::Undecided);
                    ui.label(RichText::new("nobody yet").color(color));
                    let button = ui.add(egui::Button::new("Accept").small());
                    if button.accessible_name(format!("Accept {}", kind.title())).clicked() {
                        self.accept(vec![kind], requests);
                    }
                });
            }
        }
    }
}

/// Widths of the columns in points; in a narrow room source and how sure it is stand below the values.
struct Columns {
    title: f32,
    value: f32,
    source: f32,
    stacked: bool,
}

/// Width of the choice how sure a value is.
const SURE_POINTS: f32 = 150.0;

impl Columns {
    fn in_room(room: f32) -> Self {
        let stacked = room < 1_020.0;
        let title = if stacked { (room * 0.3).clamp(150.0, 260.0) } else { 230.0 };
        let source = if stacked { room - SURE_POINTS - 90.0 } else { room - title - SURE_POINTS - 440.0 };
        Self { title, value: 122.0, source: source.clamp(120.0, 420.0), stacked }
    }

    fn heads_ui(&self, ui: &mut Ui) {
        let mut heads =
            vec![("Limit", self.title), ("While travelling", self.value), ("Between steps", self.value)];
        if !self.stacked {
            heads.extend([("Source", self.source), ("How sure", SURE_POINTS)]);
        }
        heads.push(("Accepted by", 100.0));
        ui.horizontal(|ui| {
            for (title, width) in heads {
                cell_ui(ui, width, |ui| {
                    ui.strong(title);
                });
            }
        });
        ui.separator();
    }
}

/// Draws into a cell of this width.
fn cell_ui(ui: &mut Ui, width: f32, draw: impl FnOnce(&mut Ui)) {
    let layout = egui::Layout::left_to_right(egui::Align::Center);
    ui.allocate_ui_with_layout(egui::vec2(width, 22.0), layout, |ui| {
        ui.set_min_width(width);
        ui.set_max_width(width);
        draw(ui);
    });
}

/// A change of a limit; a changed value is another limit, which whoever accepted the old one has not seen.
fn changed(kind: LimitKind, limit: Option<Limit>) -> Request {
    Request::Edit(Edit::SetLimit { kind, limit })
}

fn running_ui(
    ui: &mut Ui,
    shown: &Shown<'_>,
    (kind, now): (LimitKind, Option<&Limit>),
    requests: &mut Vec<Request>,
) {
    let name = format!("{}, while travelling", kind.title());
    let spec = Spec::new(&name).wide(84.0);
    let value = now.map(|limit| limit.running);
    match some_quantity_ui(ui, spec, (value, quantity_kind(kind)), shown.style) {
        Some(Some(running)) => {
            let limit = now.cloned().unwrap_or_else(|| entered(running));
            requests.push(changed(kind, Some(Limit { running, accepted_by: None, ..limit })));
        }
        Some(None) => requests.push(changed(kind, None)),
        None => {}
    }
}

fn working_ui(
    ui: &mut Ui,
    shown: &Shown<'_>,
    (kind, limit): (LimitKind, &Limit),
    requests: &mut Vec<Request>,
) {
    let name = format!("{}, between steps", kind.title());
    let spec = Spec::new(&name).wide(84.0);
    if let Some(working) = some_quantity_ui(ui, spec, (limit.working, quantity_kind(kind)), shown.style) {
        requests.push(changed(kind, Some(Limit { working, accepted_by: None, ..limit.clone() })));
    }
}

/// Where a limit comes from, and how sure that is.
fn source_ui(ui: &mut Ui, (kind, limit): (LimitKind, &Limit), width: f32, requests: &mut Vec<Request>) {
    let mut change = |source: Source| requests.push(changed(kind, Some(Limit { source, ..limit.clone() })));
    let name = format!("{}, source", kind.title());
    if let Some(text) = words_ui(ui, Spec::new(&name).wide(width), &limit.source.text) {
        change(Source { text, ..limit.source.clone() });
    }
    let name = format!("{}, how sure", kind.title());
    let sure = Sureness::ALL.map(|sure| (sure, sure.words()));
    if let Some(sure) = choice_ui(ui, Spec::new(&name).wide(SURE_POINTS), limit.source.sure, &sure) {
        change(Source { sure, ..limit.source.clone() });
    }
}

/// What a set holds, in one line.
fn set_words(shown: &Shown<'_>, set: &LimitSet) -> String {
    let limits = set.limits.iter().map(|(kind, limit)| {
        let value = Quantity { value: limit.running, kind: quantity_kind(*kind) };
        format!("{} {}", kind.title(), value.show(shown.style))
    });
    limits.collect::<Vec<_>>().join("; ")
}

fn entered(running: f64) -> Limit {
    Limit {
        running,
        working: None,
        source: Source { text: "entered by hand".to_owned(), sure: Sureness::Entered },
        accepted_by: None,
    }
}
