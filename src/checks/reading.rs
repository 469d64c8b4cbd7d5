//! Look-ups that several checks share.

use super::Subject;
use crate::model::{Placement, RackRef, RackType};
use crate::statics::{Figures, PlacedString};

/// The rack of the consist that `wanted` names; none where its vehicle or the rack's number does not exist.
pub(super) fn rack_named(figures: &Figures, wanted: &RackRef) -> Option<usize> {
    figures.consist.rack_named(&figures.plan, wanted)
}

/// The placement that was worked out.
pub(super) fn placement_of<'f>(figures: &'f Figures, placed: &PlacedString) -> Option<&'f Placement> {
    figures.plan.placements.get(placed.placement)
}

/// The type of a rack of the consist.
pub(super) fn rack_type_of(figures: &Figures, rack: usize) -> Option<&RackType> {
    figures.plan.train.rack_types.get(figures.consist.racks.get(rack)?.rack_type)
}

/// A string's name for a reader, such as `string S1`.
pub(super) fn string_name(figures: &Figures, string: usize) -> String {
    Subject::String(string).place(figures)
}

/// A rack's name for a reader, such as `vehicle W1 rack 2`.
pub(super) fn rack_name(figures: &Figures, rack: usize) -> String {
    Subject::Rack(rack).place(figures)
}

/// `string S1`, or `strings S1, S2 and 3 more`.
pub(super) fn string_names(figures: &Figures, strings: &[usize]) -> String {
    const NAMED: usize = 6;
    let marks: Vec<&str> = strings
        .iter()
        .take(NAMED)
        .map(|string| figures.plan.order.get(*string).map_or("?", |string| string.mark.as_str()))
        .collect();
    let word = if strings.len() == 1 { "string" } else { "strings" };
    let more = strings.len().saturating_sub(NAMED);
    let tail = if more > 0 { format!(" and {more} more") } else { String::new() };
    format!("{word} {}{tail}", marks.join(", "))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::trial::figures_of;
    use crate::fixtures::{empty_plan, place};
    use crate::model::VehicleMark;

    #[test]
    fn a_rack_is_found_by_vehicle_and_number_or_not_at_all() {
        let figures = figures_of(empty_plan(2));
        let find = |vehicle: &str, rack| {
            rack_named(&figures, &RackRef { vehicle: VehicleMark::new(vehicle).unwrap(), rack })
        };
        assert_eq!(find("W1", 1), Some(0));
        assert_eq!(find("W2", 3), Some(5));
        assert_eq!(find("W2", 4), None);
        assert_eq!(find("W2", 0), None);
        assert_eq!(find("W3", 1), None);
    }

    #[test]
    fn long_lists_of_strings_are_cut() {
        let mut plan = empty_plan(2);
        for lane in 1..=8 {
            place(&mut plan, &format!("S{lane}"), 30_000, (1, lane, 2_000));
        }
        let figures = figures_of(plan);
        assert_eq!(string_names(&figures, &[0]), "string S1");
        assert_eq!(string_names(&figures, &[0, 2]), "strings S1, S3");
        assert_eq!(
            string_names(&figures, &[0, 1, 2, 3, 4, 5, 6, 7]),
            "strings S1, S2, S3, S4, S5, S6 and 2 more"
        );
    }
}
