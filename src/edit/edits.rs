//! What can be done to a plan.

use super::{EditError, Rows, StepPlace, drops, load, records, rows, settings, train};
use crate::model::{
    Acceptance, AsLoaded, Beyond, Drop, Hold, LaneRule, Limit, LimitKind, OrderTable, OrderedString,
    Placement, Plan, RackSpan, RackType, RailSection, Route, Signature, Steel, StringMark, Vehicle,
    VehicleMark, VehicleType, Weighing, problems,
};
use crate::units::{Length, UnitSystem};

/// A change to a plan, named for what is meant by it.
///
/// Positions are train coordinates. Rows of the plan's tables are added, changed, removed and reordered
/// through [`Rows`]; a changed name is carried through to everything that refers to it.
#[expect(
    clippy::large_enum_variant,
    reason = "edits are few and short-lived; boxes would burden all who write them"
)]
#[derive(Clone, Debug, PartialEq)]
pub enum Edit {
    /// Puts a string on the train that is not on it yet.
    Place {
        /// Where it will lie and be held.
        placement: Placement,
    },
    /// Takes strings off the train, back to the yard list.
    TakeOff {
        /// The strings.
        strings: Vec<StringMark>,
    },
    /// Moves strings to other pockets or along the train; each keeps its holds and its meant racks.
    Move {
        /// One for each string that moves.
        moves: Vec<Move>,
    },
    /// Exchanges tier and lane of two strings; each keeps its front end and its holds.
    SwapPockets {
        /// One of the two.
        first: StringMark,
        /// The other.
        second: StringMark,
    },
    /// Says where a string is held.
    SetHolds {
        /// The string.
        string: StringMark,
        /// All its holds; a good load has exactly one.
        holds: Vec<Hold>,
    },
    /// Says which racks a string is meant to rest on.
    SetRestsOn {
        /// The string.
        string: StringMark,
        /// First and last rack; none: not said.
        rests_on: Option<RackSpan>,
    },
    /// Locks strings in their places, or frees them.
    SetLocked {
        /// The strings.
        strings: Vec<StringMark>,
        /// What they become.
        locked: Locked,
    },
    /// Changes the order. A removed string leaves its pocket, its steps and its records too.
    Strings(Rows<OrderedString>),
    /// Changes the row of vehicles.
    ///
    /// Each string keeps its place relative to the vehicle that carries its front end: it moves along with
    /// that vehicle, and goes back to the yard list when that vehicle is removed. Records of what was loaded
    /// follow in the same way. Holds and meant racks on racks that are gone are dropped; weighings of removed
    /// vehicles too.
    Vehicles(Rows<Vehicle>),
    /// Turns vehicles round where they stand; strings stay in their places in the train, and rack numbers
    /// count from the front as the vehicle then stands.
    Turn {
        /// The vehicles.
        vehicles: Vec<VehicleMark>,
    },
    /// Changes the vehicle types; strings move with their vehicles' middles as for [`Edit::Vehicles`].
    VehicleTypes(Rows<VehicleType>),
    /// Changes the rack types.
    RackTypes(Rows<RackType>),
    /// Changes the rail sections.
    Sections(Rows<RailSection>),
    /// Changes the steels.
    Steels(Rows<Steel>),
    /// Changes the drops, each with its steps. Strings that were for a removed drop are for none.
    Drops(Rows<Drop>),
    /// Moves a step within its drop or to another.
    MoveStep {
        /// The step.
        from: StepPlace,
        /// Its place once it has left the old one.
        to: StepPlace,
    },
    /// Sets what concerns the train as a whole.
    SetTrainSettings(TrainSettings),
    /// Sets the route.
    SetRoute {
        /// The whole route.
        route: Box<Route>,
    },
    /// Enters a limit, or clears it.
    SetLimit {
        /// Which.
        kind: LimitKind,
        /// What it becomes; none: not entered.
        limit: Option<Limit>,
    },
    /// Enters limits, from a named set say, and accepts them.
    AdoptLimits {
        /// The limits.
        limits: Vec<(LimitKind, Limit)>,
        /// Who accepts them.
        by: String,
    },
    /// Accepts limits that are entered already.
    AcceptLimits {
        /// Which.
        kinds: Vec<LimitKind>,
        /// Who accepts them.
        by: String,
    },
    /// Sets the share of a limit from which a pass is told as near.
    SetNearShare {
        /// The share; none: 0.95.
        share: Option<f64>,
    },
    /// Accepts a finding; replaces an earlier acceptance of the same check and things.
    Accept {
        /// The finding, who, why and when.
        acceptance: Acceptance,
    },
    /// Takes an acceptance back.
    Unaccept {
        /// The check's id.
        check: String,
        /// The things, as the finding names them.
        things: Vec<String>,
    },
    /// Records where strings were really put; a record takes the place of an earlier one of the same string.
    /// The plan as meant stays as it is.
    RecordAsLoaded {
        /// One for each string.
        records: Vec<AsLoaded>,
    },
    /// Records strings as put where the plan has them.
    ConfirmAsPlanned {
        /// The strings, each placed in the plan.
        strings: Vec<StringMark>,
        /// Who saw it.
        by: String,
        /// When, as written.
        at: String,
    },
    /// Takes the records of strings back: they are not confirmed any more.
    RemoveAsLoaded {
        /// The strings.
        strings: Vec<StringMark>,
    },
    /// Adds readings of scales at the end of the list.
    AddWeighings {
        /// The readings.
        readings: Vec<Weighing>,
    },
    /// Changes a reading.
    ChangeWeighing {
        /// Its index in the list.
        at: usize,
        /// What it becomes.
        to: Weighing,
    },
    /// Removes readings.
    RemoveWeighings {
        /// Their indices in the list, in any order.
        at: Vec<usize>,
    },
    /// Signs the plan. Whether the hash is that of the plan is for the caller to see to.
    Sign {
        /// Who, when, and the hash of what is signed.
        signature: Signature,
    },
    /// Takes a signature away.
    RemoveSignature {
        /// Its index in the list.
        at: usize,
    },
    /// Sets the title.
    SetTitle {
        /// The title.
        title: String,
    },
    /// Sets the notes.
    SetNotes {
        /// The notes.
        notes: String,
    },
    /// Sets how the columns of the order's table are matched.
    SetOrderTable {
        /// The matching.
        table: OrderTable,
    },
    /// Sets the units that the plan is shown and reported in.
    SetUnits {
        /// Metric or US customary.
        units: UnitSystem,
    },
    /// Several edits as one: all of them are made, or none; what is between them may be unsound.
    Batch {
        /// What the Undo menu calls it.
        label: String,
        /// The edits in order.
        edits: Vec<Edit>,
    },
}

/// Where a string moves to.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Move {
    /// The string, one that is on the train.
    pub string: StringMark,
    /// Its tier, from 1 at the bottom.
    pub tier: u32,
    /// Its lane, from 1 at the left facing the front.
    pub lane: u32,
    /// x of its front end in the train.
    pub front: Length,
}

/// Whether a string is locked in its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Locked {
    /// Proposals and tools leave it where it is.
    Yes,
    /// It can be moved.
    No,
}

/// What concerns the train as a whole.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct TrainSettings {
    /// Free movement of one coupling, both ways together; none: not entered.
    pub coupling_slack: Option<Length>,
    /// What stands beyond the front end.
    pub front_beyond: Beyond,
    /// What stands beyond the rear end.
    pub rear_beyond: Beyond,
    /// Which lanes come off first; none: not set.
    pub lane_rule: Option<LaneRule>,
}

/// What an edit made of a plan.
#[derive(Clone, Debug, PartialEq)]
pub struct Applied {
    /// The plan after the edit.
    pub plan: Plan,
    /// Strings that the edit took off the train though it was not about them: their vehicle is gone.
    pub returned_to_yard: Vec<StringMark>,
}

impl Edit {
    /// The plan after this edit; `plan` itself stays as it is.
    ///
    /// # Errors
    /// A name that the plan does not have or has already, a locked string that would have to move, a row
    /// that is in use, a place beyond a list's end, or a result with [`problems`] that `plan` did not have.
    pub fn apply(&self, plan: &Plan) -> Result<Applied, EditError> {
        let mut changed = plan.clone();
        let mut returned_to_yard = Vec::new();
        self.change(&mut changed, &mut returned_to_yard)?;
        returned_to_yard.retain(|mark| changed.string(mark).is_some() && changed.placement(mark).is_none());
        let mut found = problems(&changed);
        if !found.is_empty() {
            let known = problems(plan);
            found.retain(|problem| !known.contains(problem));
        }
        match found.into_iter().next() {
            Some(problem) => Err(EditError::NotSound { problem }),
            None => Ok(Applied { plan: changed, returned_to_yard }),
        }
    }

    /// Changes `plan` in place, half-way on an error; adds strings whose vehicle went to `yard`.
    fn change(&self, plan: &mut Plan, yard: &mut Vec<StringMark>) -> Result<(), EditError> {
        match self {
            Self::Place { placement } => load::place(plan, placement),
            Self::TakeOff { strings } => load::take_off(plan, strings),
            Self::Move { moves } => load::move_strings(plan, moves),
            Self::SwapPockets { first, second } => load::swap_pockets(plan, first, second),
            Self::SetHolds { string, holds } => load::set_holds(plan, string, holds),
            Self::SetRestsOn { string, rests_on } => load::set_rests_on(plan, string, rests_on.as_ref()),
            Self::SetLocked { strings, locked } => load::set_locked(plan, strings, *locked),
            Self::Strings(rows) => rows::apply(rows, plan),
            Self::Vehicles(rows) => train::change_vehicles(rows, plan, yard),
            Self::Turn { vehicles } => train::turn(plan, vehicles),
            Self::VehicleTypes(rows) => train::change_types(rows, plan, yard),
            Self::RackTypes(rows) => rows::apply(rows, plan),
            Self::Sections(rows) => rows::apply(rows, plan),
            Self::Steels(rows) => rows::apply(rows, plan),
            Self::Drops(rows) => rows::apply(rows, plan),
            Self::MoveStep { from, to } => drops::move_step(plan, from, to),
            Self::RecordAsLoaded { records } => records::record(plan, records),
            Self::ConfirmAsPlanned { strings, by, at } => records::confirm(plan, strings, (by, at)),
            Self::RemoveAsLoaded { strings } => records::remove(plan, strings),
            Self::AddWeighings { .. }
            | Self::ChangeWeighing { .. }
            | Self::RemoveWeighings { .. }
            | Self::Sign { .. }
            | Self::RemoveSignature { .. } => records::change_list(self, plan),
            Self::Batch { edits, .. } => edits.iter().try_for_each(|edit| edit.change(plan, yard)),
            _ => settings::change(self, plan),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::trial::{after, plan, rack, refused, string};
    use super::*;

    fn hold(vehicle: &str, number: u32) -> Edit {
        Edit::SetHolds { string: string("S1"), holds: vec![rack(vehicle, number)] }
    }

    fn path_of(error: EditError) -> String {
        match error {
            EditError::NotSound { problem } => problem.path,
            other => panic!("{other}"),
        }
    }

    #[test]
    fn an_edit_that_makes_the_plan_unsound_is_refused_and_says_where() {
        assert_eq!(path_of(refused(&plan(), &hold("W9", 1))), "placements[0].holds[0]");
        assert_eq!(path_of(refused(&plan(), &hold("W1", 4))), "placements[0].holds[0]");
        let mut short = plan().order[0].clone();
        short.length = Length::ZERO;
        let edit = Edit::Strings(Rows::Change { name: string("S1"), to: short });
        assert_eq!(path_of(refused(&plan(), &edit)), "order[0].length_mm");
    }

    #[test]
    fn what_was_wrong_before_does_not_stop_an_edit() {
        let mut odd = plan();
        odd.route.speed_kmh = Some(-1.0);
        let title = Edit::SetTitle { title: "T".to_owned() };
        assert_eq!(after(&odd, &title).title, "T");
        assert_eq!(path_of(refused(&odd, &hold("W9", 1))), "placements[0].holds[0]");
    }

    #[test]
    fn a_batch_may_pass_through_an_unsound_plan_but_not_end_there() {
        let batch = |edits| Edit::Batch { label: "Hold".to_owned(), edits };
        let through = batch(vec![hold("W9", 1), hold("W1", 1)]);
        assert_eq!(after(&plan(), &through).placements[0].holds, [rack("W1", 1)]);
        refused(&plan(), &batch(vec![hold("W1", 1), hold("W9", 1)]));
    }

    #[test]
    fn a_string_sent_to_the_yard_and_placed_again_in_one_batch_is_not_told_as_returned() {
        let placement = plan().placements[0].clone();
        let remove = Edit::Vehicles(Rows::Remove { names: vec![plan().train.vehicles[2].mark.clone()] });
        let third = Placement { string: string("S3"), ..placement };
        let again = Edit::Batch {
            label: "Shorten".to_owned(),
            edits: vec![remove.clone(), Edit::Place { placement: third }],
        };
        assert_eq!(remove.apply(&plan()).unwrap().returned_to_yard, [string("S3")]);
        assert!(after(&plan(), &again).placement(&string("S3")).is_some());
    }
}
