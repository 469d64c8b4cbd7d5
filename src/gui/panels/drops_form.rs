//! The drops and their steps, in order: what comes off or on, singly or in pairs, toward which end.

use crate::edit::{Edit, Rows, StepPlace};
use crate::gui::fields::{Spec, choice_ui, form_grid, name_ui, some_length_ui, some_number_ui, words_ui};
use crate::gui::{Request, SelectMode, Shown, focus};
use crate::model::{Drop, DropName, Step, StepKind, StepStrings, StringMark, TrackSide, TrainEnd};
use egui::{Grid, Ui};

/// The drop being edited.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Chosen {
    drop: usize,
}

const ENDS: [(TrainEnd, &str); 2] = [(TrainEnd::Front, "over the front"), (TrainEnd::Rear, "over the rear")];

impl Chosen {
    /// The drop with this index.
    pub(super) fn of(drop: usize) -> Self {
        Self { drop }
    }

    /// Draws the list of drops and the form of the one chosen.
    pub(super) fn ui(&mut self, ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
        let drops = &shown.plan.drops;
        ui.horizontal_wrapped(|ui| {
            for (at, drop) in drops.iter().enumerate() {
                if ui.selectable_label(self.drop == at, drop.name.as_str()).clicked() {
                    self.drop = at;
                }
            }
            if ui.button("Add a drop").clicked()
                && let Some(row) = new_drop(drops)
            {
                requests.push(Request::Edit(Edit::Drops(Rows::Add { at: None, row })));
                self.drop = drops.len();
            }
        });
        ui.separator();
        let Some(drop) = drops.get(self.drop.min(drops.len().saturating_sub(1))) else {
            ui.weak("A drop is a site where strings come off, or come on. Add the first one.");
            return;
        };
        self.drop = self.drop.min(drops.len().saturating_sub(1));
        ui.push_id(("drop", self.drop), |ui| {
            ui.horizontal_top(|ui| {
                ui.vertical(|ui| self.drop_ui(ui, shown, drop, requests));
                ui.separator();
                ui.vertical(|ui| steps_ui(ui, shown, drop, requests));
            });
        });
    }

    fn drop_ui(&mut self, ui: &mut Ui, shown: &Shown<'_>, drop: &Drop, requests: &mut Vec<Request>) {
        let mut to = drop.clone();
        form_grid("drop").show(ui, |ui| {
            ui.label("Name");
            if let Some(name) = name_ui(ui, Spec::new("Name of the drop").wide(130.0), drop.name.as_str()) {
                to.name = name;
            }
            ui.end_row();
            ui.label("Place");
            if let Some(place) = words_ui(ui, Spec::new("Place of the drop").wide(130.0), &drop.place) {
                to.place = place;
            }
            ui.end_row();
            ui.label("Strings go");
            if let Some(end) = choice_ui(ui, Spec::new("Strings go").wide(130.0), drop.toward, &ENDS) {
                to.toward = end;
            }
            ui.end_row();
            for (name, value) in [
                ("Gap between strings", &mut to.gap_between),
                ("Chute above the seat", &mut to.chute_height),
                ("Chute roller behind", &mut to.chute_roller_behind),
                ("Chute roller lower by", &mut to.chute_roller_lower),
                ("Sideways to the seat", &mut to.seat_offset),
            ] {
                ui.label(name);
                ui.horizontal(|ui| {
                    let given = some_length_ui(ui, Spec::new(name).wide(90.0), *value, shown.style);
                    given.into_iter().for_each(|given| *value = given);
                });
                ui.end_row();
            }
            for (name, value) in
                [("Possession", &mut to.possession_min), ("Handling per step", &mut to.handling_min)]
            {
                ui.label(name);
                ui.horizontal(|ui| {
                    let given = some_number_ui(ui, Spec::new(name).wide(90.0), (*value, "min"), shown.style);
                    given.into_iter().for_each(|given| *value = given);
                });
                ui.end_row();
            }
        });
        if to != *drop {
            requests.push(Request::Edit(Edit::Drops(Rows::Change { name: drop.name.clone(), to })));
        }
        self.order_ui(ui, shown, drop, requests);
    }

    fn order_ui(&mut self, ui: &mut Ui, shown: &Shown<'_>, drop: &Drop, requests: &mut Vec<Request>) {
        let name = &drop.name;
        let last = shown.plan.drops.len().saturating_sub(1);
        ui.horizontal(|ui| {
            if ui.add_enabled(self.drop > 0, egui::Button::new("Earlier")).clicked() {
                self.drop -= 1;
                requests.push(Request::Edit(Edit::Drops(Rows::Move { name: name.clone(), to: self.drop })));
            }
            if ui.add_enabled(self.drop < last, egui::Button::new("Later")).clicked() {
                self.drop += 1;
                requests.push(Request::Edit(Edit::Drops(Rows::Move { name: name.clone(), to: self.drop })));
            }
            if ui.button("Remove the drop").clicked() {
                requests.push(Request::Edit(Edit::Drops(Rows::Remove { names: vec![name.clone()] })));
            }
        });
    }
}

/// A drop with a free name; its strings go over the rear.
fn new_drop(drops: &[Drop]) -> Option<Drop> {
    let free = |name: &DropName| drops.iter().all(|drop| drop.name != *name);
    let name =
        (1..).filter_map(|number| DropName::new(&format!("Drop {number}")).ok()).find(|name| free(name))?;
    Some(Drop {
        name,
        place: String::new(),
        toward: TrainEnd::Rear,
        gap_between: None,
        possession_min: None,
        handling_min: None,
        chute_height: None,
        chute_roller_behind: None,
        chute_roller_lower: None,
        seat_offset: None,
        steps: Vec::new(),
    })
}

fn steps_ui(ui: &mut Ui, shown: &Shown<'_>, drop: &Drop, requests: &mut Vec<Request>) {
    add_steps_ui(ui, shown, drop, requests);
    if drop.steps.is_empty() {
        ui.weak("No steps yet.");
        return;
    }
    Grid::new("steps").num_columns(7).striped(true).spacing([8.0, 3.0]).show(ui, |ui| {
        for title in ["Step", "", "Strings", "", "Together", "Toward", ""] {
            ui.strong(title);
        }
        ui.end_row();
        for at in 0..drop.steps.len() {
            step_ui(ui, shown, (drop, at), requests);
            ui.end_row();
        }
    });
}

/// Buttons that make steps of the selected strings, or of all strings for this drop that have none yet.
fn add_steps_ui(ui: &mut Ui, shown: &Shown<'_>, drop: &Drop, requests: &mut Vec<Request>) {
    let stepped = |mark: &StringMark| {
        let steps = shown.plan.drops.iter().flat_map(|drop| &drop.steps);
        steps.flat_map(|step| step.strings.marks()).any(|other| other == mark)
    };
    let open: Vec<&StringMark> =
        shown.plan.order.iter().map(|string| &string.mark).filter(|mark| !stepped(mark)).collect();
    let selected: Vec<StringMark> = open
        .iter()
        .filter(|mark| shown.selection.strings.contains(**mark))
        .map(|mark| (*mark).clone())
        .collect();
    let for_drop: Vec<StringMark> = open
        .iter()
        .filter(|mark| shown.plan.string(mark).is_some_and(|string| string.drop.as_ref() == Some(&drop.name)))
        .map(|mark| (*mark).clone())
        .collect();
    let add = |steps: Vec<Step>| {
        let mut to = drop.clone();
        to.steps.extend(steps);
        Request::Edit(Edit::Drops(Rows::Change { name: drop.name.clone(), to }))
    };
    ui.weak("Add steps of strings that have none yet");
    for (words, short, marks) in
        [("Selected strings", "Selected", selected), ("Strings for this drop", "For this drop", for_drop)]
    {
        ui.horizontal(|ui| {
            ui.label(format!("{short} ({})", marks.len()));
            ui.add_enabled_ui(!marks.is_empty(), |ui| {
                for (label, kind) in [("come off", StepKind::Off), ("come on", StepKind::On)] {
                    let singly = ui.small_button(label).accessible_name(format!("{words} {label}"));
                    if singly.clicked() {
                        let one = |mark: &StringMark| Step {
                            kind,
                            strings: StepStrings::One(mark.clone()),
                            toward: None,
                        };
                        requests.push(add(marks.iter().map(one).collect()));
                    }
                }
                let pairs = ui
                    .small_button("come off in pairs")
                    .accessible_name(format!("{words} come off in pairs"));
                if pairs.on_hover_text("Left and right of the same length two by two").clicked() {
                    requests.push(add(paired(shown, &marks)));
                }
            });
        });
    }
}

/// Steps off for `marks`: left and right strings of one section and length as pairs, the rest singly.
fn paired(shown: &Shown<'_>, marks: &[StringMark]) -> Vec<Step> {
    let mut left_over: Vec<&StringMark> = marks.iter().collect();
    let mut steps = Vec::new();
    while !left_over.is_empty() {
        let first = left_over.remove(0);
        let fits = |other: &&&StringMark| {
            let pair = shown.plan.string(first).zip(shown.plan.string(other));
            pair.is_some_and(|(a, b)| {
                let sides = (a.side, b.side);
                let mirrored = matches!(
                    sides,
                    (Some(TrackSide::Left), Some(TrackSide::Right))
                        | (Some(TrackSide::Right), Some(TrackSide::Left))
                );
                a.section == b.section && a.length == b.length && (mirrored || sides == (None, None))
            })
        };
        let partner = left_over.iter().position(|other| fits(&other));
        let strings = match partner {
            Some(at) => StepStrings::Pair {
                first: first.clone(),
                second: left_over.remove(at).clone(),
                together: false,
            },
            None => StepStrings::One(first.clone()),
        };
        steps.push(Step { kind: StepKind::Off, strings, toward: None });
    }
    steps
}

fn step_ui(ui: &mut Ui, shown: &Shown<'_>, line: (&Drop, usize), requests: &mut Vec<Request>) {
    let (drop, at) = line;
    let Some(step) = drop.steps.get(at) else { return };
    let change = |change: &dyn Fn(&mut Vec<Step>)| {
        let mut to = drop.clone();
        change(&mut to.steps);
        Request::Edit(Edit::Drops(Rows::Change { name: drop.name.clone(), to }))
    };
    let marks: Vec<StringMark> = step.strings.marks().cloned().collect();
    let words = marks.iter().map(StringMark::as_str).collect::<Vec<_>>().join(" and ");
    let selected = marks.iter().all(|mark| shown.selection.strings.contains(mark));
    ui.push_id(("number", at), |ui| ui.label(format!("{}", at + 1)));
    // Reordering comes before what may lie beyond the edge of a small window.
    ui.horizontal(|ui| order_ui(ui, (drop, at), requests));
    let choose = ui.selectable_label(selected, &words).accessible_name(format!("Step {}: {words}", at + 1));
    if choose.clicked() {
        requests.push(Request::Select { strings: marks, mode: SelectMode::Only });
    }
    ui.push_id(("kind", at), |ui| {
        let kinds = [(StepKind::Off, "off"), (StepKind::On, "on")];
        if let Some(kind) = choice_ui(ui, Spec::new("Off or on").wide(58.0), step.kind, &kinds) {
            requests.push(change(&|steps| steps[at].kind = kind));
        }
    });
    pair_ui(ui, (step, at, &drop.steps), &change, requests);
    ui.push_id(("toward", at), |ui| {
        let ends = [
            (None, "as the drop"),
            (Some(TrainEnd::Front), "over the front"),
            (Some(TrainEnd::Rear), "over the rear"),
        ];
        if let Some(end) = choice_ui(ui, Spec::new("Toward").wide(104.0), step.toward, &ends) {
            requests.push(change(&|steps| steps[at].toward = end));
        }
    });
    ui.horizontal(|ui| move_ui(ui, (shown, drop, at), &change, requests));
}

/// A change to the steps of a drop, as a request.
type ChangeSteps<'c> = dyn Fn(&dyn Fn(&mut Vec<Step>)) -> Request + 'c;

/// Joins a step with the next to a pair, parts a pair, or says that its two go together.
fn pair_ui(
    ui: &mut Ui,
    line: (&Step, usize, &[Step]),
    change: &ChangeSteps<'_>,
    requests: &mut Vec<Request>,
) {
    let (step, at, steps) = line;
    ui.horizontal(|ui| match &step.strings {
        StepStrings::Pair { first, second, together } => {
            let mut leaves_together = *together;
            let check = ui.checkbox(&mut leaves_together, "");
            if check.accessible_name(format!("Step {} leaves together", at + 1)).changed() {
                let pair = StepStrings::Pair {
                    first: first.clone(),
                    second: second.clone(),
                    together: leaves_together,
                };
                requests.push(change(&|steps| steps[at].strings = pair.clone()));
            }
            let part = ui.small_button("Part").accessible_name(format!("Part the pair of step {}", at + 1));
            if part.clicked() {
                focus::go_on(&part, pair_name(at));
                requests.push(change(&|steps| {
                    let mut after = steps[at].clone();
                    after.strings = StepStrings::One(second.clone());
                    steps[at].strings = StepStrings::One(first.clone());
                    steps.insert(at + 1, after);
                }));
            }
        }
        StepStrings::One(first) => {
            if let Some(StepStrings::One(second)) = steps.get(at + 1).map(|next| &next.strings) {
                let join = ui.small_button("Pair with next").accessible_name(pair_name(at));
                focus::take(&join, &pair_name(at));
                if join.clicked() {
                    let pair =
                        StepStrings::Pair { first: first.clone(), second: second.clone(), together: false };
                    requests.push(change(&|steps| {
                        steps[at].strings = pair.clone();
                        steps.remove(at + 1);
                    }));
                }
            }
        }
    });
}

fn pair_name(at: usize) -> String {
    format!("Pair step {} with the next", at + 1)
}

/// Moves a step up or down within its drop; the keyboard goes along with it.
fn order_ui(ui: &mut Ui, line: (&Drop, usize), requests: &mut Vec<Request>) {
    let (drop, at) = line;
    let last = drop.steps.len().saturating_sub(1);
    let place = |step: usize| StepPlace { drop: drop.name.clone(), step };
    let name = |step: usize, way: &str| format!("Move step {} {way}", step + 1);
    for (sign, way, back, to, end) in
        [("▲", "up", "down", at.checked_sub(1), 0), ("▼", "down", "up", Some(at + 1), last)]
    {
        let to = to.filter(|to| *to <= last);
        let button = ui.add_enabled(to.is_some(), egui::Button::new(sign).small());
        let button = button.accessible_name(name(at, way));
        focus::take(&button, &name(at, way));
        if let Some(to) = to.filter(|_| button.clicked()) {
            // At the end there is only the way back.
            focus::go_on(&button, name(to, if to == end { back } else { way }));
            requests.push(Request::Edit(Edit::MoveStep { from: place(at), to: place(to) }));
        }
    }
}

/// Moves a step to another drop, or removes it.
fn move_ui(
    ui: &mut Ui,
    line: (&Shown<'_>, &Drop, usize),
    change: &ChangeSteps<'_>,
    requests: &mut Vec<Request>,
) {
    let (shown, drop, at) = line;
    let place = |drop: &DropName, step: usize| StepPlace { drop: drop.clone(), step };
    let moved = |to: StepPlace| Request::Edit(Edit::MoveStep { from: place(&drop.name, at), to });
    let others: Vec<&Drop> = shown.plan.drops.iter().filter(|other| other.name != drop.name).collect();
    if !others.is_empty() {
        ui.menu_button("To", |ui| {
            for other in others {
                if ui.button(other.name.as_str()).clicked() {
                    requests.push(moved(place(&other.name, other.steps.len())));
                    ui.close();
                }
            }
        });
    }
    if ui.small_button("Remove").accessible_name(format!("Remove step {}", at + 1)).clicked() {
        requests.push(change(&|steps| {
            steps.remove(at);
        }));
    }
}
