//! What a string does beyond lying level on its racks, as far as the plan asks: creep, holding, curves, unloading.

use super::inspector::figures_ui;
use crate::drawing::{creep_gap, end_creep};
use crate::gui::Shown;
use crate::gui::canvas::rack_words;
use crate::model::{Topic, TrainEnd};
use crate::statics::{EndCondition, EndCreep, PlacedString, PushedBy, StepString};
use crate::units::Quantity;
use egui::{RichText, Ui};

/// Names and values, and what is missing.
type Rows = Vec<(&'static str, String)>;

/// Draws a part for each topic that the plan asks for.
pub(super) fn string_results_ui(ui: &mut Ui, shown: &Shown<'_>, placed: &PlacedString) {
    let asked = &shown.plan.route.asked;
    let parts: [(Topic, &str, Part); 4] = [
        (Topic::Creep, "Creep of its ends", creep_rows),
        (Topic::HoldForces, "At its hold", holding_rows),
        (Topic::Curves, "In the route's curves", curve_rows),
        (Topic::Unloading, "While it goes off or on", unloading_rows),
    ];
    for (_, title, rows) in parts.into_iter().filter(|(topic, ..)| asked.contains(topic)) {
        ui.label(RichText::new(title).strong());
        match rows(shown, placed) {
            Ok(rows) => figures_ui(ui, (title, placed.string), &rows),
            Err(missing) => {
                ui.weak(format!("Not known: {missing}."));
            }
        }
    }
}

/// The rows of a topic, or what keeps them from being known.
type Part = fn(&Shown<'_>, &PlacedString) -> Result<Rows, String>;

fn index_of(shown: &Shown<'_>, placed: &PlacedString) -> Option<usize> {
    shown.figures.placed.iter().position(|other| other.placement == placed.placement)
}

fn creep_rows(shown: &Shown<'_>, placed: &PlacedString) -> Result<Rows, String> {
    if let Some(gap) = creep_gap(shown.figures, placed) {
        return Err(gap);
    }
    let Some(ends) = end_creep(shown.figures, placed) else { return Ok(Rows::new()) };
    let length = |m: f64| Quantity::length_m(m).show(shown.style);
    let rows = |creep: &EndCreep| {
        let shift = &creep.over_last;
        let end = match creep.end {
            TrainEnd::Front => "Front end, out / in",
            TrainEnd::Rear => "Rear end, out / in",
        };
        let both = |out_m: f64, in_m: f64| format!("{} / {}", length(out_m), length(in_m));
        [
            (end, both(shift.out_m(), shift.in_m())),
            ("  in curves", both(shift.curve_out_m, -shift.curve_in_m)),
            ("  by slack, +/-", format!("{} ({} couplings)", length(shift.slack_m), shift.couplings)),
            ("  by heat, +/-", length(shift.temperature_m)),
            ("  overhang left", length(creep.overhang_m - shift.in_m())),
        ]
    };
    Ok(ends.iter().flat_map(rows).collect())
}

fn holding_rows(shown: &Shown<'_>, placed: &PlacedString) -> Result<Rows, String> {
    let holding = shown.figures.holding().ok_or("no securing accelerations are entered for the route")?;
    let found = index_of(shown, placed).and_then(|at| holding.strings.get(at));
    let Some(holding) = found else { return Ok(Rows::new()) };
    let force = |n: f64| Quantity::force(n).show(shown.style);
    let mut rows = vec![
        ("Inertia, mass x acceleration", force(holding.inertia_n)),
        ("Friction on other racks", force(holding.friction_n)),
        ("Force at the hold", force(holding.force_n)),
    ];
    if let Some(impact) = &holding.impact {
        rows.push(("Impact, no more than", force(impact.bound_n)));
        if let Some(peak_n) = impact.half_sine_n {
            rows.push(("Impact, half sine", force(peak_n)));
        }
    }
    for pushed in holding.pushed.iter().flatten() {
        let by = match pushed.by {
            PushedBy::Inertia => "inertia",
            PushedBy::Impact => "impact",
        };
        let name = match pushed.part {
            TrainEnd::Front => "Pushed in front of it",
            TrainEnd::Rear => "Pushed behind it",
        };
        let span = Quantity::length_m(pushed.span_m).show(shown.style);
        rows.push((name, format!("{} by {by} on {span}", force(pushed.compression_n))));
        let buckles = pushed.euler_n.map_or("Iy not entered".to_owned(), force);
        rows.push(("  buckles at", buckles));
    }
    Ok(rows)
}

fn curve_rows(shown: &Shown<'_>, placed: &PlacedString) -> Result<Rows, String> {
    if shown.plan.route.curves.is_empty() && shown.plan.route.s_curve.is_none() {
        return Err("no curve is entered for the route".to_owned());
    }
    let curves = shown.figures.curves();
    let class = curves.class(placed.placement);
    let class =
        class.ok_or("it needs the section's Iy, the side play of its racks, and two racks under it")?;
    let mut rows = Rows::new();
    if let Some(worst) = curves.worst_peak(class) {
        let moment_nm = worst.peak.moment_nm;
        let section = shown.plan.sections.get(placed.section);
        let stress = section.and_then(|section| section.foot_side_modulus_m3()).map_or_else(
            || "foot width not entered".to_owned(),
            |modulus_m3| Quantity::stress(moment_nm / modulus_m3).show(shown.style),
        );
        rows.push(("Sideways moment", Quantity::moment(moment_nm).show(shown.style)));
        rows.push(("Sideways stress", stress));
        rows.push(("  at", rack_words(shown.plan, &shown.figures.consist, worst.peak.rack)));
        rows.push(("  in", curves.cases[worst.case].case.title()));
    }
    for (end, [track, deck]) in [
        (0, ["Front end swings, of track", "  of the deck under it"]),
        (1, ["Rear end swings, of track", "  of the deck under it"]),
    ] {
        let swings = curves
            .cases
            .iter()
            .filter_map(|case| (*case.swings.get(placed.placement)?).map(|ends| ends[end]));
        let worst = |of: fn(&crate::statics::curves::EndSwing) -> f64| {
            let most = swings.clone().map(|swing| of(&swing).abs()).reduce(f64::max);
            most.map(|m| Quantity::small_length_m(m).show(shown.style))
        };
        rows.extend(worst(|swing| swing.from_track_m).map(|words| (track, words)));
        rows.extend(worst(|swing| swing.from_deck_m).map(|words| (deck, words)));
    }
    if curves.pending {
        rows.push(("Entry and reverse curves", "pending while you drag".to_owned()));
    }
    Ok(rows)
}

fn unloading_rows(shown: &Shown<'_>, placed: &PlacedString) -> Result<Rows, String> {
    let steps = &shown.figures.unloading().strings;
    let Some(step) = steps.iter().find(|step| step.string == placed.string) else {
        return Err("no step moves it at a drop with a chute height".to_owned());
    };
    let mut rows = Rows::new();
    if let Err(missing) = &step.moduli {
        return Err(missing.join(", "));
    }
    if let Some((_, peak)) = step.worst() {
        let place = Quantity::length_m(peak.from_seat_m).show(shown.style);
        rows.push(("Largest stress", Quantity::stress(peak.stress_pa).show(shown.style)));
        rows.push(("  from the seat", place));
    }
    for (condition, name) in [
        (EndCondition::OverRacks, "Over the racks"),
        (EndCondition::FreeEnd, "End free at last"),
        (EndCondition::HeldLevel, "Were it held level"),
    ] {
        rows.extend(stress_words(shown, step, condition).map(|words| (name, words)));
    }
    if step.too_short {
        rows.push(("Shorter than its lead", "falls before it lies".to_owned()));
    }
    Ok(rows)
}

fn stress_words(shown: &Shown<'_>, step: &StepString, condition: EndCondition) -> Option<String> {
    let case = step.case(condition)?;
    let lead = Quantity::length_m(case.lead.length_m).show(shown.style);
    Some(match case.peak {
        Some(peak) => format!("{}, lead {lead}", Quantity::stress(peak.stress_pa).show(shown.style)),
        None => format!("lead {lead}"),
    })
}
