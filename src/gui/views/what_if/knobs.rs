//! The sliders: each with its value to type, and a mark that tells which of them the plots run over.

use super::bench::{Bench, Over};
use crate::gui::Shown;
use crate::gui::canvas::rack_words;
use crate::gui::fields::{Spec, length_ui, pick_ui, typed_ui};
use crate::model::StringMark;
use crate::planning::what_if::{FILL_RULE, Focus, Knob, Whom};
use crate::units::{Length, parse_number};
use egui::{Align, Layout, Role, Slider, SliderClamping, Ui, WidgetInfo};

/// Draws the sliders of `knobs`.
pub(super) fn knobs_ui(ui: &mut Ui, shown: &Shown<'_>, bench: &mut Bench, knobs: &[Knob]) {
    let first = knobs.iter().position(|knob| *knob != Knob::Count);
    for (at, knob) in knobs.iter().enumerate() {
        if first == Some(at) {
            whom_ui(ui, bench);
        }
        ui.push_id(knob, |ui| knob_ui(ui, shown, bench, *knob));
    }
}

fn knob_ui(ui: &mut Ui, shown: &Shown<'_>, bench: &mut Bench, knob: Knob) {
    let value = bench.scratch().value(knob);
    let mut turned = None;
    ui.horizontal(|ui| {
        let chosen = bench.over == Over::Knob(knob);
        let mark = ui.radio(chosen, title(bench, knob)).on_hover_text(purpose(bench, knob));
        let name = format!("Plots over: {}", knob.title());
        mark.widget_info(|| WidgetInfo::selected(Role::RadioButton, true, chosen, name.as_str()));
        if mark.clicked() {
            bench.run_over(Over::Knob(knob));
        }
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            turned = value_ui(ui, shown, bench, (knob, value));
        });
    });
    let span = bench.scratch().span(knob);
    let mut slid = value;
    ui.spacing_mut().slider_width = (ui.available_width() - 4.0).max(60.0);
    let slider = Slider::new(&mut slid, span).show_value(false).trailing_fill(true);
    // A value between steps, as it was typed or came with the plan, is none of the slider's doing.
    let slider = slider.clamping(SliderClamping::Edits).step_by(knob.step() as f64);
    let slider = ui.add(slider).accessible_name(knob.title()).on_hover_text(purpose(bench, knob));
    if slider.changed() {
        turned = Some(slid);
    }
    if let Some(value) = turned {
        bench.turn(knob, value);
        if bench.over != Over::Knob(knob) && bench.over != Over::States {
            bench.run_over(Over::Knob(knob));
        }
    }
}

/// The lane is that of one string, which its title names.
fn title(bench: &Bench, knob: Knob) -> String {
    match (knob, bench.scratch().lane_string()) {
        (Knob::Lane, Some(mark)) => format!("{} of {mark}", knob.title()),
        _ => knob.title().to_owned(),
    }
}

/// What a knob turns; of the lane also which strings gave way.
fn purpose(bench: &Bench, knob: Knob) -> String {
    let gave_way = || bench.scratch().gave_way();
    match knob {
        Knob::Count => format!("{}\n{FILL_RULE}", knob.purpose()),
        Knob::Lane => match gave_way() {
            Some((marks, lane)) => {
                let marks: Vec<&str> = marks.iter().map(StringMark::as_str).collect();
                format!("{}\nNow {} gave way, to lane {lane}.", knob.purpose(), marks.join(" and "))
            }
            None => knob.purpose().to_owned(),
        },
        _ => knob.purpose().to_owned(),
    }
}

/// The value to type, or the list to choose from.
fn value_ui(ui: &mut Ui, shown: &Shown<'_>, bench: &Bench, (knob, value): (Knob, i64)) -> Option<i64> {
    let name = match knob {
        Knob::Count => "Number of strings",
        Knob::Length => "Length of the strings",
        Knob::Section => "Section of the strings",
        Knob::FrontEnd => "Front end of the strings",
        Knob::Lane => "Lane of the string",
    };
    let spec = Spec::new(name).wide(64.0);
    match knob {
        // Drawn from the right, so the unit comes first.
        Knob::Length | Knob::FrontEnd => {
            ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                length_ui(ui, spec, Length::from_mm(value), shown.style).map(Length::mm)
            })
            .inner
        }
        Knob::Section => {
            let names: Vec<String> =
                bench.scratch().sections().iter().map(|section| section.name.to_string()).collect();
            let at = usize::try_from(value).ok();
            pick_ui(ui, spec.wide(96.0), at, &names).map(|at| at as i64)
        }
        Knob::Count | Knob::Lane => typed_ui(ui, spec.wide(40.0), &value.to_string(), |text| {
            match parse_number(text).map_err(|error| error.to_string())? {
                number if number.fract() == 0.0 && number.abs() < 1.0e6 => Ok(number as i64),
                _ => Err("type a whole number".to_owned()),
            }
        }),
    }
}

/// Whose length, section, end and lane are turned.
fn whom_ui(ui: &mut Ui, bench: &mut Bench) {
    let marks: Vec<StringMark> =
        bench.scratch().base().placements.iter().map(|place| place.string.clone()).collect();
    if marks.len() < 2 {
        return;
    }
    let names: Vec<String> = std::iter::once("all strings".to_owned())
        .chain(marks.iter().map(|mark| format!("string {mark}")))
        .collect();
    let now = match bench.scratch().whom() {
        Whom::All => 0,
        Whom::One(mark) => marks.iter().position(|own| own == mark).map_or(0, |at| at + 1),
    };
    ui.horizontal(|ui| {
        ui.label("Of").on_hover_text(
            "The sliders below turn these strings; of all strings, the lane is that of the last",
        );
        if let Some(at) = pick_ui(ui, Spec::new("Strings to turn").wide(130.0), Some(now), &names) {
            let whom = match at.checked_sub(1).and_then(|at| marks.get(at)) {
                Some(mark) => Whom::One(mark.clone()),
                None => Whom::All,
            };
            bench.turn_those_of(whom);
        }
    });
}

/// Draws the state shown, where there is more than the departing train.
pub(super) fn states_ui(ui: &mut Ui, bench: &mut Bench) {
    let count = bench.states_worked();
    if count < 2 {
        return;
    }
    let state = bench.state;
    let title =
        bench.figures.states.get(state).map(|load| load.title(&bench.figures.plan)).unwrap_or_default();
    ui.horizontal(|ui| {
        let before =
            ui.add_enabled(state > 0, egui::Button::new("◀")).accessible_name("Scratch state before");
        if before.clicked() {
            bench.show_state(state.saturating_sub(1));
        }
        let after = ui.add_enabled(state + 1 < count, egui::Button::new("▶"));
        if after.accessible_name("Scratch state after").clicked() {
            bench.show_state(state + 1);
        }
        ui.label(format!("state {} of {count}", state + 1));
    });
    ui.add(egui::Label::new(egui::RichText::new(title).strong()).wrap());
    ui.separator();
}

/// Draws which wagon and which rack are looked at.
pub(super) fn focus_ui(ui: &mut Ui, bench: &mut Bench) {
    let plan = &bench.figures.plan;
    let consist = &bench.figures.consist;
    let carrying: Vec<usize> =
        (0..consist.vehicles.len()).filter(|at| !consist.vehicles[*at].racks.is_empty()).collect();
    let mark = |at: &usize| {
        let vehicle = plan.train.vehicles.get(*at);
        vehicle.map_or_else(|| "?".to_owned(), |vehicle| format!("wagon {}", vehicle.mark))
    };
    let all = |words: &str| std::iter::once(words.to_owned());
    let wagons: Vec<String> = all("the worst wagon").chain(carrying.iter().map(mark)).collect();
    let racks: Vec<String> = all("the worst rack")
        .chain((0..consist.racks.len()).map(|rack| rack_words(plan, consist, rack)))
        .collect();
    let mut focus = bench.focus;
    let wagon = focus.vehicle.and_then(|vehicle| carrying.iter().position(|at| *at == vehicle));
    ui.horizontal(|ui| {
        ui.label("Look at");
        let spec = Spec::new("Wagon looked at").wide(110.0);
        if let Some(at) = pick_ui(ui, spec, Some(wagon.map_or(0, |at| at + 1)), &wagons) {
            focus.vehicle = at.checked_sub(1).and_then(|at| carrying.get(at)).copied();
        }
    });
    ui.horizontal(|ui| {
        ui.label("and at");
        let spec = Spec::new("Rack looked at").wide(110.0);
        if let Some(at) = pick_ui(ui, spec, Some(focus.rack.map_or(0, |rack| rack + 1)), &racks) {
            focus.rack = at.checked_sub(1);
        }
    });
    if focus != bench.focus {
        bench.look_at(Focus { ..focus });
    }
}
