//! Check `springs-lift-off`: racks that a string does not press on, the train on springs.

use super::on_springs::spring_states;
use super::reading::{rack_name, string_name};
use super::{Check, Judge, Subject};
use crate::statics::StringOnSprings;
use crate::text;
use crate::units::Text;

pub(crate) static CHECK: Check = Check {
    id: "springs-lift-off",
    title: "Rack lift-off, on springs",
    what: "Each rack that a string crosses carries some of it, the wagons giving on their springs and racks as high \
           as they were measured. A rack beyond the outermost that carries fails; one between racks that carry is \
           noted.",
    why: "A rack that stands low, or a wagon that sinks under its load, leaves a string hanging; at an end the \
          string can then leave its pocket, and the next rack carries what this one does not.",
    mend: "Bring the rack to the height of its neighbours, or move the string so that its end reaches past one rack \
           more or less.",
    source: "three-moment equation with one-sided contact, supports on springs (textbook statics)",
    run,
};

fn run(judge: &mut Judge<'_>) {
    let Some(states) = spring_states(judge) else { return };
    for (state, _) in states {
        for string in &state.strings {
            look_at(judge, state.loads.state, string);
        }
    }
    judge.not_applicable(|| text!["no string lies on racks"]);
}

fn look_at(judge: &mut Judge<'_>, state: usize, string: &StringOnSprings) {
    let figures = judge.figures;
    let Some(placed) = figures.placed.get(string.placed) else { return };
    let first = string.carries.iter().position(|carries| *carries).unwrap_or(0);
    let last = string.carries.iter().rposition(|carries| *carries).unwrap_or(0);
    let name = || string_name(figures, placed.string);
    for (at, _) in string.carries.iter().enumerate().filter(|(_, carries)| !**carries) {
        let rack = placed.racks.start + at;
        let subject = Subject::StringAtRack(placed.string, rack);
        if (first..=last).contains(&at) {
            judge.note(Some(state), subject, || text![name(), " lifts off ", rack_name(figures, rack)]);
        } else {
            let end = if at < first { " at its front end" } else { " at its rear end" };
            let what = || text![name(), " does not rest on ", rack_name(figures, rack), end];
            judge.fail(Some(state), subject, what, Text::default);
        }
    }
    judge.pass(Some(state), Subject::String(placed.string), || {
        text!["strings press on every rack they cross"]
    });
}

#[cfg(test)]
mod tests {
    use super::CHECK;
    use crate::checks::Outcome::{Fail, Note};
    use crate::checks::bearing::testing::check;
    use crate::checks::on_springs::testing::on_springs;
    use crate::fixtures::{empty_plan, place};
    use crate::model::{Plan, VehicleTypeName};

    /// A string over the three racks of a wagon, of which one is measured low.
    fn one_low(rack: usize, low_mm: f64) -> Plan {
        let mut plan = empty_plan(1);
        place(&mut plan, "S1", 15_000, (1, 1, 2_450));
        let kind = &mut plan.train.vehicle_types[0];
        kind.name = VehicleTypeName::new("Flat").unwrap();
        kind.racks[rack].height_offset_mm = -low_mm;
        on_springs(&mut plan);
        plan
    }

    // Two spans l of 6.633 m with overhangs c of 0.867 m, by the three-moment equation: the level middle reaction
    // is 5/4 q l - 3/2 q c^2/l = 4,795 N, gone where the middle is low by R (2 l)^3/(48 E I) = 36.6 mm. The springs
    // do not matter: the wagon stays level.
    #[test]
    fn a_middle_rack_that_is_low_enough_is_noted() {
        check(&CHECK, &one_low(1, 0.0), &[]);
        check(&CHECK, &one_low(1, 35.0), &[]);
        check(&CHECK, &one_low(1, 38.0), &[(Note, "string S1, vehicle W1 rack 2")]);
    }

    // The string balances on the middle and the rear rack while the front one is low by more than it droops there.
    #[test]
    fn an_outer_rack_that_is_low_enough_fails() {
        check(&CHECK, &one_low(0, 20.0), &[]);
        check(&CHECK, &one_low(0, 200.0), &[(Fail, "string S1, vehicle W1 rack 1")]);
    }
}
