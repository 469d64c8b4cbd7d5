//! The drops and their steps, in order: what comes off or on, singly or in pairs, toward which end.

use super::row_drag::{DraggedRow, Way, dropped_among, handle_ui, index_after};
use super::swatch::swatch_ui;
use crate::edit::{Edit, Rows, StepPlace};
use crate::gui::fields::{Spec, choice_ui, form_grid, name_ui, some_length_ui, some_number_ui, words_ui};
use crate::gui::glossary::term_ui;
use crate::gui::{Request, Role, SelectMode, Shown, Theme, focus};
use crate::model::{Drop, DropName, Step, StepKind, StepStrings, StringMark, TrackSide, TrainEnd};
use egui::{DragAndDrop, Grid, Rect, Stroke, Ui};

/// The drop being edited.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Chosen {
    drop: usize,
}

const ENDS: [(TrainEnd, &str); 2] = [(TrainEnd::Front, "over the front"), (TrainEnd::Rear, "over the rear")];

/// From this width on the form of a drop stands beside its steps and not under them, in points.
const BESIDE_POINTS: f32 = 780.0;

impl Chosen {
    /// The drop with this index.
    pub(super) fn of(drop: usize) -> Self {
        Self { drop }
    }

    /// Draws the list of drops and the form of the one chosen.
    pub(super) fn ui(&mut self, ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
        let drops = &shown.plan.drops;
        // What is chosen now shows from the next frame on: the form before it is yet to take what was typed into it.
        let now = self.drop.min(drops.len().saturating_sub(1));
        ui.horizontal_wrapped(|ui| {
            let tabs: Vec<Rect> =
                drops.iter().enumerate().map(|(at, drop)| self.tab_ui(ui, (drop, at))).collect();
            dropped_on_tabs(ui, drops, &tabs, requests);
            if ui.button("Add a drop").clicked()
                && let Some(row) = new_drop(drops)
            {
                requests.push(Request::Edit(Edit::Drops(Rows::Add { at: None, row })));
                self.drop = drops.len();
            }
        });
        ui.separator();
        let Some(drop) = drops.get(now) else {
            ui.weak("A drop is a site where strings come off, or come on. Add the first one.");
            return;
        };
        ui.push_id(("drop", now), |ui| {
            // The width that is seen, not the one that could be scrolled to.
            if ui.clip_rect().width() < BESIDE_POINTS {
                steps_ui(ui, shown, drop, requests);
                ui.separator();
                self.drop_ui(ui, shown, (drop, now), requests);
                return;
            }
            ui.horizontal_top(|ui| {
                ui.vertical(|ui| self.drop_ui(ui, shown, (drop, now), requests));
                ui.separator();
                ui.vertical(|ui| steps_ui(ui, shown, drop, requests));
            });
        });
    }

    /// The tab of a drop, to choose it and to drag it by.
    fn tab_ui(&mut self, ui: &mut Ui, (drop, at): (&Drop, usize)) -> Rect {
        swatch_ui(ui, Some(at));
        let tab = egui::Button::selectable(self.drop == at, drop.name.as_str());
        let tab = ui.add(tab.sense(egui::Sense::click_and_drag()));
        if tab.clicked() {
            self.drop = at;
        }
        if tab.drag_started() {
            DragAndDrop::set_payload(ui.ctx(), DraggedRow { list: DROPS.to_owned(), row: at });
        }
        let rect = tab.rect;
        tab.on_hover_text("Drag it to another place in the order; a step may be dropped on it");
        rect
    }

    fn drop_ui(
        &mut self,
        ui: &mut Ui,
        shown: &Shown<'_>,
        (drop, at): (&Drop, usize),
        requests: &mut Vec<Request>,
    ) {
        let mut to = drop.clone();
        form_grid("drop").show(ui, |ui| {
            term_ui(ui, "Name");
            if let Some(name) = name_ui(ui, Spec::new("Name of the drop").wide(130.0), drop.name.as_str()) {
                to.name = name;
            }
            ui.end_row();
            term_ui(ui, "Place");
            if let Some(place) = words_ui(ui, Spec::new("Place of the drop").wide(130.0), &drop.place) {
                to.place = place;
            }
            ui.end_row();
            term_ui(ui, "Strings go");
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
                term_ui(ui, name);
                ui.horizontal(|ui| {
                    let given = some_length_ui(ui, Spec::new(name).wide(90.0), *value, shown.style);
                    given.into_iter().for_each(|given| *value = given);
                });
                ui.end_row();
            }
            for (name, value) in
                [("Possession", &mut to.possession_min), ("Handling per step", &mut to.handling_min)]
            {
                term_ui(ui, name);
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
        self.order_ui(ui, shown, (drop, at), requests);
    }

    fn order_ui(
        &mut self,
        ui: &mut Ui,
        shown: &Shown<'_>,
        (drop, at): (&Drop, usize),
        requests: &mut Vec<Request>,
    ) {
        let name = &drop.name;
        let last = shown.plan.drops.len().saturating_sub(1);
        ui.horizontal(|ui| {
            if ui.add_enabled(at > 0, egui::Button::new("Earlier")).clicked() {
                self.drop = at - 1;
                requests.push(Request::Edit(Edit::Drops(Rows::Move { name: name.clone(), to: self.drop })));
            }
            if ui.add_enabled(at < last, egui::Button::new("Later")).clicked() {
                self.drop = at + 1;
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
    let mut rows = Vec::new();
    let grid = Grid::new("steps").num_columns(8).striped(true).spacing([8.0, 3.0]).show(ui, |ui| {
        for title in ["", "Step", "", "Strings", "", "Together", "Toward", ""] {
            ui.strong(title);
        }
        ui.end_row();
        for at in 0..drop.steps.len() {
            rows.push((at, step_handle_ui(ui, (drop, at), requests)));
            step_ui(ui, shown, (drop, at), requests);
            ui.end_row();
        }
    });
    let across = grid.response.rect.x_range();
    if let Some((from, gap)) = dropped_among(ui, &steps_list(drop), &rows, across) {
        requests.push(moved(drop, from, index_after(from, gap)));
    }
}

/// What the drops, and the steps of a drop, are called while one is dragged.
const DROPS: &str = "drops";

fn steps_list(drop: &Drop) -> String {
    format!("steps of {}", drop.name)
}

fn moved(drop: &Drop, from: usize, to: usize) -> Request {
    let place = |step: usize| StepPlace { drop: drop.name.clone(), step };
    Request::Edit(Edit::MoveStep { from: place(from), to: place(to) })
}

/// The handle of a step; gives where its row lies.
fn step_handle_ui(ui: &mut Ui, (drop, at): (&Drop, usize), requests: &mut Vec<Request>) -> Rect {
    let marks = drop.steps.get(at).into_iter().flat_map(|step| step.strings.marks());
    let words = marks.map(StringMark::as_str).collect::<Vec<_>>().join(" and ");
    let dragged = DraggedRow { list: steps_list(drop), row: at };
    let (handle, way) = handle_ui(ui, &format!("Order of the step of {words}"), dragged);
    let to = match way {
        Some(Way::Earlier) => at.checked_sub(1),
        Some(Way::Later) => Some(at + 1).filter(|to| *to < drop.steps.len()),
        None => None,
    };
    requests.extend(to.map(|to| moved(drop, at, to)));
    handle.rect
}

/// A drop dragged among the tabs goes between them, a step dragged onto one goes to the end of that drop.
fn dropped_on_tabs(ui: &Ui, drops: &[Drop], tabs: &[Rect], requests: &mut Vec<Request>) {
    let Some(dragged) = DragAndDrop::payload::<DraggedRow>(ui.ctx()) else { return };
    let Some(pointer) = ui.input(|input| input.pointer.interact_pos()) else { return };
    let Some(on) = tabs.iter().position(|tab| tab.expand(3.0).contains(pointer)) else { return };
    let from = drops.iter().position(|drop| steps_list(drop) == dragged.list);
    let tab = tabs[on];
    let stroke = Stroke::new(2.5, Theme::of(ui).color(Role::Ghost));
    let edit = match from {
        Some(from) if from != on => {
            ui.painter().rect_stroke(tab, 2.0, stroke, egui::StrokeKind::Outside);
            let place = |drop: &Drop, step: usize| StepPlace { drop: drop.name.clone(), step };
            let to = place(&drops[on], drops[on].steps.len());
            Some(Edit::MoveStep { from: place(&drops[from], dragged.row), to })
        }
        None if dragged.list == DROPS && dragged.row != on => {
            let x = if on > dragged.row { tab.right() + 2.0 } else { tab.left() - 2.0 };
            ui.painter().vline(x, tab.y_range(), stroke);
            let name = drops.get(dragged.row).map(|drop| drop.name.clone());
            name.map(|name| Edit::Drops(Rows::Move { name, to: on }))
        }
        _ => None,
    };
    if ui.input(|input| input.pointer.any_released()) {
        DragAndDrop::clear_payload(ui.ctx());
        requests.extend(edit.map(Request::Edit));
    }
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
                let join = ui.small_button("Pair next").accessible_name(pair_name(at));
                let join = join.on_hover_text("Make a pair of this step and the next");
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
