//! A sheet for each site: the steps in order, where each string comes to lie, the state after it, and times.

use super::flow::{Flow, Type};
use super::loading;
use super::matter::{Matter, NOT_ENTERED};
use super::table::{Cell, Column, Kind, Stress, Table};
use super::wording::{capital, counted};
use crate::checks::Outcome;
use crate::model::{Drop, OrderedString, Placement, Step, StepKind, StepStrings, Topic, TrackSide, TrainEnd};
use crate::statics::{DropTimes, PairHalf, PlacedString, StateKind};
use crate::units::{Length, Quantity};

/// Adds a part for each drop.
pub(super) fn drop_sheets(flow: &mut Flow, matter: &Matter<'_>) {
    for (at, drop) in matter.plan().drops.iter().enumerate() {
        flow.part(&format!("Site {}: {}", at + 1, drop.name));
        let times = times(matter, at);
        about(flow, matter, drop, times);
        steps(flow, matter, (at, drop), times);
        taken_on(flow, matter, drop);
        after(flow, matter, at);
    }
}

fn times<'a>(matter: &Matter<'a>, drop: usize) -> Option<&'a DropTimes> {
    let asked = matter.plan().route.asked.contains(&Topic::Unloading);
    let times = || matter.figures.unloading().times.iter().find(|times| times.drop == drop);
    asked.then(times).flatten()
}

fn about(flow: &mut Flow, matter: &Matter<'_>, drop: &Drop, times: Option<&DropTimes>) {
    let minutes =
        |s: Option<f64>| s.map_or(NOT_ENTERED.to_owned(), |s| Quantity::time_s(s).show(matter.style));
    let length =
        |length: Option<Length>| length.map_or(NOT_ENTERED.to_owned(), |length| matter.length(length));
    let possession = minutes(drop.possession_min.map(|minutes| minutes * 60.0));
    let handling = minutes(drop.handling_min.map(|minutes| minutes * 60.0));
    let mut facts = vec![
        ("place", if drop.place.trim().is_empty() { NOT_ENTERED.to_owned() } else { drop.place.clone() }),
        ("strings go over", format!("the {} end, unless a step says otherwise", end_word(drop.toward))),
        ("gap between strings set down", length(drop.gap_between)),
        ("chute above the seat", length(drop.chute_height)),
        ("seat beside the lane", length(drop.seat_offset)),
        ("possession", possession),
        ("handling per step", handling),
    ];
    if drop.chute_roller_behind.is_some() || drop.chute_roller_lower.is_some() {
        let (behind, lower) = (length(drop.chute_roller_behind), length(drop.chute_roller_lower));
        facts.push(("chute roller", format!("{behind} behind the last rack, {lower} lower")));
    }
    if let Some(times) = times {
        facts.push(("all steps", minutes(times.total_s)));
    }
    let mut table =
        Table::new(vec![Column::new(Kind::Words, "of this site"), Column::new(Kind::Words, "as planned")]);
    for (name, value) in facts.into_iter().filter(|(name, value)| *name == "place" || value != NOT_ENTERED) {
        table.row(vec![Cell::strong(name), value.into()]);
    }
    table.put(flow, "");
    legs(flow, matter);
    for words in HOW_TO_READ {
        flow.paragraph(words, Type::BODY);
    }
}

/// What the table of steps means.
const HOW_TO_READ: [&str; 2] = [
    "Set-down places are measured along the track, for each side of its own, from where the first string of this site \
     begins, in the direction in which the train is drawn away from it; a string that goes over the other end has none \
     here. Two rows of one step are a pair, one string for each side of the track. \"Held at\" names the clamp to open \
     before a string is drawn off, or to shut once a string lies that comes on.",
    "\"Used\" is the largest use, in that state, of the limits that change from state to state: loads, balance, heights. \
     \"Half done\" is the state with only this string of its pair moved; for a pair that goes together \
     it is told and not judged. Between the steps of a site the working values hold where they are entered. A state that \
     breaks a limit says so: stop and ask before that step.",
];

/// How the train is hauled, as far as somebody entered it.
fn legs(flow: &mut Flow, matter: &Matter<'_>) {
    let legs = &matter.plan().route.legs;
    if legs.is_empty() {
        return;
    }
    let told: Vec<String> =
        legs.iter().map(|leg| format!("{} with the {} leading", leg.name, end_word(leg.leading))).collect();
    flow.paragraph(&format!("The train is hauled: {}.", told.join("; ")), Type::BODY);
}

fn steps(flow: &mut Flow, matter: &Matter<'_>, (at, drop): (usize, &Drop), times: Option<&DropTimes>) {
    let length = matter.length_sign();
    let mut columns = vec![
        Column::new(Kind::Figure, "step"),
        Column::new(Kind::Words, "how"),
        Column::new(Kind::Words, "string"),
        Column::new(Kind::Words, "section"),
        Column::new(Kind::Figure, format!("length\n{length}")),
        Column::new(Kind::Mark, "tier"),
        Column::new(Kind::Mark, "lane"),
        Column::new(Kind::Mark, "side of\ntrack"),
        Column::new(Kind::Mark, "over"),
        Column::new(Kind::Words, "held at"),
        Column::new(Kind::Figure, format!("from\n{length}")),
        Column::new(Kind::Figure, format!("to\n{length}")),
    ];
    let mut over = vec![(String::new(), 10), ("set down".to_owned(), 2)];
    if times.is_some() {
        let sign = Quantity::time_s(0.0).unit_sign(matter.style);
        columns.extend([
            Column::new(Kind::Figure, format!("takes\n{sign}")),
            Column::new(Kind::Figure, format!("done\n{sign}")),
        ]);
        over.push(("time".to_owned(), 2));
    }
    let has_pairs = drop.steps.iter().any(|step| matches!(step.strings, StepStrings::Pair { .. }));
    let state_columns = || [Column::new(Kind::Figure, "no."), Column::new(Kind::Figure, "used")];
    if has_pairs {
        columns.extend(state_columns());
        over.push(("half done".to_owned(), 2));
    }
    columns.extend(state_columns());
    columns.push(Column::new(Kind::Tick, "done"));
    over.extend([("state after".to_owned(), 2), (String::new(), 1)]);
    let mut table = Table::new(columns).under(over);
    let mut laid = Laid::default();
    let mut clock = Some(0.0);
    for (nth, step) in drop.steps.iter().enumerate() {
        let takes = times.and_then(|times| times.steps.get(nth)).and_then(|time| time.total_s);
        clock = clock.zip(takes).map(|(clock, takes)| clock + takes);
        let places = laid.set_down(matter, drop, step);
        for (row, (mark, place)) in step.strings.marks().zip(places).enumerate() {
            let string = matter.plan().string(mark);
            let first = row == 0;
            let mut cells = vec![
                Cell::strong(if first { (nth + 1).to_string() } else { String::new() }),
                Cell::new(if first { how(step) } else { String::new() }),
                Cell::strong(mark.to_string()),
            ];
            cells.extend(string_cells(matter, string));
            cells.push(end_word(step.toward.unwrap_or(drop.toward)).into());
            cells.push(
                matter
                    .plan()
                    .placement(mark)
                    .map_or_else(String::new, |at| matter.holds_words(&at.holds))
                    .into(),
            );
            let place = place.map(|(from, to)| [from, to].map(|at| matter.length_number(at)));
            cells.extend(place.unwrap_or([NOT_ENTERED; 2].map(str::to_owned)).map(Cell::from));
            if times.is_some() {
                let time = |s: Option<f64>| match (first, s) {
                    (false, _) => String::new(),
                    (true, None) => NOT_ENTERED.to_owned(),
                    (true, Some(s)) => Quantity::time_s(s).show_number(matter.style),
                };
                cells.extend([Cell::new(time(takes)), Cell::new(time(clock))]);
            }
            if has_pairs {
                let half = if first { PairHalf::First } else { PairHalf::Second };
                cells.extend(state_cells(matter, StateKind::HalfPair { drop: at, step: nth, half }));
            }
            cells.extend(match first {
                true => state_cells(matter, StateKind::AfterStep { drop: at, step: nth }),
                false => [Cell::default(), Cell::default()],
            });
            table.row(cells);
        }
    }
    flow.heading("Steps in order", 24.0);
    table.put(flow, "No step is planned at this site.");
}

/// Section, length, tier, lane and side of track of a string of the order.
fn string_cells(matter: &Matter<'_>, string: Option<&OrderedString>) -> Vec<Cell> {
    let Some(string) = string else { return [NOT_ENTERED; 5].map(Cell::from).to_vec() };
    let placement = matter.plan().placement(&string.mark);
    let pocket = |of: fn(&Placement) -> u32| {
        placement.map_or(NOT_ENTERED.to_owned(), |placement| of(placement).to_string())
    };
    vec![
        string.section.as_str().into(),
        matter.length_number(string.length).into(),
        pocket(|placement| placement.tier).into(),
        pocket(|placement| placement.lane).into(),
        string.side.map_or(NOT_ENTERED, side_word).into(),
    ]
}

fn how(step: &Step) -> String {
    let kind = match step.kind {
        StepKind::Off => "off",
        StepKind::On => "back on",
    };
    match step.strings {
        StepStrings::One(_) => kind.to_owned(),
        StepStrings::Pair { together: true, .. } => format!("{kind}, pair together"),
        StepStrings::Pair { together: false, .. } => format!("{kind}, pair one by one"),
    }
}

/// Number and largest use of a state; empty where there is no such state.
fn state_cells(matter: &Matter<'_>, kind: StateKind) -> [Cell; 2] {
    match matter.figures.states.iter().position(|state| state.kind == kind) {
        Some(state) => [state.to_string().into(), used_cell(matter, state)],
        None => [Cell::default(), Cell::default()],
    }
}

/// The largest use in a state; a limit that is broken there is told in a word, and what nobody can say as well.
fn used_cell(matter: &Matter<'_>, state: usize) -> Cell {
    let used = matter.used(matter.assessment.state_uses.get(state).copied().flatten());
    match matter.assessment.in_state(state).first().map(|(_, told)| told.outcome) {
        Some(Outcome::Fail) => Cell::stressed(format!("{used}\nbreaks a limit"), Stress::Broken),
        Some(Outcome::Undecided) => Cell::stressed(format!("{used}\nundecided"), Stress::Near),
        Some(Outcome::Near) => Cell::stressed(used, Stress::Near),
        _ => Cell::new(used),
    }
}

/// Where strings come to lie that this site puts on the train.
fn taken_on(flow: &mut Flow, matter: &Matter<'_>, drop: &Drop) {
    let on = drop.steps.iter().filter(|step| step.kind == StepKind::On);
    let marks: Vec<_> = on.flat_map(|step| step.strings.marks()).collect();
    if marks.is_empty() {
        return;
    }
    flow.heading("Where the strings that come on are to lie", 20.0);
    let mut columns = loading::string_columns(matter);
    columns.extend(["on", "held"].map(|head| Column::new(Kind::Tick, head)));
    let mut table = Table::new(columns);
    let figures = matter.figures;
    for mark in marks {
        match figures.placed.iter().find(|placed| matter.mark(placed) == mark.as_str()) {
            Some(placed) => table.row(loading::string_cells(matter, placed)),
            None => table.row(vec![Cell::strong(mark.to_string()), "has no place in this plan".into()]),
        }
    }
    table.put(flow, "");
}

/// The load with which the train travels on.
fn after(flow: &mut Flow, matter: &Matter<'_>, drop: usize) {
    let after = StateKind::AfterDrop { drop };
    let Some(state) = matter.figures.states.iter().position(|state| state.kind == after) else { return };
    let present: Vec<_> = matter.figures.present(state).collect();
    let kg: f64 = present.iter().map(|placed| placed.mass_kg).sum();
    let used = matter.assessment.state_uses.get(state).copied().flatten();
    flow.heading("As the train travels on", 10.0);
    flow.paragraph(
        &format!(
            "{}: {} on the train, {} of rails; of the limits that change from state to state the largest use is {}.",
            capital(&matter.state_name(state)),
            counted(present.len(), "string is", "strings are"),
            matter.mass(kg),
            matter.used(used)
        ),
        Type::BODY,
    );
    let marks: Vec<String> = present.iter().map(|placed| matter.mark(placed)).collect();
    if !marks.is_empty() {
        flow.paragraph(&marks.join(", "), Type::NOTE);
    }
    before_travelling_on(flow, &present, matter);
}

/// What is looked at again before the train leaves the site.
fn before_travelling_on(flow: &mut Flow, present: &[&PlacedString], matter: &Matter<'_>) {
    let holds: usize = present.iter().map(|placed| matter.holds(placed).len()).sum();
    let items = [
        format!(
            "All steps of this site are done, or the state as left was judged; {} on the train, counted.",
            counted(present.len(), "string is", "strings are")
        ),
        format!(
            "{} set and locked on what stays, as the loading list and this sheet name them; all other clamps are \
                 open.",
            counted(holds, "hold is", "holds are")
        ),
        "Chutes, rollers, gates and booms are stowed and pinned for travelling.".to_owned(),
        "Ends, overhangs and outline are as planned; nothing loose is left on decks, racks or idlers."
            .to_owned(),
        "Couplings and brakes are as local rules ask; the train is not moved while anybody is on it."
            .to_owned(),
    ];
    flow.heading("Before the train travels on", 16.0);
    let mut table = Table::new(vec![
        Column::new(Kind::Figure, "no."),
        Column::new(Kind::Words, "what to look for (common practice; local rules come first)"),
        Column::new(Kind::Tick, "done"),
        Column::new(Kind::Field, "by"),
    ]);
    for (nth, item) in items.into_iter().enumerate() {
        table.row(vec![(nth + 1).to_string().into(), item.into(), Cell::default(), Cell::default()]);
    }
    table.put(flow, "");
}

/// How far the track is laid, for each side and for strings without one.
#[derive(Debug, Default)]
struct Laid {
    left: Option<Length>,
    right: Option<Length>,
    unknown: Option<Length>,
}

impl Laid {
    /// From and to of each string of a step; none for strings that come back on, or that go over the other end, from
    /// under which the train is drawn the other way.
    fn set_down(&mut self, matter: &Matter<'_>, drop: &Drop, step: &Step) -> Vec<Option<(Length, Length)>> {
        let gap = drop.gap_between.unwrap_or(Length::ZERO);
        let strings: Vec<_> = step.strings.marks().map(|mark| matter.plan().string(mark)).collect();
        if step.kind == StepKind::On || step.toward.is_some_and(|toward| toward != drop.toward) {
            return strings.iter().map(|_| None).collect();
        }
        // The strings of a pair begin side by side, even where nobody entered which is for which side.
        let begin = self.unknown.map_or(Length::ZERO, |end| end + gap);
        let places = strings.iter().map(|string| {
            let string = (*string)?;
            let end = match string.side {
                Some(TrackSide::Left) => &mut self.left,
                Some(TrackSide::Right) => &mut self.right,
                None => {
                    let to = begin + string.length;
                    self.unknown = Some(self.unknown.map_or(to, |end| end.max(to)));
                    return Some((begin, to));
                }
            };
            let from = end.map_or(Length::ZERO, |end| end + gap);
            *end = Some(from + string.length);
            Some((from, from + string.length))
        });
        places.collect()
    }
}

fn side_word(side: TrackSide) -> &'static str {
    match side {
        TrackSide::Left => "left",
        TrackSide::Right => "right",
    }
}

fn end_word(end: TrainEnd) -> &'static str {
    match end {
        TrainEnd::Front => "front",
        TrainEnd::Rear => "rear",
    }
}

#[cfg(test)]
mod tests {
    use super::super::SheetOptions;
    use super::*;
    use crate::checks::assess;
    use crate::fixtures::{drop_off, empty_plan, place};
    use crate::model::{Plan, StringMark};
    use crate::statics::{Figures, Scope};
    use std::sync::Arc;

    /// From and to in m of every string of the first drop, in the order of its steps.
    fn check(plan: Plan, expected: &[Option<(i64, i64)>]) {
        let figures = Figures::of(Arc::new(plan), Scope::All);
        let (assessment, options) = (assess(&figures), SheetOptions::default());
        let matter = Matter::new(&figures, &assessment, &options);
        let drop = &matter.plan().drops[0];
        let mut laid = Laid::default();
        let places = drop.steps.iter().flat_map(|step| laid.set_down(&matter, drop, step));
        let told: Vec<_> =
            places.map(|place| place.map(|(from, to)| (from.mm() / 1000, to.mm() / 1000))).collect();
        assert_eq!(told, expected);
    }

    fn plan() -> Plan {
        let mut plan = empty_plan(3);
        for (lane, (mark, m)) in (1..).zip([("S1", 20), ("S2", 30), ("S3", 40), ("S4", 25)]) {
            place(&mut plan, mark, m * 1000, (1, lane, 2_000));
        }
        plan.drops = vec![drop_off("Site", &["S1", "S2", "S3", "S4"])];
        plan.drops[0].gap_between = Some(Length::from_mm(1_000));
        plan
    }

    #[test]
    fn strings_lie_one_behind_the_other_on_each_side_of_the_track() {
        check(plan(), &[Some((0, 20)), Some((21, 51)), Some((52, 92)), Some((93, 118))]);
        let mut sided = plan();
        for (string, side) in
            sided.order.iter_mut().zip([TrackSide::Left, TrackSide::Right].into_iter().cycle())
        {
            string.side = Some(side);
        }
        check(sided, &[Some((0, 20)), Some((0, 30)), Some((21, 61)), Some((31, 56))]);
    }

    #[test]
    fn a_pair_begins_side_by_side_and_what_comes_back_on_is_not_set_down() {
        let mut pair = plan();
        let mark = |text| StringMark::new(text).unwrap();
        let steps = &mut pair.drops[0].steps;
        steps[0].strings = StepStrings::Pair { first: mark("S1"), second: mark("S2"), together: true };
        steps.remove(1);
        steps[2].kind = StepKind::On;
        check(pair, &[Some((0, 20)), Some((0, 30)), Some((31, 71)), None]);
    }
}
