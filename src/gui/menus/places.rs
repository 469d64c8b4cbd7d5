//! The menus of a pocket and of a rack.

use super::{Item, Line};
use crate::checks::Subject;
use crate::gui::canvas::{self, Pocket, rack_words};
use crate::gui::{Command, Request, SelectMode, Shown, Tab, ZoomTarget};
use crate::model::StringMark;

/// The lines for a pocket: of what lies in it, if something does, then of its place.
pub(super) fn pocket_lines(shown: &Shown<'_>, rack: usize, pocket: Pocket) -> Vec<Line> {
    if shown.settled.consist.racks.get(rack).is_none() {
        return Vec::new();
    }
    let place = format!("{}, tier {} lane {}", rack_name(shown, rack), pocket.tier, pocket.lane);
    let mut lines = vec![Line::Title(place)];
    if let Some(mark) = string_in(shown, rack, pocket) {
        lines = super::string::lines(shown, &mark);
        lines.push(Line::Gap);
    } else {
        lines.push(put_item(shown, (rack, pocket)).by("Enter").into());
    }
    lines.push(fill_item(shown, rack, Some(pocket.tier)).into());
    lines.push(Line::More { words: "This rack".to_owned(), lines: rack_lines(shown, rack) });
    lines
}

/// The lines for a rack.
pub(super) fn rack_lines(shown: &Shown<'_>, rack: usize) -> Vec<Line> {
    let consist = &shown.settled.consist;
    let Some(place) = consist.racks.get(rack) else { return Vec::new() };
    let tiers = shown.settled.plan.train.rack_types.get(place.rack_type).map_or(0, |kind| kind.tiers.len());
    let fills = (1..=tiers as u32).map(|tier| fill_item(shown, rack, Some(tier)).into());
    let on_it = strings_on(shown, rack);
    let none = on_it.is_empty().then(|| "No string lies on it in this state".to_owned());
    let words = format!("Select what lies on it ({})", on_it.len());
    let select = Request::Select { strings: on_it, mode: SelectMode::Only };
    vec![
        Line::Title(rack_name(shown, rack)),
        Item::new("Show in the rack face", Request::ShowRack(rack))
            .and(Request::Command(Command::GoTo(crate::gui::Pane::RackFace)))
            .into(),
        Item::new("Zoom to it", Request::ShowRack(rack)).and(Request::ZoomTo(ZoomTarget::Rack(rack))).into(),
        Line::More { words: "Fill from the yard list".to_owned(), lines: fills.collect() },
        Item::new(words, select).unless(none).into(),
        Line::Gap,
        Item::new("Show in the table", Request::ShowRack(rack)).and(Request::ShowTab(Tab::Racks)).into(),
        Item::new("Edit its rack type...", Request::EditRackType(place.rack_type)).into(),
        Line::How(Subject::Rack(rack)),
        Line::Gap,
        Line::More { words: "Its vehicle".to_owned(), lines: super::vehicle::lines(shown, place.vehicle) },
    ]
}

fn rack_name(shown: &Shown<'_>, rack: usize) -> String {
    rack_words(&shown.settled.plan, &shown.settled.consist, rack)
}

/// The string that lies in a pocket of a rack in the state shown.
fn string_in(shown: &Shown<'_>, rack: usize, pocket: Pocket) -> Option<StringMark> {
    let crossing = shown.settled.present(shown.state).filter(|placed| placed.racks.contains(&rack));
    let placements = crossing.filter_map(|placed| shown.settled.plan.placements.get(placed.placement));
    placements.into_iter().find(|place| Pocket::of(place) == pocket).map(|place| place.string.clone())
}

fn strings_on(shown: &Shown<'_>, rack: usize) -> Vec<StringMark> {
    let crossing = shown.settled.present(shown.state).filter(|placed| placed.racks.contains(&rack));
    crossing
        .filter_map(|placed| shown.settled.plan.order.get(placed.string))
        .map(|string| string.mark.clone())
        .collect()
}

/// Puts what is selected into a pocket.
fn put_item(shown: &Shown<'_>, (rack, pocket): (usize, Pocket)) -> Item {
    let selected: Vec<StringMark> = shown.selection.strings.iter().cloned().collect();
    let words = match selected.as_slice() {
        [only] => format!("Put string {only} here"),
        several => format!("Put the {} selected strings here", several.len()),
    };
    match selected.is_empty() {
        true => Item {
            words: "Put the selected string here".to_owned(),
            keys: String::new(),
            wish: Err("Select a string first, in the yard list or on the train".to_owned()),
        },
        false => Item::new(words, Request::PutInto { rack, pocket }),
    }
}

/// Fills a tier of a rack, the lowest free one where none is named: from what is selected in the yard list, else with
/// what leaves last.
pub(super) fn fill_item(shown: &Shown<'_>, rack: usize, tier: Option<u32>) -> Item {
    let (plan, consist) = (&shown.settled.plan, &shown.settled.consist);
    let strings = canvas::strings_to_fill(plan, &shown.selection.strings);
    let words = tier.map_or_else(
        || Command::FillTier.title().to_owned(),
        |tier| format!("Fill tier {tier} from the yard list"),
    );
    let keys = Command::FillTier.keys().into_iter().next().filter(|_| tier.is_none()).unwrap_or_default();
    let tier = tier.unwrap_or_else(|| canvas::tier_to_fill(plan, consist, rack, &strings));
    Item::change(words, canvas::fill_tier(plan, consist, (rack, tier), &strings)).by(&keys)
}
