//! A string's tier and lane exist at every rack it crosses, and its section goes into the pocket.

use super::reading::{placement_of, rack_name, rack_type_of, string_name};
use super::{Check, Judge, Subject};
use crate::model::{Placement, RackType};
use crate::statics::PlacedString;
use crate::text;
use crate::units::Quantity;

/// The check.
pub(crate) static CHECK: Check = Check {
    id: "pocket-fit",
    title: "Section fits the pocket",
    what: "Tier and lane exist at every rack that the string crosses; foot width and height of the section go \
           into the pocket's clear width and height.",
    why: "A string in a pocket that is not there lies on nothing; one that is too wide or too high jams.",
    mend: "Choose another tier or lane, or racks whose pockets are large enough.",
    source: "geometry of the entered section and rack",
    run,
};

fn run(judge: &mut Judge<'_>) {
    let figures = judge.figures;
    if figures.placed.is_empty() {
        judge.not_applicable(|| text!["no strings are on the train"]);
    }
    for placed in &figures.placed {
        let Some(placement) = placement_of(figures, placed) else { continue };
        // Racks of one type are alike, so the first of each type speaks for the others.
        let mut seen: Vec<usize> = Vec::new();
        for rack in placed.racks.clone() {
            let Some(place) = figures.consist.racks.get(rack) else { continue };
            if seen.contains(&place.rack_type) {
                continue;
            }
            seen.push(place.rack_type);
            let Some(rack_type) = rack_type_of(figures, rack) else { continue };
            if exists(judge, placed, placement, (rack, rack_type)) {
                fits(judge, placed, placement, (rack, rack_type));
            }
        }
    }
}

fn exists(
    judge: &mut Judge<'_>,
    placed: &PlacedString,
    placement: &Placement,
    (rack, rack_type): (usize, &RackType),
) -> bool {
    let figures = judge.figures;
    let (tiers, lanes) = (rack_type.tiers.len(), rack_type.lanes_y_mm.len());
    let within = |number: u32, count: usize| number >= 1 && number as usize <= count;
    let sound = within(placement.tier, tiers) && within(placement.lane, lanes);
    if !sound {
        let what = || {
            text![format!(
                "{} lies in tier {}, lane {}, but {} has {tiers} tiers and {lanes} lanes",
                string_name(figures, placed.string),
                placement.tier,
                placement.lane,
                rack_name(figures, rack)
            )]
        };
        let mend = || text!["choose a tier and lane that all racks under the string have"];
        judge.fail(None, Subject::StringAtRack(placed.string, rack), what, mend);
    }
    sound
}

fn fits(
    judge: &mut Judge<'_>,
    placed: &PlacedString,
    placement: &Placement,
    (rack, rack_type): (usize, &RackType),
) {
    let figures = judge.figures;
    let Some(section) = figures.plan.sections.get(placed.section) else { return };
    let Some(tier) = (placement.tier as usize).checked_sub(1).and_then(|tier| rack_type.tiers.get(tier))
    else {
        return;
    };
    judge.source(&rack_type.source.text);
    let subject = Subject::StringAtRack(placed.string, rack);
    let of_rack = figures.consist.racks.get(rack).map_or(subject, |place| Subject::RackType(place.rack_type));
    let of_section = Subject::Section(placed.section);
    let clear_words = || format!("clear height of tier {} of rack type {}", placement.tier, rack_type.name);
    if section.foot_mm.is_none() {
        judge.undecided(of_section, text![format!("foot width of section {} is not entered", section.name)]);
    }
    if section.height_mm.is_none() {
        judge.undecided(of_section, text![format!("height of section {} is not entered", section.name)]);
    }
    if rack_type.pocket_width_mm.is_none() {
        judge.undecided(
            of_rack,
            text![format!("pocket width of rack type {} is not entered", rack_type.name)],
        );
    }
    if tier.clear_mm.is_none() {
        judge.undecided(of_rack, text![clear_words(), " is not entered"]);
    }
    if let (Some(foot), Some(width)) = (section.foot_mm, rack_type.pocket_width_mm) {
        let demand = Quantity::small_length_m(foot / 1000.0);
        judge.fits(subject.by_rule("width"), demand, width / 1000.0, || {
            text![" (foot of the section in the pocket's width)"]
        });
    }
    if let (Some(height), Some(clear)) = (section.height_mm, tier.clear_mm) {
        let demand = Quantity::small_length_m(height / 1000.0);
        judge.fits(subject.by_rule("height"), demand, clear / 1000.0, || {
            text![" (height of the section in the tier)"]
        });
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::Outcome;
    use crate::checks::trial::{expect, words};
    use crate::fixtures::{empty_plan, place};
    use crate::model::Plan;

    fn one_string(tier: u32, lane: u32) -> Plan {
        let mut plan = empty_plan(2);
        place(&mut plan, "S1", 30_000, (tier, lane, 2_000));
        plan
    }

    fn check(plan: Plan, expected: &[(Outcome, &str)]) {
        expect(&CHECK, plan, expected);
    }

    const AT_FIRST_RACK: &str = "string S1, vehicle W1 rack 1";

    #[test]
    fn the_last_tier_and_lane_exist_and_those_beyond_do_not() {
        check(one_string(5, 10), &[]);
        check(one_string(6, 10), &[(Outcome::Fail, AT_FIRST_RACK)]);
        check(one_string(5, 11), &[(Outcome::Fail, AT_FIRST_RACK)]);
        check(empty_plan(1), &[(Outcome::NotApplicable, "plan")]);
    }

    #[test]
    fn a_tier_missing_on_one_type_of_rack_only_is_found() {
        let mut plan = one_string(5, 1);
        let mut low = plan.train.rack_types[0].clone();
        low.name = crate::model::RackTypeName::new("Low").unwrap();
        low.tiers.truncate(4);
        let mut flat = plan.train.vehicle_types[0].clone();
        flat.name = crate::model::VehicleTypeName::new("Low flat").unwrap();
        flat.racks[1].rack_type = low.name.clone();
        plan.train.vehicles[1].vehicle_type = flat.name.clone();
        plan.train.rack_types.push(low);
        plan.train.vehicle_types.push(flat);
        check(plan, &[(Outcome::Fail, "string S1, vehicle W2 rack 2")]);
    }

    // 60E1: foot 150 mm, height 172 mm (shared facts, section 1).
    #[test]
    fn a_section_fits_up_to_the_pockets_own_size() {
        let with = |width_mm, clear_mm| {
            let mut plan = one_string(2, 3);
            plan.train.rack_types[0].pocket_width_mm = Some(width_mm);
            plan.train.rack_types[0].tiers[1].clear_mm = Some(clear_mm);
            plan
        };
        check(with(150.0, 172.0), &[]);
        check(with(149.9, 172.0), &[(Outcome::Fail, "string S1, vehicle W1 rack 1, width")]);
        check(with(150.0, 171.9), &[(Outcome::Fail, "string S1, vehicle W1 rack 1, height")]);
        // Each is told, the tighter one first, so that accepting one leaves the other open.
        let both = [
            (Outcome::Fail, "string S1, vehicle W1 rack 1, height"),
            (Outcome::Fail, "string S1, vehicle W1 rack 1, width"),
        ];
        check(with(145.0, 150.0), &both);
    }

    #[test]
    fn a_dimension_that_nobody_entered_leaves_it_undecided_and_is_named() {
        let mut plan = one_string(1, 1);
        plan.sections[0].foot_mm = None;
        plan.sections[0].height_mm = None;
        let findings = expect(&CHECK, plan, &[(Outcome::Undecided, "section 60E1")]);
        assert_eq!(
            words(&findings),
            "foot width of section 60E1 is not entered; height of section 60E1 is not entered"
        );
        let mut plan = one_string(1, 1);
        plan.train.rack_types[0].pocket_width_mm = None;
        plan.train.rack_types[0].tiers[0].clear_mm = None;
        check(plan, &[(Outcome::Undecided, "rack type Rack 5 x 10")]);
        let mut plan = one_string(1, 1);
        plan.train.rack_types[0].tiers[1].clear_mm = None;
        check(plan, &[]);
    }
}
