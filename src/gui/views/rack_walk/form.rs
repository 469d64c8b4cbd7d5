//! What is entered of the string chosen: where its ends were measured, its pocket, its hold, or that it is missing.

use super::ground::{Ground, Seen};
use crate::checks::Outcome;
use crate::edit::Edit;
use crate::gui::canvas::{rack_ref, rack_words};
use crate::gui::fields::{Spec, form_grid, length_ui, number_ui, pick_ui};
use crate::gui::panels::mark::mark_ui;
use crate::gui::{Request, Role};
use crate::model::{AsLoaded, RackKind, RackRef, StringMark, TrainEnd};
use crate::planning::lay::first_free_pocket;
use crate::report::Judged;
use crate::units::Length;
use egui::{RichText, Ui};

/// Where a string lies by its record, or by the plan.
struct Lies {
    tier: u32,
    lane: u32,
    front: Length,
    holds: Vec<RackRef>,
    missing: bool,
}

/// Draws the form of the string chosen; `pocket` is an empty one that was clicked: the string lies there.
pub(super) fn form_ui(
    ui: &mut Ui,
    ground: &Ground<'_>,
    pocket: Option<(u32, u32)>,
    requests: &mut Vec<Request>,
) {
    ui.separator();
    let Some(mark) = ground.shown.selection.only_string().cloned() else {
        confirm_all_ui(ui, ground, requests);
        ui.weak("Choose a string: Enter ticks it as planned and goes on to the next; Tab goes on to enter what differs.");
        return;
    };
    let Some(string) = ground.meant.string(&mark) else { return };
    if let Some((tier, lane)) = pocket {
        ground.record(
            &mark,
            |record| (record.tier, record.lane, record.missing) = (tier, lane, false),
            requests,
        );
    }
    ui.push_id(mark.as_str(), |ui| {
        ui.horizontal(|ui| {
            ui.label(RichText::new(mark.as_str()).strong().size(15.0));
            ui.weak(format!("{}, {}", string.section, ground.length(string.length)));
        });
        state_ui(ui, ground, &mark);
        match lies(ground, &mark) {
            None => found_ui(ui, ground, &mark, requests),
            Some(lies) => {
                fields_ui(ui, ground, (&mark, string.length), &lies, requests);
                actions_ui(ui, ground, &mark, requests);
            }
        }
    });
    confirm_all_ui(ui, ground, requests);
}

fn lies(ground: &Ground<'_>, mark: &StringMark) -> Option<Lies> {
    let of_record = |one: &AsLoaded| Lies {
        tier: one.tier,
        lane: one.lane,
        front: one.front,
        holds: one.holds.clone(),
        missing: one.missing,
    };
    let planned = ground.meant.placement(mark);
    // A string that the plan leaves in the yard and that is missing is where it should be.
    let record = ground.meant.record(mark).filter(|record| planned.is_some() || !record.missing);
    record.map(of_record).or_else(|| {
        planned.map(|one| Lies {
            tier: one.tier,
            lane: one.lane,
            front: one.front,
            holds: one.holds.clone(),
            missing: false,
        })
    })
}

/// How it stands to its record, and who saw it.
fn state_ui(ui: &mut Ui, ground: &Ground<'_>, mark: &StringMark) {
    let theme = ground.shown.theme;
    match ground.seen(mark) {
        Seen::NotYet => {
            ui.weak("Not confirmed: counts as planned.");
        }
        Seen::AsPlanned => {
            ui.horizontal(|ui| {
                mark_ui(ui, Outcome::Pass);
                ui.colored_label(theme.color(Role::Pass), "As planned");
            });
        }
        Seen::Otherwise(words) => {
            ui.horizontal_top(|ui| {
                mark_ui(ui, Outcome::Near);
                let words = RichText::new(format!("Differs: {words}.")).color(theme.color(Role::Near));
                ui.add(egui::Label::new(words).wrap());
            });
        }
    }
    if let Some(record) = ground.meant.record(mark) {
        ui.weak(format!("Seen by {}, {}", record.by, record.at));
    }
}

fn fields_ui(
    ui: &mut Ui,
    ground: &Ground<'_>,
    (mark, length): (&StringMark, Length),
    lies: &Lies,
    requests: &mut Vec<Request>,
) {
    form_grid("walk form").show(ui, |ui| {
        ends_ui(ui, ground, (mark, length), lies, requests);
        ui.label("Tier, lane");
        ui.add_enabled_ui(!lies.missing, |ui| pocket_ui(ui, ground, mark, lies, requests));
        ui.end_row();
        ui.label("Held at");
        ui.add_enabled_ui(!lies.missing, |ui| hold_ui(ui, ground, (mark, length), lies, requests));
        ui.end_row();
        ui.label("Missing");
        let mut missing = lies.missing;
        let check = ui.checkbox(&mut missing, "not on the train").accessible_name("Not on the train");
        if check.changed() {
            ground.record(mark, |record| record.missing = missing, requests);
        }
        ui.end_row();
    });
}

/// A line for each end, measured from the rack that the walk passes last before it by the plan; the one met first
/// comes first.
fn ends_ui(
    ui: &mut Ui,
    ground: &Ground<'_>,
    (mark, length): (&StringMark, Length),
    lies: &Lies,
    requests: &mut Vec<Request>,
) {
    let planned = ground.meant.placement(mark).map_or(lies.front, |placement| placement.front);
    let mut ends = [("Front end", Length::ZERO), ("Rear end", length)];
    if ground.walk.from == TrainEnd::Rear {
        ends.reverse();
    }
    for (name, behind) in ends {
        let Some(rack) = ground.walk.last_passed(ground.consist, planned + behind) else { continue };
        let past = ground.walk.past(ground.consist, rack, lies.front + behind);
        ui.label(name);
        ui.add_enabled_ui(!lies.missing, |ui| {
            ui.horizontal(|ui| {
                let field = format!("{name}, measured");
                if let Some(past) = length_ui(ui, Spec::new(&field).wide(62.0), past, ground.shown.style) {
                    let place = ground.walk.place(ground.consist, rack, past);
                    ground.record(mark, |record| record.front = place - behind, requests);
                }
                ui.weak(format!("past {}", rack_words(ground.meant, ground.consist, rack)));
            });
        });
        ui.end_row();
    }
}

fn pocket_ui(ui: &mut Ui, ground: &Ground<'_>, mark: &StringMark, lies: &Lies, requests: &mut Vec<Request>) {
    ui.horizontal(|ui| {
        let number = |ui: &mut Ui, name: &str, now: u32| {
            let spec = Spec::new(name).wide(36.0);
            let given = number_ui(ui, spec, (f64::from(now), ""), ground.shown.style)?;
            (given >= 1.0).then(|| given.round() as u32)
        };
        if let Some(tier) = number(ui, "Tier seen", lies.tier) {
            ground.record(mark, |record| record.tier = tier, requests);
        }
        if let Some(lane) = number(ui, "Lane seen", lies.lane) {
            ground.record(mark, |record| record.lane = lane, requests);
        }
        ui.weak("or click a pocket")
            .on_hover_text("A click on an empty pocket above records that it lies there");
    });
}

/// The racks under the string that can clamp, or none.
fn hold_ui(
    ui: &mut Ui,
    ground: &Ground<'_>,
    (mark, length): (&StringMark, Length),
    lies: &Lies,
    requests: &mut Vec<Request>,
) {
    let (plan, consist) = (ground.meant, ground.consist);
    let clamps = |rack: &usize| {
        let kind = consist.racks.get(*rack).and_then(|place| plan.train.rack_types.get(place.rack_type));
        kind.is_some_and(|kind| kind.kind == RackKind::Clamping)
    };
    let under: Vec<usize> = consist.racks_between(lies.front, lies.front + length).filter(clamps).collect();
    let refs: Vec<Option<RackRef>> =
        std::iter::once(None).chain(under.iter().map(|rack| rack_ref(plan, consist, *rack))).collect();
    let names: Vec<String> = std::iter::once("nowhere".to_owned())
        .chain(under.iter().map(|rack| rack_words(plan, consist, *rack)))
        .collect();
    let now = match lies.holds.as_slice() {
        [] => Some(0),
        [hold] => refs.iter().position(|rack| rack.as_ref() == Some(hold)),
        _ => None,
    };
    let words: Vec<String> =
        lies.holds.iter().map(|hold| format!("{} rack {}", hold.vehicle, hold.rack)).collect();
    let words = words.join(", ");
    let spec = Spec::new("Held, seen").wide(120.0).hint(&words);
    if let Some(hold) = pick_ui(ui, spec, now, &names).and_then(|at| refs.get(at)) {
        ground.record(mark, |record| record.holds = hold.iter().cloned().collect(), requests);
    }
}

fn actions_ui(ui: &mut Ui, ground: &Ground<'_>, mark: &StringMark, requests: &mut Vec<Request>) {
    let seen = ground.seen(mark);
    ui.horizontal(|ui| {
        let planned = ground.meant.placement(mark).is_some();
        ui.add_enabled_ui(planned && seen != Seen::AsPlanned, |ui| {
            let button =
                ui.button("As planned").on_hover_text("Seen where the plan has it (Enter in the list)");
            if button.clicked() {
                ground.confirm(vec![mark.clone()], requests);
            }
        });
        ui.add_enabled_ui(seen != Seen::NotYet, |ui| {
            let button =
                ui.button("Take record back").on_hover_text("It counts as planned and not confirmed again");
            if button.clicked() {
                requests.push(Request::Edit(Edit::RemoveAsLoaded { strings: vec![mark.clone()] }));
            }
        });
    });
    let differs = matches!(seen, Seen::Otherwise(_));
    if differs && ground.shown.judged == Judged::AsPlanned {
        let button = ui.button("Judge as loaded").accessible_name("Judge the load as it is");
        if button.on_hover_text("Show and judge the load as recorded in every view (J)").clicked() {
            requests.push(Request::Judge(Judged::AsLoaded));
        }
    }
}

/// A string that the plan leaves in the yard, found on the train.
fn found_ui(ui: &mut Ui, ground: &Ground<'_>, mark: &StringMark, requests: &mut Vec<Request>) {
    ui.weak("The plan leaves it in the yard.");
    let button = ui.button("It lies on the train");
    if !button.on_hover_text("Record it at the rack shown; then enter its place").clicked() {
        return;
    }
    let plan = &ground.loaded.plan;
    let place = plan
        .string(mark)
        .and_then(|string| first_free_pocket(plan, ground.consist, string, ground.shown.selection.rack));
    let Some((pocket, front)) = place else {
        requests.push(Request::Say("No free pocket at the rack shown; choose another rack".to_owned()));
        return;
    };
    let Some((by, at)) = ground.person.signs(requests) else { return };
    let record = AsLoaded {
        string: mark.clone(),
        tier: pocket.tier,
        lane: pocket.lane,
        front,
        holds: Vec::new(),
        missing: false,
        by,
        at,
    };
    requests.push(Request::Edit(Edit::RecordAsLoaded { records: vec![record] }));
}

/// Confirms at once all that the walk meets first at the rack shown.
fn confirm_all_ui(ui: &mut Ui, ground: &Ground<'_>, requests: &mut Vec<Request>) {
    let rack = ground.shown.selection.rack;
    let begins = ground.met().filter(|(stop, _)| stop.rack == rack).map(|(_, end)| &end.of.string);
    let open: Vec<StringMark> = begins.filter(|mark| ground.meant.record(mark).is_none()).cloned().collect();
    if open.len() > 1 {
        let rack = rack_words(ground.meant, ground.consist, rack);
        let button = ui.button(format!("Confirm all {} that begin at {rack}", open.len()));
        if button.on_hover_text("Record them as planned, all at once").clicked() {
            ground.confirm(open, requests);
        }
    }
}
