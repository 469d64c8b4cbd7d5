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
    let mut judged = 0;
    for (state, rule) in judge.states() {
        judged += judge_state(judge, state, rule, [&light, &heavy]);
    }
    if judged == 0 {
        let none = text!["no light vehicle stands between an engine and vehicles that are not light"];
        judge.pass(None, Subject::Train, none);
    }
}

/// Judges the light vehicles of a state and says how many there were.
fn judge_state(
    judge: &mut Judge<'_>,
    state: &StateFigures,
    rule: StateRule,
    limits: [&LimitValue; 2],
) -> usize {
    let [light_kg, heavy_kg] = limits.map(|limit| limit.by(rule));
    let pressing = sets_pressing_on(judge.figures, state, light_kg);
    for &Pressing { vehicle, set_kg, .. } in &pressing {
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
    pressing.len()
}

/// Each light vehicle that has an engine on one side, with the heavier set opposite one.
pub(crate) fn sets_pressing_on(figures: &Figures, state: &StateFigures, light_kg: f64) -> Vec<Pressing> {
    let places = &figures.consist.vehicles;
    let gross = |vehicle: usize| state.vehicles.get(vehicle).map_or(0.0, |loads| loads.gross_kg);
    let engine = |vehicle: usize| places[vehicle].kind == VehicleKind::Engine;
    let set_of = |vehicles: &mut dyn Iterator<Item = usize>| -> Vec<usize> {
        vehicles.take_while(|&v| !engine(v)).filter(|&v| gross(v) >= light_kg).collect()
    };
    let mass_kg = |set: &[usize]| -> f64 { set.iter().map(|&vehicle| gross(vehicle)).sum() };
    let mut pressing = Vec::new();
    for vehicle in (0..places.len()).filter(|&vehicle| !engine(vehicle) && gross(vehicle) < light_kg) {
        let (mut ahead, mut behind) = ((0..vehicle).rev(), vehicle + 1..places.len());
        let sets = [
            (ahead.clone().any(engine), set_of(&mut behind.clone())),
            (behind.any(engine), set_of(&mut ahead)),
        ];
        let facing = sets.into_iter().filter(|(has_engine, _)| *has_engine);
        let facing = facing.map(|(_, set)| Pressing { vehicle, set_kg: mass_kg(&set), set });
        let heavier = facing.reduce(|a, b| if b.set_kg > a.set_kg { b } else { a });
        pressing.extend(heavier.filter(|pressing| pressing.set_kg > 0.0));
    }
    pressing
}

/// A light vehicle and the set that presses on it.
#[derive(Clone, Debug)]
pub(crate) struct Pressing {
    /// Index of the light vehicle.
    pub(crate) vehicle: usize,
    /// The vehicles of the set that are not light, from the light vehicle outward.
    pub(crate) set: Vec<usize>,
    /// Their mass in kg.
    pub(crate) set_kg: f64,
}

#[cfg(test)]
mod tests {
    use super::CHECK;
    use crate::checks::Outcome::{Fail, Near, NotApplicable, NotAsked, Undecided};
    use crate::checks::bearing::testing::{bare_type, check, findings, lay_at, worst_text};
    use crate::fixtures::{drop_off, empty_plan, limit, vehicle};
    use crate::model::{LimitKind, Plan, VehicleKind};

    /// A train of types by letter: `e` engine of 80 t, `l` wagon of 24 t with racks, `h` wagon of 60 t without.
    fn train(row: &str) -> Plan {
        let mut plan = empty_plan(0);
        plan.train.vehicle_types.push(bare_type("Engine", VehicleKind::Engine, 80_000.0));
        plan.train.vehicle_types.push(bare_type("Full wagon", VehicleKind::Wagon, 60_000.0));
        plan.train.vehicles = (1..)
            .zip(row.chars())
            .map(|(number, kind)| {
                let kind = match kind {
                    'e' => "Engine",
                    'h' => "Full wagon",
                    _ => "Flat",
                };
                vehicle(&format!("V{number}"), kind)
            })
            .collect();
        plan.limits.entries.insert(LimitKind::LightVehicle, limit(30_000.0));
        plan.limits.entries.insert(LimitKind::HeavySet, limit(500_000.0));
        plan
    }

    // Eight full wagons are 480 t, ten 600 t.
    #[test]
    fn a_light_wagon_fails_between_an_engine_and_a_heavy_set_only() {
        check(&CHECK, &train("elhhhhhhhhhh"), &[(Fail, "vehicle V2")]);
        check(&CHECK, &train("hhhhhhhhhhle"), &[(Fail, "vehicle V11")]);
        check(&CHECK, &train("ehlhhhhhhhhhh"), &[(Fail, "vehicle V3")]);
        check(&CHECK, &train("elhhhhhhhhhhe"), &[(Fail, "vehicle V2")]);
        check(&CHECK, &train("elhhhhhhhh"), &[(Near, "vehicle V2")]);
        check(&CHECK, &train("elhhhhh"), &[]);
    }

    #[test]
    fn a_light_wagon_behind_the_heavy_set_or_an_engine_beside_it_is_no_fault() {
        for row in ["ehhhhhhhhhhl", "ehhhhhhhhhh", "lehhhhhhhhhh"] {
            check(&CHECK, &train(row), &[]);
        }
        check(&CHECK, &train("lhhhhhhhhhh"), &[(NotApplicable, "plan")]);
    }

    #[test]
    fn every_light_wagon_of_a_row_is_told_and_does_not_count_into_the_set() {
        check(&CHECK, &train("ellhhhhhhhhhh"), &[(Fail, "vehicle V2"), (Fail, "vehicle V3")]);
        check(&CHECK, &train("ellllllllllllllllllllllllllhh"), &[]);
    }

    #[test]
    fn both_thresholds_are_limits_from_both_sides() {
        for (light_kg, heavy_kg, fails) in [
            (24_000.0, 1.0, false),
            (24_001.0, 1.0, true),
            (30_000.0, 600_000.0, false),
            (30_000.0, 599_999.0, true),
        ] {
            let mut plan = train("elhhhhhhhhhh");
            plan.limits.entries.insert(LimitKind::LightVehicle, limit(light_kg));
            plan.limits.entries.insert(LimitKind::HeavySet, limit(heavy_kg));
            let failed = findings(&CHECK, &plan)[0].outcome == Fail;
            assert_eq!(failed, fails, "{light_kg} {heavy_kg}");
        }
    }

    #[test]
    fn thresholds_that_are_not_entered_are_not_asked_for_and_one_alone_is_undecided() {
        let mut plan = train("elhhhhhhhhhh");
        plan.limits.entries.remove(&LimitKind::HeavySet);
        check(&CHECK, &plan, &[(Undecided, "limit heavy set threshold")]);
        plan.limits.entries.remove(&LimitKind::LightVehicle);
        check(&CHECK, &plan, &[(NotAsked, "plan")]);
    }

    // FRA reports on accidents of 2002 and 2007: a light wagon between the engines and a heavy rail set was lifted.
    // All wagons but the first after the engine carry 40 strings of 12 t: 480 + 11 x 24 = 744 t.
    #[test]
    fn an_empty_wagon_between_the_engine_and_the_loaded_rail_set_fails() {
        let mut plan = train("ellllllllllll");
        let marks: Vec<String> = (0..40).map(|number| format!("S{number}")).collect();
        for (number, mark) in (0_u32..).zip(&marks) {
            lay_at(&mut plan, mark, (1 + number / 10, 1 + number % 10, 42_617, 213_266), 12_000.0);
        }
        check(&CHECK, &plan, &[(Fail, "vehicle V2")]);
        assert!(worst_text(&CHECK, &plan).contains("24.00 t, less than 30.00 t"));
        // Empty again, no set is heavy any more; the fault is told for the states before.
        plan.drops.push(drop_off("Eastmoor", &marks.iter().map(String::as_str).collect::<Vec<_>>()));
        let worst = &findings(&CHECK, &plan)[0];
        assert_eq!((worst.outcome, worst.state), (Fail, Some(0)));
        assert!(worst.states.len() < plan.drops[0].steps.len());
    }

    // FRA report on an accident of 2017: 20 rail wagons with 4 strings in all were booked as loaded and stood next
    // to the engines. A wagon bears 4 x 60.21 x 19.9 = 4.8 t of 60E1 there: 28.8 t in all.
    #[test]
    fn nearly_empty_rail_wagons_next_to_the_engines_are_light_whatever_they_are_called() {
        let mut plan = train(&("ee".to_owned() + &"l".repeat(20) + &"h".repeat(30)));
        for lane in [1, 2, 9, 10] {
            let at = (1, lane, 2 * 19_900 + 317, 397_266);
            lay_at(&mut plan, &format!("S{lane}"), at, 60.21 * 397.266);
        }
        let names: Vec<String> = (3..=22).map(|number| format!("vehicle V{number}")).collect();
        let told = findings(&CHECK, &plan);
        let mut failed: Vec<&str> =
            told.iter().filter(|f| f.outcome == Fail).map(|f| f.things[0].as_str()).collect();
        failed.sort_by_key(|name| name["vehicle V".len()..].parse::<u32>().unwrap());
        assert_eq!(failed, names);
    }
}
