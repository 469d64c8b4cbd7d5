//! Two loads of a train over each other: where strings lie now, and where those that differ lay before.

use super::bars::{Load, label, mark_across};
use super::heights::assumed_decks;
use super::train_side::{ground_shapes, string_band_mm, string_shapes};
use super::vehicles::{axle_bars, load_shapes, mm, vehicle_shapes};
use super::{Area, Form, Picture, Point, Role, Shape, TextSize, Thing};
use crate::model::{OrderedString, Placement, StringMark};
use crate::statics::{Figures, PlacedString};
use crate::units::Style;
use std::collections::BTreeMap;

/// A load: figures, and which of their states.
pub type LoadOf<'a> = (&'a Figures, usize);

/// What has become of a string between two loads.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Fate {
    /// It lies as before.
    Stays,
    /// It lies elsewhere, is another string of the same mark, or is held or meant to rest otherwise.
    Differs,
    /// It was not on the train.
    Comes,
    /// It is not on the train any more.
    Goes,
}

/// What has become of each string that is on the train in either load, by mark.
pub fn fates(before: LoadOf<'_>, after: LoadOf<'_>) -> BTreeMap<StringMark, Fate> {
    let (one, two) = (strings_of(before), strings_of(after));
    let mut fates: BTreeMap<StringMark, Fate> =
        one.keys().map(|mark| ((*mark).clone(), Fate::Goes)).collect();
    for (mark, (placement, string, _)) in two {
        let fate = match one.get(mark) {
            None => Fate::Comes,
            Some((was, ordered, _)) if *was == placement && is_alike(ordered, string) => Fate::Stays,
            Some(_) => Fate::Differs,
        };
        fates.insert(mark.clone(), fate);
    }
    fates
}

/// Whether two strings of a mark weigh and measure the same.
fn is_alike(one: &OrderedString, two: &OrderedString) -> bool {
    (one.length, &one.section, one.mass) == (two.length, &two.section, two.mass)
}

/// The train of `after` from its side with the strings of both loads.
///
/// Strings that stay as they lay are muted. Of the others, the place before is an empty frame ([`Role::Former`]),
/// with a line ([`Role::Shift`]) from the front end there to the front end now; those that come or go are written so
/// beside their marks. Below the rail hang the loads now, with a tick across each bar at the load before. Things are
/// those of `after`; what only `before` knows shows none.
pub fn train_difference(before: LoadOf<'_>, after: LoadOf<'_>, style: Style) -> Picture {
    let (figures, state) = after;
    let mut shapes = ground_shapes(figures, state);
    // Which racks carry is not the question here: their posts would stand out before what differs.
    let carrying = shapes.iter_mut().filter(|shape| shape.role == Role::RackCarrying);
    carrying.for_each(|shape| shape.role = Role::Rack);
    for place in &figures.consist.vehicles {
        vehicle_shapes(&mut shapes, figures, place);
        if let Some(loads) = figures.state(state) {
            load_shapes(&mut shapes, (figures, loads), place, style);
            former_loads(&mut shapes, before, after, place.vehicle);
        }
    }
    let (one, two) = (strings_of(before), strings_of(after));
    let fates = fates(before, after);
    for (mark, (.., placed)) in two.iter().filter(|(mark, _)| fates.get(**mark) == Some(&Fate::Stays)) {
        muted(&mut shapes, figures, placed, mark);
    }
    for (mark, fate) in fates.iter().filter(|(_, fate)| **fate != Fate::Stays) {
        differing(&mut shapes, (before, one.get(mark)), (after, two.get(mark)), (mark, *fate));
    }
    let mut picture = Picture::of(shapes);
    picture.assumed = assumed_decks(figures, style);
    picture
}

/// A string on the train: where it is meant to lie, as ordered, and on its racks.
type OnTrain<'a> = (&'a Placement, &'a OrderedString, &'a PlacedString);

fn strings_of((figures, state): LoadOf<'_>) -> BTreeMap<&StringMark, OnTrain<'_>> {
    let strings = figures.present(state).filter_map(|placed| {
        let ordered = figures.plan.order.get(placed.string)?;
        Some((&ordered.mark, (figures.plan.placements.get(placed.placement)?, ordered, placed)))
    });
    strings.collect()
}

/// A string that stays, as one plain bar.
fn muted(shapes: &mut Vec<Shape>, figures: &Figures, placed: &PlacedString, mark: &StringMark) {
    let Some(placement) = figures.plan.placements.get(placed.placement) else { return };
    let area = bar(figures, placed, placement);
    let thing = Some(Thing::String(placed.string));
    shapes.push(Shape { form: Form::Box(area), role: Role::Unchanged, thing });
    shapes.push(label(mark.to_string(), area, (Role::Label, TextSize::Normal), thing));
}

fn bar(figures: &Figures, placed: &PlacedString, placement: &Placement) -> Area {
    let (low, high) = string_band_mm(figures, placed, (placement.tier, placement.lane));
    let margin = (high - low) * 0.1;
    Area::spanning((mm(placed.front), mm(placed.rear)), (low + margin, high - margin))
}

fn differing(
    shapes: &mut Vec<Shape>,
    (before, one): (LoadOf<'_>, Option<&OnTrain<'_>>),
    (after, two): (LoadOf<'_>, Option<&OnTrain<'_>>),
    (mark, fate): (&StringMark, Fate),
) {
    let thing = after.0.plan.order.iter().position(|string| string.mark == *mark).map(Thing::String);
    let was = one.map(|(placement, _, placed)| bar(before.0, placed, placement));
    let now = two.map(|(placement, _, placed)| bar(after.0, placed, placement));
    if let Some((.., placed)) = two {
        string_shapes(shapes, after.0, placed);
    }
    if let Some(area) = was.filter(|area| Some(*area) != now) {
        shapes.push(Shape { form: Form::Frame(area), role: Role::Former, thing });
    }
    match (fate, was, now) {
        (Fate::Goes, Some(area), _) => {
            shapes.push(label(format!("{mark} goes"), area, (Role::Label, TextSize::Normal), thing));
        }
        (Fate::Comes, _, Some(area)) => {
            // Over the mark alone that the string has by itself.
            shapes.retain(|shape| shape.thing != thing || !matches!(shape.form, Form::Text { .. }));
            shapes.push(label(format!("{mark} comes"), area, (Role::Label, TextSize::Normal), thing));
        }
        (_, Some(was), Some(now)) if was != now => {
            let end = |area: Area| Point::new(area.least.across_mm, area.middle().up_mm);
            shapes.push(Shape { form: Form::Line(end(was), end(now)), role: Role::Shift, thing });
        }
        _ => {}
    }
}

/// Ticks across the axle bars of a vehicle at the loads that it had, where it was in the train and they differ.
fn former_loads(shapes: &mut Vec<Shape>, before: LoadOf<'_>, after: LoadOf<'_>, vehicle: usize) {
    let (old, new) = (before.0, after.0);
    let Some(mark) = new.plan.train.vehicles.get(vehicle).map(|vehicle| &vehicle.mark) else { return };
    let was = old.plan.train.vehicles.iter().position(|other| other.mark == *mark);
    let loads = was.and_then(|at| old.state(before.1)?.vehicles.get(at));
    let (Some(loads), Some(now)) = (loads, new.state(after.1).and_then(|state| state.vehicles.get(vehicle)))
    else {
        return;
    };
    for (axle, (support, room, ratings)) in axle_bars(new, vehicle).into_iter().enumerate() {
        let (one, two) = (loads.supports[support].axle_kg, now.supports[support].axle_kg);
        if (one - two).abs() > TELLING_KG {
            let load = Load::against(one, &ratings, new.plan.limits.near_share());
            mark_across(shapes, &load, (room, Role::FormerLoad), Thing::Axle { vehicle, axle });
        }
    }
}

/// Loads that differ by less have no tick of their own: it would lie on the bar's edge.
const TELLING_KG: f64 = 50.0;

#[cfg(test)]
mod tests {
    use super::super::trial::{expect_sound, figures, places, plan, texts};
    use super::*;
    use crate::fixtures::place;
    use crate::model::Plan;
    use crate::units::Length;

    fn difference(before: &Plan, after: &Plan) -> Picture {
        let (one, two) = (figures(before.clone()), figures(after.clone()));
        let picture = train_difference((&one, 0), (&two, 0), Style::default());
        expect_sound(&picture);
        picture
    }

    /// The trial plan with S1 half a metre back and in tier 3.
    fn moved() -> Plan {
        let mut moved = plan();
        moved.placements[0].front = Length::from_mm(2_500);
        moved.placements[0].tier = 3;
        moved
    }

    // S1 of 15 m: lane 4 of tier 2 from 1,712 to 1,728 mm, of tier 3 a pitch of 250 mm higher on the deck.
    #[test]
    fn a_string_that_moved_shows_both_places_and_the_way_between_them() {
        let picture = difference(&plan(), &moved());
        assert_eq!(places(&picture, Role::Former), [[2_000, 17_000, 1_712, 1_728]]);
        assert_eq!(places(&picture, Role::String(None)), [[3_317, 16_583, 1_962, 1_978]]);
        assert_eq!(places(&picture, Role::Shift), [[2_000, 2_500, 1_720, 1_970]]);
        assert!(places(&picture, Role::Unchanged).is_empty());
    }

    #[test]
    fn what_stays_is_muted_and_what_comes_or_goes_says_so() {
        let same = difference(&plan(), &plan());
        assert_eq!(places(&same, Role::Unchanged), [[2_000, 17_000, 1_712, 1_728]]);
        assert!(
            [Role::Former, Role::Shift, Role::FormerLoad].iter().all(|role| places(&same, *role).is_empty())
        );
        let mut more = plan();
        place(&mut more, "S2", 15_000, (1, 1, 2_000));
        let come = difference(&plan(), &more);
        assert!(texts(&come).contains(&"S2 comes"), "{:?}", texts(&come));
        assert!(!texts(&come).contains(&"S2"), "said once");
        let gone = difference(&more, &plan());
        assert!(texts(&gone).contains(&"S2 goes"));
        assert_eq!(places(&gone, Role::Former).len(), 1);
        assert!(places(&gone, Role::Shift).is_empty());
    }

    #[test]
    fn a_change_of_hold_length_or_mass_alone_is_a_difference_too() {
        let fate = |change: fn(&mut Plan)| {
            let mut after = plan();
            change(&mut after);
            let (one, two) = (figures(plan()), figures(after));
            fates((&one, 0), (&two, 0)).into_values().collect::<Vec<_>>()
        };
        assert_eq!(fate(|_| {}), [Fate::Stays]);
        assert_eq!(fate(|plan| plan.placements[0].holds.clear()), [Fate::Differs]);
        assert_eq!(fate(|plan| plan.order[0].length = Length::from_mm(14_000)), [Fate::Differs]);
        assert_eq!(fate(|plan| plan.placements.clear()), [Fate::Goes]);
        assert_eq!(fate(|plan| plan.order[0].side = Some(crate::model::TrackSide::Left)), [Fate::Stays]);
    }

    // S1 weighs 903 kg; all of it off takes 226 kg from each of four axles on the average, more than 50 each.
    #[test]
    fn loads_that_differ_are_marked_at_what_they_were() {
        let mut empty = plan();
        empty.placements.clear();
        assert_eq!(places(&difference(&plan(), &empty), Role::FormerLoad).len(), 4);
    }
}
