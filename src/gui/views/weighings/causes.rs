//! What would explain the readings: the sum of the search, and each cause with a way to look and to record.

use super::asked::{Asked, Search};
use crate::checks::Outcome;
use crate::edit::Edit;
use crate::gui::panels::mark::mark_ui;
use crate::gui::views::person::Person;
use crate::gui::{Request, SelectMode, Shown};
use crate::model::{AsLoaded, Placement, Plan, StringMark};
use crate::planning::weighings::{Cause, Diagnosis, Told};
use crate::report::{cause_words, diagnosis_words};
use crate::units::Style;
use egui::{RichText, ScrollArea, Ui};

/// So many causes are listed.
const LISTED: usize = 30;

/// What the comparison rests on, in a sentence.
const CAUTION: &str = "Compared with the load as it is, at departure, level and straight. A tolerance is taken as \
    twice the standard deviation. Which tier a string lies in leaves no trace in readings.";

/// Draws it.
pub(super) fn causes_ui(
    ui: &mut Ui,
    shown: &Shown<'_>,
    (asked, person): (&mut Asked, &Person),
    requests: &mut Vec<Request>,
) {
    ui.horizontal(|ui| {
        ui.strong("What would explain the readings");
        ui.weak("?").on_hover_text(CAUTION);
    });
    if asked.weighed.readings.is_empty() {
        ui.weak("Enter what the scale read in the grid, or paste rows from a spreadsheet. Under each field stands what is computed.");
        return;
    }
    match asked.search() {
        Search::Running(_) => {
            ui.horizontal(|ui| {
                ui.spinner();
                ui.label("Looking...");
            });
        }
        Search::Stopped => {
            if ui.button("Look again").clicked() {
                asked.search_again(shown, ui.ctx());
            }
        }
        Search::Done(diagnosis) => diagnosis_ui(ui, shown, (asked, diagnosis, person), requests),
    }
}

fn diagnosis_ui(
    ui: &mut Ui,
    shown: &Shown<'_>,
    (asked, diagnosis, person): (&Asked, &Diagnosis, &Person),
    requests: &mut Vec<Request>,
) {
    let plan: &Plan = &asked.weighed.figures.plan;
    let outcome = match diagnosis.told {
        Told::NothingToJudge => Outcome::Undecided,
        Told::Fits if diagnosis.beyond == 0 => Outcome::Pass,
        Told::Fits | Told::Explained | Told::CannotTell(_) => Outcome::Near,
        Told::NoSingleCause => Outcome::Fail,
    };
    ui.horizontal_top(|ui| {
        mark_ui(ui, outcome);
        let words = match diagnosis.told {
            Told::Explained => "One cause explains the readings, and no other does as well:".to_owned(),
            Told::CannotTell(count) => {
                format!("Cannot tell: {count} causes explain the readings equally well:")
            }
            _ => diagnosis_words(plan, diagnosis, shown.style),
        };
        ui.add(egui::Label::new(words).wrap());
    });
    let explaining = diagnosis.explaining();
    if explaining.is_empty() {
        return;
    }
    ScrollArea::vertical().id_salt("causes").auto_shrink(false).show(ui, |ui| {
        for (at, one) in explaining.iter().take(LISTED).enumerate() {
            ui.horizontal(|ui| {
                let words = cause_words(plan, &one.cause, shown.style);
                let show = ui.small_button("Show").accessible_name(format!("Show cause {}", at + 1));
                if show.on_hover_text("Select it in every view").clicked() {
                    requests.extend(show_requests(plan, &one.cause));
                }
                record_ui(ui, (plan, &one.cause, at), person, requests);
                let left = format!("leaves {}", one_decimal(one.misfit, shown.style));
                let why = format!(
                    "Sum of the squared differences over their spread: {} as recorded, about {} by chance alone",
                    one_decimal(diagnosis.misfit, shown.style),
                    diagnosis.judged
                );
                // From the right, so that a long cause is cut and not what it leaves.
                ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                    ui.label(RichText::new(left).weak().size(11.5)).on_hover_text(why);
                    ui.with_layout(egui::Layout::left_to_right(egui::Align::Center), |ui| {
                        ui.add(egui::Label::new(words).truncate());
                    });
                });
            });
        }
        if explaining.len() > LISTED {
            ui.weak(format!("and {} more", explaining.len() - LISTED));
        }
    });
}

/// Selects the strings or the vehicle of a cause.
fn show_requests(plan: &Plan, cause: &Cause) -> Vec<Request> {
    let mark = |at: &usize| plan.order.get(*at).map(|string| string.mark.clone());
    let strings = match cause {
        Cause::Lane { string, .. }
        | Cause::Shifted { string, .. }
        | Cause::Missing { string }
        | Cause::Mass { string, .. } => vec![string],
        Cause::Exchanged { first, second } => vec![first, second],
        Cause::Replaced { string, by } => vec![string, by],
        Cause::Tare { vehicle, .. } => return vec![Request::SelectVehicle(Some(*vehicle))],
        Cause::Reading { reading, .. } => {
            let weighed = plan.weighings.get(*reading).map(|reading| &reading.vehicle);
            let vehicle = plan.train.vehicles.iter().position(|vehicle| Some(&vehicle.mark) == weighed);
            return vec![Request::SelectVehicle(vehicle)];
        }
    };
    let strings = strings.into_iter().filter_map(mark).collect();
    vec![Request::Select { strings, mode: SelectMode::Only }]
}

/// A button that records the cause as what was seen, where it is about where strings lie.
fn record_ui(
    ui: &mut Ui,
    (plan, cause, at): (&Plan, &Cause, usize),
    person: &Person,
    requests: &mut Vec<Request>,
) {
    let records = records_of(plan, cause);
    if records.is_empty() {
        return;
    }
    let button = ui.small_button("Record it").accessible_name(format!("Record cause {}", at + 1));
    let why = "Records the load so. Look at the train first: readings alone do not show who is right.";
    if button.on_hover_text(why).clicked()
        && let Some((by, when)) = person.signs(requests)
    {
        let named = |record: AsLoaded| AsLoaded { by: by.clone(), at: when.clone(), ..record };
        let records = records.into_iter().map(named).collect();
        requests.push(Request::Edit(Edit::RecordAsLoaded { records }));
    }
}

/// The load as the cause has it, without who and when; none for causes that are not about where strings lie.
fn records_of(plan: &Plan, cause: &Cause) -> Vec<AsLoaded> {
    let placed = |at: &usize| plan.order.get(*at).and_then(|string| plan.placement(&string.mark));
    let mark = |at: &usize| plan.order.get(*at).map(|string| string.mark.clone());
    let records = match cause {
        Cause::Lane { string, lane, tiers } => placed(string).map(|placement| {
            let tier = tiers.iter().find(|tier| **tier == placement.tier).or(tiers.first());
            let tier = tier.copied().unwrap_or(placement.tier);
            vec![AsLoaded { lane: *lane, tier, ..record_at(&placement.string, placement) }]
        }),
        Cause::Shifted { string, by } => placed(string).map(|placement| {
            vec![AsLoaded { front: placement.front + *by, ..record_at(&placement.string, placement) }]
        }),
        Cause::Missing { string } => placed(string)
            .map(|placement| vec![AsLoaded { missing: true, ..record_at(&placement.string, placement) }]),
        Cause::Exchanged { first, second } => placed(first)
            .zip(placed(second))
            .map(|(first, second)| vec![record_at(&first.string, second), record_at(&second.string, first)]),
        Cause::Replaced { string, by } => placed(string).zip(mark(by)).map(|(placement, by)| {
            vec![
                AsLoaded { missing: true, ..record_at(&placement.string, placement) },
                record_at(&by, placement),
            ]
        }),
        Cause::Mass { .. } | Cause::Tare { .. } | Cause::Reading { .. } => None,
    };
    records.unwrap_or_default()
}

/// A record that says that `string` lies in the place of `placement`.
fn record_at(string: &StringMark, placement: &Placement) -> AsLoaded {
    AsLoaded {
        string: string.clone(),
        tier: placement.tier,
        lane: placement.lane,
        front: placement.front,
        holds: placement.holds.clone(),
        missing: false,
        by: String::new(),
        at: String::new(),
    }
}

/// A plain number with one decimal and the reader's mark.
fn one_decimal(value: f64, style: Style) -> String {
    style.decimal.written(&format!("{value:.1}"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::DecimalMark;

    #[test]
    fn what_a_cause_leaves_has_the_readers_mark() {
        let comma = Style { decimal: DecimalMark::Comma, ..Style::default() };
        assert_eq!(one_decimal(0.04, comma), "0,0");
        assert_eq!(one_decimal(12.36, Style::default()), "12.4");
    }
}
