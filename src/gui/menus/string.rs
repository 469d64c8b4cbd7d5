//! The menu of a string, and of all that are selected with it.

use super::{Item, Line};
use crate::checks::Subject;
use crate::edit::{Edit, Rows};
use crate::gui::canvas::{self, Along, Shift};
use crate::gui::{Command, Pane, Request, SelectMode, Shown, Tab, ZoomTarget};
use crate::model::{OrderedString, StringMark};
use crate::statics::pair_partner;
use crate::units::Length;

/// The lines for `mark` with all that are selected with it.
pub(super) fn lines(shown: &Shown<'_>, mark: &StringMark) -> Vec<Line> {
    let Some(string) = shown.settled.plan.string(mark) else { return Vec::new() };
    let strings = meant(shown, mark);
    let title = match strings.len() {
        1 => format!("String {mark}"),
        count => format!("{count} strings"),
    };
    let mut lines = vec![Line::Title(title)];
    match shown.settled.plan.placement(mark) {
        Some(_) => lines.extend(train_lines(shown, &strings)),
        None => lines.extend(yard_lines(shown, &strings)),
    }
    lines.push(Line::Gap);
    lines.extend(select_lines(shown, string));
    lines.push(Line::Gap);
    lines.extend(look_lines(shown, string));
    lines
}

/// `mark` first, and all that are selected with it and lie where it does: on the train, or in the yard.
fn meant(shown: &Shown<'_>, mark: &StringMark) -> Vec<StringMark> {
    let plan = &shown.settled.plan;
    let is_placed = |mark: &StringMark| plan.placement(mark).is_some();
    let mut strings = vec![mark.clone()];
    if shown.selection.strings.contains(mark) {
        let others = shown.selection.strings.iter().filter(|other| *other != mark);
        strings.extend(others.filter(|other| is_placed(other) == is_placed(mark)).cloned());
    }
    strings
}

fn train_lines(shown: &Shown<'_>, strings: &[StringMark]) -> Vec<Line> {
    let (plan, consist) = (&shown.settled.plan, &shown.settled.consist);
    let mirror = canvas::mirrored(plan, consist, strings);
    let swap = canvas::swapped_two(plan, consist, strings, shown.pairs);
    let locked = strings.iter().filter_map(|mark| plan.placement(mark)).all(|place| place.locked);
    let alone = (strings.len() != 1).then(|| "Choose one string to type its place".to_owned());
    let exact = Item::command(Command::GoTo(Pane::Details)).called("Type its exact place...").unless(alone);
    vec![
        exact.into(),
        Line::More { words: "Move".to_owned(), lines: move_lines(shown, strings) },
        Item::command(Command::Mirror).unless(mirror.err()).into(),
        Item::command(Command::SwapPockets).unless(swap.err()).into(),
        Item::command(Command::HoldAtMiddle).into(),
        Item::command(Command::Lock).called(if locked { "Unlock" } else { "Lock in place" }).into(),
        Item::command(Command::TakeOff).into(),
    ]
}

/// What the arrow keys do, by name.
fn move_lines(shown: &Shown<'_>, strings: &[StringMark]) -> Vec<Line> {
    let (plan, consist) = (&shown.settled.plan, &shown.settled.consist);
    let mm = |along: i64| Shift { along: Length::from_mm(along), ..Shift::default() };
    let across = |tiers: i64, lanes: i64| Shift { tiers, lanes, ..Shift::default() };
    let shifted = |words: &str, keys: &str, shift: Shift| {
        let change = canvas::move_by(plan, consist, strings, shown.pairs, shift);
        Item::change(words, change.ok_or_else(|| "There is no further place that way".to_owned()))
            .by(keys)
            .into()
    };
    let caught = |words: &str, keys: &str, way: Along| {
        let change = canvas::to_next_catch(plan, consist, strings, (shown.pairs, way, shown.style));
        Item::change(words, change.ok_or_else(|| "There is nothing further to catch at".to_owned()))
            .by(keys)
            .into()
    };
    vec![
        caught("Forward to the next catch", "Alt+Left", Along::Forward),
        caught("Rearward to the next catch", "Alt+Right", Along::Rearward),
        Line::Gap,
        shifted("Forward by 1 m", "Shift+Left", mm(-1_000)),
        shifted("Rearward by 1 m", "Shift+Right", mm(1_000)),
        shifted("Forward by 10 mm", "Left", mm(-10)),
        shifted("Rearward by 10 mm", "Right", mm(10)),
        shifted("Forward by 1 mm", "Ctrl+Left", mm(-1)),
        shifted("Rearward by 1 mm", "Ctrl+Right", mm(1)),
        Line::Gap,
        shifted("One tier up", "Up", across(1, 0)),
        shifted("One tier down", "Down", across(-1, 0)),
        shifted("One lane to the left", "", across(0, -1)),
        shifted("One lane to the right", "", across(0, 1)),
    ]
}

fn yard_lines(shown: &Shown<'_>, strings: &[StringMark]) -> Vec<Line> {
    let none = shown.settled.consist.racks.is_empty().then(|| "The train has no rack yet".to_owned());
    let place = Item::new("Place in the first free pocket", Request::PlaceFree(strings.to_vec())).by("Enter");
    let remove = Request::Edit(Edit::Strings(Rows::Remove { names: strings.to_vec() }));
    vec![
        place.unless(none).into(),
        super::places::fill_item(shown, shown.selection.rack, None).into(),
        Item::new("Remove from the order", remove).into(),
    ]
}

fn select_lines(shown: &Shown<'_>, string: &OrderedString) -> Vec<Line> {
    let (plan, consist) = (&shown.settled.plan, &shown.settled.consist);
    let mut lines = Vec::new();
    if let Some(other) = pair_partner(plan, consist, &string.mark) {
        let strings = vec![string.mark.clone(), other.string.clone()];
        let request = Request::Select { strings, mode: SelectMode::Add };
        lines.push(Item::new(format!("Select its pair {}", other.string), request).into());
    }
    let of_drop = plan.order.iter().filter(|other| other.drop == string.drop);
    let strings: Vec<StringMark> = of_drop.map(|other| other.mark.clone()).collect();
    let words = match &string.drop {
        Some(drop) => format!("Select all {} for {drop}", strings.len()),
        None => format!("Select all {} without a drop", strings.len()),
    };
    lines.push(Item::new(words, Request::Select { strings, mode: SelectMode::Only }).into());
    lines
}

fn look_lines(shown: &Shown<'_>, string: &OrderedString) -> Vec<Line> {
    let plan = &shown.settled.plan;
    let index = plan.order.iter().position(|other| other.mark == string.mark).unwrap_or_default();
    let marks = vec![string.mark.clone()];
    let waits = plan.placement(&string.mark).is_none().then(|| "It is in the yard".to_owned());
    let zoom = Item::new("Zoom to it", Request::ZoomTo(ZoomTarget::Strings(marks.clone())));
    let end = |words: &str, end| {
        let request = Request::ZoomTo(ZoomTarget::StringEnd(string.mark.clone(), end));
        Line::from(Item::new(words, request).unless(waits.clone()))
    };
    let tab = if waits.is_some() { Tab::Order } else { Tab::Strings };
    let select = Request::Select { strings: marks, mode: SelectMode::Only };
    vec![
        zoom.by("Z").unless(waits.clone()).into(),
        end("Zoom to its front end", crate::model::TrainEnd::Front),
        end("Zoom to its rear end", crate::model::TrainEnd::Rear),
        Item::new("Show in the table", select).and(Request::ShowTab(tab)).into(),
        Line::How(Subject::String(index)),
    ]
}
