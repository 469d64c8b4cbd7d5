//! What a vehicle bears beyond level loads, as far as the plan asks: springs, tolerances, holds, curves, cant.

use super::inspector::figures_ui;
use crate::drawing::{on_springs, tolerance_bands};
use crate::gui::Shown;
use crate::model::Topic;
use crate::statics::StateRule;
use crate::statics::cant::{CantCase, Leaning};
use crate::units::{Quantity, QuantityKind};
use egui::{RichText, Ui};

/// Names and values.
type Rows = Vec<(String, String)>;
/// The rows of a topic, or what keeps them from being known.
type Part = fn(&Shown<'_>, usize) -> Result<Rows, String>;

/// Draws a part for each topic that the plan asks for, of a vehicle of the train in the state shown.
pub(super) fn vehicle_results_ui(ui: &mut Ui, shown: &Shown<'_>, vehicle: usize) {
    let parts: [(Topic, &str, Part); 5] = [
        (Topic::Springs, "On springs", spring_rows),
        (Topic::Tolerances, "Within tolerances", band_rows),
        (Topic::HoldForces, "Strings held on it", hold_rows),
        (Topic::Curves, "In the route's curves", curve_rows),
        (Topic::Cant, "On cant", cant_rows),
    ];
    let asked = &shown.plan.route.asked;
    for (_, title, rows) in parts.into_iter().filter(|(topic, ..)| asked.contains(topic)) {
        ui.label(RichText::new(title).strong());
        match rows(shown, vehicle) {
            Ok(rows) => {
                let rows: Vec<(&str, String)> =
                    rows.iter().map(|(name, value)| (name.as_str(), value.clone())).collect();
                figures_ui(ui, (title, vehicle), &rows);
            }
            Err(missing) => {
                ui.weak(format!("Not known: {missing}."));
            }
        }
    }
}

fn row(name: &str, value: String) -> (String, String) {
    (name.to_owned(), value)
}

fn spring_rows(shown: &Shown<'_>, vehicle: usize) -> Result<Rows, String> {
    if let Err(missing) = shown.figures.springs() {
        let types = &shown.plan.train.vehicle_types;
        let names = missing.vehicle_types.iter().filter_map(|at| types.get(*at));
        let names: Vec<&str> = names.map(|kind| kind.name.as_str()).collect();
        return Err(format!("no spring rates are entered for {}", names.join(", ")));
    }
    let loads = on_springs(shown.figures, shown.state).ok_or("the train found no rest in this state")?;
    let level = shown.figures.state(shown.state).and_then(|state| state.vehicles.get(vehicle));
    let (Some(loads), Some(level)) = (loads.get(vehicle), level) else { return Ok(Rows::new()) };
    let mut rows = Rows::new();
    for (support, names) in [(0, ["Front axle", "Front wheels"]), (1, ["Rear axle", "Rear wheels"])] {
        let (found, level) = (&loads.supports[support], &level.supports[support]);
        let against = Quantity::mass(found.axle_kg - level.axle_kg).show(shown.style);
        let sign = if found.axle_kg < level.axle_kg { "" } else { "+" };
        let axle = Quantity::mass(found.axle_kg).show(shown.style);
        rows.push(row(names[0], format!("{axle} ({sign}{against})")));
        rows.push(row(names[1], Quantity::ratio(found.worse_ratio()).show(shown.style)));
    }
    let moved = shown.figures.springs().ok().and_then(|springs| {
        let state = springs.states.iter().find(|state| state.loads.state == shown.state)?;
        state.moved.get(vehicle)
    });
    if let Some(moved) = moved {
        rows.push(row("Sinks by", Quantity::small_length_m(-moved.heave_m).show(shown.style)));
    }
    Ok(rows)
}

fn band_rows(shown: &Shown<'_>, vehicle: usize) -> Result<Rows, String> {
    let bands = tolerance_bands(shown.figures, shown.state);
    let bands = bands.ok_or("rack height tolerances need spring rates")?;
    let Some(bands) = bands.get(vehicle) else { return Ok(Rows::new()) };
    let names = ["Front axle, +/-", "Rear axle, +/-"].into_iter().zip(bands);
    Ok(names.map(|(name, band)| row(name, Quantity::mass(band.axle_kg).show(shown.style))).collect())
}

fn hold_rows(shown: &Shown<'_>, vehicle: usize) -> Result<Rows, String> {
    let wagons = shown.figures.holding_wagons(shown.state);
    let wagons = wagons.ok_or("no braking and no buffing deceleration of the train is entered")?;
    let Some(wagon) = wagons.iter().find(|wagon| wagon.vehicle == vehicle) else {
        return Ok(vec![row("Held strings", "none".to_owned())]);
    };
    let deceleration = Quantity { value: wagon.deceleration_m_per_s2, kind: QuantityKind::FreeFall };
    let held = Quantity::mass(wagon.held_kg).show(shown.style);
    let axle =
        wagon.axle_kg.map_or("a height is not entered".to_owned(), |kg| Quantity::mass(kg).show(shown.style));
    Ok(vec![
        row("Held strings", format!("{} of {held}", wagon.strings)),
        row("They push", Quantity::force(wagon.force_n).show(shown.style)),
        row("  at", deceleration.show(shown.style)),
        row("Largest at a coupling", Quantity::force(wagon.coupling_n()).show(shown.style)),
        row("An axle gains", axle),
    ])
}

fn curve_rows(shown: &Shown<'_>, vehicle: usize) -> Result<Rows, String> {
    if shown.plan.route.curves.is_empty() && shown.plan.route.s_curve.is_none() {
        return Err("no curve is entered for the route".to_owned());
    }
    let curves = shown.figures.curves();
    let loads = curves.side_loads.iter().find(|loads| loads.state == shown.state);
    let Some(wagon) = loads.and_then(|loads| loads.vehicles.get(vehicle)) else { return Ok(Rows::new()) };
    let mut rows = vec![row("Net side force", Quantity::force(wagon.net_n.size).show(shown.style))];
    if let Some(case) = curves.cases.get(wagon.net_n.case) {
        rows.push(row("  in", case.case.title()));
    }
    match wagon.unloading {
        Some(supports) => {
            for (name, largest) in
                ["Front wheels unload by", "Rear wheels unload by"].into_iter().zip(supports)
            {
                rows.push(row(name, Quantity::share(largest.size).show(shown.style)));
            }
        }
        None => rows.push(row("Wheels unload by", "a height is not entered".to_owned())),
    }
    if curves.pending {
        rows.push(row("Entry and reverse curves", "pending while you drag".to_owned()));
    }
    Ok(rows)
}

fn cant_rows(shown: &Shown<'_>, vehicle: usize) -> Result<Rows, String> {
    let cases = CantCase::of(&shown.plan.route);
    if cases.is_empty() {
        return Err("no cant is entered for the route".to_owned());
    }
    let Some(state) = shown.figures.state(shown.state) else { return Ok(Rows::new()) };
    let lean = Leaning::of(shown.figures, state, vehicle);
    let lean = lean.ok_or("the height of the gross centre of gravity is not known")?;
    let travels = shown.figures.states.get(shown.state).is_some_and(|state| state.rule == StateRule::Running);
    let share = |share: f64| Quantity::share(share).show(shown.style);
    let mut rows = Rows::new();
    for case in cases.iter().filter(|case| travels || case.stands()) {
        let name = match case {
            CantCase::Standing { .. } => "Standing, unloads by".to_owned(),
            CantCase::AtSpeed { curve, .. } => format!("At speed in curve {}", curve + 1),
            CantCase::Deficiency { .. } => "At the cant deficiency".to_owned(),
        };
        let side_g = case.side_g(lean.contact_m);
        let rigid = share(lean.unloading(side_g, 0.0));
        let words = match lean.roll {
            Ok(s) => format!("{}, rigid {rigid}", share(lean.unloading(side_g, s))),
            Err(_) => format!("rigid {rigid}"),
        };
        rows.push((name, words));
    }
    if let Err(gap) = lean.roll {
        rows.push(row("On its springs", gap.words().to_owned()));
    }
    let overturns = lean.overturning_g(lean.roll.unwrap_or(0.0));
    rows.push(row("Overturns at", format!("{} g sideways", Quantity::number(overturns).show(shown.style))));
    Ok(rows)
}
