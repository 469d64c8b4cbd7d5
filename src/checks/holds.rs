//! What the hold checks share: the strings with what their holds must take, and what is missing.

use super::reading::{placement_of, rack_type_of, string_name};
use super::{Judge, Subject};
use crate::model::Topic;
use crate::statics::{Figures, Held, HoldingWagon, PlacedString, StateFigures, StringHolding};
use crate::text;

/// The placed strings with their holding, where the plan asks for it and enters accelerations.
///
/// Tells what keeps it from being judged; a string held at several places is told as undecided here.
pub(super) fn holdings<'f>(judge: &mut Judge<'f>) -> Vec<(&'f PlacedString, &'f StringHolding)> {
    if !asked(judge) {
        return Vec::new();
    }
    let figures = judge.figures;
    let Some(holding) = figures.holding() else {
        judge.undecided(Subject::Plan, text!["no accelerations are entered for the route"]);
        return Vec::new();
    };
    let strings: Vec<_> = figures.placed.iter().zip(&holding.strings).collect();
    for (placed, _) in strings.iter().filter(|(_, holding)| holding.held == Held::Several) {
        tell_several(judge, placed);
    }
    strings
}

/// Whether the plan asks for forces at holds and has strings on the train; tells so where not.
pub(super) fn asked(judge: &mut Judge<'_>) -> bool {
    if !judge.asked(Topic::HoldForces) {
        return false;
    }
    if judge.figures.placed.is_empty() {
        judge.not_applicable(|| text!["no strings are on the train"]);
        return false;
    }
    true
}

/// Tells of every string that is not held once, so that no sum over held strings can be trusted.
pub(super) fn tell_not_held_once(judge: &mut Judge<'_>) {
    let figures = judge.figures;
    for placed in &figures.placed {
        match Held::of(figures, placed) {
            Held::At(_) => {}
            Held::Several => tell_several(judge, placed),
            Held::Nowhere => {
                let name = string_name(figures, placed.string);
                let missing = text![name, " is held at no rack under it, so no wagon's share of it is known"];
                judge.undecided(Subject::String(placed.string), missing);
            }
        }
    }
}

fn tell_several(judge: &mut Judge<'_>, placed: &PlacedString) {
    let figures = judge.figures;
    let many = placement_of(figures, placed).map_or(0, |placement| placement.holds.len());
    let name = string_name(figures, placed.string);
    let missing = text![
        name,
        format!(" is held at {many} places, so what each takes of it and of the train is not known")
    ];
    judge.undecided(Subject::String(placed.string), missing);
}

/// The hold rating of a rack in N with its source; tells where it is missing.
pub(super) fn hold_rating<'f>(judge: &mut Judge<'f>, rack: usize) -> Option<(f64, &'f str)> {
    let figures: &'f Figures = judge.figures;
    let kind = rack_type_of(figures, rack)?;
    let rating_n = kind.hold_rating_n;
    if rating_n.is_none() {
        let missing = text!["no hold rating is entered for rack type ", kind.name.as_str()];
        let index = figures.consist.racks.get(rack).map_or(0, |place| place.rack_type);
        judge.undecided(Subject::RackType(index), missing);
    }
    Some((rating_n?, kind.source.text.as_str()))
}

/// `1 string` or `3 strings`.
pub(super) fn strings_counted(count: usize) -> String {
    if count == 1 { "1 string".to_owned() } else { format!("{count} strings") }
}

/// Judges every wagon that holds strings, in every worked state, where the plan asks for it and says how it brakes.
pub(super) fn judge_holding_wagons(
    judge: &mut Judge<'_>,
    judge_wagon: fn(&mut Judge<'_>, &StateFigures, &HoldingWagon),
) {
    if !asked(judge) {
        return;
    }
    tell_not_held_once(judge);
    let figures = judge.figures;
    for (state, _) in judge.states() {
        let Some(wagons) = figures.holding_wagons(state.state) else {
            let missing =
                "neither a braking nor a buffing deceleration of the train is entered for the route";
            judge.undecided(Subject::Plan, text![missing]);
            return;
        };
        for wagon in wagons {
            judge_wagon(judge, state, &wagon);
        }
    }
}

/// Plans for the tests of the hold checks.
#[cfg(test)]
pub(super) mod testing {
    use crate::fixtures::{accelerations, empty_plan, place};
    use crate::model::{Plan, RackRef, Topic, VehicleMark};

    /// A string of 100 m (6,021 kg) on six wagons, held at rack 2 of W3; 1 g lengthwise; hold forces asked.
    pub(crate) fn held() -> Plan {
        let mut plan = empty_plan(6);
        plan.route.asked.push(Topic::HoldForces);
        plan.route.accelerations = Some(accelerations());
        plan.train.rack_types[0].hold_rating_n = Some(100_000.0);
        place(&mut plan, "S1", 100_000, (1, 1, 3_000));
        plan.placements[0].holds = vec![hold("W3")];
        plan
    }

    /// Rack 2 of a wagon.
    pub(crate) fn hold(vehicle: &str) -> RackRef {
        RackRef { vehicle: VehicleMark::new(vehicle).unwrap(), rack: 2 }
    }
}
