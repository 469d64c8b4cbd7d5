//! Granting requests: the only place where the window changes anything.

use super::anchors::Anchors;
use super::canvas::{Along, place_free, propose_hold};
use super::commands::{Command, Pane};
use super::dialogs::{Dialog, Next, Purpose};
use super::files::empty_plan;
use super::finder::Finder;
use super::panels::findings::title_of;
use super::panels::findings_filter::Listed;
use super::panels::tables::Tab;
use super::recorded::plan_judged;
use super::taking::is_table;
use super::train_edits;
use super::{Document, FindingKey, Preview, Request, SelectMode, View, Workbench, ZoomTarget};
use crate::checks::{Subject, assess};
use crate::edit::{Edit, Locked, OnDisk};
use crate::model::{Acceptance, Placement, StringMark, TrainEnd};
use crate::statics::{Figures, Scope};
use crate::units::Style;
use std::sync::Arc;

impl Workbench {
    /// Does what was asked for, or says why not.
    pub(super) fn grant(&mut self, request: Request) {
        match request {
            Request::Edit(edit) => {
                self.make(&edit);
            }
            Request::Change(change) => self.make_change(change),
            Request::Preview(edit) => self.show_preview(edit),
            Request::Select { strings, mode } => self.select(strings, mode),
            Request::SelectVehicle(vehicle) => self.select_vehicle(vehicle),
            Request::ShowState(state) => self.show_state(state),
            Request::ShowRack(rack) => self.selection.rack = rack,
            Request::ShowFinding(key) => self.show_finding(key),
            Request::ShowWorking(how) => {
                self.show_train();
                self.panels.tables.show_working(how);
            }
            Request::ZoomTo(target) => self.canvas.zoom_to(target),
            Request::Grab { strings, grab_offset } => {
                // A form would stand where the pockets are wanted.
                self.show_rack_face();
                self.canvas.grab(strings, grab_offset);
            }
            Request::OpenMenu { of, at } => self.open_menu(of, at),
            Request::PutInto { rack, pocket } => self.put_into(rack, pocket),
            Request::EditVehicleType(at) => {
                self.show_train();
                self.panels.tables.show_vehicle_type(at);
            }
            Request::EditRackType(at) => {
                self.show_train();
                self.panels.tables.show_rack_type(at);
            }
            Request::AcceptFinding(key) => {
                self.show_finding(key);
                self.panels.findings.go_to_acceptance();
            }
            Request::PlaceFree(strings) => self.place_free(&strings),
            Request::Command(command) => self.command(command),
            Request::TakePasted(kind, text) => self.take_pasted(kind, text),
            Request::OpenPath(path) if is_table(&path) => self.take_file(&path),
            Request::ChoosePlanToCompare => self.ask_path(Purpose::Compare),
            Request::OpenPath(path) => self.after_saving(Next::OpenPath(path)),
            Request::OpenSample(at) => self.after_saving(Next::OpenSample(at)),
            Request::Judge(judged) => self.judge(judged),
            Request::SetDecimal(mark) => self.decimal = mark,
            Request::ShowTab(tab) => self.show_tab(tab),
            // Only the frame being drawn knows its fields; see `Workbench::ui`.
            Request::GoToField(_) => {}
            Request::ShowThing(subject) => {
                self.show_train();
                self.show_subject(subject);
            }
            Request::SetColours(preference) => self.ctx.set_theme(preference),
            Request::SetSize(size) => self.ctx.set_zoom_factor(size),
            Request::ShowAbout => self.dialog = Some(Dialog::About),
            Request::CallOff(work) => self.works.call_off(work),
            Request::WorkOut => self.forget_settling(),
            // Only the frame being drawn reaches the clipboard; see `Workbench::ui`.
            Request::CopyText(_) => self.say("Copied"),
            Request::Export(export) => self.export(export),
            Request::Say(words) => self.say(words),
        }
    }

    fn command(&mut self, command: Command) {
        let last = self.document.figures().states.len().saturating_sub(1);
        match command {
            Command::New => self.after_saving(Next::New),
            Command::Open => self.after_saving(Next::Open),
            Command::Save => self.save(),
            Command::SaveAs => self.save_as(),
            Command::TakeIn(kind) => self.take_in(kind),
            Command::SaveTable(table) => self.save_table(table),
            Command::Close => self.after_saving(Next::Close),
            Command::Undo => self.step(Step::Back),
            Command::Redo => self.step(Step::Forward),
            Command::SelectAll => self.select_all(),
            Command::TakeOff => self.take_off(),
            Command::Lock => self.lock(),
            Command::HoldAtMiddle => self.hold_at_middle(),
            Command::Mirror => self.mirror(),
            Command::SwapPockets => self.swap_pockets(),
            Command::PairsAsOne => self.turn_pairs(),
            Command::FillTier => self.fill_tier(),
            Command::TurnVehicle => self.edit_vehicle(train_edits::turned),
            Command::DuplicateVehicle => self.edit_vehicle(train_edits::duplicated),
            Command::RemoveVehicle => self.edit_vehicle(train_edits::removed),
            Command::VehicleForward => self.move_vehicle(Along::Forward),
            Command::VehicleRearward => self.move_vehicle(Along::Rearward),
            Command::StateBefore => self.show_state(self.state.saturating_sub(1)),
            Command::StateAfter => self.show_state(self.state + 1),
            Command::PlayStates => self.panels.time_line.play_or_pause(),
            Command::FirstState => self.show_state(0),
            Command::LastState => self.show_state(last),
            Command::RackBefore => self.selection.rack = self.selection.rack.saturating_sub(1),
            Command::RackAfter => {
                let racks = self.document.figures().consist.racks.len();
                self.selection.rack = (self.selection.rack + 1).min(racks.saturating_sub(1));
            }
            Command::WholeTrain => self.canvas.zoom_to(ZoomTarget::Train),
            Command::ZoomToSelection => self.zoom_to_selection(),
            Command::ZoomToRack => self.canvas.zoom_to(ZoomTarget::Rack(self.selection.rack)),
            Command::ZoomToFinding => match self.selection.finding.clone() {
                Some(key) => self.show_finding(key),
                None => self.say("No finding is chosen; choose one in the list of findings"),
            },
            Command::Show(view) => self.panels.views.show(view),
            Command::GoTo(pane) => {
                self.focus = Some(pane);
                self.show_drawing(pane);
                if pane == Pane::RackFace {
                    self.show_rack_face();
                }
            }
            Command::FindingAfter => self.step_findings(1),
            Command::FindingBefore => self.step_findings(-1),
            Command::Find => self.finder = Some(Finder::of(&self.document, &self.start)),
            Command::History => self.show_history(),
            Command::LeftBehind => self.offer_left(),
            Command::Exercises => {
                if self.at_start {
                    self.show_document(Document::new(Arc::new(empty_plan()), OnDisk::Yes));
                }
                self.panels.views.show_exercises();
            }
            Command::JudgeTheOther => self.judge_the_other(),
            Command::Shortcuts => self.dialog = Some(Dialog::Shortcuts),
        }
    }

    /// Sees to it that the drawing that the keyboard goes to is there.
    fn show_drawing(&mut self, pane: Pane) {
        let views = &mut self.panels.views;
        match pane {
            // While both are shown, either view has it.
            Pane::TrainSide | Pane::DeckPlan if views.both && views.view.is_of_the_train() => {}
            Pane::TrainSide => views.view = View::TrainSide,
            Pane::DeckPlan => views.view = View::DeckPlan,
            _ => {}
        }
    }

    /// Sees to it that the rack face is there: figures leave room for it, forms do not.
    fn show_rack_face(&mut self) {
        self.show_train();
        if !self.panels.tables.tab.is_figures() {
            self.panels.tables.tab = Tab::Vehicles;
        }
    }

    /// Makes an edit; says why where it cannot be made, and what else it did.
    pub(super) fn make(&mut self, edit: &Edit) -> Granted {
        self.preview = None;
        if let Some(why) = self.refusal(edit) {
            self.say(format!("Not done: {why}"));
            return Granted::Refused;
        }
        let anchors = Anchors::of(self);
        match self.document.apply(edit, self.scope()) {
            Ok(made) => {
                let mut said = Vec::new();
                let yard = &made.done.returned_to_yard;
                if !yard.is_empty() {
                    let marks: Vec<&str> = yard.iter().map(StringMark::as_str).collect();
                    said.push(format!("Back in the yard list: {}", marks.join(", ")));
                } else if made.done.changed {
                    said.push(edit.label());
                }
                said.extend(lapsed_words(&made.lapsed));
                if !said.is_empty() {
                    self.say(said.join(". "));
                }
                self.plan_changed(anchors);
                Granted::Yes
            }
            Err(error) => {
                self.say(format!("Not done: {error}"));
                Granted::Refused
            }
        }
    }

    fn step(&mut self, step: Step) {
        self.preview = None;
        let (anchors, scope) = (Anchors::of(self), self.scope());
        let (words, label) = match step {
            Step::Back => ("Undone", self.document.undo(scope)),
            Step::Forward => ("Done again", self.document.redo(scope)),
        };
        match label {
            Some(label) => self.say(format!("{words}: {label}")),
            None => self.say("Nothing left to undo or redo"),
        }
        self.plan_changed(anchors);
    }

    /// Goes to a step of the history.
    pub(super) fn jump_to(&mut self, step: usize) {
        self.preview = None;
        let anchors = Anchors::of(self);
        self.document.jump_to(step, self.scope());
        self.plan_changed(anchors);
    }

    /// Lists the steps made.
    pub(super) fn show_history(&mut self) {
        let history = self.document.history();
        let labels = history.labels().map(str::to_owned).collect();
        self.dialog = Some(Dialog::History { labels, at: history.cursor() });
    }

    /// Keeps what is selected, wherever it went, and lets go of what the plan no longer has.
    pub(super) fn plan_changed(&mut self, before: Anchors) {
        self.before = None;
        self.forget_settling();
        let plan = Arc::clone(self.document.plan());
        self.selection.strings.retain(|mark| plan.string(mark).is_some());
        let figures = self.document.figures();
        before.find_again(&mut self.selection, &plan, &figures.consist);
        self.state = self.state.min(figures.states.len().saturating_sub(1));
    }

    /// Ends the preview of what is typed in a form of a type, unless it is asked for again: the form may be gone.
    pub(super) fn end_typed_preview(&mut self, requests: &[Request]) {
        let asked = requests.iter().any(|request| matches!(request, Request::Preview(Some(_))));
        let is_typed = |preview: &Preview| matches!(preview.edit, Edit::VehicleTypes(_) | Edit::RackTypes(_));
        if !asked && self.preview.as_ref().is_some_and(is_typed) {
            self.preview = None;
        }
    }

    fn show_preview(&mut self, edit: Option<Edit>) {
        let Some(edit) = edit else {
            self.preview = None;
            return;
        };
        if self.preview.as_ref().is_some_and(|preview| preview.edit == edit) {
            return;
        }
        let refusal = self.refusal(&edit);
        let (plan, load) = (self.document.plan(), (self.judged, self.state));
        let before = self.before.get_or_insert_with(|| {
            let judged = plan_judged(plan, self.judged);
            assess(&Figures::of(judged, Scope::One(self.state)).live())
        });
        self.preview = Some(Preview::of(edit, plan, load, before, refusal));
    }

    fn show_state(&mut self, state: usize) {
        self.state = state.min(self.document.figures().states.len().saturating_sub(1));
        self.document.look_at(self.state);
        self.before = None;
    }

    pub(super) fn select(&mut self, strings: Vec<StringMark>, mode: SelectMode) {
        self.selection.vehicle = None;
        let selected = &mut self.selection.strings;
        match mode {
            SelectMode::Only => *selected = strings.into_iter().collect(),
            SelectMode::Add => selected.extend(strings),
            SelectMode::Toggle => {
                for mark in strings {
                    if !selected.remove(&mark) {
                        selected.insert(mark);
                    }
                }
            }
        }
    }

    pub(super) fn select_vehicle(&mut self, vehicle: Option<usize>) {
        self.selection.vehicle = vehicle;
        let Some(vehicle) = vehicle else { return };
        self.selection.strings.clear();
        // The rack face follows to the vehicle's middle rack, unless it shows one of the vehicle's already.
        let racks = self.document.figures().consist.vehicles.get(vehicle).map(|place| place.racks.clone());
        if let Some(racks) = racks.filter(|racks| !racks.is_empty() && !racks.contains(&self.selection.rack))
        {
            self.selection.rack = racks.start + racks.len() / 2;
        }
    }

    fn select_all(&mut self) {
        let figures = self.settled().0;
        let present = figures.present(self.state).filter_map(|placed| figures.plan.order.get(placed.string));
        let strings = present.map(|string| string.mark.clone()).collect();
        self.select(strings, SelectMode::Only);
    }

    fn selected_on_train(&self) -> Vec<Placement> {
        let plan = self.document.plan();
        self.selection.strings.iter().filter_map(|mark| plan.placement(mark)).cloned().collect()
    }

    fn take_off(&mut self) {
        let strings: Vec<StringMark> =
            self.selected_on_train().into_iter().map(|place| place.string).collect();
        if !strings.is_empty() {
            self.make(&Edit::TakeOff { strings });
        } else if self.selection.vehicle.is_some() {
            let keys = Command::RemoveVehicle.keys().into_iter().next().unwrap_or_default();
            self.say(format!("No string on the train is selected; {keys} removes the vehicle that is"));
        } else {
            self.say("No string on the train is selected");
        }
    }

    /// Locks the selected strings, or unlocks them where all are locked.
    fn lock(&mut self) {
        let places = self.selected_on_train();
        if places.is_empty() {
            return self.say("No string on the train is selected");
        }
        let locked = if places.iter().all(|place| place.locked) { Locked::No } else { Locked::Yes };
        let strings = places.into_iter().map(|place| place.string).collect();
        self.make(&Edit::SetLocked { strings, locked });
    }

    fn hold_at_middle(&mut self) {
        let plan = Arc::clone(self.document.plan());
        let consist = &self.document.figures().consist;
        let hold = |place: &Placement| {
            let rear = place.front + plan.string(&place.string)?.length;
            let hold = propose_hold(&plan, consist, place.front, rear)?;
            Some(Edit::SetHolds { string: place.string.clone(), holds: vec![hold] })
        };
        let edits: Vec<Edit> = self.selected_on_train().iter().filter_map(hold).collect();
        match edits.as_slice() {
            [] => self.say("No selected string has a rack under it that can clamp"),
            [edit] => {
                self.make(&edit.clone());
            }
            many => {
                let label = format!("Hold {} strings at their middle", many.len());
                self.make(&Edit::Batch { label, edits });
            }
        }
    }

    fn place_free(&mut self, strings: &[StringMark]) {
        let plan = Arc::clone(self.document.plan());
        let figures = self.document.figures();
        match place_free(&plan, &figures.consist, self.selection.rack, strings) {
            Some(change) => {
                self.make_change(change);
                self.select(strings.to_vec(), SelectMode::Only);
            }
            None => self.say("No free pocket at the rack shown; choose another rack, or take something off"),
        }
    }

    /// Shows a finding: selects its things, goes to its worst state, and brings its place into view.
    fn show_finding(&mut self, key: FindingKey) {
        let settled = self.settled().1;
        let assessment = self.preview.as_ref().map_or(&**settled, |preview| &preview.assessment);
        let Some(finding) = assessment.findings.iter().find(|finding| key.is_of(finding)) else { return };
        let (subject, state) = (finding.subject, finding.state);
        self.selection.finding = Some(key);
        if let Some(state) = state {
            self.show_state(state);
        }
        // Where the subject is shown, whatever was looked at before.
        self.show_train();
        self.show_subject(subject);
    }

    /// Goes to the finding beside the one chosen, among those that the panel lists.
    fn step_findings(&mut self, step: isize) {
        let (figures, assessment) = self.settled();
        let listed = Listed {
            assessment,
            figures,
            state: self.state,
            style: Style { units: figures.plan.units, decimal: self.decimal },
        };
        match self.panels.findings.beside(&listed, self.selection.finding.as_ref(), step) {
            Some(key) => self.show_finding(key),
            None => self.say("No further finding is listed"),
        }
    }

    /// Shows a tab of the lower middle, and the view that it lies under.
    fn show_tab(&mut self, tab: Tab) {
        self.show_train();
        self.panels.tables.show(tab);
    }

    /// Sees to it that a view of the train is shown.
    fn show_train(&mut self) {
        if !self.panels.views.view.is_of_the_train() {
            self.panels.views.view = View::default();
        }
    }

    fn show_subject(&mut self, subject: Subject) {
        let plan = Arc::clone(self.document.plan());
        let mark = |at: usize| plan.order.get(at).map(|string| string.mark.clone());
        match subject {
            Subject::String(at) => self.show_strings(mark(at).into_iter().collect()),
            Subject::StringEnd(at, end) => self.show_string_end(at, end),
            Subject::Strings(first, second) => {
                self.show_strings([first, second].into_iter().filter_map(mark).collect());
            }
            Subject::StringAtRack(at, rack) => {
                self.select(mark(at).into_iter().collect(), SelectMode::Only);
                self.show_rack(rack);
                if let Some(mark) = mark(at) {
                    self.canvas.zoom_to(ZoomTarget::StringAtRack(mark, rack));
                }
            }
            Subject::Vehicle(at)
            | Subject::Support(at, _)
            | Subject::Axle(at, _)
            | Subject::Wheel(at, ..) => {
                self.select_vehicle(Some(at));
                self.canvas.zoom_to(ZoomTarget::Vehicle(at));
            }
            Subject::Rack(rack) => self.show_rack(rack),
            Subject::RackTier(rack, tier) => self.show_pocket(rack, (tier, None)),
            Subject::Pocket(rack, tier, lane) => self.show_pocket(rack, (tier, Some(lane))),
            Subject::VehicleType(_)
            | Subject::RackType(_)
            | Subject::Section(_)
            | Subject::Limit(_)
            | Subject::Drop(_) => self.panels.tables.show_subject(subject),
            Subject::Step(drop, step) => {
                self.panels.tables.show_subject(subject);
                let step = plan.drops.get(drop).and_then(|drop| drop.steps.get(step));
                self.show_strings(
                    step.map(|step| step.strings.marks().cloned().collect()).unwrap_or_default(),
                );
            }
            Subject::Plan | Subject::Train => self.canvas.zoom_to(ZoomTarget::Train),
        }
    }

    fn show_strings(&mut self, strings: Vec<StringMark>) {
        let placed = strings.iter().any(|mark| self.document.plan().placement(mark).is_some());
        self.select(strings.clone(), SelectMode::Only);
        if let Some(rack) = self.rack_under(&strings) {
            self.selection.rack = rack;
        }
        if placed {
            self.canvas.zoom_to(ZoomTarget::Strings(strings));
        }
    }

    /// Shows the end of a string close by, and its last rack in the rack face.
    fn show_string_end(&mut self, string: usize, end: TrainEnd) {
        let figures = self.settled().0;
        let Some(mark) = figures.plan.order.get(string).map(|string| string.mark.clone()) else { return };
        let placed = figures.placed.iter().find(|placed| placed.string == string);
        let racks = placed.map(|placed| placed.racks.clone()).filter(|racks| !racks.is_empty());
        if let Some(racks) = racks {
            self.selection.rack = if end == TrainEnd::Front { racks.start } else { racks.end - 1 };
        }
        // Its last rack is one of the string's, so that it stays.
        self.show_strings(vec![mark.clone()]);
        if self.document.plan().placement(&mark).is_some() {
            self.canvas.zoom_to(ZoomTarget::StringEnd(mark, end));
        }
    }

    fn show_rack(&mut self, rack: usize) {
        self.selection.rack = rack;
        self.canvas.zoom_to(ZoomTarget::Rack(rack));
    }

    fn show_pocket(&mut self, rack: usize, (tier, lane): (u32, Option<u32>)) {
        self.selection.rack = rack;
        self.canvas.zoom_to(ZoomTarget::Pocket { rack, tier, lane });
    }

    /// The rack shown where it carries the first of these strings that lies on racks, else that string's middle rack.
    fn rack_under(&self, strings: &[StringMark]) -> Option<usize> {
        let figures = self.document.figures();
        let order = &figures.plan.order;
        let is_meant = |string: usize| order.get(string).is_some_and(|string| strings.contains(&string.mark));
        let mut carried =
            figures.placed.iter().filter(|placed| is_meant(placed.string) && !placed.racks.is_empty());
        let racks = carried.next()?.racks.clone();
        Some(if racks.contains(&self.selection.rack) {
            self.selection.rack
        } else {
            racks.start + racks.len() / 2
        })
    }
}

/// Whether an edit was made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Granted {
    /// It was; perhaps it changed nothing.
    Yes,
    /// It was not; the status line says why.
    Refused,
}

/// Tells that acceptances lapsed, and of what; none where none did.
pub(super) fn lapsed_words(lapsed: &[Acceptance]) -> Option<String> {
    let first = lapsed.first()?;
    let title = title_of(&first.check);
    let place = first.things.join(", ");
    Some(match lapsed.len() {
        1 => format!("No longer accepted, as it changed: {title}, {place}"),
        count => format!("No longer accepted, as they changed: {title}, {place}, and {} more", count - 1),
    })
}

/// Which way to go in the history.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Step {
    Back,
    Forward,
}
