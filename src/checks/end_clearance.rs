//! Each end keeps clear of what stands beyond it: a fixed stop, an engine, the end of the train.

use super::distance::keep_distance;
use super::{Check, Judge, Subject};
use crate::model::{Beyond, BeyondKind, LimitKind, TrainEnd, VehicleKind};
use crate::statics::{Figures, PlacedString};
use crate::text;
use crate::units::{Length, Quantity, Text};

/// The check.
pub(crate) static CHECK: Check = Check {
    id: "end-clearance",
    title: "End clearance",
    what: "The distance from each end to the nearest thing beyond it: a fixed stop, an engine's buffer face, what \
           stands beyond the train, or else the train's own last buffer face. Below zero where the end lies past it.",
    why: "Ends move in curves, coupling slack and heat, and in a collision they drive into what is beyond them.",
    mend: "Move the string away from that end, or put another wagon there.",
    source: "common practice, no source; the value is the plan's limit",
    run,
};

/// What an end can strike.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Obstacle {
    /// A fixed stop of a vehicle.
    Stop,
    /// An engine.
    Engine(usize),
    /// What stands beyond the train.
    Beyond(BeyondKind),
}

fn run(judge: &mut Judge<'_>) {
    let figures = judge.figures;
    if figures.placed.is_empty() {
        judge.not_applicable(|| text!["no strings are on the train"]);
        return;
    }
    let least = judge.limit(LimitKind::EndClearance).map(|limit| limit.running);
    for placed in &figures.placed {
        let ((front_x, in_front), (rear_x, behind)) =
            (nearest_in_front(figures, placed), nearest_behind(figures, placed));
        for (end, distance, obstacle) in [
            (TrainEnd::Front, placed.front - front_x, in_front),
            (TrainEnd::Rear, rear_x - placed.rear, behind),
        ] {
            let subject = Subject::StringEnd(placed.string, end);
            let distance = (Quantity::length(distance), least);
            keep_distance(judge, (None, subject), distance, || obstacle.words(figures));
        }
    }
}

/// x of what the front end would strike, and what it is.
///
/// Whatever stands ahead of the string's middle is in front of it, even where the string lies over it.
pub(crate) fn nearest_in_front(figures: &Figures, placed: &PlacedString) -> (Length, Obstacle) {
    let twice_middle = placed.front + placed.rear;
    let beyond = figures.plan.train.front_beyond;
    let train_end = (-reach(beyond), Obstacle::Beyond(beyond.kind));
    let stops = figures.consist.end_stops.iter().map(|x| (*x, Obstacle::Stop));
    let engines = engines(figures).map(|(vehicle, _, rear)| (rear, Obstacle::Engine(vehicle)));
    stops
        .chain(engines)
        .filter(|(x, obstacle)| obstacle.twice_middle(figures, *x) < twice_middle)
        .chain([train_end])
        .max_by_key(|(x, _)| *x)
        .unwrap_or(train_end)
}

/// x of what the rear end would strike, and what it is.
pub(crate) fn nearest_behind(figures: &Figures, placed: &PlacedString) -> (Length, Obstacle) {
    let twice_middle = placed.front + placed.rear;
    let beyond = figures.plan.train.rear_beyond;
    let train_end = (figures.consist.length + reach(beyond), Obstacle::Beyond(beyond.kind));
    let stops = figures.consist.end_stops.iter().map(|x| (*x, Obstacle::Stop));
    let engines = engines(figures).map(|(vehicle, front, _)| (front, Obstacle::Engine(vehicle)));
    stops
        .chain(engines)
        .filter(|(x, obstacle)| obstacle.twice_middle(figures, *x) >= twice_middle)
        .chain([train_end])
        .min_by_key(|(x, _)| *x)
        .unwrap_or(train_end)
}

/// How far beyond the last buffer face an end could reach before it strikes something.
fn reach(beyond: Beyond) -> Length {
    match beyond.kind {
        // With nothing beyond, a string must still stay within its train.
        BeyondKind::Nothing => Length::ZERO,
        BeyondKind::EndStop | BeyondKind::Vehicle => beyond.distance,
    }
}

/// Index, front and rear buffer face of each engine.
fn engines(figures: &Figures) -> impl Iterator<Item = (usize, Length, Length)> {
    figures
        .consist
        .vehicles
        .iter()
        .filter(|vehicle| vehicle.kind == VehicleKind::Engine)
        .map(|vehicle| (vehicle.vehicle, vehicle.front, vehicle.rear))
}

impl Obstacle {
    /// Twice the x of its middle, in whole millimetres; `x` is where it is struck.
    fn twice_middle(self, figures: &Figures, x: Length) -> Length {
        match self {
            Self::Engine(vehicle) => {
                figures.consist.vehicles.get(vehicle).map_or(x * 2, |place| place.front + place.rear)
            }
            Self::Stop | Self::Beyond(_) => x * 2,
        }
    }

    /// What it is, such as ` to the fixed stop`.
    pub(crate) fn words(self, figures: &Figures) -> Text {
        match self {
            Self::Stop => text![" to the fixed stop"],
            Self::Engine(vehicle) => text![" to ", Subject::Vehicle(vehicle).place(figures)],
            Self::Beyond(BeyondKind::Nothing) => text![" to the train's last buffer face"],
            Self::Beyond(BeyondKind::EndStop) => text![" to the stop beyond the train"],
            Self::Beyond(BeyondKind::Vehicle) => text![" to the vehicle beyond the train"],
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::Outcome;
    use crate::checks::trial::{expect, words};
    use crate::fixtures::{empty_plan, place, vehicle};
    use crate::model::{EndStop, Plan, VehicleTypeName};

    /// Three wagons, 59.7 m, and one string.
    fn one_string(front_mm: i64, rear_mm: i64) -> Plan {
        let mut plan = empty_plan(3);
        place(&mut plan, "S1", rear_mm - front_mm, (1, 1, front_mm));
        plan
    }

    fn check(plan: Plan, expected: &[(Outcome, &str)]) {
        expect(&CHECK, plan, expected);
    }

    const FRONT: &str = "string S1, front end";
    const REAR: &str = "string S1, rear end";

    // Limit 0.5 m; near up to 0.526 m.
    #[test]
    fn the_trains_own_ends_are_judged_from_both_sides_of_the_limit() {
        check(one_string(530, 59_170), &[]);
        check(one_string(500, 59_170), &[(Outcome::Near, FRONT)]);
        check(one_string(499, 59_170), &[(Outcome::Fail, FRONT)]);
        check(one_string(530, 59_200), &[(Outcome::Near, REAR)]);
        check(one_string(530, 59_201), &[(Outcome::Fail, REAR)]);
    }

    #[test]
    fn a_vehicle_beyond_the_train_gives_its_distance_and_nothing_gives_none() {
        let with = |kind| {
            let mut plan = one_string(100, 59_170);
            plan.train.front_beyond = Beyond { kind, distance: Length::from_mm(1_000) };
            plan
        };
        check(with(BeyondKind::Nothing), &[(Outcome::Fail, FRONT)]);
        check(with(BeyondKind::Vehicle), &[]);
        check(with(BeyondKind::EndStop), &[]);
    }

    // Stops 9 m in front of and behind the middle of the last wagon, x 49.75 m: at 40.75 and 58.75 m.
    #[test]
    fn a_fixed_stop_is_nearer_than_the_trains_end_and_an_end_past_it_is_below_zero() {
        let with = |front_mm, rear_mm| {
            let mut plan = one_string(front_mm, rear_mm);
            let mut stopped = plan.train.vehicle_types[0].clone();
            stopped.name = VehicleTypeName::new("Stopped").unwrap();
            stopped.end_stops = vec![EndStop { at: Length::from_mm(9_000) }];
            plan.train.vehicles[2].vehicle_type = stopped.name.clone();
            plan.train.vehicle_types.push(stopped);
            plan
        };
        check(with(1_000, 58_200), &[]);
        check(with(1_000, 58_251), &[(Outcome::Fail, REAR)]);
        let findings = expect(&CHECK, with(1_000, 59_000), &[(Outcome::Fail, REAR)]);
        assert_eq!(words(&findings), "string S1, rear end: -0.250 m, at least 0.500 m to the fixed stop");
    }

    // An engine of 19.9 m in front: its rear buffer face stands at 19.9 m.
    #[test]
    fn an_engine_stops_a_string_at_its_buffer_face() {
        let with = |front_mm| {
            let mut plan = one_string(front_mm, 59_000);
            let mut engine = plan.train.vehicle_types[0].clone();
            engine.name = VehicleTypeName::new("Engine").unwrap();
            engine.kind = VehicleKind::Engine;
            engine.racks.clear();
            plan.train.vehicle_types.push(engine);
            plan.train.vehicles[0] = vehicle("E1", "Engine");
            plan
        };
        check(with(20_450), &[]);
        check(with(20_399), &[(Outcome::Fail, FRONT)]);
        let findings = expect(&CHECK, with(19_800), &[(Outcome::Fail, FRONT)]);
        assert_eq!(words(&findings), "string S1, front end: -0.100 m, at least 0.500 m to vehicle E1");
    }

    #[test]
    fn without_a_limit_it_is_undecided_and_without_strings_not_applicable() {
        let mut plan = one_string(1_000, 50_000);
        plan.limits.entries.remove(&LimitKind::EndClearance);
        check(plan, &[(Outcome::Undecided, "limit end clearance")]);
        // Past the train's end by a millimetre, which no limit could allow.
        let mut plan = one_string(-1, 50_000);
        plan.limits.entries.remove(&LimitKind::EndClearance);
        check(plan, &[(Outcome::Fail, FRONT), (Outcome::Undecided, "limit end clearance")]);
        check(empty_plan(1), &[(Outcome::NotApplicable, "plan")]);
    }
}
