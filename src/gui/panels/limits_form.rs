//! The limits: value, source and who accepted it; and whole sets to accept from the catalogue.

use crate::edit::Edit;
use crate::gui::fields::{Spec, choice_ui, some_quantity_ui, words_ui};
use crate::gui::glossary::term_ui;
use crate::gui::{Request, Role, Shown};
use crate::model::{Limit, LimitKind, LimitSet, Source, Sureness};
use crate::units::{Quantity, QuantityKind};
use egui::{Grid, RichText, TextEdit, Ui};

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
            ui.add(TextEdit::singleline(&mut self.by).hint_text("to accept limits").desired_width(130.0))
                .accessible_name("Your name, to accept limits");
            self.accept_entered_ui(ui, shown, requests);
        });
        self.sets_ui(ui, shown, requests);
        ui.separator();
        Grid::new("limits").num_columns(6).striped(true).spacing([10.0, 3.0]).show(ui, |ui| {
            for title in ["Limit", "While travelling", "Between steps", "Source", "How sure", "Accepted by"] {
                ui.strong(title);
            }
            ui.end_row();
            for kind in LimitKind::ALL {
                ui.push_id(kind.key(), |ui| {
                    term_ui(ui, kind.title());
                });
                self.line_ui(ui, shown, kind, requests);
                ui.end_row();
            }
        });
    }

    fn accept_entered_ui(&self, ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
        let entries = &shown.plan.limits.entries;
        let open = entries.iter().filter(|(_, limit)| limit.accepted_by.is_none());
        let kinds: Vec<LimitKind> = open.map(|(kind, _)| *kind).collect();
        if kinds.is_empty() {
            return;
        }
        let words = format!("Accept the {} entered and not accepted yet", kinds.len());
        if ui.add_enabled(!self.by.trim().is_empty(), egui::Button::new(words)).clicked() {
            let by = self.by.trim().to_owned();
            requests.push(Request::Edit(Edit::AcceptLimits { kinds, by }));
        }
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
            if let Some(set) = sets.get(self.set) {
                let ready = !self.by.trim().is_empty();
                let button = ui.add_enabled(ready, egui::Button::new("Take over and accept all of it"));
                let button = button.on_disabled_hover_text("Type your name first");
                if button.clicked() {
                    let limits = set.limits.clone();
                    requests.push(Request::Edit(Edit::AdoptLimits { limits, by: self.by.trim().to_owned() }));
                }
            }
        });
        if let Some(set) = sets.get(self.set) {
            ui.weak(&set.about);
            ui.weak(set_words(shown, set));
        }
    }

    fn line_ui(&self, ui: &mut Ui, shown: &Shown<'_>, kind: LimitKind, requests: &mut Vec<Request>) {
        let now = shown.plan.limits.get(kind);
        let of = quantity_kind(kind);
        let change = |limit: Option<Limit>| Request::Edit(Edit::SetLimit { kind, limit });
        let with = |change: &dyn Fn(&mut Limit)| {
            let mut limit = now.cloned().unwrap_or_else(|| entered(1.0));
            change(&mut limit);
            limit
        };
        let name = |part: &str| format!("{}, {part}", kind.title());
        ui.horizontal(|ui| {
            let value = now.map(|limit| limit.running);
            let spec_name = name("while travelling");
            let spec = Spec::new(&spec_name).wide(90.0);
            match some_quantity_ui(ui, spec, (value, of), shown.style) {
                // A changed value is another limit: whoever accepted the old one has not seen it.
                Some(Some(running)) => requests.push(change(Some(with(&|limit| {
                    limit.running = running;
                    limit.accepted_by = None;
                })))),
                Some(None) => requests.push(change(None)),
                None => {}
            }
        });
        let Some(limit) = now else {
            for _ in 0..4 {
                ui.label("");
            }
            return;
        };
        ui.horizontal(|ui| {
            let spec_name = name("between steps");
            let spec = Spec::new(&spec_name).wide(90.0);
            if let Some(working) = some_quantity_ui(ui, spec, (limit.working, of), shown.style) {
                requests.push(change(Some(with(&|limit| {
                    limit.working = working;
                    limit.accepted_by = None;
                }))));
            }
        });
        let spec_name = name("source");
        if let Some(text) = words_ui(ui, Spec::new(&spec_name).wide(200.0), &limit.source.text) {
            requests.push(change(Some(with(&|limit| limit.source.text = text.clone()))));
        }
        let spec_name = name("how sure");
        let sure = Sureness::ALL.map(|sure| (sure, sure.words()));
        if let Some(sure) = choice_ui(ui, Spec::new(&spec_name).wide(150.0), limit.source.sure, &sure) {
            requests.push(change(Some(with(&|limit| limit.source.sure = sure))));
        }
        self.accepted_ui(ui, shown, (kind, limit), requests);
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
                    let ready = !self.by.trim().is_empty();
                    let button = ui.add_enabled(ready, egui::Button::new("Accept").small());
                    let button = button.accessible_name(format!("Accept {}", kind.title()));
                    if button.on_disabled_hover_text("Type your name above first").clicked() {
                        let by = self.by.trim().to_owned();
                        requests.push(Request::Edit(Edit::AcceptLimits { kinds: vec![kind], by }));
                    }
                });
            }
        }
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
