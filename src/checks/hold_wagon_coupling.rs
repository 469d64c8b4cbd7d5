//! The couplings of a wagon can take the strings that are held on it.

use super::bearing::vehicle_type;
use super::holds::{judge_holding_wagons, strings_counted};
use super::{Check, Comparison, Judge, Sense, Subject};
use crate::statics::{HoldingWagon, StateFigures};
use crate::text;
use crate::units::Quantity;

/// The check.
pub(crate) static CHECK: Check = Check {
    id: "hold-wagon-coupling",
    title: "Couplings of a holding wagon",
    what: "What all strings held on a wagon push or pull in the train's own braking or buffing (mass times the larger \
           deceleration, less friction where entered), against the coupling rating of the wagon; or, where it is \
           larger, what passes through its couplings because the other wagons brake the weight of strings that are \
           held here, every vehicle braked in proportion to its weight.",
    why: "The strings lie on many wagons but stop with the few that hold them: their whole inertia comes down on the \
          couplings of those.",
    mend: "Spread the holds over several wagons near the middle of the train.",
    source: "Newton's second law; the decelerations and the rating are the plan's own",
    run,
};

fn run(judge: &mut Judge<'_>) {
    judge_holding_wagons(judge, judge_wagon);
}

fn judge_wagon(judge: &mut Judge<'_>, state: &StateFigures, wagon: &HoldingWagon) {
    let state = state.state;
    let figures = judge.figures;
    let Some(place) = figures.consist.vehicles.get(wagon.vehicle) else { return };
    let Some(kind) = vehicle_type(figures, place) else { return };
    let Some(rating_n) = kind.coupling_rating_n else {
        let missing = text!["no coupling rating is entered for vehicle type ", kind.name.as_str()];
        judge.undecided(Subject::VehicleType(place.vehicle_type), missing);
        return;
    };
    judge.source(&kind.source.text);
    let comparison = Comparison::new(Quantity::force(wagon.coupling_n()), rating_n, Sense::AtMost);
    judge.compare_with(Some(state), Subject::Vehicle(wagon.vehicle), comparison, || {
        let (strings, held) = (strings_counted(wagon.strings), Quantity::mass(wagon.held_kg));
        let own = text![strings, " of ", held, " held on it asking for ", Quantity::force(wagon.force_n)];
        let mut tail =
            text![if wagon.through_n > wagon.force_n { " passing through it, with " } else { ", " }];
        tail.0.extend(own.0);
        tail
    });
}

#[cfg(test)]
mod tests {
    use super::CHECK;
    use crate::checks::Outcome::{Fail, Near, NotAsked, Undecided};
    use crate::checks::holds::testing::{held, hold};
    use crate::checks::trial::{expect, words};
    use crate::fixtures::{drop_off, place};
    use crate::model::{Plan, Topic};

    /// Two strings of 6,021 kg held on W3 at 1.2 m/s2: 14,450.4 N (hand calculation).
    fn rated(rating_n: f64) -> Plan {
        let mut plan = held();
        place(&mut plan, "S2", 100_000, (1, 10, 3_000));
        plan.placements[1].holds = vec![hold("W3")];
        plan.route.braking_m_per_s2 = Some(1.2);
        plan.train.vehicle_types[0].coupling_rating_n = Some(rating_n);
        plan
    }

    #[test]
    fn the_couplings_take_their_rating_and_no_newton_more() {
        expect(&CHECK, rated(16_000.0), &[]);
        expect(&CHECK, rated(14_451.0), &[(Near, "vehicle W3")]);
        let findings = expect(&CHECK, rated(14_450.0), &[(Fail, "vehicle W3")]);
        assert_eq!(
            words(&findings),
            "vehicle W3: 14.45 kN of at most 14.45 kN, 2 strings of 12.04 t held on it asking for 14.45 kN"
        );
        assert!(CHECK.mend.contains("Spread the holds over several wagons near the middle"));
    }

    // Each takes half; the wagons in front of W3 bear 36.8 of 100 m of rail, so that more passes through.
    #[test]
    fn spread_over_two_wagons_each_takes_less() {
        let mut plan = rated(10_000.0);
        expect(&CHECK, plan.clone(), &[(Fail, "vehicle W3")]);
        plan.placements[1].holds = vec![hold("W4")];
        let findings = expect(&CHECK, plan, &[]);
        assert!(words(&findings).contains("asking for 7.23 kN"), "{}", words(&findings));
    }

    #[test]
    fn a_wagon_is_told_in_the_states_in_which_it_holds_too_much() {
        let mut plan = rated(14_000.0);
        plan.drops.push(drop_off("Site", &["S2", "S1"]));
        let findings = expect(&CHECK, plan, &[(Fail, "vehicle W3")]);
        assert_eq!(findings[0].states, [0]);
    }

    #[test]
    fn what_nobody_entered_leaves_it_undecided() {
        let mut plan = rated(16_000.0);
        plan.train.vehicle_types[0].coupling_rating_n = None;
        expect(&CHECK, plan, &[(Undecided, "vehicle type Flat")]);
        let mut plan = rated(16_000.0);
        plan.route.braking_m_per_s2 = None;
        expect(&CHECK, plan, &[(Undecided, "plan")]);
        let mut plan = rated(16_000.0);
        plan.placements[1].holds.clear();
        expect(&CHECK, plan.clone(), &[(Undecided, "string S2")]);
        plan.placements[1].holds = vec![hold("W3"), hold("W4")];
        expect(&CHECK, plan, &[(Undecided, "string S2")]);
        let mut plan = rated(16_000.0);
        plan.route.asked.retain(|topic| *topic != Topic::HoldForces);
        expect(&CHECK, plan, &[(NotAsked, "plan")]);
    }
}
