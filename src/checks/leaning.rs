//! What the checks of cant share: the cases, every vehicle in every state, what is missing.

use super::bearing::bears_strings;
use super::{Judge, Subject};
use crate::statics::StateRule;
use crate::statics::cant::{CantCase, Leaning, RollGap};
use crate::text;
use crate::units::{Quantity, QuantityKind, Text};

/// The cases of the route; what it lacks for standing, or for running, is told as undecided.
pub(super) fn cases(judge: &mut Judge<'_>) -> Vec<CantCase> {
    let cases = CantCase::of(&judge.figures.plan.route);
    if !cases.iter().any(CantCase::stands) {
        judge.undecided(Subject::Plan, text!["no greatest cant is entered, to stand on"]);
    }
    if cases.iter().all(CantCase::stands) {
        let missing =
            text!["no cant deficiency is entered, nor a curve with its cant and a speed, to run through"];
        judge.undecided(Subject::Plan, missing);
    }
    cases
}

/// Tells `with` of every vehicle in every state and case; a train that does not travel is judged standing only.
///
/// A vehicle that bears strings and whose height is not known is told as undecided.
pub(super) fn judge_leaning(
    judge: &mut Judge<'_>,
    cases: &[CantCase],
    with: impl Fn(&mut Judge<'_>, (usize, StateRule, usize), (&Leaning, &CantCase)),
) {
    let figures = judge.figures;
    let bears = bears_strings(figures);
    for (state, rule) in judge.states() {
        for (vehicle, bears) in bears.iter().enumerate() {
            let Some(lean) = Leaning::of(figures, state, vehicle) else {
                if *bears {
                    let missing =
                        text!["the height of its gross centre is not known (tare's centre, deck, sections)"];
                    judge.undecided(Subject::Vehicle(vehicle), missing);
                }
                continue;
            };
            for case in cases.iter().filter(|case| rule == StateRule::Running || case.stands()) {
                with(judge, (state.state, rule, vehicle), (&lean, case));
            }
        }
    }
}

/// Tells what is not entered for the roll of a vehicle's body.
pub(super) fn tell_missing_roll(judge: &mut Judge<'_>, vehicle: usize, roll: Result<f64, RollGap>) {
    let Err(gap) = roll else { return };
    let figures = judge.figures;
    let Some(place) = figures.consist.vehicles.get(vehicle) else { return };
    let kind = &figures.plan.train.vehicle_types[place.vehicle_type];
    let missing = text![
        gap.words(),
        " is entered for vehicle type ",
        kind.name.as_str(),
        ": on its springs it cannot be said"
    ];
    judge.undecided(Subject::VehicleType(place.vehicle_type), missing);
}

/// What a case is, in words.
pub(crate) fn case_words(case: &CantCase) -> Text {
    let speed = |m_per_s: f64| Quantity { value: m_per_s, kind: QuantityKind::Speed };
    match *case {
        CantCase::Standing { cant_m } => text!["standing on ", Quantity::small_length_m(cant_m), " of cant"],
        CantCase::AtSpeed { curve, speed_m_per_s, cant_m, .. } => text![
            "at ",
            speed(speed_m_per_s),
            format!(" in curve {} on ", curve + 1),
            Quantity::small_length_m(cant_m),
            " of cant",
        ],
        CantCase::Deficiency { deficiency_m } => {
            text!["at ", Quantity::small_length_m(deficiency_m), " of cant deficiency"]
        }
    }
}

/// A plan for the tests of the checks of cant.
#[cfg(test)]
pub(super) mod testing {
    use crate::checks::bearing::testing::lay;
    use crate::fixtures::{empty_plan, limit};
    use crate::model::{LimitKind, Plan, Springs, Topic};

    /// One wagon on springs with two strings of 33 t in mirrored lanes of tier 3, 150 mm of cant to stand on and
    /// 100 mm of deficiency.
    pub(crate) fn leaning() -> Plan {
        let mut plan = empty_plan(1);
        plan.train.vehicle_types[0].springs = Some(Springs {
            front_n_per_m: 4.0e6,
            rear_n_per_m: 4.0e6,
            roll_nm_per_rad: 4.0e6,
            frame_n_per_m: None,
            envelope: None,
            spring_height_mm: Some(700.0),
            sprung_tare_kg: Some(16_000.0),
        });
        lay(&mut plan, "S1", (3, 1), 0, 33_000.0);
        lay(&mut plan, "S2", (3, 10), 0, 33_000.0);
        plan.route.greatest_cant_mm = Some(150.0);
        plan.route.cant_deficiency_mm = Some(100.0);
        plan.route.asked = vec![Topic::Cant];
        plan.limits.entries.insert(LimitKind::WheelUnloading, limit(0.4));
        plan
    }
}
