//! Vehicles of the row, a row each.

use super::cells::{Cells, Told, YES_NO};
use super::fate::Refusal;
use super::keyed::TakenRow;
use super::kinds::Kind;
use super::names::{NameKind, Names, named};
use crate::edit::{Edit, Rows};
use crate::model::{Vehicle, VehicleMark};
use crate::units::Style;

impl TakenRow for Vehicle {
    const KIND: Kind = Kind::Train;
    const KEY: &'static str = "mark";

    fn read(
        cells: Cells<'_>,
        mark: VehicleMark,
        old: Option<&Self>,
        names: &mut Names<'_>,
    ) -> Result<Self, Refusal> {
        let vehicle_type = match cells.words("type")? {
            Some(words) => named(NameKind::VehicleType, &names.find(NameKind::VehicleType, words)?)?,
            None => old.map(|old| old.vehicle_type.clone()).ok_or_else(|| cells.missing("type"))?,
        };
        Ok(Self {
            mark,
            vehicle_type,
            turned: cells.choice("turned", YES_NO)?.unwrap_or(old.is_some_and(|old| old.turned)),
            tare_kg: cells.positive("tare")?.or(old.and_then(|old| old.tare_kg)),
            height_offset_mm: old.map_or(0.0, |old| old.height_offset_mm),
        })
    }

    fn told(&self, style: Style) -> Vec<Told> {
        vec![
            Told::words(Some(self.mark.as_str())),
            Told::words(Some(self.vehicle_type.as_str())),
            Told::words(Some(if self.turned { "yes" } else { "no" })),
            Told::mass(self.tare_kg, style),
        ]
    }

    fn edit(rows: Rows<Self>) -> Edit {
        Edit::Vehicles(rows)
    }
}

#[cfg(test)]
mod tests {
    use super::super::trial::{after, fates, plan, refused};
    use super::*;

    #[test]
    fn vehicles_are_added_at_the_rear_in_the_order_of_their_rows() {
        let longer = after(Kind::Train, &plan(), "W8\tFlat\nW9\tFlat\tyes\t24,5 t\n");
        let marks: Vec<&str> = longer.train.vehicles.iter().map(|vehicle| vehicle.mark.as_str()).collect();
        assert_eq!(marks, ["W1", "W2", "W3", "W8", "W9"]);
        let last = longer.train.vehicles.last().unwrap();
        assert_eq!((last.turned, last.tare_kg), (true, Some(24_500.0)));
        assert_eq!(fates(Kind::Train, &plan(), "mark,turned\nW1,y\n")[1], "2 changes: Turned no -> yes");
    }

    #[test]
    fn a_type_that_nobody_has_is_asked_about() {
        let why = refused(Kind::Train, &plan(), "W8\tHopper\n");
        assert_eq!(
            why,
            [
                "vehicle type \"Hopper\": the plan has no such vehicle type; add it first, or say which is meant"
            ]
        );
        assert_eq!(
            refused(Kind::Train, &plan(), "W8\tFlat\tperhaps\n"),
            ["Turned \"perhaps\": write yes or no"]
        );
    }
}
