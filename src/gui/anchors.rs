//! What is selected in the train, by name, so that it stays selected where the train changes.

use super::canvas::{rack_index, rack_ref};
use super::{Selection, Workbench};
use crate::model::{Plan, RackRef, VehicleMark};
use crate::statics::Consist;

/// The selected vehicle and the rack shown, before a change.
pub(super) struct Anchors {
    vehicle: Option<VehicleMark>,
    /// How many vehicles there are.
    vehicles: usize,
    rack: Option<RackRef>,
}

impl Anchors {
    /// Those of the window as it is.
    pub(super) fn of(workbench: &Workbench) -> Self {
        let (plan, selection) = (workbench.document.plan(), &workbench.selection);
        let vehicle = selection.vehicle.and_then(|at| plan.train.vehicles.get(at));
        Self {
            vehicle: vehicle.map(|vehicle| vehicle.mark.clone()),
            vehicles: plan.train.vehicles.len(),
            rack: rack_ref(plan, &workbench.document.figures().consist, selection.rack),
        }
    }

    /// Points `selection` at the same vehicle and rack of a changed plan; a vehicle that is gone is let go of.
    pub(super) fn find_again(self, selection: &mut Selection, plan: &Plan, consist: &Consist) {
        let vehicles = &plan.train.vehicles;
        let find = |mark: &VehicleMark| vehicles.iter().position(|vehicle| vehicle.mark == *mark);
        // One that is gone while as many stand there was given another mark.
        let renamed = selection.vehicle.filter(|_| self.vehicles == vehicles.len());
        selection.vehicle = self.vehicle.as_ref().and_then(find).or(renamed);
        let rack = self.rack.and_then(|rack| rack_index(plan, consist, &rack));
        selection.rack = rack.unwrap_or(selection.rack).min(consist.racks.len().saturating_sub(1));
    }
}
