//! Copies of the catalogue's rows into a plan, with what they need.

use super::{Edit, Rows};
use crate::model::{Catalogue, Plan, RackType, VehicleType};

/// The edits that copy a vehicle type of the catalogue into the plan: first the rack types that it uses and the plan
/// lacks, then it itself. A rack type that the plan has by the same name stays the plan's.
pub fn copied_type(plan: &Plan, catalogue: &Catalogue, kind: &VehicleType) -> Vec<Edit> {
    let used = |rack: &&RackType| kind.racks.iter().any(|on_deck| on_deck.rack_type == rack.name);
    let lacking = |rack: &&RackType| plan.rack_type(&rack.name).is_none();
    let racks = catalogue.rack_types.iter().filter(used).filter(lacking);
    let racks = racks.map(|rack| Edit::RackTypes(Rows::Add { at: None, row: rack.clone() }));
    racks.chain([Edit::VehicleTypes(Rows::Add { at: None, row: kind.clone() })]).collect()
}

#[cfg(test)]
mod tests {
    use super::super::trial::{applied, plan};
    use super::*;
    use crate::model::{RackTypeName, VehicleTypeName};

    /// Racks A, B and C, and a type that has A and B on it.
    fn catalogue() -> Catalogue {
        let plan = plan();
        let [a, b, c] = ["A", "B", "C"].map(|name| RackTypeName::new(name).unwrap());
        let mut kind = plan.train.vehicle_types[0].clone();
        kind.name = VehicleTypeName::new("Long").unwrap();
        kind.racks[0].rack_type = a.clone();
        kind.racks[1].rack_type = b.clone();
        kind.racks.truncate(2);
        let rack = |name| RackType { name, ..plan.train.rack_types[0].clone() };
        Catalogue {
            rack_types: [a, b, c].map(rack).into(),
            vehicle_types: vec![kind],
            ..Catalogue::default()
        }
    }

    #[test]
    fn a_type_comes_with_the_racks_that_the_plan_lacks_and_keeps_those_it_has() {
        let (catalogue, mut plan) = (catalogue(), plan());
        let kind = &catalogue.vehicle_types[0];
        let racks_brought = |plan: &Plan| {
            let edits = copied_type(plan, &catalogue, kind);
            let after = edits.iter().fold(plan.clone(), |plan, edit| applied(&plan, edit).plan);
            assert_eq!(after.vehicle_type(&kind.name), Some(kind));
            let of_plan = plan.train.rack_types.iter();
            assert!(
                of_plan.clone().all(|own| after.rack_type(&own.name) == Some(own)),
                "the plan's own stay"
            );
            let names = after.train.rack_types.iter().map(|rack| rack.name.to_string());
            names.skip(of_plan.len()).collect::<Vec<_>>()
        };
        assert_eq!(racks_brought(&plan), ["A", "B"]);
        let mut own = catalogue.rack_types[0].clone();
        own.lanes_y_mm.pop();
        plan.train.rack_types.push(own);
        assert_eq!(racks_brought(&plan), ["B"]);
    }
}
