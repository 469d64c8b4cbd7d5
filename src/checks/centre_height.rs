//! Check `centre-height`: the height of each vehicle's gross centre of gravity.

use super::bearing::{bears_strings, vehicle_type};
use super::{Check, Judge, Subject};
use crate::model::LimitKind;
use crate::statics::Figures;
use crate::text;
use crate::units::Quantity;

pub(crate) static CHECK: Check = Check {
    id: "centre-height",
    title: "Height of the centre of gravity",
    what: "The height above the rail of the centre of gravity of every vehicle with its load, against the centre \
           of gravity height. Where a height is missing nobody guesses it; only a vehicle that never bears a \
           string is left out then.",
    why: "The higher the centre, the more load leaves the inner or outer wheels on cant and in curves.",
    mend: "Fill the lower tiers first on this wagon, or take strings off its top tier.",
    source: "2.0 m normally: Chinese loading rules (doi 10.1007/s11071-021-06386-3) and TAIC RO-2019-103; the \
             value that is judged by is the plan's.",
    run,
};

fn run(judge: &mut Judge<'_>) {
    let Some(limit) = judge.limit(LimitKind::CentreHeight) else { return };
    let bears = bears_strings(judge.figures);
    for (vehicle, bears) in bears.into_iter().enumerate() {
        let mut unknown = false;
        for (state, rule) in judge.states() {
            let Some(loads) = state.vehicles.get(vehicle) else { continue };
            let subject = Subject::Vehicle(vehicle);
            match loads.centre_height_m {
                Some(height) => {
                    judge.at_most(Some(state.state), subject, Quantity::length_m(height), limit.by(rule));
                }
                None => unknown |= bears,
            }
        }
        if unknown {
            tell_missing(judge, vehicle);
        }
    }
}

/// Tells which heights are missing for a vehicle: of its type, and of the sections on it.
fn tell_missing(judge: &mut Judge<'_>, vehicle: usize) {
    let figures = judge.figures;
    let Some(place) = figures.consist.vehicles.get(vehicle) else { return };
    let Some(kind) = vehicle_type(figures, place) else { return };
    let missing = match (kind.tare_cog_height_mm, kind.deck_height) {
        (None, None) => "no height of the tare's centre and no deck height is entered",
        (None, Some(_)) => "no height of the tare's centre is entered",
        (Some(_), None) => "no deck height is entered",
        (Some(_), Some(_)) => "",
    };
    let sections = sections_without_axis(figures, vehicle);
    if !missing.is_empty() {
        let missing = text![missing, " for vehicle type ", kind.name.as_str()];
        judge.undecided(Subject::VehicleType(place.vehicle_type), missing);
    } else if sections.is_empty() {
        // A height is missing that is none of the above: say at least where.
        judge.undecided(Subject::Vehicle(vehicle), text!["the heights of its load are not all entered"]);
    }
    for section in sections {
        let name = figures.plan.sections.get(section).map_or("?", |section| section.name.as_str());
        let missing = text!["no height of the neutral axis is entered for section ", name];
        judge.undecided(Subject::Section(section), missing);
    }
}

/// The sections of strings over a vehicle's racks that have no height of the neutral axis.
fn sections_without_axis(figures: &Figures, vehicle: usize) -> Vec<usize> {
    let Some(place) = figures.consist.vehicles.get(vehicle) else { return Vec::new() };
    let over =
        |racks: &std::ops::Range<usize>| racks.start < place.racks.end && place.racks.start < racks.end;
    let mut sections: Vec<usize> = figures
        .placed
        .iter()
        .filter(|string| over(&string.racks))
        .map(|string| string.section)
        .filter(|&section| figures.plan.sections.get(section).is_some_and(|s| s.neutral_axis_mm.is_none()))
        .collect();
    sections.sort_unstable();
    sections.dedup();
    sections
}

#[cfg(test)]
mod tests {
    use super::CHECK;
    use crate::checks::Outcome::{Fail, Near, Undecided};
    use crate::checks::bearing::testing::{add_engine, check, lay, lay_at};
    use crate::fixtures::{empty_plan, limit};
    use crate::model::{LimitKind, Plan};

    // Tare 24 t at 0.7 m; 10 t of 60E1 in tier 1, seat 1.25 + 0.15 m, centroid 0.0809 m above it, 1.4809 m:
    // (24 x 0.7 + 10 x 1.4809)/34 = 0.92968 m.
    fn limited(m: f64) -> Plan {
        let mut plan = empty_plan(1);
        lay(&mut plan, "S1", (1, 5), 0, 10_000.0);
        plan.limits.entries.insert(LimitKind::CentreHeight, limit(m));
        plan
    }

    #[test]
    fn the_centre_is_as_high_as_its_limit_and_no_higher() {
        check(&CHECK, &limited(0.929_7), &[(Near, "vehicle W1")]);
        check(&CHECK, &limited(0.929_6), &[(Fail, "vehicle W1")]);
        check(&CHECK, &limited(2.0), &[]);
    }

    // Rockhampton 2021 (ATSB RO-2021-010): a height that nobody had measured was filled in by default.
    #[test]
    fn a_height_that_nobody_entered_is_named_and_never_guessed() {
        let mut plan = limited(2.0);
        plan.train.vehicle_types[0].deck_height = None;
        check(&CHECK, &plan, &[(Undecided, "vehicle type Flat")]);

        let mut plan = limited(2.0);
        plan.train.vehicle_types[0].tare_cog_height_mm = None;
        check(&CHECK, &plan, &[(Undecided, "vehicle type Flat")]);

        let mut plan = limited(2.0);
        plan.sections[0].neutral_axis_mm = None;
        check(&CHECK, &plan, &[(Undecided, "section 60E1")]);
    }

    #[test]
    fn an_engine_without_heights_is_left_out() {
        let mut plan = empty_plan(1);
        add_engine(&mut plan);
        lay_at(&mut plan, "S1", (1, 5, 22_717, 14_266), 10_000.0);
        check(&CHECK, &plan, &[]);
    }

    #[test]
    fn a_missing_limit_is_undecided() {
        let mut plan = limited(2.0);
        plan.limits.entries.remove(&LimitKind::CentreHeight);
        check(&CHECK, &plan, &[(Undecided, "limit centre of gravity height")]);
    }
}
