//! The check list before departure, with boxes to tick, and the fields for signatures.

use super::flow::{Flow, Side, Type};
use super::matter::Matter;
use super::page::{Frame, Ink, Line, Mark, Spot};
use super::table::{Cell, Column, Kind, Table};
use super::wording::counted;
use crate::checks::sets_pressing_on;
use crate::model::{BeyondKind, LimitKind, RackKind, TrainEnd};
use crate::units::Quantity;

/// Marks items that come from no written rule.
const PRACTICE: &str = "practice";
const PLAN: &str = "plan";

/// Adds the part.
pub(super) fn departure(flow: &mut Flow, matter: &Matter<'_>) {
    flow.part("Before departure");
    flow.paragraph(
        "To be walked through at the train, item by item; one mark for each. \"Plan\" marks what this plan asks for, \
         \"practice\" what is common practice without a written source. Local rules come first and may ask for more. \
         Nothing here releases the train.",
        Type::BODY,
    );
    let mut table = Table::new(vec![
        Column::new(Kind::Figure, "no."),
        Column::new(Kind::Words, "item"),
        Column::new(Kind::Words, "what to look for"),
        Column::new(Kind::Words, "from"),
        Column::new(Kind::Tick, "done"),
        Column::new(Kind::Field, "by"),
    ])
    .at_most(7.5);
    for (nth, (item, what, from)) in items(matter).into_iter().enumerate() {
        let number = (nth + 1).to_string();
        table.row(vec![
            number.into(),
            Cell::strong(item),
            what.into(),
            from.into(),
            Cell::default(),
            Cell::default(),
        ]);
    }
    table.put(flow, "");
    signatures(flow);
}

type Item = (&'static str, String, &'static str);

fn items(matter: &Matter<'_>) -> Vec<Item> {
    let mut items = vec![holds(matter), free_elsewhere(matter)];
    items.extend([
        (
            "Strings",
            "Every string is in the pocket that its card names, on its foot, alone in its pocket unless the card says \
             otherwise; its ends are where the loading list has them."
                .to_owned(),
            PLAN,
        ),
        (
            "Swinging parts",
            "Posts, gates, bolts, chute rollers and booms that can swing or drop are locked and pinned for travelling."
                .to_owned(),
            PRACTICE,
        ),
        outline(matter),
        overhangs(matter),
        ends(matter),
        couplings(matter),
        light(matter),
    ]);
    items.extend([
        (
            "Brakes",
            "Brake pipes are joined, cocks stand right, the brake test is done by whoever is licensed for it.".to_owned(),
            PRACTICE,
        ),
        (
            "Decks",
            "No loose tools, chains, wedges or offcuts lie on decks, racks or idlers.".to_owned(),
            PRACTICE,
        ),
        (
            "Parked train",
            "A train that stands loaded is on straight and level track as far as can be had, is braked and scotched, its \
             holds stay set, and nobody works below strings that are not held."
                .to_owned(),
            PRACTICE,
        ),
        (
            "Half done",
            "A train does not leave a site between the steps of a drop, unless that very state was judged as a running \
             one."
            .to_owned(),
            PRACTICE,
        ),
    ]);
    items
}

fn holds(matter: &Matter<'_>) -> Item {
    let strings = matter.figures.present(0).count();
    let holds: usize = matter.figures.present(0).map(|placed| matter.holds(placed).len()).sum();
    let what = format!(
        "{} for {} set and locked as the list of holds names them; count them.",
        counted(holds, "hold is", "holds are"),
        counted(strings, "string", "strings")
    );
    ("Holds set", what, PLAN)
}

fn free_elsewhere(matter: &Matter<'_>) -> Item {
    let racks = matter.figures.consist.racks.iter();
    let clamps = racks.filter(|place| {
        let kind = matter.plan().train.rack_types.get(place.rack_type);
        kind.is_some_and(|kind| kind.kind == RackKind::Clamping)
    });
    let what = format!(
        "At every other rack the strings are free to move lengthwise: no clamp is shut that the list does not name \
         ({} in the train).",
        counted(clamps.count(), "clamping rack is", "clamping racks are")
    );
    ("Free elsewhere", what, PRACTICE)
}

fn outline(matter: &Matter<'_>) -> Item {
    let line = matter.plan().route.gauge.as_ref();
    let what = match line {
        Some(line) => format!(
            "Nothing stands out of the reference line {}: neither load nor posts nor chutes.",
            line.name
        ),
        None => {
            "No reference line is entered in this plan, so the outline was not judged: check it on the spot."
                .to_owned()
        }
    };
    ("Outline", what, PLAN)
}

fn overhangs(matter: &Matter<'_>) -> Item {
    let limits = &matter.plan().limits;
    let shown = |kind: LimitKind| {
        let limit = limits.accepted(kind);
        limit.map(|limit| Quantity::length_m(limit.running).show(matter.style))
    };
    let what = match (shown(LimitKind::LeastOverhang), shown(LimitKind::GreatestOverhang)) {
        (Some(least), Some(most)) => {
            format!("Each end reaches past its last rack by at least {least} and at most {most}.")
        }
        (Some(least), None) => {
            format!("Each end reaches past its last rack by at least {least}; no most is accepted.")
        }
        (None, Some(most)) => {
            format!("Each end reaches past its last rack by at most {most}; no least is accepted.")
        }
        (None, None) => {
            "Each end reaches past its last rack as the loading list has it; no limit is accepted.".to_owned()
        }
    };
    ("Overhangs", what, PLAN)
}

/// The outermost ends, and what stands beyond the train.
fn ends(matter: &Matter<'_>) -> Item {
    let (figures, train) = (matter.figures, &matter.plan().train);
    let front = figures.present(0).min_by_key(|placed| placed.front);
    let rear = figures.present(0).max_by_key(|placed| placed.rear);
    let mut words = Vec::new();
    for (placed, end, name) in [(front, TrainEnd::Front, "foremost"), (rear, TrainEnd::Rear, "rearmost")] {
        let Some(placed) = placed else { continue };
        let at = matter.end_words(placed.front, placed.rear, end);
        words.push(format!("The {name} end is that of {}, {at}.", matter.mark(placed)));
    }
    for (beyond, name) in [(train.front_beyond, "front"), (train.rear_beyond, "rear")] {
        let what = match beyond.kind {
            BeyondKind::Nothing => continue,
            BeyondKind::EndStop => "a fixed stop",
            BeyondKind::Vehicle => "another vehicle",
        };
        words.push(format!("Beyond the {name}: {what}, {} away.", matter.length(beyond.distance)));
    }
    words.push("Nothing can strike them in curves and when buffers and couplings give.".to_owned());
    ("Ends of the load", words.join(" "), PLAN)
}

fn couplings(matter: &Matter<'_>) -> Item {
    let slack = matter.plan().train.coupling_slack.map(|slack| matter.length(slack));
    let slack =
        slack.map_or_else(String::new, |slack| format!(" The plan reckons with {slack} of slack in each."));
    let what = format!(
        "Couplings are closed and drawn up alike, so that gaps between wagons are those of the plan.{slack}"
    );
    ("Couplings", what, PRACTICE)
}

/// Light vehicles, and heavy sets that press on them.
fn light(matter: &Matter<'_>) -> Item {
    let limit = matter.plan().limits.accepted(LimitKind::LightVehicle);
    let (Some(limit), Some(state)) = (limit, matter.figures.state(0)) else {
        let what = "Where light or empty vehicles stand in the train is looked at; this plan has no accepted threshold.";
        return ("Light vehicles", what.to_owned(), PRACTICE);
    };
    let light = state.vehicles.iter().enumerate().filter(|(_, loads)| loads.gross_kg < limit.running);
    let marks: Vec<String> = light.map(|(vehicle, _)| matter.vehicle(vehicle)).collect();
    let pressed = sets_pressing_on(matter.figures, state, limit.running).len();
    let below = matter.mass(limit.running);
    let what = match marks.len() {
        0 => format!("No vehicle is lighter than {below} at departure."),
        _ => format!(
            "Lighter than {below} at departure: {}; {} on them.",
            marks.join(", "),
            counted(pressed, "set of wagons presses", "sets of wagons press")
        ),
    };
    ("Light vehicles", what, PLAN)
}

/// Lines for those who loaded, checked and took over.
fn signatures(flow: &mut Flow) {
    flow.heading("Signatures", 44.0);
    for who in ["Loaded by", "Checked by", "Taken over by"] {
        let strip = flow.take(13.0);
        let y = strip.bottom_mm() - 4.2;
        let name = Frame::new(strip.left_mm, y - 4.6, 26.0, 4.6);
        flow.words(who, Type::STRONG, name, Side::Left);
        let mut left = strip.left_mm + 28.0;
        let width = strip.width_mm - 28.0;
        for (field, share) in [("name", 0.34), ("date and time", 0.24), ("signature", 0.42)] {
            let wide = width * share - 3.0;
            flow.mark(Mark::line(Spot::new(left, y), Spot::new(left + wide, y), Line::new(Ink::Black, 0.25)));
            flow.words(field, Type::NOTE.sized(6.2), Frame::new(left, y + 0.2, wide, 3.4), Side::Left);
            left += width * share;
        }
    }
    flow.paragraph(
        "Whoever signs vouches for what was done at the train, not for the computation. A signature is worth what the \
         digits of the plan on this page are: a later plan has others.",
        Type::NOTE,
    );
}
