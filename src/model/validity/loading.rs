//! The order, the placements, the drops, and the records of what was loaded and weighed.

use super::order_table;
use super::report::{ABOVE_ZERO, COUNT, DISTANCE, FIGURE, FROM_ZERO, PLACE, Range, Report, SHARE, mm};
use crate::model::{
    Drop, Found, MassEntry, OrderedString, Placement, Plan, RackRef, Step, StepStrings, StringMark,
    VehicleMark, WeighedPart,
};
use crate::units::Length;
use std::collections::{BTreeMap, BTreeSet};

/// The most items of any other list here, and of the steps of all drops together.
const MOST_ITEMS: usize = 2_000;
/// The most holds of one string.
const MOST_HOLDS: usize = 10;
/// The most things that one acceptance concerns.
const MOST_THINGS: usize = 100;
/// The length of a string in mm.
const STRING_LENGTH: Range = Range::new(1.0, OrderedString::LONGEST.mm() as f64, "above zero");

/// Looks at the order, the placements and the drops.
pub(super) fn look(plan: &Plan, report: &mut Report) {
    let known = Known::of(plan);
    report.at_most("order", plan.order.len(), OrderedString::MOST);
    report.unique("order", "mark", plan.order.iter().map(|string| string.mark.as_str()));
    for (number, one) in plan.order.iter().enumerate() {
        string(plan, one, &format!("order[{number}]"), report);
    }
    order_table::look(&plan.order_table, report);
    report.at_most("placements", plan.placements.len(), MOST_ITEMS);
    for (number, one) in plan.placements.iter().enumerate() {
        placement(&known, one, &format!("placements[{number}]"), report);
    }
    report.at_most("drops", plan.drops.len(), MOST_ITEMS);
    let steps = plan.drops.iter().map(|drop| drop.steps.len()).sum();
    report.at_most("drops", steps, MOST_ITEMS);
    report.unique("drops", "name", plan.drops.iter().map(|drop| drop.name.as_str()));
    for (number, one) in plan.drops.iter().enumerate() {
        drop(&known, one, &format!("drops[{number}]"), report);
    }
}

/// Looks at acceptances, as-loaded records, weighings and signatures.
pub(super) fn look_at_records(plan: &Plan, report: &mut Report) {
    let known = Known::of(plan);
    report.at_most("accepted", plan.accepted.len(), MOST_ITEMS);
    for (number, accepted) in plan.accepted.iter().enumerate() {
        report.said(format!("accepted[{number}].check"), &accepted.check);
        report.at_most(&format!("accepted[{number}].things"), accepted.things.len(), MOST_THINGS);
        report.said(format!("accepted[{number}].by"), &accepted.by);
        if let Some(Found::Figures { demand, capacity }) = accepted.found {
            let path = format!("accepted[{number}]");
            report.numbers(&path, &[("found", Some(demand), FIGURE), ("found", Some(capacity), FIGURE)]);
        }
    }
    report.at_most("as_loaded", plan.as_loaded.len(), MOST_ITEMS);
    report.unique("as_loaded", "string", plan.as_loaded.iter().map(|loaded| loaded.string.as_str()));
    for (number, loaded) in plan.as_loaded.iter().enumerate() {
        let path = format!("as_loaded[{number}]");
        known.string(&loaded.string, || format!("{path}.string"), report);
        let fields = [
            ("tier", Some(f64::from(loaded.tier)), COUNT),
            ("lane", Some(f64::from(loaded.lane)), COUNT),
            ("front_mm", mm(loaded.front), PLACE),
        ];
        report.numbers(&path, &fields);
        holds(&known, &loaded.holds, &path, report);
    }
    report.at_most("weighings", plan.weighings.len(), MOST_ITEMS);
    for (number, weighing) in plan.weighings.iter().enumerate() {
        let path = format!("weighings[{number}]");
        weighed_part(&known, (&weighing.vehicle, weighing.part), &path, report);
        let fields = [("kg", Some(weighing.kg), FROM_ZERO), ("tolerance_share", weighing.tolerance, SHARE)];
        report.numbers(&path, &fields);
    }
    report.at_most("signatures", plan.signatures.len(), MOST_ITEMS);
    for (number, signature) in plan.signatures.iter().enumerate() {
        report.said(format!("signatures[{number}].by"), &signature.by);
        report.said(format!("signatures[{number}].hash"), &signature.hash);
    }
}

/// What references may name.
struct Known<'p> {
    strings: BTreeSet<&'p str>,
    vehicles: BTreeMap<&'p str, Stand>,
}

/// A vehicle's place in the row, and what can be counted on it.
struct Stand {
    place: usize,
    racks: u32,
    axles: u32,
}

impl<'p> Known<'p> {
    fn of(plan: &'p Plan) -> Self {
        let stand = |(place, mark, kind): (usize, &'p VehicleMark, Option<&crate::model::VehicleType>)| {
            let racks = kind.map_or(0, |kind| u32::try_from(kind.racks.len()).unwrap_or(u32::MAX));
            let axles = kind.map_or(0, |kind| kind.gear.axles_per_support().saturating_mul(2));
            (mark.as_str(), Stand { place, racks, axles })
        };
        let types: BTreeMap<&str, _> =
            plan.train.vehicle_types.iter().map(|kind| (kind.name.as_str(), kind)).collect();
        let vehicles = plan.train.vehicles.iter().enumerate();
        Self {
            strings: plan.order.iter().map(|string| string.mark.as_str()).collect(),
            vehicles: vehicles
                .map(|(place, one)| (place, &one.mark, types.get(one.vehicle_type.as_str()).copied()))
                .map(stand)
                .collect(),
        }
    }

    fn string(&self, mark: &StringMark, path: impl Fn() -> String, report: &mut Report) {
        if !self.strings.contains(mark.as_str()) {
            report.missing(path(), "string", mark);
        }
    }

    /// The rack's place in the row, where it exists.
    fn rack(&self, rack: &RackRef, path: &str, report: &mut Report) -> Option<(usize, u32)> {
        let Some(stand) = self.vehicles.get(rack.vehicle.as_str()) else {
            report.missing(path.to_owned(), "vehicle", &rack.vehicle);
            return None;
        };
        if rack.rack >= 1 && rack.rack <= stand.racks {
            return Some((stand.place, rack.rack));
        }
        report.add(
            path,
            format!("vehicle \"{}\" has no rack {}: it has {}", rack.vehicle, rack.rack, stand.racks),
            "name a rack of the vehicle, counted from 1 at its front as it stands",
        );
        None
    }
}

fn string(plan: &Plan, string: &OrderedString, path: &str, report: &mut Report) {
    if plan.section(&string.section).is_none() {
        report.missing(format!("{path}.section"), "rail section", &string.section);
    }
    if let Some(steel) = string.steel.as_ref().filter(|steel| plan.steel(steel).is_none()) {
        report.missing(format!("{path}.steel"), "steel", steel);
    }
    report.numbers(path, &[("length_mm", mm(string.length), STRING_LENGTH)]);
    if let Some(drop) = string.drop.as_ref().filter(|drop| plan.drop_named(drop).is_none()) {
        report.missing(format!("{path}.drop"), "drop", drop);
    }
    if let MassEntry::Stated { kg, .. } = string.mass {
        report.numbers(path, &[("mass_kg", Some(kg), ABOVE_ZERO)]);
    }
}

fn placement(known: &Known<'_>, placement: &Placement, path: &str, report: &mut Report) {
    known.string(&placement.string, || format!("{path}.string"), report);
    let fields = [
        ("tier", Some(f64::from(placement.tier)), COUNT),
        ("lane", Some(f64::from(placement.lane)), COUNT),
        ("front_mm", mm(placement.front), PLACE),
    ];
    report.numbers(path, &fields);
    holds(known, &placement.holds, path, report);
    if let Some(span) = &placement.rests_on {
        let first = known.rack(&span.first, &format!("{path}.rests_on.first"), report);
        let last = known.rack(&span.last, &format!("{path}.rests_on.last"), report);
        if first.zip(last).is_some_and(|(first, last)| first > last) {
            report.add(
                format!("{path}.rests_on"),
                "the first rack stands behind the last",
                "name the foremost rack first",
            );
        }
    }
}

fn holds(known: &Known<'_>, holds: &[RackRef], path: &str, report: &mut Report) {
    report.at_most(&format!("{path}.holds"), holds.len(), MOST_HOLDS);
    for (number, hold) in holds.iter().enumerate() {
        known.rack(hold, &format!("{path}.holds[{number}]"), report);
    }
}

fn drop(known: &Known<'_>, drop: &Drop, path: &str, report: &mut Report) {
    let fields = [
        ("gap_between_mm", drop.gap_between.and_then(mm), DISTANCE),
        ("possession_min", drop.possession_min, ABOVE_ZERO),
        ("handling_min", drop.handling_min, FROM_ZERO),
        ("chute_height_mm", drop.chute_height.and_then(mm), DISTANCE),
        ("chute_roller_behind_mm", drop.chute_roller_behind.and_then(mm), DISTANCE),
        ("chute_roller_lower_mm", drop.chute_roller_lower.and_then(mm), DISTANCE),
        ("seat_offset_mm", drop.seat_offset.and_then(mm), DISTANCE),
    ];
    report.numbers(path, &fields);
    if let Some((height, lower)) = drop.chute_height.zip(drop.chute_roller_lower)
        && lower > Length::ZERO
        && lower >= height
    {
        report.add(
            format!("{path}.chute_roller_lower_mm"),
            format!("a chute roller {lower} lower than the last rack is not above the seat, {height} lower"),
            "enter how much lower than the last rack the roller is, less than the height above the seat",
        );
    }
    for (number, one) in drop.steps.iter().enumerate() {
        step(known, one, &format!("{path}.steps[{number}]"), report);
    }
}

fn step(known: &Known<'_>, step: &Step, path: &str, report: &mut Report) {
    for (number, mark) in step.strings.marks().enumerate() {
        known.string(mark, || format!("{path}.strings[{number}]"), report);
    }
    if let StepStrings::Pair { first, second, .. } = &step.strings
        && first == second
    {
        report.add(
            format!("{path}.strings[1]"),
            format!("\"{first}\" cannot be a pair with itself"),
            "name two strings, or only one",
        );
    }
}

fn weighed_part(
    known: &Known<'_>,
    (vehicle, part): (&VehicleMark, WeighedPart),
    path: &str,
    report: &mut Report,
) {
    let Some(stand) = known.vehicles.get(vehicle.as_str()) else {
        return report.missing(format!("{path}.vehicle"), "vehicle", vehicle);
    };
    let (WeighedPart::Axle(axle) | WeighedPart::LeftWheel(axle) | WeighedPart::RightWheel(axle)) = part
    else {
        return;
    };
    if axle < 1 || axle > stand.axles {
        report.add(
            format!("{path}.part"),
            format!("vehicle \"{vehicle}\" has no axle {axle}: it has {}", stand.axles),
            "name an axle of the vehicle, counted from 1 at its front as it stands",
        );
    }
}

#[cfg(test)]
mod tests {
    use crate::model::validity::tests::check;
    use crate::model::{
        Acceptance, AsLoaded, Found, MassEntry, Plan, RackRef, RackSpan, Signature, StatedBasis, StepStrings,
        StringMark, WeighedPart, Weighing,
    };
    use crate::units::Length;

    fn mark(text: &str) -> StringMark {
        StringMark::new(text).unwrap()
    }

    fn rack(vehicle: &str, rack: u32) -> RackRef {
        RackRef { vehicle: vehicle.parse().unwrap(), rack }
    }

    #[test]
    fn marks_of_strings_and_names_of_drops_are_unique() {
        check(|plan| plan.order.push(plan.order[0].clone()), &["order[2].mark"]);
        check(|plan| plan.drops.push(plan.drops[0].clone()), &["drops[1].name"]);
    }

    #[test]
    fn an_ordered_string_refers_to_what_the_plan_has() {
        check(|plan| plan.order[1].section = "none".parse().unwrap(), &["order[1].section"]);
        check(|plan| plan.order[1].steel = Some("none".parse().unwrap()), &["order[1].steel"]);
        check(|plan| plan.order[1].drop = Some("none".parse().unwrap()), &["order[1].drop"]);
        check(|plan| plan.order[1].drop = Some(plan.drops[0].name.clone()), &[]);
    }

    #[test]
    fn a_string_has_a_length_up_to_5_km_and_a_mass_above_zero() {
        for (mm, paths) in [
            (1, &[] as &[&str]),
            (0, &["order[0].length_mm"]),
            (-36_000, &["order[0].length_mm"]),
            (5_000_000, &[]),
            (5_000_001, &["order[0].length_mm"]),
        ] {
            check(|plan| plan.order[0].length = Length::from_mm(mm), paths);
        }
        let stated = |kg| MassEntry::Stated { kg, basis: StatedBasis::Weighed };
        check(|plan| plan.order[0].mass = stated(0.1), &[]);
        check(|plan| plan.order[0].mass = stated(0.0), &["order[0].mass_kg"]);
    }

    #[test]
    fn a_placement_refers_to_what_the_plan_has() {
        check(|plan| plan.placements[0].string = mark("none"), &["placements[0].string"]);
        check(|plan| plan.placements[0].tier = 0, &["placements[0].tier"]);
        check(|plan| plan.placements[0].lane = 0, &["placements[0].lane"]);
        check(|plan| plan.placements[0].front = Length::from_mm(10_000_000_001), &["placements[0].front_mm"]);
        check(|plan| plan.placements[0].front = Length::from_mm(-10_000_000_000), &[]);
    }

    #[test]
    fn a_hold_is_at_a_rack_that_there_is() {
        for (held, paths) in [
            (rack("W3", 3), &[] as &[&str]),
            (rack("W3", 4), &["placements[0].holds[0]"]),
            (rack("W3", 0), &["placements[0].holds[0]"]),
            (rack("W4", 1), &["placements[0].holds[0]"]),
        ] {
            check(|plan| plan.placements[0].holds = vec![held.clone()], paths);
        }
    }

    #[test]
    fn the_racks_to_rest_on_are_named_from_the_front() {
        let rests = |first, last| {
            move |plan: &mut Plan| {
                plan.placements[0].rests_on = Some(RackSpan { first, last });
            }
        };
        let check = |first: RackRef, last: RackRef, paths: &[&str]| {
            check(|plan| rests(first.clone(), last.clone())(plan), paths);
        };
        check(rack("W1", 1), rack("W2", 3), &[]);
        check(rack("W1", 2), rack("W1", 2), &[]);
        check(rack("W2", 1), rack("W1", 3), &["placements[0].rests_on"]);
        check(rack("W1", 3), rack("W1", 2), &["placements[0].rests_on"]);
        check(rack("W9", 1), rack("W1", 9), &["placements[0].rests_on.first", "placements[0].rests_on.last"]);
    }

    #[test]
    fn steps_name_strings_of_the_order_and_pairs_name_two() {
        let pair =
            |first, second| StepStrings::Pair { first: mark(first), second: mark(second), together: true };
        check(|plan| plan.drops[0].steps[0].strings = pair("A1", "A2"), &[]);
        check(|plan| plan.drops[0].steps[0].strings = pair("A1", "A1"), &["drops[0].steps[0].strings[1]"]);
        check(|plan| plan.drops[0].steps[1].strings = pair("A1", "no"), &["drops[0].steps[1].strings[1]"]);
        check(|plan| plan.drops[0].possession_min = Some(0.0), &["drops[0].possession_min"]);
        check(|plan| plan.drops[0].handling_min = Some(0.0), &[]);
        check(|plan| plan.drops[0].gap_between = Some(Length::from_mm(-1)), &["drops[0].gap_between_mm"]);
    }

    #[test]
    fn a_chute_roller_is_above_the_seat() {
        let roller = |height_mm: Option<i64>, lower_mm: i64| {
            move |plan: &mut Plan| {
                plan.drops[0].chute_height = height_mm.map(Length::from_mm);
                plan.drops[0].chute_roller_lower = Some(Length::from_mm(lower_mm));
            }
        };
        check(roller(Some(1_200), 1_199), &[]);
        check(roller(Some(1_200), 1_200), &["drops[0].chute_roller_lower_mm"]);
        check(roller(Some(0), 0), &[]);
        check(roller(None, 5_000), &[]);
    }

    #[test]
    fn records_name_what_there_is_and_who_made_them() {
        let loaded = AsLoaded {
            string: mark("A1"),
            tier: 1,
            lane: 1,
            front: Length::ZERO,
            holds: vec![rack("W1", 1)],
            missing: false,
            by: String::new(),
            at: String::new(),
        };
        check(|plan| plan.as_loaded.push(loaded.clone()), &[]);
        let twice = [loaded.clone(), AsLoaded { missing: true, ..loaded.clone() }];
        check(|plan| plan.as_loaded.extend(twice.clone()), &["as_loaded[1].string"]);
        let wrong = AsLoaded { string: mark("no"), tier: 0, holds: vec![rack("W1", 7)], ..loaded };
        let paths = ["as_loaded[0].string", "as_loaded[0].tier", "as_loaded[0].holds[0]"];
        check(|plan| plan.as_loaded.push(wrong.clone()), &paths);
        let accepted = |check: &str, by: &str| Acceptance {
            check: check.to_owned(),
            things: Vec::new(),
            by: by.to_owned(),
            why: String::new(),
            at: String::new(),
            found: None,
        };
        check(|plan| plan.accepted.push(accepted("sag", "A. Planner")), &[]);
        check(|plan| plan.accepted.push(accepted("", " ")), &["accepted[0].check", "accepted[0].by"]);
        let found = |demand| {
            let found = Some(Found::Figures { demand, capacity: 1.25 });
            move |plan: &mut Plan| {
                plan.accepted.push(Acceptance { found: found.clone(), ..accepted("sag", "A. Planner") })
            }
        };
        check(found(1.0e12), &[]);
        check(found(1.1e12), &["accepted[0].found"]);
        check(found(f64::INFINITY), &["accepted[0].found"]);
        let signed = Signature { by: String::new(), at: String::new(), hash: String::new() };
        check(|plan| plan.signatures.push(signed.clone()), &["signatures[0].by", "signatures[0].hash"]);
    }

    #[test]
    fn lists_have_their_bounds() {
        let steps = |len: usize| {
            move |plan: &mut Plan| {
                let first = plan.drops[0].steps[0].clone();
                plan.drops[0].steps.resize(len, first);
            }
        };
        check(steps(2_000), &[]);
        check(steps(2_001), &["drops"]);
        check(|plan| plan.placements[0].holds = vec![rack("W1", 1); 10], &[]);
        check(|plan| plan.placements[0].holds = vec![rack("W1", 1); 11], &["placements[0].holds"]);
    }

    #[test]
    fn a_weighing_is_of_a_part_that_there_is() {
        let weighing = |part| Weighing {
            vehicle: "W2".parse().unwrap(),
            part,
            kg: 0.0,
            tolerance: Some(0.02),
            by: String::new(),
            at: String::new(),
        };
        check(|plan| plan.weighings.push(weighing(WeighedPart::Vehicle)), &[]);
        check(|plan| plan.weighings.push(weighing(WeighedPart::Axle(4))), &[]);
        check(|plan| plan.weighings.push(weighing(WeighedPart::LeftWheel(5))), &["weighings[0].part"]);
        check(|plan| plan.weighings.push(weighing(WeighedPart::RightWheel(0))), &["weighings[0].part"]);
        let elsewhere = Weighing { vehicle: "no".parse().unwrap(), ..weighing(WeighedPart::Vehicle) };
        check(|plan| plan.weighings.push(elsewhere.clone()), &["weighings[0].vehicle"]);
        for tolerance in [0.0, 1.1] {
            let wrong = Weighing { kg: -1.0, tolerance: Some(tolerance), ..weighing(WeighedPart::Vehicle) };
            check(
                |plan| plan.weighings.push(wrong.clone()),
                &["weighings[0].kg", "weighings[0].tolerance_share"],
            );
        }
    }
}
