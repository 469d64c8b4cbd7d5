//! The thing that a finding is about.

use crate::model::{LimitKind, TrackSide, TrainEnd};
use crate::statics::Figures;

/// A thing that can be judged; indices into the plan's lists or the consist, as named.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Subject {
    /// The plan as a whole.
    Plan,
    /// The train as a whole.
    Train,
    /// A string of the order.
    String(usize),
    /// An end of a string of the order.
    StringEnd(usize, TrainEnd),
    /// Two strings of the order, the smaller index first.
    Strings(usize, usize),
    /// A string at a rack of the consist.
    StringAtRack(usize, usize),
    /// A vehicle of the train.
    Vehicle(usize),
    /// A support of a vehicle: 0 front, 1 rear as it stands.
    Support(usize, usize),
    /// An axle of a vehicle, from 0 at the front as it stands.
    Axle(usize, usize),
    /// A wheel of an axle.
    Wheel(usize, usize, TrackSide),
    /// A rack of the consist.
    Rack(usize),
    /// A tier (from 1) of a rack of the consist.
    RackTier(usize, u32),
    /// A pocket (tier, lane, from 1) of a rack of the consist.
    Pocket(usize, u32, u32),
    /// A vehicle type.
    VehicleType(usize),
    /// A rack type.
    RackType(usize),
    /// A rail section.
    Section(usize),
    /// A limit.
    Limit(LimitKind),
    /// A drop.
    Drop(usize),
    /// A step of a drop.
    Step(usize, usize),
}

impl Subject {
    /// Stable names of the things, for acceptances and JSON: each `kind name`, such as `string S1`.
    pub fn things(self, figures: &Figures) -> Vec<String> {
        let plan = &figures.plan;
        let string = |index: usize| match plan.order.get(index) {
            Some(string) => format!("string {}", string.mark),
            None => "string ?".to_owned(),
        };
        let vehicle = |index: usize| match plan.train.vehicles.get(index) {
            Some(vehicle) => format!("vehicle {}", vehicle.mark),
            None => "vehicle ?".to_owned(),
        };
        let rack = |index: usize| match figures.consist.racks.get(index) {
            Some(rack) => format!("{} rack {}", vehicle(rack.vehicle), rack.number),
            None => "rack ?".to_owned(),
        };
        let single = |index: usize| {
            figures.consist.vehicles.get(index).is_some_and(|place| place.axles_per_support == 1)
        };
        let of = |name: Option<&str>| name.unwrap_or("?").to_owned();
        match self {
            Self::Plan => vec!["plan".to_owned()],
            Self::Train => vec!["train".to_owned()],
            Self::String(index) => vec![string(index)],
            Self::StringEnd(index, end) => vec![string(index), format!("{} end", end_word(end))],
            Self::Strings(first, second) => vec![string(first), string(second)],
            Self::StringAtRack(index, at) => vec![string(index), rack(at)],
            Self::Vehicle(index) => vec![vehicle(index)],
            // A single axle has one name, whichever way it is meant.
            Self::Support(index, axle) if single(index) => {
                vec![vehicle(index), format!("axle {}", axle + 1)]
            }
            Self::Support(index, support) => {
                let end = if support == 0 { "front" } else { "rear" };
                vec![vehicle(index), format!("{end} bogie")]
            }
            Self::Axle(index, axle) => vec![vehicle(index), format!("axle {}", axle + 1)],
            Self::Wheel(index, axle, side) => {
                let side = if side == TrackSide::Left { "left" } else { "right" };
                vec![vehicle(index), format!("axle {} {side} wheel", axle + 1)]
            }
            Self::Rack(at) => vec![rack(at)],
            Self::RackTier(at, tier) => vec![rack(at), format!("tier {tier}")],
            Self::Pocket(at, tier, lane) => vec![rack(at), format!("tier {tier} lane {lane}")],
            Self::VehicleType(index) => {
                let name = plan.train.vehicle_types.get(index).map(|kind| kind.name.as_str());
                vec![format!("vehicle type {}", of(name))]
            }
            Self::RackType(index) => {
                let name = plan.train.rack_types.get(index).map(|kind| kind.name.as_str());
                vec![format!("rack type {}", of(name))]
            }
            Self::Section(index) => {
                vec![format!("section {}", of(plan.sections.get(index).map(|section| section.name.as_str())))]
            }
            Self::Limit(kind) => vec![format!("limit {}", kind.title())],
            Self::Drop(index) => {
                vec![format!("drop {}", of(plan.drops.get(index).map(|drop| drop.name.as_str())))]
            }
            Self::Step(drop, step) => {
                let name = plan.drops.get(drop).map(|drop| drop.name.as_str());
                vec![format!("drop {}", of(name)), format!("step {}", step + 1)]
            }
        }
    }

    /// The things in one line for a reader.
    pub fn place(self, figures: &Figures) -> String {
        self.things(figures).join(", ")
    }
}

fn end_word(end: TrainEnd) -> &'static str {
    match end {
        TrainEnd::Front => "front",
        TrainEnd::Rear => "rear",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::trial::figures_of;
    use crate::fixtures::{drop_off, empty_plan, place};
    use crate::model::RunningGear;
    use crate::units::Length;

    fn check(subject: Subject, expected: &str) {
        let mut plan = empty_plan(2);
        place(&mut plan, "S1", 30_000, (1, 1, 2_000));
        place(&mut plan, "S2", 30_000, (1, 2, 2_000));
        plan.drops.push(drop_off("Eastmoor", &["S1"]));
        assert_eq!(subject.place(&figures_of(plan)), expected);
    }

    #[test]
    fn things_are_named_by_marks_and_numbers_from_one() {
        check(Subject::Plan, "plan");
        check(Subject::StringEnd(1, TrainEnd::Rear), "string S2, rear end");
        check(Subject::Strings(0, 1), "string S1, string S2");
        check(Subject::StringAtRack(0, 3), "string S1, vehicle W2 rack 1");
        check(Subject::Support(1, 0), "vehicle W2, front bogie");
        check(Subject::Axle(0, 3), "vehicle W1, axle 4");
        check(Subject::Wheel(0, 0, TrackSide::Right), "vehicle W1, axle 1 right wheel");
        check(Subject::Pocket(5, 2, 7), "vehicle W2 rack 3, tier 2 lane 7");
        check(Subject::RackTier(0, 5), "vehicle W1 rack 1, tier 5");
        check(Subject::Limit(LimitKind::Sag), "limit sag");
        check(Subject::Step(0, 0), "drop Eastmoor, step 1");
    }

    #[test]
    fn the_axle_of_a_two_axle_vehicle_has_one_name() {
        let mut plan = empty_plan(2);
        plan.train.vehicle_types[0].gear = RunningGear::TwoAxle { wheelbase: Length::from_mm(9_000) };
        let figures = figures_of(plan);
        for axle in [0, 1] {
            let named = Subject::Support(1, axle).things(&figures);
            assert_eq!(named, Subject::Axle(1, axle).things(&figures));
            assert_eq!(named, ["vehicle W2".to_owned(), format!("axle {}", axle + 1)]);
        }
    }

    #[test]
    fn what_is_not_there_is_named_with_a_question_mark() {
        check(Subject::String(9), "string ?");
        check(Subject::Rack(99), "rack ?");
        check(Subject::VehicleType(9), "vehicle type ?");
    }
}
