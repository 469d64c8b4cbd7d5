//! Check `springs-envelope`: axle and wheel loads over low and high spring rates and wagons high or low.

use super::on_springs::{Bearer, capacities, judge_range, spring_states};
use super::{Check, Judge};
use crate::text;

pub(crate) static CHECK: Check = Check {
    id: "springs-envelope",
    title: "Soft and stiff springs, high and low wagons",
    what: "Axle and wheel loads at the lowest and highest spring rates of the envelope, each wagon standing high or \
           low by the wagon height tolerance as it does most, against the axle and wheel ratings and the line \
           class. A rating that is kept or broken depending on them is near.",
    why: "Spring rates are known to some 20 % and wagon heights change with wear; a verdict that hangs on them is \
          a narrow one.",
    mend: "Leave more margin on this axle, or measure the wagons and enter what they are.",
    source: "common practice, no source",
    run,
};

fn run(judge: &mut Judge<'_>) {
    if spring_states(judge).is_none() {
        return;
    }
    let figures = judge.figures;
    let types = &figures.plan.train.vehicle_types;
    let no_envelope = types.iter().all(|kind| kind.springs.is_none_or(|springs| springs.envelope.is_none()));
    if no_envelope && figures.plan.route.wagon_height_tolerance.is_none() {
        judge.not_applicable(text![
            "neither an envelope of spring rates nor a wagon height tolerance is entered"
        ]);
        return;
    }
    let Ok(envelope) = figures.spring_envelope() else { return };
    for vehicle in 0..figures.consist.vehicles.len() {
        let capacities = capacities(figures, vehicle);
        for (worked, ranges) in figures.worked.iter().zip(envelope) {
            for (support, range) in ranges[vehicle].iter().enumerate() {
                for capacity in &capacities {
                    let load = match capacity.bearer {
                        Bearer::Axle => range.axle,
                        Bearer::Wheel => range.largest_wheel,
                    };
                    let range_kg = [load.low_kg, load.high_kg];
                    judge_range(judge, worked.state, (vehicle, support), capacity, range_kg);
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::CHECK;
    use crate::checks::Outcome::{Near, NotApplicable, Note};
    use crate::checks::bearing::testing::{check, findings};
    use crate::checks::on_springs::testing::low_in_the_middle;
    use crate::model::Plan;
    use crate::units::Length;

    fn tolerant(rating: impl Fn(f64, f64) -> f64) -> Plan {
        let mut plan = low_in_the_middle(0.0);
        plan.route.wagon_height_tolerance = Some(Length::from_mm(20));
        let range = crate::checks::trial::figures_of(plan.clone()).spring_envelope().unwrap()[0][1][0].axle;
        assert!(range.high_kg > range.low_kg + 100.0);
        plan.train.vehicle_types[0].axle_rating_kg = Some(rating(range.low_kg, range.high_kg));
        plan
    }

    #[test]
    fn a_rating_within_the_envelope_is_near() {
        check(&CHECK, &tolerant(|_, high_kg| high_kg + 5_000.0), &[]);
        let within = findings(&CHECK, &tolerant(f64::midpoint));
        assert!(within.iter().any(|f| f.outcome == Near && f.things[1] == "front bogie"));
        let beyond = findings(&CHECK, &tolerant(|low_kg, _| low_kg - 1.0));
        assert!(beyond.iter().any(|f| f.outcome == Note && f.things[0] == "vehicle W2"));
    }

    #[test]
    fn without_envelope_and_tolerance_there_is_nothing_to_judge() {
        check(&CHECK, &low_in_the_middle(0.0), &[(NotApplicable, "plan")]);
    }
}
