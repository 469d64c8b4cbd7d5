//! One string in full: its line of the order, its place, and what it does on its racks.

use super::how::how_title_ui;
use super::inspector::figures_ui;
use super::string_results::string_results_ui;
use crate::checks::Subject;
use crate::edit::{Edit, Locked, Move, Rows};
use crate::gui::canvas::{move_to, rack_ref, rack_words};
use crate::gui::commands::Command;
use crate::gui::fields::{
    Spec, choice_ui, form_grid, length_ui, name_ui, number_ui, pick_ui, quantity_ui, take_focus,
};
use crate::gui::glossary::term_ui;
use crate::gui::{Request, Shown, ZoomTarget};
use crate::model::{
    DropName, MassEntry, OrderedString, Placement, RackKind, RackRef, RackSpan, StatedBasis, StringMark,
    TrackSide,
};
use crate::report::Judged;
use crate::statics::{BeamError, PlacedString, Trouble};
use crate::units::Quantity;
use egui::{RichText, Ui};

/// Draws the details of the string with `mark`.
pub(super) fn string_ui(ui: &mut Ui, shown: &Shown<'_>, mark: &StringMark, requests: &mut Vec<Request>) {
    let Some(string) = shown.plan.string(mark) else { return };
    let at = shown.plan.order.iter().position(|other| other.mark == *mark);
    how_title_ui(ui, shown, (&format!("String {mark}"), Subject::String(at.unwrap_or_default())), requests);
    // Where it lies changes most often, so that comes first.
    match shown.plan.placement(mark) {
        None if shown.judged == Judged::AsLoaded => {
            ui.weak("Not on the train as it was loaded. Strings are moved in the load as planned (J).");
        }
        None => {
            ui.weak("In the yard: drag it to a pocket.");
            let button = ui.button("Place in a free pocket");
            take_focus(&button);
            if button.clicked() {
                requests.push(Request::PlaceFree(vec![mark.clone()]));
            }
        }
        Some(placement) => place_ui(ui, shown, placement, requests),
    }
    ui.add_space(4.0);
    ui.label(RichText::new("In the order").strong());
    form_grid(("string", mark.as_str())).show(ui, |ui| {
        name_and_section_ui(ui, shown, string, requests);
        order_ui(ui, shown, string, requests);
        mass_ui(ui, shown, string, requests);
    });
    ui.add_space(4.0);
    beam_ui(ui, shown, mark);
    if let Some(placed) = placed_of(shown, mark) {
        string_results_ui(ui, shown, placed);
    }
    ui.separator();
}

/// A request to change the string's line of the order.
fn change(string: &OrderedString, change: impl FnOnce(&mut OrderedString)) -> Request {
    let mut to = string.clone();
    change(&mut to);
    Request::Edit(Edit::Strings(Rows::Change { name: string.mark.clone(), to }))
}

fn name_and_section_ui(ui: &mut Ui, shown: &Shown<'_>, string: &OrderedString, requests: &mut Vec<Request>) {
    term_ui(ui, "Mark");
    if let Some(mark) = name_ui(ui, Spec::new("String mark"), string.mark.as_str()) {
        requests.push(change(string, |to| to.mark = mark));
    }
    ui.end_row();
    term_ui(ui, "Section");
    let sections = &shown.plan.sections;
    let names: Vec<String> = sections.iter().map(|section| section.name.to_string()).collect();
    let now = sections.iter().position(|section| section.name == string.section);
    if let Some(row) = pick_ui(ui, Spec::new("Section"), now, &names).and_then(|at| sections.get(at)) {
        requests.push(change(string, |to| to.section = row.name.clone()));
    }
    ui.end_row();
    term_ui(ui, "Steel");
    let steels = &shown.plan.steels;
    let names: Vec<String> = std::iter::once("not said".to_owned())
        .chain(steels.iter().map(|steel| steel.name.to_string()))
        .collect();
    let now = match &string.steel {
        None => Some(0),
        Some(name) => steels.iter().position(|steel| steel.name == *name).map(|at| at + 1),
    };
    if let Some(at) = pick_ui(ui, Spec::new("Steel"), now, &names) {
        let steel = at.checked_sub(1).and_then(|at| steels.get(at)).map(|steel| steel.name.clone());
        requests.push(change(string, |to| to.steel = steel));
    }
    ui.end_row();
}

fn order_ui(ui: &mut Ui, shown: &Shown<'_>, string: &OrderedString, requests: &mut Vec<Request>) {
    term_ui(ui, "Length");
    ui.horizontal(|ui| {
        if let Some(length) = length_ui(ui, Spec::new("Length"), string.length, shown.style) {
            requests.push(change(string, |to| to.length = length));
        }
    });
    ui.end_row();
    term_ui(ui, "Side of track");
    let sides = [(None, "not said"), (Some(TrackSide::Left), "left"), (Some(TrackSide::Right), "right")];
    if let Some(side) = choice_ui(ui, Spec::new("Side of track"), string.side, &sides) {
        requests.push(change(string, |to| to.side = side));
    }
    ui.end_row();
    term_ui(ui, "Drop");
    if let Some(drop) = drop_pick_ui(ui, shown, string.drop.as_ref()) {
        requests.push(change(string, |to| to.drop = drop));
    }
    ui.end_row();
}

/// A choice of a drop or of none.
pub(super) fn drop_pick_ui(
    ui: &mut Ui,
    shown: &Shown<'_>,
    now: Option<&DropName>,
) -> Option<Option<DropName>> {
    let drops = &shown.plan.drops;
    let names: Vec<String> =
        std::iter::once("none".to_owned()).chain(drops.iter().map(|drop| drop.name.to_string())).collect();
    let at = now.and_then(|name| drops.iter().position(|drop| drop.name == *name)).map_or(0, |at| at + 1);
    let chosen = pick_ui(ui, Spec::new("Drop"), Some(at), &names)?;
    Some(chosen.checked_sub(1).and_then(|at| drops.get(at)).map(|drop| drop.name.clone()))
}

fn mass_ui(ui: &mut Ui, shown: &Shown<'_>, string: &OrderedString, requests: &mut Vec<Request>) {
    let computed = shown.plan.section(&string.section).map_or(0.0, |section| section.mass_kg(string.length));
    term_ui(ui, "Mass");
    let basis = match string.mass {
        MassEntry::Computed => None,
        MassEntry::Stated { basis, .. } => Some(basis),
    };
    let choices = [
        (None, "computed"),
        (Some(StatedBasis::Weighed), "weighed"),
        (Some(StatedBasis::Document), "from a document"),
    ];
    if let Some(basis) = choice_ui(ui, Spec::new("Basis of the mass"), basis, &choices) {
        let kg = match string.mass {
            MassEntry::Computed => computed,
            MassEntry::Stated { kg, .. } => kg,
        };
        let mass = basis.map_or(MassEntry::Computed, |basis| MassEntry::Stated { kg, basis });
        requests.push(change(string, |to| to.mass = mass));
    }
    ui.end_row();
    ui.label("");
    match string.mass {
        MassEntry::Computed => {
            ui.label(Quantity::mass(computed).show(shown.style));
        }
        MassEntry::Stated { kg, basis } => {
            ui.horizontal(|ui| {
                let spec = Spec::new("Stated mass").wide(90.0);
                if let Some(kg) = quantity_ui(ui, spec, Quantity::mass(kg), shown.style) {
                    requests.push(change(string, |to| to.mass = MassEntry::Stated { kg, basis }));
                }
            });
        }
    }
    ui.end_row();
}

fn place_ui(ui: &mut Ui, shown: &Shown<'_>, placement: &Placement, requests: &mut Vec<Request>) {
    let mark = &placement.string;
    form_grid(("place", mark.as_str())).show(ui, |ui| {
        let moved = |tier: u32, lane: u32, front| {
            let (plan, consist) = (&shown.settled.plan, &shown.settled.consist);
            match move_to(plan, consist, (mark, shown.pairs), (tier, lane, front)) {
                Some(change) => Request::Change(change),
                // It cannot lie there; the edit says why.
                None => {
                    let moves = vec![Move { string: mark.clone(), tier, lane, front }];
                    Request::Edit(Edit::Move { moves })
                }
            }
        };
        let (tier, lane, front) = (placement.tier, placement.lane, placement.front);
        term_ui(ui, "Front end at");
        ui.horizontal(|ui| {
            if let Some(front) = length_ui(ui, Spec::new("Front end at"), front, shown.style) {
                requests.push(moved(tier, lane, front));
            }
        });
        ui.end_row();
        term_ui(ui, "Tier, lane");
        ui.horizontal(|ui| {
            let number = |ui: &mut Ui, name: &str, now: u32| {
                let spec = Spec::new(name).wide(36.0);
                let given = number_ui(ui, spec, (f64::from(now), ""), shown.style)?;
                (given >= 1.0).then(|| given.round() as u32)
            };
            if let Some(tier) = number(ui, "Tier", tier) {
                requests.push(moved(tier, lane, front));
            }
            if let Some(lane) = number(ui, "Lane", lane) {
                requests.push(moved(tier, lane, front));
            }
        });
        ui.end_row();
        hold_ui(ui, shown, placement, requests);
        rests_on_ui(ui, shown, placement, requests);
        term_ui(ui, "Locked in place");
        let mut locked = placement.locked;
        if ui.checkbox(&mut locked, "").accessible_name("Locked in place").changed() {
            let locked = if locked { Locked::Yes } else { Locked::No };
            requests.push(Request::Edit(Edit::SetLocked { strings: vec![mark.clone()], locked }));
        }
        ui.end_row();
    });
    ui.horizontal(|ui| {
        if ui.button(Command::TakeOff.title()).clicked() {
            requests.push(Request::Command(Command::TakeOff));
        }
        if ui.button("Show").on_hover_text("Bring it into view").clicked() {
            requests.push(Request::ZoomTo(ZoomTarget::Strings(vec![mark.clone()])));
        }
    });
}

/// A rack under a string.
struct Under {
    words: String,
    reference: RackRef,
    clamps: bool,
}

/// The racks under the string, front first.
fn racks_under(shown: &Shown<'_>, mark: &StringMark) -> Vec<Under> {
    let Some(placed) = placed_of(shown, mark) else { return Vec::new() };
    let (plan, consist) = (shown.plan, &shown.figures.consist);
    let under = |rack: usize| {
        let kind = consist.racks.get(rack).and_then(|place| plan.train.rack_types.get(place.rack_type));
        Some(Under {
            words: rack_words(plan, consist, rack),
            reference: rack_ref(plan, consist, rack)?,
            clamps: kind.is_some_and(|kind| kind.kind == RackKind::Clamping),
        })
    };
    placed.racks.clone().filter_map(under).collect()
}

fn hold_ui(ui: &mut Ui, shown: &Shown<'_>, placement: &Placement, requests: &mut Vec<Request>) {
    let mut under = racks_under(shown, &placement.string);
    // Only what can hold a string is offered, unless nothing under it can.
    if under.iter().any(|rack| rack.clamps) {
        under.retain(|rack| rack.clamps);
    }
    let set = |holds| Request::Edit(Edit::SetHolds { string: placement.string.clone(), holds });
    ui.label(if placement.holds.len() > 1 { "Held twice" } else { "Held at" });
    ui.vertical(|ui| {
        for (at, hold) in placement.holds.iter().enumerate().skip(1) {
            ui.horizontal(|ui| {
                ui.label(format!("{} rack {}", hold.vehicle, hold.rack));
                if ui.small_button("Let go").clicked() {
                    let mut holds = placement.holds.clone();
                    holds.remove(at);
                    requests.push(set(holds));
                }
            });
        }
        let now = placement.holds.first();
        let names: Vec<String> = under.iter().map(|rack| rack.words.clone()).collect();
        let at = now.and_then(|hold| under.iter().position(|rack| rack.reference == *hold));
        let hint = now.map_or("nowhere".to_owned(), |hold| format!("{} rack {}", hold.vehicle, hold.rack));
        let spec = Spec::new("Held at").wide(110.0).hint(&hint);
        if let Some(rack) = pick_ui(ui, spec, at, &names).and_then(|at| under.get(at)) {
            let others = placement.holds.iter().skip(1).cloned();
            requests.push(set(std::iter::once(rack.reference.clone()).chain(others).collect()));
        }
        if ui.small_button("Nearest the middle").clicked() {
            requests.push(Request::Command(Command::HoldAtMiddle));
        }
    });
    ui.end_row();
}

fn rests_on_ui(ui: &mut Ui, shown: &Shown<'_>, placement: &Placement, requests: &mut Vec<Request>) {
    let under = racks_under(shown, &placement.string);
    let set = |rests_on| Request::Edit(Edit::SetRestsOn { string: placement.string.clone(), rests_on });
    term_ui(ui, "Meant to rest on");
    ui.vertical(|ui| match &placement.rests_on {
        None => {
            let ends = under.first().zip(under.last());
            let button = ui.small_button("Say: the racks now under it");
            if let Some((first, last)) = ends.filter(|_| button.clicked()) {
                requests.push(set(Some(RackSpan {
                    first: first.reference.clone(),
                    last: last.reference.clone(),
                })));
            }
        }
        Some(span) => {
            ui.label(format!(
                "{} rack {} to {} rack {}",
                span.first.vehicle, span.first.rack, span.last.vehicle, span.last.rack
            ));
            if ui.small_button("Do not say").clicked() {
                requests.push(set(None));
            }
        }
    });
    ui.end_row();
}

fn placed_of<'a>(shown: &Shown<'a>, mark: &StringMark) -> Option<&'a PlacedString> {
    let is_it = |placed: &&PlacedString| {
        shown.plan.placements.get(placed.placement).is_some_and(|placement| placement.string == *mark)
    };
    shown.figures.placed.iter().find(is_it)
}

/// What the string does on its racks.
fn beam_ui(ui: &mut Ui, shown: &Shown<'_>, mark: &StringMark) {
    let Some(placed) = placed_of(shown, mark) else { return };
    let style = shown.style;
    ui.label(RichText::new("On its racks, level and rigid").strong());
    let beam = match &placed.beam {
        Ok(beam) => beam,
        Err(trouble) => {
            let words = match trouble {
                Trouble::Beam(BeamError::NoSupport) => "No rack is under it.".to_owned(),
                Trouble::Beam(BeamError::Tips) => {
                    "It tips: no two racks stand astride its centre of gravity.".to_owned()
                }
                Trouble::NoPocket { rack } => format!(
                    "{} has no such tier or lane.",
                    rack_words(shown.plan, &shown.figures.consist, *rack)
                ),
            };
            ui.colored_label(shown.theme.color(crate::gui::Role::Fail), words);
            return;
        }
    };
    let span = beam.spans.iter().map(|span| span.length_m).fold(0.0, f64::max);
    let sag = beam.spans.iter().map(|span| span.sag_m).fold(0.0, f64::max);
    let carried = |kg: Option<f64>| kg.map_or(String::new(), |kg| Quantity::mass(kg).show(style));
    let most = placed.carried_kg.iter().copied().reduce(f64::max);
    let least = placed.carried_kg.iter().copied().reduce(f64::min);
    let lifted = beam.carries.iter().filter(|carries| !**carries).count();
    let rows = [
        ("Rear end at", Quantity::length(placed.rear).show(style)),
        ("Front overhang", Quantity::length_m(beam.front_overhang_m).show(style)),
        ("Rear overhang", Quantity::length_m(beam.rear_overhang_m).show(style)),
        ("Racks under it", placed.racks.len().to_string()),
        ("Racks it lifts off", lifted.to_string()),
        ("Largest span", Quantity::length_m(span).show(style)),
        ("Largest sag", Quantity::small_length_m(sag).show(style)),
        ("Most on a rack", carried(most)),
        ("Least on a rack", carried(least)),
        ("Mass", Quantity::mass(placed.mass_kg).show(style)),
    ];
    figures_ui(ui, ("beam", mark.as_str()), &rows);
    ui.collapsing("On each rack", |ui| {
        let each: Vec<(String, String)> = placed
            .racks
            .clone()
            .zip(&placed.carried_kg)
            .map(|(rack, kg)| {
                let words = rack_words(shown.plan, &shown.figures.consist, rack);
                (words, Quantity::small_mass(*kg).show(style))
            })
            .collect();
        let rows: Vec<(&str, String)> =
            each.iter().map(|(words, load)| (words.as_str(), load.clone())).collect();
        figures_ui(ui, ("each rack", mark.as_str()), &rows);
    });
}
