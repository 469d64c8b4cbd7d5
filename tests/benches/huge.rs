//! A train as long as nobody runs: the full-train sample eleven times over, 297 flats and 550 strings, to see that
//! nothing in the window waits for all of its states.

use longstow::model::{DropName, Hold, Plan, StepStrings, StringMark, VehicleMark};
use longstow::units::Length;
use std::error::Error;

/// How many trains stand behind each other.
const TRAINS: i64 = 11;

/// The plan of `TRAINS` times the train of `plan` with its load; every string comes off at the same drops in turn.
pub(crate) fn huge(plan: &Plan) -> Result<Plan, Box<dyn Error>> {
    let mut huge = plan.clone();
    huge.train.vehicles.clear();
    huge.order.clear();
    huge.placements.clear();
    huge.drops.clear();
    let types = &plan.train.vehicle_types;
    let length_of =
        |kind| types.iter().find(|known| known.name == kind).map_or(Length::ZERO, |known| known.length);
    let train_mm: i64 = plan.train.vehicles.iter().map(|row| length_of(row.vehicle_type.clone()).mm()).sum();
    for train in 0..TRAINS {
        let shift = Length::from_mm(train_mm * train);
        let vehicle = |mark: &VehicleMark| VehicleMark::new(&format!("{mark}-{train}"));
        let string = |mark: &StringMark| StringMark::new(&format!("{mark}-{train}"));
        let drop_name = |name: &DropName| DropName::new(&format!("{name} {train}"));
        for row in &plan.train.vehicles {
            huge.train.vehicles.push(longstow::model::Vehicle { mark: vehicle(&row.mark)?, ..row.clone() });
        }
        for row in &plan.order {
            let drop = row.drop.as_ref().map(drop_name).transpose()?;
            huge.order.push(longstow::model::OrderedString { mark: string(&row.mark)?, drop, ..row.clone() });
        }
        for row in &plan.placements {
            let hold = |hold: &Hold| {
                Ok::<_, Box<dyn Error>>(Hold { vehicle: vehicle(&hold.vehicle)?, ..hold.clone() })
            };
            let holds = row.holds.iter().map(hold).collect::<Result<_, _>>()?;
            huge.placements.push(longstow::model::Placement {
                string: string(&row.string)?,
                front: row.front + shift,
                holds,
                rests_on: None,
                ..row.clone()
            });
        }
        for row in &plan.drops {
            let mut drop = longstow::model::Drop { name: drop_name(&row.name)?, ..row.clone() };
            for step in &mut drop.steps {
                step.strings = match &step.strings {
                    StepStrings::One(mark) => StepStrings::One(string(mark)?),
                    StepStrings::Pair { first, second, together } => StepStrings::Pair {
                        first: string(first)?,
                        second: string(second)?,
                        together: *together,
                    },
                };
            }
            huge.drops.push(drop);
        }
    }
    Ok(huge)
}
