//! Check `light-vehicle`: a light vehicle between an engine and a heavy set.

use super::{Check, Comparison, Judge, LimitValue, Sense, Subject};
use crate::model::{LimitKind, VehicleKind};
use crate::statics::{Figures, StateFigures, StateRule};
use crate::text;
use crate::units::Quantity;

pub(crate) static CHECK: Check = Check {
    id: "light-vehicle",
    title: "Light vehicle between an engine and a heavy set",
    what: "Every vehicle lighter than the light vehicle threshold that has an engine somewhere on one side and a \
           heavy set on the other, against the heavy set threshold. The set is made of the vehicles on that side \
           up to the next engine, light ones left out. Mass decides, not what the papers call a vehicle, and the \
           hauling direction does not matter: the forces come when braking as well as when starting, from \
           engines at either end.",
    why: "When the train is squeezed or stretched, a light vehicle with a heavy set behind it is lifted or pulled \
          off the track, above all in curves.",
    mend: "Put the light vehicle at the end of the set away from the engine, load it, or unload the wagons next to \
           the engine last.",
    source: "Reported accidents (US FRA 2002, 2007 and 2017); both thresholds are the plan's own.",
    run,
};

fn run(judge: &mut Judge<'_>) {
    let limits = &judge.figures.plan.limits;
    let entered = |kind| limits.get(kind).is_some();
    if !entered(LimitKind::LightVehicle) && !entered(LimitKind::HeavySet) {
        judge.not_asked(text!["no thresholds of a light vehicle and a heavy set are entered"]);
        return;
    }
    // Both are looked up, so that a missing one is named even where the other is not accepted.
    let light = judge.limit(LimitKind::LightVehicle);
    let heavy = judge.limit(LimitKind::HeavySet);
    let (Some(light), Some(heavy)) = (light, heavy) else { return };
    if !judge.figures.consist.vehicles.iter().any(|place| place.kind == VehicleKind::Engine) {
        judge.not_applicable(text!["no engine is in the train"]);
        return;
    }
    for (state, rule) in judge.states() {
        judge_state(judge, state, rule, [&light, &heavy]);
    }
}

fn judge_state(judge: &mut Judge<'_>, state: &StateFigures, rule: StateRule, limits: [&LimitValue; 2]) {
    let [light_kg, heavy_kg] = limits.map(|limit| limit.by(rule));
    for (vehicle, set_kg) in sets_pressing_on(judge.figures, state, light_kg) {
        let own_kg = state.vehicles.get(vehicle).map_or(0.0, |loads| loads.gross_kg);
        let comparison = Comparison::new(Quantity::mass(set_kg), heavy_kg, Sense::AtMost);
        judge.compare_with(Some(state.state), Subject::Vehicle(vehicle), comparison, || {
            text![
                " in the set that stands on its other side from an engine, while it weighs ",
                Quantity::mass(own_kg),
                ", less than ",
                Quantity::mass(light_kg)
            ]
        });
    }
}

/// Each light vehicle that has an engine on one side, with the mass in kg of the heavier set opposite one.
fn sets_pressing_on(figures: &Figures, state: &StateFigures, light_kg: f64) -> Vec<(usize, f64)> {
    let places = &figures.consist.vehicles;
    let gross = |vehicle: usize| state.vehicles.get(vehicle).map_or(0.0, |loads| loads.gross_kg);
    let engine = |vehicle: usize| places[vehicle].kind == VehicleKind::Engine;
    let set_of = |vehicles: &mut dyn Iterator<Item = usize>| -> f64 {
        vehicles.take_while(|&v| !engine(v)).map(gross).filter(|&kg| kg >= light_kg).sum()
    };
    let mut pressing = Vec::new();
    for vehicle in (0..places.len()).filter(|&vehicle| !engine(vehicle) && gross(vehicle) < light_kg) {
        let (mut ahead, mut behind) = ((0..vehicle).rev(), vehicle + 1..places.len());
        let sets = [
            (ahead.clone().any(engine), set_of(&mut behind.clone())),
            (behind.any(engine), set_of(&mut ahead)),
        ];
        let facing = sets.into_iter().filter(|&(has_engine, _)| has_engine).map(|(_, set_kg)| set_kg);
        if let Some(set_kg) = facing.reduce(f64::max) {
            pressing.push((vehicle, set_kg));
        }
    }
    pressing
}
