//! Loading cards: for each group of wagons the pockets as a plan to load by, and every end and hold among them.

use super::card_plan::{CardPlan, Pocket};
use super::diagram::legend;
use super::flow::{Flow, Side, Type};
use super::matter::Matter;
use super::page::{Frame, Ink, Look, Mark};
use super::table::{Cell, Column, Kind, Table};
use super::wording::counted;
use crate::model::TrainEnd;
use crate::statics::{Figures, PlacedString};
use std::ops::Range;

/// Adds the part.
pub(super) fn cards(flow: &mut Flow, matter: &Matter<'_>) {
    flow.part("Loading cards");
    let groups = groups(matter);
    if groups.is_empty() {
        flow.paragraph("No rack is on the train yet.", Type::BODY);
        return;
    }
    flow.paragraph(
        "A card for each group of wagons, from the front. The pockets are seen as one stands behind the group and faces \
         the front of the train: lane 1 at the left, tier 1 at the bottom. Each taken pocket names its string, section \
         and length; where a string does not lie at every rack of the group its racks are named. Below are the ends that \
         lie here, each measured along the train from the middle of the rack named, and the holds.",
        Type::BODY,
    );
    legend(flow, matter);
    let count = groups.len();
    for (nth, group) in groups.iter().enumerate() {
        card(flow, matter, group, (nth + 1, count));
    }
}

/// Wagons that follow each other; of several in one group every rack carries the same.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Group {
    vehicles: Vec<usize>,
    racks: Range<usize>,
}

/// Wagons with racks, those together whose racks all carry the same strings in the same pockets.
fn groups(matter: &Matter<'_>) -> Vec<Group> {
    let figures = matter.figures;
    let mut groups: Vec<(Group, Option<Vec<usize>>)> = Vec::new();
    for place in figures.consist.vehicles.iter().filter(|place| !place.racks.is_empty()) {
        let alike = same_at_every_rack(figures, place.racks.clone());
        match groups.last_mut() {
            Some((group, before))
                if alike.is_some() && *before == alike && follows(figures, group, place.vehicle) =>
            {
                group.vehicles.push(place.vehicle);
                group.racks.end = place.racks.end;
            }
            _ => groups.push((Group { vehicles: vec![place.vehicle], racks: place.racks.clone() }, alike)),
        }
    }
    groups.into_iter().map(|(group, _)| group).collect()
}

/// Whether a vehicle may join: it has as many tiers and lanes as the group's last.
fn follows(figures: &Figures, group: &Group, vehicle: usize) -> bool {
    let pockets = |vehicle: usize| {
        let racks = figures.consist.vehicles.get(vehicle)?.racks.clone();
        let kinds = figures.consist.racks.get(racks)?.iter();
        kinds.map(|rack| pockets_of(figures, rack.rack_type)).reduce(|a, b| (a.0.max(b.0), a.1.max(b.1)))
    };
    group.vehicles.last().and_then(|last| pockets(*last)) == pockets(vehicle)
}

/// Tiers and lanes of a rack type.
fn pockets_of(figures: &Figures, rack_type: usize) -> (usize, usize) {
    let kind = figures.plan.train.rack_types.get(rack_type);
    kind.map_or((0, 0), |kind| (kind.tiers.len(), kind.lanes_y_mm.len()))
}

/// The placements at each of the racks, where all of them carry the same.
fn same_at_every_rack(figures: &Figures, racks: Range<usize>) -> Option<Vec<usize>> {
    let at = |rack: usize| -> Vec<usize> {
        figures
            .present(0)
            .filter(|placed| placed.racks.contains(&rack))
            .map(|placed| placed.placement)
            .collect()
    };
    let first = at(racks.start);
    racks.skip(1).all(|rack| at(rack) == first).then_some(first)
}

fn card(flow: &mut Flow, matter: &Matter<'_>, group: &Group, (nth, count): (usize, usize)) {
    let figures = matter.figures;
    let pockets = pockets(matter, group);
    let kinds = figures.consist.racks.get(group.racks.clone()).unwrap_or_default().iter();
    let size = kinds
        .map(|rack| pockets_of(figures, rack.rack_type))
        .fold((0, 0), |a, b| (a.0.max(b.0), a.1.max(b.1)));
    let plan = CardPlan::new(&pockets, size, flow.width_mm());
    let plan_mm = if pockets.is_empty() { 0.0 } else { plan.height_mm() };
    flow.gap(4.0);
    flow.need(6.5 + plan_mm + 16.0);
    head(flow, matter, group, (nth, count));
    if pockets.is_empty() {
        flow.gap(1.0);
        flow.paragraph("Nothing lies on these racks at departure.", Type::BODY);
        return;
    }
    let room = flow.take(plan_mm);
    plan.draw(flow, room);
    ends(flow, matter, group);
}

fn head(flow: &mut Flow, matter: &Matter<'_>, group: &Group, (nth, count): (usize, usize)) {
    let strip = flow.take(6.0);
    flow.mark(Mark::Box(strip, Look::fill(Ink::Tint)));
    let title = title(matter, group);
    let racks = counted(group.racks.len(), "rack", "racks");
    let about = match group.vehicles.len() {
        1 => racks,
        wagons => format!("{wagons} wagons, {racks}, the same at every rack"),
    };
    let third = strip.width_mm / 3.0;
    let room = |nth: f64, thirds: f64| {
        Frame::new(strip.left_mm + nth * third, strip.top_mm, third * thirds, strip.height_mm).inset(1.5, 0.0)
    };
    flow.words(&title, Type::HEADING, room(0.0, 1.0), Side::Left);
    flow.words(&about, Type::BODY, room(1.0, 1.5), Side::Left);
    flow.words(&format!("card {nth} of {count}"), Type::NOTE, room(2.5, 0.5), Side::Right);
    flow.gap(0.8);
}

/// The group's first and last wagon.
fn title(matter: &Matter<'_>, group: &Group) -> String {
    let name = |vehicle: Option<&usize>| vehicle.map_or_else(String::new, |vehicle| matter.vehicle(*vehicle));
    let (first, last) = (name(group.vehicles.first()), name(group.vehicles.last()));
    if group.vehicles.len() == 1 { first } else { format!("{first} to {last}") }
}

/// What lies in the pockets of the group's racks at departure, in the order of pockets.
fn pockets(matter: &Matter<'_>, group: &Group) -> Vec<Pocket> {
    let here = matter.figures.present(0).filter(|placed| at_group(placed, group).is_some());
    let mut pockets: Vec<Pocket> = here.map(|placed| pocket(matter, placed, group)).collect();
    pockets.sort_by_key(|pocket| (pocket.tier, pocket.lane));
    pockets
}

/// The racks of the group that a string crosses; none where it crosses none.
fn at_group(placed: &PlacedString, group: &Group) -> Option<Range<usize>> {
    let racks = placed.racks.start.max(group.racks.start)..placed.racks.end.min(group.racks.end);
    (!racks.is_empty()).then_some(racks)
}

fn pocket(matter: &Matter<'_>, placed: &PlacedString, group: &Group) -> Pocket {
    let (tier, lane) = matter.pocket(placed);
    let racks = at_group(placed, group).unwrap_or_default();
    let number = |rack: usize| matter.figures.consist.racks.get(rack).map_or(0, |place| place.number);
    let partly = match racks.len() {
        _ if racks == group.racks => String::new(),
        1 => format!("rack {} only", number(racks.start)),
        _ => format!("racks {} to {}", number(racks.start), number(racks.end.saturating_sub(1))),
    };
    let held = matter.holds(placed).iter().filter_map(|hold| {
        let rack = matter.figures.consist.rack_named(matter.plan(), hold)?;
        group.racks.contains(&rack).then(|| format!("{}/{}", hold.vehicle, hold.rack))
    });
    let held: Vec<String> = held.collect();
    Pocket {
        tier,
        lane,
        drop: matter.drop_of(placed),
        mark: matter.mark(placed),
        section: matter.section(placed),
        length: matter.length(placed.rear - placed.front),
        partly,
        held: if held.is_empty() { String::new() } else { format!("held {}", held.join(", ")) },
    }
}

/// Front ends, rear ends and holds in the group, from the front.
fn ends(flow: &mut Flow, matter: &Matter<'_>, group: &Group) {
    let mut rows: Vec<(i64, u32, u32, Vec<Cell>)> = Vec::new();
    for placed in matter.figures.present(0) {
        let (tier, lane) = matter.pocket(placed);
        let mut row = |mm: i64, what: &str, place: String| {
            let cells = vec![
                Cell::strong(matter.mark(placed)),
                Cell::strong(tier.to_string()),
                Cell::strong(lane.to_string()),
                what.into(),
                place.into(),
            ];
            rows.push((mm, tier, lane, cells));
        };
        if let Some((first, last)) = matter.end_racks(placed.front, placed.rear) {
            if group.racks.contains(&first) {
                row(
                    placed.front.mm(),
                    "front end",
                    matter.end_words(placed.front, placed.rear, TrainEnd::Front),
                );
            }
            if group.racks.contains(&last) {
                row(
                    placed.rear.mm(),
                    "rear end",
                    matter.end_words(placed.front, placed.rear, TrainEnd::Rear),
                );
            }
        }
        for hold in matter.holds(placed) {
            let at =
                matter.figures.consist.rack_named(matter.plan(), hold).filter(|at| group.racks.contains(at));
            if let Some(rack) = at.and_then(|at| matter.figures.consist.racks.get(at)) {
                row(rack.x.mm(), "held", format!("at {} rack {}", hold.vehicle, hold.rack));
            }
        }
    }
    rows.sort_by_key(|(x, tier, lane, _)| (*x, *tier, *lane));
    let mut table = Table::new(vec![
        Column::new(Kind::Words, "string"),
        Column::new(Kind::Mark, "tier"),
        Column::new(Kind::Mark, "lane"),
        Column::new(Kind::Words, "what"),
        Column::new(Kind::Words, "where"),
        Column::new(Kind::Tick, "done"),
    ])
    .under(vec![(format!("Ends and holds on {}", title(matter, group)), 6)])
    .at_most(7.0);
    for (_, _, _, cells) in rows {
        table.row(cells);
    }
    flow.gap(1.5);
    table.put(flow, "No end and no hold lies here: every string runs through.");
}

#[cfg(test)]
mod tests {
    use super::super::SheetOptions;
    use super::*;
    use crate::checks::assess;
    use crate::fixtures::{empty_plan, place};
    use crate::model::Plan;
    use crate::statics::Scope;
    use std::sync::Arc;

    fn check(plan: Plan, expected: &[&[usize]]) {
        let figures = Figures::of(Arc::new(plan), Scope::All);
        let (assessment, options) = (assess(&figures), SheetOptions::default());
        let matter = Matter::new(&figures, &assessment, &options);
        let told: Vec<Vec<usize>> = groups(&matter).into_iter().map(|group| group.vehicles).collect();
        assert_eq!(told, expected);
    }

    // The fixture's wagons are 19.9 m long with racks at 3.317, 9.95 and 16.583 m.
    #[test]
    fn wagons_that_carry_the_same_at_every_rack_share_a_card() {
        let mut plan = empty_plan(6);
        check(plan.clone(), &[&[0, 1, 2, 3, 4, 5]]);
        place(&mut plan, "S1", 58_000, (1, 1, 1_000));
        check(plan.clone(), &[&[0, 1, 2], &[3, 4, 5]]);
        // S2 begins behind the first rack of W2, so its racks differ.
        place(&mut plan, "S2", 40_000, (1, 2, 25_000));
        check(plan, &[&[0], &[1], &[2], &[3], &[4, 5]]);
    }
}
