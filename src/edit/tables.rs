//! The plan's tables: what a row is called, who refers to it, and what lets go when it is removed.

use super::{EditError, Row, load};
use crate::model::{
    Drop, DropName, OrderedString, Plan, RackType, RackTypeName, RailSection, SectionName, Steel, SteelName,
    Step, StepStrings, StringMark, Vehicle, VehicleMark, VehicleType, VehicleTypeName,
};

impl Row for OrderedString {
    type Name = StringMark;
    const NOUN: &'static str = "string";
    fn name(&self) -> &StringMark {
        &self.mark
    }
    fn rows(plan: &Plan) -> &[Self] {
        &plan.order
    }
    fn rows_mut(plan: &mut Plan) -> &mut Vec<Self> {
        &mut plan.order
    }
    fn carry_name(plan: &mut Plan, from: &StringMark, to: &StringMark) {
        let placed = plan.placements.iter_mut().map(|placement| &mut placement.string);
        let loaded = plan.as_loaded.iter_mut().map(|record| &mut record.string);
        let steps = plan.drops.iter_mut().flat_map(|drop| drop.steps.iter_mut().flat_map(marks_mut));
        replace(placed.chain(loaded).chain(steps), from, to);
    }
    fn let_go(plan: &mut Plan, name: &StringMark) -> Result<(), EditError> {
        load::expect_unlocked(plan, name)?;
        plan.placements.retain(|placement| placement.string != *name);
        plan.as_loaded.retain(|record| record.string != *name);
        for drop in &mut plan.drops {
            drop.steps = drop.steps.iter().filter_map(|step| without(step, name)).collect();
        }
        Ok(())
    }
}

impl Row for Vehicle {
    type Name = VehicleMark;
    const NOUN: &'static str = "vehicle";
    fn name(&self) -> &VehicleMark {
        &self.mark
    }
    fn rows(plan: &Plan) -> &[Self] {
        &plan.train.vehicles
    }
    fn rows_mut(plan: &mut Plan) -> &mut Vec<Self> {
        &mut plan.train.vehicles
    }
    fn carry_name(plan: &mut Plan, from: &VehicleMark, to: &VehicleMark) {
        let placed = plan.placements.iter_mut().flat_map(|placement| {
            let meant = placement.rests_on.iter_mut().flat_map(|span| [&mut span.first, &mut span.last]);
            placement.holds.iter_mut().chain(meant)
        });
        let loaded = plan.as_loaded.iter_mut().flat_map(|record| record.holds.iter_mut());
        let racks = placed.chain(loaded).map(|rack| &mut rack.vehicle);
        let weighed = plan.weighings.iter_mut().map(|weighing| &mut weighing.vehicle);
        replace(racks.chain(weighed), from, to);
    }
    fn let_go(plan: &mut Plan, name: &VehicleMark) -> Result<(), EditError> {
        // Strings, holds and meant racks follow once the train has its new shape.
        plan.weighings.retain(|weighing| weighing.vehicle != *name);
        Ok(())
    }
}

impl Row for VehicleType {
    type Name = VehicleTypeName;
    const NOUN: &'static str = "vehicle type";
    fn name(&self) -> &VehicleTypeName {
        &self.name
    }
    fn rows(plan: &Plan) -> &[Self] {
        &plan.train.vehicle_types
    }
    fn rows_mut(plan: &mut Plan) -> &mut Vec<Self> {
        &mut plan.train.vehicle_types
    }
    fn carry_name(plan: &mut Plan, from: &VehicleTypeName, to: &VehicleTypeName) {
        replace(plan.train.vehicles.iter_mut().map(|vehicle| &mut vehicle.vehicle_type), from, to);
    }
    fn let_go(plan: &mut Plan, name: &VehicleTypeName) -> Result<(), EditError> {
        let user = plan.train.vehicles.iter().find(|vehicle| vehicle.vehicle_type == *name);
        expect_unused::<Self>(name, user.map(|vehicle| format!("vehicle {}", vehicle.mark)))
    }
}

impl Row for RackType {
    type Name = RackTypeName;
    const NOUN: &'static str = "rack type";
    fn name(&self) -> &RackTypeName {
        &self.name
    }
    fn rows(plan: &Plan) -> &[Self] {
        &plan.train.rack_types
    }
    fn rows_mut(plan: &mut Plan) -> &mut Vec<Self> {
        &mut plan.train.rack_types
    }
    fn carry_name(plan: &mut Plan, from: &RackTypeName, to: &RackTypeName) {
        let racks = plan.train.vehicle_types.iter_mut().flat_map(|kind| kind.racks.iter_mut());
        replace(racks.map(|rack| &mut rack.rack_type), from, to);
    }
    fn let_go(plan: &mut Plan, name: &RackTypeName) -> Result<(), EditError> {
        let uses = |kind: &&VehicleType| kind.racks.iter().any(|rack| rack.rack_type == *name);
        let user = plan.train.vehicle_types.iter().find(uses);
        expect_unused::<Self>(name, user.map(|kind| format!("vehicle type {}", kind.name)))
    }
}

impl Row for RailSection {
    type Name = SectionName;
    const NOUN: &'static str = "section";
    fn name(&self) -> &SectionName {
        &self.name
    }
    fn rows(plan: &Plan) -> &[Self] {
        &plan.sections
    }
    fn rows_mut(plan: &mut Plan) -> &mut Vec<Self> {
        &mut plan.sections
    }
    fn carry_name(plan: &mut Plan, from: &SectionName, to: &SectionName) {
        replace(plan.order.iter_mut().map(|string| &mut string.section), from, to);
    }
    fn let_go(plan: &mut Plan, name: &SectionName) -> Result<(), EditError> {
        let user = plan.order.iter().find(|string| string.section == *name);
        expect_unused::<Self>(name, user.map(|string| format!("string {}", string.mark)))
    }
}

impl Row for Steel {
    type Name = SteelName;
    const NOUN: &'static str = "steel";
    fn name(&self) -> &SteelName {
        &self.name
    }
    fn rows(plan: &Plan) -> &[Self] {
        &plan.steels
    }
    fn rows_mut(plan: &mut Plan) -> &mut Vec<Self> {
        &mut plan.steels
    }
    fn carry_name(plan: &mut Plan, from: &SteelName, to: &SteelName) {
        replace(plan.order.iter_mut().filter_map(|string| string.steel.as_mut()), from, to);
    }
    fn let_go(plan: &mut Plan, name: &SteelName) -> Result<(), EditError> {
        let user = plan.order.iter().find(|string| string.steel.as_ref() == Some(name));
        expect_unused::<Self>(name, user.map(|string| format!("string {}", string.mark)))
    }
}

impl Row for Drop {
    type Name = DropName;
    const NOUN: &'static str = "drop";
    fn name(&self) -> &DropName {
        &self.name
    }
    fn rows(plan: &Plan) -> &[Self] {
        &plan.drops
    }
    fn rows_mut(plan: &mut Plan) -> &mut Vec<Self> {
        &mut plan.drops
    }
    fn carry_name(plan: &mut Plan, from: &DropName, to: &DropName) {
        replace(plan.order.iter_mut().filter_map(|string| string.drop.as_mut()), from, to);
    }
    fn let_go(plan: &mut Plan, name: &DropName) -> Result<(), EditError> {
        for string in plan.order.iter_mut().filter(|string| string.drop.as_ref() == Some(name)) {
            string.drop = None;
        }
        Ok(())
    }
}

fn replace<'a, N: Clone + PartialEq + 'a>(names: impl Iterator<Item = &'a mut N>, from: &N, to: &N) {
    names.filter(|name| **name == *from).for_each(|name| *name = to.clone());
}

fn expect_unused<R: Row>(name: &R::Name, user: Option<String>) -> Result<(), EditError> {
    match user {
        Some(user) => Err(EditError::InUse { kind: R::NOUN, name: name.to_string(), user }),
        None => Ok(()),
    }
}

fn marks_mut(step: &mut Step) -> impl Iterator<Item = &mut StringMark> {
    let (first, second) = match &mut step.strings {
        StepStrings::One(mark) => (mark, None),
        StepStrings::Pair { first, second, .. } => (first, Some(second)),
    };
    std::iter::once(first).chain(second)
}

/// What is left of a step without a string: nothing, or the other of its pair alone.
fn without(step: &Step, gone: &StringMark) -> Option<Step> {
    let strings = match &step.strings {
        StepStrings::One(mark) => (mark != gone).then(|| step.strings.clone())?,
        StepStrings::Pair { first, second, .. } => match (first == gone, second == gone) {
            (false, false) => step.strings.clone(),
            (true, false) => StepStrings::One(second.clone()),
            (false, true) => StepStrings::One(first.clone()),
            (true, true) => return None,
        },
    };
    Some(Step { strings, ..step.clone() })
}
