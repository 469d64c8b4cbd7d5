//! Check `pocket-load`: what each pocket carries against the rack type's pocket rating.

use super::bearing::rated_racks;
use super::{Check, Judge, Subject};
use crate::statics::Figures;
use crate::units::Quantity;

pub(crate) static CHECK: Check = Check {
    id: "pocket-load",
    title: "Load of a pocket",
    what: "The load that a string puts on each rack it lies on, against the rating of one pocket of that rack.",
    why: "A string bears unevenly on its racks: the racks beside a gap between wagons and the last rack before \
          an overhang carry more than their share by length, and their rollers and arms with them.",
    mend: "Move the string a little along the train, so that an end rests on one rack more or overhangs less; \
           or put it on racks that stand closer together.",
    source: "The rating is the plan's own, from the rack's drawing or plate; the load is that of a continuous \
             beam on level supports that cannot pull (three-moment equation, textbook).",
    run,
};

/// One string on one pocket of one rack.
#[derive(Clone, Copy, Debug)]
struct Bearing {
    rack: usize,
    pocket: (u32, u32),
    placement: usize,
    kg: f64,
}

fn run(judge: &mut Judge<'_>) {
    let figures = judge.figures;
    let bearings = bearings(figures);
    for rated in rated_racks(judge, "pocket rating", |kind| kind.pocket_rating_kg) {
        judge.source(rated.source);
        let first = bearings.partition_point(|bearing| bearing.rack < rated.index);
        let on_rack = bearings[first..].iter().take_while(|bearing| bearing.rack == rated.index).count();
        let on_rack = &bearings[first..first + on_rack];
        for in_pocket in on_rack.chunk_by(|a, b| a.pocket == b.pocket) {
            judge_pocket(judge, in_pocket, rated.rating_kg);
        }
    }
}

fn judge_pocket(judge: &mut Judge<'_>, in_pocket: &[Bearing], rating_kg: f64) {
    let figures = judge.figures;
    let Some(first) = in_pocket.first() else { return };
    let subject = Subject::Pocket(first.rack, first.pocket.0, first.pocket.1);
    for (state, _) in judge.states() {
        let Some(present) = figures.states.get(state.state).map(|state| &state.present) else { continue };
        let here = in_pocket.iter().filter(|bearing| present.get(bearing.placement) == Some(&true));
        let kg: f64 = here.map(|bearing| bearing.kg).sum();
        judge.at_most(Some(state.state), subject, Quantity::mass(kg), rating_kg);
    }
}

/// All bearings, those of one rack together and within it those of one pocket.
fn bearings(figures: &Figures) -> Vec<Bearing> {
    let mut bearings: Vec<Bearing> = Vec::with_capacity(figures.placed.iter().map(|s| s.racks.len()).sum());
    for string in &figures.placed {
        let Some(placement) = figures.plan.placements.get(string.placement) else { continue };
        let pocket = (placement.tier, placement.lane);
        bearings.extend(string.racks.clone().zip(&string.carried_kg).map(|(rack, &kg)| Bearing {
            rack,
            pocket,
            placement: string.placement,
            kg,
        }));
    }
    bearings.sort_by_key(|bearing| (bearing.rack, bearing.pocket, bearing.placement));
    bearings
}

#[cfg(test)]
mod tests {
    use super::CHECK;
    use crate::checks::Outcome::{Fail, Near, Undecided};
    use crate::checks::bearing::testing::{add_engine, check, lay, lay_at};
    use crate::fixtures::empty_plan;
    use crate::model::Plan;

    // One string of 14,266 kg on racks at -6.633, 0 and 6.633 m, overhangs c = 0.5 m: q = 1,000 kg/m,
    // M1 = -q c^2/2 = -125, 4 M2 = -q l^2/2 - 2 M1 so M2 = -5,437.086, and the middle rack carries
    // q l + 2 (M1 - M2)/l = 6,633 + 1,601.714 = 8,234.714 kg; the outer ones 3,015.643 kg each.
    fn one_string(rating_kg: f64) -> Plan {
        let mut plan = empty_plan(1);
        lay(&mut plan, "S1", (1, 4), 0, 14_266.0);
        plan.train.rack_types[0].pocket_rating_kg = Some(rating_kg);
        plan
    }

    #[test]
    fn a_pocket_bears_its_rating_and_no_kilogram_more() {
        check(&CHECK, &one_string(8_235.0), &[(Near, "vehicle W1 rack 2, tier 1 lane 4")]);
        check(&CHECK, &one_string(8_234.0), &[(Fail, "vehicle W1 rack 2, tier 1 lane 4")]);
        check(&CHECK, &one_string(10_000.0), &[]);
    }

    #[test]
    fn strings_that_come_down_in_one_pocket_add_up() {
        let mut plan = one_string(8_235.0);
        lay(&mut plan, "S2", (1, 4), 0, 100.0);
        check(&CHECK, &plan, &[(Fail, "vehicle W1 rack 2, tier 1 lane 4")]);
    }

    #[test]
    fn strings_in_neighbouring_pockets_do_not_add_up() {
        let mut plan = one_string(9_000.0);
        lay(&mut plan, "S2", (1, 5), 0, 14_266.0);
        lay(&mut plan, "S3", (2, 4), 0, 14_266.0);
        check(&CHECK, &plan, &[]);
    }

    #[test]
    fn a_missing_rating_is_undecided_once_per_rack_type() {
        let mut plan = empty_plan(3);
        plan.train.rack_types[0].pocket_rating_kg = None;
        lay_at(&mut plan, "S1", (1, 1, 2_817, 54_000), 3_000.0);
        check(&CHECK, &plan, &[(Undecided, "rack type Rack 5 x 10")]);
    }

    #[test]
    fn a_rack_type_that_stands_nowhere_needs_no_rating() {
        let mut plan = one_string(10_000.0);
        let mut unused = plan.train.rack_types[0].clone();
        unused.name = crate::model::RackTypeName::new("Spare").unwrap();
        unused.pocket_rating_kg = None;
        plan.train.rack_types.push(unused);
        add_engine(&mut plan);
        plan.placements[0].front += crate::units::Length::from_mm(19_900);
        check(&CHECK, &plan, &[]);
    }
}
