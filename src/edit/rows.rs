//! Adding, changing, removing and reordering the rows of a plan's tables, once for all tables.

use super::EditError;
use crate::model::{Found, Plan};
use std::fmt::{Debug, Display};

/// A row of one of the plan's tables, known by a name that is unique in it.
pub trait Row: Clone + Debug + PartialEq {
    /// What the row is called by.
    type Name: Clone + Debug + Display + PartialEq;
    /// What a reader calls such a row; acceptances name it by this word and its name.
    const NOUN: &'static str;
    /// Its name.
    fn name(&self) -> &Self::Name;
    /// The table.
    fn rows(plan: &Plan) -> &[Self];
    /// The table, to be changed.
    fn rows_mut(plan: &mut Plan) -> &mut Vec<Self>;
    /// Makes everything that refers to `from` refer to `to`; the row itself is renamed already.
    fn carry_name(plan: &mut Plan, from: &Self::Name, to: &Self::Name);
    /// Lets go of the row called `name` before it is removed.
    ///
    /// # Errors
    /// [`EditError::InUse`] where something cannot do without it, [`EditError::StringLocked`] where that
    /// would move a locked string.
    fn let_go(plan: &mut Plan, name: &Self::Name) -> Result<(), EditError>;
}

/// A change to one of the plan's tables.
#[derive(Clone, Debug, PartialEq)]
pub enum Rows<R: Row> {
    /// Adds a row.
    Add {
        /// Before the row that now has this index; none: at the end.
        at: Option<usize>,
        /// The row, with a name that is free.
        row: R,
    },
    /// Changes a row; where its name changes, everything that refers to it follows.
    Change {
        /// Its name until now.
        name: R::Name,
        /// What it becomes.
        to: R,
    },
    /// Removes rows.
    Remove {
        /// Their names.
        names: Vec<R::Name>,
    },
    /// Moves a row.
    Move {
        /// Its name.
        name: R::Name,
        /// Its index once it has left its old place.
        to: usize,
    },
}

impl<R: Row> Rows<R> {
    /// What the Undo menu calls it.
    pub(super) fn label(&self) -> String {
        match self {
            Self::Add { row, .. } => format!("Add {} {}", R::NOUN, row.name()),
            Self::Change { name, to } if name != to.name() => {
                format!("Rename {} {name} to {}", R::NOUN, to.name())
            }
            Self::Change { name, .. } => format!("Change {} {name}", R::NOUN),
            Self::Remove { names } => match names.as_slice() {
                [name] => format!("Remove {} {name}", R::NOUN),
                _ => format!("Remove {} {}s", names.len(), R::NOUN),
            },
            Self::Move { name, .. } => format!("Move {} {name}", R::NOUN),
        }
    }
}

/// Makes the change in place.
pub(super) fn apply<R: Row>(change: &Rows<R>, plan: &mut Plan) -> Result<(), EditError> {
    match change {
        Rows::Add { at, row } => {
            expect_free::<R>(plan, row.name())?;
            let rows = R::rows_mut(plan);
            let at = at.unwrap_or(rows.len());
            expect_place::<R>(at, rows.len() + 1)?;
            rows.insert(at, row.clone());
        }
        Rows::Change { name, to } => {
            let at = index_of::<R>(plan, name)?;
            if name != to.name() {
                expect_free::<R>(plan, to.name())?;
            }
            if let Some(row) = R::rows_mut(plan).get_mut(at) {
                *row = to.clone();
            }
            if name != to.name() {
                R::carry_name(plan, name, to.name());
                carry_acceptances::<R>(plan, name, to.name());
            }
        }
        Rows::Remove { names } => {
            for name in names {
                index_of::<R>(plan, name)?;
                R::let_go(plan, name)?;
                R::rows_mut(plan).retain(|row| row.name() != name);
            }
        }
        Rows::Move { name, to } => {
            let from = index_of::<R>(plan, name)?;
            let rows = R::rows_mut(plan);
            expect_place::<R>(*to, rows.len())?;
            let row = rows.remove(from);
            rows.insert(*to, row);
        }
    }
    Ok(())
}

/// The index of the row called `name`.
pub(super) fn index_of<R: Row>(plan: &Plan, name: &R::Name) -> Result<usize, EditError> {
    R::rows(plan)
        .iter()
        .position(|row| row.name() == name)
        .ok_or_else(|| EditError::NoSuch { kind: R::NOUN, name: name.to_string() })
}

fn expect_free<R: Row>(plan: &Plan, name: &R::Name) -> Result<(), EditError> {
    match index_of::<R>(plan, name) {
        Ok(_) => Err(EditError::NameTaken { kind: R::NOUN, name: name.to_string() }),
        Err(_) => Ok(()),
    }
}

fn expect_place<R: Row>(at: usize, count: usize) -> Result<(), EditError> {
    if at < count { Ok(()) } else { Err(EditError::NoPlace { kind: R::NOUN, place: at + 1, count }) }
}

/// Accepted findings name their things by noun and name (a rack by its vehicle's too): they follow a rename.
fn carry_acceptances<R: Row>(plan: &mut Plan, from: &R::Name, to: &R::Name) {
    let (old, new) = (format!("{} {from}", R::NOUN), format!("{} {to}", R::NOUN));
    let things = plan.accepted.iter_mut().flat_map(|acceptance| acceptance.things.iter_mut());
    for thing in things {
        let rest = thing.strip_prefix(&old).map(str::to_owned);
        if let Some(rest) = rest.filter(|rest| rest.is_empty() || is_rack_of(rest)) {
            *thing = format!("{new}{rest}");
        }
    }
    for acceptance in &mut plan.accepted {
        if let Some(Found::Words(words)) = &mut acceptance.found {
            *words = renamed(words, &from.to_string(), &to.to_string());
        }
    }
}

/// `words` with the name `from` put as `to` wherever it stands by itself.
fn renamed(words: &str, from: &str, to: &str) -> String {
    let is_part = |c: Option<char>| c.is_some_and(|c| c.is_alphanumeric() || c == '_' || c == '-');
    let mut out = String::new();
    let mut rest = words;
    while let Some(at) = rest.find(from).filter(|_| !from.is_empty()) {
        let (before, after) = (&rest[..at], &rest[at + from.len()..]);
        let alone = !is_part(before.chars().next_back()) && !is_part(after.chars().next());
        out.push_str(before);
        out.push_str(if alone { to } else { from });
        rest = after;
    }
    out.push_str(rest);
    out
}

fn is_rack_of(rest: &str) -> bool {
    rest.strip_prefix(" rack ").is_some_and(|number| number.parse::<u32>().is_ok())
}

#[cfg(test)]
mod tests {
    use super::super::trial::{after, plan, rack, refused, string, wagon};
    use super::super::{Edit, EditError};
    use super::Rows;
    use crate::fixtures::{drop_off, reference_rack, reference_wagon, section_60e1, vehicle};
    use crate::model::{
        Acceptance, AsLoaded, DropName, Found, OrderedString, Plan, RackSpan, RackType, RackTypeName,
        RailSection, SectionName, Source, Steel, SteelName, StepStrings, Sureness, VehicleType,
        VehicleTypeName, WeighedPart, Weighing,
    };
    use crate::units::Length;

    fn steel(name: &str) -> Steel {
        Steel {
            name: SteelName::new(name).unwrap(),
            modulus_gpa: 210.0,
            expansion_1e6_per_k: None,
            density_kg_per_m3: None,
            tensile_mpa: None,
            yield_mpa: None,
            handling_mpa: None,
            source: Source { text: "test".to_owned(), sure: Sureness::Entered },
        }
    }

    fn ordered(mark: &str) -> OrderedString {
        OrderedString { mark: string(mark), ..plan().order[0].clone() }
    }

    /// The plan with everything that can refer to something by name.
    fn woven() -> Plan {
        let mut plan = plan();
        plan.placements[0].holds = vec![rack("W1", 2)];
        plan.placements[0].rests_on = Some(RackSpan { first: rack("W1", 1), last: rack("W2", 3) });
        plan.steels.push(steel("R260"));
        plan.order[0].steel = Some(SteelName::new("R260").unwrap());
        plan.order[0].drop = Some(DropName::new("Far").unwrap());
        plan.as_loaded.push(AsLoaded {
            string: string("S1"),
            tier: 1,
            lane: 1,
            front: Length::from_mm(2_000),
            holds: plan.placements[0].holds.clone(),
            missing: false,
            by: "A. Yard".to_owned(),
            at: "Monday".to_owned(),
        });
        plan.weighings.push(Weighing {
            vehicle: wagon("W1"),
            part: WeighedPart::Vehicle,
            kg: 60_000.0,
            tolerance: None,
            by: "A. Yard".to_owned(),
            at: "Monday".to_owned(),
        });
        plan.accepted.push(Acceptance {
            check: "rack-load".to_owned(),
            things: vec!["string S1".to_owned(), "vehicle W1 rack 2".to_owned(), "vehicle W12".to_owned()],
            by: "A. Planner".to_owned(),
            why: "measured".to_owned(),
            at: "Monday".to_owned(),
            found: Some(Found::Words("string S1 at vehicle W1 rack 2 and string S12".to_owned())),
        });
        plan
    }

    #[test]
    fn a_row_is_added_moved_and_removed_again() {
        let add = Edit::Strings(Rows::Add { at: Some(0), row: ordered("S0") });
        let added = after(&plan(), &add);
        assert_eq!(added.order[0].mark, string("S0"));
        let moved = after(&added, &Edit::Strings(Rows::Move { name: string("S0"), to: 4 }));
        assert_eq!(moved.order[4].mark, string("S0"));
        assert_eq!(after(&moved, &Edit::Strings(Rows::Remove { names: vec![string("S0")] })), plan());
        let error = EditError::NoPlace { kind: "string", place: 6, count: 5 };
        assert_eq!(refused(&added, &Edit::Strings(Rows::Move { name: string("S0"), to: 5 })), error);
    }

    #[test]
    fn a_name_is_taken_once_in_every_table() {
        let name_of = |error| match error {
            EditError::NameTaken { kind, .. } => kind,
            other => panic!("{other}"),
        };
        let woven = woven();
        for (edit, kind) in [
            (Edit::Strings(Rows::Add { at: None, row: ordered("S1") }), "string"),
            (Edit::Vehicles(Rows::Add { at: None, row: vehicle("W1", "Flat") }), "vehicle"),
            (Edit::VehicleTypes(Rows::Add { at: None, row: reference_wagon() }), "vehicle type"),
            (Edit::RackTypes(Rows::Add { at: None, row: reference_rack() }), "rack type"),
            (Edit::Sections(Rows::Add { at: None, row: section_60e1() }), "section"),
            (Edit::Steels(Rows::Add { at: None, row: steel("R260") }), "steel"),
            (Edit::Drops(Rows::Add { at: None, row: drop_off("Far", &[]) }), "drop"),
            (Edit::Strings(Rows::Change { name: string("S1"), to: ordered("S2") }), "string"),
        ] {
            assert_eq!(name_of(refused(&woven, &edit)), kind);
        }
    }

    #[test]
    fn a_new_mark_of_a_string_is_carried_through() {
        let to = OrderedString { mark: string("A1"), ..woven().order[0].clone() };
        let renamed = after(&woven(), &Edit::Strings(Rows::Change { name: string("S1"), to }));
        assert_eq!(renamed.placements[0].string, string("A1"));
        assert_eq!(renamed.as_loaded[0].string, string("A1"));
        assert_eq!(renamed.drops[0].steps[0].strings, StepStrings::One(string("A1")));
        assert_eq!(renamed.accepted[0].things, ["string A1", "vehicle W1 rack 2", "vehicle W12"]);
        let words = "string A1 at vehicle W1 rack 2 and string S12".to_owned();
        assert_eq!(renamed.accepted[0].found, Some(Found::Words(words)));
        let back = Edit::Strings(Rows::Change { name: string("A1"), to: woven().order[0].clone() });
        assert_eq!(after(&renamed, &back), woven());
    }

    #[test]
    fn a_new_mark_of_a_vehicle_is_carried_through() {
        let edit = Edit::Vehicles(Rows::Change { name: wagon("W1"), to: vehicle("V1", "Flat") });
        let renamed = after(&woven(), &edit);
        let span = RackSpan { first: rack("V1", 1), last: rack("W2", 3) };
        assert_eq!(renamed.placements[0].holds, [rack("V1", 2)]);
        assert_eq!(renamed.placements[0].rests_on, Some(span));
        assert_eq!(renamed.placements[1].holds, woven().placements[1].holds);
        assert_eq!(renamed.as_loaded[0].holds, [rack("V1", 2)]);
        assert_eq!(renamed.weighings[0].vehicle, wagon("V1"));
        assert_eq!(renamed.accepted[0].things, ["string S1", "vehicle V1 rack 2", "vehicle W12"]);
        assert_eq!(renamed.placements[0].front, woven().placements[0].front);
    }

    #[test]
    fn new_names_of_types_sections_steels_and_drops_are_carried_through() {
        let woven = woven();
        let name = VehicleTypeName::new("Long flat").unwrap();
        let to = VehicleType { name: name.clone(), ..reference_wagon() };
        let edit = Edit::VehicleTypes(Rows::Change { name: reference_wagon().name, to });
        assert!(after(&woven, &edit).train.vehicles.iter().all(|vehicle| vehicle.vehicle_type == name));
        let name = RackTypeName::new("Tall rack").unwrap();
        let to = RackType { name: name.clone(), ..reference_rack() };
        let edit = Edit::RackTypes(Rows::Change { name: reference_rack().name, to });
        let racks = after(&woven, &edit).train.vehicle_types.remove(0).racks;
        assert!(racks.iter().all(|rack| rack.rack_type == name));
        let name = SectionName::new("60").unwrap();
        let to = RailSection { name: name.clone(), ..section_60e1() };
        let edit = Edit::Sections(Rows::Change { name: section_60e1().name, to });
        assert!(after(&woven, &edit).order.iter().all(|string| string.section == name));
        let edit = Edit::Steels(Rows::Change { name: steel("R260").name, to: steel("R350") });
        assert_eq!(after(&woven, &edit).order[0].steel, Some(steel("R350").name));
        let to = drop_off("Farther", &["S1", "S2"]);
        let edit = Edit::Drops(Rows::Change { name: DropName::new("Far").unwrap(), to: to.clone() });
        assert_eq!(after(&woven, &edit).order[0].drop, Some(to.name));
    }

    #[test]
    fn what_is_in_use_is_not_removed_and_says_by_what() {
        let user_of = |edit: &Edit| match refused(&woven(), edit) {
            EditError::InUse { user, .. } => user,
            other => panic!("{other}"),
        };
        let kinds = Rows::Remove { names: vec![reference_wagon().name] };
        assert_eq!(user_of(&Edit::VehicleTypes(kinds)), "vehicle W1");
        let racks = Rows::Remove { names: vec![reference_rack().name] };
        assert_eq!(user_of(&Edit::RackTypes(racks)), "vehicle type Flat");
        let sections = Rows::Remove { names: vec![section_60e1().name] };
        assert_eq!(user_of(&Edit::Sections(sections)), "string S1");
        let steels = Rows::Remove { names: vec![steel("R260").name] };
        assert_eq!(user_of(&Edit::Steels(steels)), "string S1");
        let none = Rows::Remove { names: vec![steel("R350").name] };
        assert!(matches!(refused(&woven(), &Edit::Steels(none)), EditError::NoSuch { kind: "steel", .. }));
    }

    #[test]
    fn a_removed_string_leaves_its_pocket_its_steps_and_its_records() {
        let mut paired = woven();
        let (first, second) = (string("S1"), string("S2"));
        paired.drops[0].steps.truncate(1);
        paired.drops[0].steps[0].strings = StepStrings::Pair { first, second, together: true };
        let remove = |mark: &str| Edit::Strings(Rows::Remove { names: vec![string(mark)] });
        let left = after(&paired, &remove("S1"));
        assert!(left.placement(&string("S1")).is_none() && left.string(&string("S1")).is_none());
        assert!(left.as_loaded.is_empty());
        assert_eq!(left.drops[0].steps[0].strings, StepStrings::One(string("S2")));
        assert!(after(&left, &remove("S2")).drops[0].steps.is_empty());
        paired.placements[0].locked = true;
        assert_eq!(refused(&paired, &remove("S1")), EditError::StringLocked { string: string("S1") });
    }

    #[test]
    fn strings_of_a_removed_drop_are_for_none_and_a_drop_can_be_moved() {
        let far = DropName::new("Far").unwrap();
        let left = after(&woven(), &Edit::Drops(Rows::Remove { names: vec![far.clone()] }));
        assert_eq!((left.drops.len(), left.order[0].drop.as_ref()), (1, None));
        let moved = after(&woven(), &Edit::Drops(Rows::Move { name: far.clone(), to: 1 }));
        assert_eq!(moved.drops[1].name, far);
    }
}
