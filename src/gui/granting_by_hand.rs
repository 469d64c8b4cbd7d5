//! Granting what hands ask for: menus, mirror, swap, pairs, a whole tier, the row of vehicles.

use super::canvas::{self, Along, Change, Pairs, Pocket};
use super::grant::Granted;
use super::menus::{Menu, MenuOf};
use super::train_edits;
use super::{SelectMode, Workbench, ZoomTarget};
use crate::edit::Edit;
use crate::model::{Plan, StringMark};
use egui::Pos2;
use std::sync::Arc;

impl Workbench {
    /// Opens the menu of a thing; what it is about becomes selected, as a click would do, unless it is already.
    pub(super) fn open_menu(&mut self, of: MenuOf, at: Pos2) {
        let plan = Arc::clone(self.document.plan());
        match &of {
            MenuOf::String(mark) if !self.selection.strings.contains(mark) => {
                self.select(vec![mark.clone()], SelectMode::Only);
            }
            MenuOf::Vehicle(vehicle) if self.selection.vehicle != Some(*vehicle) => {
                self.select_vehicle(Some(*vehicle));
            }
            MenuOf::Rack(rack) | MenuOf::Pocket { rack, .. } => self.selection.rack = *rack,
            _ => {}
        }
        self.menu = Some(Menu::new(of, at, plan));
    }

    /// Puts what is selected into a pocket.
    pub(super) fn put_into(&mut self, rack: usize, pocket: Pocket) {
        let plan = Arc::clone(self.document.plan());
        let consist = &self.document.figures().consist;
        let (strings, how) = (&self.selection.strings, (self.pairs, self.canvas.kept_fronts()));
        let change = canvas::put_into(&plan, consist, strings, (rack, pocket), how);
        self.make_or_say(
            change.ok_or_else(|| "Select a string first, in the yard list or on the train".to_owned()),
        );
    }

    /// Makes an edit of the selected vehicle.
    pub(super) fn edit_vehicle(&mut self, edit: impl FnOnce(&Plan, usize) -> Option<Edit>) {
        let Some(vehicle) = self.selection.vehicle else {
            return self.say("Select a vehicle first, on the train side or in the train form");
        };
        match edit(self.document.plan(), vehicle) {
            Some(edit) => {
                self.make(&edit);
            }
            None => self.say("It stands at the end of the train"),
        }
    }

    /// Moves the selected vehicle by one place; it stays selected.
    pub(super) fn move_vehicle(&mut self, way: Along) {
        let to = |vehicle: usize| match way {
            Along::Forward => vehicle.checked_sub(1),
            Along::Rearward => Some(vehicle + 1),
        };
        self.edit_vehicle(|plan, vehicle| train_edits::moved(plan, vehicle, to(vehicle)?));
    }

    /// Brings the selected strings into view, else the selected vehicle, else the rack of the rack face.
    pub(super) fn zoom_to_selection(&mut self) {
        let strings = self.selected_marks();
        let target = match (strings.is_empty(), self.selection.vehicle) {
            (false, _) => ZoomTarget::Strings(strings),
            (true, Some(vehicle)) => ZoomTarget::Vehicle(vehicle),
            (true, None) => ZoomTarget::Rack(self.selection.rack),
        };
        self.canvas.zoom_to(target);
    }

    /// Moves the selected strings to the lanes opposite theirs.
    pub(super) fn mirror(&mut self) {
        let strings = self.selected_marks();
        let consist = &self.document.figures().consist;
        self.make_or_say(canvas::mirrored(self.document.plan(), consist, &strings));
    }

    /// Exchanges the pockets of the two selected strings.
    pub(super) fn swap_pockets(&mut self) {
        let strings = self.selected_marks();
        let consist = &self.document.figures().consist;
        self.make_or_say(canvas::swapped_two(self.document.plan(), consist, &strings, self.pairs));
    }

    /// Lets pairs move as one, or apart.
    pub(super) fn turn_pairs(&mut self) {
        self.pairs = self.pairs.turned();
        self.say(match self.pairs {
            Pairs::AsOne => "Pairs move as one: where one goes, the other goes as its mirror image",
            Pairs::Apart => "Pairs move apart: each string moves alone",
        });
    }

    /// Fills the lowest tier with a free pocket at the rack shown: with the selected strings of the yard list, else with
    /// those of the last drop that has any.
    pub(super) fn fill_tier(&mut self) {
        let plan = Arc::clone(self.document.plan());
        let strings = canvas::strings_to_fill(&plan, &self.selection.strings);
        let consist = &self.document.figures().consist;
        let rack = self.selection.rack;
        let tier = canvas::tier_to_fill(&plan, consist, rack, &strings);
        self.make_or_say(canvas::fill_tier(&plan, consist, (rack, tier), &strings));
    }

    /// Makes a change, or says why there is none.
    pub(super) fn make_or_say(&mut self, change: Result<Change, String>) {
        match change {
            Ok(change) => self.make_change(change),
            Err(why) => self.say(why),
        }
    }

    /// Makes a change; where it could be made, says what it did besides.
    pub(super) fn make_change(&mut self, change: Change) {
        if self.make(&change.edit) == Granted::Yes && !change.said.is_empty() {
            self.say(change.said);
        }
    }

    /// The selected strings that are on the train, in the order of their marks.
    fn selected_marks(&self) -> Vec<StringMark> {
        let plan = self.document.plan();
        self.selection.strings.iter().filter(|mark| plan.placement(mark).is_some()).cloned().collect()
    }
}
