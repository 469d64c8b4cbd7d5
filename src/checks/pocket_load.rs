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
